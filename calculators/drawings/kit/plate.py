"""A plate: what one drawing holds, in the order it is painted, with its labels, its title and what it says."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import NamedTuple

from markupsafe import escape

from calculators.drawings.kit.letters import width_of
from calculators.drawings.kit.path import Path, Point, arc, around, closed, curve, disc, hatched, line

WIDTH = 320.0
LETTERS = 15.0
"""The size of all words: on a page that leaves a drawing 288 pixels, 13.5 of them."""
IN_THE_ENGINE = "in the engine, from the pulley end"
ON_THE_BENCH = "on the bench"
FACE_ON = "face on"

HATCH = {"iron": 4.0, "aluminium": 6.0}
LOOKS = {
    "outline": "ink-outline",
    "open": "ink-line",
    "solid": "ink-solid",
    "held": "blue-outline",
    "held-open": "blue-line",
    "held-solid": "blue-solid",
    "fine": "fine",
    "hatch": "hatch",
    "blank": "paper",
    "right": "right",
    "wrong": "wrong",
}
"""What each look is called in the stylesheet."""
NAMES = "../../reference/names-of-the-parts/#"
"""Where the names of parts are told, seen from any page two folders deep."""
REACH = 54.0
"""How high and wide what is tapped is at least: on a page that leaves a drawing 288 pixels, 48 of them."""
CLOSED = {"outline", "held", "held-solid", "solid", "blank"}
"""The looks that hide what was painted before."""


class Piece(NamedTuple):
    """One outline or line with its look; ``cut`` names the metal that is cut through there."""

    path: Path
    look: str = "outline"
    cut: str = ""

    def shaped(self, path: Path) -> Piece:
        return Piece(path, self.look, self.cut)


class Part(NamedTuple):
    """A named part: its first piece is its outline."""

    name: str
    pieces: tuple[Piece, ...]

    def _changed(self, paths: Iterable[Path]) -> Part:
        return Part(self.name, tuple(piece.shaped(path) for piece, path in zip(self.pieces, paths, strict=True)))

    def moved(self, x: float, y: float) -> Part:
        return self._changed(piece.path.moved(x, y) for piece in self.pieces)

    def turned(self, degrees: float) -> Part:
        return self._changed(piece.path.turned(degrees) for piece in self.pieces)

    def scaled(self, by: float, across: float | None = None) -> Part:
        return self._changed(piece.path.scaled(by, across) for piece in self.pieces)

    def mirrored(self) -> Part:
        """Turn left into right."""
        return self.scaled(-1, 1)

    def in_hand(self) -> Part:
        """Return the part in marking blue: what is touched, turned or measured now."""
        blue = {"outline": "held", "open": "held-open", "solid": "held-solid"}
        return Part(self.name, tuple(Piece(p.path, blue.get(p.look, p.look), p.cut) for p in self.pieces))


class Label(NamedTuple):
    """Words, the box they stand in, and where their leader ends."""

    words: str
    x: float
    y: float
    width: float
    height: float
    boxed: bool
    leader: tuple[Point, ...] = ()
    part: str = ""
    through: tuple[str, ...] = ()


class Plate:
    """One drawing.

    Parameters
    ----------
    title : str
        What it is called.
    shows : str
        What it shows and asks, for who cannot see it.
    height : float
    pose : str
        How the reader stands to it, named in the corner.
    named : bool
        Each tag is the name of a part and leads to what is told of it, and so does the part of that name.
    """

    def __init__(self, title: str, shows: str, height: float, pose: str = "", named: bool = False) -> None:
        self.title, self.shows, self.height, self.pose, self.named = title, shows, height, pose, named
        self.painted: list[tuple[str, Piece]] = []
        self.labels: list[Label] = []
        if pose:
            self.words(0, 9, pose, "start")

    def put(self, part: Part, x: float = 0, y: float = 0) -> Plate:
        for piece in part.moved(x, y).pieces:
            self.draw(piece.path, piece.look, piece.cut, part.name)
        return self

    def draw(self, path: Path, look: str = "outline", cut: str = "", name: str = "") -> Plate:
        self.painted.append((name, Piece(path, look)))
        if cut == "rubber":
            self.painted[-1] = (name, Piece(path, "held-solid" if look.startswith("held") else "solid"))
        elif cut:
            self.painted.append((name, Piece(hatched(path, HATCH[cut]), "hatch")))
        return self

    def words(self, x: float, y: float, words: str, anchor: str = "middle") -> Plate:
        """Write words with their middle line at ``y``."""
        width = width_of(words, LETTERS)
        left = x - width * {"start": 0, "middle": 0.5, "end": 1}[anchor]
        self.labels.append(Label(words, left, y - LETTERS / 2, width, LETTERS, boxed=False))
        return self

    def tag(self, x: float, y: float, words: str, to: Sequence[Point], part: str, through: Sequence[str] = ()) -> Plate:
        """Hang a parts tag with its middle at (x, y); its leader goes by the points ``to`` and ends in a dot.

        ``part`` is what the dot lies in, and ``through`` the parts in front of it that the leader may pass. Without
        points the tag lies on its part.
        """
        width, height = width_of(words, LETTERS) + 22, 22.0
        left, top = x - width / 2, y - height / 2
        if not to:
            self.labels.append(Label(words, left, top, width, height, True, (), part))
            return self
        aim = to[0]
        start = (min(max(aim[0], left + 8), left + width - 8), min(max(aim[1], top), top + height))
        if top < aim[1] < top + height:
            start = (left if aim[0] < left else left + width, aim[1])
        self.labels.append(Label(words, left, top, width, height, True, (start, *to), part, tuple(through)))
        return self

    def arrow(self, *points: Point, look: str = "open", head: float = 9) -> Plate:
        """Draw an arrow along the points; held, it is what the hand does now."""
        path = curve(*points) if len(points) > 2 else line(*points)
        strokes = path.lines()[0]
        tip, before = strokes[-1], strokes[-2]
        return self._arrow(path, tip, math.atan2(tip[1] - before[1], tip[0] - before[0]), look, head)

    def turn(self, x: float, y: float, radius: float, start: float, by: float, look: str = "held-open") -> Plate:
        """Draw a turn about (x, y): from ``start`` by so many degrees, clockwise positive."""
        tip = around(x, y, radius, start + by)
        heading = math.radians(start + by) + (0 if by > 0 else math.pi) - math.copysign(9 / radius / 2, by)
        return self._arrow(arc(x, y, radius, start, by - math.copysign(5 / radius * 57, by)), tip, heading, look, 9)

    def _arrow(self, path: Path, tip: Point, heading: float, look: str, head: float) -> Plate:
        corners = [tip]
        for side in (math.radians(156), math.radians(-156)):
            corners.append((tip[0] + head * math.cos(heading + side), tip[1] + head * math.sin(heading + side)))
        self.draw(path, look)
        return self.draw(closed(*corners), "held-solid" if look.startswith("held") else "solid")

    def right(self, x: float, y: float, words: str = "") -> Plate:
        """Set a tick: this is how it should be."""
        self.draw(line((x - 8, y + 1), (x - 2.5, y + 7), (x + 8, y - 7)), "right")
        return self.words(x + 14, y, words, "start") if words else self

    def wrong(self, x: float, y: float, words: str = "") -> Plate:
        """Set a cross: this is how it must not be."""
        self.draw(line((x - 7, y - 7), (x + 7, y + 7)) + line((x + 7, y - 7), (x - 7, y + 7)), "wrong")
        return self.words(x + 14, y, words, "start") if words else self

    def up(self, x: float, y: float, pulley: str = "left") -> Plate:
        """Say which way is up and where the pulley end lies, with the foot of the arrow at (x, y)."""
        self.arrow((x, y), (x, y - 26))
        self.words(x + 7, y - 20, "up", "start")
        end = x - 30 if pulley == "left" else x + 30
        self.arrow((x, y), (end, y))
        return self.words(x - 30 if pulley == "left" else x, y + 13, "pulley end", "start")

    def svg(self) -> str:
        """Return the plate as SVG text: title, what it shows, shapes by the names of their looks, words."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
            f'viewBox="0 0 {WIDTH:g} {self.height:g}">'
            f"<title>{escape(self.title)}</title><desc>{escape(self.shows)}</desc>{self.inside()}</svg>"
        )

    def inside(self) -> str:
        """Return shapes and words alone."""
        parts = {label.words for label in self.labels if label.boxed} if self.named else set()
        inside = ""
        for name, pieces in groupby(self.painted, lambda painted: painted[0]):
            shapes = "".join(f'<path class="{LOOKS[p.look]}" d="{p.path.text()}"/>' for _, p in pieces if p.path.steps)
            # a key comes to a part by its tag alone
            inside += f'<a tabindex="-1" aria-hidden="true" {_leads(name)}>{shapes}</a>' if name in parts else shapes
        for label in self.labels:
            if label.leader:
                ends = disc(*label.leader[-1], 2.6).text()
                inside += f'<path class="leader" d="{line(*label.leader).text()}"/><path class="dot" d="{ends}"/>'
        # keys go from tag to tag as an eye does
        labels = sorted(self.labels, key=lambda label: (label.y, label.x)) if self.named else self.labels
        for label in labels:
            drawn = _label(label)
            if self.named and label.boxed:
                drawn = f'<a role="link" tabindex="0" {_leads(label.words)}>{_reach(label)}{drawn}</a>'
            inside += drawn
        return inside


