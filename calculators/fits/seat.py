"""Where a valve's face touches its seat: how wide, and how far from either edge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from calculators.bench import (
    GEOMETRY,
    Answer,
    Drawing,
    Entry,
    Lacking,
    Quantity,
    Question,
    Row,
    Table,
    length,
    optional,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.units import figures
from calculators.fits import gauges
from calculators.fits.answers import enter, judged, not_crossed, one
from calculators.fits.drawing import shown
from calculators.fits.fit import Fit, Kind, Part, found

_LEFT, _RIGHT = 40.0, 300.0


def _width(label: str, hint: str, shared_as: str, **facts: Any) -> Entry[Quantity | None]:
    return optional(
        length(label, 0, 20, why=gauges.VALVES, hint=hint, shared_as=shared_as, read_by="calliper", **facts)
    )


OF_LINE = "Of the contact line."
TO_EDGE = "From the contact line out to the edge of the valve's face."


class Exhaust(Row):
    """One exhaust valve."""

    exhaust_seat_width = _width("Seat width", OF_LINE, "exhaust_seat_width", example="1.6; 1.7; 2.1; 1.7")
    exhaust_line = _width("Line to outer edge", TO_EDGE, "exhaust_line", example="0.6; 0.6; 0.5; 0.6")


class Inlet(Row):
    """One inlet valve."""

    inlet_seat_width = _width("Seat width", OF_LINE, "inlet_seat_width")
    inlet_line = _width("Line to outer edge", TO_EDGE, "inlet_line")


Read = tuple[Quantity | None, Quantity | None]
"""Seat width, and contact line to outer edge."""


class Seat(Question):
    """From the contact line on the valve's face, equally wide all round; does not say whether the valve seals."""

    asks = "How wide is this valve seat, and does it touch in the right place?"
    tells = "Width and place of the valve seats"
    judges = True

    cylinders = gauges.cylinders()
    exhaust_face = gauges.limit(
        "Width of the exhaust valve's face",
        CardFacts.seats.exhaust_face_width,
        refines=None,
        said="exhaust face {}",
    )
    inlet_face = gauges.limit(
        "Width of the inlet valve's face", CardFacts.seats.inlet_face_width, refines=None, said="inlet face {}"
    )
    exhaust_valves = Table(Exhaust, each="Exhaust valve {}", most=12, count="cylinders")
    inlet_valves = Table(Inlet, each="Inlet valve {}", most=12, count="cylinders", refines="Inlet valves")
    exhaust_width_least = gauges.limit("Least exhaust seat width", CardFacts.seats.exhaust_width_least)
    exhaust_width_most = gauges.limit("Greatest exhaust seat width", CardFacts.seats.exhaust_width_greatest)
    inlet_width_least = gauges.limit("Least inlet seat width", CardFacts.seats.inlet_width_least)
    inlet_width_most = gauges.limit("Greatest inlet seat width", CardFacts.seats.inlet_width_greatest)
    edge_least = gauges.limit(
        "Least distance of the line from an edge",
        CardFacts.seats.contact_from_edge,
        hint="To either edge of the valve's face.",
    )
    calliper_error = gauges.calliper_error()

    def answer(self) -> Answer:
        exhaust = gauges.in_mm(self.exhaust_width_least), gauges.in_mm(self.exhaust_width_most)
        inlet = gauges.in_mm(self.inlet_width_least), gauges.in_mm(self.inlet_width_most)
        not_crossed("exhaust_width_least", "exhaust seat width", *exhaust)
        not_crossed("inlet_width_least", "inlet seat width", *inlet)
        of_exhaust = [(row.exhaust_seat_width, row.exhaust_line) for row in self.exhaust_valves]
        of_inlet = [(row.inlet_seat_width, row.inlet_line) for row in self.inlet_valves]
        fits = [
            *self._fits("exhaust", of_exhaust, exhaust, gauges.in_mm(self.exhaust_face)),
            *self._fits("inlet", of_inlet, inlet, gauges.in_mm(self.inlet_face)),
        ]
        if not fits:
            raise Lacking(enter(Exhaust.exhaust_seat_width, "exhaust valve 1", 1))
        faces = {"exhaust": gauges.in_mm(self.exhaust_face), "inlet": gauges.in_mm(self.inlet_face)}

        def sketch(drawing: Drawing, said: str) -> None:
            _sketch(drawing, fits, faces)

        title = "A valve's face laid flat, the rim on the left, the stem on the right, to scale"
        return judged(fits, "Seats", shown(title, fits, sketch, 112))

    def _fits(
        self, side: str, rows: Sequence[Read], width_limits: tuple[float | None, float | None], face: float | None
    ) -> Iterator[Fit]:
        edge, (low, high) = gauges.in_mm(self.edge_least), width_limits
        seat = Kind(
            key="width", noun="seat width", low=low, high=high, limits=(f"{side}_width_least", f"{side}_width_most")
        )
        rim = Kind(key="rim", noun="line to outer edge", low=edge, limits=("edge_least",))
        inner = Kind(
            key="inner",
            noun="line to inner edge",
            formula="width of the valve's face less line to outer edge less seat width",
            source=GEOMETRY,
            low=edge,
            limits=("edge_least",),
        )
        for row, (typed_width, typed_line) in enumerate(rows, 1):
            part = Part("valve", row, side)
            width, line = (
                None if typed is None else one(typed, "calliper", self.calliper_error)
                for typed in (typed_width, typed_line)
            )
            if width is not None:
                yield found(seat, part, width)
            if line is not None:
                yield found(rim, part, line)
            if width is not None and line is not None and face is not None:
                given = ("width of the face", face), ("line to outer edge", line), ("seat width", width)
                yield found(inner, part, face - line - width, *given)


