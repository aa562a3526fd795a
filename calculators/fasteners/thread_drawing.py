"""Threads in profile, one under the other to one scale: how a near one drifts from the one that fits."""

from __future__ import annotations

import math
from collections.abc import Sequence

from calculators.bench import Drawing, Figure
from calculators.bench.words import word
from calculators.formulas.thread_finder import Candidate

_LEFT, _RIGHT, _ROW = 14.0, 326.0, 68.0
_LONGEST = 13.0
"""Millimetres of thread that are shown."""


def profiles(found: Sequence[Candidate]) -> Figure:
    """Draw the crests of each thread from one line on; the first is the nearest to what was measured."""
    unit = (_RIGHT - _LEFT) / _LONGEST
    drawing = Drawing(340, 14 + _ROW * len(found))
    for row, of in enumerate(found):
        top = 40 + _ROW * row
        thread = of.thread
        look = "number" if of.fit == "fits" else "words"
        drawing.text(_LEFT, top - 24, f"{thread.name} · {thread.flanks:g}° · {word(of.fit)}", look, "start")
        depth = min(0.61 * thread.pitch, thread.pitch / 2 / math.tan(math.radians(thread.flanks / 2))) * unit
        points, x = [], 0.0
        while x <= _LONGEST + 1e-9:
            points.append((_LEFT + x * unit, top))
            if x + thread.pitch / 2 <= _LONGEST:
                points.append((_LEFT + (x + thread.pitch / 2) * unit, top + depth))
            x += thread.pitch
        bottom = top + 30
        drawing.path([(_LEFT, bottom), *points, (points[-1][0], bottom)], "spacer" if row == 0 else "part", closed=True)
    said = "; ".join(
        f"{of.thread.name}, a crest every {of.thread.pitch:.3f} mm, flanks of {of.thread.flanks:g}°, {of.fit}"
        for of in found
    )
    return Figure(
        key="profiles",
        title=f"{_LONGEST:g} mm of each thread, crests upwards",
        svg=drawing.svg(f"Threads in profile: {said}."),
    )
