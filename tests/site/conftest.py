"""One build, one server, one browser a session; every page watched for what must never happen."""

from __future__ import annotations

import re
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect

from scripts.static_server import Handler, Unchanging, server

ROOT = Path(__file__).resolve().parents[2]
PHONE, DESK = (360, 740), (1280, 800)
sizes = pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])

PATIENCE = 60_000
"""Milliseconds that a test waits for a sign. Long on purpose: it only says when what never comes is given up."""

expect.set_options(timeout=PATIENCE)


@pytest.fixture(scope="session")
def origins() -> set[str]:
    """Where the site is served in this session, and so where its pages may ask."""
    return set()


def origin(address: str) -> str:
    parts = urlsplit(address.removeprefix("blob:"))
    return f"{parts.scheme}://{parts.netloc}"


@pytest.fixture(scope="session")
def address(site: Path, origins: set[str]) -> Iterator[str]:
    running = server("127.0.0.1", 0, site, Unchanging)
    threading.Thread(target=running.serve_forever, daemon=True).start()
    origins.add(f"http://127.0.0.1:{running.server_address[1]}")
    yield f"http://127.0.0.1:{running.server_address[1]}"
    running.shutdown()
    running.server_close()


@pytest.fixture
def serve_in(site: Path, origins: set[str]) -> Iterator[Callable[[str], str]]:
    """Serve the site from a folder of another server: ``serve_in("/shop/bench")`` gives its address."""
    servers = []

    def served(folder: str) -> str:
        class InFolder(Handler):
            def translate_path(self, path: str) -> str:
                return super().translate_path(path.removeprefix(folder) if path.startswith(folder) else "/nowhere")

        running = server("127.0.0.1", 0, site, InFolder)
        threading.Thread(target=running.serve_forever, daemon=True).start()
        servers.append(running)
        origins.add(f"http://127.0.0.1:{running.server_address[1]}")
        return f"http://127.0.0.1:{running.server_address[1]}{folder}"

    yield served
    for running in servers:
        running.shutdown()
        running.server_close()


@pytest.fixture(scope="session")
def browser(launch: Callable[..., Browser]) -> Browser:
    return launch()


ASKED = """
{
  // what Python was asked, and on which readings the answer shown rests: the sign that what was typed is answered
  const told = (window.benchTold = { loaded: location.href, open: new Set(), of: undefined, shown: {} });
  const asked = new Map();
  const heard = ({ data }) => {
    told.open.delete(data.id);
    if (asked.get(data.id)?.want === "questions") (told.of = asked.get(data.id)), (told.touched = true);
  };
  window.Worker = class extends Worker {
    constructor(...given) {
      super(...given);
      this.addEventListener("message", heard); // before the page's own, which shows the answer at once
    }
    postMessage(message, ...more) {
      // as it is now: the page's own readings go on with the next key
      if (message?.id && message.want) asked.set(message.id, structuredClone(message)), told.open.add(message.id);
      return super.postMessage(message, ...more); // one that is asked again of another worker is the same
    }
  };
  // an answer that a newer keystroke has overtaken is heard, and not shown
  addEventListener("bench-answered", ({ target }) => (told.shown[target.name] = told.of), { capture: true });
}
"""


CALM = "delete Navigator.prototype.serviceWorker; window.requestIdleCallback = () => {};"
"""Nothing is kept for offline use, and Python does not rehearse: anywhere but in their tests it takes time."""


def fresh(browser: Browser, **options: object) -> BrowserContext:
    """A profile that is calm, and in which a test can tell what Python was asked."""
    context = browser.new_context(**options)  # type: ignore[arg-type]
    context.set_default_timeout(PATIENCE)
    context.add_init_script(CALM)
    context.add_init_script(ASKED)
    return context


@dataclass
class Watched:
    """What a page did that no page may do."""

    strayed: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)


def watch(page: Page, origins: set[str], watched: Watched, expect_complaints: bool = False) -> None:
    page.on("request", lambda request: origin(request.url) in origins or watched.strayed.append(request.url))
    if not expect_complaints:
        page.on("console", lambda entry: entry.type in ("error", "warning") and watched.complaints.append(entry.text))
        page.on("pageerror", lambda error: watched.complaints.append(str(error)))


