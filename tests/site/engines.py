"""Three engines behind one small face: open an address, run a script in the page, type with the keyboard.

Chromium comes from the session's Playwright. Debian's Firefox and WebKit are driven by the standards that
they speak themselves: Firefox by WebDriver BiDi (W3C), which needs no geckodriver, WebKit by WebDriver
(W3C) through WebKitWebDriver, on a screen that Xvfb makes up.
"""

from __future__ import annotations

import base64
import functools
import http.client
import json
import os
import re
import shutil
import signal
import socket
import subprocess
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from http import HTTPStatus
from pathlib import Path
from typing import Any, ClassVar, Protocol
from urllib.parse import urlsplit

import pytest
import websocket
from playwright.sync_api import Browser

from scripts.static_server import Handler, Unchanging, server
from tests.site.conftest import CALM

PATIENCE = 120.0  # s
STARTS = (15.0, 30.0, PATIENCE)  # s that WebKit is given to report, each time it is started
LEAN = {"JSC_useOMGJIT": "0", "WEBKIT_DISABLE_COMPOSITING_MODE": "1"}
"""WebKit without its second, slower pass over Python's wasm, and without layers, which a machine that has no graphics
lays over one another on its processor: two thirds of what a visit took."""


class Engine(Protocol):
    """A browser with one page open."""

    version: str

    def open(self, address: str) -> None:
        """Go there and wait until all that the page itself asks for is loaded."""

    def run(self, body: str, *given: Any) -> Any:
        """Run the body of a function in the page; what it returns must be plain data."""

    def type(self, selector: str, text: str) -> None:
        """Replace what stands in a text box, key by key."""


class Prepared(Handler):
    """The built site, some scripts of which come with something before them; the first of all makes it calm."""

    before: ClassVar[dict[str, str]] = {}

    def do_GET(self) -> None:  # noqa: N802 (http.server's name)
        name = urlsplit(self.path).path.rpartition("/")[2]
        before = [*([CALM] if name == "early.js" else []), *([self.before[name]] if name in self.before else [])]
        if not before:
            return super().do_GET()
        file = Path(self.translate_path(self.path))
        return self.reply("\n".join([*before, file.read_text(encoding="utf-8")]))

    def reply(self, script: str) -> None:
        body = script.encode()
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/javascript")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)


class Calm(Prepared, Unchanging):
    """The built site, where nothing but what is asked for is done."""


