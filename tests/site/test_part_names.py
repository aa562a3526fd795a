"""Names of the parts: what the page tells of each, where its links lead, and the way to it from drawing and list."""

from __future__ import annotations

import re
from urllib.parse import urljoin, urlsplit

import pytest
from playwright.sync_api import expect

from calculators.drawings.kit.plate import NAMES
from scripts.drawing_fence import DrawingError, figure
from scripts.part_names import parts, place_of, told, words
from tests.site.conftest import (
    PHONE,
    ROOT,
    fresh,
    resized,
    went,
)

HERE = "/reference/names-of-the-parts/"
FOLDED = 6_000
"""Pixels on a phone: eight screens, three of them drawings."""
PAGES = {
    path.relative_to(ROOT / "docs").as_posix(): path.read_text(encoding="utf-8")
    for path in (ROOT / "docs").rglob("*.md")
}


def test_each_part_has_its_line_of_the_glossary_and_its_pages_questions_and_facts():
    page = "\n".join(told(parts(), PAGES))
    for tag, part in parts().items():
        section = page.partition(f"{{ #{tag} }}")[2].partition("\n## ")[0]
        assert words(PAGES["reference/glossary.md"])[part["word"]].means[1:] in section
        assert f"](glossary.md#{place_of(part['word'])})" in section
        pages = [path for way in ("out", "inspect", "measure", "fit") for path in part.get(way, ())]
        assert pages
        assert [path for path in pages if f"](../{path}.md)" not in section] == []
        assert [fact for fact in part.get("card", ()) if f"[[{fact}]]" not in section] == []


@pytest.mark.parametrize(
    "broken",
    [
        {"word": "flywheel spring"},
        {"word": "barrel", "inspect": ["inspect/flywheel-springs"]},
        {"word": "barrel", "ask": ["fits.flywheel"]},
        {"word": "barrel", "card": ["dimensions.flywheel"]},
        {"word": "barrel", "inspects": ["inspect/valves"]},
    ],
)
def test_a_word_page_question_or_fact_that_the_book_has_not_stops_the_build(broken):
    with pytest.raises(KeyError):
        list(told({"barrel": broken}, PAGES))


def test_each_page_that_inspects_or_takes_apart_the_top_end_is_reached_from_a_part():
    reached = {path for part in parts().values() for way in ("out", "inspect", "fit") for path in part.get(way, ())}
    inspected = {page.removesuffix(".md") for page in PAGES if page.startswith("inspect/")}
    assert inspected <= reached
    assert {"strip/rocker-gear-and-pushrods-out", "strip/heads-and-barrels-off", "strip/valves-out"} <= reached


def test_a_drawing_may_lead_to_the_names_of_parts_and_nowhere_else(tmp_path):
    def made(address):
        said = "<title>A line</title><desc>One line, drawn from the left.</desc>"
        drawn = f'<a xlink:href="{address}"><line class="edge" x1="0" y1="1" x2="9" y2="1"/></a>'
        spaces = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
        path = tmp_path / "a-line.svg"
        path.write_text(f'<svg {spaces} viewBox="0 0 340 20">{said}{drawn}</svg>', encoding="utf-8")
        return figure(path, frozenset({"edge"}), "a")

    assert f'<a xlink:href="{NAMES}barrel">' in made(f"{NAMES}barrel")
    assert 'role="group"' in made(f"{NAMES}barrel")
    for elsewhere in ("https://bench.example/", "javascript:alert(1)", "#barrel"):
        with pytest.raises(DrawingError, match="a is not allowed"):
            made(elsewhere)


def test_every_link_of_page_and_drawings_leads_to_a_place_that_is_there(site):
    for folder in (HERE, "/start/who-it-is-for/", "/reference/glossary/"):
        html = (site / folder.strip("/") / "index.html").read_text(encoding="utf-8")
        article = html.partition("<article")[2].partition("</article>")[0]
        found = {urljoin(folder, address) for address in re.findall(r'href="([^"]+)"', article)}
        assert sum(address.startswith(f"{HERE}#") for address in found) >= 9
        for address in found:
            parted = urlsplit(address)
            if parted.scheme or not parted.fragment:
                continue
            there = (site / parted.path.strip("/") / "index.html").read_text(encoding="utf-8")
            assert f'id="{parted.fragment}"' in there, address


def test_a_tag_leads_to_its_part_by_touch_and_by_key_and_a_shape_does_too(open_page):
    page = open_page(HERE, PHONE)
    drawing = page.locator('figure[data-drawing="exploded-top-end"]')
    drawing.get_by_role("link", name="piston", exact=True).click()
    expect(page.locator("#piston")).to_be_in_viewport()
    assert page.url.endswith("#piston")
    drawing.get_by_role("link", name="barrel", exact=True).focus()
    page.keyboard.press("Enter")
    expect(page.locator("#barrel")).to_be_in_viewport()
    shape = drawing.locator('a[aria-hidden="true"][*|href$="#spacer"] path').first
    shape.scroll_into_view_if_needed()
    box = shape.bounding_box()
    page.mouse.click(box["x"] + 4, box["y"] + box["height"] * 0.6)
    expect(page.locator("#spacer")).to_be_in_viewport()
    went(page, "/start/who-it-is-for/")
    page.get_by_role("link", name="head", exact=True).first.click()
    page.wait_for_url(f"**{HERE}#head")
    expect(page.locator("#head")).to_be_in_viewport()


