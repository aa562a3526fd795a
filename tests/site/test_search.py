"""The search: two hundred queries of the trade, in either dialect, and the page that each must find.

The theme's own search is asked, in one page for all queries, and its box driven for some of them. A query
that no longer finds its page wants its word on that page, or among its other names in ``scripts/search_words.yml``.
"""

from __future__ import annotations

import json
import re

import pytest
import yaml
from playwright.sync_api import Page, expect

from tests.examples import IS_WIDE
from tests.site.conftest import PHONE, ROOT, answered, fill, fresh
from tests.site.own_card import choose, facts
from tests.site.test_book import PAGES

QUERIES: dict[str, str] = yaml.safe_load((ROOT / "tests/site/queries.yml").read_text(encoding="utf-8"))
FIRST, AMONG = 0.9, 3
"""So many of the queries find their page first, and all of them among so many: what a phone shows at once."""


BESIDE = """
{
  // a query beside the box: the theme's own worker answers it, each in its turn, and nothing is listed
  let answer;
  window.Worker = class extends Worker {
    constructor(...given) {
      super(...given);
      if (!String(given[0]).includes("/workers/search.")) return;
      this.addEventListener("message", (event) => {
        if (!answer) return;
        event.stopImmediatePropagation();
        answer(event.data.data.items);
        answer = undefined;
      });
      window.askedBeside = (query) => {
        this.postMessage({ type: 2, data: query });
        return new Promise((done) => (answer = done));
      };
    }
  };
}
"""
ALL_BESIDE = """
async (queries) => {
  const found = {};
  for (const query of queries)
    found[query] = (await askedBeside(query)).map((sections) => sections[0].location.split("#")[0]);
  return found;
}
"""


@pytest.fixture(scope="module")
def box(browser, address) -> Page:
    """Return a page whose search is open and has answered."""
    page = fresh(browser).new_page()
    page.add_init_script(BESIDE)
    page.goto(f"{address}/reference/glossary/")
    page.locator(".md-search__input").click()
    found_by(page, "torque")
    return page


@pytest.fixture(scope="module")
def searched(box) -> dict[str, list[str]]:
    """Ask every query once; return the pages that each finds, best first."""
    found = box.evaluate(ALL_BESIDE, [*QUERIES, "qwertz"])
    return {query: [path.strip("/") for path in paths] for query, paths in found.items()}


def found_by(page: Page, query: str) -> list[str]:
    box, told = page.locator(".md-search__input"), page.locator(".md-search-result__meta")
    for typed, answer in (("", "Type to start searching"), (query, "matching document")):
        box.fill(typed)
        box.press("End")  # the theme listens to keys
        expect(told).to_contain_text(answer)
    links = page.locator(".md-search-result__item > a:first-child")
    if not (told.text_content() or "").startswith("No "):
        expect(links.first).to_be_attached()  # the theme tells the count first, then lists what it found
    paths = links.evaluate_all("all => all.map(one => new URL(one.href).pathname)")
    return [path.strip("/") for path in paths]


def test_there_are_sixty_queries_and_each_names_a_page():
    assert len(QUERIES) >= 60
    for wanted in QUERIES.values():
        assert f"{wanted}.md" in PAGES or f"{wanted}/index.md" in PAGES, wanted


def test_nine_queries_in_ten_find_their_page_first_and_all_in_the_first_three(searched, said):
    ranks = {query: ([*searched[query], wanted].index(wanted) + 1) for query, wanted in QUERIES.items()}
    first = [query for query, rank in ranks.items() if rank == 1]
    said(f"{len(first)} of {len(ranks)} queries find their page first")
    far = {query: searched[query][: 2 * AMONG] for query, rank in ranks.items() if rank > AMONG or not searched[query]}
    assert not far
    assert len(first) >= FIRST * len(QUERIES), [query for query, rank in ranks.items() if rank > 1]


def test_a_figure_beside_the_deed_finds_the_deed_before_any_table_of_units(searched):
    with_figure = [query for query in QUERIES if re.search(r"\d", query)]
    assert len(with_figure) >= 4
    assert {query: searched[query][0] for query in with_figure} == {query: QUERIES[query] for query in with_figure}


def test_a_question_is_found_by_its_own_words(box):
    found_by(box, "what do I set with an extension on the wrench")
    link = box.locator('.md-search-result__item a[href*="#q-torque-extension"]')
    expect(link.first).to_contain_text("What do I set with an extension on the wrench?")


