"""A hundred strings that no careful person types, on the built pages: nothing hangs, breaks out or is lost."""

from __future__ import annotations

import re
import unicodedata
from itertools import cycle

import pytest
from playwright.sync_api import Dialog, Page, expect

from calculators.bench.question import rooms
from tests.bad_input import bad_strings
from tests.examples import IS_NIGHT
from tests.site.conftest import (
    PHONE,
    Kept,
    form_of,
    question,
)

STRINGS = list(bad_strings(2_000 if IS_NIGHT else 100))
LONGEST = 2000  # characters of a reading, as calculators/job/job.schema.json has it
SLOWEST = 200  # ms from the question to the answer of a worker that is up
TIMES = 5  # a busy machine takes longer for anything: then so many times what it takes for a plain number
PAGES = [found[0].name for found in rooms().values()]  # the first question of each room

# Before any script of ours: note how long each question to the worker waits for its answer, and which answer is shown.
TIMED = """
  window.waits = [];
  window.shown = {}; // by question
  const asked = new Map();
  let answered;
  const heard = ({ data }) => {
    if (!asked.has(data.id)) return;
    const [question, began] = asked.get(data.id);
    window.waits.push(performance.now() - began);
    answered = question;
  };
  window.Worker = class extends Worker {
    constructor(...given) {
      super(...given);
      this.addEventListener("message", heard); // before the page's own, which shows the answer at once
    }
    postMessage(question, ...more) {
      // as it is now: the page's own readings go on with the next key
      if (question?.id) asked.set(question.id, [structuredClone(question), performance.now()]);
      return super.postMessage(question, ...more);
    }
  };
  addEventListener("bench-answered", ({ target }) => (window.shown[target.name] = answered), { capture: true });
"""
# An answer that a newer keystroke has overtaken is heard, and not shown.
ANSWERED = """
  ([before, name, key]) => new Promise((resolve) => {
    const { value, dataset } = document.querySelector(`[name="${key}"]`);
    const look = () => {
      const of = window.shown[name];
      const isOfThis = of && (of.readings[dataset.path]?.text ?? "").trim() === value.trim();
      if (isOfThis && window.waits.length > before) resolve(Math.max(...window.waits.slice(before)));
      else setTimeout(look, 2);
    };
    look();
  })
"""
# A page of ours has no elements of these kinds in a question, and no attribute that runs a script.
STRANGERS = """
  () => {
    const kinds = "img, script, iframe, object, embed, style, link, base, meta, textarea, b, form form, [srcdoc]";
    const inside = [...document.querySelectorAll("bench-question *")];
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
  (name) => Object.fromEntries(
    [...document.querySelector(`bench-question[name="${name}"] form`).elements]
      .filter((control) => control.dataset.path && control.checkVisibility())
      .map((control) => [control.name, control.value]),
  )
"""


def is_seen(text: str) -> bool:
    """Tell whether there is more to a text than spaces and signs that only steer others: it else counts as nothing."""
    return any(unicodedata.category(sign)[0] not in "CZ" for sign in text)


HALF_PAIR = re.compile("[\ud800-\udfff]")


def type_in(page: Page, name: str, key: str, text: str) -> float:
    """Type into one box and return the milliseconds until its answer."""
    box = question(page, name).locator(f'[name="{key}"]')
    before = page.evaluate("window.waits.length")
    if HALF_PAIR.search(text):  # these do not survive the way from here to the browser's keyboard
        units = text.encode("utf-16-le", "surrogatepass")
        box.evaluate(TYPE, [int.from_bytes(units[at : at + 2], "little") for at in range(0, len(units), 2)])
    else:
        box.fill(text)
    return float(page.evaluate(ANSWERED, [before, name, key]))


def is_slow(page: Page, name: str, box: str, text: str) -> bool:
    type_in(page, name, box, "")
    plain = type_in(page, name, box, "1")
    return type_in(page, name, box, text) >= max(SLOWEST, TIMES * plain)


@pytest.fixture(scope="module")
def page_of_the_file():
    kept = Kept(script=TIMED)
    yield kept
    kept.close()


@pytest.mark.parametrize("name", PAGES)
def test_no_string_hangs_breaks_out_or_is_lost(same_page, name):
    page = same_page(f"/work-it-out/{name.partition('.')[0].replace('_', '-')}/", PHONE)
    dialogs: list[str] = []

    def asked(dialog: Dialog) -> None:
        dialogs.append(dialog.message)
        dialog.dismiss()

    page.on("dialog", asked)
    form = form_of(page, name).locator("form")
    form.locator("details").evaluate_all("all => all.forEach((one) => (one.open = true))")
    boxes = form.locator("input[data-path]:visible").evaluate_all("all => all.map((one) => one.name)")
    if not boxes:
        pytest.skip("it asks for choices alone")
    type_in(page, name, boxes[0], "1")  # from here on Python is up
    type_in(page, name, boxes[0], "")
    slow, typed, refused = [], 0, 0
    for box, string in zip(cycle(boxes), STRINGS[PAGES.index(name) :: len(PAGES)], strict=False):
        text = re.sub("[\r\n]", "", string)  # a box of one line drops them
        if not text.replace("\ufeff", "").strip():  # the page trims a byte-order mark too
            continue
        if len(text) > LONGEST:  # it is not kept and so not asked, which the page says
            question(page, name).locator(f'[name="{box}"]').fill(text)
            expect(page.locator(".bench-not-kept")).to_contain_text("Not kept, because longer than 2000 characters")
            assert page.evaluate(STRANGERS) == [], (box, text[:80])
            assert page.evaluate(VALUES, name)[box] == text
            question(page, name).locator(f'[name="{box}"]').fill("")
            typed, refused = typed + 1, refused + 1
            continue
        waited = type_in(page, name, box, text)
        if waited >= SLOWEST and all(is_slow(page, name, box, text) for _ in range(5)):
            slow.append((box, text[:80], waited))
        state = question(page, name).get_attribute("data-state")
        headline = question(page, name).locator(".q-headline").first.inner_text()
        is_answered = state in ("mixed", "yours") or (state == "example" and not is_seen(text))
        assert is_answered == bool(headline), (box, text[:80], state, headline)
        assert page.evaluate(STRANGERS) == [], (box, text[:80])
        values = page.evaluate(VALUES, name)
        if not HALF_PAIR.search(text):
            assert values[box] == text
        assert not any(values[other] for other in boxes if other != box and other in values), (box, text[:80])
        typed, refused = typed + 1, refused + (state == "wrong")
        type_in(page, name, box, "")
    page.remove_listener("dialog", asked)
    assert not slow
    assert not dialogs
    assert typed > len(STRINGS) / len(PAGES) / 2
    assert refused > typed / 2
