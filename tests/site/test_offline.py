"""Kept on the device: whole editions only, a line that tells the truth, and nothing needed where it cannot be."""

from __future__ import annotations

import base64
import gzip
import hashlib
import json
import os
import re
import shutil
import struct
import threading
import time
from collections.abc import Iterator
from http.server import ThreadingHTTPServer
from pathlib import Path
from urllib.parse import urljoin

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect

from scripts import icons
from scripts.service_worker import withdraw, write
from scripts.static_server import Handler
from tests.conftest import COMPILED_ONCE
from tests.examples import IS_WIDE
from tests.site.conftest import PHONE, answered, fill, form_of, says
from tests.site.conftest import until as until_in
from tests.site.engines import Missing, firefox, until, webkit
from tests.site.test_start import HISTORY

QUESTION, READING, HEAD = "/work-it-out/torque/", "/reference/glossary/", "/build/tighten-a-head-down/"
OPENED = {"/", QUESTION, READING, HEAD, "/job/", "/start/safety/"}
SAVED, NOT_SAVED = "Saved for offline use", "Not saved on this device"
OPEN = """
const form = document.querySelector(".q-form");
if (form.hidden) document.querySelector(".q-change").click();
return !form.hidden;
"""
SAYS = "return document.querySelector('.q-says')?.innerText ?? ''"
LINE = "return document.querySelector('bench-offline').innerText"
NO_ADDRESS = "This address cannot be saved for offline use"
METERED = "Object.defineProperty(Navigator.prototype, 'connection', {get: () => ({saveData: true})})"
WIFI = "Object.defineProperty(Navigator.prototype, 'connection', {get: () => ({effectiveType: '4g', type: 'wifi'})})"
HEADINGS = """
addresses => Promise.all(addresses.map(async (address) => {
  const answer = await fetch(address);
  if (!answer.ok) return answer.status;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  return page.querySelectorAll("h1").length;
}))
"""
FIRST_VISIT_BYTES = 150_000 + 13_300  # and the letters
CHROMIUM = {
    "executable_path": os.environ.get("BENCH_CHROMIUM") or "/usr/bin/chromium",
    "args": ["--no-sandbox", "--disable-gpu", COMPILED_ONCE],
}


