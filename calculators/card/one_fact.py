"""One fact of the reader's own card: what was typed in a question, and the card that has it."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Any

from calculators.bench.card import EngineCard, is_invented, told_apart
from calculators.bench.desk import Asked, Known, Origin
from calculators.bench.entries import Entry
from calculators.bench.kinds import Choice, Measure, Number, Wrong
from calculators.bench.sections import Section, as_typed
from calculators.bench.units import NotANumber, UnknownUnit, magnitude_in, plain, read_number
from calculators.card.checking import is_bare
from calculators.card.entries import SECTIONS, cell
from calculators.card.form import card_value, read_card_form, texts_of

FROM = ("maker’s book", "measured", "told", "not known")
"""Where a fact may be from, in a tap; the last is what is taken where nobody says."""
_TABLES = {table.path: (section, table) for section in SECTIONS for table in section.tables()}
_FACTS = {entry.path: (section, entry) for section in SECTIONS for entry in section.entries() if entry.key != "source"}


def offered(asked: Asked, card: EngineCard) -> dict[str, dict[str, Any]]:
    """Return which of the values typed in a question the card lacks, or has otherwise, by the entry's key.

    Parameters
    ----------
    asked : Asked
    card : EngineCard
        The reader's own; nothing is offered to a card of the book.

    Returns
    -------
    dict
        For each the ``path`` of the fact, its ``text`` as the card would have it, and in words what was ``typed``,
        what ``stands`` on the card (empty where it is silent), its ``source``, and whether that is ``inherited``.
    """
    if not card.own:
        return {}
    wrong = {error.field for error in asked.errors}
    found = {}
    for entry in asked.of.entries():
        known = asked.known.get(entry.key)
        if known and known.origin is Origin.TYPED and entry.key not in wrong and (one := _offer(entry, known, card)):
            found[entry.key] = one
    for rows in asked.answer.for_card if asked.answer and not asked.is_example else ():
        inherited = card.inherited(rows.path)
        if rows.beside not in found and (inherited or card.fact(rows.path) is None):
            found[rows.beside] = {
                "path": rows.path,
                "text": json.dumps(rows.rows),
                "typed": rows.called,
                "stands": "places" if inherited else "",
                "source": card.source(rows.path) or "",
                "inherited": inherited,
            }
    return found


def _offer(entry: Entry[Any], known: Known, card: EngineCard) -> dict[str, Any] | None:
    section, fact = _FACTS.get(entry.facts.card or "", (None, None))
    if section is None or fact is None or entry.facts.stands_in or not _has_place(card, section, fact):
        return None
    text = _as_on_card(entry, fact, known)
    if text is None:
        return None
    inherited, stands = card.inherited(fact.path), card.text(fact.path) or ""
    if stands and not inherited and _says(entry, stands, known.value):
        return None
    return {
        "path": fact.path,
        "text": text,
        "typed": _in_words(entry, text),
        "stands": _in_words(entry, stands),
        "source": card.source(fact.path) or "",
        "inherited": inherited,
    }


def _has_place(card: EngineCard, section: type[Section], fact: Entry[Any]) -> bool:
    """Return whether the fact's section can be on a card with nothing but this fact more."""
    own = ("source", fact.key)
    return all(key in own or card.fact(f"{section.path}.{key}") is not None for key in section.needs)


def _as_on_card(entry: Entry[Any], fact: Entry[Any], known: Known) -> str | None:
    """Return what was typed as a card has it, with its unit and without its ±; None where no card can hold it."""
    text = known.text.strip()
    if isinstance(fact.kind, Number):
        text = _number(known.value) if isinstance(known.value, int | float) else ""
    elif isinstance(fact.kind, Measure):
        unit = f" {known.unit or entry.own_unit}" if is_bare(text) else ""
        text = f"{_alone(text)}{unit}"
    elif isinstance(entry.kind, Choice):
        text = str(known.value)
    try:
        fact.kind.read(text, str)
        stands = as_typed(card_value(fact, text))
    except Wrong:
        return None
    return text if _says(entry, stands, known.value) else None


