"""Heads that stand elsewhere than before: what is asked of them, and how they are named."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from calculators.bench import Quantity, Row, Source, length, read_by_instrument, shared
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.units import figures
from calculators.bench.verdict import best_of
from calculators.bench.words import listed

THE_HEADS = "How far the heads have moved"
READINGS = "How good the readings are"
COSINES = Source("plane trigonometry: law of cosines", "identity")
LEVER = Source("plane trigonometry: lever on a shaft", "identity")
_OTHER = "more means another engine"
MAKERS_WIN = "The engine maker's lengths of pushrods and tubes for these spacers win."

heads = shared.heads(refines=THE_HEADS, said="heads {}")


class Shifted(Row):
    """How far one head has moved along its cylinders."""

    shift = length(
        "Moves out",
        -40,
        70,
        why=_OTHER,
        hint="Worked out from the spacers, or typed; minus if it moves in.",
        shared_as="head_shift",
        said="{}",
    )


class Reaching(Row):
    """How much further one head's rockers must reach for their pushrods."""

    reach = length(
        "Reach at the pushrod",
        -100,
        100,
        why=_OTHER,
        hint="Worked out from spacers and pushrods: by how much the fitted pushrod is too short.",
        shared_as="pushrod_reach",
        said="{}",
    )


slope = card_entry(
    CardFacts.dimensions.pushrod_slope,
    "Slope of the pushrods",
    exact=True,
    hint="Between pushrod and barrel axis; the tubes slope the same. 0° if parallel to it.",
    usual="0°",
    shared_as="pushrod_slope",
    refines="Slope",
    said="{}",
)

length_error = shared.error_limit(
    "Error limit of the length readings",
    "mm",
    2,
    hint="Plus or minus. A ± typed with a reading wins over it; spacers are used as typed.",
    usual="0.1 mm",
    shared_as="long_calliper_error",
    refines=READINGS,
    said="lengths ± {}",
)

read_to = shared.error_limit(
    "Lengths read to",
    "mm",
    2,
    hint="Plus or minus, random at each reading: it counts when two are compared (common practice).",
    usual="0.05 mm",
    shared_as="long_calliper_read_to",
    refines=READINGS,
    said="read to ± {}",
)


def by_calliper(value: Quantity, limit: Quantity, fine: Quantity, instrument: str = "long calliper") -> Any:
    """Return a length in mm; jaws outside and jaws inside are two instruments."""
    return read_by_instrument([value], "mm", instrument=instrument, limit=limit, read_to=fine)[0]


def named(cylinders: Sequence[int]) -> str:
    """Return "cylinder 1" or "cylinders 1, 2 and 3".

    Examples
    --------
    >>> named((1,)), named((3, 4))
    ('cylinder 1', 'cylinders 3 and 4')
    """
    return f"cylinder{'s' if len(cylinders) > 1 else ''} {listed(cylinders)}"


def in_words(number: Any, places: int = 2) -> str:
    """Return a length in mm without its uncertainty."""
    return f"{figures(best_of(number), places)} mm"


def moves(shift: Any) -> str:
    """Return which way a head moves, and how far.

    Examples
    --------
    >>> moves(1.0), moves(-0.5), moves(0.001)
    ('moves out 1.00 mm', 'moves in 0.50 mm', 'stays where it was')
    """
    best = best_of(shift)
    return "stays where it was" if abs(best) < 0.005 else f"moves {'out' if best > 0 else 'in'} {in_words(abs(best))}"


def each_moves(heads: Sequence[Sequence[int]], shifts: Sequence[Any]) -> str:
    """Return how every head moves as a sentence: once where they all move alike."""
    ways = [moves(shift) for shift in shifts]
    if len(heads) > 1 and len(set(ways)) == 1:
        return f"Each head {ways[0]}."
    told = "; ".join(f"the head over {named(head)} {way}" for head, way in zip(heads, ways, strict=True))
    return f"{told[0].upper()}{told[1:]}."


def spoken(numbers: Sequence[float], places: int = 1) -> str:
    """Return "277.0 mm", "277.0 and 277.2 mm", or of more than three the ends.

    Examples
    --------
    >>> spoken((277.0, 277.0)), spoken((277.0, 277.2)), spoken((1, 2, 3, 4), 0)
    ('277.0 mm', '277.0 and 277.2 mm', '1 to 4 mm')
    """
    told = list(dict.fromkeys(figures(number, places) for number in sorted(numbers)))
    return f"{listed(told)} mm" if len(told) <= 3 else f"{told[0]} to {told[-1]} mm"
