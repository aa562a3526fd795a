"""Torque stages, as a reader meets it on the built pages."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.site.conftest import PHONE, answered, calculator, corrected, fill, sizes

PAGE = "/calculators/torque-stages/"


@sizes
def test_answers_typed_pound_feet_on_a_newton_metre_wrench(open_page, size):
    page = open_page(PAGE, size)
    fill(page, target="27", target__unit="lbf·ft", graduation="0.5", passes="4", pattern="8")
    answered(page)
    # NIST SP 811 (2008) B.8: 27 lbf·ft = 36.607 N·m; quarters of it to the nearest half newton metre
    expect(calculator(page).locator(".bench-lead")).to_contain_text("Set the wrench to 9.0, 18.5, 27.5 and 36.5 N·m")
    expect(calculator(page).locator('[data-value="target"] .bench-number').first).to_have_text("36.6 N·m")
    expect(calculator(page).locator('[data-table="passes"] tbody tr')).to_have_count(5)
    assert calculator(page).locator(".bench-drawing").first.get_attribute("aria-label").startswith("Stud pattern")


def test_says_what_is_wrong_beside_the_field_and_in_the_summary_until_it_is_put_right(open_page):
    page = open_page(PAGE, PHONE)
    corrected(page, {"target": ""}, "target", "Enter the final torque, in newton metres")
    corrected(page, {"target": "tight"}, "target", "Final torque must be a number, like 34")
    corrected(page, {"target": "34 mm"}, "target", "Final torque must use a unit of torque, like N·m or lbf·ft")
    corrected(page, {"target": "4000"}, "target", "Final torque must be between 1 N·m and 400 N·m")
    corrected(page, {"shares": "70 40"}, "shares", "Passes in per cent must rise from pass to pass, like 40 70 100")
    fill(page, target="3x")
    expect(calculator(page).locator(".bench-summary")).to_be_visible()
    expect(calculator(page).locator(".bench-lead")).to_be_empty()
    expect(calculator(page).locator(".bench-answer")).to_be_hidden()


@sizes
def test_goes_from_the_book_s_pound_feet_to_a_strip_of_stages(open_page, size):
    page = open_page(PAGE, size)
    fill(page, target="25", target__unit="lbf·ft", graduation="0.5", wrench_low="5", wrench_high="60", pattern="8")
    fill(page, extension="60", angle="30", wrench_length="300", passes="2")
    answered(page)
    # by hand: 25 × 1.355 818 (NIST SP 811 (2008), B.8) × 300 ÷ (300 + 60 cos 30°) = 28.891 N·m, and half of it 14.446
    expect(calculator(page).locator(".bench-lead")).to_contain_text("Set the wrench to 14.5 and 29.0 N·m")
    expect(calculator(page).locator('[data-figure="wrench"] svg')).to_be_visible()
    expect(calculator(page).locator('[data-walk="passes"] .bench-stage')).to_have_count(3)


def test_refuses_a_pass_that_the_wrench_cannot_be_trusted_with(open_page):
    page = open_page(PAGE)
    fill(page, wrench_high="60")
    expect(calculator(page).locator('[data-field="passes"] .bench-error')).to_contain_text(
        "Below 12.0 N·m, 20% of its highest setting, the wrench need not read true. Take 2 passes"
    )


def test_typed_positions_grow_a_row_at_a_time(open_page):
    page = open_page(PAGE)
    fill(page, pattern="typed", across__1="-40", up__1="40")
    fill(page, across__2="40", up__2="-40")
    answered(page)
    expect(calculator(page).locator('[data-value="order"] .bench-number')).to_have_text("A – B")
