"""Eight hours open on a phone: what page and Python hold does not grow with what is typed and leafed through."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.attempts import Attempts
from tests.examples import IS_NIGHT
from tests.site.conftest import PHONE, form_of, fresh, module, question

ROUNDS = 240 if IS_NIGHT else 4
"""Eight hours of one who changes the page every two minutes, and back; in the ordinary run a few minutes of them."""
TYPED = 24 if IS_NIGHT else 2  # numbers a round: one every five seconds
WARM = 20 if IS_NIGHT else 1  # rounds after which all that is kept once is there
HEAP = 64  # MB of JavaScript's own heap, as a small phone has it
LEFT = {"JSHeapUsedSize": 120_000, "Nodes": 50, "JSEventListeners": 6}
"""What a change of the page may leave behind: of the theme's own, as a page has 10,000 nodes."""
GROWN = 1.05  # of Python's memory
FIRST, SECOND = "/work-it-out/torque/", "/work-it-out/lash/"
WRENCH, PLAN = "torque.wrench", "lash.plan"
MODULE = module("python")
GO = """
(path) => {
  const link = [...document.querySelectorAll("nav a")].find(({ href }) => new URL(href).pathname === path);
  link.click();
}
"""


@pytest.fixture
def phone(launch: Callable[..., Browser]) -> Iterator[Page]:
    browser = launch(f"--js-flags=--max-old-space-size={HEAP}")
    context = fresh(browser, viewport={"width": PHONE[0], "height": PHONE[1]}, is_mobile=True, has_touch=True)
    yield context.new_page()
    browser.close()


def held(page: Page) -> dict[str, float]:
    """Return what the page holds after what is not needed was thrown away."""
    session = page.context.new_cdp_session(page)
    session.send("Performance.enable")
    for _ in range(3):
        session.send("HeapProfiler.collectGarbage")
    found: dict[str, Any] = {one["name"]: one["value"] for one in session.send("Performance.getMetrics")["metrics"]}
    session.detach()
    python: float = page.evaluate(f"import({MODULE}).then(({{ history }}) => history.memory)")
    return {name: found[name] for name in LEFT} | {"Python": python}


def type_in(page: Page, name: str, key: str, text: str) -> None:
    box = form_of(page, name).locator(f'[name="{key}"]').first
    box.fill(text)
    shown = question(page, name)
    expect(shown).not_to_have_attribute("data-waiting", "")
    expect(shown).to_have_attribute("data-state", "mixed")


def test_a_day_of_typing_and_leafing_leaves_nothing_behind(phone: Page, address, attempts: Attempts, said):
    phone.goto(address + FIRST)
    phone.evaluate("window.marker = 'kept'")
    before: dict[str, float] = {}
    for number in range(ROUNDS):
        for path, name, key, least in ((FIRST, WRENCH, "target", 30), (SECOND, PLAN, "inlet_clearance", 10)):
            if number or path != FIRST:
                phone.evaluate(GO, path)
            for step in range(TYPED // 2 or 1):
                typed = least + (number * TYPED + step) % 100 / 20
                type_in(phone, name, key, f"{typed:g}" if name == WRENCH else f"{typed / 100:g} mm")
                attempts.count("numbers typed in a day on a phone")
        if number == WARM:
            before = held(phone)
    assert phone.evaluate("window.marker") == "kept"  # else each page would begin with nothing
    after = held(phone)
    changes = 2 * (ROUNDS - 1 - WARM)
    left = {name: (after[name] - before[name]) / changes for name in LEFT}
    wrong = [f"{name}: {by:.0f} a change of the page" for name, by in left.items() if by > LEFT[name]]
    grown = after["Python"] / before["Python"]
    attempts.count("days open on a phone", *wrong, *([f"Python × {grown:.2f}"] if grown > GROWN else []))
    told = ", ".join(f"{name} {by:+.0f}" for name, by in left.items())
    said(f"open on a phone, {ROUNDS} rounds: a change of the page leaves {told}; Python × {grown:.3f}")
