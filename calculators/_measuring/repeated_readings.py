"""What repeated readings and their instrument come to: a result with an honest ±."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from uncertainties import UFloat, ufloat

from calculators._report import Source
from calculators._units import figures
from calculators.formulas.measured_mean import coverage_factor, effective_degrees, widened

SCATTER = "Scatter of the readings"
SCALE = "Reading of the scale"

REPEATS = Source(
    "JCGM 100:2008 (GUM), 4.2.3 and 4.2.4 for the scatter, 4.3.7 for the limits, 5.1.2, G.4.1 and Table G.2 (95.45 %)"
)


@dataclass(frozen=True, slots=True)
class Result:
    """A result and how it was judged.

    Parameters
    ----------
    value : ufloat or float
        Its standard deviation is k/2 times u, so that twice it is the expanded uncertainty.
    combined : float
        The combined standard uncertainty u.
    degrees : float
        Effective degrees of freedom; infinite where no scatter has a say.
    factor : float
        Coverage factor k.
    """

    value: Any
    combined: float
    degrees: float
    factor: float

    @property
    def middle(self) -> float:
        return float(self.value.nominal_value if isinstance(self.value, UFloat) else self.value)

    @property
    def expanded(self) -> float:
        return self.factor * self.combined

    @property
    def degrees_words(self) -> str:
        """The degrees of freedom as the table of factors counts them."""
        return figures(math.floor(self.degrees + 1e-9), 0) if self.degrees < 1000 else "more than 1000"


def part(deviation: float, name: str) -> Any:
    """Return an influence of mean nought that is known by its standard deviation; nought where that is."""
    return ufloat(0.0, deviation, name) if deviation else 0.0


def result(value: Any, degrees: int) -> Result:
    """Widen a value's uncertainty to what the few readings behind it allow.

    Parameters
    ----------
    value : ufloat or float
        Built of ``part``s; those named ``SCATTER`` come from repeated readings.
    degrees : int
        Degrees of freedom of their scatter.
    """
    if not isinstance(value, UFloat) or not value.std_dev:
        return Result(value.nominal_value if isinstance(value, UFloat) else value, 0.0, math.inf, 2.0)
    combined = float(value.std_dev)
    scatter = math.sqrt(
        sum(share**2 for variable, share in value.error_components().items() if variable.tag == SCATTER)
    )
    effective = effective_degrees(combined, [(scatter, degrees)] if scatter else [])
    factor = coverage_factor(effective)
    return Result(widened(value, factor / 2), combined, effective, factor)
