"""Whether the adjusters take up what a moved head, or another pushrod, asks of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, cast

from calculators.bench import (
    DECISION,
    Answer,
    Caution,
    Column,
    Entry,
    Quantity,
    Question,
    ResultTable,
    Table,
    TableRow,
    Value,
    length,
    magnitude_in,
    number_in,
    quantity,
    shared,
)
from calculators.bench.verdict import best_of, verdict_on
from calculators.formulas.adjuster_screw import Place, leverage
from calculators.formulas.decision_rule import Verdict
from calculators.pushrods import moved_heads
from calculators.pushrods.moved_heads import LEVER, in_words, named
from calculators.pushrods.screw_drawing import screw_travel


def _travel(label: str, shared_as: str, example: str, hint: str) -> Entry[Quantity]:
    return length(
        f"Adjuster travel left, {label}",
        0,
        30,
        why="no rocker screw has more",
        hint=hint,
        example=example,
        shared_as=shared_as,
        said=f"{{}} {label}",
    )


@dataclass(frozen=True, slots=True)
class Adjusted:
    """The adjusters of one head, lengths in mm: how far they follow, go in, and what is left the way they went."""

    cylinders: tuple[int, ...]
    reach: Any
    goes_in: Any
    left: Any

    @property
    def verdict(self) -> Verdict:
        return verdict_on(self.left, 0.0)


class Adjusters(Question):
    """For a straight rocker with arms square to pushrod and valve, nothing flexing."""

    asks = "Have the adjusters enough travel?"
    tells = "Travel of the adjusters"

    rocker_ratio = shared.rocker_ratio()
    adjuster_end = shared.adjuster_end(said="{}")
    travel_in = _travel(
        "screwing in",
        "adjuster_travel_in",
        "3.5 mm",
        "At the old lash: how far the screw can still go in, towards pushrod or valve.",
    )
    travel_out = _travel(
        "screwing out", "adjuster_travel_out", "2 mm", "At the old lash: how far it can still come back."
    )
    heads = moved_heads.heads()
    reaching = Table(moved_heads.Reaching, each="Head {}", most=12, count="heads", refines=moved_heads.THE_HEADS)
    length_error = moved_heads.length_error()
    read_to = moved_heads.read_to()

    def answer(self) -> Answer:
        found = self._adjusted()
        least = min(found, key=lambda one: best_of(one.left))
        out = [one for one in found if one.verdict == "out"]
        close = [one for one in found if one.verdict == "too close to call"]
        return Answer(
            headline=_headline(least, out, close),
            says=_said(found, out, close),
            drawing=screw_travel(
                magnitude_in(self.travel_in, "mm"),
                magnitude_in(self.travel_out, "mm"),
                best_of(least.goes_in),
            ),
            values=tuple(self._numbers(least)),
            warnings=tuple(_warnings(found)),
            tables=(self._table(found),),
            notes=(_NOTES[self.adjuster_end],),
        )

    def _adjusted(self) -> list[Adjusted]:
        travel_in, travel_out = (
            moved_heads.by_calliper(travel, self.length_error, self.read_to, "depth gauge of the adjuster")
            for travel in (self.travel_in, self.travel_out)
        )
        lever = leverage(cast(Place, self.adjuster_end), self.rocker_ratio)
        found = []
        for head, row in zip(self.heads, self.reaching, strict=True):
            reach = number_in(row.reach, "mm")
            goes_in = reach * self.rocker_ratio / lever
            left = travel_in - goes_in if best_of(goes_in) >= 0 else travel_out + goes_in
            found.append(Adjusted(head, reach, goes_in, left))
        return found

    def _numbers(self, least: Adjusted) -> list[Value]:
        at = f"at {named(least.cylinders)}"
        given = (("reach at the pushrod", quantity(least.reach, "mm")), ("rocker ratio", self.rocker_ratio))
        return [
            Value(
                key=key,
                label=f"{label}, {at}",
                quantity=quantity(number, "mm"),
                units=("mm", "thou"),
                formula=formula,
                source=source,
                given=given,
            )
            for key, label, number, formula, source in (
                (
                    "left",
                    "Travel left the way it goes",
                    least.left,
                    "travel left − how far it goes; enough if all of it, ± included, is above 0",
                    DECISION,
                ),
                (
                    "goes_in",
                    "Adjuster goes in",
                    least.goes_in,
                    "by the reach at the pushrod end, by reach × rocker ratio at the valve end, by reach × ratio ÷ "
                    "(1 + ratio) as a nut on the pivot; a minus means out",
                    LEVER,
                ),
                (
                    "lash_change",
                    "Lash opens at the valves, until it is set",
                    least.reach * self.rocker_ratio,
                    "reach at the pushrod × rocker ratio; a minus closes it",
                    LEVER,
                ),
            )
        ]

    def _table(self, found: Sequence[Adjusted]) -> ResultTable:
        return ResultTable(
            key="adjusters",
            title="Head by head",
            columns=(
                Column(key="head", label="Head over"),
                Column(key="lash", label="Lash opens", unit="mm"),
                Column(key="goes_in", label="Adjuster goes in", unit="mm"),
                Column(key="left", label="Travel left", unit="mm", strong=True),
                Column(key="verdict", label="Adjuster"),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        named(one.cylinders),
                        quantity(one.reach * self.rocker_ratio, "mm"),
                        quantity(one.goes_in, "mm"),
                        quantity(one.left, "mm"),
                        one.verdict,
                    ),
                    chosen=one.verdict == "out",
                )
                for one in found
            ),
            formula="the adjuster goes in by the reach at the pushrod end, by reach × rocker ratio at the valve end, "
            "by reach × ratio ÷ (1 + ratio) as a nut on the pivot; in: some travel is left, ± counted",
            source=DECISION,
            given=(
                ("rocker ratio", self.rocker_ratio),
                ("travel in", self.travel_in),
                ("travel out", self.travel_out),
            ),
        )


_NOTES = {
    "pushrod": "Once the lash is set, the valve end of the rocker is where it was; the adjuster's end reaches further.",
    "valve": "Once the lash is set the rocker itself leans, and its valve end touches another part of the stem.",
    "pivot": "Once the lash is set, the rocker's pivot has taken up part of it, and the rocker leans by the rest.",
}


def _headline(least: Adjusted, out: Sequence[Adjusted], close: Sequence[Adjusted]) -> str:
    left = in_words(least.left)
    if out:
        return f"No: {in_words(-best_of(least.left))} of thread short"
    return f"Too close to call: {left} of thread left" if close else f"Yes: {left} of thread left"


def _said(found: Sequence[Adjusted], out: Sequence[Adjusted], close: Sequence[Adjusted]) -> str:
    if out:
        worst = max(out, key=lambda one: abs(best_of(one.reach)))
        where = f" at {named(worst.cylinders)}" if len(found) > 1 else ""
        side = "longer" if best_of(worst.reach) > 0 else "shorter"
        by = in_words(abs(best_of(worst.reach)))
        return f"The adjusters cannot take it up; pushrods {by} {side} would{where}."
    if close:
        return "Whether the adjusters can take it up is too close to call."
    return "The adjusters can take it up."


def _warnings(found: Sequence[Adjusted]) -> Iterator[Caution]:
    if any(best_of(one.reach) < 0 for one in found):
        yield Caution(
            "notice",
            "The lash closes. A valve held off its seat burns, and can hit the piston. Slacken every adjuster "
            "before the head goes on, set the lash again, and turn the crank twice by hand.",
        )
    if any(one.verdict != "in" for one in found):
        yield Caution(
            "notice",
            "An adjuster at the end of its thread strips it or comes loose. Fit pushrods of the right length "
            "(common practice, no source).",
        )
    yield Caution(
        "notice",
        f"{moved_heads.MAKERS_WIN} Set the lash again after every change, and look at the wear mark on each valve "
        "stem: it belongs near the middle (common practice, no source).",
    )
