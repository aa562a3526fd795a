"""How far each head moves out on its spacers, and the first that follows from it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from calculators._compression.measured_engine import Engine
from calculators._compression.words import named
from calculators._report import GEOMETRY, Column, Row, Table
from calculators._units import number_in, quantity


def head_shift(engine: Engine, heights: Sequence[Any]) -> Table:
    """Return what moves with the heads: how far, and how much lash that opens at the valves.

    Parameters
    ----------
    engine : Engine
    heights : sequence of Quantity, [length]
        Of the spacers under each barrel.
    """
    wanted = engine.wanted
    before = number_in(wanted.before, "mm")
    rows = []
    for head in engine.heads:
        shift = sum((number_in(heights[cylinder], "mm") for cylinder in head), start=0.0) / len(head) - before
        lash = None if wanted.rocker_ratio is None else quantity(shift * wanted.rocker_ratio, "mm")
        rows.append(Row(cells=(named(head, "cylinder"), quantity(shift, "mm"), lash)))
    return Table(
        key="head_shift",
        title="What moves with the heads",
        columns=(
            Column(key="head", label="Head over"),
            Column(key="shift", label="Moves out, and tubes and pushrods must span more", unit="mm"),
            Column(key="lash", label="Lash opens at the valves, until it is set", unit="mm"),
        ),
        rows=tuple(rows),
        formula="mean of its spacers − those fitted before; × rocker ratio at the valves. The most: pushrods that "
        "slope span less",
        source=GEOMETRY,
        given=(
            ("fitted before", wanted.before),
            *((("rocker ratio", wanted.rocker_ratio),) if wanted.rocker_ratio is not None else ()),
        ),
    )
