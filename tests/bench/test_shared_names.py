"""Nothing is asked under two names: what is typed in one question stands in every other that asks for the same."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from typing import Any

import pytest

from calculators.bench.desk import Desk, Reading, path_of
from calculators.bench.entries import Entry
from calculators.bench.kinds import Choice
from calculators.bench.question import Question, entries_and_columns, questions
from calculators.job.former import RENAMED
from calculators.job.jobs import as_kept_now

TWO_NAMES_OF_A_FACT = {
    "materials.case": "its thread's strength may stay unknown or be typed; how far it grows takes a metal",
}
"""By the path of a fact of the card: why questions keep under two names what they take from it."""
ALIKE = {
    "Barrel length": "of each barrel without its spacers; of one with them",
    "Error limit of the gap readings": "of today's readings; of two hands, years apart",
    "Outside diameter": "of a bolt that is to be named; of a valve spring",
    "Property class or grade": "of any bolt; of the head's studs",
    "Thread": "of any bolt; of the head's studs",
    "Extension angle": "of an extension that is tried; on the heads' nuts; on the rocker posts",
    "Extension length": "of an extension that is tried; on the heads' nuts; on the rocker posts",
    "First pass torque": "of the heads' nuts; of the rocker posts",
    "Number of passes": "over the heads' nuts; over the rocker posts",
    "Passes in per cent": "over the heads' nuts; over the rocker posts",
    "Turns after the torque": "of the heads' nuts; of the rocker posts",
    "Cure before oil": "of the joint in hand; of each joint in turn",
    "Minutes past that hour": "when one joint was closed; when the whole work begins",
    "Open time": "of the joint in hand; of each joint in turn",
    "Setting time": "of the joint in hand; of each joint in turn",
    "Fitted thickness": "of one seal; of each seal on the list",
    "Free thickness": "of one seal; of each seal on the list",
    "Kind": "of one seal; of each on the list",
    "Least crush": "of one seal; of each seal on the list",
    "Most crush": "of one seal; of each seal on the list",
}
"""By label: of what else each entry is, where entries of one label and unit are kept under several names."""


def every_entry() -> Iterator[tuple[type[Question], Entry[Any]]]:
    return ((of, entry) for of in questions().values() for entry, _ in entries_and_columns(of))


def names_by(key: Callable[[Entry[Any]], Hashable]) -> dict[Any, set[str]]:
    """Return under which names entries are kept, by what they have in common."""
    found: dict[Any, set[str]] = {}
    for of, entry in every_entry():
        if (common := key(entry)) is not None:
            found.setdefault(common, set()).add(path_of(of, entry))
    return found


def alike(entry: Entry[Any]) -> Hashable:
    chosen = tuple(entry.kind.options) if isinstance(entry.kind, Choice) else ()
    return entry.label, entry.kind.name, entry.own_unit, chosen


def of_a_valve(name: str) -> str:
    return name.replace("exhaust", "inlet")


def test_what_is_the_card_s_fact_has_one_name_in_every_question():
    names = names_by(lambda entry: None if entry.facts.stands_in else entry.facts.card)
    several = {fact: sorted(found) for fact, found in names.items() if len(found) > 1}
    assert several.keys() == TWO_NAMES_OF_A_FACT.keys(), several


def test_what_a_fact_only_stands_in_for_says_what_it_is():
    for of, entry in every_entry():
        if entry.facts.stands_in:
            assert entry.facts.card and entry.facts.hint, f"{of.name}.{entry.key}"


def test_entries_of_one_label_and_unit_have_one_name_or_a_reason():
    names = {key: {of_a_valve(name) for name in found} for key, found in names_by(alike).items()}
    several = {label: sorted(found) for (label, *_), found in names.items() if len(found) > 1}
    assert several.keys() == ALIKE.keys(), several.keys() ^ ALIKE.keys()


@pytest.mark.parametrize(
    ("name", "text", "asked", "key"),
    [
        ("chamber_difference", "0.7 cm³", "measuring.even", "may_differ"),
        ("chamber_difference", "0.7 cm³", "ports.chambers", "may_differ"),
        ("height_tolerance", "0.06 mm", "measuring.level", "difference_allowed"),
        ("height_tolerance", "0.06 mm", "compression.spacers", "height_tolerance"),
        ("stands_at", "flywheel", "lash.plan", "end"),
        ("stands_at", "flywheel", "lash.marks", "end"),
    ],
)
def test_what_is_typed_in_one_stands_in_the_other(name, text, asked, key):
    known = Desk({name: Reading(text)}, example=True).ask(asked).known[key]
    assert (known.origin, known.text) == ("typed", text)


@pytest.mark.parametrize(("before", "now"), RENAMED.items())
def test_a_job_that_kept_it_under_its_former_name_has_it_under_the_new(before, now):
    reading = {"text": "0.7", "unit": "mm", "when": "2026-01-02T08:00:00Z"}
    job = {"id": "0123456789abcdef", "made": reading["when"], "changed": reading["when"], "readings": {before: reading}}
    assert as_kept_now(job).job["readings"] == {now: reading}
