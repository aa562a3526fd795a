"""A list typed for a column, parted into cells; and how long a text may be that is read and remembered."""

from __future__ import annotations

from typing import Any

from calculators.bench.entries import Entry
from calculators.bench.kinds import Series, is_one_number, split_line, unit_of_list
from calculators.bench.units import NotANumber, UnknownUnit, read_number

LONGEST_ENTRY = 2000
"""Characters that a box takes, and the job's schema too: what can be typed can be exported and taken in again."""
KEPT = 2048
"""So many texts that were read are remembered: between two keys, all but one stay as they were."""


def cells_of(entry: Entry[Any], text: str, most: int) -> list[str]:
    """Split a list typed for a column; an empty place between two semicolons is an empty cell.

    The first cell's unit, or one typed once behind the last, is put behind each that has none,
    unless there are more cells than rows and the list is refused anyhow.
    """
    if not text.strip():
        return []
    lines = isinstance(entry.kind, Series)  # each cell is a line itself: 49.5 49.6; 48.1 48.2
    if is_one_number(entry.kind, text):
        return [text.strip()]
    cells = [cell.strip() for cell in text.split(";")] if lines or ";" in text else split_line(text)
    filled = [cell for cell in cells if cell]
    if not entry.measure or not filled or len(cells) > most:
        return cells
    # of lines only the first counts: a unit at the end of the last is that line's own
    shared = _unit_of_line(filled[0]) if lines else unit_of_list(filled)
    if shared is None:
        return cells
    return [f"{cell} {shared}" if _bare(cell) else cell for cell in cells]


_LONG = 500
"""Characters; a cell beyond is a paste gone wrong, and refused elsewhere."""


def _unit_of_line(line: str) -> str | None:
    return unit_of_list(split_line(line)) if len(line) <= _LONG else None


def _bare(cell: str) -> bool:
    """Tell whether a cell has numbers and no unit."""
    try:
        return 0 < len(cell) <= _LONG and not any(read_number(part).unit for part in split_line(cell))
    except (NotANumber, UnknownUnit):
        return False
