"""How even the chambers are, and what is to come out of the smaller ones."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators.bench import (
    DECISION,
    Answer,
    Caution,
    Column,
    FieldError,
    Finding,
    FoundPart,
    InputErrors,
    Question,
    ResultTable,
    Row,
    Source,
    Table,
    TableRow,
    Value,
    expanded,
    magnitude_in,
    optional,
    quantity,
    read_by_instrument,
    shared,
)
from calculators.bench.instruments import Expanded
from calculators.bench.units import figures, printed
from calculators.bench.verdict import verdict_on
from calculators.formulas.decision_rule import Verdict
from calculators.measuring.drawings import bowls

DIFFERENCE = Source("JCGM 100:2008 (GUM), 5.2.2 and G.4.1: the error of one burette cancels in a difference")
LEAST_OUT = 0.05
"""Less than this many cm³ is not worth grinding (common practice, no source)."""
_WORDS = {"in": "allowed", "out": "too far apart", "too close to call": "too close to call"}
CHIPS = Caution(
    "warning",
    "Grinding throws chips and dust into eyes and lungs. Wear goggles and a dust mask, clamp the head, and keep "
    "sleeves and gloves away from the spinning burr.",
)
ROOF_ALONE = Caution(
    "notice",
    "Grind only the roof, never the seats or the sealing face, and only where the wall is thick enough. Each cm³ "
    "lowers that cylinder's ratio. Fill again after every pass.",
)


class Chamber(Row):
    """What one chamber holds."""

    chamber = shared.chamber()


class Even(Question):
    """From the volumes alone: metal can only be removed, so every chamber is brought up to the largest.

    Does not ask whether the wall allows it.
    """

    asks = "How even are the chambers?"
    tells = "Evenness of the chambers"
    judges = True

    cylinders = shared.cylinders()
    may_differ = optional(shared.may_differ())
    chambers = Table(Chamber, each="Cylinder {}", most=12, count="cylinders")
    burette_error = shared.burette_error()
    burette_read_to = shared.burette_read_to()
    volumes_from = shared.volumes_from()

    def answer(self) -> Answer:
        if len(self.chambers) < 2:
            raise InputErrors(FieldError("cylinders", "Number of cylinders must be 2 or more, to compare chambers"))
        volumes = read_by_instrument(
            [of.chamber for of in self.chambers],
            "cm³",
            instrument="burette",
            limit=self.burette_error,
            read_to=self.burette_read_to,
            one=self.volumes_from == "one",
        )
        best = [expanded(volume).best for volume in volumes]
        largest, smallest = best.index(max(best)), best.index(min(best))
        apart = expanded(volumes[largest] - volumes[smallest])
        verdict = self._verdict(apart)
        out = [expanded(volumes[largest] - volume) for volume in volumes]
        texts = tuple(figures(one.best, 2) if one.best >= LEAST_OUT else "" for one in out)
        difference = printed(quantity(apart.value, "cm³"), "cm³", 2)
        most = max(one.best for one in out) or 1.0
        return Answer(
            headline=f"{difference} apart" + (f": {_WORDS[verdict]}" if verdict else ""),
            says=f"The chambers differ by {difference}{self._so(verdict)}.",
            drawing=bowls(tuple(figures(one, 2) for one in best), texts, tuple(one.best / most for one in out), "cm³"),
            values=tuple(self._shown(apart, verdict, largest, smallest)),
            warnings=tuple(self._warnings(verdict)),
            tables=(_table(volumes, out, largest),),
            findings=(
                Finding(
                    key="even",
                    what="difference between the chambers",
                    parts=(FoundPart("", quantity(apart.value, "cm³"), verdict),),
                    units=("cm³", "in³"),
                    high=self.may_differ,
                    limits=("may_differ",),
                ),
            ),
        )

    def _verdict(self, apart: Expanded) -> Verdict | None:
        if self.may_differ is None:
            return None
        return verdict_on(apart.value, high=magnitude_in(self.may_differ, "cm³"))

    def _so(self, verdict: Verdict | None) -> str:
        if verdict is None or self.may_differ is None:
            return ""
        allowed = printed(self.may_differ, "cm³", 2)
        return {
            "in": f": {allowed} is allowed",
            "out": f", more than the {allowed} allowed",
            "too close to call": f", too close to the {allowed} allowed to call",
        }[verdict]

    def _shown(self, apart: Expanded, verdict: Verdict | None, largest: int, smallest: int) -> Iterator[Value]:
        yield Value(
            key="difference",
            label="Largest chamber less the smallest",
            quantity=quantity(apart.value, "cm³"),
            units=("cm³", "in³"),
            formula="largest − smallest; errors of burette and temperature are the same for both and cancel",
            source=DIFFERENCE,
            given=(
                ("largest", f"cylinder {largest + 1}"),
                ("smallest", f"cylinder {smallest + 1}"),
                *apart.certainty("cm³"),
            ),
        )
        if verdict is not None:
            yield Value(
                key="verdict",
                label="Against the difference allowed",
                quantity=verdict,
                formula="in: difference + U is within the limit; out: difference − U is above it; else too close to "
                "call",
                source=DECISION,
                given=(("allowed", self.may_differ),),
            )

    def _warnings(self, verdict: Verdict | None) -> Iterator[Caution]:
        if verdict == "out":
            yield CHIPS
            yield ROOF_ALONE
        if verdict == "too close to call":
            yield Caution(
                "notice",
                "The difference between the chambers is too close to what is allowed to call. "
                "Fill the largest and the smallest again, with a finer burette if you have one.",
            )


def _table(volumes: tuple[Any, ...], out: list[Expanded], largest: int) -> ResultTable:
    return ResultTable(
        key="take_out",
        title="What to take out of each to match the largest",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            Column(key="volume", label="Holds", unit="cm³", places=2),
            Column(key="out", label="Take out", unit="cm³", places=2, strong=True),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    str(row + 1),
                    quantity(expanded(volume).value, "cm³"),
                    None if row == largest else quantity(more.value, "cm³"),
                )
            )
            for row, (volume, more) in enumerate(zip(volumes, out, strict=True))
        ),
        formula="largest chamber − its own; the burette's own error cancels in its ±",
        source=DIFFERENCE,
    )
