"""Job files: every format opens, nothing damaged does, and the sheet says what it rests on."""

import copy
import csv
import io
import json
import re
import zipfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import Field, Number, read_card
from calculators.__main__ import main
from calculators._catalogue import catalogue
from calculators._engine_card import EngineCard
from calculators._errors import JobError
from calculators._form import LONGEST_ENTRY
from calculators._instruments import INSTRUMENTS
from calculators._job.difference import difference
from calculators._job.jobs import LARGEST, SCHEMA_PATH, job_faults, read_jobs, with_units
from calculators._job.measuring_sheet import BLOCKS, ruled
from calculators._job.papers import PAPERS, paper_html
from calculators._job.readings import as_read, asked_by
from calculators._job.sheet import decided, handover_html, job_html, ticked
from calculators._job.sifting import sifted
from calculators._questions import answer_message, readings_csv

ROOT = Path(__file__).parents[2]
KEPT = sorted((ROOT / "tests/jobs").glob("format-*.json"))
MARRAM = read_card(ROOT / "docs/engines/marram-f4.yml")
CARD = {"name": MARRAM.name, "data": MARRAM.data}
BARE = {"id": "0123456789abcdef", "made": "2026-11-25T00:00:00Z", "changed": "2026-11-25T00:00:00Z"}


def job(path=KEPT[-1]):
    return copy.deepcopy(json.loads(path.read_text(encoding="utf-8"))["jobs"][0])


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.stem)
def test_a_file_of_every_format_opens(path):
    (found,) = read_jobs(path)
    assert found["about"]["vehicle"] == "Marram delivery van"
    assert "Marram delivery van" in handover_html(found)
    assert found["readings"]["bore"]["unit"] == "in"
    assert "3.15 in" in handover_html(found)
    assert not list(job_faults({"format": 3, "jobs": [found]}))


def test_a_number_without_a_unit_in_an_older_file_is_taken_in_its_fields_own_and_named():
    older = job(KEPT[0]) | {"readings": {}}
    for path, text in (
        ("head_torque", "30"),
        ("bore", "3.15"),
        ("chamber.2", "49"),
        ("stroke", "74 mm"),
        ("end_gap.1", "2 3"),
    ):
        older["readings"][path] = {"text": text, "when": older["made"]}
    for path, unit in (("bore", "in"), ("end_gap", "thou")):
        older["readings"][f"{path}.unit"] = {"text": unit, "when": older["made"]}
    whole, unsaid = with_units(older)
    units = {path: reading.get("unit") for path, reading in whole["readings"].items()}
    assert units == {"head_torque": "N·m", "bore": "in", "chamber.2": "cm³", "stroke": None, "end_gap.1": "thou"}
    assert unsaid == ("Final torque", "Chamber volume of cylinder 2")
    assert with_units(whole) == (whole, ())
    read = {found.path: found.text for found in as_read(whole["readings"])}
    assert (read["head_torque"], read["stroke"], read["end_gap.1"]) == ("30 N·m", "74 mm", "2 3 thou")


def test_the_schema_of_this_format_is_sound():
    import jsonschema

    jsonschema.Draft202012Validator.check_schema(json.loads(SCHEMA_PATH.read_text(encoding="utf-8")))


@pytest.mark.parametrize(
    ("damage", "fault"),
    [
        (lambda data: data.update(format=4), r"format: 4 is not one of \[1, 2, 3\]"),
        (lambda data: data["jobs"][0].update(made="2026-13-01T00:00:00Z"), "does not match"),
        (lambda data: data["jobs"][0].update(made="0000-01-01T00:00:00Z"), "does not match"),
        (lambda data: data["jobs"][0]["decisions"][1]["stages"][0].update(steps="A"), "stages"),
        (lambda data: data.update(jobs=[]), "jobs: "),
        (lambda data: data["jobs"][0].pop("id"), "'id' is a required property"),
        (lambda data: data["jobs"][0].update(id="../../x"), "does not match"),
        (lambda data: data["jobs"][0]["readings"].update(bore={"text": 3}), "bore"),
        (lambda data: data["jobs"][0]["notes"][0].update(text="x" * 5000), "is longer than 4000 characters"),
        (lambda data: data["jobs"][0].update(script="x"), "Additional properties are not allowed"),
        (lambda data: data["jobs"].append(data["jobs"][0]), "two jobs have one id"),
        (lambda data: data["jobs"][0].update(changed="yesterday"), "does not match"),
        (lambda data: data.update(jobs=[]), "jobs: must have at least 1 entry, not 0"),
        *(
            (lambda data, time=time: data["jobs"][0].update(changed=time), "does not match")
            for time in (
                "0000-00-00T00:00:00Z",
                "0000-11-25T00:00:00Z",
                "2026-13-01T00:00:00Z",
                "2026-00-01T00:00:00Z",
                "2026-11-32T00:00:00Z",
                "2026-11-25T24:00:00Z",
                "2026-11-25T23:60:00Z",
                "2026-11-25T23:59:61Z",
                "２０２６-11-25T00:00:00Z",
            )
        ),
        (lambda data: data["jobs"][0].update(made="2026-02-29T00:00:00Z"), "is no time that the calendar has"),
    ],
)
def test_a_damaged_file_is_refused_with_the_place_and_the_fault(tmp_path, damage, fault):
    data = json.loads(KEPT[-1].read_text(encoding="utf-8"))
    damage(data)
    path = tmp_path / "job.json"
    path.write_text(json.dumps(data))
    with pytest.raises(JobError, match=fault):
        read_jobs(path)


