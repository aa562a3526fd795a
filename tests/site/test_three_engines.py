"""The same short journey in every engine that a reader's browser may have, on every kind of address.

And in each of them: what is typed is kept, and means what it meant.
"""

from __future__ import annotations

import functools
import json
import threading
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from http.server import ThreadingHTTPServer
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest

from calculators import read_card
from scripts.static_server import server
from tests.examples import wide
from tests.site.engines import Calm, Engine, Missing, Shelf, calm, chromium, firefox, until, webkit

__all__ = ["calm"]

ROOT = Path(__file__).resolve().parents[2]
ON_A_SHELF = f"http://{Shelf.HOST}/book"
TORQUE, RATIO, FOUND = "torque.wrench", "compression.ratio", "lash.found"
EXAMPLES = [read_card(path).title for path in sorted((ROOT / "docs/engines").glob("*-f?.yml"))]


@dataclass(frozen=True)
class Visit:
    """What is typed into a question and what its answer must say; then a slip in one box, and its message."""

    question: str
    typed: dict[str, str]
    words: str
    slip: tuple[str, str]
    message: str


VISITS = [
    Visit(  # thirds of 40 are 13.3, 26.7 and 40; the wrench has whole newton metres
        question=TORQUE,
        typed={"target": "40"},
        words="13 → 27 → 40 N·m",
        slip=("target", "tight"),
        message="Final torque must be a number, like 34",
    ),
    Visit(  # NIST SP 811 (2008), Appendix B.8: a pound-force foot is 1.355 818 N·m, so 25 are 33.89545
        question="fasteners.convert",
        typed={"torque": "25 lbf·ft"},
        words="33.8954 N·m",
        slip=("torque", "4 mm"),
        message="must use a unit of torque, like N·m or lbf·ft",
    ),
    Visit(  # common practice, no source: an inline-four that fires 1-3-4-2 has its valves set in that order
        question="lash.plan",
        typed={"firing_order": "1-3-4-2"},
        words="1, 3, 4, 2",
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
            for hung in getattr(running, "hung", ()):
                said(f"hung at first: {hung}")
    except Missing as missing:
        pytest.skip(str(missing))


IN_QUESTION = "const question = document.querySelector(`bench-question[name='${arguments[0]}']`);"
REACH = (
    IN_QUESTION
    + """
const form = question?.querySelector(".q-form");
if (!form) return false;
const fold = form.closest("details");
if (fold && !fold.open) fold.open = true;
if (form.hidden || !form.checkVisibility()) question.querySelector(".q-change").click();
const box = form.querySelector(`[name='${arguments[1]}']`);
const refined = box?.closest("details");
if (refined) refined.open = true;
return Boolean(box?.checkVisibility());
"""
)
SHOWN = (
    IN_QUESTION
    + """
const isSeen = (part) => part.checkVisibility({ visibilityProperty: true });
const shown = [...(question?.querySelectorAll(arguments[1]) ?? [])].filter(isSeen);
return shown.map((part) => part.innerText).join(" ").replaceAll("\u00a0", " ");
"""
)
VALUE = IN_QUESTION + "return question?.querySelector(`[name='${arguments[1]}']`)?.value"
UNIT = IN_QUESTION + "return question?.querySelector(`[data-unit-of='${arguments[1]}']`)?.value"
ANSWER = ".q-answer > :not(.q-whose)"


def page_of(question: str) -> str:
    """Return the room's page, at the question."""
    return f"/work-it-out/{question.partition('.')[0].replace('_', '-')}/#q-{question.replace('.', '-')}"


def go(engine: Engine, address: str) -> None:
    """Open an address as a new page, also where only what stands behind its # is another."""
    engine.open("about:blank")
    engine.open(address)


def type_into(engine: Engine, question: str, box: str, text: str) -> None:
    assert until(lambda: engine.run(REACH, question, box)), (question, box)
    for _ in range(3):  # a question that is filled from the job while someone types takes the box away
        engine.type(f'bench-question[name="{question}"] [name="{box}"]', text)
        if until(lambda: engine.run(VALUE, question, box) == text, 2):
            return
    pytest.fail(f"{question}: {box} does not take {text}")


def shows(engine: Engine, question: str, place: str, words: str) -> None:
    """Wait for the words to stand, seen, in one part of the question."""
    there = until(lambda: words in engine.run(SHOWN, question, place))
    assert there, (words, engine.run(SHOWN, question, place), engine.run(SHOWN, question, ".q-whose"))


def answers(engine: Engine, question: str, words: str) -> None:
    shows(engine, question, ANSWER, words)


def works_out(engine: Engine, visit: Visit) -> None:
    for box, text in visit.typed.items():
        type_into(engine, visit.question, box, text)
    answers(engine, visit.question, visit.words)


HERE, ON_THE_SHELF = VISITS[:1], VISITS[1:]  # each question once in each engine; who has time plays each on both


def visits(usual: list[Visit]) -> pytest.MarkDecorator:
    params = [pytest.param(one, id=one.question, marks=[] if one in usual else wide) for one in VISITS]
    return pytest.mark.parametrize("visit", params)


def names_a_slip(engine: Engine, visit: Visit) -> None:
    box, text = visit.slip
    type_into(engine, visit.question, box, text)
    shows(engine, visit.question, f'[data-box="{box}"] .q-error', visit.message)
    assert engine.run(SHOWN, visit.question, ".q-headline").strip() == ""
    assert engine.run(VALUE, visit.question, box) == text


@visits(ON_THE_SHELF)
def test_needs_no_secure_context_and_no_folder_of_its_own(engine, shelf, visit):
    """Plain http, a name that is not localhost, some port, and a folder that belongs to another site."""
    Shelf.asked = []
    go(engine, ON_A_SHELF + page_of(visit.question))
    works_out(engine, visit)
    names_a_slip(engine, visit)
    assert engine.run("return isSecureContext") is False
    assert [path for path in Shelf.asked if not path.startswith("/book/")] == []


def test_reads_and_searches_without_python(engine, shelf):
    Shelf.asked = []
    begin_anew(engine, ON_A_SHELF)  # a reader with a job of their own is told their own figures, by Python
    engine.open("about:blank")  # what that page still asks for is not ours
    Shelf.asked = []
    engine.open(f"{ON_A_SHELF}/start/safety/")
    assert engine.run("return document.querySelector('h1').innerText").startswith("Work safely")
    engine.type("[data-md-component=search-query]", "torque")
    found = "return document.querySelectorAll('.md-search-result__item').length"
    assert until(lambda: engine.run(found) > 0)
    assert "/book/start/safety/" in Shelf.asked
    assert [path for path in Shelf.asked if "/python/" in path] == []


# What is typed is kept, and means what it meant: the job as the storage holds it, and as the page has it

JOB = """
const address = performance.getEntriesByType("resource").find(({ name }) => name.endsWith("/job.js"))?.name;
if (!address) return false;
window.done = window.wrong = undefined;
const did = import(address).then(async (job) => { %s });
did.then((found) => (window.done = [found ?? null]), (error) => (window.wrong = String(error)));
return true;
"""
STORED = """
window.stored = undefined;
const asked = indexedDB.open("bench");
asked.onsuccess = () => {
  const of = asked.result.transaction(["jobs", "photographs"]);
  const [jobs, pictures] = [of.objectStore("jobs").getAll(), of.objectStore("photographs").getAllKeys()];
  of.oncomplete = () => (window.stored = { jobs: jobs.result, pictures: pictures.result });
  asked.result.close();
};
"""
FULL = """
const { put } = IDBObjectStore.prototype;
IDBObjectStore.prototype.put = function (...given) {
  if (window.full) throw new DOMException("no room", "QuotaExceededError");
  return put.apply(this, given);
};
window.full = true;
"""
CLOCK = """
window.real ??= Date;
const shift = arguments[0] * 86400000;
window.Date = class extends window.real {
  constructor(...given) { super(...(given.length ? given : [window.real.now() + shift])); }
  static now() { return window.real.now() + shift; }
};
"""
HOLD = """
const asked = indexedDB.open("bench");
asked.onsuccess = () => {
  const held = asked.result.transaction(["jobs", "photographs", "desk"], "readwrite").objectStore("jobs");
  const again = () => (window.held = true, held.get("nothing").onsuccess = again);
  again();
};
"""
UNSAVED = """
const left = Object.entries(localStorage).filter(([key]) => key.startsWith("bench-unsaved"));
return left.map(([, text]) => text).join();
"""
NOTICE = "return document.querySelector('.bench-not-kept')?.textContent ?? ''"
INCOMING = "return document.querySelector('.bench-job-incoming:not([hidden])')?.innerText ?? ''"
SAID = "return document.querySelector('bench-job .bench-status')?.innerText ?? ''"
PRESS = """
const all = [...document.querySelectorAll("bench-job button")];
const button = all.find(({ textContent }) => textContent.trim().startsWith(arguments[0]));
button?.click();
return Boolean(button);
"""
RECEIVE = """
const input = document.querySelector("bench-job input[type=file]:not(.bench-job-camera)");
if (!input) return false;
const carried = new DataTransfer();
carried.items.add(new File([arguments[0]], "jobs.json", { type: "application/json" }));
input.files = carried.files;
input.dispatchEvent(new Event("change", { bubbles: true }));
return true;
"""
KEEP_EXPORTS = """
const { createObjectURL } = URL;
URL.createObjectURL = (blob) => {
  blob.text?.().then((text) => (window.exported = text));
  return createObjectURL.call(URL, blob);
};
HTMLAnchorElement.prototype.click = () => {};
"""


def job(engine: Engine, deed: str, *given: Any) -> Any:
    """Do one thing with the page's own copy of the job, as its elements do; ``given`` stands for what is passed."""
    deed = f"const given = {json.dumps(given)}; {deed}"
    assert until(lambda: engine.run(JOB % deed)), "the page has no job"
    assert until(lambda: engine.run("return Boolean(window.done || window.wrong)")), deed
    assert not engine.run("return window.wrong ?? ''"), engine.run("return window.wrong")
    return engine.run("return window.done[0]")


IS_HANDED_ON = """
const is = window.handedOn && location.pathname === new URL(arguments[0]).pathname;
window.handedOn = false;
return Boolean(is);
"""
READS_NOTHING = """
const all = [...document.querySelectorAll("bench-question")];
return !document.querySelector("[data-remove]") && all.every(({ dataset }) => dataset.state === "example");
"""


def begin_anew(engine: Engine, root: str, page: str = "/") -> None:
    """Throw away what an earlier test typed: at home, which starts no Python, or on the page that is handed on."""
    is_handed_on = engine.run(IS_HANDED_ON, root + page)
    if not is_handed_on:
        go(engine, root + "/")
    job(engine, "for (const one of await job.allJobs()) await job.throwAway()")
    if is_handed_on:
        assert until(lambda: engine.run(READS_NOTHING)), "the page still shows what was thrown away"
    elif page != "/":
        engine.open(root + page)


def hand_on(engine: Engine) -> None:
    """Leave the page to the next test: it has come to its end, and nothing in the page is made up."""
    engine.run("window.handedOn = true")


def stored(engine: Engine) -> dict[str, Any]:
    """Return the one job that the storage holds, and whose photographs' bytes."""
    engine.run(STORED)
    assert until(lambda: engine.run("return Boolean(window.stored)"))
    found: dict[str, Any] = engine.run("return window.stored")
    return (found["jobs"] or [{"readings": {}}])[0] | {"pictures": found["pictures"]}


def keeps(engine: Engine, **wanted: str) -> None:
    """Wait until the storage holds these readings, by the ends of their names, each with its unit."""

    def kept() -> dict[str, str]:
        readings = stored(engine)["readings"].items()
        return {path.rpartition(".")[2]: f"{one['text']} {one.get('unit') or ''}".strip() for path, one in readings}

    assert until(lambda: kept() == wanted), (wanted, kept())


def as_file(*jobs: dict[str, Any]) -> str:
    return json.dumps(
        {"format": 3, "jobs": [{key: of for key, of in one.items() if key != "pictures"} for one in jobs]}
    )


def preview(engine: Engine, text: str, words: str) -> str:
    """Choose a file on the job's page, and wait for what it would do."""
    assert until(lambda: engine.run(RECEIVE, text))
    assert until(lambda: words in engine.run(INCOMING)), (words, engine.run(INCOMING))
    return str(engine.run(INCOMING))


def taken_in(engine: Engine) -> None:
    """Wait until the job's page says so; it may still say so of a file before."""
    assert until(lambda: "The file is taken in" in engine.run(SAID)), engine.run(SAID)


def own_card(name: str, torque: str | None = None) -> dict[str, Any]:
    """Return a card of the reader's own: the example's figures, each with a source of theirs."""
    data = json.loads(json.dumps(read_card(ROOT / "docs/engines/marram-f4.yml").data), object_hook=with_own_source)
    if torque:
        data["torques"]["cylinder_head"]["value"] = torque
    return {"name": "own", "data": data | {"name": name}}


def with_own_source(fact: dict[str, Any]) -> dict[str, Any]:
    return fact | {"source": "ours"} if "source" in fact else fact


@visits(HERE)
def test_works_out_typed_readings_and_names_a_slip(engine, calm, visit):
    begin_anew(engine, calm, page_of(visit.question))
    works_out(engine, visit)
    names_a_slip(engine, visit)
    hand_on(engine)


def test_1_a_reading_keeps_its_unit_whatever_is_chosen_later(engine, calm):
    begin_anew(engine, calm, page_of(TORQUE))
    type_into(engine, TORQUE, "target", "30")
    answers(engine, TORQUE, "30 N·m")
    keeps(engine, head_torque="30 N·m")
    job(engine, "await job.chooseCard(given[0])", own_card("Ours", "25 lbf·ft"))
    go(engine, calm + page_of(TORQUE))
    answers(engine, TORQUE, "30 N·m")
    assert [engine.run(VALUE, TORQUE, "target"), engine.run(UNIT, TORQUE, "target")] == ["30", "N·m"]
    engine.open(f"{calm}/job/")
    theirs = stored(engine)
    theirs["readings"]["head_torque"] = {"text": "22", "unit": "lbf·ft", "when": "2099-01-01T00:00:00.000Z"}
    preview(engine, as_file(theirs), "30 N·m gives way to 22 lbf·ft")
    assert engine.run(PRESS, "Take it in")
    keeps(engine, head_torque="22 lbf·ft")
    hand_on(engine)


def test_2_the_preview_names_what_goes_and_only_that_goes(engine, calm):
    begin_anew(engine, calm, "/job/")
    job(
        engine,
        """await job.keepReadings({ bore: { text: "80.1", unit: "mm" }, stroke: { text: "74", unit: "mm" } }, null);
           await job.write("about.owner", "R. Tide", null);
           await job.add("notes", { id: "aaaaaaaa", text: "Stud 4 was loose" });
           await job.chooseCard(given[0]);""",
        own_card("Ours"),
    )
    later = "2099-01-01T00:00:00.000Z"
    theirs = stored(engine)
    theirs = {key: theirs[key] for key in ("id", "made", "changed")} | {
        "about": {"fitter": "A. Holm"},
        "about_orders": {"fitter": later},
        "card": {"name": "dunlin-f2", "when": later, "order": later},
        "readings": {},
        "notes": [],
        "gone": {"readings bore": later, "notes aaaaaaaa": later},
    }
    theirs |= {name: [] for name in ("decisions", "parts", "tags", "checks", "photographs")} | {
        "ticks": {},
        "clocks": {},
    }
    told = preview(engine, as_file(theirs), "2 taken out")
    for words in ("80.1 mm is taken out", "Stud 4 was loose", "Ours"):
        assert words in told, told
    assert "R. Tide" not in told
    assert "74" not in told
    assert engine.run(PRESS, "Take it in")
    keeps(engine, stroke="74 mm")
    taken_in(engine)
    after = stored(engine)
    assert after["readings"].keys() == {"stroke"}
    assert after["notes"] == []
    assert after["about"] == {"owner": "R. Tide", "fitter": "A. Holm"}
    assert (after["card"]["name"], [one["data"]["name"] for one in after["cards_aside"]]) == ("dunlin-f2", ["Ours"])
    hand_on(engine)


def test_3_what_is_typed_between_preview_and_taking_in_stays(engine, calm):
    begin_anew(engine, calm, "/job/")
    job(engine, 'await job.keepReadings({ bore: { text: "80", unit: "mm" } }, null)')
    theirs = stored(engine)
    theirs["readings"]["bore"] |= {
        "text": "80.2",
        "when": "2026-12-24T00:00:00.000Z",
        "order": "2026-12-24T00:00:00.000Z",
    }
    preview(engine, as_file(theirs), "80 mm gives way to 80.2 mm")
    job(engine, 'await job.keepReadings({ bore: { text: "80.9", unit: "mm" } }, null)')
    assert engine.run(PRESS, "Take it in")
    assert until(lambda: "Something was typed since you looked" in engine.run(SAID)), engine.run(SAID)
    keeps(engine, bore="80.9 mm")
    hand_on(engine)


def test_4_what_a_full_storage_refused_goes_in_with_the_next_entry_and_over_a_reload(engine, calm):
    begin_anew(engine, calm, page_of(TORQUE))
    type_into(engine, TORQUE, "target", "30")
    keeps(engine, head_torque="30 N·m")
    answers(engine, TORQUE, "30 N·m")  # the boxes that it brings are there
    engine.run(FULL)
    type_into(engine, TORQUE, "target", "31")
    assert until(lambda: "Not kept yet:" in engine.run(NOTICE)), engine.run(NOTICE)
    keeps(engine, head_torque="30 N·m")
    engine.run("window.full = false")
    type_into(engine, TORQUE, "passes", "4")
    keeps(engine, head_torque="31 N·m", passes="4")
    assert until(lambda: engine.run(NOTICE) == "")
    engine.run("window.full = true")
    type_into(engine, TORQUE, "passes", "5")
    assert until(lambda: "Not kept yet:" in engine.run(NOTICE))
    go(engine, calm + page_of(TORQUE))  # and there is room again
    assert until(lambda: engine.run(VALUE, TORQUE, "passes") == "5")
    keeps(engine, head_torque="31 N·m", passes="5")
    hand_on(engine)


def test_4_a_tab_cut_in_mid_write_loses_nothing(engine, calm):
    if "WebKit" in engine.version:
        pytest.xfail("its page that was left still holds the storage's lock: the cut is not made up as it happens")
    begin_anew(engine, calm, page_of(TORQUE))
    type_into(engine, TORQUE, "target", "30")
    keeps(engine, head_torque="30 N·m")
    answers(engine, TORQUE, "30 N·m")  # the boxes that it brings are there
    engine.run(HOLD)  # another tab is at it: no write of this one comes to an end
    assert until(lambda: engine.run("return Boolean(window.held)"))
    type_into(engine, TORQUE, "target", "32")
    assert until(lambda: '"32"' in engine.run(UNSAVED)), engine.run(UNSAVED)
    go(engine, calm + page_of(TORQUE))
    assert until(lambda: engine.run(VALUE, TORQUE, "target") == "32")
    type_into(engine, TORQUE, "passes", "4")
    keeps(engine, head_torque="32 N·m", passes="4")
    assert until(lambda: engine.run(UNSAVED) == "")
    hand_on(engine)


def test_4_a_reading_typed_again_after_the_clock_was_put_back_is_in_the_job_s_own_export(engine, calm):
    begin_anew(engine, calm, page_of(TORQUE))
    type_into(engine, TORQUE, "target", "30")
    keeps(engine, head_torque="30 N·m")
    engine.run(CLOCK, 5)
    job(engine, 'await job.remove("readings", "head_torque", null)')
    keeps(engine)
    assert until(lambda: engine.run(VALUE, TORQUE, "target") == "")
    engine.run(CLOCK, 0)
    type_into(engine, TORQUE, "target", "33")
    keeps(engine, head_torque="33 N·m")
    mine = stored(engine)
    assert mine["gone"] == {}
    engine.open(f"{calm}/job/")
    preview(engine, as_file(mine), "0 taken out")
    assert engine.run(PRESS, "Take it in")
    taken_in(engine)  # and not left while it is
    keeps(engine, head_torque="33 N·m")


def test_6_what_the_boxes_take_can_be_restored_and_one_bad_entry_takes_no_other_with_it(engine, calm):
    begin_anew(engine, calm, page_of(TORQUE))
    type_into(engine, TORQUE, "target", "30")
    job(
        engine,
        """await job.keepReadings({ stroke: { text: "7".repeat(3007), called: "Stroke" } }, null);
                   await job.keepReadings({ bore: { text: "8".repeat(2000), unit: "mm" } }, null);
                   await job.write("about.owner", "R. Tide", null)""",
    )
    assert until(lambda: "longer than 2000 characters: Stroke" in engine.run(NOTICE)), engine.run(NOTICE)
    keeps(engine, head_torque="30 N·m", bore="8" * 2000 + " mm")
    engine.open(f"{calm}/job/")
    assert until(lambda: engine.run(RECEIVE, "no file") is True)
    engine.run(KEEP_EXPORTS)
    assert engine.run(PRESS, "Export this job")
    assert until(lambda: engine.run("return Boolean(window.exported)"))
    backup = json.loads(engine.run("return window.exported"))
    backup["jobs"][0]["readings"]["stroke"] = {"text": "7" * 3007, "when": backup["jobs"][0]["made"]}
    job(engine, "await job.throwAway()")
    keeps(engine)
    told = preview(engine, json.dumps(backup), "a new job with")
    assert "jobs/0/readings/stroke" in told
    assert engine.run(PRESS, "Take it in")
    keeps(engine, head_torque="30 N·m", bore="8" * 2000 + " mm")
    assert stored(engine)["about"] == {"owner": "R. Tide"}
    taken_in(engine)
    hand_on(engine)


def test_7_what_is_taken_out_can_be_put_back_as_it_was(engine, calm):
    begin_anew(engine, calm, "/job/")
    job(engine, 'await job.keepReadings({ bore: { text: "3.15", unit: "in" } }, null)')
    before = stored(engine)["readings"]["bore"]
    take_out = (
        "const out = document.querySelector('[data-remove=\"readings bore\"]'); out?.click(); return Boolean(out)"
    )
    assert until(lambda: engine.run(take_out))
    keeps(engine)
    assert until(lambda: engine.run(PRESS, "Put it back"))
    keeps(engine, bore="3.15 in")
    after = stored(engine)
    assert {key: after["readings"]["bore"][key] for key in before} == before
    assert after["gone"] == {}
    hand_on(engine)


def test_7_a_job_that_is_thrown_away_takes_the_bytes_of_its_photographs_along(engine, calm):
    if "WebKit" in engine.version:
        pytest.xfail("driven by WebDriver its session keeps no Blob: UnknownError where one is stored")
    begin_anew(engine, calm, "/job/")
    job(
        engine,
        'await job.addPhotograph(new Blob(["picture"], { type: "image/jpeg" }), { caption: "", width: 1, height: 1 })',
    )
    assert len(stored(engine)["pictures"]) == 1
    engine.run("window.confirm = () => true")
    assert until(lambda: engine.run(PRESS, "Throw this job away"))
    assert until(lambda: engine.run("return Boolean(document.querySelector('.bench-job-thrown button'))"))
    assert len(stored(engine)["pictures"]) == 1  # for a day
    assert until(lambda: engine.run(PRESS, "Delete it for good") and stored(engine)["pictures"] == [])
    assert stored(engine)["readings"] == {}


CHOOSE = """
const box = document.querySelector(arguments[0]);
if (!box?.querySelector(`option[value="${arguments[1]}"]`)) return false;
box.value = arguments[1];
for (const kind of ["input", "change"]) box.dispatchEvent(new Event(kind, { bubbles: true }));
return true;
"""
TAP = """
const all = [...document.querySelectorAll(arguments[0])].filter((one) => one.checkVisibility() && !one.disabled);
const [one] = all.filter(({ innerText }) => innerText.startsWith(arguments[1]));
one?.click();
return Boolean(one);
"""
TEXT = """
const all = [...document.querySelectorAll(arguments[0])];
return all.map(({ innerText }) => innerText).join(" ").replaceAll("\u00a0", " ");
"""
PRINTED = """
const one = document.querySelector("[data-paper=handover]");
one?.click();
return Boolean(one && window.printed);
"""


def test_a_short_job_in_the_other_engines(engine, calm):
    """From the layout to the handover, with a reload between."""
    if "Chromium" in engine.version:
        pytest.skip("test_whole_job.py plays it whole")
    begin_anew(engine, calm, "/job/engine-card/")

    def tap(selector: str, words: str = "") -> None:
        assert until(lambda: engine.run(TAP, selector, words)), (selector, words)

    def says(selector: str, words: str) -> None:
        assert until(lambda: words in engine.run(TEXT, selector)), (words, engine.run(TEXT, selector))

    tap(".bench-begin > summary")
    assert engine.run(CHOOSE, "#bench-begin-layout", "layout-flat-twin")
    boxes = {"name": "Turnstone F2", "torques-cylinder_head": "28 lbf·ft", "clearances-inlet": "0.12"}
    for key, text in (boxes | {"clearances-exhaust": "0.17"}).items():
        engine.type(f"#bench-begin-{key}", text)
    tap(".bench-begin button", "Make this")
    says(".bench-status", "What else a question needs")
    go(engine, calm + page_of(TORQUE))
    says(f'[name="{TORQUE}"] .q-whose', "Still needed: stud pattern")
    assert until(lambda: engine.run(CHOOSE, f'[name="{TORQUE}"] [name="pattern"]', "4"))
    shows(engine, TORQUE, ".q-headline", "9 → 19 → 28 lbf·ft")
    tap(f'[name="{TORQUE}"] .q-done')
    says(f'[name="{TORQUE}"] .q-done', "On the job sheet")
    go(engine, calm + page_of(FOUND))
    says(f'[name="{FOUND}"] .q-whose', "Still needed: screw pitch")
    tap(f'[name="{FOUND}"] .q-one-by-one')
    for place, gap in (("Cylinder 1", "0.10"), ("Cylinder 1", "0.15"), ("Cylinder 2", "0.12"), ("Cylinder 2", "0.16")):
        says(".pad-thing", place)
        engine.type("#pad-entry", gap)
        before = engine.run(TEXT, ".pad-top span")
        tap(".pad-keys .bench-follow-next")
        assert until(lambda before=before: engine.run(TEXT, ".pad-top span") != before)
    go(engine, f"{calm}/job/")
    engine.run("window.print = () => (window.printed = document.querySelector('.bench-paper').innerText)")
    assert until(lambda: engine.run(PRINTED))
    told = engine.run("return window.printed").replace("\u00a0", " ")
    for words in ("Turnstone F2", "28 lbf·ft", "0.10", "0.16"):
        assert words in told, (words, told)
    assert not [example for example in EXAMPLES if example in told]


class Broken(Calm):
    """The built site, some files of which come broken: cut short, or never."""

    cut: frozenset[str] = frozenset()
    hang: frozenset[str] = frozenset()
    goes_on = threading.Event()

    def do_GET(self) -> None:  # noqa: N802 (http.server's name)
        path = urlsplit(self.path).path
        if any(folder in path for folder in self.hang):
            self.goes_on.wait(300)
            return self.send_error(503)
        if path.rpartition("/")[2] in self.cut:
            return self.reply("const cut = {")
        return super().do_GET()


@contextmanager
def broken(site: Path, **how: Any) -> Iterator[str]:
    """Serve the site broken, from an address of its own: no browser has anything of it yet."""
    handler = type("BrokenHere", (Broken,), how | {"goes_on": threading.Event()})
    running = server("127.0.0.1", 0, site, handler)
    threading.Thread(target=running.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{running.server_address[1]}"
    finally:
        handler.goes_on.set()
        running.shutdown()
        running.server_close()


NOTICES = """
const all = [...document.querySelectorAll(".bench-not-running")];
return all.filter((one) => one.checkVisibility({ visibilityProperty: true })).map((one) => one.innerText);
"""
LATE = """
// what comes late comes now
const late = document.getAnimations().filter(({ animationName }) => animationName === "bench-late");
const waits = late.map((one) => String(one.effect.getTiming().delay));
late.forEach((one) => one.finish());
return [...new Set(waits)];
"""
BOXES = "return [...document.querySelectorAll('.q-form [data-path]')].filter((one) => one.checkVisibility()).length"
LONG_WAITS = """
{
  const later = setTimeout;
  const long = (window.longWaits = []);
  const isOurs = () => /python[.]js/.test(new Error().stack); // a driver has long waits too
  window.setTimeout = (deed, time, ...given) =>
    time > 10000 && isOurs() ? -long.push(deed) : later(deed, time, ...given);
  const stop = clearTimeout;
  window.clearTimeout = (which) => (which < 0 ? delete long[-which - 1] : stop(which));
}
"""
"""What the page would do after a long time is done when the test says so."""
TIME_IS_UP = "for (const deed of longWaits.splice(0, longWaits.length, ...longWaits.map(() => undefined))) deed?.();"
NOT_RUNNING = "This question is not running: nothing typed here is answered."


def test_5_a_question_whose_script_is_cut_says_so_and_takes_nothing(engine, site):
    with broken(site, cut=frozenset({"bench-question.js"})) as address:
        go(engine, address + page_of(TORQUE))
        assert engine.run(LATE) == ["4000"]
        assert until(lambda: len(engine.run(NOTICES)) == 1), engine.run(NOTICES)
        assert engine.run(NOTICES)[0].startswith(NOT_RUNNING)
        assert engine.run(BOXES) == 0
        engine.open("about:blank")


def test_5_while_python_does_not_come_no_answer_stands_beside_what_is_typed(engine, site):
    with broken(site, hang=frozenset({"/python/"}), before={"early.js": LONG_WAITS}) as address:
        go(engine, address + page_of(TORQUE))
        assert engine.run(SHOWN, TORQUE, ".q-headline")  # the example's, as it was built
        type_into(engine, TORQUE, "target", "60")
        assert until(lambda: not engine.run(SHOWN, TORQUE, ANSWER).strip()), engine.run(SHOWN, TORQUE, ANSWER)
        shows(engine, TORQUE, ".q-whose", "Starting. Keep typing: your entries are answered once this has started.")
        stopped = "This question has stopped. Your readings are kept."
        assert until(lambda: engine.run(TIME_IS_UP) or stopped in engine.run(SHOWN, TORQUE, ".q-whose"))
        assert not engine.run(SHOWN, TORQUE, ANSWER).strip()
        assert engine.run(VALUE, TORQUE, "target") == "60"
        engine.open("about:blank")


BLOCKED = """
for (const name of ["indexedDB", "localStorage", "sessionStorage"])
  Object.defineProperty(window, name, { get() { throw new DOMException("blocked", "SecurityError"); } });
"""
FORGETS = "This browser keeps nothing"


@pytest.fixture(scope="module")
def blocked(site: Path) -> Iterator[str]:
    with broken(site, before={"early.js": BLOCKED}) as address:
        yield address


@pytest.mark.parametrize("page", [page_of(TORQUE), page_of(RATIO), "/build/tighten-a-head-down/", "/job/engine-card/"])
def test_7_with_its_storage_blocked_each_page_that_takes_something_says_so(engine, blocked, page):
    go(engine, blocked + page)
    assert until(lambda: FORGETS in engine.run(NOTICE)), engine.run(NOTICE)
    if page == page_of(TORQUE):
        type_into(engine, TORQUE, "target", "40")  # and answers all the same
        answers(engine, TORQUE, "40 N·m")
