"""The outside checks, worked out by the browser's Python from the built site."""

import json

import pytest
from playwright.sync_api import expect

from scripts import check_list
from tests.site.conftest import ROOT

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
        page.goto(f"{page.url.rpartition('/reference/')[0]}/reference/{name}/")
        found += page.locator(ROWS).evaluate_all("rows => rows.map((row) => Number(row.dataset.check))")
    assert sorted(found) == list(range(len(check_list.checks())))


def wrong_first(route):
    first, *others = [check.message() for check in check_list.checks()]
    wrong = [first | {"expected": -1, "host": -1}, *others]
    route.fulfill(body=f"export default {json.dumps(wrong)}", content_type="text/javascript")


@pytest.mark.parametrize("name", PAGES)
def test_a_page_s_rows_say_how_they_come_out_here(open_page, name):
    page = open_page(f"/reference/{name}/")
    rows, told = page.locator(ROWS), page.locator("bench-checks").get_by_role("status")
    wrong = page.locator(f'{ROWS}[data-check="0"]').count()
    page.route("**/checks.js", wrong_first)
    page.get_by_role("button", name=BUTTON).click()
    expect(told).to_contain_text(f", {wrong} different.", timeout=120_000)
    expect(page.locator(f"{ROWS}[data-here=same]")).to_have_count(rows.count() - wrong)
    expect(page.locator("bench-checks li")).to_have_count(wrong)
