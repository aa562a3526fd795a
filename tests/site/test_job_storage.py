"""What is typed is kept and means what it meant: tabs, devices, clocks, cards, files and a full storage, in any order.

The job's own storage code runs under Node, in a world made up for the test (``job_storage.mjs``).
"""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule, run_state_machine_as_test

from calculators.job.difference import difference
from calculators.job.former import RENAMED
from calculators.job.jobs import SCHEMA_PATH, job_faults
from tests.attempts import Attempts
from tests.examples import IS_NIGHT
from tests.site.job_world import World, world

JOBS_FOLDER = Path(__file__).parents[1] / "jobs"
NEWEST = json.loads((JOBS_FOLDER / "format-3.json").read_text(encoding="utf-8"))["jobs"][0]
SCHEMA = json.loads(SCHEMA_PATH.read_text(encoding="utf-8"))
SOUND = jsonschema.Draft202012Validator(SCHEMA)
HOUR = 3600_000
DAY = 24 * HOUR
LONG = "x" * 201
KEYS = st.sampled_from([*SCHEMA["$defs"]["job"]["properties"], "text", "when", "x"])
TREES = st.recursive(
    st.none() | st.integers() | st.text(max_size=5),
    lambda some: st.lists(some) | st.dictionaries(KEYS, some),
    max_leaves=20,
)


@pytest.fixture(scope="module")
def running() -> Iterator[World]:
    with world() as started:
        yield started


@pytest.fixture
def ask(running: World) -> World:
    running("world", names=["phone", "desk"])
    running("open", device="phone", tab="a")
    running("open", device="phone", tab="b")
    running("open", device="desk", tab="d")
    return running


def typed(ask: World, tab: str, path: str, text: str, unit: str = "mm") -> None:
    ask("deed", tab=tab, deed="type", path=path, text=text, unit=unit)


def seen(ask: World, tab: str) -> dict[str, tuple[str, str | None]]:
    readings = ask("look", tab=tab)["job"]["readings"]
    return {path: (reading["text"], reading.get("unit")) for path, reading in readings.items()}


def stored(ask: World, device: str = "phone") -> dict[str, Any]:
    (job,) = ask("stored", device=device)
    return dict(job)


def kept(ask: World, device: str = "phone") -> dict[str, str]:
    return {path: reading["text"] for path, reading in stored(ask, device)["readings"].items()}


# Merging: what must hold for any copies of one job

WHEN = st.integers(0, 9).map(lambda hour: f"2026-11-25T0{hour}:00:00.000Z")
NAMES = st.sampled_from(["bore", "stroke", "chamber.1"])
OPTIONAL = st.none() | WHEN


def entry(**given: Any) -> dict[str, Any]:
    return {key: value for key, value in given.items() if value is not None}


READINGS = st.dictionaries(
    NAMES,
    st.builds(
        entry,
        text=st.text(max_size=3),
        unit=st.sampled_from([None, "mm", "in"]),
        when=WHEN,
        corrected=OPTIONAL,
        order=OPTIONAL,
    ),
)
NOTES = st.dictionaries(
    st.sampled_from(["aaaaaaaa", "bbbbbbbb"]), st.builds(entry, text=st.text(max_size=3), when=WHEN, order=OPTIONAL)
).map(lambda notes: [{"id": key, **note} for key, note in sorted(notes.items())])
TICKS = st.dictionaries(
    st.just("page walk"), st.dictionaries(NAMES, st.builds(entry, words=st.text(max_size=2), when=WHEN), min_size=1)
)
CLOCKS = st.dictionaries(NAMES, st.builds(entry, until=st.integers(0, 3), when=WHEN))
GONE = st.dictionaries(
    st.sampled_from(["readings bore", "notes aaaaaaaa", "ticks page walk bore", "clocks bore"]), WHEN
)
CARDS = [
    {"name": "A"},
    {"name": "B"},
    {"name": "A", "springs": {"free_length": {"value": "47 mm", "source": "not known"}}},
    {"name": "A", "springs": {"free_length": {"value": "47 mm", "source": "told"}}},
    {"name": "A", "springs": {"free_length": {"value": "48 mm", "source": "told"}}},
]
LESS_THAN = [CARDS[:1], CARDS[1:2], [CARDS[0], CARDS[2]], [CARDS[0], CARDS[2], CARDS[3]], [CARDS[0], CARDS[4]]]
"""All that a card says that is less, or the same."""
OWN_CARD = st.builds(entry, name=st.just("own"), data=st.sampled_from(CARDS), when=WHEN)
CARD = OWN_CARD | st.builds(entry, name=st.sampled_from(["marram-f4", "dunlin-f2"]), when=OPTIONAL, order=OPTIONAL)
ABOUT = st.dictionaries(st.sampled_from(["owner", "vehicle"]), st.text(max_size=2))
JOBS = st.builds(
    entry,
    id=st.just("0123456789abcdef"),
    made=st.just("2026-11-25T00:00:00.000Z"),
    changed=WHEN,
    about=ABOUT,
    about_when=OPTIONAL,
    about_orders=st.dictionaries(st.sampled_from(["owner", "vehicle"]), WHEN),
    card=st.none() | CARD,
    cards_aside=st.lists(OWN_CARD, max_size=2),
    readings=READINGS,
    notes=NOTES,
    ticks=TICKS,
    clocks=CLOCKS,
    gone=GONE,
).map(
    lambda job: {
        **job,
        "cards_aside": [one for one in job["cards_aside"] if one["data"] != job.get("card", {}).get("data")],
    }
)
without_delay = settings(suppress_health_check=[HealthCheck.function_scoped_fixture])