@pytest.fixture
def open_page(browser: Browser, address: str, origins: set[str]) -> Iterator[Callable[..., Page]]:
    """Open pages of the site, or an empty one where what the page will meet is to be prepared first.

    Afterwards none may have asked another origin or complained in the console.
    """
    contexts, watched = [], Watched()

    def opened(
        path: str | None, size: tuple[int, int] = DESK, expect_complaints: bool = False, **options: object
    ) -> Page:
        context = fresh(browser, viewport={"width": size[0], "height": size[1]}, **options)
        contexts.append(context)
        page = context.new_page()
        watch(page, origins, watched, expect_complaints)
        if path is not None:
            page.goto(address + path)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert not watched.strayed
    assert not watched.complaints


LED = """
(to) => {
  const article = document.querySelector("article");
  const link = Object.assign(document.createElement("a"), { href: to });
  article.append(link);
  link.click();
  return new Promise((there) => {
    const look = () => (article.isConnected ? setTimeout(look, 5) : there());
    look();
  });
}
"""


def went(page: Page, path: str) -> None:
    """Go to another page as a link leads there: Python lives on, which is what an opening costs most for."""
    page.evaluate(LED, path)


EMPTIED = """
async () => {
  const { allJobs, forgetThrown, throwAway, thrownJobs } = await import(MODULE);
  for (const _ of await allJobs()) await throwAway(true); // the one in hand, and so the next is
  for (const { job } of await thrownJobs()) await forgetThrown(job.id);
  localStorage.clear();
  sessionStorage.clear();
  benchTold.open.clear();
  benchTold.of = undefined;
  benchTold.shown = {};
}
"""
STANDS = """
() => {
  const isFolded = (one) => Boolean(one.querySelector(".q-one:not([open])"));
  const all = [...document.querySelectorAll("bench-question")];
  return !benchTold.touched || all.every((one) => isFolded(one) || benchTold.shown[one.name]);
}
"""
"""Once Python was asked something, it is asked for each page that is led to: what is there before is drawn anew."""
NO_QUESTIONS = "/start/safety/"
_FAILED = pytest.StashKey[bool]()


def pytest_exception_interact(node: pytest.Item | pytest.Collector) -> None:
    node.stash[_FAILED] = True


@dataclass
class Kept:
    """A page that the tests of a file open one after the other."""

    page: Page | None = None
    watched: Watched = field(default_factory=Watched)
    script: str = ""  # that is there before ours

    def close(self) -> None:
        if self.page:
            self.page.context.close()
        self.page, self.watched = None, Watched()


@pytest.fixture(scope="module")
def page_of_the_file() -> Iterator[Kept]:
    kept = Kept()
    yield kept
    kept.close()


@pytest.fixture
def same_page(
    browser: Browser, address: str, origins: set[str], page_of_the_file: Kept, request: pytest.FixtureRequest
) -> Iterator[Callable[..., Page]]:
    """Open a page as ``open_page`` does, but where the test before it was, with no job in hand: Python is up.

    It is for a test that leaves the page as a reader could leave it: no script put in, no way of it cut off.
    """
    kept = page_of_the_file

    def opened(path: str, size: tuple[int, int] = DESK) -> Page:
        if kept.page and kept.page.locator("body > dialog[open]").count():
            kept.close()  # a view left open over it goes with its page
        if page := kept.page:
            for other in page.context.pages:
                if other is not page:
                    other.close()
            went(page, NO_QUESTIONS)
            page.evaluate(EMPTIED.replace("MODULE", module("job")))
            resized(page, size)
            went(page, path)
            until(page, lambda: page.evaluate(STANDS))
            return page
        kept.page = page = fresh(browser, viewport={"width": size[0], "height": size[1]}).new_page()
        page.add_init_script(kept.script)
        watch(page, origins, kept.watched)
        page.goto(address + path)
        return page

    yield opened
    strayed, complaints = kept.watched.strayed[:], kept.watched.complaints[:]
    kept.watched.strayed.clear()
    kept.watched.complaints.clear()
    if strayed or complaints or request.node.stash.get(_FAILED, False):
        kept.close()
    assert not strayed
    assert not complaints


