"""What heat takes of the gap between a ring's ends."""

from __future__ import annotations

from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    Drawing,
    Entry,
    Figure,
    Quantity,
    Question,
    Source,
    Value,
    Worked,
    measure,
    number,
    printed,
    quantity,
    shared,
)
from calculators.bench.entries import either_way
from calculators.bench.units import figures, magnitude_in, plain, reading
from calculators.bench.verdict import best_of
from calculators.formulas.worn_fit import closing_gap

SAYS_NOTHING = "a wider guess says nothing"
GUESSES = "How sure temperatures and expansions are"
CALLISTER = Source("Callister, 3rd edition, Table B.6; the temperatures are common practice, no source")

ENDS_THAT_MEET = Caution(
    "warning",
    "A ring whose ends meet when hot scores the barrel and can seize the engine, which can kill on the road. "
    "Where the ring's maker gives a wider gap, the maker's counts.",
)


def _temperature(label: str, low: float, high: float, why: str, usual: str, **facts: str) -> Entry[Quantity]:
    return measure(label, "°C", low, high, why=why, exact=True, usual=usual, **facts)


def _expansion(label: str, hint: str, said: str) -> Entry[float]:
    return number(label, 1, 40, why="metals", usual="11.4", hint=hint, said=said)


class RingHeat(Question):
    """Takes ring and barrel each at one temperature all round.

    The answer is only as good as the temperatures guessed.
    """

    asks = "How much of a ring's end gap does heat close?"
    tells = "Ring end gap, hot"
    works_out = ("closed_by_heat",)

    bore = shared.bore()
    ring_temperature = _temperature(
        "Temperature of the hottest ring",
        0,
        500,
        "hotter rings lose their spring",
        "250 °C",
        hint="Common practice: 250 °C for an air-cooled engine under load.",
        said="ring at {}",
    )
    barrel_temperature = _temperature(
        "Temperature of the barrel then",
        0,
        400,
        "hotter barrels burn off their oil",
        "150 °C",
        hint="The cooler it is, the more the gap closes.",
        said="barrel at {}",
    )
    cold_temperature = _temperature("Temperature when measured", -20, 60, "workshops", "20 °C", said="measured at {}")
    ring_expansion = _expansion(
        "Expansion of the ring in millionths per K", hint="Grey iron 11.4, steel 11.7.", said="ring grows {}"
    )
    barrel_expansion = _expansion(
        "Expansion of the barrel in millionths per K",
        hint="Grey iron 11.4, aluminium 23.6.",
        said="barrel {} millionths per K",
    )
    temperature_error = either_way(
        number(
            "Error limit of either temperature",
            0,
            200,
            why=SAYS_NOTHING,
            usual="20",
            hint="Plus or minus, in degrees Celsius; 20 is common practice.",
            refines=GUESSES,
            said="temperatures ± {} K",
        )
    )
    expansion_error = shared.error_limit(
        "Error limit of either expansion",
        "%",
        50,
        why=SAYS_NOTHING,
        usual="5 %",
        hint="Plus or minus, of its figure; 5 % is common practice.",
        refines=GUESSES,
        said="expansions ± {}",
    )

    def answer(self) -> Answer:
        closed = self._closed()
        value = quantity(closed, "mm")
        text = printed(value, "mm", 3)
        return Answer(
            headline=text if best_of(closed) else "Nothing",
            says=f"Heat closes {text} of the gap: with a smaller cold gap, the ring's ends meet."
            if best_of(closed)
            else "Heat closes nothing: the barrel grows as much as the ring.",
            drawing=_cold_and_hot(best_of(closed)),
            values=(self._value(value),),
            warnings=(ENDS_THAT_MEET,),
            worked=(Worked(name="closed_by_heat", value=value),),
        )

    def _closed(self) -> Any:
        ring = self._growth(
            self.ring_expansion, self.ring_temperature, "Expansion of the ring", "Temperature of the ring"
        )
        barrel = self._growth(
            self.barrel_expansion, self.barrel_temperature, "Expansion of the barrel", "Temperature of the barrel"
        )
        closed = closing_gap(magnitude_in(self.bore, "mm"), ring, barrel)
        return closed if best_of(closed) > 0 else 0.0

    def _growth(self, millionths: float, temperature: Quantity, expands: str, heats: str) -> tuple[Any, Any]:
        rise = magnitude_in(temperature, "°C") - magnitude_in(self.cold_temperature, "°C")
        share = magnitude_in(self.expansion_error, "%") / 100
        return (
            reading(millionths * 1e-6, share * millionths * 1e-6, expands),
            reading(rise, self.temperature_error, heats),
        )

    def _value(self, closed: Quantity) -> Value:
        return Value(
            key="closed",
            label="End gap that heat closes",
            quantity=closed,
            units=("mm",),
            places=3,
            formula="π · bore · (ring expansion · ring rise − barrel expansion · barrel rise); not below 0",
            source=CALLISTER,
            given=(
                ("bore", self.bore),
                ("ring", self.ring_temperature),
                ("barrel", self.barrel_temperature),
                ("measured at", self.cold_temperature),
                ("expansion of the ring", f"{self.ring_expansion:g} millionths per K"),
                ("expansion of the barrel", f"{self.barrel_expansion:g} millionths per K"),
                ("temperatures within", f"±{plain(self.temperature_error)} K"),
                ("expansions within", f"±{plain(magnitude_in(self.expansion_error, '%'))}%"),
            ),
        )


def _cold_and_hot(closed: float) -> Figure:
    """Draw a ring whose cold gap is just what heat closes, far too wide, and hot, when its ends meet."""
    drawing = Drawing(340, 132)
    for x, words, half in ((84, "cold", 20), (256, "hot: ends meet" if closed else "hot", 0 if closed else 20)):
        drawing.circle(x, 60, 52, "part")
        drawing.circle(x, 60, 44, "space")
        drawing.arc(x, 60, 40, half, 360 - 2 * half, "blade")
        drawing.text(x, 124, words)
    drawing.text(84, 54, f"gap {figures(closed, 3)}" if closed else "gap", "number")
    if closed:
        drawing.text(84, 72, "mm")
        drawing.line(256, 16, 256, 30, "thin")  # where the ends meet
        drawing.line(246, 52, 266, 72, "cross")
        drawing.line(266, 52, 246, 72, "cross")
    drawing.arrow(142, 60, 196, 60)
    title = "A ring in its barrel, seen from the top, its gap far too wide"
    told = "nothing"
    if closed:
        told = f"{figures(closed, 3)} mm, so a cold gap of just that is gone when hot, and the ends meet"
    return Figure(key="cold_and_hot", title=title, svg=drawing.svg(f"{title}: heat closes {told}."))