@pytest.mark.parametrize(
    ("written", "fault"),
    [
        (b"", "this is not a job file"),
        (b"{", "this is not a job file"),
        (b"[" * 50_000, "this is not a job file: it is nested deeper than any job"),
        (b'{"a":' * 50_000, "this is not a job file: it is nested deeper than any job"),
        (b"null", "the file: None is not of type 'object'"),
        (b"[]", "the file: "),
        (b'"x"', "the file: "),
        (b"\x00\x01", "this is not a job file"),
        (b"\xff\xfe", "this is not text in UTF-8: byte 1 is none of it"),
        (b'{"format": NaN}', "this is not a job file: NaN is no number"),
        (b"PK\x03\x04 and no more", "the archive is damaged: "),
    ],
)
def test_what_is_no_job_file_is_refused(tmp_path, written, fault):
    path = tmp_path / "job.json"
    path.write_bytes(written)
    with pytest.raises(JobError, match=re.escape(f"{path}: {fault}")):
        read_jobs(path)


def archived(path, **files):
    with zipfile.ZipFile(path, "w") as archive:
        for name, content in files.items():
            archive.writestr(name.replace("_", "."), content)
    return path


def test_an_archive_of_jobs_with_photographs_is_read_as_the_file_in_it_is(capsys, tmp_path):
    path = archived(tmp_path / "jobs.zip", jobs_json=KEPT[-1].read_bytes(), photograph_jpg=b"\xff\xd8")
    assert read_jobs(path) == read_jobs(KEPT[-1])
    assert main(["job", "check", str(path)]) == 0
    assert "Green van" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("files", "fault"),
    [
        ({"notes_txt": "x"}, "the archive holds no jobs.json"),
        ({"jobs_json": b"0" * (LARGEST + 1)}, "its jobs.json is larger than 20 MB, which no job is"),
    ],
)
def test_an_archive_without_jobs_is_refused(tmp_path, files, fault):
    with pytest.raises(JobError, match=re.escape(fault)):
        read_jobs(archived(tmp_path / "jobs.zip", **files))


# One bad entry does not cost the rest


BAD_ENTRIES = {
    "reading": (lambda job: job["readings"].update(bore={"text": "8" * 3007, "when": BARE["made"]}), "readings.bore"),
    "reading's name": (
        lambda job: job["readings"].update({"x" * 300: {"text": "8", "when": BARE["made"]}}),
        "readings",
    ),
    "note": (lambda job: job["notes"][0].update(text="x" * 5000), "notes[0].text"),
    "tick": (lambda job: next(iter(job["ticks"].values())).update(A={"words": 3, "when": BARE["made"]}), "ticks"),
    "about": (lambda job: job["about"].update(owner="x" * 201), "about.owner"),
    "unknown about": (lambda job: job["about"].update(colour="red"), "about"),
    "card": (lambda job: job.update(card={"name": "mine", "data": {"format": 7}}), "card.data"),
    "gone": (lambda job: job["gone"].update({"parts 00000000": "0000-00-00T00:00:00Z"}), "gone"),
    "decision": (lambda job: job["decisions"][0].pop("lead"), "decisions[0]"),
    "section": (lambda job: job.update(clocks=[]), "clocks"),
    "unknown section": (lambda job: job.update(script="x"), "jobs[0]"),
}


def everything_in(found):
    yield from ((("about", key), text) for key, text in found.get("about", {}).items())
    yield from ((("gone", key), when) for key, when in found.get("gone", {}).items())
    for section in ("readings", "ticks", "parts", "tags", "notes", "checks", "decisions", "photographs"):
        entries = found.get(section, {})
        yield from (
            (section, json.dumps(entry)) for entry in (entries.items() if isinstance(entries, dict) else entries)
        )


@pytest.mark.parametrize(("damage", "place"), BAD_ENTRIES.values(), ids=list(BAD_ENTRIES))
def test_one_bad_entry_is_left_out_and_named_and_the_rest_is_kept(tmp_path, capsys, damage, place):
    data = json.loads(KEPT[-1].read_text(encoding="utf-8"))
    before = set(everything_in(data["jobs"][0]))
    damage(data["jobs"][0])
    (found,), told = sifted(data)
    assert len(told) == 1 + (place == "card.data")
    assert re.match(rf"left out: jobs\[0\].*{re.escape(place.removeprefix('jobs[0]'))}", told[0])
    lost = before - set(everything_in(found))
    assert len(lost) <= 1
    path = tmp_path / "job.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    assert main(["job", "report", str(path), "-o", str(tmp_path / "handover.html")]) == 0
    assert capsys.readouterr().err.splitlines() == [f"{path}: {line}" for line in told]
    assert "Marram delivery van" in (tmp_path / "handover.html").read_text(encoding="utf-8")
    assert main(["job", "check", str(path)]) == 2
    assert "Green van" in capsys.readouterr().out


