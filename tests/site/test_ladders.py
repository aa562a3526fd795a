"""Ladders of questions: each a tree with a finding at every end, its cautions in time, walked, noted and printed."""

from __future__ import annotations

import io
import posixpath
import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Locator, Page, expect
from pypdf import PdfReader

from calculators.drawings.kit.plate import LETTERS, WIDTH
from scripts.ladder_map import TALLEST, ladder_maps
from scripts.ladders import HEADING, LONGEST, LadderError, has_ladder, listed, prepared, read
from tests.drawings import test_plates
from tests.examples import wide
from tests.site.conftest import DESK, PHONE, files_and_printing, fresh, kept_job, resized, sizes
from tests.site.test_book import PAGES
from tests.site.test_drawings import LETTERS_OF_PLATES
from tests.site.test_hazards import _RUNS, _SPUN, HAZARDS, stands_still, told, unwarned
from tests.site.test_readers import COLOURS, GUIDELINES, THEMES, audits, watch, wear  # noqa: F401

LADDERS = {page: read(text) for page, text in PAGES.items() if has_ladder(text)}
every_ladder = pytest.mark.parametrize("page", LADDERS)
START, LEAKS = "/faults/will-not-start/", "/faults/leaks-oil/"

# ---------------------------------------------------------------------------- each is a tree


def test_the_faults_that_bring_a_reader_here_each_have_a_ladder():
    wanted = (
        "Will not start|No oil pressure|Low compression on one cylinder|Runs hot|Will not idle|Misses under load|"
        "Noise from the top end|Leaks oil|Smokes|Pings or knocks|Uses oil"
    )
    assert {ladder.title for ladder in LADDERS.values()} == set(wanted.split("|"))
    assert {page for page in PAGES if page.startswith("faults/")} == {*LADDERS, "faults/index.md"}


@every_ladder
def test_every_question_is_reached_and_no_finding_is_further_than_eight_questions(page):
    ways = list(LADDERS[page].ways())
    assert {question.number for way in ways for question, _ in way} == set(range(1, len(LADDERS[page].questions) + 1))
    assert max(len(way) for way in ways) <= LONGEST
    assert len(ways) == len(LADDERS[page].questions) + 1  # two branches at each fork


@every_ladder
def test_each_finding_leads_to_a_page_and_is_found_once(page):
    ends = [way[-1][0].answers[way[-1][1]] for way in LADDERS[page].ways()]
    for end in ends:
        for link in end.links:
            assert posixpath.normpath(posixpath.join("faults", link.partition("#")[0])) in PAGES, link
            assert not link.startswith("#")
    assert len({end.finding for end in ends}) == len(ends)


LIT = """# Dark

It is dark.

## Questions

1. **Is the lamp lit?**

    - Yes: **It works.** [Go on](on.md).
    - No: go to 2.

2. **Is it plugged in?**

    - Yes: **The lamp.** A [new one](on.md).
    - No: **The plug.** [Plug it in](on.md).

## Sources
"""


@pytest.mark.parametrize(
    ("was", "becomes", "reason"),
    [
        ("go to 2.", "go to 3.", "go to 3 leads to no later question"),
        ("**The plug.** [Plug it in](on.md).", "go to 1.", "go to 1 leads to no later question"),
        ("**It works.** [Go on](on.md).", "go to 2.", "question 2 is reached 2 times"),
        ("go to 2.", "**Dark.** [Out](on.md).", "question 2 is reached 0 times"),
        ("[Plug it in](on.md).", "Plug it in.", "the finding leads to no page"),
        ("**The plug.** ", "", "neither a question nor a finding"),
        ("    - No: go to 2.\n", "", "not answered by Yes, then No"),
        ("- Yes: **It", "- Maybe: **It", "not answered by Yes, then No"),
        ("plugged in?", "plugged in.", "does not end in a question mark"),
        ("2. **Is it", "3. **Is it", "not numbered 1, 2, 3"),
    ],
)
def test_what_nobody_could_walk_stops_the_build(was, becomes, reason):
    assert [question.number for question in read(LIT).questions] == [1, 2]
    assert was in LIT
    with pytest.raises(LadderError, match=re.escape(reason)):
        read(LIT.replace(was, becomes, 1))


