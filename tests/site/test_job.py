"""A whole job through the built pages: typed, kept, ticked, decided, exported, taken in, handed over."""

from __future__ import annotations

import io
import json
import random
import re
import zipfile
from pathlib import Path

import pypdf
import pytest
from playwright.sync_api import BrowserContext, Page, expect

from calculators import read_card
from calculators.__main__ import main
from calculators.bench.desk import Desk, path_of
from calculators.bench.question import entries_and_columns, questions
from calculators.job.jobs import job_faults, read_jobs
from calculators.job.papers import paper_html
from calculators.job.readings import as_read
from tests.examples import IS_WIDE
from tests.rich_job import card as rich_card
from tests.rich_job import rich_job
from tests.site.conftest import (
    ANSWERS_HELD,
    DESK,
    PHONE,
    answered,
    arrived,
    files_and_printing,
    fill,
    form_of,
    fresh,
    kept_job,
    module,
    question,
    resized,
    says,
    until,
    went,
)

KEPT = Path(__file__).parents[1] / "jobs" / "format-1.json"
NEWEST = KEPT.with_name("format-5.json")
FILES = sorted(KEPT.parent.glob("format-*.json"))
WIDTHS = {"A4": 595.3, "Letter": 612.0}
"""Points: 210 mm (ISO 216) and 8.5 in (ANSI/ASME Y14.1)."""
CARD = Path(__file__).parents[2] / "docs/engines/marram-f4.yml"
SINGLE = CARD.with_name("layout-single.yml")
PAGES_OF_A_HANDOVER = ["Handover Vehicle", "For the next mechanic", "Annex: the record"]
TORQUE, COMPRESSION = "/work-it-out/torque/", "/work-it-out/compression/"
RATIO = "compression.ratio"
SPACERS = "compression.spacers"
JOB = "/job/"


def sheet(page: Page):
    return page.locator(".bench-job-sheet")


def up(page: Page) -> None:
    """Wait until Python has drawn the sheet."""
    expect(sheet(page).locator("h2").first).to_be_visible()


def write(page: Page, at: str, text: str) -> None:
    page.locator(f'[data-at="{at}"]').fill(text)


def choose_file(page: Page, name: str, content: bytes) -> None:
    page.locator('label:has-text("Import a file") input').set_input_files(
        [{"name": name, "mimeType": "application/json", "buffer": content}]
    )


def incoming(page: Page):
    return page.locator(".bench-job-incoming")


def test_a_reading_typed_in_one_question_is_there_in_the_next(same_page):
    page = same_page(COMPRESSION, PHONE)
    fill(page, RATIO, bore="81.5", chamber__2="50.2")
    answered(page, RATIO)
    went(page, "/work-it-out/fits/")
    expect(form_of(page, "fits.ring_heat").locator('[name="bore"]')).to_have_value("81.5")
    went(page, COMPRESSION)
    expect(form_of(page, RATIO).locator('[name="bore"]')).to_have_value("81.5")
    expect(question(page, RATIO).locator('[name="chamber.2"]')).to_have_value("50.2")
    expect(question(page, RATIO).locator('[name="chamber.1"]')).to_have_value("")
    expect(question(page, RATIO).locator('[data-box="chamber.1"] .q-from')).to_contain_text("worked out")


def test_nuts_stay_ticked_over_a_reload_and_only_for_the_figure_they_were_ticked_for(same_page):
    page = same_page(TORQUE, PHONE)
    steps = arrived(page).locator("[data-step]")
    fold = question(page).locator('[data-fold^="steps"] > summary').first
    fold.click()
    steps.nth(0).check()
    steps.nth(1).check()
    kept_job(page)  # what waited for the storage to open is on its way
    page.reload()
    expect(steps.nth(1)).to_be_checked()
    expect(steps.nth(2)).not_to_be_checked()
    fill(page, target="51")
    expect(says(page)).to_contain_text("51 N·m")
    expect(steps.nth(0)).not_to_be_checked()
    fill(page, target="34")
    expect(steps.nth(0)).to_be_checked()
    if not question(page).get_by_role("button", name="Untick all").first.is_visible():
        fold.click()
    question(page).get_by_role("button", name="Untick all").first.click()
    expect(steps.nth(0)).not_to_be_checked()
    page.reload()
    expect(steps.nth(0)).not_to_be_checked()


def test_the_follow_mode_goes_on_where_the_phone_was_put_down(same_page):
    page = same_page(TORQUE, PHONE)
    fill(page, target="40")
    expect(says(page)).to_contain_text("40 N·m")
    walk = question(page).locator(".q-walk").first
    count = walk.locator("[data-step]").count()
    start = walk.locator(".bench-follow-start")
    start.click()
    dialog = page.locator("dialog.bench-follow")
    expect(dialog).to_contain_text(f"step 1 of {count}")
    large = dialog.locator(".bench-follow-large")
    first = large.text_content()
    for size in (DESK, PHONE):
        resized(page, size)
        assert large.evaluate("one => parseFloat(getComputedStyle(one).fontSize)") >= 60, size
        box = dialog.locator(".bench-follow-next").bounding_box()
        assert box["height"] >= 0.24 * size[1] - 1, size
        assert box["width"] >= 0.8 * size[0], size
    page.keyboard.press("Enter")
    expect(dialog).to_contain_text(f"step 2 of {count}")
    assert large.text_content() != first
    page.reload()
    expect(says(page)).to_contain_text("40 N·m")
    start.click()
    expect(dialog).to_contain_text(f"step 2 of {count}")
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    expect(start).to_be_focused()
    expect(walk.locator("[data-step]").nth(0)).to_be_checked()


def test_a_fold_stays_open_and_keeps_the_focus_while_numbers_change(same_page):
    page = same_page(TORQUE)
    fill(page, target="43")
    expect(says(page)).to_contain_text("43 N·m")
    summary = question(page).locator('[data-fold="working"] > summary')
    summary.focus()
    page.keyboard.press("Enter")
    expect(question(page).locator(".bench-source").first).to_be_visible()
    expect(summary).to_be_focused()
    fill(page, target="44")
    expect(says(page)).to_contain_text("44 N·m")
    expect(question(page).locator(".bench-source").first).to_be_visible()