@pytest.mark.parametrize(
    "damage",
    [
        lambda data: data.update(format=4),
        lambda data: data["jobs"][0].pop("id"),
        lambda data: data["jobs"][0]["readings"].update(
            {f"x.{n}": {"text": "1", "when": BARE["made"]} for n in range(2001)}
        ),
    ],
)
def test_a_file_of_which_nothing_would_be_left_or_that_holds_too_much_is_refused_whole(damage):
    data = json.loads(KEPT[-1].read_text(encoding="utf-8"))
    damage(data)
    with pytest.raises(JobError):
        sifted(data)


def test_one_job_that_cannot_be_used_does_not_cost_the_others():
    data = json.loads(KEPT[-1].read_text(encoding="utf-8"))
    data["jobs"].insert(0, {"id": "fedcba98"})
    jobs, told = sifted(data)
    assert [found["id"] for found in jobs] == [data["jobs"][1]["id"]]
    assert len(told) == 2


def test_boxes_and_schema_share_one_bound():
    bounds = json.loads(SCHEMA_PATH.read_text(encoding="utf-8"))["$defs"]
    assert bounds["reading"]["properties"]["text"]["maxLength"] == LONGEST_ENTRY
    # a box cuts nothing off in silence: what is too long is told, and not kept
    in_the_browser = (ROOT / "docs/assets/job.js").read_text(encoding="utf-8")
    assert f"const LONGEST = {LONGEST_ENTRY};" in in_the_browser
    about = re.findall(r'<(?:input|textarea)[^>]*data-at="about\.(\w+)"[^>]*maxlength="(\d+)"', job_html(job()))
    assert about
    for key, most in about:
        kind = bounds["job"]["properties"]["about"]["properties"][key]["$ref"].rpartition("/")[2]
        assert int(most) == bounds[kind]["maxLength"]


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


# What taking a copy in does


def test_what_taking_a_copy_in_does_is_counted_and_all_that_goes_is_named():
    mine, theirs = job(), job()
    mine["readings"]["bore"] = {"text": "80.1", "unit": "mm", "when": "2026-11-25T14:00:00.000Z"}
    mine["about"]["owner"] = "S. Tide"
    whole = copy.deepcopy(mine)
    theirs["readings"]["stroke"] = {"text": "74", "unit": "mm", "when": "2026-11-25T14:00:00.000Z"}
    theirs["readings"]["chamber.2"] = {"text": "50", "unit": "cm³", "when": "2026-11-25T14:00:00.000Z"}
    theirs["card"] = {"name": "dunlin-f2"}
    mine["card"] = whole["card"] = {"name": "own-van", "data": {"name": "Our van"}}
    whole["readings"] |= {path: theirs["readings"][path] for path in ("stroke", "chamber.2")}
    whole["card"] = theirs["card"]
    whole["about"]["owner"] = "R. Tide"
    whole["notes"] = []
    lists = sum(len(job()[name]) for name in ("decisions", "parts", "tags", "notes", "checks"))
    entries = len(job()["readings"]) + len(job()["about"]) + 1 + 2 + lists  # a card, and two ticks
    found = difference(mine, whole, theirs)
    assert {key: found[key] for key in ("new", "newer", "gone")} == {"new": 1, "newer": 3, "gone": 1}
    assert found["goes"] == [
        "Chamber volume of cylinder 2: 49.6 ± 0.2 cm³ gives way to 50 cm³",
        "Owner: S. Tide gives way to R. Tide",
        "Engine card: Our van gives way to dunlin-f2 and is laid aside",
        "Note: Collet groove of 3 exhaust is worn <b>badly</b>. is taken out",
    ]
    assert difference(None, job(), job()) == {"new": entries, "newer": 0, "kept": 0, "gone": 0, "goes": []}
    assert difference(job(), job(), job()) == {"new": 0, "newer": 0, "kept": entries, "gone": 0, "goes": []}


def test_an_emptied_entry_gives_way_to_nothing():
    mine, theirs = job(), job()
    theirs["readings"]["bore"] |= {"text": ""}
    assert difference(mine, theirs, theirs)["goes"] == ["Bore: 3.15 in gives way to nothing"]


# The sheet


def test_a_reading_carries_its_label_its_unit_and_where_it_comes_from():
    read = {found.path: found for found in as_read(job()["readings"])}
    assert set(read) == set(job()["readings"])
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


SHEETS = ("handover", "strip", "run-in")  # those that print decisions


