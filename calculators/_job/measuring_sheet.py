"""The measuring sheet: a box for each reading of a top end, empty for the pencil or filled from the job."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calculators._catalogue import catalogue
from calculators._engine_card import EngineCard
from calculators._form import Field, Rows
from calculators._instruments import INSTRUMENTS, PREFIX
from calculators._job.readings import as_read, found_at
from calculators._words import word

_DEPTH_WORDS = ("top", "middle", "bottom")
_RINGS = ("1", "2", "3")
_ALONG_WORDS = ("end", "middle", "end")
_FACE_WORDS = ("along", "across", "diagonal", "diagonal")
_FILLS = ("1", "2", "3")
_VALVE = (
    ("stem", _ALONG_WORDS),
    ("guide", _ALONG_WORDS),
    ("rock", ()),
    ("stem_runout", ()),
    ("margin", ()),
    ("seat_width", ()),
)
_GEAR = ("rocker_bush", "rocker_shaft", "tappet_bore", "tappet", "tappet_gap", "pushrod_runout")
_SPRING = ("height", "to_guide", "old_free", "old_load")
_CYLINDERS = 4
"""Rows where neither job nor card says how many; more are ruled on the back."""


@dataclass(frozen=True, slots=True)
class Block:
    """One table: its title, whose rows they are, and the boxes of each row.

    A box is a field of the calculator, or of another whose name stands before the key; a
    reading of several numbers has a word over each.
    """

    title: str
    calculator: str
    each: str
    boxes: tuple[tuple[str, tuple[str, ...]], ...]


BLOCKS = (
    Block(
        "Chambers, decks and barrels",
        "compression-and-spacers",
        "cylinder",
        (("chamber-volume fill", _FILLS), *((key, ()) for key in ("chamber", "deck", "crown", "barrel_length"))),
    ),
    Block(
        "Barrels and pistons",
        "fits-and-wear",
        "cylinder",
        (("bore_across", _DEPTH_WORDS), ("bore_along", _DEPTH_WORDS), ("piston", ())),
    ),
    Block("Rings", "fits-and-wear", "cylinder", (("end_gap", _RINGS), ("side_gap", _RINGS))),
    *(
        Block(
            f"{word(kind).capitalize()} valves, guides and seats",
            "fits-and-wear",
            kind,
            tuple((f"{kind}_{key}", parts) for key, parts in _VALVE),
        )
        for kind in ("inlet", "exhaust")
    ),
    Block("Valve springs", "valve-springs", "valve", tuple((key, ()) for key in _SPRING)),
    *(
        Block(
            f"{word(kind).capitalize()} rockers, tappets and pushrods",
            "fits-and-wear",
            kind,
            tuple((f"{kind}_{key}", ()) for key in _GEAR),
        )
        for kind in ("inlet", "exhaust")
    ),
    Block("Head faces", "fits-and-wear", "head", (("face_gaps", _FACE_WORDS),)),
    Block(
        "Valve lash",
        "lash-turn-plan",
        "cylinder",
        tuple((f"{kind}_{when}", ()) for kind in ("inlet", "exhaust") for when in ("found", "left")),
    ),
    Block(
        "Compression and leakage",
        "cylinder-tests",
        "cylinder",
        tuple((key, ()) for key in ("dry", "wet", "held", "dry_after", "held_after")),
    ),
)


@dataclass(frozen=True, slots=True)
class Heading:
    """What stands over one reading: its name, its unit, and a word over each of its boxes."""

    label: str
    unit: str
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ruled:
    """A block as it is printed: headings, and for each row its name and its boxes, text and width in columns."""

    title: str
    headings: tuple[Heading, ...]
    rows: tuple[tuple[str, tuple[tuple[str, int], ...]], ...]


def ruled(job: Mapping[str, Any], card: EngineCard | None) -> tuple[Ruled, ...]:
    """Return every block, with as many rows as the engine has cylinders, valves or heads.

    Parameters
    ----------
    job : mapping
        As the schema has it.
    card : EngineCard, optional
    """
    readings = job.get("readings", {})
    written = _written(readings)
    numbers = _numbers(readings, card)
    return tuple(_ruled(block, numbers, written) for block in BLOCKS)


def instruments(job: Mapping[str, Any]) -> list[tuple[str, str]]:
    """Return the kinds of instrument that the sheet's readings want, and which ones are on the bench."""
    wanted = {_field(block, key)[2].instrument for block in BLOCKS for key, _ in block.boxes}
    readings = job.get("readings", {})
    return [
        (label, readings.get(PREFIX + kind, {}).get("text", ""))
        for kind, label in INSTRUMENTS.items()
        if kind in wanted
    ]