def test_a_fold_opened_while_an_answer_is_on_its_way_stays_open(open_page, address):
    page = open_page(None)
    page.add_init_script(
        """
        const post = Worker.prototype.postMessage;
        Worker.prototype.postMessage = function (...given) {
          if (window.held) held.push(() => post.apply(this, given));
          else post.apply(this, given);
        };
        """
    )
    page.goto(address + TORQUE)
    fill(page, target="43")
    expect(says(page)).to_contain_text("43 N·m")
    page.evaluate("window.held = []")
    fill(page, target="44")
    until(page, lambda: page.evaluate("held.length"))  # it is asked
    question(page).locator('[data-fold="working"] > summary').click()
    expect(says(page)).to_contain_text("43 N·m")
    page.evaluate("held.splice(0).forEach((go) => go()), delete window.held")
    expect(says(page)).to_contain_text("44 N·m")
    expect(question(page).locator(".bench-source").first).to_be_visible()


def test_steps_of_a_procedure_are_ticked_and_the_home_page_knows_where_the_reader_was(same_page):
    page = same_page("/build/tighten-a-head-down/", PHONE)
    boxes = page.locator(".bench-done input")
    expect(boxes.nth(8)).to_be_visible()
    boxes.nth(8).check()
    page.reload()
    expect(boxes.nth(8)).to_be_checked()
    expect(boxes.nth(7)).not_to_be_checked()
    went(page, "/")
    expect(page.locator(".bench-next-at")).to_contain_text("6·4 head 1, step 1 of 15")  # the first that is not done
    expect(page.locator(".bench-next-title")).to_have_text("Tighten a cylinder head down")
    expect(page.locator('[data-stage="6"]')).to_have_attribute("data-state", "now")
    page.locator(".bench-go").click()
    expect(page.locator("h1")).to_contain_text("Tighten a cylinder head down")
    assert page.url.endswith("#step-1")
    expect(page.locator(".bench-resume")).to_have_text("Go on with step 10")


def test_a_step_has_its_name_at_once_and_takes_a_tick_when_its_head_is_known(open_page):
    """A tick that waits for the card can go with a page that is left."""
    page = open_page("/")
    waiting = []
    page.route("**/cards.js*", lambda route: waiting.append(route))
    page.goto(page.url + "build/tighten-a-head-down/")
    box = page.locator(".bench-done input").nth(8)
    expect(box).to_have_attribute("aria-label", re.compile("tep 9 done: Tighten"))
    expect(box).to_be_disabled()
    until(page, lambda: waiting)
    for route in waiting:
        route.continue_()
    expect(box).to_be_enabled()
    expect(box).to_have_attribute("aria-label", re.compile("Head 1, step 9 done"))


def test_a_card_chosen_in_another_tab_leaves_what_was_typed(same_page, address):
    page = same_page(COMPRESSION)
    fill(page, RATIO, bore="80.5", stroke="73.9")  # the box that has the focus stays by itself
    answered(page, RATIO)
    other = page.context.new_page()
    other.goto(address + JOB)
    up(other)
    other.locator("#job-card").select_option("samphire-f6")
    expect(question(page, RATIO)).to_have_attribute(
        "data-state", "lacking"
    )  # an engine of ours is nobody's example now
    expect(question(page, RATIO).locator('[name="bore"]')).to_have_value("80.5")


def test_what_is_typed_in_another_tab_or_question_stands_in_every_box_for_it(same_page, address):
    page = same_page(COMPRESSION)
    fill(page, RATIO, bore="80.5")
    fill(page, SPACERS, target="9.5")  # where the focus then is
    spacers = question(page, SPACERS)
    expect(spacers.locator('[name="bore"]')).to_have_value("80.5")
    other = page.context.new_page()
    other.goto(address + COMPRESSION)
    fill(other, RATIO, bore="81.5")
    fill(other, SPACERS, target="9.6")
    for box, text in (("bore", "81.5"), ("target", "9.6")):
        expect(spacers.locator(f'[name="{box}"]')).to_have_value(text)
    expect(question(page, RATIO).locator('[name="bore"]')).to_have_value("81.5")
    expect(spacers.locator('[name="target"]')).to_be_focused()


@pytest.mark.parametrize("left", ["by the reader", "as the answer replaces it"])
def test_a_box_that_is_left_does_not_put_back_what_was_taken_out_of_the_job_elsewhere(same_page, left):
    page = same_page(TORQUE)
    for text in ("3", "30"):  # into the box that stays, too: leaving it is a change to the browser
        fill(page, target=text)
        answered(page)
    page.evaluate(
        """async (isLeft) => {
          await (await import(MODULE)).remove("readings", "head_torque", null);
          if (isLeft) document.activeElement.blur(); // before Python can have answered
        }""".replace("MODULE", module("job")),
        left == "by the reader",
    )
    expect(question(page).locator('[name="target"]')).to_have_value("")
    assert kept_job(page)["readings"] == {}


def test_another_tab_begins_a_job_and_this_one_shows_nothing_of_the_old(same_page, address):
    page = same_page(COMPRESSION)
    fill(page, RATIO, deck__1="0.50")
    expect(question(page, RATIO)).to_have_attribute("data-state", "mixed")
    other = page.context.new_page()
    other.goto(address + JOB)
    up(other)
    write(other, "about.name", "Car A")
    other.get_by_role("button", name="Begin another job").click()
    expect(question(page, RATIO)).to_have_attribute("data-state", "example")
    expect(question(page, RATIO).locator('[name="deck.1"]')).to_have_value("")
    fill(page, RATIO, deck__2="0.40")
    expect(question(page, RATIO)).to_have_attribute("data-state", "mixed")
    assert list(kept_job(page)["readings"]) == ["deck.2"]
    chosen = other.locator(".bench-job-chosen")
    expect(chosen.locator("option")).to_have_count(2)
    expect(chosen.locator("option:checked")).not_to_have_text("Car A")


