"""Where each cam keeps its valve on the base circle, and how deep inside it the crank stands."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

CYCLE = 720.0
"""Crank angle of one four-stroke cycle, in degrees."""
BOTTOM, OVERLAP, SECOND_BOTTOM = 180.0, 360.0, 540.0
"""The dead centres that follow a cylinder's own firing top dead centre, in degrees of crank."""

Kind = Literal["inlet", "exhaust"]
KINDS: tuple[Kind, Kind] = ("inlet", "exhaust")
_KIND_WORDS: dict[Kind, str] = {"inlet": "inlet", "exhaust": "exhaust"}


class Window(NamedTuple):
    """Crank angles at which a cam rests on its base circle: from ``start`` on, for ``length`` degrees."""

    start: float
    length: float


@dataclass(frozen=True, slots=True)
class Lift:
    """When a cam is off its base circle, in degrees of crank after its cylinder's firing top dead centre.

    Parameters
    ----------
    leaves : float
        The earliest that it may leave the base circle.
    opens, closes : float
        Between these the valve is off its seat for all to see.
    returns : float
        The latest that it may come back to the base circle.
    """

    leaves: float
    opens: float
    closes: float
    returns: float

    @property
    def rest(self) -> float:
        """For how many degrees of the cycle the cam is on its base circle."""
        return CYCLE - (self.returns - self.leaves)


Cam = Mapping[Kind, Lift]

ORDINARY_CAM: Cam = {
    "inlet": Lift(leaves=OVERLAP - 60, opens=OVERLAP, closes=SECOND_BOTTOM, returns=SECOND_BOTTOM + 100),
    "exhaust": Lift(leaves=BOTTOM - 90, opens=BOTTOM, closes=OVERLAP, returns=OVERLAP + 60),
}
"""Wider, ramps and all, than the cams of ordinary road engines (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Valve:
    """One valve: its cylinder, its kind, its number where the cylinder has several of the kind, else 0."""

    cylinder: int
    kind: Kind
    number: int
    window: Window

    @property
    def key(self) -> str:
        return f"{self.cylinder}_{self.kind}{f'_{self.number}' if self.number else ''}"

    @property
    def words(self) -> str:
        return f"{self.cylinder} {_KIND_WORDS[self.kind]}{f' {self.number}' if self.number else ''}"


def timed_cam(
    *, inlet_opens: float, inlet_closes: float, exhaust_opens: float, exhaust_closes: float, ramp: float
) -> Cam:
    """Return a cam from its four events and the ramp beyond each.

    Parameters
    ----------
    inlet_opens, exhaust_closes : float, [°]
        Before and after the overlap top dead centre.
    inlet_closes, exhaust_opens : float, [°]
        After and before bottom dead centre.
    ramp : float, [°]
        From the lift at which the events are told to the base circle, at either end.

    Examples
    --------
    >>> cam = timed_cam(inlet_opens=8, inlet_closes=40, exhaust_opens=42, exhaust_closes=6, ramp=60)
    >>> cam["inlet"].returns, cam["inlet"].rest, cam["exhaust"].leaves
    (640.0, 372.0, 78.0)
    """
    opens, closes = OVERLAP - inlet_opens, SECOND_BOTTOM + inlet_closes
    inlet = Lift(opens - ramp, opens, closes, closes + ramp)
    opens, closes = BOTTOM - exhaust_opens, OVERLAP + exhaust_closes
    return {"inlet": inlet, "exhaust": Lift(opens - ramp, opens, closes, closes + ramp)}


def valves(fires: Mapping[int, float], cam: Cam, counts: Mapping[Kind, Iterable[int]]) -> tuple[Valve, ...]:
    """Return every valve of an engine, cylinder by cylinder in the order of their numbers, inlet first.

    Parameters
    ----------
    fires : mapping of int to float, [°]
        Crank angle at which each cylinder is at its firing top dead centre.
    cam : Cam
    counts : mapping of kind to int
        Valves of each kind that each cylinder has, in the order of the cylinders' numbers.

    Examples
    --------
    >>> [valve.words for valve in valves({1: 0.0}, ORDINARY_CAM, {"inlet": (2,), "exhaust": (1,)})]
    ['1 inlet 1', '1 inlet 2', '1 exhaust']
    """
    cylinders = sorted(fires)
    number = {kind: dict(zip(cylinders, counts[kind], strict=True)) for kind in KINDS}
    return tuple(
        Valve(
            cylinder,
            kind,
            one if number[kind][cylinder] > 1 else 0,
            Window((fires[cylinder] + cam[kind].returns) % CYCLE, cam[kind].rest),
        )
        for cylinder in cylinders
        for kind in KINDS
        for one in range(1, number[kind][cylinder] + 1)
    )


def inside(window: Window, crank: float) -> tuple[float, float]:
    """Return how far the crank stands inside a window: behind it to the closing ramp, ahead to the opening one.

    Returns
    -------
    tuple of float, [°]
        Both together are the window's length. Outside, the nearer edge's is negative and
        says how far off it is.

    Examples
    --------
    >>> inside(Window(640.0, 372.0), 0.0), inside(Window(100.0, 400.0), 90.0)
    ((80.0, 292.0), (-10.0, 410.0))
    """
    behind = (crank - window.start) % CYCLE
    if behind > window.length and CYCLE - behind < behind - window.length:
        behind -= CYCLE
    return behind, window.length - behind


def depth(window: Window, crank: float) -> float:
    """Return how far the crank stands inside a window, to the nearer edge; negative outside, [°]."""
    return min(inside(window, crank))
