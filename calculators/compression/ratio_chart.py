"""The ratio of each cylinder over the thickness of its spacers."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures, plain
from calculators.bench.words import word

_LINE = 15.0  # from one line of text to the next
_STEPS = (0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0)


def ratio_chart(
    ratio: Callable[[int, float], float],
    chosen: Sequence[float],
    target: float,
    tolerance: float,
    thickest: float,
    unit: str,
    dots: str,
) -> Figure:
    """Draw the ratio of each cylinder against the thickness of its spacers.

    Parameters
    ----------
    ratio : callable
        Of a cylinder, counted from nought, on spacers of a height, [unit].
    chosen : sequence of float, [unit]
        The height chosen for each cylinder.
    target, tolerance : float
        Middle and half width of the wanted band.
    thickest : float, [unit]
        The thickest stack there is; the axis ends there, or sooner where the choices stand far below.
    unit : str
        Symbol of the axis's unit.
    dots : str
        What the heights are: chosen, or only the nearest.
    """
    cylinders = range(len(chosen))
    farthest = max(chosen)
    reach = min(thickest, 2 * farthest) if farthest else thickest / 2 or 1.0
    left, right, top, bottom = 52.0, 288.0, 30.0, 250.0
    low, high = target - tolerance, target + tolerance
    least = min(low, *(ratio(cylinder, reach) for cylinder in cylinders))
    greatest = max(high, *(ratio(cylinder, 0) for cylinder in cylinders))
    room = 0.04 * (greatest - least)

    def across(height: float) -> float:
        return left + height / reach * (right - left)

    def down(value: float) -> float:
        return bottom - (value - least + room) / (greatest - least + 2 * room) * (bottom - top)

    drawing = Drawing(340, 292)
    drawing.rectangle(left, down(high), right - left, down(low) - down(high), "band")
    for limit in (low, high):
        drawing.line(left, down(limit), right, down(limit), "thin")
    drawing.line(left, top, left, bottom, "thin")
    drawing.line(left, bottom, right, bottom, "thin")
    drawing.text(4, 10, "Ratio, to 1", "words", anchor="start")
    drawing.text(336, 10, "Cylinder", "words", anchor="end")
    drawing.text((left + right) / 2, 282, f"Spacers under the barrel, {unit}", "words")
    taken: list[float] = []
    for mark in (target, low, high, least, greatest):
        if all(abs(down(mark) - other) >= _LINE for other in taken):
            taken.append(down(mark))
            drawing.line(left - 4, down(mark), left, down(mark), "thin")
            drawing.text(left - 7, down(mark), figures(mark, 2 if mark < 100 else 0), "words", anchor="end")
    step = next((step for step in _STEPS if reach / step <= 5), reach)
    for count in range(int(reach / step + 1e-9) + 1):
        drawing.line(across(count * step), bottom, across(count * step), bottom + 4, "thin")
        drawing.text(across(count * step), bottom + 14, plain(count * step), "words")
    heights = [part * reach / 5 for part in range(6)]
    for cylinder in cylinders:
        drawing.path([(across(height), down(ratio(cylinder, height))) for height in heights], "edge")
    ends = [down(ratio(cylinder, reach)) for cylinder in cylinders]
    for cylinder, end, label in zip(cylinders, ends, _parted(ends, top, bottom), strict=True):
        drawing.line(right, end, right + 16, label, "thin")
        drawing.text(right + 20, label, str(cylinder + 1), "words", anchor="start")
    for cylinder, height in enumerate(chosen):
        drawing.circle(across(height), down(ratio(cylinder, height)), 5, "chosen")
    said = "; ".join(
        f"cylinder {cylinder + 1} from {figures(ratio(cylinder, 0), 2)} without spacer "
        f"to {figures(ratio(cylinder, reach), 2)} on {plain(round(reach, 6))} {unit}, "
        f"{word(dots)} {plain(round(height, 6))} {unit} at {figures(ratio(cylinder, height), 2)}"
        for cylinder, height in enumerate(chosen)
    )
    alternative = (
        f"Compression ratio falls as spacers are added. Wanted: {figures(low, 2)} to {figures(high, 2)}. {said}."
    )
    return Figure(
        key="ratio_chart",
        title=f"Ratio against spacer thickness: the band is wanted, the dots are {word(dots)}",
        svg=drawing.svg(alternative),
    )


def _parted(wanted: Sequence[float], top: float, bottom: float) -> list[float]:
    """Move labels apart, down then up, so that none covers another; their order stays."""
    order = sorted(range(len(wanted)), key=lambda index: wanted[index])
    places = list(wanted)
    floor = top
    for index in order:
        places[index] = floor = max(places[index], floor)
        floor += _LINE
    ceiling = bottom
    for index in reversed(order):
        places[index] = ceiling = min(places[index], ceiling)
        ceiling -= _LINE
    return places
