"""What changes the ratio, and by how much."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    Column,
    Drawing,
    Figure,
    Question,
    ResultTable,
    Row,
    Source,
    Table,
    TableRow,
    Value,
    expanded,
    number_in,
    optional,
    quantity,
    read_by_instrument,
    shared,
)
from calculators.bench.entries import volume
from calculators.bench.units import figures, plain
from calculators.bench.verdict import best_of
from calculators.compression.lying_drawing import lying_cylinder
from calculators.compression.measured import PER_MM, WANTED, target
from calculators.formulas.cylinder_volume import bore_area, clearance_for_ratio, compression_ratio, swept_volume

EQUAL_VOLUMES = Source("solid geometry: volumes set equal", "identity")
_THIN, _CUBE = 0.1, 1.0


class Clearance(Row):
    """What is left above one piston."""

    clearance = volume(
        "Clearance volume",
        1,
        2500,
        why=shared.ENGINES,
        hint="Above the piston at top dead centre, on its spacers.",
        example="56.2; 56.4; 56.7; 56.9",
        shared_as="clearance_volume",
    )


class Levers(Question):
    """Volumes only: ask a machine shop whether head and chamber wall can take it.

    A skim assumes a chamber as wide as the bore at the face.
    """

    asks = "What changes the ratio, and by how much?"
    tells = "What changes the ratio"

    bore = shared.bore()
    stroke = shared.stroke()
    cylinders = shared.cylinders()
    rows = Table(Clearance, each="Cylinder {}", most=12, count="cylinders")
    target = optional(target(refines=WANTED))
    bore_error = shared.bore_error()

    def answer(self) -> Answer:
        bore, stroke = (
            read_by_instrument([one], "cm", instrument=name, limit=self.bore_error)[0]
            for one, name in ((self.bore, "bore gauge"), (self.stroke, "stroke gauge"))
        )
        area, swept = bore_area(bore) * PER_MM, swept_volume(bore, stroke)
        rooms = [number_in(of.clearance, "cm³") for of in self.rows]
        ratios = [compression_ratio(swept, room) for room in rooms]
        typical = sorted(rooms, key=best_of)[len(rooms) // 2]
        spacer = _changed(swept, typical, area * _THIN)
        cube = _changed(swept, typical, _CUBE)
        skim = _changed(swept, typical, -area * _THIN)
        return Answer(
            headline=f"0.1 mm of spacer {_signed(spacer)} · 1 cm³ of chamber {_signed(cube)}",
            says=f"Spacers 0.1 mm thicker change the ratio by {_signed(spacer)}, a chamber or a dish 1 cm³ larger by "
            f"{_signed(cube)}, 0.1 mm off the face by {_signed(skim)}.",
            drawing=_section(_signed(spacer), _signed(cube), _signed(skim)),
            values=tuple(
                Value(
                    key=key,
                    label=label,
                    quantity=expanded(change).value,
                    places=3,
                    formula="swept volume ÷ (clearance volume + change) − swept volume ÷ clearance volume",
                    source=EQUAL_VOLUMES,
                    given=(
                        ("swept volume", quantity(swept, "cm³")),
                        ("clearance volume", quantity(typical, "cm³")),
                        ("change", quantity(change_of, "cm³")),
                    ),
                )
                for key, label, change, change_of in (
                    ("per_spacer", "Ratio, for 0.1 mm more under the barrel", spacer, area * _THIN),
                    ("per_chamber", "Ratio, for 1 cm³ more in chamber or crown", cube, _CUBE),
                    ("per_skim", "Ratio, for 0.1 mm off the face", skim, -area * _THIN),
                )
            ),
            warnings=tuple(self._warnings(ratios)),
            tables=(self._table(swept, area, rooms, ratios),),
            notes=tuple(self._notes(swept, area, ratios)),
        )

    def _warnings(self, ratios: Sequence[Any]) -> Iterator[Caution]:
        if self.target is not None and any(best_of(ratio) < self.target for ratio in ratios):
            yield Caution(
                "notice",
                "Skimming brings the piston nearer the head only if the barrel's seat is cut down with the face; "
                "measure the deck clearance again. A thinned head may crack: ask a machine shop.",
            )

    def _notes(self, swept: Any, area: Any, ratios: Sequence[Any]) -> Iterator[str]:
        if self.target is None:
            return
        for number, (of, ratio) in enumerate(zip(self.rows, ratios, strict=True), 1):
            missing = best_of(clearance_for_ratio(swept, self.target) - number_in(of.clearance, "cm³"))
            if abs(missing) >= 0.05:
                more, thicker, skim = (
                    ("more", "thicker", "") if missing > 0 else ("less", "thinner", ", a skim of the face")
                )
                yield (
                    f"For {plain(self.target)} : 1, cylinder {number} at {figures(best_of(ratio), 2)} : 1 needs "
                    f"{figures(abs(missing), 1)} cm³ {more} room above the piston: spacers "
                    f"{figures(abs(missing) / best_of(area), 2)} mm {thicker}{skim}, or that volume in chamber or "
                    "crown."
                )

    def _table(self, swept: Any, area: Any, rooms: Sequence[Any], ratios: Sequence[Any]) -> ResultTable:
        largest = max(rooms, key=best_of)
        needed = None if self.target is None else clearance_for_ratio(swept, self.target)
        rows = []
        for number, (room, ratio) in enumerate(zip(rooms, ratios, strict=True), 1):
            to_target = None if needed is None else needed - room
            less = 0.0 if to_target is None else -best_of(to_target)
            rows.append(
                TableRow(
                    cells=(
                        str(number),
                        best_of(ratio),
                        None if room is largest else quantity(expanded(largest - room).value, "cm³"),
                        None if to_target is None else quantity(expanded(to_target).value, "cm³"),
                        less / best_of(area) if less > 0 else None,
                    )
                )
            )
        return ResultTable(
            key="levers",
            title="Cylinder by cylinder: enlarge the chamber, or skim the face",
            columns=(
                Column(key="cylinder", label="Cylinder"),
                Column(key="ratio", label="Ratio now", places=2),
                Column(key="to_even", label="Enlarge the chamber to match the largest", unit="cm³", places=2),
                Column(
                    key="to_target", label="For the ratio wanted: enlarge; with a minus, reduce", unit="cm³", places=2
                ),
                Column(key="skim", label="Or as a skim of the face, mm", places=2),
            ),
            rows=tuple(rows),
            formula="largest clearance volume − its own; swept volume ÷ (ratio wanted − 1) − clearance volume; "
            "skim = volume to take away ÷ (π ÷ 4 × bore²), where the chamber is as wide as the bore at the face",
            source=EQUAL_VOLUMES,
            given=(
                *((("ratio wanted, to 1", self.target),) if self.target is not None else ()),
                ("swept volume", quantity(swept, "cm³")),
            ),
        )


def _changed(swept: Any, room: Any, more: Any) -> Any:
    return compression_ratio(swept, room + more) - compression_ratio(swept, room)


def _signed(change: Any) -> str:
    number = best_of(change)
    return f"{'+' if number > 0 else '−'}{abs(number):.2f}"


def _section(spacer: str, cube: str, skim: str) -> Figure:
    """Draw a barrel cut open, with what each change of it does to the ratio."""
    drawing = Drawing(340, 250)
    case, face, upper, lower = 56.0, 214.0, 70.0, 158.0
    lying_cylinder(drawing, case=case, shoulder=case + 8, face=face, upper=upper, lower=lower, crown=face - 14)
    drawing.text(4, 114, "case", anchor="start")
    drawing.text(face - 46, 141, "piston")
    drawing.text(face + 72, 114, "head", anchor="start")
    for start, end, at, anchor, words, change in (
        ((face, upper - 5), (face, 46), (326, 12), "end", "face skimmed", f"0.1 mm: {skim}"),
        ((60, lower + 16), (60, 202), (6, 214), "start", "spacers", f"0.1 mm more: {spacer}"),
        ((face + 24, 114), (250, 202), (336, 214), "end", "chamber or dish", f"1 cm³ more: {cube}"),
    ):
        drawing.line(start[0], start[1], end[0], end[1], "thin")
        drawing.circle(start[0], start[1], 2.6, "pointer")
        drawing.text(at[0], at[1], words, anchor=anchor)
        drawing.text(at[0], at[1] + 19, change, "number", anchor=anchor)
    said = f"1 cm³ more in chamber or dish {cube}, 0.1 mm off the face {skim}, 0.1 mm more spacer {spacer}"
    return Figure(
        key="levers",
        title="What each change does to the ratio",
        svg=drawing.svg(
            f"Section of a cylinder at top dead centre, case left, head right. Change of the ratio: {said}."
        ),
    )
