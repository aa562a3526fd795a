"""The job's own engine card in a real browser: changed, kept, carried out and in, and quoted by every page."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from calculators import read_card
from tests.site.conftest import (
    DESK,
    PHONE,
    ROOT,
    files_and_printing,
    fill,
    kept_job,
    question,
    resized,
    says,
    until,
    went,
)
from tests.site.own_card import choose, facts

PAGE, READING = "/job/engine-card/", "/build/tighten-a-head-down/"
TORQUE = 'article data.card-value[value="torques.cylinder_head"]'


def press(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def box(page: Page, name: str) -> Locator:
    """Return a box of the draft's form, its section opened."""
    control = page.locator(f'bench-card [name="{name}"]')
    folded = control.locator("xpath=ancestor::details[not(@open)]")
    for fold in folded.all():
        fold.evaluate("fold => (fold.open = true)")  # not by a click: it may have opened by itself meanwhile
    return control


def begin_draft(page: Page) -> None:
    expect(page.locator(".bench-card-about")).to_contain_text("question")
    press(page, "Change a copy of it")
    expect(page.locator("bench-card form [name=name]")).to_have_value("Marram F4, changed")


def give(page: Page, tmp_path: Path, content: bytes, name: str = "mine.yml") -> None:
    path = tmp_path / name
    path.write_bytes(content)
    page.locator("bench-card input[type=file]").set_input_files(path)


def saying(words: str) -> re.Pattern[str]:
    return re.compile(re.escape(words))


def taken_out(page: Page, button: str, tmp_path: Path) -> Path:
    with page.expect_download() as begun:
        press(page, button)
    path = tmp_path / begun.value.suggested_filename
    begun.value.save_as(path)
    return path


def test_a_card_of_the_reader_s_own_fills_pages_and_questions(same_page):
    page = same_page(PAGE, PHONE)
    begin_draft(page)
    box(page, "torques.cylinder_head").fill("44 N·m")
    box(page, "torques.cylinder_head.source").fill("the maker's manual, page 12")
    box(page, "studs.cylinder_head.source").fill("the maker's drawing")
    press(page, "Keep it as this job’s card")
    expect(page.locator("bench-card .bench-status")).to_contain_text("now takes its figures from this card")
    expect(page.locator("bench-card select").first).to_have_value("own")
    for size in (DESK, PHONE):
        resized(page, size)
        assert page.evaluate("document.documentElement.scrollWidth") <= size[0], size
    went(page, READING)
    expect(page.locator(TORQUE).first).to_have_text("44 N·m (32.5 lbf·ft)")  # 44 / 1.355818 (NIST SP 811, B.9)
    quoted = page.locator('data.card-value[value="torques.cylinder_head"]')
    expect(page.locator("article p", has=quoted).first).to_contain_text("The card’s engine has studs of")
    beside = page.locator("article p, article li", has=page.locator("data.card-value")).all_text_contents()
    assert not [words for words in beside if "demonstration engine" in words]
    went(page, "/work-it-out/torque/")
    expect(question(page).locator(".q-whose").first).to_have_text("Worked out from your engine card")
    expect(says(page)).to_contain_text("44 N·m")
    expect(question(page).locator('[data-box="target"] .q-from')).to_have_text("from the card")
    question(page).locator(".q-done").click()
    expect(question(page).locator(".q-done")).to_contain_text("On the job sheet")
    from_card = kept_job(page)["decisions"][-1]
    assert "44 N·m" in from_card["lead"]
    assert from_card["rests_on"] == {}
    went(page, "/job/")
    changed = page.get_by_text("The engine card was chosen or changed after this.")
    expect(changed).to_have_count(0)
    page.locator("#job-card").select_option("dunlin-f2")
    expect(changed).to_have_count(1)


@pytest.mark.parametrize("path", [PAGE, "/job/"])
def test_a_card_of_the_reader_s_own_that_gives_way_is_laid_aside(open_page, path):
    page = open_page(PAGE)
    page.on("dialog", lambda dialog: pytest.fail(dialog.message))
    begin_draft(page)
    press(page, "Keep it as this job’s card")
    chosen = page.get_by_label("Engine card of this job")
    expect(chosen).to_have_value("own")
    if path != PAGE:
        went(page, path)
    chosen = page.locator("#bench-card-chosen, #job-card")
    expect(chosen.locator("option:checked")).to_have_text("Marram F4, changed (this job’s own)")
    chosen.select_option("dunlin-f2")
    expect(page.locator(".bench-status").first).to_contain_text("Every page now takes its")
    if path == PAGE:
        page.reload()
    else:
        went(page, PAGE)
    expect(chosen).to_have_value("dunlin-f2")
    aside = chosen.locator("option", has_text=re.compile(r"Marram F4, changed \(this job’s own of .*, laid aside\)"))
    chosen.select_option(aside.get_attribute("value"))
    expect(chosen.locator("option:checked")).to_have_text("Marram F4, changed (this job’s own)")
    expect(chosen.locator("option", has_text="laid aside")).to_have_count(0)


