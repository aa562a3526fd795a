"""The elements in a made-up language: they say what the catalogue has for them, and work as before."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page, Route, expect

from scripts import translation
from tests.site.conftest import calculator, fill


@pytest.fixture(scope="module")
def marked_elements(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("marked")
    translation.write_copies(folder, lambda words: words.upper() if "{" not in words else words, "en")
    return folder / "docs" / "assets"


@pytest.fixture
def open_marked(open_page: Callable[..., Page], marked_elements: Path) -> Callable[[str], Page]:
    """Open a page whose elements come from the copies."""

    def instead(route: Route) -> None:
        copy = marked_elements / Path(urlsplit(route.request.url).path).name
        if copy.is_file():
            route.fulfill(path=copy, content_type="text/javascript")
        else:
            route.fallback()

    def opened(path: str) -> Page:
        page = open_page("/404.html")
        page.route("**/assets/*/*.js", instead)
        page.goto(page.url.replace("/404.html", path))
        return page

    return opened


def test_the_job_sheet_says_it_in_another_language(open_marked: Callable[[str], Page]) -> None:
    page = open_marked("/job/")
    job = page.locator("bench-job")
    expect(job.get_by_role("button", name="EXPORT THIS JOB")).to_be_visible()
    expect(job.get_by_role("button", name="PRINT THE BENCH STRIP")).to_be_visible()
    expect(job.get_by_role("group", name="ON PAPER")).to_be_visible()
    expect(job.locator(".bench-job-kept")).to_contain_text("NO EXPORT WAS MADE YET.")
    expect(job.get_by_label("Owner")).to_be_visible()  # from Python, which is English here


def test_a_calculator_answers_in_another_language(open_marked: Callable[[str], Page]) -> None:
    page = open_marked("/calculators/torque-stages/")
    fill(page, target="30 N·m")
    expect(calculator(page).locator(".bench-status")).to_contain_text("WORKED OUT FROM YOUR READINGS.")
    page.get_by_role("button", name="Show the example").click()
    expect(page.get_by_role("button", name="BACK TO MY READINGS")).to_be_visible()
