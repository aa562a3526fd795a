"""What is typed in a question goes onto the reader's own card, once it is offered; in a room and in a step's sheet."""

from __future__ import annotations

from playwright.sync_api import Locator, Page, expect

from tests.site.conftest import (
    DESK,
    PHONE,
    ROOT,
    WRENCH,
    fill,
    form_of,
    kept_job,
    question,
    resized,
    rests_on_what_is_typed,
    until,
)
from tests.site.own_card import choose, facts
from tests.site.test_engine_cards import HELD, LET_GO
from tests.site.test_read_one_by_one import pass_over

ROOM, STEP = "/work-it-out/compression/", "/measure/compression-and-spacers/"
RATIO, SPACERS = "compression.ratio", "compression.spacers"
GASKET = "dimensions.head_gasket_thickness"
AXE = ROOT / "build/audits/node_modules/axe-core/axe.min.js"


def below(page: Page, key: str, name: str = RATIO) -> Locator:
    """What stands below a box of the question about its card."""
    return question(page, name).locator(f'[data-box="{key}"] .q-keep')


def on_card(page: Page, path: str) -> dict | None:
    section, _, fact = path.partition(".")
    return (kept_job(page) or {})["card"]["data"].get(section, {}).get(fact)


def reading(page: Page, path: str) -> str | None:
    return ((kept_job(page) or {})["readings"].get(path) or {}).get("text")


def opened(same_page, size=PHONE, lacking=(GASKET,), **values: str) -> Page:
    page = same_page(ROOM, size)
    choose(page, facts(lacking=lacking, **values))
    return page


def test_a_value_on_which_the_card_is_silent_is_kept_on_it_in_a_tap(same_page):
    page = opened(same_page)
    fill(page, RATIO, gasket_thickness="0.5")
    offer = below(page, "gasket_thickness")
    expect(offer.get_by_role("button")).to_have_text("Keep on the card")
    expect(question(page, RATIO).locator(".q-keep-aloud")).to_have_text(
        "Gasket thickness: 0.5 mm can go onto the card."
    )
    for size in (DESK, PHONE):
        resized(page, size)
        assert offer.get_by_role("button").bounding_box()["height"] >= 48, size
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), size
    offer.get_by_role("button").click()
    expect(offer).to_contain_text("On the card: 0.5 mm. Its source is not known; if you know it:")
    assert on_card(page, GASKET) == {"value": "0.5 mm", "source": "not known"}
    assert reading(page, "gasket_thickness") == "0.5"  # what was typed stays where it was typed
    assert offer.get_by_role("button").all_inner_texts() == ["maker’s book", "measured", "told", "Undo"]
    offer.get_by_role("button", name="measured").click()
    expect(offer).to_contain_text("On the card: 0.5 mm, measured.")
    assert on_card(page, GASKET) == {"value": "0.5 mm", "source": "measured"}
    assert "cards_aside" not in kept_job(page)  # each only adds to the one before
    offer.get_by_role("button", name="Undo").click()
    expect(offer.get_by_role("button")).to_have_text("Keep on the card")
    assert on_card(page, GASKET) is None


def test_it_is_the_card_s_then_in_every_question_and_job(same_page, address):
    page = opened(same_page)
    fill(page, RATIO, gasket_thickness="0.5")
    below(page, "gasket_thickness").get_by_role("button", name="Keep on the card").click()
    until(page, lambda: on_card(page, GASKET))
    fill(page, RATIO, gasket_thickness="")
    box = question(page, RATIO).locator('[data-box="gasket_thickness"]')
    expect(box.locator(".q-from")).to_have_text("from the card")
    expect(box.locator("input")).to_have_attribute("placeholder", "0.5")
    form_of(page, SPACERS)
    expect(question(page, SPACERS).locator('[data-box="gasket_thickness"] .q-from')).to_have_text("from the card")
    expect(below(page, "gasket_thickness")).to_have_count(0)  # offered once


def test_a_value_that_the_card_has_otherwise_is_asked_about(same_page):
    page = opened(same_page)
    fill(page, RATIO, bore="80.5")
    offer = below(page, "bore")
    expect(offer.locator("p")).to_have_text("The card says 80 mm (maker’s book).")
    words = ["Put 80.5 mm on it", "Use its 80 mm", "Leave both"]
    assert offer.get_by_role("button").all_inner_texts() == words
    offer.get_by_role("button", name="Use its").click()
    expect(offer.locator("p")).to_have_text("80 mm, as the card says, and not 80.5 mm.")
    assert reading(page, "bore") is None
    offer.get_by_role("button", name="Undo").click()
    expect(question(page, RATIO).locator('[name="bore"]')).to_have_value("80.5")
    assert kept_job(page)["readings"]["bore"]["unit"] == "mm"
    offer.get_by_role("button", name="Put 80.5 mm").click()
    offer.get_by_role("button", name="told").click()
    expect(offer.locator("p")).to_have_text("On the card: 80.5 mm, told.")
    offer.get_by_role("button", name="Undo").click()
    expect(offer.get_by_role("button", name="Leave both")).to_be_visible()
    assert on_card(page, "dimensions.bore") == {"value": "80 mm", "source": "maker’s book"}
    offer.get_by_role("button", name="Leave both").click()
    expect(offer.locator("p")).to_have_text("This job has 80.5 mm; the card says 80 mm.")
    page.reload()
    form_of(page, RATIO)
    expect(below(page, "bore").locator("p")).to_have_text("This job has 80.5 mm; the card says 80 mm.")
    expect(below(page, "bore").get_by_role("button")).to_have_count(0)


