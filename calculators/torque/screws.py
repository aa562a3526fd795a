"""The screws that hold a head besides the nuts on its studs, as they are typed or stand on the engine card."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

from calculators._torque.screws import SEQUENCES, Screws
from calculators._torque.stud_order import CLOSEST, Studs
from calculators.bench import (
    COMMON_PRACTICE,
    EngineCard,
    FieldError,
    InputErrors,
    Lacking,
    Quantity,
    Source,
)
from calculators.formulas.tightening_order import Point
from calculators.formulas.wrench_reach import Wrench

FROM_CARD = ("studs.head_screws.positions", "studs.head_screws.screw_sequence")
USUAL = next(iter(SEQUENCES))


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
    told = card.fact("studs.head_screws.source") if card else None
    is_the_cards = told and card and card.fact("studs.head_screws.screw_sequence") == sequence
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
            message = f"{one} and {other} stand less than {CLOSEST:g} mm apart. Put the places of the screws right."
            raise InputErrors(FieldError("screws", message))
    return names, places