def _ruled(block: Block, numbers: Mapping[str, tuple[int, ...]], written: Mapping[tuple[str, str, int], str]) -> Ruled:
    boxes = [(*_field(block, key), parts) for key, parts in block.boxes]
    headings = tuple(Heading(field.label, field.own_unit or "", parts) for _, _, field, parts in boxes)
    each = next(rows.each for calculator, rows, _, _ in boxes if calculator == block.calculator)
    rows = []
    for number, valves in enumerate(numbers[block.each], 1):
        name = each.replace("{}", str(number))
        for valve in range(1, valves + 1):
            cells = tuple(
                cell
                for calculator, _, field, parts in boxes
                for cell in _cells(
                    written.get((calculator, field.reading or field.key, number), "") if valve == 1 else "",
                    field,
                    len(parts) or 1,
                )
            )
            rows.append((name if valves == 1 else f"{name}, no. {valve}", cells))
    return Ruled(block.title, headings, tuple(rows))


def _field(block: Block, key: str) -> tuple[str, Rows, Field]:
    """Return what a box asks for: the calculator's name, its rows and its field."""
    name, _, key = f"{block.calculator} {key}".rpartition(" ") if " " not in key else key.partition(" ")
    return next(
        (name, rows, field) for rows in catalogue()[name].form.rows for field in rows.fields if field.key == key
    )


def _cells(text: str, field: Field, count: int) -> Iterator[tuple[str, int]]:
    """Part a reading of several numbers into its boxes; one that does not fit them stands across all."""
    bare = text.removesuffix(field.own_unit or "").strip()
    parts = re.split(r"[;\s]+", bare)
    if count == 1 or len(parts) > count or any(re.search(r"[^\d.,\-−]", part) for part in parts):
        yield bare, count
    else:
        for index in range(count):
            yield (parts[index] if index < len(parts) else ""), 1


def _written(readings: Mapping[str, Mapping[str, Any]]) -> dict[tuple[str, str, int], str]:
    """Return what the job holds, by calculator, reading and row; of a form's own readings the newest."""
    found = {}
    for read in sorted(as_read(readings), key=lambda read: read.when):
        for calculator, key, row in found_at(read.path):
            found[calculator, key, row] = read.shown
    return found


def _numbers(readings: Mapping[str, Mapping[str, Any]], card: EngineCard | None) -> dict[str, tuple[int, ...]]:
    """Return for each kind of row how many there are: an entry each, which says how many valves stand in it."""

    def text_of(reading: str, fact: str | None = None) -> str:
        typed = readings.get(reading, {}).get("text", "").strip()
        return typed or (card.text(fact) if card and fact else None) or ""

    cylinders = _whole(text_of("cylinders", "layout.cylinders")) or (_CYLINDERS,)
    count = min(max(cylinders[0], 1), 12)
    valves = {}
    for kind in ("inlet", "exhaust"):
        each = tuple(min(max(number, 1), 3) for number in _whole(text_of(f"{kind}_valves"))) or (1,)
        valves[kind] = each if len(each) == count else each[:1] * count
    heads = len([bank for bank in re.split(r"[/;]", text_of("banks", "layout.banks")) if bank.strip()])
    return {
        "cylinder": (1,) * count,
        **valves,
        "valve": (1,) * (sum(valves["inlet"]) + sum(valves["exhaust"])),
        "head": (1,) * min(max(heads, 1), 6),
    }


def _whole(text: str) -> tuple[int, ...]:
    return tuple(int(number) for number in re.findall(r"\d{1,3}", text))
