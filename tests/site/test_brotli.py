"""Where a host sends by Brotli, the wasm comes as it is, which is smaller on the way; anywhere else as it is packed."""

from __future__ import annotations

import http.client
import json
import subprocess
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from scripts import pack
from scripts.static_server import Handler, Server, server
from tests.site.conftest import answered, fill, says
from tests.site.test_offline import few_pages
from tests.site.test_start import HISTORY

PAGE = "/work-it-out/torque/"
SCRIPT, WASM = "python-worker.js", "runtime.wasm"


class Listening(Handler):
    """Our own server, which tells what went out, and how."""

    sent: list[tuple[str, str]]

    def log_request(self, code: int | str = "-", size: int | str = "-") -> None:
        self.sent.append((self.path.rpartition("/")[2], self.coding))


@pytest.fixture
def host(site: Path, tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[tuple[Server, type[Listening]]]:
    """Serve the site with copies by Brotli of the files that the test names."""
    few_pages(site, tmp_path / "site", {"/", PAGE})
    found = [next((tmp_path / "site").rglob(name)) for name in request.param]
    wanted = json.dumps([(str(path), f"{path}.br", 5) for path in found])
    subprocess.run(["node", str(pack.BROTLI)], input=wanted, text=True, check=True)
    handler = type("Host", (Listening,), {"sent": []})
    running = server("127.0.0.1", 0, tmp_path / "site", handler)
    threading.Thread(target=running.serve_forever, daemon=True).start()
    yield running, handler
    running.shutdown()
    running.server_close()


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context()
    yield context
    context.close()


def answers(context: BrowserContext, running: Server, again: bool = False) -> Page:
    """Open the page and have its answer: to what is typed, or again to what the job has kept."""
    page = context.new_page()
    page.goto(f"http://localhost:{running.server_address[1]}{PAGE}")
    if not again:
        fill(page, target="40")
    answered(page)
    expect(says(page)).to_contain_text("13, 27 and 40 N·m")
    history = page.evaluate(HISTORY)
    assert (history["way"], history["setbacks"]) == ("snapshot", [])
    return page


@pytest.mark.parametrize("host", [(SCRIPT, WASM)], indirect=True)
def test_a_host_that_sends_by_brotli_sends_the_wasm_so_and_it_is_kept_so(host, context):
    running, handler = host
    page = answers(context, running)
    assert (WASM, "br") in handler.sent
    expect(page.locator("bench-offline")).to_contain_text("Saved for offline use")
    assert not [name for name, _ in handler.sent if name == "runtime.bin"]
    page.close()
    context.set_offline(True)
    handler.sent.clear()
    answers(context, running, again=True)
    assert not handler.sent


@pytest.mark.parametrize("host", [(SCRIPT,)], ids=["scripts only"], indirect=True)
def test_any_other_host_sends_it_packed(host, context):
    """One that has no copies at all is held to it in ``test_offline.py``."""
    running, handler = host
    page = answers(context, running)
    assert ("runtime.bin", "") in handler.sent
    expect(page.locator("bench-offline")).to_contain_text("Saved for offline use")
    page.close()
    context.set_offline(True)
    answers(context, running, again=True)


@pytest.mark.parametrize(
    ("taken", "coding", "body"),
    [("gzip, deflate, br", "br", b"small"), ("gzip;q=0.5", "gzip", b"middling"), ("", None, b"as it is")],
)
def test_our_own_server_sends_the_copy_that_is_taken_as_what_it_is(tmp_path, taken, coding, body):
    for name in ("a.mjs", "index.html"):
        for suffix, content in {"": b"as it is", ".gz": b"middling", ".br": b"small"}.items():
            (tmp_path / f"{name}{suffix}").write_bytes(content)
    running = server("127.0.0.1", 0, tmp_path)
    threading.Thread(target=running.serve_forever, daemon=True).start()
    for path, kind in (("/a.mjs", "text/javascript"), ("/?a=1", "text/html"), ("/nothing", "text/html;charset=utf-8")):
        asked = http.client.HTTPConnection("127.0.0.1", running.server_address[1])
        asked.request("GET", path, headers={"Accept-Encoding": taken})
        found = asked.getresponse()
        said = (found.getheader("Content-Type"), found.getheader("Content-Encoding"))
        assert said == (kind, None if found.status == http.client.NOT_FOUND else coding)
        assert found.status == http.client.NOT_FOUND or found.read() == body
        asked.close()
    running.shutdown()
    running.server_close()
