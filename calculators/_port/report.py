"""Ports and chambers in words and numbers: steps, areas, speeds, and what evens the chambers."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._port.chambers import (
    DECISION,
    LEAST_OUT,
    Chamber,
    chamber_table,
    chamber_values,
    read_chambers,
)
from calculators._port.drawing import chambers_figure, openings_figure
from calculators._port.openings import SIDES, Edge, Named, edges_of, number_of, open_area, read_openings
from calculators._report import GEOMETRY, Caution, Column, Figure, Report, Row, Source, Table, Value
from calculators._units import bare, figures, magnitude_in, printed_bare, quantity
from calculators._words import listed, word
from calculators.formulas.port_flow import (
    curtain_area,
    gas_speed,
    mach_index,
    piston_speed,
    sound_speed,
    throat_area,
)

_MACH = Source("Taylor, The Internal Combustion Engine in Theory and Practice, volume 1, chapter 6", "memory")
_HEYWOOD = Source("Heywood, Internal Combustion Engine Fundamentals, chapter 6", "memory")
MACH_LIMIT = 0.6
"""Above it a cylinder fills badly; goes with the index as defined by Taylor (from memory)."""


def report(inputs: SimpleNamespace) -> Report:
    """Return the whole answer.

    Raises
    ------
    InputErrors
        Nothing was measured, or something cannot be.
    """
    openings = read_openings(inputs)
    chambers = read_chambers(inputs)
    if not openings and not chambers:
        message = "Enter the shape of the port, of the gasket or of the pipe, or the chamber volumes"
        raise InputErrors(FieldError("port_shape", message))
    shared = open_area(openings) if len(openings) > 1 else None
    edges = edges_of(openings)
    worst = max(edges, key=lambda edge: edge.greatest, default=None)
    error, allowed = magnitude_in(inputs.edge_error, "mm"), _mm(inputs.step_allowed)
    return Report(
        lead=_lead(inputs, openings, edges, chambers, error, allowed),
        values=(
            *_step_values(worst, error, allowed),
            *([] if shared is None else _area_values(openings, shared)),
            *_speed_values(inputs, openings, error),
            *chamber_values(inputs, chambers),
        ),
        tables=(
            *([_step_table(edges, error, allowed)] if edges else []),
            *([_area_table(inputs, openings, error)] if openings else []),
            *([chamber_table(inputs, chambers)] if chambers else []),
        ),
        figures=tuple(_figures(openings, edges, worst, chambers)),
        cautions=tuple(_cautions(inputs, edges, chambers, error, allowed)),
        notes=tuple(_notes(openings, chambers)),
    )


def _mm(typed: Any) -> float | None:
    return None if typed is None else magnitude_in(typed, "mm")


def _lead(
    inputs: SimpleNamespace,
    openings: Sequence[Named],
    edges: Sequence[Edge],
    chambers: Sequence[Chamber],
    error: float,
    allowed: float | None,
) -> str:
    told = []
    proud = [edge for edge in edges if edge.greatest > 0]
    if proud:
        for edge in proud:
            verdict = edge.verdict(error, allowed)
            told.append(
                f"{word(edge.opening.name)} {figures(edge.greatest, 2)} mm into the flow at {edge.hour} o'clock"
                + (f" ({word(verdict)})" if verdict else "")
            )
    elif edges:
        told.append(f"no edge of {len(openings)} stands into the flow")
    elif openings:
        told.append(f"{word(openings[0].name)} {figures(openings[0].shape.area, 0)} mm²")
    out = [chamber for chamber in chambers if chamber.evened.out >= LEAST_OUT]
    if out:
        amounts = listed(f"{figures(one.evened.out, 1)} cm³ from cylinder {one.number}" for one in out)
        told.append(f"take {amounts}")
    elif chambers:
        told.append(f"nothing to take from any of {len(chambers)} chambers")
    sentence = "; ".join(told)
    return f"{sentence[0].upper()}{sentence[1:]}."


def _step_values(worst: Edge | None, error: float, allowed: float | None) -> Iterator[Value]:
    if worst is None:
        return
    verdict = worst.verdict(error, allowed)
    yield Value(
        key="step",
        label=f"Farthest into the flow: {word(worst.opening.name)} at {worst.hour} o'clock"
        if worst.greatest > 0
        else f"Nearest to the flow: {word(worst.opening.name)} at {worst.hour} o'clock",
        quantity=quantity(worst.measured(error), "mm"),
        units=("mm",),
        formula="from each point of the edge, square to the nearest edge before it; minus where it is set back",
        source=GEOMETRY,
        lead=True,
        given=(
            ("measured from the edge of the", worst.facing),
            *(() if allowed is None else (("allowed", quantity(allowed, "mm")), ("verdict", str(verdict)))),
        ),
    )


def _step_table(edges: Sequence[Edge], error: float, allowed: float | None) -> Table:
    return Table(
        key="steps",
        title="How far each edge stands into what flows past those before it, in mm",
        columns=(
            Column(key="edge", label="Edge"),
            *(Column(key=side, label=word(side).capitalize(), unit="mm") for side in SIDES),
            Column(key="greatest", label="Most", unit="mm", strong=True),
            Column(key="hour", label="At o'clock"),
            Column(key="verdict", label="Verdict"),
        ),
        rows=tuple(
            Row(
                cells=(
                    word(edge.opening.name).capitalize(),
                    *(quantity(side, "mm") for side in edge.sides),
                    quantity(edge.measured(error), "mm"),
                    edge.hour,
                    edge.verdict(error, allowed) or "no limit",
                ),
                chosen=edge.verdict(error, allowed) == "out",
            )
            for edge in edges
        ),
        formula="the most in each quarter; from each point of the edge, square to the nearest edge before it; "
        "minus where it is set back",
        source=DECISION,
        given=() if allowed is None else (("allowed", quantity(allowed, "mm")),),
    )


def _area_values(openings: Sequence[Named], shared: float) -> Iterator[Value]:
    least = min(openings, key=lambda opening: opening.shape.area)
    yield Value(
        key="shared",
        label="Open all the way through, in mm²",
        quantity=shared,
        places=0,
        formula="area that lies within every opening, summed over level lines",
        source=GEOMETRY,
        lead=True,
        given=(("smallest opening", f"{word(least.name)}, {figures(least.shape.area, 0)} mm²"),),
    )
    yield Value(
        key="shared_share",
        label=f"Of the smallest opening, the {word(least.name)}",
        quantity=quantity(100 * shared / least.shape.area, "%"),
        units=("%",),
        formula="area open all the way through ÷ area of the smallest opening",
        source=GEOMETRY,
    )


def _area_table(inputs: SimpleNamespace, openings: Sequence[Named], error: float) -> Table:
    first = openings[0].shape.area
    speed, bore = _piston(inputs), number_of(inputs.bore)
    moving = speed is not None and bore is not None
    return Table(
        key="areas",
        title="The openings, in the order of the flow",
        columns=(
            Column(key="opening", label="Opening"),
            Column(key="width", label="Width", unit="mm", places=1),
            Column(key="height", label="Height", unit="mm", places=1),
            Column(key="area", label="Area, mm²", places=0),
            Column(key="share", label=f"Of the {word(openings[0].name)}", unit="%", places=0),
            *((Column(key="speed", label="Mean gas speed, m/s", places=1),) if moving else ()),
        ),
        rows=tuple(
            Row(
                cells=(
                    word(opening.name).capitalize(),
                    quantity(opening.size[0], "mm"),
                    quantity(opening.size[1], "mm"),
                    opening.area(error),
                    quantity(100 * opening.shape.area / first, "%"),
                    *((gas_speed(speed, bore, opening.area(error)),) if moving else ()),
                )
            )
            for opening in openings
        ),
        formula="width · height − (4 − π) · corner²; traced: half the sum of x·y′ − x′·y; "
        "gas speed = mean piston speed · bore area ÷ area",
        source=GEOMETRY,
    )


def _piston(inputs: SimpleNamespace) -> Any:
    """Return the mean piston speed in m/s, or None."""
    if inputs.stroke is None or inputs.engine_speed is None:
        return None
    return piston_speed(number_of(inputs.stroke), magnitude_in(inputs.engine_speed, "r/min"))


def _speed_values(inputs: SimpleNamespace, openings: Sequence[Named], error: float) -> Iterator[Value]:
    piston, bore = _piston(inputs), number_of(inputs.bore)
    if piston is None or bore is None:
        return
    yield Value(
        key="piston_speed",
        label="Mean piston speed, in m/s",
        quantity=piston,
        places=1,
        formula="2 · stroke · engine speed",
        source=GEOMETRY,
        given=(("stroke", inputs.stroke), ("engine speed", inputs.engine_speed)),
    )
    port = next((opening for opening in openings if opening.name == "port"), None)
    if port:
        yield Value(
            key="port_speed",
            label="Mean gas speed in the port, in m/s",
            quantity=gas_speed(piston, bore, port.area(error)),
            places=0,
            formula="mean piston speed · bore area ÷ port area",
            source=GEOMETRY,
            lead=True,
            given=(("mean piston speed", f"{printed_bare(piston, 1)} m/s"), ("bore", inputs.bore)),
        )
    if inputs.flow == "in" and inputs.valve_head is not None:
        yield from _valve_values(inputs, port, error, piston)


def _index(inputs: SimpleNamespace) -> Any:
    """Return the inlet Mach index, or None where something for it is not known."""
    piston, bore, valve = _piston(inputs), number_of(inputs.bore), number_of(inputs.valve_head)
    if inputs.flow != "in" or piston is None or bore is None or valve is None:
        return None
    return mach_index(
        bore, valve, piston, inputs.flow_coefficient, sound_speed(magnitude_in(inputs.inlet_temperature, "°C"))
    )


def _valve_values(inputs: SimpleNamespace, port: Named | None, error: float, piston: Any) -> Iterator[Value]:
    valve, lift = number_of(inputs.valve_head), number_of(inputs.valve_lift)
    sound = sound_speed(magnitude_in(inputs.inlet_temperature, "°C"))
    yield Value(
        key="mach_index",
        label="Inlet Mach index",
        quantity=_index(inputs),
        places=2,
        formula="(bore ÷ valve head)² · mean piston speed ÷ (flow coefficient · speed of sound); "
        f"above {MACH_LIMIT} the cylinder fills badly",
        source=_MACH,
        lead=True,
        given=(
            ("bore", inputs.bore),
            ("valve head", inputs.valve_head),
            ("mean piston speed", f"{printed_bare(piston, 1)} m/s"),
            ("flow coefficient", inputs.flow_coefficient),
            ("speed of sound", f"{figures(sound, 0)} m/s"),
        ),
    )
    curtain = None
    if lift is not None:
        curtain = curtain_area(valve, lift)
        yield Value(
            key="curtain",
            label="Curtain at full lift, in mm²",
            quantity=curtain,
            places=0,
            formula="π · valve head · lift",
            source=_HEYWOOD,
            given=(("valve head", inputs.valve_head), ("lift", inputs.valve_lift)),
        )
    if inputs.throat is None:
        return
    stem = 0.0 if inputs.stem is None else number_of(inputs.stem)
    throat = throat_area(number_of(inputs.throat), stem)
    if bare(throat)[0] <= 0:
        raise InputErrors(FieldError("stem", "Stem diameter must be below the throat diameter"))
    yield Value(
        key="throat",
        label="Throat less stem, in mm²",
        quantity=throat,
        places=0,
        formula="π ÷ 4 · (throat² − stem²)",
        source=_HEYWOOD,
        given=(("throat", inputs.throat), *((("stem", inputs.stem),) if inputs.stem is not None else ())),
    )
    yield Value(
        key="full_lift",
        label="Lift at which curtain and throat are alike",
        quantity=quantity(throat / (math.pi * valve), "mm"),
        units=("mm",),
        formula="throat less stem ÷ (π · valve head)",
        source=_HEYWOOD,
    )
    if port:
        narrow: Any = throat if curtain is None or bare(throat)[0] <= bare(curtain)[0] else curtain
        yield Value(
            key="narrowest",
            label=f"{'Throat' if narrow is throat else 'Curtain'} against port",
            quantity=quantity(100 * narrow / port.area(error), "%"),
            units=("%",),
            places=0,
            formula="the smaller of throat and curtain ÷ area of the port",
            source=GEOMETRY,
        )


def _figures(
    openings: Sequence[Named], edges: Sequence[Edge], worst: Edge | None, chambers: Sequence[Chamber]
) -> Iterator[Figure]:
    if openings:
        proud = worst if worst and worst.greatest > 0 else None
        yield openings_figure(
            tuple((word(opening.name), opening.shape) for opening in openings),
            tuple(edge.depths for edge in edges),
            proud and (word(proud.opening.name), round(proud.greatest, 3), proud.place),
        )
    if chambers:
        yield chambers_figure(
            tuple((one.number, round(one.evened.out, 3), round(one.evened.short, 3), one.room) for one in chambers)
        )


def _cautions(
    inputs: SimpleNamespace, edges: Sequence[Edge], chambers: Sequence[Chamber], error: float, allowed: float | None
) -> Iterator[Caution]:
    takes = any(chamber.evened.out >= LEAST_OUT for chamber in chambers)
    steps = any(edge.greatest > 0 for edge in edges)
    if takes or steps:
        yield Caution(
            "warning",
            "Grinding throws chips and dust into eyes and lungs. Wear goggles and a dust mask, clamp the head, and "
            "keep sleeves and gloves away from a turning burr.",
        )
    if takes:
        yield Caution(
            "caution",
            "Measure each wall where it is thinnest and again as you go: a chamber ground through, or thin under a "
            "valve seat, is scrap. Stay off the seats, the plug's thread and the sealing face.",
        )
    short = [chamber.number for chamber in chambers if chamber.evened.short >= LEAST_OUT]
    if short:
        yield Caution(
            "notice",
            f"Cylinder {listed(short)} cannot be brought to the largest chamber. Even what is left under the barrels "
            "or at the piston, or look for another head.",
        )
    index = _index(inputs)
    if index is not None and bare(index)[0] > MACH_LIMIT:
        yield Caution(
            "notice",
            f"The inlet Mach index is above {MACH_LIMIT} at this engine speed: the cylinder fills badly there, "
            "whatever is done to the port's edges.",
        )
    near = [word(edge.opening.name) for edge in edges if edge.verdict(error, allowed) == "too close to call"]
    if near:
        yield Caution(
            "notice",
            f"{listed(near).capitalize()}: too close to call. Measure the edges closer before you take metal off.",
        )
    yield Caution(
        "notice",
        "Every cubic centimetre taken out lowers the ratio. The engine maker's figures win over any here."
        if takes
        else "The engine maker's figures win over any here.",
    )


def _notes(openings: Sequence[Named], chambers: Sequence[Chamber]) -> Iterator[str]:
    if len(openings) > 1:
        yield (
            "An edge that stands into the flow costs more than one that is set back (common practice, no source). "
            "Match the later opening to the earlier one, and leave a set-back edge be."
        )
    if chambers:
        yield "A plan only: measure every chamber again after grinding, with plug and valves fitted."
