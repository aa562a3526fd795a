"""A card of the reader's own from a layout and five facts."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.site.conftest import (
    PHONE,
    fill,
    kept_job,
    question,
    says,
    went,
)

CARD, TORQUE = "/job/engine-card/", "/work-it-out/torque/"
LONG_FORM = (48, 137)
"""Screens and boxes of the form with every fact, as it was measured at 360 × 740."""


def opened(page: Page):
    fold = page.locator(".bench-begin")
    fold.locator("summary").click()
    return fold


def test_a_layout_and_five_facts_are_a_card_that_the_first_questions_take(same_page, said):
    page = same_page(CARD, PHONE)
    fold = opened(page)
    boxes = fold.locator("input, select").count()
    screens = fold.bounding_box()["height"] / PHONE[1]
    said(f"a card begun: {boxes} boxes, {screens:.1f} screens at 360 × 740")
    assert boxes <= LONG_FORM[1] / 3
    assert screens <= LONG_FORM[0] / 3
    assert fold.locator("#bench-begin-layout option").all_inner_texts()[:5] == [
        "flat four, 1-3-2-4",
        "flat four, 1-4-3-2",
        "flat six, 1-4-5-2-3-6",
        "flat six, 1-6-2-4-3-5",
        "flat twin",
    ]
    fold.get_by_label("Name of the engine").fill("Curlew F2")
    fold.get_by_label("Layout and firing order").select_option("layout-flat-twin")
    fold.get_by_label("Bore", exact=True).fill("78.5")
    fold.get_by_label("Stroke", exact=True).fill("2.75 in")  # brings its own unit
    fold.get_by_label("Torque of the head nuts", exact=True).fill("22")
    fold.get_by_label("Unit of Torque of the head nuts").select_option("lbf·ft")
    fold.get_by_label("Where Torque of the head nuts is from").select_option("told")
    fold.get_by_role("button", name="Make this the job’s card").click()
    expect(page.locator(".bench-status").first).to_contain_text("What else a question needs, it asks for.")
    card = kept_job(page)["card"]["data"]
    assert card["name"] == "Curlew F2"
    assert card["layout"]["firing_order"]["value"] == [1, 2]
    assert card["dimensions"]["bore"] == {"value": "78.5 mm", "source": "maker’s book"}
    assert card["dimensions"]["stroke"]["value"] == "2.75 in"
    assert card["torques"]["cylinder_head"] == {"value": "22 lbf·ft", "source": "told"}
    assert "clearances" not in card  # never the example's
    went(page, TORQUE)
    expect(question(page).locator(".q-whose").first).to_contain_text("Still needed")  # asked for where it is needed
    fill(page, pattern="4", graduation="1 lbf·ft")
    expect(says(page)).to_contain_text("22 lbf·ft")  # in the unit of the card’s torques
    expect(question(page)).to_have_attribute("data-state", "yours")


def test_what_is_wrong_stands_beside_its_row_and_no_card_is_made(same_page):
    page = same_page(CARD, PHONE)
    fold = opened(page)
    fold.get_by_label("Name of the engine").fill("Curlew F2")
    fold.get_by_label("Bore", exact=True).fill("80 N·m")
    fold.get_by_role("button", name="Make this the job’s card").click()
    row = fold.locator('[data-field="dimensions.bore"]')
    expect(row.locator(".bench-error")).not_to_be_empty()
    expect(row.locator("input")).to_be_focused()
    expect(page.locator(".bench-status").first).to_contain_text("It is not a card yet")
    assert "data" not in (kept_job(page) or {}).get("card", {})
    row.locator("input").fill("80")
    fold.get_by_role("button", name="Make this the job’s card").click()
    expect(page.locator("#bench-card-chosen option:checked")).to_have_text("Curlew F2 (this job’s own)")
