"""Which studs there are, and in which order they are tightened."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from calculators.bench import (
    EngineCard,
    Entry,
    FieldError,
    Figure,
    ForCard,
    InputErrors,
    Lacking,
    Quantity,
    Row,
    Source,
    length,
    listed,
    magnitude_in,
    optional,
)
from calculators.bench.stud_map import stud_map
from calculators.bench.units import plain
from calculators.formulas.stud_patterns import in_line, ring, two_rows
from calculators.formulas.tightening_order import Point, SquareOrder, edge_order, imbalances, square_order
from calculators.torque.step_chart import step_chart

RINGS = {"3": "3 studs, in a ring", "5": "5 studs, in a ring"}
ROWS = {str(count): f"{count} studs, {count // 2} by 2" for count in range(4, 21, 2)}
PATTERNS = {"2": "2 studs", "3": RINGS["3"], "4": ROWS["4"], "5": RINGS["5"], **ROWS}
CLOSEST = 5.0
"""Two studs closer than this, in mm, are one stud typed twice (common practice, no source)."""
MOST = 20
PLACES_HINT = (
    "Seen from outside, from any one point: across to the right, and up; minus for left or down. "
    "Row 1 is A, row 2 is B, and so on."
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Studs:
    """Studs of a part and the order in which they are tightened.

    Parameters
    ----------
    names : tuple of str
    positions : tuple of (x, y), [mm]
        Seen from outside the part, y upwards.
    order : tuple of int
        Indices, first to last.
    edge : tuple of int
        The order round the edge; empty where the order is the maker's and not weighed.
    found : SquareOrder, optional
        What our own search says of its order.
    published : Source, optional
        Where the maker's order comes from.
    """

    names: tuple[str, ...]
    positions: tuple[Point, ...]
    order: tuple[int, ...]
    edge: tuple[int, ...] = ()
    found: SquareOrder | None = None
    published: Source | None = None

    @property
    def in_order(self) -> tuple[str, ...]:
        return tuple(self.names[index] for index in self.order)

    @property
    def imbalances(self) -> tuple[float, ...]:
        return imbalances(self.positions, self.order)

    @property
    def edge_imbalances(self) -> tuple[float, ...]:
        return imbalances(self.positions, self.edge)


def place(label: str, **facts: str) -> Entry[Quantity]:
    """Ask for one half of a place."""
    return length(label, -1000, 1000, why="no part of an engine's top end is wider", exact=True, **facts)


def places(label: str, **facts: str) -> Entry[tuple[Quantity, ...] | None]:
    """Ask for one half of all places, in one line."""
    return optional(listed(place(label, refines="Stud positions", said="{}", **facts), 1, MOST, like="-40 40 -40 40"))


class ScrewRow(Row):
    """Where one screw besides the studs sits, if it is typed."""

    screw_across = optional(place("Screw distance across", shared_as="screw_across"))
    screw_up = optional(place("Screw distance up", shared_as="screw_up"))


def whole_places(
    rows: Iterable[tuple[Quantity | None, Quantity | None]], across_key: str, up_key: str, what: str
) -> tuple[Point, ...]:
    """Return the places typed into a table, [mm].

    Raises
    ------
    Lacking
        Half of a place is not typed.
    """
    found: list[Point] = []
    missing = []
    for number, (across, up) in enumerate(rows, 1):
        if across is None:
            missing.append(FieldError(f"{across_key}.{number}", _enter("across", what, number)))
        if up is None:
            missing.append(FieldError(f"{up_key}.{number}", _enter("up", what, number)))
        if across is not None and up is not None:
            found.append((magnitude_in(across, "mm"), magnitude_in(up, "mm")))
    if missing:
        raise Lacking(*missing)
    return tuple(found)


def _enter(way: str, what: str, number: int) -> str:
    return f"Enter the distance {way} of {what} {number}, in millimetres"


def sought(positions: tuple[Point, ...], names: tuple[str, ...] = ()) -> Studs:
    """Return studs in the order that keeps the part squarest."""
    found = square_order(positions)
    letters = tuple(chr(ord("A") + index) for index in range(len(positions)))
    return Studs(
        names=names or letters, positions=positions, order=found.order, edge=edge_order(positions), found=found
    )


def typed(places: tuple[Point, ...], box: str) -> Studs:
    """Return studs at typed places.

    Parameters
    ----------
    places : tuple of (x, y), [mm]
    box : str
        Key of the entry at which a mistake is told.

    Raises
    ------
    Lacking
        Fewer than two.
    InputErrors
        Two in one place.
    """
    if len(places) < 2:
        raise Lacking(FieldError(box, "Enter the positions of two studs or more"))
    for (one, here), (other, there) in itertools.combinations(enumerate(places), 2):
        if math.dist(here, there) < CLOSEST:
            message = f"Studs {one + 1} and {other + 1} stand less than {CLOSEST:g} mm apart. Type each stud once."
            raise InputErrors(FieldError(box, message))
    return sought(places)


def for_card(beside: str, path: str, what: str, places: tuple[tuple[str, Point], ...]) -> ForCard:
    """Return places as a table of the card has them."""
    rows = tuple((name, *(f"{plain(axis)} mm".replace("−", "-") for axis in place)) for name, place in places)
    return ForCard(beside=beside, path=path, called=f"{len(rows)} {what} place{'s' * (len(rows) > 1)}", rows=rows)


def ready_made(pattern: str) -> Studs:
    """Return the studs of a pattern by its key."""
    count = int(pattern)
    return sought(in_line(2) if count == 2 else ring(count) if pattern in RINGS else two_rows(count))


def of_card(card: EngineCard | None) -> Studs:
    """Return the studs of an engine card, in the maker's order where it has one.

    Raises
    ------
    Lacking
        It has none.
    InputErrors
        Its order leaves a stud out.
    """
    studs = card.studs("studs.cylinder_head") if card else {}
    if card is None or len(studs) < 2:
        raise Lacking(FieldError("pattern", "Enter the stud pattern nearest to yours"))
    names, positions = tuple(studs), tuple(studs.values())
    order = card.facts.studs.cylinder_head.order
    if order is None:
        return sought(positions, names)
    if sorted(order) != sorted(names):
        raise InputErrors(FieldError("pattern", "The order on this engine card must name each stud once"))
    told = card.source("studs.cylinder_head.order")
    return Studs(
        names=names,
        positions=positions,
        order=tuple(names.index(name) for name in order),
        published=Source(f"the engine card: {told}" if told else "the engine card"),
    )


def mapped(studs: Studs, screws: Sequence[tuple[str, Point]] = ()) -> Figure:
    """Draw the studs, numbered in their order."""
    return stud_map(studs.names, studs.positions, studs.order, screws=tuple(screws))


def charted(studs: Studs) -> tuple[Figure, ...]:
    """Draw how lopsided the clamping is after each nut; of two it says nothing."""
    return (step_chart(studs.in_order, studs.imbalances, studs.edge_imbalances),) if len(studs.order) > 2 else ()
