"""What every page of the site owes its reader."""

from __future__ import annotations

from playwright.sync_api import expect

from calculators.bench.question import questions
from tests.site.conftest import PHONE, ROOT

PAGES = sorted(
    "/" + (f"{path.parent.as_posix()}/" if path.stem == "index" else f"{path.with_suffix('').as_posix()}/").lstrip("./")
    for path in (found.relative_to(ROOT / "docs") for found in (ROOT / "docs").rglob("*.md"))
)


def test_home_has_every_question_two_taps_away_in_the_readers_words(open_page, address):
    page = open_page("/", PHONE)
    page.get_by_role("link", name="Work it out").first.click()
    expect(page.locator(".q-index a").first).to_be_visible()
    asked = page.locator(".q-index a").all_inner_texts()
    assert {of.asks for of in questions().values()} <= set(asked)
    page.get_by_role("link", name="What do I set the wrench to for the rocker-shaft posts").click()
    expect(page.locator("#q-torque-rocker_posts .q-headline")).to_be_in_viewport()


def test_home_has_a_door_to_each_stage_of_the_job_in_order(open_page):
    page = open_page("/")
    doors = page.locator(".bench-door-stage strong").all_inner_texts()
    assert [door.split(maxsplit=1)[0] for door in doors] == [str(number) for number in range(1, len(doors) + 1)]
    assert [door.split(maxsplit=1)[1] for door in doors][:3] == ["Start", "Strip", "Inspect"]
    assert len(doors) == 8
    expect(page.locator("article").get_by_role("link", name="Work safely").first).to_be_visible()
