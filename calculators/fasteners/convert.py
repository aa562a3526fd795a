"""A figure in every unit of its kind."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators.bench import (
    CONVERSION,
    Answer,
    Entry,
    FieldError,
    Lacking,
    Quantity,
    Question,
    Value,
    magnitude_in,
    measure,
    optional,
    quantity,
    symbol_of,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.units import bare, limit_of, number_in, plain, unit, units_of
from calculators.bench.words import word
from calculators.fasteners.scale_drawing import double_scale


def _of_kind(label: str, own: str, high: float, example: str | None = None) -> Entry[Quantity | None]:
    return optional(measure(label, own, 0, high, why="no workshop measures so much", example=example, said="{}"))


class Convert(Question):
    """To six figures, with the factors of NIST SP 811; a ± typed with it is converted too."""

    asks = "What is this figure in my unit?"
    tells = "Figure in another unit"

    torque = _of_kind("Torque", "N·m", 1e5, "25 lbf·ft")
    length = _of_kind("Length", "mm", 1e6)
    volume = _of_kind("Volume", "cm³", 1e6)
    force = _of_kind("Force", "N", 1e7)
    pressure = _of_kind("Pressure", "bar", 1e4)

    def answer(self) -> Answer:
        typed = {
            kind: value
            for kind, value in (
                ("torque", self.torque),
                ("length", self.length),
                ("volume", self.volume),
                ("force", self.force),
                ("pressure", self.pressure),
            )
            if value is not None
        }
        if not typed:
            raise Lacking(FieldError("torque", "Enter the figure in the box for its quantity"))
        values = {kind: tuple(_in_every_unit(kind, value)) for kind, value in typed.items()}
        said = []
        for kind, value in typed.items():
            own, *others = sorted(values[kind], key=lambda found: found.units[0] != symbol_of(value))
            said.append(f"{own.texts[0]} = {others[0].texts[0]}")
        kind, first = next(iter(typed.items()))
        headline = " · ".join(said)
        return Answer(
            headline=headline if len(headline) <= LONGEST_HEADLINE else said[0][:LONGEST_HEADLINE],
            says=f"{'; '.join(said)}.",
            drawing=double_scale(first, [found.units[0] for found in values[kind]]),
            values=tuple(value for found in values.values() for value in found),
        )


def _in_every_unit(kind: str, value: Any) -> Iterator[Value]:
    """Yield one value in every unit of its kind, to six figures, with the ± as it was typed: a limit."""
    own = symbol_of(value)
    for number, found in enumerate(units_of(kind), 1):
        best, spread = bare(number_in(value, found.symbol))
        gap = "" if found.symbol in "°%" else " "
        limit = f" ± {_figures(limit_of(spread), 3)}" if spread else ""
        words = f"{_six(best)}{limit}{gap}{found.symbol}"
        factor = magnitude_in(quantity(1.0, found.symbol), own)
        yield Value(
            key=f"{kind.split()[0]}_{number}",
            label=f"{word(kind).capitalize()}, in {found.words}",
            quantity=value,
            units=(found.symbol,),
            words=words,
            formula=f"1 {found.symbol} = {_six(factor)} {own}",
            source=CONVERSION,
            lead=found.symbol != own,
            given=((f"{word(kind)} typed", f"{_six(bare(number_in(value, own))[0])} {unit(own).symbol}"),),
        )


def _figures(number: float, count: int) -> str:
    return plain(float(f"{number:.{count}g}"))


def _six(number: float) -> str:
    return _figures(number, 6)
