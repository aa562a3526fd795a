"""MkDocs hook: lets the search find each question by its words, and a page by what else its readers call its matter.

The search keeps a page's text by its headings; a question has none, and its numbers are no words to look for.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import yaml
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError

from calculators.bench.question import Question, entries_and_columns, questions
from scripts import browser_python

WORDS = Path(__file__).with_suffix(".yml")


def on_post_build(config: MkDocsConfig, **more: Any) -> None:
    """Add both to the index that the search has written."""
    if browser_python.WATCH:
        return  # the index has what was built last, and not every page
    path = Path(config.site_dir) / "search" / "search_index.json"
    index = json.loads(path.read_text(encoding="utf-8"))
    words = yaml.safe_load(WORDS.read_text(encoding="utf-8"))
    pages = {entry["location"]: entry for entry in index["docs"]}
    for page, names in words.items():
        address = f"{page.removesuffix('index')}".rstrip("/") + "/"
        if address not in pages:
            raise PluginError(f"{WORDS.name}: there is no page {page}")
        pages[address]["tags"] = names
    index["docs"] += [_entry(of, pages) for of in questions().values()]
    path.write_text(json.dumps(index, ensure_ascii=False, separators=(",", ":")), encoding="utf-8")


def _entry(of: type[Question], pages: dict[str, dict[str, Any]]) -> dict[str, Any]:
    room = f"work-it-out/{of.name.partition('.')[0].replace('_', '-')}/"
    labels = dict.fromkeys(entry.label for entry, _ in entries_and_columns(of))
    told = (of.__doc__ or "").partition("\n\n")[0]
    entry = {
        "location": f"{room}#q-{of.name.replace('.', '-')}",
        "title": of.asks,
        "text": f"<p>{' '.join(told.split())} {', '.join(labels)}.</p>",
    }
    return entry | ({"boost": pages[room]["boost"]} if "boost" in pages[room] else {})
