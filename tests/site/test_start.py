"""How Python starts in the reader's browser, and what happens when it cannot."""

from __future__ import annotations

import gzip

import pytest
from playwright.sync_api import expect

from tests.examples import wide
from tests.site.conftest import (
    PHONE,
    answered,
    arrived,
    fill,
    form_of,
    fresh,
    kept_job,
    module,
    question,
    says,
    until,
)

PAGE = "/work-it-out/torque/"
HISTORY = f"import({module('python')}).then(m => m.history)"


@pytest.fixture(scope="module")
def first_visit(browser, address):
    """A room that was opened in an empty browser, and answered; nothing else was done there."""
    context = fresh(browser)
    page = context.new_page()
    page.goto(address + PAGE)
    fill(page, target="40")
    answered(page)
    yield page
    context.close()


def test_starts_from_the_snapshot(first_visit):
    history = first_visit.evaluate(HISTORY)
    assert (history["way"], history["state"], history["setbacks"]) == ("snapshot", "ready", [])


def test_the_usual_step_is_in_the_unit_of_the_torque_before_python_has_started(open_page, address):
    page = open_page(None)
    held = []
    page.route("**/runtime.*", lambda route: held.append(route))
    page.goto(address + PAGE)
    fill(page, **{"target": "25", "target.unit": "lbf·ft", "graduation": "0.5"})
    assert kept_job(page)["readings"]["wrench_step"]["unit"] == "lbf·ft"
    fill(page, **{"target.unit": "N·m"})
    expect(question(page).locator('[data-unit-of="graduation"]')).to_have_value("lbf·ft")  # a reading keeps its unit
    until(page, lambda: held)
    for route in held:
        route.continue_()
    answered(page)


def test_a_step_ticked_while_the_storage_opens_is_kept_and_shown_ticked(open_page, address):
    page = open_page(None)
    page.add_init_script("""
      window.opening = [];
      const listen = IDBOpenDBRequest.prototype.addEventListener;
      IDBOpenDBRequest.prototype.addEventListener = function (kind, heard, ...more) {
        const now = (event) => heard.call(this, event);
        const late = (event) => (window.opening ? opening.push(() => now(event)) : now(event));
        return listen.call(this, kind, kind === "success" ? late : heard, ...more);
      };
    """)
    page.route("**/runtime.*", lambda route: None)  # no answer comes that would show it once more
    page.goto(address + PAGE)
    arrived(page).locator('[data-fold^="steps"] > summary').first.click()
    step = question(page).locator("[data-step]").first
    step.click()
    expect(step).to_be_checked()
    until(page, lambda: page.evaluate("opening.length"))
    page.evaluate("() => { const open = opening; delete window.opening; for (const go of open) go(); }")
    until(page, lambda: (kept_job(page) or {}).get("ticks"))
    expect(step).to_be_checked()


def test_python_is_on_its_way_before_the_questions_own_script_has_come(open_page, address):
    page, held = open_page(None), []
    page.route("**/bench-question.js", lambda route: held.append(route))
    with page.expect_request("**/python-worker.js"):
        page.goto(address + PAGE)
    assert page.locator("bench-question:defined").count() == 0
    until(page, lambda: held)
    for route in held:
        route.continue_()
    arrived(page)


def test_a_button_pressed_before_its_script_has_come_is_pressed_once_it_has(open_page, address):
    page = open_page(None)
    held = []
    page.route("**/bench-question.js", lambda route: held.append(route))
    page.goto(address + PAGE)
    change = question(page).locator(".q-change")
    change.click()
    change.click()  # by a hand that thinks it missed
    expect(question(page).locator(".q-form")).to_be_hidden()
    until(page, lambda: held)
    for route in held:
        route.continue_()
    expect(question(page).locator(".q-form")).to_be_visible()


def test_a_step_ticked_before_its_script_has_come_is_ticked_once_it_has(open_page, address):
    page = open_page(None)
    held = []
    page.route("**/bench-question.js", lambda route: held.append(route))
    page.goto(address + PAGE)
    one = question(page)
    one.locator('[data-fold="steps head_1"] > summary').click()
    one.locator("[data-step]").first.check()
    until(page, lambda: held)
    for route in held:
        route.continue_()
    kept = until(page, lambda: kept_job(page))
    ((walk, steps),) = kept["ticks"].items()
    assert walk.startswith("torque.wrench ")
    assert len(steps) == 1
    expect(one.locator("[data-step]").first).to_be_checked()