def last(reading: dict[str, str]) -> str:
    """When a reading was last edited."""
    return reading.get("order") or max(reading["when"], reading.get("corrected", ""))


def merged(ask: World, one: dict[str, Any], other: dict[str, Any]) -> dict[str, Any]:
    return dict(ask("merged", one=one, other=other))


@without_delay
@given(one=JOBS, other=JOBS, third=JOBS)
def test_copies_of_a_job_meet_in_any_order_and_nothing_newest_is_lost(ask, one, other, third):
    whole = merged(ask, one, other)
    it_makes_no_difference_which_copy_is_merged_into_which(whole, merged(ask, other, one))
    merging_again_changes_nothing(ask, whole, other)
    a_merge_loses_no_newest_entry_that_was_not_taken_out(whole, one, other)
    it_makes_no_difference_in_what_order_copies_meet(
        merged(ask, whole, third), merged(ask, one, merged(ask, other, third))
    )
    a_merge_of_sound_jobs_is_sound(whole)


def it_makes_no_difference_which_copy_is_merged_into_which(whole, turned):
    assert whole == turned


def it_makes_no_difference_in_what_order_copies_meet(*wholes):
    for whole in wholes:
        for card in whole.get("cards_aside", []):  # which ones, and not when one of them was last in use
            del card["when"]
        whole["cards_aside"] = sorted(whole.get("cards_aside", []), key=str)  # so not in which order either
    assert wholes[0] == wholes[1]


def merging_again_changes_nothing(ask, once, other):
    assert merged(ask, once, other) == once
    assert merged(ask, once, once) == once


def a_merge_loses_no_newest_entry_that_was_not_taken_out(whole, one, other):
    for path in {*one["readings"], *other["readings"]}:
        newest = max(last(found["readings"][path]) for found in (one, other) if path in found["readings"])
        gone = max(found["gone"].get(f"readings {path}", "") for found in (one, other))
        assert (path in whole["readings"]) == (newest > gone)
        if newest > gone:
            assert whole["readings"][path] in [found["readings"].get(path) for found in (one, other)]
            assert last(whole["readings"][path]) == newest
    assert whole["about"].keys() == {*one["about"], *other["about"]}
    own = [found.get("card", {}) for found in (one, other)] + one["cards_aside"] + other["cards_aside"]
    there = [card["data"] for card in (whole.get("card", {}), *whole.get("cards_aside", [])) if "data" in card]
    for card in own:
        if data := card.get("data"):
            assert any(data in LESS_THAN[CARDS.index(one)] for one in there)
    assert all(any(one == card.get("data") for card in own) for one in there)


def a_merge_of_sound_jobs_is_sound(whole):
    for card in (whole.get("card", {}), *whole.get("cards_aside", [])):
        card.pop("data", None)  # made up, and no cards
    assert not list(job_faults({"format": 3, "jobs": [whole]}))


def test_an_instant_without_a_fraction_is_before_one_with_it(ask):
    one, other = copy.deepcopy(NEWEST), copy.deepcopy(NEWEST)
    one["readings"]["bore"] |= {"text": "1", "when": "2026-11-25T08:00:00Z"}
    other["readings"]["bore"] |= {"text": "2", "when": "2026-11-25T08:00:00.500Z"}
    assert ask("merged", one=one, other=other)["readings"]["bore"]["text"] == "2"


def test_a_name_put_right_later_wins_over_the_older_copy_and_the_hour_of_the_reading_stays(ask):
    one, other = copy.deepcopy(NEWEST), copy.deepcopy(NEWEST)
    one["readings"]["bore"] |= {"who": "B. Reed", "corrected": "2026-11-26T08:00:00.000Z"}
    bore = ask("merged", one=one, other=other)["readings"]["bore"]
    assert (bore["who"], bore["when"]) == ("B. Reed", "2026-11-24T09:00:00.000Z")


def test_a_phone_a_desk_and_the_phone_again_keep_owner_odometer_and_number(ask):
    for at, text in (("about.owner", "R. Tide"), ("about.engine_number", "F4-00017"), ("about.vehicle", "Van")):
        ask("deed", tab="a", deed="write", at=at, text=text)
    ask("import", tab="d", theirs=stored(ask))
    ask("deed", tab="d", deed="write", at="about.fitter", text="A. Holm")
    ask("deed", tab="a", deed="write", at="about.owner", text="S. Tide")
    found = ask("import", tab="a", theirs=stored(ask, "desk"))["after"]["about"]
    assert found == {"owner": "S. Tide", "engine_number": "F4-00017", "vehicle": "Van", "fitter": "A. Holm"}


