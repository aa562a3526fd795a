"""The measuring sheet: a box for each reading of a top end, empty for the pencil or filled from the job."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calculators.bench.card import EngineCard
from calculators.bench.desk import path_of
from calculators.bench.entries import Entry
from calculators.bench.instrument_kinds import INSTRUMENTS, PREFIX
from calculators.bench.question import entries_and_columns, question
from calculators.bench.words import word
from calculators.job.readings import as_read

_DEPTH_WORDS = ("top", "middle", "bottom")
_RINGS = ("1", "2", "3")
_ALONG_WORDS = ("end", "middle", "end")
_FACE_WORDS = ("along", "across", "diagonal", "diagonal")
_FILLS = ("1", "2", "3")
_CYLINDERS = 4
"""Rows where neither job nor card says how many; more are ruled on the back."""


@dataclass(frozen=True, slots=True)
class Block:
    """One table: its title, what its rows are, what they are called, and the boxes of each row.

    A box is a column of a question, ``fits.piston.piston``; a reading of several numbers has a word over each.
    """

    title: str
    each: str
    name: str
    boxes: tuple[tuple[str, tuple[str, ...]], ...]


BLOCKS = (
    Block(
        "Chambers, decks and barrels",
        "cylinder",
        "Cylinder {}",
        (
            ("measuring.chambers.fill", _FILLS),
            ("compression.made.chamber", ()),
            ("compression.made.deck", ()),
            ("compression.made.crown", ()),
            ("compression.made.barrel_length", ()),
        ),
    ),
    Block(
        "Barrels and pistons",
        "cylinder",
        "Cylinder {}",
        (("fits.bore.bore_across", _DEPTH_WORDS), ("fits.bore.bore_along", _DEPTH_WORDS), ("fits.piston.piston", ())),
    ),
    Block("Rings", "cylinder", "Cylinder {}", (("fits.ring_gap.end_gap", _RINGS), ("fits.ring_side.side_gap", _RINGS))),
    *(
        Block(
            f"{word(kind).capitalize()} valves, guides and seats",
            kind,
            f"{word(kind).capitalize()} valve {{}}",
            (
                (f"fits.guide.{kind}_stem", _ALONG_WORDS),
                (f"fits.guide.{kind}_guide", _ALONG_WORDS),
                (f"fits.valve_rock.{kind}_rock", ()),
                (f"fits.stem_runout.{kind}_stem_runout", ()),
                (f"fits.valve_margin.{kind}_margin", ()),
                (f"fits.seat.{kind}_seat_width", ()),
            ),
        )
        for kind in ("inlet", "exhaust")
    ),
    Block(
        "Valve springs",
        "valve",
        "Valve {}",
        (
            ("springs.shims.height", ()),
            ("springs.bind.to_guide", ()),
            ("springs.old.old_free", ()),
            ("springs.old.old_load", ()),
        ),
    ),
    *(
        Block(
            f"{word(kind).capitalize()} rockers, tappets and pushrods",
            kind,
            f"{word(kind).capitalize()} valve {{}}",
            (
                (f"fits.rocker_bush.{kind}_rocker_bush", ()),
                (f"fits.rocker_bush.{kind}_rocker_shaft", ()),
                (f"fits.tappet.{kind}_tappet_bore", ()),
                (f"fits.tappet.{kind}_tappet", ()),
                (f"fits.tappet_face.{kind}_tappet_gap", ()),
                (f"fits.pushrod.{kind}_pushrod_runout", ()),
            ),
        )
        for kind in ("inlet", "exhaust")
    ),
    Block("Head faces", "head", "Head {}", (("fits.head_face.face_gaps", _FACE_WORDS),)),
    Block(
        "Valve lash",
        "cylinder",
        "Cylinder {}",
        tuple((f"lash.{when}.{kind}_{when}", ()) for kind in ("inlet", "exhaust") for when in ("found", "left")),
    ),
    Block(
        "Compression and leakage",
        "cylinder",
        "Cylinder {}",
        (
            ("cylinders.compression.dry", ()),
            ("cylinders.compression.wet", ()),
            ("cylinders.leakage.held", ()),
            ("cylinders.compression.dry_after", ()),
            ("cylinders.leakage.held_after", ()),
        ),
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
    written = {read.path: read.text for read in as_read(readings)}
    numbers = _numbers(readings, card)
    return tuple(_ruled(block, numbers, written) for block in BLOCKS)


def instruments(job: Mapping[str, Any]) -> list[tuple[str, str]]:
    """Return the kinds of instrument that the sheet's readings want, and which ones are on the bench."""
    wanted = {_column(box)[1].facts.read_by for block in BLOCKS for box, _ in block.boxes}
    readings = job.get("readings", {})
    return [
        (label, readings.get(PREFIX + kind, {}).get("text", ""))
        for kind, label in INSTRUMENTS.items()
        if kind in wanted
    ]


def cylinder_count(job: Mapping[str, Any], card: EngineCard | None) -> int:
    """Return how many cylinders the engine has, as typed or as its card says."""
    return len(_numbers(job.get("readings", {}), card)["cylinder"])


def _ruled(block: Block, numbers: Mapping[str, tuple[int, ...]], written: Mapping[str, str]) -> Ruled:
    boxes = [(*_column(box), parts) for box, parts in block.boxes]
    headings = tuple(Heading(entry.label, entry.own_unit or "", parts) for _, entry, parts in boxes)
    rows = []
    for number, valves in enumerate(numbers[block.each], 1):
        name = block.name.format(number)
        for valve in range(1, valves + 1):
            cells = tuple(
                cell
                for stem, entry, parts in boxes
                for cell in _cells(written.get(f"{stem}.{number}", "") if valve == 1 else "", entry, len(parts) or 1)
            )
            rows.append((name if valves == 1 else f"{name}, no. {valve}", cells))
    return Ruled(block.title, headings, tuple(rows))


def _column(box: str) -> tuple[str, Entry[Any]]:
    """Return the path under which the job keeps a box, without its row, and its entry."""
    name, _, key = box.rpartition(".")
    asked = question(name)
    entry = next(entry for entry, table in entries_and_columns(asked) if table and entry.key == key)
    return path_of(asked, entry), entry


def _cells(text: str, entry: Entry[Any], count: int) -> Iterator[tuple[str, int]]:
    """Part a reading of several numbers into its boxes; one that does not fit them stands across all."""
    bare = text.removesuffix(entry.own_unit or "").strip()
    parts = re.split(r"[;\s]+", bare)
    if count == 1 or len(parts) > count or any(re.search(r"[^\d.,\-−]", part) for part in parts):
        yield bare, count
    else:
        for index in range(count):
            yield (parts[index] if index < len(parts) else ""), 1


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
