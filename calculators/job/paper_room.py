"""How much of a sheet of paper the handover takes: what does not go onto one goes onto two, each with its head."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from calculators.job.decisions import Decided
from calculators.job.judgements import Judgement, Judgements
from calculators.job.next_checks import Next

ROOM = 65
"""Lines of 9 points on a sheet of Letter, which is the shorter one, and four to spare."""
_WIDE, _HALF = 108, 52
"""Characters in a line across the sheet, and in one of two columns."""
_ROW = 3.3
"""Lines of one thing that was measured, in the table."""
_MAP = 22
"""Lines of a map of nuts in one of two columns."""

_BESIDE, _ALONE = 14, 28
"""Rows of what is next on a sheet that tells of running in and dangers too, and on one that tells of nothing else."""

Job = Mapping[str, Any]


def _lines(texts: Iterable[str], width: int) -> int:
    return sum(math.ceil(len(text) / width) for text in texts if text)


def _said(job: Job, about: Iterable[str], **lists: str) -> list[str]:
    """Return what people wrote: about the job, and in its lists the texts of one key, a day behind each."""
    written = [str(job.get("about", {}).get(key, "")) for key in about]
    listed = [f"{one.get(key, '')} (2026-11-25)" for name, key in lists.items() for one in job.get(name, ())]
    return [*filter(None, written), *listed]


def owner_takes_two(
    job: Job,
    open_points: int,
    finished: int,
    judged: Judgements,
    chosen: Sequence[Decided],
    checks: Sequence[Next],
    speeds: int,
) -> bool:
    """Tell whether the owner's page is two; ``speeds`` are the rows of the table of road speeds."""
    story = _lines(_said(job, ("complaint", "left"), notes="text", parts="name"), _HALF)
    story += 2 * finished + sum(_lines([one.entry["lead"]], _HALF) + 2 for one in chosen) + 8
    good = sum(len(those) for those in judged.good.values())
    measured = _ROW * len(judged.telling) + good + len(judged.unknown) + (6 if judged.of else 0)
    ahead = max(14, 6 + 2 * len(checks))
    return 7 + 2 * open_points + story / 2 + measured + max(9, 5 + speeds) + ahead + 5 > ROOM


def mechanic_takes_two(
    job: Job,
    open_points: int,
    finished: int,
    judged: Judgements,
    answers: Sequence[Decided],
    checks: Sequence[Next],
    told: Mapping[str, Sequence[Judgement]],
    maps: int,
) -> bool:
    """Tell whether the next mechanic's page is two; ``told`` are the judgements that stand for a decision."""
    said = _lines(_said(job, ("complaint", "left"), notes="text", parts="name", tags="part", photographs="caption"), 70)
    decided = _MAP * maps
    for one in answers:
        judgements = told[one.entry["id"]]
        text = one.entry["lead"] if not judgements else "".join("x" * 100 for _ in judgements)
        decided += _lines([text], _HALF) + 3 + 2 * len((*one.stale, *one.changed)) + 2 * bool(one.is_former)
    due = _lines([" ".join(f"{check.what} {check.when:.40}" for check in checks)], _WIDE)
    headed = 14  # the lines of eight headings
    return 5 + headed + 2 * open_points + 2 * len(judged.doubtful) + said + decided / 2 + due + finished > ROOM


def sheets_of_checks[Row](rows: Sequence[Row]) -> list[Sequence[Row]]:
    """Return what is next sheet by sheet; the first is there in any case.

    Examples
    --------
    >>> [len(rows) for rows in sheets_of_checks(range(50))], sheets_of_checks([])
    ([14, 28, 8], [[]])
    """
    return [rows[:_BESIDE], *(rows[at : at + _ALONE] for at in range(_BESIDE, len(rows), _ALONE))]
