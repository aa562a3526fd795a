"""What a job knows cylinder by cylinder, and what it says of tagged parts."""

from __future__ import annotations

import copy
import json
import re
from pathlib import Path

import pytest

from calculators.bench.engine_map import engine_map
from calculators.browser import answer_message
from calculators.job.cylinders import cylinders
from calculators.job.jobs import job_faults
from calculators.job.papers import paper_html
from calculators.job.sheet import handover_html, job_html
from calculators.job.sifting import sifted
from tests.cards import MARRAM
from tests.cards import SAMPHIRE as SIX

ROOT = Path(__file__).parents[2]
WHEN = "2026-11-25T09:00:00.000Z"
FILE = json.loads((ROOT / "tests/jobs/format-5.json").read_text(encoding="utf-8"))


def job(**more):
    return {"id": "0123456789abcdef", "made": WHEN, "changed": WHEN} | more


def read(text, unit=None):
    return {"text": text, "when": WHEN} | ({"unit": unit} if unit else {})


def tag(number, **facts):
    return {"id": f"{number:08x}", "when": WHEN} | facts


def test_each_reading_of_a_table_by_cylinder_stands_under_its_cylinder_with_its_question():
    readings = {
        "chamber.2": read("49.5", "cm³"),
        "bore_across.2": read("82.02", "mm"),
        "bore": read("82", "mm"),
        "studs_across": read("-40 40", "mm"),
    }
    found = {one.number: one.readings for one in cylinders(job(readings=readings), MARRAM)}
    assert list(found) == [1, 2, 3, 4]
    assert [len(found[number]) for number in found] == [0, 2, 0, 0]
    labels = {one.label: address for one, address in found[2]}
    assert "../work-it-out/fits/#q-fits-bore" in labels.values()
    assert any(label.startswith("Chamber volume") for label in labels)


def test_every_address_is_that_of_a_question_which_asks_for_it():
    found = [pair for one in cylinders(FILE["jobs"][0], MARRAM) for pair in one.readings]
    assert len(found) == 10
    for one, address in found:
        room, _, name = re.fullmatch(r"\.\./work-it-out/([a-z-]+)/(#q-)([a-z_-]+)", address).groups()
        page = (ROOT / f"docs/work-it-out/{room}.md").read_text(encoding="utf-8")
        assert "```room" in page, one
        assert name.startswith(room.replace("-", "_"))


def test_a_tag_lies_under_its_cylinder_and_one_beyond_the_card_has_its_own_place():
    tags = [
        tag(1, part="Tappet", cylinder=3),
        tag(2, part="Piston", **{"from": "2"}),
        tag(3, part="Barrel", cylinder=5),
    ]
    found = cylinders(job(tags=[*tags, tag(4, part="Oil cooler")]), MARRAM)
    assert [(one.number, [entry["part"] for entry in one.tags]) for one in found] == [
        (1, []),
        (2, ["Piston"]),
        (3, ["Tappet"]),
        (4, []),
        (5, ["Barrel"]),
    ]


def test_the_sheet_has_the_engine_of_its_own_card_with_a_link_to_each_cylinder():
    html = job_html(job(), SIX)
    assert re.findall(r'xlink:href="#cylinder-(\d)"', html) == list("123456")
    assert re.findall(r'<details id="cylinder-(\d)"', html) == list("123456")
    assert html.count("<a role=") == 6  # the other parts lead nowhere from here


def test_home_has_the_engine_of_the_job_from_python_with_the_links_of_the_page():
    leads = {"barrel": ["readings and tags", "job/#cylinder-{}"], "head": ["6·4", "build/tighten-a-head-down/"]}
    asked = {"want": "engine-map", "job": job(), "card": {"name": SIX.name, "data": SIX.data}, "leads": leads}
    said = json.loads(answer_message(json.dumps(asked)))
    assert said["title"] == SIX.title
    assert re.findall(r'xlink:href="job/#cylinder-(\d)"', said["svg"]) == list("123456")
    assert said["svg"].count('xlink:href="build/tighten-a-head-down/"') == 2


def test_a_part_without_a_page_is_drawn_and_leads_nowhere():
    drawn = engine_map(((1,), (2,)), {"barrel": ("x", "#{}")}, "an engine")
    assert drawn.count("<a ") == 2
    assert "None" not in drawn


@pytest.mark.parametrize(
    "damage",
    [{"kind": "Tappet!"}, {"cylinder": 0}, {"photograph": "../x"}, {"back": "yesterday"}, {"bag": 7}],
    ids=lambda damage: next(iter(damage)),
)
def test_a_tag_that_does_not_fit_is_left_out_by_its_place_and_the_others_come(damage):
    data = copy.deepcopy(FILE)
    assert not list(job_faults(data))
    data["jobs"][0]["tags"].append(tag(9, part="Barrel") | damage)
    (found,), told = sifted(data)
    assert [one["part"] for one in found["tags"]] == ["Tappet"]
    assert len(told) == 1
    assert "tags[1]" in told[0]


TAGS = [
    tag(1, kind="tappet", part="Tappet", **{"from": "3 in"}, cylinder=3, bag="7"),
    tag(2, kind="tappet", part="Tappet", **{"from": "3 ex"}, cylinder=3, bag="8", back=WHEN),
]


def test_the_sheet_and_the_paper_say_which_parts_are_back_in_their_own_place():
    half = job(tags=TAGS)
    assert "1 of 2 back in their own place" in job_html(half, MARRAM)
    handover = handover_html(half)
    assert "Tagged, and not ticked as back in its own place: Tappet, 3 in, bag 7</li>" in handover
    assert 'Tappet, 3 ex, bag 8 <span class="small">(back in its own place, <time' in handover
    whole = job(tags=[TAGS[1]])
    assert "back in their own place" not in job_html(whole, MARRAM)
    assert "not ticked as back" not in handover_html(whole)


# The bench strip


def tightened(**readings):
    typed = {
        "head_torque": read("34", "N·m"),
        "head_stud_pattern": read("8"),
        "wrench_step": read("1", "N·m"),
        "head_screws": read("0"),
    }
    typed |= {path: read(*text) for path, text in readings.items()}
    card = {"name": "mine", "data": MARRAM.data, "own": True}
    asked = {"want": "done-with", "name": "torque.wrench", "readings": typed, "card": card, "example": False}
    decision = json.loads(answer_message(json.dumps(asked)))["decision"]
    return job(readings=typed, decisions=[decision | {"id": "aaaaaaaa", "when": WHEN}])


def test_the_strip_has_the_stud_map_beside_its_settings_and_the_order_is_the_frozen_one():
    html = paper_html("strip", tightened(), MARRAM)
    placed, _, stages = html.partition('<div class="stage">')
    assert placed.count("<svg") == 1
    names = re.findall(r'<text class="number"[^>]*>(\d)</text><text class="words"[^>]*>([A-H])</text>', placed)
    order = [name for _, name in sorted(names)]
    assert order == re.findall(r"<li>([A-H]) ·", stages)[: len(order)]
    assert len(order) == 8
    settings = re.findall(r'<p class="order">([^<]+)</p>', placed)
    assert [" ".join(one.split()) for one in settings] == [
        "Pass 1 of 3: set 11 N·m",
        "Pass 2 of 3: set 23 N·m",
        "Pass 3 of 3: set 34 N·m",
        "Confirm: set 34 N·m",
    ]


def test_no_map_stands_beside_an_order_that_todays_nuts_do_not_have():
    decided = tightened()
    decided["readings"]["head_stud_pattern"] = read("6")
    html = paper_html("strip", decided, MARRAM)
    assert "<svg" not in html
    assert "CAUTION" in html
