"""The blade that must go in and the one that must not, for each kind of valve."""

from __future__ import annotations

from collections.abc import Mapping

from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    Drawing,
    Figure,
    Quantity,
    Question,
    Value,
    quantity,
    shared,
)
from calculators.bench.units import figures, plain
from calculators.bench.words import word
from calculators.formulas.base_circle import KINDS, Kind
from calculators.formulas.feeler_blades import MOST_BLADES, Stack
from calculators.lash.asked import allowance, blades
from calculators.lash.cautions import MAKER_WINS, TOO_CLOSE
from calculators.lash.feelers import Pair, pair_cautions, pair_for, pair_values, stack_for
from calculators.lash.stop_words import SHORT_WORDS


class ProvingBlades(Question):
    """Assumes that each blade is as thick as stamped; at most three are held together."""

    asks = "Which blades do I check the gap with?"
    tells = "Feeler blades for the gap"

    inlet_clearance = shared.inlet_clearance()
    exhaust_clearance = shared.exhaust_clearance()
    allowance = allowance()
    blades = blades()

    def answer(self) -> Answer:
        wanted: dict[Kind, Quantity] = {"inlet": self.inlet_clearance, "exhaust": self.exhaust_clearance}
        pairs = {kind: pair_for(gap, self.allowance, self.blades) for kind, gap in wanted.items()}
        values = [
            value
            for kind in KINDS
            for value in pair_values(kind, wanted[kind], self.allowance, self.blades, pairs[kind])
        ]
        return Answer(
            headline=" · ".join(_short(kind, pairs[kind]) for kind in KINDS),
            says=" ".join(_said(kind, pairs[kind]) for kind in KINDS),
            drawing=_drawing(pairs),
            values=(*values, *(self._nearest(kind, wanted[kind]) for kind in KINDS)),
            warnings=(*pair_cautions(wanted, self.allowance, pairs), TOO_CLOSE, MAKER_WINS),
            notes=(
                "Try each blade with the lock-nut tight. The first goes through with a light drag; the second "
                "must not enter without force.",
            ),
        )

    def _nearest(self, kind: Kind, gap: Quantity) -> Value:
        stack = stack_for(gap, self.blades)
        return Value(
            key=f"{kind}_error",
            label=f"{word(kind).capitalize()}: nearest blades wider than the figure by",
            quantity=quantity(stack.error, "mm"),
            places=3,
            formula=f"sum of up to {MOST_BLADES} blades − figure",
            source=COMMON_PRACTICE,
            given=(("sum of the blades", quantity(stack.thickness, "mm")), ("figure", gap)),
        )


def _thick(stack: Stack) -> str:
    number = float(stack.thickness)
    return figures(number, 2) if abs(number - round(number, 2)) < 1e-6 else plain(round(number, 3))


def _short(kind: Kind, pair: Pair | None) -> str:
    if pair is None:
        return f"{SHORT_WORDS[kind]} no pair"
    return f"{SHORT_WORDS[kind]} {_thick(pair[0])} goes, {_thick(pair[1])} not"


def _said(kind: Kind, pair: Pair | None) -> str:
    name = word(kind).capitalize()
    if pair is None:
        return f"{name}: this set has no pair for this gap."
    return f"{name}: {_thick(pair[0])} mm must go in, {_thick(pair[1])} mm must not."


def _drawing(pairs: Mapping[Kind, Pair | None]) -> Figure:
    """Draw rocker and stem with the blade that goes through, and with the one that stops before them."""
    drawing = Drawing(340, 236)
    drawing.text(104, 12, "must go in")
    drawing.text(256, 12, "must not")
    for row, kind in enumerate(KINDS):
        y = 70.0 + 108 * row
        drawing.text(6, y, SHORT_WORDS[kind], "number", anchor="start", size=16)
        pair = pairs[kind]
        for x, stack, enters in ((104.0, pair and pair[0], True), (256.0, pair and pair[1], False)):
            drawing.rectangle(x - 22, y - 40, 44, 32, "part", round=8)
            drawing.rectangle(x - 8, y + 8, 16, 34, "part")
            if stack is None:
                drawing.text(x, y, "none", "number")
                continue
            thick = 9 if enters else 15
            start = x - 62
            end = x + 40 if enters else x - 24
            drawing.rectangle(start, y - thick / 2, end - start, thick, "chosen")
            if not enters:
                drawing.line(x - 20, y - 6, x - 10, y + 6, "arrow")
                drawing.line(x - 20, y + 6, x - 10, y - 6, "arrow")
            drawing.text(x, y + 52, f"{_thick(stack)} mm", "number")
    said = " ".join(_said(kind, pairs[kind]) for kind in KINDS)
    return Figure(
        key="blades",
        title="Rocker above, valve stem below, the blade between them",
        svg=drawing.svg(f"Rocker, valve stem and blade, seen from the side. {said}"),
    )
