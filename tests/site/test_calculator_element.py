"""What every embedded calculator owes its reader, whatever it computes."""

from __future__ import annotations

import re
import threading

import pytest
from playwright.sync_api import expect

from tests.site.conftest import PHONE, answered, calculator, fill, sizes

PAGE = "/calculators/torque-stages/"


@sizes
@pytest.mark.parametrize(
    ("path", "lead", "table"),
    [
        (PAGE, "Set the wrench to 11, 23 and 34 N·m", "passes"),
        ("/calculators/compression-and-spacers/", "7.53 to 7.61 : 1", "cylinders"),
        ("/calculators/lash-turn-plan/", "set the valves of 1, 4, 3, 2", "stops"),
    ],
)
def test_shows_the_whole_worked_example_without_scripts(open_page, size, path, lead, table):
    page = open_page(path, size, java_script_enabled=False)
    expect(calculator(page).locator(".bench-lead")).to_contain_text(lead)
    expect(calculator(page).locator(f'[data-table="{table}"]')).to_be_visible()
    expect(calculator(page).locator(".bench-not-running")).to_be_visible()


def test_answers_what_was_typed_before_its_script_was_there(open_page, address):
    page, held = open_page(None, PHONE), []
    page.route("**/bench-calculator.js", lambda route: held.append(route))
    page.goto(address + PAGE, wait_until="commit")
    box = page.locator('bench-calculator [name="target"]')
    box.fill("40")
    while not held:
        page.wait_for_timeout(20)
    held[0].continue_()
    expect(page.locator("bench-calculator .bench-status")).to_contain_text("Worked out from your readings")
    expect(page.locator("bench-calculator .bench-lead")).to_contain_text("40 N·m")
    expect(box).to_have_value("40")


def test_answers_what_was_typed_before_python_was_up(open_page, address):
    page = open_page(None, PHONE)
    release = threading.Event()
    held = []

    def hold(route):
        held.append(route)
        if release.is_set():
            route.continue_()

    page.route("**/runtime.bin", hold)
    page.goto(address + PAGE)
    fill(page, target="40")
    expect(calculator(page).locator(".bench-status")).to_contain_text("Starting the calculator")
    expect(calculator(page).locator(".bench-lead")).to_be_hidden()  # the example's answer is none to 40
    expect(calculator(page).locator(".bench-answer")).to_be_hidden()
    fill(page, target="44")
    page.wait_for_timeout(300)
    release.set()
    for route in held:
        route.continue_()
    answered(page)
    expect(calculator(page).locator(".bench-lead")).to_contain_text("15, 29 and 44 N·m")


def test_keeps_the_readings_when_python_cannot_start(open_page, address):
    page = open_page(None, expect_complaints=True)
    page.route("**/python/*.*", lambda route: route.abort())
    page.goto(address + PAGE)
    fill(page, target="41")
    expect(calculator(page).locator(".bench-status")).to_have_text(
        "This calculator has stopped. Your readings are kept."
    )
    assert calculator(page).locator('[name="target"]').input_value() == "41"
    expect(calculator(page).locator(".bench-answer")).to_be_hidden()
    page.reload()
    expect(calculator(page).locator('[name="target"]')).to_have_value("41")
    expect(calculator(page).locator('[name="target"]')).not_to_have_css("color", "rgba(0, 0, 0, 0)")
    expect(calculator(page).locator(".bench-lead")).to_be_hidden()


def test_the_last_of_many_fast_keystrokes_is_the_one_answered(open_page):
    page = open_page(PAGE)
    fill(page, target="30")
    answered(page)
    box = calculator(page).locator('[name="target"]')
    for number in range(20, 60):
        box.fill(str(number))
    expect(calculator(page).locator('[data-value="target"] .bench-number').first).to_have_text("59.0 N·m")


