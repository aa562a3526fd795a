"""Measure how fast the questions are up, and how fast they answer, beside a stock start in the same run.

Every start happens in a browser profile of its own. One round takes each kind of start once, so that
a noisy machine is noisy for all; figures are medians over the rounds, ratios are medians of the pairs.
"""

from __future__ import annotations

import argparse
import json
import math
import os
import re
import shutil
import statistics
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict
from itertools import cycle
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, sync_playwright

from calculators import read_card
from calculators.bench.desk import Desk, path_of
from calculators.bench.entries import Entry
from calculators.bench.question import Question, entries_and_columns, question, rooms
from calculators.bench.units import magnitude_in, read_number
from scripts import at_hand, bounds, browser_python, pack
from scripts.static_server import SITE, Unchanging, server

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / "build" / "measure"
RESULT = ROOT / "build" / "bench.json"
CARD = read_card(ROOT / "docs" / "engines" / "marram-f4.yml")
KEYSTROKES = 100
TWELVE = "1 2 3 4 5 6 7 8 9 10 11 12"
RING = [(100 * math.cos(step * math.tau / 20), 60 * math.sin(step * math.tau / 20)) for step in range(20)]


def _studs(count: int) -> dict[str, str]:
    across, up = ("; ".join(f"{place[axis]:.1f}" for place in RING[:count]) for axis in (0, 1))
    return {"head_stud_pattern": "typed", "studs_across": across, "studs_up": up}


HEAVY: dict[str, tuple[str, dict[str, str], str]] = {
    "torque, 12 typed studs": ("torque.wrench", _studs(12), "head_torque"),
    "torque, 20 typed studs": ("torque.wrench", _studs(20), "head_torque"),
    "compression, a drawer of five": (
        "compression.spacers",
        {f"spacer_thickness.{row}": f"{0.25 * row}" for row in range(1, 6)}
        | {f"spacer_pieces.{row}": "4" for row in range(1, 6)},
        "chamber.1",
    ),
    "lash, 12 cylinders, 48 valves, fewest stops": (
        "lash.plan",
        {
            "cylinders": "12",
            "banks": "1 2 3 4 5 6 / 7 8 9 10 11 12",
            "firing_order": TWELVE,
            "firing_intervals": "60 60 60 60 60 60 60 60 60 60 60 60",
            "inlet_valves": "2",
            "exhaust_valves": "2",
            "lash.plan.method": "fewest",
        },
        "inlet_clearance",
    ),
}
"""The dearest questions there are: which, what is typed over its example by path, and what each keystroke changes."""
ON_DEMAND = (
    "fflate.js",
    "qr/index.js",
    "bench-job.js",
    "bench-card.js",
    "bench-checks.js",
    "checks.js",
    "search-answers.js",
    "found.js",
)  # loaded when something is shared or packed, not on a visit

