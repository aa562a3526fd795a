"""How marks and timing are told: the sentence, the tables, the walk, and what to beware of."""

from __future__ import annotations

from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

from calculators._report import (
    GEOMETRY,
    Attachment,
    Caution,
    Column,
    Figure,
    Report,
    Row,
    Stage,
    Step,
    Table,
    Walk,
)
from calculators._timing.cam import Cam, Valve
from calculators._timing.drawing import cam_figure, curve_figure, rim_figure, rim_tape
from calculators._timing.marks import HOLDER_WORDS, Mark, Rim, degrees_words, is_moved
from calculators._timing.spark import Points, Timing, runs_back
from calculators._timing.values import (
    CAM,
    DECISION,
    angle_of,
    cam_values,
    mark_values,
    points_values,
    stop_values,
    timing_values,
    turn_to,
)
from calculators._units import figures, quantity
from calculators._verdict import best_of, expanded_of
from calculators._words import listed, word

_MEETS_WORDS = {True: "pointer", False: "notch"}


def report(inputs: SimpleNamespace, rim: Rim, points: Points, timing: Timing, cam: Cam | None) -> Report:
    """Return the whole answer."""
    return Report(
        lead=" ".join(_sentences(rim, points, timing, cam)),
        values=(
            *mark_values(rim),
            *stop_values(rim),
            *points_values(points, inputs),
            *timing_values(timing),
            *cam_values(cam),
        ),
        tables=(_marks_table(rim), *_light_table(timing), *_cam_table(cam)),
        figures=tuple(_figures(rim, timing, cam)),
        walks=(_walk(inputs, rim),),
        attachments=(_tape(rim),),
        cautions=tuple(_cautions(rim, points, timing, cam)),
        notes=tuple(_notes(timing, cam)),
    )


def _millimetres(length: Any) -> str:
    return f"{figures(best_of(length), 1)} mm"


def _where(rim: Rim, mark: Mark) -> str:
    """Return where a mark goes, as the hand needs it."""
    if mark.ahead == 0:
        return "the top mark"
    if abs(mark.ahead) == 180:
        return f"{_millimetres(rim.along(180))}, half round"
    return f"{_millimetres(rim.along(mark.ahead))} {word(rim.way(mark.ahead))}"


def _sentences(rim: Rim, points: Points, timing: Timing, cam: Cam | None) -> Iterator[str]:
    stop = rim.stop
    if is_moved(stop) and stop is not None:
        early = best_of(stop.early)
        sure = "" if stop.verdict == "out" else ", though that is too close to call with this instrument"
        yield (
            f"Put a new top mark {_millimetres(rim.along(early))} {word(rim.way(-early))} of the old one, which is "
            f"{figures(abs(early), 1)}° {'early' if early > 0 else 'late'}{sure}."
        )
    wanted = [mark for mark in rim.marks if not mark.top and mark.ahead != 0]
    where = (
        f"{_millimetres(rim.along(mark.ahead))} {word(rim.way(mark.ahead))} for {angle_of(mark)}" for mark in wanted
    )
    if wanted:
        yield f"From the top mark, measure along the {'rim' if rim.on_rim else 'case'}: {listed(where)}."
    else:
        yield "The top mark itself serves: static and full advance are 0°."
    if points.verdict is not None and points.read is not None:
        then = ": set the gap before the timing" if points.verdict == "out" else ""
        yield f"Dwell of {figures(best_of(points.read), 1)}° is {word(points.verdict)}{then}."
    yield from _light_sentence(timing)
    if cam is not None and cam.late is not None and cam.verdict != "in":
        yield f"The cam stands {_late(cam.late)}{_teeth_words(cam)}: {word(str(cam.verdict))}."


def _light_sentence(timing: Timing) -> Iterator[str]:
    if not timing.readings or timing.shift is None or timing.rest is None:
        return
    count = len(timing.readings)
    keeping = sum(light.verdict == "in" for light in timing.readings)
    told = f"Of {count} readings of the light {keeping} {'is' if keeping == 1 else 'are'} in"
    if count == keeping:
        yield f"{told}."
    elif timing.shift <= -0.05 and not timing.full_read:
        yield f"{told}; read it at full advance, {timing.curve[-1][0]:.0f} r/min or more, before you advance it."
    elif timing.guarded and timing.rest > timing.tolerance:
        turned = f"{turn_to(timing.shift)} by {figures(abs(timing.shift), 1)}° of the crank"
        yield (
            f"{told}, and no turn of the distributor brings all within {figures(timing.tolerance, 1)}° with full "
            f"advance right: {turned if abs(timing.shift) >= 0.05 else 'do not advance it'}, for full advance is then "
            "right, and look at weights, springs and shaft."
        )
    elif timing.rest <= timing.tolerance and abs(timing.shift) >= 0.05:
        yield f"{told}; {turn_to(timing.shift)} by {figures(abs(timing.shift), 1)}° of the crank and read again."
    elif timing.rest <= timing.tolerance:
        yield f"{told}; read the others again with a better light."
    else:
        yield (
            f"{told}, and no turn of the distributor brings all within {figures(timing.tolerance, 1)}°: "
            "look at weights, springs and shaft."
        )