@pytest.fixture(scope="module")
def calm(site: Path) -> Iterator[str]:
    """Where the site is served calm; that each engine keeps it and answers without a network is test_offline.py's."""
    running = server("127.0.0.1", 0, site, Calm)
    threading.Thread(target=running.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{running.server_address[1]}"
    running.shutdown()
    running.server_close()


class Shelf(Prepared):
    """The built site below /book/, asked for as a proxy is: so a name that no one has leads here.

    To a browser, http and a name other than localhost is an insecure context, as on a shop's own network.
    """

    HOST = "bench.test:8123"  # RFC 6761 keeps .test free; the port is any but the usual one
    asked: list[str]

    def translate_path(self, path: str) -> str:
        asked = urlsplit(path)
        if asked.netloc == self.HOST:
            self.asked.append(asked.path)
        below = asked.netloc == self.HOST and asked.path.startswith("/book/")
        return super().translate_path(asked.path.removeprefix("/book") if below else "/not-here")


def until(condition: Callable[[], Any], patience: float = PATIENCE) -> bool:
    """Wait until ``condition()`` is true; return whether it ever was."""
    end = time.monotonic() + patience
    while not condition():
        if time.monotonic() > end:
            return False
        time.sleep(0.05)
    return True


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def started(command: list[str], **options: Any) -> Iterator[subprocess.Popen[str]]:
    """Run a program in a group of its own, and end the whole group."""
    running = subprocess.Popen(command, start_new_session=True, stderr=subprocess.DEVNULL, text=True, **options)
    try:
        yield running
    finally:
        with suppress(ProcessLookupError):
            os.killpg(running.pid, signal.SIGTERM)
        try:
            running.wait(5)
        except subprocess.TimeoutExpired:
            os.killpg(running.pid, signal.SIGKILL)
            running.wait()
        if running.stdout:
            running.stdout.close()


class Missing(Exception):
    """The engine is not on this machine; the message says what to install."""


def program(*names: str, package: str) -> str:
    found = next(filter(None, map(shutil.which, names)), None)
    if not found:
        raise Missing(f"{names[0]} is not installed (Debian: apt-get install {package})")
    return found


class Chromium:
    def __init__(self, browser: Browser, proxy: str) -> None:
        self.version = f"Chromium {browser.version}"
        self._page = browser.new_context(proxy={"server": f"http://{proxy}", "bypass": "127.0.0.1"}).new_page()

    def open(self, address: str) -> None:
        self._page.goto(address)

    def run(self, body: str, *given: Any) -> Any:
        return self._page.evaluate(f"given => (function () {{ {body} }})(...given)", list(given))

    def type(self, selector: str, text: str) -> None:
        self._page.locator(selector).fill("")
        self._page.locator(selector).press_sequentially(text)

    def close(self) -> None:
        self._page.context.close()


def through(proxy: str) -> dict[str, Any]:
    """Return the capabilities that both standards share: every address but this machine's own by the proxy."""
    return {"alwaysMatch": {"proxy": {"proxyType": "manual", "httpProxy": proxy, "noProxy": ["127.0.0.1"]}}}


STANDS = """
const came = performance.getEntriesByType("resource").map(({ name }) => name.split("/").at(-1));
return [location.href, document.readyState, document.scripts.length, ...came];
"""


class Firefox:
    """Speaks WebDriver BiDi: JSON over one WebSocket, each command answered by its id."""

    def __init__(self, port: int, proxy: str) -> None:
        url = f"ws://127.0.0.1:{port}/session"
        self._socket = websocket.create_connection(url, timeout=PATIENCE, suppress_origin=True)
        self._last = 0
        self._answers: dict[int | None, Any] = {}
        self.hung: list[str] = []  # what it was about where a page did not come to its end at first
        capabilities = self._send("session.new", capabilities=through(proxy))["capabilities"]
        self.version = f"Firefox {capabilities['browserVersion']}"
        self._context = self._send("browsingContext.getTree")["contexts"][0]["context"]

    def _ask(self, method: str, **params: Any) -> int:
        self._last += 1
        self._socket.send(json.dumps({"id": self._last, "method": method, "params": params}))
        return self._last

    def _answer(self, asked: int) -> Any:
        while asked not in self._answers:
            answer = json.loads(self._socket.recv())
            self._answers[answer.get("id")] = answer
        answer = self._answers.pop(asked)
        assert answer["type"] == "success", answer
        return answer["result"]

    def _send(self, method: str, **params: Any) -> Any:
        return self._answer(self._ask(method, **params))

    def open(self, address: str) -> None:
        for _ in range(2):  # now and then a page never comes to its end, and nobody knows why: it is opened anew
            self._socket.settimeout(PATIENCE / 4)
            try:
                self._send("browsingContext.navigate", context=self._context, url=address, wait="complete")
            except websocket.WebSocketTimeoutException:
                with suppress(websocket.WebSocketTimeoutException, AssertionError):
                    self.hung.append(f"{address}: {self.run(STANDS)}")
            else:
                return
            finally:
                self._socket.settimeout(PATIENCE)  # and if it never comes: each test waits for its own sign

    def run(self, body: str, *given: Any) -> Any:
        answer = self._send(
            "script.evaluate",
            expression=f"JSON.stringify((function () {{ {body} }})(...{json.dumps(given)}) ?? null)",
            target={"context": self._context},
            awaitPromise=False,
        )
        assert answer["type"] == "success", answer
        return json.loads(answer["result"]["value"])

    def type(self, selector: str, text: str) -> None:
        keys = ["\ue017", *text]  # the key that deletes what is selected, as WebDriver numbers it
        actions = [{"type": way, "value": key} for key in keys for way in ("keyDown", "keyUp")]
        source = {"type": "key", "id": "keyboard", "actions": actions}

        def typed() -> bool:
            # after a change of site the window that listens to keys may still be the one before
            there = (
                "const box = document.querySelector(arguments[0]); box?.focus(); box?.select(); return Boolean(box);"
            )
            if not self.run(there, selector):
                return False
            self._send("input.performActions", context=self._context, actions=[source])
            return bool(self.run("return document.querySelector(arguments[0])?.value", selector) == text)

        assert until(typed), f"{selector} does not take {text}"

    def open_tab(self, address: str) -> str:
        """Go there in a tab of its own, and return its name."""
        self._context = str(self._send("browsingContext.create", type="tab")["context"])
        self.open(address)
        return self._context

    def print(self, tabs: list[str], papers: list[tuple[float, float]], margin: float) -> list[list[bytes]]:
        """Return each tab's page as PDFs, one a paper; paper and margin in millimetres.

        All are asked for at once: before each sheet it waits for half a second.
        """
        margins = dict.fromkeys(("top", "bottom", "left", "right"), margin / 10)
        given = {"margin": margins, "background": True, "shrinkToFit": False}
        asked = [
            [
                self._ask(
                    "browsingContext.print", context=tab, page={"width": width / 10, "height": height / 10}, **given
                )
                for width, height in papers
            ]
            for tab in tabs
        ]
        return [[base64.b64decode(self._answer(one)["data"]) for one in of_tab] for of_tab in asked]

    def close(self) -> None:
        with suppress(websocket.WebSocketException, OSError):
            self._send("browser.close")
        self._socket.close()


class WebKit:
    """Speaks WebDriver: one HTTP request a command."""

    def __init__(self, port: int, proxy: str, patience: float) -> None:
        self._driver = http.client.HTTPConnection("127.0.0.1", port, timeout=patience)
        try:
            session = self._send("POST", "/session", capabilities=through(proxy))
        except TimeoutError:
            self._driver.close()
            raise
        if self._driver.sock:
            self._driver.sock.settimeout(PATIENCE)
        self._driver.timeout = PATIENCE
        self._path = f"/session/{session['sessionId']}"
        self.version = f"WebKitGTK {session['capabilities']['browserVersion']}"

    def _send(self, method: str, path: str, **body: Any) -> Any:
        self._driver.request(method, path, json.dumps(body) if method == "POST" else None)
        answer = self._driver.getresponse()
        value = json.loads(answer.read())["value"]
        assert answer.status == HTTPStatus.OK, value
        return value

    def open(self, address: str) -> None:
        self._send("POST", f"{self._path}/url", url=address)

    def run(self, body: str, *given: Any) -> Any:
        return self._send("POST", f"{self._path}/execute/sync", script=body, args=list(given))

    def type(self, selector: str, text: str) -> None:
        # at once: its driver looks whether the box is in sight while the page still moves there
        self.run(
            "document.querySelector(arguments[0])?.scrollIntoView({ block: 'center', behavior: 'instant' })", selector
        )
        found = self._send("POST", f"{self._path}/element", using="css selector", value=selector)
        box = f"{self._path}/element/{next(iter(found.values()))}"
        self._send("POST", f"{box}/clear")
        self._send("POST", f"{box}/value", text=text)

    def resize(self, width: int, height: int) -> None:
        """Give the page's window a size, in CSS pixels; what the browser itself takes of it is added."""
        self._send("POST", f"{self._path}/window/rect", width=width, height=height)
        lacks = width - int(self.run("return innerWidth"))
        if lacks:
            self._send("POST", f"{self._path}/window/rect", width=width + lacks, height=height)

    def close(self) -> None:
        self._send("DELETE", self._path)
        self._driver.close()


@contextmanager
def chromium(browser: Browser, proxy: str) -> Iterator[Engine]:
    with closing(Chromium(browser, proxy)) as engine:
        yield engine


@contextmanager
def firefox(proxy: str) -> Iterator[Engine]:
    command = [program("firefox-esr", "firefox", package="firefox-esr"), "--headless", "--no-remote"]
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        written = Path(profile) / "WebDriverBiDiServer.json"

        def port() -> int:
            with suppress(OSError, ValueError):
                return int(json.loads(written.read_text())["ws_port"])
            return 0

        options = ["--profile", profile, "--remote-debugging-port", "0", "about:blank"]
        with started([*command, *options], stdout=subprocess.DEVNULL):
            assert until(lambda: port() > 0), "Firefox does not listen"
            with closing(Firefox(port(), proxy)) as engine:
                yield engine


@contextmanager
def webkit(proxy: str) -> Iterator[WebKit]:
    driver = program("WebKitWebDriver", package="webkit2gtk-driver")
    screen = program("Xvfb", package="xvfb")
    with started([screen, "-displayfd", "1", "-screen", "0", "1280x900x24"], stdout=subprocess.PIPE) as xvfb:
        display = f":{xvfb.stdout.readline().strip()}" if xvfb.stdout else ""
        assert re.fullmatch(r":\d+", display), "Xvfb does not start"
        environment = os.environ | LEAN | {"DISPLAY": display}
        for patience in STARTS:
            port = free_port()
            with started([driver, f"--port={port}"], env=environment, stdout=subprocess.DEVNULL):
                assert until(functools.partial(listens, port)), "WebKitWebDriver does not listen"
                try:
                    engine = WebKit(port, proxy, patience)
                except TimeoutError:  # now and then a new browser never reports to its driver
                    if patience < PATIENCE:
                        continue
                    raise
                with closing(engine):
                    yield engine
                return


def listens(port: int) -> bool:
    with suppress(OSError), socket.create_connection(("127.0.0.1", port), timeout=1):
        return True
    return False
