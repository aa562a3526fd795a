"""Damaged jobs and cards, through the page: each is refused in words, or what is sound of it is shown and taken in."""

from __future__ import annotations

import io
import json
import random
import zipfile
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from calculators.job.jobs import job_faults
from tests.attempts import Attempts
from tests.bad_input import SEED, bad_strings
from tests.cards import MARRAM
from tests.examples import IS_NIGHT
from tests.site.conftest import ROOT, until

FILES = 500 if IS_NIGHT else 8
JOBS = [path.read_bytes() for path in sorted((ROOT / "tests" / "jobs").glob("*.json"))]
CARD = json.dumps(MARRAM.data).encode()
DEEP = 400
VALUES: tuple[Any, ...] = (
    *(None, True, -1, 0, 1e300, 2**63, "", " ", "x" * 5000, "2026-02-30T08:00:00Z", "../x", "\u202e80\u0000"),
    *([], {}, [[]], {"": {}}, {"__proto__": {"hurt": 1}}, "<img src=x onerror='window.hurt=1'>", "80 mm"),
)
KEYS = ("__proto__", "constructor", "toString", "", "a" * 300, "<b>", "id", "when", "value", "source", "readings")
STRANGERS = """
(inside) => {
  const strange = "img, script, iframe, object, embed, link, base, meta, style, b";
  const runs = (one) => [...one.attributes].some(({ name }) => name.startsWith("on"));
  const found = [...inside.querySelectorAll("*")].filter((one) => one.matches(strange) || runs(one));
  return [...found.map((one) => one.outerHTML), ...(window.hurt || {}.hurt ? ["hurt"] : [])];
}
"""
KEPT = """
async () => {
  const result = (asked) => new Promise((done) => (asked.onsuccess = () => done(asked.result)));
  const db = await result(indexedDB.open("bench"));
  const jobs = await result(db.transaction("jobs").objectStore("jobs").getAll());
  db.close();
  return jobs;
}
"""


def places(tree: Any) -> list[tuple[Any, Any]]:
    """Return every place of a tree: what holds it, and under which key."""
    keys = tree.keys() if isinstance(tree, dict) else range(len(tree)) if isinstance(tree, list) else ()
    return [place for key in keys for place in ((tree, key), *places(tree[key]))]


def cut_tree(pick: random.Random, content: bytes, wild: str) -> bytes:
    """Return JSON text with a few entries changed, taken out, named otherwise or doubled."""
    tree = json.loads(content)
    for _ in range(pick.randint(1, 6)):
        if not (found := places(tree)):
            break
        holder, key = pick.choice(found)
        deed = pick.randrange(5)
        if deed == 0:
            holder[key] = pick.choice((*VALUES, wild))
        elif deed == 1:
            del holder[key]
        elif deed == 2 and isinstance(holder, dict):
            holder[pick.choice((*KEYS, wild))] = holder.pop(key)
        elif deed == 3 and isinstance(holder, list):
            holder.append(holder[key])
        else:
            holder[key] = json.loads(json.dumps(pick.choice(found)[0]))
    return json.dumps(tree).encode() if pick.random() < 0.95 else b"[" * DEEP + b"]" * DEEP


def cut_bytes(pick: random.Random, content: bytes, wild: str) -> bytes:
    """Return bytes with a part taken out, turned or doubled."""
    start = pick.randrange(len(content))
    end = min(len(content), start + pick.choice((1, 2, 40, 4000)))
    middle = pick.choice(
        (b"", bytes(byte ^ 1 << pick.randrange(8) for byte in content[start:end]), 2 * content[start:end])
    )
    return content[:start] + middle + (content[end:] if pick.random() < 0.8 else b"")


def cut_archive(pick: random.Random, content: bytes, wild: str) -> bytes:
    """Return an archive as the book exports it, with a damaged job in it or damaged itself."""
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("jobs.json", cut_tree(pick, content, wild))
        archive.writestr(pick.choice(("photographs/0123456789abcdef.jpg", "../../x.jpg", "x")), b"\xff\xd8\xff")
    return whole.getvalue() if pick.random() < 0.5 else cut_bytes(pick, whole.getvalue(), wild)


def damaged(seed: int, contents: list[bytes], kinds: tuple[Any, ...]) -> list[tuple[str, bytes]]:
    pick = random.Random(seed)  # noqa: S311
    return [
        (kind.__name__, kind(pick, pick.choice(contents), wild))
        for wild, kind in ((wild, pick.choice(kinds)) for wild in bad_strings(FILES, seed))
    ]


@pytest.fixture
def seed() -> int:
    return random.SystemRandom().randrange(10**9) if IS_NIGHT else SEED


def give(page: Page, file: str, name: str, content: bytes) -> None:
    page.locator(f"{file} input[type=file]").first.set_input_files(
        [{"name": name, "mimeType": "application/json", "buffer": content}]
    )


def test_damaged_jobs_are_refused_or_taken_in_as_far_as_they_are_sound(open_page, attempts: Attempts, seed, said):
    page = open_page("/job/")
    expect(page.locator(".bench-job-sheet h2").first).to_be_visible()
    page.locator('[data-at="about.owner"]').fill("S. Tide")
    until(page, lambda: page.evaluate(KEPT))
    (mine,) = page.evaluate(KEPT)
    group, taken = page.locator(".bench-job-incoming"), 0
    for number, (kind, content) in enumerate(damaged(seed, JOBS, (cut_tree, cut_tree, cut_bytes, cut_archive))):
        name, wrong = f"file-{number}.json", []
        give(page, "bench-job", name, content)
        expect(group).to_contain_text(name)
        wrong += group.evaluate(STRANGERS)
        if (yes := group.get_by_role("button", name="Take it in")).count() and number % 2:
            yes.click()
            expect(page.locator("bench-job .bench-status")).to_contain_text("The file is taken in.")
            wrong += page.locator("bench-job").evaluate(STRANGERS)
            taken += 1
        jobs = {job["id"]: job for job in page.evaluate(KEPT)}
        if (left := jobs.pop(mine["id"], None)) != mine:
            wrong.append(f"the reader's own job became {left}")
        wrong += job_faults({"format": 5, "jobs": [*jobs.values()]}) if jobs else []
        attempts.count(f"damaged jobs: {kind}", *(f"seed {seed}, file {number}: {one}" for one in wrong))
    said(f"damaged jobs: {FILES} looked at, {taken} taken in as far as they were sound")


def test_damaged_cards_are_refused_or_become_a_draft(open_page, attempts: Attempts, seed):
    page = open_page("/job/engine-card/")
    page.on("dialog", lambda dialog: dialog.accept())  # whether the draft before may go
    expect(page.locator(".bench-card-about")).to_contain_text("question")
    for number, (kind, content) in enumerate(damaged(seed, [CARD], (cut_tree, cut_tree, cut_bytes))):
        name = f"card-{number}.json"
        give(page, "bench-card", name, content)
        expect(page.locator("bench-card .bench-status")).to_contain_text(name)
        wrong = page.locator("bench-card").evaluate(STRANGERS)
        attempts.count(f"damaged cards: {kind}", *(f"seed {seed}, file {number}: {one}" for one in wrong))