WRENCH = "torque.wrench"


def question(page: Page, name: str = WRENCH) -> Locator:
    return page.locator(f'bench-question[name="{name}"]').first


SETTLED = """
  !document.querySelector(".bench-not-running") &&
  Boolean(document.querySelector("bench-offline")?.textContent.trim()) &&
  (!document.querySelector("bench-job") || Boolean(document.querySelector(".bench-job-sheet h2"))) &&
  (!document.querySelector("bench-card") || Boolean(document.querySelector(".bench-card-about > *"))) &&
  (!document.querySelector("h2#steps ~ ol") || Boolean(document.querySelector(".bench-done")))
"""
"""What scripts write into a page when it is opened is there."""


def arrived(page: Page, name: str = WRENCH) -> Locator:
    """Return a question once its script is there: from here on a press or a tick is heard at once, and once."""
    one = question(page, name)
    expect(one.locator(".bench-not-running")).to_have_count(0)
    return one


OPENED = """
  (one) => {
    // all at once: an answer that opens it meanwhile would have a press shut it
    const isOpen = () => one.querySelector(".q-form").checkVisibility();
    one.querySelector(".q-one:not([open]) > summary")?.click();
    if (!isOpen()) one.querySelector(".q-change").click();
    return isOpen();
  }
"""


def form_of(page: Page, name: str = WRENCH) -> Locator:
    """Return a question with its form open."""
    one = arrived(page, name)
    until(page, lambda: one.evaluate(OPENED))
    return one


def files_and_printing(page: Page) -> Locator:
    """Return the menu of the job sheet, opened."""
    menu = page.locator(".bench-job-menu")
    if menu.get_attribute("open") is None:
        menu.locator("summary").click()
    return menu


TYPE = """
(box, text) => {
  box.value = text;
  box.dispatchEvent(new Event("input", { bubbles: true }));
}
"""


TYPE_INSIDE = """
(one, [key, text]) => {
  // all at once: a box that was found before may be replaced by an answer
  const box = one.querySelector(`[name="${key}"]`);
  box.value = text;
  box.dispatchEvent(new Event("input", { bubbles: true }));
}
"""
UNFOLD = """
(one, selector) => {
  // all at once: a box that was found before may be replaced by an answer
  // not by a click: an answer that opens the fold meanwhile would have it shut
  const around = (one) => one?.closest("details[data-refines]");
  for (let at = around(one.querySelector(selector)); at; at = around(at.parentElement)) at.open = true;
}
"""


def fill(page: Page, name: str = WRENCH, **boxes: str) -> None:
    """Type into a question's boxes by key; ``__`` stands for the point in ``chamber.2``; a select is chosen from."""
    one = form_of(page, name)
    for key, text in boxes.items():
        key = key.replace("__", ".")
        unit = key.removesuffix(".unit") if key.endswith(".unit") else None
        selector = f'[data-unit-of="{unit}"]' if unit else f'[name="{key}"]'
        control = one.locator(selector).first
        expect(control).to_be_attached()
        one.evaluate(UNFOLD, selector)
        if control.evaluate("control => control.tagName") == "SELECT":
            control.select_option(text)
        elif control.get_attribute("type") == "hidden":  # it carries what several boxes hold
            one.evaluate(TYPE_INSIDE, [key, text])
        else:
            control.fill(text)
    # what waited for the storage to open is on its way: a page that is left now has it
    page.evaluate(f"async () => void await (await import({module('job')})).theJob()")


def module(name: str) -> str:
    """In the page's script: the address of one of the book's modules, whether it has come or not."""
    # the theme may have led on since, and a clock that a test holds knows of no load
    loaded = "window.benchTold?.loaded ?? performance.getEntriesByType('navigation')[0]?.name ?? location"
    script = "document.querySelector('script[type=module]').getAttribute('src')"
    return f"new URL({script}.replace('bench.js', '{name}.js'), {loaded}).href"


