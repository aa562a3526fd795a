"""The rim that is left of a valve's head above its face."""

from __future__ import annotations

from typing import Any

from calculators.bench import Answer, Caution, Drawing, Entry, Quantity, Question, Row, Table, length, optional
from calculators.bench.card_facts import CardFacts
from calculators.fits import gauges
from calculators.fits.answers import as_read, judged
from calculators.fits.drawing import dimension, shown
from calculators.fits.fit import Fit, Kind
from calculators.fits.verdicts import names_of


def _margin(label: str, shared_as: str, **facts: Any) -> Entry[Quantity | None]:
    return optional(length(label, 0, 20, why=gauges.VALVES, shared_as=shared_as, read_by="calliper", **facts))


class Valves(Row):
    """The valves of one cylinder."""

    exhaust_margin = _margin(
        "Exhaust valve margin",
        "exhaust_margin",
        hint="Rim of the head, from the face's edge to the flat; the inlet alike.",
        example="1.3; 1.2; 0.9; 1.3",
    )
    inlet_margin = _margin("Inlet valve margin", "inlet_margin")


class ValveMargin(Question):
    """Where it is thinnest. If the rim's height varies round the head, the valve is bent."""

    asks = "Is there enough margin left on this valve?"
    tells = "Valve margin"
    judges = True

    cylinders = gauges.cylinders()
    valves = Table(Valves, each="Cylinder {}", most=12, count="cylinders")
    margin_least = gauges.limit("Least valve margin", CardFacts.limits.valve_margin)
    calliper_error = gauges.calliper_error()

    def answer(self) -> Answer:
        kind = Kind(key="margin", noun="valve margin", low=gauges.in_mm(self.margin_least), limits=("margin_least",))
        sides = {"exhaust": Valves.exhaust_margin, "inlet": Valves.inlet_margin}
        fits = as_read(sides, self.valves, "valve", kind, "calliper", self.calliper_error)
        thin = [fit for fit in fits if fit.verdict == "out"]
        return judged(
            fits,
            "Valve margins",
            shown("A valve's head cut open, the combustion chamber below", fits, _sketch, 112),
            told=thin,
            warnings=(_breaks(thin),) if thin else (),
        )


def _breaks(thin: list[Fit]) -> Caution:
    return Caution(
        "warning",
        f"{names_of(thin)}: a valve with too thin a rim burns, and its head can break off and go through the piston, "
        "which can kill on the road. Do not grind it again. Fit a new valve.",
    )


def _sketch(drawing: Drawing, said: str) -> None:
    half = [(8, 4), (10, 34), (30, 52), (66, 58), (86, 78), (86, 100)]
    right = [(140 + x, y) for x, y in half]
    left = [(140 - x, y) for x, y in reversed(half)]
    drawing.path([*right, *left], "part", closed=True)
    drawing.line(206, 58, 226, 78, "contact")
    drawing.text(214, 46, "face", anchor="start")
    drawing.line(228, 78, 252, 78, "thin")
    drawing.line(228, 100, 252, 100, "thin")
    dimension(drawing, (244, 78), (244, 100), 12)
    drawing.text(254, 89, said, "number", anchor="start")
