"""What a hand that holds a torque wrench must not scroll for, measured on the built pages."""

import re
from collections import defaultdict
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import quote

import pytest
from playwright.sync_api import Browser, Page, expect

from calculators.bench.question import rooms
from calculators.drawings import names
from scripts.at_hand import SIZES, Seen, look
from tests.examples import wide
from tests.site.conftest import DESK, FRAMES, HELD_BACK, PHONE, SETTLED, fresh, kept_job, resized, until, way_back
from tests.site.test_book import PAGES, PROCEDURES
from tests.site.test_drawings import LETTERS_OF_PLATES, NAMED

LARGE_PHONE = (390, 844)
PHONES = ("phone", "large phone")
LARGER = pytest.param(LARGE_PHONE, id="large-phone", marks=wide)
each_size = pytest.mark.parametrize("size", [pytest.param(PHONE, id="phone"), LARGER, pytest.param(DESK, id="desk")])
phones = pytest.mark.parametrize("size", [pytest.param(PHONE, id="phone"), LARGER])

TORQUE, CHAMBERS = "/build/tighten-a-head-down/", "/measure/chamber-volume/"
WRENCH, FILLS = "#q-torque-wrench", "#q-measuring-chambers"
IN_STEPS = [page for page in PROCEDURES if re.search(r"^ +```question$", PAGES[page], re.MULTILINE)]
IN_ITS_LINE = """
links => links.filter(link => {
  const cell = link.closest("td");
  const begins = cell.getBoundingClientRect().left + parseFloat(getComputedStyle(cell).paddingLeft);
  return getComputedStyle(cell).display !== "block" || [...link.getClientRects()].some(line => line.left < begins - 1);
}).map(link => link.textContent)
"""
DRAWN = [page for page, text in PAGES.items() if re.search(r"^ *```(drawing|question)$", text, re.MULTILINE)]
DRAWN_LETTERS = "article figure svg[viewBox] text"
NARROW = 320
LEAST = {NARROW: 12, PHONE[0]: 13, LARGE_PHONE[0]: 13}  # CSS px, by the width of the screen
WITH_PLATES = [page for page, text in PAGES.items() if {*NAMED.findall(text)} & {*names()}]
WITH_QUESTIONS = [page for page, text in PAGES.items() if re.search(r"^[ \t]*```(question|room)$", text, re.MULTILINE)]
ROOMS = [page for page in WITH_QUESTIONS if page.startswith("work-it-out/")]
OUT_OF_ROOMS = [page for page in WITH_QUESTIONS if page not in ROOMS]
ROOMS_OF = {room: f"work-it-out/{room.replace('_', '-')}.md" for room in rooms()}
WITH_FIGURES = [*ROOMS, *OUT_OF_ROOMS[::5]]
SYMPTOMS = [page for page in PROCEDURES if "\n## What goes wrong\n" in PAGES[page]]


@pytest.fixture(scope="module")
def phone(browser: Browser):
    context = fresh(browser, viewport={"width": PHONE[0], "height": PHONE[1]}, java_script_enabled=False)
    yield context.new_page()
    context.close()


def address_of(path: str) -> str:
    """Return where a page of the book stands on the site, by the path of its source."""
    return f"/{path.removesuffix('.md').removesuffix('index')}".rstrip("/") + "/"


def top(page: Page, selector: str) -> float:
    return page.locator(selector).first.bounding_box()["y"]


