"""What every page of the site owes its reader."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.site.conftest import PHONE, ROOT

PAGES = sorted(
    "/" + (f"{path.parent.as_posix()}/" if path.stem == "index" else f"{path.with_suffix('').as_posix()}/").lstrip("./")
    for path in (found.relative_to(ROOT / "docs") for found in (ROOT / "docs").rglob("*.md"))
)


def test_home_has_the_three_calculators_one_tap_away(open_page):
    page = open_page("/", PHONE)
    for name in ("Torque stages", "Compression and spacers", "Lash turn plan"):
        page.goto(page.url)
        page.locator("article").get_by_role("link", name=name).first.click()
        expect(page.locator("bench-calculator")).to_have_count(1)
        page.go_back()


def test_home_has_a_door_to_each_stage_of_the_job_in_order(open_page):
    page = open_page("/")
    doors = [words for words in page.locator(".bench-doors strong").all_inner_texts() if words[0].isdigit()]
    assert [door.split(maxsplit=1)[0] for door in doors] == [str(number) for number in range(1, len(doors) + 1)]
    assert [door.split(maxsplit=1)[1] for door in doors][:3] == ["Start", "Strip", "Inspect"]
    assert len(doors) >= 8
    expect(page.locator("article").get_by_role("link", name="Work safely").first).to_be_visible()
