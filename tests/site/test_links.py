"""Links and codes: entries go from device to device, and an address of a former edition leads to the room."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from calculators.job.former import FORMER
from tests.site.conftest import PHONE, answered, fill, fresh, kept_job, question, says

TORQUE = "/work-it-out/torque/"


def link_of(page: Page) -> str:
    page.get_by_role("button", name="Send these entries to another device").click()
    link = page.locator("dialog.bench-shared input").input_value()
    expect(page.locator("dialog.bench-shared svg")).to_be_visible()
    page.keyboard.press("Escape")
    return link


def test_a_link_carries_the_entries_and_is_taken_only_when_wanted(open_page, browser, address):
    page = open_page(TORQUE, PHONE)
    fill(page, target__unit="lbf·ft", target="38", passes="2")
    answered(page)
    elsewhere = fresh(browser)
    there = elsewhere.new_page()
    there.goto(link_of(page))
    bar = there.locator(".bench-brought")
    expect(bar).to_contain_text("This link brings 2 entries.")
    expect(says(there)).to_contain_text("34 N·m")
    bar.get_by_role("button", name="Use them in this job").click()
    expect(says(there)).to_contain_text("19 and 38 lbf·ft")  # halves, in the unit of what was typed
    expect(bar).to_have_count(0)
    kept = {path: (one["text"], one.get("unit")) for path, one in kept_job(there)["readings"].items()}
    assert kept == {"head_torque": ("38", "lbf·ft"), "torque.wrench.passes": ("2", None)}
    elsewhere.close()


def test_what_no_question_asks_for_is_named_a_number_without_a_unit_too_and_a_hostile_link_is_only_text(
    open_page, address
):
    page = open_page(None)
    page.goto(f"{address}{TORQUE}#with?head_torque=31&horoscope=7")
    bar = page.locator(".bench-brought")
    expect(bar).to_contain_text("This link brings one entry.")
    expect(bar).to_contain_text("Left out, because no question asks for it: horoscope.")
    expect(bar).to_contain_text("The link names no unit for: Final torque (taken in N·m).")
    bar.get_by_role("button", name="Use them in this job").click()
    expect(says(page)).to_contain_text("31 N·m")
    page.goto(f"{address}{TORQUE}#with?horoscope=7")
    page.reload()
    expect(bar).to_contain_text("This link brings 0 entries.")
    bar.get_by_role("button", name="Close").click()
    expect(bar).to_have_count(0)
    page.goto(f"{address}{TORQUE}#with?head_torque=%3Cimg%20src%3Dx%20onerror%3D%22window.hurt%3D1%22%3E")
    page.reload()
    page.get_by_role("button", name="Use them in this job").click()
    expect(question(page)).to_have_attribute("data-state", "wrong")
    assert page.evaluate("window.hurt ?? null") is None


@pytest.mark.parametrize("name", [*FORMER, "measured-chain"])
def test_an_address_of_a_former_edition_leads_to_the_room(site, name):
    text = (site / "calculators" / name / "index.html").read_text(encoding="utf-8")
    room = FORMER[name].room if name in FORMER else "compression"
    assert f'href="../../work-it-out/{room.replace("_", "-")}/"' in text
    assert (site / "work-it-out" / room.replace("_", "-") / "index.html").is_file()
    assert "<script>" not in text


@pytest.mark.parametrize("folder", ["", "/shop/bench"])
def test_a_link_of_a_former_edition_is_taken_by_the_jobs_names(open_page, serve_in, folder):
    page = open_page(None)
    old = "#with:torque-stages?target=31&target.unit=lbf%C2%B7ft&nip=5&nip.unit=N%C2%B7m"
    page.goto(f"{serve_in(folder)}/calculators/torque-stages/{old}")
    bar = page.locator(".bench-brought")
    expect(bar).to_contain_text("This link brings one entry.")
    expect(bar).to_contain_text("Left out, because no question asks for it: torque-stages nip.")
    assert f"{folder}/work-it-out/torque/#" in page.url
    bar.get_by_role("button", name="Use them in this job").click()
    expect(says(page)).to_contain_text("10, 21 and 31 lbf·ft")  # thirds, in the unit of what was typed
    page = open_page(None)  # the one before is not left while it loads
    page.goto(f"{serve_in(folder)}/calculators/lash-growth/")
    expect(page.locator("h1")).to_contain_text("Valve lash")


def test_where_no_script_runs_a_former_address_still_leads_there(open_page):
    page = open_page("/calculators/deck-height/", java_script_enabled=False)
    expect(page.locator("h1")).to_contain_text("Chambers, crowns and decks")
