"""The thread in the case: what tears it out, and how long it must be to hold."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.bench import Caution, Column, ResultTable, Source, TableRow, quantity
from calculators.bench.units import bare, figures, number_in, plain
from calculators.fasteners.tightened_stud import Ends
from calculators.formulas.bolted_joint import SHEAR_SHARE, external_shear_area, internal_shear_area
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.threads import Steel, Thread, insert_major, stress_area

SHEAR = Source("FED-STD-H28/2 and VDI 2230-1, shear area of the internal thread", "memory")
CASES: dict[str, Ends] = {"cast aluminium": (90.0, 180.0), "cast magnesium": (110.0, 145.0), "unknown": (90.0, 180.0)}
"""Shear strength of case metals, least and most, [MPa]: castings from as cast to heat-treated."""
CASTINGS = {
    "cast aluminium": "typical shear strengths from 356.0-F to 356.0-T6, seen in casters' tables",
    "unknown": "typical shear strengths of aluminium and magnesium castings, least and most of both",
    "cast magnesium": "typical shear strengths of magnesium-aluminium-zinc castings, quoted from memory, not seen",
    "own": "shear strength as typed",
}
_HOLD_WORDS = {"in": "holds", "out": "tears out", "too close to call": "too close to call"}


@dataclass(frozen=True, slots=True)
class Hold:
    """What tears a thread out of the case.

    Parameters
    ----------
    major : float, [mm]
    area : float or ufloat, [mm²]
    ends : (float, float), [N]
        Least and most, the reading's uncertainty included.
    needed : float, [mm]
        The length that is sure to hold the most pull.
    verdict : str
        On the least of it against the most pull.
    """

    major: float
    area: Any
    ends: Ends
    needed: float
    verdict: Verdict


def length_needed(thread: Thread, strength: Ends, pull: float, inserted: bool) -> float:
    """Return the length of thread in the case that is sure to hold a pull, [mm]."""
    major = wide(thread, inserted)
    return float(pull / (strength[0] * internal_shear_area(major, thread.pitch, 1.0)))


def held(thread: Thread, length: Any, strength: Ends, pull: float, inserted: bool) -> Hold:
    """Return what the case holds, bare or with an insert of the same length.

    Parameters
    ----------
    length : Quantity, [length]
        Of full threads in the case; it may carry an uncertainty.
    strength : (float, float), [MPa]
        Ends of the case's shear strength.
    pull : float, [N]
        The most pull of the stud.
    inserted : bool
    """
    major = wide(thread, inserted)
    area = internal_shear_area(major, thread.pitch, number_in(length, "mm"))
    best, spread = bare(area)
    least, most = (max(best - (spread or 0), 0) * strength[0], (best + (spread or 0)) * strength[1])
    return Hold(
        major=major,
        area=area,
        ends=(least, most),
        needed=length_needed(thread, strength, pull, inserted),
        verdict=judged((least + most) / 2, (most - least) / 2, low=pull),
    )


def wide(thread: Thread, inserted: bool) -> float:
    """Return the diameter of the hole's thread, [mm]: that of an insert is wider than the stud."""
    return insert_major(thread.major, thread.pitch) if inserted else thread.major


def stud_thread_shears(thread: Thread, steel: Steel, length: Any) -> float:
    """Return the pull at which the stud's own thread shears off over a length, [N]."""
    return float(
        SHEAR_SHARE * steel.breaking * external_shear_area(thread.major, thread.pitch, bare(number_in(length, "mm"))[0])
    )


def case_table(
    thread: Thread, steel: Steel, case: str, strength: Ends, length: Any, pull: float, inserted: bool
) -> ResultTable:
    """Return what the thread in the case holds against a pull, [N], bare and with a wire insert."""
    holds = tuple(held(thread, length, strength, pull, each) for each in (False, True))
    own = stud_thread_shears(thread, steel, length)
    rows = (
        TableRow(
            cells=(
                "Wire insert" if each else "Bare",
                quantity(hold.major, "mm"),
                hold.area,
                hold.ends[0] / 1000,
                hold.ends[1] / 1000,
                _HOLD_WORDS[hold.verdict],
                quantity(hold.needed, "mm"),
            ),
            chosen=each == inserted,
        )
        for each, hold in enumerate(holds)
    )
    return ResultTable(
        key="case",
        title="What the thread in the case can hold",
        columns=(
            Column(key="thread", label="Thread"),
            Column(key="diameter", label="Its diameter", unit="mm"),
            Column(key="area", label="Sheared area, mm²", places=0),
            Column(key="least", label="Holds at least, kN", places=1, strong=True),
            Column(key="most", label="At most, kN", places=1),
            Column(key="verdict", label="Against the most pull"),
            Column(key="needed", label="Length sure to hold", unit="mm", places=1),
        ),
        rows=tuple(rows),
        formula="0.875 π × diameter × length × shear strength; the hole of an insert is 1.299 P wider than the stud; "
        f"the stud breaks at {_kn(steel.breaking * stress_area(thread))} kN, its own thread shears at {_kn(own)} kN",
        source=Source(f"{SHEAR}; {CASTINGS[case]}"),
        given=(
            ("length", length),
            ("shear strength", f"{plain(strength[0])} to {plain(strength[1])} MPa"),
            ("most pull", f"{_kn(pull)} kN"),
        ),
    )


def case_cautions(hold: Hold, most: float, inserted: bool) -> Iterator[Caution]:
    """Yield what can happen to the thread of the case under the most pull, [N]."""
    if hold.verdict != "in":
        cure = "Have the insert looked at" if inserted else "Have a thread insert fitted"
        yield Caution(
            "caution",
            f"The thread of the case may tear out at {_kn(hold.ends[0])} kN, and the stud may pull with "
            f"{_kn(most)} kN: a wrench that suddenly gives skins your knuckles. {cure}, or ask a machine shop, "
            "before you tighten.",
        )


def _kn(newtons: float) -> str:
    return figures(newtons / 1000, 1)
