"""A whole job, from a blank layout to the printed handover, for an engine that is none of the book's examples.

What is typed, tapped and scrolled past on the way is counted, printed, and held against what it once took.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect

from tests.examples import IS_WIDE
from tests.site.conftest import PHONE, kept_job, question
from tests.site.test_three_engines import CLOCK, EXAMPLES, page_of

WRENCH, PLAN, FOUND = "torque.wrench", "lash.plan", "lash.found"
CLOSING, PRESSURE = "sealing.closing", "running_in.oil_pressure"
START = "/run/first-start/"
NAME = "Turnstone F4"
ONCE = {  # boxes, taps and screens of the same tasks in the first edition, measured at 360 × 740
    "card": {"boxes": 14 + 137},
    "tighten": {"taps": 4, "screens": 11.9},
    "lash": {"screens": 17.3},
    "the gaps": {"screens": 17.3},
    "first start": {"screens": 14.5},
    "sealing": {"boxes": 14, "screens": 16.0},
}
SHARE = 1 / 3
OUT_OF_SIGHT = """
one => {
  const { top, bottom } = one.getBoundingClientRect();
  return Math.max(0, -top, Math.min(top, bottom - innerHeight)) / innerHeight;
}
"""
BELOW = "one => one.scrollHeight - one.clientHeight - one.scrollTop > 8"
NO_REHEARSAL = "window.requestIdleCallback = (deed, limit) => limit && setTimeout(deed);"  # keeping it offline has one
WATCH = """
addEventListener("click", ({ isTrusted, target }) => isTrusted && !target.closest(".pad-key") && tell("taps", 1), true);
addEventListener("input", ({ target }) => tell("typed", target.dataset.path ?? target.id), true);
"""


@dataclass
class Count:
    """What one task took."""

    screens: float = 0
    taps: int = 0
    boxes: set[str] = field(default_factory=set)

    def __str__(self) -> str:
        return f"{len(self.boxes)} boxes, {self.taps} taps, {self.screens:.1f} screens"


class Hand:
    """Whoever does the job, by touch or by keys alone."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.context, self.address, self.by_keys = context, address, False
        self.counts: dict[str, Count] = {}
        self.typed: Counter[str] = Counter()
        self.task = ""
        context.expose_binding("tell", self._told)
        context.add_init_script(WATCH)
        self.complaints: list[str] = []
        self.page = self.tab()

    def _told(self, _source: object, what: str, much: str | float) -> None:
        count = self.counts.setdefault(self.task, Count())
        if what == "taps":
            count.taps += 1
        elif not str(much).startswith("pad-"):
            count.boxes.add(str(much))

    def tab(self) -> Page:
        page = self.context.new_page()
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        return page

    def begin(self, task: str, path: str) -> None:
        """Open a page; what is done from now on belongs to the task."""
        self.page.goto(self.address + path)
        self.task = task

    def look(self, what: Locator) -> None:
        """Scroll there, as far as it is out of sight."""
        expect(what).to_be_visible()
        self.counts.setdefault(self.task, Count()).screens += what.evaluate(OUT_OF_SIGHT)
        what.scroll_into_view_if_needed()

    def press(self, what: Locator) -> None:
        expect(what).to_be_enabled()
        self.look(what)
        if self.by_keys:
            what.focus()
            what.press("Enter")
        else:
            what.tap()

    def write(self, box: Locator, text: str) -> None:
        """Type into a box, once in the whole job."""
        name = box.get_attribute("data-path") or box.get_attribute("id") or ""
        self.typed[name] += 1
        self.look(box)
        if self.by_keys:
            box.focus()
            box.press("ControlOrMeta+a")
            self.page.keyboard.type(text)
        else:
            box.fill(text)

    def ask(self, task: str, name: str) -> Locator:
        """Go from home to a question, by what it asks."""
        self.begin(task, "/")
        self.press(self.page.locator('.md-content a[href$="work-it-out/"]').first)
        self.press(self.page.locator(f'.md-content a[href$="#q-{name.replace(".", "-")}"]').first)
        one = question(self.page, name)
        expect(one.locator(".q-one")).to_have_attribute("open", "")
        return one

    def enter(self, name: str, boxes: dict[str, str], choices: dict[str, str] | None = None) -> None:
        """Give a question what it still asks for."""
        one = question(self.page, name)
        expect(one).to_have_attribute("data-state", "lacking")
        expect(one).not_to_have_attribute("data-behind", "")  # the form that the answer opens is there
        if one.locator(".q-form").is_hidden():
            self.press(one.locator(".q-change"))
        for key, text in boxes.items():
            self.write(one.locator(f'[name="{key}"]'), text)
        for key, text in (choices or {}).items():
            one.locator(f'[name="{key}"]').select_option(text)
            self.typed[key] += 1
        expect(one).to_have_attribute("data-state", "yours")
        if one.locator(".q-sheet-done").count():
            self.press(one.locator(".q-sheet-done"))
            expect(one.locator(".q-sheet")).to_be_hidden()

    def read(self, pad: Locator, texts: list[str]) -> None:
        """Read one by one: by a gauge that types, or on the pad."""
        for text in texts:
            before = pad.locator(".pad-top span").text_content() or ""
            if self.by_keys:
                self.page.keyboard.type(text)
                self.page.keyboard.press("Enter")
            else:
                for key in text:
                    pad.locator(f'[data-key="{key}"]').tap()
                pad.get_by_role("button", name="Next").tap()
            expect(pad.locator(".pad-top span")).not_to_have_text(before)

    def walk(self, done: Callable[[int], bool]) -> None:
        """Press Done until there is no more, or ``done`` says so after so many."""
        follow = self.page.locator("dialog.bench-follow:not(.bench-led)")
        expect(follow).to_be_visible()
        for count in range(1, 200):
            before = follow.locator(".bench-follow-stage").text_content() or ""
            is_last = "last" in (follow.locator(".bench-follow-next").text_content() or "")
            self.press(follow.locator(".bench-follow-next"))
            if is_last:
                expect(follow).to_have_count(0)
                return
            expect(follow.locator(".bench-follow-stage")).not_to_have_text(before)
            if done(count):
                return