LETTERS = """
  all => all.filter(one => one.checkVisibility()).map(one => {
    const svg = one.ownerSVGElement;
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    return [parseFloat(getComputedStyle(one).fontSize) * scale, one.textContent];
  })
"""
QUESTIONS = """
  all => all.map((one) => {
    const isSeen = (part) => part.checkVisibility({ visibilityProperty: true });
    return {
      name: one.getAttribute("name"),
      height: one.getBoundingClientRect().height,
      shown: [".q-headline", ".q-line"].every((part) => [...one.querySelectorAll(part)].some(isSeen)),
      open: [...one.querySelectorAll(".q-form, .q-change, .q-fold[open]")].filter(isSeen).length,
    };
  })
"""
STOPS = """
() => {
  const top = (selector) => document.querySelector(selector).getBoundingClientRect().top;
  const lists = document.querySelectorAll("#when-to-stop-and-ask ~ ul, #when-to-stop-and-ask ~ .more ul");
  return {
    listed: [...lists].slice(0, 2).map((list) => list.querySelectorAll("li").length),
    says: [...document.querySelectorAll("details.more > summary")].map((one) => one.textContent.trim()),
    height: top("#steps") - top("#when-to-stop-and-ask"),
  };
}
"""
LETTERS_OF_FIGURES = """
() => {
    const folds = [...document.querySelectorAll("details:not([open])")];
    for (const fold of folds) fold.open = true;
    const figures = [...document.querySelectorAll(".q-answer .q-figure svg")];
    const found = figures.flatMap(svg => {
        const box = svg.getBoundingClientRect();
        const scale = box.width / svg.viewBox.baseVal.width;
        const size = text => parseFloat(getComputedStyle(text).fontSize) * scale;
        const small = [...svg.querySelectorAll("text")].filter(text => size(text) < 13);
        const out = box.left < -0.5 || box.right > document.documentElement.clientWidth + 0.5;
        const told = small.map(text => `${text.textContent} is ${size(text)}`);
        return [...told, ...(out ? [`${svg.textContent} is out: ${box.left} to ${box.right}`] : [])];
    });
    for (const fold of folds) fold.open = false;
    return [figures.length, found];
}
"""
IN_ROOM = """
() => {
    const asked = [...document.querySelectorAll("bench-question")];
    const whole = () => document.documentElement.scrollHeight;
    const box = (one) => one.getBoundingClientRect().toJSON();
    const closed = {
        headline: box(asked[0].querySelector(".q-headline")),
        figure: box(document.querySelector("bench-question .q-figure")),
        heights: asked.map((one) => box(one).height),
        whole: whole(),
    };
    const folds = [...document.querySelectorAll(".q-one:not([open])")];
    for (const fold of folds) fold.open = true;
    const open = asked.map((one) => ({
        name: one.getAttribute("name"),
        height: box(one).height,
        entries: box(one.querySelector(".q-entries")),
        answer: box(one.querySelector(".q-answer")),
        position: getComputedStyle(one.querySelector(".q-answer")).position,
    }));
    const opened = whole();
    for (const fold of folds) fold.open = false;
    return { ...closed, open, opened };
}
"""
TOO_WIDE = """
(width) => {
    const over = () => Math.max(0, document.documentElement.scrollWidth - width);
    if (!over()) return 0;
    // the theme's scripts have a table scroll, and a long title in the header give way
    const theirs = [...document.querySelectorAll("article table:not([class]), .md-header__topic")];
    for (const one of theirs) one.style.display = "none";
    const left = over();
    for (const one of theirs) one.style.display = "";
    return left;
}
"""
ONCE = """
() => {
    const ids = Array.from(document.querySelectorAll("[id]"), (one) => one.id);
    const twice = ids.filter((id, at) => ids.indexOf(id) !== at);
    const headings = document.querySelectorAll("h1").length;
    return headings === 1 ? twice : [...twice, `${headings} h1`];
}
"""
CELLS = """
rows => rows.map((row) => [...row.querySelectorAll("td")].map((cell) => {
  const { top, width } = cell.getBoundingClientRect();
  return [top, width];
}))
"""


@dataclass
class Walk:
    """What one walk over all pages saw, without scripts: at each size, by the path of the page's source."""

    tops: list[Seen] = field(default_factory=list)
    letters: dict[int, dict[str, list[tuple[float, str]]]] = field(default_factory=lambda: defaultdict(dict))
    symptoms: dict[tuple[str, str], dict[str, Any]] = field(default_factory=dict)
    in_steps: dict[str, list[dict[str, Any]]] = field(default_factory=dict)
    practice: dict[str, dict[str, Any]] = field(default_factory=dict)
    stops: dict[tuple[str, str], dict[str, Any]] = field(default_factory=dict)
    once: dict[str, list[str]] = field(default_factory=dict)
    over: dict[int, dict[str, int]] = field(default_factory=lambda: defaultdict(dict))
    plates: dict[tuple[int, str], list[str]] = field(default_factory=dict)
    figures: dict[tuple[int, str], tuple[int, list[str]]] = field(default_factory=dict)
    rooms: dict[tuple[str, str], dict[str, Any]] = field(default_factory=dict)

    def look(self, page: Page, path: str, width: int) -> None:
        """Look at a page that is open at a size, however high: at its width and at what is drawn on it."""
        self.over[width][path] = page.evaluate(TOO_WIDE, width)
        if width in LEAST and path in DRAWN:
            self.letters[width][path] = page.locator(DRAWN_LETTERS).evaluate_all(LETTERS)
        if width in LEAST and path in WITH_PLATES:
            self.plates[width, path] = page.evaluate(LETTERS_OF_PLATES)
        if width in LEAST and path in WITH_FIGURES:
            self.figures[width, path] = page.evaluate(LETTERS_OF_FIGURES)


@pytest.fixture(scope="module")
def walked(browser: Browser, address: str) -> Walk:
    """Open each page once, and look at it at each size for all that is asked below."""
    context, seen = fresh(browser, java_script_enabled=False), Walk()
    page = context.new_page()
    for path, text in PAGES.items():
        page.goto(address + address_of(path))
        seen.once[path] = page.evaluate(ONCE)
        for size, (width, _) in SIZES.items():
            seen.tops.append(look(page, address_of(path).lstrip("/"), size))
            seen.look(page, path, width)
            if path in ROOMS_OF.values():
                seen.rooms[size, path] = page.evaluate(IN_ROOM)
            if path in SYMPTOMS and size in PHONES:
                table = page.locator("table.symptoms")
                seen.symptoms[size, path] = {
                    "rows": table.locator("tbody tr").evaluate_all(CELLS),
                    "apart": table.locator("a").evaluate_all(IN_ITS_LINE),
                    "heard": page.get_by_role("table").get_by_role("row").count(),
                    "heads": page.get_by_role("columnheader", name="Likely cause").count(),
                }
            if path in IN_STEPS and size == "phone":
                seen.in_steps[path] = page.locator("ol > li bench-question").evaluate_all(QUESTIONS)
            if "{cp}" in text and size == "phone":
                marks = page.get_by_role("link", name="common practice, no source", exact=True)
                seen.practice[path] = {
                    "bare": "{cp}" in page.locator("article").inner_text(),
                    "meanings": page.locator(".cp-meaning").count(),
                    "marks": marks.count(),
                    "width": marks.first.bounding_box()["width"],
                }
            if path in PROCEDURES and size in PHONES:
                seen.stops[size, path] = page.evaluate(STOPS)
        page.set_viewport_size({"width": NARROW, "height": 740})
        seen.look(page, path, NARROW)
    context.close()
    return seen