def whole_job(page: Page) -> None:
    """What a fitter does from an empty browser: about, tags, readings, a decision, ticks, parts, checks."""
    up(page)
    write(page, "about.vehicle", "Marram delivery van")
    write(page, "about.owner", "R. Tide")
    write(page, "about.fitter", "A. Holm")
    write(page, "about.left", "Exhaust flange of 2 is thin.")
    for name, key, text in (
        ("part", "parts", "Spacer"),
        ("note", "notes", "Groove worn <b>badly</b>"),
        ("check", "checks", "Valve lash, cold"),
    ):
        page.get_by_role("button", name=f"Add a {name}").click()
        box = page.locator(f'[data-at^="{key}."]').first
        expect(box).to_be_focused()
        box.fill(text)
    page.locator("#tags ~ bench-tags").first.get_by_role("button", name="Tag a part").click()
    form = page.get_by_role("dialog", name="Tag a part")
    form.get_by_role("radio", name="Tappet").check()
    form.get_by_label("Where it came from").fill("Tappet bore 1")
    form.get_by_role("button", name="Keep the tag", exact=True).click()
    expect(form).to_have_count(0)
    page.locator("#job-card").select_option("layout-single")
    expect(page.locator(".bench-status").first).to_contain_text("takes its numbers")
    went(page, COMPRESSION)
    fill(page, RATIO, **ONE)
    expect(question(page, RATIO).locator(".q-whose").first).to_have_text("Worked out from your readings")
    question(page, RATIO).locator(".q-done").click()
    expect(question(page, RATIO).locator(".q-done")).to_contain_text("On the job sheet")
    went(page, TORQUE)
    fill(page, target="40", pattern="4", graduation="1")
    expect(says(page)).to_contain_text("40 N·m")
    question(page).locator('[data-fold^="steps"] > summary').first.click()
    for number in range(3):
        question(page).locator("[data-step]").nth(number).check()
    went(page, JOB)
    up(page)


ONE = {"stroke": "74", "cylinders": "1", "bore": "80.02", "chamber__1": "49.1", "deck__1": "0.4", "spacer__1": "0"}


def exported(page: Page, button: str) -> bytes:
    with page.expect_download() as waiting:
        files_and_printing(page).get_by_role("button", name=button, exact=True).click()
    return Path(waiting.value.path()).read_bytes()


def test_a_whole_job_goes_in_through_the_pages_and_out_as_a_handover(same_page, tmp_path):
    page = same_page(JOB, PHONE)
    whole_job(page)
    page.reload()
    up(page)
    expect(page.locator('[data-at="about.owner"]')).to_have_value("R. Tide")
    expect(sheet(page)).to_contain_text("80.02 mm")
    expect(sheet(page)).to_contain_text("steps ticked")
    file = tmp_path / "job.json"
    file.write_bytes(exported(page, "Export this job"))
    (job,) = read_jobs(file)
    assert job["readings"]["bore"]["who"] == "A. Holm"
    assert job["decisions"][0]["rests_on"]["bore"]["text"] == "80.02 mm"
    here = exported(page, "Handover as a file")
    again = tmp_path / "handover.html"
    assert main(["job", "report", str(file), "-o", str(again), "--card", str(SINGLE)]) == 0
    assert again.read_bytes() == here
    page.evaluate("() => { window.print = () => {}; }")
    for paper in ("A4", "Letter"):
        files_and_printing(page).get_by_role("button", name="Print the handover").click()
        expect(page.locator("body > .bench-paper")).to_be_attached()
        pdf = pypdf.PdfReader(io.BytesIO(page.pdf(format=paper)))
        pages = [" ".join(one.extract_text().split()) for one in pdf.pages]
        assert [text.partition(" Marram")[0][:21] for text in pages] == PAGES_OF_A_HANDOVER
        assert "Received by" in pages[0]
        assert "80.02 mm" in pages[2]
        text = " ".join(pages)
        for words in ("Marram delivery van", "80.02 mm", "Groove worn <b>badly</b>", "Received by", "Spacer"):
            assert words in text, words
        expect(page.locator("body > .bench-paper")).to_have_count(0)
    a_reading_changed_later_marks_what_was_decided_on_the_old_one(page)


def a_reading_changed_later_marks_what_was_decided_on_the_old_one(page: Page) -> None:
    went(page, COMPRESSION)
    fill(page, RATIO, bore="80.5")
    expect(question(page, RATIO).locator(".q-done")).to_contain_text("Done with it")
    went(page, JOB)
    up(page)
    expect(sheet(page)).to_contain_text("Bore was 80.02 mm, and is 80.5 mm.")
    expect(sheet(page)).to_contain_text("Today’s answer differs: Swept volume of one cylinder was 372.1")


def test_two_tabs_write_into_one_job_and_neither_loses_anything(same_page, address):
    page = same_page(TORQUE)
    other = page.context.new_page()
    other.goto(address + COMPRESSION)
    fill(page, target="41")
    fill(other, RATIO, bore="80.3")
    answered(page)
    answered(other, RATIO)
    fill(page, passes="4")
    fill(other, RATIO, stroke="74.1")
    kept_job(other)  # what was typed there is through
    readings = {path: reading["text"] for path, reading in kept_job(page)["readings"].items()}
    assert readings == {"bore": "80.3", "stroke": "74.1", "head_torque": "41", "torque.wrench.passes": "4"}
    third = page.context.new_page()
    third.goto(address + COMPRESSION)
    expect(form_of(third, RATIO).locator('[name="bore"]')).to_have_value("80.3")


