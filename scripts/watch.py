"""Build again while someone writes: only what a change shows in, in a process that waits for it.

What a build takes before it comes to the change, it has done by then: Python, MkDocs and the book's own code are
imported, the cards are read. Each process builds once, so that no build meets what another left.
"""

from __future__ import annotations

import os
import re
import select
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mkdocs.config.defaults import MkDocsConfig

ROOT = Path(__file__).resolve().parent.parent
SITE = ROOT / "build" / "site"
WATCHED = ("docs", "calculators", "scripts")
PAUSE = 0.2
"""Seconds between two looks at the files."""


def rebuild_on_change() -> None:
    """Build again whenever a page, an asset, a card, a calculator or a script is saved."""
    built, waiting = _state(), _waiting()
    while True:
        time.sleep(PAUSE)
        found = _state()
        if found == built:
            continue
        changed = {path for path in built.keys() | found.keys() if built.get(path) != found.get(path)}
        built, began = found, time.monotonic()
        if waiting.poll() is not None or not all(path.is_relative_to(ROOT / "docs") for path in changed):
            waiting.kill()  # it has imported what was there before
            waiting.wait()
            waiting = _waiting()
        waiting.communicate(_what_to_build(changed))
        took = f"{time.monotonic() - began:.1f} s"
        if waiting.returncode == 0:
            print(f"Built in {took}. Reload the page.", flush=True)
            waiting = _waiting()
        else:
            print("Not built.", flush=True)


def _state() -> dict[Path, int]:
    watched = (path for folder in WATCHED for path in (ROOT / folder).rglob("*"))
    return {path: path.stat().st_mtime_ns for path in watched if path.is_file() and "__pycache__" not in path.parts}


def _waiting() -> subprocess.Popen[str]:
    return subprocess.Popen([sys.executable, "-m", "scripts.watch"], cwd=ROOT, stdin=subprocess.PIPE, text=True)


def _what_to_build(changed: set[Path]) -> str:
    """Return how to build after a change: ``whole``, or ``dirty``, only the pages older than what they are made of."""
    asking = set()
    for path in changed:
        part, *rest = path.relative_to(ROOT).parts
        if part == "docs" and (path.suffix == ".md" or rest[0] == "assets"):
            continue  # a page is seen by its date; a script or a look stands in no page
        room = rest[0] if part == "calculators" and len(rest) > 1 else ""
        if not (ROOT / "calculators" / room / "__init__.py").is_file() or room in ("", "bench", "formulas"):
            return "whole"
        asking.add(room)
    asked = re.compile(rf"^\s*({'|'.join(asking)})(\.\w+)?$|\[\[({'|'.join(asking)})\.", re.MULTILINE)
    for page in (ROOT / "docs").rglob("*.md") if asking else ():
        built = SITE / page.relative_to(ROOT / "docs").with_suffix("" if page.stem != "index" else ".html")
        built = built if page.stem == "index" else built / "index.html"
        if built.is_file() and asked.search(page.read_text(encoding="utf-8")):
            os.utime(built, (0, 0))
    return "dirty"


def main() -> None:
    """Get all ready, wait to be told how to build, and do it; warnings are shown, and stop nothing."""
    os.environ["NO_MKDOCS_2_WARNING"] = "1"
    import logging

    from mkdocs.commands.build import build
    from mkdocs.config import load_config

    class Shown(logging.StreamHandler):  # type: ignore[type-arg]
        def filter(self, record: logging.LogRecord) -> bool:
            return "'dirty' build" not in record.getMessage()

    logging.getLogger("mkdocs").addHandler(Shown())
    config = load_config(str(ROOT / "mkdocs.yml"), strict=False)
    if not select.select([sys.stdin], [], [], 0)[0]:
        _get_ready(config)
    if how := sys.stdin.read():  # nothing where the server has ended
        config.plugins.on_startup(command="build", dirty=how == "dirty")
        build(config, dirty=how == "dirty")


def _get_ready(config: MkDocsConfig) -> None:
    """Read and compile what the build will ask for; what is saved after this is seen by its date."""
    from jinja2 import TemplateAssertionError

    from calculators.bench.question import questions
    from scripts.engine_cards import engine_card

    questions()
    for card in (ROOT / "docs" / "engines").glob("*.yml"):
        engine_card(card)
    templates = config.theme.get_env()
    for name in templates.list_templates(["html"]):
        with suppress(TemplateAssertionError):  # one that is for a plugin which is not in use
            templates.get_template(name)
    config.theme.get_env = lambda: templates  # type: ignore[method-assign]


if __name__ == "__main__":
    main()
