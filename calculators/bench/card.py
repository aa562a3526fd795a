"""Engine cards: one engine's facts, each with its unit and where it comes from.

A card is a YAML file held by ``engine_card.schema.json``. Here it is read, checked and
asked for facts; a form fills its fields from them.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import pint

from calculators.bench.errors import CardError
from calculators.bench.files import Unreadable, content, text_of
from calculators.bench.units import NotANumber, UnknownUnit, magnitude_in, quantity, read_number, units_of

LARGEST = 100_000
"""Bytes of a file that is opened; a card with every fact has a ninth of that."""
SCHEMA_PATH = Path(__file__).with_name("engine_card.schema.json")

_FORMATS = {
    "length": "a length, like 80 mm",
    "torque": "a torque, like 34 N·m",
    "volume": "a volume, like 52 cm³",
    "angle": "an angle, like 180°",
    "force": "a force, like 260 N",
    "pressure": "a pressure, like 3 bar",
    "speed of rotation": "a speed of rotation, like 850 r/min",
}
_NAMED, _KEY = 8, 40
"""So many unknown keys an error names, with so many characters of each."""
INVENTED = "invented"
"""How the source of each figure begins on the cards of the book's examples."""
_FARTHEST = 1000
"""Millimetres from the origin of a stud pattern beyond which a unit was mistaken."""