def test_what_is_typed_while_the_other_tab_s_work_is_read_stays_in_hand(open_page):
    page = open_page(COMPRESSION)
    fill(page, RATIO, bore="80.1")
    answered(page, RATIO)
    kept_job(page)
    text = page.evaluate(
        """async () => {
          const begin = IDBDatabase.prototype.transaction;
          let isRead;
          const reading = new Promise((begun) => {
            IDBDatabase.prototype.transaction = function (stores, mode) {
              const transaction = begin.call(this, stores, mode);
              if (mode === "readwrite") return transaction;
              for (let i = 0; i < 3000; i++) transaction.objectStore("jobs").get("none");
              isRead ??= new Promise((done) => transaction.addEventListener("complete", done));
              begun();
              return transaction;
            };
          });
          new BroadcastChannel("bench-job").postMessage([]); // as the other tab tells that it has written
          await reading;
          const bore = document.querySelector('bench-question[name="compression.ratio"] [name="bore"]');
          bore.value = "80.2";
          bore.dispatchEvent(new Event("input", { bubbles: true }));
          await isRead;
          await new Promise((done) => setTimeout(done));
          return (await (await import(MODULE)).theJob()).readings.bore.text;
        }""".replace("MODULE", module("job"))
    )
    assert text == "80.2"


def test_what_is_typed_while_the_sheet_is_drawn_anew_stays_in_its_box(open_page, address):
    page = open_page(None)
    page.add_init_script(ANSWERS_HELD)
    page.goto(address + JOB)
    up(page)
    page.evaluate("window.holdsAnswers = true")
    page.locator("#job-card").select_option("layout-single")
    until(page, lambda: page.evaluate("heldAnswers.length"))
    write(page, "about.owner", "R. Tide")
    page.evaluate("letAnswers()")
    expect(page.locator("#cylinder-1")).to_have_count(1)
    expect(page.locator("#cylinder-2")).to_have_count(0)  # the sheet is that of the card
    expect(page.locator('[data-at="about.owner"]')).to_have_value("R. Tide")


def test_several_jobs_stand_side_by_side_and_one_is_in_hand(same_page):
    page = same_page(JOB)
    up(page)
    write(page, "about.name", "First")
    page.get_by_role("button", name="Begin another job").click()
    expect(page.locator('[data-at="about.name"]')).to_have_value("")
    write(page, "about.name", "Second")
    page.reload()
    up(page)
    expect(page.locator('[data-at="about.name"]')).to_have_value("Second")
    expect(page.locator("#job-chosen option")).to_have_count(2)
    page.locator("#job-chosen").select_option(label="First")
    expect(page.locator('[data-at="about.name"]')).to_have_value("First")
    files_and_printing(page).get_by_role("button", name="Throw this job away").click()
    expect(page.locator('[data-at="about.name"]')).to_have_value("Second")
    expect(page.locator("#job-chosen option")).to_have_count(1)


def test_a_file_is_looked_at_before_it_is_taken_in_and_newer_work_stays(same_page):
    page = same_page(JOB)
    up(page)
    choose_file(page, "van.json", KEPT.read_bytes())
    expect(incoming(page)).to_contain_text("Green van: a new job with")
    expect(incoming(page)).not_to_contain_text("names no unit")  # the job itself says which one
    assert kept_job(page) is None
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator('[data-at="about.engine_number"]')).to_have_value("F4-00017")
    write(page, "about.engine_number", "F4-00018")
    newer = json.loads(KEPT.read_bytes())
    newer["jobs"][0]["readings"]["bore"] = {"text": "3.16", "when": "2027-01-01T00:00:00.000Z"}
    newer["jobs"][0]["readings"]["stroke"] = {"text": "74", "when": "2026-11-25T09:00:00.000Z"}
    choose_file(page, "van.json", json.dumps(newer).encode())
    expect(incoming(page)).to_contain_text("1 new entries, 1 newer than yours, 0 taken out,")
    expect(incoming(page)).to_contain_text("Bore: 3.15 in gives way to 3.16 in.")
    expect(incoming(page)).to_contain_text("Green van: the file names no unit for Stroke; each number is taken in the")
    page.get_by_role("button", name="Take it in").click()
    expect(sheet(page)).to_contain_text("3.16 in")
    expect(page.locator('[data-at="about.engine_number"]')).to_have_value("F4-00018")


def test_the_archive_holds_jobs_readings_and_photographs_and_comes_back_whole(same_page, browser, address):
    page = same_page(JOB)
    up(page)
    write(page, "about.name", "Pictured")
    picture = page.evaluate(
        """async () => {
          const canvas = Object.assign(document.createElement("canvas"), { width: 2400, height: 1200 });
          const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
          return [...new Uint8Array(await blob.arrayBuffer())];
        }"""
    )
    page.locator(".bench-job-camera").set_input_files(
        [{"name": "head.png", "mimeType": "image/png", "buffer": bytes(picture)}]
    )
    expect(page.locator(".bench-job-photographs img")).to_have_count(1)
    archive = zipfile.ZipFile(io.BytesIO(exported(page, "Export all, with photographs")))
    jobs = json.loads(archive.read("jobs.json"))
    assert not list(job_faults(jobs))
    entry = jobs["jobs"][0]["photographs"][0]
    assert (entry["width"], entry["height"]) == (1600, 800)
    assert archive.read(f"photographs/{entry['id']}.jpg")[:2] == b"\xff\xd8"
    assert f"readings-{jobs['jobs'][0]['id']}.csv" in archive.namelist()
    elsewhere: BrowserContext = fresh(browser)
    there = elsewhere.new_page()
    there.goto(address + JOB)
    up(there)
    choose_file(there, "jobs.zip", archive.fp.getvalue())
    there.get_by_role("button", name="Take it in").click()
    expect(there.locator('[data-at="about.name"]')).to_have_value("Pictured")
    expect(there.locator(".bench-job-photographs img")).to_have_count(1)
    elsewhere.close()


DAMAGED = 200 if IS_WIDE else 60
"""Files, of each kind of damage as many."""


