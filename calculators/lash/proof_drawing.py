"""The proof that each valve is set on its base circle, over the two turns of a cycle."""

from __future__ import annotations

from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.words import word
from calculators.formulas.base_circle import CYCLE, KINDS, Window
from calculators.formulas.lash_stops import Plan
from calculators.lash.stop_words import SHORT_WORDS, degrees


@lru_cache(maxsize=16)
def proof_figure(plan: Plan) -> Figure:
    """Draw, over the two turns of a cycle, where each cam rests on its base circle and where its valve is set."""
    rows = [
        (one.valve.cylinder, one.valve.kind, one.valve.window, stop.crank, one.least)
        for stop in plan.stops
        for one in stop.settings
        if one.valve.number <= 1
    ]
    rows.sort(key=lambda row: (row[0], KINDS.index(row[1])))
    left, right, top, pitch = 50.0, 328.0, 58.0, 18.0
    foot = top + pitch * len(rows)
    scale = (right - left) / CYCLE
    drawing = Drawing(340, foot + 46)
    for tick in range(0, 721, 180):
        x = left + tick * scale
        drawing.line(x, top, x, foot + 6, "thin")
        drawing.text(min(x, right - 4), foot + 16, f"{tick}°")
    drawing.text((left + right) / 2, foot + 34, "crank angle; bar: cam on base circle")
    _stop_numbers(drawing, plan, left, scale, top, foot)
    for index, (cylinder, kind, window, crank, _) in enumerate(rows):
        y = top + pitch * (index + 0.5)
        drawing.text(4, y, f"{cylinder} {SHORT_WORDS[kind]}", anchor="start")
        for start, length in _on_paper(window):
            drawing.rectangle(left + start * scale, y - 5, length * scale, 10, "part", round=2)
        drawing.circle(left + crank * scale, y, 4.5, "chosen")
    said = "; ".join(f"{cylinder} {word(kind)} at {degrees(crank)}" for cylinder, kind, _, crank, _ in rows)
    return Figure(
        key="base_circles",
        title="Proof: each bar is where a tappet is on its base circle, each dot where that valve is set",
        svg=drawing.svg(
            f"Crank angles from 0 to 720° for each valve, with a bar where its cam is on the base circle. Set inside "
            f"the bar: {said}. The least distance to the end of a bar is {degrees(plan.shallowest.least)}."
        ),
    )


def _on_paper(window: Window) -> list[tuple[float, float]]:
    """Return a window as it lies on paper from nought to one cycle: in two pieces where it runs over the end."""
    over = window.start + window.length - CYCLE
    return [(window.start, window.length - over), (0.0, over)] if over > 0 else [(window.start, window.length)]


def _stop_numbers(drawing: Drawing, plan: Plan, left: float, scale: float, top: float, foot: float) -> None:
    """Draw a line for each stop; its number on the lowest of three levels where it is clear of its neighbours."""
    free = [-100.0] * 3
    for crank, number in sorted((stop.crank, number) for number, stop in enumerate(plan.stops, 1)):
        x = left + crank * scale
        level = next((one for one, taken in enumerate(free) if x - taken >= 18), None)
        if level is None:
            continue
        drawing.line(x, top - 4 - 16 * level, x, foot, "route")
        drawing.text(x, top - 11 - 16 * level, str(number), "number")
        free[level] = x
    drawing.text(4, top - 11, "stop", anchor="start")
