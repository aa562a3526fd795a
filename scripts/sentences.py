"""Every sentence that a reader sees in calculators and elements, in one catalogue; a translation of it is one file.

As with GNU gettext the English sentence in the source is its own key, and the catalogue is a PO file. Nothing is
marked in the source: what is visible is told by where a text stands, in Python by its syntax tree, in a template by
what lies outside of tags, in JavaScript by what a text looks like. ``tests/calculators/test_sentences.py`` puts a
made-up language in place of all of them and finds what was missed, or taken too much.

``scripts/translation.py`` puts a translation into copies of the files, at build; nothing is looked up at run time.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from scripts.page_sentences import NOT_SHOWN_IN_JAVASCRIPT, javascript_translated, literals, template_translated
from scripts.python_sentences import NOT_SHOWN, WORD, Translate, keys_of, python_translated

ROOT = Path(__file__).resolve().parent.parent


def schema_translated(source: str, translate: Translate) -> str:
    """Return the cards' schema with a title for each key, which the card's form shows, and with other descriptions."""
    schema = json.loads(source)
    lines = source.splitlines()
    changed = []

    def said(words: str, mark: str) -> str:
        line = next((number for number, text in enumerate(lines, 1) if mark in text), 1)
        other = translate(words, line)
        changed.append(other != words)
        return other

    def walk(part: dict[str, Any]) -> None:
        if part is not schema and "description" in part and "properties" in part:
            part["description"] = said(part["description"], part["description"])
        for key, inner in part.get("properties", {}).items():
            if set(part["properties"]) != {"value", "source"} and key != "format":
                words = key.replace("_", " ").capitalize()
                other = said(words, f'"{key}":') if WORD.search(words) else words
                if other != words:
                    inner["title"] = other
            walk(inner)
        if isinstance(part.get("items"), dict):
            walk(part["items"])
        for inner in part.get("$defs", {}).values():
            walk(inner)

    walk(schema)
    return json.dumps(schema, ensure_ascii=False, indent=1) if any(changed) else source


_SCHEMA = "calculators/engine_card.schema.json"


def translated_files(translate: Callable[[str, str, int], str]) -> dict[str, str]:
    """Return each file that has sentences, by its path from the root, with other sentences in it.

    Parameters
    ----------
    translate : callable
        Gets each sentence with the path and the line where it stands.
    """
    said = {}

    def at(path: str) -> Translate:
        return lambda words, line: translate(words, path, line)

    modules = [path for path in sorted((ROOT / "calculators").rglob("*.py")) if path.name not in NOT_SHOWN]
    templates = sorted((ROOT / "calculators/templates").glob("*.html"))
    scripts = [path for path in sorted((ROOT / "docs/assets").glob("*.js")) if path.name not in NOT_SHOWN_IN_JAVASCRIPT]
    found = literals(scripts)
    keys = frozenset().union(*(keys_of(path.read_text(encoding="utf-8")) for path in modules))
    for path in (*modules, *templates, ROOT / _SCHEMA, *scripts):
        name, source = path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8")
        if path.suffix == ".py":
            said[name] = python_translated(source, at(name), keys)
        elif path.suffix == ".html":
            said[name] = template_translated(source, at(name))
        elif path.suffix == ".json":
            said[name] = schema_translated(source, at(name))
        else:
            said[name] = javascript_translated(source, found[str(path)], at(name))
    return said


def sentences() -> dict[str, list[tuple[str, int]]]:
    """Return every sentence with the files and lines where it stands, in the order in which they are found."""
    found: dict[str, list[tuple[str, int]]] = {}

    def noted(words: str, path: str, line: int) -> str:
        found.setdefault(words, []).append((path, line))
        return words

    translated_files(noted)
    return found
