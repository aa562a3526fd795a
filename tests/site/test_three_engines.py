"""The same short journey in every engine that a reader's browser may have, on every kind of address."""

from __future__ import annotations

import functools
import threading
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import dataclass
from http.server import ThreadingHTTPServer
from pathlib import Path

import pytest

from calculators import read_card
from tests.site.engines import Engine, Missing, Shelf, chromium, firefox, until, webkit

ROOT = Path(__file__).resolve().parents[2]
ON_A_SHELF = f"http://{Shelf.HOST}/book"
SHOWN = "const shown = document.querySelector(`bench-calculator ${arguments[0]}`); return shown && shown.innerText"


@dataclass(frozen=True)
class Visit:
    """What is typed on a calculator's page and what must come back; then a slip in one field, and its message."""

    page: str
    typed: dict[str, str]
    place: str
    words: str
    slip: tuple[str, str]
    message: str


VISITS = [
    Visit(  # thirds of 40 are 13.3, 26.7 and 40; the wrench has whole newton metres
        page="torque-stages",
        typed={"target": "40"},
        place=".bench-lead",
        words="Set the wrench to 13, 27 and 40 N·m",
        slip=("target", "tight"),
        message="Final torque must be a number, like 34",
    ),
    Visit(  # identity: four cylinders of 86 × 86 mm sweep 4 · π/4 · 86² · 86 mm³ = 1998.2 cm³
        page="compression-and-spacers",
        typed={"bore": "86", "stroke": "86", "target": "10"},
        place='[data-value="displacement"] .bench-number',
        words="1998.2 ± ",
        slip=("bore", "4000"),
        message="Bore must be between 30 mm and 200 mm",
    ),
    Visit(  # common practice, no source: an inline-four that fires 1-3-4-2 has its valves set in that order
        page="lash-turn-plan",
        typed={"firing_order": "1-3-4-2"},
        place=".bench-lead",
        words="set the valves of 1, 3, 4, 2",
        slip=("firing_order", "1 4 2 2"),
        message="Firing order must name each cylinder from 1 to 4 once; 3 is missing and 2 comes twice",
    ),
]


@pytest.fixture(scope="module")
def shelf(site: Path) -> Iterator[ThreadingHTTPServer]:
    """A proxy that knows one name, and below it the site in a folder."""
    running = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Shelf, directory=str(site)))
    threading.Thread(target=running.serve_forever, daemon=True).start()
    yield running
    running.shutdown()
    running.server_close()


@pytest.fixture(scope="module", params=["Chromium", "Firefox", "WebKit"])
def engine(request: pytest.FixtureRequest, shelf: ThreadingHTTPServer, said: Callable[[str], None]) -> Iterator[Engine]:
    """Each engine that is here, with its name and version printed; one that is not is a skip that says so."""
    proxy = f"127.0.0.1:{shelf.server_address[1]}"
    start: AbstractContextManager[Engine]
    if request.param == "Chromium":
        start = chromium(request.getfixturevalue("browser"), proxy)
    else:
        start = {"Firefox": firefox, "WebKit": webkit}[request.param](proxy)
    try:
        with start as running:
            said(f"engine: {running.version}")
            yield running
    except Missing as missing:
        pytest.skip(str(missing))


def type_into(engine: Engine, field: str, text: str) -> None:
    engine.type(f'bench-calculator [name="{field}"]', text)


def comes_to(engine: Engine, place: str, words: str) -> None:
    """Wait for the words to stand in one part of the calculator."""
    there = until(lambda: words in (engine.run(SHOWN, place) or "").replace("\u00a0", " "))
    assert there, (words, engine.run(SHOWN, place), engine.run(SHOWN, ".bench-status"))


def works_out(engine: Engine, root: str, visit: Visit) -> None:
    engine.open(f"{root}/calculators/{visit.page}/")
    for field, text in visit.typed.items():
        type_into(engine, field, text)
    comes_to(engine, visit.place, visit.words)
    comes_to(engine, ".bench-status", "Worked out from your readings")


@pytest.mark.parametrize("visit", VISITS, ids=lambda visit: visit.page)
def test_works_out_typed_readings_and_names_a_slip(engine, address, visit):
    works_out(engine, address, visit)
    field, text = visit.slip
    type_into(engine, field, text)
    comes_to(engine, f'[data-field="{field}"] .bench-error', visit.message)
    comes_to(engine, ".bench-summary li", visit.message)
    assert engine.run("return document.querySelector(`[name=${arguments[0]}]`).value", field) == text


