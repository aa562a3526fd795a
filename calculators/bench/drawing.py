"""SVG drawn from numbers. Looks are class names; the one stylesheet gives them colour in every theme."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager

from markupsafe import escape


def _at(number: float) -> str:
    return f"{number:.5g}"  # a drawing is some hundred units wide, so to a hundredth of one at the least


class Drawing:
    """A drawing in its own units: x to the right, y down, text 13 units high at the least.

    A figure is shown at most about 340 units wide on a phone, so that one unit is
    about one pixel there and what is legible here is legible at the car. Words are
    escaped; looks and anchors are our own, and stand as they are.

    Parameters
    ----------
    width, height : float
    """

    def __init__(self, width: float, height: float) -> None:
        self._size = f"0 0 {_at(width)} {_at(height)}"
        self._shapes: list[str] = []

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
        self, x: float, y: float, words: str, look: str = "words", anchor: str = "middle", size: float = 13
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

    def svg(self, alternative: str, stamped: bool = False) -> str:
        """Return the drawing as SVG text, with what it shows in words; what is ``stamped`` keeps its point."""
        as_is = 'data-locale="as-is" ' if stamped else ""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{self._size}" class="bench-drawing" role="img" '
            f'{as_is}aria-label="{escape(alternative)}">{"".join(self._shapes)}</svg>'
        )


def around(x: float, y: float, radius: float, angle: float) -> tuple[float, float]:
    """Return the point at ``angle`` degrees from the top, clockwise, on a circle."""
    return x + radius * math.sin(math.radians(angle)), y - radius * math.cos(math.radians(angle))
