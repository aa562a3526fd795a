"""The workshop's temperature against the sheet's: how much longer a cure takes, how much sooner a bead skins."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.bench import (
    COMMON_PRACTICE,
    Caution,
    FieldError,
    InputErrors,
    Quantity,
    Value,
    magnitude_in,
    measure,
    number,
)
from calculators.bench.units import figures, plain
from calculators.formulas.cure_plan import cold_factor, warm_factor
from calculators.sealing.cautions import COLD, COLD_FROM, warm

SHEET = "The product's sheet"
MOST_LONGER = 8.0
"""So many times the sheet's times that the cold is no longer reckoned with, but refused."""
LEAST_OPEN = 1 / MOST_LONGER
"""So small a share of the open time left by warmth is refused."""

shop_temperature = measure(
    "Workshop temperature",
    "°C",
    -10,
    50,
    why="no sealer cures outside this range",
    exact=True,
    hint="The parts' temperature, at night as well.",
    usual="20 °C",
    shared_as="workshop_temperature",
    said="parts at {}",
)

sheet_temperature = measure(
    "Temperature of the product's sheet",
    "°C",
    0,
    40,
    why="rooms",
    exact=True,
    hint="The one its times are for. If it has times for your temperature, type those and make both temperatures "
    "the same.",
    usual="23 °C",
    shared_as="sheet_temperature",
    refines=SHEET,
    said="its times hold at {}",
)

doubling = number(
    "Degrees colder that double the time",
    3,
    50,
    why="sealers for engines",
    hint="In degrees Celsius; the same rise halves the open time. 10 is common practice.",
    usual="10",
    shared_as="doubling_degrees",
    refines=SHEET,
    said="{} degrees colder double them",
)


@dataclass(frozen=True, slots=True)
class Climate:
    """Cure takes ``longer`` times as long as on the sheet, never less; ``shorter`` is the share of open time left."""

    longer: float
    shorter: float
    shop: Any
    sheet: Any
    doubling: float

    def warnings(self, has_open_time: bool) -> tuple[Caution, ...]:
        """Return what the cold or the warmth does to these joints."""
        found = (COLD,) if self.longer >= COLD_FROM else ()
        return (*found, warm(self.shorter)) if has_open_time and self.shorter < 1 else found

    def values(self) -> tuple[Value, ...]:
        """Return both factors."""
        given = (("workshop", self.shop), ("sheet", self.sheet), ("degrees that double it", plain(self.doubling)))
        law = "2 ^ ((temperature of the sheet − of the workshop) ÷ degrees that double it); 1 where it is"
        told = (
            ("longer", "Cure here, against the product's sheet", self.longer, "warmer"),
            ("shorter", "Open time here, against the product's sheet", self.shorter, "colder"),
        )
        return tuple(
            Value(
                key=key,
                label=label,
                quantity=factor,
                places=2,
                formula=f"{law} {where}",
                source=COMMON_PRACTICE,
                given=given,
            )
            for key, label, factor, where in told
        )


def climate_of(shop: Quantity, sheet: Quantity, doubling: float) -> Climate:
    """Return what the temperature does to the sheet's times.

    Raises
    ------
    InputErrors
        So cold that the sealer may never cure, or so warm that it skins at once.
    """
    here, there = magnitude_in(shop, "°C"), magnitude_in(sheet, "°C")
    longer, shorter = cold_factor(here, there, doubling), warm_factor(here, there, doubling)
    if longer > MOST_LONGER:
        told = f"this cold, a sealer would take {figures(longer, 0)} times as long, and may never cure"
        raise InputErrors(FieldError("shop_temperature", f"Workshop temperature must be higher: {told}"))
    if shorter < LEAST_OPEN:
        told = f"this warm, a bead would skin in {figures(100 * shorter, 0)}% of its open time"
        raise InputErrors(FieldError("shop_temperature", f"Workshop temperature must be lower: {told}"))
    return Climate(longer, shorter, shop, sheet, doubling)
