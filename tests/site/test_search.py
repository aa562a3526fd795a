"""The search: forty and more queries of the trade, in either dialect, and the page that each must find.

The theme's own search box is driven, in one page for all queries. A query that no longer finds its page
wants its word on that page, or in the glossary with a link to it.
"""

from __future__ import annotations

import json
import re

import pytest
from playwright.sync_api import Page, expect

from tests.site.conftest import fresh
from tests.site.test_book import PAGES

FIRST = 5
"""Among so many results the page must be: what a phone shows without scrolling far."""

QUERIES = {
    # British, American, and the shop's own words for the same thing
    "valve clearance": "build/set-valve-lash",
    "set tappets": "build/set-valve-lash",
    "valve adjustment": "build/set-valve-lash",
    "valve lash": "build/set-valve-lash",
    "feeler gauge": "reference/conversions",
    "head torque": "reference/threads-and-torques",
    "tightening order": "calculators/torque-stages",
    "head nuts": "build/tighten-a-head-down",
    "torque wrench": "calculators/torque-stages",
    "crowfoot": "work-it-out/torque",
    "compression ratio": "measure/compression-and-spacers",
    "base shim": "reference/glossary",
    "spacers": "measure/compression-and-spacers",
    "squish": "reference/glossary",
    "deck height": "measure/deck-height",
    "cc the chambers": "measure/chamber-volume",
    "chamber volume": "measure/chamber-volume",
    "ring gap": "measure/ring-gaps",
    "installed height": "measure/spring-heights",
    "coil bind": "measure/spring-heights",
    "keepers": "heads/assemble-the-valves",
    "collets": "heads/assemble-the-valves",
    "lapping": "heads/lap-the-valves",
    "grinding in valves": "heads/lap-the-valves",
    "decoke": "heads/clean-and-decarbonise",
    "decarbonise": "heads/clean-and-decarbonise",
    "gasket match": "heads/tidy-and-match-the-ports",
    "porting": "heads/tidy-and-match-the-ports",
    "cracked head": "inspect/cylinder-heads",
    "dye penetrant": "inspect/cylinder-heads",
    "valve guide wear": "work-it-out/fits",
    "burnt valve": "inspect/valves",
    "valve springs": "inspect/valve-springs",
    "rocker arm": "inspect/rockers-and-shafts",
    "lifters": "build/fit-tappets-and-pushrods",
    "bent pushrod": "inspect/pushrods-tappets-and-cam",
    "cam lobe": "inspect/pushrods-tappets-and-cam",
    "wrist pin": "inspect/barrels-pistons-and-rings",
    "gudgeon pin": "inspect/barrels-pistons-and-rings",
    "pistons": "build/fit-rings-pistons-and-barrels",
    "snap ring": "build/fit-rings-pistons-and-barrels",
    "honing": "inspect/barrels-pistons-and-rings",
    "pulled stud": "inspect/case-faces-and-studs",
    "thread insert": "inspect/case-faces-and-studs",
    "pushrod tube leak": "build/fit-pushrod-tubes",
    "RTV": "reference/materials-and-sealers",
    "sealant": "build/seal-the-barrel-bases",
    "valve cover gasket": "build/fit-the-rocker-covers",
    "rocker cover": "build/fit-the-rocker-covers",
    "muffler": "refit/exhaust",
    "silencer": "refit/exhaust",
    "intake manifold": "refit/manifolds-and-carburettors",
    "carburetor": "run/balance-the-carburettors",
    "synchronise carbs": "run/balance-the-carburettors",
    "cooling tin": "refit/oil-cooler-and-shrouding",
    "tinware": "refit/oil-cooler-and-shrouding",
    "fuel hose": "refit/fuel-and-oil-pipes",
    "banjo bolt": "refit/fuel-and-oil-pipes",
    "engine out": "strip/take-the-engine-out",
    "flywheel lock": "strip/lock-the-flywheel",
    "break-in": "run/road-run",
    "running in": "run/road-run",
    "ignition timing": "run/set-the-timing",
    "dwell": "run/set-the-timing",
    "oil leak": "run/trace-oil-leaks",
    "leakdown": "start/baseline",
    "compression test": "calculators/cylinder-tests",
    "overheating": "faults/index",
    "won't idle": "faults/index",
    "pinging": "faults/index",
    "knock": "faults/index",
    "sodium valve": "inspect/valves",
    "sodium": "start/safety",
    "asbestos": "start/safety",
    "carbon monoxide": "start/safety",
    "gasoline": "start/safety",
    "foot pounds": "reference/conversions",
    "thou to mm": "reference/conversions",
    "prime the oil": "run/oil-pressure-before-the-spark",
}


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


def test_there_are_forty_queries_and_each_names_a_page():
    assert len(QUERIES) >= 40
    for wanted in QUERIES.values():
        assert f"{wanted}.md" in PAGES, wanted


@pytest.mark.parametrize("query", QUERIES)
def test_finds_the_page(searched, query):
    wanted = QUERIES[query].removesuffix("/index")
    assert wanted in searched[query][:FIRST], json.dumps(searched[query][:FIRST])


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
