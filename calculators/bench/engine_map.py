"""The engine from above, pulley towards the reader, as the map of the job: its parts lead to their pages."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from markupsafe import escape

_LINE = 84.0
"""From one cylinder of a bank to the next."""
_LEFT, _RIGHT = (88.0, 156.0), (236.0, 304.0)
"""Where the barrels of each bank lie, inner and outer edge."""


def engine_map(banks: Sequence[Sequence[int]], links: Mapping[str, tuple[str, str]], title: str) -> str:
    """Return the map as SVG text.

    Parameters
    ----------
    banks : sequence of sequences of int
        The cylinders of each bank, counted from the pulley end; the first bank lies to the left. One bank alone
        lies to the right.
    links : mapping of str to (str, str)
        For ``head``, ``barrel``, ``case``, ``cover`` and ``pulley``: the tag of its page, or what is there, and its
        address; the number of the cylinder stands for ``{}`` in that of a barrel. A part without one leads nowhere.
    title : str
        What the map is called for who hears it.
    """
    left, right = (banks[0], banks[1]) if len(banks) == 2 else ((), tuple(sum(map(tuple, banks), ())))
    rows = max(len(left), len(right))
    length = _LINE * rows + 8
    case_top, case_end = 8.0, 8.0 + length + 16
    parts = [
        _linked(links.get("case"), "Crankcase", _box(156, case_top, 80, length + 16, "edge")),
        _linked(
            links.get("pulley"),
            "Pulley",
            _box(186, case_end, 20, 14, "edge")
            + _box(150, case_end + 14, 92, 16, "edge", 3)
            + _tag(254, case_end + 10, links.get("pulley")),
        ),
    ]
    for bank, (inner, outer), side in ((left, (156.0, 88.0), -1), (right, (236.0, 304.0), 1)):
        if not bank:
            continue
        for place, number in enumerate(bank):
            y = case_top + 12 + _LINE * (rows - 1 - place)
            x = min(inner, outer)
            fins = "".join(
                f'<line class="thin" x1="{at:g}" y1="{y - 3:g}" x2="{at:g}" y2="{y + 71:g}"/>'
                for at in (x + 8.5 * fin for fin in range(1, 8))
            )
            shape = _box(x, y, 68, 68, "edge") + fins + f'<circle class="stud" cx="{x + 34}" cy="{y + 34}" r="17"/>'
            shape += (
                f'<text class="number" x="{x + 34}" y="{y + 40}" text-anchor="middle" font-size="18">{number}</text>'
            )
            called, address = links["barrel"]
            parts.append(_linked((called, address.format(number)), f"Cylinder {number}", shape, cylinder=number))
        head, cover = (outer - 34, outer - 54) if side < 0 else (outer, outer + 34)
        low = case_top + 4 + _LINE * (rows - len(bank))
        tall = _LINE * len(bank)
        parts.append(
            _linked(
                links.get("cover"),
                f"Rocker cover {'left' if side < 0 else 'right'}",
                _box(cover, low + 6, 20, tall - 12, "edge", 6),
            )
        )
        middle = head + 17
        shape = _box(head, low, 34, tall, "edge") + _tag(middle - 26, low + tall / 2 - 12, links.get("head"))
        parts.append(_linked(links.get("head"), f"Cylinder head {'left' if side < 0 else 'right'}", shape))
    height = case_end + 40
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="30 0 332 {height:.0f}" '
        f'class="bench-drawing bench-map rows-{rows}" '
        f'role="group" aria-label="{escape(title)}">{"".join(parts)}</svg>'
    )


def _box(x: float, y: float, width: float, height: float, look: str, round_: float = 0) -> str:
    rx = f' rx="{round_}"' if round_ else ""
    return f'<rect class="{look}" x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}"{rx}/>'


def _tag(x: float, y: float, link: tuple[str, str] | None) -> str:
    """Draw a parts tag: one clipped corner and a hole."""
    if not link:
        return ""
    text = link[0]
    width, height = 52.0, 24.0
    outline = f"M{x + 8:g} {y:g} H{x + width:g} V{y + height:g} H{x:g} V{y + 8:g} Z"
    return (
        f'<path class="tag" d="{outline}"/><circle class="hole" cx="{x + 10:g}" cy="{y + 12:g}" r="2.2"/>'
        f'<text class="tag-words" x="{x + 31:g}" y="{y + 17:g}" text-anchor="middle" font-size="14">'
        f"{escape(text)}</text>"
    )


def _linked(link: tuple[str, str] | None, name: str, shape: str, cylinder: int | None = None) -> str:
    if not link:
        return f"<g>{shape}</g>"
    tag, address = link
    at = f' data-cylinder-of="{cylinder}"' if cylinder else ""
    # the older name of the attribute: the theme's own script takes every other link for one of HTML
    label = f"{escape(name)}: {escape(tag)}"
    return f'<a role="link" tabindex="0" xlink:href="{escape(address)}" aria-label="{label}"{at}>{shape}</a>'
