"""One walk over every page at three sizes: how far down the first step and the first answer stand, and how tall it is.

Without scripts, as a page is built: what a reader meets while the rest is still on its way.
"""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from playwright.sync_api import Browser, Page

SIZES = {"phone": (360, 740), "large phone": (390, 844), "desk": (1280, 800)}
_LOOK = """
() => {
  const shown = (one) => one.checkVisibility({ visibilityProperty: true });
  const top = (selector) => {
    const found = [...document.querySelectorAll(selector)].find(shown);
    return found ? Math.round(found.getBoundingClientRect().top + scrollY) : null;
  };
  const boxes = [...document.querySelectorAll("article :is(input, select, textarea)")];
  return {
    height: document.documentElement.scrollHeight,
    step: top("#steps ~ ol > li"),
    headline: top("bench-question .q-headline"),
    figure: top("article figure svg"),
    boxes: boxes.filter(shown).length,
  };
}
"""


@dataclass(frozen=True, kw_only=True, slots=True)
class Seen:
    """One page at one size: CSS pixels from its top, None for what it has not; the boxes that stand open."""

    page: str
    size: str
    height: int
    step: int | None
    headline: int | None
    figure: int | None
    boxes: int

    def screens(self, part: str = "height") -> float:
        """Return how many screens of this size lie above a part, or how many the page is tall."""
        return float(getattr(self, part) / SIZES[self.size][1])


def look(page: Page, path: str, size: str) -> Seen:
    """Return what a page that is open, by its path from the root, shows at a size."""
    width, height = SIZES[size]
    page.set_viewport_size({"width": width, "height": height})
    return Seen(page=path, size=size, **page.evaluate(_LOOK))


def walk(browser: Browser, address: str, pages: Iterable[str]) -> Iterator[Seen]:
    """Yield what each page, by its path from the root, shows at each size."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    for path in pages:
        page.goto(f"{address}/{path}")
        for size in SIZES:
            yield look(page, path, size)
    context.close()


def table(seen: list[Seen]) -> str:
    """Return the figures of a walk as a table: a line a page, its sizes beside each other, the worst and the median."""
    parts = ("step", "headline", "figure", "height")
    lines = [
        "one walk over every page, CSS pixels from its top, at " + ", ".join(f"{w} × {h}" for w, h in SIZES.values()),
        f"{'':44} " + " ".join(f"{part:>17}" for part in parts) + f" {'boxes':>8}",
    ]
    for page in dict.fromkeys(one.page for one in seen):
        each = [one for one in seen if one.page == page]
        cells = [" ".join(f"{_number(getattr(one, part)):>5}" for one in each) for part in parts]
        lines.append(f"{page or 'home':44} " + " ".join(cells) + " " + " ".join(f"{one.boxes:>2}" for one in each))
    for called, of in (("median", statistics.median), ("most", max)):
        cells = []
        for part in parts:
            found = [[getattr(one, part) for one in seen if one.size == size] for size in SIZES]
            cells.append(" ".join(f"{round(of([n for n in numbers if n is not None])):>5}" for numbers in found))
        lines.append(f"{called:44} " + " ".join(cells))
    return "\n".join(lines)


def _number(found: int | None) -> str:
    return "–" if found is None else str(found)
