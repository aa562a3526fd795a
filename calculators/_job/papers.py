"""The sheets that a job is printed on, each by its name: here and in the browser the same bytes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from calculators._card.entries import inherited_entries
from calculators._engine_card import EngineCard
from calculators._errors import JobError
from calculators._job.measuring_sheet import instruments, ruled
from calculators._job.sheet import Decided, decided, document, facts, handover_html

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


def _strip(job: Job, card: EngineCard | None) -> str:
    return document(
        "Bench strip",
        job,
        "strip.html",
        facts=facts(job, _title(card)),
        decided=_latest(job, card, "stages", "No torque stages and no lash stops", "Torque stages or Lash turn plan"),
    )


def _dash(job: Job, card: EngineCard | None) -> str:
    last = _latest(job, card, "tables", "No run-in plan", "Run-in plan")[-1]
    return document("Run-in card", job, "dash.html", one=last)


def _latest(job: Job, card: EngineCard | None, wanted: str, lacking: str, where: str) -> list[Decided]:
    """Return the last answer of each calculator and purpose that brought what is wanted, in the order of time."""
    found: dict[tuple[str, str], Decided] = {}
    for one in sorted(decided(job, card), key=lambda one: str(one.entry["when"])):
        if one.entry.get(wanted):
            found[one.entry["calculator"], one.entry.get("about", "")] = one
    if not found:
        raise JobError(f"{lacking} on the job sheet. Open {where} and press Put this answer on the job sheet.")
    return sorted(found.values(), key=lambda one: str(one.entry["when"]))


PAPERS: dict[str, Callable[[Job, EngineCard | None], str]] = {
    "handover": _handover,
    "measuring": _measuring,
    "measuring-empty": _measuring_empty,
    "strip": _strip,
    "run-in": _dash,
}
