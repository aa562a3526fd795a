"""A card as a form: what stands in the boxes, what card that makes, and what is wrong with it, box by box."""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from itertools import takewhile
from typing import Any

from calculators.bench.card import EngineCard
from calculators.bench.card_facts import FORMAT, CardFacts
from calculators.bench.entries import Entry
from calculators.bench.errors import FieldError
from calculators.bench.kinds import Groups, Names, Number, Series, split_line
from calculators.bench.markup import environment
from calculators.bench.question import questions
from calculators.bench.sections import Rows, Section
from calculators.bench.units import NotANumber, UnknownUnit, plain, read_number
from calculators.card.checking import Fault, faults
from calculators.card.drawing import placed
from calculators.card.entries import (
    HEADINGS,
    SECTIONS,
    at,
    boxes,
    cell,
    hint,
    inherited_entries,
    inherited_for,
    inputmode,
    missing_for,
    nouns,
    options,
    takers,
    wanted,
)

Texts = Mapping[str, str]

LONGEST = 2000
"""Letters of one box; a fact needs a tenth of it."""
_LIST = "This list"
_PLURAL_WORDS = "s"
"""How the name of several things ends, as a rule."""


@dataclass(frozen=True, slots=True)
class CardRead:
    """What the boxes of a form make.

    Parameters
    ----------
    data : dict
        The card's tree; what cannot be read stands in it as typed.
    errors : tuple of FieldError
        One a box at the most, in the order of the form; none means that the card can be used.
    rows : dict of str to list of int
        The rows that are not empty, by the path of the table.
    """

    data: dict[str, Any]
    errors: tuple[FieldError, ...]
    rows: dict[str, list[int]]


def texts_of(data: Any) -> dict[str, str]:
    """Return what a card's form shows, by the name of the box.

    Parameters
    ----------
    data : any
        A card's tree, also one with mistakes or from outside.

    Examples
    --------
    >>> texts_of({"name": "Mine", "layout": {"banks": {"value": [[1], [2]], "source": "seen"}}})
    {'name': 'Mine', 'layout.banks': '1 / 2', 'layout.banks.source': 'seen'}
    """
    texts = {entry.path: _text(at(data, entry.path)) for entry in HEADINGS}
    for section in SECTIONS:
        for entry in section.entries():
            fact = at(data, entry.path)
            whole = section.says_source(entry.key) and isinstance(fact, Mapping)
            texts[entry.path] = _text(fact.get("value") if whole else fact)
            if whole:
                texts[f"{entry.path}.source"] = _text(fact.get("source"))
        for table in section.tables():
            rows = at(data, table.path)
            for number, row in enumerate(rows[: table.most] if isinstance(rows, list) else (), 1):
                for column in table.columns:
                    texts[cell(table, number, column)] = _text(at(row, column.key))
    return {name: text for name, text in texts.items() if text}


def _text(value: Any) -> str:
    if isinstance(value, list):
        if value and all(isinstance(entry, list) for entry in value):
            return " / ".join(map(_text, value))
        entries = [_text(entry) for entry in value]
        return ("; " if any(" " in entry for entry in entries) else " ").join(entries)
    if isinstance(value, str):
        return _clean(value)
    if isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e15:
        return plain(value).replace("−", "-")
    return "" if value is None else _clean(json.dumps(value, ensure_ascii=False))


def _clean(text: str) -> str:
    """Return a text on one line, without what cannot be printed, so that any file may hold it."""
    return " ".join("".join(letter if letter.isprintable() else " " for letter in text[:LONGEST]).split())


def card_data(texts: Texts) -> dict[str, Any]:
    """Return the tree of the card that the boxes make; an empty box makes nothing."""
    return _read(texts)[0]


def read_card_form(texts: Texts) -> CardRead:
    """Read a card's form.

    Parameters
    ----------
    texts : mapping of str to str
        By the name of the box.

    Examples
    --------
    >>> read = read_card_form({"name": "Mine", "about": "A twin.", "layout.cylinders": "2"})
    >>> read.errors[0].field, read.errors[0].message
    ('layout.cylinders.source', 'Say where the cylinders come from, like a manual and its page, or measured')
    """
    data, rows = _read(texts)
    errors: dict[str, str] = {}
    for fault in faults(data, typing=True):
        for box, message in _told(fault, rows):
            errors.setdefault(box, message)
    order = {box: place for place, box in enumerate(boxes())}
    sorted_errors = sorted(errors.items(), key=lambda error: order.get(error[0], len(order)))
    return CardRead(data, tuple(FieldError(box, message) for box, message in sorted_errors), rows)


