"""What the dish or the dome of each piston takes up."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    FieldError,
    InputErrors,
    Lacking,
    Late,
    Question,
    ResultTable,
    Row,
    Source,
    Table,
    Value,
    Worked,
    WorkedFirst,
    expanded,
    magnitude_in,
    optional,
    quantity,
    read_by_instrument,
    shared,
)
from calculators.bench.entries import length
from calculators.bench.units import figures, printed
from calculators.bench.words import listed as in_words
from calculators.formulas.chamber_shape import cap_volume, crown_volume
from calculators.formulas.cylinder_volume import bore_area
from calculators.measuring.drawings import crown_section
from calculators.measuring.filled import LIQUID_BURNS, Held, far_apart, volumes_table
from calculators.measuring.filling import (
    BY_BURETTE,
    EXPANSION_NOTE,
    POURED,
    Filling,
    fills_of,
    readings,
    scatter_of,
)

SHAPES = Source("solid geometry; JCGM 100:2008 (GUM), 4.3.7 and 5.1.2")
MOST = 500.0
"""The largest crown volume that any question takes, cm³."""
BY_DEPTH = "By its depth"
FINGERS = Caution(
    "warning",
    "Pistons move as the crank turns and can crush a finger. Battery lead off, turn by hand, keep fingers out of the "
    "bores.",
)


class Crown(Row):
    """What was measured of one crown: by a fill, or by its depth."""

    piston_depth = optional(
        length(
            "Piston depth",
            0,
            150,
            why="barrels of engines of this kind",
            hint="From the barrel's top down to the crown's edge, when filled.",
            read_by="depth_gauge",
            example="10.00; 10.00; 10.00; 10.00",
        )
    )
    crown_fill = readings(
        "Burette readings on the crown",
        "At the end of each fill, one box for each.",
        example="50.2 50.3 50.3; 50.3 50.2 50.2; 50.3 50.3 50.2; 50.2 50.3 50.3",
    )
    crown_fill_start = readings(
        "Starting marks on the crown", "Empty: each fill starts at 0. Otherwise one for all, or one for each."
    )
    crown_depth = optional(
        length(
            "Crown depth",
            -60,
            60,
            why="pistons of engines of this kind",
            hint="Instead of a fill: at the middle, from the edge; dish plus, dome minus.",
            read_by="depth_gauge",
        )
    )


class Crowns(Filling, Question):
    """Either with the piston set down a known depth, sealed and filled, or from the depth of dome or dish.

    By its depth, dome or dish is taken as part of a sphere. Flat crowns need neither.
    """

    asks = "What does each piston's crown take up?"
    tells = "Volumes of the piston crowns"
    works_out = ("crown",)

    bore = shared.bore()
    cylinders = shared.cylinders()
    crowns = Table(
        Crown,
        each="Cylinder {}",
        most=12,
        count="cylinders",
        hint="Either piston depth and the reading of each fill, or the crown's depth; leave flat ones empty. From the "
        "barrel's top to the crown's edge; a dish is plus, a dome minus.",
    )
    crown_diameter = optional(
        length(
            "Diameter of dome or dish",
            5,
            250,
            why="heads and pistons of engines of this kind",
            exact=True,
            hint="Empty: the same as the bore.",
            shared_as="crown_diameter",
            refines=BY_DEPTH,
        )
    )
    dimension_error = shared.dimension_error(refines=BY_DEPTH)
    bore_error = shared.bore_error()
    depth_error = shared.depth_error()
    depth_read_to = shared.depth_read_to()

    def answer(self) -> WorkedFirst:
        fills = fills_of(((of.crown_fill, of.crown_fill_start) for of in self.crowns), "crown_fill", " on the crown")
        scatter, pool = scatter_of(fills)
        found = self._taken(fills, scatter, pool)
        worked = tuple(Worked(name=f"crown.{one.number}", value=quantity(one.value, "cm³")) for one in found)
        return WorkedFirst(worked, lambda: self._told(found))

    def _told(self, found: list[Held]) -> Answer:
        texts = [printed(quantity(one.judged.value, "cm³"), "cm³", 2) for one in found]
        best = [figures(one.judged.best, 2) for one in found]
        widest = max(found, key=lambda one: abs(one.judged.best))
        headline = f"{' · '.join(best)} cm³" if len(found) > 1 else texts[0]
        if len(headline) > 60:
            headline = f"{min(best, key=_number)} to {max(best, key=_number)} cm³"
        depth = self.crowns[widest.number - 1].piston_depth if widest.poured else None
        return Answer(
            headline=headline,
            says=f"The crown{'s' if len(found) > 1 else ''} of cylinder{'s' if len(found) > 1 else ''} "
            f"{in_words(one.number for one in found)} {'take' if len(found) > 1 else 'takes'} up {in_words(texts)}; "
            "a dish is plus, a dome minus.",
            drawing=crown_section(
                round(widest.judged.best, 2),
                round(magnitude_in(self.bore, "mm"), 2),
                None if depth is None else round(magnitude_in(depth, "mm"), 2),
                widest.number,
                texts[found.index(widest)],
            ),
            values=Late(lambda: self._shown(found)),
            warnings=tuple(self._warnings(found)),
            tables=Late(lambda: (_volumes(found),)),
            notes=(EXPANSION_NOTE,),
        )

    def _taken(self, fills: tuple[tuple[float, ...], ...], scatter: float, pool: Any) -> list[Held]:
        bore = read_by_instrument([self.bore], "cm", instrument="bore gauge", limit=self.bore_error)[0]
        diameter = bore
        if self.crown_diameter is not None:
            diameter = read_by_instrument(
                [self.crown_diameter], "cm", instrument="calliper", limit=self.dimension_error
            )[0]
        found, errors = [], []
        for number, (of, read) in enumerate(zip(self.crowns, fills, strict=True), 1):
            if error := _error(number, of, bool(read), expanded(diameter).best):
                errors.append(error)
                continue
            poured, value = None, None
            if read:
                poured = self.poured(read, scatter, pool)
                value = crown_volume(poured.value, bore_area(bore), self._depth(of.piston_depth))
            elif of.crown_depth is not None:
                value = cap_volume(diameter, self._depth(of.crown_depth))
            if value is None:
                continue
            found.append(Held(number, value, expanded(value), poured))
            if abs(found[-1].judged.best) > MOST:
                message = (
                    f"Burette readings on the crown of cylinder {number} must fit its piston depth; "
                    f"a crown of {figures(found[-1].judged.best, 0)} cm³ belongs to no piston"
                )
                errors.append(FieldError(f"crown_fill.{number}", message))
        if errors:
            raise InputErrors(*errors)
        if not found:
            message = "Enter the piston depth and burette readings of one crown, or its crown depth, in millimetres"
            raise Lacking(FieldError("piston_depth.1", message))
        return found

    def _depth(self, depth: Any) -> Any:
        return read_by_instrument(
            [depth], "cm", instrument="depth gauge", limit=self.depth_error, read_to=self.depth_read_to
        )[0]

    def _shown(self, found: list[Held]) -> Iterator[Value]:
        for one in found:
            of = self.crowns[one.number - 1]
            poured = one.poured
            yield Value(
                key=f"crown_{one.number}",
                label=f"Crown volume of cylinder {one.number}",
                quantity=quantity(one.judged.value, "cm³"),
                units=("cm³", "in³"),
                formula=f"{BY_BURETTE}; less π/4 bore² × depth" if poured else "π/6 h (3/4 D² + h²), dome minus",
                source=POURED if poured else SHAPES,
                given=(
                    *self.certainty(poured),
                    ("bore", self.bore),
                    ("depth", of.piston_depth),
                    *one.judged.certainty("cm³"),
                )
                if poured
                else (("D", self.bore if self.crown_diameter is None else self.crown_diameter), ("h", of.crown_depth)),
            )

    def _warnings(self, found: list[Held]) -> Iterator[Caution]:
        yield FINGERS
        if self.liquid in ("spirit", "paraffin") and any(one.poured for one in found):
            yield LIQUID_BURNS
        for one in found:
            yield from far_apart(f"crown of cylinder {one.number}", one.poured, "cm³")


def _number(text: str) -> float:
    return float(text.replace("−", "-"))


def _error(number: int, of: Crown, filled: bool, diameter: float) -> FieldError | None:
    if filled and of.crown_depth is not None:
        message = f"Crown depth of cylinder {number} must be empty where its crown was filled"
        return FieldError(f"crown_depth.{number}", message)
    if filled and of.piston_depth is None:
        message = f"Enter the piston depth of cylinder {number}, in millimetres, for the fill on its crown"
        return FieldError(f"piston_depth.{number}", message)
    if of.piston_depth is not None and not filled:
        message = (
            f"Enter the burette readings on the crown of cylinder {number}, in cubic centimetres, "
            "or leave its piston depth empty"
        )
        return FieldError(f"crown_fill.{number}", message)
    if of.crown_depth is not None and abs(magnitude_in(of.crown_depth, "cm")) > diameter / 2 + 1e-9:
        message = f"Crown depth of cylinder {number} must be at most half the diameter of dome or dish"
        return FieldError(f"crown_depth.{number}", message)
    return None


def _volumes(found: list[Held]) -> ResultTable:
    return volumes_table(
        "crowns_found",
        "Each crown",
        found,
        "cm³",
        "from its depth",
        f"{BY_BURETTE}; less π/4 bore² × depth; least and most fill are the liquid alone",
    )
