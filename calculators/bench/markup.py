"""What all our HTML is made with: one set of templates, and what they ask of fields, tables and drawings."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup, escape

from calculators.bench.entries import Entry
from calculators.bench.kinds import Choice, Groups, Measure, Number, Series
from calculators.bench.report import Column, Figure, Table, given_text
from calculators.bench.units import NotANumber, UnknownUnit, all_units, read_number

_TEMPLATES = Path(__file__).with_name("templates")
environment = Environment(
    loader=DictLoader({path.name: path.read_text(encoding="utf-8") for path in sorted(_TEMPLATES.iterdir())}),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
    auto_reload=False,
)
_UNIT_BEHIND = re.compile(
    rf"(?<=\d) (?=(?:{'|'.join(re.escape(unit.symbol) for unit in all_units())}|: 1)(?![^\W\d_]))"
)
_WITHIN_PHRASE = re.compile(r" (?=· )|(?<=[^\W\d_]) (?=\d+\b(?![.,]\d))|(?<=^\d:) (?=\d)|(?<=· \d:) (?=\d)")
"""Before a point between two phrases, before the number of a place, and behind one that begins its phrase."""


def unbroken(text: str) -> str:
    r"""Return a sentence in which no number parts from its unit at the end of a line.

    Examples
    --------
    >>> unbroken("Set 34 N·m (25.1 lbf·ft) in 3 passes.").split(" ")
    ['Set', '34\xa0N·m', '(25.1\xa0lbf·ft)', 'in', '3', 'passes.']
    """
    return _UNIT_BEHIND.sub("\u00a0", text)


def phrased(headline: str) -> str:
    r"""Return a headline that may break between what it says of one place and of the next, and within neither.

    Examples
    --------
    >>> phrased("Out: exhaust 3 · the other 3 in").split(" ")
    ['Out:', 'exhaust\xa03\xa0·', 'the', 'other\xa03\xa0in']
    >>> phrased("1: 0.75 · 2: 0.25 mm").split(" ")
    ['1:\xa00.75\xa0·', '2:\xa00.25\xa0mm']
    """
    return _WITHIN_PHRASE.sub("\u00a0", unbroken(headline))


environment.filters |= {"unbroken": unbroken, "phrased": phrased}
environment.globals |= {
    "option_of": lambda entry, text: _option_of(entry, text),
    "is_choice": lambda entry: isinstance(entry.kind, Choice),
    "inputmode": lambda entry: _inputmode(entry),
    "drawing": lambda figure: _drawing(figure),
    "given_text": given_text,
    "percent": lambda share: f"{100 * share:.0f} %",
    "printed_rows": lambda table, opening: _printed_rows(table, opening),
}


def shown(entry: Entry[Any], text: str | None) -> tuple[str, str | None]:
    """Part ``"34 N·m"`` into what stands in the box and the unit chosen beside it."""
    measure = entry.measure
    if not measure:
        return text or "", None
    if text and isinstance(entry.kind, Measure):
        try:
            read = read_number(text)
        except (NotANumber, UnknownUnit):
            return text, measure.own
        if read.unit in measure.units:
            number = re.sub(r"[^\d.,/\s±+\-−–⁄½⅓⅔¼¾⅛⅜⅝⅞].*$", "", text).strip()
            return number if read_number(number) == replace(read, unit=None) else text, read.unit.symbol
    return text or "", measure.own


def _option_of(entry: Entry[Any], text: str | None) -> str | None:
    """Return the option that a text means, however it is written; what means none, or nothing, as it is."""
    assert isinstance(entry.kind, Choice)  # noqa: S101 (the template asks for choices alone)
    return entry.kind.meant(text) if text else None


def _inputmode(entry: Entry[Any]) -> str:
    if isinstance(entry.kind, Series | Groups) or entry.signed:
        return "text"
    if isinstance(entry.kind, Number) and entry.kind.whole:
        return "numeric"
    return "decimal"


def _drawing(figure: Figure) -> Markup:
    return Markup(figure.svg)  # noqa: S704 (Drawing wrote it, and escaped what it holds)


def _printed_rows(table: Table, opening: Callable[[Column], Markup]) -> Iterator[tuple[bool, Markup]]:
    """Yield each row: whether it is chosen, and its cells; a column's opening tag is written once for all of them."""
    columns = [(str(opening(column)), column.text) for column in table.columns]
    for row in table.rows:
        cells = [f"{tag}{escape(text(cell))}</td>" for (tag, text), cell in zip(columns, row.cells, strict=True)]
        yield row.chosen, Markup("".join(cells))  # noqa: S704 (each text is escaped, each tag is the template's)