def _leads(name: str) -> str:
    # the older name of the attribute: the theme's own script takes every other link for one of HTML
    return f'xlink:href="{NAMES}{name}"'


def _reach(label: Label) -> str:
    """Return what a finger may touch round a tag."""
    x, y, width, height = reach_of(label)
    return f'<rect class="reach" x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}"/>'


def reach_of(label: Label) -> tuple[float, float, float, float]:
    """Return left, top, width and height of what a finger may touch round a tag, all of it inside the frame's sides."""
    width, height = max(label.width, REACH), max(label.height, REACH)
    x = label.x - (width - label.width) / 2
    return max(0.0, min(x, WIDTH - width)), label.y - (height - label.height) / 2, width, height


def _label(label: Label) -> str:
    middle = label.y + label.height / 2
    text = (
        f'<text class="label" x="{label.x + (17 if label.boxed else 0):.1f}" y="{middle + LETTERS * 0.35:.1f}" '
        f'font-size="{LETTERS:g}">{escape(label.words)}</text>'
    )
    if not label.boxed:
        return text
    x, y, right, foot = label.x, label.y, label.x + label.width, label.y + label.height
    frame = closed((x + 7, y), (right, y), (right, foot), (x, foot), (x, y + 7))
    return f'<path class="tag-box" d="{frame.text()}"/><path class="dot" d="{disc(x + 9, middle, 2).text()}"/>{text}'
