"""Engine cards: one engine's facts, each with its unit and where it comes from.

A card is a YAML file; what may stand on it says ``CardFacts``. Here it is read and asked for facts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import pint

from calculators.bench.card_facts import FARTHEST, CardFacts
from calculators.bench.errors import CardError
from calculators.bench.files import Unreadable, content, text_of
from calculators.bench.sections import as_typed
from calculators.bench.units import NotANumber, UnknownUnit, magnitude_in, quantity, read_number

LARGEST = 100_000
"""Bytes of a file that is opened; a card with every fact has a ninth of that."""
INVENTED = "invented"
"""How the source of each figure begins on the cards of the book's examples."""


@dataclass(frozen=True, slots=True)
class EngineCard:
    """One engine's facts.

    Parameters
    ----------
    name : str
        Its file's name.
    data : mapping
        Its tree as in the file.
    own : bool
        The reader's, begun as a copy of an example: what still has the example's source was never the reader's.
    """

    name: str
    data: Mapping[str, Any]
    own: bool = False

    @property
    def title(self) -> str:
        return str(self.data["name"])

    @property
    def facts(self) -> CardFacts:
        """The facts by their names, each a value with its unit, None where the card is silent."""
        return CardFacts(self.data)

    def fact(self, path: str) -> Any:
        """Return the value of a fact (``"torques.cylinder_head"``), or None where the card is silent."""
        found: Any = self.data
        for key in path.split("."):
            if not isinstance(found, dict) or key not in found:
                return None
            found = found[key]
        return found["value"] if isinstance(found, dict) and "value" in found else found

    def text(self, path: str) -> str | None:
        """Return a fact as it would be typed into a form, or None where the card is silent.

        Examples
        --------
        >>> card = EngineCard("demo", {"layout": {"banks": {"value": [[1, 2], [3, 4]], "source": "drawing"}}})
        >>> card.text("layout.banks")
        '1 2 / 3 4'
        """
        fact = self.fact(path)
        return None if fact is None else as_typed(fact)

    @property
    def torque_unit(self) -> str | None:
        """The unit in which the card writes its torques; None where it has none, or writes them in several.

        Examples
        --------
        >>> EngineCard("demo", {"torques": {"cylinder_head": "25 lbf·ft", "source": "handbook"}}).torque_unit
        'lbf·ft'
        """
        torques = self.fact("torques") or {}
        found = {_unit_in(text) for name in torques if name != "source" and (text := self.text(f"torques.{name}"))}
        return found.pop() if len(found) == 1 else None

    def studs(self, path: str) -> dict[str, tuple[float, float]]:
        """Return each stud's name and place, [mm], y upwards; empty where the card has none that can be used.

        Examples
        --------
        >>> stud = {"name": "A", "x": "-1 in", "y": "0 mm"}
        >>> EngineCard("demo", {"studs": {"cylinder_head": {"positions": [stud]}}}).studs("studs.cylinder_head")
        {'A': (-25.4, 0.0)}
        """
        positions = self.fact(f"{path}.positions") or []
        try:
            places = {stud["name"]: (millimetres(stud["x"]), millimetres(stud["y"])) for stud in positions}
        except (KeyError, TypeError, AttributeError, NotANumber, UnknownUnit, pint.DimensionalityError):
            return {}
        one_each = len(set(places.values())) == len(places) == len(positions)
        return (
            places if one_each and all(abs(length) <= FARTHEST for place in places.values() for length in place) else {}
        )

    def without(self, path: str) -> EngineCard:
        """Return the same card, silent about one fact.

        Examples
        --------
        >>> EngineCard("demo", {"studs": {"thread": "M8", "length": "90 mm"}}).without("studs.thread").data
        {'studs': {'length': '90 mm'}}
        """
        return EngineCard(self.name, _pruned(self.data, path.split(".")), self.own)

    def source(self, path: str) -> str | None:
        """Return where a fact comes from, in the card's words.

        Examples
        --------
        >>> EngineCard("demo", {"studs": {"thread": "M10 × 1.5", "source": "drawing"}}).source("studs.thread")
        'drawing'
        """
        parent, _, last = path.rpartition(".")
        holder = self.fact(parent) if parent else self.data
        entry = holder.get(last) if isinstance(holder, Mapping) else None
        if isinstance(entry, Mapping) or entry is None:
            return entry.get("source") if entry else None
        whole = holder.get("source")  # one for all that stands beside it
        return (told_apart(whole, last)[1] or whole) if isinstance(whole, str) else whole

    def inherited(self, path: str) -> bool:
        """Return whether a fact of the reader's own card is the example's still, by its source or that of its section.

        Examples
        --------
        >>> bore = {"value": "80 mm", "source": "invented"}
        >>> mine = EngineCard("mine", {"dimensions": {"bore": bore}}, own=True)
        >>> mine.inherited("dimensions.bore"), EngineCard("demo", mine.data).inherited("dimensions.bore")
        (True, False)
        """
        if not self.own or self.fact(path) is None:
            return False
        source = self.source(path) or self.fact(f"{path.rpartition('.')[0]}.source")
        return isinstance(source, str) and is_invented(source)


def _pruned(tree: Any, keys: list[str]) -> Any:
    first, *rest = keys
    if not isinstance(tree, Mapping) or first not in tree:
        return tree
    kept = {key: found for key, found in tree.items() if key != first}
    return {**kept, first: _pruned(tree[first], rest)} if rest else kept


def told_apart(source: str, key: str) -> tuple[str, str]:
    """Return what a section's source says of the whole, and what it says behind that of one fact.

    Examples
    --------
    >>> told_apart("book, page 12; thread: measured", "thread")
    ('book, page 12', 'measured')
    """
    head = f"{key.replace('_', ' ')}: "
    parts = source.split("; ")
    own = next((part.removeprefix(head) for part in parts[1:] if part.startswith(head)), "")
    return "; ".join(part for part in parts if part != f"{head}{own}"), own


def is_invented(source: str) -> bool:
    """Return whether a source says that its figure is an example's."""
    return source.strip().lower().startswith(INVENTED)


def read_card(path: Path) -> EngineCard:
    """Read and check a card file.

    Parameters
    ----------
    path : Path
        A ``.yml`` (or ``.json``) file.

    Raises
    ------
    CardError
        One line a fault: the file, the key, what is wrong, and what would be right.
    """
    from calculators.card.checking import faults  # it stands on this
    from calculators.card.yaml_text import tree

    try:
        text = text_of(content(path, LARGEST, "card"))
    except Unreadable as why:
        raise CardError(f"{path}: {why}") from None
    try:
        data = tree(text)
    except ValueError as where_and_why:
        raise CardError(f"{path}{where_and_why}") from None
    found = faults(data)
    if found:
        raise CardError("\n".join(f"{path}: {fault.message}" for fault in found))
    return EngineCard(path.stem, data)


@lru_cache(maxsize=256)
def _unit_in(text: str) -> str | None:
    try:
        typed = read_number(text)
    except (NotANumber, UnknownUnit):
        return None
    return typed.unit.symbol if typed.unit else None


@lru_cache(maxsize=256)
def millimetres(text: str) -> float:
    """Return a length of a card."""
    typed = read_number(text)
    return magnitude_in(quantity(typed.number, typed.unit.symbol if typed.unit else "mm"), "mm")
