"""A question on the page: typed into by a person, in a real browser."""

import re

import pytest
from playwright.sync_api import expect

from tests.site.conftest import (
    ANSWERS_HELD,
    DESK,
    PHONE,
    UNFOLD,
    answered,
    fill,
    form_of,
    kept_job,
    question,
    until,
    way_back,
    went,
)

POSTS, RATIO = "#q-torque-rocker_posts", "#q-compression-ratio"
TORQUE, COMPRESSION = f"/work-it-out/torque/{POSTS}", f"/work-it-out/compression/{RATIO}"


def posts(page):
    return page.locator(POSTS)


def with_a_card(same_page, size=PHONE):
    """Open the page with an engine of one's own in hand, of which the card knows only the layout."""
    page = same_page("/job/", size)
    page.locator("#job-card").select_option("layout-single")
    went(page, TORQUE)
    return page


def type_own(page):
    form_of(page, "torque.rocker_posts")
    posts(page).locator("[name=figure]").fill("17 lb ft")
    posts(page).locator("[name=posts]").select_option("3")


def test_the_example_says_so_until_all_is_the_readers(same_page):
    page = same_page(TORQUE, PHONE)
    expect(posts(page).locator(".q-whose")).to_have_text("Example: Marram F4")
    posts(page).get_by_role("button", name="Change").click()
    posts(page).locator("[name=figure]").fill("17 lb ft")
    expect(posts(page).locator(".q-whose")).to_have_text("Rests on the example, Marram F4")
    expect(posts(page)).to_have_attribute("data-state", "mixed")
    page = with_a_card(same_page)
    type_own(page)
    expect(posts(page).locator(".q-whose")).to_have_text("Worked out from your readings")
    # by thirds to the nearest mark, in the unit of what was typed, from the middle post outwards
    expect(posts(page).locator(".q-headline")).to_have_text("6 → 11 → 17 lbf·ft · B – A – C")
    expect(posts(page).locator('[data-box="figure"] .q-read')).to_contain_text("23.049 N·m")


def test_what_is_wrong_stands_beside_its_box_and_no_answer_beside_it(same_page):
    page = same_page(TORQUE, PHONE)
    type_own(page)
    posts(page).locator("[name=graduation]").fill("17 mm")
    error = posts(page).locator('[data-box="graduation"] .q-error')
    expect(error).to_have_text("Wrench scale step must use a unit of torque, like N·m or lbf·ft")
    expect(posts(page).locator("[name=graduation]")).to_have_attribute("aria-invalid", "true")
    expect(posts(page).locator(".q-headline")).to_be_empty()
    posts(page).locator("[name=graduation]").fill("0.5 N·m")
    expect(error).to_be_empty()
    expect(posts(page).locator(".q-headline")).to_contain_text("23.0 N·m")


def test_what_is_typed_stays_over_a_reload_and_the_unit_chosen_with_it(same_page):
    page = same_page(TORQUE, PHONE)
    type_own(page)
    posts(page).locator('[data-unit-of="graduation"]').select_option("lbf·ft")
    posts(page).locator("[name=graduation]").fill("1")
    expect(posts(page).locator(".q-headline")).to_contain_text("17 lbf·ft")
    page.reload()
    expect(posts(page).locator(".q-headline")).to_contain_text("17 lbf·ft")
    expect(posts(page).locator('[data-unit-of="graduation"]')).to_have_value("lbf·ft")


def test_with_a_layout_of_ones_own_the_example_is_only_a_grey_hint(same_page):
    page = same_page("/job/", DESK)
    page.locator("#job-card").select_option("layout-single")
    went(page, COMPRESSION)
    ratio = page.locator(RATIO)
    expect(ratio.locator(".q-whose")).to_contain_text("Still needed: bore")
    expect(ratio.locator(".q-headline")).to_be_empty()
    expect(ratio.locator("[name=bore]")).to_have_value("")
    expect(ratio.locator("[name=bore]")).to_have_attribute("placeholder", "like 80")


def test_the_answer_stays_in_sight_while_typing_and_a_tap_goes_there_and_back(same_page):
    page = same_page(COMPRESSION, PHONE)
    ratio = page.locator(RATIO)
    ratio.get_by_role("button", name="Change").click()
    box = ratio.locator('[name="deck.4"]')
    box.fill("0.5")
    strip = page.locator(".q-strip")
    expect(strip).to_be_in_viewport()
    expect(strip).to_contain_text(": 1")
    strip.click()
    expect(ratio.locator(".q-headline")).to_be_focused()
    expect(ratio.locator(".q-headline")).to_be_in_viewport()
    strip.click()
    expect(box).to_be_focused()