@pytest.fixture
def hand(browser: Browser, address: str) -> Iterator[Hand]:
    context = browser.new_context(
        viewport={"width": PHONE[0], "height": PHONE[1]}, has_touch=True, is_mobile=True, reduced_motion="reduce"
    )
    context.add_init_script(NO_REHEARSAL)
    hand = Hand(context, address)
    yield hand
    context.close()
    assert hand.complaints == []


def begin_a_card(hand: Hand) -> None:
    hand.begin("card", "/job/engine-card/")
    fold = hand.page.locator(".bench-begin")
    hand.press(fold.locator("summary"))
    fold.get_by_label("Layout and firing order").select_option("layout-flat-four-1432")
    for label, text in {
        "Name of the engine": NAME,
        "Bore": "82.5",
        "Stroke": "70",
        "Torque of the head nuts": "28 lbf·ft",
        "Valve lash, inlet": "0.12",
        "Valve lash, exhaust": "0.17",
    }.items():
        hand.write(fold.get_by_label(label, exact=True), text)
    hand.press(fold.get_by_role("button", name="Make this the job’s card"))
    expect(hand.page.locator(".bench-status").first).to_contain_text("What else a question needs, it asks for.")


def keep_for_offline(hand: Hand) -> None:
    expect(hand.page.locator("bench-offline")).to_contain_text("Saved for offline use", timeout=60_000)


