"""The outside checks, worked out by the browser's Python from the built site."""

import re

from playwright.sync_api import expect

from scripts import check_list


def test_all_checks_agree_in_the_browser_s_python(open_page):
    page = open_page("/reference/sources-and-checks/")
    count = len(check_list.checks())
    expect(page.locator("tr[data-check]")).to_have_count(count)
    page.get_by_role("button", name="Work them all out on this device").click()
    told = page.locator("bench-checks").get_by_role("status")
    expect(told).to_contain_text(f"{count} of {count} agree with their source on this device.", timeout=120_000)
    expect(told).to_contain_text(re.compile(r", 0 different\.$"))
    expect(page.locator(".bench-check-agrees")).to_have_count(count)


def test_a_check_that_differs_is_shown(open_page):
    page = open_page("/reference/sources-and-checks/")
    row = page.locator("tr[data-check]").first
    row.evaluate(
        "row => row.dataset.check = JSON.stringify({...JSON.parse(row.dataset.check), expected: -1, host: -1})"
    )
    page.get_by_role("button", name="Work them all out on this device").click()
    expect(row).to_have_class(re.compile("bench-check-differs"), timeout=120_000)
    expect(page.locator("bench-checks").get_by_role("status")).to_contain_text("1 different", timeout=120_000)
