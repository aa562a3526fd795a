"""What the book must keep within: each bound, the figure on the day it was set, and how it is measured today.

``scripts/measure.py`` runs these beside its own and prints the table.
"""

from __future__ import annotations

import gzip
import math
import os
import statistics
import subprocess
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.error import HTTPError
from urllib.parse import urlsplit
from urllib.request import urlopen

from playwright.sync_api import Browser, CDPSession, ViewportSize

ROOT = Path(__file__).resolve().parent.parent
PHONE: ViewportSize = {"width": 360, "height": 740}
SLOWER = 4  # a phone's processor, as Lighthouse reckons it
PAINTED = ("", "build/tighten-a-head-down/", "build/set-valve-lash/", "inspect/cylinder-heads/")
READING = "start/safety/"
TOUR = 2 * ("work-it-out/lash/", "build/tighten-a-head-down/", "start/safety/", "work-it-out/torque/")
ANSWERS = 20_000
SAVED = {
    "word": ("docs/build/set-valve-lash.md", "parts that grow with heat", "build/set-valve-lash/"),
    "Python": ("calculators/torque/wrench.py", "What do I set the wrench to for the head", "work-it-out/torque/"),
}
"""What is saved: which file, after which of its words, and the page that then shows it."""
REST = 3
"""Seconds between two saves, as someone writes."""
GIVEN_UP = 120
FOLLOW = """
() => {
  window.seen = { paint: 0, shift: 0 };
  new PerformanceObserver((list) => (seen.paint = list.getEntries().at(-1).startTime))
    .observe({ type: "largest-contentful-paint", buffered: true });
  new PerformanceObserver((list) => list.getEntries().forEach((one) => (seen.shift += one.value)))
    .observe({ type: "layout-shift", buffered: true });
}
"""
GO = """
(path) => new Promise((resolve) => {
  const heading = () => document.querySelector("article h1");
  const before = heading();
  const began = performance.now();
  const shown = () => requestAnimationFrame(() => resolve(performance.now() - began));
  const watching = new MutationObserver(() => {
    if (!heading() || heading() === before) return;
    watching.disconnect();
    shown();
  });
  watching.observe(document.body, { childList: true, subtree: true });
  [...document.querySelectorAll("nav a")].find((link) => link.href.endsWith(path)).click();
})
"""
AT_REST = """
() => new Promise((rested) => {
  const isBusy = () => document.querySelector("bench-question:not(:defined), [data-waiting]");
  const look = () => (isBusy() ? setTimeout(look, 50) : requestIdleCallback(rested));
  requestIdleCallback(look);
})
"""
TYPE_ALL_DAY = """
async ([address, question, path, count]) => {
  const { ask, history } = await import(address); // the page's own, with its own worker
  const typed = (step) => ({ ...question.readings, [path]: { text: `${30 + (step % 400) / 20}` } });
  const one = (step) => ask({ ...question, readings: typed(step) });
  await one(0);
  const begun = history.memory;
  for (let step = 1; step < count; step++) await one(step);
  return history.memory / begun;
}
"""


def painted(browser: Browser, address: str) -> dict[str, float]:
    """Return the latest of the largest paints, in ms, and the sum of all shifts, of first visits with a phone."""
    paints: list[float] = []
    shifts: list[float] = []
    for path in PAINTED:
        context = browser.new_context(viewport=PHONE, device_scale_factor=3, is_mobile=True, has_touch=True)
        page = context.new_page()
        context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        context.add_init_script(f"({FOLLOW})()")
        page.goto(f"{address}/{path}", wait_until="networkidle")
        seen = page.evaluate("seen")
        paints.append(seen["paint"])
        shifts.append(seen["shift"])
        context.close()
    return {"paint": max(paints), "shift": sum(shifts)}


