"""What a test tries over and over: how often, of what kind, and what went wrong."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator

import pytest

TOLD = "attempts"
"""Under this name a test's report has its kinds, each with attempts and failures."""
SHOWN = 5
_PROPERTY = re.compile(r"(\d+) passing.*?(\d+) failing")  # as Hypothesis says of each phase of a test


class Attempts:
    """Counts on where one goes wrong; what went wrong fails the test at its end."""

    def __init__(self) -> None:
        self.kinds: dict[str, list[int]] = {}
        self.wrong: list[str] = []

    def count(self, kind: str, *wrong: str) -> None:
        """Count one attempt, and say what went wrong with it."""
        made = self.kinds.setdefault(kind, [0, 0])
        made[0] += 1
        made[1] += bool(wrong)
        self.wrong += [f"{kind}: {one}" for one in wrong]

    def __str__(self) -> str:
        return "; ".join(f"{kind}: {made}, {wrong} wrong" for kind, (made, wrong) in self.kinds.items())


def summary(reports: Iterable[pytest.TestReport]) -> Iterator[str]:
    """Yield a line for each kind of attempt: properties by their room, and what tests count themselves."""
    made: Counter[str] = Counter()
    wrong: Counter[str] = Counter()
    for report in reports:
        if report.when != "teardown":
            continue
        room = "/".join(report.nodeid.split("/")[:2])
        for passing, failing in _PROPERTY.findall(getattr(report, "_hypothesis_stats", "")):
            made[f"properties of {room}"] += int(passing) + int(failing)
            wrong[f"properties of {room}"] += int(failing)
        for name, kinds in report.user_properties:
            for kind, (attempts, failures) in kinds.items() if name == TOLD else ():  # type: ignore[attr-defined]
                made[kind] += attempts
                wrong[kind] += failures
    if made:
        yield f"{'attempts and failures by kind':60} {'attempts':>12} {'failures':>9}"
        yield from (f"{kind:60} {made[kind]:>12,} {wrong[kind]:>9,}" for kind in sorted(made))