@pytest.mark.parametrize("size", SIZES)
def test_step_1_of_every_procedure_begins_within_two_screens(walked, said, size):
    tops = {one.page: one.step for one in walked.tops if one.size == size and one.step is not None}
    assert set(tops) >= {f"{path.removesuffix('.md')}/" for path in PROCEDURES}
    ordered = sorted(tops.values())
    said(f"{size}: step 1 begins at a median of {ordered[len(ordered) // 2]} px, at most {ordered[-1]} px")
    assert not {page: top for page, top in tops.items() if top > 2 * SIZES[size][1]}


@pytest.mark.parametrize("size", SIZES)
def test_no_page_to_work_from_stands_open_with_boxes_or_is_taller_than_its_figure(walked, said, size):
    """A room five screens, its first headline in the first; a procedure no box of a form but what it ticks."""
    rooms_seen = [
        one for one in walked.tops if one.size == size and one.page.startswith("work-it-out/") and one.headline
    ]
    assert len(rooms_seen) == len(rooms())
    said(f"{size}: the tallest room is {max(one.height for one in rooms_seen)} px, folded")
    assert not {one.page: one.height for one in rooms_seen if one.screens() > 5}
    assert not {one.page: one.headline for one in rooms_seen if one.screens("headline") > 1}
    steps = [one for one in walked.tops if one.size == size and one.step is not None]
    assert not {one.page: one.boxes for one in steps if one.boxes}


def test_home_shows_map_next_step_stages_and_ways_within_640_px(phone, address):
    phone.goto(f"{address}/")
    for part in (".bench-map", ".bench-next", ".bench-stages", ".bench-ways"):
        box = phone.locator(part).bounding_box()
        assert box["y"] + box["height"] <= 640, part


@pytest.mark.parametrize("room", rooms())
def test_the_first_answer_of_a_room_is_in_the_first_screen(walked, room):
    of = walked.rooms["phone", ROOMS_OF[room]]
    assert of["headline"]["height"] and of["headline"]["bottom"] <= PHONE[1]
    assert of["figure"]["height"] and of["figure"]["top"] < PHONE[1]


@pytest.mark.parametrize("room", rooms())
def test_a_room_is_five_screens_at_most_and_only_its_first_question_stands_open(walked, said, room):
    of = walked.rooms["phone", ROOMS_OF[room]]
    whole, heights, opened = of["whole"], of["heights"], of["opened"]
    highest = max(one["height"] for one in of["open"])
    said(f"{room}: folded {whole} px, its first {heights[0]:.0f}; all open {opened} px, the highest {highest:.0f}")
    assert whole <= 5 * PHONE[1]
    assert max(heights[1:]) <= 200
    assert highest <= 3 * PHONE[1]


@pytest.mark.parametrize("room", rooms())
def test_at_a_desk_a_question_takes_two_screens_at_most_its_entries_left_of_its_answer(walked, room):
    for of in walked.rooms["desk", ROOMS_OF[room]]["open"]:
        assert of["height"] <= 2 * DESK[1], of["name"]
        assert of["entries"]["width"], of["name"]
        assert of["entries"]["right"] <= of["answer"]["left"], of["name"]
        assert abs(of["entries"]["top"] - of["answer"]["top"]) < 2, of["name"]
        assert of["position"] == "sticky", of["name"]


@each_size
def test_a_link_to_a_question_of_a_room_opens_it_and_goes_there(open_page, address, size):
    page = open_page("/work-it-out/fits/#q-fits-tappet", size)
    expect(page.locator("#q-fits-tappet .q-headline")).to_be_in_viewport()
    page.goto(f"{address}/work-it-out/")
    page.get_by_role("link", name="Is this pushrod straight?").click()
    expect(page.locator("#q-fits-pushrod .q-headline")).to_be_in_viewport()


def test_what_is_folded_is_worked_out_to_its_headline_and_the_rest_when_it_is_opened(open_page):
    page = open_page("/work-it-out/torque/", PHONE)
    posts = page.locator("#q-torque-rocker_posts")
    page.locator(f"{WRENCH} .q-change").click()
    page.locator(f"{WRENCH} [name=graduation]").fill("2")  # one mark of the wrench, which the posts share
    expect(posts.locator(".q-glance-headline")).to_have_text("8 → 14 → 22\u00a0N·m · A\u00a0–\u00a0B")
    as_built = "7 → 15 → 22\u00a0N·m\u00a0· A – B"
    assert posts.locator(".q-headline").text_content() in (as_built, "")  # it goes while Python starts
    posts.locator("summary").first.click()
    expect(posts.locator(".q-headline")).to_have_text("8 → 14 → 22 N·m · A – B")
    expect(posts.locator(".q-headline")).to_be_visible()


