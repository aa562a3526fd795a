"""Two hundred strings that no careful person types, on the built pages: nothing hangs, breaks out or is lost."""

from __future__ import annotations

import re
from itertools import cycle

import pytest
from calculators._catalogue import catalogue
from playwright.sync_api import Page

from tests.bad_input import bad_strings
from tests.site.conftest import PHONE, calculator

STRINGS = list(bad_strings(200))
SLOWEST = 200  # ms from the question to the answer of a worker that is up
PAGES = list(catalogue())

# Before any script of ours: note how long each question to the worker waits for its answer.
TIMED = """
  const post = Worker.prototype.postMessage;
  window.asked = 0;
  window.waits = [];
  Worker.prototype.postMessage = function (question, ...more) {
    if (question?.id) {
      window.asked += 1;
      const began = performance.now();
      const heard = ({ data }) => {
        if (data.id !== question.id) return;
        window.waits.push(performance.now() - began);
        this.removeEventListener("message", heard);
      };
      this.addEventListener("message", heard);
    }
    return post.call(this, question, ...more);
  };
"""
ANSWERED = """
  (before) => new Promise((resolve) => {
    const look = () => {
      const { waits, asked } = window;
      if (waits.length > before && waits.length === asked) resolve(Math.max(...waits.slice(before)));
      else setTimeout(look, 2);
    };
    look();
  })
"""
# A page of ours has no elements of these kinds in a calculator, and no attribute that runs a script.
STRANGERS = """
  () => {
    const kinds = "img, script, iframe, object, embed, style, link, base, meta, textarea, b, form form, [srcdoc]";
    const inside = [...document.querySelectorAll("bench-calculator *")];
    const running = inside.filter((one) => [...one.attributes].some(({ name }) => name.startsWith("on")));
    const strange = inside.filter((one) => one.matches(kinds));
    return [...running, ...strange].map((one) => one.outerHTML).concat(window.hurt ?? []);
  }
"""
TYPE = """
  (box, units) => {
    box.value = String.fromCharCode(...units);
    box.dispatchEvent(new Event("input", { bubbles: true }));
  }
"""
VALUES = """
  () => Object.fromEntries(
    [...document.querySelector("bench-calculator form").elements]
      .filter((control) => control.name && control.checkVisibility())
      .map((control) => [control.name, control.value]),
  )
"""


HALF_PAIR = re.compile("[\ud800-\udfff]")


def type_in(page: Page, name: str, text: str) -> float:
    """Type into one box and return the milliseconds until its answer."""
    box = calculator(page).locator(f'[name="{name}"]')
    before = page.evaluate("window.waits.length")
    if HALF_PAIR.search(text):  # these do not survive the way from here to the browser's keyboard
        units = text.encode("utf-16-le", "surrogatepass")
        box.evaluate(TYPE, [int.from_bytes(units[at : at + 2], "little") for at in range(0, len(units), 2)])
    else:
        box.fill(text)
    return float(page.evaluate(ANSWERED, before))


def press_enter(page: Page, name: str) -> None:
    """Ask for the answer or the errors at once."""
    before = page.evaluate("window.waits.length")
    calculator(page).locator(f'[name="{name}"]').press("Enter")
    page.evaluate(ANSWERED, before)


@pytest.mark.parametrize("name", PAGES)
def test_no_string_hangs_breaks_out_or_is_lost(open_page, address, name):
    page = open_page(None, PHONE)
    dialogs = []
    page.on("dialog", lambda dialog: (dialogs.append(dialog.message), dialog.dismiss()))
    page.add_init_script(TIMED)
    page.goto(f"{address}/calculators/{name}/")
    page.eval_on_selector_all("bench-calculator details", "all => all.forEach((one) => (one.open = true))")
    example = page.evaluate(VALUES)
    boxes = calculator(page).locator("form input:visible").evaluate_all("all => all.map((one) => one.name)")
    press_enter(page, boxes[0])  # from here on Python is up
    slow, typed, refused = [], 0, 0
    for box, string in zip(cycle(boxes), STRINGS[PAGES.index(name) :: len(PAGES)], strict=False):
        text = re.sub("[\r\n]", "", string)  # a box of one line drops them
        if text == example[box]:
            continue
        waited = type_in(page, box, text)
        for _ in range(5):  # a busy machine is slow now and then, a bad string is slow always
            if waited >= SLOWEST:
                type_in(page, box, example[box])
                waited = min(waited, type_in(page, box, text))
        if waited >= SLOWEST:
            slow.append((box, text[:80], waited))
        press_enter(page, box)
        wrong = calculator(page).locator(".bench-summary").is_visible()
        assert wrong != bool(calculator(page).locator(".bench-lead").inner_text()), (box, text[:80])
        assert page.evaluate(STRANGERS) == [], (box, text[:80])
        values = page.evaluate(VALUES)
        if not HALF_PAIR.search(text):
            assert values[box] == text
        others = (example.keys() & values.keys()) - {box}
        assert {key: values[key] for key in others} == {key: example[key] for key in others}, (box, text[:80])
        typed, refused = typed + 1, refused + wrong
        type_in(page, box, example[box])
    assert not slow
    assert not dialogs
    assert typed > len(STRINGS) / len(PAGES) / 2
    assert refused > typed / 2
