"""From a burette to pushrods over pages of their own: what one question works out, the next goes on with."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.site.conftest import (
    PHONE,
    fill,
    kept_job,
    question,
    went,
)

ROOMS = {"measuring": "/work-it-out/measuring/", "compression": "/work-it-out/compression/"}
SQUARE = {"bore": "86", "stroke": "86", "cylinders": "2"}


def measured(page: Page) -> None:
    """Type a chamber and decks: 46.776 cm³ and 1 mm of 86 mm bore make 10.5 : 1."""
    went(page, ROOMS["measuring"])
    fill(page, "measuring.chambers", cylinders="2")
    fill(page, "measuring.chambers", fill__1="46.776 46.776", fill__2="46.776 46.776")
    went(page, ROOMS["compression"])
    fill(page, "compression.ratio", **SQUARE)
    fill(page, "compression.ratio", deck__1="1", deck__2="1", spacer__1="0", spacer__2="0")


def test_one_burette_reading_changes_all_that_rests_on_it_on_every_page(same_page, address):
    """Identity: 86 × 86 sweeps 499.557 cm³, and a millimetre of the bore is 5.809 cm³."""
    page = same_page("/job/", PHONE)
    page.locator("#job-card").select_option("layout-v-twin-90")  # no example speaks
    measured(page)
    ratio = question(page, "compression.ratio")
    expect(ratio.locator(".q-whose").first).to_have_text("Worked out from your readings")
    expect(ratio.locator(".q-headline").first).to_contain_text("10.5")
    expect(ratio.locator('[data-box="chamber.1"] .q-from')).to_contain_text("worked out: ")
    assert not [path for path in kept_job(page)["readings"] if path.startswith("chamber")]  # nothing is kept of it
    other = page.context.new_page()
    other.goto(address + ROOMS["measuring"])
    fill(other, "measuring.chambers", fill__1="49.680 49.680")
    expect(ratio.locator(".q-headline").first).to_contain_text(re.compile(r"10\.0\d"))  # 555.046 ÷ 55.489
    fill(page, "compression.ratio", chamber__1="46.776")  # what is typed goes before
    expect(ratio.locator(".q-headline").first).not_to_contain_text("10.0")
    fill(other, "measuring.chambers", fill__2="about fifty")
    expect(ratio.locator(".q-whose").first).to_contain_text(re.compile("Still needed|Look again"))
    expect(ratio.locator(".q-headline").first).to_be_empty()


def test_what_rests_on_the_example_is_no_reading_and_says_so(same_page):
    page = same_page(ROOMS["measuring"])
    fill(page, "measuring.chambers", fill__1="51.3")
    went(page, ROOMS["compression"])
    ratio = question(page, "compression.ratio")
    expect(ratio.locator(".q-whose").first).to_contain_text("xample")
    expect(ratio.locator(".q-done")).to_have_count(0)
    assert set(kept_job(page)["readings"]) == {"measuring.chambers.fill.1"}
