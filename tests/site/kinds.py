"""One page of each kind: what is true of its kind is looked at there, where each page would take too long."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

_VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
Kind = tuple[str | None, ...]


class _Kinds(HTMLParser):
    """Collects what the elements of an article are: tag, looks, attributes, what they stand in, whether with words."""

    def __init__(self) -> None:
        super().__init__()
        self.found: set[Kind] = set()
        self.open: list[tuple[str, Kind]] = []
        self.worded: list[bool] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        of = dict(attrs)
        looks = " ".join(sorted((of.get("class") or "").split()))
        named = " ".join(sorted(name for name in of if not name.startswith("data-")))
        within = self.open[-1][0] if self.open else ""
        kind = (tag, looks, named, of.get("role"), of.get("type"), within)
        self.open.append((tag, kind))
        self.worded.append(False)
        if tag in _VOID:
            self.handle_endtag(tag)

    def handle_data(self, data: str) -> None:
        if data.strip():
            self.worded = [True] * len(self.worded)

    def handle_endtag(self, tag: str) -> None:
        if tag not in (name for name, _ in self.open):
            return
        name = ""
        while name != tag:
            name, kind = self.open.pop()
            within = [outer for outer, _ in self.open]
            words = "worded" if self.worded.pop() else ""
            if "article" in within and "svg" not in within:
                self.found.add((*kind, words))


@cache
def kinds(page: Path) -> frozenset[Kind]:
    """Return the kinds of elements in the article of a built page."""
    collected = _Kinds()
    collected.feed(page.read_text(encoding="utf-8"))
    return frozenset(collected.found)


def one_of_each_kind(site: Path, pages: Iterable[str], also: Iterable[str] = ()) -> list[str]:
    """Return pages that have between them each kind of element that any has, those with most first; and some others."""
    of = {path: kinds(site / path.strip("/") / "index.html") for path in pages}
    chosen = [path for path in of if path in also]
    left = set().union(*of.values()).difference(*(of[path] for path in chosen))
    while left:
        chosen.append(max(of, key=lambda path: len(of[path] & left)))
        left -= of[chosen[-1]]
    return chosen