def kept_job(page: Page) -> dict:
    """What the browser's storage holds of the job in hand, with all that was typed on this page before."""
    return page.evaluate(
        """async () => {
          await (await import(MODULE)).theJob(); // what waited for the storage to open is on its way
          const result = (asked) => new Promise((done) => (asked.onsuccess = () => done(asked.result)));
          const db = await result(indexedDB.open("bench"));
          const get = (store, key) => result(db.transaction(store).objectStore(store).get(key));
          const job = await get("jobs", (await get("desk", "current")) ?? "none");
          db.close();
          return job ?? null;
        }""".replace("MODULE", module("job"))
    )


FRAMES = "async (count) => { while (count--) await new Promise(requestAnimationFrame); }"


def resized(page: Page, size: tuple[int, int]) -> None:
    """Give the page another size, and let what follows it come to rest: the layout, and then our own scripts."""
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.wait_for_function("([width, height]) => innerWidth === width && innerHeight === height", arg=list(size))
    page.evaluate(FRAMES, 2)


def until(page: Page, found: Callable[[], Any]) -> Any:
    """Return what is found once it is something; what never is, fails."""
    end = time.monotonic() + PATIENCE / 1000
    while not (what := found()):
        assert time.monotonic() < end, "it never came"
        page.wait_for_timeout(50)
    return what


HELD_BACK = """
() => {
  // the way back through the history is a thing of its own, and comes when the browser has time for it
  const go = history.go;
  addEventListener("bench-back", () => (window.wentBack = true));
  history.go = (by) => (window.letBack = () => go.call(history, by));
}
"""


ANSWERS_HELD = """
{
  // what Python answers while the test holds it comes when it is let go
  const held = (window.heldAnswers = []);
  window.Worker = class extends Worker {
    constructor(...given) {
      super(...given);
      this.addEventListener("message", (event) => {
        if (!window.holdsAnswers || !event.data.answer) return;
        event.stopImmediatePropagation();
        held.push(() => this.dispatchEvent(new MessageEvent("message", { data: event.data })));
      });
    }
  };
  window.letAnswers = () => ((window.holdsAnswers = false), held.splice(0).forEach((go) => go()));
}
"""


@contextmanager
def way_back(page: Page) -> Iterator[None]:
    """Do in it what leaves a view over the page; then its way back through the history is done."""
    page.evaluate("window.cameBack = false")
    page.evaluate("addEventListener('bench-back', () => (window.cameBack = true), { once: true })")
    yield
    until(page, lambda: page.evaluate("window.cameBack"))


RESTS = """
(one) => {
  if (!window.benchTold) return true; // in a browser that a test made for itself
  const isFolded = one.querySelector(".q-one")?.open === false; // then nothing of it is shown but its headline
  const of = isFolded ? window.benchTold.of : window.benchTold.shown[one.name];
  if (window.benchTold.open.size || !of?.questions.some(({ name }) => name === one.getAttribute("name"))) return false;
  const boxes = [...one.querySelectorAll("[data-path]")].filter(({ value }) => value.trim() && value.length <= 2000);
  return boxes.every(({ dataset, value }) => of.readings[dataset.path]?.text.trim() === value.trim());
}
"""


def rests_on_what_is_typed(page: Page, name: str = WRENCH) -> None:
    """Wait until Python's last answer rests on what stands in a question's boxes, and no other is on its way."""
    until(page, lambda: question(page, name).evaluate(RESTS))


def answered(page: Page, name: str = WRENCH) -> None:
    """Wait for an answer to what was typed."""
    rests_on_what_is_typed(page, name)
    expect(question(page, name)).to_have_attribute("data-state", re.compile("mixed|yours"))
    expect(question(page, name)).not_to_have_attribute("data-waiting", "")


def says(page: Page, name: str = WRENCH) -> Locator:
    """Return the sentence that an answer says."""
    return question(page, name).locator(".q-says").first