# What was lost before, each as it was found


def test_a_reading_typed_again_after_the_clock_was_put_right_is_in_the_job_s_own_export(ask):
    typed(ask, "a", "bore", "81.2")
    ask("clock", device="phone", ms=5 * DAY)
    ask("deed", tab="a", deed="takeOut", list="readings", id="bore")
    ask("clock", device="phone", ms=0)
    typed(ask, "a", "bore", "81.3")
    assert stored(ask)["gone"] == {}
    found = ask("import", tab="a", theirs=stored(ask))
    assert found["whole"]["readings"]["bore"]["text"] == found["after"]["readings"]["bore"]["text"] == "81.3"
    assert stored(ask)["readings"]["bore"]["when"] < "2026-12-01"  # for the reader it is the clock's


def test_two_tabs_that_write_at_once_undo_nothing_of_each_other(ask):
    typed(ask, "a", "bore", "80")
    deeds = [{"tab": tab, "deed": "type", "path": path, "text": "1"} for tab, path in (("a", "stroke"), ("b", "deck"))]
    ask("atOnce", deeds=deeds)
    assert kept(ask).keys() == {"bore", "stroke", "deck"}
    assert seen(ask, "a") == seen(ask, "b")


def test_a_tab_cut_in_mid_write_loses_nothing_to_the_next_key_in_another(ask):
    typed(ask, "a", "bore", "80")
    ask("cut", tab="a", after=1, deed="type", path="bore", text="81.7", unit="mm")
    assert kept(ask) == {"bore": "80"}
    typed(ask, "b", "stroke", "74")
    ask("open", device="phone", tab="c")
    assert seen(ask, "c") == {"bore": ("81.7", "mm"), "stroke": ("74", "mm")}
    assert kept(ask) == {"bore": "81.7", "stroke": "74"}
    assert seen(ask, "b") == seen(ask, "c")
    assert [key for key in ask("local", device="phone") if key.startswith("bench-unsaved")] == []


def test_what_a_full_storage_refused_goes_in_with_the_next_entry_and_is_named_until_then(ask):
    typed(ask, "a", "bore", "80")
    typed(ask, "a", "stroke", "74")
    ask("room", device="phone", full=True)
    typed(ask, "a", "stroke", "75")
    assert "Not kept yet: stroke." in ask("look", tab="a")["why"]
    ask("room", device="phone", full=False)
    typed(ask, "a", "bore", "80.5")
    assert kept(ask) == {"bore": "80.5", "stroke": "75"}
    assert ask("look", tab="a")["why"] == ""
    ask("open", device="phone", tab="c")
    assert seen(ask, "c")["stroke"] == ("75", "mm")


def test_a_reload_while_the_storage_is_full_still_shows_what_it_refused(ask):
    typed(ask, "a", "stroke", "74")
    ask("room", device="phone", full=True)
    typed(ask, "a", "stroke", "75")
    ask("close", tab="a")
    ask("open", device="phone", tab="a")
    assert seen(ask, "a")["stroke"] == ("75", "mm")
    assert "Not kept yet: stroke." in ask("look", tab="a")["why"]
    ask("room", device="phone", full=False)
    typed(ask, "a", "bore", "80")
    assert kept(ask) == {"bore": "80", "stroke": "75"}


def test_what_is_typed_between_the_preview_and_the_taking_in_is_looked_at_again(ask):
    typed(ask, "a", "bore", "80")
    ask("import", tab="d", theirs=stored(ask))
    ask("pass", ms=DAY)
    typed(ask, "d", "bore", "80.2")
    between = {"tab": "b", "deed": "type", "path": "bore", "text": "80.9", "unit": "mm"}
    assert ask("import", tab="a", theirs=stored(ask, "desk"), between=between)["taken"] is False
    assert kept(ask) == {"bore": "80.9"}


def test_a_card_that_gives_way_is_laid_aside(ask):
    own = {"name": "own", "data": {"name": "Ours"}}
    typed(ask, "a", "bore", "80")
    ask("import", tab="d", theirs=stored(ask))
    ask("deed", tab="a", deed="card", card=own)
    ask("pass", ms=1000)
    ask("deed", tab="d", deed="card", card={"name": "dunlin-f2"})
    found = ask("import", tab="a", theirs=stored(ask, "desk"))
    assert found["after"]["card"]["name"] == "dunlin-f2"
    assert [card["data"] for card in found["after"]["cards_aside"]] == [own["data"]]
    ask("deed", tab="a", deed="card", card=own)
    assert "cards_aside" not in stored(ask)
    ask("deed", tab="a", deed="card", card={"name": "own", "data": {"name": "Ours, put right"}})
    assert [card["data"] for card in stored(ask)["cards_aside"]] == [own["data"]]  # also where it was only changed