def test_a_decision_says_which_reading_it_rests_on_has_changed():
    one, *others = decided(job())
    assert not any(other.stale for other in others)
    assert [(change.label, change.then, change.now) for change in one.stale] == [
        ("Chamber volume of cylinder 2", "49.4", "49.60 ± 0.23 cm³")
    ]
    for html in (handover_html(job()), job_html(job())):
        assert "Chamber volume of cylinder 2 was 49.4, and is 49.60 ± 0.23 cm³." in html


def test_another_unit_is_another_reading():
    torque = {"text": "40", "when": "2026-11-25T14:00:00.000Z"}
    answer = ask(
        want="decision",
        calculator="torque-stages",
        card=None,
        readings={"head_torque": torque},
        typed={"target": "40", "pattern": "4"},
        paths=["head_torque"],
    )
    entry = {"id": "a1b2c3d4", "when": "2026-11-25T15:00:00.000Z"} | answer["decision"]
    one = {"decisions": [entry], "readings": {"head_torque": torque}}
    other = {"decisions": [entry], "readings": {"head_torque": torque | {"unit": "lbf·ft"}}}
    assert decided(one)[0].stale == ()
    (change,) = decided(other)[0].stale
    assert (change.then, change.now) == ("40 N·m", "40 lbf·ft")


def test_an_entry_typed_after_the_decision_is_told():
    home = "calculators/torque-stages/ torque-stages"
    entry = {"id": "a1", "when": "2026-11-25T15:00:00.000Z", "calculator": "torque-stages", "rests_on": {}}
    passes = {"text": "5", "when": "2026-11-25T16:00:00.000Z"}
    found = {"decisions": [entry], "readings": {f"{home} passes": passes, "bore": passes}}
    (change,) = decided(found)[0].stale
    assert (change.label, change.then, change.now) == ("Number of passes", "not typed", "5")
    passes["when"] = "2026-11-25T14:00:00.000Z"  # it was there, and this answer did not take it
    assert decided(found)[0].stale == ()
    passes["when"] = "2026-11-25T16:00:00.000Z"
    entry["rests_on"] = {"shop/trial/ torque-stages shares": {"label": "Passes in per cent", "text": "nothing"}}
    assert [change.label for change in decided(found)[0].stale] == ["Passes in per cent"]  # a task of its own


def test_an_entry_typed_back_to_what_stood_there_is_no_change():
    home = "calculators/torque-stages/ torque-stages"
    made, later = "2026-11-25T15:00:00.000Z", "2026-11-25T16:00:00.000Z"
    entry = {"id": "a1", "when": made, "calculator": "torque-stages", "lead": "Set 34 N·m.", "rests_on": {}}

    def stale(rests_on=None, **texts):
        readings = {path.replace("own_", f"{home} "): {"text": text, "when": later} for path, text in texts.items()}
        readings |= {"head_torque.unit": {"text": "N·m", "when": later}} if "head_torque" in texts else {}
        job = {"decisions": [entry | {"rests_on": rests_on or {}}], "readings": readings}
        return [change.label for change in decided(job, MARRAM)[0].stale]

    # 3 passes are the default, 34 N·m the card's
    assert stale(own_passes="4", head_torque="35") == ["Final torque", "Number of passes"]
    assert stale(own_passes="3", head_torque="34") == []
    assert stale({"head_torque": {"label": "Final torque", "text": "34 N·m"}}) == []
    assert stale({"head_torque": {"label": "Final torque", "text": "35 N·m"}}) == ["Final torque"]
    job = {"decisions": [entry], "readings": {"head_torque": {"text": "34", "when": later}}}
    job |= {"id": "0123abcd", "made": made, "changed": later}
    assert "Decided on another reading" not in job_html(job, MARRAM)
    assert "Decided on another reading" in job_html(job)


def test_a_card_of_a_job_from_outside_is_looked_at():
    theirs = job() | {"card": {"name": "own-odd", "data": {"format": 1, "name": "Odd", "studs": 7}}}
    found = ask(want="incoming", job=theirs | {"cards_aside": [theirs["card"]]})
    assert found["left"] == [
        "its engine card has a mistake: the card lacks about, layout",
        "an engine card that was laid aside has a mistake",
    ]
    assert "card" not in found["job"]
    assert found["job"]["readings"] == job()["readings"]
    assert any("jobs[0].card.data: " in fault for fault in job_faults({"format": 2, "jobs": [theirs]}))
    assert ask(want="incoming", job=job()) == {"job": job(), "unsaid": [], "left": []}


def test_a_decision_says_that_the_card_is_another_since():
    found = job()
    words = "The engine card was chosen or changed after this."
    papers = [lambda: job_html(found), *(lambda name=name: paper_html(name, found, MARRAM) for name in SHEETS)]
    assert not any(one.other_card for one in decided(found))
    assert not any(words in paper() for paper in papers)
    found["card"]["when"] = "2026-11-25T11:35:00.000Z"  # between the second and the third
    assert [one.other_card for one in decided(found)] == [True, True, False, False]
    assert [paper().count(words) for paper in papers] == [2, 2, 1, 0]
    found["card"]["when"] = "2026-11-27T11:35:00.000Z"
    assert [paper().count(words) for paper in papers] == [4, 4, 2, 1]


