"""MkDocs hook: brings step 1 near the title, labels symptoms for a phone, marks common practice and clocks."""

from __future__ import annotations

import html
import re
from typing import Any

from mkdocs.structure.pages import Page

_TOOLS = re.compile(r"^## (Tools and parts)\n(?P<list>.*?)(?=^## )", re.MULTILINE | re.DOTALL)
_STOPS = re.compile(r"(?<=^## When to stop and ask\n)((?:(?![#-]).*\n)*)((?:- .+\n)+)", re.MULTILINE)
_OPEN_STOPS = 2
"""So many of the reasons to stop are in sight, the gravest first; the rest folds."""
_WORK_OUT = re.compile(r"^## Work it out\n.*?(?=^## )", re.MULTILINE | re.DOTALL)
_BEHIND_STEPS = "## What good looks like\n"
_SYMPTOMS = re.compile(r'(?<=<h2 id="what-goes-wrong">)(.*?)(<table>.*?</table>)', re.DOTALL)
_HEADING = re.compile(r"<th[^>]*>(.*?)</th>", re.DOTALL)
_ROLES = {"table": "table", "thead": "rowgroup", "tbody": "rowgroup", "tr": "row", "th": "columnheader"}
_COMMON = re.compile(r"\s*\{cp\}")
_CLOCK = re.compile(r"\{clock (.+?)\}")
_STARTS = r'<button type="button" class="bench-clock" data-search-exclude hidden>Start the clock: \1</button>'
_FENCED = re.compile(r"(^ *(?:```|~~~).*?^ *(?:```|~~~) *$)", re.MULTILINE | re.DOTALL)
_PLACE = "common-practice"
_MARK = f'<sup class="cp" data-search-exclude><a href="#{_PLACE}" aria-label="common practice, no source">†</a></sup>'
_MEANING = (
    f'\n\n<p class="cp-meaning" id="{_PLACE}"><span aria-hidden="true">†</span> Common practice, no source.</p>\n'
)


def on_page_markdown(markdown: str, *, page: Page, **more: Any) -> str:
    """Fold what a procedure needs, and put what is worked out behind its steps."""
    markdown = _CLOCK.sub(_STARTS, marked(markdown))
    if "\n## Steps\n" not in markdown:
        return markdown
    if worked := _WORK_OUT.search(markdown):
        markdown = markdown.replace(worked[0], "").replace(_BEHIND_STEPS, worked[0] + _BEHIND_STEPS)
    return _TOOLS.sub(_folded, _STOPS.sub(_first_stops, markdown, count=1))


def on_page_content(content: str, *, page: Page, **more: Any) -> str:
    """Label the cells of a table of symptoms, so that a phone can show each row as a card."""
    return _SYMPTOMS.sub(lambda found: found[1] + _labelled(found[2]), content, count=1)


def marked(markdown: str) -> str:
    """Return a page in which each ``{cp}`` is a small mark, with its meaning once at the foot.

    Examples
    --------
    >>> marked("No mark.")
    'No mark.'
    >>> marked("Snug, no more. {cp}").count("Common practice, no source."), marked("a {cp} b {cp}").count("†</span>")
    (1, 1)
    """
    parts = _FENCED.split(markdown)
    marks = [_COMMON.sub(_MARK, part) if at % 2 == 0 else part for at, part in enumerate(parts)]
    return markdown if marks == parts else "".join(marks).rstrip("\n") + _MEANING


def _labelled(table: str) -> str:
    """Return a table whose cells name their column; its parts say what they are, for a card is laid out as no table."""
    headings = [html.escape(re.sub(r"<[^>]+>", "", cell)) for cell in _HEADING.findall(table)]
    rows = []
    for row in re.split(r"(?=<tr>)", table):
        cells = iter(headings)
        rows.append(re.sub(r"<td", lambda _, cells=cells: f'<td role="cell" data-label="{next(cells)}"', row))
    named = re.sub(r"<(table|thead|tbody|tr|th)\b", lambda tag: f'<{tag[1]} role="{_ROLES[tag[1]]}"', "".join(rows))
    return named.replace('<table role="table"', '<table class="symptoms" role="table"', 1)


def _first_stops(found: re.Match[str]) -> str:
    stops = found[2].splitlines(keepends=True)
    shown, rest = stops[:_OPEN_STOPS], stops[_OPEN_STOPS:]
    return (
        f'{found[1]}{"".join(shown)}\n<details class="fold more" markdown="1">'
        f"<summary data-search-exclude>{len(rest)} more reasons to stop</summary>\n\n{''.join(rest)}\n</details>\n"
    )


def _folded(found: re.Match[str]) -> str:
    title = "Tools, parts and limits" if "\n### Limits\n" in found["list"] else found[1]
    return (
        f'<details class="needs" id="tools-and-parts" markdown="1"><summary>{title}</summary>\n'
        f"{found['list']}\n</details>\n\n"
    )
