"""How true a torque wrench reads, from where to where, and what an extension does to its setting."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Literal

TRUE_FROM = 0.20
"""Share of its highest setting from which a wrench is tested (ISO 6789:2003, tests at 20, 60 and 100 %; seen in a
tool maker's manual)."""
SMALL_TO = 10.0
"""Highest setting, in N·m, to which every type may be off by the larger share."""
DEVIATIONS = {
    "unknown": (0.06, 0.06),
    "click": (0.06, 0.04),
    "dial": (0.06, 0.04),
    "beam": (0.06, 0.06),
    "screwdriver": (0.06, 0.06),
}
"""Permitted deviation by type: with a highest setting of 10 N·m or less, and of more."""

Miss = Literal["above", "below", "untrue"]


def permitted_deviation(kind: str, highest: float) -> float:
    """Return by what share a wrench of a type may be off.

    Parameters
    ----------
    kind : str
        A key of ``DEVIATIONS``.
    highest : float, [N·m]
        Its highest setting.

    Notes
    -----
    ``click`` is Type II class A, setting tools with a scale; seen in tool makers' summaries
    of the 2003 edition. From memory: ``dial`` is Type I classes B and C, ``beam`` Type I
    class A, ``screwdriver`` Type I class D and Type II classes D to F. ``unknown`` takes
    the largest of them; a tool that nobody has tested may be off by more.

    Examples
    --------
    >>> permitted_deviation("click", 10), permitted_deviation("click", 60)
    (0.06, 0.04)

    References
    ----------
    ISO 6789:2003, 5.1.5; carried on in ISO 6789-1:2017, 5.1.5.
    """
    return DEVIATIONS[kind][highest > SMALL_TO * (1 + 1e-9)]


def setting_share(lever: Any, extension: Any, angle: float) -> Any:
    """Return what to set on the wrench for one unit of torque on the nut.

    Parameters
    ----------
    lever : float or UFloat, [any length unit]
        Middle of the hand's pull to the middle of the drive square.
    extension : float or UFloat, [the same unit]
        Middle of the drive square to the middle of the nut.
    angle : float, [°]
        Of the extension against the wrench: 0 straight on, 90 square to it, 180 back towards the hand.

    Notes
    -----
    L / (L + E·cos a): the hand's force is square to the wrench, and its lever about the
    nut is the part of the distance that lies along the wrench. Must be positive, so the
    nut lies before the hand.

    Examples
    --------
    >>> round(100 * setting_share(12, 6, 0), 1), setting_share(400, 50, 90)
    (66.7, 1.0)

    References
    ----------
    US Army TM 9-254, torque wrenches with adaptors (the effective lever).
    """
    return lever / (lever + extension * round(math.cos(math.radians(angle)), 15))


@dataclass(frozen=True, kw_only=True, slots=True)
class Wrench:
    """A torque wrench.

    Parameters
    ----------
    name : str
        ``"wrench"``, ``"small wrench"``: reads well behind *the*.
    unit : str
        The unit it is marked in; the settings below are in it.
    step : float
        What one mark is worth.
    lowest, highest : float, optional
        Ends of its scale, where they are known.
    deviation : float
        The share it may be off.
    share : float or UFloat
        What to set for one unit of torque on the nut.
    """

    name: str
    unit: str
    step: float
    lowest: float | None
    highest: float | None
    deviation: float
    share: Any = 1.0

    @property
    def true_from(self) -> float | None:
        """The setting below which it need not read true, as far as its highest setting is known."""
        return None if self.highest is None else TRUE_FROM * self.highest

    def miss(self, mark: float) -> Miss | None:
        """Return why a mark is not to be used, or None where it is.

        Examples
        --------
        >>> wrench = Wrench(name="wrench", unit="N·m", step=0.5, lowest=5, highest=60, deviation=0.04)
        >>> [wrench.miss(mark) for mark in (60.5, 4.5, 11.5, 12)]
        ['above', 'below', 'untrue', None]
        """
        slack = 1e-9 * mark
        if self.highest is not None and mark > self.highest + slack:
            return "above"
        if self.lowest is not None and mark < self.lowest - slack:
            return "below"
        return "untrue" if self.true_from is not None and mark < self.true_from - slack else None