def _late(late: Any) -> str:
    return f"{figures(abs(best_of(late)), 1)}° {'late' if best_of(late) > 0 else 'early'}"


def _teeth_words(cam: Cam) -> str:
    if not cam.teeth:
        return ""
    return f", near {abs(cam.teeth)} {'tooth' if abs(cam.teeth) == 1 else 'teeth'}"


def _marks_table(rim: Rim) -> Table:
    return Table(
        key="marks",
        title="Every mark, from the top mark of cylinder 1",
        columns=(
            Column(key="mark", label="Mark"),
            Column(key="degrees", label="Degrees before it", unit="°", places=1),
            Column(key="along", label="Along it", unit="mm", places=1, strong=True),
            Column(key="across", label="With dividers", unit="mm", places=1),
            Column(key="way", label="Which way"),
        ),
        rows=tuple(
            Row(
                cells=(
                    mark.name,
                    quantity(mark.ahead, "°"),
                    quantity(rim.along(mark.ahead), "mm"),
                    quantity(rim.across(mark.ahead), "mm"),
                    rim.way(mark.ahead),
                ),
                chosen=not mark.top,
            )
            for mark in rim.marks
        ),
        formula="along it: π × diameter × degrees ÷ 360; with dividers: diameter × sin(degrees ÷ 2); the same "
        "distances serve from every other top mark; tops stand apart by the firing intervals, less whole turns",
        source=GEOMETRY,
        given=(("diameter", quantity(rim.diameter, "mm")), ("crank turns", rim.rotation)),
    )


def _light_table(timing: Timing) -> Iterator[Table]:
    if not timing.readings:
        return
    yield Table(
        key="light",
        title="What the light shows, and what the curve wants",
        columns=(
            Column(key="speed", label="Speed", unit="r/min", places=0),
            Column(key="read", label="Read", unit="°", places=1, strong=True),
            Column(key="wanted", label="Wanted", unit="°", places=1),
            Column(key="deviation", label="Off", unit="°", places=1),
            Column(key="verdict", label="Verdict"),
        ),
        rows=tuple(
            Row(
                cells=(
                    quantity(light.speed, "r/min"),
                    quantity(light.advance, "°"),
                    quantity(light.wanted, "°"),
                    quantity(best_of(light.deviation), "°"),
                    light.verdict,
                ),
                chosen=light.verdict == "out",
            )
            for light in timing.readings
        ),
        formula="wanted: straight from bend to bend, level before the first and behind the last; in where the whole "
        "reading, with its uncertainty, is within the tolerance",
        source=DECISION,
        given=(
            ("tolerance", quantity(timing.tolerance, "°")),
            ("curve", "; ".join(f"{figures(angle, 1)}° at {speed:.0f} r/min" for speed, angle in timing.curve)),
        ),
    )


def _cam_table(cam: Cam | None) -> Iterator[Table]:
    if cam is None:
        return
    rows = (
        ("Inlet", "after top", cam.inlet, cam.inlet_read),
        ("Exhaust", "before top", cam.exhaust, cam.exhaust_read),
    )
    yield Table(
        key="lobes",
        title="The cam, in degrees of the crank",
        columns=(
            Column(key="valve", label="Valve"),
            Column(key="duration", label="Open for", unit="°", places=1),
            Column(key="centre", label="Lobe centre", unit="°", places=1, strong=True),
            Column(key="side", label="Of overlap top"),
            Column(key="duration_read", label="Open for, measured", unit="°", places=1),
            Column(key="centre_read", label="Lobe centre, measured", unit="°", places=1),
        ),
        rows=tuple(
            Row(cells=(name, *_valve_cells(valve), side, *(_valve_cells(read) if read else (None, None))))
            for name, side, valve, read in rows
        ),
        formula="open for: near top + 180° + near bottom; lobe centre: half of that less the event near top",
        source=CAM,
        folded=True,
    )


def _valve_cells(valve: Valve) -> tuple[Any, Any]:
    return quantity(valve.open_for, "°"), quantity(valve.centre, "°")


