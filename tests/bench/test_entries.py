"""Entries are attributes: a misspelt one, or a misspelt fact of the card, is found before anything runs."""

import subprocess
import sys
from pathlib import Path

import pytest

from calculators import EngineCard, magnitude_in, read_card
from calculators.bench import Answer, Question, Row, Table, choice, length, optional
from calculators.bench.asking import asked_with
from calculators.bench.entries import either_way
from calculators.bench.kinds import Wrong

ROOT = Path(__file__).resolve().parents[2]

SOURCE = """
from calculators.bench import Answer, Question, length
from calculators.bench.card_facts import CardFacts


class Depth(Question):
    asks = "How deep?"
    depth = length("Depth", 0, 10, why="a test", card=CardFacts.{fact}.path)

    def answer(self) -> Answer:
        known = self.card.facts.torques.{torque} if self.card else None
        return Answer(headline=str(known or self.{name}), says="So deep.")
"""
RIGHT = {"name": "depth", "fact": "dimensions.bore", "torque": "spark_plug"}


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({}, ""),
        ({"name": "dept"}, '"Depth" has no attribute "dept"'),
        ({"fact": "dimensions.boar"}, '"type[Dimensions]" has no attribute "boar"'),
        ({"torque": "spark_plugs"}, '"Torques" has no attribute "spark_plugs"'),
    ],
)
def test_a_misspelt_entry_or_fact_fails_the_type_checker(tmp_path, wrong, told):
    path = tmp_path / "depth.py"
    path.write_text(SOURCE.format(**(RIGHT | wrong)))
    done = subprocess.run([sys.executable, "-m", "mypy", str(path)], capture_output=True, text=True, check=False)
    assert (done.returncode != 0) is bool(told), done.stdout
    assert told in done.stdout


@pytest.mark.parametrize("named", [{"from_card": ("dimensions.boar",)}, {"depth": "dimensions.boar"}])
def test_a_question_that_names_no_fact_of_a_card_is_none(named):
    depth = {"depth": length("Depth", 0, 10, why="a test", card=named["depth"])} if "depth" in named else named
    with pytest.raises(TypeError, match=r"an engine card has no dimensions\.boar"):
        type("Depth", (Question,), depth | {"__module__": __name__})


def test_the_facts_of_a_card_are_values():
    facts = read_card(ROOT / "docs/engines/marram-f4.yml").facts
    assert magnitude_in(facts.torques.cylinder_head, "N·m") == 34
    assert facts.layout.banks == ((1, 2), (3, 4))
    assert facts.layout.firing_order == (1, 4, 3, 2)
    assert (facts.studs.head_screws.screw_count, facts.studs.cylinder_head.thread) == (2, "M10 × 1.5")
    assert facts.studs.cylinder_head.order is None
    assert facts.dimensions.bore.m_as("mm") == 80
    odd = EngineCard("odd", {"dimensions": {"bore": {"value": "80 N"}, "stroke": 7}, "torques": []}).facts
    assert (odd.dimensions.bore, odd.dimensions.stroke, odd.torques.spark_plug) == (None, None, None)


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