HELD = """(wants) => {
  const post = (window.postUnheld ??= Worker.prototype.postMessage); // a page may be asked to hold again
  window.held = [];
  Worker.prototype.postMessage = function (message) {
    if (window.held && wants.includes(message?.want)) held.push([message.want, () => post.call(this, message)]);
    else post.call(this, message);
  };
}"""
LET_GO = "() => held.splice(0).forEach(([, go]) => go())"
"""Questions that reach Python when they are let go: later than the pause after the last key, as on a busy phone."""


def hold(page: Page, *wants: str) -> None:
    page.evaluate(HELD, wants)


def is_held(page: Page, want: str, count: int = 1) -> None:
    until(page, lambda: page.evaluate("want => held.filter(([one]) => one === want).length", want) >= count)


def answer_all(page: Page) -> None:
    # in one go: what is asked between the two would be held for ever
    page.evaluate(f"() => {{ const letGo = {LET_GO}; letGo(); delete window.held; }}")


def test_a_draft_kept_the_moment_after_the_last_key_becomes_the_card(same_page):
    page = same_page(PAGE)
    begin_draft(page)
    hold(page, "card-read")
    box(page, "torques.cylinder_head").fill("44 N·m")
    box(page, "torques.cylinder_head.source").fill("page 12")
    press(page, "Keep it as this job’s card")
    is_held(page, "card-read")
    box(page, "torques.cylinder_head").fill("45 N·m")
    box(page, "torques.cylinder_head.source").fill("page 13")
    answer_all(page)
    expect(page.locator("bench-card .bench-status")).to_contain_text("now takes its figures from this card")
    assert page.evaluate("localStorage.getItem('bench-card-draft')") is None
    press(page, "Change a copy of it")
    expect(page.locator('[name="torques.cylinder_head"]')).to_have_value("45 N·m")


def dimension(page: Page, key: str) -> dict:
    return kept_job(page)["card"]["data"]["dimensions"].get(key)


def draft_of_ones_own(same_page) -> Page:
    """A draft that is a copy of the reader's own card, in which the stroke was changed."""
    page = same_page(PAGE, PHONE)
    choose(page, facts(lacking=("dimensions.head_gasket_thickness",)))
    expect(page.locator("#bench-card-chosen option:checked")).to_have_text("Curlew F4 (this job’s own)")
    press(page, "Change a copy of it")
    expect(page.locator("bench-card form [name=name]")).to_have_value("Curlew F4")
    box(page, "dimensions.stroke").fill("75 mm")
    box(page, "dimensions.stroke.source").fill("measured")
    return page


def test_a_fact_kept_in_a_question_comes_into_the_open_draft(same_page):
    page = draft_of_ones_own(same_page)
    went(page, "/work-it-out/compression/")
    fill(page, "compression.ratio", gasket_thickness="0.5")
    question(page, "compression.ratio").get_by_role("button", name="Keep on the card").click()
    until(page, lambda: dimension(page, "head_gasket_thickness"))
    went(page, PAGE)
    expect(page.locator("bench-card .bench-status")).to_have_text(
        "The card was changed meanwhile. The draft has from it now: Head gasket thickness."
    )
    expect(page.locator('[name="dimensions.head_gasket_thickness"]')).to_have_value("0.5 mm")
    expect(page.locator('[name="dimensions.stroke"]')).to_have_value("75 mm")
    press(page, "Keep it as this job’s card")
    expect(page.locator("bench-card .bench-status")).to_contain_text("now takes its figures from this card")
    assert dimension(page, "head_gasket_thickness") == {"value": "0.5 mm", "source": "not known"}
    assert dimension(page, "stroke") == {"value": "75 mm", "source": "measured"}
    assert page.evaluate("Object.keys(localStorage).filter(key => key.startsWith('bench-card-draft'))") == []


