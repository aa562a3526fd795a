"""What is said about chambers and crowns: the lead, the values, the table, the cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from types import SimpleNamespace
from typing import Any

from calculators._measuring.chamber_drawing import chamber_section, fills_chart
from calculators._measuring.chamber_shapes import Chambers, Volume
from calculators._measuring.poured_volumes import EXPANSIONS
from calculators._measuring.repeated_readings import REPEATS, Result, result
from calculators._report import FEW_READINGS, Caution, Column, Figure, Kept, Report, Row, Source, Table, Value
from calculators._units import bare, figures, magnitude_in, plain, printed, quantity, spread_alone, symbol_of
from calculators._words import listed
from calculators.formulas.decision_rule import Verdict, judged

FAR_APART = 0.3
"""Fills of one chamber that lie further apart are not one volume, cm³ (common practice, no source)."""
FEW = 10
"""Effective degrees of freedom below which the ± is mostly the price of too few fills."""
_PLACES = {"cm³": 2, "in³": 3, "l": 5}

POURED = Source(f"{REPEATS.name}; solid geometry; expansion of liquids as on the calculator's page")
SHAPES = Source("solid geometry; JCGM 100:2008 (GUM), 4.3.7 and 5.1.2")
DECISION = Source("ISO 14253-1, rules for proving conformity and nonconformity", "memory")
_BY_BURETTE = "mean read × (1 − β ΔT) − π/4 d² l in the plate's hole; U = k u, u² the sum of all influences squared"
_BY_SHAPE = "π/6 h (3/4 D² + h²) of the dome + π/12 h (D² + D d + d²) of the cone + π/4 D² h of the step + valves, plug"


def report(inputs: SimpleNamespace, found: Chambers) -> Report:
    """Say what the chambers and crowns come to."""
    read = next((line for line in inputs.fill if line), None)
    symbol = symbol_of(read[0]) if read else "cm³"
    difference = _difference(found)
    verdict = _verdict(inputs, difference)
    return Report(
        lead=_lead(inputs, found, difference, verdict, symbol),
        values=(
            *_volumes(inputs, found, symbol),
            *_difference_value(inputs, found, difference, verdict, symbol),
            *_scatter_value(found, symbol),
        ),
        tables=(_table(found, symbol),),
        figures=tuple(_figures(found, symbol)),
        kept=tuple(_kept(found)),
        cautions=tuple(_cautions(inputs, found, verdict, symbol)),
        notes=tuple(_notes(found)),
        plus_minus=FEW_READINGS,
    )


def _named(kind: str, number: int) -> str:
    return f"{kind} of cylinder {number}"


def _text(value: Any, symbol: str) -> str:
    return printed(quantity(value, "cm³"), symbol, _PLACES[symbol])


def _lead(
    inputs: SimpleNamespace, found: Chambers, difference: Result | None, verdict: Verdict | None, symbol: str
) -> str:
    middles = [_text(volume.result.middle, symbol).removesuffix(f" {symbol}") for volume in found.chambers]
    widest = quantity(max(volume.result.expanded for volume in found.chambers), "cm³")
    worst = f"{spread_alone(magnitude_in(widest, symbol), _PLACES[symbol])} {symbol}"
    if difference is None:
        return f"The chamber of cylinder 1 holds {middles[0]} {symbol}, ± {worst}."
    apart = _text(difference.middle, symbol)
    lead = f"The chambers hold {listed(middles)} {symbol}, each ± {worst} or less. They differ by {apart}"
    if verdict is None:
        return f"{lead}."
    allowed = printed(inputs.may_differ, symbol, _PLACES[symbol])
    words = {
        "in": f"{allowed} is allowed",
        "out": f"more than the {allowed} allowed",
        "too close to call": f"too close to the {allowed} allowed to call",
    }
    return f"{lead}: {words[verdict]}."


def _difference(found: Chambers) -> Result | None:
    """Return the largest less the smallest chamber: what is the same for all of them drops out."""
    if len(found.chambers) < 2:
        return None
    order = sorted(found.chambers, key=lambda volume: volume.result.middle)
    return result(order[-1].raw - order[0].raw, found.degrees)


def _verdict(inputs: SimpleNamespace, difference: Result | None) -> Verdict | None:
    if difference is None or inputs.may_differ is None:
        return None
    limit = magnitude_in(inputs.may_differ, "cm³")
    return judged(difference.middle, difference.expanded, high=limit, grain=1e-9)


def _volumes(inputs: SimpleNamespace, found: Chambers, symbol: str) -> Iterator[Value]:
    groups: tuple[tuple[str, Sequence[Volume | None]], ...] = (
        ("Chamber volume", found.chambers),
        ("Crown volume", found.crowns),
    )
    for kind, volumes in groups:
        for number, volume in enumerate(volumes, 1):
            if volume is None:
                continue
            crown = kind == "Crown volume"
            yield Value(
                key=f"{'crown' if crown else 'chamber'}_{number}",
                label=_named(kind, number),
                quantity=quantity(volume.result.value, "cm³"),
                units=(symbol,),
                places=_PLACES[symbol],
                formula=_formula(volume, crown),
                source=POURED if volume.poured else SHAPES,
                lead=True,
                given=_given(inputs, found, volume, number, crown),
            )


def _formula(volume: Volume, crown: bool) -> str:
    if crown:
        return f"{_BY_BURETTE}; less π/4 bore² × depth" if volume.poured else "π/6 h (3/4 D² + h²), dome minus"
    return _BY_BURETTE if volume.poured else _BY_SHAPE


def _given(
    inputs: SimpleNamespace, found: Chambers, volume: Volume, number: int, crown: bool
) -> tuple[tuple[str, Any], ...]:
    poured = volume.poured
    if poured is None:
        if crown:
            return (
                ("D", inputs.crown_diameter if inputs.crown_diameter is not None else inputs.bore),
                ("h", inputs.crown_depth[number - 1]),
            )
        asked = {
            "dome D": inputs.dome_diameter,
            "dome h": inputs.dome_height,
            "cone D": inputs.cone_wide,
            "cone d": inputs.cone_narrow,
            "cone h": inputs.cone_height,
            "step D": inputs.step_diameter,
            "step h": inputs.step_height,
            "valves and plug": inputs.parts,
        }
        return tuple((name, length) for name, length in asked.items() if length is not None)
    return (
        ("fills", len(poured.fills)),
        ("burette filled", f"{poured.fillings} {'times' if poured.fillings > 1 else 'time'} a fill"),
        ("β", f"{plain(EXPANSIONS[inputs.liquid])} 1/K"),
        ("ΔT", quantity(bare(found.burette.warmer)[0], "K")),
        ("in the hole", quantity(found.burette.hole * found.burette.plate, "cm³")),
        *((("bore", inputs.bore), ("depth", inputs.piston_depth[number - 1])) if crown else ()),
        *_certainty(volume.result),
    )


def _certainty(found: Result) -> tuple[tuple[str, Any], ...]:
    return (
        ("u", f"{found.combined:.3g} cm³"),
        ("degrees of freedom", found.degrees_words),
        ("k", figures(found.factor, 2)),
    )


def _difference_value(
    inputs: SimpleNamespace, found: Chambers, difference: Result | None, verdict: Verdict | None, symbol: str
) -> Iterator[Value]:
    if difference is None:
        return
    order = sorted(range(len(found.chambers)), key=lambda index: found.chambers[index].result.middle)
    yield Value(
        key="difference",
        label="Largest chamber less the smallest",
        quantity=quantity(difference.value, "cm³"),
        units=(symbol,),
        places=_PLACES[symbol],
        formula="largest − smallest; errors of burette and temperature are the same for both and nearly drop out",
        source=POURED,
        lead=True,
        given=(
            ("largest", f"cylinder {order[-1] + 1}"),
            ("smallest", f"cylinder {order[0] + 1}"),
            *_certainty(difference),
        ),
    )
    if verdict is not None:
        yield Value(
            key="verdict",
            label="Against the difference allowed",
            quantity=verdict,
            formula="in: difference + U at most what is allowed; out: difference − U above it; else too close to call",
            source=DECISION,
            given=(("allowed", inputs.may_differ),),
        )


def _scatter_value(found: Chambers, symbol: str) -> Iterator[Value]:
    if found.degrees:
        yield Value(
            key="scatter",
            label="Scatter of one fill",
            quantity=quantity(found.scatter, "cm³"),
            units=(symbol,),
            places=_PLACES[symbol] + 1,
            formula="s = √(Σ (fill − mean of its chamber)² ÷ ν), ν = number of fills − number of chambers filled",
            source=REPEATS,
            given=(("ν", found.degrees),),
        )


def _table(found: Chambers, symbol: str) -> Table:
    places = _PLACES[symbol]
    rows = []
    for kind, volumes in (("", found.chambers), ("crown ", found.crowns)):
        for number, volume in enumerate(volumes, 1):
            if volume is None:
                continue
            fills = [quantity(fill, "cm³") for fill in volume.poured.fills] if volume.poured else []
            rows.append(
                Row(
                    cells=(
                        f"{kind}{number}",
                        quantity(volume.result.value, "cm³"),
                        len(fills) or "from dimensions",
                        min(fills, default=None),
                        max(fills, default=None),
                        figures(volume.result.factor, 2),
                    )
                )
            )
    return Table(
        key="volumes",
        title="Each cylinder",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            Column(key="volume", label="Volume", unit=symbol, places=places, strong=True),
            Column(key="fills", label="Fills"),
            Column(key="least", label="Least fill", unit=symbol, places=places),
            Column(key="most", label="Most", unit=symbol, places=places),
            Column(key="factor", label="k"),
        ),
        rows=tuple(rows),
        formula=f"{_BY_BURETTE}; least and most fill are put right in the same way, and a crown's are the liquid alone",
        source=POURED,
    )


def _figures(found: Chambers, symbol: str) -> Iterator[Figure]:
    worth = magnitude_in(quantity(1.0, "cm³"), symbol)
    yield fills_chart(
        tuple(volume.result.middle * worth for volume in found.chambers),
        tuple(volume.result.expanded * worth for volume in found.chambers),
        tuple(
            tuple(fill * worth for fill in volume.poured.fills) if volume.poured else () for volume in found.chambers
        ),
        symbol,
        _PLACES[symbol],
    )
    if found.shape:
        yield chamber_section(found.shape.dome, found.shape.cone, found.shape.step)


def _kept(found: Chambers) -> Iterator[Kept]:
    for path, kind, volumes in (("chamber", "Chamber volume", found.chambers), ("crown", "Crown volume", found.crowns)):
        for number, volume in enumerate(volumes, 1):
            if volume is not None:
                yield Kept(
                    path=f"{path}.{number}",
                    label=_named(kind, number),
                    quantity=quantity(volume.result.value, "cm³"),
                    unit="cm³",
                )
    poured = [volume for volume in (*found.chambers, *found.crowns) if volume is not None and volume.poured]
    if poured:
        own = max(volume.own for volume in poured) * 3**0.5  # as a limit, which is what the fields ask for
        yield Kept(
            path="volume_scatter", label="Scatter of the volume readings", quantity=quantity(own, "cm³"), unit="cm³"
        )


def _cautions(inputs: SimpleNamespace, found: Chambers, verdict: Verdict | None, symbol: str) -> Iterator[Caution]:
    if inputs.liquid in ("spirit", "paraffin"):
        yield Caution(
            "warning",
            "The liquid and its vapour catch fire from a spark or a hot lamp. "
            "Keep flames and hot work away, air the room, wear gloves and eye protection.",
        )
    for kind, volumes in (("chamber", found.chambers), ("crown", found.crowns)):
        for number, volume in enumerate(volumes, 1):
            fills = volume.poured.fills if volume and volume.poured else ()
            if fills and max(fills) - min(fills) > FAR_APART + 1e-9:
                yield Caution(
                    "caution",
                    f"Fills of the {kind} of cylinder {number} lie {_text(max(fills) - min(fills), symbol)} apart. "
                    "A bubble or a leak: seal the plate again and fill again.",
                )
    if verdict == "too close to call":
        yield Caution(
            "notice",
            "The difference between the chambers is too close to what is allowed to call. "
            "Fill the largest and the smallest again, with a finer burette if you have one.",
        )
    if not found.degrees and any(volume.poured for volume in found.chambers):
        yield Caution(
            "notice", "No chamber was filled twice, so the ± knows nothing of bubbles and leaks. Fill each three times."
        )


def _notes(found: Chambers) -> Iterator[str]:
    few = [volume for volume in found.chambers if volume.result.degrees < FEW]
    if few:
        worst = max(few, key=lambda volume: volume.result.factor)
        yield (
            f"So few fills tell little of their own scatter: the ± is {figures(worst.result.factor, 2)} u in place of "
            "2 u. More fills of each chamber narrow it."
        )
    if found.degrees:
        yield (
            "All fills together say how far one of them scatters; "
            "a chamber filled once takes its scatter from the others."
        )
    yield (
        "Each volume goes on, with its ±, to the calculators that ask for it, and with it how much of the ± is its "
        "own: what the burette does is the same in all of them."
    )
