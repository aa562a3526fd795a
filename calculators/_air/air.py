"""The air here against the air where the jets are right, and the main jet that follows."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from types import SimpleNamespace
from typing import Any

from calculators._errors import FieldError, InputErrors
from calculators._report import Column, Row, Source, Table, Value
from calculators._units import bare, figures, magnitude_in, number_in, plain, quantity, reading, with_limit
from calculators.formulas.jet_choice import fuel_share, leaner, nearest, number_for
from calculators.formulas.moist_air import densities
from calculators.formulas.standard_atmosphere import SEA_LEVEL, air_pressure

WEATHER = 0.02
"""Share by which the weather moves the pressure that an altitude gives, either way."""
NUMBERED = {
    "diameter": "The bore, in hundredths of a millimetre",
    "flow": "The flow of fuel",
}

MOIST_AIR = Source(
    "ISO 2533:1975, Standard atmosphere; WMO-No. 8, Annex 4.B, water vapour; ASHRAE Handbook, Fundamentals (2017), "
    "chapter 1",
    "memory",
)
JET = Source("Heywood, Internal Combustion Engine Fundamentals (1988), 7.3, flow through choke and jet", "memory")

SIDE_WORDS = {True: "leaner", False: "richer"}


@dataclass(frozen=True, slots=True)
class Air:
    """Air at one place: pressure in Pa, temperature in K, humidity from 0 to 1; density of it and of its dry part."""

    pressure: Any
    temperature: Any
    humidity: Any
    density: Any
    dry: Any

    @property
    def given(self) -> tuple[tuple[str, Any], ...]:
        return (
            ("pressure", quantity(bare(self.pressure)[0] / 100, "hPa")),
            ("temperature", quantity(bare(self.temperature)[0], "K")),
            ("humidity", f"{figures(100 * bare(self.humidity)[0], 0)}%"),
        )


@dataclass(frozen=True)
class Jetting:
    """What the main jet must become.

    Parameters
    ----------
    here, base : Air
    fitted : float
        Number of the jet fitted.
    numbered : str
        What the numbers stand for: diameter or flow.
    drawer : tuple of float
        The jets there are, the fitted one among them, the smallest first.
    """

    here: Air
    base: Air
    fitted: float
    numbered: Any
    drawer: tuple[float, ...]

    @cached_property
    def share(self) -> Any:
        return fuel_share((self.here.density, self.here.dry), (self.base.density, self.base.dry))

    @cached_property
    def wanted(self) -> Any:
        return number_for(self.share, self.fitted, self.numbered)

    @property
    def best(self) -> float:
        """The number wanted, without its uncertainty."""
        return float(bare(self.wanted)[0])

    @cached_property
    def chosen(self) -> float:
        return nearest(self.drawer, self.best)

    def leaner(self, jet: float) -> float:
        return leaner(self.best, jet, self.numbered)


def read_jetting(inputs: SimpleNamespace) -> Jetting:
    """Weigh the air at both places.

    Raises
    ------
    InputErrors
        A place of the pressure without a pressure.
    """
    temperature = with_limit(inputs.air_temperature, "K", inputs.thermometer_error, "Air temperature")
    here = _air(
        _pressure(inputs),
        temperature,
        with_limit(inputs.air_humidity, "%", magnitude_in(inputs.hygrometer_error, "%"), "Relative humidity") / 100,
    )
    warmth = number_in(inputs.base_temperature, "K")
    base = _air(
        air_pressure(magnitude_in(inputs.base_altitude, "m"), magnitude_in(inputs.base_temperature, "K")),
        warmth,
        number_in(inputs.base_humidity, "%") / 100,
    )
    drawer = tuple(sorted({*(inputs.jet_drawer or ()), inputs.main_jet}))
    return Jetting(here=here, base=base, fitted=inputs.main_jet, numbered=inputs.jet_numbers, drawer=drawer)


def _pressure(inputs: SimpleNamespace) -> Any:
    altitude = magnitude_in(inputs.altitude, "m")
    standard = air_pressure(altitude, magnitude_in(inputs.air_temperature, "K"))
    if inputs.air_pressure is None:
        if inputs.pressure_at == "sea":
            raise InputErrors(FieldError("air_pressure", "Enter the air pressure, in hectopascals"))
        return reading(standard, WEATHER * standard, "Weather, no barometer read")
    limit = magnitude_in(inputs.barometer_error, "hPa")
    typed = 100 * with_limit(inputs.air_pressure, "hPa", limit, "Air pressure")
    return typed * (standard / SEA_LEVEL) if inputs.pressure_at == "sea" else typed


def _air(pressure: Any, temperature: Any, humidity: Any) -> Air:
    return Air(pressure, temperature, humidity, *densities(pressure, temperature, humidity))


def air_values(jetting: Jetting) -> tuple[Value, ...]:
    """Return what the air weighs, what the fitted jet does in it, and the jet that it wants."""
    here, base = jetting.here, jetting.base
    weighed = tuple(
        (name, quantity(bare(density)[0], "kg/m³"))
        for name, density in (
            ("density here", here.density),
            ("dry air here", here.dry),
            ("density where the jets are right", base.density),
            ("dry where the jets are right", base.dry),
        )
    )
    return (
        Value(
            key="density",
            label="Air density here",
            quantity=quantity(here.density, "kg/m³"),
            units=("kg/m³", "lb/ft³"),
            formula="(p − e) ÷ (R T) + 0.621945 e ÷ (R T); vapour pressure e = humidity × saturation pressure; "
            "R = 287.053 J/(kg K)",
            source=MOIST_AIR,
            lead=True,
            given=here.given,
        ),
        Value(
            key="main_jet",
            label="Main jet for this air",
            quantity=jetting.wanted,
            places=1,
            formula="fitted × √(fuel share)" if jetting.numbered == "diameter" else "fitted × fuel share",
            source=JET,
            lead=True,
            given=(("fitted", jetting.fitted), ("fuel share", f"{figures(bare(jetting.share)[0], 4)}")),
        ),
        Value(
            key="mixture_shift",
            label="Mixture with the jet fitted; plus is leaner, minus richer",
            quantity=quantity(100 * (jetting.share - 1), "%"),
            units=("%",),
            formula="fuel share − 1; fuel share = dry air here ÷ dry air where the jets are right ÷ "
            "√(density here ÷ density where the jets are right)",
            source=JET,
            given=weighed,
        ),
        Value(
            key="charge",
            label="Dry air in one charge, against where the jets are right",
            quantity=quantity(100 * here.dry / base.dry, "%"),
            units=("%",),
            formula="dry air here ÷ dry air where the jets are right; power goes nearly with it",
            source=MOIST_AIR,
            given=weighed[1::2],
        ),
        Value(
            key="pressure",
            label="Air pressure here",
            quantity=quantity(here.pressure / 100, "hPa"),
            units=("hPa", "inHg", "mmHg"),
            formula="read; or 101.325 kPa × (T ÷ (T + 0.0065 K/m × altitude)) ^ 5.2559, which the weather moves by 2%",
            source=MOIST_AIR,
            given=here.given[1:2],
        ),
    )


def jets_table(jetting: Jetting) -> Table:
    """Return what each jet of the drawer does to the mixture."""
    rows = (
        Row(
            cells=(
                f"{plain(round(jet, 2))}{', fitted' if jet == jetting.fitted else ''}",
                quantity(100 * jetting.leaner(jet), "%"),
                _words(jetting.leaner(jet)),
            ),
            chosen=jet == jetting.chosen,
        )
        for jet in jetting.drawer
    )
    return Table(
        key="jet_list",
        title="Each main jet in this air",
        columns=(
            Column(key="jet", label="Main jet", strong=True),
            Column(key="leaner", label="Off the mixture", unit="%", places=1),
            Column(key="words", label="That is"),
        ),
        rows=tuple(rows),
        formula="(jet for this air ÷ jet)² − 1"
        if jetting.numbered == "diameter"
        else "jet for this air ÷ jet − 1; plus is leaner",
        source=JET,
        given=(("jet for this air", figures(jetting.best, 1)),),
    )


def _words(leaner: float) -> str:
    if abs(leaner) < 0.005:
        return "right"
    return SIDE_WORDS[leaner > 0]