_TYPES = {
    "object": "a mapping of keys",
    "array": "a list",
    "string": "text",
    "integer": "a whole number",
    "number": "a number",
}


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

    def fact(self, path: str) -> Any:
        """Return the value of a fact (``"torques.cylinder_head"``), or None where the card is silent."""
        found: Any = self.data
        for key in path.split("."):
            if not isinstance(found, Mapping) or key not in found:
                return None
            found = found[key]
        return found["value"] if isinstance(found, Mapping) and "value" in found else found

    def text(self, path: str) -> str | None:
        """Return a fact as it would be typed into a form, or None where the card is silent.

        Examples
        --------
        >>> card = EngineCard("demo", {"layout": {"banks": {"value": [[1, 2], [3, 4]], "source": "drawing"}}})
        >>> card.text("layout.banks")
        '1 2 / 3 4'
        """
        fact = self.fact(path)
        if fact is None:
            return None
        if isinstance(fact, list):
            if fact and isinstance(fact[0], list):
                return " / ".join(" ".join(map(str, group)) for group in fact)
            return " ".join(map(str, fact))
        return str(fact)

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
            places = {stud["name"]: (_millimetres(stud["x"]), _millimetres(stud["y"])) for stud in positions}
        except (KeyError, TypeError, AttributeError, NotANumber, UnknownUnit, pint.DimensionalityError):
            return {}
        one_each = len(set(places.values())) == len(places) == len(positions)
        return (
            places
            if one_each and all(abs(length) <= _FARTHEST for place in places.values() for length in place)
            else {}
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
        return holder.get("source")  # one for all that stands beside it

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
    from calculators.card.checking import faults
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


def card_faults(data: Any) -> Iterator[str]:
    """Yield what is wrong with a card's tree, one sentence a fault, by the schema and by sense."""
    import jsonschema

    schema = json.loads(SCHEMA_PATH.read_text(encoding="utf-8"))
    checker = jsonschema.FormatChecker(formats=())
    for kind in _FORMATS:
        checker.checks(kind)(lambda text, kind=kind: is_of_kind(text, kind))
    validator = jsonschema.Draft202012Validator(schema, format_checker=checker)
    errors = sorted(validator.iter_errors(data), key=lambda error: list(map(str, error.absolute_path)))
    yield from dict.fromkeys(str(told(error)) for error in errors)
    if not errors:
        yield from map(str, contradictions(EngineCard("", data)))


def is_of_kind(text: Any, kind: str) -> bool:
    """Return whether ``text`` is a quantity of this kind; what is no text is judged by its type, not here."""
    if not isinstance(text, str):
        return True
    try:
        typed = read_number(text)
    except (NotANumber, UnknownUnit):
        return False
    return typed.unit in units_of(kind)


@lru_cache(maxsize=256)
def _millimetres(text: str) -> float:
    typed = read_number(text)
    return magnitude_in(quantity(typed.number, typed.unit.symbol if typed.unit else "mm"), "mm")


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is wrong at one place of a card.

    Parameters
    ----------
    key : str
        The place, or what it is called.
    found : str
        What is wrong, behind the key.
    remedy : str
        What it must be or do; empty where nothing would help but to look at what was found.
    alone : str
        The same where what was found is not told.
    """

    key: str
    found: str
    remedy: str = ""
    alone: str = ""

    def __str__(self) -> str:
        return f"{self.key} {self.found}; it must {self.remedy}" if self.remedy else f"{self.key} {self.found}"


def told(error: Any) -> Wrong:
    """Return a broken rule of the schema in words."""
    key = "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in error.absolute_path).lstrip(".")
    key, is_it = key or "the card", f"is {_shown(error.instance)}"
    match error.validator:
        case "additionalProperties":
            known = error.schema.get("properties", {})
            strange = sorted(str(name)[:_KEY] for name in set(error.instance) - set(known))
            more = f" and {len(strange) - _NAMED} more" if len(strange) > _NAMED else ""
            named = ", ".join(strange[:_NAMED]) + more
            return Wrong(key, f"has an unknown key {named}; known here are {', '.join(known)}")
        case "required":
            missing = [name for name in error.validator_value if name not in error.instance]
            wanted = "; every fact needs a value and a source" if missing[0] in ("value", "source") else ""
            return Wrong(key, f"lacks {', '.join(missing)}{wanted}")
        case "format":
            return Wrong(key, is_it, f"be {_FORMATS[error.validator_value]}")
        case "type":
            return Wrong(key, is_it, f"be {_FORMATS.get(error.schema.get('format')) or _TYPES[error.validator_value]}")
        case "enum" | "const":
            allowed = error.validator_value if error.validator == "enum" else [error.validator_value]
            return Wrong(key, is_it, f"be {' or '.join(map(str, allowed))}")
        case "minimum":
            return Wrong(key, is_it, f"be at least {error.validator_value}")
        case "maximum":
            return Wrong(key, is_it, f"be at most {error.validator_value}")
        case "minItems":
            has, least = f"has {len(error.instance)} entries", error.validator_value
            return Wrong(key, has, f"have at least {least}", f"have at least {least} entries")
        case "maxItems":
            has, most = f"has {len(error.instance)} entries", error.validator_value
            return Wrong(key, has, f"have at most {most}", f"have at most {most} entries")
        case "minLength":
            return Wrong(key, "is empty", f"have at least {error.validator_value} character")
        case "maxLength":
            return Wrong(key, is_it, f"have at most {error.validator_value} characters")
        case _:
            return Wrong(key, f"{is_it}; {error.message}")


def _shown(value: Any) -> str:
    if isinstance(value, Mapping | list):
        return "a mapping of keys" if isinstance(value, Mapping) else "a list"
    text = json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= 60 else f"{text[:57]}…"


def contradictions(card: EngineCard) -> Iterator[Wrong]:
    """Yield facts that cannot be true together."""
    cylinders = int(card.fact("layout.cylinders"))
    numbers = list(range(1, cylinders + 1))
    order = card.fact("layout.firing_order")
    if order is not None and sorted(order) != numbers:
        yield Wrong("layout.firing_order.value", f"is {order}", f"name each cylinder from 1 to {cylinders} once")
    banks = card.fact("layout.banks")
    if banks is not None and sorted(number for bank in banks for number in bank) != numbers:
        yield Wrong("layout.banks.value", f"is {banks}", f"name each cylinder from 1 to {cylinders} once")
    intervals = card.fact("layout.firing_intervals")
    if intervals is not None and (len(intervals) != cylinders or not abs(sum(intervals) - 720) <= 1e-6):
        yield Wrong("layout.firing_intervals.value", f"is {intervals}", f"be {cylinders} angles that add up to 720")
    for path in ("studs.cylinder_head",):
        positions = card.fact(f"{path}.positions") or []
        names = [position["name"] for position in positions]
        if len(set(names)) != len(names):
            yield Wrong(f"{path}.positions", "names a stud twice; each name must be its own")
        places = [tuple(_millimetres(position[axis]) for axis in "xy") for position in positions]
        for position, place in zip(positions, places, strict=True):
            if max(map(abs, place)) > _FARTHEST:
                yield Wrong(f"{path}.positions", f"puts {position['name']} over {_FARTHEST} mm off", "be nearer")
        if len(set(places)) != len(places):
            yield Wrong(f"{path}.positions", "has two studs in one place; each must have its own")
        published = card.fact(f"{path}.order")
        if published is not None and sorted(published) != sorted(names):
            yield Wrong(f"{path}.order.value", f"is {published}", f"name each of {', '.join(names)} once")
    yield from _screw_contradictions(card)


def _screw_contradictions(card: EngineCard) -> Iterator[Wrong]:
    path, studs = "studs.head_screws", card.fact("studs.cylinder_head.positions") or []
    screws, count = card.fact(f"{path}.positions") or [], card.fact(f"{path}.screw_count")
    if screws and len(screws) != count:
        yield Wrong(f"{path}.screw_count", f"is {count}", f"be {len(screws)}, as many as have a place")
    names = [screw["name"] for screw in (*studs, *screws)]
    if any(names.count(screw["name"]) > 1 for screw in screws):
        yield Wrong(f"{path}.positions", "names a screw twice, or as a stud; each name must be its own")
    places = [tuple(_millimetres(screw[axis]) for axis in "xy") for screw in (*studs, *screws)]
    if any(places.count(place) > 1 for place in places[len(studs) :]):
        yield Wrong(f"{path}.positions", "puts a screw where another or a stud is; each must have its own place")
    for screw, place in zip(screws, places[len(studs) :], strict=True):
        if max(map(abs, place)) > _FARTHEST:
            yield Wrong(f"{path}.positions", f"puts {screw['name']} over {_FARTHEST} mm off", "be nearer")
