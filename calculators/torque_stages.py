"""Set the wrench and tighten the nuts, pass by pass, in the order that keeps the part square.

Takes the final torque as given: whether it is right for the stud, its thread and what is on the
thread is the engine maker's to say. Not for fasteners tightened by angle.
"""

from __future__ import annotations

import itertools
import math
from functools import lru_cache
from types import SimpleNamespace
from typing import Any

from calculators import (
    COMMON_PRACTICE,
    CONVERSION,
    Caution,
    Choice,
    Column,
    Field,
    FieldError,
    Form,
    InputErrors,
    Measure,
    Number,
    Report,
    Row,
    Section,
    Series,
    Source,
    Table,
    Value,
    magnitude_in,
    quantity,
    symbol_of,
)
from calculators._stud_map import stud_map
from calculators._words import listed
from calculators.formulas.tightening_order import EXACT_TO, edge_order, imbalances, tightening_order
from calculators.formulas.wrench_marks import even_shares, nearest_mark

TITLE = "Torque stages"
UNITS = ("N·m", "lbf·ft", "lbf·in", "kgf·m")
FARTHEST = 0.04
"""A final mark farther off than this share of the final torque is not that torque: a good setting wrench may itself
be so far off (ISO 6789:2003, Type II class A over 10 N·m, from a tool maker's summary)."""
WORTH_SAYING = 0.02
"""Rounding of the final mark that is cautioned (common practice, no source)."""

BALANCE = Source("statics: balance of moments about the centroid of the studs", "identity")

