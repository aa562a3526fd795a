"""What many fits say together: the headline, the sentence, the table, the drawing."""

import pytest

from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.units import reading
from calculators.fits.drawing import shown
from calculators.fits.fit import Kind, Part, found, worst_of_each
from calculators.fits.verdicts import headline, names_of, sentence
from calculators.fits.working import table

PLAY = Kind(key="play", noun="play", high=0.10)
BAND = Kind(key="band", noun="band", low=0.10, high=0.20)
NONE = Kind(key="none", noun="reach")


def valves(kind, *numbers, side="exhaust"):
    return [found(kind, Part("valve", row, side), number) for row, number in enumerate(numbers, 1)]


@pytest.mark.parametrize(
    ("fits", "words"),
    [
        (valves(PLAY, 0.05), "0.050 mm · in"),
        (valves(PLAY, 0.05, 0.07), "All 2 in: 0.050 to 0.070 mm"),
        (valves(PLAY, 0.05, 0.07, 0.12), "Out: exhaust 3, 0.120 mm · the other 2 in"),
        (valves(PLAY, 0.11, 0.12, 0.05), "Out: exhaust 1, 2 · in: exhaust 3"),
        (valves(PLAY, 0.05) + valves(PLAY, 0.11, side="inlet"), "Out: inlet 1, 0.110 mm · in: exhaust 1"),
        (valves(NONE, 0.05, 0.07), "0.050 to 0.070 mm, no limit given"),
        (valves(PLAY, 0.05, 0.12, reading(0.1, 0.01)), "Out: exhaust 2 · too close: exhaust 3 · in: exhaust 1"),
        (valves(PLAY, 0.05) + valves(NONE, 0.07, side="inlet"), "In: exhaust 1, 0.050 mm · no limit: inlet 1"),
        (valves(PLAY, 0.05) + valves(BAND, 0.25), "Band 0.250 mm · out"),
        (
            valves(PLAY, 0.2, 0.05, 0.05) + valves(NONE, 0.07, side="inlet"),
            "Out: exhaust 1 · in: exhaust 2, 3 · no limit: inlet 1",
        ),
    ],
)
def test_the_headline_names_what_is_out_first(fits, words):
    assert headline(fits).startswith(words)


def test_a_long_headline_counts():
    fits = [*valves(PLAY, *[0.2, reading(0.1, 0.01), 0.05] * 4), *valves(PLAY, *[0.2] * 12, side="inlet")]
    assert headline(fits) == "16 out · 4 too close to call · 4 in"


@pytest.mark.parametrize("count", range(1, 13))
def test_a_headline_is_never_too_long(count):
    fits = [*valves(PLAY, *[0.2] * count), *valves(PLAY, *[reading(0.1, 0.01)] * count, side="inlet")]
    assert len(headline(fits)) <= LONGEST_HEADLINE


def test_cylinders_are_named_once():
    fits = [found(PLAY, Part("cylinder", row), number) for row, number in enumerate((0.2, 0.05, 0.2), 1)]
    assert headline(fits) == "Out: cylinders 1, 3 · in: 2"
    assert names_of(fits) == "Cylinder 1, cylinder 2 and cylinder 3"


def test_the_sentence_tells_at_most_three_of_a_verdict():
    assert sentence(valves(PLAY, 0.2, 0.2, 0.2, 0.2, 0.05)).endswith("; 1 more. The others are in.")


def test_the_worst_of_a_band_may_be_the_smallest():
    fits = valves(BAND, 0.15, 0.02, 0.25)
    (worst,) = worst_of_each(fits)
    assert worst.part.number == 2


def test_the_table_marks_what_is_out_and_names_its_limit():
    found_ = table([*valves(PLAY, 0.05, 0.2), *valves(NONE, 1.0, 1.0)], "Valves")
    assert [row.chosen for row in found_.rows] == [False, True]
    verdicts = [row["verdict"] for row in found_.as_data()["rows"]]
    assert found_.columns[1].text(found_.rows[1].cells[1]) == "0.200"  # the title says that all is in mm
    assert verdicts == ["in; no limit: reach", "out: play, at most 0.100 mm; no limit: reach"]


@pytest.mark.parametrize("kind", [PLAY, BAND, NONE, Kind(key="rim", noun="rim", low=0.9)])
@pytest.mark.parametrize("number", [0.0, 0.15, 20.0])
def test_any_number_stays_on_its_drawing(kind, number):
    figure = shown("A valve", valves(kind, number), lambda drawing, said: None, 100)
    assert "exhaust valve 1" in figure.svg
    places = [float(part.split('"')[0]) for part in figure.svg.split(' x1="')[1:] + figure.svg.split(' cx="')[1:]]
    assert all(0 <= place <= 340 for place in places)
