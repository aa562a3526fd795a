"""The page of sources and checks, made at each build from the tests' own data.

``tests/reference/checks/*.yml`` hold the outside checks, one file a subject: a list of mappings with

- ``ours``: an expression of ours, as ``calculators/checks.py`` works it out;
- ``expected``: the value from elsewhere, and how far ours may lie from it: ``within`` (a number) or ``share``
  (of the expected number); neither where it must be the same;
- ``source``: a key of ``sources.yml``; ``place``: clause, table, page or function in it;
- ``known``: how the expected value is known, a key of ``KNOWN``;
- ``theirs`` (where a library gave the value): the expression that gives it again, worked out by the tests;
- ``unit`` (optional), and ``says`` (optional): what is checked, where the expression does not say it.

A file's name stands in one ``checks of`` line of ``docs/reference/checks-of-*.md``, which shows its checks;
what stands in none is shown where ``others`` are.

Each is worked out when it is read, and judged by a test of its own and by the build. One that fails, a source that is
not known, a formula or a question that nobody outside has checked stops the build.
"""

from __future__ import annotations

import ast
import html
import inspect
import json
import posixpath
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from calculators.bench.question import questions
from calculators.checks import FORMULAS, agrees, outcome

ROOT = Path(__file__).resolve().parent.parent
_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
"""The quick one, where the library has it."""
CHECKS = ROOT / "tests" / "reference" / "checks"
ALL = "<!-- all checks -->"
_SOME = re.compile(r"<!-- checks of: (?P<subjects>[\w, ]+) -->")
KNOWN = {
    "read": "read in the source",
    "copy": "read in a copy or a summary of the source",
    "library": "worked out by the library",
    "identity": "follows from a definition or an identity, worked by hand",
    "practice": "common practice, no source",
    "memory": "from memory, not looked up again",
}
"""How an expected value is known."""

_BUTTON = "<div><bench-checks>This needs JavaScript.</bench-checks></div>\n"
_KEYS = {"ours", "expected", "within", "share", "source", "place", "known", "theirs", "unit", "says"}


class CheckError(Exception):
    """A check that is written wrongly, that fails, or that is lacking."""


@dataclass(frozen=True)
class Source:
    """Where expected values come from: ``kind`` is standard, handbook, library, manual, practice or identity."""

    title: str
    kind: str


@dataclass(frozen=True)
class Check:
    """One check; ``got`` is the outcome here."""

    subject: str
    ours: str
    expected: Any
    within: float
    share: float
    source: Source
    place: str
    known: str
    theirs: str
    unit: str
    says: str
    got: Any

    @property
    def fault(self) -> str:
        """What is wrong with the outcome; empty where it agrees."""
        if agrees(self.got, self.expected, self.within, self.share):
            return ""
        return f"{self.subject}.yml: {self.ours}: got {self.got}, expected {self.expected}"

    def message(self) -> dict[str, Any]:
        """Return what the browser's Python needs to work it out again."""
        return {
            "ours": self.ours,
            "expected": self.expected,
            "within": self.within,
            "share": self.share,
            "host": self.got,
        }


@cache
def sources() -> dict[str, Source]:
    """Read all sources, by key."""
    found = yaml.safe_load((CHECKS / "sources.yml").read_text(encoding="utf-8"))
    return {key: Source(**facts) for key, facts in found.items()}


@cache
def checks() -> tuple[Check, ...]:
    """Read and work out all checks, by file name and in the order of each file.

    Raises
    ------
    CheckError
        With the file and the expression.
    """
    return tuple(
        _check(path, entry)
        for path in sorted(CHECKS.glob("*.yml"))
        if path.name != "sources.yml"
        for entry in _entries(path)
    )


def _entries(path: Path) -> list[dict[str, Any]]:
    found = yaml.load(path.read_text(encoding="utf-8"), Loader=_LOADER)  # noqa: S506 (a safe one)
    if not isinstance(found, list) or not all(isinstance(entry, dict) for entry in found):
        raise CheckError(f"{path.name}: must be a list of checks, each beginning with - ours:")
    return found


def _check(path: Path, entry: dict[str, Any]) -> Check:
    where = f"{path.name}: {entry.get('ours', entry)}"
    if wrong := set(entry) - _KEYS or {"ours", "expected", "source", "place", "known"} - set(entry):
        raise CheckError(f"{where}: missing or unknown: {', '.join(sorted(wrong))}")
    if entry["source"] not in sources():
        raise CheckError(f"{where}: sources.yml has no {entry['source']}; add it with title and kind")
    if entry["known"] not in KNOWN:
        raise CheckError(f"{where}: known must be one of {', '.join(KNOWN)}")
    try:
        got = json.loads(json.dumps(outcome(entry["ours"])))
    except Exception as error:
        raise CheckError(f"{where}: {type(error).__name__}: {error}") from error
    within, share = float(entry.get("within", 0)), float(entry.get("share", 0))
    expected = entry["expected"]
    texts = {key: str(entry.get(key, "")) for key in ("place", "theirs", "unit", "says")}
    return Check(
        path.stem, entry["ours"], expected, within, share, sources()[entry["source"]], known=entry["known"],
        got=got, **texts,
    )  # fmt: skip


def unchecked() -> list[str]:
    """Return every formula (as module.name) and every question that no check names."""
    named = {name for check in checks() for name in _named(check.ours)}
    wanted = [
        f"{module}.{name}"
        for module, room in FORMULAS.items()
        for name, held in vars(room).items()
        if inspect.isfunction(held) and held.__module__ == room.__name__ and not name.startswith("_")
    ]
    return [one for one in [*wanted, *questions()] if one not in named]


