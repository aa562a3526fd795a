"""MkDocs hook: embeds calculators in pages and quotes card values."""

from __future__ import annotations

import html
import re
import sys
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page
from pymdownx.superfences import SuperFencesException

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from calculators import BenchError, EngineCard, printed, quantity, read_card  # noqa: E402
from calculators._catalogue import calculator  # noqa: E402
from calculators._page import calculator_html  # noqa: E402
from calculators._units import read_number  # noqa: E402

_QUOTE = re.compile(r"\[\[([a-z_]+(?:\.[a-z_]+)+)\]\]")
_OTHER_UNIT = {"mm": "in", "in": "mm", "thou": "mm", "N·m": "lbf·ft", "lbf·ft": "N·m", "cm³": "in³", "bar": "psi"}
_THOU_BELOW = 2.0  # mm: below this the trade says thou, not inches


@dataclass
class _Build:
    """What one build knows: the default card, and the page that is being made."""

    card: EngineCard | None = None
    page = ""
    embedded: Counter[str] = field(default_factory=Counter)


_build = _Build()


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    """Teach the Markdown extension our fence, and read the card that fills the pages."""
    fences = config.mdx_configs.setdefault("pymdownx.superfences", {}).setdefault("custom_fences", [])
    if not any(fence["name"] == "calculator" for fence in fences):
        fences.append({"name": "calculator", "class": "calculator", "format": embed})
    _build.card = _card(Path(config.docs_dir) / "engines" / f"{config.extra['engine_card']}.yml")
    return config


def on_page_markdown(markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Put the card's values where a page quotes them by name."""
    _build.page = page.file.src_uri
    _build.embedded = Counter()
    return _QUOTE.sub(lambda match: _quoted(match[1]), markdown)


def embed(source: str, language: str, css_class: str, options: dict[str, Any], md: Any, **more: Any) -> str:
    """Turn a ``calculator`` fence into the element, with its worked example."""
    try:
        wanted = yaml.safe_load(source)
        presets = {str(key): str(text) for key, text in wanted.items()}
        name = presets.pop("name")
    except (yaml.YAMLError, AttributeError, KeyError) as error:
        raise SuperFencesException(f"{_build.page}: a calculator block needs a name: line ({error})") from error
    try:
        _build.embedded[name] += 1
        again = _build.embedded[name]
        prefix = name if again == 1 else f"{name}-{again}"
        # the div: Markdown takes only an element it knows for a block, and would wrap ours in a paragraph
        return f"<div>{calculator_html(calculator(name), _build.card, prefix, presets)}</div>"
    except BenchError as error:
        raise SuperFencesException(f"{_build.page}: calculator {name}: {error}") from error


def _card(path: Path) -> EngineCard:
    try:
        return read_card(path)
    except BenchError as error:
        raise PluginError(str(error)) from None


def _quoted(path: str) -> str:
    text = _build.card.text(path) if _build.card else None
    if text is None:
        raise PluginError(f"{_build.page}: the engine card has no {path}")
    return f'<data class="card-value" value="{path}">{html.escape(_with_other_unit(text))}</data>'


def _with_other_unit(text: str) -> str:
    """Return ``"34 N·m (25.1 lbf·ft)"`` for ``"34 N·m"``; what has no second unit stays as it is."""
    try:
        typed = read_number(text)
    except ValueError:
        return text
    own = typed.unit.symbol if typed.unit else ""
    other = "thou" if own == "mm" and typed.number < _THOU_BELOW else _OTHER_UNIT.get(own)
    if not other:
        return text
    return f"{text} ({printed(quantity(typed.number, own), other)})"
