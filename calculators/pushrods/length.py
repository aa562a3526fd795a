"""How long the pushrods must be once a head stands further out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import (
    GEOMETRY,
    Answer,
    Caution,
    Column,
    Question,
    ResultTable,
    Row,
    Table,
    TableRow,
    Value,
    Worked,
    length,
    number_in,
    optional,
    quantity,
    shared,
    symbol_of,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.heads import each_under_one_head
from calculators.bench.units import magnitude_in
from calculators.bench.verdict import best_of
from calculators.formulas.pushrod_geometry import span_after
from calculators.pushrods import moved_heads
from calculators.pushrods.moved_heads import COSINES, MAKERS_WIN, each_moves, in_words, moves, named, spoken
from calculators.pushrods.side_drawing import Side, side_drawing

UNLIKE = 0.01
"""Spacers of one head that differ by so many mm are different: the finest step in which spacers are sold (common
practice,
no source)."""
_ENGINE = "The engine"
_PUSHRODS = "engines of this kind"
_OLD_ONES = "The old pushrods are assumed. Type the length of new ones to see what is left to adjust."


class Risen(Row):
    """What lies under one barrel."""

    spacer_height = shared.spacer_height("Spacers fitted now", hint="Total under that barrel; 0 for none.")


@dataclass(frozen=True, slots=True)
class Moved:
    """One head, in mm: its shift, the pushrod that leaves its rockers as they were, how far the fitted one is short."""

    cylinders: tuple[int, ...]
    spacers: Any
    shift: Any
    pushrod: Any
    reach: Any


class Length(Question):
    """Plane geometry of one pushrod and its rocker, which were right before; nothing flexing.

    If spacers under one head differ, uses their mean.
    """

    asks = "How long must the pushrods be with these spacers?"
    tells = "Pushrod length"
    works_out = ("head_shift", "pushrod_reach")

    pushrod_length = length(
        "Pushrod length",
        50,
        600,
        why=_PUSHRODS,
        hint="Of those fitted before, end to end.",
        card=CardFacts.dimensions.pushrod_length.path,
        example="276 mm",
        shared_as="pushrod_length",
        read_by="calliper",
        said="{} before",
    )
    before = shared.spacers_before(said="spacers {} before")
    new_length = optional(
        length(
            "Length of the new pushrods",
            50,
            600,
            why=_PUSHRODS,
            hint="Empty: the old ones go back.",
            shared_as="new_pushrod_length",
            read_by="calliper",
            said="new {}",
        )
    )
    risen = Table(Risen, each="Cylinder {}", most=12, count="cylinders")
    cylinders = shared.cylinders(refines=_ENGINE)
    heads = shared.heads(refines=_ENGINE, said="heads {}")
    other_shift = length(
        "Other change of the head's position",
        -10,
        30,
        why="more means another engine",
        hint="Longer barrels, thicker gaskets: plus. Deeper seats, skimmed faces: minus.",
        usual="0 mm",
        shared_as="other_head_shift",
        refines="What else has moved the head",
        said="{}",
    )
    pushrod_slope = moved_heads.slope()
    length_error = moved_heads.length_error()
    read_to = moved_heads.read_to()

    def answer(self) -> Answer:
        each_under_one_head(self.heads, self.cylinders)
        found = [self._moved(head) for head in self.heads]
        farthest = max(found, key=lambda one: abs(best_of(one.shift)))
        wanted = spoken([best_of(one.pushrod) for one in found])
        moved = each_moves(self.heads, [one.shift for one in found])
        said = f"{moved} Pushrods of {wanted} keep the rockers where they were."
        return Answer(
            headline=wanted,
            says=said if self.new_length is None else f"{said} {_those_fitted(found)}",
            drawing=self._drawing(farthest),
            values=tuple(self._numbers(found)),
            warnings=(
                *_unlike(found, [number_in(row.spacer_height, "mm") for row in self.risen]),
                Caution("notice", f"{MAKERS_WIN} Set the lash again after every change."),
            ),
            tables=(self._table(found),),
            notes=(_OLD_ONES,) if self.new_length is None else (),
            worked=tuple(
                worked
                for row, one in enumerate(found, 1)
                for worked in (
                    Worked(name=f"head_shift.{row}", value=quantity(one.shift, "mm")),
                    Worked(name=f"pushrod_reach.{row}", value=quantity(one.reach, "mm")),
                )
            ),
        )

    def _moved(self, head: tuple[int, ...]) -> Moved:
        heights = [number_in(self.risen[number - 1].spacer_height, "mm") for number in head]
        spacers = sum(heights, start=0.0) / len(head)
        shift = spacers - number_in(self.before, "mm") + number_in(self.other_shift, "mm")
        slope = magnitude_in(self.pushrod_slope, "°")
        old = moved_heads.by_calliper(self.pushrod_length, self.length_error, self.read_to)
        pushrod = span_after(old, slope, shift)
        if self.new_length is None:  # the old pushrod's own error drops out
            reach = span_after(best_of(old), slope, shift) - best_of(old)
        else:
            reach = pushrod - moved_heads.by_calliper(self.new_length, self.length_error, self.read_to)
        return Moved(head, spacers, shift, pushrod, reach)

    def _numbers(self, found: Sequence[Moved]) -> Iterator[Value]:
        for row, one in enumerate(found, 1):
            yield Value(
                key=f"pushrod_{row}",
                label=f"Pushrod that keeps the rocker where it was, at {named(one.cylinders)}",
                quantity=quantity(one.pushrod, "mm"),
                units=("mm", "in"),
                formula="√(length² + 2 × length × shift × cos slope + shift²)",
                source=COSINES,
                given=(("length", self.pushrod_length), ("slope", self.pushrod_slope)),
            )
            yield Value(
                key=f"shift_{row}",
                label=f"Head over {named(one.cylinders)} moves out",
                quantity=quantity(one.shift, "mm"),
                units=tuple(dict.fromkeys((symbol_of(self.before), "thou"))),
                formula="mean of the spacers under its barrels − spacers before + other change",
                source=GEOMETRY,
                given=(
                    ("spacers now", quantity(one.spacers, "mm")),
                    ("before", self.before),
                    ("other change", self.other_shift),
                ),
            )
        for row, one in enumerate(found, 1) if self.new_length is not None else ():
            yield Value(
                key=f"short_{row}",
                label=f"The new ones are shorter by, at {named(one.cylinders)}",
                quantity=quantity(one.reach, "mm"),
                units=("mm", "thou"),
                formula="pushrod that keeps the rocker where it was − new one; one calliper's error cancels",
                source=COSINES,
                given=(("new one", self.new_length),),
            )

    def _drawing(self, farthest: Moved) -> Any:
        return side_drawing(
            Side(
                cylinder=farthest.cylinders[0],
                what="Pushrod",
                shift=best_of(farthest.shift),
                spacers=(best_of(number_in(self.before, "mm")), best_of(farthest.spacers)),
                words=(in_words(number_in(self.pushrod_length, "mm"), 1), in_words(farthest.pushrod, 1)),
                shift_words=moves(farthest.shift),
            )
        )

    def _table(self, found: Sequence[Moved]) -> ResultTable:
        return ResultTable(
            key="pushrods",
            title="Head by head",
            columns=(
                Column(key="head", label="Head over"),
                Column(key="shift", label="Moves out", unit="mm"),
                Column(key="pushrod", label="Pushrod wanted", unit="mm", strong=True),
                Column(key="reach", label="The fitted one is short by", unit="mm"),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        named(one.cylinders),
                        quantity(one.shift, "mm"),
                        quantity(one.pushrod, "mm"),
                        quantity(one.reach, "mm"),
                    )
                )
                for one in found
            ),
            formula="√(length² + 2 × length × shift × cos slope + shift²); short by = pushrod wanted − pushrod fitted",
            source=COSINES,
            given=(
                ("pushrod fitted", self.pushrod_length if self.new_length is None else self.new_length),
                ("slope", self.pushrod_slope),
            ),
        )


def _those_fitted(found: Sequence[Moved]) -> str:
    told = []
    for one in found:
        reach = best_of(one.reach)
        side = "right" if abs(reach) < 0.005 else f"{in_words(abs(reach))} {'short' if reach > 0 else 'long'}"
        told.append(f"{side} at {named(one.cylinders)}")
    return f"The new ones are {'; '.join(told)}."


def _unlike(found: Sequence[Moved], heights: Sequence[Any]) -> Iterator[Caution]:
    for one in found:
        under = [best_of(heights[number - 1]) for number in one.cylinders]
        if max(under) - min(under) >= UNLIKE - 1e-9:
            yield Caution(
                "notice",
                f"Under {named(one.cylinders)} are different spacers; their mean is used. Unless they make up for "
                "unequal barrels, the head is pulled down crooked: it leaks and cracks. Measure the barrels' "
                "tops first.",
            )
