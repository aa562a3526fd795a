"""MkDocs hook: puts questions and drawings into pages, and quotes values of answers and cards."""

from __future__ import annotations

import html
import re
import sys
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page
from pymdownx.superfences import SuperFencesException

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from calculators import BenchError, EngineCard, drawings  # noqa: E402
from calculators.bench.desk import Desk  # noqa: E402
from calculators.bench.page import question_html  # noqa: E402
from calculators.bench.question import questions, rooms  # noqa: E402
from calculators.card.texts import with_other_unit  # noqa: E402
from scripts import card_fence, caution_list, check_list, drawing_fence, ladder_map, ladders, question_list  # noqa: E402
from scripts.engine_cards import engine_card  # noqa: E402
from scripts.page_tags import tags  # noqa: E402

_QUOTE = re.compile(r"\[\[([a-z_]+(?:\.[a-z_]+)+)\]\]")
_DEMONSTRATION = "marram-f4"
_WHOSE = ("demonstration engine", "card’s engine")  # beside a figure of another card


@dataclass
class _Build:
    """What one build knows: the default card, where drawings are and their looks, and the page that is being made."""

    card: EngineCard | None = None
    drawings: Path = ROOT / "docs" / "drawings"
    engines: Path = ROOT / "docs" / "engines"
    looks: frozenset[str] = frozenset()
    page = ""
    embedded: Counter[str] = field(default_factory=Counter)


_build = _Build()


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    """Teach the Markdown extension our fences, and read the card that fills the pages."""
    fences = config.mdx_configs.setdefault("pymdownx.superfences", {}).setdefault("custom_fences", [])
    for name, formatter in (
        ("question", ask),
        ("room", ask_all),
        ("rooms", list_all),
        ("drawing", draw),
        ("card", card),
        ("tags", tagged),
    ):
        if not any(fence["name"] == name for fence in fences):
            fences.append({"name": name, "class": name, "format": formatter})
    docs = Path(config.docs_dir)
    _build.card = _card(docs / "engines" / f"{config.extra['engine_card']}.yml")
    _build.drawings = docs / "drawings"
    _build.engines = docs / "engines"
    _build.looks = drawing_fence.looks((docs / "assets" / "bench.css").read_text(encoding="utf-8"))
    return config


