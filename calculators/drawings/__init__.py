"""The drawings of the book that are drawn from numbers: one a module, found by its name.

A module has ``draw``, which returns its plate. Where it takes an engine, the drawing is drawn from an engine
card: in the book from the card that fills the pages, in the browser from the reader's own.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING

from calculators.bench.card import EngineCard
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.plate import Plate

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["drawn", "follows_the_card", "names", "sources"]


@cache
def names() -> tuple[str, ...]:
    """Return the names of all drawings, as a fence writes them: found, not listed."""
    files = _folder().glob("*.py")
    return tuple(sorted(path.stem.replace("_", "-") for path in files if not path.stem.startswith("_")))


def follows_the_card(name: str) -> bool:
    """Tell whether a drawing is another for another engine."""
    return bool(_draw(name).__code__.co_argcount)


def drawn(name: str, card: EngineCard) -> Plate:
    """Return a drawing by its name, for an engine."""
    return _draw(name)(Engine.of(card)) if follows_the_card(name) else _draw(name)()


def sources() -> dict[str, str]:
    """Return what the browser needs to draw again what follows the card: the source of each module by its name."""
    kit = sorted((_folder() / "kit").glob("*.py"))
    following = [_folder() / f"{name.replace('-', '_')}.py" for name in names() if follows_the_card(name)]
    found = {}
    for path in (_folder() / "__init__.py", *kit, *following):
        place = path.relative_to(_folder()).with_suffix("").parts
        found[".".join((__name__, *(part for part in place if part != "__init__")))] = path.read_text(encoding="utf-8")
    return found


def _folder() -> Path:
    from pathlib import Path  # not at the top: the browser's memory is without it, and draws all the same

    return Path(__file__).parent


def _draw(name: str) -> Callable[..., Plate]:
    draw: Callable[..., Plate] = importlib.import_module(f"{__name__}.{name.replace('-', '_')}").draw
    return draw
