"""The compression ratio of each cylinder, from what was filled and measured."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.bench import (
    DECISION,
    GEOMETRY,
    Answer,
    Caution,
    Column,
    Figure,
    Finding,
    FoundPart,
    Late,
    Question,
    ResultTable,
    Source,
    Table,
    TableRow,
    Value,
    Worked,
    expanded,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.drawing import Drawing
from calculators.bench.instruments import Expanded
from calculators.bench.units import figures, plain, spread_alone
from calculators.bench.verdict import verdict_on
from calculators.compression.cautions import CLOSE, DOMED, KNOCK, fuel
from calculators.compression.lying_drawing import lying_cylinder
from calculators.compression.measured import (
    PROPAGATION,
    WANTED,
    Cylinder,
    Gauges,
    alike,
    main_part,
    spacer,
    target,
    tolerance,
)
from calculators.compression.words import reached
from calculators.formulas.cylinder_volume import compression_ratio
from calculators.formulas.decision_rule import Verdict


class Fitted(Cylinder):
    """What was measured of one cylinder, and what is under its barrel."""

    spacer = spacer("Total under the barrel. Empty: those chosen, or none.")


@dataclass(frozen=True, slots=True)
class Found:
    """One cylinder: its clearance volume in cm³, its deck clearance in mm and its ratio, each with its uncertainty."""

    spacer: float
    clearance: Any
    gap: Expanded
    ratio: Expanded
    verdict: Verdict | None
    domed: bool


class Ratio(Gauges, Question):
    """For the whole stroke; assumes that all bores and all strokes are equal.

    Leaves out the gas beside the piston above its top ring, as the trade does.
    """

    asks = "What compression ratio does each cylinder have?"
    tells = "Compression ratio"
    judges = True
    works_out = ("clearance_volume", "deck_clearance", "ratio")

    bore = shared.bore()
    stroke = shared.stroke()
    cylinders = shared.cylinders()
    rows = Table(
        Fitted,
        each="Cylinder {}",
        most=12,
        count="cylinders",
        hint="Deck without spacers, from the barrel's top down to the piston. Crown: dish plus, dome minus, flat "
        "empty. Spacers: empty for those chosen, or none.",
    )
    target = optional(target(refines=WANTED))
    tolerance = tolerance()

    def answer(self) -> Answer:
        engine = self.measured(self.bore, self.stroke, self.rows)
        found = []
        for of, bare in zip(self.rows, engine.cylinders, strict=True):
            height = 0.0 if of.spacer is None else number_in(of.spacer, "mm")
            clearance = bare.clearance + engine.area * height
            gap = expanded(bare.depth + height + engine.gasket)
            ratio = expanded(compression_ratio(engine.swept, clearance))
            found.append(Found(height, clearance, gap, ratio, self._verdict(ratio), bare.domed))
        ratios = [of.ratio for of in found]
        best = [ratio.best for ratio in ratios]
        said = reached(best)
        return Answer(
            headline=f"{said} : 1",
            says=f"The compression ratio is {said} : 1.",
            drawing=_lying(best, self.target, self.tolerance),
            values=Late(lambda: (*self._ratios(ratios, best), *self._rest(found, engine.swept))),
            warnings=Late(lambda: self._warnings(found)),
            tables=Late(lambda: (self._table(found),)),
            findings=(self._finding(found),),
            notes=Late(lambda: _notes(ratios)),
            worked=tuple(
                worked
                for number, of in enumerate(found, 1)
                for worked in (
                    Worked(name=f"clearance_volume.{number}", value=quantity(of.clearance, "cm³")),
                    Worked(name=f"deck_clearance.{number}", value=quantity(of.gap.number, "mm")),
                    Worked(name=f"ratio.{number}", value=of.ratio.number),
                )
            ),
        )

    def _ratios(self, ratios: list[Expanded], best: list[float]) -> Iterator[Value]:
        formula = "(swept volume + clearance volume) ÷ clearance volume; ± is k = 2"
        lowest, highest = best.index(min(best)), best.index(max(best))
        several = len(ratios) > 1
        for key, cylinder in ({"lowest_ratio": lowest, "highest_ratio": highest} if several else {"ratio": 0}).items():
            yield Value(
                key=key,
                label=f"{key.partition('_')[0].capitalize()} ratio, to 1, in cylinder {cylinder + 1}"
                if several
                else "Compression ratio, to 1",
                quantity=ratios[cylinder].value,
                places=2,
                formula=formula,
                source=PROPAGATION,
                given=(("bore", self.bore), ("stroke", self.stroke)),
            )
        if several:
            yield Value(
                key="spread",
                label="Spread between cylinders",
                quantity=expanded(ratios[highest].number - ratios[lowest].number).value,
                places=2,
                formula="highest ratio − lowest ratio; errors common to the cylinders cancel in its ±",
                source=PROPAGATION,
            )

    def _rest(self, found: list[Found], swept: Any) -> Iterator[Value]:
        tightest = min(range(len(found)), key=lambda cylinder: found[cylinder].gap.best)
        yield Value(
            key="least_deck_clearance",
            label=f"Least deck clearance, in cylinder {tightest + 1}",
            quantity=quantity(found[tightest].gap.value, "mm"),
            units=("mm", "thou"),
            formula="deck height + spacers + gasket thickness",
            source=GEOMETRY,
            given=(("spacers", quantity(found[tightest].spacer, "mm")), ("gasket", self.gasket_thickness)),
        )
        lengths = (("bore", self.bore), ("stroke", self.stroke))
        yield Value(
            key="swept_volume",
            label="Swept volume of one cylinder",
            quantity=quantity(swept, "cm³"),
            units=("cm³", "in³"),
            formula="π ÷ 4 × bore² × stroke",
            source=GEOMETRY,
            given=lengths,
        )
        yield Value(
            key="displacement",
            label="Displacement",
            quantity=quantity(swept * len(found), "cm³"),
            units=("cm³", "in³"),
            formula="number of cylinders × π ÷ 4 × bore² × stroke",
            source=GEOMETRY,
            given=(("cylinders", len(found)), *lengths),
        )

    def _finding(self, found: list[Found]) -> Finding:
        target, tolerance = self.target, self.tolerance
        return Finding(
            key="ratio",
            what="compression ratio, to 1",
            parts=tuple(
                FoundPart(f"cylinder {number}", of.ratio.number, of.verdict) for number, of in enumerate(found, 1)
            ),
            units=(),
            places=2,
            low=None if target is None else target - tolerance,
            high=None if target is None else target + tolerance,
            limits=("target", "tolerance"),
        )

    def _verdict(self, ratio: Expanded) -> Verdict | None:
        if self.target is None:
            return None
        return verdict_on(ratio.value, self.target - self.tolerance, self.target + self.tolerance)

    def _warnings(self, found: list[Found]) -> Iterator[Caution]:
        ratios = [of.ratio for of in found]
        verdicts = [of.verdict for of in found]
        highest = max(ratio.best for ratio in ratios)
        wanted = self.target or 0.0
        above = self.target is None or highest > wanted + self.tolerance
        if above:
            yield KNOCK
            yield fuel(highest)
        if min(of.gap.best - of.gap.spread for of in found) < 1:
            yield CLOSE
        if any(of.domed for of in found):
            yield DOMED
        if "out" in verdicts:
            worst = max(ratios, key=lambda ratio: abs(ratio.best - wanted)).best
            side = "above" if worst > wanted else "below"
            yield Caution(
                "notice",
                f"{figures(worst, 2)} : 1 is {side} the wanted {plain(wanted)} ± {plain(self.tolerance)}. "
                + ("Too high a ratio for the fuel burns pistons." if side == "above" else "It costs power."),
            )
        elif "too close to call" in verdicts:
            yield Caution("notice", "These readings cannot tell whether every cylinder is within the wanted band.")

    def _table(self, found: list[Found]) -> ResultTable:
        return ResultTable(
            key="cylinders",
            title="Cylinder by cylinder",
            columns=(
                Column(key="cylinder", label="Cylinder"),
                Column(key="spacers", label="Spacers", unit="mm"),
                Column(key="clearance", label="Clearance volume", unit="cm³"),
                Column(key="deck", label="Deck clearance", unit="mm"),
                Column(key="ratio", label="Ratio, to 1", places=2, strong=True),
                Column(key="verdict", label="Within the band?"),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        str(row),
                        quantity(of.spacer, "mm"),
                        quantity(expanded(of.clearance).value, "cm³"),
                        quantity(of.gap.value, "mm"),
                        of.ratio.value,
                        of.verdict or "–",
                    )
                )
                for row, of in enumerate(found, 1)
            ),
            formula="clearance volume = chamber + gasket + π ÷ 4 × bore² × (deck height + spacers) + crown; "
            "ratio = (swept + clearance) ÷ clearance; ± is k = 2, one instrument has the same error in all its "
            "readings; in, out: the whole ± interval lies inside or outside the band",
            source=Source(f"{PROPAGATION}; {DECISION}"),
            given=(("bore", self.bore), ("stroke", self.stroke)),
        )


def _notes(ratios: list[Expanded]) -> Iterator[str]:
    if len(ratios) > 1 and (said := alike([ratio.number for ratio in ratios])):
        yield said
    widest = max(ratios, key=lambda one: one.spread)
    if widest.spread:
        yield f"Most of the ± {spread_alone(widest.spread, 2)} comes from: {main_part(widest.value)}."


def _lying(ratios: list[float], target: float | None, tolerance: float) -> Figure:
    """Draw what the ratio compares, in a cylinder as it lies; below it each one's ratio beside what is wanted."""
    ends: list[float] = [*ratios, *((target - tolerance, target + tolerance) if target is not None else ())]
    low, high = min(ends) - 0.15, max(ends) + 0.15
    left, right, step, top = 66.0, 270.0, 27.0, 208.0
    drawing = Drawing(340, top + step * len(ratios) + 4)

    def across(ratio: float) -> float:
        return left + (ratio - low) / (high - low) * (right - left)

    case, face, upper, lower = 56.0, 214.0, 50.0, 126.0
    lying_cylinder(drawing, case=case, shoulder=case + 6, face=face, upper=upper, lower=lower, crown=face - 12)
    for crown in (face - 12, case + 40):
        drawing.line(crown, upper, crown, lower, "hand")
    drawing.text(case + 40, 12, "down")
    drawing.text(face - 12, 12, "up")
    for crown in (face - 12, case + 40):
        drawing.line(crown, 20, crown, upper, "thin")
    drawing.text(4, 88, "case", anchor="start")
    drawing.text(face + 72, 88, "head", anchor="start")
    wanted = f"wanted {plain(target)} ± {plain(tolerance)}" if target is not None else "to 1"
    drawing.text(168, 178, wanted)
    for row, ratio in enumerate(ratios):
        y = top + step * row
        drawing.text(6, y, f"cyl {row + 1}", anchor="start")
        if target is not None:
            edges = across(target - tolerance), across(target + tolerance)
            drawing.rectangle(edges[0], y - 8, edges[1] - edges[0], 16, "band")
        drawing.line(left, y, right, y, "thin")
        drawing.circle(across(ratio), y, 5, "chosen")
        drawing.text(334, y, figures(ratio, 2), "number", anchor="end")
    words = ", ".join(f"cylinder {row} {figures(ratio, 2)}" for row, ratio in enumerate(ratios, 1))
    band = f"; wanted {plain(target)} ± {plain(tolerance)}" if target is not None else ""
    return Figure(
        key="ratios",
        title="Ratio of each cylinder: the room over the piston down, against the room over it up; dashed: wanted",
        svg=drawing.svg(
            f"Section of a cylinder, case left, head right, with the piston up and down. "
            f"Compression ratio, to 1: {words}{band}."
        ),
    )
