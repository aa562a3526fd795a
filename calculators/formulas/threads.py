"""Screw threads of the trade: their geometry, and what steels their studs and bolts are made of."""

from __future__ import annotations

import math
from dataclasses import dataclass

INCH = 25.4
TAN_FLANK = math.tan(math.radians(30))
PITCH_DEPTH = 0.75 * math.cos(math.radians(30))
"""Of a 60° thread, in pitches: how far its pitch diameter lies under the major one (ISO 68-1: 0.649519)."""
MINOR_DEPTH = 1.25 * math.cos(math.radians(30))
"""The same of the internal thread's minor diameter (ISO 68-1: 1.082532)."""


@dataclass(frozen=True, slots=True)
class Thread:
    """One thread of a standard's series.

    Parameters
    ----------
    name : str
        As it is written: ``"M10 × 1.5"``, ``"3/8-24"``.
    series : str
        ``"metric coarse"``, ``"unified fine"``.
    major, pitch : float, [mm]
    per_inch : float, optional
        Threads per inch, where the standard counts so.
    flanks : float, [°]
        The angle between the flanks.
    """

    name: str
    series: str
    major: float
    pitch: float
    per_inch: float | None = None
    flanks: float = 60.0


def pitch_diameter(major: float, pitch: float) -> float:
    r"""Return the pitch diameter of a 60° thread.

    Parameters
    ----------
    major, pitch : float, [mm]

    Notes
    -----
    .. math:: d_2 = d - \frac{3}{4} \frac{\sqrt 3}{2} P

    Examples
    --------
    >>> round(pitch_diameter(10, 1.5), 3)
    9.026

    References
    ----------
    ISO 724 and ISO 68-1.
    """
    return major - PITCH_DEPTH * pitch


def minor_diameter(major: float, pitch: float) -> float:
    r"""Return the minor diameter of a 60° internal thread, the bore of a nut.

    Parameters
    ----------
    major, pitch : float, [mm]

    Notes
    -----
    .. math:: D_1 = D - \frac{5}{4} \frac{\sqrt 3}{2} P

    Examples
    --------
    >>> round(minor_diameter(10, 1.5), 3)
    8.376

    References
    ----------
    ISO 724 and ISO 68-1.
    """
    return major - MINOR_DEPTH * pitch


def stress_area(thread: Thread) -> float:
    r"""Return the area that carries the pull in a stud, [mm²].

    Parameters
    ----------
    thread : Thread
        With flanks of 60°.

    Notes
    -----
    .. math:: A_s = \frac{\pi}{4} (d - 0.938194 P)^2, \quad A_s = \frac{\pi}{4} (d - 0.9743 / n)^2

    the second for threads counted per inch.

    Examples
    --------
    >>> round(stress_area(FASTENERS["M10 × 1.5"]), 1), round(stress_area(FASTENERS["3/8-24"]) / 25.4**2, 4)
    (58.0, 0.0878)

    References
    ----------
    ISO 898-1, stress area; ASME B1.1, tensile stress area.
    """
    depth = 0.9743 if thread.per_inch else 13 / 12 * math.cos(math.radians(30))
    return math.pi / 4 * (thread.major - depth * thread.pitch) ** 2


def insert_major(major: float, pitch: float) -> float:
    r"""Return the major diameter of the hole's thread that takes a wire thread insert.

    Parameters
    ----------
    major, pitch : float, [mm]
        Of the stud.

    Notes
    -----
    .. math:: D_{insert} = d + \frac{3}{2} \frac{\sqrt 3}{2} P

    The hole has the stud's pitch, and stands off by the height of the wire.

    Examples
    --------
    >>> round(insert_major(10, 1.5), 3)
    11.949

    References
    ----------
    ASME B18.29.2M, tapped hole before the insert (from memory).
    """
    return major + 2 * PITCH_DEPTH * pitch


def drill_for(major: float, pitch: float, share: float) -> float:
    r"""Return the drill that leaves so much of the full thread.

    Parameters
    ----------
    major, pitch : float, [mm]
        Of the thread to be tapped.
    share : float
        Height of the thread that is left, of a whole one: 0.75 is common.

    Notes
    -----
    .. math:: d_{drill} = d - 1.299038 \, P \, q

    Examples
    --------
    >>> round(drill_for(10, 1.5, 0.75), 2), round(drill_for(25.4 * 3 / 8, 25.4 / 16, 0.75) / 25.4, 4)
    (8.54, 0.3141)

    References
    ----------
    The handbook rule "0.01299 × per cent of full thread ÷ threads per inch" (from memory).
    """
    return major - 2 * PITCH_DEPTH * pitch * share