def page_to_page(browser: Browser, address: str) -> dict[str, float]:
    """Return medians over a tour of what lies between a press in the menu and another page that stands.

    ``rested``: in ms, pressed on a page that has answered its questions, as a reader does who has seen it.
    ``at_once``: in ms, pressed in the very frame in which the page before stood, while that page's own questions
    are on their way to Python: until they had this figure alone, the bench counted their work as the next page's.
    ``thread``: in ms of the processor, what the page's own thread does for the rested ones.
    """
    took: dict[str, list[float]] = {"rested": [], "at_once": [], "thread": []}
    for way in ("rested", "at_once"):
        page = browser.new_page()
        metrics = page.context.new_cdp_session(page)
        metrics.send("Performance.enable", {"timeDomain": "threadTicks"})
        page.goto(f"{address}/work-it-out/torque/", wait_until="networkidle")
        for path in TOUR:
            if way == "rested":
                page.evaluate(AT_REST)
            before = thread(metrics)
            took[way].append(page.evaluate(GO, path))
            if way == "rested":
                took["thread"].append((thread(metrics) - before) * 1000)
        page.close()
    return {way: statistics.median(each) for way, each in took.items()}


def thread(metrics: CDPSession) -> float:
    """Return the seconds of the processor that the tasks of a page have taken."""
    told = metrics.send("Performance.getMetrics")["metrics"]
    return next(float(one["value"]) for one in told if one["name"] == "TaskDuration")


def reading_page(browser: Browser, address: str, site: Path) -> int:
    """Return the gzip-compressed bytes of a first visit to a page without questions."""
    page = browser.new_page()
    page.goto(f"{address}/{READING}", wait_until="networkidle")
    names = page.evaluate("performance.getEntriesByType('resource').map((one) => one.name)")
    page.close()
    below = urlsplit(address).path
    paths = {site / READING / "index.html", *(site / urlsplit(name).path.removeprefix(f"{below}/") for name in names)}
    return sum(len(gzip.compress(path.read_bytes(), 6)) for path in paths if path.is_file())


def day_of_typing(browser: Browser, page_address: str, module: str, question: dict[str, Any], path: str) -> float:
    """Return how much memory Python has after a day's answers, as a part of what it had after the first."""
    page = browser.new_page()
    page.set_default_timeout(0)
    page.goto(page_address)
    grown: float = page.evaluate(TYPE_ALL_DAY, [module, question, path, ANSWERS])
    page.close()
    return grown


@contextmanager
def fresh_clone() -> Iterator[Path]:
    """Clone what is committed, with all downloads done."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as place:
        clone = Path(place) / "clone"
        subprocess.run(["git", "clone", "--quiet", str(ROOT), str(clone)], check=True)
        for name in (".venv", "node_modules"):
            (clone / name).symlink_to((ROOT / name).resolve())
        yield clone


@contextmanager
def serve(clone: Path, *more: str) -> Iterator[str]:
    """Run ``scripts/serve`` there, and return the address once the book is open."""
    command = [str(clone / "scripts" / "serve"), "--port", "0", *more]
    with subprocess.Popen(command, cwd=clone, stdout=subprocess.PIPE, text=True, env=dict(os.environ)) as serving:
        assert serving.stdout  # noqa: S101 (asked for above)
        said = serving.stdout.readline()
        try:
            if "is open" not in said:
                raise RuntimeError("scripts/serve did not open the book")
            yield said.split()[-1]
        finally:
            serving.terminate()


def fresh_serve() -> float:
    """Return the seconds from a fresh clone until ``scripts/serve`` says that the book is open."""
    with fresh_clone() as clone:
        began = time.monotonic()
        with serve(clone):
            return time.monotonic() - began


def saved(rounds: int) -> dict[str, float]:
    """Return the median of the seconds until what was saved shows in its page: a word of a page, and Python."""
    with fresh_clone() as clone, serve(clone, "--watch") as address:
        return {
            kind: _shown(clone / path, words, address + page, rounds) for kind, (path, words, page) in SAVED.items()
        }


def _shown(path: Path, words: str, page: str, rounds: int) -> float:
    before = path.read_text(encoding="utf-8")
    if words not in before:
        raise RuntimeError(f"{path.name} does not say {words}")
    took = []
    for number in range(rounds):
        time.sleep(REST)
        wanted = f"{words} (saved {number})"
        path.write_text(before.replace(words, wanted, 1), encoding="utf-8")
        began = time.monotonic()
        while wanted.encode() not in _bytes_of(page):
            if time.monotonic() - began > GIVEN_UP:
                raise RuntimeError(f"{wanted} never showed in {page}")
            time.sleep(0.1)
        took.append(time.monotonic() - began)
    time.sleep(REST)
    return statistics.median(took)


def _bytes_of(page: str) -> bytes:
    try:
        with urlopen(page) as answer:  # noqa: S310 (our own server's)
            found: bytes = answer.read()
            return found
    except HTTPError:
        return b""  # just being written


def whole_test() -> float:
    """Return the seconds of this checkout's last whole and green ``scripts/test``; not a number where none was."""
    took = ROOT / "build" / "took"
    return float(took.read_text(encoding="utf-8")) if took.exists() else math.nan


