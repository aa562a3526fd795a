"""How far seals and washers are crushed, and whether that is enough and not too much."""

from __future__ import annotations

from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._report import COMMON_PRACTICE, Column, Row, Table
from calculators._units import bare, magnitude_in, quantity
from calculators._verdict import instrument
from calculators.formulas.decision_rule import Verdict, judged

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
            return "measure again, finer"
        return "too little: it leaks" if bare(self.crush)[0] < self.least else "too much: it splits or flattens"


def read_seals(inputs: SimpleNamespace) -> tuple[Crush, ...]:
    """Judge each seal.

    Raises
    ------
    InputErrors
        A band of crush upside down.
    """
    new = instrument("Error limit of the free thickness", inputs.thickness_error, "mm")
    tight = instrument(
        "Error limit of the fitted thickness", inputs.thickness_error, "mm"
    )  # a groove's gauge is another
    errors, seals = [], []
    columns = (inputs.seal, inputs.free, inputs.fitted, inputs.least_crush, inputs.most_crush)
    for number, (kind, free, fitted, low, high) in enumerate(zip(*columns, strict=True), 1):
        seen, least, most = BANDS[kind]
        least = least if low is None else magnitude_in(low, "%")
        most = most if high is None else magnitude_in(high, "%")
        if least > most:
            key, side = (
                ("least_crush", "no more than the most") if high is None else ("most_crush", "no less than the least")
            )
            label = key.replace("_", " ").capitalize()
            bound = most if high is None else least
            errors.append(FieldError(f"{key}.{number}", f"{label} of seal {number} must be {side}, {bound:g}%"))
            continue
        whole = new.read(free, f"Free thickness of seal {number}")
        left = tight.read(fitted, f"Fitted thickness of seal {number}")
        crush = 100 * (whole - left) / whole
        best, expanded = bare(crush)
        verdict = judged(best, expanded or 0.0, least, most, grain=1e-9)
        seals.append(Crush(number, seen, free, fitted, crush, least, most, verdict))
    if errors:
        raise InputErrors(*errors)
    return tuple(seals)


def seals_table(seals: tuple[Crush, ...]) -> Table:
    """Return each seal's crush against its band."""
    rows = (
        Row(
            cells=(
                f"{one.number}",
                one.seen,
                quantity(one.crush, "%"),
                f"{one.least:g} to {one.most:g}%",
                one.verdict,
                one.deed,
            ),
            chosen=one.verdict == "out",
        )
        for one in seals
    )
    return Table(
        key="seals",
        title="Crush of the seals and washers",
        columns=(
            Column(key="seal", label="Seal"),
            Column(key="kind", label="Kind"),
            Column(key="crush", label="Crush", unit="%", places=0, strong=True),
            Column(key="band", label="Wanted"),
            Column(key="verdict", label="Verdict"),
            Column(key="deed", label="That is", wide=True),
        ),
        rows=tuple(rows),
        formula="(free thickness − fitted thickness) ÷ free thickness; in or out only where the whole of it with its ± "
        "is (ISO 14253-1)",
        source=COMMON_PRACTICE,
        given=tuple(
            (f"seal {one.number}", f"{magnitude_in(one.free, 'mm'):.2f} to {magnitude_in(one.fitted, 'mm'):.2f} mm")
            for one in seals
        ),
    )