def thread_left(major: float, pitch: float, drill: float) -> float:
    """Return the share of the full thread that a drill leaves; the inverse of ``drill_for``.

    Examples
    --------
    >>> round(thread_left(10, 1.5, 8.5), 3)
    0.77
    """
    return (major - drill) / (2 * PITCH_DEPTH * pitch)


def least_major(thread: Thread) -> float:
    r"""Return the smallest outside diameter of a stud of ordinary fit, [mm].

    Notes
    -----
    Tolerance 6g: what is missing under the nominal size is at most

    .. math:: (15 + 11 P) + (180 \sqrt[3]{P^2} - 3.15 / \sqrt P) \quad [\mu m]

    The inch series' own tolerances are as wide to within some hundredths of a millimetre.

    Examples
    --------
    >>> round(least_major(FASTENERS["M10 × 1.5"]), 3)
    9.735

    References
    ----------
    ISO 965-1, formulae for tolerances and fundamental deviations (from memory).
    """
    pitch = thread.pitch
    return thread.major - (15 + 11 * pitch + 180 * math.cbrt(pitch**2) - 3.15 / math.sqrt(pitch)) / 1000


def _metric(size: int, *pitches: float) -> list[Thread]:
    return [
        Thread(f"M{size} × {pitch:g}", f"metric {'fine' if number else 'coarse'}", float(size), pitch)
        for number, pitch in enumerate(pitches)
    ]


def _inch(name: str, size: float, per_inch: float, series: str) -> Thread:
    return Thread(f"{name}-{per_inch:g}", series, INCH * size, INCH / per_inch, per_inch)


_COARSE_AND_FINE = (
    ("#10", 0.190, 24, 32),
    ("#12", 0.216, 24, 28),
    ("1/4", 1 / 4, 20, 28),
    ("5/16", 5 / 16, 18, 24),
    ("3/8", 3 / 8, 16, 24),
    ("7/16", 7 / 16, 14, 20),
    ("1/2", 1 / 2, 13, 20),
)  # ASME B1.1

FASTENERS: dict[str, Thread] = {
    thread.name: thread
    for thread in (
        *_metric(5, 0.8, 0.5),
        *_metric(6, 1, 0.75),
        *_metric(7, 1, 0.75),
        *_metric(8, 1.25, 1),
        *_metric(10, 1.5, 1.25, 1),
        *_metric(12, 1.75, 1.5, 1.25),
        *_metric(14, 2, 1.5, 1.25),
        *(
            _inch(name, size, count, series)
            for name, size, coarse, fine in _COARSE_AND_FINE
            for count, series in ((coarse, "unified coarse"), (fine, "unified fine"))
        ),
    )
}
"""Threads of studs and bolts by name: ISO 261 M5 to M14, ASME B1.1 #10 to 1/2."""

_WHITWORTH = (
    ("3/16", 3 / 16, 24, 32),
    ("1/4", 1 / 4, 20, 26),
    ("5/16", 5 / 16, 18, 22),
    ("3/8", 3 / 8, 16, 20),
    ("7/16", 7 / 16, 14, 18),
    ("1/2", 1 / 2, 12, 16),
)  # BS 84
_ASSOCIATION = ((0, 6.0, 1.0), (1, 5.3, 0.90), (2, 4.7, 0.81), (3, 4.1, 0.73), (4, 3.6, 0.66))  # BS 93

NEIGHBOURS: tuple[Thread, ...] = (
    *_metric(3, 0.5),
    *_metric(4, 0.7),
    *_metric(16, 2, 1.5),
    *_metric(18, 2.5, 1.5),
    *_metric(20, 2.5, 1.5),
    *(
        Thread(f"{name}-{count} {letters}", f"Whitworth {series}", INCH * size, INCH / count, count, 55.0)
        for name, size, coarse, fine in _WHITWORTH
        for count, letters, series in ((coarse, "BSW", "coarse"), (fine, "BSF", "fine"))
    ),
    *(Thread(f"{number} BA", "British Association", major, pitch, None, 47.5) for number, major, pitch in _ASSOCIATION),
    Thread("G 1/8", "parallel pipe", 9.728, INCH / 28, 28, 55.0),
    Thread("G 1/4", "parallel pipe", 13.157, INCH / 19, 19, 55.0),
    Thread("1/8-27 NPT", "taper pipe", 0.405 * INCH, INCH / 27, 27),
    Thread("1/4-18 NPT", "taper pipe", 0.540 * INCH, INCH / 18, 18),
)
"""Other threads that lie beside these in the same tin: BS 84, BS 93, ISO 228-1, ASME B1.20.1 (from memory)."""


