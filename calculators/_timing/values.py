"""The values of marks and timing, each with its source and its working."""

from __future__ import annotations

from collections.abc import Iterator
from types import SimpleNamespace

from calculators._report import (
    GEOMETRY,
    Source,
    Value,
)
from calculators._timing.cam import Cam
from calculators._timing.marks import BLIND, Mark, Rim, degrees_words
from calculators._timing.spark import Points, Timing
from calculators._units import printed_bare, quantity
from calculators._verdict import best_of
from calculators._words import listed, word
from calculators.formulas.rim_marks import unsigned

DECISION = Source("ISO 14253-1, decision rules; U with k = 2, JCGM 100:2008 (GUM), 6.2", "memory")
_SLIDER = Source("geometry of the slider-crank, bore and pin not offset", "identity")
CAM = Source("definition of duration, lobe centre, overlap and separation of a four-stroke cam", "identity")
_DWELL = Source("definition of dwell; a lobe alike on both sides", "identity")


def mark_values(rim: Rim) -> Iterator[Value]:
    diameter = quantity(rim.diameter, "mm")
    for place, mark in enumerate(mark for mark in rim.marks if not mark.top and mark.ahead != 0):
        if place < 2 or mark.names[0] in ("static", "full advance"):
            yield Value(
                key=f"mark_{place + 1}",
                label=f"Along it to {angle_of(mark)}, {word(rim.way(mark.ahead))}",
                quantity=quantity(rim.along(mark.ahead), "mm"),
                units=("mm", "in"),
                formula="π × diameter × degrees ÷ 360",
                source=GEOMETRY,
                given=(("diameter", diameter), ("degrees", printed_bare(abs(mark.ahead)))),
                lead=True,
            )
    yield Value(
        key="half_turn",
        label="Half way round, for the second top mark"
        if any(mark.top and abs(mark.ahead) == 180 for mark in rim.marks)
        else "Half way round",
        quantity=quantity(rim.along(180), "mm"),
        units=("mm", "in"),
        formula="π × diameter ÷ 2",
        source=GEOMETRY,
        given=(("diameter", diameter),),
    )
    yield Value(
        key="per_degree",
        label="One degree along it",
        quantity=quantity(rim.along(1.0), "mm"),
        units=("mm", "in"),
        formula="π × diameter ÷ 360",
        source=GEOMETRY,
        given=(("diameter", diameter),),
    )


def stop_values(rim: Rim) -> Iterator[Value]:
    stop = rim.stop
    if stop is None:
        return
    early = best_of(stop.early)
    given = (("half of the gap", quantity(stop.half, "°")), ("allowed", quantity(stop.limit, "°")))
    yield Value(
        key="old_mark",
        label=f"Old mark is {'early' if early >= 0 else 'late'} by",
        quantity=quantity(unsigned(stop.early), "°"),
        units=("°",),
        places=1,
        formula="half the sum of the two readings, counted after the old mark",
        source=_SLIDER,
        given=given,
        lead=True,
    )
    yield Value(
        key="old_mark_verdict",
        label="Old mark",
        quantity=stop.verdict,
        formula="in where the whole of it, with its uncertainty, is within the allowed error",
        source=DECISION,
        given=given,
        lead=True,
    )
    yield Value(
        key="new_mark",
        label=f"New top mark from the old one, {word(rim.way(-early))}" if early else "New top mark from the old one",
        quantity=quantity(rim.along(stop.early), "mm"),
        units=("mm", "in"),
        formula="π × diameter × degrees ÷ 360; where the old mark is early, against the way that the crank turns on "
        "the rim, and with it on the case",
        source=GEOMETRY,
        given=(("degrees", quantity(stop.early, "°")), ("diameter", quantity(rim.diameter, "mm"))),
    )
    if stop.depth is not None and stop.blind is not None:
        yield Value(
            key="stop_depth",
            label="Piston below its top at the stop",
            quantity=quantity(stop.depth, "mm"),
            units=("mm",),
            formula="r + l − r·cos a − √(l² − r²·sin² a); r half the stroke, l the rod, a half of the gap",
            source=_SLIDER,
            given=(("a", quantity(stop.half, "°")),),
        )
        yield Value(
            key="blind",
            label=f"A dial on the piston is blind within, if {BLIND:g} mm escape it",
            quantity=quantity(stop.blind, "°"),
            units=("°",),
            places=1,
            formula="cos a = (h² + r² − l²) ÷ (2·h·r), h = r + l − travel; so far to either side of the top",
            source=_SLIDER,
            given=(("travel", quantity(BLIND, "mm")),),
        )


