"""What to beware of when heads have moved, and what the answer takes for granted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from types import SimpleNamespace

from calculators._pushrods.moved_head import Moved, in_words
from calculators._report import Caution
from calculators._units import bare, magnitude_in
from calculators.formulas.pushrod_geometry import flange_offset

UNLIKE = 0.01
"""Spacers of one head that differ by so many mm are unlike: the finest step that spacers are sold in (common practice,
no source)."""


def cautions(inputs: SimpleNamespace, heads: Sequence[Moved]) -> Iterator[Caution]:
    """Yield what to beware of."""
    play = magnitude_in(inputs.flange_play, "mm")
    offset = max(abs(bare(flange_offset(head.shift, magnitude_in(inputs.exhaust_facing, "°"))[0])[0]) for head in heads)
    if offset > play:
        yield Caution(
            "danger",
            f"The exhaust flange stands {in_words(offset)} beside its pipe, more than its holes give. A joint drawn "
            "over by its nuts leaks, and exhaust gas in the heating air kills. Have the pipes changed to fit.",
        )
    if any(bare(head.reach)[0] < 0 for head in heads):
        yield Caution(
            "warning",
            "The lash closes. A valve held off its seat burns, and can meet the piston. Slacken every adjuster before "
            "the rocker gear goes on, set the lash anew, and turn the crank twice by hand.",
        )
    if inputs.tube_kind == "fixed" and any(head.tube != "in" for head in heads):
        yield Caution(
            "warning",
            "A tube that is not held tight drips oil on the exhaust, where it smokes and can burn; one that is crushed "
            "too much buckles or splits its seals. Fit tubes of the right length.",
        )
    if any(head.adjuster != "in" for head in heads):
        yield Caution(
            "caution",
            "An adjuster at the end of its thread strips it or comes loose. Fit pushrods of the right length "
            "(common practice, no source).",
        )
    for head in heads:
        under = [magnitude_in(inputs.spacer_height[cylinder], "mm") for cylinder in head.cylinders]
        if max(under) - min(under) >= UNLIKE - 1e-9:
            yield Caution(
                "caution",
                f"Under {head.name} stand unlike spacers, and their mean is taken. Unless they make up for unlike "
                "barrels, the head is drawn down crooked: it leaks and cracks. Measure the barrels' tops first.",
            )
    yield Caution(
        "notice",
        "The engine maker's lengths of pushrods and tubes for these spacers win. Set the lash anew after every change, "
        "and look at the wear mark on each valve stem: it belongs near the middle (common practice, no source).",
    )


def notes(inputs: SimpleNamespace) -> Iterator[str]:
    """Yield what was assumed."""
    if inputs.new_length is None:
        yield "The pushrods are taken to be the old ones. Type the length of new ones to see what is left to adjust."
    if inputs.adjuster_end == "pushrod":
        yield "The valve end of the rocker stands as before once the lash is set; the adjuster's end reaches further."
    elif inputs.adjuster_end == "valve":
        yield "The rocker itself leans once the lash is set, and its valve end wipes another part of the stem."
    else:
        yield "The rocker's pivot takes up a part once the lash is set, and the rocker leans by the rest of it."