class Shelf:
    """A server whose site, faults and life the test has in its hand."""

    def __init__(self, site: Path, prefix: str = "") -> None:
        self.site, self.prefix = site, prefix
        self.missing: set[str] = set()  # ends of paths that are not found
        self.cut: set[str] = set()  # ends of paths whose second half is lost
        self.held: set[str] = set()  # ends of paths that are answered when this is empty
        self.hanging = threading.Event()
        self.ended = threading.Event()
        self.asked: list[str] = []
        self._server = ThreadingHTTPServer(("127.0.0.1", 0), self._handler)
        self._server.daemon_threads = True
        self.port = self._server.server_address[1]
        self.address = f"http://127.0.0.1:{self.port}{prefix}"
        threading.Thread(target=self._server.serve_forever, daemon=True).start()

    def stop(self) -> None:
        self.ended.set()
        if self._server:
            self._server.shutdown()
            self._server.server_close()
            self._server = None

    def _handler(self, *arguments: object) -> Handler:
        shelf = self

        class Faulty(Handler):
            protocol_version, disable_nagle_algorithm = "HTTP/1.1", True

            def do_GET(self) -> None:  # noqa: N802 (the library's name)
                path = self.path.partition("?")[0]
                shelf.asked.append(path)
                self.directory = str(shelf.site)  # now, not when the browser opened the connection
                del self.headers["If-Modified-Since"]  # the editions of a test are made in the same second
                if shelf.hanging.is_set():
                    shelf.ended.wait()
                    self.close_connection = True
                    return
                while path.endswith(tuple(shelf.held)):
                    time.sleep(0.05)
                if not path.startswith(f"{shelf.prefix}/") or path.endswith(tuple(shelf.missing)):
                    self.send_error(404)
                    return
                self.path = path.removeprefix(shelf.prefix)
                if path.endswith(tuple(shelf.cut)):
                    whole = Path(self.translate_path(self.path)).read_bytes()
                    self.send_response(200)
                    self.send_header("Content-Type", self.guess_type(self.path))
                    self.send_header("Connection", "close")
                    self.end_headers()
                    self.wfile.write(whole[: len(whole) // 2])
                    return
                super().do_GET()

            def log_message(self, *words: object) -> None:
                pass

        return Faulty(*arguments)


def release_of(site: Path) -> str:
    return next(path.name for path in (site / "assets").iterdir() if re.fullmatch(r"[0-9a-f]{12}", path.name))


@pytest.fixture(scope="module")
def whole(site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The built site, as an edition."""
    folder = tmp_path_factory.mktemp("whole") / "site"
    shutil.copytree(site, folder)
    write(folder, release_of(folder))
    return folder


@pytest.fixture(scope="module")
def first(whole: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The pages that are opened here, as an edition: how it is kept does not depend on how many there are."""
    return few_pages(whole, tmp_path_factory.mktemp("first") / "site", OPENED)


def few_pages(site: Path, folder: Path, opened: set[str]) -> Path:
    """Copy a site with these pages alone, as an edition."""
    shutil.copytree(site, folder, ignore=shutil.ignore_patterns("*.map", "lunr"))
    for path in folder.rglob("index.html"):
        if f"/{path.parent.relative_to(folder).as_posix()}/".replace("/./", "/") not in opened:
            path.unlink()
    write(folder, release_of(folder))
    return folder


@pytest.fixture(scope="module")
def second(first: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Another release: other text on every page, another folder of assets, the same Python."""
    folder = tmp_path_factory.mktemp("second") / "site"
    shutil.copytree(first, folder)
    old, new = release_of(folder), "0123456789ab"
    (folder / "assets" / old).rename(folder / "assets" / new)
    for path in (*folder.rglob("*.html"), folder / "assets" / new / "release.js"):
        text = path.read_text(encoding="utf-8").replace(old, new)
        path.write_text(re.sub(r"(<h1[^>]*>)", r"\1Second edition: ", text), encoding="utf-8")
    write(folder, new)
    return folder


@pytest.fixture
def shelf(first: Path) -> Iterator[Shelf]:
    made = Shelf(first)
    yield made
    made.stop()


@pytest.fixture
def complaints() -> list[str]:
    return []


@pytest.fixture
def context(browser: Browser, complaints: list[str]) -> Iterator[BrowserContext]:
    made = watched(browser.new_context(), complaints)
    yield made
    made.close()


def watched(context: BrowserContext, complaints: list[str]) -> BrowserContext:
    context.on("console", lambda entry: entry.type in ("error", "warning") and complaints.append(entry.text))
    context.on("weberror", lambda error: complaints.append(str(error.error)))
    return context


def line(page: Page) -> Locator:
    return page.locator("bench-offline")


def visit(context: BrowserContext, shelf: Shelf, path: str, then: str | re.Pattern[str] | None = None) -> Page:
    page = context.new_page()
    page.goto(shelf.address + path)
    if then:
        expect(line(page)).to_contain_text(then)
    return page


def unplug(context: BrowserContext, shelf: Shelf) -> None:
    context.set_offline(True)
    shelf.stop()


def look_for_news(page: Page) -> None:
    """What a browser does by itself some seconds after a page has been opened."""
    page.evaluate("async () => (await navigator.serviceWorker.getRegistration()).update()")


def works(page: Page, target: str = "40") -> None:
    fill(page, target=target)
    answered(page)
    expect(says(page)).to_contain_text(f"{target} N·m")


def caches(page: Page) -> list[str]:
    """The names alone: to open a cache that is just then dropped would make it anew."""
    return page.evaluate("caches.keys()")


def pages_of(site: Path) -> list[str]:
    return [f"/{path.parent.relative_to(site).as_posix()}/".replace("/./", "/") for path in site.rglob("index.html")]


def test_after_one_visit_to_a_question_every_page_opens_without_a_network(context, shelf, whole, complaints):
    shelf.site = whole
    page = visit(context, shelf, QUESTION, SAVED)
    unplug(context, shelf)
    works(page)
    paths = pages_of(whole)
    answers = page.evaluate(HEADINGS, [shelf.address + path for path in paths])
    assert dict(zip(paths, answers, strict=True)) == dict.fromkeys(paths, 1)
    for path in (*sorted(paths)[:: 12 if IS_WIDE else 36], READING, "/job/"):
        assert page.goto(shelf.address + path).ok
        expect(page.locator("h1")).to_have_count(1)
        expect(line(page)).to_contain_text(SAVED)
    page.goto(shelf.address + QUESTION)
    page.locator("nav a", has_text="Glossary").first.evaluate("link => link.click()")
    expect(page.locator("h1")).to_contain_text("Glossary")
    assert not complaints


def test_a_cold_start_without_a_network_answers(browser, shelf, tmp_path, complaints):
    with_network = browser.browser_type.launch_persistent_context(tmp_path, **CHROMIUM)
    visit(with_network, shelf, QUESTION, SAVED)
    with_network.close()
    shelf.stop()
    cold = watched(browser.browser_type.launch_persistent_context(tmp_path, **CHROMIUM), complaints)
    page = visit(cold, shelf, "/")  # the manifest's start_url
    page.get_by_role("link", name="Tighten a head down").first.click()
    works(page)
    cold.close()
    assert not complaints


def test_a_book_is_saved_step_by_step_and_then_needs_no_network(context, shelf):
    page = the_line_says_how_far_saving_has_come(context, shelf)
    the_browser_finds_nothing_missing_for_the_home_screen(context, page)
    page.close()
    a_network_that_never_answers_does_not_hold_a_page_up(context, shelf)
    unplug(context, shelf)
    an_address_without_its_last_stroke_and_a_lost_link_are_answered_without_a_network(context, shelf)


def the_line_says_how_far_saving_has_come(context: BrowserContext, shelf: Shelf) -> Page:
    shelf.held.add("/search/search_index.json")
    page = visit(context, shelf, QUESTION, re.compile("Saving for offline use: [1-9][0-9]? %"))
    shelf.held.clear()
    expect(line(page)).to_have_text(SAVED)
    assert {path.rpartition("/")[2] for path in shelf.asked} & {"runtime.bin", "runtime.wasm"} == {"runtime.bin"}
    return page


def the_browser_finds_nothing_missing_for_the_home_screen(context: BrowserContext, page: Page) -> None:
    devtools = context.new_cdp_session(page)
    told = devtools.send("Page.getAppManifest")
    assert not told["errors"]
    assert json.loads(told["data"])["start_url"] == "./"
    errors = devtools.send("Page.getInstallabilityErrors")["installabilityErrors"]
    assert [error["errorId"] for error in errors if error["errorId"] != "in-incognito"] == []


def a_network_that_never_answers_does_not_hold_a_page_up(context: BrowserContext, shelf: Shelf) -> None:
    shelf.hanging.set()
    page = context.new_page()
    page.goto(shelf.address + QUESTION)
    works(page)
    history = page.evaluate(HISTORY)
    assert (history["way"], history["setbacks"]) == ("snapshot", [])
    page.close()


def an_address_without_its_last_stroke_and_a_lost_link_are_answered_without_a_network(
    context: BrowserContext, shelf: Shelf
) -> None:
    page = context.new_page()
    page.goto(shelf.address + QUESTION.rstrip("/"))
    assert page.url == shelf.address + QUESTION
    assert page.goto(f"{shelf.address}/nowhere/").status == 404
    expect(page.locator("h1")).to_have_text("This page is not here")


def test_a_first_visit_where_bytes_cost_money_keeps_nothing_unasked(context, shelf, first):
    context.add_init_script(METERED)
    page = context.new_page()
    page.clock.install()
    page.goto(shelf.address + READING)
    expect(line(page)).to_contain_text(NOT_SAVED)
    page.wait_for_load_state("networkidle")
    cost = sum(len(gzip.compress(file_of(first, path).read_bytes())) for path in set(shelf.asked))
    assert cost <= FIRST_VISIT_BYTES, f"{cost} bytes: {shelf.asked}"
    page.clock.run_for(60_000)  # a reader who stays
    page.wait_for_load_state("networkidle")
    expect(line(page)).to_contain_text(NOT_SAVED)
    assert not caches(page)
    assert not any("/python/" in path for path in shelf.asked)
    line(page).get_by_role("button", name="Save for offline use").click()
    expect(line(page)).to_have_text(SAVED)


def file_of(site: Path, path: str) -> Path:
    return site / path.lstrip("/") / "index.html" if path.endswith("/") else site / path.lstrip("/")


def test_a_reader_who_stays_has_the_pages_kept_and_one_who_comes_back_the_questions_in_a_folder_too(context, first):
    shelf = Shelf(first, "/shop/bench")
    context.add_init_script(WIFI)
    page = visit(context, shelf, READING, NOT_SAVED)
    expect(line(page)).to_contain_text("Pages saved for offline use, calculators not")
    assert not any("/python/" in path for path in shelf.asked)
    assert context.service_workers[0].url == f"{shelf.address}/sw.js"
    page.reload()
    expect(line(page)).to_have_text(SAVED)
    unplug(context, shelf)
    works(visit(context, shelf, QUESTION))


def test_the_line_goes_by_what_is_really_in_the_cache(context, shelf):
    page = visit(context, shelf, QUESTION, SAVED)
    context.add_init_script(METERED)
    python, pages = sorted(caches(page), reverse=True)
    assert "python" in python
    page.evaluate(
        """async ([name, end]) => {
            const cache = await caches.open(name);
            const key = (await cache.keys()).find(({ url }) => url.endsWith(end));
            const { headers } = await cache.match(key);
            await cache.put(key, new Response("half of it", { headers }));
        }""",
        [python, "/snapshot.bin"],
    )
    page.goto(shelf.address + READING)
    expect(line(page)).to_contain_text("Pages saved for offline use, calculators not")
    line(page).get_by_role("button", name=re.compile("Save the calculators too, [1-9][0-9]* MB")).click()
    expect(line(page)).to_have_text(SAVED)
    page.evaluate("async (name) => caches.delete(name)", pages)
    page.goto(shelf.address + READING)
    expect(line(page)).to_contain_text(NOT_SAVED)


def test_where_the_fast_start_fails_the_slow_one_is_kept(context, first, tmp_path):
    site = tmp_path / "site"
    shutil.copytree(first, site)
    facts = site / "assets" / release_of(site) / "release.js"
    text = facts.read_text(encoding="utf-8")
    changed = re.sub(r'("snapshot": \{[^}]*"length": )', r"\g<1>1", text)
    assert changed != text
    facts.write_text(changed, encoding="utf-8")
    write(site, release_of(site))
    shelf = Shelf(site)
    page = visit(context, shelf, QUESTION)
    works(page)
    expect(line(page)).to_have_text(SAVED)
    unplug(context, shelf)
    page = visit(context, shelf, QUESTION, SAVED)
    works(page)


def test_a_new_edition_is_offered_and_until_it_is_taken_the_old_one_works_whole(
    context, shelf, first, second, complaints
):
    page = visit(context, shelf, QUESTION, SAVED)
    other = visit(context, shelf, QUESTION, SAVED)
    fill(other, target="41")
    before = caches(page)
    shelf.site = second
    shelf.asked.clear()

    page.goto(shelf.address + QUESTION)
    look_for_news(page)
    expect(page.locator(".bench-edition")).to_contain_text("A new edition is ready")
    expect(page.locator("h1")).not_to_contain_text("Second edition")
    works(page)
    page.goto(shelf.address + READING)
    expect(page.locator("h1")).not_to_contain_text("Second edition")
    page.goto(shelf.address + QUESTION)
    works(page, "31")
    assert not any(release_of(first) in path for path in shelf.asked)

    fill(page, target="43")
    page.get_by_role("button", name="Change to it").click()
    expect(page.locator("h1")).to_contain_text("Second edition")
    expect(form_of(page).locator('[name="target"]')).to_have_value("43")
    expect(line(page)).to_have_text(SAVED)
    works(page, "44")
    sources = page.eval_on_selector_all("[src], link[rel=stylesheet]", "all => all.map(one => one.src || one.href)")
    assert not any(release_of(first) in source for source in sources)
    assert not any("/python/" in path for path in shelf.asked)  # the same bytes were taken over

    # the page that was open all the while: of the first edition, and whole, and of the same job
    expect(other.locator(".bench-edition")).to_contain_text("A new edition is ready")
    expect(form_of(other).locator('[name="target"]')).to_have_value("44")
    works(other, "42")
    other.locator("nav a", has_text="Glossary").first.evaluate("link => link.click()")
    expect(other.locator("h1")).to_contain_text("Glossary")
    expect(other.locator("h1")).not_to_contain_text("Second edition")
    assert set(before) <= set(caches(page))

    other.close()
    page.reload()
    expect(line(page)).to_have_text(SAVED)
    until_in(page, lambda: len(caches(page)) == 2)
    assert not set(before) & set(caches(page))
    unplug(context, shelf)
    page.goto(shelf.address + QUESTION)
    works(page)
    assert not complaints


def test_a_new_edition_of_the_text_alone_costs_no_python_and_a_withdrawn_worker_takes_all_with_it(
    context, shelf, first, tmp_path
):
    site = tmp_path / "site"
    shutil.copytree(first, site)
    reading = file_of(site, READING)
    reading.write_text(reading.read_text(encoding="utf-8").replace("<h1", "<p>One more word.</p><h1"), encoding="utf-8")
    write(site, release_of(site))
    page = visit(context, shelf, QUESTION, SAVED)
    shelf.site = site
    shelf.asked.clear()
    page.reload()
    look_for_news(page)
    page.get_by_role("button", name="Change to it").click()
    expect(page.locator(".bench-edition")).to_be_empty()
    page.goto(shelf.address + READING)
    expect(page.locator("article")).to_contain_text("One more word.")
    expect(line(page)).to_have_text(SAVED)
    assert not any("/python/" in path for path in shelf.asked)

    withdraw(site)
    look_for_news(page)
    expect(line(page)).to_have_count(0)
    assert not caches(page)
    assert page.evaluate("async () => (await navigator.serviceWorker.getRegistrations()).length") == 0


def test_without_the_service_worker_a_deploy_does_not_mix_two_editions_either(context, shelf, second):
    context.add_init_script(METERED)
    page = visit(context, shelf, READING, NOT_SAVED)
    page.evaluate("window.sameLife = true")
    shelf.site = second
    page.locator("nav a", has_text="Safety").first.evaluate("link => link.click()")
    expect(page.locator("h1")).to_contain_text("Second edition")
    expect(page.locator(f'script[src*="{release_of(second)}"]').first).to_be_attached()
    expect(line(page)).to_contain_text(NOT_SAVED)
    assert page.evaluate("window.sameLife") is None


def test_a_file_that_fails_in_the_middle_leaves_nothing_half_saved(context, shelf, first, second, tmp_path):
    shelf.missing.add(HEAD)
    page = visit(context, shelf, QUESTION, f"{NOT_SAVED}: saving did not finish")
    works(page)
    shelf.missing.clear()
    shelf.cut.add(HEAD)
    saving_again_does_not_finish(page)
    shelf.cut.clear()
    shelf.site = half_deployed = tmp_path / "site"
    shutil.copytree(first, half_deployed)
    shutil.copy(file_of(second, READING), file_of(half_deployed, READING))
    saving_again_does_not_finish(page)
    works(page, "41")
    shelf.site = first
    line(page).get_by_role("button", name="Save for offline use").click()
    expect(line(page)).to_have_text(SAVED)


def saving_again_does_not_finish(page: Page) -> None:
    """Press for it, and wait until the line has said that it is at it."""
    page.evaluate(
        """() => {
          window.wasSaving = false;
          const line = document.querySelector("bench-offline");
          const seen = new MutationObserver(() => (window.wasSaving ||= line.textContent.includes("Saving")));
          seen.observe(line, { childList: true, subtree: true, characterData: true });
        }"""
    )
    line(page).get_by_role("button", name="Save for offline use").click()
    until_in(page, lambda: page.evaluate("window.wasSaving"))
    expect(line(page)).to_contain_text(f"{NOT_SAVED}: saving did not finish")
    assert page.evaluate("navigator.serviceWorker.controller") is None


def test_a_python_file_that_fails_is_told(context, shelf):
    page = visit(context, shelf, READING)
    shelf.missing.add("/snapshot.bin")
    line(page).get_by_role("button", name="Save for offline use").click()
    expect(line(page)).to_contain_text("Pages saved for offline use, calculators not: saving did not finish")


@pytest.mark.parametrize("start", [firefox, webkit], ids=["firefox", "webkit"])
def test_other_engines_answer_without_a_network_too(shelf, start):
    try:
        with start(f"127.0.0.1:{shelf.port}") as engine:
            engine.open(shelf.address + QUESTION)
            assert until(lambda: engine.run(LINE).strip() == SAVED)
            shelf.stop()
            engine.open(shelf.address + QUESTION)
            assert until(lambda: engine.run(OPEN))
            engine.type('[name="target"]', "40")
            assert until(lambda: "40 N·m" in engine.run(SAYS).replace("\u00a0", " "))
            assert until(lambda: engine.run(LINE).strip() == SAVED)
    except Missing as missing:
        pytest.skip(str(missing))


def test_plain_http_works_and_says_that_it_cannot_be_saved(browser, shelf, complaints):
    named = browser.browser_type.launch(
        **CHROMIUM | {"args": [*CHROMIUM["args"], "--host-resolver-rules=MAP bench.example 127.0.0.1"]}
    )
    page = watched(named.new_context(viewport={"width": PHONE[0], "height": PHONE[1]}), complaints).new_page()
    page.goto(f"http://bench.example:{shelf.port}{QUESTION}")
    assert page.evaluate("isSecureContext") is False
    expect(line(page)).to_have_text(NO_ADDRESS)
    works(page)
    named.close()
    assert "/sw.js" not in shelf.asked
    assert not complaints


@pytest.mark.parametrize("deed", ["register", "getRegistration"])
def test_a_window_that_refuses_a_service_worker_works_and_says_so(context, shelf, complaints, deed):
    throws = (
        f"ServiceWorkerContainer.prototype.{deed} = async () => {{ throw new DOMException('no', 'SecurityError') }}"
    )
    context.add_init_script(f"if (globalThis.ServiceWorkerContainer) {throws}")
    page = visit(context, shelf, QUESTION, NO_ADDRESS)
    works(page)
    assert not complaints


@pytest.mark.parametrize(
    "agent",
    [
        "Mozilla/5.0 (iPhone; CPU iPhone OS 16_4_1 like Mac OS X) AppleWebKit/605.1.15 Version/16.4 Safari/604.1",
        "Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 Version/16.4.1 Safari/605.1.15",
    ],
    ids=["phone", "tablet"],
)
def test_a_browser_that_would_crash_is_left_without(browser, shelf, complaints, agent):
    context = watched(browser.new_context(user_agent=agent), complaints)
    page = visit(context, shelf, QUESTION, "This browser cannot save the book for offline use")
    works(page)
    assert "/sw.js" not in shelf.asked
    context.close()
    assert not complaints


def test_every_page_leads_to_the_manifest_and_its_icons(whole):
    manifest = json.loads((whole / "manifest.webmanifest").read_text())
    for path in whole.rglob("*.html"):
        where = "/" if path.name == "404.html" else f"/{path.parent.relative_to(whole).as_posix()}/".replace("/./", "/")
        text = path.read_text(encoding="utf-8")
        for found in re.findall(r'<link rel="(?:manifest|apple-touch-icon)" href="([^"]+)"', text):
            assert file_of(whole, urljoin(where, found)).is_file()
        assert text.count('rel="manifest"') == text.count('rel="apple-touch-icon"') == 1
        leads_on = path.parent.parent == whole / "calculators"  # an address of a former edition, left at once
        assert text.count("<bench-offline") == (0 if leads_on else 1)
    for icon in manifest["icons"]:
        assert icon["sizes"] == "{}x{}".format(*png_size(whole / icon["src"]))


def png_size(path: Path) -> tuple[int, int]:
    """ISO/IEC 15948:2004 (PNG), 11.2.2 IHDR: width and height follow signature, length and type."""
    return struct.unpack(">II", path.read_bytes()[16:24])


@pytest.mark.parametrize("name", icons.ICONS)
def test_the_icons_show_the_mark(browser, name):
    page = browser.new_page()
    difference = page.evaluate(
        """async (pictures) => {
            const [one, other] = await Promise.all(pictures.map(async (picture) => {
              const bitmap = await createImageBitmap(await (await fetch(`data:image/png;base64,${picture}`)).blob());
              const canvas = new OffscreenCanvas(bitmap.width, bitmap.height).getContext("2d");
              canvas.drawImage(bitmap, 0, 0);
              return canvas.getImageData(0, 0, bitmap.width, bitmap.height).data;
            }));
            return one.reduce((sum, value, index) => sum + Math.abs(value - other[index]), 0) / one.length;
        }""",
        [
            base64.b64encode(picture).decode()
            for picture in ((icons.FOLDER / f"{name}.png").read_bytes(), icons.drawn(browser, name))
        ],
    )
    page.close()
    assert difference < 2  # of 255, for another version's edges


def edition_facts(site: Path) -> dict[str, object]:
    return json.loads(re.search(r"^const EDITION = (.*);$", (site / "sw.js").read_text(), re.MULTILINE)[1])


def test_the_worker_lists_every_file_with_its_hash(whole):
    facts = edition_facts(whole)
    listed = {entry["url"]: entry for entry in (*facts["pages"], *facts["python"])}
    for url, entry in listed.items():
        content = file_of(whole, f"/{url}".replace("/./", "/")).read_bytes()
        assert entry["integrity"] == f"sha256-{base64.b64encode(hashlib.sha256(content).digest()).decode()}"
        assert entry["size"] == len(content)
    left_out = {
        path.relative_to(whole).as_posix()
        for path in whole.rglob("*")
        if path.is_file() and re.sub(r"(^|/)index\.html$", r"\1", path.relative_to(whole).as_posix()) not in listed
    } - {"index.html"}
    assert {path for path in left_out if not re.search(r"\.map$|/lunr/", path)} <= {"sw.js", "csp.txt"}
    for brotli, most in ((False, 7e6), (True, 13e6)):  # sent packed, or as it is and by Brotli
        needed = [one for one in facts["python"] if not one["stock"] and one.get("brotli", brotli) is brotli]
        assert sum(entry["size"] for entry in needed) < most


def test_the_same_site_gives_the_same_bytes(whole, tmp_path):
    again = tmp_path / "elsewhere"
    shutil.copytree(whole, again)
    write(again, release_of(again))
    for path in (*whole.rglob("*.html"), whole / "sw.js"):
        assert path.read_bytes() == (again / path.relative_to(whole)).read_bytes()
    assert str(tmp_path) not in (again / "sw.js").read_text()


def test_any_change_makes_another_edition(first, tmp_path):
    editions = {edition_facts(first)["edition"]}
    for index, change in enumerate(("index.html", f"assets/{release_of(first)}/bench.css", "search/search_index.json")):
        site = tmp_path / str(index)
        shutil.copytree(first, site, ignore=shutil.ignore_patterns("*.bin", "*.wasm", "*.zip", "*.map"))
        with (site / change).open("a") as file:
            file.write("\n")
        write(site, release_of(site))
        editions.add(edition_facts(site)["edition"])
    assert len(editions) == 4
