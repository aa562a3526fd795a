"""An adjusting screw, and what a turn of it is worth."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.bench import Source, Value, magnitude_in, quantity
from calculators.formulas.adjuster_screw import WHOLE_TURN, Place, leverage, screw_turn

SCREW = Source("lead of a single-start thread, and similar triangles at the rocker", "identity")


@dataclass(frozen=True, slots=True)
class Screw:
    """An adjusting screw: how far a turn moves it, where it sits, and the rocker's ratio."""

    pitch: Any
    at: Place
    ratio: float

    @property
    def lever(self) -> float:
        return leverage(self.at, self.ratio)

    @property
    def per_mm(self) -> float:
        """Degrees of its turn for each millimetre of gap."""
        return WHOLE_TURN / (magnitude_in(self.pitch, "mm") * self.lever)


def screw_values(screw: Screw) -> tuple[Value, ...]:
    """Return what a turn of the screw is worth."""
    lever = screw.lever
    formula = (
        "360° × change of the gap ÷ (pitch × leverage); the leverage is "
        + {
            "valve": "1, as the screw sits in the valve end",
            "pushrod": "the rocker ratio, as the screw sits in the pushrod end",
            "pivot": "1 + the rocker ratio, as the nut moves the pivot",
        }[screw.at]
    )
    given = (("pitch", screw.pitch), ("rocker ratio", screw.ratio), ("leverage", lever))
    return (
        *(
            Value(
                key=key,
                label=f"Turn of the screw for {label}",
                quantity=quantity(screw_turn(quantity(one, unit), screw.pitch, lever).m_as(""), "°"),
                places=1,
                formula=formula,
                source=SCREW,
                given=(("change of the gap", quantity(one, unit)), *given),
            )
            for key, label, one, unit in (("per_hundredth", "0.01 mm", 0.01, "mm"), ("per_thou", "1 thou", 1.0, "thou"))
        ),
        Value(
            key="per_turn",
            label="One whole turn changes the gap by",
            quantity=screw.pitch * lever,
            units=("mm", "thou"),
            formula="pitch × leverage",
            source=SCREW,
            given=given,
        ),
    )
