"""An open draft of the reader's own card, and the card as it has become meanwhile: met fact by fact."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators.bench.card import EngineCard
from calculators.card.entries import HEADINGS, SECTIONS, cell, nouns
from calculators.card.form import Texts, texts_of


def met(card: EngineCard, draft: Texts, begun_as: Texts) -> dict[str, Any]:
    """Return what a draft takes from the card that it was begun from, and what the reader is to choose.

    Parameters
    ----------
    card : EngineCard
        As it stands now.
    draft, begun_as : mapping of str to str
        By the name of the box: what stands in the form, and what the card said when the draft last met it.

    Returns
    -------
    dict
        ``taken``: by box, what the draft did not touch and the card has otherwise now; ``called``, those facts in
        words; ``both``: what each has changed, with its ``field``, what it is ``called``, in words what the card
        ``says`` and what is to ``take``, and that by box as ``texts``; ``begun_as``, for the next time.

    Examples
    --------
    >>> card = EngineCard("mine", {"name": "Mine", "dimensions": {"bore": {"value": "81 mm", "source": "told"}}})
    >>> met(card, {"name": "Ours"}, {"name": "Mine"})["taken"]
    {'dimensions.bore': '81 mm', 'dimensions.bore.source': 'told'}
    """
    now = texts_of(card.data)
    taken: dict[str, str] = {}
    called: list[str] = []
    both: list[dict[str, Any]] = []
    next_time = dict(now)
    for field, boxes in _facts():
        was, here, there = ({box: texts.get(box, "").strip() for box in boxes} for texts in (begun_as, draft, now))
        if there in (was, here):
            continue
        if here == was:
            taken |= {box: text for box, text in there.items() if text != here[box]}
            called.append(_called(field))
        else:
            next_time |= was
            both.append({"field": field, "called": _called(field), "texts": there} | _in_words(field, there))
    return {"taken": taken, "called": called, "both": both, "begun_as": next_time}


def _facts() -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield each fact and each table of a card by its path, with the boxes that are one with it."""
    for entry in HEADINGS:
        yield entry.path, (entry.path,)
    for section in SECTIONS:
        for table in section.tables():
            rows = range(1, table.most + 1)
            yield table.path, tuple(cell(table, row, column) for row in rows for column in table.columns)
        for entry in section.entries():
            source = (f"{entry.path}.source",) if section.says_source(entry.key) else ()
            yield entry.path, (entry.path, *source)


def _called(field: str) -> str:
    return nouns().get(field) or next(section.title for section in SECTIONS if field.startswith(section.path))


def _in_words(field: str, there: Texts) -> dict[str, str]:
    value, source = there.get(field, ""), there.get(f"{field}.source", "")
    if not any(there.values()):
        return {"says": "The card has this no longer.", "take": "Take it out"}
    if field not in there:
        return {"says": "The card has other rows now.", "take": "Take the card’s rows"}
    return {"says": f"The card says {value} now{f' ({source})' if source else ''}.", "take": f"Take {value}"}
