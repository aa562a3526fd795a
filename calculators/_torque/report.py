"""How the torque stages are told: the sentence, the table of passes, the walk, and what to beware of."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from calculators._report import COMMON_PRACTICE, Caution, Column, Row, Source, Stage, Step, Table, Value, Walk
from calculators._torque.passes import FARTHEST, Pass, nominal
from calculators._torque.screws import Screws, first_stages, last_stages, screw_sentence, with_pass
from calculators._torque.stud_order import Studs
from calculators._torque.wrenches import MAIN_WORDS
from calculators._units import magnitude_in, printed, quantity, symbol_of
from calculators._words import listed
from calculators.formulas.wrench_reach import SMALL_TO

UNITS = ("N·m", "lbf·ft", "lbf·in", "kgf·m")
NO_BREAK = "\u00a0"
"""Keeps a number and its unit on one line, however large they are shown."""
WORTH_SAYING = 0.02
"""Rounding of the final mark that is cautioned (common practice, no source)."""
PERMITTED = Source(
    "ISO 6789:2003, 5.1.5: setting wrench with a scale from tool makers' summaries, other types", "memory"
)
LEVER = Source("US Army TM 9-254, torque wrenches with adaptors: the effective lever")


def sentence(
    passes: Sequence[Pass], turns: Sequence[float], order: str, drawn_down: bool = False, screws: Screws | None = None
) -> str:
    """Return what to do, in one breath: how it begins, every setting, the order, and how it ends."""
    stages, confirm = passes[:-1], passes[-1]
    parts = []
    for wrench, grouped in itertools.groupby(stages, key=lambda stage: stage.wrench):
        marks = listed(stage.setting.removesuffix(wrench.unit).rstrip() for stage in grouped)
        parts.append(f"the {wrench.name} to {marks} {wrench.unit}")
    settings = ", then ".join(parts)
    if turns:
        further = listed(f"{turn:g}°" for turn in turns)
        end = f"Then turn each nut {further} further, in the same order, and do not put the torque wrench on it again."
    else:
        end = f"Then go round once more at {confirm.setting} to confirm."
    begin = "Bring the shaft down by one turn a nut until it lies on every post. " if drawn_down else ""
    return f"{begin}Set {settings}: every nut at each setting, in the order {order}. {screw_sentence(screws)}{end}"


def passes_table(target: Any, passes: Sequence[Pass], turns: Sequence[float]) -> Table:
    """Return one row a pass, then the turns or the confirming pass."""
    symbol = passes[-1].wrench.unit
    places = max(stage.places for stage in passes)
    several = len({stage.wrench.name for stage in passes}) > 1
    one_unit = len({stage.wrench.unit for stage in passes}) == 1
    shown = passes[:-1] if turns else passes
    rows = [
        Row(
            cells=(
                stage.name,
                quantity(stage.mark, symbol) if one_unit else stage.setting,
                *((stage.wrench.name,) if several else ()),
                *(quantity(stage.share * target.magnitude, symbol_of(target)),) * len(UNITS),
                quantity(100 * stage.share, "%"),
                quantity(100 * stage.rounding, "%"),
                *(
                    quantity(stage.on_the_nut * (1 + side * stage.wrench.deviation), stage.wrench.unit)
                    for side in (-1, 1)
                ),
            ),
            chosen=stage is passes[-1],
        )
        for stage in shown
    ]
    rows += [
        Row(
            cells=(f"Turn {number}", f"{turn:g}° further", *((None,) if several else ()), *(None,) * (len(UNITS) + 4)),
            chosen=number == len(turns),
        )
        for number, turn in enumerate(turns, 1)
    ]
    return Table(
        key="passes",
        title="Passes",
        columns=(
            Column(key="pass", label="Pass"),
            Column(
                key="mark",
                label="Set the wrench to",
                unit=symbol if one_unit else None,
                places=places,
                strong=True,
            ),
        )
        + ((Column(key="wrench", label="Wrench"),) if several else ())
        + tuple(Column(key=name.replace("·", "_"), label=name, unit=name) for name in UNITS)
        + (
            Column(key="share", label="Share", unit="%", places=0),
            Column(key="rounding", label="Rounding", unit="%"),
            Column(key="at_least", label="On the nut, at least", unit=symbol),
            Column(key="at_most", label="At most", unit=symbol),
        ),
        rows=tuple(rows),
        formula="share × final torque; the mark is the nearest one on the scale, a half going down; "
        "on the nut: mark ÷ share to set × (1 ± permitted deviation)",
        source=COMMON_PRACTICE,
        given=(("final torque", target), *_wrenches_given(passes)),
    )


def _wrenches_given(passes: Sequence[Pass]) -> tuple[tuple[str, Any], ...]:
    wrenches = dict.fromkeys(stage.wrench for stage in passes)
    given: list[tuple[str, Any]] = []
    for wrench in wrenches:
        given.append((f"one mark of the {wrench.name}", quantity(wrench.step, wrench.unit)))
        given.append((f"deviation of the {wrench.name}", quantity(100 * wrench.deviation, "%")))
    return tuple(given)


def wrench_values(final: Pass, kind: str, lengths: tuple[Any, Any, Any] | None) -> tuple[Value, ...]:
    """Return what the extension does, and what is on the nut at the final mark.

    Parameters
    ----------
    final : Pass
    kind : str
        The wrench's type, in words.
    lengths : tuple of Quantity, optional
        Lever of the final wrench, extension, angle.
    """
    wrench = final.wrench
    on_the_nut = final.measured()
    values = [
        Value(
            key="applied",
            label="On the nut at the final mark",
            quantity=on_the_nut,
            units=(wrench.unit, *(unit for unit in UNITS[:2] if unit != wrench.unit)),
            formula="mark ÷ share to set; uncertain (k = 2) by the wrench's permitted deviation and by the lengths",
            source=PERMITTED,
            given=(
                ("mark", quantity(final.mark, wrench.unit)),
                ("share to set", quantity(100 * nominal(wrench.share), "%")),
                ("permitted deviation", quantity(100 * wrench.deviation, "%")),
            ),
        ),
        Value(
            key="deviation",
            label="Permitted deviation of the wrench",
            quantity=quantity(100 * wrench.deviation, "%"),
            units=("%",),
            places=0,
            formula=f"by type, and by whether the highest setting is above {SMALL_TO:g} N·m",
            source=PERMITTED,
            given=(
                ("type", kind),
                ("highest setting", quantity(wrench.highest, wrench.unit) if wrench.highest else "not typed"),
            ),
        ),
    ]
    if lengths:
        lever, extension, angle = lengths
        values.insert(
            0,
            Value(
                key="to_set",
                label="Of the torque on the nut, set",
                quantity=quantity(100 * wrench.share, "%"),
                units=("%",),
                formula="L ÷ (L + E·cos a)",
                source=LEVER,
                given=(("L", lever), ("E", extension), ("a", angle)),
                lead=True,
            ),
        )
    return tuple(values)


def passes_walks(
    studs: Studs,
    passes: Sequence[Pass],
    turns: Sequence[float],
    drawn_down: bool = False,
    screws: Screws | None = None,
    heads: int = 1,
) -> tuple[Walk, ...]:
    """Return every nut of every pass, in order: a walk for each head, with ticks of its own.

    Parameters
    ----------
    studs : Studs
    passes : sequence of Pass
        The confirming one last; it is left out where the nuts are turned by angle.
    turns : sequence of float, [°]
    drawn_down : bool
        Springs hold the part off its seat, so that it is brought down by turns first.
    screws : Screws, optional
    heads : int
        How many parts are tightened alike, one after the other.
    """
    stages = tuple(_stages(studs.names, studs.order, passes, turns, drawn_down, screws))
    if heads == 1:
        return (Walk(key="passes", title="Nut by nut", stages=stages, on_paper=True),)
    return tuple(
        Walk(
            key=f"head_{head}",
            title=f"Nut by nut, head {head}",
            stages=tuple(_of_head(head, stage) for stage in stages),
            on_paper=True,
            folded=head > 1,
        )
        for head in range(1, heads + 1)
    )


def _of_head(head: int, stage: Stage) -> Stage:
    return Stage(
        title=f"Head {head} · {stage.title}",
        steps=tuple(replace(step, words=f"Head {head}. {step.words}") for step in stage.steps),
    )


def _stages(
    names: Sequence[str],
    order: Sequence[int],
    passes: Sequence[Pass],
    turns: Sequence[float],
    drawn_down: bool,
    screws: Screws | None,
) -> Iterator[Stage]:
    if drawn_down:
        yield _draw_down(names, order)
    yield from first_stages(screws)
    count = len(passes) - 1
    for number, stage in enumerate(passes[:-1], 1):
        with_wrench = f"the {stage.wrench.name} set to {stage.setting}"
        title = f"Pass {number} of {count}: set {_with(stage)}"
        nuts = _stage(title, f"pass_{number}", names, order, f"Tighten nut {{}} with {with_wrench}.", stage.setting)
        yield replace(nuts, steps=(*nuts.steps, *with_pass(screws, number, stage.share)))
    for number, turn in enumerate(turns, 1):
        title = f"Turn {number} of {len(turns)}: {turn:g}°"
        yield _stage(title, f"turn_{number}", names, order, f"Turn nut {{}} {turn:g}° further.", f"{turn:g}°")
    yield from last_stages(screws)
    if not turns:
        final = passes[-1]
        words = f"Bring nut {{}} to {final.setting} on the {final.wrench.name} once more: it must not turn."
        yield _stage(f"Confirm: set {_with(final)}", "confirm", names, order, words, final.setting)


def _with(stage: Pass) -> str:
    return stage.setting if stage.wrench.name == MAIN_WORDS else f"{stage.setting} on the {stage.wrench.name}"


def _stage(title: str, key: str, names: Sequence[str], order: Sequence[int], words: str, large: str) -> Stage:
    before, _, behind = words.partition("{}")
    return Stage(
        title=title,
        steps=tuple(
            Step(
                key=f"{key}_{index + 1}",
                label=names[index],
                words=f"{before}{names[index]}{behind}",
                large=f"{names[index]} · {large.replace(' ', NO_BREAK, 1)}",
            )
            for index in order
        ),
    )


def _draw_down(names: Sequence[str], order: Sequence[int]) -> Stage:
    """Return the stage that brings a rocker shaft onto its posts before any torque, a turn a nut at a time."""
    title = "Draw down: one turn a nut, round and round"
    turned = _stage(title, "down", names, order, "Turn nut {} in by one turn.", "1 turn")
    seated = Step(
        key="seated",
        label="Seated",
        words="Go round again, one turn a nut, until the shaft lies on every post; look under each.",
        large="Again, until all posts touch",
    )
    return Stage(title=title, steps=(*turned.steps, seated))


def cautions(passes: Sequence[Pass], turns: Sequence[float], published: bool, extended: bool) -> list[Caution]:
    """Return what to beware of, whatever is being tightened."""
    stages, final = passes[:-1], passes[-1]
    found = [
        Caution(
            "warning",
            "A stud that keeps turning without the torque rising is pulling out of its thread or stretching. "
            "Stop: going on strips the case, or breaks the stud, which flies into hand or face.",
        ),
        Caution(
            "notice",
            "Use the thread condition that the figure is meant for. Oil on a thread whose figure is for dry "
            "threads overloads the stud.",
        ),
    ]
    if turns:
        found.append(
            Caution(
                "warning",
                "A fastener tightened by angle may be stretched for good; used again it can break and fly into hand "
                "or face. Fit new ones where the maker wants them, and never tighten or check it again with a torque "
                "wrench.",
            )
        )
    if not published:
        found.append(
            Caution("notice", "This order is worked out from the stud positions. The engine maker's order wins.")
        )
    if len(stages) < 2:
        found.append(
            Caution("notice", "One pass alone draws the part down crooked. Take two or more even passes first.")
        )
    if any(
        (later.wrench, later.mark) == (earlier.wrench, earlier.mark) for earlier, later in itertools.pairwise(stages)
    ):
        found.append(
            Caution("notice", "Two passes fall on the same mark of this wrench. Use fewer passes or a finer wrench.")
        )
    if abs(final.rounding) > WORTH_SAYING:
        found.append(
            Caution(
                "notice",
                f"Rounding to the mark is off the final torque by {abs(final.rounding):.1%}. Use a finer wrench.",
            )
        )
    if extended:
        found.append(
            Caution(
                "notice",
                "These settings hold only with this extension at this angle and the hand in the middle of the grip. "
                "Without it they are wrong.",
            )
        )
    if len({stage.wrench.name for stage in passes}) > 1:
        found.append(Caution("notice", "Two wrenches are in use. Read which one before each pass."))
    return found


def spring_cautions(target: Any, head: Any) -> list[Caution]:
    """Return what to beware of where the nuts of a rocker shaft press valve springs."""
    found = [
        Caution(
            "warning",
            "Open valves press on the shaft unevenly. One post drawn home before the others bends the shaft or cracks "
            "the post, and a pushrod may jump out. A post that lets go throws shaft and springs at you. Wear eye "
            "protection, turn the crank to where fewest valves are open, go down by one turn a nut, and see every "
            "pushrod in its cup.",
        )
    ]
    if math.isclose(magnitude_in(target, "N·m"), magnitude_in(head, "N·m")):
        found.append(
            Caution(
                "notice",
                f"Post torque and final torque are both {printed(target, symbol_of(target))}. "
                "See that this figure is meant for the posts.",
            )
        )
    return found


def screw_cautions(screws: Screws | None, unknown: bool) -> list[Caution]:
    """Return what to beware of where screws hold the head besides its nuts, or may do so."""
    if unknown:
        return [
            Caution(
                "notice",
                "Nothing here says whether screws hold this head besides the nuts. Look between the fins, beside the "
                "inlet flange and in the middle. Enter how many there are; 0 where there are none.",
            )
        ]
    if screws and not screws.setting():
        torque = printed(screws.torque, symbol_of(screws.torque))
        text = f"No wrench here has a mark within {FARTHEST:.0%} of the screws' {torque}. Take one that has."
        return [Caution("notice", text)]
    return []


def unknowns(untested: bool, endless: bool) -> list[Caution]:
    """Return what is taken for granted about the wrench because nobody typed it."""
    found = []
    if untested:
        text = "Nothing says how true this wrench reads: 6% is assumed. One never tested may be off by more."
        found.append(Caution("notice", text))
    if endless:
        text = "Highest wrench setting is not typed: see that every setting lies well within the scale."
        found.append(Caution("notice", text))
    return found


def notes(turns: Sequence[float], screws: Screws | None = None) -> tuple[str, ...]:
    """Return what the settings do not say by themselves."""
    again = (
        "Never re-torque a fastener that was tightened by angle: its torque no longer tells its load."
        if turns
        else "After the first heat cycles seats and gaskets settle and the nuts lose some of their load. "
        "Check them again only where the engine maker asks for it, cold, in the same order; "
        "where the maker forbids it, leave them."
    )
    first = (
        ()
        if turns
        else (
            "The confirming pass finds nuts that settled while their neighbours were drawn down. "
            "A nut that turns on it needs the pass again.",
        )
    )
    return (
        *first,
        "The mark is rounded to the scale; the wrench's own error comes on top of that.",
        again,
        "To take the part off, slacken in the loosening order, cold, a quarter of a turn a nut first.",
        *(("Screws and nuts alike: what was tightened last is slackened first.",) if screws else ()),
    )
