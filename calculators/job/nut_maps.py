"""The map of the nuts that a decision names by letters: the key to them on paper."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from calculators.bench.desk import Desk
from calculators.bench.question import questions
from calculators.job.decisions import Decided, on_paper

_NUT = re.compile(r"[A-Z]{1,2} · ")
_OF_HEAD = re.compile(r"^Head \d+ · ")


@dataclass(frozen=True, slots=True)
class NutMap:
    """The map, empty where there is none, and what the wrench is set to in each pass where today's is no other."""

    svg: Markup
    settings: tuple[str, ...]


def nut_maps(desk: Desk, found: Iterable[Decided]) -> dict[str, NutMap]:
    """Return the map of the nuts by decision, for those that name nuts by letters.

    Where each nut stands is no part of a decision: the map is today's, and is left out where today's nuts come in
    another order.
    """
    maps = {}
    for one in found:
        name, stages = one.entry["calculator"], one.entry.get("stages", ())
        if not any(_NUT.match(step) for step in _steps(stages)):
            continue
        answer = desk.ask(name).answer if name in questions() else None
        today = on_paper(answer.walks, ()).get("stages", ()) if answer else ()
        svg, settings = "", {}
        if answer and answer.drawing and answer.drawing.key == "stud_map" and _nuts(today) == _nuts(stages):
            svg = answer.drawing.svg
            settings = dict.fromkeys(_OF_HEAD.sub("", stage["title"]) for stage in stages) if today == stages else {}
        maps[one.entry["id"]] = NutMap(Markup(svg), tuple(settings))  # noqa: S704
    return maps


def _steps(stages: Sequence[Mapping[str, Any]]) -> list[str]:
    return [str(step) for stage in stages for step in stage["steps"]]


def _nuts(stages: Sequence[Mapping[str, Any]]) -> list[str]:
    """Return the nuts in their order, whatever the wrench is set to."""
    return [step.partition(" · ")[0] for step in _steps(stages)]
