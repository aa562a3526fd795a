"""Leaves out of the theme's stylesheets the rules that nothing in the book can match.

The theme styles code blocks, tabs, diagrams, blogs and writing from right to left; a page here has none of it.
A selector stays if each class, id, tag and attribute in it is named somewhere: in a built page, or in what makes
pages later, the scripts and the calculators. So one that is kept may match nothing; one that is dropped matches
nothing. What stays keeps its order and its words.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

_SKIPPED = re.compile(r"/\*.*?\*/|\s+", re.DOTALL)
_MARK = re.compile(
    r"""\\.|"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*'|/\*.*?\*/|url\((?!["'])[^)]*\)|[()\[\]{};,]""", re.DOTALL
)
_HOLDS_RULES = ("@media", "@supports", "@layer", "@container")
_ANY_OF = (":is(", ":where(")
_FUNCTION = re.compile(r"(?<!\\)::?[\w-]+\(")
_PSEUDO = re.compile(r"(?<!\\)::?[\w-]+")
_PART = re.compile(
    r"""(?P<kind>[.#])(?P<name>(?:\\.|[\w-])+)
    | \[(?P<attribute>[\w-]+)(?:[~|^$*]=[^\]]*|(?P<whole>=)(?P<value>[^\]]*))?\]
    | (?P<tag>[a-zA-Z][\w-]*)""",
    re.VERBOSE,
)
_WORD = re.compile(r"[A-Za-z_-][\w-]*")
_TAG = re.compile(r"""<([a-zA-Z][\w-]*)((?:"[^"]*"|'[^']*'|[^>"'])*)>""")
_ATTRIBUTE = re.compile(r"""([\w:-]+)(?:\s*=\s*(?:"([^"]*)"|'([^']*)'|([^\s"'>]+)))?""")
_TEXT = re.compile(r""""(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*'|/\*.*?\*/""", re.DOTALL)
_NOT_HERE = re.compile(
    r"""md-(version|annotation|source|status|feedback|consent|banner|post|select|tabs|top|meta|profile|author)(?![a-z])
    | md-(social|overview|pagination|path|code)(?![a-z]) | tabbed- | footnote | highlight | mermaid | .{1,2}$
    | (abstract|bug|example|failure|info|note|question|quote|success|tip|summary|tldr|hint|important|check|done)$
    | (help|faq|attention|fail|missing|error|snippet|cite|inline|rtl)$""",
    re.VERBOSE,
)
"""Scripts have the word and no page the thing: a plain word, or what the theme makes of what is not here."""


@dataclass
class Named:
    """What pages, and what makes pages, call things by."""

    tags: set[str] = field(default_factory=set)
    values: dict[str, set[str]] = field(default_factory=lambda: defaultdict(set))
    """By attribute, word by word."""
    made: set[str] = field(default_factory=set)
    """Every word of what makes pages: it may be any of these."""

    def in_page(self, html: str) -> None:
        """Note what a page names."""
        for tag, attributes in _TAG.findall(html):
            self.tags.add(tag.lower())
            for name, *given in _ATTRIBUTE.findall(attributes):
                self.values[name.lower()].update("".join(given).split())

    def in_script(self, text: str) -> None:
        """Note every word of a script, of a template, of code."""
        self.made.update(_WORD.findall(text))

    def has(self, selector: str) -> bool:
        """Say whether a selector without a comma could match something."""
        plain = ""
        while opening := _FUNCTION.search(selector):
            end = _end(selector, opening.end(), ")")
            inside = selector[opening.end() : end]
            if opening[0] in _ANY_OF and not any(map(self.has, _split(inside, ","))):
                return False
            plain += selector[: opening.start()]  # what is in other brackets decides nothing
            selector = selector[end + 1 :]
        plain = _PSEUDO.sub("", plain + selector)
        return all(self._names(part) for part in _PART.finditer(plain))

    def _names(self, part: re.Match[str]) -> bool:
        if part["tag"]:
            return part["tag"].lower() in self.tags | self.made
        if part["kind"]:
            return self._called("class" if part["kind"] == "." else "id", re.sub(r"\\(.)", r"\1", part["name"]))
        attribute, value = part["attribute"].lower(), (part["value"] or "").strip("\"'")
        if part["whole"] and _WORD.fullmatch(value) and not self._called(attribute, value):
            return False
        return attribute in self.values or attribute in self.made

    def _called(self, attribute: str, name: str) -> bool:
        return name in self.values.get(attribute, ()) or (name in self.made and not _NOT_HERE.match(name))


