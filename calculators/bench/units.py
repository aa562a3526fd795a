"""The units of the trade: one small pint registry, the ways people write it, the way we print it."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

import pint
from uncertainties import UFloat, Variable, ufloat

_REGISTRY: pint.UnitRegistry[Any] = pint.UnitRegistry(
    str(Path(__file__).with_name("units.txt")), on_redefinition="raise"
)
Quantity = _REGISTRY.Quantity

EXPANSION = 2
"""Coverage factor k of every uncertainty we print: about 95 % (JCGM 100:2008, 6.2)."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as the bench uses it.

    ``symbol`` is what we print, ``definition`` what pint knows, ``words`` what an
    error says, ``places`` the decimals a workshop reads, ``spellings`` what people type.
    """

    symbol: str
    kind: str
    definition: str
    words: str
    places: int
    spellings: tuple[str, ...] = ()


def _spelled_degrees(letter: str, scale: str, sign: str) -> tuple[str, ...]:
    """Return the ways people write a degree of a temperature scale."""
    return letter, scale, sign, *(f"{degree}{name}" for degree in _DEGREE_MARKS for name in (letter, scale))


_DEGREE_MARKS = ("°", "º", "˚", "deg", "degree", "degrees")

_UNITS = (
    Unit("mm", "length", "millimeter", "millimetres", 2, ("millimetre", "millimeter")),
    Unit("in", "length", "inch", "inches", 4, ("inch", "inche", '"', "″", "”")),
    Unit("thou", "length", "thou", "thousandths of an inch", 1, ("mil", "thousandth")),
    Unit("cm", "length", "centimeter", "centimetres", 3, ("centimetre", "centimeter")),
    Unit("m", "length", "meter", "metres", 3, ("metre", "meter")),
    Unit("ft", "length", "foot", "feet", 2, ("foot", "feet", "'", "′", "’")),
    Unit("N·m", "torque", "newton_meter", "newton metres", 1, ("nm", "newtonmetre", "newtonmeter")),
    Unit(
        "lbf·ft",
        "torque",
        "pound_force_foot",
        "pound-force feet",
        1,
        (
            "lbft",
            "lbsft",
            "ftlb",
            "ftlbf",
            "lbfoot",
            "footlb",
            "poundfoot",
            "poundfeet",
            "poundsfeet",
            "footpound",
            "lbfeet",
            "lb/ft",
            "lbs/ft",
            "ft/lb",
        ),
    ),
    Unit(
        "lbf·in",
        "torque",
        "pound_force_inch",
        "pound-force inches",
        0,
        ("lbin", "lbsin", "inlb", "inlbf", "lbinch", "inchlb", "poundinch", "poundsinch", "inchpound"),
    ),
    Unit(
        "kgf·m",
        "torque",
        "kilogram_force_meter",
        "kilogram-force metres",
        2,
        ("kgm", "mkg", "mkgf", "mkp", "kpm"),
    ),
    Unit("daN·m", "torque", "decanewton_meter", "decanewton metres", 2, ("danm", "mdan")),
    Unit("mm²", "area", "millimeter ** 2", "square millimetres", 0, ("mm2", "mm^2", "sqmm")),
    Unit("cm²", "area", "centimeter ** 2", "square centimetres", 2, ("cm2", "cm^2", "sqcm")),
    Unit("in²", "area", "inch ** 2", "square inches", 3, ("in2", "in^2", "sqin", "squareinch")),
    Unit("cm³", "volume", "centimeter ** 3", "cubic centimetres", 1, ("cc", "cm3", "ccm", "ml", "mL", "cm^3")),
    Unit("in³", "volume", "cubic_inch", "cubic inches", 2, ("cuin", "cubicinch", "in3", "in^3", "ci")),
    Unit("l", "volume", "liter", "litres", 3, ("litre", "liter")),
    Unit("°", "angle", "degree", "degrees", 0, ("deg", "degree")),
    Unit("%", "share", "percent", "per cent", 1, ("percent",)),
    Unit("N", "force", "newton", "newtons", 0, ("newton",)),
    Unit("lbf", "force", "pound_force", "pounds-force", 1, ("lb", "pound")),
    Unit("kgf", "force", "kilogram_force", "kilograms-force", 1, ("kg", "kp")),
    Unit("kN", "force", "kilonewton", "kilonewtons", 2, ("kilonewton",)),
    Unit("N/mm", "spring rate", "newton / millimeter", "newtons a millimetre", 2, ("newton/mm", "newtonpermm")),
    Unit("lbf/in", "spring rate", "pound_force / inch", "pounds-force an inch", 1, ("lb/in", "lbs/in", "lbperinch")),
    Unit("kgf/mm", "spring rate", "kilogram_force / millimeter", "kilograms-force a millimetre", 3, ("kg/mm", "kp/mm")),
    Unit("bar", "pressure", "bar", "bar", 1, ()),
    Unit("kPa", "pressure", "kilopascal", "kilopascals", 0, ("kilopascal",)),
    Unit("psi", "pressure", "psi", "pounds per square inch", 0, ("lb/in²", "lbf/in²", "lb/in2", "lbf/in2", "lb/sqin")),
    Unit("MPa", "pressure", "megapascal", "megapascals", 1, ("megapascal", "N/mm²", "N/mm2")),
    Unit("hPa", "pressure", "hectopascal", "hectopascals", 0, ("hectopascal", "mbar", "millibar")),
    Unit("mmHg", "pressure", "millimeter_of_mercury", "millimetres of mercury", 0, ("torr",)),
    Unit("cmHg", "pressure", "centimeter_of_mercury", "centimetres of mercury", 1, ()),
    Unit("inHg", "pressure", "inch_of_mercury", "inches of mercury", 2, ('"Hg', "″Hg")),
    Unit("mmH₂O", "pressure", "millimeter_of_water", "millimetres of water", 0, ("mmh2o", "mmwg", "mmws", "mmwc")),
    Unit("°C", "temperature", "degree_Celsius", "degrees Celsius", 1, _spelled_degrees("C", "celsius", "℃")),
    Unit("°F", "temperature", "degree_Fahrenheit", "degrees Fahrenheit", 0, _spelled_degrees("F", "fahrenheit", "℉")),
    Unit("K", "temperature", "kelvin", "kelvins", 2, ("kelvin",)),
    Unit("km/h", "speed", "kilometer / hour", "kilometres an hour", 0, ("kmh", "kph", "kmph")),
    Unit("mph", "speed", "mile / hour", "miles an hour", 0, ("mi/h", "mile/h", "miles/h")),
    Unit("m/s", "speed", "meter / second", "metres a second", 1, ("metre/s", "meter/s", "m/sec")),
    Unit("min", "duration", "minute", "minutes", 0, ("minute",)),
    Unit("h", "duration", "hour", "hours", 1, ("hr", "hour")),
    Unit("d", "duration", "day", "days", 2, ("day",)),
    Unit("kg/m³", "density", "kilogram / meter ** 3", "kilograms a cubic metre", 3, ("kg/m3", "kg/m^3")),
    Unit(
        "lb/ft³", "density", "pound / foot ** 3", "pounds a cubic foot", 4, ("lb/ft3", "lbs/ft3", "lb/cuft", "lb/ft^3")
    ),
    Unit(
        "r/min",
        "speed of rotation",
        "revolution / minute",
        "revolutions a minute",
        0,
        ("rpm", "rev/min", "revs/min", "min^-1", "min⁻¹"),
    ),
)
_BY_SYMBOL = {unit.symbol: unit for unit in _UNITS}
_OF_PINT = {unit.symbol: _REGISTRY.Unit(unit.definition) for unit in _UNITS}


def _squash(spelling: str) -> str:
    """Fold case, spaces, dots and hyphens away, so that ``lb. ft`` and ``lb-ft`` are one."""
    return re.sub(r"[\s.·⋅*\-]", "", spelling).lower()


LONGEST = 60
"""Of anything that can be one number or one unit: longer text costs no reading."""

_BY_SPELLING: dict[str, Unit] = {}
for _unit in _UNITS:
    for _spelling in (_unit.symbol, *_unit.spellings):
        for _form in (_spelling, _spelling + "s"):
            _BY_SPELLING.setdefault(_squash(_form), _unit)


def unit(symbol: str) -> Unit:
    """Return the unit printed as ``symbol``; an unknown one is a bug (KeyError)."""
    return _BY_SYMBOL[symbol]


def spelled(text: str) -> Unit | None:
    """Return the unit that a person means by ``text``, or None.

    Examples
    --------
    >>> spelled("ft. lbs").symbol, spelled("Nm").symbol, spelled("cc").symbol
    ('lbf·ft', 'N·m', 'cm³')
    >>> spelled("furlong") is None
    True
    """
    if len(text) > LONGEST:
        return None
    return _BY_SYMBOL.get(text) or _BY_SPELLING.get(_squash(text))


def all_units() -> tuple[Unit, ...]:
    """Return every unit, of every kind."""
    return _UNITS


@cache
def units_of(kind: str) -> tuple[Unit, ...]:
    """Return every unit of one kind (``"torque"``), in the order we offer them."""
    return tuple(unit for unit in _UNITS if unit.kind == kind)


def quantity(magnitude: Any, symbol: str) -> Any:
    """Build a quantity.

    Parameters
    ----------
    magnitude : float or UFloat
    symbol : str
        As printed, ``"N·m"``.

    Examples
    --------
    >>> round(magnitude_in(quantity(37, "N·m"), "lbf·ft"), 1)
    27.3
    """
    return Quantity(magnitude, _OF_PINT[symbol])


def symbol_of(value: Any) -> str:
    """Return the symbol of the unit that ``value`` is written in; a unit not of ours is a bug (KeyError)."""
    return _SYMBOLS[_written_in(value)]


_WrittenIn = tuple[tuple[str, Any], ...]


def _written_in(value: Any) -> _WrittenIn:
    """Return the names and powers of the units that ``value`` is written in."""
    return tuple(value.unit_items())


_SYMBOLS = {_written_in(quantity(1.0, symbol)): symbol for symbol in _OF_PINT}
_Steps = tuple[float, float]
_KNOWN: dict[tuple[_WrittenIn, str | _WrittenIn], _Steps] = {}
"""Conversions that pint has worked out: asked anew, each would take ten times as long."""


def _conversion(value: Any, wanted: Any) -> _Steps:
    """Return what one step of a value's unit is worth in another, and where its nought lies there.

    Parameters
    ----------
    value : Quantity
    wanted : str or Quantity
        A symbol of ours, or a value in the unit that is wanted.
    """
    key = (_written_in(value), wanted if isinstance(wanted, str) else _written_in(wanted))
    if key not in _KNOWN:
        _KNOWN[key] = _worked_out(value.units, _OF_PINT[wanted] if isinstance(wanted, str) else wanted.units)
    return _KNOWN[key]


def _worked_out(from_units: Any, to_units: Any) -> _Steps:
    def converted(number: float) -> float:
        return float(Quantity(number, from_units).m_as(to_units))

    nought = converted(0.0)
    if not nought:
        return converted(1.0), 0.0
    far = 1e6  # so that what rounding leaves of the offset does not show in a step
    return (converted(far) - nought) / far, nought


def number_in(value: Any, symbol: str) -> Any:
    """Return ``value`` in the unit printed as ``symbol``, as a bare number that keeps its uncertainty.

    Raises
    ------
    pint.DimensionalityError
        A torque is not a length.
    """
    step, nought = _conversion(value, symbol)
    number = value.magnitude * step
    return number + nought if nought else number


def magnitude_in(value: Any, symbol: str) -> float:
    """Return the best estimate of ``value`` in the unit printed as ``symbol``.

    Raises
    ------
    pint.DimensionalityError
        A torque is not a length.
    """
    step, nought = _conversion(value, symbol)
    magnitude = value.magnitude
    return float(magnitude.nominal_value if isinstance(magnitude, UFloat) else magnitude) * step + nought


def _with_spread(magnitude: Any) -> tuple[Any, float | None]:
    """Return the best estimate, and the expanded uncertainty (k = 2) or None if it carries none."""
    if isinstance(magnitude, UFloat):
        return float(magnitude.nominal_value), EXPANSION * float(magnitude.std_dev)
    return magnitude, None


def uncertainty_in(value: Any, symbol: str) -> float | None:
    """Return the expanded uncertainty (k = 2) of ``value`` in a unit, or None if it carries none."""
    step, _ = _conversion(value, symbol)
    _, spread = _with_spread(value.magnitude)
    return None if spread is None else spread * abs(step)


def measured(value: Any, limit: Any, name: str | None = None) -> Any:
    """Attach the uncertainty of an instrument that reads true within ± ``limit``; ± 0 attaches none.

    Parameters
    ----------
    value, limit : Quantity
        Of one dimension; ``limit`` is half the width of the band, so of a temperature a difference.
    name : str, optional
        What was read, for the budget of what is worked out from it.

    Notes
    -----
    Rectangular distribution, u = limit / √3. Every call makes an independent reading.

    References
    ----------
    JCGM 100:2008 (GUM), 4.3.7.
    """
    step, _ = _conversion(limit, value)
    return Quantity(reading(value.magnitude, limit.magnitude * step, name), value.units)


def reading(number: float, half_width: float, name: str | None = None) -> Any:
    """Return a bare number that is off by ``half_width`` at most, as ``measured`` does for a quantity.

    Examples
    --------
    >>> print(reading(80.0, 0.05)), reading(80.0, 0)
    80.000+/-0.029
    (None, 80.0)
    """
    return ufloat(number, half_width / 3**0.5, name) if half_width else number


def with_limit(value: Any, symbol: str, limit: float, name: str) -> Any:
    """Return a reading as a bare number: with the ± typed behind it, else with its instrument's limit in that unit.

    Examples
    --------
    >>> print(with_limit(quantity(8.0, "cm"), "mm", 0.05, "Bore"))
    80.000+/-0.029
    """
    if uncertainty_in(value, symbol) is None:
        return reading(magnitude_in(value, symbol), limit, name)
    return number_in(value, symbol)


def named(value: Any, name: str) -> Any:
    """Name what a reading is of, where it carries an uncertainty and has no name; a tuple's entries alike."""
    if isinstance(value, tuple):
        return tuple(named(entry, name) for entry in value)
    magnitude = value.magnitude if isinstance(value, Quantity) else value
    if isinstance(magnitude, Variable) and magnitude.tag is None:
        magnitude.tag = name
    return value


