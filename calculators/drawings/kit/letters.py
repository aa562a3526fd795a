"""How wide words run in the letters of the labels, so that nothing is drawn where words will stand."""

from __future__ import annotations

_WIDTHS = {
    200: "'|",
    250: ",;·",
    300: " .:I°ijl",
    350: "!",
    400: '"frt',
    450: "()-Js[",
    500: "=cz]",
    550: "$/?FLS_evxyk–−a",
    600: "+CEPTYZKbdghnopqu±",
    650: "0123456789<>ABDGRVX",
    700: "&HU",
    750: "^NQ~w½",
    800: "O×",
    850: "#→✓✗",
    900: "%MWm",
}
"""Thousandths of the letter size, measured from B612 bold and rounded up."""
_HINTED = 1.05
"""At the size of a label letters stand on whole pixels, and run a little wider."""
_WIDTH = {letter: width for width, letters in _WIDTHS.items() for letter in letters}


def width_of(words: str, size: float) -> float:
    """Return how wide words run at a letter size.

    Examples
    --------
    >>> width_of("up", 10)
    12.6
    """
    return sum(_WIDTH.get(letter, 900) for letter in words) * size * _HINTED / 1000
