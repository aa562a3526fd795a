"""The screws that hold a head besides the nuts on its studs: how many, where, their torque, when their turn comes."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._report import COMMON_PRACTICE, Source, Stage, Step, Value
from calculators._torque.passes import FARTHEST, Pass, reached
from calculators._torque.stud_order import CLOSEST, Studs, typed_places
from calculators._units import printed, symbol_of
from calculators._words import listed
from calculators.formulas.tightening_order import Point
from calculators.formulas.wrench_reach import Wrench

SEQUENCES = {
    "snug first": "Snug with the first pass, to their torque after the last",
    "every pass": "In every pass, after the nuts, to the same share",
    "before the nuts": "To their torque before the nuts",
    "after the nuts": "To their torque after the nuts' last pass",
}
MOST = 8
NO_BREAK = "\u00a0"
_UNITS = ("N·m", "lbf·ft", "lbf·in", "kgf·m")


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
    torque: Any
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


def screws_of(inputs: SimpleNamespace, studs: Studs, wrenches: Sequence[Wrench]) -> Screws | None:
    """Return the screws that a form tells of; None where there are none, or where nobody says so."""
    if inputs.posts != "none" or not inputs.screws:
        return None
    if inputs.screw_torque is None:
        raise InputErrors(FieldError("screw_torque", "Enter the screw torque, in newton metres"))
    names, positions = _placed(inputs, studs)
    told = inputs.card.fact("studs.head_screws.source") if inputs.card else None
    of_the_card = told and inputs.card.fact("studs.head_screws.screw_sequence") == inputs.screw_sequence
    return Screws(
        names=names,
        positions=positions,
        torque=inputs.screw_torque,
        sequence=inputs.screw_sequence or next(iter(SEQUENCES)),
        wrenches=tuple(replace(wrench, share=1.0) for wrench in wrenches),
        source=Source(f"the engine card: {told}") if of_the_card else COMMON_PRACTICE,
    )


def _placed(inputs: SimpleNamespace, studs: Studs) -> tuple[tuple[str, ...], tuple[Point, ...]]:
    """Return names and places: those typed, else the card's where its studs are in hand."""
    count = inputs.screws
    letter = next(letter for letter in "STXYZ" if not any(name.startswith(letter) for name in studs.names))
    names = tuple(f"{letter}{number}" for number in range(1, count + 1))
    if inputs.screw_across:
        places = typed_places(inputs.screw_across, inputs.screw_up, "screw_across", "screw_up", "screw")
        if len(places) != count:
            message = f"Screws besides the studs must be {len(places)}, as many as have a place below"
            raise InputErrors(FieldError("screws", message))
        taken = (*zip(studs.names, studs.positions, strict=True), *zip(names, places, strict=True))
        for (one, here), (other, there) in itertools.combinations(taken, 2):
            if other in names and math.dist(here, there) < CLOSEST:
                message = f"{one} and {other} stand less than {CLOSEST:g} mm apart. Put the places of the screws right."
                raise InputErrors(FieldError("screws", message))
        return names, places
    known = inputs.card.studs("studs.head_screws") if inputs.card and inputs.pattern == "card" else {}
    return (tuple(known), tuple(known.values())) if len(known) == count else (names, ())


def is_unknown(inputs: SimpleNamespace) -> bool:
    """Return whether nobody says if there are such screws at all."""
    return inputs.posts == "none" and inputs.screws is None


def screw_sentence(screws: Screws | None) -> str:
    """Return what to do with the screws, to stand before the confirming pass is told."""
    if not screws:
        return ""
    names, torque = listed(screws.names), _torque(screws, 1.0)
    match screws.sequence, len(screws.names):
        case "snug first", 1:
            return f"Screw {names}: snug in the first pass, {torque} after the last. "
        case "snug first", _:
            return f"Screws {names}: snug in the first pass, {torque} after the last. "
        case "every pass", 1:
            return f"Screw {names}: after the nuts in every pass, to {torque} in the last. "
        case "every pass", _:
            return f"Screws {names}: after the nuts in every pass, to {torque} in the last. "
        case "before the nuts", 1:
            return f"Screw {names}: to {torque} before the nuts. "
        case "before the nuts", _:
            return f"Screws {names}: to {torque} before the nuts. "
        case _, 1:
            return f"Screw {names}: to {torque} after the last pass. "
        case _:
            return f"Screws {names}: to {torque} after the last pass. "


def _torque(screws: Screws, share: float) -> str:
    found = screws.setting(share)
    return found.setting if found else _bare_torque(screws, share)


def _bare_torque(screws: Screws, share: float) -> str:
    return printed(share * screws.torque, symbol_of(screws.torque))


def first_stages(screws: Screws | None) -> tuple[Stage, ...]:
    """Return what comes before the nuts."""
    if not screws or screws.sequence != "before the nuts":
        return ()
    return (_tightened(screws, "Screws, before the nuts"),)


def with_pass(screws: Screws | None, number: int, share: float) -> tuple[Step, ...]:
    """Return the steps with the screws that end a pass over the nuts."""
    if not screws:
        return ()
    if screws.sequence == "snug first" and number == 1:
        return tuple(
            Step(
                key=f"snug_{index}",
                label=f"{name} snug",
                words=f"Turn screw {name} in with the short arm of its key until it just seats.",
                large=f"{name} · snug",
            )
            for index, name in enumerate(screws.names, 1)
        )
    return _steps(screws, share, f"pass_{number}_screw") if screws.sequence == "every pass" else ()


def last_stages(screws: Screws | None) -> tuple[Stage, ...]:
    """Return what comes after the nuts' last pass."""
    if not screws or screws.sequence not in ("snug first", "after the nuts"):
        return ()
    return (_tightened(screws, f"Screws, after the nuts: {_torque(screws, 1.0)}"),)


def _tightened(screws: Screws, title: str) -> Stage:
    return Stage(title=title, steps=_steps(screws, 1.0, "screw"))


def _steps(screws: Screws, share: float, key: str) -> tuple[Step, ...]:
    found = screws.setting(share)
    torque = _torque(screws, share)
    return tuple(
        Step(
            key=f"{key}_{index}",
            label=name,
            words=f"Tighten screw {name} with the {found.wrench.name} set to {torque}."
            if found
            else f"Tighten screw {name} to {torque}, with a wrench that has this mark.",
            large=f"{name} · {torque.replace(' ', NO_BREAK, 1)}",
        )
        for index, name in enumerate(screws.names, 1)
    )


def screw_values(screws: Screws | None, count: int | None) -> tuple[Value, ...]:
    """Return which screws there are, and their torque; where there are none, that."""
    if not screws:
        none = Value(
            key="screws",
            label="Screws besides the studs",
            quantity="none",
            formula="as typed, or as the engine card says",
            source=COMMON_PRACTICE,
        )
        return (none,) if count == 0 else ()
    return (
        Value(
            key="screws",
            label="Screws besides the studs",
            quantity=listed(screws.names),
            formula=SEQUENCES[screws.sequence],
            source=screws.source,
            lead=True,
        ),
        Value(
            key="screw_torque",
            label="Screw torque",
            quantity=screws.torque,
            units=_UNITS,
            formula="as typed, or from the engine card; the mark is the nearest one, without an extension",
            source=COMMON_PRACTICE,
            given=(("typed", screws.torque),),
        ),
    )
