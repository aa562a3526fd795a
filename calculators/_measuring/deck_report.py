"""What is said about decks: the lead, the values, the table, the cautions."""

from __future__ import annotations

from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

from calculators._measuring.deck_drawing import BarrelSeen, deck_map
from calculators._measuring.measured_decks import Barrel, Decks
from calculators._measuring.repeated_readings import REPEATS, Result
from calculators._report import FEW_READINGS, Caution, Column, Figure, Kept, Report, Row, Source, Table, Value
from calculators._units import figures, magnitude_in, printed, quantity, spread_alone, symbol_of, with_plus_minus
from calculators._words import listed
from calculators.formulas.decision_rule import Verdict, judged

OFF_PLANE = 0.05
"""A reading further than this from its barrel's plane is worth taking again, mm (common practice, no source)."""
FEW = 10
"""Effective degrees of freedom below which the ± is mostly the price of too few readings."""
_PLACES = {"mm": 3, "in": 4, "thou": 1}

PLANE = Source(f"least squares, points at equal steps; {REPEATS.name}")
DECISION = Source("ISO 14253-1, rules for proving conformity and nonconformity", "memory")
_TILT = "2 a × bore ÷ circle, a = 2/n Σ depth cos θ along the pin; for the rock sin θ in place of cos θ; U = k u"
_STRAIGHT = {"in": "straight", "out": "crooked", "too close to call": "too close to call"}


def report(inputs: SimpleNamespace, decks: Decks) -> Report:
    """Say what the decks come to."""
    typed = symbol_of(inputs.depth[0][0])
    symbol = typed if typed in _PLACES else "mm"
    shared = [head for head in inputs.heads if len(head) > 1]
    differences = [(head, decks.difference(head)) for head in shared]
    return Report(
        lead=_lead(decks, symbol),
        values=(
            *_decks(inputs, decks, symbol),
            _worst_tilt(inputs, decks, symbol),
            *_differences(inputs, differences, symbol),
            *_scatter(decks, symbol),
        ),
        tables=(_table(inputs, decks, symbol),),
        figures=(_figure(decks, symbol),),
        kept=tuple(
            Kept(
                path=f"deck.{number}",
                label=f"Deck height of cylinder {number}",
                quantity=quantity(barrel.deck.value, "mm"),
                unit="mm",
            )
            for number, barrel in enumerate(decks.barrels, 1)
        ),
        cautions=tuple(_cautions(inputs, decks, differences, symbol)),
        notes=tuple(_notes(decks)),
        plus_minus=FEW_READINGS,
    )


def _text(length: float, symbol: str) -> str:
    return printed(quantity(length, "mm"), symbol, _PLACES[symbol])


def _lead(decks: Decks, symbol: str) -> str:
    middles = listed(_text(barrel.deck.middle, symbol).removesuffix(f" {symbol}") for barrel in decks.barrels)
    widest = quantity(max(barrel.deck.expanded for barrel in decks.barrels), "mm")
    worst = f"{spread_alone(magnitude_in(widest, symbol), _PLACES[symbol])} {symbol}"
    decks_are = "The decks are" if len(decks.barrels) > 1 else "The deck is"
    each = "each ± " if len(decks.barrels) > 1 else "± "
    most = " or less" if len(decks.barrels) > 1 else ""
    return f"{decks_are} {middles} {symbol}, {each}{worst}{most}; {_straightness(decks)}."


def _straightness(decks: Decks) -> str:
    crooked = _which(decks, "out")
    if crooked:
        return f"{_barrels(crooked)} {'stand' if len(crooked) > 1 else 'stands'} crooked"
    doubtful = _which(decks, "too close to call")
    if doubtful:
        return f"whether {_barrels(doubtful)} {'stand' if len(doubtful) > 1 else 'stands'} crooked is too close to call"
    return "no barrel stands crooked" if len(decks.barrels) > 1 else "the barrel stands straight"


def _which(decks: Decks, verdict: Verdict) -> list[int]:
    return [number for number, barrel in enumerate(decks.barrels, 1) if barrel.crooked == verdict]


