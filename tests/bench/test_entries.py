"""Entries are attributes: a misspelt one is found before anything runs."""

import subprocess
import sys
from pathlib import Path

import pytest

from calculators import read_card
from calculators.bench import Answer, Question, Row, Table, choice, length, optional
from calculators.bench.asking import asked_with
from calculators.bench.entries import either_way
from calculators.bench.kinds import Wrong

ROOT = Path(__file__).resolve().parents[2]

SOURCE = """
from calculators.bench import Answer, Question, length


class Depth(Question):
    asks = "How deep?"
    depth = length("Depth", 0, 10, why="a test")

    def answer(self) -> Answer:
        return Answer(headline=str(self.{name}), says="So deep.")
"""


@pytest.mark.parametrize(("name", "passes"), [("depth", True), ("dept", False)])
def test_a_misspelt_entry_fails_the_type_checker(tmp_path, name, passes):
    path = tmp_path / "depth.py"
    path.write_text(SOURCE.format(name=name))
    done = subprocess.run([sys.executable, "-m", "mypy", str(path)], capture_output=True, text=True, check=False)
    assert (done.returncode == 0) is passes, done.stdout
    if not passes:
        assert '"Depth" has no attribute "dept"' in done.stdout


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("timing.cam", "inlet_opens=8 ± 1 °"),
        ("timing.marks", "firing_intervals=180 ± 2; 180; 180; 180"),
        ("lash.heat", "inlet_clearance=0.15 ± 0.02 mm"),
    ],
)
def test_a_figure_of_the_makers_takes_no_spread_that_would_be_dropped(name, text):
    asked = asked_with(name, [text], read_card(ROOT / "docs/engines/marram-f4.yml"))
    assert [error.message for error in asked.errors if "±" in error.message]


def test_one_key_stands_once():
    with pytest.raises(TypeError, match="depth stands twice"):

        class Twice(Question):
            class Line(Row):
                depth = length("Depth", 0, 10, why="a test")

            depth = length("Depth", 0, 10, why="a test")
            lines = Table(Line, each="Line {}", most=3)

            def answer(self):
                return Answer(headline="1", says="One.")


def test_an_optional_entry_keeps_all_that_is_said_of_it():
    entry = optional(length("Depth", 0, 10, why="a test", shared_as="depth", hint="Down."))
    assert entry.optional
    assert (entry.facts.shared_as, entry.facts.hint) == ("depth", "Down.")


def test_half_a_band_may_be_typed_with_the_sign_in_front_of_it():
    limit = length("Error limit", 0, 1, why="a test", exact=True, shared_as="limit")
    with pytest.raises(Wrong):
        limit.kind.read("± 0.02 mm", lambda: "0.02 mm", None)
    of_two_sides = either_way(optional(limit))
    assert of_two_sides.kind.read("± 0.02 mm", lambda: "0.02 mm", None).m_as("mm") == 0.02
    assert (of_two_sides.optional, of_two_sides.facts.shared_as) == (True, "limit")
    with pytest.raises(TypeError, match="two sides"):
        either_way(choice("Side", {"left": "Left"}))
