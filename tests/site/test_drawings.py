"""Drawings in pages: what the fence takes, what it refuses, and that each drawing of the book is fit for a phone."""

from __future__ import annotations

import base64
import gzip
import json
import re
from html.parser import HTMLParser

import markdown
import pytest
from playwright.sync_api import expect
from pymdownx.superfences import SuperFencesException

from calculators import read_card
from calculators.drawings import drawn, follows_the_card, names, sources
from scripts import mkdocs_hook
from scripts.drawing_fence import DrawingError, asked_for, captioned, figure, looks, placed, plate
from tests.site.conftest import ROOT

DRAWINGS = sorted((ROOT / "docs" / "drawings").glob("*.svg"))
STYLESHEET = (ROOT / "docs" / "assets" / "bench.css").read_text(encoding="utf-8")
KNOWN = looks(STYLESHEET)
NAMED = re.compile(r"^[ \t]*```drawing\n[ \t]*name: (\S+)\n[ \t]*```", re.MULTILINE)
PAGES = {path: path.read_text(encoding="utf-8") for path in sorted((ROOT / "docs").rglob("*.md"))}
SAID = "<title>A line</title><desc>One line from the left to the right.</desc>"
LINE = '<line class="edge" x1="0" y1="1" x2="9" y2="1"/>'


def svg(inside=LINE, said=SAID, root='viewBox="0 0 340 20"'):
    return f'<svg xmlns="http://www.w3.org/2000/svg" {root}>{said}{inside}</svg>'


@pytest.fixture
def shown(tmp_path):
    def written(text, prefix="drawing-a-line"):
        path = tmp_path / "a-line.svg"
        path.write_text(text, encoding="utf-8")
        return figure(path, frozenset({"edge", "number"}), prefix)

    return written


class Tags(HTMLParser):
    """Collects every start tag with its attributes."""

    def __init__(self, text):
        super().__init__()
        self.found = []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.found.append((tag, dict(attrs)))


def test_a_drawing_becomes_a_figure_with_its_title_below_and_its_words_for_who_cannot_see_it(shown):
    page = shown(svg())
    tags = Tags(page).found
    assert tags[0] == ("figure", {"class": "bench-figure bench-whole"})
    drawn = tags[1][1]
    assert (drawn["role"], drawn["viewbox"]) == ("img", "0 0 340 20")
    assert drawn["aria-labelledby"].split() == [tags[2][1]["id"], tags[3][1]["id"]]
    assert [tag for tag, _ in tags[2:4]] == ["title", "desc"]
    assert page.endswith("<figcaption>A line</figcaption></figure>")


def test_the_same_drawing_twice_on_a_page_has_ids_of_its_own(shown):
    pages = [Tags(shown(svg(), prefix)).found for prefix in ("drawing-a-line", "drawing-a-line-2")]
    ids = [attributes["id"] for tags in pages for _, attributes in tags if "id" in attributes]
    assert len(ids) == len(set(ids)) == 4


def test_shapes_and_words_come_through_as_they_were_drawn(shown):
    words = '<text x="1" y="2" font-size="13">1 &lt; 2 <tspan class="number">&amp;</tspan> so</text>'
    inside = f'<g transform="translate(3 4)">{words}</g>'
    assert f"{inside}</svg>" in shown(svg(inside))


def test_words_inherit_the_size_of_their_group(shown):
    assert 'font-size="14"' in shown(svg('<g font-size="14"><text x="1" y="2">A</text></g>'))