def _barrels(numbers: list[int]) -> str:
    return f"barrel{'s' if len(numbers) > 1 else ''} {listed(numbers)}"


def _certainty(found: Result) -> tuple[tuple[str, Any], ...]:
    return (
        ("u", f"{found.combined:.3g} mm"),
        ("degrees of freedom", found.degrees_words),
        ("k", figures(found.factor, 2)),
    )


def _decks(inputs: SimpleNamespace, decks: Decks, symbol: str) -> Iterator[Value]:
    for number, barrel in enumerate(decks.barrels, 1):
        yield Value(
            key=f"deck_{number}",
            label=f"Deck height of cylinder {number}",
            quantity=quantity(barrel.deck.value, "mm"),
            units=(symbol,),
            places=_PLACES[symbol],
            formula="mean of the readings − gauge zero; U = k u, u² the sum of all influences squared",
            source=PLANE,
            lead=True,
            given=(("readings", len(barrel.depths)), ("gauge zero", inputs.zero), *_certainty(barrel.deck)),
        )


def _worst_tilt(inputs: SimpleNamespace, decks: Decks, symbol: str) -> Value:
    number, worst = max(enumerate(decks.barrels, 1), key=lambda numbered: abs(numbered[1].tilt.middle))
    turned = worst.tilt.value if worst.tilt.middle >= 0 else -worst.tilt.value
    end = "pulley end" if worst.tilt.middle >= 0 else "end away from the pulley"
    return Value(
        key="worst_tilt",
        label="Largest tilt along the pin",
        quantity=quantity(turned, "mm"),
        units=(symbol,),
        places=_PLACES[symbol],
        formula=_TILT,
        source=PLANE,
        lead=True,
        given=(
            ("barrel", number),
            ("deeper at the", end),
            ("a", f"{abs(worst.plane.along):.3g} mm"),
            ("bore", inputs.bore),
            ("circle", inputs.circle if inputs.circle is not None else inputs.bore),
            ("allowed", inputs.tilt_allowed),
            *_certainty(worst.tilt),
        ),
    )


def _differences(
    inputs: SimpleNamespace, differences: list[tuple[tuple[int, ...], Result]], symbol: str
) -> Iterator[Value]:
    for head, difference in differences:
        yield Value(
            key=f"difference_{head[0]}",
            label=f"Difference between cylinders {listed(head)}",
            quantity=quantity(difference.value, "mm"),
            units=(symbol,),
            places=_PLACES[symbol],
            formula="deepest − shallowest under one head; the gauge's own error is the same for both and drops out",
            source=PLANE,
            given=(
                ("allowed", inputs.difference_allowed),
                ("so", _held(inputs, difference)),
                *_certainty(difference),
            ),
        )


def _held(inputs: SimpleNamespace, difference: Result) -> Verdict:
    limit = magnitude_in(inputs.difference_allowed, "mm")
    return judged(difference.middle, difference.expanded, high=limit, grain=1e-9)


def _scatter(decks: Decks, symbol: str) -> Iterator[Value]:
    if decks.degrees:
        yield Value(
            key="scatter",
            label="Scatter of one reading",
            quantity=quantity(decks.scatter, "mm"),
            units=(symbol,),
            places=_PLACES[symbol] + 1,
            formula="s = √(Σ (reading − plane)² ÷ ν), ν = number of readings − 3 for each barrel's plane",
            source=PLANE,
            given=(("ν", decks.degrees),),
        )


def _table(inputs: SimpleNamespace, decks: Decks, symbol: str) -> Table:
    places = _PLACES[symbol]
    return Table(
        key="barrels",
        title="Each barrel",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            Column(key="deck", label="Deck height", unit=symbol, places=places, strong=True),
            Column(key="tilt", label="Tilt along the pin", unit=symbol, places=places),
            Column(key="verdict", label="Stands"),
            Column(key="rock", label="Rock across the pin", unit=symbol, places=places),
            Column(key="points", label="Points"),
        ),
        rows=tuple(
            Row(
                cells=(
                    number,
                    quantity(barrel.deck.value, "mm"),
                    quantity(barrel.tilt.value, "mm"),
                    _STRAIGHT[barrel.crooked],
                    quantity(barrel.rock, "mm"),
                    len(barrel.depths),
                )
            )
            for number, barrel in enumerate(decks.barrels, 1)
        ),
        formula=f"{_TILT}. Plus is deeper at the first point, or a quarter turn on from it. "
        "Straight: |tilt| + U at most what is allowed; crooked: |tilt| − U above it",
        source=Source(f"{PLANE.name}; {DECISION}"),
        given=(("allowed", inputs.tilt_allowed), ("bore", inputs.bore)),
    )


