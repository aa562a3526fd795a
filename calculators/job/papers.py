"""The sheets that a job is printed on, each by its name: here and in the browser the same bytes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from calculators.bench.card import EngineCard
from calculators.bench.errors import JobError
from calculators.card.entries import inherited_entries
from calculators.job.decisions import Decided, decided, desk_of, title_of
from calculators.job.measuring_sheet import instruments, ruled
from calculators.job.nut_maps import nut_maps
from calculators.job.sheet import document, facts, handover_html

Job = Mapping[str, Any]


def paper_html(name: str, job: Job, card: EngineCard | None) -> str:
    """Return one of ``PAPERS`` as a document.

    Raises
    ------
    JobError
        The job does not hold what would stand on it: what is lacking, and where it comes from.
    """
    return PAPERS[name](job, card)


def _handover(job: Job, card: EngineCard | None) -> str:
    return handover_html(job, _title(card), card)


def _title(card: EngineCard | None) -> str | None:
    """Return the engine's name, and how much of its card is an example's; one from outside may lack its name."""
    name = card.fact("name") if card else None
    if not card or not isinstance(name, str):
        return None
    examples = len(inherited_entries(card))
    return f"{name} ({examples} entries still the example’s)" if examples else name


def _measuring(job: Job, card: EngineCard | None) -> str:
    return document(
        "Measuring sheet",
        job,
        "measuring.html",
        facts=facts(job, _title(card)),
        instruments=instruments(job),
        blocks=ruled(job, card),
    )


def _measuring_empty(job: Job, card: EngineCard | None) -> str:
    """Return the sheet with the engine's rows and nobody's numbers."""
    layout = ("cylinders", "banks", "inlet_valves", "exhaust_valves")
    readings = {name: reading for name, reading in job.get("readings", {}).items() if name in layout}
    return _measuring({**job, "readings": readings}, card)


RUN_IN = ("running_in.", "run-in-plan")
"""How the names begin of what decides how the engine is run in: that goes onto the card for the dash."""


def _strip(job: Job, card: EngineCard | None) -> str:
    found = [
        one
        for one in _latest(job, card)
        if one.entry.get("stages") or (one.entry.get("tables") and not one.entry["calculator"].startswith(RUN_IN))
    ]
    if not found:
        raise JobError(_lacking("No settings and no stops", "torque.wrench", "lash.plan"))
    maps = nut_maps(desk_of(job.get("readings", {}), card), found)
    return document("Bench strip", job, "strip.html", facts=facts(job, _title(card)), decided=found, maps=maps)


def _dash(job: Job, card: EngineCard | None) -> str:
    found = [
        one for one in _latest(job, card) if one.entry.get("tables") and one.entry["calculator"].startswith(RUN_IN)
    ]
    if not found:
        raise JobError(_lacking("No plan for running in", "running_in.rechecks"))
    return document("Run-in card", job, "dash.html", one=found[-1])


def _latest(job: Job, card: EngineCard | None) -> list[Decided]:
    """Return the last answer to each question for each purpose, in the order of time."""
    found: dict[tuple[str, str], Decided] = {}
    for one in sorted(decided(job, card), key=lambda one: str(one.entry["when"])):
        found[one.entry["calculator"], one.entry.get("about", "")] = one
    return sorted(found.values(), key=lambda one: str(one.entry["when"]))


def _lacking(what: str, *names: str) -> str:
    asks = " or ".join(f"‘{title_of(name)}’" for name in names)
    return f"{what} on the job sheet. Open {asks} and press Done with it: onto the job sheet."


PAPERS: dict[str, Callable[[Job, EngineCard | None], str]] = {
    "handover": _handover,
    "measuring": _measuring,
    "measuring-empty": _measuring_empty,
    "strip": _strip,
    "run-in": _dash,
}