def test_a_remark_of_whoever_drew_it_stays_out_of_the_page(shown):
    assert "the edge" not in shown(svg(f"<!-- the edge -->{LINE}"))


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        (svg()[:-3], "not well-formed XML"),
        ('<!DOCTYPE svg [<!ENTITY a "b">]>' + svg(), "declares nothing"),
        (svg("<text x='1' y='2' font-size='13'><![CDATA[A]]></text>"), "declares nothing"),
        (f'<g xmlns="http://www.w3.org/2000/svg">{SAID}</g>', "outermost element must be an svg"),
        (f'<svg viewBox="0 0 340 20">{SAID}</svg>', "outermost element must be an svg"),
        (svg(root='viewBox="0 0 340 20" width="900"'), "a viewBox and nothing else"),
        (svg(root=""), "a viewBox and nothing else"),
        (svg(root='viewBox="0 0 wide 20"'), "must be four numbers"),
        (svg(root='viewBox="0 0 900 20"'), "320 to 360 wide"),
        (svg(root='viewBox="0 0 200 20"'), "320 to 360 wide"),
        (svg(root='viewBox="0 0 340 0"'), "320 to 360 wide"),
        (svg(root='viewBox="5 0 340 20"'), "begin with 0 0"),
        (svg(said=""), "title and desc"),
        (svg(said="<desc>One line.</desc><title>A line</title>"), "title and desc"),
        (svg(said="<title>A line</title><desc>A line</desc>"), "desc must say what it shows"),
        (svg(said="<title></title><desc>One line from the left.</desc>"), "title must name"),
        (svg("<script>alert(1)</script>"), "script is not allowed"),
        (svg("<style>line { stroke: red }</style>"), "style is not allowed"),
        (svg('<image href="a.png"/>'), "image is not allowed"),
        (svg('<a href="https://bench.example/">' + LINE + "</a>"), "a is not allowed"),
        (svg('<use href="#a"/>'), "use is not allowed"),
        (svg('<foreignObject><b xmlns="http://www.w3.org/1999/xhtml">A</b></foreignObject>'), "is not allowed"),
        (svg('<line class="edge" style="stroke: red"/>'), "line has style"),
        (svg('<line class="edge" stroke="red"/>'), "line has stroke"),
        (svg('<line class="edge" onclick="alert(1)"/>'), "line has onclick"),
        (svg('<line class="edge" id="a"/>'), "line has id"),
        (svg('<line class="wavy"/>'), "class wavy has no look"),
        (svg("<line/>"), "has no class"),
        (svg('<g transform="scale(0.5)"><text x="1" y="2" font-size="13">A</text></g>'), "only translate and rotate"),
        (svg('<text x="1" y="2" font-size="12.9">A few words</text>'), "'A few words' needs a font-size of 13"),
        (svg('<text x="1" y="2">A</text>'), "needs a font-size of 13"),
        (svg('<text x="1" y="2" font-size="nan">A</text>'), "needs a font-size of 13"),
        (svg('<text x="1" y="2" font-size="13">A<tspan font-size="9">b</tspan></text>'), "'b' needs a font-size of 13"),
        (svg('<text x="1" y="2" font-size="1em">A</text>'), "must be a plain number"),
        (svg("<g>loose</g>"), "words stand loose in a g"),
        (svg(f"<g>{LINE}loose</g>"), "words stand loose in a g"),
    ],
)
def test_refuses_what_a_reader_could_not_use_and_says_which_file_and_why(shown, text, reason):
    with pytest.raises(DrawingError, match=r"^a-line\.svg: ") as refused:
        shown(text)
    assert reason in str(refused.value)


def test_refuses_a_name_that_no_drawing_has_and_says_which_there_are(shown, tmp_path):
    shown(svg())
    with pytest.raises(DrawingError, match=r"^b-line\.svg is not among the drawings\. There are: a-line, air-path, "):
        figure(tmp_path / "b-line.svg", KNOWN, "drawing-b-line")


def test_refuses_a_drawing_by_hand_that_is_drawn_from_numbers_too(tmp_path):
    (tmp_path / "head-map.svg").write_text(svg(), encoding="utf-8")
    with pytest.raises(DrawingError, match=r"^head-map\.svg is drawn twice"):
        figure(tmp_path / "head-map.svg", KNOWN, "drawing-head-map")


@pytest.mark.parametrize("name", names())
def test_each_drawing_from_numbers_is_fit_to_be_shown(name):
    tags = Tags(plate(name, read_card(ROOT / "docs" / "engines" / "marram-f4.yml"), KNOWN, f"drawing-{name}")).found
    assert tags[0][1]["class"] == "bench-figure bench-plate"
    assert tags[0][1].get("data-drawing") == (name if follows_the_card(name) else None)
    assert tags[1][1]["aria-labelledby"].split() == [tags[2][1]["id"], tags[3][1]["id"]]


def test_a_block_may_name_a_drawing_from_numbers(page_of, monkeypatch):
    monkeypatch.setattr(mkdocs_hook._build, "card", read_card(ROOT / "docs" / "engines" / "marram-f4.yml"))
    monkeypatch.setattr(mkdocs_hook._build, "looks", KNOWN)
    assert "bench-plate" in page_of("```drawing\nname: head-map\n```")


def test_refuses_a_file_that_is_no_text(tmp_path):
    (tmp_path / "a-line.svg").write_bytes(b"\xff\xfe<svg")
    with pytest.raises(DrawingError, match=r"^a-line\.svg: "):
        figure(tmp_path / "a-line.svg", KNOWN, "drawing-a-line")


