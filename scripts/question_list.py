"""All questions in the reader's words, under the part of the engine that they are about."""

from __future__ import annotations

import html
from collections.abc import Collection, Iterator, Mapping

from calculators.bench.question import Question, room_title

PARTS = {
    "Heads": (
        "torque",
        "ports",
        "measuring.chambers",
        "measuring.chamber_shape",
        "fits.head_face",
        "fits.seat",
        "fits.guide",
        "fits.valve_rock",
        "fits.stem_runout",
        "fits.valve_margin",
    ),
    "Barrels and pistons": ("measuring", "compression", "fits"),
    "Valve gear": (
        "lash",
        "springs",
        "pushrods",
        "torque.rocker_posts",
        "timing.cam",
        "fits.rocker_bush",
        "fits.tappet",
        "fits.tappet_face",
        "fits.pushrod",
    ),
    "Case, studs and seals": ("fasteners", "sealing"),
    "Ignition": ("timing",),
    "Carburettors and air": ("air",),
    "Running and testing": ("running_in", "cylinders"),
}
"""Rooms, and questions that belong elsewhere than the others of their room."""
ELSE = "Anything else"


def part_of(name: str) -> str:
    """Return the part of the engine that a question is about.

    Examples
    --------
    >>> part_of("torque.wrench"), part_of("torque.rocker_posts"), part_of("rods.ratio")
    ('Heads', 'Valve gear', 'Anything else')
    """
    named = {member: part for part, members in PARTS.items() for member in members}
    return named.get(name) or named.get(name.partition(".")[0]) or ELSE


def listed(rooms: Mapping[str, Collection[type[Question]]]) -> str:
    """Return the list as HTML: the parts first, each with a link, then each part with its questions, room by room."""
    found: dict[str, list[type[Question]]] = {part: [] for part in (*PARTS, ELSE)}
    for room in sorted(rooms, key=room_title):
        for one in rooms[room]:
            found[part_of(one.name)].append(one)
    parts = {part: asked for part, asked in found.items() if asked}
    ways = "".join(f'<a class="bench-way" href="#{_anchor(part)}">{part}</a>' for part in parts)
    lists = "".join(
        f'<section class="q-index"><h2 id="{_anchor(part)}">{part}</h2><ul>{"".join(_items(asked))}</ul></section>'
        for part, asked in parts.items()
    )
    return f'<nav class="bench-ways" aria-label="Parts of the engine">{ways}</nav><div class="q-rooms">{lists}</div>'


def _anchor(part: str) -> str:
    return part.lower().replace(",", "").replace(" ", "-")


def _items(asked: Collection[type[Question]]) -> Iterator[str]:
    for one in asked:
        address = f"{one.name.partition('.')[0].replace('_', '-')}/#q-{one.name.replace('.', '-')}"
        yield f'<li><a href="{address}">{html.escape(one.asks)}</a></li>'