def _named(expression: str) -> Iterator[str]:
    for node in ast.walk(ast.parse(expression, mode="eval")):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            yield f"{node.value.id}.{node.attr}"
        if isinstance(node, ast.Call) and node.args and isinstance(node.args[0], ast.Constant):
            yield str(node.args[0].value)


def module() -> str:
    """Return the module that the page loads when a reader wants all checks worked out on their device.

    Raises
    ------
    CheckError
        Every check that fails.
    """
    if faults := [check.fault for check in checks() if check.fault]:
        raise CheckError("\n".join(faults))
    return f"export default {json.dumps([check.message() for check in checks()], ensure_ascii=False)};\n"


def misplaced(pages: Mapping[str, str]) -> list[str]:
    """Return every subject that has checks and stands on no page or on two, or stands on one and has none."""
    shown = Counter(
        subject for text in pages.values() for some in _SOME.finditer(text) for subject in _subjects(some, pages)
    )
    subjects = {check.subject for check in checks()}
    return sorted(subject for subject in shown.keys() | subjects if (shown[subject], subject in subjects) != (1, True))


def filled(markdown: str, page: str, pages: Mapping[str, str]) -> str:
    """Put the tables of checks, or what they come to, where a page asks for them.

    Parameters
    ----------
    markdown, page : str
        The page's text, and its path below ``docs``.
    pages : mapping
        The text of every page by its path.

    Raises
    ------
    CheckError
        For a formula or a question without a check, and for a subject that stands on no page or on two.
    """
    if ALL in markdown:
        if lacking := unchecked():
            raise CheckError(f"no outside check in tests/reference/checks for {', '.join(lacking)}")
        markdown = markdown.replace(ALL, "\n".join(_overview(page, pages)))
    return _SOME.sub(lambda found: "\n".join(_tables(_subjects(found, pages))), markdown)


_OTHERS = "others"


def _subjects(found: re.Match[str], pages: Mapping[str, str]) -> list[str]:
    """Return what a line asks for."""
    subjects = _named_in(found)
    if _OTHERS not in subjects:
        return subjects
    named = {subject for text in pages.values() for some in _SOME.finditer(text) for subject in _named_in(some)}
    others = sorted({check.subject for check in checks()} - named)
    return [subject for subject in subjects if subject != _OTHERS] + others


def _named_in(found: re.Match[str]) -> list[str]:
    return [subject.strip() for subject in found["subjects"].split(",")]


def _overview(page: str, pages: Mapping[str, str]) -> Iterator[str]:
    found = checks()
    by_source = Counter(check.source for check in found)
    yield f"**{len(found)} checks from {len(by_source)} sources.**\n"
    yield _BUTTON
    yield "## Every check { data-search-exclude }\n"
    of_subject = Counter(check.subject for check in found)
    for path, text in pages.items():
        for some in _SOME.finditer(text):
            subjects = _subjects(some, pages)
            title = next(line for line in text.splitlines() if line.startswith("# ")).removeprefix("# ")
            count = sum(of_subject[subject] for subject in subjects)
            yield f"- [{title}]({posixpath.relpath(path, posixpath.dirname(page))}): {count}"
    if wrong := misplaced(pages):
        raise CheckError(f"must stand in the line of one docs/reference/checks-of-*.md: {', '.join(wrong)}")
    yield "\n## How the expected values are known { data-search-exclude }\n"
    known = Counter(check.known for check in found)
    yield from (f"- {words[0].upper()}{words[1:]}: {known[key]}" for key, words in KNOWN.items() if known[key])
    yield "\n## Sources { data-search-exclude }\n"
    yield from (
        f"- {html.escape(source.title)}: {count}"
        for source, count in sorted(by_source.items(), key=lambda held: held[0].title.casefold())
    )


def _tables(subjects: list[str]) -> Iterator[str]:
    yield _BUTTON
    for subject in subjects:
        rows = [_row(at, check) for at, check in enumerate(checks()) if check.subject == subject]
        yield '\n<details class="fold" markdown="1"><summary markdown="block">\n'
        title = subject.replace("_", " ").capitalize()
        yield f"## {title} <small>{len(rows)}</small> {{ #{subject.replace('_', '-')} }}\n\n</summary>\n"
        yield '<div class="bench-checks"><table><thead><tr><th>Ours</th><th>Expected</th><th>Got</th>'
        yield "<th>Source</th></tr></thead><tbody>"
        yield from rows
        yield "</tbody></table></div>\n\n</details>"


def _row(at: int, check: Check) -> str:
    by = f"<br><code>{html.escape(check.theirs)}</code>" if check.theirs else ""
    says = f"{html.escape(check.says)}<br>" if check.says else ""
    unit = f" {check.unit}" if check.unit else ""
    where = f"{html.escape(check.source.title)}, {html.escape(check.place)}{by}"
    return (
        f'<tr data-check="{at}"><td>{says}<code>{html.escape(check.ours)}</code></td>'
        f"<td>{_printed(check.expected)}{html.escape(unit)}{_tolerance(check)}</td><td>{_printed(check.got)}</td>"
        f"<td>{where}<br><em>{KNOWN[check.known]}</em></td></tr>"
    )


def _tolerance(check: Check) -> str:
    if check.share:
        return f" ± {100 * check.share:.3g} %"
    return f" ± {check.within:.3g}" if check.within else ""


def _printed(found: Any) -> str:
    if isinstance(found, list):
        return ", ".join(f"({_printed(one)})" if isinstance(one, list) else _printed(one) for one in found)
    if isinstance(found, float):
        return f"{found:.10g}"
    return html.escape("–" if found is None else str(found))
