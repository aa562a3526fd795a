"""Every nut of every pass in order, to be ticked: a walk for each head."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from calculators.bench import Stage, Step, Walk
from calculators.torque.passes import MAIN_WORDS, Pass, on_one_line
from calculators.torque.screws import Screws
from calculators.torque.screws_told import first_stages, last_stages, with_pass
from calculators.torque.studs import Studs


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
                large=f"{names[index]} · {on_one_line(large)}",
                nut=names[index],
            )
            for index in order
        ),
    )


def _draw_down(names: Sequence[str], order: Sequence[int]) -> Stage:
    """Return the stage that brings a rocker shaft onto its posts before any torque, a turn a nut at a time."""
    title = "Bring down: one turn of each nut, round and round"
    turned = _stage(title, "down", names, order, "Turn nut {} in by one turn.", "1 turn")
    seated = Step(
        key="seated",
        label="Seated",
        words="Go round again, one turn of each nut, until the shaft sits on every post; look under each.",
        large="Again, until all posts touch",
    )
    return Stage(title=title, steps=(*turned.steps, seated))