@pytest.mark.parametrize("take", [True, False], ids=["the card's", "the draft's"])
def test_what_another_tab_changed_too_is_chosen_before_the_draft_is_kept(same_page, take):
    page = draft_of_ones_own(same_page)
    other = page.context.new_page()
    other.goto(page.url)
    choose(other, facts(lacking=("dimensions.rod_length",), dimensions__stroke="76 mm", dimensions__bore="81 mm"))
    both = page.locator(".bench-both")
    expect(both.locator("p")).to_have_text("The card says 76 mm now (maker’s book).")
    expect(page.locator('[name="dimensions.stroke"]')).to_have_value("75 mm")  # what was typed stands
    expect(page.locator('[name="dimensions.bore"]')).to_have_value("81 mm")
    expect(page.locator('[name="dimensions.rod_length"]')).to_have_value("")
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    press(page, "Keep it as this job’s card")
    expect(page.locator("bench-card .bench-status")).to_contain_text("first choose")
    expect(both.get_by_role("button", name="Take 76 mm")).to_be_focused()
    page.reload()  # the choice waits
    both.get_by_role("button", name="Take 76 mm" if take else "Leave what stands here").click()
    expect(both).to_have_count(0)
    expect(page.locator('[name="dimensions.stroke"]')).to_have_value("76 mm" if take else "75 mm")
    expect(page.locator('[name="dimensions.stroke.source"]')).to_have_value("maker’s book" if take else "measured")
    press(page, "Keep it as this job’s card")
    expect(page.locator("bench-card .bench-status")).to_contain_text("now takes its figures from this card")
    assert dimension(page, "stroke")["value"] == ("76 mm" if take else "75 mm")
    assert dimension(page, "bore")["value"] == "81 mm"
    assert dimension(page, "rod_length") is None


def test_what_is_typed_while_a_copy_or_another_card_is_read_stays(same_page):
    page = same_page(PAGE)
    expect(page.locator(".bench-card-about")).to_contain_text("question")
    hold(page, "card-read", "card-missing")
    press(page, "Change a copy of it")
    is_held(page, "card-read")  # of the copy as it was made
    box(page, "about").fill("The van's own")
    is_held(page, "card-read", 2)
    page.evaluate(LET_GO)
    page.get_by_label("Engine card of this job").select_option("dunlin-f2")
    is_held(page, "card-missing")
    box(page, "name").fill("Our van")
    answer_all(page)
    expect(page.locator("bench-card .bench-status")).to_contain_text("now takes its figures")
    page.reload()
    expect(page.locator("bench-card [name=name]")).to_have_value("Our van")
    expect(page.locator('bench-card [name="about"]')).to_have_value("The van's own")


def test_a_page_reached_by_instant_navigation_quotes_the_job_s_card_and_a_change_of_it(same_page):
    page = same_page(PAGE)
    page.get_by_label("Engine card of this job").select_option("dunlin-f2")
    expect(page.locator("bench-card .bench-status")).to_contain_text("now takes its figures")
    page.evaluate("window.same = true")
    page.locator(f'a[href$="{READING}"], a[href$="..{READING}"]').first.evaluate("link => link.click()")
    expect(page.locator("h1")).to_contain_text("Tighten a cylinder head down")
    assert page.evaluate("window.same")
    expect(page.locator(TORQUE).first).to_have_text("23 N·m (17.0 lbf·ft)")  # 23 / 1.355818 (NIST SP 811, B.9)
    other = page.context.new_page()
    other.goto(page.url.replace(READING, PAGE))
    other.get_by_label("Engine card of this job").select_option("marram-f4")
    expect(page.locator(TORQUE).first).to_have_text("34 N·m (25.1 lbf·ft)")


def test_what_a_card_lacks_is_never_another_engine_s_figure(same_page):
    page = same_page(PAGE)
    page.get_by_label("Engine card of this job").select_option("layout-v8")
    expect(page.locator(".bench-card-about")).to_contain_text("The others ask you for:")
    went(page, READING)
    expect(page.locator(TORQUE).first).to_have_text("not on this card")
    assert "34 N·m" not in page.locator("article data.card-value").all_inner_texts()


def test_figures_of_another_card_do_not_stand_while_it_is_not_known_how_it_reads(open_page, address):
    page = open_page(PAGE, expect_complaints=True)
    page.get_by_label("Engine card of this job").select_option("dunlin-f2")
    expect(page.locator("bench-card .bench-status")).to_contain_text("now takes its figures")
    page.wait_for_function("localStorage.getItem('bench-card-texts')")
    page.evaluate("localStorage.removeItem('bench-card-texts')")
    page.route("**/python/*.*", lambda route: route.abort())
    page.goto(address + READING)
    expect(page.locator(TORQUE).first).to_have_text("see the engine card")


