"""A procedure followed full-screen: its cautions first, step by step, by touch and by keys."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.examples import IS_WIDE
from tests.site.conftest import DESK, HELD_BACK, PHONE, kept_job, resized, sizes, until, way_back

HEAD, COVERS = "/build/tighten-a-head-down/", "/build/fit-the-rocker-covers/"
WRENCH = "#q-torque-wrench"
BETWEEN = [(390, 844), (430, 932)]
SCREENS = [(320, 568), PHONE, *(BETWEEN if IS_WIDE else []), (740, 360)]


def start(page: Page):
    page.locator("button.bench-resume").click()
    led = page.locator("dialog.bench-led")
    expect(led.locator(".bench-led-words")).to_be_attached()
    return led


def go_on(led, steps: int) -> None:
    """Do so many steps, each caution read before."""
    for _ in range(steps):
        place = led.locator(".bench-follow-stage").text_content()
        while led.locator(".bench-led-read").count():
            led.locator(".bench-led-read").click()
        led.locator(".bench-follow-next").click()
        expect(led.locator(".bench-follow-stage")).not_to_have_text(place)


@sizes
def test_a_step_is_done_only_after_its_caution_was_read_and_its_tick_is_the_page_s(open_page, size):
    page = open_page(HEAD, size)
    led = start(page)
    done, stage = led.locator(".bench-follow-next"), led.locator(".bench-follow-stage")
    expect(stage).to_have_text("6·4 · Head 1 · step 1 of 15")
    expect(led.locator(".bench-led-deed")).to_have_text("Read the maker's figure and its conditions")
    go_on(led, 3)
    expect(stage).to_contain_text("step 4 of 15")
    expect(led.locator(".admonition-title")).to_have_text("Notice: uneven barrel tops")
    expect(led).not_to_contain_text("Lay the straightedge")
    expect(done).to_be_disabled()
    led.get_by_role("button", name="Read it").click()
    expect(done).to_be_enabled()
    expect(led).to_contain_text("Lay the straightedge")
    expect(led.locator(".bench-led-minded")).to_have_text("Notice: uneven barrel tops")
    expect(led.locator(".bench-led-large")).to_contain_text("mm")  # how much the tops may differ
    led.get_by_role("button", name="Stop here").click()
    expect(led).to_have_count(0)
    expect(page.locator("#step-4")).to_be_in_viewport()
    expect(page.locator(".bench-done :checked")).to_have_count(3)
    page.reload()
    expect(page.locator("button.bench-resume")).to_have_text("Go on with step 4")
    expect(start(page).locator(".bench-follow-stage")).to_contain_text("step 4 of 15")
    expect(done).to_be_disabled()  # read again: a day may lie between


PLACED = """
(dialog) => {
  const [wide, high] = [innerWidth, innerHeight];
  const told = [];
  const body = dialog.querySelector(".bench-led-body");
  if (body.scrollWidth > body.clientWidth) told.push("the words run out");
  if (body.getBoundingClientRect().height < 0.3 * high) told.push("too little is left for the words");
  const names = ["follow-stage", "led-body", "led-asks", "follow-next", "follow-row"].map((name) => `.bench-${name}`);
  const parts = names.map((name) => [name, dialog.querySelector(name)]).filter(([, one]) => one?.checkVisibility());
  const boxes = parts.map(([name, one]) => [name, one.getBoundingClientRect()]).filter(([, { height }]) => height);
  for (const [name, box] of boxes) {
    if (box.left < 0 || box.right > wide || box.top < 0 || box.bottom > high) told.push(`${name} is off the screen`);
    for (const [other, that] of boxes) {
      const apart = box.right <= that.left + 0.5 || that.right <= box.left + 0.5;
      if (name === other || apart || box.bottom <= that.top + 0.5 || that.bottom <= box.top + 0.5) continue;
      told.push(`${name} lies over ${other}`);
    }
  }
  for (const button of dialog.querySelectorAll("button"))
    if (button.checkVisibility() && button.getBoundingClientRect().height < 48) told.push(button.textContent);
  const drawing = dialog.querySelector(".bench-led-drawing svg")?.getBoundingClientRect();
  return [told, drawing ? drawing.top + drawing.height / 2 : null];
}
"""


def test_nothing_overlaps_and_the_drawing_is_in_the_upper_half(open_page):
    page = open_page(HEAD, PHONE)
    led = start(page)
    seen, screens = set(), [*SCREENS]
    while True:
        place = led.locator(".bench-follow-stage").text_content()
        screens.reverse()  # each step begins at the size at which the one before ended
        for size in screens:
            resized(page, size)
            told, drawn = led.evaluate(PLACED)
            assert told == [], (place, size)
            if drawn is not None:
                seen.add(place)
                assert drawn <= size[1] / 2, (place, size)
        if "all steps" in place:
            break
        if led.locator(".bench-led-read").count():
            led.locator(".bench-led-read").click()
        else:
            go_on(led, 1)
    assert len(seen) >= 2


def test_a_step_opens_into_its_nuts_and_comes_back_and_home_names_the_next(open_page, address):
    page = open_page(HEAD, PHONE)
    led = start(page)
    go_on(led, 8)
    led.get_by_role("button", name="Read it").click()
    expect(led.locator(".bench-led-large")).to_contain_text("11 → 23 → 34")
    expect(led.locator(".bench-led-whose")).to_have_text("Example: Marram F4")
    led.locator(".bench-led-now").click()
    nuts = page.locator("dialog.bench-follow:not(.bench-led)")
    for number in range(1, 4):
        expect(nuts.locator(".bench-follow-stage")).to_contain_text(f"step {number} of 36")
        nuts.locator(".bench-follow-next").click()
    with way_back(page):
        nuts.get_by_role("button", name="Close").click()
    expect(nuts).to_have_count(0)
    expect(led.locator(".bench-led-now")).to_contain_text("3 of 36")
    expect(led.locator(".bench-led-now")).to_be_focused()
    with way_back(page):
        led.get_by_role("button", name="Stop here").click()
    page.goto(address + "/")
    expect(page.locator(".bench-next-at")).to_have_text(
        "NEXT · 6·4 step 9 · Head 1 · Pass 1 of 3: set 11 N·m · 4 of 36"
    )
    expect(page.locator(".bench-next-title")).to_have_text("F · 11 N·m")


def test_each_head_is_a_run_of_its_own(open_page):
    page = open_page(HEAD, PHONE)
    led = start(page)
    go_on(led, 15)
    expect(led.locator(".bench-led-deed")).to_have_text("All 15 steps are done.")
    led.get_by_role("button", name="Go on with head 2").click()
    expect(led.locator(".bench-follow-stage")).to_have_text("6·4 · Head 2 · step 1 of 15")
    go_on(led, 1)
    ticks = kept_job(page)["ticks"]
    assert {name: len(done) for name, done in ticks.items()} == {
        "build/tighten-a-head-down/ steps head_1": 15,
        "build/tighten-a-head-down/ steps head_2": 1,
    }


def test_a_pedal_or_a_presenter_leads_through_what_is_to_be_read(open_page):
    page = open_page(HEAD, DESK)
    for key in ("Space", "PageDown", "ArrowRight", "ArrowDown", "Enter"):
        leads_through(page, key)
        for tick in page.locator(".bench-done :checked").all()[::-1]:
            tick.uncheck()
        expect(page.locator("button.bench-resume")).not_to_contain_text("Go on")


def leads_through(page: Page, key: str) -> None:
    led = start(page)
    stage, done = led.locator(".bench-follow-stage"), led.locator(".bench-follow-next")
    for number in range(2, 5):
        page.keyboard.press(key)
        expect(stage).to_contain_text(f"step {number} of 15")
    expect(done).to_be_disabled()
    page.keyboard.press(key)  # reads the caution, and no more
    expect(done).to_be_enabled()
    expect(stage).to_contain_text("step 4 of 15")
    page.keyboard.press("PageUp")
    expect(stage).to_contain_text("step 3 of 15")
    led.get_by_role("button", name="Back").focus()
    page.keyboard.press("Space")  # the button that has the focus is pressed
    expect(stage).to_contain_text("step 2 of 15")
    page.keyboard.press("Escape")
    expect(led).to_have_count(0)
    expect(page.locator("button.bench-resume")).to_be_focused()
    expect(page.locator(".bench-done :checked")).to_have_count(3)


def test_a_key_shows_what_is_below_before_it_ticks_and_held_down_it_is_one_press(open_page):
    page = open_page(HEAD, (320, 568))
    led = start(page)
    go_on(led, 1)
    body, stage = led.locator(".bench-led-body"), led.locator(".bench-follow-stage")
    assert body.evaluate("one => one.scrollHeight > one.clientHeight + 8")
    page.keyboard.press("PageDown")
    page.wait_for_function("() => document.querySelector('.bench-led-body').scrollTop > 8")
    expect(stage).to_contain_text("step 2 of 15")
    page.keyboard.press("PageDown")
    expect(stage).to_contain_text("step 3 of 15")
    page.keyboard.down("PageDown")
    expect(stage).to_contain_text("step 4 of 15")
    for _ in range(4):
        page.keyboard.down("PageDown")  # the keyboard repeats it
    page.keyboard.up("PageDown")
    expect(led.get_by_role("button", name="Read it")).to_be_attached()
    assert body.evaluate("one => one.scrollTop") == 0


@sizes
def test_a_step_that_lacks_readings_opens_their_form_and_comes_back(open_page, address, size):
    page = open_page("/job/", size)
    page.locator("#job-card").select_option("layout-single")
    expect(page.locator(".bench-status").first).to_contain_text("takes its numbers")
    page.goto(address + HEAD)
    expect(page.locator(WRENCH)).to_have_attribute("data-state", "lacking")
    led = start(page)
    go_on(led, 8)
    led.get_by_role("button", name="Read it").click()
    led.get_by_role("button", name="Enter your readings").click()
    sheet = page.locator(f"{WRENCH} dialog")
    expect(page.locator(f"{WRENCH} [name=target]")).to_be_focused()
    page.locator(f"{WRENCH} [name=target]").fill("30")
    sheet.get_by_role("button", name="Done").click()
    expect(sheet).to_be_hidden()
    expect(led).to_be_visible()
    expect(led.locator(".bench-follow-stage")).to_contain_text("step 9 of 15")
    assert page.evaluate("document.querySelector('.bench-led').contains(document.activeElement)")


_VOICE = """
window.spoken = [];
window.awake = [];
const voice = { speak: ({ text }) => spoken.push(text), cancel: () => spoken.push("") };
Object.defineProperty(window, "speechSynthesis", { value: voice });
window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
const release = async () => awake.push("released");
const request = async (kind) => (awake.push(kind), { release });
Object.defineProperty(navigator, "wakeLock", { value: { request } });
"""


def test_the_screen_stays_on_and_the_step_is_spoken_on_request(open_page, address):
    page = open_page(None, PHONE)
    page.add_init_script(_VOICE)
    page.goto(address + HEAD)
    led = start(page)
    page.wait_for_function("() => awake.length === 1")
    assert page.evaluate("[...spoken]") == []
    led.get_by_role("button", name="Speak").click()
    shown = led.locator(".bench-led-words").inner_text()
    assert page.evaluate("spoken.at(-1)") == shown
    go_on(led, 1)
    assert page.evaluate("spoken.at(-1)") == led.locator(".bench-led-words").inner_text() != shown
    go_on(led, 2)
    led.get_by_role("button", name="Read it").click()
    expect(led.locator(".bench-led-large")).to_contain_text("mm")
    assert page.evaluate("spoken.at(-1)") == led.locator(".bench-led-words").inner_text()  # with the figure
    led.get_by_role("button", name="Stop here").click()
    page.wait_for_function("() => awake.at(-1) === 'released'")
    assert page.evaluate("spoken.at(-1)") == ""


@sizes
def test_back_of_the_browser_leaves_the_full_screen_and_not_the_page(open_page, address, size):
    page = open_page("/", size)
    page.goto(address + HEAD)
    page.evaluate("window.same = true")
    led = start(page)
    go_on(led, 3)
    page.go_back()
    expect(led).to_have_count(0)
    expect(page.locator("#step-4")).to_be_in_viewport()
    expect(page.locator("button.bench-resume")).to_be_focused()
    led = start(page)
    with way_back(page):
        led.get_by_role("button", name="Stop here").click()
    expect(led).to_have_count(0)
    expect(page.locator("#step-4")).to_be_in_viewport()
    assert page.evaluate("window.same") is True  # neither loaded it anew
    page.go_back()
    page.wait_for_url(f"{address}/")


def test_a_link_pressed_as_soon_as_the_full_screen_has_closed_is_followed(open_page, address):
    page = open_page(HEAD)
    page.evaluate(HELD_BACK)
    led = start(page)
    led.get_by_role("button", name="Stop here").click()
    expect(led).to_have_count(0)
    page.evaluate("window.same = true")
    page.locator(".md-footer__link--next").click()
    page.evaluate("letBack()")
    until(page, lambda: page.evaluate("window.wentBack"))
    expect(page.locator("h1")).not_to_contain_text("Tighten a cylinder head down")
    assert not page.url.endswith(HEAD)
    assert page.evaluate("window.same") is True
    page.go_back()
    expect(page.locator("h1")).to_contain_text("Tighten a cylinder head down")
    page.evaluate("history.forward()")  # and the way is as it would have been
    expect(page.locator("h1")).not_to_contain_text("Tighten a cylinder head down")


def test_back_of_the_browser_closes_what_is_in_front_only(open_page):
    page = open_page(HEAD, PHONE)
    led = start(page)
    go_on(led, 8)
    led.get_by_role("button", name="Read it").click()
    led.locator(".bench-led-now").click()
    nuts = page.locator("dialog.bench-follow:not(.bench-led)")
    expect(nuts).to_be_visible()
    page.go_back()
    expect(nuts).to_have_count(0)
    expect(led.locator(".bench-follow-stage")).to_contain_text("step 9")
    led.get_by_role("button", name="Change").click()
    form = page.locator("dialog.q-sheet[open]")
    expect(form).to_be_visible()
    page.go_back()
    expect(form).to_have_count(0)
    expect(led.locator(".bench-follow-stage")).to_contain_text("step 9")
    page.go_back()
    expect(led).to_have_count(0)
    expect(page.locator("h1")).to_contain_text("Tighten a cylinder head down")