def test_a_decision_whose_readings_stand_is_not_doubted():
    found = job()
    found["readings"]["chamber.2"]["text"] = " 49.4 "
    assert decided(found)[0].stale == ()


def test_what_a_decision_rested_on_is_told_as_the_answer_printed_it():
    found = job()
    path, then = next(iter(found["decisions"][0]["rests_on"].items()))
    then["text"] = "49.1 ± 0.2 cm³"
    found["readings"][path] = {"text": "49.533 ± 0.1595 cm³", "when": "2026-11-26T09:00:00.000Z"}
    (typed,) = (one for one in decided(found)[0].stale if one.label == then["label"])
    assert typed.now == "49.533 ± 0.1595 cm³"
    found["readings"][path]["from"] = "chamber-volume"
    (worked_out,) = (one for one in decided(found)[0].stale if one.label == then["label"])
    assert worked_out.now == "49.53 ± 0.18 cm³"  # as the answer that the reading came from prints it


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
        "2 of 32 steps ticked",
        "Spacer",
        "Valve lash, cold",
        "61 704 km",
        "61704 km",
        "61204 km",
        "B. Reed",
        "burette 0.1 cm³ no. 2",
        "Exhaust flange of 2 is thin",
        "Handed over by",
        "WARNING",
    ):
        assert words in html


def test_an_empty_job_has_its_sheets_too():
    assert "None yet" in job_html(BARE)
    assert "Handover" in handover_html(BARE)
    assert "Measuring sheet" in paper_html("measuring", BARE, None)


def test_readings_as_csv_read_back_and_run_in_no_spreadsheet():
    found = job()
    for path, text in (
        ("stroke", "=1+1"),
        ("a", "-cmd|' /C calc'!A0"),
        ("b", "+A1"),
        ("c", "-0.2"),
        ("d", "-0.4 -0.1 mm"),
        ("e", "-1+1"),
    ):
        found["readings"][path] = {"text": text, "when": "2026-11-25T14:00:00.000Z"}
    rows = list(csv.DictReader(io.StringIO(readings_csv(found))))
    typed = {row["path"]: row["as typed"] for row in rows}
    assert typed["bore"] == "3.15 in"
    assert typed["stroke"].startswith("'=1+1")
    assert (typed["a"], typed["b"], typed["e"]) == ("'-cmd|' /C calc'!A0", "'+A1", "'-1+1")
    assert (typed["c"], typed["d"]) == ("-0.2", "-0.4 -0.1 mm")


@pytest.mark.parametrize(
    ("text", "defused"),
    [
        *(
            (text, True)
            for text in ("=1+1", "@SUM(1)", "\t=1", "+cmd|' /C calc'!A0", "-2+3", "-x", "+", "－2＋3", "＝1")
        ),
        *((text, False) for text in ("-0.5", "−0,5 mm", "+0.3 ± 0.1 mm", "-1 1/2 in", "80 mm", "a + b")),
    ],
)
def test_signs_run_in_no_spreadsheet_either_and_a_reading_keeps_its_own(text, defused):
    found = job() | {"readings": {"note": {"text": text, "when": BARE["made"], "who": text}}}
    (row,) = csv.DictReader(io.StringIO(readings_csv(found)))
    written = text.strip() or text
    assert row["who"] == (f"'{text}" if defused else text)
    assert row["as typed"].removeprefix("'") == written


# What the page asks, and the command line


def ask(**asked):
    return json.loads(answer_message(json.dumps(asked)))


def test_the_page_gets_the_same_handover_as_the_command_line(tmp_path):
    path = tmp_path / "handover.html"
    card = str(ROOT / "docs/engines/marram-f4.yml")
    assert main(["job", "report", str(KEPT[-1]), "-o", str(path), "--card", card]) == 0
    there = ask(want="paper", paper="handover", job=job(), card=CARD)["html"]
    assert path.read_bytes() == there.encode()


@pytest.mark.parametrize("sheet", PAPERS)
def test_every_sheet_is_the_same_in_the_page_and_on_the_command_line(tmp_path, sheet):
    path = tmp_path / "sheet.html"
    card = str(ROOT / "docs/engines/marram-f4.yml")
    assert main(["job", "report", str(KEPT[-1]), "--sheet", sheet, "-o", str(path), "--card", card]) == 0
    assert path.read_bytes() == ask(want="paper", paper=sheet, job=job(), card=CARD)["html"].encode()
    assert path.read_text(encoding="utf-8").count("<article") == 1