@pytest.mark.parametrize(
    "source",
    ["", "contact-line", "name:", "name: ../assets/mark", "name: A line", "name: a\nwidth: 3", "name: [a", "- name: a"],
)
def test_a_block_names_one_drawing_and_nothing_else(source):
    with pytest.raises(DrawingError, match="like name: contact-line"):
        asked_for(source)


def test_a_drawing_in_a_step_carries_the_tag_of_its_step():
    block = "```drawing\nname: a-line\n```"
    indented = block.replace("\n", "\n    ")
    text = f"## Steps\n\n9. **Look.**\n\n    {indented}\n\n## Sources\n\n{block}"
    assert [line.strip() for line in placed(text, "6·4").splitlines() if "at: " in line] == ["at: 6·4/9"]
    assert asked_for("name: a-line\nat: 6·4/9") == ("a-line", "6·4/9")
    assert captioned("<figcaption>A line", "6·4/9") == '<figcaption><span class="bench-at">6·4/9</span> A line'


@pytest.fixture
def page_of(tmp_path, monkeypatch):
    """Make a page as a build does, from Markdown, with one drawing to name."""
    (tmp_path / "a-line.svg").write_text(svg(), encoding="utf-8")
    build = mkdocs_hook._Build(drawings=tmp_path, looks=frozenset({"edge"}))
    build.page = "start/here.md"
    monkeypatch.setattr(mkdocs_hook, "_build", build)
    fences = [{"name": "drawing", "class": "drawing", "format": mkdocs_hook.draw}]
    settings = {"pymdownx.superfences": {"custom_fences": fences}}
    return lambda text: markdown.markdown(text, extensions=["pymdownx.superfences"], extension_configs=settings)


def test_a_page_shows_the_drawing_that_a_block_names_each_time_with_ids_of_its_own(page_of):
    block = "```drawing\nname: a-line\n```"
    indented = block.replace("\n", "\n    ")
    tags = Tags(page_of(f"{block}\n\n1.  A step.\n\n    {indented}\n")).found
    assert [tag for tag, _ in tags].count("line") == 2
    ids = [attributes["id"] for _, attributes in tags if "id" in attributes]
    assert len(ids) == len(set(ids)) == 4


def test_a_fault_stops_the_build_with_page_and_file(page_of):
    with pytest.raises(SuperFencesException, match=r"^start/here\.md: drawing b-line\.svg is not among"):
        page_of("```drawing\nname: b-line\n```")


def test_looks_are_those_that_the_stylesheet_gives_inside_a_drawing():
    css = ".edge { } .bench-drawing { } .bench-drawing .part { }\n.bench-drawing text.number, .other { }"
    assert looks(css) == {"part", "number"}


@pytest.mark.parametrize("path", DRAWINGS, ids=lambda path: path.stem)
def test_each_drawing_of_the_book_is_fit_to_be_shown(path):
    page = figure(path, KNOWN, f"drawing-{path.stem}")
    assert Tags(page).found[1][1]["class"] == "bench-drawing"


def test_each_drawing_stands_on_a_page_and_each_block_names_a_drawing():
    shown = {name for text in PAGES.values() for name in NAMED.findall(text)}
    assert shown == {path.stem for path in DRAWINGS} | set(names())
    blocks = sum(text.count("```drawing") for text in PAGES.values())
    assert blocks == sum(len(NAMED.findall(text)) for text in PAGES.values())


_BYTES = (ROOT / "node_modules/@fontsource/b612/files/b612-latin-700-normal.woff2").read_bytes()
LETTERS = f"""@font-face {{ font-family: B612; font-weight: 700;
    src: url(data:font/woff2;base64,{base64.b64encode(_BYTES).decode()}) }}"""

COVERED = """
svg => {
    const words = [...svg.querySelectorAll("text")].map(text => [text.textContent, text.getBoundingClientRect()]);
    const frame = svg.getBoundingClientRect();
    const out = words.filter(([, box]) => box.left < frame.left || box.right > frame.right).map(([text]) => text);
    const over = words.flatMap(([one, a], index) => words.slice(index + 1)
        .filter(([, b]) => a.left < b.right && b.left < a.right && a.top + 3 < b.bottom && b.top + 3 < a.bottom)
        .map(([other]) => `${one} / ${other}`));
    return [...out, ...over];
}
"""


