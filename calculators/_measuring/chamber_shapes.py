"""The chambers and crowns as measured: by burette where there are readings, else by their dimensions."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from uncertainties import UFloat

from calculators._errors import FieldError, InputErrors
from calculators._measuring.poured_volumes import IN_HOLE, Burette, Poured, poured, read_burette, read_fills, scatter_of
from calculators._measuring.repeated_readings import SCALE, SCATTER, Result, result
from calculators._units import bare, figures, magnitude_in, number_in, reading
from calculators.formulas.chamber_shape import cap_volume, crown_volume, frustum_volume
from calculators.formulas.cylinder_volume import bore_area

_DEPTH = "Piston depth"
_OWN = (SCALE, SCATTER, IN_HOLE, _DEPTH)
"""What each volume has of its own; burette, thermometer and bore are the same behind all of them."""


@dataclass(frozen=True, slots=True)
class Volume:
    """One volume, [cm³]; ``poured`` is None where it comes from dimensions."""

    raw: Any  # before the ± is widened for few readings
    result: Result
    poured: Poured | None

    @property
    def own(self) -> float:
        """The standard uncertainty that this volume does not share with the others, widened like the whole."""
        if self.poured is None or not isinstance(self.raw, UFloat):
            return 0.0
        parts = self.raw.error_components().items()
        shares = [share for variable, share in parts if str(variable.tag).startswith(_OWN)]
        return math.hypot(*shares) * self.result.factor / 2


@dataclass(frozen=True, slots=True)
class Shape:
    """A chamber as a dome over a cone over a step, [mm]; a part that is not there is None."""

    dome: tuple[float, ...] | None  # diameter, height
    cone: tuple[float, ...] | None  # wide, narrow, height
    step: tuple[float, ...] | None  # diameter, height
    parts: float  # cm³
    volume: Any  # cm³


@dataclass(frozen=True, slots=True)
class Chambers:
    """All that was measured."""

    chambers: tuple[Volume, ...]
    crowns: tuple[Volume | None, ...]
    shape: Shape | None
    burette: Burette
    scatter: float  # of one fill, cm³
    degrees: int


def read_chambers(inputs: SimpleNamespace) -> Chambers:
    """Work out every volume.

    Raises
    ------
    InputErrors
        For what only the fields together can tell.
    """
    burette = read_burette(inputs)
    fills = read_fills("fill", "", inputs.fill, inputs.fill_start)
    on_crowns = read_fills("crown_fill", " on the crown", inputs.crown_fill, inputs.crown_fill_start)
    scatter, degrees = scatter_of(fills, on_crowns)
    shape = _shape(inputs)
    errors: list[FieldError] = []
    chambers = []
    for number, read in enumerate(fills, 1):
        found = poured(burette, read, scatter) if read else None
        if found is None and shape is None:
            message = (
                f"Enter the burette readings of cylinder {number}, in cubic centimetres, or the chamber's dimensions"
            )
            errors.append(FieldError(f"fill.{number}", message))
            continue
        raw = found.value if found else shape.volume if shape else 0.0
        if bare(raw)[0] <= 0:
            message = f"Burette readings of cylinder {number} must exceed what stands in the hole of the plate"
            errors.append(FieldError(f"fill.{number}", message))
        chambers.append(Volume(raw, result(raw, degrees), found))
    crowns = tuple(_crowns(inputs, burette, on_crowns, scatter, degrees, errors))
    if errors:
        raise InputErrors(*errors)
    return Chambers(tuple(chambers), crowns, shape, burette, scatter, degrees)


_PARTS = (
    ("dome", ("dome_diameter", "dome_height")),
    ("cone", ("cone_wide", "cone_narrow", "cone_height")),
    ("step", ("step_diameter", "step_height")),
)
_WORDS = {
    "dome_diameter": "dome diameter",
    "dome_height": "dome height",
    "cone_wide": "cone diameter at the wide end",
    "cone_narrow": "cone diameter at the narrow end",
    "cone_height": "cone height",
    "step_diameter": "step diameter",
    "step_height": "step height",
}


def _shape(inputs: SimpleNamespace) -> Shape | None:
    errors, found = [], {}
    for part, keys in _PARTS:
        lengths = [getattr(inputs, key) for key in keys]
        if any(length is not None for length in lengths):
            errors += [
                FieldError(key, f"Enter the {_WORDS[key]}, in millimetres, or leave all of the {part} empty")
                for key, length in zip(keys, lengths, strict=True)
                if length is None
            ]
            found[part] = lengths
    if errors:
        raise InputErrors(*errors)
    if "dome" in found and magnitude_in(inputs.dome_height, "mm") > magnitude_in(inputs.dome_diameter, "mm") / 2 + 1e-9:
        raise InputErrors(FieldError("dome_height", "Dome height must be at most half the dome diameter"))
    if "cone" in found and magnitude_in(inputs.cone_narrow, "mm") > magnitude_in(inputs.cone_wide, "mm"):
        message = "Cone diameter at the narrow end must be at most that at the wide end"
        raise InputErrors(FieldError("cone_narrow", message))
    if not found:
        if inputs.parts is not None:
            message = "Valves, plug and pockets must be empty where the chamber has no dimensions"
            raise InputErrors(FieldError("parts", message))
        return None
    limit = magnitude_in(inputs.dimension_error, "cm")
    read = {
        part: [
            reading(magnitude_in(length, "cm"), limit, _WORDS[key].capitalize())
            for key, length in zip(dict(_PARTS)[part], lengths, strict=True)
        ]
        for part, lengths in found.items()
    }
    volume = 0.0 if inputs.parts is None else number_in(inputs.parts, "cm³")
    if "dome" in read:
        volume = volume + cap_volume(*read["dome"])
    if "cone" in read:
        volume = volume + frustum_volume(*read["cone"])
    if "step" in read:
        volume = volume + bore_area(read["step"][0]) * read["step"][1]
    if bare(volume)[0] <= 0:
        message = "Valves, plug and pockets must take up less than the dome, the cone and the step hold"
        raise InputErrors(FieldError("parts", message))
    sizes = {part: tuple(magnitude_in(length, "mm") for length in lengths) for part, lengths in found.items()}
    return Shape(
        dome=sizes.get("dome"),
        cone=sizes.get("cone"),
        step=sizes.get("step"),
        parts=0.0 if inputs.parts is None else magnitude_in(inputs.parts, "cm³"),
        volume=volume,
    )


def _crowns(
    inputs: SimpleNamespace,
    burette: Burette,
    fills: tuple[tuple[float, ...], ...],
    scatter: float,
    degrees: int,
    errors: list[FieldError],
) -> Iterator[Volume | None]:
    """Yield each crown's volume, or None where nothing was measured of it."""
    if inputs.bore is None:
        if any(cap is not None for cap in inputs.crown_depth) or any(fills):
            errors.append(FieldError("bore", "Enter the bore, in millimetres, for the crowns"))
        yield from [None] * inputs.cylinders
        return
    bore = _with_limit(inputs.bore, inputs.bore_error, "Bore")
    diameter = bore
    if inputs.crown_diameter is not None:
        diameter = _with_limit(inputs.crown_diameter, inputs.dimension_error, "Diameter of dome or dish")
    for number, (depth, read, cap) in enumerate(zip(inputs.piston_depth, fills, inputs.crown_depth, strict=True), 1):
        error = _crown_error(number, depth, read, cap, bare(diameter)[0])
        found, raw = None, None
        if error:
            errors.append(error)
        elif read:
            found = poured(burette, read, scatter)
            down = _with_limit(depth, inputs.depth_error, f"{_DEPTH} of cylinder {number}")
            raw = crown_volume(found.value, bore_area(bore), down)
            if abs(bare(raw)[0]) > _MOST:
                message = (
                    f"Burette readings on the crown of cylinder {number} must fit its piston depth; "
                    f"a crown of {figures(bare(raw)[0], 0)} cm³ is no piston's"
                )
                errors.append(FieldError(f"crown_fill.{number}", message))
        elif cap is not None:
            raw = cap_volume(diameter, _with_limit(cap, inputs.depth_error, f"Crown depth of cylinder {number}"))
        yield None if raw is None else Volume(raw, result(raw, degrees), found)


