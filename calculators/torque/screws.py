"""The screws that hold a head besides the nuts on its studs: how many, where, their torque, when their turn comes."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from calculators.bench import (
    COMMON_PRACTICE,
    EngineCard,
    FieldError,
    InputErrors,
    Lacking,
    Quantity,
    Source,
)
from calculators.bench.card_facts import CardFacts
from calculators.formulas.tightening_order import Point
from calculators.formulas.wrench_reach import Wrench
from calculators.torque.passes import FARTHEST, Pass, reached
from calculators.torque.studs import CLOSEST, Studs

SEQUENCES = {
    "snug first": "Snug with the first pass, to their torque after the last",
    "every pass": "In every pass, after the nuts, to the same share",
    "before the nuts": "To their torque before the nuts",
    "after the nuts": "To their torque after the nuts' last pass",
}
MOST = 8
FROM_CARD = (CardFacts.studs.head_screws.positions.path, CardFacts.studs.head_screws.screw_sequence.path)
USUAL = next(iter(SEQUENCES))


@dataclass(frozen=True, kw_only=True, slots=True)
class Screws:
    """Screws of one head.

    Parameters
    ----------
    names : tuple of str
    positions : tuple of (x, y), [mm]
        Seen as the studs are; empty where nobody says where they sit.
    torque : Quantity, [torque]
    sequence : str
        A key of ``SEQUENCES``.
    wrenches : tuple of Wrench
        Without an extension: the screws sit under a key.
    source : Source
        Of the count and the sequence.
    """

    names: tuple[str, ...]
    positions: tuple[Point, ...]
    torque: Quantity
    sequence: str
    wrenches: tuple[Wrench, ...]
    source: Source

    @property
    def places(self) -> tuple[tuple[str, Point], ...]:
        return tuple(zip(self.names, self.positions, strict=True)) if self.positions else ()

    def setting(self, share: float = 1.0) -> Pass | None:
        """Return wrench and mark for a share of the torque; None where no wrench has a mark near enough."""
        found = reached("Screws", self.torque, share, self.wrenches)
        is_near = found and (share < 1 or abs(found.rounding) <= FARTHEST + 1e-9)
        return found if is_near else None


def screws_of(
    count: int | None,
    torque: Quantity | None,
    sequence: str,
    places: tuple[Point, ...],
    studs: Studs,
    wrenches: Sequence[Wrench],
    card: EngineCard | None,
    *,
    drawn_from_card: bool,
) -> Screws | None:
    """Return the screws of one head; None where there are none, or where nobody says so.

    Parameters
    ----------
    count : int, optional
    torque : Quantity, [torque], optional
    sequence : str
        A key of ``SEQUENCES``.
    places : tuple of (x, y), [mm]
        Typed ones; without any, the card's where their number is the same.
    studs : Studs
        Whose names the screws must not take.
    wrenches : sequence of Wrench
    card : EngineCard, optional
    drawn_from_card : bool
        Whether the studs are the card's, so that its places of the screws are seen from the same point.

    Raises
    ------
    Lacking
    InputErrors
    """
    if not count:
        return None
    if torque is None:
        raise Lacking(FieldError("screw_torque", "Enter the screw torque, in newton metres"))
    names, positions = _placed(count, places, studs, card if drawn_from_card else None)
    known = card.facts.studs.head_screws if card else None
    told = known.source if known else None
    is_the_cards = told and known and known.screw_sequence == sequence
    return Screws(
        names=names,
        positions=positions,
        torque=torque,
        sequence=sequence,
        wrenches=tuple(replace(wrench, share=1.0) for wrench in wrenches),
        source=Source(f"the engine card: {told}") if is_the_cards else COMMON_PRACTICE,
    )


def _placed(
    count: int, places: tuple[Point, ...], studs: Studs, card: EngineCard | None
) -> tuple[tuple[str, ...], tuple[Point, ...]]:
    letter = next(letter for letter in "STXYZ" if not any(name.startswith(letter) for name in studs.names))
    names = tuple(f"{letter}{number}" for number in range(1, count + 1))
    if not places:
        known = card.studs("studs.head_screws") if card else {}
        return (tuple(known), tuple(known.values())) if len(known) == count else (names, ())
    if len(places) != count:
        message = f"Screws besides the studs must be {len(places)}, as many as have a place below"
        raise InputErrors(FieldError("screws", message))
    taken = (*zip(studs.names, studs.positions, strict=True), *zip(names, places, strict=True))
    for (one, here), (other, there) in itertools.combinations(taken, 2):
        if other in names and math.dist(here, there) < CLOSEST:
            message = f"{one} and {other} stand less than {CLOSEST:g} mm apart. Correct the positions of the screws."
            raise InputErrors(FieldError("screws", message))
    return names, places
