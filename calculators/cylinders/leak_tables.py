"""Leakage cylinder by cylinder, and where to listen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from calculators.bench import COMMON_PRACTICE, Column, Quantity, ResultTable, Source, TableRow, quantity
from calculators.cylinders.gauge import in_bar, in_percent
from calculators.cylinders.heard import HEARD, TELLS, THEN
from calculators.cylinders.leak import Leak

_FLOW = Source("Aeronautical Engineer's Data Book, p. 255, compressible flow; the orifice's coefficient as typed")


def leak_table(
    found: Sequence[Leak | None],
    after: Sequence[Leak | None],
    heard: Sequence[str],
    supply: Quantity,
    orifice: Quantity | None,
    discharge: float,
    most: Quantity,
) -> ResultTable:
    """Return each cylinder's leakage before and after the job, with the place where it is heard."""
    known = [
        *((str(number), leak, HEARD[heard[number - 1]]) for number, leak in enumerate(found, 1) if leak),
        *((f"{number}, after", leak, None) for number, leak in enumerate(after, 1) if leak),
    ]
    picks: tuple[tuple[Column, Callable[[Leak], Any]], ...] = (
        (Column(key="held", label="Held", unit="bar"), lambda leak: in_bar(leak.held)),
        (
            Column(key="share", label="Leakage", unit="%", places=0, strong=True),
            lambda leak: in_percent(leak.share),
        ),
        (
            Column(key="hole", label="As a hole of", unit="mm"),
            lambda leak: None if leak.hole is None else quantity(leak.hole, "mm"),
        ),
        (Column(key="flow", label="Free air, l/min", places=1), lambda leak: leak.flow),
        (Column(key="leak_verdict", label="Verdict"), lambda leak: leak.verdict),
    )
    shown = [(column, pick) for column, pick in picks if any(pick(leak) is not None for _, leak, _ in known)]
    return ResultTable(
        key="leakage",
        title="Leakage",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            *(column for column, _ in shown),
            Column(key="heard", label="Heard at", wide=True),
        ),
        rows=tuple(
            TableRow(cells=(name, *(pick(leak) for _, pick in shown), where), chosen=leak.verdict == "out")
            for name, leak, where in known
        ),
        formula="leakage: 100 × (supply − held) ÷ supply; flow: p·A·C·ψ ÷ √(R·T), ψ by the ratio of absolute "
        "pressures, γ = 1.4, choked below 0.528; hole and flow are best estimates; the hole lets out of the cylinder "
        "what the orifice lets in",
        source=_FLOW,
        given=(
            ("supply", supply),
            *((("orifice", orifice), ("C", discharge)) if orifice is not None else ()),
            ("most", most),
        ),
    )


def listen_table() -> ResultTable:
    """Return where to listen, and what each place tells."""
    return ResultTable(
        key="listen",
        title="Where to listen, and what it tells",
        columns=(
            Column(key="place", label="Heard at"),
            Column(key="tells", label="Means"),
            Column(key="next", label="Then look at", wide=True),
        ),
        rows=tuple(TableRow(cells=(HEARD[place], TELLS[place], THEN[place])) for place in TELLS),
        formula="air escapes where the leak lets it; a little past the rings is heard at every oil filler",
        source=COMMON_PRACTICE,
        folded=True,
    )
