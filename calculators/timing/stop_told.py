"""What a positive stop says of the old mark, as values."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.bench import DECISION, GEOMETRY, Source, Value, quantity
from calculators.bench.verdict import best_of
from calculators.bench.words import word
from calculators.formulas.rim_marks import unsigned
from calculators.timing.rim import BLIND, Rim, Stop

_SLIDER = Source("geometry of the slider-crank, bore and pin not offset", "identity")


def values(rim: Rim, stop: Stop) -> Iterator[Value]:
    """Yield how far the old mark is out, its verdict, the new mark, and how deep the stop reaches where it is known."""
    early = best_of(stop.early)
    given = (("half of the gap", quantity(stop.half, "°")), ("allowed", quantity(stop.limit, "°")))
    yield Value(
        key="old_mark",
        label=f"Old mark is {'early' if early >= 0 else 'late'} by",
        quantity=quantity(unsigned(stop.early), "°"),
        places=1,
        formula="half the sum of the two readings, counted after the old mark",
        source=_SLIDER,
        given=given,
    )
    yield Value(
        key="old_mark_verdict",
        label="Old mark",
        quantity=stop.verdict,
        formula="in: all of it, ± included, is within the allowed error",
        source=DECISION,
        given=given,
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
            formula="r + l − r·cos a − √(l² − r²·sin² a); r half the stroke, l the rod, a half of the gap",
            source=_SLIDER,
            given=(("a", quantity(stop.half, "°")),),
        )
        yield Value(
            key="blind",
            label=f"A dial on the piston is blind within, if {BLIND:g} mm escape it",
            quantity=quantity(stop.blind, "°"),
            places=1,
            formula="cos a = (h² + r² − l²) ÷ (2·h·r), h = r + l − travel; this far either side of the top",
            source=_SLIDER,
            given=(("travel", quantity(BLIND, "mm")),),
        )
