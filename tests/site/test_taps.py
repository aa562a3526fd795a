"""From home to what is wanted, counted: each tap of a finger, each number typed. The run prints the table."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

import pytest
from playwright.sync_api import Locator, Page, expect

from calculators.bench.question import questions
from tests.site.conftest import PHONE
from tests.site.own_card import choose, facts
from tests.site.test_book import PROCEDURES

TWO_SCREENS = 2 * PHONE[1]
WRENCH, PLAN = "#q-torque-wrench", "#q-lash-plan"


@dataclass
class Hand:
    """A hand that counts what it does; a page may be scrolled, which is no tap."""

    page: Page
    taps: int = 0
    numbers: list[str] = field(default_factory=list)

    def tap(self, what: Locator) -> None:
        what.tap()
        self.taps += 1

    def choose(self, box: Locator, what: str) -> None:
        box.select_option(what)
        self.taps += 2  # one opens the list, one chooses

    def type(self, box: Locator, number: str) -> None:
        """Type into the box that has the keyboard already; any other takes a tap first."""
        if not box.evaluate("one => one === document.activeElement"):
            self.tap(box)
        self.page.keyboard.type(number)
        self.numbers.append(number)


@pytest.fixture
def at_home(open_page):
    """Give a hand at home, on a phone, in whose job is the card of the reader's own engine."""

    def stands(lacking: tuple[str, ...] = (), **values: str) -> Hand:
        page = open_page("/", PHONE, has_touch=True)
        choose(page, facts(lacking, **values))
        page.reload()
        return Hand(page)

    return stands


@pytest.fixture
def row(said):
    """Note one row of the table."""
    return lambda words, hand: said(f"from home to {words:58} {hand.taps} taps, {len(hand.numbers)} numbers")


IN_POUNDS = {f"torques__{name}": "20 lbf·ft" for name in facts()["torques"] if name != "cylinder_head"}


@pytest.mark.parametrize(
    ("unit", "book", "most"),
    [("N·m", {}, 4), ("lbf·ft", IN_POUNDS, 4), ("lbf·ft", {}, 6)],
    ids=["newton metres", "book in pounds", "book in newton metres"],
)
def test_the_first_nut_and_its_setting_are_four_taps_and_one_number_away(at_home, row, unit, book, most):
    """The number is the final torque, which this card lacks; in another unit than the book's, that is chosen."""
    hand = at_home(lacking=("torques.cylinder_head",), **book)
    page = hand.page
    hand.tap(page.locator(".bench-map").get_by_text("6·4").first)
    question = page.locator(WRENCH)
    expect(question.locator(".q-change")).to_have_text("Enter your readings")
    hand.tap(question.locator(".q-change"))
    box = question.locator("[name=target]")
    expect(box).to_be_focused()
    hand.type(box, "25")
    if question.locator("[data-unit-of=target]").input_value() != unit:
        hand.choose(question.locator("[data-unit-of=target]"), unit)
    expect(question.locator("[data-unit-of=graduation]")).to_have_value(unit)
    expect(question.locator(".q-sheet-answer")).to_contain_text(unit)
    hand.tap(question.get_by_role("button", name="Done", exact=True))
    hand.tap(question.locator(".bench-follow-start").first)
    expect(page.locator(".bench-follow-large")).to_have_text(re.compile(rf"B · 8\s{unit}"))  # a third of 25
    row(f"the first nut and its setting ({unit}{', book in N·m' if most > 4 else ''})", hand)
    assert hand.numbers == ["25"]
    assert hand.taps <= most


def test_the_lash_plan_is_three_taps_away(at_home, row):
    hand = at_home()
    page = hand.page
    hand.tap(page.get_by_role("link", name="Work it out").first)
    hand.tap(page.get_by_role("navigation", name="Parts of the engine").get_by_role("link", name="Valve gear"))
    hand.tap(page.get_by_role("link", name=questions()["lash.plan"].asks))
    plan = page.locator(PLAN)
    expect(plan.locator(".q-headline")).to_be_in_viewport()
    expect(plan.locator(".q-headline")).not_to_be_empty()
    row("the lash plan", hand)
    assert hand.taps <= 3
    assert not hand.numbers