def test_a_page_gets_places_to_go_to_and_the_list_of_all_leads_to_the_first():
    made = prepared(LIT, "<figure></figure>")
    for place in ("**Is the lamp lit?**{ #ask-1 }", "[go to 2](#ask-2){ data-to=2 }", "#end-2-no .bench-finding"):
        assert place in made
    assert made.index('id="walk-1"') < made.index(HEADING)
    doors = listed("<!-- all ladders -->", "faults/index.md", {"faults/dark.md": LIT}, ["faults/dark.md"])
    assert '<a class="bench-way" href="dark/#walk-1">Dark</a>' in doors


# ---------------------------------------------------------------------------- cautions


def way_as_page(way) -> str:
    return "\n\n".join(f"{question.number}. **{question.asks}**{question.text}" for question, _ in way)


@every_ladder
def test_on_every_way_a_caution_stands_before_the_question_that_needs_it(page):
    """A ladder is not read from top to bottom: what a caution in another branch says, the reader never saw."""
    for way in LADDERS[page].ways():
        assert list(unwarned(page, way_as_page(way))) == [], [question.number for question, _ in way]


@every_ladder
def test_on_every_way_an_engine_runs_or_is_spun_out_of_gear_and_braked(page):
    for way in LADDERS[page].ways():
        said = ""
        for piece in told(way_as_page(way)):
            said += f" {piece.words}"
            if not piece.caution and re.search(f"{_SPUN}|{_RUNS}", piece.words, re.IGNORECASE):
                assert stands_still(said), piece.step


@every_ladder
def test_where_gas_or_spark_is_named_as_a_danger_it_is_read_before_the_questions_that_follow(page):
    """An engine is heard, timed or shorted only behind the cautions of a running engine."""
    runs = re.compile(
        r"\bby light\b|\bhose at your ear\b|\bfast idle\b|\bwhen it is shorted\b|\bis shorted\b|\bsmoke", re.I
    )
    for way in LADDERS[page].ways():
        read_so_far = ""
        for question, _ in way:
            read_so_far += " ".join(piece.words for piece in told(f"1. **x**{question.text}") if piece.caution)
            asked = f"{question.asks} {question.text.split('    - Yes')[0]}"
            if page != "faults/smokes.md" and runs.search(asked):
                assert re.search(r"carbon monoxide", read_so_far, re.I), (question.number, asked[:80])
                assert re.search(HAZARDS["fan and belt of a running engine"].caution, read_so_far), question.number


def test_without_oil_pressure_the_first_word_is_stop():
    text = PAGES["faults/no-oil-pressure.md"]
    assert text.index("Stop the engine at once") < text.index(HEADING)
    assert "It stays off" in LADDERS["faults/no-oil-pressure.md"].questions[0].text


# ---------------------------------------------------------------------------- the map


@every_ladder
def test_the_map_holds_every_question_and_finding_and_nothing_touches(page):
    ladder = LADDERS[page]
    plates = ladder_maps(ladder)
    for plate in plates:
        assert test_plates.faults(plate) == []
        assert plate.height <= TALLEST
    drawn = [name for plate in plates for name, piece in plate.painted if piece.look == "outline"]
    asked = [f"question {question.number}" for question in ladder.questions]
    found = [way[-1][0].answers[way[-1][1]].finding for way in ladder.ways()]
    assert sorted(drawn) == sorted(asked + found)
    words = " ".join(label.words for plate in plates for label in plate.labels)
    assert [question.asks for question in ladder.questions if question.asks not in words] == []
    assert [finding for finding in found if finding not in words] == []
    assert LETTERS * 320 / WIDTH >= 13  # 20 rem on a wide screen


# ---------------------------------------------------------------------------- the walk


def walk_of(page: Page) -> Locator:
    walk = page.locator("dialog.bench-walk")
    expect(walk.locator(".bench-led-words")).to_be_attached()
    return walk


def begin(page: Page) -> Locator:
    page.locator("button.bench-go").click()
    return walk_of(page)


def read_all(walk: Locator) -> None:
    while walk.locator(".bench-led-read").count():
        walk.locator(".bench-led-read").click()


def said(walk: Locator, *answers: str) -> None:
    for answer in answers:
        read_all(walk)
        walk.get_by_role("button", name=answer, exact=True).click()


DEED = ".bench-led-deed"