# A question in a step


def test_in_steps_a_question_shows_its_answer_and_its_form_is_out_of_sight_without_scripts(walked, said):
    assert len(IN_STEPS) >= 15
    heights = {}
    for path in IN_STEPS:
        assert walked.in_steps[path], path
        for question in walked.in_steps[path]:
            assert question["shown"], question
            assert question["open"] == 0, question
            heights[question["name"]] = question["height"]
    highest = max(heights, key=heights.__getitem__)
    ordered = sorted(heights.values())
    said(f"{len(ordered)} questions in steps: median {ordered[len(ordered) // 2]:.0f} px, {highest} {ordered[-1]:.0f}")
    assert ordered[-1] <= 3 * PHONE[1]


def in_step(page, question):
    found = page.locator(question)
    expect(found.locator(".bench-not-running")).to_have_count(0)  # it takes room until the scripts are there
    expect(page.locator("button.bench-resume")).to_be_visible()  # and this takes room from then on
    found.locator(".q-change").evaluate("one => one.scrollIntoView({ block: 'center', behavior: 'instant' })")
    return found, found.locator(".q-change"), found.locator("dialog")


def stands_at(page, element):
    return page.evaluate("scrollY"), element.bounding_box()["y"]


@each_size
@pytest.mark.parametrize("closed_by", ["Escape", "Done", "Back"])
def test_change_opens_a_sheet_and_each_way_back_leaves_the_page_as_it_was(open_page, address, size, closed_by):
    page = open_page("/reference/glossary/", size)
    page.goto(address + TORQUE)
    page.evaluate("window.stays = true")
    fetched: list[str] = []
    page.on("request", lambda request: request.url == address + TORQUE and fetched.append(request.resource_type))
    question, change, sheet = in_step(page, WRENCH)
    before = stands_at(page, change)
    change.click()
    expect(sheet).to_have_attribute("open", "")
    expect(question.locator("[name=target]")).to_be_focused()
    expect(question.locator(".q-sheet-answer")).to_be_in_viewport()
    assert sheet.get_attribute("aria-label") == "What do I set the wrench to for the head, and in what order?"
    if closed_by == "Escape":
        page.keyboard.press("Escape")
    elif closed_by == "Done":
        sheet.get_by_role("button", name="Done").click()
    else:
        page.go_back()
    expect(sheet).to_be_hidden()
    expect(change).to_be_focused()
    page.wait_for_function(
        "top => Math.abs(document.querySelector('#q-torque-wrench .q-change').getBoundingClientRect().top - top) <= 1",
        arg=before[1],
    )
    assert stands_at(page, change) == pytest.approx(before, abs=1)
    assert page.url == address + TORQUE
    assert not fetched
    # instant navigation is as before, and the sheet has left nothing in the way back
    page.get_by_role("link", name="Next:").click()
    page.wait_for_url("**/fit-tappets-and-pushrods/")
    page.go_back()
    page.wait_for_url("**" + TORQUE)
    assert page.evaluate("window.stays") is True
    page.go_back()
    page.wait_for_url("**/reference/glossary/")


def test_back_pressed_twice_closes_the_sheet_and_leaves_the_page(open_page, address):
    page = open_page("/")
    page.evaluate("window.stays = true")
    page.locator("article").get_by_role("link", name="Tighten a head down").first.click()
    _, change, sheet = in_step(page, WRENCH)
    change.click()
    expect(sheet).to_have_attribute("open", "")
    # the browser tells a dialog that it has closed when it has time for it: not before the second press
    page.evaluate("document.addEventListener('close', (event) => event.stopImmediatePropagation(), { capture: true })")
    page.go_back()
    expect(sheet).to_be_hidden()
    page.go_back()
    expect(page.locator("h1")).to_contain_text("Top-End Bench Book")
    assert page.evaluate("window.stays") is True


@pytest.mark.parametrize(
    ("opener", "shown"), [(".q-change", "dialog.q-sheet[open]"), (".bench-follow-start", "dialog.bench-follow")]
)
def test_opened_again_as_soon_as_it_has_closed_it_is_closed_by_back_and_the_page_stays(
    open_page, address, opener, shown
):
    page = open_page("/")
    page.goto(address + TORQUE)
    page.evaluate(HELD_BACK)
    in_step(page, WRENCH)
    press = f"document.querySelector('{WRENCH} {opener}').click()"
    page.evaluate(press)
    expect(page.locator(shown)).to_be_visible()
    page.keyboard.press("Escape")
    until(page, lambda: page.evaluate("Boolean(window.letBack)"))
    page.evaluate(f"letBack(); {press}")
    until(page, lambda: page.evaluate("window.wentBack"))
    expect(page.locator(shown)).to_be_visible()
    page.go_back()
    expect(page.locator(shown)).to_be_hidden()
    assert page.url == address + TORQUE


