"""One head that stands elsewhere than before, and what hangs on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators._compression.words import named
from calculators._units import bare, figures, quantity
from calculators.formulas.decision_rule import Verdict


@dataclass(frozen=True, kw_only=True, slots=True)
class Moved:
    """One head and its pushrods and tubes; ``Any`` is a float in mm, or a ufloat where the readings carry a ±."""

    cylinders: tuple[int, ...]
    shift: Any
    spacers: float
    pushrod: Any  # that restores the rocker
    reach: Any  # that the adjuster's end must follow, at the pushrod
    screwed_in: Any
    left: Any  # of the adjuster's travel, the way it went
    adjuster: Verdict
    seats: Any  # how far apart the tube's seats stand
    crush: Any
    tube: Verdict
    off_square: float  # degrees, after

    @property
    def name(self) -> str:
        return named(self.cylinders, "cylinder")


def millimetres(number: Any) -> Any:
    """Return a length of so many mm."""
    return quantity(number, "mm")


def in_words(number: Any, places: int = 2) -> str:
    """Return a length in mm as it is printed, without its uncertainty."""
    return f"{figures(bare(number)[0], places)} mm"


def moves(shift: Any) -> str:
    """Return "moves out 1.00 mm", "moves in 0.50 mm" or "stays where it was"."""
    best = bare(shift)[0]
    if abs(best) < 0.005:
        return "stays where it was"
    return f"moves {'out' if best > 0 else 'in'} {in_words(abs(best))}"
