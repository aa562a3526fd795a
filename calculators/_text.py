"""A report and a form as plain text, for the command line and for paper without a browser."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from calculators._report import Report, Table


def report_text(title: str, report: Report, shown: Callable[[str], str] = str) -> str:
    """Return a report as lines of text, with the same rounding as the page.

    Parameters
    ----------
    shown : callable
        Gives a text as the terminal shows it, for the width of its column.
    """
    lines = [title, "=" * len(title), "", report.lead, ""]
    lines += [f"{caution.signal.upper()}: {caution.text}" for caution in report.cautions]
    lines += [""] if report.cautions else []
    labels = [shown(value.label) for value in report.values]
    width = max(map(len, labels), default=0)
    lines += [f"{label:{width}}  {' = '.join(value.texts)}" for label, value in zip(labels, report.values, strict=True)]
    for table in report.tables:
        lines += ["", table.title, "-" * len(table.title), *table_lines(table, shown)]
    lines += ["", *report.notes] if report.notes else []
    return "\n".join(lines)


def understood_text(said: Mapping[str, str]) -> str:
    """Return what typed texts were taken for, as lines to stand below a report; nothing where all says itself."""
    if not said:
        return ""
    title = "What was typed is taken for"
    width = max(map(len, said))
    return "\n".join(["", "", title, "-" * len(title), *(f"{key:{width}}  {words}" for key, words in said.items())])


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


def described_text(title: str, purpose: str, fields: list[dict[str, Any]]) -> str:
    """Return a form's fields as lines of text."""
    lines = [title, purpose, ""]
    for field in fields:
        each = f", one each {field['each']}" if field["each"] else ""
        lines.append(f"{field['key']}: {field['label']} ({field['kind']}{each})")
        if field["help"]:
            lines.append(f"    {field['help']}")
        if field["units"]:
            lines.append(f"    units: {', '.join(field['units'])}")
        if field["limits"]:
            lines.append("    from {low} to {high}: {why}".format(**field["limits"]))
        if field["options"]:
            lines.append(f"    one of: {', '.join(field['options'])}")
        known = field["default"] or field["example"]
        if known:
            lines.append(f"    {'default' if field['default'] else 'for example'}: {known}")
        if not field["required"]:
            lines.append("    may be left empty")
    return "\n".join(lines)