def damaged(count: int):
    """Files that were good once: bytes turned, cut off, doubled, values swapped for others."""
    good = KEPT.read_bytes()
    rule = random.Random(9)  # noqa: S311 (the same damage every time)
    for number in range(count):
        kind = number % 5
        if kind == 0:
            spoiled = bytearray(good)
            for _ in range(rule.randint(1, 8)):
                spoiled[rule.randrange(len(spoiled))] = rule.randrange(256)
            yield bytes(spoiled)
        elif kind == 1:
            yield good[: rule.randrange(len(good))]
        elif kind == 2:
            yield bytes(rule.randrange(256) for _ in range(rule.randrange(400)))
        elif kind == 3:
            cut = sorted(rule.sample(range(len(good)), 2))
            yield good[: cut[1]] + good[cut[0] :]
        else:
            data = json.loads(good)
            job = data["jobs"][0]
            key = rule.choice(list(job))
            job[key] = rule.choice([None, 7, "x", [], [[]], {"a": {"b": []}}, "<img src=x onerror=alert(1)>", -1])
            yield json.dumps(data).encode()


def test_damaged_files_are_refused_with_a_reason_and_nothing_is_lost(same_page):
    page = same_page(JOB)
    up(page)
    write(page, "about.name", "Mine")
    refused = 0
    for content in damaged(DAMAGED):
        page.evaluate("document.querySelector('.bench-job-incoming').replaceChildren()")
        choose_file(page, "bad.json", content)
        expect(incoming(page)).not_to_be_empty()
        words = incoming(page).text_content()
        try:
            sound = not list(job_faults(json.loads(content.decode("utf-8"))))
        except ValueError:
            sound = False
        assert any(said in words for said in ("is not taken in", "Left out", "left out")) != sound, (
            words,
            content[:2000],
        )
        refused += int(not sound)
    assert refused > 0.75 * DAMAGED
    assert page.evaluate("window.hurt ?? null") is None
    page.reload()
    up(page)
    expect(page.locator('[data-at="about.name"]')).to_have_value("Mine")
    expect(page.locator("#job-chosen option")).to_have_count(1)


def test_a_full_storage_is_said_plainly_and_what_was_saved_stays(open_page, address):
    page = open_page(TORQUE, expect_complaints=True)
    fill(page, target="43")
    answered(page)
    page.evaluate(
        "() => { IDBObjectStore.prototype.put = () => { throw new DOMException('no room', 'QuotaExceededError'); }; }"
    )
    fill(page, passes="5")
    expect(page.locator(".bench-not-kept")).to_contain_text("The storage of this browser is full")
    expect(page.locator(".bench-not-kept")).to_contain_text("Not kept yet: Number of passes")
    assert "5" not in {reading["text"] for reading in kept_job(page)["readings"].values()}
    page.reload()  # and there is room again
    expect(form_of(page).locator('[name="target"]')).to_have_value("43")
    expect(question(page).locator('[name="passes"]')).to_have_value("5")
    expect(page.locator(".bench-not-kept")).to_have_count(0)
    assert "5" in {reading["text"] for reading in kept_job(page)["readings"].values()}


def test_a_file_that_the_full_storage_cannot_take_is_said_plainly_and_may_be_tried_again(open_page):
    page = open_page(JOB)
    up(page)
    write(page, "about.name", "Mine")
    choose_file(page, "van.json", NEWEST.read_bytes())
    page.evaluate(
        """() => {
          window.put = IDBObjectStore.prototype.put;
          IDBObjectStore.prototype.put = () => { throw new DOMException("no room", "QuotaExceededError"); };
        }"""
    )
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator(".bench-status")).to_contain_text("nothing was taken from the file")
    expect(page.locator('[data-at="about.name"]')).to_have_value("Mine")
    page.evaluate("() => { IDBObjectStore.prototype.put = window.put; }")
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator(".bench-status")).to_have_text("The file is taken in.")
    expect(page.locator("#job-chosen option")).to_have_count(2)


def test_where_the_browser_keeps_nothing_the_page_says_so_and_a_reload_loses_nothing(open_page, address):
    page = open_page("/")
    page.add_init_script("indexedDB.open = () => { throw new DOMException('no', 'SecurityError'); }")
    page.goto(address + TORQUE)
    expect(page.locator(".bench-not-kept")).to_contain_text("This browser keeps nothing")
    fill(page, target="45")
    answered(page)
    page.reload()
    expect(form_of(page).locator('[name="target"]')).to_have_value("45")
    for path in ("/job/engine-card/", "/build/tighten-a-head-down/"):
        page.goto(address + path)
        expect(page.locator(".bench-not-kept")).to_contain_text("This browser keeps nothing")
    page.goto(address + "/start/safety/")
    expect(page.locator("h1")).to_be_visible()
    expect(page.locator(".bench-not-kept")).to_have_count(0)
    page.goto(address + JOB)
    expect(page.locator(".bench-job-kept")).to_contain_text("forgets the job when the tab is closed")


def test_where_the_browser_holds_one_job_none_is_lost_unasked(open_page):
    page = open_page("/")
    page.add_init_script("indexedDB.open = () => { throw new DOMException('no', 'SecurityError'); }")
    page.goto(page.url + "job/")
    up(page)
    name = page.locator('[data-at="about.name"]')
    name.fill("Mine")
    page.once("dialog", lambda dialog: dialog.dismiss())
    with page.expect_event("dialog") as asked:
        page.get_by_role("button", name="Begin another job").click()
    assert "holds one job at a time" in asked.value.message
    expect(name).to_have_value("Mine")
    choose_file(page, "van.json", NEWEST.read_bytes())
    expect(incoming(page)).to_contain_text("the first of these replaces the one in hand")
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator('[data-at="about.engine_number"]')).to_have_value("F4-00017")
    page.reload()
    up(page)
    expect(page.locator('[data-at="about.engine_number"]')).to_have_value("F4-00017")
    page.once("dialog", lambda dialog: dialog.accept())
    page.get_by_role("button", name="Begin another job").click()
    expect(page.locator(".bench-status")).to_have_text("A new job is in hand.")
    page.reload()
    up(page)
    expect(name).to_have_value("")