def test_the_first_stop_of_the_lash_plan_is_three_taps_away(at_home, row):
    hand = at_home()
    page = hand.page
    hand.tap(page.get_by_role("navigation", name="Stages of the job").get_by_role("link", name="Build"))
    hand.tap(page.locator(".bench-doors").get_by_role("link", name="Set valve lash"))
    hand.tap(page.locator(f"{PLAN} .bench-follow-start").first)
    expect(page.locator(".bench-follow")).to_be_visible()
    row("the first stop of the lash plan, in the procedure", hand)
    assert hand.taps <= 3


def test_step_1_of_every_procedure_is_one_tap_and_two_screens_away(open_page, said):
    """On a phone, without scripts too; by its stage it is two taps and no scrolling of home.

    Each door of home can be tapped; one of each stage is gone through. How far down step 1 stands on each of these
    pages holds `test_step_1_of_every_procedure_begins_within_two_screens`.
    """
    page = open_page("/", PHONE, java_script_enabled=False, has_touch=True)
    doors = page.locator(".bench-doors a:visible").evaluate_all("all => all.map(one => one.pathname.slice(1))")
    wanted = [f"{path.removesuffix('.md')}/" for path in PROCEDURES]
    assert not set(wanted) - set(doors)
    for path in wanted:
        page.locator(f'.bench-doors a[href="{path}"]').tap(trial=True)
    home = page.url
    tops = {}
    for path in {path.partition("/")[0]: path for path in wanted}.values():
        page.goto(home)
        hand = Hand(page)
        hand.tap(page.locator(f'.bench-doors a[href="{path}"]'))
        page.wait_for_url(f"**/{path}")
        tops[path] = page.locator("#steps ~ ol > li").first.bounding_box()["y"]
        assert hand.taps == 1
    assert len(tops) >= 6
    said(f"from home to step 1 of any of {len(wanted)} procedures: 1 tap, then some {max(tops.values()):.0f} px down")
    assert not {path: top for path, top in tops.items() if top > TWO_SCREENS}


def test_a_stage_of_home_shows_its_procedures_at_one_tap(open_page):
    page = open_page("/", PHONE, has_touch=True)
    stages = page.get_by_role("navigation", name="Stages of the job").get_by_role("link")
    assert stages.count() == 8
    for stage in range(8):
        page.evaluate("scrollTo({ top: 0, behavior: 'instant' })")
        stages.nth(stage).tap()
        expect(page.locator(f"#stage-{stage + 1} a").first).to_be_in_viewport(ratio=1)
        assert page.locator(f"#stage-{stage + 1} a").first.bounding_box()["y"] < PHONE[1] / 2


@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no-scripts"])
def test_what_is_for_who_hosts_or_checks_stands_at_the_foot_of_every_page_and_not_in_the_menu(open_page, scripts):
    page = open_page("/", PHONE, java_script_enabled=scripts)
    for path in ("/", "/build/tighten-a-head-down/", "/work-it-out/torque/", "/reference/glossary/", "/hosting/"):
        page.goto(page.url.partition("/")[0] + "//" + page.url.split("/")[2] + path)
        foot = page.get_by_role("navigation", name="About this book").get_by_role("link")
        assert foot.all_inner_texts() == ["Sources and checks", "Host a copy", "Diagnostics"]
        for link in foot.all():
            assert link.bounding_box()["height"] >= 48
        menu = page.locator(".md-nav--primary a").evaluate_all("all => all.map(one => one.pathname)")
        assert len(menu) > 60
        assert not [
            one for one in menu if any(word in one for word in ("hosting", "-checks/", "checks-of", "diagnostics"))
        ]
    foot.nth(1).click()
    expect(page.locator("h1")).to_contain_text("Host a copy")