def _alone(text: str) -> str:
    """Return a number without its ±, and with a point; a plain one, or a fraction, as it was typed."""
    try:
        typed = read_number(text)
    except (NotANumber, UnknownUnit):
        return text
    if typed.plus_minus is None and "," not in text:
        return text
    return _number(typed.number) + (f" {typed.unit.symbol}" if typed.unit else "")


def _number(value: float) -> str:
    return plain(value).replace("−", "-")


def _says(entry: Entry[Any], text: str, value: Any) -> bool:
    """Return whether a fact, read as an entry, is the value that was typed."""
    try:
        return _same(entry.kind.read(text, str), value, entry.own_unit)
    except Wrong:
        return False


def _same(one: Any, other: Any, unit: str | None) -> bool:
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(_same(*both, unit) for both in zip(one, other, strict=True))
    if hasattr(one, "units") and hasattr(other, "units"):
        one, other = magnitude_in(one, unit or ""), magnitude_in(other, unit or "")
    if isinstance(one, int | float) and isinstance(other, int | float):
        return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9)
    return bool(one == other)


def _in_words(entry: Entry[Any], text: str) -> str:
    return str(entry.kind.options.get(text, text)) if isinstance(entry.kind, Choice) else text


def with_fact(card: EngineCard, path: str, text: str, source: str) -> dict[str, Any]:
    """Return the card with one fact as it is told; without it, where the text is empty.

    Where one source stands for a whole section, the fact's own is named behind it, and those of its other facts stay
    what they were.

    Returns
    -------
    dict
        ``data`` and ``errors`` (field and message each), as of the whole form, what the fact ``was`` (``text`` and
        ``source``), and ``sources``: where it may be from.

    Examples
    --------
    >>> mine = EngineCard("mine", {"name": "Mine", "about": "A single.", "layout": {}}, own=True)
    >>> with_fact(mine, "dimensions.bore", "80 mm", "told")["data"]["dimensions"]
    {'bore': {'value': '80 mm', 'source': 'told'}}
    >>> studs = {"thread": "M8 × 1.25", "engagement": "16 mm", "source": "book"}
    >>> mine = EngineCard("mine", {"name": "Mine", "studs": {"cylinder_head": studs}}, own=True)
    >>> with_fact(mine, "studs.cylinder_head.thread", "M10 × 1.5", "measured")["data"]["studs"]["cylinder_head"]
    {'thread': 'M10 × 1.5', 'engagement': '16 mm', 'source': 'book; thread: measured'}
    """
    texts = texts_of(card.data)
    section, fact = (_FACTS | _TABLES)[path]
    boxes = _boxes(path, text)
    named = f"{path if section.says_source(fact.key) else section.path}.source"
    others = (name for name in texts if name.startswith(f"{section.path}.") and name not in (*boxes, named))
    whole, own = "", texts.get(named, "")
    if not section.says_source(fact.key) and any(others):
        whole, own = told_apart(own, fact.key)
    told = source if text else ""
    if whole:
        told = f"{whole}; {fact.key.replace('_', ' ')}: {source}" if told not in ("", whole) else whole
    read = read_card_form(texts | boxes | {named: told})
    return {
        "data": read.data,
        "errors": [{"field": error.field, "message": error.message} for error in read.errors],
        "was": {"text": _text_of(path, texts), "source": own},
        "sources": tuple(dict.fromkeys((*([whole] if whole and not is_invented(whole) else []), *FROM))),
    }


def _boxes(path: str, text: str) -> dict[str, str]:
    """Return what stands in the form's boxes of a fact, or of a table, whose text is JSON: a list of rows."""
    if path in _FACTS:
        return {path: text}
    _, table = _TABLES[path]
    rows = dict(enumerate(json.loads(text or "[]"), 1))
    empty = [""] * len(table.columns)
    return {
        cell(table, number, column): rows.get(number, empty)[place]
        for number in range(1, table.most + 1)
        for place, column in enumerate(table.columns)
    }


def _text_of(path: str, texts: Mapping[str, str]) -> str:
    if path in _FACTS:
        return texts.get(path, "")
    _, table = _TABLES[path]
    every = ([texts.get(cell(table, row, column), "") for column in table.columns] for row in range(1, table.most + 1))
    rows = [row for row in every if any(row)]
    return json.dumps(rows) if rows else ""
