"""Fits with their working: the worst of each kind as a value, and all of them part by part."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from calculators.bench import DECISION, Column, ResultTable, TableRow, Value, quantity
from calculators.bench.report import Given
from calculators.bench.words import listed, word
from calculators.fits.fit import Fit, Kind, by_part, worst_of_each, worst_verdict


def values(fits: Sequence[Fit]) -> tuple[Value, ...]:
    """Return the worst of each kind with its working."""
    return tuple(
        Value(
            key=fit.kind.key,
            label=f"{fit.part.name[0].upper()}{fit.part.name[1:]}: {fit.kind.noun}",
            quantity=quantity(fit.number, "mm"),
            places=3,
            formula=fit.kind.formula,
            source=fit.kind.source,
            given=(*fit.given, *_limits_given(fit.kind)),
        )
        for fit in worst_of_each(fits)
    )


def _limits_given(kind: Kind) -> Given:
    bounds = (("least allowed", kind.low), ("greatest allowed", kind.high))
    return tuple((name, quantity(limit, "mm")) for name, limit in bounds if limit is not None)


def table(fits: Sequence[Fit], heading: str) -> ResultTable:
    """Return part by part what was found, under the limits that all parts have in common."""
    kinds = {fit.kind.noun: fit.kind for fit in fits}
    rows = [
        TableRow(
            cells=(
                part.name[0].upper() + part.name[1:],
                *(_cell(its, noun) for noun in kinds),
                _told(its),
            ),
            chosen=worst_verdict(its) == "out",
        )
        for part, its in by_part(fits).items()
    ]
    return ResultTable(
        key="parts",
        title=f"{heading}, one by one, in mm",
        columns=(
            Column(key="part", label="Part"),
            *(Column(key=kind.key, label=kind.label, places=3) for kind in kinds.values()),
            Column(key="verdict", label="Verdict", wide=True),
        ),
        rows=tuple(rows),
        formula="in or out only if all of the reading, ± included, is; else too close to call. "
        + "; ".join(f"{kind.noun}: {kind.formula}" for kind in kinds.values()),
        source=DECISION,
    )


def _cell(fits: Iterable[Fit], noun: str) -> Any:
    return next((fit.number for fit in fits if fit.kind.noun == noun), None)


def _told(fits: Sequence[Fit]) -> str:
    told = []
    for verdict in ("out", "too close to call"):
        its = [fit for fit in fits if fit.verdict == verdict]
        told += [f"{word(verdict)}: {listed(f'{fit.kind.noun}, {fit.kind.bounds}' for fit in its)}"] if its else []
    unjudged = [fit.kind.noun for fit in fits if fit.verdict is None]
    if not told and len(unjudged) < len(fits):
        told = [word("in")]
    if unjudged:
        told.append(f"no limit: {listed(unjudged)}")
    return "; ".join(told)