def test_a_sheet_opened_again_before_the_browser_has_told_that_it_closed_stays_open(open_page):
    page = open_page(TORQUE)
    _, change, sheet = in_step(page, WRENCH)
    change.click()
    expect(sheet).to_have_attribute("open", "")
    change.evaluate("change => { change.closest('bench-question').querySelector('dialog').close(); change.click(); }")
    page.evaluate(FRAMES, 2)  # it has been told by now
    expect(sheet).to_have_attribute("open", "")
    sheet.get_by_role("button", name="Done").click()
    expect(sheet).to_be_hidden()
    expect(change).to_be_focused()


@pytest.mark.parametrize("at_once", [False, True], ids=["closed", "before the browser has told that it closed"])
def test_a_link_pressed_as_soon_as_the_sheet_has_closed_is_followed(open_page, address, at_once):
    page = open_page(TORQUE)
    page.evaluate(HELD_BACK)
    _, change, sheet = in_step(page, WRENCH)
    change.click()
    expect(sheet).to_have_attribute("open", "")
    if at_once:
        page.evaluate(f"""() => {{
          document.querySelector("{WRENCH} .q-sheet-done").click();
          document.querySelector(".md-footer__link--next").click();
        }}""")
        until(page, lambda: page.evaluate("Boolean(window.letBack)"))
        expect(page.locator("h1")).to_contain_text("Tighten")  # it waits
    else:
        page.keyboard.press("Escape")
        expect(sheet).to_be_hidden()
        until(page, lambda: page.evaluate("Boolean(window.letBack)"))
        page.get_by_role("link", name="Next:").click()
    page.evaluate("letBack()")
    until(page, lambda: page.evaluate("window.wentBack"))
    page.wait_for_url("**/fit-tappets-and-pushrods/")
    expect(page.locator("h1")).to_contain_text("tappets")


@each_size
def test_in_the_sheet_the_headline_stays_in_sight_and_changes_live(open_page, said, size):
    page = open_page(CHAMBERS, size)
    question, change, sheet = in_step(page, FILLS)
    change.click()
    last = question.locator('[data-box="fill.4"] [data-part]').first
    last.scroll_into_view_if_needed()
    last.fill("50.5")
    top = question.locator(".q-sheet-answer")
    expect(top).to_contain_text("Rests on the example")
    expect(top).to_be_in_viewport(ratio=1)
    expect(last).to_be_in_viewport()
    sheet.evaluate("one => one.scrollTo(0, one.scrollHeight)")
    expect(top).to_be_in_viewport(ratio=1)
    shown = top.inner_text()
    head = question.locator(".q-sheet-top").bounding_box()["height"]
    boxes = question.locator("input:visible").evaluate_all(
        "all => all.filter(one => one.getBoundingClientRect().top < innerHeight).length"
    )
    said(f"sheet at {size[0]} × {size[1]}: its top {head:.0f} px, {boxes} boxes to the end of the screen")
    page.locator(f"{FILLS} [name='fill.1'] + [data-part]").fill("52.2")
    expect(top).not_to_have_text(shown)
    expect(page.locator(".q-strip:visible")).to_have_count(0)  # the sheet has it already


def test_at_a_desk_the_sheet_stands_beside_the_text_which_stays_to_be_read(open_page):
    page = open_page(TORQUE, DESK)
    _, change, sheet = in_step(page, WRENCH)
    change.click()
    beside, text = sheet.bounding_box(), page.locator("article").bounding_box()
    assert beside["x"] >= text["x"] + text["width"]
    assert beside["y"] >= page.locator(".md-header").bounding_box()["height"] - 1
    before = page.evaluate("scrollY")
    page.mouse.move(500, 400)
    page.mouse.wheel(0, 300)
    page.wait_for_function("before => scrollY > before", arg=before)
    assert not sheet.evaluate("one => one.matches(':modal')")


def test_enter_goes_from_the_last_box_of_a_sheet_to_the_answer(open_page):
    page = open_page(TORQUE, PHONE)
    question, change, sheet = in_step(page, WRENCH)
    change.click()
    for box in question.locator("input:visible").all():
        box.evaluate("one => one.value ||= one.placeholder")
    question.locator("input:visible").last.press("Enter")
    expect(sheet).to_be_hidden()
    expect(question.locator(".q-headline")).to_be_focused()
    expect(question.locator(".q-headline")).to_be_in_viewport()


@each_size
def test_while_something_is_missing_a_step_says_what_and_its_button_asks_for_it(open_page, address, size):
    page = open_page("/job/", size)
    page.locator("#job-card").select_option("layout-single")
    page.goto(address + TORQUE)
    question, change, sheet = in_step(page, WRENCH)
    expect(change).to_have_text("Enter your readings")
    expect(question.locator(".q-whose")).to_contain_text("Still needed: final torque")
    expect(question.locator(".q-headline")).to_be_empty()
    expect(sheet).to_be_hidden()
    change.click()
    expect(question.locator("[name=target]")).to_be_focused()
    question.locator("[name=target]").fill("30")
    expect(question.locator(".q-sheet-answer")).not_to_contain_text("final torque")


