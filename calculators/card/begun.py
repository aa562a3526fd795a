"""A card of the reader's own, begun with its layout and five facts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calculators.bench.card import EngineCard
from calculators.bench.card_facts import CardFacts
from calculators.bench.entries import Entry
from calculators.card.checking import is_bare
from calculators.card.form import read_card_form, texts_of

TITLE = "Layout: "
"""How a card is called that says nothing but how an engine is laid out."""
FIRST: tuple[tuple[Entry[Any], str], ...] = (
    (CardFacts.dimensions.bore, "Bore"),
    (CardFacts.dimensions.stroke, "Stroke"),
    (CardFacts.torques.cylinder_head, "Torque of the head nuts"),
    (CardFacts.clearances.inlet, "Valve lash, inlet"),
    (CardFacts.clearances.exhaust, "Valve lash, exhaust"),
)
"""What the first questions of a job take, each as a row calls it."""


def begun(layout: EngineCard, rows: Mapping[str, Mapping[str, str]]) -> dict[str, Any]:
    """Return the card that the fold makes.

    Parameters
    ----------
    layout : EngineCard
    rows : mapping
        By ``name`` and by path: the ``value``, the ``unit`` chosen beside it, and where it is ``from``.

    Returns
    -------
    dict
        ``data`` and ``errors`` (field and message each), as of the whole form.

    Examples
    --------
    >>> layout = {"cylinders": {"value": 1, "source": "seen"}}
    >>> single = EngineCard("layout-one", {"name": "Layout: one", "layout": layout})
    >>> bore = {"value": "80", "unit": "mm", "from": "told"}
    >>> begun(single, {"name": {"value": "Mine"}, "dimensions.bore": bore})["data"]["dimensions"]
    {'bore': {'value': '80 mm', 'source': 'told'}}
    """
    about = f"{layout.title.removeprefix(TITLE)}; begun with five facts."
    texts = texts_of(layout.data) | {"name": rows["name"]["value"], "about": about}
    for entry, _ in FIRST:
        row = rows.get(entry.path, {})
        if value := row.get("value", "").strip():
            texts[entry.path] = f"{value} {row['unit']}" if is_bare(value) else value
            texts[f"{entry.path}.source"] = row["from"]
    read = read_card_form(texts)
    return {
        "data": read.data,
        "errors": [{"field": error.field, "message": error.message} for error in read.errors],
    }