def limit_of(expanded: float) -> float:
    """Return the limit of error that ``measured`` made an expanded uncertainty of.

    Examples
    --------
    >>> round(limit_of(1.1547), 4)
    1.0
    """
    return expanded / EXPANSION * 3**0.5


@dataclass(frozen=True, slots=True)
class Typed:
    """A number as typed, with the unit and the ± that stood behind it, if any.

    ``grouped`` is what ``5,280`` would be if its comma parted thousands; None where it cannot.
    """

    number: float
    unit: Unit | None
    plus_minus: float | None
    grouped: float | None = None


class NotANumber(ValueError):
    """The text holds no number that we can read."""


class UnknownUnit(ValueError):
    """The number is followed by something that is no unit of ours."""


_VULGAR = dict(zip("½⅓⅔¼¾⅛⅜⅝⅞", ("1/2", "1/3", "2/3", "1/4", "3/4", "1/8", "3/8", "5/8", "7/8"), strict=True))
_NUMBER = r"[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)"
_GROUPED = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}", re.ASCII)
_SHAPE = re.compile(
    rf"\s*(?P<whole>{_NUMBER})?(?:\s*(?P<fraction>\d+\s*/\s*\d+))?"
    rf"(?:\s*(?P<before>[^\d\s±+.,/][^±+]*?)?\s*(?:±|\+/-|\+-)\s*(?P<plus_minus>{_NUMBER}))?"
    r"\s*(?P<unit>[^\d\s±+].*?)?\s*"
)