def _figure(decks: Decks, symbol: str) -> Figure:
    worth = magnitude_in(quantity(1.0, "mm"), symbol)
    places = _PLACES[symbol]

    def seen(barrel: Barrel) -> BarrelSeen:
        return BarrelSeen(
            depths=tuple(depth * worth for depth in barrel.depths),
            deck=with_plus_minus(barrel.deck.middle * worth, barrel.deck.expanded * worth, places),
            rise=barrel.plane.rise * worth,
            deepest=barrel.plane.deepest,
            stands=_STRAIGHT[barrel.crooked],
        )

    return deck_map(tuple(seen(barrel) for barrel in decks.barrels), symbol, max(1, places - 1))


def _cautions(
    inputs: SimpleNamespace, decks: Decks, differences: list[tuple[tuple[int, ...], Result]], symbol: str
) -> Iterator[Caution]:
    yield Caution(
        "warning",
        "Pistons move when the crank turns and crush a finger. Battery lead off, turn by hand, "
        "keep fingers out of the bores.",
    )
    crooked = _which(decks, "out")
    if crooked:
        it, its = ("them", "their") if len(crooked) > 1 else ("it", "its")
        yield Caution(
            "caution",
            f"{_barrels(crooked).capitalize()} {'stand' if len(crooked) > 1 else 'stands'} crooked, or {its} "
            f"connecting rod is bent. Clean under {it}, clamp {it} again and measure again. "
            "If it stays so, a machine shop must measure case and rod.",
        )
    doubtful = _which(decks, "too close to call")
    if doubtful:
        yield Caution(
            "notice",
            f"The tilt of {_barrels(doubtful)} is too close to {printed(inputs.tilt_allowed, symbol, _PLACES[symbol])} "
            "to call. Take more points, or a finer gauge.",
        )
    for head, difference in differences:
        held, apart = _held(inputs, difference), _text(difference.middle, symbol)
        if held == "out":
            yield Caution(
                "caution",
                f"Decks of cylinders {listed(head)} differ by {apart}. With barrels of like length, "
                "a rod is bent or the case is worn: a machine shop must measure it.",
            )
        elif held == "too close to call":
            yield Caution(
                "notice",
                f"Decks of cylinders {listed(head)} differ by {apart}, too close to what is allowed to call.",
            )
    for number, barrel in enumerate(decks.barrels, 1):
        farthest = max(abs(residual) for residual in barrel.plane.residuals)
        if farthest > OFF_PLANE + 1e-9:
            yield Caution(
                "caution",
                f"Readings of cylinder {number} lie on no plane: one is off by {_text(farthest, symbol)}. "
                "Carbon, a burr, or a reading taken wrong: clean and read again.",
            )
        if barrel.deck.middle < 0:
            yield Caution(
                "notice",
                f"The piston of cylinder {number} stands proud of its barrel by {_text(-barrel.deck.middle, symbol)}. "
                "Without spacer or gasket it may strike the head.",
            )
    if not decks.degrees:
        yield Caution(
            "notice", "Three points always lie on a plane, so a wrong reading cannot show. Take four points or more."
        )


def _notes(decks: Decks) -> Iterator[str]:
    few = [barrel.deck.factor for barrel in decks.barrels if barrel.deck.degrees < FEW]
    if few:
        yield (
            f"So few points tell little of their own scatter: the ± is {figures(max(few), 2)} u in place of 2 u. "
            "More points narrow it."
        )
    yield "The piston rocks across its pin; the mean of points at equal steps takes that out."
    yield "Each deck height goes on, with its ±, to the calculators that ask for it."
