"""Small turns of phrase that more than one sentence needs."""

from __future__ import annotations

from collections.abc import Iterable

_KEY_WORDS = {
    "in": "in",
    "out": "out",
    "too close to call": "too close to call",
    "inlet": "inlet",
    "exhaust": "exhaust",
    "clockwise": "clockwise",
    "anticlockwise": "anticlockwise",
    "forwards": "forwards",
    "backwards": "backwards",
    "pulley": "pulley",
    "flywheel": "flywheel",
    "stays": "stays",
    "open it": "open it",
    "close it": "close it",
    "fits": "fits",
    "may fit": "may fit",
    "near, but not it": "near, but not it",
    "nothing": "nothing",
    "not tested": "not tested",
    "static": "static",
    "full advance": "full advance",
    "pipe": "pipe",
    "gasket": "gasket",
    "port": "port",
    "round": "round",
    "oval": "oval",
    "rectangle": "rectangle",
    "traced": "traced",
    "none": "none",
    "dry": "dry",
    "oiled": "oiled",
    "anti-seize": "anti-seize",
    "own": "own",
    "a circle": "a circle",
    "a square": "a square",
    "a triangle": "a triangle",
    "a plus": "a plus",
    "a dash": "a dash",
    "three strokes": "three strokes",
    "six strokes": "six strokes",
    "top": "top",
    "right": "right",
    "bottom": "bottom",
    "left": "left",
    "wet": "wet",
    "after": "after",
    "before": "before",
    "case": "case",
    "barrel": "barrel",
    "head": "head",
    "pushrod": "pushrod",
    "cylinder": "cylinder",
    "rocker": "rocker",
    "tappet": "tappet",
    "tappet bore": "tappet bore",
    "rocker bush": "rocker bush",
    "rocker shaft": "rocker shaft",
    "guide": "guide",
    "stem": "stem",
    "valve": "valve",
    "running": "running",
    "above": "above",
    "below": "below",
    "cam": "cam",
    "chosen": "chosen",
    "nearest": "nearest",
    "fills": "fills",
    "lobes": "lobes",
    "highest": "highest",
    "lowest": "lowest",
    "least": "least",
    "most": "most",
    "studs": "studs",
    "humidity": "humidity",
    "start": "start",
    "free": "free",
    "fitted": "fitted",
    "bound": "bound",
    "first": "first",
    "second": "second",
    "verdict": "verdict",
    "diameter": "diameter",
    "pitch": "pitch",
    "metric coarse": "metric coarse",
    "metric fine": "metric fine",
    "unified coarse": "unified coarse",
    "unified fine": "unified fine",
    "Whitworth coarse": "Whitworth coarse",
    "Whitworth fine": "Whitworth fine",
    "British Association": "British Association",
    "parallel pipe": "parallel pipe",
    "taper pipe": "taper pipe",
    "none, or the maker's own": "none, or the maker's own",
    "length": "length",
    "torque": "torque",
    "area": "area",
    "volume": "volume",
    "angle": "angle",
    "share": "share",
    "force": "force",
    "spring rate": "spring rate",
    "pressure": "pressure",
    "temperature": "temperature",
    "speed": "speed",
    "duration": "duration",
    "density": "density",
    "speed of rotation": "speed of rotation",
    "km": "km",
    "miles": "miles",
    "snug first": "snug first",
    "every pass": "every pass",
    "before the nuts": "before the nuts",
    "after the nuts": "after the nuts",
}


def word(key: str) -> str:
    """Return what the reader is told where the code compares ``key``; any other text as it is.

    So a translation changes words and never what is compared.

    Examples
    --------
    >>> word("too close to call"), word("12 mm")
    ('too close to call', '12 mm')
    """
    return _KEY_WORDS.get(key, key)


def listed(things: Iterable[object]) -> str:
    """Return "1, 2 and 3"; there must be one thing at least.

    Examples
    --------
    >>> listed((1, 2, 3)), listed(["11"])
    ('1, 2 and 3', '11')
    """
    *most, last = map(str, things)
    return f"{', '.join(most)} and {last}" if most else last
