"""Job files: every format opens, nothing damaged does, two copies become one, and the sheet says what it rests on."""

import copy
import csv
import io
import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import read_card
from calculators.__main__ import main
from calculators._errors import JobError
from calculators._job.jobs import LARGEST, SCHEMA_PATH, difference, job_faults, merged, read_jobs
from calculators._job.readings import as_read, asked_by
from calculators._job.sheet import decided, handover_html, job_html
from calculators._questions import answer_message, readings_csv

ROOT = Path(__file__).parents[2]
KEPT = sorted((ROOT / "tests/jobs").glob("format-*.json"))
MARRAM = read_card(ROOT / "docs/engines/marram-f4.yml")


def job():
    return copy.deepcopy(json.loads(KEPT[-1].read_text(encoding="utf-8"))["jobs"][0])


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.stem)
def test_a_file_of_every_format_opens(path):
    (found,) = read_jobs(path)
    assert found["about"]["vehicle"] == "Marram delivery van"
    assert "Marram delivery van" in handover_html(found)


def test_the_schema_of_this_format_is_sound():
    import jsonschema

    jsonschema.Draft202012Validator.check_schema(json.loads(SCHEMA_PATH.read_text(encoding="utf-8")))


@pytest.mark.parametrize(
    ("damage", "fault"),
    [
        (lambda data: data.update(format=2), "format: 1 was expected"),
        (lambda data: data.update(jobs=[]), "jobs: "),
        (lambda data: data["jobs"][0].pop("id"), "'id' is a required property"),
        (lambda data: data["jobs"][0].update(id="../../x"), "does not match"),
        (lambda data: data["jobs"][0]["readings"].update(bore={"text": 3}), "bore"),
        (lambda data: data["jobs"][0]["notes"][0].update(text="x" * 5000), "is too long"),
        (lambda data: data["jobs"][0].update(script="x"), "Additional properties are not allowed"),
        (lambda data: data["jobs"].append(data["jobs"][0]), "two jobs have one id"),
        (lambda data: data["jobs"][0].update(changed="yesterday"), "does not match"),
    ],
)
def test_a_damaged_file_is_refused_with_the_place_and_the_fault(tmp_path, damage, fault):
    data = json.loads(KEPT[-1].read_text(encoding="utf-8"))
    damage(data)
    path = tmp_path / "job.json"
    path.write_text(json.dumps(data))
    with pytest.raises(JobError, match=fault):
        read_jobs(path)


@pytest.mark.parametrize("text", ["", "{", "[" * 100_000, "null", "[]", '"x"', "\x00\x01"])
def test_what_is_no_job_file_is_refused(tmp_path, text):
    path = tmp_path / "job.json"
    path.write_text(text)
    with pytest.raises(JobError):
        read_jobs(path)


def test_a_file_too_large_for_a_job_is_not_even_read(tmp_path):
    path = tmp_path / "job.json"
    with path.open("wb") as file:
        file.truncate(LARGEST + 1)
    with pytest.raises(JobError, match="larger than 20 MB"):
        read_jobs(path)


@given(place=st.integers(0, 5000), byte=st.integers(0, 255))
def test_a_file_with_one_wrong_byte_opens_or_is_refused_and_nothing_else(tmp_path_factory, place, byte):
    whole = bytearray(KEPT[-1].read_bytes())
    whole[place % len(whole)] = byte
    path = tmp_path_factory.mktemp("jobs") / "job.json"
    path.write_bytes(whole)
    try:
        for found in read_jobs(path):
            handover_html(found), job_html(found), readings_csv(found)
    except JobError as refused:
        assert str(path) in str(refused)


# Merging: what must hold for any two copies of one job

WHEN = st.integers(0, 9).map(lambda hour: f"2026-11-25T0{hour}:00:00.000Z")
NAMES = st.sampled_from(["bore", "stroke", "chamber.1"])
READINGS = st.dictionaries(NAMES, st.builds(lambda text, when: {"text": text, "when": when}, st.text(max_size=3), WHEN))
NOTES = st.dictionaries(st.sampled_from(["aaaaaaaa", "bbbbbbbb"]), st.tuples(st.text(max_size=3), WHEN)).map(
    lambda notes: [{"id": key, "text": text, "when": when} for key, (text, when) in sorted(notes.items())]
)
TICKS = st.dictionaries(
    st.just("page walk"),
    st.dictionaries(NAMES, st.builds(lambda words, when: {"words": words, "when": when}, st.text(max_size=2), WHEN)),
)
GONE = st.dictionaries(st.sampled_from(["readings bore", "notes aaaaaaaa", "ticks page walk bore"]), WHEN)
JOBS = st.builds(
    lambda changed, readings, notes, ticks, gone: {
        "id": "0123456789abcdef",
        "made": "2026-11-25T00:00:00.000Z",
        "changed": changed,
        "readings": readings,
        "notes": notes,
        "ticks": ticks,
        "gone": gone,
    },
    WHEN,
    READINGS,
    NOTES,
    TICKS,
    GONE,
)


