"""The leakage test: shares, holes, places, before and after the job, and every refusal."""

import csv
import io
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import magnitude_in
from calculators.bench.asking import answered, asked_with
from tests.answers import column, error_of, errors_of, signals, wrong
from tests.examples import examples
from tests.physics import Judged, is_in_only_with_its_whole_uncertainty, meets, number

LEAK = {"supply": "5.5 bar", "orifice": "1 mm"}


answer = partial(answered, "cylinders.leakage", cylinders="4", supply="5.5 bar")


def lacking(*typed):
    return [error.message for error in asked_with("cylinders.leakage", ["cylinders=4", *typed]).lacking]


def test_two_gauges_give_the_leakage():
    # by hand: (5.5 − 4.4)/5.5 is 20 %, of which ± 0.1 bar on each makes it too close to call
    found = answer(held="5.5; 5.0; 4.4; 3.0")
    shares = [magnitude_in(cell, "%") for cell in column(found, "share")]
    assert shares == pytest.approx([0, 100 / 11, 20, 100 * 2.5 / 5.5])
    assert column(found, "leak_verdict") == ["in", "in", "too close to call", "out"]
    assert found.headline == "Leaking: 4"
    assert found.says == (
        "Leaking: 4. Cylinder 3: too close to call: test it again. Cylinder 4: leaks, but where is not heard yet."
    )
    assert signals(found, "not a pass") == ["notice"]


def test_where_all_hold_the_worst_is_told():
    found = answer(held="5.3; 5.2; 5.3; 5.3")
    assert (found.headline, found.says) == ("All hold: 5% at most", "All tested hold; the worst leaks 5%.")


def test_a_doubt_is_no_pass():
    assert answer(held="5.3; 4.4; 5.3; 5.3").headline == "Too close to call: 2"


@pytest.mark.parametrize(
    ("heard", "points_to"),
    [
        ("oil", "rings or bore"),
        ("exhaust", "exhaust valve"),
        ("inlet", "inlet valve"),
        ("neighbour", "joint between neighbours"),
        ("outside", "joint of barrel and head, plug seat or crack"),
        ("nowhere", "leaks, but where is not heard yet"),
    ],
)
def test_where_it_is_heard_tells_what_leaks(heard, points_to):
    found = answer(**{"held.1": "3.0", "heard.1": heard})
    assert found.says == f"Leaking: 1. Cylinder 1: {points_to}."
    assert signals(found, "Check the lash of cylinder 1") == (["notice"] if "valve" in points_to else [])


def test_where_to_listen_is_told_place_by_place():
    places = column(answer(**{"held.1": "5"}), "place", of="listen")
    assert places[:3] == ["Oil filler or breather", "Exhaust", "Carburettor"]


def test_a_whisper_from_a_sound_cylinder_points_to_nothing():
    assert "rings" not in answer(**{"held.1": "5.3", "heard.1": "oil"}).says


def test_the_makers_limit_decides():
    assert answer(**{"held.1": "4.8"}).headline == "All hold: 13% at most"
    assert answer(**{"held.1": "4.8"}, most_leakage="5%").headline == "Leaking: 1"


def test_a_flow_meter_gives_the_leakage_that_the_gauges_would():
    gauges = answer(held="4.4; 4.4; 4.4; 4.4", **LEAK)
    flow = column(gauges, "flow")[0]
    metered = answer(flow="; ".join([f"{flow:.6f}"] * 4), **LEAK)
    assert magnitude_in(column(metered, "share")[0], "%") == pytest.approx(20, abs=1e-3)
    assert [name for name, _ in metered.value("worst_leak").budget] == ["The tester's flow meter", "The supply gauge"]


def test_a_flow_wins_over_the_held_pressure_and_that_is_said():
    found = answer(**{"held.1": "3.0", "flow.1": "0"}, **LEAK)
    assert found.headline == "All hold: 0% at most"
    assert found.notes[0] == "The held pressure of 1 is ignored: you typed a flow."


def test_no_flow_is_no_leakage():
    found = answer(flow="0; 0; 0; 0", **LEAK)
    assert [magnitude_in(cell, "%") for cell in column(found, "share")] == pytest.approx([0] * 4)


def test_a_drilled_orifice_is_worth_a_smaller_hole():
    # by hand: a coefficient of 0.64 makes the jet, and with it the hole, 0.8 times as wide
    rounded, drilled = (
        magnitude_in(column(answer(**{"held.1": "4.2"}, **LEAK, discharge=share), "hole")[0], "mm")
        for share in ("1", "0.64")
    )
    assert drilled == pytest.approx(0.8 * rounded)


def test_without_the_orifice_the_share_is_answered_all_the_same():
    (table, _) = answer(**{"held.1": "4.2"}).tables
    assert [one.key for one in table.columns] == ["cylinder", "held", "share", "leak_verdict", "heard"]


def test_an_open_cylinder_has_no_hole_to_name():
    found = answer(**{"held.1": "0"}, **LEAK)
    assert magnitude_in(column(found, "share")[0], "%") == 100
    assert "hole" not in [one.key for one in found.tables[0].columns]


def test_after_the_job_stands_beside_before():
    found = answer(held="5; 3; 5; 5", held_after="5.2; 5.1; 5.2; 5.2", **LEAK)
    assert found.headline == "Leaking: 2; after: all hold"
    assert column(found, "cylinder") == ["1", "2", "3", "4", "1, after", "2, after", "3, after", "4, after"]
    assert "cylinder 2: before 45 per cent, after 7 per cent" in found.drawing.svg


