"""The page that lists all cautions of the book, made at each build from the pages themselves.

A page asks for the list by the comment in ``PLACE``. What stands there is Markdown: one heading a grade, below it
one fold a stage of the job, and in it one line a caution, with a link to the heading that it stands under.
Nothing of it is written by hand.
"""

from __future__ import annotations

import posixpath
import re
import textwrap
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from markdown.extensions.toc import slugify  # type: ignore[import-untyped]

GRADES = ("danger", "warning", "caution", "notice")
"""The signal words of ISO 3864-2 and ANSI Z535.6, the gravest first."""

PLACE = "<!-- all cautions -->"

_OPENING = re.compile(r'(?P<indent> *)!!! (?P<grade>[a-z]+) "(?P<title>.+)"\s*')
_HEADING = re.compile(r"#{2,} (?P<words>.+)")
_STEP = re.compile(r"(?P<number>\d+)\.\s+(?P<words>\S.*)")
_DEED = re.compile(r"\*\*(?P<words>.+?)\*\*")
_LINK = re.compile(r"(?<=\]\()(?P<target>[^)\s]+)(?=\))")
_FENCE = re.compile(r" *(```|~~~)")


@dataclass(frozen=True)
class Caution:
    """One caution, and where it stands.

    ``title`` is without its signal word; ``words`` is Markdown in one line, with links as on its own page.
    ``step`` is the number and the deed of the step that it precedes, or empty.
    """

    grade: str
    title: str
    words: str
    page: str
    heading: str
    step: str


def cautions(page: str, markdown: str) -> Iterator[Caution]:
    """Find the cautions of a page, in their order.

    Parameters
    ----------
    page : str
        The page's path below ``docs``.
    markdown : str
        Its text.

    Examples
    --------
    >>> text = '''# Lift
    ... ## Steps
    ... 1. **Lift it.**
    ...
    ...     !!! danger "Danger: a load"
    ...         It falls.
    ...         Keep out.
    ... '''
    >>> [found] = cautions("strip/lift.md", text)
    >>> found.title, found.words, found.heading, found.step
    ('a load', 'It falls. Keep out.', 'Steps', '1, Lift it')
    """
    lines = markdown.splitlines()
    heading, step, fenced = "", "", False
    for at, line in enumerate(lines):
        fenced ^= bool(_FENCE.match(line))
        if fenced:
            continue
        if found := _HEADING.match(line):
            heading, step = found["words"], ""
        elif found := _STEP.match(line):
            deed = _DEED.match(found["words"])
            step = f"{found['number']}, {deed['words'].rstrip('.,')}" if deed else found["number"]
        elif line and not line.startswith((" ", "!")):
            step = ""
        if found := _OPENING.fullmatch(line):
            body = _body(lines[at + 1 :], len(found["indent"]) + 4)
            yield Caution(found["grade"], found["title"].split(": ", 1)[-1], body, page, heading, step)


def _body(lines: Iterable[str], indent: int) -> str:
    taken = []
    for line in lines:
        if line.strip() and not line.startswith(" " * indent):
            break
        taken.append(line)
    return " ".join(textwrap.dedent("\n".join(taken)).split())


def in_order(nav: Any, pages: Mapping[str, str]) -> list[str]:
    """Return the paths of ``pages``: first those in the nav, as it has them, then the others by name.

    Examples
    --------
    >>> in_order([{"Home": "index.md"}, {"Strip": [{"Out": "out.md"}]}], {"a.md": "", "out.md": "", "index.md": ""})
    ['index.md', 'out.md', 'a.md']
    """
    named = [path for path in _paths(nav) if path in pages]
    return [*dict.fromkeys(named), *sorted(set(pages) - set(named))]


def _paths(nav: Any) -> Iterator[str]:
    if isinstance(nav, str):
        yield nav
    elif isinstance(nav, Mapping):
        yield from _paths(list(nav.values()))
    elif isinstance(nav, list):
        for entry in nav:
            yield from _paths(entry)


def filled(markdown: str, page: str, pages: Mapping[str, str], nav: Any) -> str:
    """Put the list where a page asks for it.

    Parameters
    ----------
    markdown, page : str
        The page's text and its path below ``docs``.
    pages : mapping
        The text of every page by its path.
    nav : list or None
        The nav of the site, as ``mkdocs.yml`` has it.
    """
    found = [caution for path in in_order(nav, pages) for caution in cautions(path, pages[path])]
    titles = {path: _title(text) for path, text in pages.items()}
    stages = _stages(nav, pages)
    return markdown.replace(PLACE, "\n".join(_listed(found, titles, stages, page)).strip())


def _stages(nav: Any, pages: Mapping[str, str]) -> dict[str, str]:
    """Return what the nav calls the stage of each page.

    Examples
    --------
    >>> _stages([{"Home": "index.md"}, {"Strip": [{"Out": "out.md"}]}], {"out.md": "", "index.md": "", "a.md": ""})
    {'out.md': 'Strip', 'index.md': 'Home', 'a.md': 'Elsewhere'}
    """
    of = {path: title for entry in nav or () for title, below in entry.items() for path in _paths(below)}
    return {path: of.get(path, "Elsewhere") for path in pages}


def _listed(found: list[Caution], titles: Mapping[str, str], stages: Mapping[str, str], page: str) -> Iterator[str]:
    for grade in GRADES:
        of_grade = [caution for caution in found if caution.grade == grade]
        # the search finds a caution on the page where it stands, not here a second time
        yield f"## {grade.capitalize()}: {len(of_grade)} {{ #{grade} data-search-exclude }}\n"
        for stage, those in groupby(of_grade, lambda caution: stages[caution.page]):
            of_stage = list(those)
            yield f'<details class="fold" markdown="1"><summary>{stage}: {len(of_stage)}</summary>\n'
            yield from (_line(caution, titles[caution.page], page) for caution in of_stage)
            yield "\n</details>"
        yield ""


def _line(caution: Caution, page_title: str, page: str) -> str:
    where = f"*{page_title}*" + (f", step {caution.step}" if caution.step else "")
    anchor = f"#{slugify(caution.heading, '-')}" if caution.heading else ""
    link = _seen_from(page, caution.page) + anchor
    title = caution.title[:1].upper() + caution.title[1:]
    return f"- **[{title}.]({link})** {_moved(caution, page)}<br>{where}"


def _title(markdown: str) -> str:
    found = re.search(r"^# (.+)$", markdown, re.MULTILINE)
    return found[1] if found else ""


def _seen_from(page: str, path: str) -> str:
    return posixpath.relpath(path, posixpath.dirname(page) or ".")


def _moved(caution: Caution, page: str) -> str:
    """Return a caution's words with its relative links as they must read on ``page``."""

    def seen(match: re.Match[str]) -> str:
        target = match["target"]
        if "://" in target:
            return target
        path, mark, anchor = target.partition("#")
        place = posixpath.join(posixpath.dirname(caution.page), path) if path else caution.page
        return _seen_from(page, posixpath.normpath(place)) + mark + anchor

    return _LINK.sub(seen, caution.words)