def _end(text: str, start: int, marks: str) -> int:
    """Return where one of some marks stands first that is in no text and in no bracket opened after ``start``."""
    depth = 0
    for found in _MARK.finditer(text, start):
        mark = found[0]
        if not depth and mark in marks:
            return found.start()
        depth += (mark in "([{") - (mark in ")]}")
    return len(text)


def _split(text: str, mark: str) -> Iterator[str]:
    at = 0
    while at < len(text):
        end = _end(text, at, mark)
        if part := text[at:end].strip():
            yield part
        at = end + 1


def _rules(sheet: str) -> Iterator[tuple[str, str | None]]:
    """Yield what stands before each block, and what is in it; None for a statement that has none."""
    at = 0
    while at < len(sheet):
        if skipped := _SKIPPED.match(sheet, at):
            at = skipped.end()
            continue
        opens = _end(sheet, at, "{;" if sheet[at] == "@" else "{")
        if sheet[opens : opens + 1] == "{":
            end = _end(sheet, opens + 1, "}")
            yield sheet[at:opens].strip(), sheet[opens + 1 : end]
            at = end + 1
        else:
            yield sheet[at:opens].strip(), None
            at = opens + 1


def needed(sheet: str, named: Named, elsewhere: str) -> str:
    """Return a stylesheet without what matches nothing, and without what then no rule uses.

    Parameters
    ----------
    sheet : str
        The stylesheet.
    named : Named
        What pages are made of.
    elsewhere : str
        What else may use its variables and animations: other stylesheets, pages, scripts.
    """
    sheet = "".join(_matching(sheet, named))
    while True:
        used = set(re.findall(r"--[\w-]+", re.sub(r"--[\w-]+:", "", sheet) + elsewhere))
        moves = set(re.findall(r"[\w-]+", " ".join(re.findall(r"animation(?:-name)?:([^;}]*)", sheet + elsewhere))))
        fewer = "".join(_used(sheet, used, moves))
        if fewer == sheet:
            return sheet
        sheet = fewer


def _matching(sheet: str, named: Named) -> Iterator[str]:
    for before, inside in _rules(sheet):
        if inside is None:
            yield f"{before};"
        elif before.startswith(_HOLDS_RULES):
            if kept := "".join(_matching(inside, named)):
                yield f"{before}{{{kept}}}"
        elif before.startswith("@"):
            yield f"{before}{{{inside}}}"
        elif kept := ",".join(filter(named.has, _split(before, ","))):
            yield f"{kept}{{{inside}}}"


def _used(sheet: str, variables: set[str], moves: set[str]) -> Iterator[str]:
    for before, inside in _rules(sheet):
        if inside is None:
            yield f"{before};"
        elif before.startswith(_HOLDS_RULES):
            if kept := "".join(_used(inside, variables, moves)):
                yield f"{before}{{{kept}}}"
        elif "keyframes" in before:
            if before.split()[-1] in moves:
                yield f"{before}{{{inside}}}"
        elif before.startswith("@") or (kept := ";".join(_declared(inside, variables))):
            yield f"{before}{{{inside if before.startswith('@') else kept}}}"


def _declared(inside: str, variables: set[str]) -> Iterator[str]:
    for declaration in _split(inside, ";"):
        name = declaration.partition(":")[0].strip()
        if not name.startswith("--") or name in variables:
            yield declaration


def dropped(sheet: str, lean: str) -> list[str]:
    """Return the selectors that a stylesheet had and the lean one has not."""
    return sorted(set(_selectors(sheet)) - set(_selectors(lean)))


def _selectors(sheet: str) -> Iterator[str]:
    for before, inside in _rules(sheet):
        if inside is not None and before.startswith(_HOLDS_RULES):
            yield from _selectors(inside)
        elif inside is not None and not before.startswith("@"):
            yield from _split(before, ",")


def packed(sheet: str) -> str:
    """Return a stylesheet without its comments, and without the spaces that only its readers need."""
    made = []
    at = 0
    for text in _TEXT.finditer(sheet):
        made += [_packed(sheet[at : text.start()]), "" if text[0].startswith("/*") else text[0]]
        at = text.end()
    return "".join([*made, _packed(sheet[at:])]).strip() + "\n"


def _packed(rules: str) -> str:
    rules = re.sub(r"\s+", " ", rules)
    return re.sub(r"(?<=:) | ?([{};,]) ?", r"\1", rules).replace(";}", "}")