@pytest.mark.parametrize(
    ("after", "headline", "says"),
    [
        ("3; 5; 5; 5", "After: leaking, 1", "Still leaking after the job: 1."),
        ("4.4; 5; 5; 5", "After: too close to call", "Too close to call after the job: 1."),
        ("5.2; 5.2; 5.2; 5.2", "After: all hold", "After the job all tested hold."),
    ],
)
def test_after_the_job_alone_is_enough(after, headline, says):
    found = answer(held_after=after)
    assert (found.headline, found.says) == (headline, says)
    assert found.worked == ()


def test_twelve_cylinders_fit_the_headline():
    found = answer(cylinders="12", held="; ".join(["3"] * 12), held_after="; ".join(["3"] * 12))
    assert found.headline == "Leaking: 12 cylinders; after: leaking, 12 cylinders"


def test_verdicts_go_on_as_they_are():
    found = answer(held="5.5; ; 4.4; 3.0")
    assert {one.name: one.value for one in found.worked} == {
        "leak_verdict.1": "in",
        "leak_verdict.3": "too close to call",
        "leak_verdict.4": "out",
    }


def test_the_crank_is_warned_of_first_and_then_the_spark():
    first, second, *_ = answer(**{"held.1": "5"}).warnings
    assert (first.signal, "can throw the crank round" in first.text) == ("warning", True)
    assert "Battery lead off" in first.text
    assert first.text.endswith("Turn the air off before a bar touches the crank.")
    assert (second.signal, "coil still fires" in second.text) == ("warning", True)


def test_walk_holds_the_crank_at_each_and_ends_with_the_lock_off():
    (walk,) = answer(**{"held.1": "5"}).walks
    assert [stage.title for stage in walk.stages] == ["Before", "Leakage, at its firing top", "After"]
    assert [step.label for step in walk.stages[1].steps] == ["1", "2", "3", "4"]
    assert "slowly to 5.5 bar" in walk.stages[1].steps[0].words
    assert [step.key for step in walk.stages[2].steps] == ["air_off", "free"]


def test_readings_leave_as_a_table():
    (sheet,) = answer(held="5; 3; 5; 5", **{"heard.2": "exhaust"}).attachments
    rows = list(csv.DictReader(io.StringIO(sheet.text)))
    assert [row["leakage, %"] for row in rows] == ["9.091", "45.45", "9.091", "9.091"]
    assert rows[1]["points to"] == "exhaust valve"


def test_what_is_still_needed_is_said_and_no_mistake():
    assert lacking("supply=5.5") == ["Enter what the leakage tester shows: held pressure or flow"]
    assert lacking("held.1=5") == ["Enter the supply pressure, in bar"]
    assert lacking("supply=5.5", "flow.1=20") == ["Enter the orifice, in millimetres"]


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"held.1": "5.6"},
            "held.1",
            "Held pressure of cylinder 1 must be no more than the supply pressure, 5.5 bar",
        ),
        (
            {"held_after.2": "6"},
            "held_after.2",
            "Held pressure after the job of cylinder 2 must be no more than the supply pressure, 5.5 bar",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    assert errors_of(answer, **typed) == [(field, message)]


def test_every_wrong_row_is_named():
    found = wrong(answer, held="5.6; 5; 5.7; 5", **{"held_after.2": "6"})
    assert list(found) == ["held.1", "held_after.2", "held.3"]


def test_more_flow_than_the_orifice_can_pass_is_refused_with_the_most():
    # choked flow of a 1 mm orifice, coefficient 0.8, at 5.5 bar gauge and 15 °C: 0.0404 · p · A / √T (air tables)
    field, message = error_of(answer, **{"flow.1": "900"}, **LEAK)
    most = 0.0404 * 651325 * 0.8 * 0.7853982e-6 / 288.15**0.5 * 60000 / 1.225
    assert field == "flow.1"
    assert float(message.split("less than ")[1].split(",")[0]) == pytest.approx(most, rel=5e-3)


@given(st.floats(0.1, 5.4), st.floats(0.01, 0.09))
@settings(max_examples=examples(40), deadline=None)
def test_less_held_never_leaks_less(held, less):
    more, fewer = (
        magnitude_in(answer(**{"held.1": f"{one:.4f}"}, **LEAK).value("worst_leak").quantity, "%")
        for one in (held - less, held)
    )
    assert more > fewer


def test_error_limits_may_be_typed_with_their_sign():
    cells = {"held.1": "5", "flow.2": "9"}
    plain, signed = (
        answer(**cells, **LEAK, leak_error=f"{sign}0.3 bar", flow_error=f"{sign}9%") for sign in ("", "± ")
    )
    assert signed.as_data() == plain.as_data() != answer(**cells, **LEAK).as_data()


test_in_is_said_only_with_the_whole_uncertainty = is_in_only_with_its_whole_uncertainty(
    lambda **typed: answer(held="5.0; 4.1; 5.1; 3.6", **typed),
    Judged(
        "most_leakage",
        meets("worst_leak"),
        number("worst_leak"),
        lambda found: column(found, "leak_verdict")[3] == "in",
    ),
)