def test_needs_no_secure_context_and_no_folder_of_its_own(engine, shelf):
    """Plain http, a name that is not localhost, some port, and a folder that belongs to another site."""
    Shelf.asked = []
    for visit in VISITS:
        works_out(engine, ON_A_SHELF, visit)
    assert engine.run("return isSecureContext") is False
    assert [path for path in Shelf.asked if not path.startswith("/book/")] == []


def test_reads_and_searches_without_python(engine, shelf):
    Shelf.asked = []
    engine.open(f"{ON_A_SHELF}/start/safety/")
    assert engine.run("return document.querySelector('h1').innerText").startswith("Work safely")
    engine.type("[data-md-component=search-query]", "torque")
    found = "return document.querySelectorAll('.md-search-result__item').length"
    assert until(lambda: engine.run(found) > 0)
    assert "/book/start/safety/" in Shelf.asked
    assert [path for path in Shelf.asked if "/python/" in path] == []


KEPT = """
const asked = indexedDB.open("bench");
asked.onsuccess = () => {
  const all = asked.result.transaction("jobs").objectStore("jobs").getAll();
  const words = ({ text, unit }) => `${text} ${unit ?? ""}`.trim();
  all.onsuccess = () => (window.kept = Object.values(all.result[0]?.readings ?? {}).map(words));
  asked.result.close();
};
"""
REFUSE = "IDBObjectStore.prototype.put = () => { throw new DOMException('no room', 'QuotaExceededError'); }"
CHOOSE = """
const address = performance.getEntriesByType("resource").find(({ name }) => name.endsWith("/job.js")).name;
import(address).then((job) => job.chooseCard({ name: "own", data: arguments[0] }));
"""
THROW_AWAY = """
const address = performance.getEntriesByType("resource").find(({ name }) => name.endsWith("/job.js")).name;
import(address).then((job) => job.throwAway());
"""
VALUE = "return document.querySelector(`bench-calculator [name='${arguments[0]}']`)?.value"
NOTICE = "return document.querySelector('.bench-not-kept')?.textContent ?? ''"


def keeps(engine: Engine, *wanted: str) -> None:
    """Wait until the storage holds these readings, each with its unit."""

    def kept() -> list[str]:
        engine.run(KEPT)
        return sorted(engine.run("return window.kept ?? []"))

    assert until(lambda: kept() == sorted(wanted)), (wanted, kept())


def test_keeps_number_and_unit_whatever_is_chosen_later_and_through_a_full_storage(engine, address):
    page = f"{address}/calculators/torque-stages/"
    engine.open(page)
    engine.run(THROW_AWAY)  # what an earlier test typed
    engine.open(page)
    type_into(engine, "target", "30")
    comes_to(engine, ".bench-lead", "30 N·m")
    keeps(engine, "30 N·m")
    card = read_card(ROOT / "docs/engines/marram-f4.yml").data
    engine.run(
        CHOOSE, {**card, "torques": {**card["torques"], "cylinder_head": {"value": "25 lbf·ft", "source": "ours"}}}
    )
    engine.open(page)
    comes_to(engine, ".bench-status", "Worked out from your readings")
    comes_to(engine, ".bench-lead", "30 N·m")
    assert [engine.run(VALUE, name) for name in ("target", "target.unit")] == ["30", "N·m"]
    engine.run(REFUSE)
    type_into(engine, "passes", "5")
    assert until(lambda: "Not kept yet: Number of passes." in engine.run(NOTICE))
    keeps(engine, "30 N·m")
    engine.open(page)  # and there is room again
    assert until(lambda: engine.run(VALUE, "passes") == "5")
    keeps(engine, "30 N·m", "5")
    assert engine.run(NOTICE) == ""
    engine.open(f"{page}#with:torque-stages?target=31&target.unit=lbf·ft&horoscope=7")
    engine.open(f"{address}/start/safety/")
    engine.open(f"{page}#with:torque-stages?target=31&target.unit=lbf·ft&horoscope=7")
    brought = "return document.querySelector('.bench-brought')?.textContent ?? ''"
    assert until(lambda: "does not ask for it: horoscope" in engine.run(brought))
    engine.run("document.querySelector('.bench-brought button').click()")
    keeps(engine, "31 lbf·ft", "5")
    engine.run(THROW_AWAY)
