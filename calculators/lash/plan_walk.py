"""The plan as steps to tick: every turn and every valve, then once more round to check."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.bench import Stage, Step, Walk
from calculators.bench.words import word
from calculators.formulas.base_circle import CYCLE
from calculators.formulas.lash_stops import Stop
from calculators.lash.feelers import stamped
from calculators.lash.round import Round, looked_for
from calculators.lash.stop_words import SHORT_WORDS, degrees, mark_words


def walk(lash: Round) -> Walk:
    """Return every turn and every valve as steps to tick: the setting, then once more round to check."""
    rounds = []
    for again in (False, True):
        for number, stop in enumerate(lash.stops, 1):
            key = f"{'again_' if again else ''}stop_{number}"
            title = f"Once more, stop {number}" if again else f"Stop {number}"
            rounds.append(
                Stage(title=title, steps=(_turn_step(lash, key, number, stop, again), *_valve_steps(lash, stop, again)))
            )
    return Walk(key="stops", title="Stop by stop", stages=tuple(rounds), on_paper=True)


def _turn_step(lash: Round, key: str, number: int, stop: Stop, again: bool) -> Step:
    begin, turn = lash.plan.begin, stop.turn
    if again and number == 1:
        turn += CYCLE - lash.stops[-1].turned
    seen = looked_for(lash, stop) if stop.signs and lash.method != "own" else ""
    if lash.method == "opening":
        turned, goal = f"about {degrees(turn)} {word(lash.hand)}", f", until {seen}"
    else:
        turned, goal = f"{degrees(turn)} {word(lash.hand)}", f": {mark_words(stop)} is up{f'; {seen}' if seen else ''}"
    end = word(lash.end)
    if number > 1 or again:
        words = f"Turn the crank {word(lash.turning)}, {turned}, seen from the {end} end{goal}."
        return Step(key=key, label="Turn", words=words, large=f"Turn {turned}")
    found = f"Bring number {begin} to its firing top dead centre"
    if turn:
        large = f"{begin} at firing top, then {turned}"
        words = f"{found}, then turn the crank {word(lash.turning)}, {turned}, seen from the {end} end{goal}."
        return Step(key=key, label="Start", words=words, large=large)
    words = f"{found}: {mark_words(stop)} is up, and both its rockers rock free."
    return Step(key=key, label="Start", words=words, large=f"{begin} at firing top")


def _valve_steps(lash: Round, stop: Stop, again: bool) -> Iterator[Step]:
    for one in stop.settings:
        valve = one.valve
        number = f" {valve.number}" if valve.number else ""
        told = lash.told(valve.kind)
        deed = f"Check the gap of {valve.words}: {told}." if again else f"Set {valve.words} to {told}."
        yield Step(
            key=f"{'again_' if again else ''}{valve.key}",
            label=f"{valve.words} again" if again else valve.words,
            words=deed,
            large=f"{valve.cylinder} {SHORT_WORDS[valve.kind]}{number} {stamped(lash.gaps[valve.kind])}",
        )
