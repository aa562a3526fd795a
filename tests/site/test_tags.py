"""Parts that are tagged: touched on the engine, photographed, bagged; and ticked when they are back in their place."""

from __future__ import annotations

import json
import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.site.conftest import (
    DESK,
    PHONE,
    ROOT,
    files_and_printing,
    kept_job,
    resized,
    went,
)

JOB, TRAY = "/job/", "/strip/tag-and-keep-in-order/"
KEPT = ROOT / "tests" / "jobs" / "format-5.json"
AXE = ROOT / "build/audits/node_modules/axe-core/axe.min.js"
FITTED = {
    "/build/fit-tappets-and-pushrods/": {"tappet", "pushrod"},
    "/heads/assemble-the-valves/": {"valve", "spring"},
    "/build/fit-rings-pistons-and-barrels/": {"rings", "piston", "barrel spacers"},
    "/build/fit-the-rocker-gear/": {"rocker"},
}
PICTURE = """
async () => {
  const canvas = Object.assign(document.createElement("canvas"), { width: 2400, height: 1200 });
  const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
  return [...new Uint8Array(await blob.arrayBuffer())];
}
"""


def faults(page: Page, within: str) -> list[str]:
    """What axe finds in a part of the page, by the rules of WCAG 2.2 AA."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
    run = "async ([within, values]) => (await axe.run(within, { runOnly: { type: 'tag', values } })).violations"
    return [f"{one['id']}: {one['nodes'][0]['html'][:160]}" for one in page.evaluate(run, [within, tags])]


def of(what: str, whose: str) -> re.Pattern[str]:
    """Return the name of a control that says aloud whose it is."""
    return re.compile(rf"^{what}\s*: {whose}")


def form(page: Page) -> Locator:
    return page.get_by_role("dialog", name="Tag a part")


def tag(page: Page, part: str, cylinder: str = "", valve: str = "", **texts: str) -> None:
    """Fill the open form and keep the tag."""
    here = form(page)
    here.get_by_role("radio", name=part, exact=True).check()
    if cylinder:
        here.get_by_role("group", name="Cylinder").get_by_label(cylinder, exact=True).check()
    if valve:
        here.get_by_role("radio", name=valve).check()
    for label, text in texts.items():
        here.get_by_label(re.compile(label)).fill(text)
    here.get_by_role("button", name="Keep the tag", exact=True).click()
    expect(here).to_have_count(0)


def photograph(page: Page) -> None:
    picture = {"name": "tappet.png", "mimeType": "image/png", "buffer": bytes(page.evaluate(PICTURE))}
    form(page).locator("input[type=file]").set_input_files([picture])
    expect(form(page).get_by_alt_text("The photograph that will be kept")).to_be_visible()


def test_a_part_touched_on_the_engine_is_tagged_shown_where_it_is_fitted_and_ticked(same_page):
    page = same_page("/", PHONE)
    page.get_by_role("link", name="Cylinder 3: readings and tags").click()
    section = page.locator("#cylinder-3")
    expect(section).to_have_attribute("open", "")
    expect(section).to_be_in_viewport()
    section.get_by_role("button", name="Tag a part of cylinder 3").click()
    expect(form(page).get_by_label("3", exact=True)).to_be_checked()
    camera = form(page).locator("input[type=file]")
    assert (camera.get_attribute("capture"), camera.get_attribute("accept")) == ("environment", "image/*")
    photograph(page)
    tag(page, "Tappet", valve="exhaust", Bag="7", Note="face up")
    expect(section.locator(".bench-tag-line")).to_contain_text("Tappet, 3 ex")
    expect(section.get_by_role("button", name="Tag a part of cylinder 3")).to_be_focused()
    (kept,) = kept_job(page)["tags"]
    assert {key: kept[key] for key in ("kind", "cylinder", "from", "bag", "note")} == {
        "kind": "tappet",
        "cylinder": 3,
        "from": "3 ex",
        "bag": "7",
        "note": "face up",
    }
    assert [one["id"] for one in kept_job(page)["photographs"]] == [kept["photograph"]]

    went(page, "/build/fit-tappets-and-pushrods/")
    line = page.locator('#step-8 bench-tags[kinds="tappet"] .bench-tag-line')
    expect(line).to_contain_text("bag 7, face up")
    expect(line.get_by_role("img")).to_have_js_property("naturalWidth", 1600)
    expect(page.locator('bench-tags[kinds="pushrod"] .bench-tag-line')).to_have_count(0)
    back = line.get_by_role("checkbox", name=of("Back in its own place", "Tappet, 3 ex"))
    back.check()
    page.reload()
    expect(back).to_be_checked()
    assert kept_job(page)["tags"][0]["back"]
    went(page, JOB)
    expect(page.locator("#tags ~ bench-tags").first).to_contain_text("1 tagged, back in its own place.")
    page.evaluate("() => { window.print = () => {}; }")
    files_and_printing(page).get_by_role("button", name="Print the handover").click()
    expect(page.locator("body > .bench-paper")).to_contain_text("Tappet, 3 ex, bag 7, face up (back in its own place,")


@pytest.mark.parametrize("path", FITTED)
def test_each_page_that_fits_a_part_again_asks_for_it_in_its_step(same_page, path):
    page = same_page(path, PHONE)
    found = page.locator("ol > li bench-tags")
    expect(found.first.get_by_role("button", name="Tag a part")).to_be_visible()
    assert {one.get_attribute("kinds") for one in found.all()} == FITTED[path]


def test_several_are_tagged_one_after_the_other_and_each_says_its_place(same_page):
    page = same_page(TRAY, PHONE)
    page.locator("bench-tags").get_by_role("button", name="Tag a part").click()
    here = form(page)
    onward = here.get_by_role("button", name="Keep, and tag the next")
    onward.click()
    expect(here.get_by_role("status")).to_have_text("Choose the part.")
    here.get_by_role("radio", name="Pushrod", exact=True).check()
    onward.click()
    expect(here.get_by_role("status")).to_have_text("Say where it came from.")
    here.get_by_label("2", exact=True).check()
    for valve, bag in (("inlet", "4"), ("exhaust", "5")):
        here.get_by_role("radio", name=valve).check()
        here.get_by_label("Bag number").fill(bag)
        onward.click()
        expect(here.get_by_role("status")).to_contain_text("is tagged.")
        expect(here.get_by_label("Bag number")).to_have_value("")
    here.get_by_role("button", name="Cancel").click()
    found = [(one["part"], one["from"], one["bag"]) for one in kept_job(page)["tags"]]
    assert found == [("Pushrod", "2 in", "4"), ("Pushrod", "2 ex", "5")]
    expect(page.locator("bench-tags .bench-tag-line strong")).to_have_text(["Pushrod, 2 ex", "Pushrod, 2 in"])


def test_a_tag_is_changed_and_one_that_was_written_by_hand_is_known_by_its_words(same_page):
    page = same_page(JOB)
    data = json.loads(KEPT.read_text(encoding="utf-8"))
    data["jobs"][0]["tags"] = [
        {"id": "cccccccc", "when": "2026-11-24T09:10:00.000Z", "part": "tappet", "from": "3 inlet"}
    ]
    file = {"name": "van.json", "mimeType": "application/json", "buffer": json.dumps(data).encode()}
    page.locator('label:has-text("Import a file") input').set_input_files([file])
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator(".bench-status").first).to_have_text("The file is taken in.")
    went(page, "/build/fit-tappets-and-pushrods/")
    line = page.locator('bench-tags[kinds="tappet"] .bench-tag-line')
    expect(line).to_contain_text("tappet, 3 inlet")
    line.get_by_role("button", name=of("Change", "tappet, 3 inlet")).click()
    here = page.get_by_role("dialog", name="Change a tag")
    expect(here.get_by_role("radio", name="Tappet", exact=True)).to_be_checked()
    expect(here.get_by_label("3", exact=True)).to_be_checked()
    here.get_by_label("Bag number").fill("9")
    here.get_by_role("button", name="Keep the tag", exact=True).click()
    expect(line).to_contain_text("bag 9")
    (kept,) = kept_job(page)["tags"]
    assert (kept["id"], kept["part"], kept["from"], kept["bag"]) == ("cccccccc", "tappet", "3 inlet", "9")


def test_what_another_tab_tags_or_ticks_is_seen_here(same_page, address):
    page = same_page("/build/fit-the-rocker-gear/")
    expect(page.locator("bench-tags")).to_contain_text("Nothing tagged here yet.")
    other = page.context.new_page()
    other.goto(address + TRAY)
    other.locator("bench-tags").get_by_role("button", name="Tag a part").click()
    tag(other, "Rocker", "1", "inlet")
    box = page.get_by_role("checkbox", name=of("Back in its own place", "Rocker, 1 in"))
    box.check()
    expect(other.get_by_role("checkbox", name=of("Back in its own place", "Rocker, 1 in"))).to_be_checked()
    other.locator("bench-tags").get_by_role("checkbox").uncheck()
    expect(box).not_to_be_checked()


def test_without_room_for_its_photograph_the_tag_is_kept_and_the_form_says_so(open_page, address):
    page = open_page(None)
    page.add_init_script(
        """
        const put = IDBObjectStore.prototype.put;
        IDBObjectStore.prototype.put = function (value, ...more) {
          if (this.name === "photographs") throw new DOMException("no room", "QuotaExceededError");
          return put.call(this, value, ...more);
        };
        """
    )
    page.goto(address + TRAY)
    page.locator("bench-tags").get_by_role("button", name="Tag a part").click()
    here = form(page)
    photograph(page)
    here.get_by_role("radio", name="Barrel", exact=True).check()
    here.get_by_label("2", exact=True).check()
    here.get_by_role("button", name="Keep the tag", exact=True).click()
    expect(here.get_by_role("status")).to_have_text(
        "Barrel, 2 is tagged. The storage of this browser is full: the photograph is not kept."
    )
    here.get_by_role("button", name="Close").click()
    (kept,) = kept_job(page)["tags"]
    assert (kept["part"], kept["from"], "photograph" in kept) == ("Barrel", "2", False)


SIZES = [(320, 568), DESK, PHONE]
SMALL = """
one => [...one.querySelectorAll("label.bench-step, label.bench-file, button, input[type=text]")].filter((control) => {
  const { width, height } = control.getBoundingClientRect();
  return (width || height) && (width < 48 || height < 48);
}).map((control) => control.outerHTML.slice(0, 160))
"""


def test_the_form_fits_has_targets_for_a_thumb_and_no_fault(same_page):
    page = same_page(TRAY, PHONE)
    page.locator("bench-tags").get_by_role("button", name="Tag a part").click()
    here = form(page)
    photograph(page)
    for size in SIZES:
        resized(page, size)
        assert here.evaluate("one => one.scrollWidth - one.clientWidth") <= 0, size
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, size
        assert here.evaluate(SMALL) == [], size
        assert faults(page, "dialog.bench-tag-form") == [], size
    page.keyboard.press("Escape")
    expect(here).to_have_count(0)
    page.locator("bench-tags").get_by_role("button", name="Tag a part").click()
    tag(page, "Valve and collets", "4", "exhaust", Bag="12")
    for size in SIZES:
        resized(page, size)
        assert faults(page, "bench-tags") == [], size
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, size


def test_full_screen_the_step_shows_its_tags_and_takes_the_tick(same_page):
    page = same_page("/build/fit-the-rocker-gear/", PHONE)
    page.locator("#step-2 bench-tags").get_by_role("button", name="Tag a part").click()
    tag(page, "Rocker", "1", "inlet", Bag="3")
    page.locator("#step-1 .bench-done input").check()
    page.locator(".bench-resume").click()
    led = page.locator("dialog.bench-led")
    expect(led).to_contain_text("step 2 of")
    led.get_by_role("checkbox", name=of("Back in its own place", "Rocker, 1 in")).check()
    expect(led.get_by_role("checkbox", name=of("Back in its own place", "Rocker, 1 in"))).to_be_checked()
    led.get_by_role("button", name="Stop here").click()
    expect(page.locator("#step-2").get_by_role("checkbox", name="Back in its own place")).to_be_checked()


# The sheet


def test_an_engine_of_six_is_drawn_on_home_and_each_cylinder_leads_to_its_part_of_the_sheet(same_page):
    page = same_page(JOB, PHONE)
    page.locator("#job-card").select_option("samphire-f6")
    expect(page.locator("#cylinder-6")).to_be_attached()
    went(page, "/")
    sixth = page.get_by_role("link", name="Cylinder 6: readings and tags")
    box = sixth.bounding_box()
    assert min(box["width"], box["height"]) >= 48
    sixth.click()
    expect(page.locator("#cylinder-6")).to_have_attribute("open", "")
    page.locator("bench-job .bench-map").get_by_role("link", name="Cylinder 2: readings and tags").click()
    expect(page.locator("#cylinder-2")).to_have_attribute("open", "")
    page.locator("#job-card").select_option("marram-f4")
    went(page, "/")
    expect(page.locator(".bench-map a[data-cylinder-of]")).to_have_count(4)


def test_a_reading_of_a_cylinder_leads_to_its_question(same_page):
    page = same_page(JOB)
    page.locator('label:has-text("Import a file") input').set_input_files(KEPT)
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator(".bench-status").first).to_have_text("The file is taken in.")
    page.locator("#cylinder-3 > summary").click()
    link = page.locator("#cylinder-3").get_by_role("link", name="Bore across the thrust of cylinder 3")
    expect(page.locator("#cylinder-3")).to_contain_text("80.11 80.07 80.04 mm")
    link.click()
    expect(page.locator("#q-fits-bore .q-headline")).to_be_in_viewport()


def test_files_printing_and_throwing_away_are_behind_one_menu_and_the_next_step_stands_on_the_sheet(same_page):
    page = same_page("/strip/valves-out/", PHONE)
    page.locator(".bench-done input").first.check()
    went(page, JOB)
    expect(page.locator(".bench-next-at")).to_contain_text("step 2 of")
    page.locator(".bench-go").click()
    expect(page).to_have_url(re.compile(r"/strip/valves-out/#step-2$"))
    went(page, JOB)
    for name in ("Export this job", "Print the handover", "Throw this job away"):
        expect(page.get_by_role("button", name=name)).to_be_hidden()
    menu = files_and_printing(page)
    for name in ("Export this job", "Print the handover", "Throw this job away"):
        expect(menu.get_by_role("button", name=name)).to_be_visible()


def test_a_job_thrown_away_is_taken_back_and_one_begun_meanwhile_is_kept(same_page, address):
    page = same_page(JOB, PHONE)
    page.locator('[data-at="about.name"]').fill("Green van")
    other = page.context.new_page()
    other.goto(address + JOB)
    files_and_printing(page).get_by_role("button", name="Throw this job away").click()
    offer = page.get_by_role("group", name="Thrown away")
    expect(offer).to_contain_text("Green van was thrown away. It can be taken back until")
    expect(other.get_by_role("group", name="Thrown away")).to_contain_text("Green van")
    expect(page.locator('[data-at="about.name"]')).to_have_value("")
    page.locator('[data-at="about.name"]').fill("Red van")
    assert faults(page, "bench-job") == []
    page.reload()
    offer.get_by_role("button", name=of("Take it back", "Green van")).click()
    expect(page.locator('[data-at="about.name"]')).to_have_value("Green van")
    expect(offer).to_be_hidden()
    expect(page.locator("#job-chosen option")).to_have_text(["Red van", "Green van"])
    expect(other.get_by_role("group", name="Thrown away")).to_be_hidden()
    files_and_printing(page).get_by_role("button", name="Throw this job away").click()
    page.once("dialog", lambda dialog: dialog.accept())
    offer.get_by_role("button", name=of("Delete it for good", "Green van")).click()
    expect(page.locator(".bench-status").first).to_have_text("Green van is deleted.")
    page.reload()
    expect(page.locator("#job-chosen option")).to_have_text(["Red van"])
    expect(offer).to_be_hidden()
