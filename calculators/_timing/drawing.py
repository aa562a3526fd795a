"""Drawings of marks and timing: the rim to scale, a tape to print, the advance curve, the valves' openings."""

from __future__ import annotations

import itertools
import math
from functools import lru_cache

from calculators._drawing import Drawing, around
from calculators._report import Figure
from calculators._timing.marks import HOLDER_WORDS
from calculators._units import figures
from calculators._words import word
from calculators.formulas.rim_marks import rim_distance

_LETTERS = "ABCDEFGHIJKLMNOPQRST"
_ROW = 19.0
"""Left out of the list under the rim, where a row has no room for it."""


@lru_cache(maxsize=32)
def rim_figure(
    marks: tuple[tuple[str, float, bool, str, str], ...], clockwise: bool, rotation: str, on_rim: bool
) -> Figure:
    """Draw the whole rim with cylinder 1 up, the piece with its marks unrolled, and what each letter is.

    Parameters
    ----------
    marks : tuple of (str, float, bool, str, str)
        Name, degrees ahead of the top mark, whether it is a top, where it goes in words, and its name in brief.
    clockwise : bool
        Whether ahead is clockwise.
    rotation : str
        Of the crank.
    on_rim : bool
        Or else the marks stand on the case.
    """
    near = [place for place, (_, ahead, top, *_) in enumerate(marks) if not top or ahead == 0]
    strip = 188.0
    drawing = Drawing(340, strip + 70 + _ROW * len(marks))
    _whole_rim(drawing, marks, clockwise, rotation, on_rim)
    sign = 1 if clockwise else -1
    spans = [sign * marks[place][1] for place in near]
    low, high = min(spans), max(spans)
    scale = 270 / max(high - low, 10)
    left = 170 - scale * (low + high) / 2
    drawing.rectangle(6, strip + 26, 328, 22, "part")
    tags = _spread([left + scale * span for span in spans], 15)
    for place, span, tag in zip(near, spans, tags, strict=True):
        x = left + scale * span
        drawing.line(x, strip + 26, x, strip + 48, "arrow" if marks[place][2] else "edge")
        drawing.line(x, strip + 26, tag, strip + 16, "thin")
        drawing.text(tag, strip + 8, _LETTERS[place], "number")
    for row, (_, _, _, where, brief) in enumerate(marks):
        y = strip + 66 + _ROW * row
        drawing.text(8, y, _LETTERS[row], "number", anchor="start")
        drawing.text(26, y, brief, anchor="start")
        drawing.text(334, y, where, "number", anchor="end")
    said = "; ".join(f"{name}: {where}" for name, _, _, where, _ in marks)
    holder = HOLDER_WORDS[on_rim]
    return Figure(
        key="rim",
        title=f"The {holder}'s marks, cylinder 1 at its top, and the piece with the advance marks unrolled",
        svg=drawing.svg(
            f"Marks on the {holder} in millimetres from the top mark. The crank turns {word(rotation)}. {said}."
        ),
    )


def _whole_rim(
    drawing: Drawing, marks: tuple[tuple[str, float, bool, str, str], ...], clockwise: bool, rotation: str, on_rim: bool
) -> None:
    x, y, radius = 170.0, 100.0, 66.0
    drawing.circle(x, y, radius, "part")
    drawing.circle(x, y, 8, "stud")
    inner, outer = (radius - 14, radius) if on_rim else (radius, radius + 14)
    for letter, (_, ahead, top, *_) in zip(_LETTERS, marks, strict=False):
        angle = ahead if clockwise else -ahead
        ends = around(x, y, inner, angle), around(x, y, outer, angle)
        drawing.line(*ends[0], *ends[1], "arrow" if top else "edge")
        if top:
            drawing.text(*around(x, y, radius - 26 if on_rim else radius + 24, angle), letter, "number")
    if on_rim:
        drawing.path([(x, y - radius - 2), (x - 7, y - radius - 16), (x + 7, y - radius - 16)], "pointer", closed=True)
        drawing.text(x + 14, y - radius - 14, "pointer", anchor="start")
    else:
        drawing.path([(x, y - radius + 14), (x - 6, y - radius), (x + 6, y - radius)], "pointer", closed=True)
    turn = 1 if rotation == "clockwise" else -1
    drawing.arc(x, y, 24, -60 * turn, 120 * turn, "arrow")
    drawing.arrowhead(*around(x, y, 24, 60 * turn), 60 * turn + (0 if turn > 0 else 180), "arrow")
    drawing.text(4, y + 4, "turns", anchor="start")
    drawing.text(4, y + 21, word(rotation), anchor="start")


def _spread(places: list[float], gap: float) -> list[float]:
    """Move letters apart until each has its room, as near to their marks as the paper lets them."""
    order = sorted(range(len(places)), key=places.__getitem__)
    moved = list(places)
    for before, after in itertools.pairwise(order):
        moved[after] = max(moved[after], moved[before] + gap)
    room = 330.0
    for place in reversed(order):
        moved[place] = min(moved[place], room)
        room = moved[place] - gap
    return moved


