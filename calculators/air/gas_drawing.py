"""What an analyser reads, on its two scales: λ from rich to lean, and CO beside the maker's band."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from calculators.bench import Drawing, Figure
from calculators.bench.units import figures

_LEFT, _RIGHT = 24.0, 316.0
_LEAST, _MOST = 0.70, 1.30
_EDGES = (0.80, 0.92, 1.00, 1.08)
_Read = tuple[float, float | None]


@lru_cache(maxsize=32)
def gas_scales(ratio: _Read | None, monoxide: _Read | None, band: tuple[float | None, float | None]) -> Figure:
    """Draw λ and CO, each a pointer on its scale; what was not read is left out.

    Parameters
    ----------
    ratio, monoxide : (float, float or None), optional
        Best estimate and ±; CO in per cent.
    band : (float or None, float or None), [%]
        Least and most CO at idle.
    """
    scaled = monoxide is not None and band != (None, None)
    rows = [row for row, there in (("ratio", ratio is not None), ("co", scaled)) if there]
    drawing = Drawing(340, 14 + 96 * len(rows))
    said = []
    for place, row in enumerate(rows):
        y = 60.0 + 96 * place
        if row == "ratio" and ratio:
            _ratio(drawing, y, ratio)
            said.append(f"λ {figures(ratio[0], 2)} on a scale from rich to lean")
        elif monoxide:
            _monoxide(drawing, y, monoxide, band)
            ends = " to ".join(figures(end, 1) for end in band if end is not None)
            said.append(f"CO {figures(monoxide[0], 1)}% beside the maker's {ends}%")
    return Figure(
        key="gas",
        title="What the analyser read; the line under each pointer is its uncertainty",
        svg=drawing.svg(f"{'; '.join(said)}."),
    )


def _ratio(drawing: Drawing, y: float, ratio: _Read) -> None:
    def across(at: float) -> float:
        return _LEFT + (min(max(at, _LEAST), _MOST) - _LEAST) / (_MOST - _LEAST) * (_RIGHT - _LEFT)

    drawing.rectangle(across(0.92), y, across(1.08) - across(0.92), 14, "band")
    drawing.rectangle(_LEFT, y, _RIGHT - _LEFT, 14, "thin")
    for edge in _EDGES:
        drawing.line(across(edge), y, across(edge), y + 18, "edge")
        drawing.text(across(edge), y + 28, figures(edge, 2), "words")
    drawing.text(_LEFT, y - 40, "λ: rich", "words", "start")
    drawing.text(_RIGHT, y - 40, "lean", "words", "end")
    _pointer(drawing, y, across, ratio, figures(ratio[0], 2))


def _monoxide(drawing: Drawing, y: float, monoxide: _Read, band: tuple[float | None, float | None]) -> None:
    low, high = band
    top = max(1.25 * max(end for end in (monoxide[0], low, high) if end is not None), 0.5)

    def across(at: float) -> float:
        return _LEFT + min(max(at, 0.0), top) / top * (_RIGHT - _LEFT)

    start, end = across(low or 0.0), across(high if high is not None else top)
    drawing.rectangle(start, y, end - start, 14, "band")
    drawing.rectangle(_LEFT, y, _RIGHT - _LEFT, 14, "thin")
    close = end - start < 44
    for limit, outward in ((low, "end"), (high, "start")):
        if limit is not None:
            drawing.line(across(limit), y, across(limit), y + 18, "edge")
            if limit != low or outward == "end":
                drawing.text(
                    max(across(limit), 40 if close and limit != high else 0),
                    y + 28,
                    f"{figures(limit, 1)}%",
                    anchor=outward if close and low != high else "middle",
                )
    drawing.text(_LEFT, y - 40, "CO at idle; band: the maker's", "words", "start")
    _pointer(drawing, y, across, monoxide, f"{figures(monoxide[0], 1)}%")


def _pointer(drawing: Drawing, y: float, across: Callable[[float], float], read: _Read, words: str) -> None:
    best, spread = read
    x = across(best)
    drawing.line(across(best - (spread or 0.0)), y + 7, across(best + (spread or 0.0)), y + 7, "arrow")
    drawing.arrow(x, y - 14, x, y, "arrow")
    drawing.text(min(max(x, 20), 320), y - 22, words, "number", size=16)
