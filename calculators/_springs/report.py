"""Valve springs in words and numbers: each spring, each valve with its shims, each old spring with its verdict."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._report import Caution, Column, Row, Source, Table, Value
from calculators._springs.measured_springs import Nest
from calculators._units import bare, figures, magnitude_in, number_in, plain, printed, quantity
from calculators._verdict import best_of, verdict_on
from calculators._words import listed
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.helical_spring import follow_speed, natural_frequency

SPRING = Source("Shigley, Mechanical Engineering Design, 10th edition, chapter 10")
NEWTON = Source("Newton's second law; a third of a spring's moving coils moves with its end (Rayleigh)", "identity")
DECISION = Source("ISO 14253-1, decision rules for conformity", "memory")
SURGES = 10.0
"""A spring's own frequency over the camshaft's, below which its coils surge (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Fitting:
    """One valve: height found, shims for it, height then; what is left between retainer and guide at full lift."""

    number: int
    found: Any
    pile: tuple[float, ...]
    height: Any
    to_guide: Any

    @property
    def shims(self) -> str:
        return " + ".join(f"{plain(shim)} mm" for shim in self.pile) or "none"


def lead(inputs: SimpleNamespace, nest: Nest, fittings: Sequence[Fitting]) -> str:
    """Return loads and margin in one sentence, and the shims in another."""
    at_seat, at_lift = bare(nest.load(nest.fitted))[0], bare(nest.load(nest.open))[0]
    said = (
        f"At {printed(inputs.fitted_length, 'mm', 1)} the valve is held with {figures(at_seat, 0)} N, at full lift "
        f"with {figures(at_lift, 0)} N; {figures(bare(nest.margin(nest.open))[0], 1)} mm is left before coils touch."
    )
    if fittings:
        said += " Shims: " + "; ".join(f"valve {one.number}: {one.shims}" for one in fittings) + "."
    return said


def nest_values(inputs: SimpleNamespace, nest: Nest) -> tuple[Value, ...]:
    """Return the loads, the margin and the rate of all springs together."""
    rates = tuple((f"rate of spring {number}, N/mm", spring.rate) for number, spring in enumerate(nest.springs, 1))
    lengths = tuple(
        (f"free length of spring {number}", quantity(spring.free, "mm"))
        for number, spring in enumerate(nest.springs, 1)
    )
    return (
        *(
            Value(
                key=key,
                label=label,
                quantity=quantity(nest.load(height), "N"),
                units=("N", "lbf"),
                formula="Σ rate × (free length − height)",
                source=SPRING,
                given=(*rates, *lengths, ("height", quantity(height, "mm"))),
                lead=True,
            )
            for key, label, height in (
                ("seat_load", "Seat load at the fitted length", nest.fitted),
                ("open_load", "Load at full lift", nest.open),
            )
        ),
        Value(
            key="margin",
            label="Coil-bind margin at full lift",
            quantity=quantity(nest.margin(nest.open), "mm"),
            units=("mm", "thou"),
            formula="fitted length − valve lift − total coils × wire diameter; the least of the springs",
            source=SPRING,
            given=(
                ("fitted length", inputs.fitted_length),
                ("valve lift", inputs.valve_lift),
                *(
                    (f"coils of spring {number} touching", quantity(spring.solid, "mm"))
                    for number, spring in enumerate(nest.springs, 1)
                ),
            ),
            lead=True,
        ),
        Value(
            key="rate",
            label="Rate of all springs, in N/mm",
            quantity=sum(spring.rate for spring in nest.springs),
            places=2,
            formula="Σ rate; two springs in one another share the way and add their loads",
            source=SPRING,
            given=rates,
        ),
        Value(
            key="wanted_height",
            label="Height for the seat load wanted",
            quantity=quantity(nest.height_for(number_in(inputs.seat_load, "N")), "mm"),
            units=("mm",),
            formula="(Σ rate × free length − seat load) ÷ Σ rate",
            source=SPRING,
            given=(("seat load", inputs.seat_load), *rates, *lengths),
        ),
    )


def speed_values(inputs: SimpleNamespace, nest: Nest) -> tuple[Value, ...]:
    """Return the speed at which the springs just follow; nothing where mass or slowing is not known."""
    if inputs.mass is None or inputs.slowing is None:
        return ()
    mass = inputs.mass / 1000 + sum(spring.mass for spring in nest.springs) / 3
    load = nest.load(nest.open)
    if not bare(load)[0]:
        return ()
    speed = follow_speed(load, mass, inputs.slowing)
    return (
        Value(
            key="follow_speed",
            label="Engine speed at which the springs just follow",
            quantity=quantity(speed, "r/min"),
            units=("r/min",),
            formula="2 × √(load at full lift ÷ (mass × slowing)) ÷ 2π, the slowing by radians of the cam; stiff valve "
            "gear, no friction",
            source=NEWTON,
            given=(
                ("load at full lift", quantity(load, "N")),
                ("mass with a third of the springs, g", 1000 * bare(mass)[0]),
                ("slowing, mm/degree²", inputs.slowing),
            ),
        ),
        Value(
            key="follow_margin",
            label="Above the highest speed by",
            quantity=quantity(100 * (speed / number_in(inputs.highest_speed, "r/min") - 1), "%"),
            units=("%",),
            places=0,
            formula="speed at which the springs just follow ÷ highest speed − 1",
            source=NEWTON,
            given=(("follows to", quantity(speed, "r/min")), ("highest speed", inputs.highest_speed)),
        ),
    )


def spring_table(nest: Nest) -> Table:
    """Return each spring for itself."""
    return Table(
        key="springs",
        title="Each spring",
        columns=(
            Column(key="spring", label="Spring"),
            Column(key="rate", label="Rate, N/mm", places=2, strong=True),
            Column(key="seat", label="Seat load", unit="N"),
            Column(key="open", label="Full lift", unit="N"),
            Column(key="bound", label="Bound at", unit="mm", places=1),
            Column(key="margin", label="Margin", unit="mm", places=1),
            Column(key="stress", label="Stress, MPa", places=0),
            Column(key="frequency", label="Surges at, Hz", places=0),
            Column(key="basis", label="Rate from", wide=True),
        ),
        rows=tuple(
            Row(
                cells=(
                    number,
                    spring.rate,
                    quantity(spring.load(nest.fitted), "N"),
                    quantity(spring.load(nest.open), "N"),
                    quantity(spring.solid, "mm"),
                    quantity(spring.margin(nest.open), "mm"),
                    spring.stress(nest.open),
                    natural_frequency(spring.rate, spring.mass),
                    spring.basis,
                )
            )
            for number, spring in enumerate(nest.springs, 1)
        ),
        formula="rate = (F₂ − F₁) ÷ (L₁ − L₂), else F ÷ (free length − L), else G d⁴ ÷ (8 D³ n); stress at full lift = "
        "K · 8 F D ÷ (π d³), K = (4C − 1) ÷ (4C − 4) + 0.615 ÷ C, C = D ÷ d; surges at ½ √(rate ÷ moving mass)",
        source=SPRING,
        given=tuple(
            pair
            for number, spring in enumerate(nest.springs, 1)
            for pair in (
                (f"spring {number}: wire d", quantity(spring.wire, "mm")),
                ("mean coil D", quantity(spring.mean, "mm")),
            )
        ),
    )


_KEPT: dict[Verdict, str] = {"in": "keep", "out": "replace", "too close to call": "too close to call"}
_MET: dict[Verdict, str] = {"in": "in", "out": "out", "too close to call": "too close to call"}


def shim_table(inputs: SimpleNamespace, nest: Nest, fittings: Sequence[Fitting]) -> Table:
    """Return each valve with its shims, and what they give."""
    wanted, band = magnitude_in(inputs.seat_load, "N"), magnitude_in(inputs.load_band, "%") / 100
    guided = any(one.to_guide is not None for one in fittings)
    rows = []
    for one in fittings:
        load = nest.load(one.height)
        guide = () if not guided else (None if one.to_guide is None else quantity(one.to_guide, "mm"),)
        rows.append(
            Row(
                cells=(
                    one.number,
                    one.shims,
                    quantity(one.height, "mm"),
                    quantity(load, "N"),
                    quantity(nest.load(one.height - nest.lift), "N"),
                    quantity(nest.margin(one.height - nest.lift), "mm"),
                    *guide,
                    _MET[verdict_on(load, (1 - band) * wanted, (1 + band) * wanted)],
                )
            )
        )
    return Table(
        key="valves",
        title="Each valve, with its shims",
        columns=(
            Column(key="valve", label="Valve"),
            Column(key="shims", label="Shims", strong=True),
            Column(key="height", label="Height then", unit="mm"),
            Column(key="seat", label="Seat load", unit="N"),
            Column(key="open", label="Full lift", unit="N"),
            Column(key="margin", label="Coil-bind margin", unit="mm", places=1),
            *((Column(key="guide", label="Retainer to guide", unit="mm", places=1),) if guided else ()),
            Column(key="verdict", label="Seat load"),
        ),
        rows=tuple(rows),
        formula="of all piles of up to two shims that keep the seat load and the coil-bind margin, those with the "
        "least spread of heights, then nearest to the height wanted; retainer to guide less valve lift",
        source=DECISION,
        given=(("seat load wanted", inputs.seat_load), ("tolerance", inputs.load_band)),
    )


def old_table(inputs: SimpleNamespace, nest: Nest, found: Sequence[tuple[Any, Any]]) -> Table:
    """Return the verdict on each old spring of the first kind."""
    new = nest.springs[0]
    full = new.load(nest.fitted)
    least_load = full * (1 - magnitude_in(inputs.loss_of_load, "%") / 100)
    least_free = new.unpressed - magnitude_in(inputs.loss_of_length, "mm")
    rows = []
    for number, (free, load) in enumerate(found, 1):
        verdicts = [
            verdict_on(value - least, low=0.0)
            for value, least in ((free, least_free), (load, least_load))
            if value is not None
        ]
        worst = max(verdicts, key=_WORSE.index, default=None)
        rows.append(
            Row(
                cells=(
                    number,
                    None if free is None else quantity(free, "mm"),
                    None if load is None else quantity(load, "N"),
                    None if load is None or not best_of(full) else quantity(100 * (load / full - 1), "%"),
                    None if worst is None else _KEPT[worst],
                ),
                chosen=worst == "out",
            )
        )
    return Table(
        key="old",
        title="Old springs against spring 1",
        columns=(
            Column(key="spring", label="Old spring"),
            Column(key="free", label="Free length", unit="mm", places=1),
            Column(key="load", label="Load", unit="N"),
            Column(key="change", label="Against new", unit="%", places=0),
            Column(key="verdict", label="Verdict", strong=True),
        ),
        rows=tuple(rows),
        formula="keep where length and load, with all of their uncertainty and that of the new spring's, are above the "
        "least ones, replace where one of them is wholly below",
        source=DECISION,
        given=(("least load", quantity(least_load, "N")), ("least free length", quantity(least_free, "mm"))),
    )


_WORSE: tuple[Verdict, ...] = ("in", "too close to call", "out")


def cautions(inputs: SimpleNamespace, nest: Nest, fittings: Sequence[Fitting]) -> tuple[Caution, ...]:
    """Return the cautions, with those that these springs call for."""
    told = [
        Caution(
            "warning",
            "A compressed spring that slips off its tool flies with the force of a blow. Wear eye protection, keep the "
            "face and the hands out of its line, and see both collets seated before you let go.",
        ),
        Caution("notice", "The maker's loads, lengths and limits win over any figure here."),
    ]
    spread = [one.number for one in fittings if _margin_verdict(nest, one.height) != "in"]
    if _margin_verdict(nest, nest.fitted) != "in":
        told.append(
            Caution(
                "warning",
                f"At the fitted length the coil-bind margin is not surely {plain(nest.least)} mm at full lift. Coils "
                "that touch bend pushrods and drop valves, and at speed that can kill. Do not fit these springs at "
                "this length.",
            )
        )
    if spread:
        told.append(
            Caution(
                "warning",
                f"Valve {listed(spread)}: the coil-bind margin is not surely {plain(nest.least)} mm at full lift.",
            )
        )
    near = [one.number for one in fittings if one.to_guide is not None and verdict_on(one.to_guide, nest.least) != "in"]
    if near:
        told.append(
            Caution(
                "warning",
                f"Valve {listed(near)}: between retainer and guide {_left(near, fittings)} left at full lift, not "
                f"surely the {plain(nest.least)} mm wanted. A retainer that strikes its guide breaks it or drops the "
                "valve, and at speed that can kill. Shims do not help: do not fit it before a machine "
                "shop has made room.",
            )
        )
    wanted, band = magnitude_in(inputs.seat_load, "N"), magnitude_in(inputs.load_band, "%") / 100
    verdicts = [(one, verdict_on(nest.load(one.height), (1 - band) * wanted, (1 + band) * wanted)) for one in fittings]
    off = [one for one, verdict in verdicts if verdict == "out"]
    strong = [one.number for one in off if not one.pile and bare(nest.load(one.height))[0] > wanted]
    weak = [one.number for one in off if one.number not in strong]
    if weak:
        told.append(
            Caution(
                "caution",
                f"Valve {listed(weak)}: no pile of these shims gives the seat load wanted. Look at the seat and the "
                "valve before you buy thicker shims: a valve sunk in its seat makes the spring long.",
            )
        )
    if strong:
        told.append(
            Caution(
                "caution",
                f"Valve {listed(strong)}: the spring stands too short, and presses more than is wanted without any "
                "shim. Look for a shim or washer left under it, for the wrong retainer or collets, and for a valve "
                "that stands high in its seat.",
            )
        )
    close = [one.number for one, verdict in verdicts if verdict == "too close to call"]
    if close:
        told.append(
            Caution(
                "notice",
                f"Valve {listed(close)}: too close to call. The seat load is not known well enough for a band of "
                f"{printed(inputs.load_band, '%')}. Press the springs on a tester: two loads at two lengths.",
            )
        )
    hard = [
        f"spring {number} with {figures(best_of(spring.stress(nest.open)), 0)} MPa"
        for number, spring in enumerate(nest.springs, 1)
        if verdict_on(spring.stress(nest.open), high=spring.borne) != "in"
    ]
    if hard:
        told.append(
            Caution(
                "warning",
                f"At full lift the wire is stressed beyond what wire so thick surely takes: {listed(hard)}. A spring "
                "that sets or breaks drops its valve. Check wire, coils and loads; ask its maker before you fit it.",
            )
        )
    turns = magnitude_in(inputs.highest_speed, "r/min") / 2 / 60
    slow = [
        number
        for number, spring in enumerate(nest.springs, 1)
        if bare(natural_frequency(spring.rate, spring.mass))[0] < SURGES * turns
    ]
    if slow:
        told.append(
            Caution(
                "caution",
                f"Spring {listed(slow)} surges below {SURGES:.0f} times the camshaft's speed at the highest engine "
                "speed (common practice, no source): its coils may swing and its load fall off.",
            )
        )
    return tuple(told)


def _left(numbers: Sequence[int], fittings: Sequence[Fitting]) -> str:
    """Return "0.7 mm is" or "0.7 and 0.9 mm are": the room between retainer and guide of these valves."""
    rooms = [figures(bare(one.to_guide)[0], 1) for one in fittings if one.number in numbers]
    return f"{listed(rooms)} mm {'is' if len(rooms) == 1 else 'are'}"


def _margin_verdict(nest: Nest, height: Any) -> Verdict:
    return verdict_on(nest.margin(height - nest.lift), nest.least)