def test_enter_goes_to_the_next_empty_box_and_from_the_last_to_the_answer(same_page):
    page = same_page(TORQUE, DESK)
    posts(page).get_by_role("button", name="Change").click()
    posts(page).locator("[name=figure]").fill("24")
    posts(page).locator("[name=figure]").press("Enter")
    expect(posts(page).locator("[name=graduation]")).to_be_focused()
    posts(page).locator("[name=graduation]").fill("2")
    posts(page).locator("[name=graduation]").press("Enter")
    expect(posts(page).locator(".q-headline")).to_be_focused()


def held_back(open_page, address, path):
    """Open a page whose Python is held back, and return it with what lets Python come."""
    page, held = open_page(None, PHONE), []
    page.route("**/runtime.bin", lambda route: held.append(route))
    page.goto(address + path)

    def come():
        until(page, lambda: held)  # it is asked for
        for route in held:
            route.continue_()

    return page, come


def test_what_comes_into_the_box_in_hand_is_typed_over(open_page):
    page = open_page(TORQUE, PHONE)
    type_own(page)
    answered(page, "torque.rocker_posts")
    kept = posts(page).locator("[name=figure]").input_value()
    held = []
    page.route("**/runtime.bin", lambda route: held.append(route))
    page.reload()
    box = form_of(page, "torque.rocker_posts").locator("[name=figure]")
    box.focus()
    expect(box).to_have_value("")
    until(page, lambda: held)
    held[0].continue_()
    expect(box).to_have_value(kept)
    page.keyboard.insert_text("31")
    expect(box).to_have_value("31")


@pytest.mark.parametrize(
    ("path", "name", "first", "number", "then", "text"),
    [
        (TORQUE, "torque.rocker_posts", "figure", "24", "[name=graduation]", "2"),
        ("/work-it-out/measuring/", "measuring.chambers", "plate", "6", "[data-box='fill.1'] [data-part]", "50.1"),
    ],
)
def test_what_is_typed_as_the_first_answer_comes_stays_in_its_box(
    open_page, address, path, name, first, number, then, text
):
    page = open_page(None, DESK)
    page.add_init_script(ANSWERS_HELD)
    page.goto(address + path)
    page.evaluate("window.holdsAnswers = true")
    one = form_of(page, name)
    one.evaluate(UNFOLD, f"[name={first}]")
    one.locator(f"[name={first}]").fill(number)
    until(page, lambda: page.evaluate("heldAnswers.length"))
    one.locator(then).first.evaluate(
        """(box, [text, elsewhere]) => {
          box.value = text;
          box.dispatchEvent(new Event("input", { bubbles: true }));
          box.form.elements[elsewhere].focus();
          letAnswers(); // before the storage has the text
        }""",
        [text, first],
    )
    expect(one.locator(".q-whose").first).to_contain_text("ests on the example")
    assert one.locator(then).first.input_value() == text
    if "part" in then:
        expect(one.locator(then)).to_have_count(2)
    expect(one.locator(f"[name={first}]")).to_be_focused()


def test_a_unit_chosen_before_the_first_answer_comes_is_that_of_what_is_typed_then(open_page, address):
    page = open_page(None, DESK)
    page.add_init_script(ANSWERS_HELD)
    page.goto(address + "/work-it-out/torque/")
    page.evaluate("window.holdsAnswers = true")
    fill(page, target="25")
    until(page, lambda: page.evaluate("heldAnswers.length"))
    unit = question(page).locator('[data-unit-of="graduation"]')
    unit.select_option("lbf·ft")
    page.evaluate("letAnswers()")
    answered(page)
    expect(unit).to_have_value("lbf·ft")
    fill(page, graduation="1")
    assert kept_job(page)["readings"]["wrench_step"]["unit"] == "lbf·ft"


