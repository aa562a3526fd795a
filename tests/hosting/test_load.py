"""What one small server bears: pages from nginx (wrk, Debian's), first visits with an asyncio client. Loopback only."""

from __future__ import annotations

import asyncio
import re
import subprocess
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import pytest

from tests.hosting.conftest import HOST, NAME, ROOT, answers_pound_feet, nginx, program

CALCULATOR, READING = "/calculators/torque-stages/", "/start/safety/"
VISITS, AT_ONCE = 200, 10
SECONDS = 5


@dataclass(frozen=True)
class Visit:
    """What a browser with nothing kept asked for, and what the server sent, [bytes], headers included."""

    paths: list[str]
    sent: int


@pytest.fixture(scope="module")
def server(unpacked, tmp_path_factory):
    with nginx(unpacked, tmp_path_factory.mktemp("load")) as serving:
        yield serving


@pytest.fixture(scope="module")
def visits(server, browser):
    """Visit a calculator until it has answered, and a page to read until it is quiet, each in a fresh profile."""
    found = {}
    for path in (CALCULATOR, READING):
        before = len(asked(server))
        context = browser.new_context()
        page = context.new_page()
        page.goto(f"http://{NAME}:{server.port}{path}")
        if path == CALCULATOR:
            answers_pound_feet(page)
        page.wait_for_load_state("networkidle")
        context.close()
        lines = asked(server)[before:]
        assert {status for status, _, _ in lines} == {"200"}
        found[path] = Visit([address for _, _, address in lines], sum(size for _, size, _ in lines))
    return found


def asked(server):
    lines = (line.split(" ", 2) for line in server.log.read_text().splitlines())
    return [(status, int(size), address) for status, size, address in lines]


def test_serves_two_thousand_pages_a_second(server, unpacked, tmp_path, said):
    site = unpacked / "site"
    pages = [f"/{path.parent.relative_to(site).as_posix()}/".replace("/./", "/") for path in site.rglob("index.html")]
    turns = tmp_path / "pages.lua"
    turns.write_text(
        f"local pages, turn = {{{', '.join(f'"{page}"' for page in sorted(pages))}}}, 0\n"
        "request = function()\n  turn = turn % #pages + 1\n  return wrk.format('GET', pages[turn])\nend\n"
    )
    command = [
        program("wrk"),
        "-t1",
        "-c32",
        f"-d{SECONDS}s",
        "--latency",
        "-s",
        str(turns),
        "-H",
        "Accept-Encoding: gzip",
    ]
    done = subprocess.run(
        [*command, f"http://{HOST}:{server.port}"], capture_output=True, text=True, check=True, timeout=SECONDS + 20
    )
    rate = float(re.search(r"Requests/sec:\s+([\d.]+)", done.stdout)[1])
    slowest = re.search(r"99%\s+(\S+)", done.stdout)[1]
    said(f"nginx, {len(pages)} pages in turn, wrk: {rate:.0f} requests a second, 99 % within {slowest}")
    assert "Non-2xx" not in done.stdout
    assert "Socket errors" not in done.stdout
    assert rate >= 2000
    count, read, unit = re.search(r"(\d+) requests in .*?, ([\d.]+)(KB|MB|GB) read", done.stdout).groups()
    smallest = min(path.stat().st_size for path in site.rglob("index.html.gz"))
    assert float(read) * 1024 ** ("KB", "MB", "GB").index(unit) * 1024 / int(count) > smallest  # whole pages were sent


def test_serves_two_hundred_first_visits_without_an_error(server, visits, files_sent, said):
    visit = visits[CALCULATOR]
    started = time.monotonic()
    with ThreadPoolExecutor(1) as apart:  # the browser's own loop runs in this thread
        sent = apart.submit(asyncio.run, all_visits(server.port, visit.paths, files_sent)).result()
    took = time.monotonic() - started
    said(
        f"nginx, {VISITS} first visits of {len(visit.paths)} requests, {AT_ONCE} at once, asyncio: "
        f"{sent / 1e6:.0f} MB in {took:.1f} s, {VISITS / took:.0f} visits a second; "
        + "; ".join(f"{path} {one.sent / 1e3:.0f} kB" for path, one in visits.items())
    )
    assert took < 60


@pytest.fixture(scope="module")
def files_sent(server, visits):
    """The body of each answer, as sent to whoever takes gzip."""
    return {path: server.get(path, Accept_Encoding="gzip")[2] for path in visits[CALCULATOR].paths}


async def all_visits(port: int, paths: list[str], bodies: dict[str, bytes]) -> int:
    """Make the visits, a few at a time, one connection each; every answer must be whole. Return bytes of bodies."""
    gate = asyncio.Semaphore(AT_ONCE)

    async def visit() -> int:
        async with gate, asyncio.timeout(30):
            reader, writer = await asyncio.open_connection(HOST, port)
            total = 0
            for path in paths:
                writer.write(f"GET {path} HTTP/1.1\r\nHost: {NAME}\r\nAccept-Encoding: gzip\r\n\r\n".encode())
                head = (await reader.readuntil(b"\r\n\r\n")).decode().lower()
                assert head.startswith("http/1.1 200"), head
                length = int(re.search(r"content-length: (\d+)", head)[1])
                assert await reader.readexactly(length) == bodies[path]
                total += length
            writer.close()
            await writer.wait_closed()
            return total

    return sum(await asyncio.gather(*(visit() for _ in range(VISITS))))


def test_the_hosting_page_reckons_with_what_is_measured(visits):
    page = (ROOT / "docs" / "hosting" / "index.md").read_text(encoding="utf-8")
    said = re.search(r"first visit to a calculator is ([\d.]+) MB in (\d+) requests", page)
    assert float(said[1]) * 1e6 == pytest.approx(visits[CALCULATOR].sent, rel=0.1)
    assert int(said[2]) == pytest.approx(len(visits[CALCULATOR].paths), abs=4)
    reading = re.search(r"to a page without one (\d+) kB", page)
    assert float(reading[1]) * 1e3 == pytest.approx(visits[READING].sent, rel=0.1)