def test_an_idle_python_rehearses_and_a_keystroke_is_answered_in_between(browser, address):
    context = browser.new_context()
    page = context.new_page()
    page.goto(address + PAGE)
    until(page, lambda: page.evaluate(HISTORY)["rehearsed"] > 2)
    fill(page, target="40")
    expect(says(page)).to_contain_text("40 N·m")
    until(page, lambda: page.evaluate(HISTORY)["rehearsed"] == 40)
    expect(says(page)).to_contain_text("40 N·m")
    context.close()


def broken(route, content: bytes | None) -> None:
    if content is None:
        route.abort()
    else:
        route.fulfill(body=content, content_type="application/octet-stream")


@pytest.mark.parametrize(
    "content",
    [
        None,
        b"<!doctype html><title>Sign in to this network</title>",
        pytest.param(gzip.compress(b"short"), marks=wide),  # no bytes of ours, as the page before
        pytest.param(b"", marks=wide),
    ],
    ids=["unreachable", "a sign-in page", "the wrong bytes", "empty"],
)
def test_falls_back_to_the_stock_start_when_the_snapshot_is_no_good(open_page, address, content):
    page = open_page(None, expect_complaints=True)
    page.route("**/snapshot.bin", lambda route: broken(route, content))
    page.goto(address + PAGE)
    fill(page, target="40")
    answered(page)
    expect(says(page)).to_contain_text("13, 27 and 40 N·m")
    history = page.evaluate(HISTORY)
    assert (history["way"], history["state"]) == ("stock", "ready")
    assert history["setbacks"][0].startswith("snapshot: ")


KEEP_WORKERS = """
window.workersMade = [];
window.Worker = class extends Worker { constructor(...given) { super(...given); workersMade.push(this); } };
"""
DIE = "workersMade.at(-1).dispatchEvent(new ErrorEvent('error', {message: 'out of memory', cancelable: true}))"


def test_a_python_that_dies_is_started_once_more_and_what_was_typed_is_answered(open_page, address):
    page = open_page(None, expect_complaints=True)
    page.add_init_script(KEEP_WORKERS)
    page.goto(address + PAGE)
    fill(page, target="40")
    answered(page)
    page.evaluate(DIE)
    fill(page, target="41")
    expect(says(page)).to_contain_text("41 N·m")
    assert page.evaluate(HISTORY)["setbacks"] == ["snapshot: out of memory"]


DIE_OF = """
(text) => {
  let asks = 0;
  const post = Worker.prototype.postMessage;
  const die = (worker) => worker.dispatchEvent(new ErrorEvent("error", { message: "out of memory", cancelable: true }));
  Worker.prototype.postMessage = function (asked, ...more) {
    if (asked.readings?.head_torque?.text !== text) return post.call(this, asked, ...more);
    if (asks++) this.addEventListener("message", ({ data }) => data.ready && die(this));
    else die(this); // it is up
  };
}
"""


def test_the_reader_is_told_when_one_question_brings_down_two(open_page, address):
    page = open_page(None, expect_complaints=True)
    page.add_init_script(KEEP_WORKERS)
    page.goto(address + PAGE)
    fill(page, target="40")
    answered(page)
    page.evaluate(DIE_OF, "41")
    fill(page, target="41")
    expect(question(page).locator(".q-whose").first).to_have_text("This question has stopped. Your readings are kept.")
    expect(question(page).locator('[name="target"]')).to_have_value("41")
    assert page.evaluate(HISTORY)["setbacks"] == ["snapshot: out of memory", "stock: out of memory"]
    fill(page, target="42")
    expect(says(page)).to_contain_text("42 N·m")


@pytest.mark.parametrize("folder", ["", "/shop/bench"])
def test_one_python_lives_across_pages_in_any_folder(open_page, serve_in, folder):
    page = open_page("/", PHONE)
    page.goto(serve_in(folder) + "/")
    page.evaluate("window.marker = 'kept'")
    for title, name, key, text in (
        ("Tighten a head down", "torque.wrench", "target", "40"),
        ("Set valve lash", "lash.plan", "inlet_clearance", "0.2"),
    ):
        page.locator("article").get_by_role("link", name=title).first.click()
        expect(page.locator("#steps")).to_be_attached()
        fill(page, name, **{key: text})
        answered(page, name)
        page.go_back()  # from the sheet to its page
        expect(question(page, name).locator(".q-sheet")).to_be_hidden()
        page.go_back()
        expect(page.locator("h1")).to_contain_text("Top-End Bench Book")
    assert page.evaluate("window.marker") == "kept"
    assert page.evaluate(HISTORY)["setbacks"] == []


