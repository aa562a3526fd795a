"""What a cold figure becomes, and what each part does, as tables."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from calculators.bench import DECISION, Column, ResultTable, TableRow, quantity
from calculators.bench.words import word
from calculators.lash.hot_gap import CLOSER, EXPANSION, SAID, WIDER, Growth, Part


def cold_figures(grown: Sequence[Growth]) -> ResultTable:
    """Return what becomes of the maker's figures and of the two customary ones."""
    makers = {round(one.cold, 6): one.kind for one in grown}
    if len(makers) < len(grown):
        makers = dict.fromkeys(makers, "both")
    colds = sorted({*makers, CLOSER, WIDER})
    columns = [Column(key="cold", label="Cold", unit="mm", strong=True), Column(key="whose", label="Maker's for")]
    for one in grown:
        name = word(one.kind).capitalize()
        columns += [
            Column(key=f"{one.kind}_running", label=f"{name}, running", unit="mm"),
            Column(key=f"{one.kind}_hard", label=f"{name}, worked hard", unit="mm"),
            Column(key=f"{one.kind}_verdict", label=f"{name} valve, worked hard", wide=True),
        ]
    rows = []
    for cold in colds:
        cells: list[Any] = [quantity(cold, "mm"), makers.get(cold)]
        for one in grown:
            cells += [quantity(one.gap(cold), "mm"), quantity(one.gap(cold, hard=True), "mm")]
            cells.append(SAID[one.verdict(cold)])
        rows.append(TableRow(cells=tuple(cells), chosen=cold in makers))
    return ResultTable(
        key="cold_figures",
        title="What a cold figure becomes",
        columns=tuple(columns),
        rows=tuple(rows),
        formula="hot gap = cold figure + growth; shuts: all of gap ± U is above 0; held off its seat: all of it is "
        "below",
        source=DECISION,
    )


def part_table(parts: Sequence[Part]) -> ResultTable:
    """Return each part's growth."""
    return ResultTable(
        key="parts",
        title="Part by part",
        columns=(
            Column(key="part", label="Part"),
            Column(key="length", label="Length", unit="mm", places=1),
            Column(key="coefficient", label="α, 10⁻⁶/K", places=1),
            Column(key="rise", label="Warmer by, K", places=0),
            Column(key="growth", label="Grows by", unit="mm", places=3, strong=True),
            Column(key="material", label="Material", wide=True),
        ),
        rows=tuple(
            TableRow(
                cells=(part.name, part.length, part.coefficient, part.rise, quantity(part.growth, "mm"), part.material)
            )
            for part in parts
        ),
        formula="α × length × (hot − cold)",
        source=EXPANSION,
    )
