"""How the rockers stand once the lash is set, and how far their ends wander."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, cast

from calculators.bench import (
    Answer,
    Caution,
    Column,
    FieldError,
    InputErrors,
    Question,
    ResultTable,
    Table,
    TableRow,
    Value,
    angle,
    magnitude_in,
    number_in,
    quantity,
    shared,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.units import figures, printed
from calculators.bench.verdict import best_of
from calculators.formulas.adjuster_screw import Place, leverage
from calculators.formulas.pushrod_geometry import off_square, sweep, swing
from calculators.pushrods import moved_heads
from calculators.pushrods.moved_heads import LEVER, in_words, named
from calculators.pushrods.rocker_drawing import Rocker, rocker_drawing

_FOLLOWS = {"pushrod": "reach", "valve": "reach", "pivot": "(reach − what the pivot went in)"}
_WANDERS = {"pushrod": "the adjuster's end", "valve": "the adjuster's end", "pivot": "the valve's end"}


@dataclass(frozen=True, slots=True)
class Standing:
    """The rockers of one head: reach in mm, degrees off square at half lift, wander over one lift in mm."""

    cylinders: tuple[int, ...]
    reach: Any
    leans: float
    wander: Any


class Rockers(Question):
    """For a straight rocker with the lash set, nothing flexing, and the same lift as before.

    More than about ten degrees off square, the end scrapes rather than rolls: look at the wear mark.
    """

    asks = "At what angle are the rockers now?"
    tells = "Angle of the rockers"

    rocker_ratio = shared.rocker_ratio()
    adjuster_end = shared.adjuster_end(said="{}")
    rocker_arm = card_entry(
        CardFacts.dimensions.rocker_pushrod_arm,
        "Rocker arm at the pushrod",
        exact=True,
        hint="From the middle of the shaft to the pushrod's end.",
        example="24 mm",
        shared_as="rocker_pushrod_arm",
        said="arm {}",
    )
    valve_lift = card_entry(
        CardFacts.dimensions.valve_lift,
        "Valve lift",
        exact=True,
        example="8.2 mm",
        shared_as="valve_lift",
        said="lift {}",
    )
    off_square = angle(
        "Rocker off square at half lift",
        -30,
        30,
        why="no rocker works at a larger angle",
        exact=True,
        hint="Before the change; plus if the adjuster's end reached too far, 0 if it was right.",
        usual="0°",
        shared_as="rocker_off_square",
        said="{} off square before",
    )
    heads = moved_heads.heads()
    reaching = Table(moved_heads.Reaching, each="Head {}", most=12, count="heads", refines=moved_heads.THE_HEADS)

    def answer(self) -> Answer:
        before, turned = magnitude_in(self.off_square, "°"), self._swing()
        found = self._standing(before, turned)
        farthest = max(found, key=lambda one: abs(one.leans - before))
        wandered = sweep(self._arm, before, turned)
        leans = f"{figures(farthest.leans, 1)}°"
        square = "the pushrod" if self.adjuster_end == "pushrod" else "the valve stem"
        at = f" at {named(farthest.cylinders)}" if len(found) > 1 else ""
        return Answer(
            headline=f"{leans} off square, {figures(before, 1)}° before",
            says=f"At half lift the rockers stand {leans} off square to {square}{at}, {figures(before, 1)}° before; "
            f"{_WANDERS[self.adjuster_end]} wanders {in_words(farthest.wander)} over one lift, {in_words(wandered)} "
            "before.",
            drawing=rocker_drawing(
                Rocker(self.adjuster_end, self.rocker_ratio, (before, farthest.leans), best_of(farthest.reach))
            ),
            values=tuple(self._numbers(farthest, before, turned)),
            warnings=(
                Caution(
                    "notice",
                    "Look at the wear mark on each valve stem: it belongs near the middle (common practice, no "
                    "source).",
                ),
            ),
            tables=(self._table(found),),
            notes=(
                "The end wanders least if the arm is square at half lift.",
                "A pushrod that keeps the rocker where it was avoids all of this.",
            ),
        )

    @property
    def _arm(self) -> float:
        """Arm in mm whose end wanders."""
        return magnitude_in(self.rocker_arm, "mm") * (1 if self.adjuster_end == "pushrod" else self.rocker_ratio)

    def _swing(self) -> Any:
        valve_arm = magnitude_in(self.rocker_arm, "mm") * self.rocker_ratio
        turned = swing(number_in(self.valve_lift, "mm"), valve_arm)
        if turned is None:
            most = printed(quantity(2 * valve_arm, "mm"), "mm")
            message = f"Valve lift must be at most {most}, twice the rocker's arm at the valve"
            raise InputErrors(FieldError("valve_lift", message))
        return turned

    def _standing(self, before: float, turned: Any) -> list[Standing]:
        lever = leverage(cast(Place, self.adjuster_end), self.rocker_ratio)
        found = []
        for head, row in zip(self.heads, self.reaching, strict=True):
            reach = number_in(row.reach, "mm")
            taken = best_of(reach) * self.rocker_ratio / lever if self.adjuster_end == "pivot" else 0.0
            leans = off_square(before, best_of(reach) - taken, magnitude_in(self.rocker_arm, "mm"))
            if leans is None:
                most = in_words(abs(best_of(reach)))
                message = (
                    f"Rocker arm at the pushrod is too short: at {named(head)} it would have to reach {most}. "
                    "Check spacers and pushrods, or fit pushrods of the right length"
                )
                raise InputErrors(FieldError("rocker_arm", message))
            found.append(Standing(head, reach, leans, sweep(self._arm, leans, turned)))
        return found

    def _numbers(self, farthest: Standing, before: float, turned: Any) -> Iterator[Value]:
        at = f"at {named(farthest.cylinders)}"
        square = "pushrod" if self.adjuster_end == "pushrod" else "valve stem"
        yield Value(
            key="off_square",
            label=f"Rocker off square at half lift, {at}",
            quantity=quantity(farthest.leans, "°"),
            places=1,
            formula=f"arcsin(sin before + {_FOLLOWS[self.adjuster_end]} ÷ rocker arm); 0 is square to the {square}",
            source=LEVER,
            given=(
                ("before", f"{figures(before, 1)}°"),
                ("reach at the pushrod", quantity(farthest.reach, "mm")),
                ("rocker arm", self.rocker_arm),
            ),
        )
        yield Value(
            key="swing",
            label="The rocker swings over one lift",
            quantity=quantity(turned, "°"),
            places=1,
            formula="2 × arcsin(valve lift ÷ (2 × rocker arm at the valve))",
            source=LEVER,
            given=(("valve lift", self.valve_lift), ("rocker arm", self.rocker_arm), ("ratio", self.rocker_ratio)),
        )
        yield from [
            Value(
                key=f"wander_{when}",
                label=f"Wander of {_WANDERS[self.adjuster_end]} over one lift, {when}",
                quantity=quantity(sweep(self._arm, leans, turned), "mm"),
                units=("mm", "thou"),
                formula="arm × (greatest − least cosine of its angle off square)",
                source=LEVER,
                given=(
                    ("arm", quantity(self._arm, "mm")),
                    ("off square", f"{figures(leans, 1)}°"),
                    ("swing", f"{figures(best_of(turned), 1)}°"),
                ),
            )
            for when, leans in (("before", before), ("after", farthest.leans))
        ]

    def _table(self, found: Sequence[Standing]) -> ResultTable:
        return ResultTable(
            key="rockers",
            title="Head by head",
            columns=(
                Column(key="head", label="Head over"),
                Column(key="reach", label="Reach at the pushrod", unit="mm"),
                Column(key="off_square", label="Off square", unit="°", places=1, strong=True),
                Column(key="wander", label="Wander", unit="mm"),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        named(one.cylinders),
                        quantity(one.reach, "mm"),
                        quantity(one.leans, "°"),
                        quantity(one.wander, "mm"),
                    )
                )
                for one in found
            ),
            formula="off square = arcsin(sin before + reach ÷ rocker arm); wander = arm × (greatest − least cosine)",
            source=LEVER,
        )
