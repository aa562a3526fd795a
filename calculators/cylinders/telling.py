"""Turns of phrase and steps that the questions about cylinders share."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

from calculators.bench import Attachment, Stage, Step
from calculators.bench.words import listed

_MOST_NAMED = 3
"""More cylinders than these are counted in a headline, not named."""
BEFORE = Stage(
    title="Before",
    steps=(
        Step(
            key="warm",
            label="Warm",
            words="Warm the engine on the road or in the open, then stop it.",
            large="Warm, then stop",
        ),
        Step(
            key="dead",
            label="Spark off, fuel off",
            words="Disconnect the coil so that it cannot fire, close the fuel, and take all plugs out.",
            large="Coil off, fuel off",
        ),
    ),
)


def counted(numbers: Sequence[int]) -> str:
    """Return "2 and 4", or where they are many "7 cylinders".

    Examples
    --------
    >>> counted([2, 4]), counted([1, 2, 3, 4, 5, 6, 7])
    ('2 and 4', '7 cylinders')
    """
    return listed(numbers) if len(numbers) <= _MOST_NAMED else f"{len(numbers)} cylinders"


def together(before: str, after: str) -> str:
    """Return the headline of two that may each be empty, before the job and after it.

    Examples
    --------
    >>> together("Low: 2", "after: good"), together("", "after: good")
    ('Low: 2; after: good', 'After: good')
    """
    told = "; ".join(filter(None, (before, after)))
    return told[0].upper() + told[1:]


def sentences_of(suspects: Mapping[int, str]) -> Iterable[str]:
    """Yield what the cylinders point to, those of one suspect in one sentence."""
    grouped: dict[str, list[int]] = {}
    for number, suspect in suspects.items():
        if suspect not in ("nothing", "not tested"):
            grouped.setdefault(suspect, []).append(number)
    for suspect, numbers in grouped.items():
        yield f"Cylinder{'s' if len(numbers) > 1 else ''} {listed(numbers)}: {suspect}."


def each(key: str, title: str, numbers: Sequence[int], words: str) -> Stage:
    """Return one deed for each cylinder."""
    return Stage(
        title=title,
        steps=tuple(
            Step(
                key=f"{key}_{number}",
                label=str(number),
                words=words.replace("{}", str(number)),
                large=f"{title.partition(',')[0]} · {number}",
            )
            for number in numbers
        ),
    )


def sheet(name: str, headings: Sequence[str], rows: Iterable[Sequence[object]]) -> Attachment:
    """Return readings as a table for a spreadsheet."""
    page = io.StringIO()
    lines = csv.writer(page, lineterminator="\r\n")
    lines.writerow(headings)
    lines.writerows(rows)
    return Attachment(name=name, title="Readings as a table", media_type="text/csv", text=page.getvalue())
