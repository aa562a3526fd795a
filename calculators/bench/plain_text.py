"""A table of an answer as plain text, for the command line."""

from __future__ import annotations

from collections.abc import Callable

from calculators.bench.report import Table


def table_lines(table: Table, shown: Callable[[str], str] = str) -> list[str]:
    """Return a table's grid as lines; a star stands before the row that is the answer."""
    grid = [[shown(column.label) for column in table.columns]]
    grid += [
        [shown(column.text(cell)) for column, cell in zip(table.columns, row.cells, strict=True)] for row in table.rows
    ]
    marks = [" ", *("*" if row.chosen else " " for row in table.rows)]
    widths = [max(map(len, column)) for column in zip(*grid, strict=True)]
    return [
        f"{mark} {'  '.join(f'{cell:{width}}' for cell, width in zip(row, widths, strict=True))}".rstrip()
        for mark, row in zip(marks, grid, strict=True)
    ]