FORM = Form(
    (
        Section(
            title="The figure and the wrench",
            fields=(
                Field(
                    key="target",
                    label="Final torque",
                    help="From the engine maker, for this nut and this thread condition.",
                    kind=Measure(
                        own="N·m", low=1, high=400, why="below and above, workshop wrenches do not reach", exact=True
                    ),
                    card="torques.cylinder_head",
                    example="34 N·m",
                ),
                Field(
                    key="graduation",
                    label="Wrench scale step",
                    help="What one mark of the wrench is worth, in the unit it is marked in.",
                    kind=Measure(own="N·m", low=0.01, high=50, why="finer or coarser scales are not made", exact=True),
                    default="1 N·m",
                ),
                Field(
                    key="passes",
                    label="Number of passes",
                    kind=Number(low=1, high=8, why="more passes gain nothing"),
                    help="In even steps up to the final torque; the confirming pass comes on top.",
                    default="3",
                ),
                Field(
                    key="shares",
                    label="Passes in per cent",
                    help="Typed here, these replace the even steps: 40 70 100.",
                    kind=Series(
                        of=Measure(own="%", low=1, high=100, why="a share of the final torque", exact=True),
                        fewest=1,
                        most=8,
                        like="40 70 100",
                    ),
                    optional=True,
                ),
            ),
        ),
        Section(
            title="The studs",
            fields=(
                Field(
                    key="pattern",
                    label="Stud pattern",
                    kind=Choice(
                        options={
                            "card": "As on the engine card",
                            "4": "4 studs, 2 by 2",
                            "6": "6 studs, 3 by 2",
                            "8": "8 studs, 4 by 2",
                            "10": "10 studs, 5 by 2",
                            "12": "12 studs, 6 by 2",
                        }
                    ),
                    default="card",
                ),
            ),
        ),
    )
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the passes, the marks to set, and the order of the studs."""
    shares = _shares(inputs)
    names, positions, published = _studs(inputs)
    order = tuple(names.index(name) for name in published) if published else tightening_order(positions)
    target, symbol = inputs.target, symbol_of(inputs.graduation)
    places = _decimals(inputs.graduation.magnitude)
    marks, rounding = _marks(inputs, shares)
    settings = [f"{mark:.{places}f}" for mark in marks]
    in_words = " – ".join(names[index] for index in order)
    return Report(
        lead=(
            f"Set the wrench to {listed(settings[:-1])} {symbol}: every nut at each setting, "
            f"in the order {in_words}. Then go round once more at {settings[-1]} {symbol} to confirm."
        ),
        values=(
            Value(
                key="target",
                label="Final torque",
                quantity=target,
                units=UNITS,
                formula="1 lbf·ft = 1.355818 N·m; 1 lbf·in = 0.1129848 N·m; 1 kgf·m = 9.80665 N·m",
                source=CONVERSION,
            ),
            *_order_values(positions, order, in_words, _published_source(inputs.card) if published else None),
        ),
        tables=(_passes(target, shares, marks, rounding, symbol, places),),
        figures=(stud_map(tuple(names), positions, order),),
        cautions=_cautions(shares, marks, rounding, bool(published)),
        notes=(
            "The confirming pass finds nuts that settled while their neighbours were drawn down. "
            "A nut that turns on it needs the pass again.",
            "The mark is rounded to the scale; the wrench's own error comes on top of that.",
        ),
    )


def _marks(inputs: SimpleNamespace, shares: tuple[float, ...]) -> tuple[list[float], list[float]]:
    """Return the marks of all passes and the confirming one, in the wrench's unit, and by what share each is off."""
    symbol, step = symbol_of(inputs.graduation), inputs.graduation.magnitude
    target = magnitude_in(inputs.target, symbol)
    if step > target:
        raise InputErrors(FieldError("graduation", "Wrench scale step must be smaller than the final torque"))
    settings = [share * target for share in (*shares, 1)]
    marks = [nearest_mark(setting, step) for setting in settings]
    rounding = [mark / setting - 1 for mark, setting in zip(marks, settings, strict=True)]
    final = f"{marks[-1]:.{_decimals(step)}f} {symbol}"
    if abs(rounding[-1]) > FARTHEST + 1e-9:
        message = (
            f"No mark of this wrench comes within {FARTHEST:.0%} of the final torque. The nearest is {final}, "
            f"{abs(rounding[-1]):.1%} off. Use a wrench with a finer scale."
        )
        raise InputErrors(FieldError("graduation", message))
    if len(shares) > 1 and marks[0] == marks[-1]:
        lower = "a lower first pass" if inputs.shares else "fewer passes"
        message = f"The first pass falls on the final mark, {final}. Use a wrench with a finer scale, or {lower}."
        raise InputErrors(FieldError("graduation", message))
    return marks, rounding


def _shares(inputs: SimpleNamespace) -> tuple[float, ...]:
    if not inputs.shares:
        return even_shares(inputs.passes)
    shares = tuple(magnitude_in(share, "%") / 100 for share in inputs.shares)
    if any(later <= earlier for earlier, later in itertools.pairwise(shares)):
        raise InputErrors(FieldError("shares", "Passes in per cent must rise from pass to pass, like 40 70 100"))
    return shares if math.isclose(shares[-1], 1) else (*shares, 1.0)


def _studs(inputs: SimpleNamespace) -> tuple[list[str], tuple[tuple[float, float], ...], list[str] | None]:
    """Return stud names, their places in mm (y upwards), and the maker's own order if the card has one."""
    if inputs.pattern == "card":
        studs = inputs.card.studs("studs.cylinder_head") if inputs.card else {}
        if len(studs) < 2:
            why = "This engine card has no stud positions" if inputs.card else "There is no engine card here"
            raise InputErrors(FieldError("pattern", f"{why}. Choose the pattern nearest to yours."))
        published = inputs.card.fact("studs.cylinder_head.order")
        if published is not None and sorted(published) != sorted(studs):
            raise InputErrors(FieldError("pattern", "The order on this engine card must name each stud once"))
        return list(studs), tuple(studs.values()), published
    columns, pitch = int(inputs.pattern) // 2, 80.0
    places = tuple(
        ((column - (columns - 1) / 2) * pitch, y) for y in (pitch / 2, -pitch / 2) for column in range(columns)
    )
    return [chr(ord("A") + index) for index in range(len(places))], places, None


def _published_source(card: Any) -> Source:
    told = card.source("studs.cylinder_head.order")
    return Source(f"the engine card: {told}" if told else "the engine card")


@lru_cache(maxsize=64)
def _lopsided(positions: tuple[tuple[float, float], ...], order: tuple[int, ...]) -> tuple[float, float]:
    """Return the imbalance of an order and that of the best one round the edge, each summed over its steps, [mm]."""
    return math.fsum(imbalances(positions, order)), math.fsum(imbalances(positions, edge_order(positions)))


def _order_values(
    positions: tuple[tuple[float, float], ...], order: tuple[int, ...], in_words: str, published: Source | None
) -> tuple[Value, ...]:
    """Return the order and how lopsided it is; against the edge order only ours, which was sought for that."""
    ours, edge = _lopsided(positions, order)
    exact = "every order was weighed" if len(order) <= EXACT_TO else "found by a bounded search, not proved the best"
    steps = len(order)
    return (
        Value(
            key="order",
            label="Tightening order",
            quantity=in_words,
            formula="the maker's own order, from the engine card"
            if published
            else f"least sum of |Σ(r − c)| over all steps, outward from the middle among equals; {exact}",
            source=published or BALANCE,
            lead=True,
        ),
        Value(
            key="imbalance",
            label="Mean imbalance in this order",
            quantity=quantity(ours / steps, "mm"),
            units=("mm",),
            places=0,
            formula="mean over the steps of |Σ(r − c)|, the tilting moment for one unit of clamp a stud",
            source=BALANCE,
        ),
        *(
            ()
            if published
            else (
                Value(
                    key="against_edge",
                    label="Less than going round the edge, by",
                    quantity=quantity(100 * (1 - ours / edge), "%"),
                    units=("%",),
                    places=0,
                    formula="1 − this order's mean ÷ the edge order's, begun at the stud that suits it best",
                    source=BALANCE,
                ),
            )
        ),
    )


def _passes(
    target: Any, shares: tuple[float, ...], marks: list[float], rounding: list[float], symbol: str, places: int
) -> Table:
    names = [f"Pass {number}" for number in range(1, len(shares) + 1)] + ["Confirm"]
    rows = tuple(
        Row(
            cells=(
                name,
                quantity(mark, symbol),
                *(quantity(share * target.magnitude, symbol_of(target)),) * len(UNITS),
                quantity(100 * share, "%"),
                quantity(100 * error, "%"),
            ),
            chosen=name == "Confirm",
        )
        for name, share, mark, error in zip(names, (*shares, 1.0), marks, rounding, strict=True)
    )
    return Table(
        key="passes",
        title="Passes",
        columns=(
            Column(key="pass", label="Pass"),
            Column(key="mark", label="Set the wrench to", unit=symbol, places=places, strong=True),
            *(Column(key=name.replace("·", "_"), label=name, unit=name) for name in UNITS),
            Column(key="share", label="Share", unit="%", places=0),
            Column(key="rounding", label="Rounding", unit="%"),
        ),
        rows=rows,
        formula="share × final torque; the mark is the nearest one on the scale, a half going down",
        source=COMMON_PRACTICE,
    )


def _cautions(
    shares: tuple[float, ...], marks: list[float], rounding: list[float], published: bool
) -> tuple[Caution, ...]:
    cautions = [
        Caution(
            "warning",
            "A stud that keeps turning without the torque rising is pulling out of its thread or stretching. "
            "Stop; going on breaks it or strips the case.",
        ),
        Caution(
            "caution",
            "Use the thread condition that the figure is meant for. Oil on a thread whose figure is for dry "
            "threads overloads the stud.",
        ),
    ]
    if not published:
        cautions.append(
            Caution("notice", "This order is worked out from the stud positions. The engine maker's order wins.")
        )
    if len(shares) < 2:
        cautions.append(
            Caution("caution", "One pass alone draws the part down crooked. Take two or more even passes first.")
        )
    stages = marks[:-1]
    if any(later == earlier for earlier, later in itertools.pairwise(stages)):
        cautions.append(
            Caution("caution", "Two passes fall on the same mark of this wrench. Use fewer passes or a finer wrench.")
        )
    if abs(rounding[-1]) > WORTH_SAYING:
        cautions.append(
            Caution(
                "caution",
                f"Rounding to the mark is off the final torque by {abs(rounding[-1]):.1%}. Use a finer wrench.",
            )
        )
    return tuple(cautions)


def _decimals(step: float) -> int:
    text = f"{step:.6f}".rstrip("0")
    return len(text.partition(".")[2])
