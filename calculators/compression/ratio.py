"""The compression ratio of each cylinder, from what was filled and measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators._units import figures, plain
from calculators._verdict import best_of, verdict_on
from calculators.bench import (
    GEOMETRY,
    Answer,
    Caution,
    Column,
    FieldError,
    Figure,
    InputErrors,
    Question,
    ResultTable,
    Row,
    Source,
    Table,
    TableRow,
    Value,
    Worked,
    number_in,
    optional,
    quantity,
    read_by_instrument,
    shared,
)
from calculators.bench.drawing import Drawing
from calculators.bench.entries import length, number
from calculators.formulas.cylinder_volume import bore_area, clearance_volume, compression_ratio, swept_volume

PROPAGATION = Source("JCGM 100:2008 (GUM), 5.1.2 and 5.2.2; expanded uncertainty 6.2, k = 2")
_PER_MM = 0.1
"""One cm² of bore is so many cm³ for each millimetre of depth."""


class Cylinder(Row):
    """What was measured of one cylinder."""

    chamber = shared.chamber()
    deck = shared.deck()
    crown = optional(shared.crown())
    spacer = optional(
        length(
            "Spacers fitted",
            0,
            30,
            why="three of the thickest",
            hint="Under the barrel, all together; empty for none.",
            shared_as="spacer_height",
        )
    )


@dataclass(frozen=True, slots=True)
class Measured:
    """One cylinder: its clearance volume in cm³, its deck clearance in mm and its ratio, each with its uncertainty."""

    clearance: Any
    gap: Any
    ratio: Any


class Ratio(Question):
    """Of the whole stroke; takes every bore and every stroke to be the same.

    Leaves out the ring of gas beside the piston above its top ring, as the trade does.
    """

    asks = "What compression ratio does each cylinder have?"
    works_out = ("clearance_volume", "deck_clearance", "ratio")

    bore = shared.bore()
    stroke = shared.stroke()
    cylinders = shared.cylinders()
    measured = Table(Cylinder, each="Cylinder {}", most=12, count="cylinders")
    target = optional(
        number(
            "Compression ratio wanted",
            3,
            20,
            why="spark-ignition engines",
            to_one=True,
            hint="To 1. From the engine maker, for the fuel you can get.",
            card="compression.ratio",
            shared_as="target_ratio",
            refines="What is wanted",
            said="{} : 1",
        )
    )
    tolerance = number(
        "Tolerance of the ratio",
        0.01,
        2,
        why="tighter cannot be measured, wider is no tolerance",
        card="compression.ratio_tolerance",
        usual="0.2",
        shared_as="ratio_tolerance",
        refines="What is wanted",
        said="± {}",
    )
    gasket_thickness = length(
        "Gasket thickness",
        0,
        10,
        why="gaskets and rings of such heads",
        hint="Compressed; 0 where barrel and head meet bare.",
        card="dimensions.head_gasket_thickness",
        usual="0 mm",
        shared_as="gasket_thickness",
        read_by="micrometer",
        refines="Head gasket or ring",
        said="{} thick",
    )
    gasket_bore = optional(
        length(
            "Gasket bore",
            30,
            250,
            why=shared.ENGINES,
            hint="Empty where it is the cylinder's.",
            card="dimensions.head_gasket_bore",
            shared_as="gasket_bore",
            refines="Head gasket or ring",
            said="bore {}",
        )
    )
    burette_error = shared.burette_error()
    burette_read_to = shared.burette_read_to()
    depth_error = shared.depth_error()
    bore_error = shared.bore_error()

    def answer(self) -> Answer:
        found = self._measured()
        ratios = [of.ratio for of in found]
        best = [best_of(ratio) for ratio in ratios]
        lowest, highest = best.index(min(best)), best.index(max(best))
        said = _reached(best)
        return Answer(
            headline=f"{said} : 1",
            says=f"The compression ratio is {said} : 1.",
            drawing=_bars(best, self.target, self.tolerance),
            values=(
                *self._ratio_values(ratios, lowest, highest),
                Value(
                    key="swept_volume",
                    label="Swept volume of one cylinder",
                    quantity=quantity(self._swept, "cm³"),
                    units=("cm³", "in³"),
                    formula="π ÷ 4 × bore² × stroke",
                    source=GEOMETRY,
                    given=(("bore", self.bore), ("stroke", self.stroke)),
                ),
            ),
            warnings=tuple(self._warnings(ratios)),
            tables=(self._table(found),),
            worked=tuple(
                worked
                for number, of in enumerate(found, 1)
                for worked in (
                    Worked(name=f"clearance_volume.{number}", value=quantity(of.clearance, "cm³")),
                    Worked(name=f"deck_clearance.{number}", value=quantity(of.gap, "mm")),
                    Worked(name=f"ratio.{number}", value=of.ratio),
                )
            ),
        )

    @property
    def _lengths(self) -> tuple[Any, Any]:
        bore, stroke = (
            read_by_instrument([length_], "cm", instrument=name, limit=self.bore_error)[0]
            for length_, name in ((self.bore, "bore gauge"), (self.stroke, "stroke"))
        )
        return bore, stroke

    @property
    def _swept(self) -> Any:
        return swept_volume(*self._lengths)

    def _measured(self) -> list[Measured]:
        bore, stroke = self._lengths
        area, swept = bore_area(bore) * _PER_MM, swept_volume(bore, stroke)
        gasket = number_in(self.gasket_thickness, "mm")
        within = bore if self.gasket_bore is None else number_in(self.gasket_bore, "cm")
        gasket_volume = bore_area(within) * _PER_MM * gasket
        found, errors = [], []
        for row, of in enumerate(self.measured, 1):
            chamber, crown = self._filled(of.chamber), self._filled(of.crown) if of.crown is not None else 0.0
            depth = read_by_instrument([of.deck], "mm", instrument="depth gauge", limit=self.depth_error)[0]
            depth = depth + (number_in(of.spacer, "mm") if of.spacer is not None else 0.0)
            clearance = clearance_volume(chamber, area, depth, crown, gasket_volume)
            if best_of(clearance) <= 0:
                message = (
                    f"Chamber volume of cylinder {row} must exceed what piston and crown take up of it; "
                    "check the signs of deck height and crown volume"
                )
                errors.append(FieldError(f"chamber.{row}", message))
                continue
            found.append(Measured(clearance, depth + gasket, compression_ratio(swept, clearance)))
        if errors:
            raise InputErrors(*errors)
        return found

    def _filled(self, reading: Any) -> Any:
        return read_by_instrument(
            [reading], "cm³", instrument="burette", limit=self.burette_error, read_to=self.burette_read_to
        )[0]

    def _ratio_values(self, ratios: list[Any], lowest: int, highest: int) -> tuple[Value, ...]:
        formula = "(swept volume + clearance volume) ÷ clearance volume; ± is k = 2"
        ends = {"lowest_ratio": lowest, "highest_ratio": highest} if len(ratios) > 1 else {"ratio": 0}
        values = [
            Value(
                key=key,
                label=f"{key.partition('_')[0].capitalize()} ratio, to 1, in cylinder {cylinder + 1}"
                if len(ratios) > 1
                else "Compression ratio, to 1",
                quantity=ratios[cylinder],
                places=2,
                formula=formula,
                source=PROPAGATION,
                given=(("bore", self.bore), ("stroke", self.stroke)),
            )
            for key, cylinder in ends.items()
        ]
        if len(ratios) > 1:
            values.append(
                Value(
                    key="spread",
                    label="Spread between cylinders",
                    quantity=ratios[highest] - ratios[lowest],
                    places=2,
                    formula="highest ratio − lowest ratio; what the cylinders have in common drops out of its ±",
                    source=PROPAGATION,
                )
            )
        return tuple(values)

    def _verdict(self, ratio: Any) -> str:
        if self.target is None:
            return "–"
        return verdict_on(ratio, self.target - self.tolerance, self.target + self.tolerance)

    def _warnings(self, ratios: list[Any]) -> list[Caution]:
        verdicts = [self._verdict(ratio) for ratio in ratios]
        found = []
        if "out" in verdicts:
            worst = max(ratios, key=lambda ratio: abs(best_of(ratio) - (self.target or 0)))
            side = "above" if best_of(worst) > (self.target or 0) else "below"
            found.append(
                Caution(
                    "caution" if side == "above" else "notice",
                    f"{figures(best_of(worst), 2)} : 1 is {side} the wanted {plain(self.target or 0)} ± "
                    f"{plain(self.tolerance)}. "
                    + ("Too high a ratio for the fuel burns pistons." if side == "above" else "It costs power."),
                )
            )
        elif "too close to call" in verdicts:
            found.append(
                Caution("notice", "These readings cannot tell whether every cylinder is within the wanted band.")
            )
        return found

    def _table(self, found: list[Measured]) -> ResultTable:
        return ResultTable(
            key="cylinders",
            title="Cylinder by cylinder",
            columns=(
                Column(key="cylinder", label="Cylinder"),
                Column(key="clearance", label="Clearance volume", unit="cm³"),
                Column(key="deck", label="Deck clearance", unit="mm"),
                Column(key="ratio", label="Ratio, to 1", places=2, strong=True),
                Column(key="verdict", label="Against the band"),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        str(row),
                        quantity(of.clearance, "cm³"),
                        quantity(of.gap, "mm"),
                        of.ratio,
                        self._verdict(of.ratio),
                    )
                )
                for row, of in enumerate(found, 1)
            ),
            formula="clearance volume = chamber + gasket + π ÷ 4 × bore² × (deck height + spacers) + crown; "
            "ratio = (swept + clearance) ÷ clearance; ± is k = 2, one burette behind every volume",
            source=PROPAGATION,
            given=(("bore", self.bore), ("stroke", self.stroke)),
        )


def _reached(ratios: list[float]) -> str:
    low, high = figures(min(ratios), 2), figures(max(ratios), 2)
    return low if low == high else f"{low} to {high}"


def _bars(ratios: list[float], target: float | None, tolerance: float) -> Figure:
    """Draw each cylinder's ratio as a bar, beside the band that is wanted."""
    ends: list[float] = [*ratios, *((target - tolerance, target + tolerance) if target is not None else ())]
    low, high = min(ends) - 0.15, max(ends) + 0.15
    left, right, step = 78.0, 300.0, 30.0
    height = 34 + step * len(ratios)

    def across(ratio: float) -> float:
        return left + (ratio - low) / (high - low) * (right - left)

    drawing = Drawing(340, height)
    if target is not None:
        edges = across(target - tolerance), across(target + tolerance)
        drawing.rectangle(edges[0], 22, edges[1] - edges[0], height - 26, "band")
        drawing.text((edges[0] + edges[1]) / 2, 10, f"wanted {plain(target)} ± {plain(tolerance)}")
    for row, ratio in enumerate(ratios):
        y = 36 + step * row
        drawing.text(6, y, f"cyl {row + 1}", anchor="start")
        drawing.line(left, y, across(ratio), y, "edge")
        drawing.circle(across(ratio), y, 5, "stud first")
        drawing.text(across(ratio), y - 13, figures(ratio, 2))
    words = ", ".join(f"cylinder {row} {figures(ratio, 2)}" for row, ratio in enumerate(ratios, 1))
    band = f"; wanted {plain(target)} ± {plain(tolerance)}" if target is not None else ""
    return Figure(
        key="ratios", title="Ratio of each cylinder", svg=drawing.svg(f"Compression ratio, to 1: {words}{band}.")
    )
