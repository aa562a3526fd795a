"""One seal and its crush: how far it is pressed, within which band, and what that means."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.bench import (
    Entry,
    FieldError,
    InputErrors,
    Quantity,
    choice,
    length,
    magnitude_in,
    measure,
    optional,
    read_by_instrument,
    shared,
)
from calculators.bench.verdict import best_of, verdict_on
from calculators.formulas.decision_rule import Verdict

_SEALS = "seals and washers of engines"
MAKERS = "The maker's own band"
READINGS = "How good the readings are"

BANDS = {
    "o_ring": ("O-ring in a groove", 10.0, 30.0),
    "tube": ("Rubber seal of a pushrod tube", 15.0, 40.0),
    "cork": ("Cork or rubber gasket under a cover", 20.0, 50.0),
    "copper": ("Copper washer, annealed", 5.0, 20.0),
    "aluminium": ("Aluminium washer", 5.0, 25.0),
    "fibre": ("Fibre washer", 5.0, 30.0),
}
"""Kind of seal → what the reader sees, least and most crush in per cent of the free thickness."""


@dataclass(frozen=True, slots=True)
class Crush:
    """One seal as measured: lengths in mm, crush and its band in per cent."""

    number: int
    seen: str
    free: Any
    fitted: Any
    crush: Any
    least: float
    most: float
    verdict: Verdict

    @property
    def deed(self) -> str:
        if self.verdict == "in":
            return "seals"
        if self.verdict == "too close to call":
            return "measure again with a finer gauge"
        return "too little: it leaks" if best_of(self.crush) < self.least else "too much: it splits or flattens"


def kind(example: str) -> Entry[str]:
    """Ask what seals."""
    return choice("Kind", {key: seen for key, (seen, _, _) in BANDS.items()}, example=example)


def free(example: str) -> Entry[Quantity]:
    """Ask how thick it is before."""
    return length(
        "Free thickness", 0.2, 30, why=_SEALS, hint="New, not yet pressed.", example=example, read_by="calliper"
    )


def fitted(example: str) -> Entry[Quantity]:
    """Ask how thick the parts leave it."""
    return length(
        "Fitted thickness",
        0.05,
        30,
        why=_SEALS,
        hint="With the parts tight: depth of the groove, the gap, or the washer after tightening.",
        example=example,
        read_by="depth_gauge",
        said="pressed to {}",
    )


def crush_limit(label: str, refines: str | None = None) -> Entry[Quantity | None]:
    """Ask for one end of the maker's own band."""
    return optional(
        measure(
            label,
            "%",
            0,
            90,
            why="no seal can be crushed further",
            exact=True,
            hint="From its maker. Empty: common practice.",
            refines=refines,
            said=f"{label.partition(' ')[0].lower()} {{}}",
        )
    )


thickness_error = shared.error_limit(
    "Error limit of the thickness readings",
    "mm",
    1,
    hint="Plus or minus. A ± typed with a reading wins over it.",
    usual="0.02 mm",
    shared_as="thickness_error",
    refines=READINGS,
    said="thickness ± {}",
)


def band_of(kind: str, least: Quantity | None, most: Quantity | None, row: int = 0) -> tuple[float, float]:
    """Return the least and the most crush in per cent: the maker's, else the usual.

    Raises
    ------
    InputErrors
        A band upside down.
    """
    low = BANDS[kind][1] if least is None else magnitude_in(least, "%")
    high = BANDS[kind][2] if most is None else magnitude_in(most, "%")
    if low > high:
        key, side, bound = (
            ("least_crush", "no more than the most", high)
            if most is None
            else ("most_crush", "no less than the least", low)
        )
        label = key.replace("_", " ").capitalize() + (f" of seal {row}" if row else "")
        raise InputErrors(FieldError(f"{key}.{row}" if row else key, f"{label} must be {side}, {bound:g}%"))
    return low, high


def thickness_read(value: Quantity, instrument: str, limit: Quantity) -> Any:
    """Return a thickness in mm; the free one is read by another instrument than groove, gap or pressed washer."""
    return read_by_instrument([value], "mm", instrument=instrument, limit=limit)[0]


def crushed(
    number: int, kind: str, free: Quantity, fitted: Quantity, band: tuple[float, float], limit: Quantity
) -> Crush:
    """Judge one seal as it lies; in or out only if all of it, ± included, is (ISO 14253-1)."""
    whole, left = thickness_read(free, "calliper", limit), thickness_read(fitted, "depth gauge", limit)
    crush = 100 * (whole - left) / whole
    return Crush(number, BANDS[kind][0], free, fitted, crush, *band, verdict_on(crush, *band))
