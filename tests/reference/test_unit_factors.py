"""Every unit has an outside check, and all units of one kind convert as pint itself converts them."""

import re
from itertools import combinations
from pathlib import Path

import pytest

import calculators
from calculators import Quantity, magnitude_in, quantity
from calculators.bench.units import _UNITS
from scripts import check_list

CHECKED = [check for check in check_list.checks() if check.subject == "units"]
PREFIXES = ("centi", "deca", "hecto", "kilo", "mega", "milli")


def definitions_in_the_file():
    lines = (Path(calculators.__file__).with_name("bench") / "units.txt").read_text(encoding="utf-8").splitlines()
    parts = [line.partition("=")[::2] for line in lines if "=" in line and line[0] != "#"]
    return {name.strip(): re.findall(r"[A-Za-z_]+", definition) for name, definition in parts}


def reached_from_printed_units():
    """Return the units and prefixes of the file that a printed unit rests on."""
    defined, reached = definitions_in_the_file(), set()
    waiting = [word for unit in _UNITS for word in re.findall(r"[A-Za-z_]+", unit.definition)]
    while waiting:
        word = waiting.pop()
        prefix = next((one for one in PREFIXES if word not in defined and word.startswith(one)), "")
        for name in filter(None, (f"{prefix}-" if prefix else "", word.removeprefix(prefix))):
            if name in defined and name not in reached:
                reached.add(name)
                waiting += defined[name]
    return reached


def test_every_unit_of_the_file_stands_in_a_printed_unit():
    assert definitions_in_the_file().keys() == reached_from_printed_units()


@pytest.mark.parametrize("symbol", [unit.symbol for unit in _UNITS])
def test_every_printed_unit_has_a_check(symbol):
    assert any(f'"{symbol}"' in check.ours for check in CHECKED)


@pytest.mark.parametrize("number", [-40.0, 0.0, 98.6, 1e6])
def test_units_of_one_kind_convert_as_pint_converts_them(number):
    for one in _UNITS:
        for other in _UNITS:
            if one.kind == other.kind:
                theirs = Quantity(number, one.definition).m_as(other.definition)
                assert magnitude_in(quantity(number, one.symbol), other.symbol) == pytest.approx(
                    theirs, rel=1e-12, abs=1e-9
                )


def test_units_of_one_kind_alone_convert_into_each_other():
    for one, other in combinations(_UNITS, 2):
        alike = quantity(1, one.symbol).is_compatible_with(other.definition)
        # angle and share are both bare numbers to the registry; the form tells them apart by their kind
        if {one.kind, other.kind} <= {"angle", "share"}:
            continue
        assert alike == (one.kind == other.kind), (one.symbol, other.symbol)