def tighten(hand: Hand) -> None:
    """Nut by nut; the tab is killed in the middle of the first head."""
    one = hand.ask("tighten, asked for once", WRENCH)
    hand.enter(WRENCH, {}, {"pattern": "4"})
    # by thirds, and to the wrench's whole marks, in the unit of the card
    expect(one.locator(".q-headline")).to_contain_text("9 → 19 → 28 lbf·ft")
    hand.look(one.locator(".q-headline"))
    hand.press(one.locator(".bench-follow-start").first)
    expect(hand.page.locator(".bench-follow-large")).to_contain_text("9 lbf·ft")
    hand.task = "the nuts"
    hand.walk(lambda count: count == 3)
    hand.page.close(run_before_unload=False)
    hand.page = hand.tab()
    hand.begin("tighten", "/")
    expect(hand.page.locator(".bench-next-at")).to_contain_text("4 of")
    hand.press(hand.page.locator(".bench-go"))
    expect(hand.page.locator(".bench-follow-stage")).to_contain_text("step 4 of")
    hand.task = "the nuts"
    hand.walk(lambda _: False)
    walks = question(hand.page).locator("[data-walk]")
    for place in range(1, walks.count()):
        hand.press(walks.nth(place).locator(".bench-follow-start"))
        hand.walk(lambda _: False)
    hand.press(question(hand.page).locator(".q-done"))
    expect(question(hand.page).locator(".q-done")).to_contain_text("On the job sheet")


def set_the_lash(hand: Hand) -> None:
    """Without a network: the plan from the card alone, the gaps one by one, and a reload between them."""
    hand.context.set_offline(True)
    plan = hand.ask("lash", PLAN)
    hand.enter(PLAN, {}, {"crank_rotation": "clockwise"})  # the layout knows the rest, and the card the gaps
    expect(plan.locator(".q-headline")).to_contain_text("4 stops of 180°")
    hand.look(plan.locator(".q-headline"))
    found = hand.ask("the gaps", FOUND)
    hand.press(found.locator(".q-one-by-one"))
    pad = hand.page.locator("dialog.bench-pad")
    expect(pad.locator(".pad-thing")).to_have_text("Cylinder 1")  # neither gap nor cylinders are asked for again
    hand.read(pad, ["0.10", "0.15", "0.12", "0.17"])
    hand.page.reload()
    hand.task = "after the reload"
    found = question(hand.page, FOUND)
    expect(found).to_have_attribute("data-state", "lacking")
    hand.press(found.locator(".q-one-by-one"))
    hand.task = "the gaps"
    expect(pad.locator(".pad-thing")).to_have_text("Cylinder 3")
    hand.read(pad, ["0.12", "0.20", "0.11", "0.17"])
    expect(pad.locator(".pad-thing")).to_have_text("Screw pitch")  # the rest, where it is needed
    hand.read(pad, ["1", "1.1"])
    expect(pad.locator(".pad-thing")).to_have_text("Change by the lock-nut")  # optional
    hand.press(pad.get_by_role("button", name="Stop here"))
    found.locator('[name="adjuster_end"]').select_option("valve")
    expect(found).to_have_attribute("data-state", "yours")
    hand.press(found.locator(".q-done"))
    expect(found.locator(".q-done")).to_contain_text("On the job sheet")
    hand.context.set_offline(False)


def another_tab_with_its_clock_put_back(hand: Hand) -> None:
    other = hand.tab()
    other.goto(hand.address + page_of(FOUND))
    expect(question(other, FOUND)).to_have_attribute("data-state", "yours")
    other.evaluate(f"(...arguments) => {{ {CLOCK.replace('arguments[0]', '-3')} }}")
    one = question(other, FOUND)
    if one.locator(".q-form").is_hidden():
        one.locator(".q-change").click()
    one.locator('[name="exhaust_found.3"] ~ [data-part]').first.fill("0.21")
    expect(hand.page.locator(f'bench-question[name="{FOUND}"] [name="exhaust_found.3"]')).to_have_value("0.21")
    other.close()
    hand.page.reload()
    expect(question(hand.page, FOUND)).to_have_attribute("data-state", "yours")
    assert kept_job(hand.page)["readings"]["exhaust_gap_found.3"]["text"] == "0.21"


def seal(hand: Hand) -> None:
    hand.ask("sealing", CLOSING)
    hand.enter(CLOSING, {"open_time": "10", "cure": "12"})
    hand.press(question(hand.page, CLOSING).locator(".bench-clock").last)
    expect(hand.page.locator(".bench-clock-line")).to_have_count(1)


