"""Readings taken one by one, full-screen, beside the engine: by touch, by keys, and by a gauge that types."""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

from tests.examples import IS_WIDE
from tests.site.conftest import PHONE, form_of, fresh, kept_job, question, resized

ROOT = Path(__file__).resolve().parents[2]
FOUND, DECKS, LEVEL = "lash.found", "measuring.decks", "measuring.level"
LASH, MEASURING = "/work-it-out/lash/", "/work-it-out/measuring/"
OUTERMOST = [(320, 568), (740, 360)]
SCREENS = [(320, 568), (360, 740), (390, 844), (430, 932), (740, 360)]


def with_a_card(page: Page, address: str, path: str, layout: str = "layout-flat-four-1432") -> Page:
    """Open a page with an engine of one's own in hand, of which the card knows only the layout."""
    page.goto(f"{address}/job/")
    page.locator("#job-card").select_option(layout)
    expect(page.locator(".bench-status").first).to_contain_text("takes its numbers")
    page.goto(address + path)
    return page


def start(page: Page, name: str) -> Locator:
    form_of(page, name).locator(".q-one-by-one").click()
    pad = page.locator("dialog.bench-pad")
    expect(pad.locator("#pad-entry")).to_be_visible()
    return pad


def press(pad: Locator, keys: str) -> None:
    for key in keys:
        pad.locator(f'[data-key="{key}"]').click()


def asks(pad: Locator, thing: str, what: str = "") -> None:
    expect(pad.locator(".pad-thing")).to_have_text(thing)
    expect(pad.locator(".pad-what")).to_have_text(what)


def pass_over(pad: Locator, up_to: str = "") -> None:
    """Skip until something is asked for, or until all is: an answer may end the asking at any moment."""
    ended = "([pad, what]) => pad.matches('.pad-done') || (what && pad.querySelector('.pad-what').textContent === what)"
    skip = "pad => [...pad.querySelectorAll('button')].find((one) => one.textContent === 'Skip').click()"
    for _ in range(100):
        if pad.evaluate(f"(pad, what) => ({ended})([pad, what])", up_to):
            return
        pad.evaluate(skip)
    raise AssertionError(f"never asked for {up_to or 'nothing'}")


def read(pad: Locator, *texts: str) -> None:
    """Type as a gauge does, and wait each time for the next thing to be asked for."""
    for text in texts:
        before = pad.locator(".pad-top span").text_content() or ""
        pad.page.keyboard.type(text)
        pad.page.keyboard.press("Enter")
        expect(pad.locator(".pad-top span")).not_to_have_text(before)


def kept(page: Page) -> dict[str, str]:
    readings = kept_job(page)["readings"].items()
    return {path: f"{one['text']} {one.get('unit')}" for path, one in readings}


def test_it_goes_on_by_itself_and_what_is_refused_stays(open_page, address):
    page = with_a_card(open_page(None, PHONE), address, LASH)
    pad = start(page, FOUND)
    asks(pad, "Inlet clearance")  # the card knows the cylinders, and nothing of the lash
    expect(pad.locator("[data-key='−']")).to_be_disabled()
    press(pad, "0.15")
    pad.get_by_role("button", name="Next").click()
    asks(pad, "Exhaust clearance")
    press(pad, "0.2")
    pad.get_by_role("button", name="Next").click()
    asks(pad, "Cylinder 1", "Inlet gap found")
    expect(pad.locator(".pad-here")).to_have_text("1")
    expect(pad.locator(".pad-banks span").first).to_have_text(re.compile(r"2\s*1"))  # the pulley end towards you
    press(pad, "99")
    pad.get_by_role("button", name="Next").click()
    wrong = pad.locator("#pad-error")
    expect(wrong).to_have_text("Inlet gap found of cylinder 1 must each be between 0 mm and 5 mm")
    asks(pad, "Cylinder 1", "Inlet gap found")
    press(pad, "0.13")  # what was refused is selected: the first key replaces it
    expect(wrong).to_be_empty()
    pad.get_by_role("button", name="Next").click()
    asks(pad, "Cylinder 1", "Exhaust gap found")
    pad.get_by_role("button", name="Skip").click()
    asks(pad, "Cylinder 2", "Inlet gap found")
    expect(pad.locator(".pad-here")).to_have_text("2")
    pad.get_by_role("button", name="Back", exact=True).click()
    asks(pad, "Cylinder 1", "Exhaust gap found")
    press(pad, "0.3⌫1")
    pad.get_by_role("button", name="Stop here").click()
    expect(pad).to_have_count(0)
    expect(question(page, FOUND).locator(".q-one-by-one")).to_be_focused()
    assert kept(page) == {
        "inlet_clearance": "0.15 mm",
        "exhaust_clearance": "0.2 mm",
        "inlet_gap_found.1": "0.13 mm",
        "exhaust_gap_found.1": "0.1 mm",
    }
    pad = start(page, FOUND)
    asks(pad, "Cylinder 2", "Inlet gap found")  # the next empty one


