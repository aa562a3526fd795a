"""Old springs against a new one: what they have lost in length and load."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import (
    DECISION,
    Answer,
    Caution,
    Column,
    FieldError,
    Finding,
    FoundPart,
    Lacking,
    Question,
    ResultTable,
    Row,
    Table,
    TableRow,
    Value,
    length,
    magnitude_in,
    measure,
    number_in,
    optional,
    quantity,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.units import figures, plain
from calculators.bench.verdict import best_of, verdict_on
from calculators.bench.words import listed
from calculators.formulas.decision_rule import Verdict
from calculators.springs import one_spring, readings
from calculators.springs.loads import ALL_ALIKE, FLIES, MAKERS_WIN
from calculators.springs.old_drawing import Beside, beside_a_new_one

_ALLOWED = "What is allowed of an old spring"
_WORSE: tuple[Verdict, ...] = ("in", "too close to call", "out")
_KEPT = {"in": "keep", "out": "replace", "too close to call": "too close to call"}


class Old(Row):
    """One old spring as found."""

    old_free = optional(
        one_spring.height(
            "Free length found", shared_as="old_spring_free", read_by="calliper", example="47.4; 46.9; 46.0; 47.2"
        )
    )
    old_load = optional(
        one_spring.load(
            "Load found", shared_as="old_spring_load", read_by="spring_tester", example="262 N; 248; 221; 259"
        )
    )


@dataclass(frozen=True, slots=True)
class Found:
    """One old spring with its verdicts, None on what was not measured."""

    number: int
    free: Any
    load: Any
    of_free: Verdict | None
    of_load: Verdict | None

    @property
    def worst(self) -> Verdict:
        return max((verdict for verdict in (self.of_free, self.of_load) if verdict), key=_WORSE.index)


class OldSprings(Question):
    """From its free length, its load at the fitted length, or both, compared with a new spring of its kind.

    Does not see cracks, rust or lean: look for them first.
    """

    asks = "Is this old spring still good?"
    tells = "Old valve springs"
    judges = True

    found = Table(
        Old,
        each="Old spring {}",
        most=24,
        hint="For the outer spring; load at the fitted length. Either will do.",
    )
    free_length = optional(one_spring.free_length(hint="Of a new one."))
    new_load = optional(
        one_spring.load(
            "Load of a new one at the fitted length",
            hint="Of the outer spring alone. Worked out from the new spring, or the maker's figure.",
            card=CardFacts.springs.seat_load.path,
            stands_in=True,
            shared_as="spring_seat_load.1",
            said="new {}",
        )
    )
    loss_of_load = measure(
        "Allowed loss of load",
        "%",
        1,
        50,
        why="a limit of wear",
        exact=True,
        usual="10 %",
        shared_as="spring_loss_of_load",
        refines=_ALLOWED,
        said="{} of the load",
    )
    loss_of_length = length(
        "Allowed loss of free length",
        0.1,
        20,
        why="a limit of wear",
        exact=True,
        usual="1 mm",
        shared_as="spring_loss_of_length",
        refines=_ALLOWED,
        said="{} of the length",
    )
    rate = optional(
        one_spring.rate(
            hint="Shows what an error in the tester's length is worth. Empty: that length is sure.",
            refines=readings.READINGS,
        )
    )
    length_error = readings.length_error()
    length_scatter = readings.length_scatter()
    stop_error = readings.stop_error()
    load_error = readings.load_error()
    load_scatter = readings.load_scatter()

    def answer(self) -> Answer:
        least_free, least_load = self._least()
        found = self._found(least_free, least_load)
        bad = [one.number for one in found if one.worst == "out"]
        close = [one.number for one in found if one.worst == "too close to call"]
        good = [one.number for one in found if one.worst == "in"]
        return Answer(
            headline=_headline(len(found), bad, close),
            says=_said(good, bad, close),
            drawing=beside_a_new_one(
                [self._drawn(one, least_free) for one in found], magnitude_in(self.loss_of_length, "mm")
            ),
            values=self._numbers(least_free, least_load),
            warnings=(
                FLIES,
                *(
                    (
                        Caution(
                            "notice",
                            f"Old spring {listed(bad)}: too weak or too short. A weak spring lets its valve float and "
                            "its pushrod jump; replace the springs of all valves together.",
                        ),
                    )
                    if bad
                    else ()
                ),
                *(
                    (
                        Caution(
                            "notice", f"Old spring {listed(close)}: measure again with a finer gauge, or replace it."
                        ),
                    )
                    if close
                    else ()
                ),
            ),
            tables=(self._table(found, least_free, least_load),),
            findings=tuple(_findings(found, least_free, least_load)),
            notes=(ALL_ALIKE, MAKERS_WIN, "A crack, rust pits or a leaning top fail a spring whatever its load."),
        )

    def _least(self) -> tuple[Any, Any]:
        """Return the least free length in mm and the least load in N; None where a new one is not known so far."""
        free = load = None
        if self.free_length is not None:
            errors = self.length_error, self.length_scatter
            free = readings.by_calliper(self.free_length, "Free length", *errors)
            free -= magnitude_in(self.loss_of_length, "mm")
        if self.new_load is not None:
            load = number_in(self.new_load, "N") * (1 - magnitude_in(self.loss_of_load, "%") / 100)
        return free, load

    def _found(self, least_free: Any, least_load: Any) -> tuple[Found, ...]:
        if all(row.old_free is None and row.old_load is None for row in self.found):
            raise Lacking(FieldError("old_free.1", "Enter the free length found or the load, one row a spring"))
        needed = (
            ("free_length", "old_free", least_free, "Enter the free length of a new one, in millimetres"),
            ("new_load", "old_load", least_load, "Enter the load of a new one at the fitted length, in newtons"),
        )
        lacking = [
            FieldError(key, message)
            for key, _, least, message in needed
            if least is None
            and any((row.old_free if key == "free_length" else row.old_load) is not None for row in self.found)
        ]
        if lacking:
            raise Lacking(*lacking)
        at = 0.0
        if self.rate is not None:
            pressed = readings.by_stop(quantity(1.0, "mm"), self.stop_error) - 1.0
            at = number_in(self.rate, "N/mm") * pressed
        found, empty = [], []
        for number, row in enumerate(self.found, 1):
            free = load = None
            of_free = of_load = None
            if row.old_free is not None:
                name = f"Free length found of old spring {number}"
                free = readings.by_calliper(row.old_free, name, self.length_error, self.length_scatter)
                of_free = verdict_on(free - least_free, low=0.0)
            if row.old_load is not None:
                name = f"Load found of old spring {number}"
                load = readings.by_tester(row.old_load, name, self.load_error, self.load_scatter) + at
                of_load = verdict_on(load - least_load, low=0.0)
            if of_free or of_load:
                found.append(Found(number, free, load, of_free, of_load))
            else:
                empty.append(
                    FieldError(f"old_free.{number}", f"Enter the free length or the load of old spring {number}")
                )
        if empty:
            raise Lacking(*empty)
        return tuple(found)

    def _drawn(self, one: Found, least_free: Any) -> Beside:
        lost = None if one.free is None else best_of(least_free) - best_of(one.free)
        loss = None if lost is None else lost + magnitude_in(self.loss_of_length, "mm")
        told = [] if one.free is None else [f"{figures(best_of(one.free), 1)} mm"]
        told += [] if one.load is None else [f"{figures(best_of(one.load), 0)} N"]
        return Beside(one.number, loss, " · ".join(told), _KEPT[one.worst])

    def _numbers(self, least_free: Any, least_load: Any) -> tuple[Value, ...]:
        values = []
        if least_free is not None:
            values.append(
                Value(
                    key="least_free",
                    label="Least free length",
                    quantity=quantity(least_free, "mm"),
                    units=("mm", "in"),
                    formula="free length of a new one − allowed loss",
                    source=DECISION,
                    given=(("free length", self.free_length), ("allowed loss", self.loss_of_length)),
                )
            )
        if least_load is not None:
            values.append(
                Value(
                    key="least_load",
                    label="Least load at the fitted length",
                    quantity=quantity(least_load, "N"),
                    units=("N", "lbf"),
                    formula="load of a new one × (1 − allowed loss)",
                    source=DECISION,
                    given=(("new one", self.new_load), ("allowed loss", self.loss_of_load)),
                )
            )
        return tuple(values)

    def _table(self, found: Sequence[Found], least_free: Any, least_load: Any) -> ResultTable:
        full = None if self.new_load is None else number_in(self.new_load, "N")
        return ResultTable(
            key="old",
            title="Spring by spring",
            columns=(
                Column(key="spring", label="Old spring"),
                Column(key="free", label="Free length", unit="mm", places=1),
                Column(key="load", label="Load", unit="N"),
                Column(key="change", label="Compared with new", unit="%", places=0),
                Column(key="verdict", label="Verdict", strong=True),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        one.number,
                        None if one.free is None else quantity(one.free, "mm"),
                        None if one.load is None else quantity(one.load, "N"),
                        None if one.load is None else quantity(100 * (one.load / full - 1), "%"),
                        _KEPT[one.worst],
                    ),
                    chosen=one.worst == "out",
                )
                for one in found
            ),
            formula="keep: length and load, with all their uncertainty and the new spring's, are above the least ones; "
            "replace: one of them is wholly below",
            source=DECISION,
            given=(
                *((("least load", quantity(least_load, "N")),) if least_load is not None else ()),
                *((("least free length", quantity(least_free, "mm")),) if least_free is not None else ()),
            ),
        )


def _findings(found: Sequence[Found], least_free: Any, least_load: Any) -> Iterator[Finding]:
    for key, what, units, least, limits, parts in (
        (
            "free",
            "free length of the old springs",
            ("mm", "in"),
            least_free,
            ("free_length", "loss_of_length"),
            [(one.number, one.free, one.of_free) for one in found],
        ),
        (
            "load",
            "load of the old springs",
            ("N", "lbf"),
            least_load,
            ("new_load", "loss_of_load"),
            [(one.number, one.load, one.of_load) for one in found],
        ),
    ):
        if any(verdict for _, _, verdict in parts):
            yield Finding(
                key=key,
                what=what,
                parts=tuple(
                    FoundPart(f"spring {number}", quantity(size, units[0]), verdict)
                    for number, size, verdict in parts
                    if verdict
                ),
                units=units,
                low=quantity(best_of(least), units[0]),
                limits=limits,
            )


def _headline(count: int, bad: Sequence[int], close: Sequence[int]) -> str:
    if count == 1:
        return {(1, 0): "Replace it", (0, 1): "Too close to call"}.get((len(bad), len(close)), "Keep it")
    if not bad and not close:
        return f"Keep all {count}"
    if len(bad) == count:
        return f"Replace all {count}"
    words = []
    if bad:
        words.append(f"replace {listed(bad)}" if len(bad) <= 8 else f"replace {plain(len(bad))} of {count}")
    if close:
        words.append(f"{listed(close)} too close" if len(close) <= 6 else f"{len(close)} too close")
    told = "; ".join(words)
    return told[0].upper() + told[1:]


def _said(good: Sequence[int], bad: Sequence[int], close: Sequence[int]) -> str:
    parts = [
        f"{deed} {listed(numbers)}"
        for deed, numbers in (("replace", bad), ("keep", good), ("too close to call:", close))
        if numbers
    ]
    told = "; ".join(parts)
    return f"Of the old springs {told}."