def test_a_fold_of_the_form_stays_open_under_the_hand_when_python_comes(open_page, address):
    page, come = held_back(open_page, address, TORQUE)
    posts(page).get_by_role("button", name="Change").click()
    fold = posts(page).locator('[data-refines="Passes"]')
    fold.locator("summary").click()
    fold.locator("[name=heads]").press_sequentially("3")
    expect(posts(page)).to_have_attribute("data-waiting", "")
    come()
    expect(posts(page)).to_have_attribute("data-state", "mixed")
    expect(fold).to_have_attribute("open", "")
    expect(fold.locator("[name=heads]")).to_be_focused()
    expect(posts(page).locator("[data-refines][open]")).to_have_count(1)


def test_the_way_to_the_answer_and_back_outlasts_the_start_of_python(open_page, address):
    page, come = held_back(open_page, address, TORQUE)
    posts(page).get_by_role("button", name="Change").click()
    for key, text in {"figure": "24", "graduation": "2"}.items():
        posts(page).locator(f"[name={key}]").fill(text)
        posts(page).locator(f"[name={key}]").press("Enter")
    headline = posts(page).locator(".q-headline")
    expect(headline).to_be_focused()
    expect(headline).to_be_empty()
    come()
    expect(headline).to_have_text("8 → 16 → 24\u00a0N·m · A – B")
    expect(headline).to_be_focused()
    page.get_by_role("button", name="Back to the box").click()
    expect(posts(page).locator("[name=graduation]")).to_be_focused()


def test_done_with_it_goes_onto_the_job_sheet_once_and_comes_off_again(same_page):
    page = with_a_card(same_page)
    type_own(page)
    done = posts(page).locator(".q-done")
    done.click()
    expect(done).to_have_text("✓ On the job sheet · Undo")
    done.click()
    expect(done).to_have_text("Done with it: onto the job sheet")
    done.click()
    expect(done).to_have_text("✓ On the job sheet · Undo")
    went(page, "/job/")
    expect(page.get_by_text("Bring the shaft down one turn of each nut")).to_have_count(1)


def test_an_answer_does_not_come_under_a_finger_that_presses(same_page):
    """Else what was pressed is gone when the finger leaves it, and the tap is lost."""
    page = same_page("/work-it-out/torque/")
    fill(page, target="40")
    answered(page)
    headline = question(page).locator(".q-headline")
    expect(headline).to_contain_text("40")
    change = question(page).locator(".q-change").first
    change.scroll_into_view_if_needed()
    change.hover()
    page.mouse.down()
    question(page).locator('[name="target"]').evaluate(
        "box => { box.value = '44'; box.dispatchEvent(new Event('input', { bubbles: true })); }"
    )
    until(page, lambda: page.evaluate("benchTold.of?.readings.head_torque?.text") == "44")  # the answer is there
    expect(headline).to_contain_text("40")
    page.mouse.up()
    expect(headline).to_contain_text("44")
    expect(question(page).locator(".q-form")).to_be_hidden()  # the press was heard


def test_ticks_of_a_question_are_kept_and_it_can_be_followed(same_page):
    page = with_a_card(same_page)
    type_own(page)
    expect(posts(page).locator(".q-whose")).to_have_text("Worked out from your readings")
    posts(page).get_by_role("button", name="Follow, nut by nut").click()
    expect(page.locator(".bench-follow-large")).to_contain_text("B")
    page.get_by_role("button", name="Done, next").click()
    with way_back(page):
        page.get_by_role("button", name="Close").click()
    page.reload()
    expect(posts(page).locator("[data-step]:checked")).to_have_count(1)


@pytest.mark.parametrize("path", [TORQUE, COMPRESSION])
def test_nothing_is_wider_than_a_small_phone(same_page, path):
    page = same_page(path, (320, 640))
    page.eval_on_selector_all(".q-one", "all => all.forEach(one => (one.open = true))")
    for change in page.locator(".q-change").all():
        change.click()
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


def test_numbers_have_the_readers_decimal_mark_before_and_after_typing(open_page):
    page = open_page(COMPRESSION, DESK, locale="de-DE")
    ratio = page.locator(RATIO)
    expect(ratio.locator(".q-headline")).to_have_text(re.compile(r"^\d,\d\d to \d,\d\d\s: 1$"))
    ratio.get_by_role("button", name="Change").click()
    ratio.locator('[name="deck.1"]').fill("0,5")
    expect(ratio.locator(".q-whose")).to_have_text("Rests on the example, Marram F4")
    expect(ratio.locator(".q-headline")).to_have_text(re.compile(r"^\d,\d\d to \d,\d\d\s: 1$"))
    expect(ratio.locator('[name="deck.1"]')).to_have_value("0,5")