@pytest.mark.parametrize("query", [*[*QUERIES][:: 1 if IS_WIDE else 24], "qwertz"])
def test_the_box_lists_what_the_search_finds(box, searched, query):
    listed = found_by(box, query)  # the theme lists more when the list is scrolled
    assert listed == searched[query][: len(listed)]
    assert len(listed) >= min(AMONG, len(searched[query]))


def test_a_word_that_is_nowhere_finds_nothing(searched):
    assert searched["qwertz"] == []


LEFT_OUT = """
able about across after almost also among because been cannot could dear does either else ever every from have hers
however into just least like likely might most must neither often only other rather said says should since some than
that their them then there these they this twas wants were what when where which while whom will with would your
"""
"""Words that an English search leaves out: of the list of lunr 2.3.9, those of four letters and more."""


def test_the_beginning_of_any_word_of_the_book_finds_something(site, box):
    """The search asks for all words that begin like the last typed; what breaks it is answered with nothing."""
    index = json.loads((site / "search" / "search_index.json").read_text(encoding="utf-8"))
    words = {word for entry in index["docs"] for word in re.findall(r"[a-z]{4,}", entry["title"].lower())}
    beginnings = sorted({word[:4] for word in words})
    assert len(beginnings) > 200
    refused: list[str] = []
    box.on("console", lambda entry: entry.type == "warning" and refused.append(entry.text))
    found = box.evaluate(ALL_BESIDE, beginnings)
    nothing = {beginning for beginning, paths in found.items() if not paths}
    assert not nothing - {word[:4] for word in LEFT_OUT.split()}
    assert refused == []


# What the search says at once

ASKED = {
    # asked, in British or in American words: the figures of the example, of the reader's own card, and the page
    "head torque": ("34 N·m (25.1 lbf·ft)", "25 lbf·ft (33.9 N·m)", "/build/tighten-a-head-down/#q-torque-wrench"),
    "cylinder head bolts": ("11 → 23 → 34 N·m", "8 → 17 → 25 lbf·ft", "/build/tighten-a-head-down/#q-torque-wrench"),
    "valve lash": ("0.15 mm (5.9 thou)", "0.10 mm (3.9 thou)", "/build/set-valve-lash/#q-lash-plan"),
    "tappet clearances": ("0.20 mm (7.9 thou)", "0.20 mm (7.9 thou)", "/build/set-valve-lash/#q-lash-plan"),
    "inlet clearance": ("0.15 mm (5.9 thou)", "0.10 mm (3.9 thou)", "/build/set-valve-lash/#q-lash-plan"),
    "intake valve clearance": ("0.15 mm (5.9 thou)", "0.10 mm (3.9 thou)", "/build/set-valve-lash/#q-lash-plan"),
    "piston ring gap": ("0.30 mm (11.8 thou)", "0.30 mm (11.8 thou)", "/measure/ring-gaps/#q-fits-ring_gap"),
    "firing order": ("1 4 3 2", "1 3 2 4", "/refit/distributor/"),
    "plug wires": ("1 4 3 2", "1 3 2 4", "/refit/distributor/"),
    "spark plug gap": ("0.65 mm (25.6 thou)", "0.7 mm (27.6 thou)", "/run/first-start/"),
    "timing": ("7°", "10°", "/run/set-the-timing/#q-timing-light"),
    "lock nut": ("15 N·m (11.1 lbf·ft)", "15 N·m (11.1 lbf·ft)", "/build/set-valve-lash/"),
    "jam nuts": ("15 N·m (11.1 lbf·ft)", "15 N·m (11.1 lbf·ft)", "/build/set-valve-lash/"),
    "muffler torque": ("20 N·m (14.8 lbf·ft)", "20 N·m (14.8 lbf·ft)", "/refit/exhaust/"),
    "silencer torque": ("20 N·m (14.8 lbf·ft)", "20 N·m (14.8 lbf·ft)", "/refit/exhaust/"),
    "tickover": ("850 r/min", "850 r/min", "/run/balance-the-carburettors/"),
    "installed height": ("38 mm (1.4961 in)", "38 mm (1.4961 in)", "/measure/spring-heights/"),
}
OWN = {
    "torques__cylinder_head": "25 lbf·ft",
    "clearances__inlet": "0.10 mm",
    "layout__firing_order": [1, 3, 2, 4],
    "running__plug_gap": "0.7 mm",
    "running__static_advance": "10°",
}
ANSWER = ".bench-found-one"