def fetched(page, part: str) -> list[str]:
    return page.evaluate(
        "part => performance.getEntriesByType('resource').map(one => one.name).filter(name => name.includes(part))",
        part,
    )


def test_a_reading_page_fetches_no_python_until_the_reader_heads_for_a_question(open_page):
    page = open_page("/")
    until(page, lambda: fetched(page, "python.js"))
    begun = f"{HISTORY}.then(history => history.state)"  # a start begins in the very moment of the hover
    page.locator("article").get_by_role("link", name="Work safely").first.hover()
    assert page.evaluate(begun) == "not started"
    assert not fetched(page, "python-worker.js")
    with page.expect_request(lambda request: "python-worker.js" in request.url):
        page.locator("article").get_by_role("link", name="Tighten a head down").first.hover()
    assert page.evaluate(begun) != "not started"


@pytest.mark.parametrize(
    ("path", "most"), [("/start/safety/", 110_000), ("/", 125_000), ("/reference/glossary/", 125_000)]
)
def test_a_first_visit_to_a_reading_page_costs_at_most_so_many_bytes(open_page, site, path, most):
    page = open_page(path)
    expect(page.locator("bench-offline")).not_to_be_empty()  # the last of our scripts is there
    page.wait_for_load_state("networkidle")
    names = page.evaluate("performance.getEntriesByType('resource').map(one => new URL(one.name).pathname)")
    files = [site / path.lstrip("/") / "index.html", *(site / name.lstrip("/") for name in set(names))]
    sizes = {file.name: len(gzip.compress(file.read_bytes(), 6)) for file in files}
    assert sum(sizes.values()) <= most, sizes


def test_a_first_visit_to_a_room_costs_at_most_4_megabytes_and_a_fifth(first_visit, site):
    names = first_visit.evaluate("performance.getEntriesByType('resource').map(one => new URL(one.name).pathname)")
    release = next(name for name in names if name.endswith("release.js")).removesuffix("release.js").lstrip("/")
    fetched = ("pyodide.mjs", "pyodide.asm.js", "runtime.bin", "snapshot.bin", "torque.bin", "job.bin")
    python = [site / release / "python" / name for name in fetched]  # by the worker: the page does not hear of it
    files = {site / "work-it-out/torque/index.html", *python, *(site / name.lstrip("/") for name in names)}
    sizes = {path.name: len(gzip.compress(path.read_bytes(), 6)) for path in files}
    assert sum(sizes.values()) <= 4_200_000, sizes


def test_an_injected_script_does_not_run(open_page):
    page = open_page("/", expect_complaints=True)
    page.evaluate(
        """() => {
          window.refused = [];
          addEventListener("securitypolicyviolation", ({ effectiveDirective }) => refused.push(effectiveDirective));
          const script = document.createElement("script");
          script.textContent = "window.hurt = 'inline'";
          document.body.append(script);
          const image = document.createElement("div");
          image.innerHTML = '<img src=x onerror=window.hurt=1>';
          document.body.append(image);
          const link = document.createElement("a");
          link.href = "javascript:window.hurt = 'link'";
          document.body.append(link);
          link.click();
        }"""
    )
    until(page, lambda: page.evaluate("refused.filter((one) => one.startsWith('script-src')).length") == 3)
    assert page.evaluate("window.hurt") is None


def test_every_page_carries_the_policy(site):
    pages = list(site.rglob("*.html"))
    assert pages
    for path in pages:
        text = path.read_text(encoding="utf-8")
        policy = text.split('http-equiv="Content-Security-Policy" content="')[1].split('"')[0]
        assert policy.startswith("default-src 'none'; script-src 'self' 'wasm-unsafe-eval'"), path
        assert "unsafe-inline" not in policy, path
        assert "'unsafe-eval'" not in policy, path
        assert text.index("Content-Security-Policy") < text.index("<script"), path


@pytest.mark.parametrize("size", [PHONE, (1280, 800)], ids=["phone", "desk"])
def test_shows_the_whole_worked_example_without_scripts(open_page, size):
    page = open_page(PAGE, size, java_script_enabled=False)
    expect(question(page).locator(".q-headline")).to_contain_text("34 N·m")
    expect(says(page)).to_contain_text("Set the wrench to 11, 23 and 34 N·m")
    expect(question(page).locator(".q-form")).to_be_hidden()  # nothing can be typed that would not be answered