def test_enter_takes_the_reader_to_the_errors_and_a_link_back_to_the_field(open_page):
    page = open_page(PAGE)
    fill(page, graduation="none")
    calculator(page).locator('[name="graduation"]').press("Enter")
    expect(calculator(page).locator(".bench-summary")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(calculator(page).locator('[name="graduation"]')).to_be_focused()


def test_enter_takes_the_reader_to_the_answer_when_nothing_is_wrong(open_page):
    page = open_page(PAGE, PHONE)
    fill(page, target="31")
    calculator(page).locator('[name="target"]').press("Enter")
    expect(calculator(page).locator(".bench-lead")).to_be_focused()
    expect(calculator(page).locator(".bench-lead")).to_contain_text("31 N·m")


def test_readings_stay_over_a_reload_and_a_visit_to_another_page(open_page):
    page = open_page(PAGE)
    fill(page, target="42", target__unit="lbf·ft")
    answered(page)
    page.reload()
    expect(calculator(page).locator(".bench-lead")).to_contain_text("57 N·m")
    expect(calculator(page).locator('[name="target"]')).to_have_value("42")
    page.locator("nav").get_by_role("link", name="Lash turn plan").first.click()
    expect(page.locator("h1")).to_contain_text("Lash turn plan")
    page.go_back()
    expect(page.locator("h1")).to_contain_text("Torque stages")
    expect(calculator(page).locator('[name="target"]')).to_have_value("42")
    expect(calculator(page).locator(".bench-lead")).to_contain_text("57 N·m")


def test_focus_stays_where_the_reader_types_though_enter_was_pressed_before_python_was_up(open_page, address):
    page = open_page(None)
    held = []
    page.route("**/runtime.bin", lambda route: held.append(route))
    page.goto(address + PAGE)
    fill(page, target="40")
    calculator(page).locator('[name="target"]').press("Enter")
    fill(page, passes="4")
    for route in held:
        route.continue_()
    answered(page)
    expect(calculator(page).locator('[name="passes"]')).to_be_focused()


def test_the_example_can_be_looked_at_beside_one_s_readings(open_page):
    page = open_page(PAGE)
    fill(page, target="50")
    answered(page)
    expect(calculator(page).locator(".bench-lead")).to_contain_text("50 N·m")
    calculator(page).get_by_role("button", name="Show the example").click()
    expect(calculator(page).locator(".bench-lead")).to_contain_text("34 N·m")
    expect(calculator(page).locator(".bench-status").first).to_contain_text("Worked example")
    page.reload()
    expect(calculator(page).locator('[name="target"]')).to_have_value("50")


def test_hostile_text_is_shown_and_never_run(open_page):
    page = open_page(PAGE)
    hostile = '"><img src=x onerror="window.hurt=1"><script>window.hurt=1</script>'
    fill(page, target=hostile)
    expect(calculator(page).locator(".bench-summary")).to_be_visible()
    assert page.evaluate("window.hurt") is None
    assert calculator(page).locator('[name="target"]').input_value() == hostile


NOT_RUNNING = "This calculator is not running: nothing typed here is answered."


def test_without_its_script_no_answer_stands_beside_what_is_typed(open_page, address):
    page = open_page(None, PHONE, expect_complaints=True)
    page.route(
        "**/bench-calculator.js", lambda route: route.fulfill(body="const cut = {", content_type="text/javascript")
    )
    page.goto(address + PAGE)
    expect(calculator(page).locator(".bench-not-running")).to_contain_text(NOT_RUNNING)
    page.locator('bench-calculator [name="target"]').fill("60")
    for answer in (".bench-lead", ".bench-answer"):
        expect(calculator(page).locator(answer)).to_be_hidden()


def test_opened_as_a_file_no_answer_stands_beside_what_is_typed(site, browser):
    context = browser.new_context()  # the page may complain here: from a disk it has no scripts
    page = context.new_page()
    page.goto((site / PAGE.strip("/") / "index.html").as_uri())
    page.locator('bench-calculator [name="target"]').fill("60")
    expect(page.locator(".bench-not-running")).to_be_visible()
    for answer in (".bench-lead", ".bench-answer"):
        expect(page.locator(f"bench-calculator {answer}")).to_be_hidden()
    context.close()


def test_with_scripts_switched_off_the_example_goes_at_the_first_key(open_page):
    page = open_page(PAGE, java_script_enabled=False)
    expect(calculator(page).locator(".bench-not-running")).to_contain_text(NOT_RUNNING)
    expect(calculator(page).locator(".bench-lead")).to_be_visible()
    page.locator('bench-calculator [name="target"]').press_sequentially("60")
    expect(calculator(page).locator(".bench-lead")).to_be_hidden()
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.locator("h1").click()
    expect(calculator(page).locator(".bench-lead")).to_be_hidden()


@pytest.mark.parametrize("parts", [("snapshot.bin", "pyodide.asm.wasm"), ("*",)], ids=["one part", "all"])
def test_a_download_that_stands_still_is_given_up_and_the_reader_told(open_page, address, parts):
    page = open_page(None, expect_complaints=True)
    page.clock.install()
    for part in parts:
        page.route(f"**/python/{part}", lambda route: None)
    page.goto(address + PAGE)
    fill(page, target="60")
    expect(calculator(page).locator(".bench-lead")).to_be_hidden()
    for _ in range(10):
        page.clock.fast_forward(31_000)
        page.wait_for_timeout(100)
    expect(calculator(page).locator(".bench-status")).to_have_text(
        "This calculator has stopped. Your readings are kept."
    )
    expect(calculator(page).locator(".bench-lead")).to_be_hidden()
    expect(calculator(page).locator('[name="target"]')).to_have_value("60")


LEADS_SHOWN = """
window.leads = new Set();
const look = () => {
  const lead = document.querySelector("bench-calculator .bench-lead");
  if (lead?.textContent && getComputedStyle(lead).visibility === "visible") leads.add(lead.textContent);
  const box = document.querySelector('bench-calculator [name="target"]');
  const seen = (one) => getComputedStyle(one).color !== "rgba(0, 0, 0, 0)";
  if (box && document.querySelector(".bench-runs") && seen(box)) boxes.add(box.value);
  requestAnimationFrame(look);
};
window.boxes = new Set();
look();
"""


def test_the_example_never_stands_where_the_job_has_another_card_or_readings(open_page, address):
    page = open_page("/job/")
    page.locator("#job-card").select_option("samphire-f6")
    expect(page.locator(".bench-status").first).to_contain_text("takes its")
    page.add_init_script(LEADS_SHOWN)
    page.goto(address + PAGE)
    expect(calculator(page).locator(".bench-status")).to_have_text("Worked example for the Samphire F6.")
    expect(calculator(page).locator(".bench-lead")).to_contain_text("36 N·m")
    leads, boxes = page.evaluate("[[...leads], [...boxes]]")
    assert len(leads) == 1
    assert boxes == ["36"]
    fill(page, target="40")
    answered(page)
    page.goto(address + PAGE)
    answered(page)
    expect(calculator(page).locator(".bench-lead")).to_contain_text("40 N·m")
    assert len(page.evaluate("[...leads]")) == 1


def test_a_start_date_is_the_reader_s_today_and_not_the_day_of_the_build(open_page, address):
    page = open_page(None)
    page.clock.set_fixed_time("2027-03-08T12:00:00")
    page.goto(address + "/calculators/run-in-plan/")
    start = calculator(page).locator('[name="start"]')
    expect(start).to_have_value("2027-03-08")
    expect(calculator(page).locator('[data-field="start"]')).not_to_have_attribute("data-example", re.compile(""))
    # the plan's first check falls in the same year
    expect(calculator(page).locator(".bench-answer")).to_contain_text("2027")
    expect(calculator(page).locator(".bench-answer")).not_to_contain_text("2026")
    start.fill("2027-04-01")
    page.reload()
    expect(start).to_have_value("2027-04-01")