def test_by_keys_alone(same_page):
    page = opened(same_page, DESK)
    fill(page, RATIO, gasket_thickness="0.5")
    offer = below(page, "gasket_thickness")
    expect(offer.get_by_role("button")).to_be_visible()
    page.keyboard.press("Tab")  # the unit
    page.keyboard.press("Tab")
    expect(offer.get_by_role("button", name="Keep on the card")).to_be_focused()
    page.keyboard.press("Enter")
    expect(offer.get_by_role("button", name="maker’s book")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    expect(offer.get_by_role("button", name="Undo")).to_be_focused()
    assert on_card(page, GASKET) == {"value": "0.5 mm", "source": "measured"}
    page.keyboard.press("Enter")
    expect(offer.get_by_role("button", name="Keep on the card")).to_be_focused()
    fill(page, RATIO, bore="80.5")
    expect(below(page, "bore").get_by_role("button", name="Leave both")).to_be_visible()
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    expect(below(page, "bore").get_by_role("button", name="Put 80.5 mm")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(below(page, "bore").get_by_role("button", name="Undo")).to_be_focused()  # in a form that is another by now


def test_in_the_sheet_of_a_step(same_page):
    page = same_page(STEP, PHONE)
    choose(page, facts(lacking=(GASKET,)))
    fill(page, RATIO, gasket_thickness="0.5", bore="80.5")
    offers = question(page, RATIO).locator(".q-sheet .q-keep")
    expect(offers).to_have_count(2)
    page.evaluate(AXE.read_text(encoding="utf-8"))
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
    run = "async (values) => (await axe.run('.q-sheet[open]', { runOnly: { type: 'tag', values } })).violations"
    for size in (PHONE, (320, 568)):
        resized(page, size)
        for button in offers.get_by_role("button").all():
            box = button.bounding_box()
            assert box["height"] >= 48, size
            assert box["x"] + box["width"] <= size[0], size
        assert not page.evaluate(run, tags), size
    below(page, "bore").get_by_role("button", name="Use its").click()
    expect(below(page, "bore").get_by_role("button", name="Undo")).to_be_focused()
    expect(question(page, RATIO).locator(".q-sheet")).to_be_visible()


def test_what_only_the_example_says_is_named_as_such(same_page):
    page = same_page(ROOM, PHONE)
    card = facts()
    card["dimensions"]["bore"]["source"] = "invented"
    choose(page, card)
    form_of(page, RATIO)
    expect(question(page, RATIO).locator('[data-box="bore"] .q-from')).to_have_text("the card has only the example’s")
    fill(page, RATIO, bore="81")
    expect(below(page, "bore").locator("p")).to_have_text("The card has only the example’s 80 mm.")
    below(page, "bore").get_by_role("button", name="Keep on the card").click()
    until(page, lambda: on_card(page, "dimensions.bore") == {"value": "81 mm", "source": "not known"})


def test_what_cannot_be_true_beside_the_card_s_other_facts_is_said_and_changes_nothing(same_page):
    page = opened(same_page)
    fill(page, RATIO, cylinders="6")
    below(page, "cylinders").get_by_role("button", name="Put 6 on it").click()
    expect(below(page, "cylinders").locator(".q-error")).to_contain_text(
        "The card cannot take it: Banks must name each cylinder from 1 to 6 once."
    )
    assert on_card(page, "layout.cylinders")["value"] == 4


def test_nothing_is_offered_to_a_card_of_the_book_nor_fetched_for_it(open_page):
    page = open_page(ROOM, PHONE)
    fetched = []
    page.on("request", lambda request: fetched.append(request.url))
    fill(page, RATIO, bore="80.5")
    expect(question(page, RATIO)).to_have_attribute("data-state", "mixed")
    expect(question(page, RATIO).locator(".q-keep")).to_have_count(0)
    assert not [url for url in fetched if "keep-on-card" in url]


def test_a_fact_of_a_section_with_one_source_is_kept_with_its_own_behind_that(same_page):
    page = same_page("/work-it-out/fasteners/", PHONE)
    choose(page, facts())
    form_of(page, "fasteners.stud_pull")
    fill(page, "fasteners.stud_pull", thread="M8 × 1.25")
    offer = below(page, "thread", "fasteners.stud_pull")
    expect(offer.locator("p")).to_contain_text("(maker’s book)")
    offer.get_by_role("button", name="Put M8").click()
    expect(offer.get_by_role("button", name="measured")).to_be_visible()
    until(page, lambda: stud_source(page) == "maker’s book; thread: not known")
    offer.get_by_role("button", name="measured").click()
    expect(offer.locator("p")).to_contain_text("measured.")
    assert stud_source(page) == "maker’s book; thread: measured"
    assert "cards_aside" not in kept_job(page) or len(kept_job(page)["cards_aside"]) == 1  # the one with M10
    offer.get_by_role("button", name="Undo").click()
    expect(offer.get_by_role("button", name="Put M8")).to_be_visible()
    assert stud_source(page) == "maker’s book"


def test_stud_places_typed_for_the_wrench_go_onto_the_card_in_a_tap(same_page):
    page = same_page("/work-it-out/torque/", PHONE)
    card = facts()
    del card["studs"]
    choose(page, card)
    fill(page, pattern="typed", across="-40 40 -40 40", up="30 30 -30 -30")
    offer = below(page, "up", WRENCH)
    offer.get_by_role("button", name="Keep on the card").click()
    expect(offer.locator("p")).to_contain_text("On the card: 4 stud places.")
    offer.get_by_role("button", name="measured").click()
    expect(offer.locator("p")).to_have_text("On the card: 4 stud places, measured.")
    studs = kept_job(page)["card"]["data"]["studs"]["cylinder_head"]
    assert studs["source"] == "measured"
    assert studs["positions"][3] == {"name": "D", "x": "40 mm", "y": "-30 mm"}
    offer.get_by_role("button", name="Undo").click()
    expect(offer.get_by_role("button")).to_have_text("Keep on the card")
    assert "studs" not in kept_job(page)["card"]["data"]


def stud_source(page: Page) -> str:
    return kept_job(page)["card"]["data"]["studs"]["cylinder_head"]["source"]


def test_what_stands_in_the_box_is_kept_and_not_what_stood_there_when_it_was_first_offered(same_page):
    page = opened(same_page)
    fill(page, RATIO, gasket_thickness="0.5")
    keep = below(page, "gasket_thickness").get_by_role("button", name="Keep on the card")
    expect(keep).to_be_visible()
    fill(page, RATIO, gasket_thickness="0.6")
    rests_on_what_is_typed(page, RATIO)
    until(page, lambda: "0.6 mm" in (keep.locator("xpath=..").get_attribute("data-of") or ""))
    keep.click()
    until(page, lambda: on_card(page, GASKET))
    assert on_card(page, GASKET)["value"] == "0.6 mm"


def test_two_kept_one_right_after_the_other_are_both_on_the_card(same_page):
    page = opened(same_page, lacking=(GASKET, "dimensions.chamber_volume"))
    fill(page, RATIO, gasket_thickness="0.5", bore="80.5")
    expect(below(page, "gasket_thickness").get_by_role("button")).to_be_visible()
    expect(below(page, "bore").get_by_role("button", name="Put")).to_be_visible()
    page.evaluate(HELD, ["card-with"])
    below(page, "gasket_thickness").get_by_role("button").click()
    below(page, "bore").get_by_role("button", name="Put").click()
    until(page, lambda: page.evaluate("held.length") == 2)  # both were asked for the card as it was
    page.evaluate(f"() => {{ const letGo = {LET_GO}; letGo(); delete window.held; }}")
    until(page, lambda: on_card(page, "dimensions.bore")["value"] == "80.5 mm" and on_card(page, GASKET))


def test_what_the_pad_read_can_go_onto_the_card_at_its_end(same_page):
    page = opened(same_page, lacking=("dimensions.bore",))
    form_of(page, RATIO).locator(".q-one-by-one").click()
    pad = page.locator("dialog.bench-pad")
    expect(pad.locator(".pad-thing")).to_have_text("Bore")
    page.keyboard.type("80.5")
    page.keyboard.press("Enter")
    expect(pad.locator(".pad-thing")).not_to_have_text("Bore")
    pass_over(pad)
    onto = pad.get_by_role("button", name="For the engine card: Bore")
    assert 48 <= onto.bounding_box()["height"] < 100
    assert onto.bounding_box()["y"] + onto.bounding_box()["height"] <= PHONE[1]
    onto.click()
    expect(pad).to_have_count(0)
    keep = below(page, "bore").get_by_role("button", name="Keep on the card")
    expect(keep).to_be_focused()
    expect(keep).to_be_in_viewport()
    keep.click()
    until(page, lambda: on_card(page, "dimensions.bore") == {"value": "80.5 mm", "source": "not known"})