def on_page_markdown(markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Put card values where a page quotes them by name, and all cautions or checks where a page asks for them."""
    _build.page = page.file.src_uri
    _build.embedded = Counter()
    if tag := tags(config.nav or []).get(page.file.src_uri):
        markdown = drawing_fence.placed(markdown, tag)
    if ladders.has_ladder(markdown):
        markdown = _with_ladder(markdown)
    pages = {file.src_uri: file.content_string for file in files.documentation_pages()}
    if ladders.PLACE in markdown:
        markdown = ladders.listed(markdown, page.file.src_uri, pages, caution_list.in_order(config.nav, pages))
    if caution_list.PLACE in markdown:
        markdown = caution_list.filled(markdown, page.file.src_uri, pages, config.nav)
    try:
        markdown = check_list.filled(markdown, page.file.src_uri, pages)
    except check_list.CheckError as error:
        raise PluginError(f"{_build.page}: {error}") from None
    if config.extra["engine_card"] != _DEMONSTRATION:
        lines = markdown.split("\n")
        markdown = "\n".join(line.replace(*_WHOSE) if _QUOTE.search(line) else line for line in lines)
    return _QUOTE.sub(lambda match: _quoted(match[1]), markdown)


def on_page_content(content: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Tell the check of links that a page has the anchors of its questions, which it cannot see inside a fence."""
    page.present_anchor_ids = (page.present_anchor_ids or set()) | set(re.findall(r'\bid="(q-[\w-]+)"', content))
    return content


def ask(source: str, language: str, css_class: str, options: dict[str, Any], md: Any, **more: Any) -> str:
    """Turn a ``question`` fence, which holds the question's name, into the element with its worked example."""
    return f'<div class="q-alone">{_asked(source.strip(), "step")}</div>'


def tagged(source: str, language: str, css_class: str, options: dict[str, Any], md: Any, **more: Any) -> str:
    """Turn a ``tags`` fence, which holds kinds of parts, into the list of those that are tagged; of all if empty."""
    return f'<div><bench-tags kinds="{html.escape(source.strip())}"></bench-tags></div>'


def ask_all(source: str, language: str, css_class: str, options: dict[str, Any], md: Any, **more: Any) -> str:
    """Turn a ``room`` fence, which holds the room's name, into all of its questions."""
    found = rooms().get(source.strip())
    if not found:
        raise SuperFencesException(f"{_build.page}: there is no room {source.strip()}; there are {', '.join(rooms())}")
    asked = "".join(_asked(question.name, "room", is_open=not at) for at, question in enumerate(found))
    return f'<div class="q-room">{asked}</div>'


def list_all(source: str, language: str, css_class: str, options: dict[str, Any], md: Any, **more: Any) -> str:
    """Turn a ``rooms`` fence into a list of every question, by part of the engine."""
    return question_list.listed(rooms())


def _asked(name: str, place: str, is_open: bool = True) -> str:
    card = _build.card
    assert card  # noqa: S101 (on_config has read it)
    try:
        asked = Desk({}, card, example=True).ask(name)
    except BenchError as error:
        raise SuperFencesException(f"{_build.page}: {error}") from None
    if not asked.answer:
        faults = "; ".join(error.message for error in (*asked.errors, *asked.lacking))
        raise SuperFencesException(f"{_build.page}: the example of {name} has no answer: {faults}")
    return question_html(asked, card.title, card.name, place, is_open)


def draw(source: str, language: str, css_class: str, options: dict[str, Any], md: Any, **more: Any) -> str:
    """Turn a ``drawing`` fence into the drawing that it names."""
    try:
        name, at = drawing_fence.asked_for(source)
        prefix = f"drawing-{name}"
        _build.embedded[prefix] += 1
        if _build.embedded[prefix] > 1:
            prefix += f"-{_build.embedded[prefix]}"
        if name in drawings.names() and not (_build.drawings / f"{name}.svg").exists():
            assert _build.card  # noqa: S101 (on_config has read it)
            return drawing_fence.captioned(drawing_fence.plate(name, _build.card, _build.looks, prefix), at)
        by_hand = drawing_fence.figure(_build.drawings / f"{name}.svg", _build.looks, prefix)
        return drawing_fence.captioned(by_hand, at)
    except drawing_fence.DrawingError as error:
        raise SuperFencesException(f"{_build.page}: drawing {error}") from error


def _with_ladder(markdown: str) -> str:
    try:
        maps = enumerate(ladder_map.ladder_maps(ladders.read(markdown)), 1)
        drawn = [drawing_fence.shown_plate(plate, _build.looks, f"map-{part}") for part, plate in maps]
        return ladders.prepared(markdown, f'<div class="bench-ladder-maps">{"".join(drawn)}</div>')
    except (ladders.LadderError, drawing_fence.DrawingError) as error:
        raise PluginError(f"{_build.page}: {error}") from None


def card(source: str, language: str, css_class: str, options: dict[str, Any], md: Any, **more: Any) -> str:
    """Turn a ``card`` fence into what it names: the editor of cards, or the facts that one can hold."""
    try:
        made = card_fence.FENCES[source.strip()]
    except KeyError:
        raise SuperFencesException(f"{_build.page}: a card fence asks for {' or '.join(card_fence.FENCES)}") from None
    return f"<div>{made(map(_card, sorted(_build.engines.glob('*.yml'))))}</div>"


def _card(path: Path) -> EngineCard:
    try:
        return engine_card(path)
    except BenchError as error:
        raise PluginError(str(error)) from None


def _quoted(path: str) -> str:
    name, _, key = path.rpartition(".")
    if name in questions():
        return _quoted_answer(name, key)
    text = _build.card.text(path) if _build.card else None
    if text is None:
        raise PluginError(f"{_build.page}: the engine card has no {path}")
    return f'<data class="card-value" value="{path}">{html.escape(with_other_unit(text))}</data>'


def _quoted_answer(name: str, key: str) -> str:
    """Return a value of an answer, the example's until the browser has the reader's own."""
    asked = Desk({}, _build.card, example=True).ask(name)
    value = asked.answer.value(key) if asked.answer else None
    if value is None:
        raise PluginError(f"{_build.page}: {name} works out no {key}")
    text = html.escape(value.texts[0])
    return f'<data class="answer-value" value="{name}.{key}" data-state="example">{text}</data>'
