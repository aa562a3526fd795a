"""One tightened stud: its pull and its stress between two frictions."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators.bench import Source
from calculators.formulas.bolted_joint import (
    LUBRICANTS,
    bearing_arm,
    combined_stress,
    screw_arm,
)
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.threads import Steel, Thread, pitch_diameter, stress_area

LONG = Source("ISO 16047, tightening torque, and VDI 2230-1", "memory")
FRICTION = Source("VDI 2230-1, friction classes A, B and C, seen in a fastener supplier's copy")

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
