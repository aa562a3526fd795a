"""An adjusting screw: how far it turns for a change of the gap between rocker and valve."""

from __future__ import annotations

from typing import Any, Literal

Place = Literal["valve", "pushrod", "pivot"]

WHOLE_TURN = 360.0


def leverage(place: Place, ratio: float) -> float:
    r"""Return how much the gap at the valve changes for each millimetre that the screw moves along its axis.

    Parameters
    ----------
    place : {"valve", "pushrod", "pivot"}
        Where the screw sits: in the rocker's valve end, in its pushrod end, or as the nut
        that holds the rocker's pivot down.
    ratio : float
        Rocker ratio: valve arm over pushrod arm, above nought.

    Returns
    -------
    float

    Notes
    -----
    .. math:: h_{valve} = 1 \qquad h_{pushrod} = i \qquad h_{pivot} = 1 + i

    The rocker is a straight lever, its arms square to valve and pushrod. With the pivot
    moved, the rocker turns about the pushrod's end.

    Examples
    --------
    >>> leverage("valve", 1.5), leverage("pushrod", 1.5), leverage("pivot", 1.5)
    (1.0, 1.5, 2.5)

    References
    ----------
    Plane geometry: similar triangles.
    """
    return {"valve": 1.0, "pushrod": ratio, "pivot": 1.0 + ratio}[place]


def screw_turn(closing: Any, pitch: Any, lever: float) -> Any:
    r"""Return how far the screw turns to close the gap by so much.

    Parameters
    ----------
    closing : Quantity, float or ufloat, [length]
        Gap as found less gap wanted; negative where it has to open.
    pitch : Quantity or float, [length]
        How far one turn moves the screw.
    lever : float
        From ``leverage``.

    Returns
    -------
    Quantity, float or ufloat, [°]
        Positive clockwise, looking at the screw's slot: a right-hand thread then closes the gap.

    Notes
    -----
    .. math:: \varphi = 360° \frac{\Delta s}{P \, h}

    Play in the thread is not in it: with the lock-nut loose, press the screw towards the valve.

    Examples
    --------
    >>> screw_turn(0.05, 1.0, 1.0)
    18.0
    >>> round(screw_turn(-0.1, 1.0, 1.25), 1)
    -28.8

    References
    ----------
    Lead of a single-start thread, ISO 5408 (from memory).
    """
    return WHOLE_TURN * closing / (pitch * lever)
