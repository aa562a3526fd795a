"""What a hand that holds a torque wrench must not scroll for, measured on the built pages."""

import pytest
from playwright.sync_api import Browser, Page

from calculators.bench.question import rooms
from tests.site.conftest import DESK, PHONE, fresh
from tests.site.test_book import PROCEDURES

TWO_SCREENS = 2 * PHONE[1]


@pytest.fixture(scope="module")
def phone(browser: Browser):
    context = fresh(browser, viewport={"width": PHONE[0], "height": PHONE[1]}, java_script_enabled=False)
    yield context.new_page()
    context.close()


def top(page: Page, selector: str) -> float:
    return page.locator(selector).first.bounding_box()["y"]


def test_step_1_of_every_procedure_begins_within_two_screens(phone, address, said):
    tops = {}
    for path in PROCEDURES:
        phone.goto(f"{address}/{path.removesuffix('.md')}/")
        tops[path] = top(phone, "#steps ~ ol > li")
    ordered = sorted(tops.values())
    said(f"step 1 begins at a median of {ordered[len(ordered) // 2]:.0f} px, at most {ordered[-1]:.0f} px")
    assert not {path: place for path, place in tops.items() if place > TWO_SCREENS}


def test_home_shows_map_next_step_stages_and_ways_within_640_px(phone, address):
    phone.goto(f"{address}/")
    for part in (".bench-map", ".bench-next", ".bench-stages", ".bench-ways"):
        box = phone.locator(part).bounding_box()
        assert box["y"] + box["height"] <= 640, part


@pytest.mark.parametrize("room", rooms())
def test_the_first_answer_of_a_room_is_in_the_first_screen(phone, address, room):
    phone.goto(f"{address}/work-it-out/{room.replace('_', '-')}/")
    first = phone.locator("bench-question").first
    headline = first.locator(".q-headline").bounding_box()
    assert headline["y"] + headline["height"] <= PHONE[1]
    assert top(phone, "bench-question .q-figure") < PHONE[1]


@pytest.mark.parametrize("room", rooms())
def test_a_question_folded_takes_three_screens_at_most(phone, address, room):
    phone.goto(f"{address}/work-it-out/{room.replace('_', '-')}/")
    for question in phone.locator("bench-question").all():
        assert question.bounding_box()["height"] <= 3 * PHONE[1], question.get_attribute("name")


@pytest.mark.parametrize("room", rooms())
def test_at_a_desk_a_question_folded_takes_two_screens_at_most(browser, address, room):
    context = fresh(browser, viewport={"width": DESK[0], "height": DESK[1]}, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}/work-it-out/{room.replace('_', '-')}/")
    for question in page.locator("bench-question").all():
        assert question.bounding_box()["height"] <= 2 * DESK[1], question.get_attribute("name")
    context.close()
