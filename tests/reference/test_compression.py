"""Compression against Monte Carlo and brute force; single figures stand in checks/."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.bench.asking import answered
from calculators.formulas.cylinder_volume import (
    clearance_volume,
    compression_ratio,
)
from calculators.formulas.decision_rule import judged
from calculators.formulas.spacer_choice import Question, TooManyChoices, best_choice, stacks_of


def test_linear_propagation_agrees_with_monte_carlo():
    """JCGM 101:2008: rectangular readings drawn 400 000 times, numpy; mean within 0.001, standard deviation within 1 %.

    Two cylinders of one engine: what bore gauge, burette and depth gauge are off by is drawn once for both, so that
    the ratios' covariance is checked as well.
    """
    draw = np.random.default_rng(20240517)

    def readings(middle, half):
        return draw.uniform(middle - half, middle + half, 400_000)

    found = answered(
        "compression.ratio", bore="80 mm", stroke="74 mm", cylinders="2", chamber="49.1; 48.2", deck="0.42; 0.45",
        crown="1.5; -0.8", gasket_thickness="0.5", gasket_bore="82", bore_error="0.2 mm", burette_error="0.3",
        burette_read_to="0.1", depth_error="0.03", depth_read_to="0.01",
    )  # fmt: skip
    ours = [next(one.value for one in found.worked if one.name == f"ratio.{cylinder}") for cylinder in (1, 2)]
    bore, stroke = readings(8.0, 0.02), readings(7.4, 0.02)
    gasket = np.pi / 4 * readings(8.2, 0.02) ** 2 * readings(0.05, 0.003)
    area = np.pi / 4 * bore**2
    burette, gauge, drawn = readings(0, 0.3), readings(0, 0.003), []
    for chamber, deck, crown in ((49.1, 0.042, 1.5), (48.2, 0.045, -0.8)):
        volumes = readings(chamber, 0.1) + readings(crown, 0.1) + 2 * burette
        clearance = volumes + gasket + area * (gauge + readings(deck, 0.001))
        drawn.append(1 + area * stroke / clearance)
    for our, other in zip(ours, drawn, strict=True):
        assert our.nominal_value == pytest.approx(other.mean(), abs=1e-3)
        assert our.std_dev == pytest.approx(other.std(), rel=0.01)
    assert (ours[0] - ours[1]).std_dev == pytest.approx((drawn[0] - drawn[1]).std(), rel=0.01)


@given(st.floats(5, 10), st.floats(1e-4, 0.5))
def test_never_in_while_the_interval_crosses_a_limit(ratio, deviation):
    """ISO 14253-1: conformity and nonconformity are proved only by the whole interval, y ± U with k = 2."""
    low, high = 7.4, 7.8
    verdict = judged(ratio, 2 * deviation, low, high)
    interval = (ratio - 2 * deviation, ratio + 2 * deviation)
    inside, outside = low <= interval[0] and interval[1] <= high, interval[1] < low or interval[0] > high
    if min(abs(end - limit) for end in interval for limit in (low, high)) > 1e-6:  # off the very edge
        assert verdict == ("in" if inside else "out" if outside else "too close to call")


drawers = st.lists(
    st.tuples(st.sampled_from((0.1, 0.2, 0.25, 0.3, 0.5, 0.75, 1.0)), st.integers(0, 3)),
    min_size=1, max_size=3, unique_by=lambda size: size[0],
)  # fmt: skip
cylinder_readings = st.lists(
    st.tuples(st.floats(46, 53), st.floats(-0.2, 0.9), st.sampled_from((103.9, 104.0, 104.0, 104.25))),
    min_size=1, max_size=4,
)  # fmt: skip


def _every_choice(sizes, counts, most, engines, heads, least, level):
    """Yield (ratios, pieces) of every choice there is: plain loops, nothing shared with the search."""
    kinds = range(len(sizes))
    stacks = [stack for many in range(most + 1) for stack in itertools.combinations_with_replacement(kinds, many)]
    for choice in itertools.product(stacks, repeat=len(engines)):
        flat = [kind for stack in choice for kind in stack]
        if any(flat.count(kind) > counts[kind] for kind in kinds):
            continue
        risen = [sum(sizes[kind] for kind in stack) for stack in choice]
        if any(deck + rise < least - 1e-7 for (_, deck, _), rise in zip(engines, risen, strict=True)):
            continue
        tops = [length + rise for (*_, length), rise in zip(engines, risen, strict=True)]
        if any(max(tops[c] for c in head) - min(tops[c] for c in head) > level + 1e-7 for head in heads):
            continue
        rooms = [chamber + 5.0265 * (deck + rise) for (chamber, deck, _), rise in zip(engines, risen, strict=True)]
        yield [(371.96 + room) / room for room in rooms], len(flat)


@settings(max_examples=120, deadline=None)
@given(drawers, cylinder_readings, st.booleans(), st.floats(6.8, 8.2), st.sampled_from((0.0, 0.05, 0.3)), st.data())
def test_choice_is_the_best_of_all(drawer, engines, one_head, target, level, data):
    """Brute force with itertools over every choice: same worst deviation, same sum, same pieces; never unlawful."""
    sizes, counts = tuple(size for size, _ in drawer), tuple(count for _, count in drawer)
    most = 2 if len(engines) < 4 and len(sizes) < 3 else 1
    least = data.draw(st.sampled_from((-1.0, 0.5, 0.9)))
    cylinders = tuple(range(len(engines)))
    heads = (cylinders,) if one_head or len(engines) < 2 else (cylinders[1:2], (cylinders[0], *cylinders[2:]))
    stacks = stacks_of(sizes, most)

    def ratio(cylinder, stack):
        chamber, deck, _ = engines[cylinder]
        return compression_ratio(371.96, clearance_volume(chamber, 5.0265, deck + stack.height, 0, 0))

    question = Question(
        heads=heads,
        stacks=stacks,
        stock=counts,
        deviations=tuple(tuple(abs(ratio(cylinder, stack) - target) for stack in stacks) for cylinder in cylinders),
        allowed=tuple(
            tuple(engines[cylinder][1] + stack.height >= least - 1e-7 for stack in stacks) for cylinder in cylinders
        ),
        lengths=tuple(length for *_, length in engines),
        level=level,
    )
    try:
        choice = best_choice(question)
    except TooManyChoices:
        pytest.fail("so small a drawer must be weighed to the end")
    weighed = [
        (max(abs(ratio - target) for ratio in ratios), sum(abs(ratio - target) for ratio in ratios), pieces)
        for ratios, pieces in _every_choice(sizes, counts, most, engines, heads, least, level)
    ]
    if choice is None:
        assert not weighed
        return
    chosen = [stacks[index] for index in choice]
    used = [kind for stack in chosen for kind in stack.pieces]
    assert all(used.count(kind) <= counts[kind] for kind in range(len(sizes)))
    assert all(engines[cylinder][1] + chosen[cylinder].height >= least - 1e-6 for cylinder in cylinders)
    for head in heads:
        tops = [engines[cylinder][2] + chosen[cylinder].height for cylinder in head]
        assert max(tops) - min(tops) <= level + 1e-6
    off = [question.deviations[cylinder][index] for cylinder, index in enumerate(choice)]
    worst = min(found[0] for found in weighed)
    assert max(off) == pytest.approx(worst, abs=1e-8)
    as_bad = [found for found in weighed if found[0] <= worst + 1e-8]
    least_sum = min(found[1] for found in as_bad)
    assert sum(off) == pytest.approx(least_sum, abs=1e-7)
    assert len(used) == min(found[2] for found in as_bad if found[1] <= least_sum + 1e-8)