_MOST = 500.0
"""The largest crown volume that any calculator takes, cm³."""


def _crown_error(number: int, depth: Any, read: tuple[float, ...], cap: Any, diameter: float) -> FieldError | None:
    if read and cap is not None:
        message = f"Crown depth of cylinder {number} must be empty where its crown was filled"
        return FieldError(f"crown_depth.{number}", message)
    if read and depth is None:
        message = f"Enter the piston depth of cylinder {number}, in millimetres, for the fill on its crown"
        return FieldError(f"piston_depth.{number}", message)
    if depth is not None and not read:
        message = (
            f"Enter the burette readings on the crown of cylinder {number}, in cubic centimetres, "
            "or leave its piston depth empty"
        )
        return FieldError(f"crown_fill.{number}", message)
    if cap is not None and abs(magnitude_in(cap, "cm")) > diameter / 2 + 1e-9:
        message = f"Crown depth of cylinder {number} must be at most half the diameter of dome or dish"
        return FieldError(f"crown_depth.{number}", message)
    return None


def _with_limit(value: Any, limit: Any, name: str) -> Any:
    """Return a length in cm; unless it was typed with a ± of its own, it takes the common limit."""
    number = number_in(value, "cm")
    return number if isinstance(number, UFloat) else reading(number, magnitude_in(limit, "cm"), name)