def test_a_draft_with_a_mistake_outlives_a_reload_and_cannot_become_the_card(same_page):
    page = same_page(PAGE, PHONE)
    begin_draft(page)
    box(page, "dimensions.stroke").fill("74 N")
    box(page, "dimensions.stroke.source").fill("measured")
    expect(page.locator('form [data-field="dimensions.stroke"] .bench-error')).to_have_text(
        "Stroke must use a unit of length, like mm or in"
    )
    page.reload()
    expect(page.locator('bench-card [name="dimensions.stroke"]')).to_have_value("74 N")
    expect(page.locator('form [data-field="dimensions.stroke"] .bench-error')).to_have_text(
        "Stroke must use a unit of length, like mm or in"
    )
    press(page, "Keep it as this job’s card")
    expect(page.locator("bench-card .bench-summary")).to_be_focused()
    expect(page.locator("bench-card .bench-status")).to_have_text("The draft is kept; it is not a card yet.")
    page.locator("bench-card .bench-summary a").click()
    expect(page.locator('bench-card [name="dimensions.stroke"]')).to_be_focused()
    expect(page.get_by_label("Engine card of this job")).to_have_value("marram-f4")


def test_drawings_and_the_next_empty_row_follow_what_is_typed(same_page):
    page = same_page(PAGE)
    begin_draft(page)
    row = "studs.cylinder_head.positions"
    expect(page.locator('[data-section="layout"] svg')).to_have_attribute("aria-label", saying("cylinder 4 fires 2nd"))
    box(page, "layout.firing_order").fill("1 2 3 4")
    expect(page.locator('[data-section="layout"] svg')).to_have_attribute("aria-label", saying("cylinder 4 fires 4th"))
    for key, text in {"name": "I", "x": "0 mm", "y": "60 mm"}.items():
        box(page, f"{row}.9.{key}").fill(text)
    expect(page.locator(f'[name="{row}.10.name"]')).to_be_visible()
    expect(page.locator('[data-section="studs.cylinder_head"] svg')).to_have_attribute("aria-label", saying(" is I"))


def test_studs_are_placed_on_their_drawing(same_page):
    page = same_page(PAGE, PHONE)
    begin_draft(page)
    table = "studs.cylinder_head.positions"
    x, y = box(page, f"{table}.1.x"), box(page, f"{table}.1.y")
    section = page.locator('[data-section="studs.cylinder_head"]')
    stud = section.locator('g[data-row="1"]')
    expect(stud).to_be_visible()
    assert (x.input_value(), y.input_value()) == ("-106 mm", "47 mm")
    for size in (DESK, PHONE):
        resized(page, size)
        x.fill("-106 mm")
        y.fill("47 mm")
        expect(stud).to_have_attribute("data-x", "-106.0")
        expect(stud).to_have_attribute("data-y", "47.0")
        scale = float(stud.get_attribute("data-scale")) * section.locator("svg").bounding_box()["width"] / 340
        drag(page, stud, 20 * scale, 30 * scale)  # pixels a millimetre
        expect(x).to_have_value(re.compile("^-86(.5)? mm$|^-85.5 mm$"))
        expect(y).to_have_value(re.compile("^17(.5)? mm$|^16.5 mm$"))
        expect(stud).to_have_attribute("data-x", re.compile("^-8[56]"))  # drawn anew, where it stands now
    placed = x.input_value()
    drag(page, stud, 3000, 0)  # beyond the drawing: to its edge, and no farther
    expect(x).not_to_have_value(placed)
    assert float(x.input_value().removesuffix(" mm")) < 200
    placed = x.input_value()
    expect(stud).to_have_attribute("data-x", str(float(placed.removesuffix(" mm"))))
    drag(page, stud, 1, 1)  # a tap
    expect(x).to_have_value(placed)
    x.fill("-3.4 in")
    y.fill("17 mm")
    expect(stud).to_have_attribute("data-x", "-86.36")
    drag(page, stud, 1, 1)
    expect(x).to_have_value("-3.4 in")

    add = section.get_by_role("button", name="Add a stud")
    row = add.get_attribute("data-row")
    add.click()
    expect(box(page, f"{row}.name")).to_have_value("I")
    expect(section.locator(f'g[data-row="{row.rpartition(".")[2]}"]')).to_be_visible()
    expect(page.locator("bench-card .bench-status")).to_contain_text("Stud I is in the table")
    expect(add).to_be_focused()
    assert add.get_attribute("data-row") != row
    page.reload()
    expect(box(page, f"{row}.name")).to_have_value("I")