@sizes
def test_from_home_two_taps_lead_to_the_first_question(open_page, size):
    page = open_page("/", size)
    page.locator(".bench-ways").get_by_role("link", name="Find a fault").click()
    page.locator(".bench-ladders").get_by_role("link", name="Will not start").click()
    walk = walk_of(page)
    expect(walk.locator(".bench-follow-stage")).to_have_text("Will not start · question 1")
    walk.get_by_role("button", name="Stop here").click()
    expect(walk).to_have_count(0)
    expect(page.locator("button.bench-go")).to_be_focused()
    assert page.url.endswith(START)


@sizes
def test_a_caution_is_read_before_an_answer_and_the_finding_reaches_job_sheet_and_paper(open_page, address, size):
    page = open_page(START, size)
    walk = begin(page)
    yes = walk.get_by_role("button", name="Yes", exact=True)
    expect(walk.locator(".admonition-title")).to_have_text("Warning: starter, fan and belt")
    expect(yes).to_be_disabled()
    page.keyboard.press("y")  # no way round it by key
    expect(walk.locator(".bench-follow-stage")).to_have_text("Will not start · question 1")
    walk.get_by_role("button", name="Read it").click()
    expect(yes).to_be_enabled()
    expect(walk.locator(DEED)).to_have_text("Does the starter turn it over briskly?")
    expect(walk.locator(".bench-led-minded")).to_have_text("Warning: starter, fan and belt")
    yes.click()
    expect(walk.locator(DEED)).to_have_text("Does it start cold, and refuse only when hot?")
    said(walk, "No", "No")
    expect(walk.locator(DEED)).to_have_text("No fuel.")
    expect(walk.locator(".bench-led-now")).to_have_text("Fuel and oil pipes")
    walk.get_by_role("button", name="Onto the job sheet").click()
    expect(walk.locator(".bench-walk-note [role=status]")).to_have_text("✓ On the job sheet")
    walk.get_by_role("button", name="Take it off").click()
    expect(walk.get_by_role("button", name="Onto the job sheet")).to_be_focused()
    assert kept_job(page)["notes"] == []
    walk.get_by_role("button", name="Onto the job sheet").click()
    expect(walk.get_by_role("button", name="Take it off")).to_be_visible()
    [note] = kept_job(page)["notes"]
    assert note["text"].startswith("Will not start: No fuel. In this order: tank, tap, hose")
    assert (
        "Does the starter turn it over briskly? Yes. Does it start cold, and refuse only when hot? No." in note["text"]
    )
    page.goto(f"{address}/job/")
    expect(page.locator("textarea[data-at^='notes.']")).to_have_value(note["text"])
    page.evaluate("window.print = () => {}")
    files_and_printing(page).get_by_role("button", name="Print the handover").click()
    expect(page.locator("body > .bench-paper")).to_contain_text("Will not start: No fuel.")


def test_when_to_stop_and_ask_is_read_first(open_page):
    page = open_page("/faults/no-oil-pressure/#walk-1", PHONE)
    walk = walk_of(page)
    expect(walk.locator(".bench-led-before")).to_have_text("When to stop and ask")
    expect(walk.locator(".bench-led-words")).to_contain_text("Stop the engine at once")
    expect(walk.get_by_role("button", name="Yes", exact=True)).to_be_disabled()
    read_all(walk)
    expect(walk.get_by_role("button", name="Yes", exact=True)).to_be_enabled()


def test_back_goes_one_back_by_button_browser_and_key_and_a_page_read_on_comes_back_to_its_finding(open_page):
    page = open_page(LEAKS, PHONE)
    walk = begin(page)
    stage = walk.locator(".bench-follow-stage")
    expect(walk.get_by_role("button", name="Back")).to_be_enabled(enabled=False)
    said(walk, "Yes", "Yes")
    expect(stage).to_have_text("Leaks oil · question 3")
    page.go_back()
    expect(stage).to_have_text("Leaks oil · question 2")
    page.go_forward()
    expect(stage).to_have_text("Leaks oil · question 3")
    walk.get_by_role("button", name="Back").click()
    expect(stage).to_have_text("Leaks oil · question 2")
    page.keyboard.press("ArrowLeft")
    expect(stage).to_have_text("Leaks oil · question 1")
    said(walk, "Yes", "No")
    expect(walk.locator(DEED)).to_have_text("Breather or level.")
    page.evaluate("window.same = true")
    walk.locator(".bench-led-now").click()
    expect(page.locator("h1")).to_contain_text("Change the oil")
    expect(walk).to_have_count(0)
    page.go_back()
    expect(walk_of(page).locator(DEED)).to_have_text("Breather or level.")
    assert page.evaluate("window.same")  # no page was loaded anew
    page.go_back()
    expect(stage).to_have_text("Leaks oil · question 2")
    page.go_back()
    expect(stage).to_have_text("Leaks oil · question 1")
    page.go_back()
    expect(walk).to_have_count(0)
    expect(page.locator("h1")).to_contain_text("Leaks oil")


