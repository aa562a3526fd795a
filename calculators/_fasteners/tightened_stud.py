"""One tightened stud as typed: its pull between two frictions, and the thread in the case that holds it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators._units import bare, number_in
from calculators.formulas.bolted_joint import (
    LUBRICANTS,
    bearing_arm,
    combined_stress,
    internal_shear_area,
    screw_arm,
)
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.threads import Steel, Thread, insert_major, pitch_diameter, stress_area

Ends = tuple[float, float]
"""The least and the most of a range."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TightenedStud:
    """A stud, its nut, and the torque on it.

    Parameters
    ----------
    face, hole : float, [mm]
        Diameters of the ring on which the nut bears.
    torque : float, [N·mm]
    error : float
        The wrench's error limit, a share of the torque.
    """

    thread: Thread
    steel: Steel
    face: float
    hole: float
    torque: float
    error: float = 0.0

    @property
    def area(self) -> float:
        """Stress area, [mm²]."""
        return stress_area(self.thread)

    @property
    def proof(self) -> float:
        """Proof load, [N]."""
        return self.steel.proof * self.area

    def screw(self, friction: Any) -> Any:
        """Return the torque for one newton of pull that the thread takes, [mm]."""
        return screw_arm(self.thread.pitch, pitch_diameter(self.thread.major, self.thread.pitch), friction)

    def arm(self, in_thread: Any, under_nut: Any) -> Any:
        """Return the torque for one newton of pull, [mm]."""
        return self.screw(in_thread) + bearing_arm(self.face, self.hole, under_nut)

    def middle(self, friction: Ends) -> float:
        """Return the pull in the middle of a range of friction, [N]."""
        return self.torque / float(self.arm(sum(friction) / 2, sum(friction) / 2))

    def pulls(self, friction: Ends) -> Ends:
        """Return the least and the most pull, [N]: it falls as either friction rises."""
        least, most = friction
        return (
            self.torque * (1 - self.error) / float(self.arm(most, most)),
            self.torque * (1 + self.error) / float(self.arm(least, least)),
        )

    def stresses(self, friction: Ends) -> Ends:
        """Return the least and the greatest stress of pull and twist together while the nut turns, [MPa].

        More friction under the nut lowers it. More friction in the thread lowers the pull and raises the twist:
        the greatest lies at an end, the least at an end or where d² ÷ 27 is the product of both arms.
        """
        least, most = friction
        at_ends = [self._stress(self.screw(one), under, 1 + self.error) for one in friction for under in friction]
        under_nut = bearing_arm(self.face, self.hole, most)
        gentlest = 4 * self.area / math.pi / 27 / under_nut
        arm = min(max(gentlest, self.screw(least)), self.screw(most))
        return self._stress(arm, most, 1 - self.error), max(at_ends)

    def _stress(self, screw: float, under_nut: float, share: float) -> float:
        pull = share * self.torque / (screw + bearing_arm(self.face, self.hole, under_nut))
        return combined_stress(pull, pull * screw, self.area)


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
    major = _major_of(thread, inserted)
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
    major = _major_of(thread, inserted)
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


def _major_of(thread: Thread, inserted: bool) -> float:
    return insert_major(thread.major, thread.pitch) if inserted else thread.major


@dataclass(frozen=True, kw_only=True, slots=True)
class Tightening:
    """One stud and how it is tightened.

    Parameters
    ----------
    condition : str
        As fitted: a key of ``LUBRICANTS``, or ``own``.
    meant_for : str
        A key of ``LUBRICANTS``, or ``same``.
    friction : (float, float)
        Its ends.
    studs : int
        That hold one head; 0 where nobody said.
    torque : Quantity
        As typed.
    """

    stud: TightenedStud
    condition: str
    meant_for: str
    friction: Ends
    studs: int
    torque: Any

    @property
    def pulls(self) -> Ends:
        return self.stud.pulls(self.friction)

    @property
    def conditions(self) -> dict[str, Ends]:
        """Every thread condition that is shown, with its friction."""
        return LUBRICANTS | ({"own": self.friction} if self.condition == "own" else {})

    @property
    def yield_shares(self) -> Ends:
        """The least and the greatest stress of pull and twist together, as shares of the yield point."""
        least, most = self.stud.stresses(self.friction)
        return least / self.stud.steel.yielding, most / self.stud.steel.yielding

    @property
    def proof_shares(self) -> Ends:
        """The least and the most pull, as shares of the proof load."""
        least, most = self.pulls
        return least / self.stud.proof, most / self.stud.proof

    @property
    def stands(self) -> Verdict:
        """Whether the stud keeps both its proof load and, with the twist of the nut, its yield point."""
        verdicts = [
            judged((least + most) / 2, (most - least) / 2, high=1.0)
            for least, most in (self.proof_shares, self.yield_shares)
        ]
        return max(verdicts, key=("in", "too close to call", "out").index)

    @property
    def overload(self) -> float:
        """The pull as fitted, against what the figure means to give; 1 where both are the same."""
        if self.meant_for in ("same", self.condition):
            return 1.0
        return self.stud.middle(self.friction) / self.stud.middle(LUBRICANTS[self.meant_for])


@dataclass(frozen=True, kw_only=True, slots=True)
class Joint(Tightening):
    """Everything typed about one stud and its case.

    Parameters
    ----------
    case : str
        Its metal.
    strength : (float, float)
        Ends of the case's shear strength, [MPa].
    length : Quantity, [length]
        Of full threads in the case; it may carry an uncertainty.
    inserted : bool
        The case has a wire thread insert now.
    """

    case: str
    strength: Ends
    length: Any
    inserted: bool

    def hold(self, inserted: bool) -> Hold:
        """Return what the case holds, bare or with an insert of the same length."""
        return held(self.stud.thread, self.length, self.strength, self.pulls[1], inserted)