def test_an_answer_becomes_a_decision_with_the_readings_it_rests_on():
    readings = {"bore": {"text": "80", "when": "2026-11-25T14:00:00.000Z"}}
    typed = {"target": "37", "pattern": "4"}
    asked = {"want": "decision", "calculator": "torque-stages", "card": None, "readings": readings}
    found = ask(**asked, typed=typed, paths=["bore", "stroke"])["decision"]
    assert found["lead"].startswith("Set the wrench to 12, 25 and 37 N·m")
    assert found["rests_on"] == {"bore": {"label": "Bore", "text": "80 mm"}}
    assert found["values"]
    assert ask(**asked, typed={"target": "x"}, paths=[])["decision"] is None


def test_a_form_is_filled_from_another_card():
    card = {"name": "other", "data": {"name": "Other", "torques": {"cylinder_head": {"value": "41 N·m"}}}}
    found = ask(want="form", calculator="torque-stages", card=card, prefix="p", presets={})
    assert 'value="41"' in found["form"]
    assert found["engine"] == "Other"


def test_the_page_is_told_what_taking_a_copy_in_does():
    assert ask(want="difference", mine=job(), whole=job(), theirs=job())["goes"] == []


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
    assert job_html(found).count("<h2") == 9
    assert paper_html("measuring", found, None).count("<article") == 1


def test_a_result_that_nobody_asks_for_is_called_by_its_own_label():
    when = "2026-11-25T14:00:00.000Z"
    known = {"text": "56.2 cm³", "when": when, "from": "compression-and-spacers", "label": "Clearance volume of 1"}
    (read,) = as_read({"no_such_volume.1": known})
    assert (read.label, read.group) == ("Clearance volume of 1", "Compression and spacers")


# Who read it, with what


def test_every_kind_of_instrument_reads_something_and_has_its_name():
    used = {field.instrument for found in catalogue().values() for part in found.form.sections for field in part.fields}
    assert used - {None} == set(INSTRUMENTS)
    assert asked_by("instrument.burette") == ("Instruments on the bench", "Burette", None)


def test_a_field_read_by_no_known_kind_of_instrument_cannot_be_declared():
    with pytest.raises(ValueError, match="divining rod"):
        Field(key="oil", label="Oil", kind=Number(low=0, high=1, why="a share"), instrument="divining rod")


def test_the_page_names_the_instrument_of_each_box_that_one_reads():
    form = ask(want="form", calculator="chamber-volume", card=None, prefix="p", presets={})["form"]
    (box,) = [line for line in form.splitlines() if 'name="fill.1"' in line]
    assert 'data-instrument="burette"' in box
    assert "data-instrument" not in next(line for line in form.splitlines() if 'name="cylinders"' in line)


def test_who_and_instrument_stand_in_the_sheet_the_handover_and_the_table():
    rows = {row["path"]: row for row in csv.DictReader(io.StringIO(readings_csv(job())))}
    assert (rows["bore_across.3"]["who"], rows["bore_across.3"]["instrument"]) == ("B. Reed", "bore gauge")
    assert 'data-at="readings bore_across.3 who" type="text" maxlength="200" value="B. Reed"' in job_html(job())
    handover = handover_html(job())
    marks = dict(re.findall(r"<i>(\w+)</i> ([^<;]+)[;.]", handover))
    line = next(line for line in handover.splitlines() if "80.11 80.07 80.04" in line)
    (mark,) = re.findall(r"<i>(\d+)([a-z]+)</i>", line)
    assert (marks[mark[0]], marks[mark[1]]) == ("bore gauge", "B. Reed")
    assert "A. Holm, B. Reed" in handover  # done by


def test_one_fitter_alone_is_named_once_and_marks_nothing():
    found = job()
    for reading in found["readings"].values():
        reading["who"] = "A. Holm"
    html = handover_html(found)
    assert "Read by: A. Holm." in html
    assert not re.search(r"<i>\d*[a-z]</i>", html)


# How far


def test_ticks_are_told_as_so_many_of_so_many():
    walk = "x/ torque-stages passes"
    when = "2026-11-25T10:0{}:00.000Z"
    ticks = {str(n): {"words": f"Tighten {n}.", "when": when.format(n), "of": 12} for n in range(7)}
    ticks["old"] = {"words": "Of another plan.", "when": when.format(0)}
    assert [one.how_far for one in ticked({"ticks": {walk: ticks}})] == ["7 of 12"]
    for tick in ticks.values():
        tick.pop("of", None)
    assert [one.how_far for one in ticked({"ticks": {walk: ticks}})] == ["8"]


def test_each_head_of_one_walk_is_told_by_itself():
    when = "2026-11-25T10:0{}:00.000Z"
    one = {"1": {"words": "Tighten.", "when": when.format(1), "of": 42}}
    other = {"1": {"words": "Tighten.", "when": when.format(2), "of": 42}}
    page = "build/tighten-a-head-down/"
    walks = {f"{page} torque-stages head_1": one, f"{page} torque-stages head_2": other, f"{page} steps head_2": other}
    found = ticked({"ticks": walks | {f"{page} steps": one}})
    assert {walk.title: walk.how_far for walk in found} == {
        "Torque stages, head 1": "1 of 42",
        "Torque stages, head 2": "1 of 42",
        "Tighten a head down": "1 of 42",
        "Tighten a head down, head 2": "1 of 42",
    }