def test_a_card_that_is_only_added_to_is_not_laid_aside(ask):
    def fact(value: str, source: str) -> dict[str, Any]:
        return {"name": "Ours", "dimensions": {"bore": {"value": value, "source": source}}}

    typed(ask, "a", "bore", "80")
    for data in ({"name": "Ours"}, fact("80 mm", "not known"), fact("80 mm", "told")):
        ask("pass", ms=1000)
        ask("deed", tab="a", deed="card", card={"name": "own", "data": data})
        assert "cards_aside" not in stored(ask)
    ask("pass", ms=1000)
    ask("deed", tab="a", deed="card", card={"name": "own", "data": fact("81 mm", "told")})
    assert [card["data"] for card in stored(ask)["cards_aside"]] == [fact("80 mm", "told")]


def test_a_fact_whose_source_stands_behind_its_section_s_only_adds_to_the_card(ask):
    def studs(source: str, **facts: str) -> dict[str, Any]:
        return {"name": "Ours", "studs": {"cylinder_head": {"engagement": "16 mm", "source": source, **facts}}}

    typed(ask, "a", "bore", "80")
    behind = "book, page 1; thread: "
    for data in (
        studs("book, page 1"),
        studs(f"{behind}not known", thread="M8 × 1.25"),
        studs(f"{behind}told", thread="M8 × 1.25"),
    ):
        ask("pass", ms=1000)
        ask("deed", tab="a", deed="card", card={"name": "own", "data": data})
        assert "cards_aside" not in stored(ask)
    ask("pass", ms=1000)
    ask("deed", tab="a", deed="card", card={"name": "own", "data": studs(f"{behind}toldest", thread="M8 × 1.25")})
    assert len(stored(ask)["cards_aside"]) == 1  # another source, and no more of the same


def test_taking_out_is_undone_with_the_reading_as_it_was(ask):
    typed(ask, "a", "bore", "80", "in")
    before = stored(ask)["readings"]["bore"]
    ask("deed", tab="a", deed="takeOut", list="readings", id="bore")
    assert kept(ask) == {}
    ask("deed", tab="a", deed="undo")
    after = stored(ask)["readings"]["bore"]
    assert {key: after[key] for key in before} == before
    assert stored(ask)["gone"] == {}


def test_a_job_that_is_thrown_away_leaves_after_a_day_no_bytes_of_its_photographs_and_no_cut_short_copy(ask):
    ask("deed", tab="a", deed="add", list="photographs", entry={"id": "aaaaaaaa", "width": 1, "height": 1})
    ask("deed", tab="a", deed="add", list="photographs", entry={"id": "bbbbbbbb", "width": 1, "height": 1})
    ask("pictures", device="phone", put=["aaaaaaaa", "bbbbbbbb"])
    ask("deed", tab="a", deed="takeOut", list="photographs", id="bbbbbbbb")
    ask("cut", tab="b", after=1, deed="type", path="bore", text="81.7", unit="mm")
    ask("throwAway", tab="a")
    assert ask("stored", device="phone") == []
    assert len(ask("pictures", device="phone")) == 2
    ask("pass", ms=DAY - HOUR)
    ask("open", device="phone", tab="c")
    assert len(ask("pictures", device="phone")) == 2
    assert len(ask("thrown", tab="c")) == 1
    ask("pass", ms=2 * HOUR)
    ask("open", device="phone", tab="d")
    assert ask("pictures", device="phone") == []
    assert ask("thrown", tab="d") == []
    assert ask("stored", device="phone") == []
    assert seen(ask, "d") == {}


def test_a_job_that_was_thrown_away_is_taken_back_whole_and_the_one_begun_meanwhile_stays(ask):
    typed(ask, "a", "bore", "80", "in")
    ask("deed", tab="a", deed="add", list="photographs", entry={"id": "aaaaaaaa", "width": 1, "height": 1})
    ask("pictures", device="phone", put=["aaaaaaaa"])
    ask("cut", tab="b", after=1, deed="type", path="stroke", text="74", unit="mm")
    before = stored(ask)
    assert ask("throwAway", tab="a") == ""
    ask("open", device="phone", tab="c")
    assert ask("thrown", tab="c") == [before["id"]]  # another tab offers it too
    typed(ask, "a", "bore", "90")
    (meanwhile,) = ask("stored", device="phone")
    ask("takeBack", tab="c", id=before["id"])
    assert seen(ask, "c") == seen(ask, "a") == {"bore": ("80", "in"), "stroke": ("74", "mm")}
    jobs = {one["id"]: one for one in ask("stored", device="phone")}
    assert jobs.keys() == {before["id"], meanwhile["id"]}
    assert jobs[meanwhile["id"]] == meanwhile
    assert jobs[before["id"]]["readings"]["bore"] == before["readings"]["bore"]
    assert ask("pictures", device="phone") == ["aaaaaaaa"]
    assert ask("thrown", tab="c") == []
    ask("takeBack", tab="a", id=before["id"])  # too late, and nothing is lost by it
    assert len(ask("stored", device="phone")) == 2


