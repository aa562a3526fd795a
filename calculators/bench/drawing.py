"""SVG drawn from numbers. Looks are class names; the one stylesheet gives them colour in every theme."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import lru_cache, partial

from markupsafe import escape

LETTERS = 14.0
"""The size of words: on a screen of 320 pixels, which shows a figure from edge to edge, 13.2 of them."""
HATCH = {"iron": 4.0, "aluminium": 6.0}
"""How far apart the lines of the hatch stand, across."""


def _at(number: float) -> str:
    return f"{number:.5g}"  # a drawing is some hundred units wide, so to a hundredth of one at the least


class Drawing:
    """A drawing in its own units: x to the right, y down, text 14 units high at the least.

    A figure is 340 units wide, and the narrowest phone shows it 320 pixels wide: 14 units
    are 13 pixels there. Lines have four widths, as in the book's plates: what is in hand 3,
    outlines 2.2, leaders and scales 1.2, hatch 1. Blue is what is touched, turned or
    measured now; cut metal is hatched; no tint says anything. Words are escaped; looks and
    anchors are our own, and stand as they are.

    Parameters
    ----------
    width, height : float
    """

    def __init__(self, width: float, height: float) -> None:
        self._size = f"0 0 {_at(width)} {_at(height)}"
        self._shapes: list[str | Callable[[], str]] = []

    def line(self, x1: float, y1: float, x2: float, y2: float, look: str = "edge") -> None:
        self._shapes.append(f'<line class="{look}" x1="{_at(x1)}" y1="{_at(y1)}" x2="{_at(x2)}" y2="{_at(y2)}"/>')

    def rectangle(self, x: float, y: float, width: float, height: float, look: str = "part", round: float = 0) -> None:
        self._shapes.append(
            f'<rect class="{look}" x="{_at(x)}" y="{_at(y)}" '
            f'width="{_at(max(width, 0))}" height="{_at(max(height, 0))}" rx="{_at(round)}"/>'
        )

    def circle(self, x: float, y: float, radius: float, look: str = "part") -> None:
        self._shapes.append(f'<circle class="{look}" cx="{_at(x)}" cy="{_at(y)}" r="{_at(radius)}"/>')

    def path(self, points: list[tuple[float, float]], look: str = "edge", closed: bool = False) -> None:
        """Draw straight lines from point to point."""
        steps = " L".join(f"{_at(x)} {_at(y)}" for x, y in points)
        self._shapes.append(f'<path class="{look}" d="M{steps}{"Z" if closed else ""}"/>')

    def cut(self, points: list[tuple[float, float]], metal: str = "iron", look: str = "part") -> None:
        """Draw metal that is cut through: its outline, and the hatch inside."""
        self.path(points, look, closed=True)
        self._shapes.append(
            partial(_hatch, tuple(points), HATCH[metal])
        )  # most answers are only asked for their values

    def cut_box(self, x: float, y: float, width: float, height: float, metal: str = "iron", look: str = "part") -> None:
        """Draw a box of metal that is cut through."""
        self.cut([(x, y), (x + width, y), (x + width, y + height), (x, y + height)], metal, look)

    def facing(self, x: float, y: float, pulley: str = "left") -> None:
        """Say which way is up and where the pulley end lies, with the foot of the arrow at (x, y)."""
        self.arrow(x, y, x, y - 26)
        self.text(x + 8, y - 19, "up", anchor="start")
        left = pulley == "left"
        self.arrow(x, y, x - 30 if left else x + 30, y)
        self.text(x - 30 if left else x, y + 14, "pulley end", anchor="start")

    def arc(self, x: float, y: float, radius: float, start: float, turn: float, look: str = "edge") -> None:
        """Draw an arc: ``start`` and ``turn`` in degrees, from the top, clockwise positive."""
        steps = max(2, math.ceil(abs(turn) / 6))
        self.path([around(x, y, radius, start + turn * step / steps) for step in range(steps + 1)], look)

    def arrow(self, x1: float, y1: float, x2: float, y2: float, look: str = "arrow", head: float = 8) -> None:
        """Draw a straight arrow that ends at (x2, y2)."""
        angle = math.atan2(y2 - y1, x2 - x1)
        self.line(x1, y1, x2 - head * 0.8 * math.cos(angle), y2 - head * 0.8 * math.sin(angle), look)
        self.arrowhead(x2, y2, math.degrees(angle), look, head)

    def arrowhead(self, x: float, y: float, heading: float, look: str = "arrow", size: float = 8) -> None:
        """Draw a head with its tip at (x, y); ``heading`` in degrees from +x towards +y."""
        corners = [(x, y)]
        for side in (155, -155):
            angle = math.radians(heading + side)
            corners.append((x + size * math.cos(angle), y + size * math.sin(angle)))
        self.path(corners, f"{look} head", closed=True)

    def text(
        self, x: float, y: float, words: str, look: str = "words", anchor: str = "middle", size: float = LETTERS
    ) -> None:
        """Write words with their middle line at ``y``."""
        self._shapes.append(
            f'<text class="{look}" x="{_at(x)}" y="{_at(y + size * 0.35)}" text-anchor="{anchor}" '
            f'font-size="{_at(size)}">{escape(words)}</text>'
        )

    @contextmanager
    def mark(self, **facts: object) -> Iterator[None]:
        """Make one thing of what is drawn inside, which a page knows by these facts."""
        told = " ".join(f'data-{key}="{escape(fact)}"' for key, fact in facts.items())
        self._shapes.append(f"<g {told}>")
        yield
        self._shapes.append("</g>")

    def _inside(self) -> str:
        return "".join(shape if isinstance(shape, str) else shape() for shape in self._shapes)

    def svg(self, alternative: str, stamped: bool = False) -> str:
        """Return the drawing as SVG text, with what it shows in words; what is ``stamped`` keeps its point."""
        as_is = 'data-locale="as-is" ' if stamped else ""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{self._size}" class="bench-drawing" role="img" '
            f'{as_is}aria-label="{escape(alternative)}">{self._inside()}</svg>'
        )


@lru_cache(maxsize=128)
def _hatch(points: tuple[tuple[float, float], ...], pitch: float) -> str:
    """Return the hatch inside an outline."""
    lines = "".join(f"M{x:.1f} {y:.1f} L{p:.1f} {q:.1f}" for x, y, p, q in _hatched(points, pitch))
    return f'<path class="hatch" d="{lines}"/>' if lines else ""


def _hatched(points: tuple[tuple[float, float], ...], pitch: float) -> Iterator[tuple[float, float, float, float]]:
    """Yield lines at 45° that fill an outline, ``pitch`` apart."""
    step = pitch * math.sqrt(2)
    crossings: dict[int, list[float]] = {}
    before, x = sum(points[-1]), points[-1][0]
    for to, y in points:
        at = to + y
        lean = (to - x) / (at - before) if at != before else 0.0
        low, high = (before, at) if before < at else (at, before)
        for number in range(math.floor(low / step) + 1, math.floor(high / step) + 1):
            crossings.setdefault(number, []).append(x + (number * step - before) * lean)
        before, x = at, to
    for number, found in crossings.items():
        found.sort()
        for start, stop in zip(found[::2], found[1::2], strict=True):
            yield start, number * step - start, stop, number * step - stop


def width_about(words: str) -> float:
    """Return how wide words of the usual size run at the most, so that what stands beside them leaves room."""
    return sum(4.5 if letter in " .,:;" else 13.5 if letter in "%MWm×" else 9.6 for letter in words)


def within(x: float, words: str, width: float = 340) -> float:
    """Return where the middle of words stands, as near to ``x`` as the frame lets it."""
    half = width_about(words) / 2
    return min(max(x, half), width - half)


def around(x: float, y: float, radius: float, angle: float) -> tuple[float, float]:
    """Return the point at ``angle`` degrees from the top, clockwise, on a circle."""
    return x + radius * math.sin(math.radians(angle)), y - radius * math.cos(math.radians(angle))
