"""A map of nuts that is touched: it ticks what the list beside it ticks, in its order, or asks."""

from __future__ import annotations

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.site.conftest import (
    DESK,
    PHONE,
    form_of,
    question,
    resized,
    until,
    way_back,
)

TORQUE, TIGHTEN = "/work-it-out/torque/", "/build/tighten-a-head-down/"
ORDER = "BGCFAHDE"
"""The demonstration engine's, as its card has it."""


def nut(within: Locator, name: str) -> Locator:
    return within.locator(f'g[data-nut="{name}"] > .reach')


def map_of(page: Page) -> Locator:
    found = question(page).locator(".q-answer > .q-figure").first
    expect(nut(found, "B")).to_have_attribute("role", "button")
    return found


def box_of(page: Page, name: str, pass_: int = 1, head: int = 1) -> Locator:
    walk = question(page).locator(f'[data-walk="head_{head}"]')
    return walk.locator(f'[data-step^="pass_{pass_}_"][data-nut="{name}"]')


def test_a_touched_nut_is_ticked_in_its_pass_and_stays_so(same_page):
    page = same_page(TIGHTEN, PHONE)
    drawn = map_of(page)
    expect(drawn.locator(".bench-nuts-said")).to_have_text("Head 1, pass 1 of 3: B is next.")
    for at, name in enumerate(ORDER):
        if at % 4 == 0:
            resized(page, (DESK, PHONE)[at // 4])
        nut(drawn, name).click()
        expect(box_of(page, name)).to_be_checked()
        expect(box_of(page, name, 2)).not_to_be_checked()
    expect(drawn.locator(".bench-nuts-said")).to_have_text("Head 1, pass 1 of 3: S1 is next.")
    page.reload()
    expect(nut(map_of(page), "E")).to_have_attribute("aria-label", "Nut E, head 1, pass 1 of 3, done")
    page.get_by_label("Head 2", exact=True).check()
    expect(nut(map_of(page), "B")).to_have_attribute("aria-label", "Nut B, head 2, pass 1 of 3, to do, next")
    expect(box_of(page, "E")).to_be_checked()


def test_out_of_the_order_it_says_so_and_asks_and_so_it_does_before_a_tick_is_taken_back(same_page):
    page = same_page(TIGHTEN, PHONE)
    drawn = map_of(page)
    said, asked = drawn.locator(".bench-nuts-said"), drawn.locator(".bench-nuts-asked")
    nut(drawn, "C").click()
    expect(said).to_have_text("The order has B next. Tick C all the same?")
    expect(box_of(page, "C")).not_to_be_checked()
    asked.get_by_role("button", name="Leave it").click()
    expect(asked).to_be_hidden()
    expect(box_of(page, "C")).not_to_be_checked()
    nut(drawn, "C").click()
    asked.get_by_role("button", name="Tick C").click()
    expect(box_of(page, "C")).to_be_checked()
    expect(said).to_have_text("Head 1, pass 1 of 3: B is next.")
    nut(drawn, "C").click()
    expect(said).to_have_text("C is ticked in head 1, pass 1 of 3.")
    asked.get_by_role("button", name="Take the tick of C back").click()
    expect(box_of(page, "C")).not_to_be_checked()
    expect(nut(drawn, "C")).to_have_attribute("aria-label", "Nut C, head 1, pass 1 of 3, to do")


def test_the_map_is_worked_by_keys(same_page):
    page = same_page(TIGHTEN, PHONE)
    drawn = map_of(page)
    nut(drawn, "B").focus()
    page.keyboard.press("Enter")
    expect(box_of(page, "B")).to_be_checked()
    nut(drawn, "G").focus()
    page.keyboard.press("Space")
    expect(box_of(page, "G")).to_be_checked()
    nut(drawn, "D").focus()
    page.keyboard.press("Enter")
    expect(drawn.get_by_role("button", name="Tick D")).to_be_focused()
    page.keyboard.press("Enter")
    expect(box_of(page, "D")).to_be_checked()
    expect(nut(drawn, "D")).to_be_focused()


def overlap(one: dict, other: dict) -> bool:
    """Tell whether two boxes share more than the ring of the nut that is next."""
    across = min(one["x"] + one["width"], other["x"] + other["width"]) - max(one["x"], other["x"])
    down = min(one["y"] + one["height"], other["y"] + other["height"]) - max(one["y"], other["y"])
    return across > 2 and down > 2


@pytest.mark.parametrize("full_screen", [False, True], ids=["in its step", "full-screen"])
def test_each_nut_is_48_pixels_at_a_phone_and_none_lies_over_another(same_page, full_screen):
    page = same_page(TIGHTEN, PHONE)
    drawn = map_of(page)
    if full_screen:
        question(page).locator(".bench-follow-start").first.click()
        drawn = page.locator("dialog .bench-follow-drawing")
        expect(nut(drawn, "B")).to_have_attribute("role", "button")
    boxes = until(page, lambda: all(found := [nut(drawn, name).bounding_box() for name in ORDER]) and found)
    assert all(min(box["width"], box["height"]) >= 48 for box in boxes), boxes
    assert not [(one, other) for at, one in enumerate(boxes) for other in boxes[at + 1 :] if overlap(one, other)]
    if full_screen:
        with way_back(page):
            page.locator("dialog.bench-follow").get_by_role("button", name="Close").click()


def test_full_screen_the_map_goes_on_with_done_and_leaves_out_what_was_ticked_ahead(same_page):
    page = same_page(TIGHTEN, PHONE)
    map_of(page)
    question(page).locator(".bench-follow-start").first.click()
    dialog = page.locator("dialog.bench-follow")
    drawn, large = dialog.locator(".bench-follow-drawing"), dialog.locator(".bench-follow-large")
    expect(large).to_have_text("B · 11 N·m")
    expect(nut(drawn, "B")).to_have_attribute("aria-label", "Nut B, head 1, pass 1 of 3, to do, next")
    resized(page, DESK)
    nut(drawn, "B").click()
    expect(large).to_have_text("G · 11 N·m")
    expect(nut(drawn, "B")).to_have_attribute("aria-label", "Nut B, head 1, pass 1 of 3, done")
    nut(drawn, "C").click()
    expect(drawn.locator(".bench-nuts-said")).to_have_text("The order has G next. Tick C all the same?")
    drawn.get_by_role("button", name="Tick C").click()
    expect(large).to_have_text("G · 11 N·m")
    resized(page, PHONE)
    nut(drawn, "F").click()  # and leave the question: the order goes on all the same
    dialog.locator(".bench-follow-next").click()
    expect(large).to_have_text("F · 11 N·m")
    expect(drawn.locator(".bench-nuts-asked")).to_be_hidden()
    nut(drawn, "F").focus()
    page.keyboard.press("Space")
    expect(large).to_have_text("A · 11 N·m")
    dialog.get_by_role("button", name="Close").click()
    for name in "BGCF":
        expect(box_of(page, name)).to_be_checked()
    expect(box_of(page, "A")).not_to_be_checked()
    expect(nut(map_of(page), "A")).to_have_attribute("aria-label", "Nut A, head 1, pass 1 of 3, to do, next")


def test_a_tick_of_another_tab_is_on_the_map_and_in_the_list(same_page, address):
    page = same_page(TIGHTEN)
    drawn = map_of(page)
    other = page.context.new_page()
    other.goto(address + TIGHTEN)
    nut(map_of(other), "B").click()
    expect(nut(drawn, "B")).to_have_attribute("aria-label", "Nut B, head 1, pass 1 of 3, done")
    expect(box_of(page, "B")).to_be_checked()


def test_the_map_of_the_posts_of_a_rocker_shaft_ticks_too(same_page):
    page = same_page(TORQUE)
    one = form_of(page, "torque.rocker_posts")
    drawn = one.locator(".q-answer > .q-figure").first
    expect(nut(drawn, "A")).to_have_attribute("role", "button")
    nut(drawn, "A").click()
    expect(one.locator('[data-walk="head_1"] [data-nut="A"]').first).to_be_checked()