@dataclass(frozen=True, slots=True)
class Bound:
    """One of them."""

    words: str
    most: float
    unit: str
    then: str
    """On the day it was set."""
    of: Callable[[dict[str, Any]], float]


def _typing(found: dict[str, Any], kind: str, key: str) -> float:
    return max(float(took[key]) for took in found[kind].values())


def _page_share(found: dict[str, Any]) -> float:
    return max(float(took["median"] - took["in_python_median"]) for took in found["recompute_ms"].values())


BOUNDS = (
    Bound("first visit to a room, gzip", 4.2, "MB", "7.93", lambda found: found["wire_gzip_bytes"]["all"] / 1e6),
    Bound("first visit to a room, Brotli", 3.9, "MB", "–", lambda found: found["wire_brotli_bytes"]["all"] / 1e6),
    Bound("  of it the snapshot", 1.9, "MB", "4.89", lambda found: found["wire_gzip_bytes"]["snapshot"] / 1e6),
    Bound("cold start to a stock one", 0.13, "", "0.17 to 0.20", lambda found: found["ratios"]["cold_to_stock"]),
    Bound("cold start to the bare runtime", 0.25, "", "0.32 to 0.34", lambda found: found["ratios"]["cold_to_bare"]),
    Bound("warm start to a stock one", 0.15, "", "–", lambda found: found["ratios"]["warm_to_stock"]),
    Bound("keystroke, in Python, the slowest median", 6, "ms", "7 to 19",
          lambda found: _typing(found, "recompute_ms", "in_python_median")),
    Bound("keystroke, the largest p95 to that of fixed work", 2, "", "–",
          lambda found: _typing(found, "recompute_ms", "in_python_p95") / found["fixed_work_ms"]["p95"]),
    Bound("keystroke, the page's own share", 2, "ms", "–", _page_share),
    Bound("keystroke, the dearest questions", 25, "ms", "–",
          lambda found: _typing(found, "heavy_ms", "in_python_median")),
    Bound("any page to any page", 100, "ms", "31 to 238", lambda found: found["page_to_page_ms"]["rested"]),
    Bound("  pressed while the page before still arrives", 100, "ms", "225",
          lambda found: found["page_to_page_ms"]["at_once"]),
    Bound("  the page's own work, of the processor", 60, "ms", "–", lambda found: found["page_to_page_ms"]["thread"]),
    Bound("  layout shift", 0, "", "–", lambda found: found["painted"]["shift"]),
    Bound("largest paint, home and procedures", 800, "ms", "–", lambda found: found["painted"]["paint"]),
    Bound("a reading page, gzip", 110, "kB", "149", lambda found: found["reading_page_bytes"] / 1e3),
    Bound("memory to the bare runtime", 1.10, "", "1.20", lambda found: found["ratios"]["memory_to_bare"]),
    Bound(f"  after a day of typing ({ANSWERS:,} answers)", 1.05, "", "–", lambda found: found["day_of_typing"]),
    Bound("scripts/serve from a fresh clone", 30, "s", "45", lambda found: found["fresh_serve_s"]),
    Bound("  a saved word shows", 1, "s", "–", lambda found: found["saved_s"]["word"]),
    Bound("  saved Python shows", 3, "s", "–", lambda found: found["saved_s"]["Python"]),
    Bound("scripts/test, the last whole run here", 8, "min", "24", lambda found: found["whole_test_s"] / 60),
)  # fmt: skip


def table(found: dict[str, Any]) -> str:
    """Return each figure beside its bound and beside that of the day the bound was set."""
    lines = [f"{'':50} {'today':>9} {'bound':>9}    {'when it was set':>15}"]
    for bound in BOUNDS:
        today = bound.of(found)
        mark = " " if today <= bound.most else "*"
        figure = "none" if math.isnan(today) else f"{today:.3g}"
        lines.append(f"{bound.words:50} {figure:>9} {bound.most:>9g} {mark}  {bound.then:>15} {bound.unit}")
    return "\n".join([*lines, "* missed"])
