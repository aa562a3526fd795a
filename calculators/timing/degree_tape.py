"""A degree tape for the rim, to print, cut out and stick on."""

from __future__ import annotations

import math
from functools import lru_cache

from calculators.formulas.rim_marks import rim_distance

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
        f'<text x="{_MARGIN:g}" y="12">The line below must measure 100 mm. Lower edges towards you; join equal letters.'
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
