"""The handover: a page for the owner, a page for the next mechanic, the record behind them."""

from __future__ import annotations

import re

import pytest

from calculators.bench.desk import Desk
from calculators.bench.question import questions
from calculators.job.decisions import decision_of
from calculators.job.sheet import handover_html, job_html
from tests.calculators.test_job import BARE, MARRAM, job, job_today

WHEN = "2026-11-25T10:00:00.000Z"


def sections(html: str) -> dict[str, str]:
    return dict(re.findall(r'<section class="([\w-]+)">(.*?)</section>', html, re.DOTALL))


def ticks(done: int, of: int) -> dict:
    return {str(step): {"words": f"Step {step}", "when": WHEN, "of": of} for step in range(1, done + 1)}


def test_the_owner_reads_what_was_found_done_measured_and_what_comes_next():
    owner = sections(handover_html(job(), MARRAM.title))["owner"]
    headings = re.findall(r"<h2>(.+?)</h2>", owner)
    assert headings == [
        "Not finished",
        "What it came in with",
        "What was found",
        "What was done",
        "What was measured and chosen",
        "Left, and advised",
        "What is next, and when",
        "Dangers",
    ]
    for words in ("R. Tide", "Low compression on 3.", "Spacer", "Fit 0.5 mm under both barrels.", "Valve lash, cold"):
        assert words in owner
    assert owner.count("WARNING") >= 2
    assert "Received by" in owner


def test_the_owner_reads_what_was_done_and_not_what_the_mechanic_was_told_to_do():
    """An order on the owner's page reads as if it were for the owner to do."""
    desk = Desk({}, MARRAM, example=True)
    asked = {name: desk.ask(name) for name in questions()}
    on_paper = [name for name, one in asked.items() if one.answer and any(walk.on_paper for walk in one.answer.walks)]
    assert {"torque.wrench", "torque.rocker_posts", "lash.plan"} <= {*on_paper}
    decisions = [{"id": f"{at:016x}", "when": WHEN, **decision_of(asked[name], {})} for at, name in enumerate(on_paper)]
    owner = sections(handover_html(BARE | {"decisions": decisions}, MARRAM.title))["owner"]
    for words in (
        "Head nuts: 34.0 N·m = 25.1 lbf·ft, in 3 passes.",
        "Valve lash, engine cold: inlet 0.15 mm (5.9 thou), exhaust 0.20 mm (7.9 thou).",
    ):
        assert words in owner
    assert not re.search("Set the wrench|Turn the crank|Start with|Tighten in", owner)


def test_the_next_mechanic_reads_what_is_open_and_each_value_and_the_record_is_an_annex():
    pages = sections(handover_html(job(), MARRAM.title))
    assert list(pages) == ["owner", "next-mechanic", "annex"]
    assert "2 of 32 steps ticked" in pages["next-mechanic"]
    assert "3.15 in" in pages["annex"]
    assert "3.15 in" not in pages["owner"] + pages["next-mechanic"]
    for page in ("next-mechanic", "annex"):
        assert "F4-00017" in pages[page]  # a sheet that lies alone says whose it is


def test_what_is_finished_was_done_and_what_is_not_is_open():
    found = BARE | {
        "ticks": {
            "build/set-valve-lash/ steps": ticks(12, 12),
            "build/tighten-a-head-down/ steps head_2": ticks(4, 15),
        }
    }
    pages = sections(handover_html(found))
    open_, done = pages["owner"].split("<h2>What was done</h2>")
    assert "Set valve lash" in done
    assert "Tighten" not in done
    assert "Tighten a head down, head 2: 4 of 15 steps ticked." in open_
    assert "Ask the workshop about each of these before you drive." in open_
    assert "Tighten a head down, head 2: 4 of 15 steps ticked" in pages["next-mechanic"]
    assert "Set valve lash: all 12 steps" in pages["next-mechanic"]


def test_a_decision_that_is_doubted_is_said_to_both():
    found = job_today()
    said = []
    for chamber in ("49.6 ± 0.2", "50.6 ± 0.2"):
        found["readings"]["chamber.2"]["text"] = chamber
        pages = sections(handover_html(found, MARRAM.title, MARRAM))
        again = "Work it out again: what it rests on has changed."
        said.append((pages["owner"].count("o be looked at again"), pages["next-mechanic"].count(again)))
    as_it_was, changed = said
    assert changed == (as_it_was[0] + 2, as_it_was[1] + 1)  # the owner reads it first of all, and beside the figure


@pytest.mark.parametrize(
    ("head_1", "head_2", "said"),
    [
        (0, 0, "(its steps were not ticked)"),
        (36, 0, "(every step ticked"),
        (36, 2, "Not finished: 2 of 36 steps ticked."),
    ],
)
def test_a_torque_is_told_as_done_only_as_far_as_its_steps_were_ticked(head_1, head_2, said):
    """A figure that was chosen reads as a nut that was tightened; a head half tight is not to be driven."""
    decision = {"id": "0" * 16, "when": WHEN, **decision_of(Desk({}, MARRAM, example=True).ask("torque.wrench"), {})}
    runs = {"torque.wrench head_1": ticks(head_1, 36), "torque.wrench head_2": ticks(head_2, 36)}
    owner = sections(handover_html(BARE | {"decisions": [decision], "ticks": runs}, MARRAM.title))["owner"]
    assert said in owner
    assert ("Not finished: " in owner) is (head_2 == 2)


def test_where_no_check_was_put_down_the_owner_is_told_to_ask():
    assert "No check was put down." in sections(handover_html(BARE))["owner"]
    assert "No check was put down." not in sections(handover_html(job()))["owner"]


def test_the_sheet_begins_with_how_the_job_stands_and_what_is_open():
    found = BARE | {
        "ticks": {
            "build/set-valve-lash/ steps": ticks(12, 12),
            "build/tighten-a-head-down/ steps head_2": ticks(4, 15),
        }
    }
    top = job_html(found).partition('id="about-this-job"')[0]
    assert "1 finished, 1 begun; 0 decided and set." in top
    assert "Tighten a head down, head 2: 4 of 15" in top
    assert "Set valve lash" not in top
    assert "Still open" not in job_html(BARE)
    changed = job_today()
    changed["readings"]["chamber.2"]["text"] = "50.6 ± 0.2"
    assert "Work it out again." in job_html(changed, MARRAM).partition('id="about-this-job"')[0]