@given(one=JOBS, other=JOBS)
def test_it_makes_no_difference_which_copy_is_merged_into_which(one, other):
    assert merged(one, other) == merged(other, one)


@given(one=JOBS, other=JOBS, third=JOBS)
def test_it_makes_no_difference_in_what_order_copies_meet(one, other, third):
    assert merged(merged(one, other), third) == merged(one, merged(other, third))


@given(one=JOBS, other=JOBS)
def test_merging_again_changes_nothing(one, other):
    once = merged(one, other)
    assert merged(once, other) == once


@given(one=JOBS, other=JOBS)
def test_a_merge_loses_no_newest_entry_that_was_not_taken_out(one, other):
    whole = merged(one, other)
    for path in {*one["readings"], *other["readings"]}:
        newest = max(found["readings"][path]["when"] for found in (one, other) if path in found["readings"])
        gone = max(found["gone"].get(f"readings {path}", "") for found in (one, other))
        assert (path in whole["readings"]) == (newest > gone)
        if newest > gone:
            assert whole["readings"][path]["when"] == newest


@given(one=JOBS, other=JOBS)
def test_a_merge_of_sound_jobs_is_sound(one, other):
    assert not list(job_faults({"format": 1, "jobs": [merged(one, other)]}))


def test_what_a_merge_would_do_is_counted_before_it_is_done():
    mine, theirs = job(), job()
    mine["readings"]["bore"] = {"text": "80.1", "when": "2026-11-25T14:00:00.000Z"}
    theirs["readings"]["stroke"] = {"text": "74", "when": "2026-11-25T14:00:00.000Z"}
    theirs["readings"]["chamber.2"] = {"text": "50", "when": "2026-11-25T14:00:00.000Z"}
    entries = 4 + 1 + 2 + 5  # readings, the new one, ticks, and the lists
    assert difference(mine, theirs) == {"new": 1, "newer": 1, "kept": entries - 2}
    assert difference(None, theirs) == {"new": entries, "newer": 0, "kept": 0}
    assert merged(mine, theirs)["readings"]["bore"]["text"] == "80.1"


# The sheet


def test_a_reading_carries_its_label_its_unit_and_where_it_comes_from():
    read = {found.path: found for found in as_read(job()["readings"])}
    assert set(read) == {"bore", "chamber.2", "calculators/torque-stages/ torque-stages passes"}
    assert (read["bore"].label, read["bore"].text, read["bore"].instrument) == ("Bore", "3.15 in", "bore gauge")
    assert read["chamber.2"].label == "Chamber volume of cylinder 2"
    assert read["chamber.2"].text == "49.6 ± 0.2 cm³"
    assert read["chamber.2"].from_calculator == "Compression and spacers"
    passes = read["calculators/torque-stages/ torque-stages passes"]
    assert read["chamber.2"].group == "Compression and spacers"
    assert (passes.group, passes.label, passes.text) == ("Torque stages", "Number of passes", "3")


def test_a_second_calculator_of_one_name_on_a_page_is_known_too():
    assert asked_by("build/x/ torque-stages-2 passes")[:2] == ("Torque stages", "Number of passes")


def test_a_path_that_nobody_asks_for_keeps_its_name():
    assert asked_by("tide_table") == ("Other", "tide_table", None)
    assert asked_by("calculators/x/ horoscope sign")[:2] == ("Other", "calculators/x/ horoscope sign")


def test_a_decision_says_which_reading_it_rests_on_has_changed():
    (one,) = decided(job())
    assert [(change.label, change.then, change.now) for change in one.stale] == [
        ("Chamber volume of cylinder 2", "49.4", "49.6 ± 0.2 cm³")
    ]
    for html in (handover_html(job()), job_html(job())):
        assert "Chamber volume of cylinder 2 was 49.4, and is 49.6 ± 0.2 cm³." in html


def test_a_decision_whose_readings_stand_is_not_doubted():
    found = job()
    found["readings"]["chamber.2"]["text"] = " 49.4 "
    assert decided(found)[0].stale == ()


def test_what_people_wrote_is_never_markup():
    for html in (handover_html(job()), job_html(job())):
        assert "&lt;b&gt;badly&lt;/b&gt;" in html
        assert "<b>badly" not in html


