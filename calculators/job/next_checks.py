"""What is to be looked at next, the soonest first, each with when in words that the owner can act on."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from markupsafe import Markup

from calculators.bench.dates import days_meant
from calculators.bench.words import word

_DISTANCE = re.compile(r"(\d[\d\s.,'’]*)\s*(km|kilomet|mi)?", re.IGNORECASE)
_LINE = 90
"""Characters that go into a line of the owner's table."""
_DECIMALS = re.compile(r"[.,]\d{1,2}$")
KM_IN_A_MILE = 1.609344
"""The international mile (NIST SP 811, 2008, Appendix B.8)."""


@dataclass(frozen=True, slots=True)
class Next:
    """One check: when, what, and whether its day was past when the job was last written."""

    when: Markup
    what: str
    is_past: bool

    @property
    def label(self) -> str:
        """Return what it is called: ``First oil change``."""
        return self.what.partition(": ")[0]

    @property
    def short(self) -> str:
        """Return it in a line for the owner: what is long is the workshop's list."""
        return self.what.rstrip(".") if len(self.what) <= _LINE else self.label

    @property
    def deed(self) -> str:
        """Return what is done then, where that is said."""
        return self.what.partition(": ")[2]


def next_checks(job: Mapping[str, Any], unit: str) -> tuple[Next, ...]:
    """Return the checks of a job, by date; one without a date comes before those that are due at a greater distance.

    Parameters
    ----------
    job : mapping
        As the schema has it.
    unit : str
        In which the odometer counts, ``km`` or ``miles``, where a distance names none.
    """
    checks: list[Mapping[str, Any]] = []
    for check in sorted(job.get("checks", ()), key=lambda check: (_day(check) or date.max, _distance(check, unit))):
        further = (at for at, one in enumerate(checks) if _distance(check, unit) < _distance(one, unit) < math.inf)
        checks.insert(len(checks) if _day(check) else next(further, len(checks)), check)
    written = date.fromisoformat(job["changed"][:10])
    return tuple(
        Next(_when(check, unit), str(check.get("what", "")), (day := _day(check)) is not None and day < written)
        for check in checks
    )


def _day(check: Mapping[str, Any]) -> date | None:
    """Return the day on which a check is due, the sooner one where a text can mean two; None for no date."""
    return min(days_meant(str(check.get("due", ""))) or (), default=None)


def _distance(check: Mapping[str, Any], unit: str) -> float:
    """Return at how many kilometres of the odometer a check is due; infinite where it is not said."""
    found = _DISTANCE.search(str(check.get("distance", "")))
    if not found:
        return math.inf
    number = float(re.sub(r"\D", "", _DECIMALS.sub("", found[1].strip())))
    return number * KM_IN_A_MILE if (found[2] or unit).lower().startswith("mi") else number


def _when(check: Mapping[str, Any], unit: str) -> Markup:
    due, distance = str(check.get("due", "")).strip(), str(check.get("distance", "")).strip()
    if distance and not any(letter.isalpha() for letter in distance):
        distance = f"{distance} {word(unit)}"
    by = Markup("by {}").format(due) if days_meant(due) else Markup("{}").format(due)
    shown = Markup('<span data-locale="as-is">{}</span>').format(distance)
    if due and distance:
        return by + " or at " + shown
    return (
        by
        if due
        else "when the odometer shows " + shown
        if distance
        else Markup("no date was set: ask the workshop when")
    )
