"""MkDocs hook: a room that has no page of its own under Work it out gets one, and its line in the navigation."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files

from calculators.bench.question import room_title, rooms

FOLDER = "work-it-out"
_PAGE = "---\nhide:\n  - toc\n---\n\n# {title}\n\n```room\n{room}\n```\n"


def made(docs: Path) -> dict[str, str]:
    """Return the rooms for which nobody has written a page, by the path of the one that the build makes."""
    places = {f"{FOLDER}/{room.replace('_', '-')}.md": room for room in rooms()}
    return {path: room for path, room in places.items() if not (docs / path).exists()}


def with_rooms(nav: list[dict[str, Any]], made: dict[str, str]) -> list[dict[str, Any]]:
    """Return the navigation with the pages that the build makes behind the others of their kind.

    Examples
    --------
    >>> with_rooms([{"Work it out": ["work-it-out/index.md"]}], {"work-it-out/torque.md": "torque"})
    [{'Work it out': ['work-it-out/index.md', {'Torque and order': 'work-it-out/torque.md'}]}]
    """
    lines = [{room_title(room): path} for path, room in made.items()]
    return [
        {name: [*pages, *lines] if f"{FOLDER}/index.md" in pages else pages for name, pages in entry.items()}
        if isinstance(entry, dict)
        else entry
        for entry in nav
    ]


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    """Add the lines of the rooms that have none."""
    config.nav = with_rooms(config.nav or [], made(Path(config.docs_dir)))
    return config


def on_files(files: Files, *, config: MkDocsConfig) -> Files:
    """Add the pages of the rooms that have none."""
    for path, room in made(Path(config.docs_dir)).items():
        files.append(File.generated(config, path, content=_PAGE.format(title=room_title(room), room=room)))
    return files