def _read(texts: Texts) -> tuple[dict[str, Any], dict[str, list[int]]]:
    """Return the card's tree, and for each table the numbers of the rows that are not empty."""
    typed = {name: _clean(text) for name, text in texts.items() if isinstance(text, str)}
    data: dict[str, Any] = {"format": FORMAT}
    rows: dict[str, list[int]] = {}
    for entry in HEADINGS:
        if typed.get(entry.path):
            data[entry.path] = typed[entry.path]
    for section in SECTIONS:
        found = _facts(section, typed)
        for table in section.tables():
            cells = {number: _row(table, number, typed) for number in range(1, table.most + 1)}
            rows[table.path] = [number for number, row in cells.items() if row]
            if rows[table.path]:
                found[table.key] = [cells[number] for number in rows[table.path]]
        if found or section.path in CardFacts.needs:
            *parents, key = section.path.split(".")
            place = data
            for parent in parents:
                place = place.setdefault(parent, {})
            place[key] = found
    return data, rows


def _facts(section: type[Section], typed: Texts) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for entry in section.entries():
        text, source = typed.get(entry.path, ""), typed.get(f"{entry.path}.source", "")
        if not section.says_source(entry.key) and text:
            found[entry.key] = card_value(entry, text)
        elif text or source:
            found[entry.key] = ({"value": card_value(entry, text)} if text else {}) | (
                {"source": source} if source else {}
            )
    return found


def _row(table: Rows[Any], number: int, typed: Texts) -> dict[str, str]:
    cells = {column.key: typed.get(cell(table, number, column), "") for column in table.columns}
    return {key: text for key, text in cells.items() if text}


def card_value(entry: Entry[Any], text: str) -> Any:
    """Return a text as the schema wants it; what cannot be read stays as it was typed, and the check names it."""
    kind = entry.kind
    if isinstance(kind, Number):
        return _number(text)
    if isinstance(kind, Groups):
        return [[_number(part) for part in split_line(group)] for group in re.split(r"[/|;]", text)]
    if isinstance(kind, Series):
        return [_number(part) for part in split_line(text)]
    return list(kind.read(text, str)) if isinstance(kind, Names) else text


def _number(text: str) -> int | float | str:
    try:
        typed = read_number(text)
    except (NotANumber, UnknownUnit):
        return text
    if typed.unit or typed.plus_minus is not None:
        return text
    whole = typed.number == int(typed.number)
    number = int(typed.number) if whole else typed.number
    return text if "e" in repr(number) else number  # an exponent is a number to JSON, but not to YAML


def _told(fault: Fault, rows: Mapping[str, list[int]]) -> list[tuple[str, str]]:
    """Return the boxes that a fault stands beside, each with its message."""
    if fault.missing:
        return [_lacking((*fault.path, key), rows) for key in fault.missing]
    box, noun = _place(fault.path, rows)
    if "value" in fault.path[:-1]:  # one entry of a list: all that stands in the box must be put right
        words = next(wanted(entry) for section in SECTIONS for entry in section.entries() if entry.path == box)
        return [(box, f"{noun} must be {words[0].lower()}{words[1:]}")]
    if not fault.must or (noun == _LIST and not fault.alone):  # it says which row
        return [(box, f"{noun} {fault.found}{f'; it {fault.must}' if fault.must else ''}")]
    return [(box, f"{noun} {fault.alone or fault.must}")]


def _lacking(path: tuple[str | int, ...], rows: Mapping[str, list[int]]) -> tuple[str, str]:
    box, noun = _place(path, rows)
    told = f"the {noun[0].lower()}{noun[1:]}"
    if path[-1] == "source":
        these = (
            "these figures come"
            if any(section.path == box.removesuffix(".source") for section in SECTIONS)
            else f"{told} come"
            if noun.endswith(_PLURAL_WORDS)
            else f"{told} comes"
        )
        return box, f"Say where {these} from, like a manual and its page, or measured"
    if path[-1] == "value":
        return box, f"Enter {told}, or clear where it comes from"
    return box, f"Enter {told}"


