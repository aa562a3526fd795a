"""What a chamber holds, from its dimensions."""

from __future__ import annotations

from typing import Any

from calculators.bench import (
    Answer,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    Source,
    Value,
    Worked,
    expanded,
    magnitude_in,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.entries import Entry, Quantity, length, volume
from calculators.bench.instruments import common_error
from calculators.bench.units import printed
from calculators.formulas.chamber_shape import cap_volume, frustum_volume
from calculators.formulas.cylinder_volume import bore_area
from calculators.measuring.shape_drawing import chamber_section

SHAPES = Source("solid geometry; JCGM 100:2008 (GUM), 4.3.7 and 5.1.2")


def _length(label: str, example: str, hint: str = "", low: float = 0.1) -> Entry[Quantity | None]:
    return optional(
        length(
            label,
            low,
            250,
            why="heads and pistons of engines of this kind",
            exact=True,
            hint=hint,
            example=example,
        )
    )


class ChamberShape(Question):
    """For a dome over a cone over a straight step, or any of them, all round and on one axis.

    Chambers are seldom that round: filling is more accurate.
    """

    asks = "What does a chamber hold, going by its dimensions?"
    tells = "Chamber volume, by its dimensions"
    works_out = ("chamber_by_shape",)

    dome_diameter = _length("Dome diameter", "60 mm", "Of its rim.")
    dome_height = _length("Dome height", "8 mm")
    cone_wide = _length("Cone diameter at the wide end", "80 mm")
    cone_narrow = _length("Cone diameter at the narrow end", "60 mm", "0 where it comes to a point.", 0)
    cone_height = _length("Cone height", "6 mm")
    step_diameter = _length("Step diameter", "80 mm")
    step_height = _length("Step height", "4 mm")
    parts = optional(
        volume(
            "Valves, plug and pockets",
            -100,
            100,
            why="parts of a chamber",
            hint="In total: pockets plus, what stands into the chamber minus.",
            example="-5.5 cm³",
            refines="Valves, plug and how good the dimensions are",
        )
    )
    dimension_error = shared.dimension_error(refines="Valves, plug and how good the dimensions are")

    def answer(self) -> Answer:
        sizes = self._sizes()
        if not sizes:
            if self.parts is not None:
                message = "Valves, plug and pockets must be empty if no dimensions are typed"
                raise InputErrors(FieldError("parts", message))
            raise Lacking(FieldError("step_diameter", "Enter the dimensions of a step, a cone or a dome"))
        found = expanded(self._volume(sizes))
        if found.best <= 0:
            message = "Valves, plug and pockets must take up less than the dome, the cone and the step hold"
            raise InputErrors(FieldError("parts", message))
        holds = quantity(found.value, "cm³")
        mm = {part: tuple(magnitude_in(one, "mm") for one in of) for part, of in sizes.items()}
        names = {"dome": ("dome D", "dome h"), "cone": ("cone D", "cone d", "cone h"), "step": ("step D", "step h")}
        given = [pair for part, of in sizes.items() for pair in zip(names[part], of, strict=True)]
        return Answer(
            headline=printed(holds, "cm³", 2),
            says=f"Going by its dimensions, the chamber holds {printed(holds, 'cm³', 2)}.",
            drawing=chamber_section(mm.get("dome"), mm.get("cone"), mm.get("step")),
            values=(
                Value(
                    key="volume",
                    label="Chamber volume by its dimensions",
                    quantity=holds,
                    units=("cm³", "in³"),
                    formula="π/6 h (3/4 D² + h²) of the dome + π/12 h (D² + D d + d²) of the cone + π/4 D² h of the "
                    "step + valves, plug and pockets",
                    source=SHAPES,
                    given=(*given, *((("valves and plug", self.parts),) if self.parts is not None else ())),
                ),
            ),
            notes=("One gauge has the same error in all dimensions, so the errors add up.",),
            worked=(Worked(name="chamber_by_shape", value=holds),),
        )

    def _sizes(self) -> dict[str, tuple[Quantity, ...]]:
        """Return the parts that there are, the dimensions of each."""
        asked: dict[str, tuple[tuple[str, Quantity | None], ...]] = {
            "dome": (("dome_diameter", self.dome_diameter), ("dome_height", self.dome_height)),
            "cone": (
                ("cone_wide", self.cone_wide),
                ("cone_narrow", self.cone_narrow),
                ("cone_height", self.cone_height),
            ),
            "step": (("step_diameter", self.step_diameter), ("step_height", self.step_height)),
        }
        labels = {entry.key: f"{entry.label[0].lower()}{entry.label[1:]}" for entry in self.entries()}
        found, errors = {}, []
        for part, sizes in asked.items():
            there = tuple(size for _, size in sizes if size is not None)
            if there and len(there) < len(sizes):
                errors += [
                    FieldError(key, f"Enter the {labels[key]}, in millimetres, or leave all of the {part} empty")
                    for key, size in sizes
                    if size is None
                ]
            elif there:
                found[part] = there
        if errors:
            raise InputErrors(*errors)
        if "dome" in found and magnitude_in(found["dome"][1], "mm") > magnitude_in(found["dome"][0], "mm") / 2 + 1e-9:
            raise InputErrors(FieldError("dome_height", "Dome height must be at most half the dome diameter"))
        if "cone" in found and magnitude_in(found["cone"][1], "mm") > magnitude_in(found["cone"][0], "mm"):
            message = "Cone diameter at the narrow end must be at most that at the wide end"
            raise InputErrors(FieldError("cone_narrow", message))
        return found

    def _volume(self, sizes: dict[str, tuple[Quantity, ...]]) -> Any:
        limit = common_error("calliper", magnitude_in(self.dimension_error, "cm"))
        read = {part: [magnitude_in(size, "cm") + limit for size in of] for part, of in sizes.items()}
        whole = 0.0 if self.parts is None else number_in(self.parts, "cm³")
        if "dome" in read:
            whole = whole + cap_volume(*read["dome"])
        if "cone" in read:
            whole = whole + frustum_volume(*read["cone"])
        if "step" in read:
            whole = whole + bore_area(read["step"][0]) * read["step"][1]
        return whole
