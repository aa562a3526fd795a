"""The edges that stand into the flow where pipe, gasket and port meet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    FieldError,
    Figure,
    InputErrors,
    Lacking,
    Question,
    Worked,
    choice,
    magnitude_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.units import figures
from calculators.bench.words import listed as spoken
from calculators.bench.words import word
from calculators.ports.openings import Edge, Named, edges_of, open_area
from calculators.ports.openings_drawing import openings_figure
from calculators.ports.step_tables import area_table, area_values, step_table, step_values, verdict_on
from calculators.ports.typed_openings import TypedOpening, across, corner, height, trace, up, width

GRINDING = Caution(
    "warning",
    "Grinding throws chips and dust into eyes and lungs. Wear goggles and a dust mask, clamp the head, and keep "
    "sleeves and gloves away from the spinning burr.",
)
_AT = "What is allowed"


class Steps(Question):
    """For straight flow along the port: it does not allow for bends or replace a flow bench.

    Each edge is measured square to the nearest one before it; an edge hidden behind an earlier one does not count.
    """

    asks = "Does an edge stand into the flow where pipe, gasket and port meet?"
    tells = "Edges in the flow"
    works_out = ("pipe_area", "gasket_area", "port_area")

    flow = choice(
        "Direction of the gas",
        {"in": "Inlet: pipe, gasket, port", "out": "Exhaust: port, gasket, pipe"},
        usual="in",
        said="{}",
    )
    pipe_width = width("Pipe width", example="37 mm", shared_as="pipe_width", said="pipe {}")
    pipe_height = height("Pipe height", example="31 mm", shared_as="pipe_height")
    gasket_width = width(
        "Gasket width",
        hint="As it lies when tightened: positioned by its studs, not by the pipe.",
        example="38 mm",
        shared_as="gasket_width",
        said="gasket {}",
    )
    gasket_height = height("Gasket height", example="33 mm", shared_as="gasket_height")
    port_width = width("Port width", example="36 mm", shared_as="port_width", said="port {}")
    port_height = height("Port height", example="31 mm", shared_as="port_height")

    pipe_across = across("Pipe offset across", "pipe")
    pipe_up = up("Pipe offset up", "pipe")
    pipe_corner = corner("Pipe corner radius", "pipe")
    pipe_trace = trace("Pipe trace", "pipe")
    gasket_across = across("Gasket offset across", "gasket")
    gasket_up = up("Gasket offset up", "gasket")
    gasket_corner = corner("Gasket corner radius", "gasket")
    gasket_trace = trace("Gasket trace", "gasket")
    port_across = across("Port offset across", "port", example="0.4 mm")
    port_up = up("Port offset up", "port", example="−0.7 mm")
    port_corner = corner("Port corner radius", "port")
    port_trace = trace("Port trace", "port")

    step_allowed = optional(
        card_entry(
            CardFacts.limits.port_step,
            "Allowed step",
            exact=True,
            hint="How far an edge may stand into the flow; empty where there is no limit.",
            shared_as="port_step",
            refines=_AT,
            said="{}",
        )
    )
    edge_error = shared.error_limit(
        "Error limit of an edge",
        "mm",
        5,
        why="a larger error is no use",
        hint="Plus or minus: how far each edge may be from where you measured it.",
        usual="0.1 mm",
        shared_as="edge_error",
        refines=_AT,
        said="edges ± {}",
    )

    def answer(self) -> Answer:
        openings = self._openings()
        edges = edges_of(openings)
        shared = open_area(openings) if edges else None
        return Answer(
            headline=self._headline(openings, edges),
            says=self._says(openings, edges),
            record=self._record(edges),
            drawing=_figure(openings, edges),
            values=(*step_values(edges, self._error, self.step_allowed), *area_values(openings, shared)),
            warnings=tuple(self._warnings(edges)),
            tables=(
                *((step_table(edges, self._error, self.step_allowed),) if edges else ()),
                area_table(openings, {typed.name: typed.shape for typed in self._typed}, self._error),
            ),
            notes=(
                "An edge that stands into the flow costs more than one that is set back (common practice, no "
                "source). "
                "Match the later opening to the earlier one, and leave a set-back edge alone.",
                "For straight flow along the port only: it does not allow for bends or replace a flow bench.",
                "An oval has semicircular ends. A traced opening has straight lines between its points: take more "
                "points where it curves.",
                "An edge hidden behind an earlier one does not count.",
                "The engine maker's figures win over any figure here.",
            ),
            worked=tuple(
                Worked(name=f"{opening.name}_area", value=quantity(opening.area(self._error), "mm²"))
                for opening in openings
            ),
        )

    @property
    def _typed(self) -> tuple[TypedOpening, ...]:
        return (
            TypedOpening(
                "pipe",
                self.pipe_width,
                self.pipe_height,
                self.pipe_corner,
                self.pipe_across,
                self.pipe_up,
                self.pipe_trace,
            ),
            TypedOpening(
                "gasket",
                self.gasket_width,
                self.gasket_height,
                self.gasket_corner,
                self.gasket_across,
                self.gasket_up,
                self.gasket_trace,
            ),
            TypedOpening(
                "port",
                self.port_width,
                self.port_height,
                self.port_corner,
                self.port_across,
                self.port_up,
                self.port_trace,
            ),
        )

    def _openings(self) -> tuple[Named, ...]:
        """Return the openings that were measured, the first that the gas meets first."""
        errors: list[FieldError] = []
        found = [opening for typed in self._typed if (opening := typed.opening(errors))]
        if errors:
            raise InputErrors(*errors)
        if not found:
            raise Lacking(
                *(
                    FieldError(f"{name}_width", f"Enter the {word(name)} width, in millimetres")
                    for name in ("pipe", "port")
                )
            )
        return tuple(found if self.flow == "in" else reversed(found))

    @property
    def _error(self) -> float:
        return magnitude_in(self.edge_error, "mm")

    def _verdict(self, edge: Edge) -> str | None:
        return verdict_on(edge, self._error, self.step_allowed)

    def _headline(self, openings: Sequence[Named], edges: Sequence[Edge]) -> str:
        worst = max(edges, key=lambda edge: edge.greatest, default=None)
        if worst is None:
            return f"{word(openings[0].name).capitalize()} {figures(openings[0].shape.area, 0)} mm²"
        if worst.greatest <= 0:
            return "No edge stands into the flow"
        verdict = self._verdict(worst)
        said = f"{word(worst.opening.name).capitalize()} {figures(worst.greatest, 2)} mm proud at {worst.hour} o'clock"
        return said + (f": {word(verdict)}" if verdict else "")

    def _record(self, edges: Sequence[Edge]) -> str:
        proud = [edge for edge in edges if edge.greatest > 0]
        told = (f"the {word(edge.opening.name)} by {figures(edge.greatest, 2)} mm" for edge in proud)
        return f"Edges found standing into the flow: {spoken(told)}." if proud else ""

    def _says(self, openings: Sequence[Named], edges: Sequence[Edge]) -> str:
        if not edges:
            return f"The {word(openings[0].name)} alone has {figures(openings[0].shape.area, 0)} mm²."
        told = []
        for edge in edges:
            if edge.greatest > 0:
                name, verdict = word(edge.opening.name), self._verdict(edge)
                told.append(
                    f"The {name} stands {figures(edge.greatest, 2)} mm into the flow at {edge.hour} o'clock"
                    + (f" ({word(verdict)})" if verdict else "")
                    + (f": take metal off the {name} there, up to the {word(edge.facing)}" if verdict == "out" else "")
                    + "."
                )
        return " ".join(told) or f"No edge of {len(openings)} stands into the flow."

    def _warnings(self, edges: Sequence[Edge]) -> Iterator[Caution]:
        if any(edge.greatest > 0 for edge in edges):
            yield GRINDING
        near = [word(edge.opening.name) for edge in edges if self._verdict(edge) == "too close to call"]
        if near:
            yield Caution(
                "notice",
                f"{spoken(near).capitalize()}: too close to call. Measure the edges more exactly before you take metal "
                "off.",
            )


def _figure(openings: Sequence[Named], edges: Sequence[Edge]) -> Figure:
    worst = max(edges, key=lambda edge: edge.greatest, default=None)
    most: Any = None
    if worst and worst.greatest > 0:
        most = (word(worst.opening.name), round(worst.greatest, 3), worst.place)
    return openings_figure(
        tuple((word(opening.name), opening.shape) for opening in openings), tuple(edge.depths for edge in edges), most
    )
