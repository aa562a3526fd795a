"""What was measured stands beside its limit: in every question that judges, and with no verdict out of the air."""

from __future__ import annotations

from pathlib import Path

import pytest

from calculators import read_card
from calculators.bench import Finding, FoundPart, quantity
from calculators.bench.desk import Desk, Reading
from calculators.bench.question import questions

MARRAM = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
VERDICTS = {"in", "out", "too close to call"}
PLANNED = {
    "compression.spacers": "judges spacers that are to be fitted",
    "springs.shims": "judges shims that are to be fitted",
    "springs.bind": "judges springs at a length that is to be set",
    "springs.speed": "judges a spring by its figures",
    "springs.stress": "judges a spring by its figures",
    "fasteners.screwed_in": "judges a stud by its figures",
    "lash.heat": "judges cold gaps by an estimate",
    "ports.chambers": "judges grinding that is to be done",
    "ports.steps": "judges openings that are being matched",
    "pushrods.adjusters": "judges spacers that are to be fitted",
    "pushrods.flanges": "judges spacers that are to be fitted",
    "pushrods.tubes": "judges spacers that are to be fitted",
    "sealing.crush": "judges a seal that is to be fitted",
    "sealing.seals": "judges seals that are to be fitted",
    "air.balance": "judges throttles that are being set",
    "timing.top_dead_centre": "judges an old mark that gives way to a new one",
}
"""What says in or out, and of nothing that an owner's engine is worn by."""


BESIDE = {"oil_pressure_read_idle": "1.1 bar", "oil_pressure_read_hot": "2.4 bar"}
"""What no example has read."""


def example_of(name):
    return Desk({path: Reading(text) for path, text in BESIDE.items()}, MARRAM, example=True).ask(name)


def says_a_verdict(answer):
    cells = [cell for table in answer.tables for row in table.rows for cell in row.cells]
    return bool(VERDICTS & {one for one in (*cells, *(value.quantity for value in answer.values)) if type(one) is str})


@pytest.mark.parametrize("name", questions())
def test_a_question_that_says_in_or_out_of_a_measured_part_says_it_for_the_owner_too(name):
    answer = example_of(name).answer
    assert bool(answer.findings) == questions()[name].judges
    if says_a_verdict(answer) and name not in PLANNED:
        assert answer.findings


@pytest.mark.parametrize("name", [name for name, of in questions().items() if of.judges])
def test_a_limit_comes_from_entries_of_the_question_and_the_same_thing_is_found_once(name):
    asked = example_of(name)
    keys = {entry.key for entry in asked.of.entries()}
    findings = asked.answer.findings
    assert all(set(finding.limits) <= keys for finding in findings)
    assert all(finding.limits for finding in findings)
    assert len({(finding.key, finding.when) for finding in findings}) == len(findings)
    for finding in findings:
        assert {part.verdict for part in finding.parts} <= VERDICTS


def test_what_was_found_has_one_key_in_the_whole_book_unless_it_is_found_before_and_after():
    found = [(finding.key, finding.when) for name in questions() for finding in example_of(name).answer.findings]
    assert len(set(found)) == len(found)


@pytest.mark.parametrize(
    "limit",
    [
        {},
        {"limits": ("wear_most",)},
        {"high": quantity(0.1, "mm")},
    ],
)
def test_a_verdict_that_no_limit_stands_behind_cannot_be_built(limit):
    part = FoundPart("cylinder 1", quantity(0.2, "mm"), "out")
    with pytest.raises(ValueError, match="a verdict needs a limit"):
        Finding(key="wear", what="bore wear", parts=(part,), units=("mm",), **limit)


def test_a_part_without_a_verdict_needs_no_limit_and_no_part_is_no_finding():
    part = FoundPart("cylinder 1", quantity(0.2, "mm"), None)
    assert not Finding(key="wear", what="bore wear", parts=(part,), units=("mm",)).has_limit
    with pytest.raises(ValueError, match="nothing was found"):
        Finding(key="wear", what="bore wear", parts=(), units=("mm",))
