"""The gaps to set while the lock-nut is loose, so that they come right when it is tight."""

from __future__ import annotations

from collections.abc import Mapping

from calculators.bench import FieldError, InputErrors, Quantity, magnitude_in, printed, quantity
from calculators.bench.words import word
from calculators.formulas.base_circle import Kind

LEAST_SET = 0.02
"""Millimetres; no thinner blade is set by."""


def loosened(wanted: Mapping[Kind, Quantity], pull: Quantity, key: str) -> dict[Kind, Quantity]:
    """Return the gaps to set with the nut loose.

    Parameters
    ----------
    wanted : mapping of kind to Quantity, [length]
    pull : Quantity, [length]
        What tightening adds to a gap; negative where it takes.
    key : str
        Of the entry to blame.

    Raises
    ------
    InputErrors
        It leaves less than a blade.
    """
    loose: dict[Kind, Quantity] = {kind: gap - pull for kind, gap in wanted.items()}
    for kind, gap in loose.items():
        if magnitude_in(gap, "mm") < LEAST_SET:
            added = printed(quantity(magnitude_in(pull, "mm"), "mm"), "mm")
            message = (
                f"The lock-nut adds {added}, which leaves less than {LEAST_SET} mm to set the {word(kind)} valves to. "
                "Clean or change the screw and the nut, then try again."
            )
            raise InputErrors(FieldError(key, message))
    return loose
