"""Paper out of other engines than Chromium: nothing is cut at A4 and Letter, and nothing is lost.

Firefox prints by WebDriver BiDi. WebKitGTK's driver knows no command to print (2.50: unknown command); there the
print rules are put in force on a window as wide as the paper, and no more than the layout is looked at.
"""

from __future__ import annotations

import io
import re
import unicodedata
from dataclasses import dataclass

import pytest
from pypdf import PageObject, PdfReader
from pypdf._text_extraction._layout_mode._fixed_width_page import text_show_operations
from pypdf.generic import ContentStream

from tests.site.conftest import SETTLED
from tests.site.engines import Firefox, Missing, calm, firefox, until, webkit

__all__ = ["calm"]

PAPERS = {"A4": (210, 297), "Letter": (215.9, 279.4)}
"""Millimetres: ISO 216; ANSI/ASME Y14.1."""
MARGIN = 11.5
"""Millimetres, as the engine is told; the pages ask for 11 and 12."""
POINT = 25.4 / 72
PAGES = ["build/tighten-a-head-down/", "job/", "handover/hand-the-vehicle-over/", "reference/published-limits/"]
NO_PROXY = "127.0.0.1:9"  # nothing listens there: every address that is asked for is this machine's own
BLOCKS = """
return [...document.querySelectorAll("article > :is(h1, h2, p:not([class])), article > ol > li > p")]
  .filter((one) => one.checkVisibility()).map((one) => one.innerText);
"""
PRINT_RULES = """
for (const sheet of document.styleSheets) {
  const lay = (rules) => {
    for (const rule of rules) {
      if (rule.media && /print|screen/.test(rule.media.mediaText)) {
        const print = /print/.test(rule.media.mediaText);
        rule.media.mediaText = print ? "all" : "not all";
      } else if (rule.cssRules && rule.media) lay(rule.cssRules);
    }
  };
  lay(sheet.cssRules);
}
"""
TOO_WIDE = """
const width = document.documentElement.clientWidth;
return [...document.querySelectorAll("article :is(p, li, td, th, h1, h2, h3, figure, table, svg)")]
  .filter((one) => one.getClientRects().length && getComputedStyle(one).visibility !== "hidden")
  .filter((one) => Math.max(...[...one.getClientRects()].map(({ right }) => right)) > width + 1)
  .map((one) => `${one.tagName} ${one.textContent.trim().slice(0, 30)}`);
"""


@dataclass(frozen=True)
class Printed:
    """What a page says on the screen, and what each paper has of it."""

    blocks: list[str]
    papers: dict[str, PdfReader]


@pytest.fixture(scope="module")
def printed(calm: str) -> dict[str, Printed]:
    blocks, tabs = [], []
    try:
        with firefox(NO_PROXY) as printer:
            assert isinstance(printer, Firefox)
            for path in PAGES:
                tabs.append(printer.open_tab(f"{calm}/{path}"))
                assert until(lambda: printer.run(f"return ({SETTLED})")), "the scripts did not come"
                blocks.append([letters(block.replace("¶", "")) for block in printer.run(BLOCKS)])
            pdfs = printer.print(tabs, list(PAPERS.values()), MARGIN)
    except Missing as missing:
        pytest.skip(str(missing))
    papers = [dict(zip(PAPERS, (PdfReader(io.BytesIO(pdf)) for pdf in of_page), strict=True)) for of_page in pdfs]
    return {path: Printed(*both) for path, *both in zip(PAGES, blocks, papers, strict=True)}


def lines(sheet: PageObject) -> list[tuple[str, float, float]]:
    """Return each run of text on a sheet, where it begins and where it ends, in points from the left margin."""
    fonts = sheet._layout_mode_fonts()
    operations = iter(ContentStream(sheet["/Contents"].get_object(), sheet.pdf, "bytes").operations)
    return [(one["text"], one["tx"], one["displaced_tx"]) for one in text_show_operations(operations, fonts)]


def letters(text: str) -> str:
    """Return what two engines must agree on: letters and figures, without what each puts between them."""
    return re.sub(r"[^a-z0-9]+", "", unicodedata.normalize("NFKC", text).lower())  # letters joined into one, too


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("path", PAGES)
def test_firefox_cuts_and_loses_nothing(printed, path, paper):
    blocks, pdf = printed[path].blocks, printed[path].papers[paper]
    room = (PAPERS[paper][0] - 2 * MARGIN) / POINT
    there = [line for sheet in pdf.pages for line in lines(sheet)]
    assert len(there) > 20
    cut = [line for line in there if line[1] < -1 or line[2] > room + 1]
    assert not cut
    assert "Start" not in [text for text, _, _ in there]  # a button is no use on paper
    text = letters("".join(sheet.extract_text() for sheet in pdf.pages))
    assert len(blocks) > 3
    lost = [block for block in blocks if block[:20] not in text or block[-20:] not in text]
    assert len(lost) <= len(blocks) / 10, lost  # one that runs over the end of a column can fall into two


def test_webkit_lays_nothing_out_beyond_the_paper(calm):
    try:
        with webkit(NO_PROXY) as engine:
            for path in PAGES:
                engine.open(f"{calm}/{path}")
                engine.run(PRINT_RULES)
                assert engine.run("return getComputedStyle(document.querySelector('.md-header')).display") == "none"
                for paper, (width, _) in PAPERS.items():
                    engine.resize(round((width - 2 * MARGIN) / 25.4 * 96), 900)
                    assert engine.run(TOO_WIDE) == [], (path, paper)
    except Missing as missing:
        pytest.skip(str(missing))
