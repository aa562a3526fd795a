"""The room of valve lash in a browser: a stop's dial is followed full-screen."""

from itertools import pairwise

from playwright.sync_api import expect

from tests.site.conftest import (
    DESK,
    PHONE,
    resized,
)

ROOM = "/work-it-out/lash/"


def test_each_stop_is_followed_with_its_own_dial_and_nothing_runs_into_it(open_page):
    page = open_page(ROOM, PHONE)
    plan = page.locator('bench-question[name="lash.plan"]')
    plan.locator(".bench-follow-start").click()
    dialog = page.locator("dialog.bench-follow")
    drawing, large, words = (dialog.locator(f".bench-follow-{part}") for part in ("drawing", "large", "words"))
    seen = set()
    while "Once more" not in dialog.locator(".bench-follow-stage").text_content():
        seen.add(drawing.locator("svg").get_attribute("aria-label"))
        for size in (DESK, PHONE):
            resized(page, size)
            boxes = [part.bounding_box() for part in (drawing, large, words, dialog.locator(".bench-follow-next"))]
            assert boxes[0]["height"] >= 0.25 * size[1], size
            for above, below in pairwise(boxes):
                assert above["y"] + above["height"] <= below["y"] + 1, size
        dialog.locator(".bench-follow-next").click()
    assert len(seen) == 4
    expect(large).to_have_text("Turn 180° clockwise")