def test_no_words_of_a_drawing_run_out_of_its_frame_or_over_others(browser):
    page = browser.new_page(viewport={"width": 360, "height": 740})
    card = read_card(ROOT / "docs" / "engines" / "marram-f4.yml")
    shown = {path.stem: figure(path, KNOWN, path.stem) for path in DRAWINGS}
    shown |= {name: plate(name, card, KNOWN, name) for name in names()}
    page.set_content(f"<style>{STYLESHEET} {LETTERS} body {{ margin: 10px }} figure {{ margin: 0 }}</style>")
    page.evaluate("shown => document.body.insertAdjacentHTML('beforeend', shown)", "".join(shown.values()))
    page.evaluate("document.fonts.load('700 15px B612')")
    for name, drawing in zip(shown, page.locator("svg").all(), strict=True):
        assert drawing.evaluate("svg => svg.getBoundingClientRect().width") >= 320, name
        assert drawing.evaluate(COVERED) == [], name
    page.close()


def test_the_drawn_order_of_tightening_is_square_at_every_second_stud():
    """Statics: after each crossing the nuts tight so far balance about the middle of the pattern."""
    shown = drawn("head-map", read_card(ROOT / "docs" / "engines" / "marram-f4.yml"))
    numbers = [label for label in shown.labels if label.words.isdigit()][:8]
    places = {int(label.words): (label.x + label.width / 2, label.y + label.height / 2) for label in numbers}
    assert sorted(places) == list(range(1, 9))
    middle = [sum(place[axis] for place in places.values()) / 8 for axis in (0, 1)]
    for count in (2, 4, 6, 8):
        for axis in (0, 1):
            assert sum(places[stud][axis] - middle[axis] for stud in range(1, count + 1)) == pytest.approx(0)
    reach = [abs(places[stud][0] - middle[0]) for stud in range(1, 9)]
    assert reach == sorted(reach)


LETTERS_OF_PLATES = """
() => [...document.querySelectorAll(".bench-plate:not(.bench-ladder-maps *) svg")].flatMap(svg => {
    const box = svg.getBoundingClientRect();
    const scale = box.width / svg.viewBox.baseVal.width;
    const size = text => parseFloat(getComputedStyle(text).fontSize) * scale;
    const small = [...svg.querySelectorAll("text")].filter(text => size(text) < 13);
    const out = box.left < 0 || box.right > document.documentElement.clientWidth;
    const told = small.map(text => `${text.textContent} is ${size(text)}`);
    return [...told, ...(out ? [`${svg.textContent} is out`] : [])];
})
"""


def test_every_procedure_has_a_drawing():
    without = [path.stem for path, text in PAGES.items() if "\n## Steps\n" in text and "```drawing" not in text]
    assert without == []


def test_drawings_cost_no_page_more_than_60_kilobytes():
    card = read_card(ROOT / "docs" / "engines" / "marram-f4.yml")
    for path, text in PAGES.items():
        shown = [plate(name, card, KNOWN, name) for name in NAMED.findall(text) if name in names()]
        assert len(gzip.compress("".join(shown).encode())) <= 60_000, path.stem
    assert len(gzip.compress(json.dumps(sources()).encode())) <= 60_000


def test_a_drawing_becomes_that_of_the_reader_s_engine_and_goes_back(open_page, address):
    page = open_page("/job/engine-card/")
    choice = page.get_by_label("Engine card of this job")
    figure = page.locator('figure[data-drawing="head-map"]').first
    choice.select_option("samphire-f6")
    expect(page.locator("bench-card .bench-status")).to_contain_text("now takes its figures")
    page.goto(f"{address}/build/tighten-a-head-down/")
    expect(figure.locator("desc")).to_contain_text("The head of cylinders 4, 5, 6")
    expect(figure.locator("svg")).to_contain_text("cyl 6")
    page.goto(f"{address}/job/engine-card/")
    choice.select_option("marram-f4")
    page.goto(f"{address}/build/tighten-a-head-down/")
    expect(figure.locator("desc")).to_contain_text("The head of cylinders 3, 4")


def test_a_drawing_that_cannot_be_drawn_again_says_whose_it_is(open_page, address):
    page = open_page("/job/engine-card/", expect_complaints=True)
    page.get_by_label("Engine card of this job").select_option("samphire-f6")
    expect(page.locator("bench-card .bench-status")).to_contain_text("now takes its figures")
    page.route("**/drawings.json", lambda route: route.abort())
    page.goto(f"{address}/build/tighten-a-head-down/")
    figure = page.locator('figure[data-drawing="head-map"]').first
    expect(figure.locator("figcaption")).to_contain_text("Drawn for the demonstration engine, not for the card’s.")
