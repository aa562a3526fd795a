"""How the cam is told: in a few words, in a sentence, drawn, as values, and valve by valve."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators.bench import DECISION, Column, Figure, ResultTable, Source, TableRow, Value, quantity
from calculators.bench.units import figures
from calculators.bench.verdict import best_of
from calculators.bench.words import word
from calculators.formulas.rim_marks import unsigned
from calculators.timing.cam_drawing import cam_figure
from calculators.timing.camshaft import Cam, Valve

_CAM = Source("definition of duration, lobe centre, overlap and separation of a four-stroke cam", "identity")


def _off(cam: Cam) -> str:
    late = best_of(cam.late)
    return f"{figures(abs(late), 1)}° {'late' if late > 0 else 'early'}"


def _teeth(cam: Cam) -> str:
    if not cam.teeth:
        return ""
    return f", near {abs(cam.teeth)} {'tooth' if abs(cam.teeth) == 1 else 'teeth'}"


def headline(cam: Cam) -> str:
    """Return how the cam stands; without a measurement, where its lobes are."""
    if cam.late is None:
        return f"Centres: inlet {figures(cam.inlet.centre, 1)}°, exhaust {figures(cam.exhaust.centre, 1)}°"
    return f"{_off(cam)}{_teeth(cam)}: {word(str(cam.verdict))}"


def says(cam: Cam) -> str:
    """Return the same as a sentence."""
    if cam.late is None:
        return (
            f"By the maker's figures the inlet's lobe centre is {figures(cam.inlet.centre, 1)}° after overlap top, "
            f"the exhaust's {figures(cam.exhaust.centre, 1)}° before it. Measure the inlet's opening and closing to "
            "see whether the cam is in time."
        )
    return f"The cam is {_off(cam)}{_teeth(cam)}: {word(str(cam.verdict))}."


def drawn(cam: Cam) -> Figure:
    """Draw when the valves are open, as the maker gives it and as measured."""
    return cam_figure(
        (_span(cam.exhaust, -1), _span(cam.inlet, 1)),
        (
            _span(cam.exhaust_read, -1) if cam.exhaust_read else None,
            _span(cam.inlet_read, 1) if cam.inlet_read else None,
        ),
    )


def _span(valve: Valve, side: int) -> tuple[float, float]:
    """Return when a valve opens and shuts after overlap top; the exhaust's side is −1."""
    middle, half = side * best_of(valve.centre), best_of(valve.open_for) / 2
    return middle - half, middle + half


def values(cam: Cam) -> Iterator[Value]:
    """Yield overlap and separation, and by how much the cam stands out of time where it was measured."""
    for key, label, angle, formula in (
        ("overlap", "Overlap", cam.overlap, "inlet opens before top + exhaust closes after top"),
        ("separation", "Lobe separation, cam", cam.separation, "(inlet centre + exhaust centre) ÷ 2"),
    ):
        yield Value(
            key=key,
            label=label,
            quantity=quantity(angle, "°"),
            places=1,
            formula=formula,
            source=_CAM,
            given=(
                ("inlet centre", quantity(cam.inlet.centre, "°")),
                ("exhaust centre", quantity(cam.exhaust.centre, "°")),
            ),
        )
    if cam.late is None:
        return
    yield Value(
        key="cam_late",
        label=f"Cam is {'late' if best_of(cam.late) > 0 else 'early'} by, crank",
        quantity=quantity(unsigned(cam.late), "°"),
        places=1,
        formula="inlet centre measured − wanted, and exhaust centre wanted − measured; the mean where both are known",
        source=_CAM,
        given=tuple(
            (name, quantity(valve.centre, "°"))
            for name, valve in (
                ("inlet centre measured", cam.inlet_read),
                ("exhaust centre measured", cam.exhaust_read),
            )
            if valve
        ),
    )
    yield Value(
        key="cam_verdict",
        label="Cam",
        quantity=str(cam.verdict),
        formula="in: all of it, ± included, is within the allowed error",
        source=DECISION,
    )
    if cam.per_tooth is not None:
        yield Value(
            key="per_tooth",
            label="One tooth of the cam gear, crank",
            quantity=quantity(cam.per_tooth, "°"),
            places=1,
            formula="720 ÷ teeth",
            source=_CAM,
        )


def lobes_table(cam: Cam) -> ResultTable:
    """Return one row a valve: as the maker gives it, and as measured."""
    rows = (
        ("Inlet", "after top", cam.inlet, cam.inlet_read),
        ("Exhaust", "before top", cam.exhaust, cam.exhaust_read),
    )
    return ResultTable(
        key="lobes",
        title="The cam, in degrees of the crank",
        columns=(
            Column(key="valve", label="Valve"),
            Column(key="duration", label="Open for", unit="°", places=1),
            Column(key="centre", label="Lobe centre", unit="°", places=1, strong=True),
            Column(key="side", label="From overlap top"),
            Column(key="duration_read", label="Open for, measured", unit="°", places=1),
            Column(key="centre_read", label="Lobe centre, measured", unit="°", places=1),
        ),
        rows=tuple(
            TableRow(cells=(name, *_cells(valve), side, *(_cells(read) if read else (None, None))))
            for name, side, valve, read in rows
        ),
        formula="open for: near top + 180° + near bottom; lobe centre: half of that less the event near top",
        source=_CAM,
    )


def _cells(valve: Valve) -> tuple[Any, Any]:
    return quantity(valve.open_for, "°"), quantity(valve.centre, "°")
