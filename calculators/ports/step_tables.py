"""Steps and areas in numbers: what stands behind the answer to where an edge stands into the flow."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from calculators.bench import (
    DECISION,
    GEOMETRY,
    Column,
    Quantity,
    ResultTable,
    TableRow,
    Value,
    magnitude_in,
    quantity,
)
from calculators.bench.units import figures
from calculators.bench.words import word
from calculators.formulas.decision_rule import Verdict
from calculators.ports.openings import SIDES, Edge, Named

_AREA = "width · height − (4 − π) · corner²; traced: half the sum of x·y′ − x′·y"
_STEP = "from each point of the edge, square to the nearest edge before it; minus where it is set back"


def verdict_on(edge: Edge, error: float, allowed: Quantity | None) -> Verdict | None:
    """Judge an edge by the step that is allowed, with the error of both edges; None without a limit."""
    return edge.verdict(error, None if allowed is None else magnitude_in(allowed, "mm"))


def step_values(edges: Sequence[Edge], error: float, allowed: Quantity | None) -> Iterator[Value]:
    """Yield how far the edge that is most in the way stands into the flow."""
    if not edges:
        return
    worst = max(edges, key=lambda edge: edge.greatest)
    name, verdict = word(worst.opening.name), verdict_on(worst, error, allowed)
    yield Value(
        key="step",
        label=f"Farthest into the flow: {name} at {worst.hour} o'clock"
        if worst.greatest > 0
        else f"Nearest to the flow: {name} at {worst.hour} o'clock",
        quantity=quantity(worst.measured(error), "mm"),
        formula=_STEP,
        source=GEOMETRY,
        given=(
            ("measured from the edge of the", worst.facing),
            *((("allowed", allowed), ("verdict", verdict)) if verdict else ()),
        ),
    )


def step_table(edges: Sequence[Edge], error: float, allowed: Quantity | None) -> ResultTable:
    """Return how far each edge stands into the flow, quarter by quarter."""
    verdicts = [verdict_on(edge, error, allowed) for edge in edges]
    return ResultTable(
        key="steps",
        title="How far each edge stands into the flow past those before it, in mm",
        columns=(
            Column(key="edge", label="Edge"),
            *(Column(key=side, label=word(side).capitalize(), unit="mm") for side in SIDES),
            Column(key="greatest", label="Most", unit="mm", strong=True),
            Column(key="hour", label="O'clock"),
            Column(key="verdict", label="Verdict"),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    word(edge.opening.name).capitalize(),
                    *(quantity(side, "mm") for side in edge.sides),
                    quantity(edge.measured(error), "mm"),
                    edge.hour,
                    verdict or "no limit",
                ),
                chosen=verdict == "out",
            )
            for edge, verdict in zip(edges, verdicts, strict=True)
        ),
        formula=f"the most in each quarter; {_STEP}",
        source=DECISION,
        given=() if allowed is None else (("allowed", allowed),),
    )


def area_table(openings: Sequence[Named], shapes: Mapping[str, str], error: float) -> ResultTable:
    """Return what each opening was taken for, and its area."""
    first = openings[0]
    return ResultTable(
        key="areas",
        title="The openings, in the order of the flow",
        columns=(
            Column(key="opening", label="Opening"),
            Column(key="shape", label="Taken as"),
            Column(key="width", label="Width", unit="mm", places=1),
            Column(key="height", label="Height", unit="mm", places=1),
            Column(key="area", label="Area", unit="mm²", places=0, strong=True),
            Column(key="share", label=f"Of the {word(first.name)}", unit="%", places=0),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    word(opening.name).capitalize(),
                    shapes[opening.name],
                    *(quantity(size, "mm") for size in opening.size),
                    quantity(opening.area(error), "mm²"),
                    quantity(100 * opening.shape.area / first.shape.area, "%"),
                )
            )
            for opening in openings
        ),
        formula=_AREA,
        source=GEOMETRY,
    )


def area_values(openings: Sequence[Named], shared: float | None) -> Iterator[Value]:
    """Yield what is open all the way through; of one opening alone its area."""
    least = min(openings, key=lambda opening: opening.shape.area)
    if shared is None:
        yield Value(
            key="area",
            label=f"Area of the {word(least.name)}",
            quantity=quantity(least.shape.area, "mm²"),
            units=("mm²", "in²"),
            formula=_AREA,
            source=GEOMETRY,
        )
        return
    yield Value(
        key="shared",
        label="Open all the way through",
        quantity=quantity(shared, "mm²"),
        units=("mm²", "in²"),
        formula="area that lies within every opening, summed over level lines",
        source=GEOMETRY,
        given=(("smallest opening", f"{word(least.name)}, {figures(least.shape.area, 0)} mm²"),),
    )
    yield Value(
        key="shared_share",
        label=f"Of the smallest opening, the {word(least.name)}",
        quantity=quantity(100 * shared / least.shape.area, "%"),
        formula="area open all the way through ÷ area of the smallest opening",
        source=GEOMETRY,
    )