def test_deleted_for_good_a_thrown_away_job_leaves_the_bytes_that_another_job_has(ask):
    for each in ("aaaaaaaa", "bbbbbbbb"):
        ask("deed", tab="a", deed="add", list="photographs", entry={"id": each, "width": 1, "height": 1})
    ask("pictures", device="phone", put=["aaaaaaaa", "bbbbbbbb", "cccccccc"])
    of = stored(ask)["id"]
    ask("throwAway", tab="a")
    ask("deed", tab="a", deed="add", list="photographs", entry={"id": "bbbbbbbb", "width": 1, "height": 1})
    ask("forgetThrown", tab="a", id=of)
    assert ask("pictures", device="phone") == ["bbbbbbbb", "cccccccc"]
    assert ask("thrown", tab="a") == []


def test_with_the_storage_full_a_job_is_not_thrown_away_and_the_reader_hears_why(ask):
    typed(ask, "a", "bore", "80")
    ask("room", device="phone", full=True)
    assert ask("throwAway", tab="a") == "QuotaExceededError"
    assert kept(ask) == {"bore": "80"}
    assert seen(ask, "a") == {"bore": ("80", "mm")}
    assert ask("throwAway", tab="a", forGood=True) == ""
    assert ask("stored", device="phone") == ask("thrown", tab="a") == []
    assert seen(ask, "a") == {}


def test_a_part_is_ticked_as_back_and_keeps_when_it_was_tagged(ask):
    ask("deed", tab="a", deed="add", list="tags", entry={"id": "aaaaaaaa", "part": "Tappet"})
    (tag,) = stored(ask)["tags"]
    ask("pass", ms=HOUR)
    ask("deed", tab="a", deed="back", id="aaaaaaaa", back=True)
    (back,) = stored(ask)["tags"]
    assert back["when"] == tag["when"]
    assert back["back"]
    ask("deed", tab="b", deed="back", id="aaaaaaaa", back=False)
    (out,) = stored(ask)["tags"]
    assert "back" not in out
    assert ask("look", tab="a")["job"]["tags"] == [out]
    SOUND.validate({"format": 5, "jobs": [stored(ask)]})


def test_a_tag_from_outside_that_came_back_on_no_day_is_left_out(ask):
    good = {"id": "aaaaaaaa", "when": "2026-11-25T09:00:00Z", "part": "Tappet", "back": "2026-02-28T09:00:00Z"}
    bad = good | {"id": "bbbbbbbb", "back": "2026-02-30T09:00:00Z"}
    (found,) = (said := ask("sound", jobs=[NEWEST | {"tags": [good, bad]}]))["jobs"]
    assert found["tags"] == [good]
    assert said["left"] == ["jobs/0/tags/1"]


def test_the_bytes_of_a_photograph_that_was_taken_out_go_after_a_day(ask):
    ask("deed", tab="a", deed="add", list="photographs", entry={"id": "aaaaaaaa", "width": 1, "height": 1})
    ask("pictures", device="phone", put=["aaaaaaaa"])
    ask("deed", tab="a", deed="takeOut", list="photographs", id="aaaaaaaa")
    ask("open", device="phone", tab="c")
    assert ask("pictures", device="phone") == ["aaaaaaaa"]
    ask("pass", ms=2 * DAY)
    ask("open", device="phone", tab="e")
    assert ask("pictures", device="phone") == []


def test_what_stands_in_the_safe_place_is_held_to_the_schema(ask):
    typed(ask, "a", "bore", "80")
    job = stored(ask)
    job["readings"] |= {
        "stroke": {"text": "74", "unit": "mm", "when": "2026-11-30T08:00:00.000Z"},
        "chamber.1": {"text": 49, "when": "2026-11-30T08:00:00.000Z"},
        "chamber.2": {"text": "49", "when": "2026-02-30"},
    }
    job["notes"] = [{"id": "<img src=x>", "when": "2026-11-30T08:00:00.000Z"}, 7]
    ask("left", device="phone", key="bench-unsaved", text=json.dumps(job))
    ask("left", device="phone", key="bench-unsaved 0123456789abcdef", text="{")
    ask("open", device="phone", tab="c")
    assert kept(ask) == {"bore": "80", "stroke": "74"}
    assert stored(ask)["notes"] == []
    assert not list(job_faults({"format": 3, "jobs": [stored(ask)]}))


def test_a_first_reading_cut_in_mid_write_comes_into_the_job_that_another_tab_begins(ask):
    ask("cut", tab="a", after=1, deed="type", path="bore", text="81.7", unit="mm")
    typed(ask, "b", "stroke", "74")
    ask("open", device="phone", tab="c")
    assert kept(ask) == {"bore": "81.7", "stroke": "74"}


def test_a_new_job_cut_in_its_first_write_is_in_hand_again(ask):
    typed(ask, "a", "bore", "80")
    ask("beginJob", tab="a")
    ask("cut", tab="a", after=1, deed="type", path="bore", text="81.7", unit="mm")
    ask("open", device="phone", tab="c")
    assert seen(ask, "c") == {"bore": ("81.7", "mm")}
    assert len(ask("stored", device="phone")) == 2