def _figures(rim: Rim, timing: Timing, cam: Cam | None) -> Iterator[Figure]:
    marks = tuple((mark.name, mark.ahead, mark.top, _where(rim, mark), mark.brief) for mark in rim.marks)
    yield rim_figure(marks, rim.clockwise, rim.rotation, rim.on_rim)
    yield curve_figure(
        timing.curve,
        timing.tolerance,
        tuple(
            (light.speed, best_of(light.advance), expanded_of(light.advance), light.verdict)
            for light in timing.readings
        ),
    )
    if cam is not None:
        yield cam_figure(
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


def _tape(rim: Rim) -> Attachment:
    named = [mark for mark in rim.marks if mark.top or mark.names[0] in ("static", "full advance")]
    bare = [mark for mark in rim.marks if mark not in named]
    marks = [(f"TDC {', '.join(map(str, mark.cylinders))}" if mark.top else mark.name, mark.ahead) for mark in named]
    return Attachment(
        name="degree-tape.svg",
        title="Degree tape to print",
        media_type="image/svg+xml",
        text=rim_tape(best_of(rim.diameter), (*marks, *(("", mark.ahead) for mark in bare)), rim.clockwise),
    )


def _walk(inputs: SimpleNamespace, rim: Rim) -> Walk:
    static = next(mark for mark in rim.marks if not mark.top and "static" in mark.names)
    marks = [mark for mark in rim.marks if mark.ahead != 0]
    holder = HOLDER_WORDS[rim.on_rim]
    laid = tuple(
        Step(
            key=f"mark_{number}",
            label=mark.name if mark.top else degrees_words(mark.ahead),
            words=f"Mark {word(mark.names[0]) if mark.top else angle_of(mark)} on the {holder}: {_where(rim, mark)}.",
            large=_where(rim, mark),
        )
        for number, mark in enumerate(marks, 1)
    )
    turned = degrees_words(static.ahead)
    meets = _MEETS_WORDS[rim.on_rim]
    steps = (
        (
            "safe",
            "Safe",
            "Ignition off, the coil's high-voltage lead off and earthed, plugs out, out of gear.",
            "Cannot start",
        ),
        (
            "number_1",
            "Cylinder 1",
            "Turn to the firing top of cylinder 1: both its valves shut, the rotor at its notch.",
            "1 fires",
        ),
        (
            "arrive",
            turned,
            f"Turn back past it, then {word(inputs.crank_rotation)} until {turned} meets the {meets}.",
            f"{word(inputs.crank_rotation)} to {turned}",
        ),
        (
            "light",
            "Lamp",
            "Ignition on, lamp from the points' terminal to earth. Turn the distributor the rotor's way until the lamp "
            "is out, then back until it just lights.",
            "Lamp just lights",
        ),
        (
            "clamp",
            "Clamp",
            "Clamp it, turn the crank twice round, and see the lamp light at the same mark. Ignition off.",
            "Clamp, check",
        ),
    )
    stages = [Stage(title="Lay the marks, from the top mark", steps=laid)] if laid else []
    stages.append(
        Stage(
            title=f"Set it standing still: {turned}",
            steps=tuple(Step(key=key, label=label, words=words, large=large) for key, label, words, large in steps),
        )
    )
    return Walk(key="timing", title="Mark it, set it", stages=tuple(stages))


def _cautions(rim: Rim, points: Points, timing: Timing, cam: Cam | None) -> Iterator[Caution]:
    yield Caution(
        "warning",
        "An engine that fires while you turn it crushes the hand. Ignition off, coil lead off and earthed (grounded), "
        "plugs out, and turn it by hand.",
    )
    if rim.stop is not None:
        yield Caution(
            "warning",
            "With a stop in the plug hole never use the starter: it breaks the piston or throws the stop out. Turn by "
            "hand, slowly, valves clear of it, and take it out at once.",
        )
    if timing.readings:
        yield Caution(
            "warning",
            "Under a timing light fan, belt and pulley seem to stand still and take off fingers. Keep hands, sleeves "
            "and leads away; stop the engine before you reach in. Exhaust gas kills indoors: lead it outside.",
        )
    beyond = [light for light in timing.readings if best_of(light.advance) > timing.full + timing.tolerance]
    if beyond:
        most = max(beyond, key=lambda light: best_of(light.advance))
        yield Caution(
            "warning",
            f"{figures(best_of(most.advance), 1)}° at {most.speed:.0f} r/min is beyond full advance and its tolerance. "
            "Too early a spark holes pistons, and an engine that fails under way can kill. Do not load it until it is "
            "retarded.",
        )
    if runs_back(timing):
        yield Caution(
            "caution", "The advance falls while the speed rises. Look at the weights before you set anything."
        )
    if points.verdict not in (None, "in"):
        yield Caution(
            "notice", "Dwell first, then timing: each degree of dwell moves the spark by about one of the crank."
        )
    if is_moved(rim.stop):
        yield Caution(
            "notice", "Every distance here runs from the true top mark. What was read from the old one is off with it."
        )
    if cam is not None and cam.verdict not in (None, "in"):
        yield Caution(
            "warning",
            "A cam that is out of time can bend valves against pistons. Do not run it. Check lash, the lift of the "
            "readings and the marks of the gears first, and turn the engine by hand.",
        )
    yield Caution("notice", "The engine maker's angles win. Where only poor fuel can be had, ask what advance is safe.")


def _notes(timing: Timing, cam: Cam | None) -> Iterator[str]:
    yield (
        "Always arrive at a mark the engine's own way, so that the play of gears and chain lies where it lies running "
        "(common practice, no source)."
    )
    yield (
        "Where standing still and full advance cannot both be right, full advance guards the pistons "
        "(common practice, no source)."
    )
    if timing.readings:
        yield (
            "Read each plug lead in turn as well. More than about three degrees between them is a worn distributor "
            "(common practice, no source)."
        )
    if cam is not None:
        yield (
            "Cam events hold at the lift that they are given for, and with the lash set. Measured at another lift they "
            "give another duration, but nearly the same lobe centre."
        )