def _place(path: tuple[str | int, ...], rows: Mapping[str, list[int]]) -> tuple[str, str]:
    """Return the name of the box that a path of the card's tree stands for, and what it is called."""
    keys: list[str] = []
    row = ""
    for key in takewhile(lambda key: key != "value", path):
        if isinstance(key, int):
            row = str(rows[".".join(keys)][key])
        keys.append(row if isinstance(key, int) else key)
    box = ".".join(keys)
    if row:
        return box, f"{nouns()['.'.join(key for key in keys if key != row)]} of row {row}"
    if box in rows:
        return box, _LIST
    return box, nouns().get(box) or nouns().get(box.removesuffix(".source"), "The card")


def card_form_html(texts: Texts) -> str:
    """Return the inside of the form, filled in.

    Parameters
    ----------
    texts : mapping of str to str
        By the name of the box.
    """
    return environment.get_template("card.html").render(
        headings=HEADINGS,
        sections=SECTIONS,
        texts=texts,
        takers=takers(),
        nouns=nouns(),
        hint=hint,
        options=options,
        inputmode=inputmode,
        required=CardFacts.needs,
        longest=LONGEST,
        rows_shown=_rows_shown(texts),
        filled={section.path: _filled(section, texts) for section in SECTIONS},
    )


def _rows_shown(texts: Texts) -> dict[str, int]:
    """Return how many rows each table shows: one empty row more than are filled."""
    return {
        table.path: min(
            table.most,
            1 + max((number for number in range(1, table.most + 1) if _row(table, number, texts)), default=0),
        )
        for section in SECTIONS
        for table in section.tables()
    }


def _filled(section: type[Section], texts: Texts, inherited: Collection[str] = ()) -> str:
    facts = sum(bool(texts.get(entry.path, "").strip()) for entry in section.entries())
    examples = sum(path in inherited for path in section.paths())
    if examples:
        return f"{facts} of {len(section.entries())}, {examples} still the example’s"
    return f"{facts} of {len(section.entries())}"


def missing_html(card: EngineCard) -> str:
    """Return what each question would still have to be told, and what of the card is the example's, as lists."""
    missing = [(found, missing_for(found, card)) for found in questions().values()]
    inherited = [(found, inherited_for(found, card)) for found in questions().values()]
    return environment.get_template("card-missing.html").render(
        title=card.title,
        missing=[(found, labels) for found, labels in missing if labels],
        inherited=[(found, labels) for found, labels in inherited if labels],
        entries=len(inherited_entries(card)),
        count=len(missing),
    )


def live_card(texts: Texts) -> dict[str, Any]:
    """Answer what stands in a card's form on a page.

    Parameters
    ----------
    texts : mapping of str to str
        By the name of the box.

    Returns
    -------
    dict
        ``data``, ``errors`` (field and message each), ``summary`` and ``missing`` (HTML), ``rows`` (how many
        each table shows), ``filled`` (words, by section), ``inherited`` (the boxes and tables that hold the
        example's still) and ``figures`` (HTML, by section).
    """
    read = read_card_form(texts)
    card = EngineCard("", {"name": "This card"} | read.data, own=True)
    inherited = inherited_entries(card)
    return {
        "data": read.data,
        "errors": [{"field": error.field, "message": error.message} for error in read.errors],
        "summary": environment.get_template("errors.html").render(errors=read.errors, prefix="card")
        if read.errors
        else "",
        "missing": missing_html(card),
        "rows": _rows_shown(texts),
        "filled": {section.path: _filled(section, texts, inherited) for section in SECTIONS},
        "inherited": list(inherited),
        "figures": {
            path: environment.get_template("card-figure.html").render(placed=on_it)
            for path, on_it in placed(card, read.rows).items()
        },
    }


def taken_in(tree: Any) -> dict[str, Any]:
    """Return what a file from outside makes of the form.

    Parameters
    ----------
    tree : any
        As JSON has it.

    Returns
    -------
    dict
        ``html`` (the form), ``texts`` (by box), and ``lost``: a sentence for each fault of the file
        that the form has no box for.
    """
    texts = texts_of(tree)
    kept = {fault.message for fault in faults(card_data(texts))}
    lost = [fault.message for fault in faults(tree) if fault.message not in kept]
    return {"html": card_form_html(texts), "texts": texts, "lost": lost}
