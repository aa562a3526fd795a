"""Which studs there are, in which order they are tightened, and how square that keeps the part."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._report import Source, Value
from calculators._units import magnitude_in, quantity
from calculators.formulas.stud_patterns import in_line, ring, two_rows
from calculators.formulas.tightening_order import Point, SquareOrder, edge_order, imbalances, square_order

RINGS = {"3": "3 studs, in a ring", "5": "5 studs, in a ring"}
ROWS = {str(count): f"{count} studs, {count // 2} by 2" for count in range(4, 21, 2)}
PATTERNS = {"2": "2 studs", "3": RINGS["3"], "4": ROWS["4"], "5": RINGS["5"], **ROWS}
CLOSEST = 5.0
"""Two studs nearer than this, in mm, are one stud typed twice (common practice, no source)."""

BALANCE = Source("statics: balance of moments about the centroid of the studs", "identity")


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


def studs_of(inputs: SimpleNamespace) -> Studs:
    """Return the studs that a form asks for: posts, the card's, typed ones, or a ready-made pattern."""
    if inputs.posts != "none":
        return _sought(in_line(int(inputs.posts)))
    if inputs.pattern == "card":
        return _of_the_card(inputs.card)
    if inputs.pattern == "typed":
        return _sought(_typed(inputs.across, inputs.up))
    count = int(inputs.pattern)
    return _sought(in_line(2) if count == 2 else ring(count) if inputs.pattern in RINGS else two_rows(count))


def typed_places(
    across: Sequence[Any], up: Sequence[Any], across_key: str, up_key: str, what: str
) -> tuple[Point, ...]:
    """Return the places typed into a table, [mm].

    Parameters
    ----------
    across, up : sequence of Quantity or None, [length]
    across_key, up_key : str
        Keys of the columns.
    what : str
        What stands there: a stud, a screw.

    Raises
    ------
    InputErrors
        Half of a place is not typed.
    """
    missing = [
        FieldError(f"{key}.{number}", f"Enter the distance {way} of {what} {number}, in millimetres")
        for key, way, lengths in ((across_key, "across", across), (up_key, "up", up))
        for number, length in enumerate(lengths, 1)
        if length is None
    ]
    if missing:
        raise InputErrors(*missing)
    return tuple((magnitude_in(x, "mm"), magnitude_in(y, "mm")) for x, y in zip(across, up, strict=True))


def _typed(across: Sequence[Any], up: Sequence[Any]) -> tuple[Point, ...]:
    places = typed_places(across, up, "across", "up", "stud")
    if len(places) < 2:
        raise InputErrors(FieldError("pattern", "Type the positions of two studs or more, or choose a stud pattern."))
    for (one, here), (other, there) in itertools.combinations(enumerate(places), 2):
        if math.dist(here, there) < CLOSEST:
            message = f"Studs {one + 1} and {other + 1} stand less than {CLOSEST:g} mm apart. Type each stud once."
            raise InputErrors(FieldError("pattern", message))
    return places


def _of_the_card(card: Any) -> Studs:
    studs = card.studs("studs.cylinder_head") if card else {}
    if len(studs) < 2:
        why = "This engine card has no stud positions" if card else "There is no engine card here"
        raise InputErrors(FieldError("pattern", f"{why}. Choose the pattern nearest to yours."))
    names, positions = tuple(studs), tuple(studs.values())
    order = card.fact("studs.cylinder_head.order")
    if order is None:
        return _sought(positions, names)
    if sorted(order) != sorted(names):
        raise InputErrors(FieldError("pattern", "The order on this engine card must name each stud once"))
    told = card.source("studs.cylinder_head.order")
    return Studs(
        names=names,
        positions=positions,
        order=tuple(names.index(name) for name in order),
        published=Source(f"the engine card: {told}" if told else "the engine card"),
    )


def _sought(positions: tuple[Point, ...], names: tuple[str, ...] = ()) -> Studs:
    found = square_order(positions)
    letters = tuple(chr(ord("A") + index) for index in range(len(positions)))
    return Studs(
        names=names or letters, positions=positions, order=found.order, edge=edge_order(positions), found=found
    )


def order_values(studs: Studs) -> tuple[Value, ...]:
    """Return the order, its reverse, and how lopsided it is; against the edge order only ours, sought for that."""
    ours, steps = math.fsum(studs.imbalances), len(studs.order)
    source = studs.published or BALANCE
    given = (("studs", steps), ("imbalance of all steps", quantity(ours, "mm")))
    values = [
        Value(
            key="order",
            label="Tightening order",
            quantity=" – ".join(studs.in_order),
            formula=_sought_for(studs.found) if studs.found else "the maker's own order, from the engine card",
            source=source,
            given=given,
            lead=True,
        ),
        Value(
            key="loosening",
            label="Loosening order",
            quantity=" – ".join(reversed(studs.in_order)),
            formula="the tightening order, last to first: at every step the same studs are tight",
            source=source,
            given=(("studs", steps),),
        ),
        Value(
            key="imbalance",
            label="Mean imbalance in this order",
            quantity=quantity(ours / steps, "mm"),
            units=("mm",),
            places=0,
            formula="mean over the steps of |Σ(r − c)|, the tilting moment for one unit of clamp a stud",
            source=BALANCE,
            given=given,
        ),
    ]
    if studs.edge:
        round_the_edge = math.fsum(studs.edge_imbalances)
        values.append(
            Value(
                key="against_edge",
                label="Less than going round the edge, by",
                quantity=quantity(100 * (1 - ours / round_the_edge), "%"),
                units=("%",),
                places=0,
                formula="1 − this order's mean ÷ the edge order's, begun at the stud that suits it best",
                source=BALANCE,
                given=(*given, ("round the edge", quantity(round_the_edge, "mm"))),
            )
        )
    return tuple(values)


def _sought_for(found: SquareOrder) -> str:
    """Return what our order is the least of, and how sure that is."""
    if found.proved:
        proof = "exact: no order is squarer, every other was weighed or ruled out by a bound"
    else:
        better = 1 - found.least / found.imbalance
        proof = f"found by a bounded search, not proved the best: none can be more than {better:.1%} squarer"
    return f"least sum of |Σ(r − c)| over all steps, outward from the middle among equals; {proof}"