def another_head_torque(page: Page, torque: str) -> None:
    """Give the job a card of its own with this torque: the demonstration's, changed."""
    data = read_card(CARD).data
    data["torques"]["cylinder_head"]["value"] = torque
    data["name"] = f"Head torque {torque}"
    page.evaluate(
        """async (data) => {
          await (await import(MODULE)).chooseCard({ name: "own-card", data });
        }""".replace("MODULE", module("job")),
        data,
    )


def test_thirty_newton_metres_stay_thirty_whatever_is_chosen_later(same_page):
    page = same_page(TORQUE)
    fill(page, target="30", pattern="4", graduation="1")
    expect(says(page)).to_contain_text("30 N·m")
    another_head_torque(page, "25 lbf·ft")  # a card in another unit, chosen in this tab and there at a reload
    for _ in range(2):
        expect(form_of(page).locator('[name="target"]')).to_have_value("30")
        expect(question(page).locator('[data-unit-of="target"]')).to_have_value("N·m")
        expect(says(page)).to_contain_text("30 N·m")
        page.reload()
    # a job from a device where the other unit was chosen, in the layout that had a unit of its own
    job = kept_job(page)
    job["readings"] = {"head_torque.unit": {"text": "lbf·ft", "when": "2027-01-01T00:00:00.000Z"}}
    went(page, JOB)
    up(page)
    choose_file(page, "other.json", json.dumps({"format": 2, "jobs": [json.loads(json.dumps(job))]}).encode())
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator(".bench-status")).to_have_text("The file is taken in.")
    expect(sheet(page)).to_contain_text("30 N·m")
    went(page, TORQUE)
    expect(says(page)).to_contain_text("30 N·m")
    expect(form_of(page).locator('[data-unit-of="target"]')).to_have_value("N·m")
    fill(page, target__unit="lbf·ft")  # by hand it is another reading
    expect(says(page)).to_contain_text("41 N·m")  # 30 lbf·ft, 1.3558 N·m each: NIST SP 811, B.8
    assert kept_job(page)["readings"]["head_torque"]["unit"] == "lbf·ft"


def test_the_preview_lists_what_goes_and_what_is_typed_meanwhile_is_looked_at_again(same_page, address):
    page = same_page(JOB)
    up(page)
    take_in(page, NEWEST)
    expect(page.locator('[data-at="about.owner"]')).to_have_value("R. Tide")
    write(page, "about.owner", "S. Tide")
    file = json.loads(NEWEST.read_bytes())
    job = file["jobs"][0]
    job["gone"] |= {
        "readings bore": "2027-01-01T00:00:00.000Z",
        f"notes {job['notes'][0]['id']}": "2027-01-01T00:00:00.000Z",
    }
    job["readings"]["head_torque"] |= {"text": "31", "order": "2027-01-01T00:00:00.000Z"}
    job["about"]["complaint"] = "x" * 5000
    choose_file(page, "van.json", json.dumps(file).encode())
    for words in (
        "Left out, because it does not fit a job file: jobs/0/about/complaint.",
        "Bore: 3.15 in is taken out.",
        "Final torque: 34 N·m gives way to 31 N·m.",
        "Note: Collet groove of 3 exhaust is worn <b>badly</b>. is taken out.",
    ):
        expect(incoming(page)).to_contain_text(words)
    other = page.context.new_page()
    other.goto(address + TORQUE)
    fill(other, target="32")
    until(other, lambda: kept_job(other)["readings"]["head_torque"]["text"] == "32")
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator(".bench-status").first).to_contain_text("Something was typed since you looked")
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator(".bench-status").first).to_have_text("The file is taken in.")
    kept = kept_job(page)
    assert "bore" not in kept["readings"]
    assert kept["readings"]["head_torque"]["text"] == "31"
    assert kept["about"]["owner"] == "S. Tide"
    assert kept["about"]["complaint"] == "Low compression on 3."


def test_what_was_taken_out_can_be_put_back(same_page):
    page = same_page(JOB)
    up(page)
    take_in(page, NEWEST)
    before = kept_job(page)
    for remove in ("readings bore", "parts bbbbbbbb"):
        page.locator(f"[data-remove='{remove}']").dispatch_event("click")
        expect(page.locator(f"[data-remove='{remove}']")).to_have_count(0)
        page.get_by_role("button", name="Put it back").click()
        expect(page.locator(f"[data-remove='{remove}']")).to_have_count(1)
        expect(page.locator(".bench-status").first).to_have_text("It is back.")
    after = kept_job(page)
    assert after["readings"]["bore"].items() >= before["readings"]["bore"].items()
    assert [one["name"] for one in after["parts"]] == [one["name"] for one in before["parts"]]


def test_a_backup_with_a_box_that_was_too_long_comes_back(same_page):
    page = same_page(TORQUE)
    fill(page, target="38")
    answered(page)
    fill(page, passes="3" * 3007)
    expect(page.locator(".bench-not-kept")).to_contain_text("Not kept, because longer than 2000 characters")
    went(page, JOB)
    up(page)
    there = json.loads(exported(page, "Export this job"))
    assert not list(job_faults(there))
    choose_file(page, "back.json", json.dumps(there).encode())
    expect(incoming(page)).to_contain_text("0 new entries, 0 newer than yours")


def take_in(page: Page, file: Path) -> None:
    choose_file(page, file.name, file.read_bytes())
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator(".bench-status").first).to_have_text("The file is taken in.")


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_file_of_every_format_opens_and_goes_out_as_it_came(same_page, file):
    page = same_page(JOB)
    up(page)
    take_in(page, file)
    expect(page.locator('[data-at="about.engine_number"]')).to_have_value("F4-00017")
    there = json.loads(exported(page, "Export this job"))
    assert there["format"] == 5
    assert there["jobs"] == read_jobs(file)