# The odometer and the next checks


def run_in(**typed):
    chosen = catalogue()["run-in-plan"]
    typed = {**chosen.form.prefilled(MARRAM, None, example=True), **typed}
    return ask(want="decision", calculator="run-in-plan", card=CARD, typed=typed, paths=[], readings={})


def test_the_odometer_is_the_run_in_plans_reading_and_an_older_files_text_is_not_lost():
    assert "<dt>Odometer</dt><dd>61204 km</dd>" in handover_html(job())
    older = json.loads(KEPT[0].read_text(encoding="utf-8"))["jobs"][0]
    assert "<dt>Odometer</dt><dd>61 204 km</dd>" in handover_html(older)
    assert "Noted before: 61 204 km" in job_html(older)
    older["readings"] |= {"odometer": {"text": "40000", "when": older["made"]}}
    older["readings"] |= {"odometer_unit": {"text": "miles", "when": older["made"]}}
    assert "<dt>Odometer</dt><dd>40000 miles</dd>" in handover_html(older)


def test_a_run_in_plan_brings_its_dates_and_distances_to_the_next_checks():
    checks = {
        check["what"].partition(":")[0]: check for check in run_in(start="2026-11-25", odometer="48250")["checks"]
    }
    oil = checks["First oil change"]
    assert oil["distance"] == "48750 km"  # 500 km, common practice, no source
    assert re.fullmatch(r"\w{3} \d{1,2} \w{3} 2026", oil["due"])
    assert "Cold check" not in checks  # falls due before the road


def test_a_plan_worked_out_anew_replaces_its_checks_and_doubles_none():
    first, second = run_in(odometer="48250")["checks"], run_in(odometer="50000")["checks"]
    assert [check["id"] for check in first] == [check["id"] for check in second]
    assert first[0]["distance"] != second[0]["distance"]
    entries = [{**check, "when": "2026-11-25T00:00:00Z"} for check in first]
    assert not list(job_faults({"format": 2, "jobs": [BARE | {"checks": entries}]}))


def test_other_answers_bring_no_checks():
    typed = {"target": "37", "pattern": "4"}
    assert (
        ask(want="decision", calculator="torque-stages", card=None, typed=typed, paths=[], readings={})["checks"] == []
    )


@pytest.mark.parametrize("nuts", ["maker", "again", "never"])
def test_the_longest_check_fits_its_line_of_the_file(nuts):
    checks = run_in(nuts=nuts, inlet_clearance="0.15 ± 0.02", exhaust_clearance="0.20 ± 0.02")["checks"]
    assert max(len(check["what"]) for check in checks) <= 200


# Measuring sheet, bench strip, card for the dash


def rows_of(found, title):
    return next(block.rows for block in found if block.title == title)


def test_the_measuring_sheet_has_the_rows_of_the_card():
    four = ruled(BARE, MARRAM)
    assert [name for name, _ in rows_of(four, "Barrels and pistons")] == [f"Cylinder {n}" for n in (1, 2, 3, 4)]
    assert len(rows_of(four, "Valve springs")) == 8
    assert len(rows_of(four, "Head faces")) == 2
    assert all(sum(width for _, width in boxes) == 7 for _, boxes in rows_of(four, "Barrels and pistons"))
    six = EngineCard(
        "six", {"name": "Six", "layout": {"cylinders": {"value": 6}, "banks": {"value": [[1, 2, 3, 4, 5, 6]]}}}
    )
    assert len(rows_of(ruled(BARE, six), "Rings")) == 6
    assert len(rows_of(ruled(BARE, six), "Valve springs")) == 12
    assert len(rows_of(ruled(BARE, six), "Head faces")) == 1


def test_the_measuring_sheet_has_a_row_for_each_valve_of_a_cylinder():
    found = BARE | {"readings": {"inlet_valves": {"text": "2", "when": BARE["made"]}}}
    names = [name for name, _ in rows_of(ruled(found, MARRAM), "Inlet valves, guides and seats")]
    assert names[:2] == ["Inlet valve 1, no. 1", "Inlet valve 1, no. 2"]
    assert len(names) == 8
    assert len(rows_of(ruled(found, MARRAM), "Valve springs")) == 12


def test_the_measuring_sheet_is_filled_from_the_job_box_by_box():
    found = ruled(job(), MARRAM)
    third = dict(rows_of(found, "Barrels and pistons"))["Cylinder 3"]
    assert third[:3] == (("80.11", 1), ("80.07", 1), ("80.04", 1))
    first = dict(rows_of(found, "Chambers, decks and barrels"))["Cylinder 1"]
    assert first[:3] == (("49.2", 1), ("49.1", 1), ("49.0", 1))
    assert all(text == "" for _, boxes in rows_of(ruled(BARE, MARRAM), "Rings") for text, _ in boxes)


