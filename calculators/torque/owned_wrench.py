"""A wrench as it was typed, and with an extension on it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators.bench import FieldError, InputErrors, Lacking, Quantity, magnitude_in, number_in, symbol_of
from calculators.formulas.wrench_reach import Wrench, permitted_deviation, setting_share
from calculators.torque.passes import MAIN_WORDS

TYPES = {
    "unknown": "No standard marked on it",
    "click": "Click wrench with a scale",
    "dial": "Dial or display",
    "beam": "Deflecting beam with a pointer",
    "screwdriver": "Torque screwdriver",
}
LEAST_LEVER = 0.2
"""Share of the wrench's lever that must be left, where an extension points back (common practice, no source)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Extension:
    """What sets the nut off the drive square: its length and its angle, 0 straight on."""

    length: Quantity
    angle: Quantity


@dataclass(frozen=True, kw_only=True, slots=True)
class Owned:
    """A wrench as it was typed: ``stem`` begins the keys of its entries, ``name`` is what it is called."""

    stem: str
    name: str
    step: Quantity
    low: Quantity | None
    high: Quantity | None
    kind: str
    lever: Quantity | None

    def with_extension(self, extension: Extension | None, reach: Quantity | None) -> Wrench:
        """Return the wrench with what is on it.

        Parameters
        ----------
        extension : Extension, optional
        reach : Quantity, [torque], optional
            What it must reach at the least, where nobody says how far its scale goes.

        Raises
        ------
        Lacking
        InputErrors
        """
        unit = symbol_of(self.step)
        lowest, highest = (None if end is None else magnitude_in(end, unit) for end in (self.low, self.high))
        if lowest is not None and highest is not None and lowest >= highest:
            message = f"Lowest {self.name} setting must be below the highest"
            raise InputErrors(FieldError(f"{self.stem}_low", message))
        end = self.high if self.high is not None else reach
        return Wrench(
            name=self.name,
            unit=unit,
            step=float(self.step.magnitude),
            lowest=lowest,
            highest=highest,
            deviation=permitted_deviation(self.kind, 0.0 if end is None else magnitude_in(end, "N·m")),
            share=1.0 if extension is None else self._share(extension),
        )

    def _share(self, extension: Extension) -> Any:
        if self.lever is None:
            noun = "wrench lever length" if self.name == MAIN_WORDS else f"{self.name} lever length"
            raise Lacking(FieldError(f"{self.stem}_length", f"Enter the {noun}, in millimetres"))
        turned = magnitude_in(extension.angle, "°")
        along = magnitude_in(extension.length, "mm") * math.cos(math.radians(turned))
        if 1 + along / magnitude_in(self.lever, "mm") < LEAST_LEVER:
            message = "Extension length must be shorter: pointing back, it leaves less than a fifth of the wrench lever"
            raise InputErrors(FieldError("extension", message))
        return setting_share(number_in(self.lever, "mm"), number_in(extension.length, "mm"), turned)