def test_where_one_stopped_is_known_as_long_as_the_tab_lives(open_page):
    page = open_page(LEAKS, PHONE)
    walk = begin(page)
    said(walk, "Yes", "Yes")
    walk.get_by_role("button", name="Stop here").click()
    expect(page.locator("button.bench-go")).to_be_focused()  # the walk's own entries of the history are left
    expect(page.locator("button.bench-go")).to_have_text("Go on with question 3")
    page.reload()
    expect(page.locator("button.bench-go")).to_have_text("Go on with question 3")
    walk = begin(page)
    expect(walk.locator(".bench-follow-stage")).to_have_text("Leaks oil · question 3")
    expect(walk.get_by_role("button", name="Yes", exact=True)).to_be_disabled()  # read again: a day may lie between
    walk.get_by_role("button", name="Back").click()
    expect(walk.locator(".bench-follow-stage")).to_have_text("Leaks oil · question 2")
    page.reload()
    expect(walk_of(page).locator(".bench-follow-stage")).to_have_text("Leaks oil · question 2")
    page.keyboard.press("Escape")
    expect(page.locator("dialog.bench-walk")).to_have_count(0)


def test_by_keys_alone(open_page):
    page = open_page(START, DESK)
    page.locator("button.bench-go").focus()
    page.keyboard.press("Enter")
    walk = walk_of(page)
    stage = walk.locator(".bench-follow-stage")
    page.keyboard.press("Space")  # reads the caution
    expect(walk.get_by_role("button", name="Yes", exact=True)).to_be_enabled()
    page.keyboard.press("ArrowRight")
    expect(walk.get_by_role("button", name="Yes", exact=True)).to_be_focused()
    page.keyboard.press("ArrowRight")
    expect(walk.get_by_role("button", name="No", exact=True)).to_be_focused()
    page.keyboard.press("Space")
    expect(stage).to_have_text("Will not start · question 2")
    page.keyboard.press("n")
    expect(stage).to_have_text("Will not start · question 3")
    page.keyboard.press("PageDown")
    page.keyboard.press("y")
    expect(walk.locator(DEED)).to_have_text("Starter, its cable or its switch.")
    page.keyboard.press("ArrowDown")
    expect(walk.locator(".bench-led-now")).to_be_focused()
    page.keyboard.press("PageDown")
    expect(walk.get_by_role("button", name="Onto the job sheet")).to_be_focused()
    page.keyboard.press("Enter")
    expect(walk.get_by_role("button", name="Take it off")).to_be_focused()
    page.keyboard.press("PageUp")
    expect(stage).to_have_text("Will not start · question 3")


FITS = """
  const dialog = document.querySelector("dialog.bench-walk");
  const body = dialog.querySelector(".bench-led-body");
  const [wide, high] = [innerWidth, innerHeight];
  const buttons = [...dialog.querySelectorAll("button, .bench-led-now")]
    .filter((one) => one.checkVisibility() && !body.contains(one));
  const bad = buttons.filter((one) => {
    const box = one.getBoundingClientRect();
    return box.height < 48 || box.width < 48 || box.left < 0 || box.right > wide || box.top < 0 || box.bottom > high;
  });
  const told = bad.map((one) => one.textContent);
  if (body.scrollWidth > body.clientWidth) told.push("the words run out");
  if (body.clientHeight < 0.25 * high) told.push(`${body.clientHeight} px are left for the words`);
  return told;
"""
THROUGH = f"""
async (places) => {{
  const fits = () => {{ {FITS} }};
  const found = [];
  let read = 0;
  const look = (place) => {{
    const told = fits();
    if (told.length) found.push([place, told]);
  }};
  for (const place of places) {{
    history.replaceState(null, "", `#walk-${{place}}`);
    dispatchEvent(new PopStateEvent("popstate"));
    look(place);
    for (let one; (one = document.querySelector(".bench-led-read")); look(place)) one.click(), read++;
    if (!place.includes("-")) continue;
    while (!document.querySelector(".bench-walk-note button")) await new Promise(requestAnimationFrame);
    look(place);
  }}
  history.replaceState(null, "", location.pathname);
  dispatchEvent(new PopStateEvent("popstate"));
  return [places.length + read, found];
}}
"""
"""Each place of a ladder in turn, and what does not fit there: its cautions, its question or its finding."""