@pytest.mark.parametrize("cut", [False, True], ids=["opened as a file", "a script cut short"])
def test_where_no_script_runs_nothing_can_be_typed_beside_the_example(open_page, browser, site, address, cut):
    if cut:
        page = open_page(None, PHONE, expect_complaints=True)
        page.route(
            "**/bench-question.js", lambda route: route.fulfill(body="const x = {", content_type="text/javascript")
        )
        with page.expect_event("pageerror"):
            page.goto(address + PAGE)
    else:
        page = browser.new_context().new_page()  # it may complain here: from a disk it has no scripts
        page.goto((site / PAGE.strip("/") / "index.html").as_uri())
    question(page).locator(".q-change").click()
    expect(question(page).locator(".q-form")).to_be_hidden()
    expect(question(page)).to_have_attribute("data-state", "example")
    if not cut:
        page.context.close()


def test_what_is_typed_before_python_is_up_is_answered_and_the_old_answer_is_gone_meanwhile(open_page, address):
    page, held = open_page(None, PHONE), []
    page.route("**/runtime.bin", lambda route: held.append(route))
    page.goto(address + PAGE)
    fill(page, target="40")
    expect(question(page).locator(".q-whose").first).to_contain_text("Starting.")
    expect(question(page).locator(".q-headline").first).to_be_empty()  # the example's answer is none to 40
    expect(says(page)).to_be_hidden()
    fill(page, target="44")
    until(page, lambda: held)
    for route in held:
        route.continue_()
    expect(says(page)).to_contain_text("15, 29 and 44 N·m")
    expect(says(page)).to_be_visible()


def test_keeps_the_readings_when_python_cannot_start(open_page, address):
    page = open_page(None, expect_complaints=True)
    page.route("**/python/*.*", lambda route: route.abort())
    page.goto(address + PAGE)
    fill(page, target="41")
    for _ in range(2):
        expect(question(page).locator(".q-whose").first).to_have_text(
            "This question has stopped. Your readings are kept."
        )
        expect(question(page).locator(".q-headline").first).to_be_empty()
        page.reload()


@pytest.mark.parametrize("parts", [("snapshot.bin", "pyodide.asm.wasm"), ("*",)], ids=["one part", "all"])
def test_a_download_that_stands_still_is_given_up_and_the_reader_told(open_page, address, parts):
    page = open_page(None, expect_complaints=True)
    page.clock.install()
    for part in parts:
        page.route(f"**/python/{part}", lambda route: None)
    page.goto(address + PAGE)
    fill(page, target="60")
    whose = question(page).locator(".q-whose").first

    def given_up():
        page.clock.fast_forward(31_000)
        return whose.text_content() == "This question has stopped. Your readings are kept."

    until(page, given_up)
    expect(question(page).locator(".q-headline").first).to_be_empty()
    expect(question(page).locator('[name="target"]')).to_have_value("60")


def test_the_last_of_many_fast_keystrokes_is_the_one_answered(same_page):
    page = same_page(PAGE)
    fill(page, target="30")
    answered(page)
    box = form_of(page).locator('[name="target"]')
    for number in range(20, 60):
        box.fill(str(number))
    expect(says(page)).to_contain_text("59 N·m")


def test_the_examples_answer_never_stands_where_the_job_has_readings(open_page, address):
    page = open_page(PAGE)
    fill(page, target="40")
    answered(page)
    page.add_init_script(SEEN)
    page.goto(address + PAGE)
    expect(says(page)).to_contain_text("40 N·m")
    assert all("40" in words for words in page.evaluate("[...seen]"))


SEEN = """
window.seen = new Set();
const look = () => {
  const one = document.querySelector('bench-question[name="torque.wrench"]:defined .q-says');
  const begun = document.querySelector("bench-question[data-waiting]") || window.seen.size;
  if (begun && one && getComputedStyle(one).visibility === "visible") seen.add(one.textContent);
  requestAnimationFrame(look);
};
look();
"""


def test_hostile_text_is_shown_and_never_run(same_page):
    page = same_page(PAGE)
    hostile = '"><img src=x onerror="window.hurt=1"><script>window.hurt=1</script>'
    fill(page, target=hostile)
    expect(question(page).locator('[data-box="target"] .q-error')).not_to_be_empty()
    assert page.evaluate("window.hurt") is None
    assert question(page).locator('[name="target"]').input_value() == hostile
