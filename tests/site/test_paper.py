"""Pages on paper: each procedure on two sheets of A4, legible, with nothing that only a screen can use."""

from __future__ import annotations

import io
import re

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from tests.examples import wide
from tests.site.conftest import fresh
from tests.site.test_book import PAGES, PROCEDURES

SMALLEST = 7.0
"""Points; smaller text is not read at the bench. Common practice, no source."""
BETWEEN_MARGINS = {"width": 703, "height": 1040}
"""A4 less its margins of 12 mm and 11 mm, at 96 dots an inch."""


@pytest.fixture(scope="module")
def sheet(browser, address) -> Page:
    return fresh(browser).new_page()


def opened(sheet: Page, address: str, page: str) -> None:
    sheet.goto(f"{address}/{page.removesuffix('.md')}/")
    expect(sheet.locator(".bench-not-running")).to_have_count(0)  # what scripts add is there
    if page in PROCEDURES:
        sheet.wait_for_selector(".bench-done", state="attached")


def printed(sheet: Page) -> PdfReader:
    return PdfReader(io.BytesIO(sheet.pdf(format="A4", prefer_css_page_size=True)))


def words_of(printed: PdfReader) -> str:
    return " ".join(" ".join(one.extract_text().split()) for one in printed.pages)


PAPERS = {"A4": (210 - 24, 297 - 22), "Letter": (216 - 24, 279 - 22)}
"""Millimetres between the margins of 12 mm and 11 mm."""


LOST = """
() => {
          const whole = document.documentElement.clientWidth;
          const look = (one) => getComputedStyle(one);
          const spans = (one) => one && (look(one).columnSpan === "all" || spans(one.parentElement));
          const wide = (table) => Math.max(...[...table.getClientRects()].map(({ width }) => width));
          const gap = (article) => parseFloat(look(article).columnGap);
          const room = (table) => {
            const article = table.closest(".md-typeset");
            return look(article).columnCount === "2" && !spans(table) ? (whole - gap(article)) / 2 : whole;
          };
          return [...document.querySelectorAll("article table")]
            .filter((table) => table.checkVisibility({ visibilityProperty: true }))
            .filter((table) => wide(table) > room(table) + 1 || table.getBoundingClientRect().right > whole + 1)
            .map((table) => `${table.textContent.trim().slice(0, 30)}: ${wide(table)} of ${room(table)}`);
}
"""


HAS_QUESTION = {page for page in PAGES if re.search("```(?:calculator|question)\\n", PAGES[page])}


PRINTED = sorted({*PROCEDURES} | HAS_QUESTION)
ONE_IN = 3
"""A change of how all print shows on so many of them; a longer text, which shows on its own page alone, waits."""


@pytest.mark.parametrize(
    "page", [pytest.param(page, marks=[wide] if at % ONE_IN else []) for at, page in enumerate(PRINTED)]
)
def test_prints_whole_on_two_sheets_or_three_with_a_calculators_answer(sheet, address, page):
    opened(sheet, address, page)
    if page in PROCEDURES:
        assert_prints_on_few_sheets(sheet, page)
    if page in HAS_QUESTION:
        assert_no_column_of_a_table_is_lost_at_the_right_edge(sheet)


def assert_prints_on_few_sheets(sheet: Page, page: str) -> None:
    pdf = printed(sheet)
    assert len(pdf.pages) <= (3 if page in HAS_QUESTION else 2)
    whole = words_of(pdf)
    for heading in ("When to stop and ask", "Steps", "What goes wrong", "Sources"):
        assert heading in whole
    for only_on_a_screen in ("Skip to content", "Untick all", "How this is worked out"):
        assert only_on_a_screen not in whole


def assert_no_column_of_a_table_is_lost_at_the_right_edge(sheet: Page) -> None:
    sheet.emulate_media(media="print")
    lost = {}
    for paper, sides in PAPERS.items():
        width, height = (round(side / 25.4 * 96) for side in sides)
        sheet.set_viewport_size({"width": width, "height": height})
        lost[paper] = sheet.evaluate(LOST)
    sheet.emulate_media(media="null")
    assert {paper: tables for paper, tables in lost.items() if tables} == {}


def test_the_cards_numbers_stand_on_the_sheet(sheet, address):
    opened(sheet, address, "build/tighten-a-head-down.md")
    assert "34 N·m (25.1 lbf·ft)" in words_of(printed(sheet))


@pytest.mark.parametrize("page", ["measure/compression-and-spacers", "inspect/valves", "strip/tag-and-keep-in-order"])
def test_nothing_on_the_sheet_is_too_small_or_cut_off(sheet, address, page):
    sheet.goto(f"{address}/{page}/")
    sheet.wait_for_selector(".bench-done", state="attached")
    sheet.emulate_media(media="print")
    sheet.set_viewport_size(BETWEEN_MARGINS)
    small, wide = sheet.evaluate(
        """least => {
          const shown = [...document.querySelectorAll("article :is(p, li, td, th, summary, figcaption)")]
            .filter((one) => one.checkVisibility({ visibilityProperty: true }) && one.textContent.trim());
          const words = (one) => one.textContent.trim().slice(0, 40);
          const points = (one) => parseFloat(getComputedStyle(one).fontSize) * 0.75;
          return [
            shown.filter((one) => points(one) < least).map(words),
            shown.filter((one) => one.scrollWidth > one.clientWidth + 1 && one.clientWidth).map(words),
          ];
        }""",
        SMALLEST,
    )
    sheet.emulate_media(media="null")
    assert small == []
    assert wide == []
