"""The outside checks, worked out by the browser's Python from the built site."""

import json

import pytest
from playwright.sync_api import expect

from scripts import check_list
from tests.site.conftest import (
    PHONE,
    ROOT,
    fresh,
    went,
)

PAGES = sorted(path.stem for path in (ROOT / "docs" / "reference").glob("checks-of-*.md"))
BUTTON = "Work them out on this device"
ROWS = "tr[data-check]"


def test_all_checks_agree_in_the_browser_s_python(open_page):
    page = open_page("/reference/sources-and-checks/")
    page.get_by_role("button", name=BUTTON).click()
    told, count = page.locator("bench-checks").get_by_role("status"), len(check_list.checks())
    expect(told).to_contain_text(f"{count} of {count} agree with their source on this device.", timeout=120_000)
    expect(told).to_contain_text(", 0 different.")


def test_every_check_has_its_row(open_page):
    page, found = open_page("/reference/sources-and-checks/"), []
    for name in PAGES:
        went(page, f"/reference/{name}/")
        found += page.locator(ROWS).evaluate_all("rows => rows.map((row) => Number(row.dataset.check))")
    assert sorted(found) == list(range(len(check_list.checks())))


def wrong_first(route):
    first, *others = [check.message() for check in check_list.checks()]
    wrong = [first | {"expected": -1, "host": -1}, *others]
    route.fulfill(body=f"export default {json.dumps(wrong)}", content_type="text/javascript")


@pytest.fixture(scope="module")
def wrong_there(browser, address):
    """A page on which the first check is wrong, whatever page of checks it goes to."""
    context = fresh(browser)
    page = context.new_page()
    page.route("**/checks.js", wrong_first)
    page.goto(f"{address}/start/safety/")
    yield page
    context.close()


@pytest.mark.parametrize("name", PAGES)
def test_a_page_s_rows_say_how_they_come_out_here(wrong_there, name):
    page = wrong_there
    went(page, f"/reference/{name}/")
    rows, told = page.locator(ROWS), page.locator("bench-checks").get_by_role("status")
    wrong = page.locator(f'{ROWS}[data-check="0"]').count()
    page.get_by_role("button", name=BUTTON).click()
    expect(told).to_contain_text(f", {wrong} different.", timeout=120_000)
    expect(page.locator(f"{ROWS}[data-here=same]")).to_have_count(rows.count() - wrong)
    expect(page.locator("bench-checks li")).to_have_count(wrong)
    # what is different is in sight, whatever was folded
    assert page.locator(f"{ROWS}[data-here=different]").evaluate_all("all => all.every(one => one.checkVisibility())")
    assert page.locator("details.fold[open]").count() == wrong


FOLDED = 6_000
"""Pixels on a phone: eight screens."""


@pytest.fixture(scope="module")
def plain(browser, address):
    context = browser.new_context(java_script_enabled=False)
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("name", PAGES)
def test_a_page_of_checks_is_a_fold_a_subject_and_whole_on_paper_and_without_scripts(
    same_page, plain, address, said, name
):
    page = same_page(f"/reference/{name}/", PHONE)
    height = page.evaluate("document.documentElement.scrollHeight")
    said(f"/reference/{name}/: {height} px, folded")
    assert height <= FOLDED
    assert page.locator("details.fold").count() >= 4
    assert page.locator("details.fold[open]").count() == 0
    small = "all => all.filter(one => one.getBoundingClientRect().height < 47.9).length"
    assert page.locator("details.fold > summary").evaluate_all(small) == 0
    counted = page.locator("details.fold small").all_text_contents()
    folds = page.locator("details.fold").all()
    assert counted == [str(fold.locator(ROWS).count()) for fold in folds]
    hidden = "all => all.filter(one => !one.checkVisibility({ contentVisibilityAuto: true })).length"
    page.emulate_media(media="print")
    expect(page.locator(ROWS).last).to_be_visible()
    assert page.locator(ROWS).evaluate_all(hidden) == 0
    page.emulate_media(media="screen")
    plain.goto(f"{address}/reference/{name}/")
    assert plain.locator(ROWS).count() > 30
    assert plain.locator(ROWS).evaluate_all(hidden) == 0


def test_a_link_to_a_subject_opens_its_checks(open_page):
    page = open_page("/reference/checks-of-torque/#wrench-marks", PHONE)
    expect(page.locator("#wrench-marks")).to_be_in_viewport()
    assert page.locator("details.fold[open] h2").evaluate_all("all => all.map(one => one.id)") == ["wrench-marks"]
