"""What to beware of with any torque, what is taken for granted of the wrench, and what the settings do not say."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from calculators.bench import Caution
from calculators.torque.passes import Pass
from calculators.torque.screws import Screws

WORTH_SAYING = 0.02
"""Rounding of the final mark that is cautioned (common practice, no source)."""


def cautions(passes: Sequence[Pass], turns: Sequence[float], published: bool, extended: bool) -> Iterator[Caution]:
    """Yield what to beware of, whatever is being tightened."""
    stages, final = passes[:-1], passes[-1]
    yield Caution(
        "warning",
        "A stud that keeps turning while the torque does not rise is pulling out of its thread or stretching. "
        "Stop: going on strips the case or breaks the stud, which flies into hand or face.",
    )
    yield Caution(
        "notice",
        "Use the thread condition the figure is meant for. Oil on a thread whose figure is for dry "
        "threads overloads the stud.",
    )
    if turns:
        yield Caution(
            "warning",
            "A fastener tightened by angle may be stretched permanently; used again it can break and fly into hand "
            "or face. Fit new ones if the maker asks for them, and never tighten or check it again with a torque "
            "wrench.",
        )
    if not published:
        yield Caution("notice", "This order is worked out from the stud positions. The engine maker's order wins.")
    if len(stages) < 2:
        yield Caution("notice", "A single pass pulls the part down crooked. Take two or more even passes first.")
    if any(
        (later.wrench, later.mark) == (earlier.wrench, earlier.mark) for earlier, later in itertools.pairwise(stages)
    ):
        yield Caution("notice", "Two passes fall on the same mark of this wrench. Use fewer passes or a finer wrench.")
    if abs(final.rounding) > WORTH_SAYING:
        yield Caution(
            "notice",
            f"Rounding to a mark puts the final torque off by {abs(final.rounding):.1%}. Use a finer wrench.",
        )
    if extended:
        yield Caution(
            "notice",
            "These settings hold only with this extension at this angle and your hand at the centre of the grip. "
            "Without it they are wrong.",
        )
    if len({stage.wrench.name for stage in passes}) > 1:
        yield Caution("notice", "Two wrenches are in use. Read which one before each pass.")


def unknowns(untested: bool, endless: bool) -> Iterator[Caution]:
    """Yield what is taken for granted about the wrench because nobody typed it."""
    if untested:
        text = "The accuracy of this wrench is not known: 6% is assumed. A wrench never tested may be off by more."
        yield Caution("notice", text)
    if endless:
        text = "Highest wrench setting is not typed: check that every setting is well within the scale."
        yield Caution("notice", text)


def notes(turns: Sequence[float], screws: Screws | None = None) -> tuple[str, ...]:
    """Return what the settings do not say by themselves."""
    again = (
        "Never re-torque a fastener tightened by angle: its torque no longer shows its load."
        if turns
        else "After the first heat cycles seats and gaskets settle and the nuts lose some of their load. "
        "Check them again only where the engine maker asks for it, cold, in the same order; "
        "where the maker forbids it, leave them."
    )
    first = (
        ()
        if turns
        else (
            "The confirming pass finds nuts that settled while their neighbours were tightened. If a nut turns on it, "
            "do the pass again.",
        )
    )
    return (
        *first,
        "The setting is rounded to the scale; the wrench's own error comes on top.",
        again,
        "To take the part off, slacken cold in the loosening order, first by a quarter turn each nut.",
        *(("Screws and nuts alike: slacken first what was tightened last.",) if screws else ()),
    )
