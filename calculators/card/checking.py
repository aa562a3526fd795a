"""What is wrong with a card, by its schema and by sense, with nothing but the standard library.

The browser has no library for JSON Schema. Here are the words of that language which the card's
schema uses, and a fault is told in the same sentence as ``card_faults`` tells it; a word that is
not known here is a bug that shows with the first card.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calculators.bench.card import SCHEMA_PATH, EngineCard, Wrong, contradictions, is_of_kind, told

Schema = Mapping[str, Any]
Path = tuple[str | int, ...]

SCHEMA: Schema = json.loads(SCHEMA_PATH.read_text(encoding="utf-8"))


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong at one place of a card.

    Parameters
    ----------
    path : tuple of str and int
        Keys from the top of the card.
    wrong : Wrong
        Key, fault and remedy.
    missing : tuple of str
        The keys that lack there, where that is the fault.
    """

    path: Path
    wrong: Wrong
    missing: tuple[str, ...] = ()

    @property
    def message(self) -> str:
        """All of it in one sentence that begins with the key."""
        return str(self.wrong)


@dataclass(frozen=True, slots=True)
class _Broken:
    """A broken rule, with what ``told`` asks of one."""

    absolute_path: Path
    instance: Any
    validator: str
    validator_value: Any
    schema: Schema


def resolved(schema: Schema) -> Schema:
    """Return what a schema refers to, or the schema itself."""
    reference = schema.get("$ref")
    return SCHEMA["$defs"][reference.removeprefix("#/$defs/")] if reference else schema


def faults(data: Any) -> tuple[Fault, ...]:
    """Return what is wrong with a card's tree, as ``card_faults`` does.

    Parameters
    ----------
    data : any
        A tree as JSON has it.

    Examples
    --------
    >>> layout = {"cylinders": {"value": 0, "source": "counted"}}
    >>> [fault.message for fault in faults({"format": 1, "name": "Mine", "about": "A twin.", "layout": layout})]
    ['layout.cylinders.value is 0; it must be at least 1']
    """
    broken = sorted(_broken(SCHEMA, data, ()), key=lambda rule: list(map(str, rule.absolute_path)))
    if broken:
        return tuple({(found := _fault(rule)).message: found for rule in reversed(broken)}.values())[::-1]
    return tuple(Fault(tuple(wrong.key.split(".")), wrong) for wrong in contradictions(EngineCard("", data)))


def _fault(rule: _Broken) -> Fault:
    lacks = rule.validator == "required"
    missing = tuple(key for key in rule.validator_value if key not in rule.instance) if lacks else ()
    return Fault(rule.absolute_path, told(rule), missing)


def _broken(schema: Schema, value: Any, path: Path) -> Iterator[_Broken]:
    for word, wanted in schema.items():
        if word in _DESCENTS:
            for part, found, key in _DESCENTS[word](wanted, value):
                yield from _broken(part, found, (*path, *key))
        elif word not in _REMARKS and not _RULES[word](wanted, value, schema):
            yield _Broken(path, value, word, wanted, schema)


def _whole(value: Any) -> bool:
    return _number(value) and (isinstance(value, int) or value.is_integer())


def _number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _same(one: Any, other: Any) -> bool:
    return bool(one == other) and isinstance(one, bool) == isinstance(other, bool)


_REMARKS = {"$schema", "$defs", "title", "description"}
_TYPES: dict[str, Callable[[Any], bool]] = {
    "object": lambda value: isinstance(value, dict),
    "array": lambda value: isinstance(value, list),
    "string": lambda value: isinstance(value, str),
    "integer": _whole,
    "number": _number,
}
_DESCENTS: dict[str, Callable[[Any, Any], Iterator[tuple[Schema, Any, Path]]]] = {
    "$ref": lambda wanted, value: iter([(resolved({"$ref": wanted}), value, ())]),
    "properties": lambda wanted, value: (
        (part, value[key], (key,)) for key, part in wanted.items() if isinstance(value, dict) and key in value
    ),
    "items": lambda wanted, value: (
        (wanted, entry, (index,)) for index, entry in enumerate(value if isinstance(value, list) else ())
    ),
}
_RULES: dict[str, Callable[[Any, Any, Schema], bool]] = {
    "type": lambda wanted, value, _: _TYPES[wanted](value),
    "const": lambda wanted, value, _: _same(wanted, value),
    "enum": lambda wanted, value, _: any(_same(one, value) for one in wanted),
    "required": lambda wanted, value, _: not isinstance(value, dict) or all(key in value for key in wanted),
    "additionalProperties": lambda wanted, value, schema: (
        wanted or not isinstance(value, dict) or all(key in schema["properties"] for key in value)
    ),
    "format": lambda wanted, value, _: is_of_kind(value, wanted),
    "minLength": lambda wanted, value, _: not isinstance(value, str) or len(value) >= wanted,
    "maxLength": lambda wanted, value, _: not isinstance(value, str) or len(value) <= wanted,
    "minItems": lambda wanted, value, _: not isinstance(value, list) or len(value) >= wanted,
    "maxItems": lambda wanted, value, _: not isinstance(value, list) or len(value) <= wanted,
    "minimum": lambda wanted, value, _: not _number(value) or not value < wanted,
    "maximum": lambda wanted, value, _: not _number(value) or not value > wanted,
}
