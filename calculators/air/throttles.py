"""The throttles against each other: which to move, which way, and how far apart they are."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

from calculators._units import bare, figures
from calculators._verdict import verdict_on
from calculators._words import listed, word
from calculators.bench import COMMON_PRACTICE, DECISION, Column, ResultTable, Source, TableRow, Value, quantity
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


def balance_values(balance: Balance, outside: Any | None) -> tuple[Value, ...]:
    """Return how far apart the throttles are, and what their vacuum is in every unit.

    Parameters
    ----------
    balance : Balance
    outside : float or ufloat, optional, [kPa]
        Pressure of the air; without it the pressure behind the throttles is left out.
    """
    spread = Value(
        key="spread",
        label=f"Spread of the throttles, {word(balance.verdict)}",
        quantity=quantity(100 * balance.spread, "%"),
        units=("%",),
        formula="(largest − smallest) ÷ mean, in where the whole of it with its ± is within what is allowed",
        source=DECISION,
        given=(
            ("largest", balance.text(max(balance.best))),
            ("smallest", balance.text(min(balance.best))),
            ("mean", balance.text(balance.mean)),
            ("allowed", f"{figures(100 * balance.allowed, 1)}%"),
        ),
    )
    if balance.by == "flow":
        return (spread,)
    mean = sum(balance.readings) / len(balance.readings)
    vacuum = Value(
        key="mean_vacuum",
        label="Mean vacuum",
        quantity=quantity(mean, "kPa"),
        units=("kPa", "hPa", "inHg", "mmHg", "cmHg", "mmH₂O"),
        formula="mean of the readings; columns of mercury of 13 595.1 kg/m³, of water of 1000 kg/m³",
        source=Source("NIST SP 811 (2008), Appendix B.8, conventional columns"),
        given=(("mean vacuum", quantity(balance.mean, "kPa")),),
    )
    if outside is None:
        return (spread, vacuum)
    given = (("mean vacuum", quantity(balance.mean, "kPa")), ("air pressure", quantity(bare(outside)[0], "kPa")))
    return (
        spread,
        vacuum,
        Value(
            key="pipe_pressure",
            label="Pressure behind the throttles",
            quantity=quantity(outside - mean, "kPa"),
            units=("kPa", "hPa", "inHg"),
            formula="air pressure − vacuum",
            source=Source("definition of a vacuum reading", "identity"),
            given=given,
        ),
    )


def balance_table(balance: Balance) -> ResultTable:
    """Return each throttle's reading, and what to do to it."""
    unit = None if balance.by == "flow" else "kPa"
    rows = (
        TableRow(
            cells=(
                str(place),
                one if unit is None else quantity(one, unit),
                best - balance.target if unit is None else quantity(best - balance.target, unit),
                move,
            ),
            chosen=move in ("open it", "close it"),
        )
        for place, (one, best, move) in enumerate(
            zip(balance.readings, balance.best, balance.moves, strict=True), start=1
        )
    )
    return ResultTable(
        key="throttles",
        title=f"Set each to {balance.text(balance.target)}",
        columns=(
            Column(key="throttle", label="Throttle"),
            Column(key="reading", label="Reading", unit=unit, places=2),
            Column(key="off", label="Off the mark", unit=unit, places=2),
            Column(key="move", label="What to do", strong=True),
        ),
        rows=tuple(rows),
        formula="The most that lie within the allowed spread stay. The others go to half-way between those, or to the "
        "throttle that must stay. More flow, or less vacuum, is a throttle too far open",
        source=COMMON_PRACTICE,
        given=(("allowed spread", balance.text(balance.allowed * balance.mean)),),
    )
