"""Torque stages, as a reader meets it on the built pages."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.site.conftest import PHONE, answered, calculator, corrected, fill, kept_job, sizes
from tests.site.test_book import PAGES

PAGE = "/calculators/torque-stages/"
HEAD = "/build/tighten-a-head-down/"


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
    expect(calculator(page).locator('[data-walk="head_1"] .bench-stage')).to_have_count(4)


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


def test_the_hidden_screws_belong_to_the_head_and_are_only_checked_behind_the_manifold():
    steps = PAGES["build/tighten-a-head-down.md"].partition("## Steps")[2]
    first, tight, confirm = (
        steps.index(words) for words in ("Inspect the studs, count", "Tighten the screws", "Confirm.")
    )
    assert first < steps.index("snug with the short arm") < tight < confirm
    assert "[[torques.head_cap_screw]]" in PAGES["build/tighten-a-head-down.md"]
    manifold = PAGES["refit/manifolds-and-carburettors.md"]
    assert "tighten-a-head-down.md" in manifold
    assert "[[torques.head_cap_screw]]" not in manifold


@sizes
def test_the_second_head_is_ticked_without_the_first_losing_a_tick(open_page, address, size):
    page = open_page(HEAD, size)
    one, other = (calculator(page).locator(f'[data-walk="head_{head}"]') for head in (1, 2))
    ticks = one.locator("[data-step]")
    for place in range(3):
        ticks.nth(place).check()
    calculator(page).get_by_text("Nut by nut, head 2", exact=True).first.click()
    expect(other.locator("[data-step]")).to_have_count(ticks.count())
    expect(other.locator(":checked")).to_have_count(0)
    other.get_by_role("button", name="Follow it full-screen").click()
    follow = page.locator("dialog.bench-follow")
    expect(follow.locator(".bench-follow-stage")).to_contain_text("Head 2 · Pass 1 of 3")
    expect(follow.locator(".bench-follow-words")).to_contain_text("Head 2. Tighten nut B")
    follow.get_by_role("button", name="Done, next").click()
    follow.get_by_role("button", name="Close").click()
    other.locator("[data-step]").nth(1).check()
    expect(one.locator(":checked")).to_have_count(3)
    expect(other.locator(":checked")).to_have_count(2)
    page.reload()
    expect(one.locator(":checked")).to_have_count(3)
    assert {walk.rpartition(" ")[2]: len(ticks) for walk, ticks in kept_job(page)["ticks"].items()} == {
        "head_1": 3,
        "head_2": 2,
    }
    page.goto(address + "/job/")
    done = page.locator("#done + ul li")
    expect(done.filter(has_text="Torque stages, head 1: 3 of")).to_have_count(1)
    expect(done.filter(has_text="Torque stages, head 2: 2 of")).to_have_count(1)


@sizes
def test_the_steps_of_the_page_are_ticked_head_by_head(open_page, address, size):
    page = open_page(HEAD, size)
    heads, boxes = page.locator(".bench-heads"), page.locator(".bench-done input")
    for place in range(4):
        boxes.nth(place).check()
    heads.get_by_text("Head 2").click()
    expect(page.locator(".bench-done :checked")).to_have_count(0)
    expect(boxes.first).to_have_attribute(
        "aria-label", "Head 2, step 1 done: Read the maker's figure and its conditions"
    )
    boxes.first.check()
    heads.get_by_text("Head 1").click()
    expect(page.locator(".bench-done :checked")).to_have_count(4)
    page.reload()
    expect(page.locator(".bench-done :checked")).to_have_count(1)  # where the reader was: on head 2
    expect(heads.get_by_label("Head 2")).to_be_checked()
    page.goto(address + "/")
    expect(page.locator(".bench-next-at")).to_contain_text("head 2, step 2 of 15")
    page.goto(address + "/job/")
    expect(page.locator("#done + ul li").filter(has_text="Tighten a head down, head 1: 4 of 15")).to_have_count(1)
    page.locator("#job-card").select_option("layout-single")
    page.goto(address + HEAD)
    expect(page.locator(".bench-done input").first).to_be_visible()
    expect(heads).to_be_hidden()


def test_the_bench_strip_has_a_run_for_each_head(open_page, address):
    page = open_page(PAGE)
    fill(page, target="40")
    answered(page)
    calculator(page).get_by_role("button", name="Put this answer on the job sheet").click()
    expect(calculator(page).locator(".bench-status")).to_have_text("This answer is on the job sheet.")
    titles = [stage["title"] for stage in kept_job(page)["decisions"][0]["stages"]]
    assert [title.partition(" · ")[0] for title in titles] == ["Head 1"] * 5 + ["Head 2"] * 5