def test_the_handover_holds_all_that_the_owner_must_know():
    html = handover_html(job(), MARRAM.title)
    for words in (
        "Marram F4",
        "F4-00017",
        "R. Tide",
        "Low compression on 3.",
        "Fit 0.5 mm under both barrels.",
        "3.15 in",
        "2 steps ticked",
        "Spacer",
        "Valve lash, cold",
        "61 704 km",
        "Exhaust flange of 2 is thin",
        "Handed over by",
        "WARNING",
    ):
        assert words in html


def test_an_empty_job_has_its_sheets_too():
    bare = {"id": "0123456789abcdef", "made": "2026-11-25T00:00:00Z", "changed": "2026-11-25T00:00:00Z"}
    assert "None yet" in job_html(bare)
    assert "Handover" in handover_html(bare)


def test_readings_as_csv_read_back_and_run_in_no_spreadsheet():
    found = job()
    found["readings"]["stroke"] = {"text": "=1+1", "when": "2026-11-25T14:00:00.000Z"}
    rows = list(csv.DictReader(io.StringIO(readings_csv(found))))
    assert {row["path"]: row["as typed"] for row in rows}["bore"] == "3.15 in"
    assert {row["path"]: row["as typed"] for row in rows}["stroke"].startswith("'=1+1")


# What the page asks, and the command line


def ask(**asked):
    return json.loads(answer_message(json.dumps(asked)))


def test_the_page_gets_the_same_handover_as_the_command_line(tmp_path):
    path = tmp_path / "handover.html"
    card = str(ROOT / "docs/engines/marram-f4.yml")
    assert main(["job", "report", str(KEPT[-1]), "-o", str(path), "--card", card]) == 0
    there = ask(want="handover", job=job(), engine="Marram F4")["html"]
    assert path.read_bytes() == there.encode()


def test_an_answer_becomes_a_decision_with_the_readings_it_rests_on():
    readings = {"bore": {"text": "80", "when": "2026-11-25T14:00:00.000Z"}}
    typed = {"target": "37", "pattern": "4"}
    asked = {"want": "decision", "calculator": "torque-stages", "card": None, "readings": readings}
    found = ask(**asked, typed=typed, paths=["bore", "stroke"])["decision"]
    assert found["lead"].startswith("Set the wrench to 12, 25 and 37 N·m")
    assert found["rests_on"] == {"bore": {"label": "Bore", "text": "80"}}
    assert found["values"]
    assert ask(**asked, typed={"target": "x"}, paths=[])["decision"] is None


def test_a_form_is_filled_from_another_card():
    card = {"name": "other", "data": {"name": "Other", "torques": {"cylinder_head": {"value": "41 N·m"}}}}
    found = ask(want="form", calculator="torque-stages", card=card, prefix="p", presets={})
    assert 'value="41"' in found["form"]
    assert found["engine"] == "Other"


def test_copies_are_merged_for_the_page():
    found = ask(want="merge", mine=None, theirs=job())
    assert found["job"] == job()
    assert found["difference"]["kept"] == 0


def test_the_command_line_checks_a_file(capsys, tmp_path):
    assert main(["job", "check", str(KEPT[-1])]) == 0
    assert "Green van" in capsys.readouterr().out
    bad = tmp_path / "bad.json"
    bad.write_text('{"format": 1}')
    assert main(["job", "check", str(bad)]) == 2
    assert "'jobs' is a required property" in capsys.readouterr().err


def test_the_command_line_wants_to_know_which_of_several_jobs(capsys, tmp_path):
    data = json.loads(KEPT[-1].read_text(encoding="utf-8"))
    data["jobs"].append(data["jobs"][0] | {"id": "fedcba98"})
    path = tmp_path / "two.json"
    path.write_text(json.dumps(data))
    assert main(["job", "report", str(path)]) == 2
    assert "name one by --id: 0123456789abcdef, fedcba98" in capsys.readouterr().err
    assert main(["job", "report", str(path), "--id", "fed"]) == 0
    assert "Handover" in capsys.readouterr().out


@settings(max_examples=20)
@given(text=st.text(max_size=30))
def test_any_text_in_any_place_stays_text(text):
    found = job()
    found["readings"]["bore"]["text"] = text
    found["notes"][0]["text"] = text
    found["about"]["vehicle"] = text
    assert handover_html(found).count("<article") == 1
    assert job_html(found).count("<h2") == 8


def test_a_result_that_nobody_asks_for_is_called_by_its_own_label():
    when = "2026-11-25T14:00:00.000Z"
    known = {"text": "56.2 cm³", "when": when, "from": "compression-and-spacers", "label": "Clearance volume of 1"}
    (read,) = as_read({"clearance_volume.1": known})
    assert (read.label, read.group) == ("Clearance volume of 1", "Compression and spacers")
