"""The packed book, unpacked once and served by real web servers on loopback."""

from __future__ import annotations

import http.client
import os
import shutil
import socket
import subprocess
import sys
import tarfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from filelock import FileLock
from playwright.sync_api import Browser, Page, expect

from tests.examples import IS_WIDE
from tests.site.conftest import answered, fill, says

ROOT = Path(__file__).resolve().parents[2]
HOST = "127.0.0.2"
NAME = "bench.example"
"""The name in the configurations; the browser is told to find it at HOST."""
INSTALLED = (".venv", "node_modules")
GIT = shutil.which("git") or "git"
RELEASED = "2026-03-04T05:06:07Z"


def clone(place: Path) -> Path:
    """Put this checkout as it stands into one commit elsewhere, dated RELEASED, with what is installed linked."""
    listed = subprocess.run(
        [GIT, "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    for name in filter(None, listed.stdout.split("\0")):
        if (ROOT / name).is_file():
            (place / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / name, place / name)
    for installed in INSTALLED:
        (place / installed).symlink_to(ROOT / installed)
    who = {"NAME": "Nobody", "EMAIL": "nobody@bench.example", "DATE": RELEASED}
    dated = os.environ | {f"GIT_{role}_{key}": text for role in ("AUTHOR", "COMMITTER") for key, text in who.items()}
    (place / ".git").mkdir()
    for step in (["init", "--quiet"], ["add", "--all"], ["commit", "--quiet", "--no-verify", "-m", "an edition"]):
        command = [GIT, "-c", "commit.gpgsign=false", *step]
        subprocess.run(command, cwd=place, env=dated, capture_output=True, check=True)
    return place


def take_over_python(place: Path) -> None:
    """Give a clone the Python for the browser that our own build has made: it is made of the same things."""
    shutil.copytree(ROOT / "build" / "python", place / "build" / "python")
    for path in (ROOT / "build").glob("python.*"):
        shutil.copy(path, place / "build")


@pytest.fixture(scope="session")
def packed(shared_folder: Path, site: Path) -> Path:
    """Pack a clone that differs from this checkout in all that must not matter; return its ``dist``.

    Its site, and in a wide run its Python for the browser, are made anew, once for all that test at the same time;
    after ours, or two processes would share the processor that one of them has a minute of.
    """
    place = shared_folder / "another-place/with a longer path"
    with FileLock(shared_folder / "another-place.lock"):
        if not (place / "dist/SHA256SUMS").exists():
            shutil.rmtree(place, ignore_errors=True)
            clone(place)
            if not IS_WIDE:
                take_over_python(place)
            pack_in(place)
    return place / "dist"


def pack_in(place: Path) -> None:
    plain = {key: text for key, text in os.environ.items() if key != "SOURCE_DATE_EPOCH"}
    done = subprocess.run(
        [str(place / "scripts" / "pack")],
        cwd=place,
        env=plain | {"TZ": "Asia/Kolkata", "LC_ALL": "C", "PYTHONHASHSEED": "7"},
        umask=0o077,
        capture_output=True,
        text=True,
        timeout=1800,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.fixture(scope="session")
def unpacked(packed: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Unpack the archive as a shop would."""
    place = tmp_path_factory.mktemp("shelf")
    (found,) = packed.glob("*.tar.gz")
    with tarfile.open(found) as archive:
        archive.extractall(place, filter="data")
    (book,) = place.iterdir()
    return book


@dataclass(frozen=True)
class Server:
    """A web server with the book at ``/`` and, where it can, below ``/bench/``."""

    kind: str
    port: int
    log: Path

    def get(self, path: str, **headers: str) -> tuple[int, dict[str, str], bytes]:
        """Ask for one path and return status, headers (names in small letters) and body."""
        connection = http.client.HTTPConnection(HOST, self.port, timeout=120)
        try:
            connection.request("GET", path, headers={key.replace("_", "-"): text for key, text in headers.items()})
            answer = connection.getresponse()
            return answer.status, {key.lower(): text for key, text in answer.getheaders()}, answer.read()
        finally:
            connection.close()


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        return int(probe.getsockname()[1])


def program(name: str) -> str:
    """Return a server's program, or skip with the word that says how to get it."""
    found = shutil.which(name, path=f"{os.environ['PATH']}:/usr/sbin:/usr/local/sbin")
    if not found:
        pytest.skip(f"{name} is not installed: as root, apt-get install {name}")
    return found


@contextmanager
def running(command: list[str], port: int, said: Path, env: dict[str, str] | None = None) -> Iterator[None]:
    """Run a server until the block ends; it must begin to answer."""
    with said.open("w") as output:
        process = subprocess.Popen(command, stdout=output, stderr=subprocess.STDOUT, env=env)
        try:
            patience = time.monotonic() + 120  # s
            while process.poll() is None and time.monotonic() < patience:
                with socket.socket() as probe:
                    if probe.connect_ex((HOST, port)) == 0:
                        break
                time.sleep(0.05)
            else:
                pytest.fail(f"{command[0]} did not start:\n{said.read_text()}")
            yield
        finally:
            process.terminate()
            process.wait(timeout=120)


@contextmanager
def nginx(book: Path, place: Path) -> Iterator[Server]:
    """Run nginx with the packed configuration; changed are only the place of the book, the address and the port."""
    port, log = free_port(), place / "access.log"
    text = (book / "nginx.conf").read_text(encoding="utf-8")
    text = replaced(text, "/srv/top-end-bench-book", str(book))
    (place / "book.conf").write_text(replaced(text, "listen 80;", f"listen {HOST}:{port};"), encoding="utf-8")
    folders = "".join(
        f"{kind}_temp_path {place}/{kind};\n" for kind in ("client_body", "proxy", "fastcgi", "uwsgi", "scgi")
    )
    user = "user root;\n" if os.geteuid() == 0 else ""  # else it could not read a test's own folder
    (place / "nginx.conf").write_text(
        f"{user}daemon off;\nworker_processes 2;\npid {place}/pid;\nerror_log {place}/error.log;\n"
        "events { worker_connections 1024; }\n"
        f"http {{\n{folders}sendfile on;\ntcp_nopush on;\n"
        f"log_format asked '$status $bytes_sent $request_uri';\naccess_log {log} asked;\n"
        f"include {place}/book.conf;\n}}\n",
        encoding="utf-8",
    )
    command = [program("nginx"), "-c", str(place / "nginx.conf"), "-p", str(place), "-e", str(place / "error.log")]
    with running(command, port, place / "said.txt"):
        yield Server("nginx", port, log)


@contextmanager
def caddy(book: Path, place: Path) -> Iterator[Server]:
    """Run Caddy with the packed configuration, changed in the same few places."""
    port, log = free_port(), place / "access.log"
    text = (book / "Caddyfile").read_text(encoding="utf-8")
    text = replaced(text, "/srv/top-end-bench-book", str(book))
    address = f"http://{NAME}:{port}, http://{HOST}:{port} {{\n\tbind {HOST}\n"
    text = replaced(text, f"http://{NAME} {{\n", address)
    (place / "Caddyfile").write_text(f"{{\n\tadmin off\n}}\n{text}", encoding="utf-8")
    command = [program("caddy"), "run", "--config", str(place / "Caddyfile"), "--adapter", "caddyfile"]
    at_home = os.environ | {"XDG_DATA_HOME": str(place), "XDG_CONFIG_HOME": str(place)}
    with running(command, port, place / "said.txt", at_home):
        yield Server("caddy", port, log)


def replaced(text: str, old: str, new: str) -> str:
    assert old in text
    return text.replace(old, new)


@pytest.fixture(scope="session", params=[nginx, caddy], ids=["nginx", "caddy"])
def server(
    request: pytest.FixtureRequest, unpacked: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Server]:
    with request.param(unpacked, tmp_path_factory.mktemp("server")) as serving:
        yield serving


@pytest.fixture(scope="session")
def smallest(unpacked: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """Serve with Python's own server, as HOSTING.txt says."""
    said, port = tmp_path_factory.mktemp("smallest") / "said.txt", free_port()
    options = ["--bind", HOST, "--directory", str(unpacked / "site")]
    with running([sys.executable, "-m", "http.server", *options, str(port)], port, said):
        yield Server("http.server", port, said)


@pytest.fixture(scope="session")
def browser(launch: Callable[..., Browser]) -> Browser:
    """A Chromium that finds the name of the configurations on loopback."""
    return launch(f"--host-resolver-rules=MAP {NAME} {HOST}")


@pytest.fixture
def at_bench(browser: Browser) -> Iterator[Callable[[str], Page]]:
    """Open an address in a fresh profile; nothing may be complained of in the console."""
    contexts, complaints = [], []

    def opened(address: str) -> Page:
        context = browser.new_context(viewport={"width": 1280, "height": 800})
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda entry: entry.type in ("error", "warning") and complaints.append(entry.text))
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.goto(address)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert not complaints


def answers_pound_feet(page: Page) -> None:
    fill(page, target__unit="lbf·ft", target="27", graduation="0.5 N·m", passes="4", pattern="8")
    answered(page)
    # NIST SP 811 (2008) B.8: 27 lbf·ft = 36.607 N·m; quarters of it to the nearest half newton metre
    expect(says(page)).to_contain_text("Set the wrench to 9.0, 18.5, 27.5 and 36.5 N·m")
