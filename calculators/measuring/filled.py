"""What volumes that were filled have in common: how each is held, told in a table, and doubted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import Caution, Column, ResultTable, TableRow, quantity
from calculators.bench.instruments import Expanded
from calculators.bench.units import figures, printed
from calculators.measuring.filling import FAR_APART, PLACES, POURED, Poured

LIQUID_BURNS = Caution(
    "warning",
    "The liquid and its vapour catch fire from a spark or a hot lamp. Keep flames and hot work away, ventilate the "
    "room, wear gloves and eye protection.",
)


@dataclass(frozen=True, slots=True)
class Held:
    """One volume, [cm³]: what a chamber holds or a crown takes up; ``poured`` is None where it was not filled."""

    number: int
    value: Any
    judged: Expanded
    poured: Poured | None


def in_words_of(volume_: float, symbol: str) -> str:
    """Return a volume in cm³ as it is printed in a unit."""
    return printed(quantity(volume_, "cm³"), symbol, PLACES[symbol])


def far_apart(what: str, poured: Poured | None, symbol: str) -> Iterator[Caution]:
    """Yield a caution where the fills of one volume lie too far apart to be of one volume."""
    fills = poured.fills if poured else ()
    if fills and max(fills) - min(fills) > FAR_APART + 1e-9:
        yield Caution(
            "notice",
            f"Fills of the {what} lie {in_words_of(max(fills) - min(fills), symbol)} apart. "
            "Look for a bubble or a leak: seal the plate again and fill again.",
        )


def volumes_table(key: str, title: str, found: Sequence[Held], symbol: str, unfilled: str, formula: str) -> ResultTable:
    """Return each volume with its fills; ``unfilled`` says where one without any comes from."""
    places = PLACES[symbol]
    rows = []
    for held in found:
        fills = [quantity(fill, "cm³") for fill in held.poured.fills] if held.poured else []
        rows.append(
            TableRow(
                cells=(
                    str(held.number),
                    quantity(held.judged.value, "cm³"),
                    len(fills) or unfilled,
                    min(fills, default=None),
                    max(fills, default=None),
                    figures(held.judged.factor, 2),
                )
            )
        )
    return ResultTable(
        key=key,
        title=title,
        columns=(
            Column(key="cylinder", label="Cylinder"),
            Column(key="volume", label="Volume", unit=symbol, places=places, strong=True),
            Column(key="fills", label="Fills"),
            Column(key="least", label="Least fill", unit=symbol, places=places),
            Column(key="most", label="Most", unit=symbol, places=places),
            Column(key="factor", label="k"),
        ),
        rows=tuple(rows),
        formula=formula,
        source=POURED,
    )