def _sketch(drawing: Drawing, fits: Sequence[Fit], faces: dict[str, float | None]) -> None:
    """Draw the face of the valve whose contact is farthest gone, to scale as far as it was measured."""
    worst = max(fits, key=lambda fit: fit.excess).part
    of = {fit.kind.key: fit.best for fit in fits if fit.part == worst}
    width, line = of.get("width", 0.0), of.get("rim", 0.0)
    face = faces[worst.side] or width + 2 * line
    scale = (_RIGHT - _LEFT) / max(face, width + line, 1e-3)
    start, end = _LEFT + scale * line, _LEFT + scale * (line + width)
    drawing.text(170, 10, f"{worst.name[0].upper()}{worst.name[1:]}")
    drawing.rectangle(_LEFT, 40, scale * face, 30, "part")
    if "width" in of:
        drawing.rectangle(start, 40, end - start, 30, "spacer")
        inside = end - start > 46
        drawing.text(
            (start + end) / 2 if inside else min(max((start + end) / 2, 24), 316),
            55 if inside else 29,
            f"{width:.2f}",
            "number",
        )
    drawing.text(_LEFT - 6, 55, "rim", anchor="end")
    drawing.text(_RIGHT + 4, 55, "stem", anchor="start")
    below = _LEFT + start, end + _LEFT + scale * face
    rim, inner = (twice / 2 for twice in below)
    apart = (52 - (inner - rim)) / 2
    if apart > 0 and {"rim", "inner"} <= of.keys():
        rim, inner = rim - apart, inner + apart
    if "rim" in of:
        drawing.line(_LEFT, 74, _LEFT, 86, "thin")
        drawing.line(start, 74, start, 86, "thin")
        drawing.text(rim, 96, f"{line:.2f}", "number")
    if "inner" in of:
        drawing.line(end, 74, end, 86, "thin")
        drawing.line(_LEFT + scale * face, 74, _LEFT + scale * face, 86, "thin")
        drawing.text(inner, 96, figures(of["inner"], 2), "number")
