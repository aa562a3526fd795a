"""Kinds of value: how a line of several is parted; what each refuses stands in the tests of forms."""

import pytest

from calculators.bench.kinds import split_line


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("1 4 3 2", ["1", "4", "3", "2"]),
        ("1-4-3-2", ["1", "4", "3", "2"]),
        ("1–4–3–2", ["1", "4", "3", "2"]),
        ("1,4,3,2", ["1", "4", "3", "2"]),
        ("33,3; 66,7", ["33,3", "66,7"]),
        ("50, 75, 100", ["50", "75", "100"]),
        ("0.25 mm 0.5 mm", ["0.25 mm", "0.5 mm"]),
        ("0.25  0.5   0.75", ["0.25", "0.5", "0.75"]),
        ("0.25 ±  0.01  0.5 +/-  0.01", ["0.25 ±  0.01", "0.5 +/-  0.01"]),
        ("7", ["7"]),
        ("", []),
        ("1 - 4", ["1", "4"]),
        ("1- 4 -3", ["1", "4 -3"]),
        ("49.5 ± 1", ["49.5 ± 1"]),
    ],
)
def test_a_line_is_split_where_people_part_numbers(text, parts):
    assert split_line(text) == parts


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("0.4 -0.1", ["0.4", "-0.1"]),
        ("-0.1 -0.2", ["-0.1", "-0.2"]),
        ("−0.1 −0.2", ["−0.1", "−0.2"]),
        ("–0.1 –0.2", ["–0.1", "–0.2"]),
        ("0.4 mm -0.1 mm", ["0.4 mm", "-0.1 mm"]),
        ("-0.1 ± 0.02 -0.2 +/- 0.02", ["-0.1 ± 0.02", "-0.2 +/- 0.02"]),
        ("-.1 +.2", ["-.1", "+.2"]),
    ],
)
def test_a_minus_in_a_line_stays_with_its_number(text, parts):
    assert split_line(text) == parts