def test_a_file_of_a_newer_edition_is_refused_as_such(same_page):
    page = same_page(JOB)
    up(page)
    choose_file(page, "new.json", json.dumps(json.loads(NEWEST.read_bytes()) | {"format": 6}).encode())
    expect(incoming(page)).to_contain_text("a newer edition of this book wrote it")


def unfold(page: Page, *ids: str) -> None:
    for one in ids:
        page.locator(f"details[id='{one}'] > summary").click()


def test_who_and_instrument_are_named_once_and_go_with_each_reading(same_page):
    page = same_page(JOB, PHONE)
    up(page)
    write(page, "about.fitter", "A. Holm")
    unfold(page, "job-bench")
    page.locator('[data-reading="instrument.burette"]').fill("burette 0.1 cm³ no. 2")
    went(page, "/work-it-out/measuring/")
    fill(page, "measuring.chambers", fill__1="49.2 49.1 49.0", plate="6")
    went(page, JOB)
    up(page)
    expect(sheet(page).locator("#job-bench > summary")).to_contain_text("1 named")
    write(page, "about.fitter", "B. Reed")
    went(page, "/work-it-out/measuring/")
    fill(page, "measuring.chambers", fill__2="49.5 49.5 49.6")
    readings = kept_job(page)["readings"]
    own = "measuring.chambers"
    first, second, plate = readings[f"{own}.fill.1"], readings[f"{own}.fill.2"], readings["plate_thickness"]
    assert (first["who"], first["instrument"]) == ("A. Holm", "burette 0.1 cm³ no. 2")
    assert (second["who"], second["instrument"]) == ("B. Reed", "burette 0.1 cm³ no. 2")
    assert plate["who"] == "A. Holm"
    assert "instrument" not in plate
    went(page, JOB)
    up(page)
    row = "job-readings-measuring-chambers-fill-2"
    unfold(page, "job-group-chambers,-crowns-and-decks", row)
    page.locator(f"[data-at='readings {own}.fill.2 who']").fill("C. Wade")
    unfold(page, row)
    expect(page.locator(f"[id='{row}'] > summary")).to_contain_text("C. Wade, burette 0.1 cm³ no. 2")
    put_right = kept_job(page)["readings"][f"{own}.fill.2"]
    assert (put_right["who"], put_right["when"]) == ("C. Wade", second["when"])
    assert put_right["corrected"] > second["when"]
    assert "49.5 49.5 49.6 cm³" in exported(page, "Readings as CSV").decode().split("C. Wade")[0]
    handover = exported(page, "Handover as a file").decode()
    for name in ("A. Holm", "C. Wade", "burette 0.1 cm³ no. 2"):
        assert name in handover


def test_the_odometer_is_typed_once_and_the_run_in_plan_fills_the_next_checks(same_page):
    page = same_page(JOB)
    up(page)
    page.locator('[data-reading="odometer"]').fill("48250")
    page.locator('[data-reading="odometer_unit"]').select_option("miles")
    page.locator("#tags ~ bench-tags").first.get_by_role("button", name="Tag a part").click()
    form = page.get_by_role("dialog", name="Tag a part")
    form.get_by_role("radio", name="Tappet").check()
    form.get_by_label("Where it came from").fill("Tappet bore 1")
    form.get_by_role("button", name="Keep the tag", exact=True).click()
    expect(form).to_have_count(0)
    page.locator("#job-card").select_option("layout-single")
    went(page, "/work-it-out/running-in/")
    due_at = "running_in.rechecks"
    expect(form_of(page, due_at).locator('[name="odometer"]')).to_have_value("48250")
    expect(question(page, due_at).locator('[name="odometer_unit"]')).to_have_value("miles")
    fill(page, due_at, start="2026-11-25", inlet_clearance="0.15", exhaust_clearance="0.2")
    for odometer, due in (("48250", "48550 miles"), ("50000", "50300 miles")):
        fill(page, due_at, odometer=odometer)
        expect(question(page, due_at).locator(".q-done")).to_have_text("Done with it: onto the job sheet")
        question(page, due_at).locator(".q-done").click()
        expect(question(page, due_at).locator(".q-done")).to_contain_text("On the job sheet")
        checks = kept_job(page)["checks"]
        (oil,) = [check for check in checks if check["what"].startswith("First oil change")]
        assert oil["distance"] == due  # 300 miles, common practice, no source
    went(page, JOB)
    up(page)
    expect(page.locator('[data-reading="odometer"]')).to_have_value("50000")
    write(page, f"checks.{oil['id']}.distance", "50 500 miles")
    handover = exported(page, "Handover as a file").decode()
    assert "<dd>50000 miles</dd>" in handover
    assert "50 500 miles" in handover


def test_the_sheets_for_the_bench_are_printed_on_either_paper(same_page):
    page = same_page(JOB, PHONE)
    up(page)
    page.evaluate("() => { window.print = () => {}; }")
    files_and_printing(page).get_by_role("button", name="Print the bench strip").click()
    expect(page.locator(".bench-status")).to_contain_text("No settings and no stops on the job sheet.")
    take_in(page, NEWEST)
    for button, most, wanted, unwanted in (
        ("Print an empty measuring sheet", 2, ("Measuring sheet", "Barrels and pistons", "Cylinder 4"), "80.11"),
        ("Print the measuring sheet", 2, ("80.11", "80.07", "49.1", "burette 0.1 cm³ no. 2"), "Cylinder 5"),
        ("Print the bench strip", 2, ("Pass 1 of 3: set 11 N·m", "Stop 4", "4 EX 0.20"), "Measuring sheet"),
        ("Print the run-in card", 1, ("Card for the dash", "61704", "Oil lamp on"), "Measured by"),
    ):
        for paper, size in (("A4", PHONE), ("Letter", DESK)):
            resized(page, size)
            page.get_by_role("button", name=button).click()
            expect(page.locator("body > .bench-paper")).to_be_attached()
            pdf = pypdf.PdfReader(io.BytesIO(page.pdf(format=paper, prefer_css_page_size=True)))
            text = " ".join(" ".join(one.extract_text() for one in pdf.pages).split())
            assert len(pdf.pages) <= most, (button, paper)
            assert abs(float(pdf.pages[0].mediabox.width) - WIDTHS[paper]) < 1, (button, paper)
            for words in wanted:
                assert words in text, (button, words)
            assert unwanted not in text
            assert "Begin another job" not in text
            expect(page.locator("body > .bench-paper")).to_have_count(0)


