"""The search: sixty and more queries of the trade, in either dialect, and the page that each must find.

The theme's own search box is driven, in one page for all queries. A query that no longer finds its page
wants its word on that page, or among its other names in ``scripts/search_words.yml``.
"""

from __future__ import annotations

import json
import re

import pytest
import yaml
from playwright.sync_api import Page, expect

from tests.site.conftest import ROOT, fresh
from tests.site.test_book import PAGES

QUERIES: dict[str, str] = yaml.safe_load((ROOT / "tests/site/queries.yml").read_text(encoding="utf-8"))
FIRST, AMONG = 0.9, 3
"""So many of the queries find their page first, and all of them among so many: what a phone shows at once."""


@pytest.fixture(scope="module")
def searched(launch, address) -> dict[str, list[str]]:
    """Ask every query once, in one page; return the pages that each finds, best first."""
    page = fresh(launch()).new_page()
    page.goto(f"{address}/reference/glossary/")
    page.locator(".md-search__input").click()
    return {query: found_by(page, query) for query in [*QUERIES, "qwertz"]}


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


def test_a_question_is_found_by_its_own_words(launch, address):
    page = fresh(launch()).new_page()
    page.goto(f"{address}/reference/glossary/")
    page.locator(".md-search__input").click()
    found_by(page, "what do I set with an extension on the wrench")
    link = page.locator('.md-search-result__item a[href*="#q-torque-extension"]')
    expect(link.first).to_contain_text("What do I set with an extension on the wrench?")


def test_a_word_that_is_nowhere_finds_nothing(searched):
    assert searched["qwertz"] == []


# The theme asks a worker, which answers each key once: with what it found, or with nothing and a warning.
HEARD = """
  window.heard = 0;
  const post = Worker.prototype.postMessage;
  Worker.prototype.postMessage = function (...message) {
    if (!this.counted) this.addEventListener("message", () => (window.heard += 1));
    this.counted = true;
    return post.apply(this, message);
  };
"""
TYPE = """
  (box, text) => {
    box.value = text;
    box.dispatchEvent(new KeyboardEvent("keyup", { bubbles: true }));
  }
"""


def test_the_beginning_of_any_word_of_the_book_finds_something(launch, site, address):
    """The search asks for all words that begin like the last typed; none of that may break it."""
    index = json.loads((site / "search" / "search_index.json").read_text(encoding="utf-8"))
    words = {word for entry in index["docs"] for word in re.findall(r"[a-z]{4,}", entry["title"].lower())}
    page, refused = fresh(launch()).new_page(), []
    page.on("console", lambda entry: entry.type == "warning" and refused.append(entry.text))
    page.add_init_script(HEARD)
    page.goto(f"{address}/reference/glossary/")
    page.locator(".md-search__input").click()
    box, heard = page.locator(".md-search__input"), 0
    for beginning in sorted({word[:4] for word in words}):
        heard = page.evaluate("window.heard")
        box.evaluate(TYPE, beginning)
        page.wait_for_function("heard => window.heard > heard", arg=heard)
    assert heard > 200
    assert refused == []