@pytest.fixture(scope="module")
def read_on_a_phone(browser, address):
    context = fresh(browser, viewport={"width": PHONE[0], "height": PHONE[1]})
    page = context.new_page()
    page.goto(address + HERE)
    yield page
    context.close()


@pytest.mark.parametrize("width", [320, 360, 390])
def test_tags_and_folds_are_48_pixels_for_a_finger(read_on_a_phone, width):
    page = read_on_a_phone
    resized(page, (width, PHONE[1]))
    small = page.evaluate("""
        () => [...document.querySelectorAll(".bench-plate .reach, .fold > summary")].filter(one => {
            const box = one.getBoundingClientRect();
            return box.height < 47.9 || box.width < 47.9;
        }).map(one => one.parentElement.textContent)
    """)
    assert small == []
    assert page.locator(".bench-plate .reach").count() >= 22
    assert page.locator("details.fold > summary").count() == len(parts())
    assert page.evaluate("document.documentElement.scrollWidth") == width


def test_folded_the_page_is_eight_screens_its_parts_in_the_order_of_their_names(read_on_a_phone, said):
    page = read_on_a_phone
    resized(page, PHONE)
    height = page.evaluate("document.documentElement.scrollHeight")
    said(f"{HERE}: {height} px, folded")
    assert height <= FOLDED
    assert page.locator("details.fold[open]").count() == 0
    names = page.locator("details.fold h2").evaluate_all("all => all.map(one => one.firstChild.textContent.trim())")
    assert names == sorted(names)


def test_a_link_and_what_the_search_found_open_their_part_and_no_other(open_page, address):
    page = open_page(f"{HERE}#seal", PHONE)
    expect(page.locator("#seal")).to_be_in_viewport()
    expect(page.locator("details.fold[open]")).to_have_count(1)
    expect(page.locator("details.fold[open]")).to_contain_text("Pushrod-tube seal")
    page.goto(f"{address}/")  # on the way by a link the theme shuts a search that was opened too soon
    page.locator("[for=__search]:visible").first.click()
    page.locator(".md-search__input").fill("wrist pin card")
    page.locator(".md-search__input").press("End")  # the theme listens to keys
    page.locator(f'.md-search-result__item a[href*="{HERE}"][href$="#pin"]').click()
    page.wait_for_url(f"**{HERE}**#pin")
    expect(page.locator("details.fold", has=page.locator("#pin"))).to_have_attribute("open", "")
    expect(page.locator("#pin")).to_be_in_viewport()


def test_without_scripts_and_on_paper_each_part_is_told(browser, open_page, address):
    context = browser.new_context(java_script_enabled=False, viewport={"width": 360, "height": 740})
    page = context.new_page()
    page.goto(f"{address}{HERE}")
    page.locator('figure[data-drawing="exploded-top-end"]').get_by_role("link", name="pin", exact=True).click()
    assert page.url.endswith("#pin")
    expect(page.locator("#pin")).to_be_in_viewport()
    expect(page.locator('data[value="dimensions.bore"]')).to_contain_text("80 mm")
    told_of = page.locator("details.fold :is(p, li)")
    assert told_of.count() > 3 * len(parts())
    hidden = "all => all.filter(one => !one.checkVisibility({ contentVisibilityAuto: true })).length"
    assert told_of.evaluate_all(hidden) == 0
    context.close()
    page = open_page(HERE)
    page.emulate_media(media="print")
    expect(page.locator("details.fold li").last).to_be_visible()
    assert page.locator("details.fold :is(p, li)").evaluate_all(hidden) == 0


def test_drawings_and_values_become_the_readers_and_still_lead_on(open_page):
    page = open_page("/job/engine-card/")
    page.get_by_label("Engine card of this job").select_option("samphire-f6")
    expect(page.locator("bench-card .bench-status")).to_contain_text("now takes its figures")
    went(page, HERE)
    drawing = page.locator('figure[data-drawing="exploded-top-end"]')
    expect(drawing.locator("desc")).to_contain_text("cylinders 4, 5, 6")
    bore = page.locator("li", has=page.locator('data[value="dimensions.bore"]'))
    expect(bore).to_contain_text("On the card (card’s engine): bore 84 mm")
    drawing.get_by_role("link", name="tube", exact=True).click()
    expect(page.locator("#tube")).to_be_in_viewport()


def test_the_ways_to_the_page(open_page, address):
    page = open_page("/", PHONE)
    page.get_by_role("link", name="Name a part").click()
    page.wait_for_url(f"**{HERE}")
    for beginning in ("/start/who-it-is-for/", "/reference/glossary/"):
        page.goto(f"{address}{beginning}")
        page.locator("article").get_by_role("link", name="Names of the parts").first.click()
        page.wait_for_url(f"**{HERE}")
