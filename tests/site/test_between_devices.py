"""A job goes from one phone to the other by light, and to the shop's folder at each change."""

from __future__ import annotations

import base64
import json
import re

import pytest
from playwright.sync_api import Page, expect

from tests.site.conftest import (
    PHONE,
    files_and_printing,
    fill,
    fresh,
    kept_job,
    until,
    went,
)

JOB, TORQUE = "/job/", "/work-it-out/torque/"
_CAMERA = """
() => {
  const canvas = Object.assign(document.createElement("canvas"), { width: 640, height: 480 });
  const context = canvas.getContext("2d");
  let picture;
  setInterval(() => {
    context.fillStyle = "#555";
    context.fillRect(0, 0, 640, 480);
    if (!picture) return;
    context.save();
    context.translate(330, 235);
    context.rotate(0.06); // nobody holds it straight
    context.drawImage(picture, -210, -210, 420, 420);
    context.restore();
  }, 30);
  window.hold = async (data) => {
    picture = await createImageBitmap(new Blob([Uint8Array.from(atob(data), (one) => one.charCodeAt(0))]));
  };
  navigator.mediaDevices.getUserMedia = async () => canvas.captureStream(30);
}
"""
"""A camera that sees what the test holds before it, a little crooked and grey around."""

FOLDER = """
async () => {
  const found = {};
  for await (const [name, handle] of (await navigator.storage.getDirectory()).entries())
    if (handle.kind === "file")
      try {
        found[name] = await (await handle.getFile()).text();
      } catch {} // it was just given another name
  return found;
}
"""


def module(page: Page, name: str) -> str:
    """The address of one of the site's modules, as this edition has it."""
    return page.evaluate(f"() => document.querySelector('script[src*=\"bench.js\"]').src.replace('bench.js', '{name}')")


@pytest.fixture(scope="module")
def codes(browser, address):
    """A page, and the address of the module that writes a job in codes."""
    context = fresh(browser)
    page = context.new_page()
    page.goto(address + JOB)
    yield page, module(page, "job-by-light.js")
    context.close()


@pytest.mark.parametrize(
    ("plain", "coded"),
    [("AB", "BB8"), ("Hello!!", "%69 VD92EX0"), ("base-45", "UJCLQE7W581"), ("ietf!", "QED8WEX0")],
)
def test_bytes_are_written_in_base45(codes, plain, coded):
    """RFC 9285 (2022), 4.3 and 4.4: its worked examples."""
    page, at = codes
    both = page.evaluate(
        """async ([at, plain, coded]) => {
          const { base45, fromBase45 } = await import(at);
          return [base45(new TextEncoder().encode(plain)), new TextDecoder().decode(fromBase45(coded))];
        }""",
        [at, plain, coded],
    )
    assert both == [coded, plain]


@pytest.mark.parametrize("damaged", ["GGW", ":::", "A", "BB8A", "a00"])
def test_what_is_no_base45_is_refused(codes, damaged):
    """RFC 9285, section 6: GGW is 65,536, and ::: more; one letter, or a small one, is none at all."""
    page, at = codes
    refused = page.evaluate(
        """async ([at, text]) => {
          const { fromBase45 } = await import(at);
          try { fromBase45(text); return false; } catch (error) { return error instanceof RangeError; }
        }""",
        [at, damaged],
    )
    assert refused


def test_a_job_goes_from_one_screen_to_the_other_phone_s_camera(open_page, browser, address):
    sender = open_page(TORQUE, PHONE)
    fill(sender, target="31")
    went(sender, JOB)
    files_and_printing(sender).get_by_role("button", name="Show it to another phone").click()
    code = sender.locator(".bench-light .bench-code")
    expect(code.locator("svg")).to_be_visible()
    sender.get_by_role("button", name="Next picture").click()
    count = sender.locator(".bench-light-count")
    all_of = int(re.search(r"of (\d+)", count.inner_text())[1])
    assert all_of > 1  # else a picture alone would do
    shown = {}
    while len(shown) < all_of:
        shown[count.inner_text()] = base64.b64encode(code.screenshot()).decode()
        sender.get_by_role("button", name="Next picture").click()
    sender.get_by_role("button", name="Close").click()
    expect(sender.locator(".bench-light")).to_have_count(0)

    context = fresh(browser, viewport={"width": 360, "height": 740})
    receiver = context.new_page()
    receiver.add_init_script(f"({_CAMERA})()")
    receiver.goto(address + JOB)
    files_and_printing(receiver).get_by_role("button", name="Take a job from a screen").click()
    status = receiver.locator(".bench-light [role=status]")
    pictures = list(shown.values())
    for seen, picture in enumerate([*pictures[1:], pictures[1], pictures[0]], 1):  # in no order, and one twice
        receiver.evaluate("data => hold(data)", picture)
        if seen < all_of:
            expect(status).to_have_text(f"{seen} of {all_of} pictures seen")
    incoming = receiver.locator(".bench-job-incoming")
    expect(incoming).to_contain_text("a new job with 1 entries")
    expect(receiver.locator(".bench-light")).to_have_count(0)
    incoming.get_by_role("button", name="Take it in").click()
    expect(receiver.locator(".bench-status")).to_have_text("The file is taken in.")
    assert kept_job(receiver)["readings"] == kept_job(sender)["readings"]
    context.close()


