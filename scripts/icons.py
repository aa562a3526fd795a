"""Draw the icons of the installed book from ``docs/assets/mark.svg``; they are kept in the repository.

Run it after a change of the mark: ``.venv/bin/python scripts/icons.py``
"""

from __future__ import annotations

import os
import re
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

DOCS = Path(__file__).resolve().parent.parent / "docs"
FOLDER = DOCS / "icons"
PAPER = "#fff"

# by name: size in pixels, radius of the corners and share of the mark, both of the whole width.
# A maskable icon may be cut to a circle of 0.8 of its width (W3C, Web Application Manifest, "Icon masks
# and safe zone"), and the mark, a square, must lie inside it.
ICONS = {
    "icon-192": (192, 0.2, 0.72),
    "icon-512": (512, 0.2, 0.72),
    "maskable-512": (512, 0.0, 0.56),
    "touch-180": (180, 0.0, 0.68),
}


def svg(size: int, corner: float, share: float) -> str:
    """Return one icon: the mark in ink on paper."""
    mark = (DOCS / "assets" / "mark.svg").read_text(encoding="utf-8")
    inner = re.sub(
        r"<svg ", f'<svg width="{share}" height="{share}" x="{(1 - share) / 2}" y="{(1 - share) / 2}" ', mark
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size}" height="{size}" viewBox="0 0 1 1">'
        f'<rect width="1" height="1" rx="{corner}" fill="{PAPER}"/>{inner}</svg>'
    )


def drawn(browser: Browser, name: str) -> bytes:
    """Return one icon as PNG."""
    size = ICONS[name][0]
    page = browser.new_page(viewport={"width": size, "height": size})
    page.set_content(f"<style>body{{margin:0}} svg{{display:block}}</style>{svg(*ICONS[name])}")
    picture = page.screenshot(omit_background=True)
    page.close()
    return picture


def main() -> None:
    """Draw them all."""
    FOLDER.mkdir(exist_ok=True)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=os.environ.get("BENCH_CHROMIUM") or None, args=["--no-sandbox"]
        )
        for name in ICONS:
            (FOLDER / f"{name}.png").write_bytes(drawn(browser, name))
        browser.close()


if __name__ == "__main__":
    main()