def seek(page: Page, query: str) -> None:
    box = page.locator(".md-search__input")
    if not page.locator("#__search").is_checked():
        page.locator("[for=__search]:visible").first.click() if page.viewport_size["width"] < 960 else box.click()
    box.fill(query)
    box.press("End")


def test_without_a_card_of_the_readers_the_search_says_the_examples_figure_and_leads_to_its_page(open_page, address):
    page = open_page("/reference/glossary/", PHONE)
    for query, (figure, _, place) in ASKED.items():
        seek(page, query)
        answer = page.locator(ANSWER).first
        expect(answer, query).to_contain_text(figure)
        expect(answer.get_by_text("EXAMPLE", exact=True), query).to_have_count(1)
        expect(answer.locator("a").first, query).to_have_attribute("href", address + place)
    assert page.evaluate("performance.getEntriesByType('resource').every(({ name }) => !name.includes('/python/'))")
    seek(page, "head torque")
    expect(page.locator(f"{ANSWER} a").first).to_have_text("6·4 Tighten a cylinder head down")
    page.locator(f"{ANSWER} a").first.click()
    page.wait_for_url("**/build/tighten-a-head-down/#q-torque-wrench")
    expect(page.locator("#__search")).not_to_be_checked()
    expect(page.locator("#q-torque-wrench .q-headline")).to_be_in_viewport()


def test_with_a_card_of_the_readers_it_says_theirs_and_never_the_examples(open_page):
    page = open_page("/reference/glossary/", PHONE)
    choose(page, facts(lacking=("running.idle_speed",), **OWN))
    page.reload()
    for query, (_, figure, _) in ASKED.items():
        seek(page, query)
        answer = page.locator(ANSWER).first
        expect(answer, query).to_contain_text("no figure of yours yet" if query == "tickover" else figure)
        expect(answer.get_by_text("EXAMPLE"), query).to_have_count(0)
    expect(answer.get_by_text("your card")).to_have_count(2)


def test_a_figure_that_was_typed_is_said_as_the_readers_own(open_page, address):
    page = open_page("/build/tighten-a-head-down/")
    fill(page, target="40")
    answered(page)
    seek(page, "head torque")
    said = page.locator(f"{ANSWER} [data-path='torque.wrench.target']")
    expect(said).to_have_text("40 N·m (29.5 lbf·ft) yours")


def test_what_the_search_says_is_reached_by_key_and_goes_with_the_words(open_page):
    page = open_page("/reference/glossary/")
    seek(page, "head torque")
    expect(page.locator(f"{ANSWER} a")).to_have_count(1)
    theirs = page.locator(".md-search-result__list a").first
    expect(theirs).to_be_visible()
    for key, stop in (("ArrowDown", f"{ANSWER} a"), ("ArrowUp", ".md-search__input"), ("ArrowDown", f"{ANSWER} a")):
        page.keyboard.press(key)
        expect(page.locator(stop)).to_be_focused()
    page.keyboard.press("ArrowDown")
    expect(theirs).to_be_focused()
    seek(page, "qwertz")
    expect(page.locator(ANSWER)).to_have_count(0)
    seek(page, "torque")  # of what?
    expect(page.locator(ANSWER)).to_have_count(0)


def test_what_the_search_says_fits_the_narrowest_screen_and_a_thumb(open_page):
    page = open_page("/reference/glossary/", (320, 568))
    for query in ("head torque", "seat width", "valve lash"):
        seek(page, query)
        expect(page.locator(f"{ANSWER} a").first).to_be_visible()
        link = page.locator(f"{ANSWER} a").first.bounding_box()
        assert link["height"] >= 48
        for part in page.locator(f"{ANSWER} :is(p, li, strong, em)").all():
            box = part.bounding_box()
            assert box["x"] >= 0, query
            assert box["x"] + box["width"] <= 320, query
        below = page.locator(".md-search__scrollwrap").bounding_box()  # the pages that are found are seen as well
        assert below["height"] >= 200, query


def test_each_answer_of_the_search_leads_to_a_place_that_is_there(site):
    found = next(site.glob("assets/*/found.js")).read_text(encoding="utf-8")
    answers = json.loads(found.removeprefix("export default ").rstrip().removesuffix(";"))
    assert len(answers) >= 20
    for answer in answers:
        path, _, anchor = answer["address"].partition("#")
        page = (site / path / "index.html").read_text(encoding="utf-8")
        assert not anchor or f'id="{anchor}"' in page, answer["address"]
        quoted = re.search(r"[\d.]+", answer["figures"][0][2])
        assert quoted
        assert quoted[0] in page, answer["says"]  # the page has the figure itself, as the example has it
