"""The air here and the air where the jets are right: what is asked of them, and what they weigh."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.bench import (
    Entry,
    FieldError,
    Lacking,
    Quantity,
    Source,
    choice,
    length,
    magnitude_in,
    measure,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.entries import Given
from calculators.bench.units import bare, figures, reading, with_limit
from calculators.formulas.moist_air import densities
from calculators.formulas.standard_atmosphere import SEA_LEVEL, air_pressure

MOIST_AIR = Source(
    "ISO 2533:1975, Standard atmosphere; WMO-No. 8, Annex 4.B, water vapour; ASHRAE Handbook, Fundamentals (2017), "
    "chapter 1",
    "memory",
)
WEATHER = 0.02
"""Share by which the weather moves the pressure that an altitude gives, either way."""
_BAROMETER = "From a barometer"
_RIGHT = "Where the jets are right"
_GOOD = "How good the readings are"


def _humidity(label: str, **facts: Any) -> Entry[Quantity]:
    return measure(label, "%", 0, 100, why="dry and saturated air", usual="50%", **facts)


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


class AirHere(Given):
    """Entries of the air at two places."""

    altitude = shared.altitude(
        hint="Height above sea level of the place where it runs.", usual=None, example="650 m", said="{} up"
    )
    air_temperature = shared.air_temperature(
        hint="In the shade: the air that the engine draws in.",
        usual=None,
        example="28 °C",
        read_by="thermometer",
        said="{}",
    )
    air_humidity = _humidity("Relative humidity", shared_as="air_humidity", said="{} damp")
    air_pressure = optional(
        measure(
            "Air pressure",
            "hPa",
            450,
            1100,
            why="no weather on any road goes further",
            hint="From a barometer. Empty: worked out from the altitude, with the weather as uncertainty.",
            shared_as="air_pressure",
            read_by="barometer",
            refines=_BAROMETER,
            said="{}",
        )
    )
    pressure_at = choice(
        "Place of the air pressure",
        {"here": "As measured here", "sea": "Reduced to sea level, as in a weather report"},
        usual="here",
        shared_as="air_pressure_at",
        refines=_BAROMETER,
        said="{}",
    )
    base_altitude = length(
        "Altitude where the jets are right",
        -430,
        5000,
        why="roads",
        own="m",
        exact=True,
        usual="0 m",
        shared_as="base_altitude",
        refines=_RIGHT,
        said="{} up",
    )
    base_temperature = measure(
        "Temperature where the jets are right",
        "°C",
        -40,
        60,
        why="weather",
        usual="15 °C",
        shared_as="base_temperature",
        refines=_RIGHT,
        said="{}",
    )
    base_humidity = _humidity(
        "Humidity where the jets are right", shared_as="base_humidity", refines=_RIGHT, said="{} damp"
    )
    thermometer_error = shared.thermometer_error(
        hint="Plus or minus, in degrees Celsius. A ± typed with a reading wins over it.",
        refines=_GOOD,
        said="thermometer ± {}",
    )
    hygrometer_error = shared.error_limit(
        "Error limit of the humidity",
        "%",
        50,
        why="a guess would be better",
        hint="Plus or minus.",
        usual="5%",
        shared_as="hygrometer_error",
        refines=_GOOD,
        said="humidity ± {}",
    )
    barometer_error = shared.error_limit(
        "Error limit of the barometer",
        "hPa",
        50,
        why="the altitude alone would tell more",
        hint="Plus or minus.",
        usual="3 hPa",
        shared_as="barometer_error",
        refines=_GOOD,
        said="barometer ± {}",
    )

    @property
    def here(self) -> Air:
        """Return the air as it is here.

        Raises
        ------
        Lacking
            A place of the pressure without a pressure.
        """
        humidity_limit = magnitude_in(self.hygrometer_error, "%")
        return _weighed(
            self._pressure,
            with_limit(self.air_temperature, "K", self.thermometer_error, "Air temperature"),
            with_limit(self.air_humidity, "%", humidity_limit, "Relative humidity") / 100,
        )

    @property
    def base(self) -> Air:
        """Return the air for which the jets were chosen."""
        return _weighed(
            air_pressure(magnitude_in(self.base_altitude, "m"), magnitude_in(self.base_temperature, "K")),
            number_in(self.base_temperature, "K"),
            number_in(self.base_humidity, "%") / 100,
        )

    @property
    def _pressure(self) -> Any:
        standard = air_pressure(magnitude_in(self.altitude, "m"), magnitude_in(self.air_temperature, "K"))
        if self.air_pressure is None:
            if self.pressure_at == "sea":
                raise Lacking(FieldError("air_pressure", "Enter the air pressure, in hectopascals"))
            return reading(standard, WEATHER * standard, "Weather, no barometer read")
        limit = magnitude_in(self.barometer_error, "hPa")
        typed = 100 * with_limit(self.air_pressure, "hPa", limit, "Air pressure")
        return typed * (standard / SEA_LEVEL) if self.pressure_at == "sea" else typed


def _weighed(pressure: Any, temperature: Any, humidity: Any) -> Air:
    return Air(pressure, temperature, humidity, *densities(pressure, temperature, humidity))
