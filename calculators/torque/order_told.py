"""What is told of a tightening order: the order, its reverse, and how lopsided it is."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calculators.bench import Source, Value, quantity
from calculators.formulas.tightening_order import SquareOrder
from calculators.torque.studs import Studs

BALANCE = Source("statics: balance of moments about the centroid of the studs", "identity")


def order_values(studs: Studs) -> Iterator[Value]:
    """Yield the order, its reverse, and how lopsided it is; against the edge order only ours, sought for that."""
    ours, steps = math.fsum(studs.imbalances), len(studs.order)
    source = studs.published or BALANCE
    given = (("studs", steps), ("imbalance of all steps", quantity(ours, "mm")))
    yield Value(
        key="order",
        label="Tightening order",
        quantity=" – ".join(studs.in_order),
        formula=_sought_for(studs.found) if studs.found else "the maker's own order, from the engine card",
        source=source,
        given=given,
        lead=True,
    )
    yield Value(
        key="loosening",
        label="Loosening order",
        quantity=" – ".join(reversed(studs.in_order)),
        formula="the tightening order backwards: at every step the same studs are tight",
        source=source,
        given=(("studs", steps),),
    )
    yield Value(
        key="imbalance",
        label="Mean imbalance in this order",
        quantity=quantity(ours / steps, "mm"),
        places=0,
        formula="mean over the steps of |Σ(r − c)|, the tilting moment for one unit of clamp per stud",
        source=BALANCE,
        given=given,
    )
    if studs.edge:
        round_the_edge = math.fsum(studs.edge_imbalances)
        yield Value(
            key="against_edge",
            label="Less than round the edge, by",
            quantity=quantity(100 * (1 - ours / round_the_edge), "%"),
            places=0,
            formula="1 − this order's mean ÷ the edge order's from its best starting stud",
            source=BALANCE,
            given=(*given, ("round the edge", quantity(round_the_edge, "mm"))),
        )


def _sought_for(found: SquareOrder) -> str:
    """Return what our order is the least of, and how sure that is."""
    if found.proved:
        proof = "exact: no order is squarer; every other was compared or ruled out"
    else:
        better = 1 - found.least / found.imbalance
        proof = f"found by a bounded search, not proved best: none can be more than {better:.1%} squarer"
    return f"least sum of |Σ(r − c)| over all steps, from the middle outwards among equals; {proof}"
