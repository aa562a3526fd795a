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

from calculators.__main__ import main
from calculators.bench.card import EngineCard
from calculators.bench.cells import LONGEST_ENTRY
from calculators.bench.entries import length
from calculators.bench.errors import JobError
from calculators.bench.instrument_kinds import INSTRUMENTS
from calculators.bench.question import entries_and_columns, questions
from calculators.browser import answer_message, readings_csv
from calculators.job.decisions import decided, desk_of
from calculators.job.difference import difference
from calculators.job.former import FORMER
from calculators.job.jobs import LARGEST, SCHEMA_PATH, as_kept_now, job_faults, read_jobs
from calculators.job.measuring_sheet import BLOCKS, ruled
from calculators.job.papers import PAPERS, paper_html
from calculators.job.readings import as_read, named
from calculators.job.sheet import handover_html, job_html, ticked
from calculators.job.sifting import sifted
from tests.cards import MARRAM

ROOT = Path(__file__).parents[2]
KEPT = sorted((ROOT / "tests/jobs").glob("format-*.json"))
CARD = {"name": MARRAM.name, "data": MARRAM.data}
BARE = {"id": "0123456789abcdef", "made": "2026-11-25T00:00:00Z", "changed": "2026-11-25T00:00:00Z"}


def job(path=KEPT[2]):
    """Return the job of a kept file, what a former calculator worked out taken for typed."""
    found = copy.deepcopy(json.loads(path.read_text(encoding="utf-8"))["jobs"][0])
    for reading in found["readings"].values():
        reading.pop("from", None)
    return found


def job_today():
    return job(KEPT[-1])


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.stem)
def test_a_file_of_every_format_opens(path):
    (found,) = read_jobs(path)
    assert found["about"]["vehicle"] == "Marram delivery van"
    assert "Marram delivery van" in handover_html(found)
    assert found["readings"]["bore"]["unit"] == "in"
    assert "3.15 in" in handover_html(found)
    assert not list(job_faults({"format": 5, "jobs": [found]}))


@pytest.mark.parametrize("before", ["cranking_exponent", "polytropic_exponent"])
def test_the_exponent_of_cranking_is_one_reading_under_either_name_that_jobs_had(before):
    older = job(KEPT[-1]) | {"readings": {}}
    for name, text in ((before, "1.3"), (f"{before}_error", "0.05")):
        older["readings"][name] = {"text": text, "when": older["made"]}
    kept = as_kept_now(older).job["readings"]
    assert {path: reading["text"] for path, reading in kept.items()} == {
        "polytropic_exponent": "1.3",
        "polytropic_exponent_error": "0.05",
    }
    desk = desk_of(kept, MARRAM, example=True)
    for name in ("compression.cranking", "cylinders.expected"):
        assert desk.ask(name).known["exponent"].value == 1.3
        assert desk.ask(name).known["exponent_error"].value == 0.05


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
    kept = as_kept_now(older)
    whole = kept.job
    units = {path: reading.get("unit") for path, reading in whole["readings"].items()}
    assert units == {"head_torque": "N·m", "bore": "in", "chamber.2": "cm³", "stroke": None, "end_gap.1": "thou"}
    assert kept.unsaid == ("Final torque", "Chamber volume of cylinder 2")
    assert (as_kept_now(whole).job, as_kept_now(whole).unsaid) == (whole, ())
    read = {found.path: found.text for found in as_read(whole["readings"])}
    assert (read["head_torque"], read["stroke"], read["end_gap.1"]) == ("30 N·m", "74 mm", "2 3 thou")


def test_the_schema_of_this_format_is_sound():
    import jsonschema

    jsonschema.Draft202012Validator.check_schema(json.loads(SCHEMA_PATH.read_text(encoding="utf-8")))


