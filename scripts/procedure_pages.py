"""MkDocs hook: brings step 1 of a procedure near its title: tools fold to a line, what is worked out comes behind."""

from __future__ import annotations

import re
from typing import Any

from mkdocs.structure.pages import Page

_TOOLS = re.compile(r"^## (Tools and parts)\n(?P<list>.*?)(?=^## )", re.MULTILINE | re.DOTALL)
_WORK_OUT = re.compile(r"^## Work it out\n.*?(?=^## )", re.MULTILINE | re.DOTALL)
_BEHIND_STEPS = "## What good looks like\n"


def on_page_markdown(markdown: str, *, page: Page, **more: Any) -> str:
    """Fold what a procedure needs, and put what is worked out behind its steps."""
    if "\n## Steps\n" not in markdown:
        return markdown
    if worked := _WORK_OUT.search(markdown):
        markdown = markdown.replace(worked[0], "").replace(_BEHIND_STEPS, worked[0] + _BEHIND_STEPS)
    return _TOOLS.sub(_folded, markdown)


def _folded(found: re.Match[str]) -> str:
    title = "Tools, parts and limits" if "\n### Limits\n" in found["list"] else found[1]
    return (
        f'<details class="needs" id="tools-and-parts" markdown="1"><summary>{title}</summary>\n'
        f"{found['list']}\n</details>\n\n"
    )
