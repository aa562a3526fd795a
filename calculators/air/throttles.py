"""The throttles against each other: which to move, which way, and how far apart they are."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

from calculators.bench.units import bare, figures
from calculators.bench.verdict import verdict_on
from calculators.bench.words import listed
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.throttle_balance import middle, staying

_DEED_WORDS = {"open it": "open", "close it": "close"}
Move = Literal["stays", "open it", "close it", "too close to call"]


@dataclass(frozen=True)
class Balance:
    """Readings of the throttles, as bare numbers with their uncertainty.

    Parameters
    ----------
    readings : tuple of float or ufloat
    by : str
        ``"flow"`` in the gauge's own marks, or ``"vacuum"`` in kPa.
    allowed : float
        Difference allowed between any two, as a share of the mean.
    fixed : int, optional
        Place of the throttle that stays.
    """

    readings: tuple[Any, ...]
    by: Literal["flow", "vacuum"]
    allowed: float
    fixed: int | None

    @cached_property
    def best(self) -> tuple[float, ...]:
        return tuple(float(bare(one)[0]) for one in self.readings)

    @cached_property
    def mean(self) -> float:
        return sum(self.best) / len(self.best)

    @cached_property
    def spread(self) -> Any:
        """Largest less smallest, as a share of the mean."""
        high, low = self.best.index(max(self.best)), self.best.index(min(self.best))
        if high == low:
            high = (low + 1) % len(self.best)
        return (self.readings[high] - self.readings[low]) / self.mean

    @cached_property
    def verdict(self) -> Verdict:
        spread, expanded = bare(self.spread)
        return judged(spread, expanded or 0.0, high=self.allowed, grain=1e-9)

    @cached_property
    def stay(self) -> tuple[int, ...]:
        return staying(self.best, self.allowed * self.mean, self.fixed)

    @cached_property
    def target(self) -> float:
        """What those that move are set to: half-way between those that stay, or the one that must stay."""
        if self.fixed is not None:
            return self.best[self.fixed]
        return middle([self.best[place] for place in self.stay])

    @cached_property
    def mark(self) -> Any:
        """The target as it was read: what the gauge is off by is in it as in every reading."""
        if self.fixed is not None:
            return self.readings[self.fixed]
        ends = [choose(self.stay, key=self.best.__getitem__) for choose in (min, max)]
        return sum(self.readings[place] for place in ends) / 2

    @cached_property
    def moves(self) -> tuple[Move, ...]:
        return tuple(self._move(place) for place in range(len(self.readings)))

    def _move(self, place: int) -> Move:
        if self.verdict == "in" or place in self.stay or place == self.fixed:
            return "stays"
        half = self.allowed * self.mean / 2
        if verdict_on(self.readings[place] - self.mark, -half, half) != "out":
            return "too close to call"
        # more flow, or less vacuum behind it: the throttle is open too far
        return "close it" if (self.best[place] > self.target) == (self.by == "flow") else "open it"

    def text(self, number: float) -> str:
        return figures(number, 2) if self.by == "flow" else f"{figures(number, 1)} kPa"

    @property
    def record(self) -> str:
        """Say how far apart they were found."""
        return f"Throttles, as found: {figures(100 * bare(self.spread)[0], 1)}% apart."

    def sentence(self) -> str:
        """Say in a sentence what to do."""
        spread = f"{figures(100 * bare(self.spread)[0], 1)}%"
        if self.verdict == "in":
            return f"The throttles are in balance, {spread} apart."
        deeds = []
        for move in ("open it", "close it"):
            named = [place + 1 for place, one in enumerate(self.moves) if one == move]
            if named:
                deeds.append(f"{_DEED_WORDS[move]} {'throttle' if len(named) == 1 else 'throttles'} {listed(named)}")
        if not deeds:
            return f"The throttles are {spread} apart, too close to call with this gauge."
        words = " and ".join(deeds)
        return f"The throttles are {spread} apart: {words} to {self.text(self.target)}."