def test_on_paper_and_in_the_readers_own_colours_a_step_has_its_answer(browser, address):
    context = fresh(browser, viewport={"width": PHONE[0], "height": PHONE[1]}, forced_colors="active")
    page = context.new_page()
    page.goto(address + TORQUE)
    question = page.locator(WRENCH)
    change = question.locator(".q-change")
    expect(change).to_be_visible()
    assert change.evaluate("one => getComputedStyle(one).borderTopWidth") != "0px"
    page.emulate_media(media="print")
    for part in (".q-headline", ".q-figure", ".q-line .q-holds"):
        expect(question.locator(part).first).to_be_visible()
    for part in (".q-form", ".q-change", ".bench-follow-start"):
        expect(question.locator(part).first).to_be_hidden()
    context.close()


# Tables to type into


@phones
def test_a_table_to_type_into_shows_two_columns_beside_the_names_of_its_rows(open_page, size):
    page = open_page(CHAMBERS, size)
    question, change, _ = in_step(page, FILLS)
    change.click()
    table = question.locator(".q-table").first
    assert table.locator("thead").count() == 1
    edge = question.locator(".q-scroll").first.bounding_box()
    for column in (1, 2):
        box = table.locator(f"tbody tr:first-child td:nth-of-type({column})").bounding_box()
        assert box["x"] >= edge["x"]
        assert box["x"] + box["width"] <= edge["x"] + edge["width"] + 1
        assert (
            table.locator(f"tbody tr:first-child td:nth-of-type({column}) input:visible").bounding_box()["height"] >= 48
        )
    assert table.locator("tbody th").first.evaluate("one => getComputedStyle(one).position") == "sticky"
    for row in table.locator("tbody tr").all():
        assert row.bounding_box()["height"] <= 56


def test_readings_of_one_thing_are_boxes_that_open_as_they_are_needed(open_page, address):
    page = open_page(CHAMBERS, PHONE)
    question, change, _ = in_step(page, FILLS)
    change.click()
    cell = question.locator('[data-box="fill.1"]')
    boxes = cell.locator("[data-part]")
    expect(boxes).to_have_count(1)
    assert boxes.first.get_attribute("inputmode") == "decimal"
    boxes.first.press_sequentially("50.1")
    expect(boxes).to_have_count(2)
    boxes.first.press("Enter")
    page.keyboard.type("50.3")
    page.keyboard.press("Enter")
    page.keyboard.type("50.2")
    expect(boxes).to_have_count(4)
    expect(question.locator(".q-sheet-answer")).to_contain_text("50.20")
    boxes.nth(1).fill("")
    boxes.nth(1).blur()
    assert [box.input_value() for box in boxes.all()] == ["50.1", "50.2", "", ""]
    expect(question.locator(".q-sheet-answer")).to_contain_text("50.15")
    page.goto(f"{address}/work-it-out/measuring/")
    page.locator(f"{FILLS} .q-change").click()
    kept = page.locator(f"{FILLS} [data-box='fill.1']")
    expect(kept.locator("[data-part]")).to_have_count(3)
    expect(kept.locator("[name='fill.1']")).to_have_value("50.1; 50.2")


TYPED_AND_SHUT = """
  (box) => {
    box.value = "three";
    box.dispatchEvent(new Event("input", { bubbles: true }));
    box.closest("details").open = false; // before the answer comes
  }
"""


def test_a_wrong_entry_in_a_closed_fold_opens_it(open_page):
    page = open_page(CHAMBERS, PHONE)
    question, change, _ = in_step(page, FILLS)
    change.click()
    fold = question.locator("[data-refines]").first
    fold.locator("summary").click()
    box = fold.locator("input:visible").first
    box.evaluate(TYPED_AND_SHUT)
    expect(fold.locator(".q-error").first).not_to_be_empty()
    expect(fold).to_have_attribute("open", "")


# Symptoms and marks


@pytest.mark.parametrize("size", PHONES)
def test_symptoms_are_cards_on_a_phone_and_stay_a_table_to_a_reader_of_screens(walked, size):
    assert len(SYMPTOMS) >= 40
    for path in SYMPTOMS:
        of = walked.symptoms[size, path]
        assert of["rows"], path
        for cells in of["rows"]:
            assert all(wide > SIZES[size][0] * 0.75 for _, wide in cells), path
            assert [top for top, _ in cells] == sorted({top for top, _ in cells}), path
        assert of["apart"] == [], path  # a link is a word of its sentence, not a box under the label
        assert of["heard"] >= len(of["rows"]) + 1, path  # with its head, and the rows of other tables
        assert of["heads"] == 1, path


def test_common_practice_is_told_once_at_the_foot_of_each_page_that_has_its_mark(walked):
    marked = [page for page, text in PAGES.items() if "{cp}" in text]
    assert len(marked) >= 10
    for path in marked:
        of = walked.practice[path]
        assert not of["bare"], path
        assert of["meanings"] == 1, path
        assert of["marks"] == PAGES[path].count("{cp}"), path
        assert of["width"] < 30, path