def test_a_gauge_types_ends_with_enter_and_sees_the_answer_at_the_end(open_page, address):
    page = with_a_card(open_page(None, PHONE), address, LASH, "layout-flat-twin")
    pad = start(page, FOUND)
    read(pad, "0.15", "0.2", "0.14")
    pad.get_by_role("button", name="Stop here").focus()  # whatever was pressed last, a gauge goes to the number
    read(pad, "0.20", "0.15", "0.26")
    pass_over(pad)
    expect(pad.locator(".pad-end")).to_contain_text("left out")
    pad.get_by_role("button", name="To the answer").click()
    expect(pad).to_have_count(0)
    expect(question(page, FOUND).locator(".q-headline")).to_be_focused()
    assert kept(page) == {
        "inlet_clearance": "0.15 mm",
        "exhaust_clearance": "0.2 mm",
        "inlet_gap_found.1": "0.14 mm",
        "exhaust_gap_found.1": "0.20 mm",
        "inlet_gap_found.2": "0.15 mm",
        "exhaust_gap_found.2": "0.26 mm",
    }


def test_of_several_readings_as_many_are_asked_for_as_are_needed_and_as_the_row_before_had(open_page, address):
    page = with_a_card(open_page(None, PHONE), address, MEASURING, "layout-flat-twin")
    pad = start(page, DECKS)
    asks(pad, "Cylinder 1", "Depth readings")
    read(pad, "0.40", "0.41")  # fewer than three are no answer, and no error yet
    asks(pad, "Cylinder 1", "Depth readings, reading 3")
    page.keyboard.type("0.42")
    pad.get_by_role("button", name="Another").click()
    asks(pad, "Cylinder 1", "Depth readings, reading 4")
    read(pad, "0.43")
    asks(pad, "Cylinder 2", "Depth readings")
    read(pad, "0.40", "0.41", "0.42")
    asks(pad, "Cylinder 2", "Depth readings, reading 4")
    read(pad, "0.44")
    assert [kept_job(page)["readings"][f"depths.{row}"]["text"] for row in (1, 2)] == [
        "0.40; 0.41; 0.42; 0.43",
        "0.40; 0.41; 0.42; 0.44",
    ]


def test_the_unit_the_mark_and_the_minus_are_the_entry_s_and_the_reader_s(open_page, address):
    page = with_a_card(open_page(None, PHONE, locale="de-DE"), address, MEASURING, "layout-flat-twin")
    pad = start(page, LEVEL)
    expect(pad.locator("[data-key='.']")).to_have_text(",")
    pass_over(pad, "Deck height")
    pad.locator(".pad-unit select").select_option("in")
    press(pad, "0.016−")
    expect(pad.locator("#pad-entry")).to_have_value("-0,016")
    pad.get_by_role("button", name="Next").click()
    asks(pad, "Cylinder 2", "Deck height")
    assert [kept_job(page)["readings"]["deck.1"][of] for of in ("text", "unit")] == ["-0,016", "in"]


_VOICE = """
window.spoken = [];
const voice = { speak: ({ text }) => spoken.push(text), cancel: () => {} };
Object.defineProperty(window, "speechSynthesis", { value: voice });
window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
"""


def test_it_reads_back_on_request_and_keeps_whose_keys_are_wanted(open_page, address):
    page = open_page(None, PHONE)
    page.add_init_script(_VOICE)
    pad = start(with_a_card(page, address, LASH), FOUND)
    read(pad, "0.15")
    assert page.evaluate("[...spoken]") == []
    pad.get_by_role("button", name="Read back").click()
    read(pad, "0.2")
    assert page.evaluate("spoken.at(-1)") == "0.2 mm. Cylinder 1 Inlet gap found"
    assert pad.locator("#pad-entry").get_attribute("inputmode") == "none"
    pad.get_by_role("button", name="Phone’s keys").click()
    expect(pad.locator(".pad-key:visible")).to_have_count(0)
    expect(pad.locator("#pad-entry")).to_be_focused()
    page.reload()
    pad = start(page, FOUND)
    expect(pad.locator("#pad-entry")).to_have_attribute("inputmode", "decimal")
    expect(pad.locator(".pad-key:visible")).to_have_count(0)