def points_values(points: Points, inputs: SimpleNamespace) -> Iterator[Value]:
    lobes = ("lobes", points.lobes)
    for key, label, dwell in (
        ("dwell_share", "Dwell wanted", points.wanted),
        ("dwell_read", "Dwell read", points.read),
    ):
        if dwell is not None:
            yield Value(
                key=key,
                label=f"{label}, points closed",
                quantity=quantity(points.share(dwell), "%"),
                units=("%",),
                formula="100 × dwell × lobes ÷ 360",
                source=_DWELL,
                given=(("dwell", quantity(dwell, "°")), lobes),
            )
    if points.verdict is not None:
        yield Value(
            key="dwell_verdict",
            label="Dwell",
            quantity=points.verdict,
            formula="in where the whole of the reading, with its uncertainty, is within the tolerance",
            source=DECISION,
            given=(("read", quantity(points.read, "°")), ("tolerance", quantity(points.tolerance, "°"))),
            lead=True,
        )
        yield Value(
            key="spark_later",
            label="Setting the dwell right moves the spark later by, crank",
            quantity=quantity(points.later, "°"),
            units=("°",),
            places=1,
            formula="(dwell wanted − dwell read) ÷ 2 × 2: half of it on the opening side, twice as much at the crank; "
            "minus is earlier",
            source=_DWELL,
            given=(("dwell wanted", quantity(points.wanted, "°")), ("dwell read", quantity(points.read, "°"))),
        )
    if points.gap is not None:
        yield Value(
            key="gap_to_set",
            label="Gap for the dwell wanted",
            quantity=quantity(points.gap, "mm"),
            units=("mm", "thou"),
            formula="first gap + (second − first gap) × (dwell wanted − first dwell) ÷ (second − first dwell)",
            source=Source("linear interpolation between two readings", "identity"),
            given=(
                ("first", inputs.gap_fitted),
                ("second", inputs.gap_second),
                ("second dwell", inputs.dwell_second),
            ),
            lead=True,
        )


def timing_values(timing: Timing) -> Iterator[Value]:
    if timing.shift is None or timing.rest is None:
        return
    turned = abs(timing.shift) >= 0.05
    yield Value(
        key="shift",
        label=_shift_label(timing, turned),
        quantity=quantity(abs(timing.shift), "°"),
        units=("°",),
        places=1,
        formula="midway between the greatest and the least of read less wanted; never so early that full advance, "
        "where it was read, comes too early",
        source=Source(
            "the least largest deviation is left by the middle of the range; full advance first: common practice, no "
            "source",
            "common practice",
        ),
        given=tuple((f"{light.speed:.0f} r/min", quantity(light.deviation, "°")) for light in timing.readings),
        lead=True,
    )
    yield Value(
        key="rest",
        label="Largest deviation that is then left",
        quantity=quantity(timing.rest, "°"),
        units=("°",),
        places=1,
        formula="greatest size of read less wanted, less what the distributor is turned by; beyond the tolerance the "
        "curve is wrong",
        source=Source("definition of a deviation", "identity"),
        given=(("tolerance", quantity(timing.tolerance, "°")),),
    )


def _shift_label(timing: Timing, turned: bool) -> str:
    if not turned or timing.shift is None:
        return "To put full advance right" if timing.guarded else "To even the readings out"
    if timing.guarded:
        return f"To put full advance right, {turn_to(timing.shift)} by"
    if timing.shift < 0 and not timing.full_read:
        return "To even the light's readings out, once full advance has been read, advance it by"
    return f"To even the light's readings out, {turn_to(timing.shift)} by"


def cam_values(cam: Cam | None) -> Iterator[Value]:
    if cam is None:
        return
    for key, label, angle, formula in (
        ("overlap", "Overlap", cam.overlap, "inlet opens before top + exhaust closes after top"),
        ("separation", "Lobe separation, cam", cam.separation, "(inlet centre + exhaust centre) ÷ 2"),
    ):
        yield Value(
            key=key,
            label=label,
            quantity=quantity(angle, "°"),
            units=("°",),
            places=1,
            formula=formula,
            source=CAM,
            given=(
                ("inlet centre", quantity(cam.inlet.centre, "°")),
                ("exhaust centre", quantity(cam.exhaust.centre, "°")),
            ),
        )
    if cam.late is None:
        return
    yield Value(
        key="cam_late",
        label=f"Cam stands {'late' if best_of(cam.late) > 0 else 'early'} by, crank",
        quantity=quantity(unsigned(cam.late), "°"),
        units=("°",),
        places=1,
        formula="inlet centre measured − wanted, and exhaust centre wanted − measured; the mean where both are known",
        source=CAM,
        given=tuple(
            (name, quantity(valve.centre, "°"))
            for name, valve in (
                ("inlet centre measured", cam.inlet_read),
                ("exhaust centre measured", cam.exhaust_read),
            )
            if valve
        ),
        lead=True,
    )
    yield Value(
        key="cam_verdict",
        label="Cam",
        quantity=str(cam.verdict),
        formula="in where the whole of it, with its uncertainty, is within the allowed error",
        source=DECISION,
        lead=True,
    )
    if cam.per_tooth is not None:
        yield Value(
            key="per_tooth",
            label="One tooth of the cam gear, crank",
            quantity=quantity(cam.per_tooth, "°"),
            units=("°",),
            places=1,
            formula="720 ÷ teeth",
            source=CAM,
        )


def angle_of(mark: Mark) -> str:
    names = f" ({listed(map(word, mark.names))})" if mark.names[0] in ("static", "full advance") else ""
    return f"{degrees_words(mark.ahead)}{names}"


def turn_to(shift: float) -> str:
    return "retard it" if shift > 0 else "advance it"
