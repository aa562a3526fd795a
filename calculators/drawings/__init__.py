"""The drawings of the book that are drawn from numbers: one a module, found by its name.

A module has ``draw``, which returns its plate. Where it takes an engine, the drawing is drawn from an engine
card: in the book from the card that fills the pages, in the browser from the reader's own.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from collections.abc import Callable

from calculators._engine_card import EngineCard
from calculators.drawings.kit.engine import Engine
from calculators.drawings.kit.plate import Plate

__all__ = ["drawn", "follows_the_card", "names"]


def names() -> list[str]:
    """Return the names of all drawings, as a fence writes them."""
    return sorted(found.name.replace("_", "-") for found in pkgutil.iter_modules(__path__) if not found.ispkg)


def follows_the_card(name: str) -> bool:
    """Tell whether a drawing is another for another engine."""
    return bool(inspect.signature(_draw(name)).parameters)


def drawn(name: str, card: EngineCard) -> Plate:
    """Return a drawing by its name, for an engine."""
    draw = _draw(name)
    return draw(Engine.of(card)) if follows_the_card(name) else draw()


def _draw(name: str) -> Callable[..., Plate]:
    draw: Callable[..., Plate] = importlib.import_module(f"{__name__}.{name.replace('-', '_')}").draw
    return draw