def test_a_job_of_an_older_edition_keeps_each_number_in_the_unit_that_was_chosen(ask):
    when = "2026-11-24T08:00:00.000Z"
    older = {"id": "0123456789abcdef", "made": when, "changed": when, "clocks": {"x": 1795594800000}}
    older["readings"] = {path: {"text": text, "when": when} for path, text in (("bore", "3.15"), ("bore.unit", "in"))}
    ask("storedAs", device="phone", job=older)
    ask("open", device="phone", tab="c")
    assert seen(ask, "c") == {"bore": ("3.15", "in")}
    typed(ask, "c", "stroke", "74")
    assert stored(ask)["readings"].keys() == {"bore", "stroke"}
    assert stored(ask)["clocks"]["x"]["until"] == older["clocks"]["x"]
    assert not list(job_faults({"format": 3, "jobs": [stored(ask)]}))


# One bound for boxes and file; one bad entry takes no other with it


def test_what_the_boxes_take_the_file_takes(ask):
    bound = SCHEMA["$defs"]["reading"]["properties"]["text"]["maxLength"]
    typed(ask, "a", "bore", "8" * bound)
    typed(ask, "a", "stroke", "7" * (bound + 1))
    assert kept(ask) == {"bore": "8" * bound}
    assert f"Not kept, because longer than {bound} characters: stroke." in ask("look", tab="a")["why"]
    assert not list(job_faults({"format": 3, "jobs": [stored(ask)]}))
    typed(ask, "a", "stroke", "74")
    assert ask("look", tab="a")["why"] == ""


@pytest.mark.parametrize(
    ("damage", "place"),
    [
        (lambda job: job["readings"]["bore"].update(text="x" * 3007), "jobs/0/readings/bore"),
        (lambda job: job["readings"]["bore"].update(when="2026-02-30T08:00:00Z"), "jobs/0/readings/bore"),
        (lambda job: job["readings"].update({LONG: {"text": "1", "when": job["made"]}}), f"jobs/0/readings/{LONG}"),
        (lambda job: job["about"].update(owner=7), "jobs/0/about/owner"),
        (lambda job: job["about"].update(sign="Pisces"), "jobs/0/about/sign"),
        (lambda job: job["notes"][0].update(text="x" * 5000), "jobs/0/notes/0"),
        (lambda job: job["notes"].append(job["notes"][0]), "jobs/0/notes/1"),
        (lambda job: job["ticks"]["calculators/torque-stages/ torque-stages passes"]["1.A"].update(words=7),
         "jobs/0/ticks/calculators/torque-stages/ torque-stages passes/1.A"),
        (lambda job: job["ticks"].update(x=7), "jobs/0/ticks/x"),
        (lambda job: job["gone"].update({"notes x": "yesterday"}), "jobs/0/gone/notes x"),
        (lambda job: job["clocks"].update(x="soon"), "jobs/0/clocks/x"),
        (lambda job: job.update(card=7), "jobs/0/card"),
        (lambda job: job.update(horoscope={}), "jobs/0/horoscope"),
        (lambda job: job.update(parts="none"), "jobs/0/parts"),
        (lambda job: job["decisions"][0].update(lead=7), "jobs/0/decisions/0"),
        (lambda job: job.update(id="../x"), "jobs/0"),
    ],
)  # fmt: skip
def test_one_bad_entry_is_left_out_by_its_place_and_the_others_come(ask, damage, place):
    bad, good = copy.deepcopy(NEWEST), copy.deepcopy(NEWEST) | {"id": "fedcba98"}
    damage(bad)
    found = ask("sound", jobs=[bad, good, good])
    assert found["left"] == [*([place] if place else []), "jobs/2"]
    assert found["jobs"][-1] == good
    assert not list(job_faults({"format": 3, "jobs": found["jobs"]}))


@without_delay
@given(tree=TREES)
def test_whatever_a_tree_holds_what_is_left_of_it_is_sound(ask, tree):
    found = ask("sound", jobs=[tree, {**NEWEST, **tree} if isinstance(tree, dict) else tree])
    assert not found["jobs"] or not list(job_faults({"format": 3, "jobs": found["jobs"]}))


# Any order of all that


@dataclass(frozen=True)
class Version:
    """What an edit left of one entry, and the edits that it came after."""

    number: int
    value: Any
    after: frozenset[int] = frozenset()


Versions = frozenset[Version]
PATHS = ("bore", "head_torque", "chamber.1", "calculators/torque-stages/ torque-stages passes")
MANY = 5  # tabs that stay open
UNITS = ("mm", "in", "N·m", "lbf·ft", None)
NOTHING: Versions = frozenset({Version(0, None)})


def newest(versions: Versions) -> Versions:
    """Drop each version that another came after."""
    return frozenset(one for one in versions if not any(one.number in other.after for other in versions))