@dataclass(frozen=True, slots=True)
class Steel:
    """What a class or grade of stud is proved to, [MPa].

    ``head`` and ``end`` say how it is marked: on the head of a bolt, on the end of a stud.
    """

    name: str
    proof: float
    yielding: float
    breaking: float
    head: str
    end: str

    @property
    def graded(self) -> bool:
        """True for an inch grade, false for a metric property class."""
        return self.name.startswith("grade")


_KSI = 6.894757293168
_END_SIGNS = {"5.6": "a dash", "8.8": "a circle", "9.8": "a plus", "10.9": "a square", "12.9": "a triangle"}

STEELS: dict[str, Steel] = {
    name: Steel(name, proof, yielding, breaking, name, _END_SIGNS.get(name, name))
    for name, proof, yielding, breaking in (
        ("4.6", 225.0, 240.0, 400.0),
        ("4.8", 310.0, 340.0, 420.0),
        ("5.6", 280.0, 300.0, 500.0),
        ("5.8", 380.0, 420.0, 520.0),
        ("6.8", 440.0, 480.0, 600.0),
        ("8.8", 580.0, 640.0, 800.0),
        ("9.8", 650.0, 720.0, 900.0),
        ("10.9", 830.0, 940.0, 1040.0),
        ("12.9", 970.0, 1100.0, 1220.0),
    )  # ISO 898-1, stress under proof load, least 0.2 % proof or lower yield stress, least strength; up to 16 mm
} | {
    name: Steel(name, proof * _KSI, yielding * _KSI, breaking * _KSI, head, "none, or the maker's own")
    for name, proof, yielding, breaking, head in (
        ("grade 1", 33, 36, 60, "none"),
        ("grade 2", 55, 57, 74, "none"),
        ("grade 5", 85, 92, 120, "three strokes"),
        ("grade 8", 120, 130, 150, "six strokes"),
    )  # SAE J429, table 1, up to 3/4 in
}
"""Property classes and grades by name."""

_ACROSS_FLATS = {
    "#10": 3 / 8,
    "#12": 7 / 16,
    "1/4": 7 / 16,
    "5/16": 1 / 2,
    "3/8": 9 / 16,
    "7/16": 11 / 16,
    "1/2": 3 / 4,
}
_METRIC_FACES = {5: 6.88, 6: 8.88, 7: 9.63, 8: 11.63, 10: 14.63, 12: 16.63, 14: 19.64}
_METRIC_HOLES = {5: 5.5, 6: 6.6, 7: 7.6, 8: 9.0, 10: 11.0, 12: 13.5, 14: 15.5}


def nut_face(thread: Thread) -> float:
    """Return the outside diameter of the ring on which an ordinary hexagon nut bears, [mm].

    Parameters
    ----------
    thread : Thread
        One of ``FASTENERS``.

    Examples
    --------
    >>> nut_face(FASTENERS["M10 × 1.5"]), round(nut_face(FASTENERS["3/8-24"]), 2)
    (14.63, 13.57)

    References
    ----------
    ISO 4032, least diameter of the bearing face; ASME B18.2.2, 95 % of the width across flats (both from memory).
    """
    if thread.per_inch is None:
        return _METRIC_FACES[round(thread.major)]
    return 0.95 * INCH * _ACROSS_FLATS[thread.name.partition("-")[0]]


def clearance_hole(thread: Thread) -> float:
    """Return the hole through which an ordinary stud passes, [mm].

    Parameters
    ----------
    thread : Thread
        One of ``FASTENERS``.

    Examples
    --------
    >>> clearance_hole(FASTENERS["M10 × 1.5"]), round(clearance_hole(FASTENERS["3/8-24"]) / 25.4, 3)
    (11.0, 0.406)

    References
    ----------
    ISO 273, medium series; 1/32 in over size, 1/16 in for 1/2 in, as ASME B18.2.8 normal fit (both from memory).
    """
    if thread.per_inch is None:
        return _METRIC_HOLES[round(thread.major)]
    return thread.major + INCH / (16 if thread.major > 0.45 * INCH else 32)