def test_a_stud_let_go_by_the_browser_goes_back(same_page):
    page = same_page(PAGE)
    begin_draft(page)
    x = box(page, "studs.cylinder_head.positions.1.x")
    stud = page.locator('[data-section="studs.cylinder_head"] g[data-row="1"]')
    stud.scroll_into_view_if_needed()
    at = stud.bounding_box()
    page.mouse.move(at["x"] + at["width"] / 2, at["y"] + at["height"] / 2)
    page.mouse.down()
    page.mouse.move(at["x"] + 60, at["y"] + 60)
    expect(x).not_to_have_value("-106 mm")
    moved = x.input_value()
    for sign in ("pointerup", "pointermove", "pointercancel"):  # of another finger
        page.locator("bench-card").dispatch_event(sign, {"pointerId": 99, "clientX": 300, "clientY": 300})
    expect(x).to_have_value(moved)
    page.locator("bench-card").dispatch_event("pointercancel", {"pointerId": 1})  # the mouse
    expect(x).to_have_value("-106 mm")
    page.mouse.up()
    expect(x).to_have_value("-106 mm")


def test_a_cylinder_dropped_on_another_takes_its_number(same_page):
    page = same_page(PAGE, PHONE)
    begin_draft(page)
    banks = box(page, "layout.banks")
    before = banks.input_value()
    numbers = re.findall(r"\d+", before)
    assert numbers == ["1", "2", "3", "4"]
    one, other = (page.locator(f'g[data-cylinder="{number}"]') for number in (1, 4))
    changed = before.replace("1", "x").replace("4", "1").replace("x", "4")
    for size, after in ((DESK, changed), (PHONE, before)):
        resized(page, size)
        one.scroll_into_view_if_needed()
        right, down = apart(one, other)
        drag(page, one, right, down)
        expect(banks).to_have_value(after)
        until(page, lambda there=(right, down): apart(other, one) == pytest.approx(there, abs=1))
        drag(page, one, 40, 0)  # on nothing
        expect(banks).to_have_value(after)


def apart(one: Locator, other: Locator) -> tuple[float, float] | None:
    """Return how far it is from one mark to the other, to the right and down; while both are drawn anew, nothing."""
    here, there = one.bounding_box(), other.bounding_box()
    return (there["x"] - here["x"], there["y"] - here["y"]) if here and there else None