class Job(RuleBasedStateMachine):
    """A job on two devices.

    What the model allows of an entry is its last edit; of edits that knew nothing of each other, either.
    """

    running: World
    attempts: Attempts

    def __init__(self) -> None:
        super().__init__()
        self.count = 0
        self.tabs: dict[str, str] = {}
        self.known: dict[str, dict[str, Versions]] = {"phone": {}, "desk": {}}
        self.cards: dict[str, set[str]] = {"phone": set(), "desk": set()}
        self.full: set[str] = set()

    @initialize()
    def begin(self) -> None:
        self.running("world", names=["phone", "desk"])
        self.open("phone")
        (tab,) = self.tabs
        self.edit(tab, "bore", ("80.0", "mm"), deed="type", path="bore", text="80.0", unit="mm")
        self.carry("phone", "desk")

    def number(self) -> int:
        self.count += 1
        return self.count

    def open(self, device: str) -> str:
        tab = f"tab {self.number()}"
        self.running("open", device=device, tab=tab)
        self.tabs[tab] = device
        return tab

    def some(self, data: st.DataObject) -> str:
        return str(data.draw(st.sampled_from(sorted(self.tabs)), label="tab")) if self.tabs else self.open("phone")

    def note(self, device: str, key: str, value: Any) -> None:
        before = self.known[device].get(key, NOTHING)
        after = frozenset().union(*(one.after | {one.number} for one in before))
        self.known[device][key] = frozenset({Version(self.number(), value, after)})

    def edit(self, tab: str, key: str, value: Any, cut: int = 0, **deed: Any) -> None:
        self.note(self.tabs[tab], key, value)
        if cut:
            self.running("cut", tab=tab, after=cut, **deed)
            del self.tabs[tab]
        else:
            self.running("deed", tab=tab, **deed)

    @rule(
        data=st.data(),
        path=st.sampled_from(PATHS),
        unit=st.sampled_from(UNITS),
        cut=st.sampled_from([0, 0, 0, 1, 2, 3, 5, 8]),
    )
    def type(self, data: st.DataObject, path: str, unit: str | None, cut: int) -> None:
        text = f"{self.number()}.5"
        self.edit(self.some(data), path, (text, unit), cut, deed="type", path=path, text=text, unit=unit)

    @precondition(lambda self: len(self.tabs) > 1)
    @rule(data=st.data(), paths=st.lists(st.sampled_from(PATHS), min_size=2, max_size=4))
    def type_at_once(self, data: st.DataObject, paths: list[str]) -> None:
        deeds = []
        for path in paths:
            tab, text = self.some(data), f"{self.number()}.75"
            self.note(self.tabs[tab], path, (text, "mm"))
            deeds.append({"tab": tab, "deed": "type", "path": path, "text": text, "unit": "mm"})
        self.running("atOnce", deeds=deeds)

    @rule(data=st.data(), key=st.sampled_from(["owner", "vehicle", "left"]), cut=st.sampled_from([0, 0, 2]))
    def write(self, data: st.DataObject, key: str, cut: int) -> None:
        text = f"text {self.number()}"
        self.edit(self.some(data), f"about.{key}", text, cut, deed="write", at=f"about.{key}", text=text)

    @rule(data=st.data(), name=st.sampled_from(["aaaaaaaa", "bbbbbbbb"]))
    def add_note(self, data: st.DataObject, name: str) -> None:
        tab = self.some(data)
        if not any(one["id"] == name for one in self.look(tab)["notes"]):
            text = f"note {self.number()}"
            self.edit(tab, f"note {name}", text, deed="add", list="notes", entry={"id": name, "text": text})

    @rule(data=st.data(), path=st.sampled_from(PATHS), undo=st.booleans())
    def take_out(self, data: st.DataObject, path: str, undo: bool) -> None:
        tab = self.some(data)
        reading = self.look(tab)["readings"].get(path)
        if reading:
            self.edit(tab, path, None, deed="takeOut", list="readings", id=path)
            if undo:
                self.edit(tab, path, (reading["text"], reading.get("unit")), deed="undo")

    @rule(data=st.data(), own=st.booleans())
    def choose_card(self, data: st.DataObject, own: bool) -> None:
        tab, name = self.some(data), f"card {self.number()}"
        card = {"name": name.replace(" ", "-"), "data": {"name": name}} if own else {"name": "dunlin-f2"}
        self.running("deed", tab=tab, deed="card", card=card)
        if own:
            self.cards[self.tabs[tab]].add(name)

    @rule(device=st.sampled_from(["phone", "desk"]))
    def another_tab(self, device: str) -> None:
        self.open(device)

    @precondition(lambda self: len(self.tabs) > 1)
    @rule(data=st.data())
    def close(self, data: st.DataObject) -> None:
        tab = self.some(data)
        self.running("close", tab=tab)
        del self.tabs[tab]

    @rule(device=st.sampled_from(["phone", "desk"]), hours=st.sampled_from([-240, -24, -1, 0, 1, 24, 240]))
    def put_the_clock(self, device: str, hours: int) -> None:
        self.running("clock", device=device, ms=hours * 3600_000)

    @rule(seconds=st.sampled_from([1, 60, 86400]))
    def time_goes_by(self, seconds: int) -> None:
        self.running("pass", ms=seconds * 1000)

    @rule(device=st.sampled_from(["phone", "desk"]))
    def fill_the_storage(self, device: str) -> None:
        self.running("room", device=device, full=True)
        self.full.add(device)

    @rule(device=st.sampled_from(["phone", "desk"]))
    def make_room(self, device: str) -> None:
        self.running("room", device=device, full=False)
        self.full.discard(device)

    @rule(data=st.data(), there=st.sampled_from(["phone", "desk"]), meanwhile=st.booleans())
    def export_and_take_in(self, data: st.DataObject, there: str, meanwhile: bool) -> None:
        self.carry("desk" if there == "phone" else "phone", there, data if meanwhile else None)

    def carry(self, here: str, there: str, meanwhile: st.DataObject | None = None) -> None:
        """Export from a tab that is opened for it; take it in in another."""
        copy_of, versions = self.fresh(here)
        tab = self.open(there)
        between = None
        if meanwhile:
            path, text = meanwhile.draw(st.sampled_from(PATHS)), f"{self.number()}.25"
            between = {"tab": tab, "deed": "type", "path": path, "text": text, "unit": "mm"}
        found = self.running("import", tab=tab, theirs=copy_of, between=between)
        if between:
            assert found["taken"] is False  # what the reader saw is not what would happen
            self.note(there, between["path"], (between["text"], "mm"))
            found = self.running("import", tab=tab, theirs=copy_of)
        if len(self.tabs) > MANY:
            self.running("close", tab=tab)
            del self.tabs[tab]
        if there in self.full:
            assert found["taken"] == "QuotaExceededError"
            return
        assert found["taken"] is True
        self.as_previewed(found)
        mine = self.known[there]
        self.known[there] = {
            key: newest(mine.get(key, NOTHING) | versions.get(key, NOTHING)) for key in {*mine, *versions}
        }
        self.cards[there] |= self.cards[here]

    def as_previewed(self, found: dict[str, Any]) -> None:
        mine, whole = found["mine"], found["whole"]
        told = difference(mine, whole, found["after"])["goes"] if mine else []
        for path, reading in (mine or {"readings": {}})["readings"].items():
            after = found["after"]["readings"].get(path)
            assert after == whole["readings"].get(path)
            if reading["text"] and (not after or after["text"] != reading["text"]):
                assert any(reading["text"] in words for words in told), (path, reading, told)

    def look(self, tab: str) -> dict[str, Any]:
        return dict(self.running("look", tab=tab)["job"])

    def fresh(self, device: str) -> tuple[dict[str, Any], dict[str, Versions]]:
        """Look at the job in a tab that is opened now, hold it against what was done, and say which versions stand."""
        tab = self.open(device)
        job = self.look(tab)
        assert not list(SOUND.iter_errors({"format": 3, "jobs": [job]}))
        self.running("close", tab=tab)
        del self.tabs[tab]
        standing = {}
        for key, versions in self.known[device].items():
            if key.startswith("about."):
                value: Any = job["about"].get(key.removeprefix("about."))
            elif key.startswith("note "):
                value = next((one["text"] for one in job["notes"] if f"note {one['id']}" == key), None)
            else:
                reading = job["readings"].get(key)
                value = (reading["text"], reading.get("unit")) if reading else None
            standing[key] = frozenset(one for one in versions if one.value == value)
            assert standing[key], (key, value, versions)
        assert job["readings"].keys() <= standing.keys()
        cards = [job.get("card", {}), *job.get("cards_aside", [])]
        assert {card["data"]["name"] for card in cards if "data" in card} >= self.cards[device]
        return job, standing

    @rule(device=st.sampled_from(["phone", "desk"]))
    def nothing_is_lost(self, device: str) -> None:
        job, _ = self.fresh(device)
        if device not in self.full:
            (stored,) = self.running("stored", device=device)
            assert stored["readings"] == job["readings"]

    def teardown(self) -> None:
        for device in ("phone", "desk"):
            self.make_room(device)
            self.nothing_is_lost(device)
        self.attempts.count("histories of a job: tabs, devices, clocks, cards, files and full storages")


def test_nothing_typed_is_ever_lost_or_changed(running, attempts):
    Job.running, Job.attempts = running, attempts
    histories = 2000 if IS_NIGHT else 50
    run_state_machine_as_test(
        Job,
        settings=settings(
            max_examples=histories,
            stateful_step_count=30,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )


def test_a_reading_under_a_name_of_an_older_edition_is_found_under_todays(ask):
    reading = {"text": "1.3", "when": "2026-11-25T10:00:00.000Z"}
    for name in ("cranking_exponent", "polytropic_exponent"):
        found = ask("withUnits", job={"readings": {name: reading, f"{name}_error": reading}})
        assert found["readings"] == {"polytropic_exponent": reading, "polytropic_exponent_error": reading}


def test_todays_and_pythons_names_for_readings_of_older_editions_are_the_same(ask):
    reading = {"text": "1", "when": "2026-11-25T10:00:00.000Z"}
    found = ask("withUnits", job={"readings": dict.fromkeys(RENAMED, reading)})
    assert found["readings"] == dict.fromkeys(RENAMED.values(), reading)
