"""The sentences of templates and of JavaScript: what lies outside of tags, and what looks like one."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from string import Formatter
from typing import Any

from jinja2 import Environment

from scripts.python_sentences import SENTENCE, WORD, Translate, unlike


@dataclass(frozen=True, slots=True)
class _Place:
    """What stands between words in a template or in JavaScript: an expression with a name, or a break without one."""

    source: str
    name: str = ""


_Pieces = list[str | _Place]

_SHOWN_ATTRIBUTES = ("aria-label", "title", "alt", "placeholder", "data-label")
_ATTRIBUTE = re.compile(r"([\w-]+)=\Z")
_CODE = re.compile(r'[\w-]+=".*"|[a-z]+-\{\}')
"""What a macro writes inside of a tag."""
_CLASSES = re.compile(r"(bench-[\w-]+ ?)+")


def _translated_html(pieces: Iterable[str | _Place], translate: Translate, line: int = 1) -> _Pieces:
    """Return HTML in pieces with other sentences in its texts and in the attributes that are read out."""
    out: _Pieces = []
    run: _Pieces = []
    inside, tag = "", ""  # the attribute whose value is read, and what was read of the tag

    def end_of_run() -> None:
        shown = inside in _SHOWN_ATTRIBUTES if tag else True
        nonlocal line
        out.extend(_translated_run(run, translate, line) if shown else run)
        line += _lines(run)
        run.clear()

    for piece in pieces:
        if isinstance(piece, _Place):
            if piece.name:
                run.append(piece)
            else:
                end_of_run()
                out.append(piece)
                line += _lines([piece])
            continue
        for part in re.split(r"([<>\"])", piece):
            mark = (
                (part == "<" and not tag) or (part == ">" and bool(tag) and not inside) or (part == '"' and bool(tag))
            )
            if not mark:
                run.append(part)
                tag += part if tag else ""
                continue
            end_of_run()
            out.append(part)
            if part == '"':
                named = _ATTRIBUTE.search(tag)
                inside = "" if inside else named[1] if named else "?"
            tag = "" if part == ">" else tag + part
    end_of_run()
    return out


def _lines(pieces: _Pieces) -> int:
    return sum((piece if isinstance(piece, str) else piece.source).count("\n") for piece in pieces)


def _translated_run(run: _Pieces, translate: Translate, line: int) -> _Pieces:
    """Return words and places in a row as they are said in another language, with the white space around them."""
    words = "".join(piece if isinstance(piece, str) else "{}" for piece in run)
    if not WORD.search(words) or _CODE.fullmatch(words.strip()):
        return run
    return _said(run, lambda message: translate(message, line + words[: len(words) - len(words.lstrip())].count("\n")))


def _said(run: _Pieces, translate: Callable[[str], str]) -> _Pieces:
    places = [piece for piece in run if isinstance(piece, _Place)]
    names = unlike([place.name for place in places])
    waiting = iter(names)
    message = "".join(
        f"{{{next(waiting)}}}" if isinstance(piece, _Place) else piece.replace("{", "{{").replace("}", "}}")
        for piece in run
    )
    bare = message.strip()
    before, _, after = message.partition(bare)
    by_name = dict(zip(names, places, strict=True))
    said: _Pieces = [before]
    for text, name, _, _ in Formatter().parse(translate(bare)):
        said.append(text)
        if name is not None:
            said.append(by_name[name])
    return [*said, after]


def _looks_like_a_sentence(text: str) -> bool:
    return bool(SENTENCE.search(text)) and not _CLASSES.fullmatch(text)


_JINJA = Environment(autoescape=True, keep_trailing_newline=True)


def template_translated(source: str, translate: Translate) -> str:
    """Return a template with other sentences in its texts, its attributes and the strings of its expressions.

    Examples
    --------
    >>> template_translated('<p title="A bore">{{ n }} left{% if n %}</p>{% endif %}', lambda words, line: f"{words}!")
    '<p title="A bore!">{{ n }} left!{% if n %}</p>{% endif %}'
    """
    pieces: _Pieces = []
    inside: list[tuple[int, str, str]] = []
    for line, kind, text in _JINJA.lex(source):
        if kind == "data":
            pieces.append(text)
            continue
        inside.append((line, kind, text))
        if kind.endswith("_end"):
            pieces.append(_jinja_place(inside, translate))
            inside = []
    return "".join(piece if isinstance(piece, str) else piece.source for piece in _translated_html(pieces, translate))


def _jinja_place(tokens: list[tuple[int, str, str]], translate: Translate) -> _Place:
    source, name = "", ""
    for line, kind, text in tokens:
        if kind == "name" and (not name or source.endswith(".")):
            name = text
        if kind == "string" and _looks_like_a_sentence(text[1:-1]):
            text = f'"{translate(text[1:-1], line)}"'
        source += text
    return _Place(source, name or "value" if tokens[0][1] == "variable_begin" else "")


NOT_SHOWN_IN_JAVASCRIPT = ("python-worker.js", "early.js")
_SHOWN_WORDS = {"none", "yes", "no"}
_JAVASCRIPT_CODE = re.compile(
    r"(ticks|clock|job|photographs|readings) \{\w+\}|min\(.*\)|too much|not started|[A-Z]\w+-[A-Z]\w+"
)
"""What looks like a sentence in the elements and is none: states, names under which the job keeps things, a width."""


def literals(paths: Iterable[Path]) -> dict[str, list[dict[str, Any]]]:
    """Return the literals of JavaScript files that may be shown, by path, as ``sentences.mjs`` finds them."""
    command = ["node", str(Path(__file__).with_name("sentences.mjs")), *map(str, paths)]
    found: dict[str, list[dict[str, Any]]] = json.loads(subprocess.run(command, capture_output=True, check=True).stdout)
    return found


def javascript_translated(source: str, found: list[dict[str, Any]], translate: Translate) -> str:
    """Return a module of JavaScript with other sentences in its literals.

    Parameters
    ----------
    source : str
    found : list of dict
        Its ``literals``.
    translate : callable
    """
    return _script(source, found, 0, len(source), translate)


def _script(source: str, found: list[dict[str, Any]], start: int, end: int, translate: Translate) -> str:
    """Return a stretch of a module; what stands in the places of a literal is translated as the rest."""
    out, at = "", start
    for literal in sorted(found, key=lambda literal: int(literal["start"])):
        if literal["start"] < at or literal["end"] > end:
            continue  # within one that is done, or outside
        said = _literal_said(source, found, literal, translate)
        if said is not None:
            out += source[at : literal["start"]] + said
            at = literal["end"]
    return out + source[at:end]


def _literal_said(
    source: str, found: list[dict[str, Any]], literal: dict[str, Any], translate: Translate
) -> str | None:
    """Return a literal in another language, or nothing where it is not shown or stays the same."""
    line = source.count("\n", 0, literal["start"]) + 1
    pieces: _Pieces = [piece["text"] if "text" in piece else _Place("", piece["place"]) for piece in literal["pieces"]]
    words = "".join(piece if isinstance(piece, str) else f"{{{piece.name}}}" for piece in pieces)
    bare = re.sub(r"\{\w*\}", "0", words)
    changed = []

    def noted(message: str, at: int = line) -> str:
        other = translate(message, at)
        changed.append(other != message)
        return other

    if "<" in words:
        said = _translated_html(pieces, noted, line)
    elif (_looks_like_a_sentence(bare) or words in _SHOWN_WORDS) and not _JAVASCRIPT_CODE.fullmatch(words):
        said = _said(pieces, noted)
    else:
        return None
    if not any(changed):
        return None
    if source[literal["start"]] != "`":
        return json.dumps("".join(map(str, said)), ensure_ascii=False)
    places = {
        id(piece): _script(source, found, spot["start"], spot["end"], translate)
        for piece, spot in zip(pieces, literal["pieces"], strict=True)
        if isinstance(piece, _Place)
    }
    parts = [
        f"${{{places[id(piece)]}}}" if isinstance(piece, _Place) else re.sub(r"([`\\]|\$\{)", r"\\\1", piece)
        for piece in said
    ]
    return f"`{''.join(parts)}`"
