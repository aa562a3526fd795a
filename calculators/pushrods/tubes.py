"""Whether the pushrod tubes still seal once a head stands further out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import (
    DECISION,
    Answer,
    Caution,
    Column,
    Entry,
    FieldError,
    InputErrors,
    Lacking,
    Quantity,
    Question,
    ResultTable,
    Table,
    TableRow,
    Value,
    choice,
    length,
    number_in,
    optional,
    printed,
    quantity,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.units import figures, magnitude_in
from calculators.bench.verdict import best_of, verdict_on
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.pushrod_geometry import span_after
from calculators.pushrods import moved_heads
from calculators.pushrods.moved_heads import COSINES, MAKERS_WIN, in_words, moves, named, spoken
from calculators.pushrods.side_drawing import Side, side_drawing


def _crush(label: str, example: str, fact: Entry[Any], hint: str = "") -> Entry[Quantity]:
    return length(
        f"{label} crush of the seals",
        0,
        20,
        why="seals of such tubes",
        exact=True,
        hint=hint,
        card=fact.path,
        example=example,
        shared_as=fact.key,
        said=f"{label.lower()} {{}}",
    )


@dataclass(frozen=True, slots=True)
class Spanned:
    """The tubes of one head: its shift, how far apart their seats stand, and the crush of their seals, in mm."""

    cylinders: tuple[int, ...]
    shift: Any
    seats: Any
    crush: Any
    verdict: Verdict | None


class Tubes(Question):
    """Plane geometry; tubes slope like their pushrods.

    Assumes that the distance between the seats was right before. Seals that have set, or a bent tube, seal less than
    their crush suggests.
    """

    asks = "Do the pushrod tubes still seal?"
    tells = "Seal of the pushrod tubes"

    tube_kind = choice(
        "Kind of tube",
        {"fixed": "Fixed length, seals crushed", "set": "Stretched to length"},
        usual="fixed",
        shared_as="tube_kind",
        said="{}",
    )
    tube_free_length = optional(
        card_entry(
            CardFacts.dimensions.tube_free_length,
            "Free length of a tube",
            hint="With its seals on, out of the engine. Empty: a tube that is stretched to length.",
            example="203 mm",
            shared_as="tube_free_length",
            read_by="calliper",
            said="{} long",
        )
    )
    seat_distance = card_entry(
        CardFacts.dimensions.tube_seat_distance,
        "Distance between the tube's seats",
        hint="Before the change, head tightened down.",
        example="201 mm",
        shared_as="tube_seat_distance",
        read_by="calliper",
        said="seats {} apart before",
    )
    least_crush = _crush(
        "Least", "0.5 mm", CardFacts.dimensions.tube_least_crush, "Both ends together, from the seals' maker."
    )
    most_crush = _crush("Most", "2.5 mm", CardFacts.dimensions.tube_most_crush)
    heads = moved_heads.heads()
    shifted = Table(moved_heads.Shifted, each="Head {}", most=12, count="heads", refines=moved_heads.THE_HEADS)
    pushrod_slope = moved_heads.slope()
    length_error = moved_heads.length_error()
    read_to = moved_heads.read_to()

    def answer(self) -> Answer:
        least, most = magnitude_in(self.least_crush, "mm"), magnitude_in(self.most_crush, "mm")
        if most < least:
            message = f"Most crush of the seals must be no less than the least, {printed(self.least_crush, 'mm')}"
            raise InputErrors(FieldError("most_crush", message))
        if self.tube_free_length is None and self.tube_kind == "fixed":
            raise Lacking(FieldError("tube_free_length", "Enter the free length of a tube, in millimetres"))
        found = self._spanned(least, most)
        farthest = max(found, key=lambda one: abs(best_of(one.shift)))
        headline, said = self._told(found, (least, most))
        return Answer(
            headline=headline,
            says=said,
            drawing=side_drawing(
                Side(
                    cylinder=farthest.cylinders[0],
                    what="Tube",
                    shift=best_of(farthest.shift),
                    spacers=(0.0, max(best_of(farthest.shift), 0.0)),
                    words=(in_words(number_in(self.seat_distance, "mm"), 1), in_words(farthest.seats, 1)),
                    shift_words=moves(farthest.shift),
                )
            ),
            values=tuple(self._numbers(found, (least, most))),
            warnings=_warnings(found),
            tables=(self._table(found, (least, most)),),
            notes=(MAKERS_WIN,),
        )

    def _spanned(self, least: float, most: float) -> list[Spanned]:
        slope = magnitude_in(self.pushrod_slope, "°")
        before = moved_heads.by_calliper(self.seat_distance, self.length_error, self.read_to, "inside calliper")
        tube = None
        if self.tube_free_length is not None and self.tube_kind == "fixed":
            tube = moved_heads.by_calliper(self.tube_free_length, self.length_error, self.read_to)
        found = []
        for head, row in zip(self.heads, self.shifted, strict=True):
            shift = number_in(row.shift, "mm")
            seats = span_after(before, slope, shift)
            crush = None if tube is None else tube - seats
            verdict = None if crush is None else verdict_on(crush, least, most)
            found.append(Spanned(head, shift, seats, crush, verdict))
        return found

    def _told(self, found: Sequence[Spanned], band: tuple[float, float]) -> tuple[str, str]:
        """Return the headline, and the same as a sentence."""
        least, most = band
        if self.tube_kind == "set":
            lengths = spoken([best_of(one.seats) + (least + most) / 2 for one in found])
            return f"Stretch them to {lengths}", f"Stretch the tubes to {lengths} before they go in."
        crushed = spoken([best_of(one.crush) for one in found])
        wrong = [one for one in found if one.verdict == "out"]
        if not wrong and any(one.verdict != "in" for one in found):
            return f"Too close to call: crush {crushed}", "Whether the tubes fit is too close to call."
        if not wrong:
            return f"Yes: seals crushed {crushed}", f"The tubes fit: their seals are crushed {crushed}."
        worst = max(wrong, key=lambda one: abs(best_of(one.crush) - (least + most) / 2))
        side = "short" if best_of(worst.crush) < least else "long"
        ends = f"{figures(best_of(worst.seats) + least, 1)} to {in_words(worst.seats + most, 1)}"
        return (
            f"Too {side}: {ends} fits",
            f"The tubes are too {side}: at {named(worst.cylinders)} they must be {ends}.",
        )

    def _numbers(self, found: Sequence[Spanned], band: tuple[float, float]) -> Iterator[Value]:
        middle = sum(band) / 2
        for row, one in enumerate(found, 1):
            at = f", {named(one.cylinders)}"
            parts = [
                (
                    "seats",
                    "Seats stand apart",
                    one.seats,
                    "√(before² + 2 × before × shift × cos slope + shift²)",
                    COSINES,
                )
            ]
            if one.crush is None:
                told = "seats apart + middle of least and most crush"
                parts.append(("stretch", "Stretch each tube to", one.seats + middle, told, COSINES))
            else:
                told = "free length − seats apart"
                parts.append(("crush", "Crush of this tube's seals", one.crush, told, DECISION))
            yield from [
                Value(
                    key=f"{key}_{row}",
                    label=f"{label}{at}",
                    quantity=quantity(number, "mm"),
                    units=("mm", "in") if key != "crush" else ("mm",),
                    formula=formula,
                    source=source,
                    given=(
                        ("seats before", self.seat_distance),
                        ("shift", quantity(one.shift, "mm")),
                        ("slope", self.pushrod_slope),
                    ),
                )
                for key, label, number, formula, source in parts
            ]

    def _table(self, found: Sequence[Spanned], band: tuple[float, float]) -> ResultTable:
        least, most = band
        columns: tuple[Column, ...] = (Column(key="length", label="Stretch each tube to", unit="mm", strong=True),)
        cells: list[tuple[Any, ...]] = [(quantity(one.seats + (least + most) / 2, "mm"),) for one in found]
        if self.tube_kind == "fixed":
            columns = (
                Column(key="crush", label="Crush of this tube's seals", unit="mm", strong=True),
                Column(key="verdict", label="Within the crush?"),
                Column(key="shortest", label="Shortest that fits", unit="mm"),
                Column(key="longest", label="Longest that fits", unit="mm"),
            )
            cells = [
                (
                    quantity(one.crush, "mm"),
                    one.verdict,
                    quantity(one.seats + least, "mm"),
                    quantity(one.seats + most, "mm"),
                )
                for one in found
            ]
        return ResultTable(
            key="tubes",
            title="Head by head",
            columns=(
                Column(key="head", label="Head over"),
                Column(key="seats", label="Seats stand apart", unit="mm"),
                *columns,
            ),
            rows=tuple(
                TableRow(cells=(named(one.cylinders), quantity(one.seats, "mm"), *rest), chosen=one.verdict == "out")
                for one, rest in zip(found, cells, strict=True)
            ),
            formula="crush = free length − seats apart; fits: seats apart + least crush to seats apart + most crush; "
            "to stretch to: their middle; in or out only if all of the ± is",
            source=DECISION,
            given=(("least crush", self.least_crush), ("most crush", self.most_crush)),
        )


def _warnings(found: Sequence[Spanned]) -> tuple[Caution, ...]:
    if all(one.verdict in (None, "in") for one in found):
        return ()
    return (
        Caution(
            "warning",
            "A tube that is not held tight drips oil on the hot exhaust: it smokes and can catch fire. A tube crushed "
            "too much buckles or splits its seals. Fit tubes of the right length.",
        ),
    )