PAGE = """<!doctype html><meta charset="utf-8"><title>measure</title>"""
PLAIN_WORKER = """
import { loadPyodide } from "./plain/pyodide.mjs";
self.onmessage = async ({ data: { id, ...asked } }) => {
  const bare = !asked.want;
  const indexURL = new URL("./plain/", import.meta.url).href;
  const pyodide = await loadPyodide({ indexURL, packages: bare ? [] : ["calculators"] });
  const answer = bare
    ? pyodide.runPython("lambda message: '{}'")
    : pyodide.runPython("from calculators.browser import answer_message; answer_message");
  postMessage({ id, answer: JSON.parse(answer(JSON.stringify(asked))), memory: pyodide._module.HEAPU8.length });
};
"""
ASK = """
([address, name, question]) => new Promise((resolve, reject) => {
  const began = performance.now();
  let memory = 0;
  const worker = new Worker(address, { type: "module", name });
  worker.onerror = (event) => reject(new Error(event.message));
  worker.onmessage = ({ data }) => {
    if (data.memory) memory = data.memory;
    if (data.dead || data.failed) reject(new Error(data.dead ?? data.failed));
    if (data.id) resolve({ milliseconds: performance.now() - began, memory, lead: JSON.stringify(data.answer) });
  };
  worker.postMessage({ id: 1, ...question });
})
"""
TYPE_ON = """
async ([address, question, keys]) => {
  const { ask, history } = await import(address); // the page's own, with its own worker
  const began = performance.now();
  while (history.rehearsed < 40) {
    if (performance.now() - began > 30_000) throw new Error("the page did not rehearse");
    await new Promise((later) => setTimeout(later, 50));
  }
  const taken = [];
  let { readings } = question;
  for (const [path, text] of keys) {
    readings = { ...readings, [path]: { text } };
    const asked = performance.now();
    await ask({ ...question, readings });
    taken.push([performance.now() - asked, history.taken]);
    await new Promise((later) => setTimeout(later, 30));
  }
  return taken;
}
"""
TYPE = """
([name, path, text]) => new Promise((resolve) => {
  const element = document.querySelector(`bench-question[name="${name}"]`);
  const began = performance.now();
  const answered = () => element.dataset.state === "mixed" && resolve(performance.now() - began);
  new MutationObserver(answered).observe(element, { attributes: true, childList: true, subtree: true });
  const box = element.querySelector(`[data-path="${path}"]`);
  box.value = text;
  box.dispatchEvent(new Event("input", { bubbles: true }));
})
"""
YARDSTICK = """
(count) => new Promise((resolve, reject) => {
  const work = () => {
    const began = performance.now();
    let sum = 0;
    for (let step = 0; step < 400_000; step++) sum = (sum + step * step) % 1_000_003;
    return [performance.now() - began, sum];
  };
  const script = `const work = ${work}; onmessage = () => postMessage(work());`;
  const worker = new Worker(URL.createObjectURL(new Blob([script], { type: "text/javascript" })));
  const taken = [];
  worker.onerror = (event) => reject(new Error(event.message));
  worker.onmessage = ({ data: [milliseconds] }) => {
    taken.push(milliseconds);
    if (taken.length < count) setTimeout(() => worker.postMessage(0), 30);
    else resolve(taken);
  };
  worker.postMessage(0);
})
"""


def asked(name: str, **typed: str) -> dict[str, Any]:
    """Return what the page asks for a question's worked example, with some readings typed over."""
    return {
        "want": "questions",
        "questions": [{"name": name, "opened": [], "rows": {}, "whole": False}],
        "quotes": [],
        "card": CARD.name,
        "readings": {path: {"text": text} for path, text in typed.items()},
        "example": True,
    }