@pytest.mark.parametrize(
    ("damage", "fault"),
    [
        (lambda data: data.update(format=6), r"format: 6 is not one of \[1, 2, 3, 4, 5\]"),
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
        (lambda data: data["jobs"][0].update(made="2026-02-29T00:00:00Z"), "is not a real date and time"),
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
        (b"\xff\xfe", "this is not UTF-8 text: byte 1 does not fit"),
        (b'{"format": NaN}', "this is not a job file: NaN is not a number"),
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
        lambda data: data.update(format=6),
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


def test_a_reading_carries_its_label_its_unit_and_who_asks_for_it():
    read = {found.path: found for found in as_read(job()["readings"])}
    assert set(read) == set(job()["readings"])
    assert (read["bore"].label, read["bore"].text, read["bore"].instrument) == ("Bore", "3.15 in", "bore gauge")
    assert read["chamber.2"].label == "Chamber volume of cylinder 2"
    assert read["chamber.2"].text == "49.6 ± 0.2 cm³"
    passes = read["calculators/torque-stages/ torque-stages passes"]
    assert read["chamber.2"].group == "Compression and spacers"
    assert (passes.group, passes.label, passes.text) == ("Torque stages", "Number of passes", "3")
    fill = read["calculators/chamber-volume/ chamber-volume fill.1"]
    assert (fill.group, fill.label, fill.text) == ("Chamber volume", "Burette readings of row 1", "49.2 49.1 49.0 cm³")


def test_a_questions_own_reading_has_its_label_and_its_row():
    read = {found.path: found for found in as_read(job_today()["readings"])}
    assert read["measuring.chambers.fill.1"].label.endswith(" of cylinder 1")
    assert read["measuring.chambers.fill.1"].text == "49.2 49.1 49.0 cm³"
    assert read["torque.wrench.passes"].group == "Torque and order"


@pytest.mark.parametrize("path", KEPT[:3], ids=lambda path: path.stem)
def test_what_a_former_calculator_worked_out_is_no_reading_and_that_is_said_once(path):
    theirs = json.loads(path.read_text(encoding="utf-8"))["jobs"][0]
    results = {name for name, reading in theirs["readings"].items() if "from" in reading}
    found = ask(want="incoming", job=theirs)
    assert (found["left"], found["results"]) == ([], len(results))
    assert not results & set(found["job"]["readings"])
    assert not results & {read.path for read in as_read(theirs["readings"])}  # where it was kept by a browser
    assert set(found["job"]["readings"]) <= set(theirs["readings"]) - results
    assert all(desk_of(theirs["readings"], None).reading(path) is None for path in results)


def test_what_a_former_calculator_was_told_is_called_as_its_room_calls_it():
    assert named("build/x/ torque-stages-2 passes").group == "Torque stages"
    assert named("build/x/ torque-stages-2 passes").label == "Number of passes"
    assert named("calculators/units-and-fasteners/ units-and-fasteners per_inch").label


def test_every_name_that_a_former_calculator_shared_is_a_questions_now():
    shared = {entry.facts.shared_as for of in questions().values() for entry, _ in entries_and_columns(of)}
    for former in FORMER.values():
        assert set(former.shared.values()) <= shared, former.title
        assert any(name.startswith(f"{former.room}.") for name in questions())


def test_a_path_that_nobody_asks_for_keeps_its_name():
    assert (named("tide_table").group, named("tide_table").label) == ("Other", "tide_table")
    assert named("calculators/x/ horoscope sign").label == "calculators/x/ horoscope sign"


SHEETS = ("handover", "strip", "run-in")  # those that print decisions
FORMER_WORDS = (
    "An earlier edition of the book worked this out, and today’s cannot check it. Work it out again before you "
    "rely on it."
)


def test_a_decision_of_a_former_calculator_is_shown_as_it_was_written():
    for html in (handover_html(job()), job_html(job())):
        assert "Compression and spacers" in html
        assert "Fit 0.5 mm under both barrels." in html
        assert html.count(FORMER_WORDS) == len(job()["decisions"])


def test_it_still_says_which_reading_it_rests_on_has_changed():
    one, *others = decided(job())
    assert not any(other.stale for other in others)
    assert [(change.label, change.then, change.now) for change in one.stale] == [
        ("Chamber volume of cylinder 2", "49.4", "49.6 ± 0.2 cm³")
    ]
    for html in (handover_html(job()), job_html(job())):
        assert "Chamber volume of cylinder 2 was 49.4, and is 49.6 ± 0.2 cm³." in html


def test_a_decision_to_which_nothing_happened_is_not_doubted():
    *questions_, former = decided(job_today(), MARRAM)
    assert not any(one.is_doubted for one in questions_)
    assert [one.is_former for one in questions_] == [False] * 4
    assert former.is_former


def test_a_decision_says_which_value_differs_today_and_by_how_much():
    found = job_today()
    found["readings"]["chamber.2"]["text"] = "50.6 ± 0.2"
    ratio, *others = decided(found)[:4]
    assert [change.then for change in ratio.stale] == ["49.6 ± 0.2 cm³"]
    assert not any(one.is_doubted for one in others)
    lowest = ratio.changed[0]
    assert lowest.label.startswith("Lowest ratio")
    # by hand: (swept + 50.6 + deck) ÷ (50.6 + deck) less the same with 49.6, bore 80.01 mm, stroke 74 mm, deck 0.38 mm
    swept, deck = 372.06, 1.911
    apart = swept / (50.6 + deck) - swept / (49.6 + deck)
    assert float(lowest.by.replace("−", "-")) == pytest.approx(apart, abs=0.006)
    words = f"{lowest.label} was {lowest.then}, and is {lowest.now} ({lowest.by})."
    for html in (handover_html(found), job_html(found)):
        assert words in html.replace("&#39;", "’")


def test_a_decision_whose_steps_would_differ_today_says_the_first_that_does():
    found = job_today()
    found["readings"]["torque.wrench.passes"]["text"] = "2"
    torque = decided(found)[1]
    (step,) = [change for change in torque.changed if "N·m" in change.then]
    assert step.then.endswith("11\u00a0N·m")
    assert step.now.endswith("17\u00a0N·m")


def test_readings_that_no_longer_have_an_answer_are_told():
    found = job_today()
    found["readings"]["head_torque"]["text"] = "much"
    assert decided(found)[1].unanswered == "Final torque must be a number, like 34"
    assert "Today’s readings have no answer: Final torque must be a number, like 34." in job_html(found)


def test_another_unit_is_another_reading():
    other = job_today()
    other["readings"]["head_torque"]["unit"] = "lbf·ft"
    torque = decided(other)[1]
    assert [(change.then, change.now) for change in torque.stale] == [("34 N·m", "34 lbf·ft")]
    assert torque.changed


def test_an_entry_typed_after_the_decision_counts_where_it_changes_the_answer():
    found = job_today()
    later = "2026-11-26T10:00:00.000Z"
    found["readings"]["torque.wrench.shares"] = {"text": "50 100", "unit": "%", "when": later}
    assert decided(found)[1].is_doubted
    found["readings"]["torque.wrench.shares"] = {"text": "33 67 100", "unit": "%", "when": later}
    assert not decided(found)[1].stale


def test_an_entry_taken_out_where_the_card_says_the_same_is_no_change():
    card = EngineCard("own", {"name": "Own", "torques": {"cylinder_head": {"value": "34 N·m", "source": "seen"}}})
    found = job_today()
    del found["readings"]["head_torque"]
    assert [change.now for change in decided(found)[1].stale] == ["nothing"]
    assert not decided(found, card)[1].is_doubted


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
    assert ask(want="incoming", job=job()) == {"job": job(), "unsaid": [], "left": [], "results": 0}


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
    there = ask(want="paper", paper="handover", job=job_today(), card=CARD)["html"]
    assert path.read_bytes() == there.encode()


@pytest.mark.parametrize("sheet", PAPERS)
def test_every_sheet_is_the_same_in_the_page_and_on_the_command_line(tmp_path, sheet):
    path = tmp_path / "sheet.html"
    card = str(ROOT / "docs/engines/marram-f4.yml")
    assert main(["job", "report", str(KEPT[-1]), "--sheet", sheet, "-o", str(path), "--card", card]) == 0
    assert path.read_bytes() == ask(want="paper", paper=sheet, job=job_today(), card=CARD)["html"].encode()
    assert path.read_text(encoding="utf-8").count("<article") == 1


def test_an_answer_becomes_a_decision_with_its_values_frozen_and_the_readings_it_rests_on():
    readings = job_today()["readings"]
    found = ask(want="done-with", name="compression.ratio", card=None, readings=readings, example=False)["decision"]
    assert {"bore", "stroke", "chamber.2"} <= set(found["rests_on"])
    assert "firing_order" not in found["rests_on"]
    assert found["rests_on"]["chamber.2"] == {"label": "Chamber volume of cylinder 2", "text": "49.6 ± 0.2 cm³"}
    swept = next(value for value in found["values"] if value["label"] == "Swept volume of one cylinder")
    # by hand: π/4 · (3.15 · 2.54 cm)² · 7.4 cm
    assert (swept["number"], swept["unit"]) == (pytest.approx(372.06, abs=0.01), "cm³")
    entry = {"id": "a1b2c3d4", "when": BARE["made"]} | found
    assert not list(job_faults({"format": 5, "jobs": [BARE | {"decisions": [entry]}]}))


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
    assert job_html(found).count("<h2") == 11
    assert paper_html("measuring", found, None).count("<article") == 1


# Who read it, with what


def test_every_kind_of_instrument_reads_something_and_has_its_name():
    used = {entry.facts.read_by for of in questions().values() for entry, _ in entries_and_columns(of)}
    assert used - {None} == set(INSTRUMENTS)
    assert named("instrument.burette").group == "Instruments on the bench"
    assert named("instrument.burette").label == "Burette"


def test_an_entry_read_by_no_known_kind_of_instrument_cannot_be_declared():
    with pytest.raises(ValueError, match="divining rod"):
        length("Oil", 0, 1, why="a share", read_by="divining rod")


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


# Limit


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
    readings = job_today()["readings"]
    readings |= {path: {"text": text, "when": BARE["made"]} for path, text in typed.items()}
    return ask(want="done-with", name="running_in.rechecks", card=None, readings=readings, example=False)


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
        check["what"].partition(":")[0]: check for check in run_in(first_start="2026-11-25", odometer="48250")["checks"]
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
    readings = job_today()["readings"]
    assert ask(want="done-with", name="torque.wrench", card=None, readings=readings, example=False)["checks"] == []


NUTS = "head_nuts_again"


@pytest.mark.parametrize("nuts", ["maker", "again", "never"])
def test_the_longest_check_fits_its_line_of_the_file(nuts):
    checks = run_in(**{NUTS: nuts}, inlet_clearance="0.15", exhaust_clearance="0.20")["checks"]
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
    found = ruled(job_today(), MARRAM)
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


def test_every_box_of_the_measuring_sheet_is_a_column_of_a_question():
    assert len(ruled(BARE, None)) == len(BLOCKS)  # one that nobody asks for has no heading


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
    ("sheet", "words"), [("strip", "No settings and no stops"), ("run-in", "No plan for running in on the job sheet")]
)
def test_a_sheet_that_the_job_has_nothing_for_says_where_it_comes_from(capsys, tmp_path, sheet, words):
    assert main(["job", "report", str(KEPT[0]), "--sheet", sheet]) == 2
    assert words in capsys.readouterr().err
    older = json.loads(KEPT[0].read_text(encoding="utf-8"))["jobs"][0]
    answer = ask(want="paper", paper=sheet, job=older, card=None)
    assert answer["html"] == ""
    assert words in answer["lacking"]


def test_the_papers_hold_what_questions_answered_too():
    strip = paper_html("strip", job_today(), MARRAM)
    assert strip.index("Head nuts <") < strip.index("Valve lash <")
    assert "A · 11\xa0N·m" in strip
    assert "Card for the dash" not in strip
    assert "Card for the dash" in paper_html("run-in", job_today(), MARRAM)


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
