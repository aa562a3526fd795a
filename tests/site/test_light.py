"""A page carries what it needs, nothing in it moves, and the next one is quickly there."""

from __future__ import annotations

import importlib.metadata
import re
import statistics
from pathlib import Path

import pytest
from playwright.sync_api import expect

from scripts import bounds, needed_styles
from tests.processor import slowness
from tests.site.conftest import PHONE, until
from tests.site.test_start import fetched

THEME = Path(
    str(importlib.metadata.distribution("mkdocs-material").locate_file("material/templates/assets/stylesheets"))
)
_LASTS_NOT = r":(before|after|hover|active|focus[\w-]*|target|checked|disabled|-webkit[\w-]*)(?![\w-])"
NOT_LASTING = re.compile(rf":not\({_LASTS_NOT}\)|::[\w-]+|{_LASTS_NOT}")
"""What depends on a hand or a moment; the rest of a selector tells whether there is anything that it could match."""


def named(html: str = "", script: str = "") -> needed_styles.Named:
    found = needed_styles.Named()
    found.in_page(html)
    found.in_script(script)
    return found


@pytest.mark.parametrize(
    ("selector", "is_kept"),
    [
        (".here", True),
        (".away", False),
        (".here.away", False),
        (".here > a:hover::before", True),
        (".here .made-later", True),
        ("#place", True),
        ("#nowhere", False),
        ("video", False),
        ("a[data-x]", True),
        ("a[data-y]", False),
        ("[dir=ltr] .here", True),
        ("[dir=rtl] .here", False),
        (".here:not(.away)", True),  # matches because nothing is called so
        (".here:is(.away, .here)", True),
        (".here:is(.away, .far)", False),
        (".here:where(.away) a", False),
        (".md-annotation", False),  # the theme's script has the word; no page has what it makes it of
        (r".a\:b", True),
    ],
)
def test_a_selector_stays_if_each_of_its_parts_is_named_somewhere(selector, is_kept):
    found = named('<body dir="ltr"><a class="here a:b" id="place" data-x="1">', "x = 'made-later md-annotation rtl'")
    assert found.has(selector) == is_kept


def test_a_stylesheet_keeps_its_order_and_loses_what_nothing_uses():
    sheet = """@charset "UTF-8"; .here, .away { color: red; --used: 1; --idle: url("data:x;{}") } .away { x: y }
        @media print { .away { x: y } } @media print { .here { top: var(--used); animation: turn 1s } }
        @keyframes turn { to { x: y } } @keyframes idle { to { x: y } } .here::before { content: "} .away {" }"""
    assert needed_styles.needed(sheet, named('<a class="here">'), "") == (
        '@charset "UTF-8";.here{color: red;--used: 1}@media print{.here{top: var(--used);animation: turn 1s}}'
        '@keyframes turn{ to { x: y } }.here::before{content: "} .away {"}'
    )


def test_a_stylesheet_is_packed_without_a_change_of_its_meaning():
    sheet = (
        "/* 'why' */ a :hover , b > c { content: \"a ;  b\" ; margin: 0 1px;\n}\n@media (min-width: 3px) { d { e: f } }"
    )
    packed = 'a :hover,b > c{content:"a ;  b";margin:0 1px}@media (min-width:3px){d{e:f}}'
    assert needed_styles.packed(sheet).strip() == packed


MATCHING = """
async ([pages, selectors]) => {
  const found = [];
  const look = (of, page) => {
    for (const one of selectors) if (page.querySelector(one)) found.push(`${of}: ${one}`);
  };
  for (const page of pages) look(page, new DOMParser().parseFromString(await (await fetch(page)).text(), "text/html"));
  look("as it stands", document);
  return found;
}
"""


def test_what_is_left_out_of_the_themes_styles_matches_nothing_in_the_book(open_page, site):
    whole = "".join(next(THEME.glob(f"{name}.*.css")).read_text(encoding="utf-8") for name in ("main", "palette"))
    lean = next(site.glob("assets/stylesheets/main.*.css")).read_text(encoding="utf-8")
    left_out = needed_styles.dropped(whole, lean)
    assert len(left_out) > 800
    plain = sorted({re.sub(r"^(?=>|$)", "*", NOT_LASTING.sub("", one)) for one in left_out})
    pages = [f"/{path.relative_to(site).as_posix()}" for path in sorted(site.rglob("*.html"))]
    page = open_page("/work-it-out/torque/")
    page.locator(".md-search__input").fill("stud")
    page.locator(".md-search__input").press("End")  # the theme listens to keys
    expect(page.locator(".md-search-result__item").first).to_be_visible()
    assert page.evaluate(MATCHING, [pages, plain]) == []


def test_the_search_is_fetched_when_the_reader_heads_for_it(open_page):
    page = open_page("/start/safety/")
    page.wait_for_load_state("networkidle")
    assert not fetched(page, "/search")
    page.locator(".md-search__input").hover()
    until(page, lambda: len(fetched(page, "/search")) >= 1)
    page.locator(".md-search__input").fill("stud")
    page.locator(".md-search__input").press("End")  # the theme listens to keys
    expect(page.locator(".md-search-result__item").first).to_be_visible()


@pytest.mark.parametrize("path", bounds.PAINTED)
def test_nothing_moves_when_the_scripts_come_after_the_page_is_painted(open_page, address, path):
    page, held = open_page(None, PHONE), []
    page.add_init_script(f"({bounds.FOLLOW})()")
    page.route("**/bench.js", lambda route: held.append(route))
    page.goto(f"{address}/{path}", wait_until="commit")
    until(page, lambda: held and page.evaluate("seen.paint"))
    page.evaluate("() => new Promise((shown) => requestAnimationFrame(() => requestAnimationFrame(shown)))")
    for route in held:
        route.continue_()
    expect(page.locator("bench-offline")).not_to_be_empty()
    page.wait_for_load_state("networkidle")
    assert page.evaluate("seen.shift") == 0


def test_the_shut_parts_of_the_menu_cost_nothing_and_open(open_page):
    page = open_page("/start/safety/", PHONE)
    menu = page.locator(".md-sidebar--primary")
    link = menu.locator("a", has_text="Set valve lash")
    is_laid_out = "(one) => one.checkVisibility() && one.getClientRects().length > 0"
    assert not link.evaluate(is_laid_out)
    page.locator('.md-header label[for="__drawer"]').click()
    menu.locator("label.md-nav__title", has_text="Start").first.click()  # up, to the stages
    menu.locator("label.md-nav__link", has_text="Build").click()
    link.click()
    expect(page.locator("h1")).to_contain_text("Set the valve lash")


def test_a_press_in_the_menu_costs_a_tenth_of_a_second_of_the_processor_at_most(open_page, address):
    page = open_page("/work-it-out/torque/")
    metrics = page.context.new_cdp_session(page)
    metrics.send("Performance.enable", {"timeDomain": "threadTicks"})
    taken = []
    page.evaluate("() => (window.requestIdleCallback = (deed) => setTimeout(deed)) && undefined")
    for path in bounds.TOUR:
        page.evaluate(bounds.AT_REST)
        before = bounds.thread(metrics)
        page.evaluate(bounds.GO, path)
        taken.append(bounds.thread(metrics) - before)
    assert statistics.median(taken) < 0.1 * slowness()
