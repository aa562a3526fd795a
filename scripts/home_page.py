"""MkDocs hook: fills the home page: the engine as a map, the way to begin or go on, the eight stages."""

from __future__ import annotations

import html
import json
import posixpath
import re
import sys
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from calculators.bench.engine_map import engine_map  # noqa: E402
from scripts.engine_cards import engine_card  # noqa: E402
from scripts.page_tags import STAGES, tags  # noqa: E402

PLACE, PAGES = "<!-- home -->", "<!-- stages -->"
NEXT = "<!-- next -->"
"""Where a page asks for no more than what comes next and how far each stage is."""
_STEP = re.compile(r"^\d+\.\s+\*\*(.+?)\*\*", re.MULTILINE)
_ASKED = re.compile(r"^ +```question\n +(\S+)", re.MULTILINE)
_MAP = {
    "cover": "build/fit-the-rocker-covers.md",
    "head": "build/tighten-a-head-down.md",
    "case": "build/seal-the-barrel-bases.md",
    "pulley": "run/set-the-timing.md",
}
"""Which page each part of the map leads to; a cylinder leads to what the job knows of it."""
_CYLINDER = ("readings and tags", "job/#cylinder-{}")
_FIRST = "start/safety.md"
_STAGE_WORDS = (
    "Plan, collect, record how the engine is now",
    "Engine out, top end off, every part marked",
    "Part by part: keep, repair or replace",
    "Ports, seats, springs, valves",
    "Chamber, deck, ratio, spacers, ring gaps",
    "Pistons, barrels, heads, valve gear, lash",
    "Clutch, cooling, exhaust, carburettors, engine in",
    "Oil pressure, first start, timing, road, handover",
)


def on_page_markdown(markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Put the element where the page asks for it."""
    if PLACE not in markdown and NEXT not in markdown:
        return markdown
    nav: list[dict[str, Any]] = list(config.nav or [])
    tag_of = tags(nav)
    texts = {file.src_uri: file.content_string for file in files.documentation_pages()}
    pages = [_procedure(path, tag, texts[path]) for path, tag in tag_of.items() if "\n## Steps\n" in texts[path]]
    card = engine_card(Path(config.docs_dir) / "engines" / f"{config.extra['engine_card']}.yml")
    links = {part: (tag_of[path], _address(path)) for part, path in _MAP.items()} | {"barrel": _CYLINDER}
    drawn = engine_map(card.fact("layout.banks"), links, f"{card.title} from above, pulley towards you")
    leads = html.escape(json.dumps(links, ensure_ascii=False))
    sections = [(name, entry) for one in nav for name, entry in one.items() if isinstance(entry, list)][:STAGES]
    root = "../" * page.url.count("/")
    stages = "".join(
        f'<a class="bench-way" href="{root}#stage-{number}" data-stage="{number}">'
        f"<strong>{number}</strong> "
        f'<span class="bench-stage-name">{html.escape(name)}</span> <span class="bench-count"></span></a>'
        for number, (name, _) in enumerate(sections, 1)
    )
    begun = f'<div><bench-home pages="{html.escape(json.dumps(pages, ensure_ascii=False))}">'
    stands = (
        '<div class="bench-next"><p class="bench-next-at">BEGIN A JOB</p>'
        '<p class="bench-next-title">Work safely</p>'
        '<p class="bench-next-words">What can hurt you, and where the law or a licensed shop comes in.</p>'
        f'<p><a class="bench-go" href="{root}{_address(_FIRST)}">Begin with safety</a></p></div>'
        f'<nav class="bench-stages" aria-label="Stages of the job">{stages}</nav>'
    )
    element = (
        f'{begun}<figure class="bench-engine" data-leads="{leads}">{drawn}<figcaption>{html.escape(card.title)}'
        f" · from above, pulley towards you</figcaption></figure>{stands}"
        '<p class="bench-ways"><a class="bench-way" href="work-it-out/">Work it out</a> '
        '<a class="bench-way" href="faults/">Find a fault</a> '
        '<a class="bench-way" href="reference/names-of-the-parts/">Name a part</a></p>'
        "</bench-home></div>"
    )
    short = f"{begun}{stands}</bench-home></div>"
    pages_of = _pages_by_stage(sections, tag_of)
    return markdown.replace(PLACE, element).replace(NEXT, short).replace(PAGES, pages_of)


def _pages_by_stage(sections: list[tuple[str, list[dict[str, str]]]], tag_of: dict[str, str]) -> str:
    """Return every page of the job, one tap away, under its stage."""
    stages = []
    for number, ((name, entries), words) in enumerate(zip(sections, _STAGE_WORDS, strict=True), 1):
        pages = "".join(
            f'<li><a href="{_address(path)}"><span class="bench-door-tag">{tag_of[path]}</span> '
            f"{html.escape(title)}</a></li>"
            for entry in entries
            for title, path in entry.items()
        )
        stages.append(
            f'<section id="stage-{number}"><p class="bench-door-stage"><strong>{number} {html.escape(name)}</strong> '
            f"{words}</p><ul>{pages}</ul></section>"
        )
    return f'<div class="bench-doors">{"".join(stages)}</div>'


def _procedure(path: str, tag: str, text: str) -> dict[str, Any]:
    title = re.search(r"^# (.+)$", text, re.MULTILINE)
    listed = text.partition("\n## Steps\n")[2].partition("\n## ")[0]
    steps = _STEP.findall(listed)
    return {
        "path": _address(path),
        "tag": tag,
        "title": title[1] if title else path,
        "steps": [step.rstrip(".:") for step in steps],
        "asks": {found[1]: len(_STEP.findall(listed[: found.start()])) for found in _ASKED.finditer(listed)},
        "eachHead": 'class="bench-heads"' in text,
    }


def _address(path: str) -> str:
    return f"{posixpath.splitext(path)[0].removesuffix('index')}".rstrip("/") + "/"
