"""The card of an engine that a reader has at home, in the job of a page: the Curlew F4, invented like the others."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from calculators import read_card

NAME = "Curlew F4"
_CHOOSE = """
async (card) => {
  const ours = [...document.scripts].find(({ src }) => /assets\\/[^/]+\\/bench\\.js$/.test(src)).src;
  const { chooseCard } = await import(new URL("job.js", ours));
  await chooseCard(card);
}
"""


def facts(lacking: tuple[str, ...] = (), **values: str) -> dict[str, Any]:
    """Return a whole card told by its maker's book, without what is ``lacking``; ``torques__spark_plug="20 N·m"``."""
    card = read_card(Path(__file__).resolve().parents[2] / "docs/engines/marram-f4.yml").data
    told = _told(card)
    for path, value in values.items():
        part, _, fact = path.partition("__")
        told[part][fact]["value"] = value
    for path in lacking:
        part, _, fact = path.partition(".")
        del told[part][fact]
    return told | {"name": NAME}


def _told(tree: Any) -> Any:
    if isinstance(tree, list):
        return [_told(one) for one in tree]
    if not isinstance(tree, dict):
        return tree
    return {key: "maker’s book" if key == "source" else _told(one) for key, one in tree.items()}


def choose(page: Page, card: dict[str, Any]) -> None:
    """Make it the card of the page's job, as the page of the card does."""
    page.evaluate(_CHOOSE, {"name": "own", "data": card})
