"""Oil pressure at each speed: the least, what was read, the verdict; as a table and as a drawing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import DECISION, Column, Figure, ResultTable, TableRow, printed, quantity
from calculators.bench.drawing import Drawing, width_about
from calculators.bench.units import unit
from calculators.bench.verdict import best_of, expanded_of, verdict_on
from calculators.formulas.decision_rule import Verdict

_VERDICT_WORDS: dict[Verdict, str] = {
    "in": "enough",
    "out": "too low",
    "too close to call": "too close to call with this gauge",
}


@dataclass(frozen=True, slots=True)
class At:
    """One speed: what it is called, the least pressure and the one read, both in bar, None where none was read."""

    place: str
    least: float
    read: Any

    @property
    def verdict(self) -> Verdict | None:
        return None if self.read is None else verdict_on(self.read, low=self.least)


def pressure_table(rows: Sequence[At], symbol: str) -> ResultTable:
    """Return each speed with its verdict, pressures in the unit that the maker's figure was typed in."""
    finer = unit(symbol).places + 1
    return ResultTable(
        key="pressure",
        title="Oil pressure, hot",
        columns=(
            Column(key="where", label="At"),
            Column(key="least", label="Least", unit=symbol, places=finer),
            Column(key="read", label="Read", unit=symbol, places=finer, strong=True),
            Column(key="verdict", label="Verdict", wide=True),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    at.place,
                    quantity(at.least, "bar"),
                    None if at.read is None else quantity(at.read, "bar"),
                    _VERDICT_WORDS[at.verdict] if at.verdict else "not read",
                ),
                chosen=at.verdict in ("out", "too close to call"),
            )
            for at in rows
        ),
        formula="enough: reading − U reaches the least; too low: reading + U stays below it",
        source=DECISION,
    )


def pressure_scales(rows: Sequence[At], symbol: str) -> Figure:
    """Draw a scale of pressure for each speed, with what is too low shaded and what was read as a dot."""
    most = 1.25 * max(value for at in rows for value in (at.least, best_of(at.read) if at.read is not None else 0.0))
    left, right = max(92.0, 10 + max(width_about(at.place) for at in rows)), 328.0
    per_bar = (right - left) / most
    drawing = Drawing(340, 46 * len(rows) + 6)
    told = []
    for row, at in enumerate(rows):
        y = 30 + 46 * row
        edge = left + per_bar * at.least
        least = printed(quantity(at.least, "bar"), symbol)
        drawing.text(6, y, at.place, "number", anchor="start")
        drawing.rectangle(left, y - 9, edge - left, 18, "band")
        drawing.line(left, y, right, y, "thin")
        drawing.line(edge, y - 12, edge, y + 12, "arrow")
        drawing.text(edge, y - 20, least)
        words = f"{at.place} least {least}"
        if at.read is not None:
            middle, half = left + per_bar * best_of(at.read), per_bar * expanded_of(at.read)
            drawing.line(max(left, middle - half), y, min(right, middle + half), y, "arrow")
            drawing.circle(middle, y, 6, "chosen")
            words += f", read {printed(quantity(best_of(at.read), 'bar'), symbol)}"
        told.append(words)
    return Figure(
        key="pressures",
        title="Oil pressure, hot; shaded: too low; dot: read",
        svg=drawing.svg(f"Least oil pressure at each speed: {'; '.join(told)}."),
    )
