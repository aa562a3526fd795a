"""What published maintenance manuals allow on engines of their own: the range a maker's limit may lie in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from calculators.bench.units import figures
from calculators.bench.words import listed, word
from calculators.fits.fit import Fit


@dataclass(frozen=True, slots=True)
class Published:
    """Limits of several manuals for one thing; a figure in inches is turned into mm by 25.4.

    Parameters
    ----------
    bound : str
        ``"greatest"`` or ``"least"``.
    limits : tuple of (str, float)
        Manual, limit. Where in the manual, and how it was read, is on the page of published limits.
    unit : str
        What the limits are counted in. Wear that is allowed grows with the bore, so it is a share of it.
    """

    bound: str
    limits: tuple[tuple[str, float], ...]
    unit: str = "mm"

    @property
    def said(self) -> str:
        """Return ``"0.100 to 0.200 mm"``."""
        places = 3 if self.unit == "mm" else 2
        ends = dict.fromkeys(figures(end(limit for _, limit in self.limits), places) for end in (min, max))
        return f"{' to '.join(ends)} {self.unit}"


_LIFT_TRUCK = "TM 10-3930-653-14&P"
_LOADER = "TM 10-3930-659-34"
_CRANE = "TM 5-3810-206-35"
_AIR_COOLED = "TM 9-2815-220-24"
_GENERATOR = "TM 5-6115-545-34"
_HANDLER = "TM 5-3810-306-34"
_TRUCK = "TM 9-2815-254-24"

_STEM_IN_GUIDE = Published("greatest", (("TM 9-4310-397-14", 0.152), (_LIFT_TRUCK, 0.15), (_CRANE, 0.178)))

PUBLISHED = {
    "wear": Published(
        "greatest",
        (("TM 10-3930-647-14&P", 1.0), (_GENERATOR, 1.18), (_AIR_COOLED, 1.22), ("TM 5-3805-255-14", 1.49)),
        "thousandths of the bore",
    ),
    "out_of_round": Published("greatest", (("TM 10-4320-351-14", 0.051), (_AIR_COOLED, 0.076))),
    "taper": Published("greatest", (("TM 10-4320-351-14", 0.051), (_LOADER, 0.051))),
    "piston_clearance": Published("greatest", ((_LOADER, 0.152), ("TM 5-4930-227-14", 0.165))),
    "narrow_gap": Published("least", (("TM 5-3825-229-14&P", 0.254), (_TRUCK, 0.2))),
    "wide_gap": Published("greatest", ((_LIFT_TRUCK, 1.0), (_TRUCK, 1.5))),
    "side_clearance": Published("greatest", ((_LIFT_TRUCK, 0.1), ("TM 9-2815-226-34-1", 0.152))),
    "guide_clearance": _STEM_IN_GUIDE,
    "rocked_clearance": _STEM_IN_GUIDE,
    "runout": Published(
        "greatest", (("TM 5-2815-241-34&P", 0.025), ("TM 9-4310-397-14", 0.051), ("TM 10-3930-671-24", 0.051))
    ),
    "margin": Published("least", ((_HANDLER, 1.5), ("TM 5-3810-289-34", 1.588))),
    "flatness": Published("greatest", ((_HANDLER, 0.076), ("TM 9-4940-549-14&P", 0.076), (_LIFT_TRUCK, 0.1))),
    "bush": Published("greatest", ((_LIFT_TRUCK, 0.1), (_TRUCK, 0.2))),
    "tappet": Published("greatest", ((_LIFT_TRUCK, 0.1), (_CRANE, 0.229))),
    "pushrod": Published("greatest", ((_LIFT_TRUCK, 0.05), ("TM 9-2815-225-34&P", 0.889))),
}
"""By the key of what is judged. Engines, fuels and cooling differ: no limit here decides."""


def notes_on(fits: Iterable[Fit]) -> Iterator[str]:
    """Say for each thing that is judged what manuals allow elsewhere."""
    for noun, key in {fit.kind.noun: fit.kind.key for fit in fits}.items():
        if known := PUBLISHED.get(key):
            manuals = listed(f"US Army {manual}" for manual, _ in known.limits)
            yield (
                f"{noun[0].upper()}{noun[1:]}: {word(known.bound)} on other engines {known.said}, as {manuals} "
                "print it. It shows the range; the engine maker's figure decides."
            )
