"""What a question answers: a headline, a drawing, values, warnings, steps, and the working behind them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, overload

from uncertainties import UFloat

from calculators.bench.report import (
    Attachment,
    Caution,
    Check,
    Clock,
    Figure,
    Finding,
    Table,
    Value,
    Walk,
)

LONGEST_HEADLINE = 60
"""Characters: what is read at two metres."""
PLUS_MINUS = (
    "The true value lies within the ± about 95 times in 100 (k = 2, more after few readings). An error limit of ± 1 "
    "alone comes out as ± 1.15: any error within it is taken as equally likely."
)
"""What ± means (JCGM 100:2008, 4.3.7, 6.2 and G.4.1): the last note of an answer in which one is printed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Worked:
    """A value that other questions take for their entry, as it is: nothing is printed and read back.

    Parameters
    ----------
    name : str
        One of the question's ``works_out``; ``chamber.2`` for the second row of a table.
    value : Quantity, number, str or tuple
    """

    name: str
    value: Any


def _has_plus_minus(value: Any) -> bool:
    if isinstance(value, str):
        return "±" in value
    return isinstance(getattr(value, "magnitude", value), UFloat)


@dataclass(frozen=True, kw_only=True, slots=True)
class ForCard:
    """Things in rows that were typed, as the reader's own card could take them.

    Parameters
    ----------
    beside : str
        The key of the entry below which they are offered.
    path : str
        Of the card's table.
    called : str
        ``8 stud places``.
    rows : tuple of tuple of str
        A text for each of its columns.
    """

    beside: str
    path: str
    called: str
    rows: tuple[tuple[str, ...], ...]


class Late[T](Sequence[T]):
    """What is made once somebody looks at it; a question that only hands on a value is not looked at."""

    __slots__ = ("_made", "_make")

    def __init__(self, make: Callable[[], Iterable[T]]) -> None:
        self._make = make
        self._made: tuple[T, ...] | None = None

    def _all(self) -> tuple[T, ...]:
        if self._made is None:
            self._made = tuple(self._make())
        return self._made

    def __len__(self) -> int:
        return len(self._all())

    @overload
    def __getitem__(self, place: int) -> T: ...
    @overload
    def __getitem__(self, place: slice) -> tuple[T, ...]: ...
    def __getitem__(self, place: int | slice) -> T | tuple[T, ...]:
        return self._all()[place]

    def __iter__(self) -> Iterator[T]:
        return iter(self._all())


@dataclass(frozen=True, kw_only=True, slots=True)
class Answer:
    """A whole answer.

    Parameters
    ----------
    headline : str
        The number or the order itself, short enough to be read at two metres.
    says : str
        The same as a sentence, for who listens and for the job sheet.
    record : str
        Where ``says`` gives an order: the same as a figure, for the owner. Whether it was done, the ticks say.
    drawing : Figure, optional
        The one that shows the answer.
    values : sequence of Value
        Each with its formula and source.
    warnings : sequence of Caution
        What applies to what was typed; notices fold to a count on the page.
    steps : Walk or tuple of Walk
        What is to be done, in order; where it is done more than once (two heads), a walk for each.
    tables, figures : sequence
        What lies behind the answer, folded; ``Late``, where it is dear and others go on with what is worked out.
    findings : tuple of Finding
        What was measured, beside its limits: the owner's page says whether it is good.
    clocks : tuple of Clock
        What is waited for; offered where the answer is the reader's own.
    worked : tuple of Worked
        What other questions go on with.
    for_card : tuple of ForCard
        What was typed in rows, and the reader's card has a table for.
    """

    headline: str
    says: str
    record: str = ""
    drawing: Figure | None = None
    values: Sequence[Value] = ()
    warnings: Sequence[Caution] = ()
    steps: Walk | tuple[Walk, ...] = ()
    tables: Sequence[Table] = ()
    figures: Sequence[Figure] = ()
    attachments: tuple[Attachment, ...] = ()
    checks: tuple[Check, ...] = ()
    findings: tuple[Finding, ...] = ()
    clocks: tuple[Clock, ...] = ()
    notes: Sequence[str] = ()
    worked: tuple[Worked, ...] = ()
    for_card: tuple[ForCard, ...] = ()

    def __post_init__(self) -> None:
        if not self.headline or len(self.headline) > LONGEST_HEADLINE:
            raise ValueError(f"a headline has 1 to {LONGEST_HEADLINE} characters: {self.headline!r}")

    @property
    def every_note(self) -> Sequence[str]:
        """The notes, and behind them what ± means where one is printed."""
        return (*self.notes, PLUS_MINUS) if any(map(_has_plus_minus, self._printed())) else self.notes

    def _printed(self) -> Iterator[Any]:
        for value in self.values:
            yield value.quantity
            yield from (put_in for _, put_in in value.given)
        for table in self.tables:
            yield from (put_in for _, put_in in table.given)
            yield from (cell for row in table.rows for cell in row.cells)

    @property
    def walks(self) -> tuple[Walk, ...]:
        return (self.steps,) if isinstance(self.steps, Walk) else self.steps

    def value(self, key: str) -> Value | None:
        """Return one of the values by its key, for a page that quotes it."""
        return next((value for value in self.values if value.key == key), None)

    def as_data(self) -> dict[str, Any]:
        """Return the answer as plain data, unrounded, for ``run --json``."""
        return {
            "headline": self.headline,
            "says": self.says,
            "values": [value.as_data() for value in self.values],
            "tables": [table.as_data() for table in self.tables],
            "steps": [walk.as_data() for walk in self.walks],
            "warnings": [{"signal": caution.signal, "text": caution.text} for caution in self.warnings],
            "notes": list(self.every_note),
        }


@dataclass(frozen=True)
class WorkedFirst:
    """What a question works out, and the rest of its answer, made once somebody looks at it.

    For a dear question that others ask for what it works out: they do not wait for its words and drawings.

    Parameters
    ----------
    worked : tuple of Worked
        All of the answer's own; whatever may not be typed together has been refused by then.
    tell : function
        Returns the answer, without ``worked``.
    """

    worked: tuple[Worked, ...]
    tell: Callable[[], Answer]

    @cached_property
    def answer(self) -> Answer:
        """The whole answer."""
        return replace(self.tell(), worked=self.worked)
