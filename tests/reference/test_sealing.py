"""The order of the joints against a solver that is not ours, and the file against the standard reader."""

import csv
import itertools
import random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from calculators.bench.asking import answered
from calculators.formulas.cure_plan import DAY, Task, planned


def soonest_by_solver(tasks):
    """Least time until all have cured: one machine, delays between joints, a tail each (HiGHS, scipy.optimize.milp)."""
    count = len(tasks)
    pairs = list(itertools.combinations(range(count), 2))
    large = sum(one.work + one.wait + one.cure for one in tasks) + 1
    columns = count + 1 + len(pairs)  # begins, the end, and for each pair whether the first goes first
    rows, floors = [], []

    def at_least(parts, floor):
        row = np.zeros(columns)
        for column, factor in parts:
            row[column] += factor
        rows.append(row)
        floors.append(floor)

    for place, one in enumerate(tasks):
        at_least([(count, 1), (place, -1)], one.work + one.cure)
        if one.after is not None:
            before = tasks[one.after]
            at_least([(place, 1), (one.after, -1)], before.work + before.wait)
    for at, (first, second) in enumerate(pairs, count + 1):
        at_least([(second, 1), (first, -1), (at, -large)], tasks[first].work - large)
        at_least([(first, 1), (second, -1), (at, large)], tasks[second].work)
    goal = np.zeros(columns)
    goal[count] = 1
    whole = np.array([0] * (count + 1) + [1] * len(pairs))
    upper = np.array([np.inf] * (count + 1) + [1] * len(pairs))
    found = milp(
        goal, constraints=LinearConstraint(np.array(rows), np.array(floors)), integrality=whole, bounds=Bounds(0, upper)
    )
    assert found.success
    return found.fun


@pytest.mark.parametrize("seed", range(8))
def test_order_is_as_soon_as_the_solver_s(seed):
    chance = random.Random(seed)  # noqa: S311 (a repeatable draw, no secret)
    tasks = tuple(
        Task(
            chance.choice([10, 20, 45, 60]),
            chance.choice([0, 30, 90]),
            chance.choice([0, 120, 360, 720]),
            chance.choice([None, *range(place)]),
        )
        for place in range(5)
    )
    plan = planned(tasks, 0.0, 0.0, DAY)
    assert plan.proved
    assert plan.done == pytest.approx(soonest_by_solver(tasks), abs=1e-4)


def test_plan_s_file_is_read_back_by_the_standard_reader():
    # RFC 4180: commas, CRLF at each line's end, as many fields in every line
    (file,) = answered(
        "sealing.order",
        joint="case; barrel_foot; stud; cooler; cover",
        work="45; 60; 20; 25; 15",
        setting="60; 30; ; ; ",
        cure="24; 12; 6; ; 2",
        earlier="; 1; 2; 1; 3",
    ).attachments
    lines = list(csv.reader(file.text.splitlines()))
    assert [len(line) for line in lines] == [5] * 6
    assert file.text.count("\r\n") == 6
    assert [line[0] for line in lines[1:]] == ["1", "2", "3", "5", "4"]