def _decimal(text: str) -> float:
    return float(text.replace(",", "."))


@lru_cache(maxsize=512)
def read_number(text: str) -> Typed:
    """Read a number as a person types it, with or without a unit.

    A comma or a point is the decimal mark. Fractions (``3/8``, ``1 1/2``, ``½``), the
    typographic minus and a ± are understood; the unit stands behind the number, behind
    the ±, or behind both. Where a comma could part thousands, ``grouped`` says so.

    Raises
    ------
    NotANumber
        Also for ``1,234.5`` and ``1 234``, which could be two things, and for a ± of ``1,000``
        behind a number that is larger.
    UnknownUnit

    Examples
    --------
    >>> read_number("0,15 mm").number
    0.15
    >>> read_number("1 1/2 in").number
    1.5
    >>> read_number("27 lb ft").unit.symbol
    'lbf·ft'
    """
    if len(text) > LONGEST:
        raise NotANumber(text)
    for sign, plain in _VULGAR.items():
        text = text.replace(sign, f" {plain}")
    text = text.replace("−", "-").replace("–", "-").replace("⁄", "/").strip()
    parts = re.match(r"([+-]?)\s*(\d+\s*/\s*\d+)(?!\d)(.*)", text)
    if parts:  # a bare fraction: the whole number in front of it is nought
        text = f"{parts[1]}0 {parts[2]}{parts[3]}"
    shape = _SHAPE.fullmatch(text)
    if not shape or shape["whole"] is None:
        raise NotANumber(text)
    number = _decimal(shape["whole"])
    if shape["fraction"]:
        over, under = (int(part) for part in shape["fraction"].split("/"))
        if under == 0 or not shape["whole"].lstrip("+-").isdigit():
            raise NotANumber(text)
        part = float(Fraction(over, under))
        number = number - part if shape["whole"].startswith("-") else number + part
    found = None
    for spelling in filter(None, (shape["before"], shape["unit"])):
        behind, found = found, spelled(spelling)
        if found is None or behind not in (None, found):
            raise (NotANumber if re.search(r"\d\s*[.,]|^[.,/]", spelling) else UnknownUnit)(text)
    grouped = _grouped(shape["whole"]) if not shape["fraction"] else None
    plus_minus = abs(_decimal(shape["plus_minus"])) if shape["plus_minus"] else None
    if plus_minus and abs(_grouped(shape["plus_minus"]) or math.inf) <= max(abs(number), abs(grouped or 0)):
        raise NotANumber(text)
    return Typed(number, found, plus_minus, grouped)


