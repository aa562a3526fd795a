"""The round of the valves as it is told: in a sentence or two, as values, and what to beware of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from calculators.bench import COMMON_PRACTICE, CONVERSION, GEOMETRY, Caution, Value, printed, quantity
from calculators.bench.units import symbol_of
from calculators.bench.words import word
from calculators.formulas.base_circle import KINDS, Kind
from calculators.formulas.feeler_blades import MOST_BLADES
from calculators.formulas.firing import companion
from calculators.formulas.lash_stops import Method
from calculators.lash.cautions import FIRES, TOO_CLOSE
from calculators.lash.feelers import WITHIN
from calculators.lash.plan_tables import FOUR_STROKE, PROOF, proof_source
from calculators.lash.round import Round, both, in_inches
from calculators.lash.stop_words import cylinder_alone, degrees, places, set_words

_MOST_TOLD = 3
_EVEN = 0.1  # degrees: turns that differ by less are alike


def _gaps(lash: Round) -> str:
    return f"inlet {both(lash.gaps['inlet'])}, exhaust {both(lash.gaps['exhaust'])}"


def record(lash: Round) -> str:
    """Return what the owner reads of it, in the unit of the figures."""
    inlet, exhaust = (printed(lash.gaps[kind], symbol_of(lash.gaps[kind])) for kind in ("inlet", "exhaust"))
    return f"Valve lash, engine cold: inlet {inlet}, exhaust {exhaust}."


def says(lash: Round) -> str:
    """Return the one sentence or two that say what to do."""
    gaps = _gaps(lash)
    turns = [stop.turn for stop in lash.stops[1:]]
    way = f"{word(lash.turning)} ({word(lash.hand)}, seen from the {word(lash.end)} end)"
    start = f"Start with number {lash.plan.begin} at its firing top dead centre"
    if lash.by_cylinder and turns:
        steps = "by the turn of each stop"
        if max(turns) - min(turns) < _EVEN:
            steps = f"{degrees(turns[0])} at a time" if len(turns) > 1 else degrees(turns[0])
        order = ", ".join(str(stop.settings[0].valve.cylinder) for stop in lash.stops)
        told = f"{start}. Turn the crank {way} {steps}: set the valves of {order}, {gaps}."
        if lash.method == "companion":
            told += " Each stop is where both valves of its companion rock."
    elif cylinder_alone(lash.stops[0]) and not turns:
        told = f"Set the valves of number 1 at its firing top dead centre: {gaps}."
    elif len(lash.stops) <= _MOST_TOLD:
        first, *later = lash.stops
        told = f"{start}, turn the crank {way} by {degrees(first.turn)}" if first.turn else start
        told += f" and set: {set_words(first)}."
        for number, stop in enumerate(later):
            onward = "Turn on" if number or first.turn else f"Turn the crank {way}"
            told += f" {onward} by {degrees(stop.turn)} and set: {set_words(stop)}."
        told += f" Gaps: {gaps}."
    else:
        told = f"{start}. Turn the crank {way} through {len(lash.stops)} stops, as the table says, and set {gaps}."
    return told


def values(lash: Round) -> tuple[Value, ...]:
    """Return the order, the blades, the turning and the least distance inside a base circle."""
    total = lash.stops[-1].turned
    shallow = lash.plan.shallowest
    order = (
        Value(
            key="order",
            label="Order of cylinders",
            quantity=" – ".join(str(stop.settings[0].valve.cylinder) for stop in lash.stops),
            formula="the firing order from number 1 on" + (", reversed" if lash.backwards else ""),
            source=FOUR_STROKE,
            given=(("firing order", " ".join(map(str, lash.fires))), ("turned", lash.turning)),
        )
        if lash.by_cylinder
        else Value(
            key="stop_count",
            label="Number of stops",
            quantity=len(lash.stops),
            formula=_COUNTED[lash.method],
            source=COMMON_PRACTICE if lash.method == "opening" else FOUR_STROKE,
            given=(("valves", sum(len(stop.settings) for stop in lash.stops)), *lash.cams.given),
        )
    )
    return (
        order,
        *(value for kind in KINDS for value in _gap_values(lash, kind)),
        Value(
            key="total_turning",
            label="Turning in all, to the last stop",
            quantity=quantity(total, "°"),
            places=places(total),
            formula=f"sum of the turns from number {lash.plan.begin}'s firing top dead centre to the last stop; back "
            f"to number {lash.plan.begin} it is 720°, two whole turns",
            source=FOUR_STROKE,
            given=tuple((f"stop {number}", quantity(stop.turn, "°")) for number, stop in enumerate(lash.stops, 1)),
        ),
        Value(
            key="least_inside",
            label=f"Least distance inside a base circle, {shallow.valve.words}",
            quantity=quantity(shallow.least, "°"),
            places=places(shallow.least),
            formula=PROOF,
            source=proof_source(lash),
            given=(*lash.cams.given, ("error limit of the crank angle, ±", lash.slack)),
        ),
    )


_COUNTED: Mapping[Method, str] = {
    "opening": "two for each cylinder: its exhaust valve opens, its inlet valve has closed; positions within half a "
    "degree count as one",
    "two": "number 1's firing top dead centre and one whole turn on; each valve at the position deeper inside",
    "fewest": "no smaller set of crank angles falls on every base circle, each shortened by the error limit of the "
    "crank angle; "
    "at dead centres where those are as few; each valve at the position deepest inside",
}


def _gap_values(lash: Round, kind: Kind) -> tuple[Value, ...]:
    gap, stack, packed = lash.gaps[kind], lash.stacks[kind], lash.packed[kind]
    thickness = quantity(stack.thickness, "mm")
    alone = len(stack.chosen) == 1
    in_thou = alone and packed.endswith(" thou")
    return (
        Value(
            key=f"{kind}_blades",
            label=f"{word(kind).capitalize()} blades",
            quantity=thickness,
            units=("mm",) if in_thou else ("mm", "thou"),
            words=packed if alone and packed.endswith(" mm") else f"{packed} = {printed(thickness, 'mm')}",
            formula=f"of all stacks of up to {MOST_BLADES} blades the nearest within {WITHIN} mm, else the nearest "
            "wider one, else the nearest; of equals the fewest blades, then the wider gap",
            source=COMMON_PRACTICE,
            given=(("clearance", gap), ("blades", packed)),
        ),
        Value(
            key=f"{kind}_clearance",
            label=f"{word(kind).capitalize()} clearance",
            quantity=gap,
            units=("thou", "mm") if in_inches(gap) else ("mm", "thou"),
            formula="the engine maker's figure; 1 thou = 0.0254 mm",
            source=CONVERSION,
            given=(("clearance", gap),),
        ),
        Value(
            key=f"{kind}_error",
            label=f"{word(kind).capitalize()} blades wider than the clearance, by",
            quantity=quantity(stack.error, "mm"),
            places=3,
            formula="sum of the blades − clearance",
            source=GEOMETRY,
            given=(("sum of the blades", thickness), ("clearance", gap)),
        ),
    )


def cautions(lash: Round) -> Iterator[Caution]:
    """Yield what can hurt the hand, the valves and the pulley."""
    yield FIRES
    yield TOO_CLOSE
    if lash.end == "pulley" and lash.hand == "anticlockwise":
        yield Caution(
            "notice", "Turning the crank anticlockwise by the pulley bolt can loosen it. If the bolt moves, stop."
        )
    if lash.method != "own":
        yield Caution(
            "notice",
            "At a miscounted stop a valve is set on its lobe, and it will not shut. Before you set a valve, check "
            "that its rocker rocks free and stays free while you nudge the crank to and fro.",
        )
    for kind, stack in lash.stacks.items():
        if not stack.near:
            which, side = ("nearest wider one", "wide") if stack.error > 0 else ("nearest, as none is wider,", "close")
            yield Caution(
                "notice",
                f"No stack of these blades comes within {WITHIN} mm of the {word(kind)} clearance, "
                f"{both(lash.gaps[kind])}. The {which} makes {both(quantity(stack.thickness, 'mm'))}, "
                f"{abs(stack.error):.3f} mm too {side}. Use a set that has the blade.",
            )
    yield Caution(
        "notice",
        "Set the gaps with the engine cold, unless the maker says hot. The maker's figures, and the direction in "
        "which the maker allows the crank to be turned, win over this plan.",
    )


def notes(lash: Round) -> Iterator[str]:
    """Yield what the plan rests on, and what it does not know."""
    if lash.by_cylinder or lash.method == "two":
        shared = any(companion(cylinder, lash.fires) for cylinder in lash.fires)
        proof = "that the rotor points to that cylinder's lead, and " if lash.rotor and lash.by_cylinder else ""
        told = "Two cylinders share each mark; one fires, the other is on overlap. " if shared else ""
        told += "Each mark comes up twice in a cycle, at firing and one whole turn away at overlap. "
        if lash.by_cylinder:
            told += f"Before you set a valve, see {proof}that both rockers of the cylinder rock free. "
        yield (
            f"{told}On overlap both are tight, and a nudge of the crank moves both: then turn the crank one whole turn "
            "further."
            if lash.by_cylinder
            else f"{told}Be sure that number 1 is at firing, not at overlap, before you begin."
        )
    yield f"Base circles by {lash.cams.words}."
    if lash.method == "opening":
        yield (
            "Here the valves themselves show the position and no mark is needed: crank angles and turns are only "
            "approximate."
        )
    else:
        yield (
            "Use the top dead centre mark, not the ignition timing mark. Count marks from number 1's, in the order in "
            "which they pass the case mark as the engine runs; paint those that are missing."
        )
    yield "The plan does not know which bank is on which side; it counts from the pulley end only."
    if lash.rotor:
        yield "The rotor is drawn from above, with number 1's notch where you placed it."