def test_it_stands_above_the_sheet_of_a_step_and_stays_there_when_the_form_is_written_anew(open_page, address):
    page = with_a_card(open_page(None, PHONE), address, "/measure/deck-height/", "layout-flat-twin")
    pad = start(page, DECKS)
    asks(pad, "Cylinder 1", "Depth readings")
    other = page.context.new_page()
    other.goto(f"{address}/job/")
    other.locator("#job-card").select_option("layout-flat-four-1432")  # all boxes are other ones now
    expect(page.locator(f'bench-question[name="{DECKS}"] .q-form tbody tr')).to_have_count(4)
    expect(pad.locator("#pad-entry")).to_be_focused()
    read(pad, "0.4")
    pad.locator("#pad-entry").press("Escape")
    expect(pad).to_have_count(0)
    expect(page.locator(f'bench-question[name="{DECKS}"] .q-sheet')).to_be_visible()


def test_who_needs_no_row_of_readings_has_no_such_button(open_page):
    page = open_page("/work-it-out/torque/")
    expect(question(page).locator(".q-form")).to_have_count(1)
    expect(question(page).locator(".q-one-by-one")).to_have_count(0)


PLACED = """
(pad) => {
  const told = [];
  if (pad.scrollWidth > pad.clientWidth || pad.scrollHeight > pad.clientHeight) told.push("it runs out");
  const parts = [...pad.querySelectorAll("button, input, select, .pad-names, .pad-place, #pad-error")];
  const seen = parts.filter((one) => one.checkVisibility({ visibilityProperty: true }));
  const boxes = seen.map((one) => [one, one.getBoundingClientRect()]).filter(([, { height }]) => height);
  const name = (one) => one.innerText || one.id || one.className;
  const controls = boxes.filter(([one]) => one.matches("button, input, select"));
  for (const [one, box] of boxes) {
    const isOut = box.left < 0 || box.right > innerWidth || box.top < 0 || box.bottom > innerHeight;
    if (isOut) told.push(`${name(one)} is off the screen`);
    for (const [other, that] of boxes) {
      const beside = box.right <= that.left + 0.5 || that.right <= box.left + 0.5;
      const above = box.bottom <= that.top + 0.5 || that.bottom <= box.top + 0.5;
      if (one !== other && !beside && !above) told.push(`${name(one)} lies over ${name(other)}`);
    }
  }
  for (const [one, { height }] of controls) if (height < 48) told.push(`${name(one)} is ${height} px high`);
  return [controls.length, told];
}
"""
GUIDELINES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
COLOURS = {"type": "rule", "values": ["color-contrast"]}
FAULTS = "of => readers.faults('dialog.bench-pad', of)"


def wear(page: Page, theme: str) -> None:
    page.evaluate("theme => document.body.setAttribute('data-md-color-scheme', theme)", theme)


def test_everything_has_its_place_on_the_screen(browser, address):
    context = fresh(browser, bypass_csp=True, reduced_motion="reduce")
    page = context.new_page()
    page.add_init_script(path=ROOT / "build/audits/node_modules/axe-core/axe.min.js")
    page.add_init_script(path=ROOT / "tests/site/readers.js")
    pad = start(with_a_card(page, address, LASH, "layout-flat-six-145236"), FOUND)
    read(pad, "0.15", "0.2")
    page.keyboard.type("99")
    page.keyboard.press("Enter")
    expect(pad.locator("#pad-error")).not_to_be_empty()
    for state in ("asks", "phone", "done"):
        if state == "phone":
            pad.get_by_role("button", name="Phone’s keys").click()
        if state == "done":
            pass_over(pad)
        for size in SCREENS:
            resized(page, size)
            controls, told = pad.evaluate(PLACED)
            assert controls >= (2 if state == "done" else 5), (state, size)
            assert told == [], (state, size)
            if IS_WIDE or size in OUTERMOST:
                assert page.evaluate(FAULTS, GUIDELINES) == [], (state, size)
        wear(page, "slate")  # in which only colours can differ
        assert page.evaluate(FAULTS, COLOURS) == [], state
        wear(page, "default")
    context.close()