def first_start(hand: Hand) -> None:
    hand.begin("first start", START)
    expect(question(hand.page, PRESSURE)).to_have_attribute("data-state", "lacking")
    hand.press(hand.page.locator("button.bench-resume"))
    led = hand.page.locator("dialog.bench-led")
    while "all steps" not in (place := led.locator(".bench-follow-stage").text_content() or ""):
        if led.locator(".bench-led-read").count():
            hand.press(led.locator(".bench-led-read"))
            continue
        if "step 7 of" in place and question(hand.page, PRESSURE).get_attribute("data-state") == "lacking":
            hand.press(led.locator(".bench-led-now"))
            one = question(hand.page, PRESSURE)
            for key, text in {
                "idle_speed": "850",
                "pressure_idle": "1",
                "pressure_hot": "2.5",
                "pressure_speed": "2500",
            }.items():
                hand.write(one.locator(f'[name="{key}"]'), text)
            expect(one).to_have_attribute("data-state", "yours")
            hand.press(one.locator(".q-sheet-done"))
            expect(led).to_be_visible()
        while hand.by_keys and led.locator(".bench-led-body").evaluate(BELOW):
            hand.press(led.locator(".bench-follow-next"))  # what is not on the screen yet is shown first
        if led.locator(".bench-follow-stage").text_content() == place:
            hand.press(led.locator(".bench-follow-next"))
        expect(led.locator(".bench-follow-stage")).not_to_have_text(place)
    hand.page.evaluate("addEventListener('bench-back', () => (window.hasLeft = true))")
    hand.press(led.get_by_role("button", name="Stop here"))
    hand.page.wait_for_function("() => window.hasLeft")  # a way back under way ends any other


def hand_over(hand: Hand) -> dict[str, str]:
    """Fill in whose it is, and return what each sheet says that is printed."""
    hand.begin("handover", "/job/")
    for label, text in {"Owner": "R. Tide", "Vehicle": "Old van", "Who works now": "A. Holm"}.items():
        box = hand.page.locator("bench-job").get_by_label(label, exact=True).first
        hand.write(box, text)
        box.blur()
    hand.page.evaluate(
        "() => void (window.print = () => (window.printed = document.querySelector('.bench-paper').innerText))"
    )
    papers = {}
    for name in ("measuring", "strip", "handover"):
        hand.page.evaluate("window.printed = ''")
        hand.page.locator(f'[data-paper="{name}"]').dispatch_event("click")
        hand.page.wait_for_function("() => window.printed")
        papers[name] = hand.page.evaluate("window.printed").replace("\u00a0", " ")
        hand.page.evaluate("dispatchEvent(new Event('afterprint'))")
    return papers


TASKS: dict[Callable[[Hand], None], str] = {
    begin_a_card: "keys",
    keep_for_offline: "",
    tighten: "touch",
    set_the_lash: "keys",
    another_tab_with_its_clock_put_back: "",
    seal: "touch",
    first_start: "keys",
}
"""What is done, and how where each task has one turn; who has time does it all by either."""


@pytest.mark.parametrize("way", ["touch", "keys"] if IS_WIDE else ["by turns"])
def test_a_whole_job_in_a_third_of_what_it_took(hand, said, way):
    for task, turn in TASKS.items():
        hand.by_keys = (turn if way == "by turns" else way) == "keys"
        task(hand)
    papers = hand_over(hand)
    told = papers["handover"]
    for words in (NAME, "R. Tide", "28 lbf·ft", "0.12", "First start", "Still open"):
        assert words in told, (words, told)
    for name, text in papers.items():
        assert not [example for example in EXAMPLES if example in text], name
        assert "example" not in text.lower(), name
    for task, count in hand.counts.items():
        said(f"whole job, by {way.removeprefix('by ')}, {task}: {count}")
    assert [name for name, times in hand.typed.items() if times > 1] == []
    for task, once in ONCE.items():
        took = hand.counts[task]
        for what, much in once.items():
            now = len(took.boxes) if what == "boxes" else getattr(took, what)
            assert now <= much * SHARE, (task, what, now, much)
