"""Calculators that take from each other: on one page, and on pages of their own."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page, expect

from tests.site.conftest import answered, calculator, fill, kept_job, sizes

CHAIN = "/calculators/measured-chain/"
NAMES = ("chamber-volume", "deck-height", "compression-and-spacers", "pushrods-and-tubes")
STANDING = "Worked out from your readings."


def _one(page: Page, name: str) -> Locator:
    return page.locator(f'bench-calculator[name="{name}"]')


def _put(page: Page, name: str, **fields: str) -> None:
    for key, text in fields.items():
        control = _one(page, name).locator(f'[name="{key.replace("__", ".")}"]')
        folded = control.locator("xpath=ancestor::details[not(@open)]")
        if folded.count():
            folded.first.locator("summary").first.click()
        control.fill(text)


def _measure(page: Page) -> None:
    """Type the whole chain: 46.776 cm³ and 1 mm of 86 mm bore make 10.5 : 1."""
    _put(page, "chamber-volume", cylinders="2", fill__1="46.776 46.776", fill__2="46.776 46.776")
    _put(page, "deck-height", heads="1 / 2", bore="86", depth__1="0 0 0 0", depth__2="0 0 0 0")
    _put(page, "compression-and-spacers", stroke="86", target="10.5", least_deck="0.2", before="0")
    _put(page, "compression-and-spacers", thickness__1="0.25", pieces__1="4", thickness__2="0.5", pieces__2="4")
    _put(page, "compression-and-spacers", thickness__3="0.75", pieces__3="4", thickness__4="1", pieces__4="4")
    _put(page, "pushrods-and-tubes", pushrod_length="276", seat_distance="201", travel_in="2.5", travel_out="3.5")
    for name in NAMES:
        expect(_one(page, name).locator(".bench-status")).to_have_text(STANDING)
    expect(_one(page, "pushrods-and-tubes").locator(".bench-lead")).to_contain_text("Each head moves out 1.00 mm.")


@sizes
def test_one_burette_reading_changes_all_that_rests_on_it_on_the_page(open_page, size):
    """Identity: as above; half a millimetre less asks for 2.904 cm³ more chamber."""
    page = open_page(CHAIN, size)
    _measure(page)
    _put(page, "chamber-volume", fill__1="49.680 49.680")
    expect(_one(page, "chamber-volume").locator(".bench-lead")).to_contain_text("49.68 and 46.78 cm³")
    compression = _one(page, "compression-and-spacers")
    expect(compression.locator('[name="chamber.1"]')).to_have_value(re.compile("^49.680 ±"))
    expect(compression.locator(".bench-lead")).to_contain_text("0.50 mm")
    pushrods = _one(page, "pushrods-and-tubes")
    expect(pushrods.locator(".bench-lead")).to_contain_text(
        "The head over cylinder 1 moves out 0.50 mm; the head over cylinder 2 moves out 1.00 mm."
    )
    # the seats stand 201 mm apart, and the head half a millimetre further out
    expect(pushrods.locator('td[data-label="Seats stand apart"]').first).to_contain_text("201.50 ±")


def test_a_page_that_is_opened_later_has_followed_and_says_where_it_could_not(open_page, address):
    page = open_page(CHAIN)
    _measure(page)
    page.goto(address + "/calculators/chamber-volume/")
    expect(calculator(page).locator('[name="fill.1"]')).to_have_value("46.776 46.776")
    fill(page, fill__1="49.680 49.680")
    answered(page)
    page.goto(address + "/build/fit-pushrod-tubes/")  # without a look at the spacers
    lead = calculator(page).locator(".bench-lead")
    expect(lead).to_contain_text("The head over cylinder 1 moves out 0.50 mm")
    expect(calculator(page).locator(".bench-status")).to_have_text(STANDING)

    page.goto(address + "/calculators/chamber-volume/")
    fill(page, fill__1="about fifty")
    expect(calculator(page).locator(".bench-summary")).to_be_visible()
    page.goto(address + "/build/fit-pushrod-tubes/")
    expect(calculator(page).locator(".bench-status")).to_have_text(
        f"{STANDING} Chamber volume has no answer to its entries as they are now: what rests on it here is from before."
    )
    expect(lead).to_contain_text("The head over cylinder 1 moves out 0.50 mm")

    page.goto(address + CHAIN)
    expect(_one(page, "pushrods-and-tubes").locator(".bench-status")).to_contain_text("Chamber volume has no answer")
    compression = _one(page, "compression-and-spacers")
    compression.get_by_role("button", name="Put this answer on the job sheet").click()
    expect(compression.locator(".bench-status")).to_contain_text("Not on the job sheet: Chamber volume has no answer")
    _put(page, "chamber-volume", fill__1="49.680 49.680")  # as it was before the mistake
    for name in NAMES:
        expect(_one(page, name).locator(".bench-status")).to_have_text(STANDING)
    _put(page, "chamber-volume", fill__1="about fifty")  # told at once on the page itself
    expect(compression.locator(".bench-status")).to_contain_text("Chamber volume has no answer")
    _put(page, "chamber-volume", fill__1="49.680 49.680")
    expect(compression.locator(".bench-status")).to_have_text(STANDING)

    other = page.context.new_page()  # and a page that stands open in another tab follows
    other.goto(address + "/calculators/chamber-volume/")
    page.goto(address + "/build/fit-pushrod-tubes/")
    expect(lead).to_contain_text("The head over cylinder 1 moves out 0.50 mm")
    fill(other, fill__1="46.776 46.776")
    expect(lead).to_contain_text("Each head moves out 1.00 mm")
    other.close()

    page.goto(address + "/calculators/chamber-volume/")
    fill(page, fill__1="46.776 46.776")
    answered(page)
    page.goto(address + "/job/")  # the sheet has followed too
    expect(page.locator(".bench-job-sheet")).to_contain_text("Head over cylinder 1 moves out")
    expect(page.locator("#job-group-pushrods-and-tubes")).to_contain_text(
        re.compile(r"Head over cylinder 1 moves out\s*1 mm")
    )


def test_what_rests_on_the_example_is_lent_along_the_chain_and_is_no_reading(open_page, address):
    page = open_page(CHAIN)
    compression = _one(page, "compression-and-spacers")
    _put(page, "chamber-volume", fill__1="51.3")
    expect(compression.locator('[name="chamber.1"]')).to_have_value(re.compile("^51.300 ±"))
    marked = compression.locator(".bench-borrowed")
    expect(marked.locator('[name="chamber.1"]')).to_be_visible()
    expect(_one(page, "pushrods-and-tubes").locator('.bench-borrowed [name="spacer_height.1"]')).to_be_visible()
    compression.get_by_role("button", name="Put this answer on the job sheet").click()
    expect(compression.locator(".bench-status")).to_contain_text("Not on the job sheet")
    assert kept_job(page)["readings"].keys() == {"calculators/chamber-volume/ chamber-volume fill.1"}

    _put(page, "chamber-volume", fill__2="50.2", fill__3="50.3", fill__4="50.4")
    expect(_one(page, "chamber-volume").locator(".bench-status")).to_have_text(STANDING)
    expect(marked.locator('[name="deck.1"]')).to_be_visible()
    expect(marked.locator('[name="chamber.1"]')).to_have_count(0)
    kept = kept_job(page)["readings"]
    assert {path for path, reading in kept.items() if "from" in reading} == {
        "volume_scatter",
        *(f"chamber.{row}" for row in range(1, 5)),
    }
    page.goto(address + "/calculators/compression-and-spacers/")
    expect(calculator(page).locator('[name="chamber.1"]')).to_have_value(re.compile("^51.300 ±"))
    expect(calculator(page).locator('.bench-borrowed [name="chamber.1"]')).to_have_count(0)


def test_back_to_the_example_takes_back_what_was_lent(open_page):
    page = open_page(CHAIN)
    chamber = _one(page, "compression-and-spacers").locator('[name="chamber.1"]')
    example = chamber.input_value()
    _put(page, "chamber-volume", fill__1="51.3")
    expect(chamber).to_have_value(re.compile("^51.300 ±"))
    _one(page, "chamber-volume").get_by_role("button", name="Show the example").click()
    expect(chamber).to_have_value(example)
    expect(_one(page, "compression-and-spacers").locator(".bench-status")).to_contain_text("Worked example")


def test_a_result_goes_before_what_was_typed_only_when_its_own_entries_change(open_page, address):
    page = open_page(CHAIN)
    _measure(page)
    page.goto(address + "/calculators/compression-and-spacers/")
    fill(page, chamber__1="47")
    answered(page)
    page.goto(address + "/calculators/chamber-volume/")
    expect(calculator(page).locator(".bench-status")).to_have_text(STANDING)
    assert kept_job(page)["readings"]["chamber.1"]["text"] == "47"
    fill(page, fill__1="46.8 46.8")
    expect(calculator(page).locator(".bench-lead")).to_contain_text("46.80 and 46.78 cm³")
    page.goto(address + "/calculators/compression-and-spacers/")
    expect(calculator(page).locator('[name="chamber.1"]')).to_have_value(re.compile("^46.800 ±"))


def test_a_page_with_a_task_of_its_own_keeps_its_entries_apart(open_page, address):
    page = open_page("/calculators/torque-stages/")
    fill(page, passes="4")
    answered(page)
    page.goto(address + "/build/tighten-a-head-down/")
    expect(calculator(page).locator('[name="passes"]')).to_have_value("4")
    page.goto(address + "/build/fit-the-rocker-gear/")
    expect(calculator(page).locator('[name="passes"]')).to_have_value("2")


SLOW_RENEWAL = """() => {
  const post = Worker.prototype.postMessage;
  Worker.prototype.postMessage = function (asked, ...more) {
    const copy = structuredClone(asked);
    if (asked.want !== "renew") return post.call(this, copy, ...more);
    window.renewalAsked = true;
    setTimeout(() => post.call(this, copy, ...more), 1500);
  };
}"""
ASKED = "() => window.renewalAsked"


def test_a_renewal_takes_nothing_from_what_was_typed_or_begun_meanwhile(open_page, address):
    page = open_page(CHAIN)
    _measure(page)
    page.add_init_script(f"({SLOW_RENEWAL})()")

    def leave_behind(fills: str, lead: str) -> None:
        """Change the chamber, and give the spacers no time to follow."""
        page.goto(address + "/calculators/chamber-volume/")
        fill(page, fill__1=fills)
        expect(calculator(page).locator(".bench-lead")).to_contain_text(lead)

    leave_behind("49.680 49.680", "49.68 and 46.78 cm³")
    page.goto(address + "/build/fit-pushrod-tubes/")
    page.wait_for_function(ASKED)
    fill(page, spacer_height__1="0.4")
    page.wait_for_timeout(2500)
    assert kept_job(page)["readings"]["spacer_height.1"]["text"] == "0.4"

    leave_behind("46.776 46.776", "46.78 and 46.78 cm³")
    page.goto(address + "/job/")
    shift = page.locator("[data-remove='readings head_shift.1']")
    shift.dispatch_event("click")
    expect(shift).to_have_count(0)
    page.reload()  # what was taken out has no reading that could be compared
    page.wait_for_function(ASKED)
    page.get_by_role("button", name="Begin another job").click()
    page.wait_for_timeout(2500)
    assert not (kept_job(page) or {}).get("readings")  # nothing of it came into the new one


def test_an_entry_taken_out_leaves_what_rested_on_it_in_doubt(open_page, address):
    page = open_page(CHAIN)
    _measure(page)
    page.goto(address + "/job/")
    expect(page.locator("#job-group-chamber-volume")).to_have_count(1)
    page.locator("[data-remove$='chamber-volume fill.1']").dispatch_event("click")
    page.goto(address + "/calculators/compression-and-spacers/")
    expect(calculator(page).locator(".bench-status")).to_contain_text("Chamber volume has no answer to its entries")


def test_what_is_lent_becomes_a_reading_and_ends_with_the_job(open_page, address):
    page = open_page(CHAIN)
    chamber = _one(page, "compression-and-spacers").locator('[name="chamber.1"]')
    lent = _one(page, "compression-and-spacers").locator('.bench-borrowed [name="chamber.1"]')
    _put(page, "chamber-volume", fill__1="51.3", fill__2="51.4", fill__3="51.5")
    expect(chamber).to_have_value(re.compile("^51.300 ±"))
    expect(lent).to_have_count(1)
    _one(page, "chamber-volume").locator('[name="fill.4"]').press_sequentially(" ")  # the same number, typed
    expect(_one(page, "chamber-volume").locator(".bench-status")).to_have_text(STANDING)
    expect(lent).to_have_count(0)

    _put(page, "chamber-volume", cylinders="5")  # the fifth has no fills: an error, and what was kept stands
    _put(page, "chamber-volume", cylinders="4")
    other = page.context.new_page()
    other.goto(address + CHAIN)
    other.get_by_role("button", name="Show the example").first.click()
    other.goto(address + "/job/")
    other.get_by_role("button", name="Begin another job").click()
    expect(_one(page, "compression-and-spacers").locator(".bench-status")).to_contain_text("Worked example")
    _put(page, "chamber-volume", fill__1="51.3")
    expect(lent).to_have_count(1)
    other.get_by_role("button", name="Begin another job").click()
    expect(lent).to_have_count(0)
    expect(chamber).not_to_have_value(re.compile("^51.300"))