_STRIP, _PITCH, _MARGIN = 180.0, 24.0, 15.0


@lru_cache(maxsize=16)
def rim_tape(diameter: float, marks: tuple[tuple[str, float], ...], clockwise: bool) -> str:
    """Return a degree tape for the rim as SVG text in millimetres, cut into strips for a sheet 210 mm wide.

    Parameters
    ----------
    diameter : float, [mm]
    marks : tuple of (str, float)
        Name, empty where the number says enough, and degrees ahead of the top mark.
    clockwise : bool
        Whether ahead is clockwise, seen from the side that the tape's lower edge is towards.
    """
    length = rim_distance(360.0, diameter)
    strips = math.ceil(length / _STRIP - 1e-9)
    height = 36 + _PITCH * strips
    degree = length / 360
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="{height:g}mm" viewBox="0 0 210 {height:g}" '
        'font-family="sans-serif" font-size="2.6">',
        f'<text x="{_MARGIN:g}" y="8">Degree tape for a rim of {diameter:.1f} mm. Print at 100 %, not fitted to the '
        "page. Degrees before top.</text>",
        f'<text x="{_MARGIN:g}" y="12">The line below must measure 100 mm. Lower edges towards you; join like letters.'
        "</text>",
        f'<path d="M{_MARGIN:g} 17h100m0 -1.5v3m-100 0v-3" stroke="#000" stroke-width=".2" fill="none"/>',
    ]
    for strip in range(strips):
        y, start = 24 + _PITCH * strip, _STRIP * strip
        parts.append(_strip(y, min(_STRIP, length - start), start, degree, clockwise))
        end = chr(ord("A") + strip) if strip + 1 < strips else "end"
        parts.append(f'<text x="{_MARGIN - 2:g}" y="{y + 9:g}" text-anchor="end">{_join(strip)}</text>')
        parts.append(f'<text x="{_MARGIN + min(_STRIP, length - start) + 2:g}" y="{y + 9:g}">{end}</text>')
    for number, (name, ahead) in enumerate(marks):
        along = ((ahead if clockwise else -ahead) % 360) * degree
        strip = min(int(along // _STRIP), strips - 1)
        x, y = _MARGIN + along - _STRIP * strip, 24 + _PITCH * strip
        side, anchor = (-0.8, "end") if along - _STRIP * strip > _STRIP / 2 else (0.8, "start")
        parts.append(f'<path d="M{x:.2f} {y:g}v{14 if name else 5}" stroke="#000" stroke-width=".5"/>')
        if name:
            line = y + (13.2 if number % 2 else 10.9)
            parts.append(f'<text x="{x + side:.2f}" y="{line:g}" text-anchor="{anchor}">{name}</text>')
    return "".join((*parts, "</svg>"))


def _join(strip: int) -> str:
    return "start" if strip == 0 else chr(ord("A") + strip - 1)


def _strip(y: float, width: float, start: float, degree: float, clockwise: bool) -> str:
    """Draw one strip: its outline, a tick each degree by dashes, and a number each ten degrees."""
    parts = [
        f'<rect x="{_MARGIN:g}" y="{y:g}" width="{width:.2f}" height="14" fill="none" stroke="#999" stroke-width=".1"/>'
    ]
    for every, high in ((1, 2.0), (5, 3.5), (10, 5.0)):
        pitch = every * degree
        first = -start % pitch
        if first > width:
            continue
        parts.append(
            f'<path d="M{_MARGIN + first - 0.1:.3f} {y + high / 2:g}H{_MARGIN + width + 0.1:.3f}" stroke="#000" '
            f'stroke-width="{high:g}" stroke-dasharray=".2 {pitch - 0.2:.4f}"/>'
        )
    for ten in range(36):
        along = ten * 10 * degree
        if start <= along < start + width:
            number = ten * 10 if clockwise else -ten * 10 % 360
            parts.append(f'<text x="{_MARGIN + along - start:.2f}" y="{y + 8:g}" text-anchor="middle">{number}</text>')
    return "".join(parts)


@lru_cache(maxsize=32)
def curve_figure(
    curve: tuple[tuple[float, float], ...], tolerance: float, readings: tuple[tuple[float, float, float, str], ...]
) -> Figure:
    """Draw the advance wanted with its band, and each reading with its uncertainty.

    Parameters
    ----------
    curve : tuple of (r/min, degrees)
    tolerance : float, [°]
    readings : tuple of (r/min, degrees, expanded uncertainty, verdict)
    """
    left, right, top, foot = 42.0, 328.0, 40.0, 214.0
    speeds = [speed for speed, _ in curve] + [speed for speed, *_ in readings]
    last = _round_up(max(speeds) * 1.08)
    degrees = [advance + side * tolerance for _, advance in curve for side in (-1, 1)]
    degrees += [advance + side * spread for _, advance, spread, _ in readings for side in (-1, 1)]
    step = next((step for step in (5, 10, 20) if max(degrees) - min(degrees) <= 7 * step), 40)
    low, high = step * math.floor(min(0.0, *degrees) / step), step * math.ceil(max(degrees) / step)

    def at(speed: float, advance: float) -> tuple[float, float]:
        return left + (right - left) * speed / last, foot - (foot - top) * (advance - low) / (high - low)

    whole = ((0.0, curve[0][1]), *curve, (last, curve[-1][1]))
    drawing = Drawing(340, 262)
    upper, lower = (tuple(at(speed, advance + side * tolerance) for speed, advance in whole) for side in (1, -1))
    drawing.path([*upper, *reversed(lower)], "band", closed=True)
    drawing.path([at(*point) for point in whole], "edge")
    drawing.line(left, top - 6, left, foot)
    drawing.line(left, foot, right, foot)
    for mark in range(low, high + 1, step):
        y = at(0, mark)[1]
        drawing.line(left - 5, y, left, y)
        drawing.text(left - 8, y, figures(mark, 0) + "°", anchor="end")
    for part in range(5):
        speed = last * part / 4
        x = at(speed, low)[0]
        drawing.line(x, foot, x, foot + 5)
        drawing.text(min(x, 322), foot + 16, f"{speed:.0f}")
    drawing.text((left + right) / 2, foot + 36, "r/min of the crank")
    _legend(drawing, (("in", "in"), ("close", "too close to call"), ("out", "out")), 60, 13)
    for speed, advance, spread, verdict in readings:
        x, y = at(speed, advance)
        drawing.line(x, at(0, advance - spread)[1], x, at(0, advance + spread)[1], "edge")
        _dot(drawing, x, y, verdict)
    said = "; ".join(
        f"{figures(advance, 1)}° at {speed:.0f} r/min, {word(verdict)}" for speed, advance, _, verdict in readings
    )
    wanted = "; ".join(f"{figures(advance, 1)}° at {speed:.0f} r/min" for speed, advance in curve)
    return Figure(
        key="advance",
        title="Advance wanted, its band, and what the light shows; dot in, ring too close to call, cross out",
        svg=drawing.svg(
            f"Advance against speed. Wanted: {wanted}, within {figures(tolerance, 1)}° either way. "
            + (f"Read: {said}." if said else "Nothing read yet.")
        ),
    )


def _round_up(speed: float) -> float:
    """Return the next speed whose quarters are round hundreds (tens, where it is slow)."""
    step = 400 if speed > 800 else 40
    return float(step * math.ceil(speed / step))


def _dot(drawing: Drawing, x: float, y: float, verdict: str) -> None:
    if verdict == "out":
        drawing.path([(x - 5, y - 5), (x + 5, y + 5)], "arrow")
        drawing.path([(x - 5, y + 5), (x + 5, y - 5)], "arrow")
    else:
        drawing.circle(x, y, 5, "chosen" if verdict == "in" else "stud")


def _legend(drawing: Drawing, kinds: tuple[tuple[str, str], ...], x: float, y: float) -> None:
    for verdict, words in kinds:
        _dot(drawing, x, y, verdict)
        drawing.text(x + 11, y, word(words), anchor="start")
        x += 36 + 7.0 * len(words)


@lru_cache(maxsize=32)
def cam_figure(wanted: tuple[tuple[float, float], ...], read: tuple[tuple[float, float] | None, ...]) -> Figure:
    """Draw when each valve is open, over two turns about overlap top dead centre.

    Parameters
    ----------
    wanted, read : tuple of (float, float), [°]
        Opens and shuts, after overlap top dead centre, the exhaust first; None where it was not measured.
    """
    ends = [angle for pair in (*wanted, *read) if pair for angle in pair]
    reach = max(270.0, max(map(abs, ends)) + 8)
    scale = 164 / reach
    rows = (("Exhaust", 0, 52.0), ("Inlet", 1, 92.0))
    drawing = Drawing(340, 146)
    for angle, words in ((-180, "bottom"), (0, "top, overlap"), (180, "bottom")):
        x = 170 + angle * scale
        drawing.line(x, 24, x, 126, "route")
        drawing.text(x, 12, word(words))
    for name, which, y in rows:
        start, end = (170 + angle * scale for angle in wanted[which])
        drawing.rectangle(start, y - 14, end - start, 18, "part")
        drawing.line((start + end) / 2, y - 14, (start + end) / 2, y + 4, "arrow")
        drawing.text(start + 5, y - 5, name, "number", anchor="start")
        pair = read[which]
        if pair:
            start, end = (170 + angle * scale for angle in pair)
            drawing.rectangle(start, y + 4, end - start, 8, "spacer")
            drawing.line((start + end) / 2, y + 1, (start + end) / 2, y + 15, "arrow")
    drawing.text(170, 138, "crank's degrees; lower bars: as measured" if any(read) else "degrees of the crank")
    said = "; ".join(
        f"{name.lower()} from {figures(pair[0], 1)}° to {figures(pair[1], 1)}°{words}"
        for pairs, words in ((wanted, ""), (read, " as measured"))
        for (name, _, _), pair in zip(rows, pairs, strict=True)
        if pair
    )
    return Figure(
        key="cam",
        title="When the valves are open; the stroke across each bar is its lobe centre",
        svg=drawing.svg(f"Valve openings after overlap top dead centre: {said}."),
    )