# Finding the way


def test_questions_are_listed_under_the_parts_of_the_engine_one_tap_away(open_page, address):
    page = open_page("/work-it-out/", PHONE)
    parts = page.get_by_role("navigation", name="Parts of the engine").get_by_role("link").all_inner_texts()
    assert parts == page.locator(".q-index h2").all_inner_texts()
    assert parts[:3] == ["Heads", "Barrels and pistons", "Valve gear"]
    last = page.get_by_role("navigation", name="Parts of the engine").locator("a").last
    assert last.bounding_box()["y"] < PHONE[1]
    page.get_by_role("link", name="Valve gear").click()
    expect(page.get_by_role("link", name="Is this pushrod straight?")).to_be_visible()
    expect(page.get_by_role("heading", name="Valve gear")).to_be_in_viewport()


def test_the_side_list_shows_the_stage_at_hand_only(open_page):
    page = open_page(TORQUE, DESK)
    side = page.get_by_role("navigation", name="Navigation")
    expect(side.get_by_role("link", name="Fit the rocker covers")).to_be_visible()
    expect(side.get_by_role("link", name="Record the baseline")).to_be_hidden()
    assert side.get_by_role("link").filter(visible=True).count() < 30


def test_home_tells_the_nut_in_hand_and_leads_back_to_it(open_page, address):
    page = open_page(TORQUE, PHONE)
    page.locator(f"{WRENCH} .bench-follow-start").first.click()
    for _ in range(3):  # B, G and C of the example's order: F is next
        page.locator(".bench-follow-next").click()
    with way_back(page):
        page.get_by_role("button", name="Close").click()
    kept_job(page)  # what waited for the storage to open is on its way
    page.goto(address + "/")
    place = page.locator(".bench-next-at")
    expect(place).to_contain_text("6·4")
    expect(place).to_contain_text("Pass 1 of 3")
    expect(place).to_contain_text("4 of 36")
    expect(page.locator(".bench-next-title")).to_have_text("F · 11 N·m")
    page.get_by_role("link", name="Resume").click()
    expect(page.locator(".bench-follow-large")).to_have_text("F · 11 N·m")  # at the nut itself
    with way_back(page):
        page.get_by_role("button", name="Close").click()
    expect(page.locator(f"{WRENCH} .bench-follow-start").first).to_be_in_viewport()
    page.reload()
    expect(page.locator(f"{WRENCH} .q-headline")).not_to_be_empty()
    expect(page.locator(".bench-follow")).to_have_count(0)
    expect(page.locator(f"{WRENCH} [data-step]:checked")).to_have_count(3)


# What is long is folded, and whatever leads into it opens it


LONG = {"/reference/glossary/": 20, "/reference/all-cautions/": 30}
GLOSSARY = "/reference/glossary/"


@pytest.mark.parametrize("path", LONG)
def test_a_long_list_is_five_screens_folded(open_page, said, path):
    page = open_page(path, PHONE)
    height = page.evaluate("document.documentElement.scrollHeight")
    said(f"{path}: {height} px, folded")
    assert height <= 5 * PHONE[1]
    assert page.locator("details.fold").count() >= LONG[path]
    assert page.locator("details.fold[open]").count() == 0
    small = page.locator("details.fold > summary, .bench-letters a").evaluate_all(
        "all => all.filter(one => one.getBoundingClientRect().height < 47.9).map(one => one.textContent)"
    )
    assert small == []


@pytest.mark.parametrize("path", LONG)
def test_without_scripts_and_on_paper_a_long_list_is_all_open(phone, open_page, address, path):
    phone.goto(f"{address}{path}")
    lines = phone.locator("details.fold :is(tbody tr, li)")
    assert lines.count() > 200
    assert lines.evaluate_all("all => all.filter(one => !one.checkVisibility()).length") == 0
    page = open_page(path)
    assert page.locator("details.fold").first.get_attribute("open") is None
    page.emulate_media(media="print")
    expect(page.locator("details.fold tr, details.fold li").last).to_be_visible()
    assert (
        page.locator("details.fold :is(tr, li)").evaluate_all(
            "all => all.filter(one => !one.checkVisibility({ contentVisibilityAuto: true })).length"
        )
        == 0
    )


@each_size
def test_a_link_to_a_word_of_the_glossary_opens_its_letter(open_page, address, size):
    page = open_page(f"{GLOSSARY}#word-tappet", size)
    expect(page.locator("#word-tappet")).to_be_in_viewport()
    page.goto(f"{address}/reference/names-of-the-parts/#piston")
    page.locator("details.fold[open]").get_by_role("link", name="Glossary").click()
    page.wait_for_url(f"**{GLOSSARY}#word-piston")
    expect(page.locator("#word-piston")).to_be_in_viewport()
    page.get_by_role("link", name="W", exact=True).click()
    expect(page.locator("#word-wet-test")).to_be_visible()
    expect(page.locator("#letter-w")).to_be_in_viewport()


def test_what_the_search_found_in_the_glossary_is_in_sight_there(open_page):
    page = open_page(f"{GLOSSARY}?h=squish", PHONE)
    expect(page.locator("#word-deck-clearance")).to_be_in_viewport()
    assert page.locator("details.fold[open]").count() == 1


