"""What is done once a head: its steps are ticked for each, and its hidden screws belong to it."""

from playwright.sync_api import expect

from tests.site.conftest import (
    PHONE,
    went,
)
from tests.site.test_book import PAGES

HEAD = "/build/tighten-a-head-down/"


def test_the_hidden_screws_belong_to_the_head_and_are_only_checked_behind_the_manifold():
    steps = PAGES["build/tighten-a-head-down.md"].partition("## Steps")[2]
    first, tight, confirm = (
        steps.index(words) for words in ("Inspect the studs, count", "Tighten the screws", "Confirm.")
    )
    assert first < steps.index("snug with the short arm") < tight < confirm
    assert "[[torques.head_cap_screw]]" in PAGES["build/tighten-a-head-down.md"]
    manifold = PAGES["refit/manifolds-and-carburettors.md"]
    assert "tighten-a-head-down.md" in manifold
    assert "[[torques.head_cap_screw]]" not in manifold


def test_the_steps_of_the_page_are_ticked_head_by_head(open_page):
    page = open_page(HEAD, PHONE)
    heads, boxes = page.locator(".bench-heads"), page.locator(".bench-done input")
    for place in range(4):
        boxes.nth(place).check()
    heads.get_by_text("Head 2").click()
    expect(page.locator(".bench-done :checked")).to_have_count(0)
    expect(boxes.first).to_have_attribute(
        "aria-label", "Head 2, step 1 done: Read the maker's figure and its conditions"
    )
    boxes.first.check()
    heads.get_by_text("Head 1").click()
    expect(page.locator(".bench-done :checked")).to_have_count(4)
    page.reload()
    expect(page.locator(".bench-done :checked")).to_have_count(1)  # where the reader was: on head 2
    expect(heads.get_by_label("Head 2")).to_be_checked()
    went(page, "/")
    expect(page.locator(".bench-next-at")).to_contain_text("head 2, step 2 of 15")
    went(page, "/job/")
    expect(page.locator("#done + ul li").filter(has_text="Tighten a head down, head 1: 4 of 15")).to_have_count(1)
    page.locator("#job-card").select_option("layout-single")
    went(page, HEAD)
    expect(page.locator(".bench-done input").first).to_be_visible()
    expect(heads).to_be_hidden()