def drag(page: Page, mark: Locator, right: float, down: float) -> None:
    mark.scroll_into_view_if_needed()
    mark.hover()  # it stands still, and is what is under the pointer
    at = until(page, mark.bounding_box)
    x, y = at["x"] + at["width"] / 2, at["y"] + at["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right / 2, y + down / 2)
    page.mouse.move(x + right, y + down)
    page.mouse.up()


def test_an_exported_card_is_one_of_the_site_s_kind_and_comes_back(same_page, tmp_path):
    page = same_page(PAGE)
    begin_draft(page)
    box(page, "name").fill("Our van")
    path = taken_out(page, "Export the draft as a file", tmp_path)
    assert path.name == "our-van.yml"
    card = read_card(path)
    assert card.data == {**read_card(ROOT / "docs/engines/marram-f4.yml").data, "name": "Our van"}
    page.once("dialog", lambda dialog: dialog.accept())
    press(page, "Give the draft up")
    expect(page.locator("bench-card form")).to_be_hidden()
    give(page, tmp_path, path.read_bytes())
    expect(page.locator("bench-card .bench-status")).to_have_text("mine.yml is a draft now.")
    expect(page.locator("bench-card [name=name]")).to_have_value("Our van")


def test_a_file_that_is_no_card_is_refused_with_the_reason(same_page, tmp_path):
    page = same_page(PAGE)
    expect(page.locator(".bench-card-about")).to_contain_text("question")
    for name, content, said in (
        ("text.yml", b"name: Marram", "it is not JSON text."),
        ("bytes.yml", b"\xff\xfe\x00", "it is not JSON text."),
        ("list.yml", b"[1]", "it holds no engine card."),
        ("null.yml", b"null", "it holds no engine card."),
        ("large.yml", b" " * 300_001, "it is larger than 300 kB."),
        ("deep.yml", b"[" * 100_000, "it is not JSON text."),
    ):
        give(page, tmp_path, content, name)
        expect(page.locator("bench-card .bench-status")).to_have_text(f"{name} is not taken in: {said}")
        expect(page.locator("bench-card form")).to_be_hidden()


def test_a_damaged_card_becomes_a_draft_that_says_what_is_wrong_and_runs_nothing(same_page, tmp_path):
    page = same_page(PAGE)
    expect(page.locator(".bench-card-about")).to_contain_text("question")
    markup = '"><img src=x onerror="window.hurt=1"><script>window.hurt=1</script>'
    tree = {
        "format": 1,
        "name": markup,
        "about": markup,
        "boar": markup,
        "layout": {"cylinders": {"value": "many", "source": markup}},
    }
    give(page, tmp_path, json.dumps(tree).encode())
    expect(page.locator("bench-card .bench-status")).to_contain_text("the card has an unknown key boar")
    expect(page.locator('bench-card [name="about"]')).to_have_value(markup)
    expect(page.locator('form [data-field="layout.cylinders"] .bench-error')).to_have_text(
        "Cylinders must be a whole number"
    )
    assert page.evaluate("window.hurt") is None


def test_the_job_with_its_own_card_goes_out_and_in(same_page, tmp_path):
    page = same_page(PAGE)
    begin_draft(page)
    press(page, "Keep it as this job’s card")
    expect(page.get_by_label("Engine card of this job")).to_have_value("own")
    went(page, "/job/")
    files_and_printing(page)
    path = taken_out(page, "Export this job", tmp_path)
    (job,) = json.loads(path.read_text(encoding="utf-8"))["jobs"]
    assert job["card"]["name"] == "own-marram-f4-changed"
    page.locator("bench-job input[type=file]").first.set_input_files(path)
    expect(page.get_by_role("group", name="What the file would change")).to_contain_text("new entries")


def test_a_changed_figure_loses_its_source_until_one_is_given(same_page):
    page = same_page(PAGE, PHONE)
    begin_draft(page)
    bore, source = box(page, "dimensions.bore"), box(page, "dimensions.bore.source")
    expect(source).to_have_value("invented")
    bore.fill("81 mm")
    expect(source).to_have_value("")
    wrong = page.locator('form [data-field="dimensions.bore.source"] .bench-error')
    expect(wrong).to_contain_text("Say where the bore")
    bore.fill("80 mm")
    expect(source).to_have_value("invented")
    bore.fill("81 mm")
    source.fill("measured")
    expect(wrong).to_be_empty()
    expect(page.locator('form [data-field="dimensions.bore"]')).not_to_have_class(re.compile("bench-borrowed"))
    expect(page.locator('form [data-field="dimensions.stroke"]')).to_have_class(re.compile("bench-borrowed"))
    bore.fill("81.5 mm")
    expect(source).to_have_value("")
    stud = box(page, "studs.cylinder_head.positions.1.x")
    stud.fill("-107 mm")
    expect(box(page, "studs.cylinder_head.source")).to_have_value("")
    press(page, "Keep it as this job’s card")
    expect(page.locator("bench-card .bench-status")).to_have_text("The draft is kept; it is not a card yet.")


def test_what_is_inherited_is_marked_wherever_it_is_used(same_page):
    page = same_page(PAGE)
    expect(page.locator(".bench-card-about")).to_contain_text("every question finds all it takes")
    begin_draft(page)
    box(page, "torques.cylinder_head").fill("44 N·m")
    box(page, "torques.cylinder_head.source").fill("the maker's manual, page 12")
    press(page, "Keep it as this job’s card")
    expect(page.locator(".bench-card-about")).to_contain_text("entries are still the example’s")
    expect(page.locator(".bench-card-about")).not_to_contain_text("every question finds all it takes")
    went(page, READING)
    expect(page.locator(TORQUE).first).to_have_text("44 N·m (32.5 lbf·ft)")
    quoted = page.locator('article data.card-value[value="torques.head_cap_screw"]').first
    expect(quoted).to_have_text("12 N·m (8.9 lbf·ft) (the example’s)")
    went(page, "/work-it-out/torque/")
    expect(question(page).locator('[data-box="target"] .q-from')).to_have_text("from the card")
    expect(question(page).locator('[data-box="screw_torque"] .q-from')).to_have_text("the card has only the example’s")
    expect(question(page).locator(".q-done")).to_have_count(0)