SCREENS = [(320, 568), PHONE, (740, 360), DESK]


def test_every_screen_of_every_ladder_fits(open_page, address):
    page = open_page(None)
    found = {}
    for name, ladder in LADDERS.items():
        page.goto(f"{address}/{name.removesuffix('.md')}/")
        places = [f"{question.number}" for question in ladder.questions]
        places += [f"{way[-1][0].number}-{way[-1][1].lower()}" for way in ladder.ways()]
        for size in SCREENS:
            resized(page, size)
            begin(page)  # anew: its cautions are to be read again
            seen, faults = page.evaluate(THROUGH, places)
            assert seen > len(places), (name, size)  # before the first question there is something to be read
            found |= {f"{name} {place} {size}": told for place, told in faults}
            expect(page.locator("dialog.bench-walk")).to_have_count(0)
    assert found == {}


@sizes
def test_caution_question_and_finding_are_within_the_guidelines(watch, address, size):  # noqa: F811
    page = watch(size)
    page.goto(f"{address}{START}")
    walk = begin(page)
    for step in (lambda: None, lambda: read_all(walk), lambda: said(walk, "Yes", "No", "No")):
        step()
        for theme, of in zip(THEMES, (GUIDELINES, COLOURS), strict=True):  # in the second only colours can differ
            wear(page, theme)
            assert page.evaluate("of => readers.faults('dialog.bench-walk', of)", of) == []
    page.context.close()


# ---------------------------------------------------------------------------- read and printed


def test_without_scripts_it_is_a_numbered_list_that_leads_on(open_page):
    page = open_page(START, PHONE, java_script_enabled=False)
    expect(page.locator("#walk-1")).to_be_hidden()
    first = page.locator(".bench-ladder > ol > li").first
    expect(first).to_contain_text("Yes → go to 4")
    first.get_by_role("link", name="go to 4").click()
    expect(page.locator("#ask-4")).to_be_in_viewport()


def test_the_map_stands_beside_the_list_on_a_wide_screen_and_on_paper_alone(open_page):
    page = open_page(START, DESK)
    expect(page.locator(".bench-ladder-maps svg").first).to_be_in_viewport()
    small = page.evaluate(LETTERS_OF_PLATES)
    assert small == []
    page.set_viewport_size({"width": PHONE[0], "height": PHONE[1]})
    expect(page.locator(".bench-ladder-maps")).to_be_hidden()
    page.emulate_media(media="print")
    expect(page.locator(".bench-ladder-maps")).to_be_visible()
    margin = page.locator(".bench-ladder > ol").evaluate("one => parseFloat(getComputedStyle(one).marginLeft)")
    assert margin >= 5 / 25.4 * 96 - 1  # room for the numbers


@pytest.fixture(scope="module")
def sheet(browser) -> Iterator[Page]:
    context = fresh(browser)
    yield context.new_page()
    context.close()


HIGHEST = max(LADDERS, key=lambda page: max(plate.height for plate in ladder_maps(LADDERS[page])))
SHEETS = [
    pytest.param(page, paper, id=f"{page}-{paper}", marks=() if paper == "Letter" or page == HIGHEST else wide)
    for page in LADDERS
    for paper in ("Letter", "A4")  # Letter is the lower one
]


@pytest.mark.parametrize(("page", "paper"), SHEETS)
def test_on_paper_each_map_stands_whole_on_one_sheet(sheet, address, page, paper):
    sheet.goto(f"{address}/{page.removesuffix('.md')}/")
    sheet.wait_for_selector("button.bench-go", state="attached")
    pdf = PdfReader(io.BytesIO(sheet.pdf(format=paper, prefer_css_page_size=False)))
    sheets = ["".join(one.extract_text().split()) for one in pdf.pages]
    assert len(sheets) <= 4
    for plate in ladder_maps(LADDERS[page]):
        words = [label.words.replace(" ", "") for label in plate.labels]
        assert any(all(one in text for one in words) for text in sheets), plate.title
    whole = "".join(sheets)
    for question in LADDERS[page].questions:
        assert whole.count(question.asks.replace(" ", "")) >= 1
    assert "Onequestionatatime" not in whole