@contextmanager
def served() -> Iterator[str]:
    """Serve the built site and, beside it, a plain runtime as published."""
    browser_python.write_plain(FOLDER / "plain")
    (FOLDER / "index.html").write_text(PAGE)
    (FOLDER / "plain-worker.js").write_text(PLAIN_WORKER)
    shutil.rmtree(FOLDER / "site", ignore_errors=True)
    shutil.copytree(SITE, FOLDER / "site")
    running = server("127.0.0.1", 0, FOLDER, Unchanging)
    threading.Thread(target=running.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{running.server_address[1]}"
    running.shutdown()
    running.server_close()


def starts(browser: Browser, address: str, worker: str) -> dict[str, dict[str, float]]:
    """Take one of each kind of start, and return milliseconds to the first answer, and memory."""
    example = asked("torque.wrench", head_torque="37")
    readings = {"head_torque": {"text": "37"}, "head_stud_pattern": {"text": "8"}, "wrench_step": {"text": "1"}}
    plain = example | {"card": None, "readings": readings, "example": True}
    kinds: dict[str, tuple[str, str, dict[str, Any]]] = {
        "bare": (f"{address}/plain-worker.js", "", {}),
        "stock": (f"{address}/plain-worker.js", "", plain),
        "cold": (worker, "snapshot", example),
    }
    taken = {}
    for kind, (script, name, message) in kinds.items():
        context = browser.new_context()
        page = context.new_page()
        page.goto(address)
        taken[kind] = page.evaluate(ASK, [script, name, message])
        if kind == "cold":
            taken["warm"] = page.evaluate(ASK, [script, name, message])
            taken["fallback"] = page.evaluate(ASK, [script, "stock", message])
        context.close()
        if kind != "bare" and "Set the wrench" not in taken[kind]["lead"]:
            raise RuntimeError(f"{kind}: no answer")
    return taken


def keystrokes(browser: Browser, address: str, module: str) -> dict[str, list[tuple[float, float]]]:
    """Return what ``typed_on`` does for the first question of each room, box after box, from the first keystroke on."""
    taken = {}
    for found in rooms().values():
        name, paths = next((of.name, paths) for of in found if (paths := _numbers(of)))
        taken[name] = typed_on(browser, address, module, name, {}, paths)
    return taken


def _numbers(of: type[Question]) -> list[str]:
    """Return the paths of a question's boxes that hold one number each, of a table those of its first row."""
    known = Desk({}, CARD, example=True).ask(of.name).known
    return [
        path
        for entry, table in entries_and_columns(of)
        if _is_one_number(entry) and known.get(f"{entry.key}.1" if table else entry.key)
        if number_at(of.name, path := path_of(of, entry, 1 if table else 0))[0]  # a nought would stay one
    ]


def _is_one_number(entry: Entry[Any]) -> bool:
    return entry.own_unit is not None and entry.each is entry.kind


def typed_on(
    browser: Browser, address: str, module: str, name: str, typed: dict[str, str], paths: list[str]
) -> list[tuple[float, float]]:
    """Type numbers, box after box; return the milliseconds of each answer, to the page and in Python."""
    message = asked(name, **typed)
    keys = []
    for step, path in zip(range(KEYSTROKES), cycle(paths), strict=False):
        number, unit = number_at(name, path)
        keys.append((path, f"{number * (1 + step / 2000):.4f} {unit}"))
    page = browser.new_page()
    page.goto(f"{address}/site/work-it-out/{name.partition('.')[0].replace('_', '-')}/")
    taken = page.evaluate(TYPE_ON, [module, message, keys])
    page.close()
    return [(to_the_page, in_python) for to_the_page, in_python in taken]


def number_at(name: str, path: str) -> tuple[float, str]:
    """Return the number that a question's example has at a path, and its unit: as typed, or as worked out."""
    of = question(name)
    known = Desk({}, CARD, example=True).ask(name).known
    for entry, table in entries_and_columns(of):
        row = 1 if table else 0
        key = f"{entry.key}.{row}" if row else entry.key
        if path_of(of, entry, row) == path and known[key].text:
            read = read_number(known[key].text)
            return read.number, read.unit.symbol if read.unit else ""
        if path_of(of, entry, row) == path:
            unit = entry.own_unit or ""
            return magnitude_in(known[key].value, unit), unit
    raise KeyError(path)


def yardstick(browser: Browser, address: str) -> dict[str, float]:
    """Time one fixed piece of work with the pauses of keystrokes: what differs then is the machine's doing."""
    page = browser.new_page()
    page.goto(address)
    taken = page.evaluate(YARDSTICK, KEYSTROKES)
    page.close()
    return {"least": min(taken), "median": statistics.median(taken), "p95": statistics.quantiles(taken, n=20)[-1]}


def second_page(browser: Browser, address: str) -> float:
    """Return the milliseconds from a keystroke on a second room's page to its answer, Python being up."""
    page = browser.new_page()
    page.goto(f"{address}/site/work-it-out/torque/")
    page.locator('bench-question[name="torque.wrench"]:defined').wait_for()
    page.evaluate(TYPE, ["torque.wrench", "head_torque", "40"])
    page.locator("nav").get_by_role("link", name="Valve lash").first.click()
    page.locator('bench-question[name="lash.plan"]:defined').wait_for()
    taken: float = page.evaluate(TYPE, ["lash.plan", "inlet_clearance", "0.3"])
    page.close()
    return taken


def wire(coding: str) -> dict[str, int]:
    """Return the bytes of a first visit to a room, by kind, as a host sends them by ``gzip`` or by ``br``."""
    release = next(path.parent for path in SITE.glob("assets/*/release.js"))
    page = SITE / "work-it-out" / "torque" / "index.html"
    theme = [path for kind in ("javascripts/*.js", "stylesheets/*.css") for path in SITE.glob(f"assets/{kind}")]
    wasm = "runtime.wasm" if coding == "br" else "runtime.bin"
    kinds = {
        "page and theme": [page, *theme],
        "elements and worker": [path for path in release.glob("*.*s") if path.name not in ON_DEMAND],
        "runtime": [release / "python" / name for name in ("pyodide.mjs", "pyodide.asm.js", wasm)],
        "snapshot": [release / "python" / "snapshot.bin"],
        "code of the room and the job": [release / "python" / name for name in ("torque.bin", "job.bin")],
    }
    files = {f"site/{path.relative_to(SITE)}": path.read_bytes() for paths in kinds.values() for path in paths}
    suffix = {"br": ".br", "gzip": ".gz"}[coding]
    sent = files | {
        name.removesuffix(suffix): copy
        for name, copy in pack.compressed_copies(SITE, files).items()
        if name.endswith(suffix)
    }
    sizes = {kind: sum(len(sent[f"site/{path.relative_to(SITE)}"]) for path in paths) for kind, paths in kinds.items()}
    return sizes | {"all": sum(sizes.values())}


def pages() -> list[str]:
    """Return every page of the site, in the order of its map."""
    return sorted(re.findall(r"<loc>/?(.*?)</loc>", (SITE / "sitemap.xml").read_text(encoding="utf-8")))


def measure(rounds: int) -> dict[str, Any]:
    """Run all measurements and return them as plain data."""
    with served() as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=os.environ.get("BENCH_CHROMIUM") or None,
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        release = next(path.parent.name for path in FOLDER.glob("site/assets/*/release.js"))
        worker = f"{address}/site/assets/{release}/python-worker.js"
        taken = [starts(browser, address, worker) for _ in range(rounds)]
        seconds = [second_page(browser, address) for _ in range(rounds)]
        typing = keystrokes(browser, address, f"{address}/site/assets/{release}/python.js")
        heavy = {
            words: typed_on(browser, address, f"{address}/site/assets/{release}/python.js", name, typed, [path])
            for words, (name, typed, path) in HEAVY.items()
        }
        fixed = yardstick(browser, address)
        seen = list(at_hand.walk(browser, f"{address}/site", pages()))
        more = {
            "painted": bounds.painted(browser, f"{address}/site"),
            "page_to_page_ms": bounds.page_to_page(browser, f"{address}/site"),
            "reading_page_bytes": bounds.reading_page(browser, f"{address}/site", FOLDER / "site"),
            "day_of_typing": bounds.day_of_typing(
                browser,
                f"{address}/site/work-it-out/torque/",
                f"{address}/site/assets/{release}/python.js",
                asked("torque.wrench"),
                "head_torque",
            ),
        }
        version = browser.version
        browser.close()
    milliseconds = {kind: [one[kind]["milliseconds"] for one in taken] for kind in taken[0]}
    medians = {kind: statistics.median(times) for kind, times in milliseconds.items()}
    memory = {kind: statistics.median(one[kind]["memory"] for one in taken) for kind in ("bare", "stock", "cold")}
    return more | {
        "browser": f"Chromium {version}",
        "rounds": rounds,
        "start_ms": medians | {"second page": statistics.median(seconds)},
        "start_ms_all": milliseconds,
        "recompute_ms": {name: middle_and_most(times) for name, times in typing.items()},
        "heavy_ms": {words: middle_and_most(times) for words, times in heavy.items()},
        "fixed_work_ms": fixed,
        "wire_gzip_bytes": wire("gzip"),
        "wire_brotli_bytes": wire("br"),
        "fresh_serve_s": bounds.fresh_serve(),
        "saved_s": bounds.saved(rounds),
        "whole_test_s": bounds.whole_test(),
        "pages": [asdict(one) for one in seen],
        "memory_bytes": memory,
        "ratios": {
            "cold_to_stock": statistics.median(
                one["cold"]["milliseconds"] / one["stock"]["milliseconds"] for one in taken
            ),
            "cold_to_bare": statistics.median(
                one["cold"]["milliseconds"] / one["bare"]["milliseconds"] for one in taken
            ),
            "warm_to_stock": statistics.median(
                one["warm"]["milliseconds"] / one["stock"]["milliseconds"] for one in taken
            ),
            "memory_to_bare": memory["cold"] / memory["bare"],
            "fixed_work_p95_to_least": fixed["p95"] / fixed["least"],
        },
    }


def middle_and_most(times: list[tuple[float, float]]) -> dict[str, float]:
    """Return the medians, and what 95 in 100 stay below, of the answers to the page and of Python's part in them."""
    to_the_page, in_python = zip(*times, strict=True)
    return {
        "median": statistics.median(to_the_page),
        "p95": statistics.quantiles(to_the_page, n=20)[-1],
        "in_python_median": statistics.median(in_python),
        "in_python_p95": statistics.quantiles(in_python, n=20)[-1],
    }


def table(found: dict[str, Any]) -> str:
    """Return the measurements as a table to read."""
    words = {
        "bare": "bare runtime, nothing imported",
        "stock": "stock start, same packages, first answer",
        "cold": "ours, first visit, first answer",
        "warm": "ours, again",
        "fallback": "ours, the stock way, again",
        "second page": "second room, Python up",
    }
    lines = [f"{found['browser']}, {found['rounds']} rounds, medians", ""]
    lines += [f"{words[kind]:44} {time:8.0f} ms" for kind, time in found["start_ms"].items()]
    heading = "answer to a keystroke, from the first on"
    lines += ["", f"{'':44} {'to the page':>23} {'in Python':>23}"]
    lines += [f"{heading:44} {'median':>8}    {'p95':>8}    {'median':>8}    {'p95':>8}"]
    lines += [
        f"{name:44} "
        + " ".join(f"{took[key]:8.1f} ms" for key in ("median", "p95", "in_python_median", "in_python_p95"))
        for name, took in (found["recompute_ms"] | found["heavy_ms"]).items()
    ]
    fixed = found["fixed_work_ms"]
    lines += [
        "",
        f"{'a fixed piece of work, the same each time':44} {fixed['median']:8.1f} ms {fixed['p95']:8.1f} ms; "
        f"at the least {fixed['least']:.1f} ms: what differs is the machine's doing",
    ]
    lines += ["", f"{'first visit to a room':44} {'gzip':>11} {'Brotli':>11}"]
    lines += [
        f"{kind:44} {size / 1000:8.0f} kB {found['wire_brotli_bytes'][kind] / 1000:8.0f} kB"
        for kind, size in found["wire_gzip_bytes"].items()
    ]
    lines += ["", *(f"{'memory, ' + kind:44} {size / 2**20:8.1f} MiB" for kind, size in found["memory_bytes"].items())]
    lines += ["", *(f"{name:44} {ratio:8.2f}" for name, ratio in found["ratios"].items())]
    lines += ["", at_hand.table([at_hand.Seen(**one) for one in found["pages"]])]
    lines += ["", bounds.table(found)]
    return "\n".join(lines)


def main() -> None:
    """Measure, print the table, and write the JSON."""
    parser = argparse.ArgumentParser(prog="scripts/bench")
    parser.add_argument("--rounds", type=int, default=5)
    found = measure(parser.parse_args().rounds)
    RESULT.write_text(json.dumps(found, indent=2))
    print(table(found))
    print(f"\nThe same as JSON: {RESULT.relative_to(ROOT)}")


if __name__ == "__main__":
    main()