def _grouped(text: str) -> float | None:
    """Return what a number is if its comma parts thousands, or None where it does not look so."""
    return float(text.replace(",", "")) if _GROUPED.fullmatch(text) else None


def figures(number: float, places: int) -> str:
    """Print a number with so many decimals and a real minus sign.

    Examples
    --------
    >>> figures(-0.449, 2), figures(-0.001, 2)
    ('−0.45', '0.00')
    """
    text = f"{number:.{places}f}"
    if text.startswith("-"):
        text = f"−{text[1:]}" if float(text) else text[1:]
    return text


def plain(number: float) -> str:
    """Print a number as it would be typed: no idle zeros.

    Examples
    --------
    >>> plain(80.0), plain(0.5), plain(1e-05)
    ('80', '0.5', '0.00001')
    """
    text = f"{number:.10f}".rstrip("0").rstrip(".")
    return text.replace("-", "−") if float(text) else "0"


_ROUGH = 1 / 6
"""Share of a ± that its rounding may add or take away: with less than 5/6 of it, k = 1.65, nine in ten are left."""
_FAINT = 2
"""Decimals behind the last one that is read, beyond which a ± says nothing."""
_SIX = 6
"""Significant figures of a number of which nobody said how many decimals are read."""


def with_plus_minus(number: float, spread: float | None, places: int | None = None) -> str:
    """Print a number and its ±, both with so many decimals, or with more where the ± would be lost in them.

    Parameters
    ----------
    places : int, optional
        The decimals that the bench reads; None leaves them to the ±, to no more than two figures of it.

    Notes
    -----
    A ± is printed to one figure, and to two where one would be off by over a sixth of it. One that is
    less than a hundredth of the last decimal is not printed.

    References
    ----------
    JCGM 100:2008 (GUM), 7.2.6: two figures of an uncertainty are enough, and the estimate is rounded to agree.

    Examples
    --------
    >>> with_plus_minus(80.0, 0.0012, 2), with_plus_minus(22.7777777778, 1.0988001104), with_plus_minus(80.0, 0.06, 2)
    ('80.000 ± 0.001', '22.8 ± 1.1', '80.00 ± 0.06')
    """
    if places is None:
        if not spread:
            return plain(number if isinstance(number, int) else float(f"{number:.{_SIX}g}"))
        places = max(0, 1 - math.floor(math.log10(spread)))
    elif not spread or spread < 10.0 ** -(places + _FAINT):
        return figures(number, places)
    places = _places_for(spread, places)
    return f"{figures(number, places)} ± {figures(spread, places)}"


