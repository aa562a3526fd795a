"""A card's facts as pages quote them: each number as written, with the other unit in brackets."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from calculators.bench.card import EngineCard
from calculators.bench.units import printed, quantity, read_number

_OTHER_UNIT = {"mm": "in", "in": "mm", "thou": "mm", "N·m": "lbf·ft", "lbf·ft": "N·m", "cm³": "in³", "bar": "psi"}
_THOU_BELOW = 2.0  # mm: below this the trade says thou, not inches


def with_other_unit(text: str) -> str:
    """Return a quantity with its second unit; what has none stays as it is.

    Examples
    --------
    >>> with_other_unit("34 N·m"), with_other_unit("1 4 3 2")
    ('34 N·m (25.1 lbf·ft)', '1 4 3 2')
    """
    try:
        typed = read_number(text)
    except ValueError:
        return text
    own = typed.unit.symbol if typed.unit else ""
    other = "thou" if own == "mm" and typed.number < _THOU_BELOW else _OTHER_UNIT.get(own)
    if not other:
        return text
    return f"{text} ({printed(quantity(typed.number, own), other)})"


def card_texts(card: EngineCard) -> dict[str, str]:
    """Return every fact of a card by its path, as a page quotes it.

    Parameters
    ----------
    card : EngineCard
        One without faults.

    Examples
    --------
    >>> bore = {"value": "80 mm", "source": "measured"}
    >>> card_texts(EngineCard("mine", {"name": "Mine", "dimensions": {"bore": bore}}))
    {'dimensions.bore': '80 mm (3.1496 in)'}
    """
    texts = {}
    for path in _paths(card.data, ""):
        text = card.text(path)
        if "." in path and text is not None:
            texts[path] = f"{with_other_unit(text)} (the example’s)" if card.inherited(path) else with_other_unit(text)
    return texts


def _paths(tree: Mapping[str, Any], prefix: str) -> Iterator[str]:
    for key, found in tree.items():
        path = f"{prefix}{key}"
        if isinstance(found, Mapping) and "value" not in found:
            yield from _paths(found, f"{path}.")
        elif isinstance(found, Mapping) or not isinstance(found, list):
            yield path
