"""The fast idle of the first run: what is asked for it, and what it comes to."""

from __future__ import annotations

from calculators.bench import FieldError, InputErrors, Quantity, choice, listed, magnitude_in, measure, optional

SPEEDS = {"old": (1500.0, 2000.0), "new": (2000.0, 2500.0)}
"""Lowest and highest, in r/min, for a cam that ran with its tappets and a new one (common practice, no source)."""

cam = choice(
    "Camshaft and tappets",
    {"old": "Run together before", "new": "New, or mixed"},
    usual="old",
    shared_as="cam_condition",
    said="cam and tappets: {}",
)

fast_idle = optional(
    listed(
        measure(
            "Fast idle",
            "r/min",
            500,
            20000,
            why="engines of this kind",
            exact=True,
            hint="Lowest and highest, from the camshaft's maker. Empty: 1500 to 2000 r/min, or 2000 to "
            "2500 with a new cam.",
            shared_as="fast_idle",
            said="fast idle {}",
        ),
        2,
        2,
        like="2000 2500",
    )
)


def speeds_of(cam_condition: str, typed: tuple[Quantity, ...] | None) -> tuple[float, float]:
    """Return the lowest and the highest fast idle, [r/min].

    Raises
    ------
    InputErrors
        The two typed do not rise.
    """
    if typed is None:
        return SPEEDS[cam_condition]
    low, high = (magnitude_in(speed, "r/min") for speed in typed)
    if low >= high:
        raise InputErrors(FieldError("fast_idle", "Fast idle must rise from its lowest to its highest, like 2000 2500"))
    return low, high
