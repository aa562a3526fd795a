"""A calculator as HTML: the form, the worked example, and each live answer, by one set of templates."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup, escape

from calculators._catalogue import Calculator
from calculators._engine_card import EngineCard
from calculators._errors import FieldError, InputErrors
from calculators._form import Field, Rows
from calculators._kinds import Choice, Date, Groups, Measure, Number, Series
from calculators._report import Column, Figure, Report, Table, given_text
from calculators._understood import all_understood
from calculators._units import NotANumber, UnknownUnit, all_units, read_number

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


def unbroken(text: str) -> str:
    r"""Return a sentence in which no number parts from its unit at the end of a line.

    Examples
    --------
    >>> unbroken("Set 34 N·m (25.1 lbf·ft) in 3 passes.").split(" ")
    ['Set', '34\xa0N·m', '(25.1\xa0lbf·ft)', 'in', '3', 'passes.']
    """
    return _UNIT_BEHIND.sub("\u00a0", text)


environment.filters["unbroken"] = unbroken
environment.globals |= {
    "is_rows": lambda section: isinstance(section, Rows),
    "option_of": lambda field, text: _option_of(field, text),
    "is_list": lambda field: isinstance(field.kind, Series | Groups),
    "is_date": lambda field: isinstance(field.kind, Date),
    "is_choice": lambda field: isinstance(field.kind, Choice),
    "unit_choices": lambda field: _unit_choices(field),
    "shown": lambda field, text: shown(field, text),
    "inputmode": lambda field: _inputmode(field),
    "drawing": lambda figure: _drawing(figure),
    "given_text": given_text,
    "percent": lambda share: f"{100 * share:.0f} %",
    "printed_rows": lambda table, opening: _printed_rows(table, opening),
}
_FORM = environment.get_template("form.html")
_ROWS = environment.get_template("rows.html")
_ANSWER = environment.get_template("answer.html")
_ERRORS = environment.get_template("errors.html")
_CALCULATOR = environment.get_template("calculator.html")


def calculator_html(
    chosen: Calculator, card: EngineCard | None, prefix: str, presets: Mapping[str, str] | None = None
) -> str:
    """Return the whole custom element: form filled in, and the answer to just that.

    Parameters
    ----------
    chosen : Calculator
    card : EngineCard, optional
        Fills the fields that name one of its facts.
    prefix : str
        What the ids in this element begin with; its own on each page.
    presets : mapping of str to str, optional
        Texts by field key that the page sets.

    Raises
    ------
    InputErrors
        The presets do not make an example that can be answered.
    """
    typed = chosen.form.prefilled(card, presets, example=True)
    report = chosen.answer(typed, card)
    return _CALCULATOR.render(
        calculator=chosen,
        card=card,
        prefix=prefix,
        presets=dict(presets or {}),
        form=Markup(_form_html(chosen, typed, prefix, _from_the_example(chosen, typed, card, presets))),  # noqa: S704
        report=report,
        answer=Markup(_ANSWER.render(report=report, opened=None)),  # noqa: S704 (our own templates)
    )


def form_html(
    chosen: Calculator, card: EngineCard | None, prefix: str, presets: Mapping[str, str] | None = None
) -> str:
    """Return the inside of the form alone, filled in from another card, as ``calculator_html`` fills it."""
    typed = chosen.form.prefilled(card, presets, example=True)
    return _form_html(chosen, typed, prefix, _from_the_example(chosen, typed, card, presets))


def live_answer(
    chosen: Calculator,
    typed: Mapping[str, str],
    card: EngineCard | None,
    prefix: str,
    rows_shown: Mapping[str, int],
    opened: Collection[str] = (),
) -> dict[str, Any]:
    """Answer what stands in a form on a page.

    Parameters
    ----------
    typed : mapping of str to str
        Every control's text by its name.
    prefix : str
        What the ids of this element begin with.
    rows_shown : mapping of str to int
        How many rows of each table the page has.
    opened : collection of str
        The folds that stand open on the page; what is in the others is not sent.

    Returns
    -------
    dict
        ``lead`` (a sentence), ``answer`` and ``summary`` (HTML), ``errors`` (field and
        message each), ``rows``: for each table how many rows to show and the HTML
        of those that the page lacks, ``understood``: what each text was taken for, where that
        is written otherwise, and ``kept``: what other calculators may take for
        readings, label and text by path.
    """
    rows = {}
    for section in chosen.form.rows:
        wanted = chosen.form.row_count(section, typed)
        have = rows_shown.get(section.key, wanted)
        rows[section.key] = {"count": wanted, "more": _rows_html(section, typed, prefix, have + 1, wanted)}
    errors: tuple[FieldError, ...] = ()
    report: Report | None
    try:
        report = chosen.answer(typed, card)
    except InputErrors as wrong:
        errors, report = wrong.errors, wrong.report
    return {
        "lead": unbroken(report.lead) if report and not errors else "",
        "answer": _ANSWER.render(report=report, opened=opened) if report else "",
        "summary": _ERRORS.render(errors=errors, prefix=prefix) if errors else "",
        "errors": [{"field": error.field, "message": error.message} for error in errors],
        "rows": rows,
        "understood": all_understood(chosen.form, typed),
        "kept": {kept.path: {"label": kept.label, "text": kept.text} for kept in (report.kept if report else ())},
    }


def _from_the_example(
    chosen: Calculator, typed: Mapping[str, str], card: EngineCard | None, presets: Mapping[str, str] | None
) -> frozenset[str]:
    """Return the controls that only an example fills: the worked one, or that of which the reader's card is a copy."""
    inherited = {
        field.key
        for field in chosen.form.fields
        if card
        and field.key not in (presets or {})
        and any(map(card.inherited, filter(None, (field.card, field.behind))))
    }
    of_the_card = {name for name in typed if name.partition(".")[0] in inherited}
    return frozenset(of_the_card | (typed.keys() - chosen.form.prefilled(card, presets).keys()))


