"""MkDocs hook: gives each page of the job its tag, stage · place: 6·4 is Build, the fourth."""

from __future__ import annotations

from typing import Any

from mkdocs.config.defaults import MkDocsConfig
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


def on_post_page(output: str, *, page: Page, config: MkDocsConfig) -> str:
    """Put the page's tag above its title: behind the search's back, for which a page begins with its title."""
    tag = tags(config.nav or []).get(page.file.src_uri)
    if tag is None:
        return output
    steps = '<a class="bench-resume" href="#steps">To step 1</a>' if 'id="steps"' in output else ""
    line = f'<p class="bench-tags"><span class="bench-tag">{tag}</span>{steps}</p>'
    return output.replace("<h1", f"{line}<h1", 1)