def spread_alone(spread: float, places: int) -> str:
    """Print what stands behind a ± where its number stands elsewhere.

    Examples
    --------
    >>> spread_alone(0.18, 2), spread_alone(0.004, 2)
    ('0.18', '0.004')
    """
    return figures(spread, _places_for(spread, places))


def _places_for(spread: float, places: int) -> int:
    """Return the decimals in which a ± is not lost: so many, or more."""
    if spread < 10.0 ** -(places + _FAINT):
        return places
    while abs(round(spread, places) - spread) > _ROUGH * spread:
        places += 1
    return places


def bare(value: Any) -> tuple[Any, float | None]:
    """Return a number without a unit as a plain one, and its expanded uncertainty (k = 2) or None.

    Parameters
    ----------
    value : float, int, UFloat, or dimensionless Quantity

    Examples
    --------
    >>> bare(ufloat(7.58, 0.02)), bare(4)
    ((7.58, 0.04), (4, None))
    """
    if isinstance(value, Quantity):
        value = value.m_as("")
    return _with_spread(value)


def printed_bare(value: Any, places: int | None = None) -> str:
    """Print a number without a unit, with its expanded uncertainty if it carries one.

    Examples
    --------
    >>> printed_bare(7.5834, 2), printed_bare(ufloat(7.5834, 0.02), 2), printed_bare(0.50)
    ('7.58', '7.58 ± 0.04', '0.5')
    """
    return with_plus_minus(*bare(value), places)


def printed(value: Any, symbol: str, places: int | None = None) -> str:
    """Print a quantity in a unit, with its expanded uncertainty if it carries one.

    Examples
    --------
    >>> printed(quantity(37, "N·m"), "lbf·ft")
    '27.3 lbf·ft'
    """
    found = _BY_SYMBOL[symbol]
    places = found.places if places is None else places
    text = with_plus_minus(magnitude_in(value, symbol), uncertainty_in(value, symbol), places)
    return f"{text}{'' if symbol in '°%' else ' '}{symbol}"
