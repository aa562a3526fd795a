"""An adjusting screw: where it stood, where it goes, and where its thread ends."""

from __future__ import annotations

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures

_LEFT, _RIGHT, _LEVEL = 34.0, 306.0, 84.0


def screw_travel(travel_in: float, travel_out: float, goes_in: float) -> Figure:
    """Draw the screw with its ball to the right, which is in; lengths in mm, to one scale.

    Parameters
    ----------
    travel_in, travel_out : float, [mm]
        Left from where it stood, before its thread ends.
    goes_in : float, [mm]
        From where it stood; a minus means out.
    """
    low, high = min(-travel_out, goes_in), max(travel_in, goes_in)
    room = max(high - low, 0.1)

    def across(at: float) -> float:
        return _LEFT + (at - low) / room * (_RIGHT - _LEFT)

    drawing = Drawing(340, 196)
    drawing.rectangle(across(-travel_out), _LEVEL - 24, across(travel_in) - across(-travel_out), 48, "band")
    tip, stood = across(goes_in), across(0)
    shank = max(tip - 14, 8)
    drawing.rectangle(4, _LEVEL - 9, shank, 18, "stud")
    for thread in range(int(shank // 8)):
        drawing.line(8 + 8 * thread, _LEVEL - 9, 4 + 8 * thread, _LEVEL + 9, "thin")
    drawing.circle(tip, _LEVEL, 12, "spacer")
    drawing.line(stood, _LEVEL - 40, stood, _LEVEL + 30, "route")
    drawing.text(min(max(stood, 40), 300), _LEVEL - 50, "stood", "words")
    if abs(tip - stood) > 6:
        drawing.arrow(stood, _LEVEL - 34, tip, _LEVEL - 34, "arrow", head=7)
    drawing.text(170, 12, f"goes {'in' if goes_in >= 0 else 'out'} {figures(abs(goes_in), 2)} mm", "number")
    narrow = across(travel_in) - across(-travel_out) < 130  # its two ends are named outside it
    ends = (
        (across(-travel_out), f"out {figures(travel_out, 1)}", "start"),
        (across(travel_in), f"in {figures(travel_in, 1)}", "end"),
    )
    for x, words, anchor in ends:
        beyond = goes_in > travel_in if anchor == "end" else -goes_in > travel_out
        drawing.line(x, _LEVEL - 30, x, _LEVEL + 34, "cross" if beyond else "arrow")
        if narrow:
            at = min(max(x, 70), 270) + (-4 if anchor == "start" else 4)
            drawing.text(at, _LEVEL + 50, words, "words", "end" if anchor == "start" else "start")
        else:
            drawing.text(x, _LEVEL + 50, words, "words", anchor)
    left = travel_in - goes_in if goes_in >= 0 else travel_out + goes_in
    told = f"{figures(abs(left), 2)} mm {'left' if left >= 0 else 'lacking'}"
    drawing.text(170, _LEVEL + 88, told, "number")
    return Figure(
        key="screw",
        title="The adjuster with its tip to the right; in mm; dashed box: where its thread can take it",
        svg=drawing.svg(
            f"The adjuster goes {'in' if goes_in >= 0 else 'out'} {figures(abs(goes_in), 2)} mm; it could go in "
            f"{figures(travel_in, 1)} and out {figures(travel_out, 1)} mm. {told}."
        ),
    )
