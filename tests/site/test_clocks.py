"""Clocks of the job: started by a step or an answer, they run down on every page and after the browser was shut."""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import Page, expect

from tests.site.conftest import PHONE, fill, kept_job, question, until

COVERS, PIPES = "/build/fit-the-rocker-covers/", "/refit/fuel-and-oil-pipes/"
SEALING = "/work-it-out/sealing/"
CLOSING = "sealing.closing"
_NOTES = """
window.told = [];
window.asked = 0;
window.Notification = class {
  static permission = "default";
  static async requestPermission() { asked += 1; return (Notification.permission = "granted"); }
  constructor(title) { told.push(title); }
};
"""


def start(page: Page) -> None:
    page.locator("li button.bench-clock").first.click()
    expect(page.locator(".bench-clock-line")).to_have_count(1)


def stop_time(page: Page, before_the_end: int) -> None:
    """Go to so many seconds before the one clock runs out, and let no more time pass by itself."""
    (clock,) = kept_job(page)["clocks"].values()
    page.clock.pause_at(clock["until"] / 1000 - before_the_end)


def test_a_step_s_clock_runs_on_every_page_and_after_the_browser_was_shut(open_page, address):
    page = open_page(None, PHONE)
    page.clock.install()
    page.goto(address + PIPES)
    expect(page.locator("li button.bench-clock").first).to_have_text("Start the clock: 10 min")
    start(page)
    left = page.locator(".bench-clock-left")
    expect(left).to_have_text(re.compile(r"^(10:00|9:\d\d)$"))
    stop_time(page, before_the_end=480)
    expect(left).to_have_text("8:00")
    page.goto(address + "/")
    expect(page.locator(".bench-clock-line a")).to_contain_text("Fuel and oil pipes, step")
    expect(left).to_have_text("8:00")
    (name,) = kept_job(page)["clocks"]
    assert name.startswith("refit/fuel-and-oil-pipes/ steps ")
    page.locator(".bench-clock-line a").click()
    page.wait_for_url(f"**/refit/fuel-and-oil-pipes/#step-{name.rpartition(' ')[2]}")
    page.clock.fast_forward(600_000)
    expect(left).to_have_text("Time is up, 2:00 ago")
    page.get_by_role("button", name="Take it away").click()
    expect(page.locator(".bench-clocks")).to_have_count(0)
    assert kept_job(page)["clocks"] == {}


def test_a_step_s_clock_takes_its_time_from_the_answer_that_the_step_quotes(open_page):
    page = open_page("/run/first-start/", PHONE)
    clock = page.locator("#step-8 button.bench-clock:not([data-of])")
    expect(clock).to_have_text("Start the clock: 5 min")
    fill(page, "running_in.first_run", load="rollers", minutes="17")
    page.keyboard.press("Escape")
    expect(clock).to_have_text("Start the clock: 17 min")
    clock.click()
    expect(page.locator(".bench-clock-left")).to_have_text(re.compile(r"^(17:00|16:\d\d)$"))
    fill(page, "running_in.first_run", minutes="none")
    page.keyboard.press("Escape")
    expect(clock).to_be_hidden()


def test_a_clock_can_be_started_once_it_would_be_heard(open_page, address):
    page, held = open_page(None, PHONE), []
    page.route("**/clocks.js", lambda route: held.append(route))
    page.goto(address + PIPES)
    expect(page.locator(".bench-done input").first).to_be_enabled()  # the steps' script is there
    until(page, lambda: held)
    expect(page.locator("li button.bench-clock").first).to_be_hidden()
    for route in held:
        route.continue_()
    start(page)


def test_an_engine_cools_overnight(open_page):
    page = open_page("/build/set-valve-lash/", PHONE)
    page.locator("#step-1 button.bench-clock").click()
    expect(page.locator(".bench-clock-left")).to_have_text(re.compile("^(12 h 00|11 h 59) min$"))


def test_it_asks_to_notify_on_a_tap_only_and_rings_once(open_page, address):
    page = open_page(None, PHONE)
    page.add_init_script(_NOTES)
    page.clock.install()
    page.goto(address + PIPES)
    start(page)
    assert page.evaluate("asked") == 0
    page.get_by_role("button", name="Tell me").click()
    expect(page.get_by_role("button", name="Tell me")).to_have_count(0)
    assert page.evaluate("asked") == 1
    stop_time(page, before_the_end=1)
    assert page.evaluate("told") == []
    page.clock.fast_forward(3_000)
    expect(page.locator(".bench-clocks [role=status]")).to_contain_text("Time is up: Fuel and oil pipes, step")
    page.clock.fast_forward(10_000)
    until(page, lambda: page.evaluate("told.length") == 1)
    page.reload()
    expect(page.locator(".bench-clock-up")).to_have_count(1)
    page.clock.fast_forward(5_000)
    assert page.evaluate("told") == []  # it ran out while this page was not open


def test_sealed_now_starts_the_cure_of_that_product_and_goes_into_a_calendar(open_page, address):
    page = open_page(SEALING, PHONE)
    expect(question(page, CLOSING)).to_have_attribute("data-state", "example")
    expect(question(page, CLOSING).locator(".bench-clock")).to_have_count(0)  # never the example's
    page.goto(address + "/job/")
    page.locator("#job-card").select_option("layout-single")
    expect(page.locator(".bench-status").first).to_contain_text("takes its numbers")
    page.goto(address + SEALING)
    fill(page, CLOSING, open_time="8", cure="24", shop_temperature="23")
    expect(question(page, CLOSING)).to_have_attribute("data-state", "yours")
    starts = question(page, CLOSING).locator(".bench-clock")
    expect(starts).to_have_text(
        ["First bead now: 8 min to shut the joint", "Sealed now, last bolt: start the cure, 24 h"]
    )
    starts.last.click()
    clock = page.locator(".bench-clock-line")
    expect(clock).to_contain_text("Oil may meet the joint")
    expect(clock.locator(".bench-clock-left")).to_have_text(re.compile("24 h 00 min|23 h 59 min"))
    (kept,) = kept_job(page)["clocks"].values()
    with page.expect_download() as waiting:
        clock.get_by_role("button", name="Calendar file").click()
    lines = Path(waiting.value.path()).read_text(encoding="utf-8").splitlines()
    end = page.evaluate("until => new Date(until).toISOString().slice(0, 19).replace(/[-:]/g, '') + 'Z'", kept["until"])
    assert f"DTSTART:{end}" in lines  # RFC 5545 (2009), 3.3.5: form 2, UTC
    assert "TRIGGER:PT0S" in lines  # 3.8.6.3
    assert "SUMMARY:Time is up: Oil may meet the joint" in lines
