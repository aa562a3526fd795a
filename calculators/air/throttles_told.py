"""How the throttles are told: in a few words, as values, one by one, and as steps to tick."""

from __future__ import annotations

from typing import Any, Literal

from calculators.air.throttles import Balance
from calculators.bench import (
    COMMON_PRACTICE,
    DECISION,
    Column,
    ResultTable,
    Source,
    Stage,
    Step,
    TableRow,
    Value,
    Walk,
    quantity,
)
from calculators.bench.units import bare, figures
from calculators.bench.words import word

_DEEDS: dict[str, Literal["Open", "Close"]] = {"open it": "Open", "close it": "Close"}
_MOST_NAMED = 4
"""More throttles than these are counted in the headline, not named."""


def headline(balance: Balance) -> str:
    """Return which to open and which to close, or that they are in balance."""
    spread = f"{figures(100 * bare(balance.spread)[0], 1)}% apart"
    if balance.verdict == "in":
        return f"In balance: {spread}"
    deeds = []
    for move, deed in _DEEDS.items():
        places = [place for place, one in enumerate(balance.moves, 1) if one == move]
        if places:
            named = ", ".join(map(str, places)) if len(places) <= _MOST_NAMED else f"{len(places)} of them"
            deeds.append(f"{deed.lower()} {named}")
    if not deeds:
        return f"{spread}, too close to call with this gauge"
    words = " and ".join(deeds)
    return f"{words.capitalize()}, to {balance.text(balance.target)}"


def values(balance: Balance, outside: Any | None) -> tuple[Value, ...]:
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
        formula="(largest − smallest) ÷ mean, in: all of it, ± included, is within the allowed spread",
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


def table(balance: Balance) -> ResultTable:
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
            Column(key="off", label="Off by", unit=unit, places=2),
            Column(key="move", label="What to do", strong=True),
        ),
        rows=tuple(rows),
        formula="The largest group within the allowed spread stays. The others go to the middle of that group, or to "
        "the throttle that must stay. More flow, or less vacuum, is a throttle too far open",
        source=COMMON_PRACTICE,
        given=(("allowed spread", balance.text(balance.allowed * balance.mean)),),
    )


def walk(balance: Balance) -> tuple[Walk, ...]:
    """Return the throttles to move, one after the other, then the reading again; nothing where none is moved."""
    to = balance.text(balance.target)
    moved = tuple(
        Step(
            key=f"throttle_{place}",
            label=str(place),
            words=f"{_DEEDS[move]} throttle {place} until the gauge shows {to}, and bring the idle speed back.",
            large=f"{place} · {_DEEDS[move].lower()} to {to}",
        )
        for place, move in enumerate(balance.moves, 1)
        if move in _DEEDS
    )
    if not moved:
        return ()
    again = Step(key="again", label="All", words="Read every throttle again and type it in.", large="Read all again")
    return (
        Walk(
            key="balance",
            title="Throttle by throttle",
            stages=(Stage(title="Move", steps=moved), Stage(title="Read again", steps=(again,))),
        ),
    )
