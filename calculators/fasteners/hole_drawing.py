"""Three holes for one thread, seen along the drill and to one scale."""

from __future__ import annotations

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures
from calculators.formulas.threads import Thread, insert_major

_RADIUS, _LEVEL = 46.0, 78.0


def holes(thread: Thread, tapped: float, inserted: float, through: float) -> Figure:
    """Draw each hole, the thread that is cut into it dashed.

    Parameters
    ----------
    tapped, inserted, through : float, [mm]
        Drills for the thread, for a wire insert, and for clearance for the stud.
    """
    wide = insert_major(thread.major, thread.pitch)
    unit = _RADIUS / max(wide, through)  # of radius for each mm of diameter
    drawing = Drawing(340, 162)
    told = (("to tap", tapped, thread.major), ("wire insert", inserted, wide), ("to pass", through, thread.major))
    for place, (words, drill, around_it) in enumerate(told):
        x = 60 + 110 * place
        drawing.rectangle(x - 52, _LEVEL - 52, 104, 104, "part")
        if around_it > drill:
            drawing.circle(x, _LEVEL, unit * around_it, "spacer")
        drawing.circle(x, _LEVEL, unit * drill, "space")
        if around_it < drill:
            drawing.circle(x, _LEVEL, unit * around_it, "route")
        drawing.text(x, 12, words, "words")
        drawing.text(x, _LEVEL, f"{figures(drill, 1)}", "number", size=17)
        drawing.text(x, 150, "mm")
    return Figure(
        key="holes",
        title="The holes along the drill; shaded: what the tap cuts; dashed: the stud passing through",
        svg=drawing.svg(
            f"Drills for {thread.name}: {figures(tapped, 1)} mm to tap it, {figures(inserted, 1)} mm for a wire "
            f"insert, {figures(through, 1)} mm as a clearance hole."
        ),
    )