def test_a_reading_in_another_unit_or_of_too_many_numbers_stands_whole():
    readings = {
        "bore_across.1": {"text": "3.15 3.16", "unit": "in", "when": BARE["made"]},
        "end_gap.1": {"text": "0.4 0.4 0.4 0.4", "when": BARE["made"]},
        "end_gap.2": {"text": "0.4 ± 0.1", "when": BARE["made"]},
    }
    found = ruled(BARE | {"readings": readings}, MARRAM)
    assert dict(rows_of(found, "Barrels and pistons"))["Cylinder 1"][0] == ("3.15 3.16 in", 3)
    assert dict(rows_of(found, "Rings"))["Cylinder 1"][0] == ("0.4 0.4 0.4 0.4", 3)
    assert dict(rows_of(found, "Rings"))["Cylinder 2"][0] == ("0.4 ± 0.1", 3)


def test_the_empty_measuring_sheet_holds_nobodys_numbers_but_the_engines_rows():
    found = job()
    found["readings"]["cylinders"] = {"text": "2", "when": found["made"]}
    found["readings"]["piston.1"] = {"text": "80.11", "when": found["made"]}
    html = paper_html("measuring-empty", found, MARRAM)
    assert "80.11" not in html
    assert "80.11" in paper_html("measuring", found, MARRAM)
    assert "Cylinder 2" in html
    assert "Cylinder 3" not in html


def test_every_box_of_the_measuring_sheet_is_asked_for_by_a_calculator():
    for block in BLOCKS:
        assert block.calculator in catalogue()
    assert len(ruled(BARE, None)) == len(BLOCKS)  # a box that nobody asks for has no heading


def test_the_bench_strip_holds_the_last_torque_stages_and_lash_stops():
    html = paper_html("strip", job(), MARRAM)
    assert "A · 11\u202fN·m" in html or "A · 11\xa0N·m" in html
    assert "Bring number 1 to its firing top dead centre" in html
    assert html.index("Torque stages") < html.index("Lash turn plan")
    again = job()
    newer = copy.deepcopy(again["decisions"][1]) | {"id": "ffffffff", "when": "2026-11-26T00:00:00.000Z"}
    newer["stages"][0]["title"] = "Pass 1 of 3: set 12 N·m"
    again["decisions"].append(newer)
    html = paper_html("strip", again, MARRAM)
    assert "set 12 N·m" in html
    assert html.count("Confirm: set") == 1
    newer["about"] = "Head of 1 and 2"
    assert paper_html("strip", again, MARRAM).count("Confirm: set") == 2


def test_the_run_in_card_holds_the_ceilings_of_the_answer():
    html = paper_html("run-in", job(), MARRAM)
    assert "<td>61204</td><td>3050</td>" in html
    assert "Oil lamp on" in html


@pytest.mark.parametrize(
    ("sheet", "words"), [("strip", "No torque stages and no lash stops"), ("run-in", "No run-in plan on the job sheet")]
)
def test_a_sheet_that_the_job_has_nothing_for_says_where_it_comes_from(capsys, tmp_path, sheet, words):
    assert main(["job", "report", str(KEPT[0]), "--sheet", sheet]) == 2
    assert words in capsys.readouterr().err
    older = json.loads(KEPT[0].read_text(encoding="utf-8"))["jobs"][0]
    answer = ask(want="paper", paper=sheet, job=older, card=None)
    assert answer["html"] == ""
    assert words in answer["lacking"]


def test_what_a_calculator_worked_out_is_printed_with_the_figures_that_count():
    found = job()
    found["readings"]["chamber.2"]["text"] = "49.533 ± 0.1595 cm³"
    assert "49.53 ± 0.18" in handover_html(found)  # 2 · 0.1595 ÷ √3 (GUM 4.3.7, 6.2.1), two figures (7.2.6)
    assert "49.533 ± 0.1595 cm³" in readings_csv(found)


def test_the_handover_says_what_its_plus_minus_means():
    found = job()
    assert "k = 2" not in handover_html(found | {"readings": {}, "decisions": []})
    found["readings"] = {"bore": {"text": "80 ± 0.05", "when": found["made"]}}
    assert handover_html(found | {"decisions": []}).count("about 95 times in 100 (k = 2)") == 1
    decision = {"id": "0" * 8, "when": found["made"], "calculator": "deck-height", "lead": "The deck is 0.4 ± 0.1 mm."}
    assert handover_html(found | {"readings": {}, "decisions": [decision]}).count("(k = 2)") == 1


def test_readings_of_one_kind_stand_in_one_line_with_their_unit_once():
    when = BARE["made"]
    readings = {f"chamber.{n}": {"text": f"49.{n}", "when": when} for n in (1, 2, 3)}
    html = handover_html(BARE | {"readings": readings})
    (line,) = [line for line in html.splitlines() if "Chamber volume" in line]
    assert "Chamber volume, by cylinder" in line
    assert re.sub(r"<[^>]+>", "", line).endswith("1: 49.1; 2: 49.2; 3: 49.3 cm³")
