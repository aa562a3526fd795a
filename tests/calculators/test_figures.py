"""One figure by its name: the reader's own before the card's, the card's before the example's, none for another."""

from __future__ import annotations

import pytest

from calculators.bench.card import EngineCard
from calculators.bench.desk import Desk, Reading
from calculators.card.figures import Figure, figure
from tests.cards import MARRAM as EXAMPLE

OWN = EngineCard(
    "own", {"name": "Curlew F4", "torques": {"cylinder_head": {"value": "30 N·m", "source": "maker’s book"}}}
)
TARGET = "torque.wrench.target"


@pytest.mark.parametrize(
    ("desk", "path", "found"),
    [
        # NIST SP 811 (2008), B.8: a pound-force foot is 1.355 818 N·m
        (Desk({}, EXAMPLE, example=True), TARGET, Figure(text="34 N·m (25.1 lbf·ft)", whose="example")),
        (Desk({}, OWN), TARGET, Figure(text="30 N·m (22.1 lbf·ft)", whose="card")),
        (
            Desk({"head_torque": Reading("20", "lbf·ft")}, OWN),
            TARGET,
            Figure(text="20 lbf·ft (27.1 N·m)", whose="yours"),
        ),
        (Desk({"head_torque": Reading("tight", "N·m")}, OWN), TARGET, Figure()),
        (Desk({}, EXAMPLE), TARGET, Figure()),  # no example may speak
        (Desk({}, OWN), "running.plug_gap", Figure()),
        (Desk({}, EXAMPLE, example=True), "layout.firing_order", Figure(text="1 4 3 2", whose="example")),
        (Desk({}, EXAMPLE, example=True), "torque.wrench.settings", Figure(text="11 → 23 → 34 N·m", whose="example")),
        (Desk({}, OWN), "torque.wrench.passes", Figure(text="3", whose="usual")),
    ],
    ids=["example", "card", "typed", "no number", "silent example", "not on the card", "fact", "worked out", "usual"],
)
def test_a_figure_is_the_readers_before_the_cards_and_says_whose_it_is(desk, path, found):
    assert figure(desk, path) == found


def test_what_is_worked_out_of_the_readers_own_is_theirs():
    assert figure(Desk({}, OWN), "torque.wrench.settings").whose in ("yours", "")  # without studs there is no answer
    typed = {"head_torque": Reading("30", "N·m"), "head_stud_pattern": Reading("8")}
    assert figure(Desk(typed, OWN), "torque.wrench.settings") == Figure(text="10 → 20 → 30 N·m", whose="yours")