def _form_html(chosen: Calculator, typed: Mapping[str, str], prefix: str, examples: Collection[str]) -> str:
    rows = {
        section.key: Markup(  # noqa: S704
            _rows_html(section, typed, prefix, 1, chosen.form.row_count(section, typed), examples)
        )
        for section in chosen.form.rows
    }
    return _FORM.render(form=chosen.form, typed=typed, prefix=prefix, rows=rows, examples=examples)


def _rows_html(
    section: Rows, typed: Mapping[str, str], prefix: str, first: int, last: int, examples: Collection[str] = ()
) -> str:
    return (
        _ROWS.render(section=section, typed=typed, prefix=prefix, numbers=range(first, last + 1), examples=examples)
        if first <= last
        else ""
    )


def _unit_choices(field: Field) -> list[str]:
    return [unit.symbol for unit in field.measure.units] if field.measure else []


def shown(field: Field, text: str | None) -> tuple[str, str | None]:
    """Part ``"34 N·m"`` into what stands in the box and the unit chosen beside it."""
    measure = field.measure
    if not measure:
        return text or "", None
    if text and isinstance(field.kind, Measure):
        try:
            read = read_number(text)
        except (NotANumber, UnknownUnit):
            return text, measure.own
        if read.unit in measure.units:
            number = re.sub(r"[^\d.,/\s±+\-−–⁄½⅓⅔¼¾⅛⅜⅝⅞].*$", "", text).strip()
            return number if read_number(number) == replace(read, unit=None) else text, read.unit.symbol
    return text or "", measure.own


def _option_of(field: Field, text: str | None) -> str | None:
    """Return the option that a text means, however it is written; what means none, or nothing, as it is."""
    assert isinstance(field.kind, Choice)  # noqa: S101 (the template asks for choices alone)
    return field.kind.meant(text) if text else None


def _inputmode(field: Field) -> str:
    if isinstance(field.kind, Series | Groups) or field.signed:
        return "text"
    if isinstance(field.kind, Number) and field.kind.whole:
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
