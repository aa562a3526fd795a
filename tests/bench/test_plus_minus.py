"""A ± that is typed with a figure reaches the answer, or is refused: it is never dropped."""

import pytest

from calculators import InputErrors, uncertainty_in
from calculators.bench.asking import answered

GAPS = {"inlet_clearance": "0.15 mm", "exhaust_clearance": "0.20 mm"}
SCREW = {
    "cylinders": "1",
    "inlet_found": "0.25",
    "screw_pitch": "1 mm",
    "rocker_ratio": "1.25",
    "adjuster_end": "valve",
}
RATIO = {"bore": "80", "stroke": "74", "cylinders": "2", "heads": "1 2", "chamber": "49.1; 49.5", "deck": "0.4; 0.4"}
SPACERS = RATIO | {"target": "7.6", "thickness": "0.5; 1", "pieces": "4; 4"}
PLAN = {"cylinders": "4", "firing_order": "1 4 3 2", "crank_rotation": "clockwise"}
CRANKED = {"ratio": "7.6; 7.6", "cylinders": "2", "stroke": "74", "rod_length": "132", "inlet_closing": "40"}
ROCKER = {"rocker_ratio": "1.15", "adjuster_end": "pushrod", "heads": "1 2", "reach": "1"}
CURVE = {
    "static_advance": "7",
    "full_advance": "30",
    "full_speed": "3000",
    "light_speed": "2000",
    "light_advance": "18",
}
TWO_GAPS = {"lobes": "4", "dwell": "50", "dwell_read": "53", "gap_second": "0.45", "dwell_second": "47"}


@pytest.mark.parametrize(
    ("name", "key", "label", "text", "given"),
    [
        ("compression.spacers", "least_deck", "Least deck clearance", "1 ± 0.1", SPACERS),
        ("compression.spacers", "most_deck", "Most deck clearance", "3 ± 0.1", SPACERS),
        ("compression.made", "least_deck", "Least deck clearance", "1 ± 0.1", RATIO | {"target": "7.6"}),
        ("compression.made", "most_deck", "Most deck clearance", "3 ± 0.1", RATIO | {"target": "7.6"}),
        ("lash.plan", "blades", "Feeler blades", "0.15 ± 0.01 0.2", GAPS | PLAN),
        ("lash.found", "blades", "Feeler blades", "0.15 ± 0.01 0.2", GAPS | SCREW),
        (
            "lash.lock_nut",
            "blades",
            "Feeler blades",
            "0.15 ± 0.01 0.2",
            GAPS | {"gap_before": "0.15", "gap_after": "0.18"},
        ),
        ("lash.blades", "blades", "Feeler blades", "0.15 ± 0.01 0.2", GAPS),
        ("lash.found", "allowance", "Allowance over the gap", "0.05 ± 0.01", GAPS | SCREW),
        ("lash.blades", "allowance", "Allowance over the gap", "0.05 ± 0.01", GAPS),
        ("cylinders.leakage", "orifice", "Orifice", "1 ± 0.1", {"cylinders": "1", "supply": "5.5", "held": "5"}),
        ("pushrods.rockers", "valve_lift", "Valve lift", "8.2 ± 0.5", ROCKER | {"rocker_arm": "24"}),
        ("springs.shims", "seat_load", "Seat load wanted", "265 ± 20", {"rate": "28 N/mm", "begins": "47 mm"}),
    ],
)
def test_a_figure_to_work_to_takes_no_plus_minus(name, key, label, text, given):
    with pytest.raises(InputErrors) as caught:
        answered(name, **given | {key: text})
    (message,) = [error.message for error in caught.value.errors if error.field == key]
    assert message.startswith(f"{label} must be ")


def shown(found, key):
    """Return what an answer shows of a value, or in a table."""
    if any(value.key == key for value in found.values):
        return found.value(key).texts
    return [[str(cell) for cell in row.cells] for table in found.tables if table.key == key for row in table.rows]


@pytest.mark.parametrize(
    ("name", "key", "text", "given", "reaches"),
    [
        ("compression.cranking", "air_temperature", "20 ± 20", CRANKED | {"altitude": "3000 m"}, "cranking_pressure"),
        ("cylinders.expected", "air_temperature", "20 ± 20", CRANKED | {"altitude": "3000 m"}, "expected"),
        ("cylinders.expected", "inlet_closing", "40 ± 10", CRANKED, "effective_ratio"),
        ("cylinders.expected", "rod_length", "132 ± 40", CRANKED, "effective_ratio"),
        (
            "cylinders.compression",
            "air_temperature",
            "20 ± 20",
            {"cylinders": "1", "dry": "6", "least_pressure": "6.5", "altitude": "1500 m"},
            "least_here",
        ),
        (
            "cylinders.leakage",
            "air_temperature",
            "20 ± 20",
            {"cylinders": "1", "supply": "5.5", "orifice": "1 mm", "flow": "20", "flow_error": "0", "leak_error": "0"},
            "leakage",
        ),
        ("compression.made", "barrel_length", "104 ± 0.2; 104 ± 0.2", RATIO | {"target": "7.6"}, "step_1"),
        ("fasteners.which_thread", "diameter", "9.88 ± 0.2", {"pitch": "1.5"}, "thread_1"),
        ("fasteners.which_thread", "pitch", "1.5 ± 0.1", {"diameter": "9.88"}, "thread_1"),
        ("pushrods.adjusters", "travel_out", "2 ± 0.5", ROCKER | {"travel_in": "3", "reach": "-1"}, "left"),
        ("timing.light", "old_mark_early", "2 ± 1", CURVE | {"light_from": "old"}, "light"),
        ("timing.points", "gap_fitted", "0.35 ± 0.02", TWO_GAPS, "gap_to_set"),
    ],
)
def test_a_plus_minus_typed_with_a_reading_reaches_the_answer(name, key, text, given, reaches):
    bare = "; ".join(cell.partition(" ±")[0] for cell in text.split("; "))
    without, found = (shown(answered(name, **given | {key: typed}), reaches) for typed in (bare, text))
    assert found != without


def test_what_the_lock_nut_adds_is_off_by_its_own_plus_minus():
    found = answered("lash.found", **GAPS | SCREW, locknut_adds="0.03 ± 0.01")
    (row,) = found.tables[0].rows
    loose = row.cells[[column.key for column in found.tables[0].columns].index("loose")]
    assert uncertainty_in(loose, "mm") == pytest.approx(0.02 / 3**0.5)


def test_lengths_that_do_not_tell_whether_new_spacers_level_the_tops_are_named():
    sure, unsure = (
        answered("compression.made", **RATIO | {"target": "7.6", "barrel_length": f"104 ± {limit}; 104 ± {limit}"})
        for limit in ("0.005", "0.2")
    )
    assert (sure.value("level_1").quantity, unsure.value("level_1").quantity) == ("in", "too close to call")
    said = "Whether the tops of barrels 1 and 2"
    assert not any(said in caution.text for caution in sure.warnings)
    assert any(said in caution.text for caution in unsure.warnings)


def test_a_limit_with_a_plus_minus_of_its_own_is_judged_by_all_of_it():
    typed = {"cylinders": "1", "least_pressure": "6.5", "altitude": "4000 m", "dry": "4.3 ± 0.01", "gauge_scatter": "0"}
    warm, unknown = (answered("cylinders.compression", **typed, air_temperature=text) for text in ("15", "15 ± 40"))
    (before,), (after,) = (
        [one.value for one in of.worked if one.name == "compression_verdict.1"] for of in (warm, unknown)
    )
    assert (before, after) == ("in", "too close to call")
