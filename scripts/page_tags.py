"""MkDocs hook: gives each page of the job its tag, stage · place: 6·4 is Build, the fourth."""

from __future__ import annotations

from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page

STAGES = 8
"""So many sections of the navigation, from its beginning, are the job in its order."""


def tags(nav: list[dict[str, Any]]) -> dict[str, str]:
    """Return the tag of each page of the job by its path.

    Examples
    --------
    >>> tags([{"Home": "index.md"}, {"Start": [{"Safety": "safety.md"}, {"Plan": "plan.md"}]}])
    {'safety.md': '1·1', 'plan.md': '1·2'}
    """
    sections = [pages for entry in nav for pages in entry.values() if isinstance(pages, list)]
    return {
        path: f"{stage}·{place}"
        for stage, pages in enumerate(sections[:STAGES], 1)
        for place, page in enumerate(pages, 1)
        for path in page.values()
    }


def on_page_markdown(markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Put the page's tag above its title."""
    tag = tags(config.nav or []).get(page.file.src_uri)
    if tag is None:
        return markdown
    steps = '<a class="bench-resume" href="#steps">To step 1</a>' if "\n## Steps\n" in markdown else ""
    return f'<p class="bench-tags" data-search-exclude><span class="bench-tag">{tag}</span>{steps}</p>\n\n{markdown}'