@pytest.mark.parametrize("path", [*LONG, TORQUE])
def test_what_the_browser_itself_finds_in_a_fold_is_shown(open_page, address, path):
    """A link to words reveals what find-in-page does: the HTML Standard has both open what the words are folded in."""
    page = open_page(path)
    line = page.locator("details.fold").first.locator("li, td").last
    words = " ".join(line.text_content().split()[:6])
    page.goto("about:blank")
    page.goto(f"{address}{path}#:~:text={quote(words)}")
    expect(page.locator("details.fold[open]").locator("li, td", has_text=words).first).to_be_in_viewport()
    assert page.locator("details.fold[open]").count() == 1


def test_of_the_reasons_to_stop_two_are_in_sight_and_the_rest_is_one_fold(walked, said):
    for path in PROCEDURES:
        written = re.search(r"^## When to stop and ask\n(.*?)^## ", PAGES[path], re.MULTILINE | re.DOTALL)
        assert written
        for size in PHONES:
            shown, folded = walked.stops[size, path]["listed"]
            assert shown == 2, path
            assert shown + folded == written[1].count("\n- "), path
            assert walked.stops[size, path]["says"] == [f"{folded} more reasons to stop"], path
    for size in PHONES:
        highest = max(walked.stops[size, path]["height"] for path in PROCEDURES)
        said(f"{size}: from When to stop to Steps at most {highest:.0f} px")
        assert highest <= 0.85 * SIZES[size][1]


@pytest.mark.parametrize("path", [TORQUE, CHAMBERS, "/build/set-valve-lash/"])
def test_scripts_put_nothing_between_the_reasons_to_stop_and_the_steps(walked, open_page, path):
    page = open_page(path, PHONE)
    until(page, lambda: page.evaluate(SETTLED))
    for size in PHONES:
        resized(page, SIZES[size])
        of = walked.stops[size, f"{path.strip('/')}.md"]
        assert page.evaluate(STOPS) == of | {"height": pytest.approx(of["height"], abs=1)}, size


# The face


def test_no_label_of_the_theme_heads_the_list_of_a_page(site):
    for page in site.rglob("index.html"):
        assert "Table of contents" not in page.read_text(encoding="utf-8"), page


def test_the_emblem_is_seen_in_both_schemes(open_page):
    for scheme, looks in (("light", "none"), ("dark", "invert(1)")):
        emblem = open_page("/", DESK, color_scheme=scheme).locator(".md-header .md-logo img")
        expect(emblem).to_be_visible()
        expect(emblem).to_have_css("filter", looks)


@pytest.mark.parametrize("width", [320, 360, 390])
def test_no_button_breaks_a_word(open_page, address, width):
    page = open_page("/", (width, 740))
    for path in ("/", "/work-it-out/", "/faults/"):
        page.goto(address + path)
        broken = page.locator(".bench-way").evaluate_all("""
            ways => ways.flatMap(way => {
              const walker = document.createTreeWalker(way, NodeFilter.SHOW_TEXT);
              const found = [];
              while (walker.nextNode()) {
                const text = walker.currentNode;
                for (const { index, 0: word } of text.data.matchAll(/[^\\s-]+/g)) {
                  const range = document.createRange();
                  range.setStart(text, index);
                  range.setEnd(text, index + word.length);
                  if (new Set([...range.getClientRects()].map(({ top }) => Math.round(top))).size > 1) found.push(word);
                }
              }
              return found;
            })
        """)
        assert broken == [], path


@pytest.mark.parametrize(("width", "least"), LEAST.items())
def test_no_letter_of_a_drawing_is_too_small_on_a_phone(walked, width, least):
    """At 320 pixels a drawing of 340 is from edge to edge and still smaller than it was made."""
    assert sum(len(letters) for letters in walked.letters[width].values()) > len(DRAWN)
    small = {path: [text for size, text in of if size < least] for path, of in walked.letters[width].items()}
    assert {path: of for path, of in small.items() if of} == {}


def test_letters_of_a_drawing_are_13_pixels_high_in_its_step(walked):
    assert len(WITH_PLATES) > 20
    assert {path for _, path in walked.plates} == {*WITH_PLATES}
    assert {where: faults for where, faults in walked.plates.items() if faults} == {}


def test_letters_of_a_figure_are_13_pixels_high_in_its_room_and_in_its_step(walked):
    assert len(ROOMS) > 10
    assert len(OUT_OF_ROOMS) > 20
    for width in LEAST:
        for path in WITH_FIGURES:
            figures, faults = walked.figures[width, path]
            assert figures, path
            assert faults == [], (width, path)


@pytest.mark.parametrize("width", [NARROW, *(width for width, _ in SIZES.values())])
def test_no_page_is_wider_than_its_screen(walked, width):
    assert set(walked.over[width]) == set(PAGES)
    assert {path: over for path, over in walked.over[width].items() if over} == {}


def test_each_page_has_one_heading_and_each_id_once(walked):
    assert {path: twice for path, twice in walked.once.items() if twice} == {}
