"""The main jet that the air wants, and what each jet of the drawer does in it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from calculators.air.air_here import Air
from calculators.bench import Column, ResultTable, Source, TableRow, quantity
from calculators.bench.units import bare, figures, plain
from calculators.formulas.jet_choice import fuel_share, leaner, nearest, number_for

NUMBERED = {
    "diameter": "The bore, in hundredths of a millimetre",
    "flow": "The flow of fuel",
}

JET = Source("Heywood, Internal Combustion Engine Fundamentals (1988), 7.3, flow through choke and jet", "memory")

SIDE_WORDS = {True: "leaner", False: "richer"}


@dataclass(frozen=True)
class Jetting:
    """What the main jet must become.

    Parameters
    ----------
    here, base : Air
    fitted : float
        Number of the jet fitted.
    numbered : str
        What the numbers stand for: diameter or flow.
    drawer : tuple of float
        The jets there are, the fitted one among them, the smallest first.
    """

    here: Air
    base: Air
    fitted: float
    numbered: Any
    drawer: tuple[float, ...]

    @cached_property
    def share(self) -> Any:
        return fuel_share((self.here.density, self.here.dry), (self.base.density, self.base.dry))

    @cached_property
    def wanted(self) -> Any:
        return number_for(self.share, self.fitted, self.numbered)

    @property
    def best(self) -> float:
        """The number wanted, without its uncertainty."""
        return float(bare(self.wanted)[0])

    @cached_property
    def chosen(self) -> float:
        return nearest(self.drawer, self.best)

    def leaner(self, jet: float) -> float:
        return leaner(self.best, jet, self.numbered)


def jets_table(jetting: Jetting) -> ResultTable:
    """Return what each jet of the drawer does to the mixture."""
    rows = (
        TableRow(
            cells=(
                f"{plain(round(jet, 2))}{', fitted' if jet == jetting.fitted else ''}",
                quantity(100 * jetting.leaner(jet), "%"),
                _words(jetting.leaner(jet)),
            ),
            chosen=jet == jetting.chosen,
        )
        for jet in jetting.drawer
    )
    return ResultTable(
        key="jet_list",
        title="Each main jet in this air",
        columns=(
            Column(key="jet", label="Main jet", strong=True),
            Column(key="leaner", label="Off the mixture", unit="%", places=1),
            Column(key="words", label="That is"),
        ),
        rows=tuple(rows),
        formula="(jet for this air ÷ jet)² − 1"
        if jetting.numbered == "diameter"
        else "jet for this air ÷ jet − 1; plus is leaner",
        source=JET,
        given=(("jet for this air", figures(jetting.best, 1)),),
    )


def _words(leaner: float) -> str:
    if abs(leaner) < 0.005:
        return "right"
    return SIDE_WORDS[leaner > 0]
