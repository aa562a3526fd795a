"""Puts drawings into pages, and refuses one that a reader could not use.

A drawing is SVG drawn by hand, in ``docs/drawings``, or drawn from numbers, in ``calculators/drawings``. It is about
as wide as a phone, so that one unit is about one pixel there; it says in words what it shows; and its looks are class
names alone, so that the one stylesheet gives them colour in every theme and in print.
"""

from __future__ import annotations

import html
import re
from pathlib import Path
from xml.etree import ElementTree

import yaml

from calculators import EngineCard
from calculators.drawings import drawn, follows_the_card, names
from calculators.drawings.kit.plate import NAMES, Plate

NARROWEST, WIDEST = 320, 360
SMALLEST_TEXT = 13
_SVG = "{http://www.w3.org/2000/svg}"
_SHAPES = {"line", "rect", "circle", "ellipse", "path", "polyline", "polygon"}
_WORDS = {"text", "tspan"}
_LEADS = "{http://www.w3.org/1999/xlink}href"
_LINK = {_LEADS, "role", "tabindex", "aria-hidden"}
_PLACES = {"x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "rx", "ry", "dx", "dy", "width", "height", "d", "points"}
_ATTRIBUTES = _PLACES | {"class", "transform", "font-size", "text-anchor"}
_MOVES = re.compile(r"\s*((translate|rotate)\([-\d.,\s]+\)\s*)*")
"""What a transform may do. A scale would make text smaller than its font-size says."""
_LOOKS_RULE = re.compile(r"\.bench-drawing\s+[a-z]*((?:\.[a-z-]+)+)")
_STEP = re.compile(r"(\d+)\.\s+\*\*")
_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


class DrawingError(Exception):
    """A drawing that cannot be shown: the file and the reason."""


def placed(markdown: str, page: str) -> str:
    r"""Tell each drawing of a procedure the step in which it stands; ``page`` is the tag of its page.

    Examples
    --------
    >>> print(placed("## Steps\n\n1. **Look.** So:\n\n    ```drawing\n    name: a-line\n    ```", "6·4"))
    ## Steps
    <BLANKLINE>
    1. **Look.** So:
    <BLANKLINE>
        ```drawing
        name: a-line
        at: 6·4/1
        ```
    """
    lines, step, inside = [], "", False
    for line in markdown.split("\n"):
        begun = _STEP.match(line)
        step = begun[1] if begun else "" if line.startswith("## ") else step
        if step and inside and line.strip() == "```":
            lines.append(line.replace("```", f"at: {page}/{step}"))
        inside = line.strip() == "```drawing" or (inside and line.strip() != "```")
        lines.append(line)
    return "\n".join(lines)


def asked_for(source: str) -> tuple[str, str]:
    """Return the drawing's name and its place from the text of a fence.

    Raises
    ------
    DrawingError

    Examples
    --------
    >>> asked_for("name: contact-line")
    ('contact-line', '')
    """
    try:
        wanted = yaml.safe_load(source)
    except yaml.YAMLError as error:
        raise DrawingError(f"a drawing block must be one line, like name: contact-line ({error})") from None
    if (
        not isinstance(wanted, dict)
        or list(wanted) not in (["name"], ["name", "at"])
        or not _NAME.fullmatch(str(wanted["name"]))
    ):
        raise DrawingError("a drawing block must be one line, like name: contact-line")
    return str(wanted["name"]), str(wanted.get("at", ""))


def captioned(figure: str, at: str) -> str:
    """Return a figure whose caption begins with the tag of its step."""
    return figure.replace("<figcaption>", f'<figcaption><span class="bench-at">{at}</span> ', 1) if at else figure


def looks(stylesheet: str) -> frozenset[str]:
    """Return the class names that a stylesheet gives a look inside a drawing.

    Examples
    --------
    >>> sorted(looks(".bench-drawing .edge { fill: none; } .bench-drawing .stud.first { fill: red; } .other { }"))
    ['edge', 'first', 'stud']
    """
    return frozenset(name for rule in _LOOKS_RULE.findall(stylesheet) for name in rule.strip(".").split("."))


def figure(path: Path, known: frozenset[str], prefix: str) -> str:
    """Return a drawing as a figure of a page.

    Parameters
    ----------
    path : Path
    known : frozenset of str
        The class names that the stylesheet knows; see `looks`.
    prefix : str
        Begins the ids of this figure, so that they are the only ones of their page.

    Raises
    ------
    DrawingError
    """
    if not path.is_file():
        there = sorted({*_names(path.parent), *names()})
        raise DrawingError(f"{path.name} is not among the drawings. There are: {', '.join(there)}")
    if path.stem in names():
        raise DrawingError(f"{path.name} is drawn twice: by hand here, and from numbers")
    try:
        return _figure(path.read_text(encoding="utf-8"), known, prefix)
    except (DrawingError, UnicodeDecodeError) as error:
        raise DrawingError(f"{path.name}: {error}") from None


def plate(name: str, card: EngineCard, known: frozenset[str], prefix: str) -> str:
    """Return a drawing that is drawn from numbers as a figure of a page.

    Parameters
    ----------
    name : str
        One of ``calculators.drawings.names``.
    card : EngineCard
        The engine of a drawing that follows the card.
    known, prefix
        As for `figure`.

    Raises
    ------
    DrawingError
    """
    shown = shown_plate(drawn(name, card), known, prefix)
    return shown.replace("<figure ", f'<figure data-drawing="{name}" ', 1) if follows_the_card(name) else shown


def shown_plate(of: Plate, known: frozenset[str], prefix: str) -> str:
    """Return a plate as a figure of a page; ``known`` and ``prefix`` as for `figure`."""
    try:
        return _figure(of.svg(), known, prefix, "bench-plate")
    except DrawingError as error:
        raise DrawingError(f"{of.title}: {error}") from None


def _names(folder: Path) -> list[str]:
    return sorted(path.stem for path in folder.glob("*.svg"))


def _figure(text: str, known: frozenset[str], prefix: str, kind: str = "bench-whole") -> str:
    if "<!" in text.replace("<!--", ""):
        raise DrawingError("a drawing declares nothing: no DOCTYPE, no entity, no CDATA")
    try:
        root = ElementTree.fromstring(text)  # noqa: S314 (a file of this repository, and nothing is declared in it)
    except ElementTree.ParseError as error:
        raise DrawingError(f"not well-formed XML: {error}") from None
    width, height = _size(root)
    title, description = _said(root)
    shapes = "".join(_checked(child, known, look=False, size=None) for child in list(root)[2:])
    role = "group" if "<a " in shapes else "img"  # what is inside an image, nobody hears
    return (
        f'<figure class="bench-figure {kind}">'
        f'<svg class="bench-drawing" viewBox="0 0 {width:g} {height:g}" role="{role}" data-search-exclude="" '
        f'aria-labelledby="{prefix}-title {prefix}-shows">'
        f'<title id="{prefix}-title">{html.escape(title)}</title>'
        f'<desc id="{prefix}-shows">{html.escape(description)}</desc>{shapes}</svg>'
        f"<figcaption>{html.escape(title)}</figcaption></figure>"
    )


def _size(root: ElementTree.Element) -> tuple[float, float]:
    """Return width and height of the frame."""
    if root.tag != f"{_SVG}svg":
        raise DrawingError("the outermost element must be an svg of http://www.w3.org/2000/svg")
    if set(root.attrib) != {"viewBox"}:
        raise DrawingError("the svg has a viewBox and nothing else; its looks and its size come from the stylesheet")
    try:
        left, top, width, height = map(float, root.attrib["viewBox"].split())
    except ValueError:
        raise DrawingError("viewBox must be four numbers, like 0 0 340 200") from None
    if left or top or not NARROWEST <= width <= WIDEST or not height > 0:
        raise DrawingError(f"viewBox must begin with 0 0 and be {NARROWEST} to {WIDEST} wide, like 0 0 340 200")
    return width, height


def _said(root: ElementTree.Element) -> tuple[str, str]:
    """Return the title, and what the drawing shows, in words."""
    if [child.tag for child in root[:2]] != [f"{_SVG}title", f"{_SVG}desc"]:
        raise DrawingError("the first two elements must be title and desc")
    title, description = (" ".join((child.text or "").split()) for child in root[:2])
    if not title or len(description) <= len(title):
        raise DrawingError("title must name the drawing, and desc must say what it shows to one who cannot see it")
    return title, description


def _checked(element: ElementTree.Element, known: frozenset[str], look: bool, size: float | None) -> str:
    """Return an element and all in it as HTML; ``look`` and ``size`` are what it has from those around it."""
    name = element.tag.removeprefix(_SVG)
    leads = name == "a" and element.get(_LEADS, "").startswith(NAMES)
    if name not in _SHAPES | _WORDS | {"g"} and not leads:
        raise DrawingError(f"{name} is not allowed: a drawing is shapes, text, groups, and links to the names of parts")
    for attribute in sorted(set(element.attrib) - (_LINK if leads else _ATTRIBUTES)):
        raise DrawingError(
            f"{name} has {attribute}: only places, class, transform, font-size and text-anchor may stand"
        )
    if not _MOVES.fullmatch(element.get("transform", "")):
        raise DrawingError(f"transform {element.get('transform')!r}: only translate and rotate are allowed")
    classes = element.get("class", "").split()
    for unknown in sorted(set(classes) - known):
        raise DrawingError(f"class {unknown} has no look under .bench-drawing in bench.css")
    look = look or bool(classes)
    if name in _SHAPES and not look:
        raise DrawingError(f"a {name} has no class: it would be black in every theme")
    size = _text_size(element, size)
    if name in _WORDS and not (size or 0) >= SMALLEST_TEXT:
        raise DrawingError(f"text {_first_words(element)!r} needs a font-size of {SMALLEST_TEXT} or more")
    if name not in _WORDS and ((element.text or "").strip() or any((child.tail or "").strip() for child in element)):
        raise DrawingError(f"words stand loose in a {name}: put them in a text")
    attributes = "".join(
        f' {"xlink:href" if key == _LEADS else key}="{html.escape(value)}"' for key, value in element.items()
    )
    inside = html.escape(element.text or "", quote=False) if name in _WORDS else ""
    for child in element:
        inside += _checked(child, known, look, size)
        inside += html.escape(child.tail or "", quote=False) if name in _WORDS else ""
    return f"<{name}{attributes}>{inside}</{name}>"


def _text_size(element: ElementTree.Element, around: float | None) -> float | None:
    typed = element.get("font-size")
    if typed is None:
        return around
    try:
        return float(typed)
    except ValueError:
        raise DrawingError(f"font-size {typed!r} must be a plain number, like {SMALLEST_TEXT}") from None


def _first_words(element: ElementTree.Element) -> str:
    return " ".join("".join(element.itertext()).split())[:30]
