"""A card's layout as JSON Schema, for editors and programs that know that language; the build writes it out."""

from __future__ import annotations

from typing import Any

from calculators.bench.card_facts import FORMAT, CardFacts
from calculators.bench.entries import Entry
from calculators.bench.kinds import Choice, Groups, Kind, Measure, Names, Number, Series, Text
from calculators.bench.sections import Member, Part, Rows, Section
from calculators.bench.units import unit

Schema = dict[str, Any]
_SOURCE: Schema = {"type": "string", "minLength": 1}


def card_schema() -> Schema:
    """Return the schema of an engine card.

    A figure's limits stand in its description alone: a card is opened whatever they are.
    """
    whole = _section(CardFacts)
    whole["required"].insert(0, "format")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Engine card",
        "description": "One engine's facts, each with its value and where it comes from. "
        "A quantity is text with its unit, as a person types it: 34 N·m, 0.15 mm, 25 lbf·ft.",
        **whole,
        "properties": {"format": {"const": FORMAT, "description": "Version of this layout."}, **whole["properties"]},
    }


def _section(section: type[Section]) -> Schema:
    members = {key: _member(member, section) for key, member in section.members().items()}
    return _mapping(members, list(section.needs)) | ({"description": section.hint} if section.hint else {})


def _mapping(properties: Schema, required: list[str]) -> Schema:
    needs = {"required": required} if required else {}
    return {"type": "object", "additionalProperties": False, **needs, "properties": properties}


def _member(member: Member, section: type[Section]) -> Schema:
    if isinstance(member, Part):
        return _section(member.of)
    if isinstance(member, Rows):
        return {
            "type": "array",
            "minItems": member.fewest,
            "maxItems": member.most,
            "items": _section(member.of),
        }
    value = _value(member.kind)
    if section.says_source(member.key):
        value = _mapping({"value": value, "source": _SOURCE}, ["value", "source"])
    return value | _described(member)


def _described(entry: Entry[Any]) -> Schema:
    kind = entry.kind
    said = [entry.label]
    if isinstance(kind, Measure | Number):
        said.append(f"{' to '.join(kind.limits)}: {kind.why}")
    return {"description": f"{'. '.join([*said, *filter(None, [entry.facts.hint.rstrip('.')])])}."}


def _value(kind: Kind) -> Schema:
    match kind:
        case Measure():
            return {"type": "string", "format": unit(kind.own).kind}
        case Number(whole=True):
            return {"type": "integer", "minimum": kind.low, "maximum": kind.high}
        case Number():
            return {"type": "number"}
        case Choice():
            return {"enum": list(kind.options)}
        case Series():
            return {"type": "array", "items": _value(kind.of)}
        case Groups():
            group = {"type": "array", "minItems": 1, "items": _value(kind.of)}
            return {"type": "array", "minItems": 1, "items": group}
        case Names():
            return {"type": "array", "items": {"type": "string"}}
        case Text():
            least = {"minLength": kind.fewest} if kind.fewest else {}
            return {"type": "string", **least, **({"maxLength": kind.most} if kind.most else {})}
    raise TypeError(f"no card holds a {kind.name}")