def test_without_a_camera_it_says_what_else_to_do(open_page, address):
    page = open_page(None, PHONE, expect_complaints=True)
    page.add_init_script("navigator.mediaDevices.getUserMedia = async () => { throw new Error('refused'); };")
    page.goto(address + JOB)
    files_and_printing(page).get_by_role("button", name="Take a job from a screen").click()
    expect(page.locator(".bench-status")).to_contain_text("Export the job on the other phone")


def the_one_file(page, is_wanted):
    """Return name and text of the folder's file, once there is one, and it is the wanted one."""

    def alone():
        files = list(page.evaluate(FOLDER).items())
        return files if len(files) == 1 and is_wanted(*files[0]) else None

    return until(page, alone)[0]


def test_every_change_is_in_the_shop_s_folder_also_from_another_page(open_page, address):
    page = open_page(None, PHONE)
    page.add_init_script("window.showDirectoryPicker = () => navigator.storage.getDirectory();")
    page.goto(address + JOB)
    page.locator(".bench-job-shop > summary").click()
    page.get_by_role("button", name="Keep all jobs in a folder").click()
    expect(page.locator(".bench-job-shop [role=status]")).to_contain_text("Each change is written to the folder")
    page.goto(address + TORQUE)
    fill(page, target="31")
    name, _ = the_one_file(page, lambda _, text: '"text": "31"' in text)
    page.goto(address + JOB)
    page.locator("#job-about-name").fill("The grey van")
    now, text = the_one_file(page, lambda name, text: name.startswith("the-grey-van-") and text)
    assert now != name
    (job,) = json.loads(text)["jobs"]
    assert job["about"]["name"] == "The grey van"
    assert job["id"] == kept_job(page)["id"]


def test_what_another_device_wrote_there_is_looked_at_first(open_page, address):
    page = open_page(None, PHONE)
    page.add_init_script("window.showDirectoryPicker = () => navigator.storage.getDirectory();")
    page.goto(address + TORQUE)
    fill(page, target="31")
    page.goto(address + JOB)
    page.locator(".bench-job-shop > summary").click()
    page.get_by_role("button", name="Keep all jobs in a folder").click()
    expect(page.locator(".bench-job-shop [role=status]")).to_contain_text("Each change is written")
    ((name, text),) = page.evaluate(FOLDER).items()
    theirs = json.loads(text)
    (path,) = kept_job(page)["readings"]
    theirs["jobs"][0]["readings"][path] |= {"text": "33", "when": "2100-01-01T00:00:00.000Z"}
    page.evaluate(
        """async ([name, text]) => {
          const handle = await (await navigator.storage.getDirectory()).getFileHandle(name, { create: true });
          const stream = await handle.createWritable();
          await stream.write(text);
          await stream.close();
        }""",
        [re.sub("[0-9a-f]{6}.json$", "abcdef.json", name), json.dumps(theirs)],
    )
    page.reload()
    page.locator(".bench-job-shop > summary").click()
    expect(page.locator(".bench-job-shop")).to_contain_text("In hand")
    page.get_by_role("button", name="Look at", exact=False).click()
    expect(page.locator(".bench-job-incoming")).to_contain_text("1 newer than yours")
    assert kept_job(page)["readings"][path]["text"] == "31"  # nothing yet
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator(".bench-status")).to_have_text("The file is taken in.")
    assert kept_job(page)["readings"][path]["text"] == "33"


def test_the_list_tells_stage_owner_and_age_and_takes_one_up(open_page):
    page = open_page("/build/tighten-a-head-down/", PHONE)
    page.locator(".bench-done input").first.check()
    went(page, JOB)
    page.locator("#job-about-name").fill("The grey van")
    page.locator("#job-about-owner").fill("A. Reader")
    page.get_by_role("button", name="Begin another job").click()
    page.locator(".bench-job-shop > summary").click()
    rows = page.locator(".bench-jobs > li")
    van = rows.filter(has_text="The grey van")
    expect(van).to_contain_text("A. Reader")
    expect(van).to_contain_text("Build: tighten a head down, head 1, 1 of 15 done")
    expect(van).to_contain_text("changed today")
    van.get_by_role("button").click()
    expect(van).to_contain_text("In hand")
    expect(page.locator("#job-about-name")).to_have_value("The grey van")


def test_where_no_folder_can_be_written_one_tap_exports_all(open_page, address):
    page = open_page(None, PHONE)
    page.add_init_script("delete window.showDirectoryPicker;")
    page.goto(address + JOB)
    page.locator(".bench-job-shop > summary").click()
    with page.expect_download() as taken:
        page.locator(".bench-job-shop").get_by_role("button", name="Export all").click()
    assert taken.value.suggested_filename == "jobs.zip"
