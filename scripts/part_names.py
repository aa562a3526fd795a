"""MkDocs hook: fills the page with the names of the parts, and gives each word of the glossary its place.

What a tag in a drawing says, and where the book tells of that part, stands in ``part_names.yml``. What the part is
stands in the glossary alone; what a fact of the card is called, with the card's form.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Mapping
from itertools import groupby
from pathlib import Path
from typing import Any, NamedTuple

import yaml
from markdown.extensions.toc import slugify  # type: ignore[import-untyped]
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from calculators.bench.question import questions  # noqa: E402
from calculators.card.entries import SECTIONS  # noqa: E402

PLACE = "<!-- all parts -->"
GLOSSARY = "reference/glossary.md"
PARTS = Path(__file__).with_suffix(".yml")
_ROW = re.compile(r"^\| (?P<word>[^|]+?) \| *(?P<also>[^|]*?) *\| (?P<means>.+?) \|$", re.MULTILINE)
_TABLE = re.compile(r"<table>\n<thead>.*?</thead>\n<tbody>\n(?P<rows>.*?)</tbody>\n</table>", re.DOTALL)
_LINE = re.compile(r"<tr>\n<td>(?P<word>[^<]+)</td>.*?</tr>\n", re.DOTALL)
_WAYS = {"out": "Take out", "inspect": "Inspect", "measure": "Measure", "fit": "Fit"}
_KEYS = {"word", *_WAYS, "ask", "card"}


class Word(NamedTuple):
    """A line of the glossary; what it means is Markdown."""

    also: str
    means: str


def parts() -> dict[str, dict[str, Any]]:
    """Return where the book tells of each part, by what its tag says."""
    found: dict[str, dict[str, Any]] = yaml.safe_load(PARTS.read_text(encoding="utf-8"))
    return found


def words(glossary: str) -> dict[str, Word]:
    r"""Return the lines of the glossary by their words.

    Examples
    --------
    >>> words("| Word | Also called | What it is |\n| --- | --- | --- |\n| fin | | a thin plate |")["fin"]
    Word(also='', means='a thin plate')
    """
    return {row["word"]: Word(row["also"], row["means"]) for row in _ROW.finditer(glossary)}


def place_of(word: str) -> str:
    """Return the anchor of a word in the glossary.

    Examples
    --------
    >>> place_of("rocker cover")
    'word-rocker-cover'
    """
    return f"word-{slugify(word, '-')}"


def on_page_markdown(markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Put list and parts where a page asks for them; the other hooks then see to its links and its quotes."""
    if PLACE not in markdown:
        return markdown
    pages = {file.src_uri: file.content_string for file in files.documentation_pages()}
    try:
        return markdown.replace(PLACE, "\n".join(told(parts(), pages)))
    except KeyError as lacking:
        raise PluginError(f"{PARTS.name}: the book has no {lacking.args[0]}") from None


def on_page_content(content: str, *, page: Page, **more: Any) -> str:
    """Fold the glossary by letters, with a way to each, and give each word a place that links can lead to."""
    if page.file.src_uri != GLOSSARY:
        return content
    content = _TABLE.sub(lambda table: "".join(_by_letter(table)), content, count=1)
    places = set(re.findall(r'id="((?:word|letter)-[\w-]+)"', content))
    page.present_anchor_ids = (page.present_anchor_ids or set()) | places
    return content


def _by_letter(table: re.Match[str]) -> Iterator[str]:
    """Yield a row of letters, then each letter's words as a fold that names its first and its last."""
    lines = [(row["word"], row[0]) for row in _LINE.finditer(table["rows"])]
    letters = {letter: list(of) for letter, of in groupby(lines, lambda line: line[0][0].upper())}
    head, foot = table[0].split(table["rows"])
    yield '<p class="bench-letters" data-search-exclude>'
    yield from (f'<a href="#letter-{letter.lower()}">{letter}</a>' for letter in letters)
    yield "</p>\n"
    for letter, of in letters.items():
        first, last = of[0][0], of[-1][0]
        span = first if first == last else f"{first} – {last}"
        yield f'<details class="fold"><summary>{letter} <small data-search-exclude>{span}</small></summary>\n'
        yield head.replace("<table>", f'<table id="letter-{letter.lower()}">')
        yield from (row.replace("<tr>", f'<tr id="{place_of(word)}">', 1) for word, row in of)
        yield f"{foot}\n</details>\n"


def told(all_parts: Mapping[str, Mapping[str, Any]], pages: Mapping[str, str]) -> Iterator[str]:
    """Yield what is told of each part as Markdown, a fold a part, in the order of their words.

    Raises
    ------
    KeyError
        Names a word, a page, a question or a fact of the card that does not exist.
    """
    glossary = words(pages[GLOSSARY])
    facts = {entry.path: _fact(entry.path, entry.label) for section in SECTIONS for entry in section.entries()}
    for tag, part in sorted(all_parts.items(), key=lambda held: held[1]["word"]):
        for unknown in set(part) - _KEYS:
            raise KeyError(unknown)
        word = part["word"]
        if word not in glossary:
            raise KeyError(word)
        also = f" Also called {glossary[word].also}." if glossary[word].also else ""
        yield '<details class="fold" markdown="1"><summary markdown="block">\n'
        yield f"## {word[0].upper()}{word[1:]} {{ #{tag} }}\n\n</summary>\n"
        yield f"{_sentence(glossary[word].means)}{also} [Glossary](glossary.md#{place_of(word)})\n"
        for way, deed in _WAYS.items():
            if part.get(way):
                yield f"- **{deed}:** {', '.join(_page(path, pages) for path in part[way])}"
        if part.get("ask"):
            yield f"- **Work out:** {' '.join(_question(name) for name in part['ask'])}"
        if part.get("card"):
            quoted = " · ".join(f"{facts[path]} [[{path}]]" for path in part["card"])
            yield f"- **On the card** (demonstration engine): {quoted}"
        yield "\n</details>\n"


def _sentence(words_: str) -> str:
    return f"{words_[0].upper()}{words_[1:]}."


def _fact(path: str, label: str) -> str:
    """Return what a fact is called beside its part: what its section says is said here too."""
    label = label[0].lower() + label[1:]
    section = path.partition(".")[0]
    return {
        "torques": f"torque, {label}",
        "materials": "material",
        "clearances": f"lash, {label}",
        "limits": f"{label} (limit)",
        "compression": label if "deck" in path else "compression ratio",
    }.get(section, label)


def _page(path: str, pages: Mapping[str, str]) -> str:
    title = re.search(r"^# (.+)$", pages[f"{path}.md"], re.MULTILINE)
    return f"[{title[1] if title else path}](../{path}.md)"


def _question(name: str) -> str:
    of = questions()[name]
    room = name.partition(".")[0].replace("_", "-")
    return f"[{of.asks}](../work-it-out/{room}.md#q-{name.replace('.', '-')})"
