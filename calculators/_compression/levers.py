"""What else would bring the ratio to the target: spacers to buy or to have made, chambers opened, faces skimmed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

from calculators._compression.candidates import SEARCH
from calculators._compression.measured_engine import Engine, best_estimate
from calculators._compression.words import named, reached
from calculators._report import Column, Row, Source, Table, Value
from calculators._units import figures, number_in, quantity
from calculators._words import listed, word
from calculators.formulas.cylinder_volume import clearance_for_ratio
from calculators.formulas.made_spacers import made_height
from calculators.formulas.spacer_choice import Question

ALIKE = 0.005
"""Heights nearer to each other than this, in mm, are made to one figure."""
THICKEST = 50.0
"""No spacer is sought beyond so many mm of deck clearance above the least: no barrel stands on more."""
EQUAL_VOLUMES = Source("solid geometry: volumes set equal", "identity")


def other_spacers(engine: Engine, question: Question, choice: Sequence[int] | None) -> Iterator[Value]:
    """Yield what to buy, where more of the same thicknesses would do better, and what to have made for each head."""
    unstinted = question.unstinted
    if unstinted is not None and unstinted != choice:  # then the drawer lacks some of them
        yield _to_buy(engine, question, unstinted)
    for number, head in enumerate(engine.heads, 1):
        heights = _made(engine, head)
        if heights is None:
            continue
        ratios = [engine.ratio(cylinder, height) for cylinder, height in zip(head, heights, strict=True)]
        words = _stamped(engine, heights[0])
        if max(heights) - min(heights) >= ALIKE:
            each = zip(head, heights, strict=True)
            words = "; ".join(f"{cylinder + 1}: {_stamped(engine, height)}" for cylinder, height in each)
        yield Value(
            key=f"made_{number}",
            label=f"Or to have made, one spacer for each of {named(head, 'barrel')}",
            quantity=f"{words}, for {reached(ratios)} : 1",
            formula="highest and lowest ratio under the head equally far from the one wanted; barrel tops level, "
            "every deck clearance within its limits",
            source=EQUAL_VOLUMES,
            given=(
                ("ratio wanted, to 1", engine.wanted.target),
                ("least deck clearance", engine.wanted.least_deck),
                *((("most deck clearance", engine.wanted.most_deck),) if engine.wanted.most_deck is not None else ()),
            ),
        )


def _to_buy(engine: Engine, question: Question, unstinted: Sequence[int]) -> Value:
    used = Counter(size for stack in unstinted for size in question.stacks[stack].pieces)
    lacking = listed(
        f"{used[size] - engine.spacers[size].pieces} of {engine.spacers[size].stamp} {engine.unit}"
        for size, _ in question.shortages(unstinted)
    )
    ratios = [engine.ratio(cylinder, question.stacks[stack].height) for cylinder, stack in enumerate(unstinted)]
    return Value(
        key="to_buy",
        label="Or to buy, for the best of these thicknesses",
        quantity=f"{lacking} more, for {reached(ratios)} : 1",
        formula="the same choice, as if the drawer held any number of each thickness",
        source=SEARCH,
        given=(("ratio wanted, to 1", engine.wanted.target),),
    )


def _made(engine: Engine, head: Sequence[int]) -> list[float] | None:
    """Return the heights to have made for one head, in mm, or None where its deck clearances allow none."""
    lengths = [engine.cylinders[cylinder].length or 0.0 for cylinder in head]
    gaps = [engine.cylinders[cylinder].gap for cylinder in head]
    height = made_height(
        engine.ratio,
        head,
        lengths,
        engine.wanted.target,
        [engine.least_gap - gap for gap in gaps],
        [min(engine.most_gap, engine.least_gap + THICKEST) - gap for gap in gaps],
    )
    return None if height is None else [height + max(lengths) - length for length in lengths]


def _stamped(engine: Engine, height: float) -> str:
    return f"{figures(height * engine.per_unit, engine.places)} {engine.unit}" if height >= ALIKE else word("none")


def levers(engine: Engine, clearances: Sequence[Any], ratios: Sequence[float], spacers: str) -> Table:
    """Return by how much each chamber must change to be like the largest, and to give the target.

    Parameters
    ----------
    engine : Engine
    clearances : sequence of Quantity, [volume]
        Of the cylinders on their spacers.
    ratios : sequence of float
        Theirs, best estimates.
    spacers : str
        What the spacers are: chosen, nearest, none.
    """
    rooms = [number_in(clearance, "cm³") for clearance in clearances]
    largest = max(rooms, key=best_estimate)
    needed = clearance_for_ratio(engine.swept, engine.wanted.target)
    rows = []
    for number, (room, ratio) in enumerate(zip(rooms, ratios, strict=True), 1):
        to_target = needed - room
        less = -best_estimate(to_target)
        rows.append(
            Row(
                cells=(
                    str(number),
                    ratio,
                    None if room is largest else quantity(largest - room, "cm³"),
                    quantity(to_target, "cm³"),
                    less / engine.per_mm if less > 0 else None,
                )
            )
        )
    return Table(
        key="levers",
        title=f"The other lever, spacers {word(spacers)}: open the chambers, or skim the face",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            Column(key="ratio", label="Ratio on its spacers", places=2),
            Column(key="to_even", label="Open the chamber, to be like the largest", unit="cm³", places=2),
            Column(
                key="to_target", label="For the ratio wanted: open, or with a minus take away", unit="cm³", places=2
            ),
            Column(key="skim", label="Or as a skim of the face, mm", places=2),
        ),
        rows=tuple(rows),
        formula="largest clearance volume − its own; swept volume ÷ (ratio wanted − 1) − clearance volume; "
        "skim = volume to take away ÷ (π ÷ 4 × bore²), where the chamber is as wide as the bore at the face",
        source=EQUAL_VOLUMES,
        given=(("ratio wanted, to 1", engine.wanted.target), ("swept volume", engine.swept_volume)),
        folded=True,
    )