def job_of_everything() -> dict:
    """A job in which every question's example was measured, with the decisions of the kept one."""
    card = read_card(CARD)
    when, who = "2026-11-25T09:00:00.000Z", "A. Holm"
    readings: dict[str, dict] = {}
    for name, of in questions().items():
        known = Desk({}, card, example=True).ask(name).known
        for entry, table in entries_and_columns(of):
            for row in range(1, 5) if table else (0,):
                held = known.get(f"{entry.key}.{row}" if row else entry.key)
                if held and held.text and entry.facts.read_by:
                    instrument = {"instrument": f"{entry.facts.read_by} no. 7"}
                    readings.setdefault(
                        path_of(of, entry, row), {"text": held.text, "when": when, "who": who, **instrument}
                    )
    job = {"id": "0123456789abcdef", "made": when, "changed": when, "about": {"fitter": who, "vehicle": "Van"}}
    job["readings"] = readings
    (settled,) = json.loads(NEWEST.read_bytes())["jobs"]
    job |= {"decisions": settled["decisions"], "checks": settled["checks"]}
    assert not list(job_faults({"format": 5, "jobs": [job]}))
    return job


WHOLE_JOBS = {"all that can be measured": (job_of_everything, lambda: read_card(CARD)), "a six": (rich_job, rich_card)}


@pytest.mark.parametrize("which", WHOLE_JOBS)
def test_the_handover_of_a_whole_job_is_a_page_for_each_reader_and_every_number_on_it_was_read(browser, which):
    job, card = (made() for made in WHOLE_JOBS[which])
    page = fresh(browser).new_page()
    page.set_content(paper_html("handover", job, card))
    for paper in ("A4", "Letter"):
        sheets = [one.extract_text() for one in pypdf.PdfReader(io.BytesIO(page.pdf(format=paper))).pages]
        heads = [sheet.partition("\n")[0] for sheet in sheets]
        assert heads[:4] == [
            f"{whose} page {number} of 2" for whose in ("Handover", "For the next mechanic") for number in (1, 2)
        ], paper
        assert "Received by" in sheets[1], paper
        assert all(job["about"]["vehicle"] in " ".join(sheet[:200].split()) for sheet in sheets[:4]), paper
        assert heads[4].startswith("Annex"), paper
    printed = page.locator(".readings b").all_text_contents()
    units = set(page.locator(".readings p > b:last-of-type").all_text_contents())
    read = {text for one in as_read(job["readings"]) for text in (one.text, one.text.rpartition(" ")[0])}
    assert len(printed) > 20
    assert [text for text in printed if text not in read and text not in units] == []
    page.close()


LEAST = 8.5
"""Points; what an owner reads at arm's length. Common practice, no source."""
SMALL = """
least => [...document.querySelectorAll("section:not(.annex) *")]
  .filter((one) => !one.closest("svg") && [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim()))
  .filter((one) => parseFloat(getComputedStyle(one).fontSize) * 0.75 < least - 0.01)
  .map((one) => one.textContent.slice(0, 40))
"""
LETTERS = """
() => [...document.querySelectorAll("section:not(.annex) svg text")].map((one) => one.getBoundingClientRect().height)
"""


def checked_often(job, times):
    more = [
        {"id": f"{at:016x}", "when": job["changed"], "what": f"Look at it, number {at}", "distance": str(50_000 + at)}
        for at in range(times)
    ]
    return job | {"checks": [*job["checks"], *more]}


@pytest.mark.parametrize(("checks", "owner"), [(0, 2), (9, 3), (40, 4)])
def test_nothing_on_the_pages_for_owner_and_mechanic_is_small_however_much_stands_there(browser, checks, owner):
    page = fresh(browser, viewport={"width": 718, "height": 1047}).new_page()
    job = checked_often(rich_job(), checks)
    page.set_content(paper_html("handover", job, rich_card()))
    page.emulate_media(media="print")
    assert page.evaluate(SMALL, LEAST) == []
    assert min(page.evaluate(LETTERS)) > 11  # CSS pixels: 8.3 points with the room round a letter
    for paper in ("A4", "Letter"):
        sheets = [one.extract_text() for one in pypdf.PdfReader(io.BytesIO(page.pdf(format=paper))).pages]
        heads = [sheet.partition("\n")[0] for sheet in sheets]
        assert heads[:owner] == [f"Handover page {number} of {owner}" for number in range(1, owner + 1)], paper
        assert heads[owner] == "For the next mechanic page 1 of 2", paper
        assert "Received by" in sheets[owner - 1], paper
    page.close()


def test_what_goes_onto_one_sheet_is_not_numbered(browser):
    page = fresh(browser).new_page()
    (job,) = json.loads(NEWEST.read_bytes())["jobs"]
    page.set_content(paper_html("handover", job | {"decisions": job["decisions"][:2]}, read_card(CARD)))
    assert min(page.evaluate(LETTERS)) > 11  # of a pattern that is taller than wide
    for paper in ("A4", "Letter"):
        sheets = [one.extract_text() for one in pypdf.PdfReader(io.BytesIO(page.pdf(format=paper))).pages]
        assert [sheet.partition("\n")[0] for sheet in sheets][:2] == ["Handover", "For the next mechanic"], paper
        assert "Received by" in sheets[0], paper
    page.close()


def test_a_handover_sent_as_a_file_is_no_wider_than_a_phone(browser):
    page = fresh(browser, viewport={"width": 360, "height": 740}).new_page()
    page.set_content(paper_html("handover", rich_job(), rich_card()))
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    page.close()
