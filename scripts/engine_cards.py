"""An engine card as the build reads it: each once, however many pages show something of it."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from calculators import EngineCard, read_card


@cache
def _as_saved(path: Path, saved: int) -> EngineCard:
    return read_card(path)


def engine_card(path: Path) -> EngineCard:
    """Return the card in a file, read again only when it was saved again."""
    return _as_saved(path, path.stat().st_mtime_ns if path.is_file() else 0)
