"""What was measured on a job, beside its limit, as the owner reads it."""

from __future__ import annotations

import pytest

from calculators.bench.card import EngineCard
from calculators.job.decisions import desk_of
from calculators.job.judgements import judgements, names_of
from tests.calculators.test_job import BARE, MARRAM
from tests.rich_job import card, rich_job

WHEN = "2026-11-25T10:00:00.000Z"


def read(**texts):
    """Return readings by path; ``dry__1="7 bar"`` is one of a row."""
    readings = {}
    for path, text in texts.items():
        number, _, unit = text.partition(" ")
        readings[path.replace("__", ".")] = {"text": number, "when": WHEN} | ({"unit": unit} if unit else {})
    return readings


def judged(readings, of=None):
    return judgements(BARE | {"readings": readings}, desk_of(readings, of))


def told(all_):
    return {
        one.what: one for one in (*all_.telling, *all_.unknown, *(one for good in all_.good.values() for one in good))
    }


@pytest.fixture(scope="module")
def rich():
    job = rich_job()
    return judgements(job, desk_of(job["readings"], card()))


def test_what_is_worn_beyond_the_makers_limit_is_named_with_its_cylinder(rich):
    wear, taper = told(rich)["bore wear"], told(rich)["bore taper"]
    # by hand: 3.3188 − 3.3120 and 3.3188 − 3.3141 in, cylinder 2; 3.3139 − 3.3120 in, cylinder 5
    assert wear.found == (("", "0.0019 to 0.0068 in"),)
    assert (wear.limit, wear.whose) == ("at most 0.0050 in", "the maker’s")
    assert taper.found[0][1].endswith("to 0.0047 in")
    job = rich_job() | {"parts": []}
    wear = told(judgements(job, desk_of(job["readings"], card())))["bore wear"]
    assert [stands.words for stands in wear.stands] == ["beyond it (cylinder 2); the others within it"]
    assert not wear.stands[0].is_replaced


def test_what_was_replaced_is_named_so_and_is_not_beyond_its_limit(rich):
    wear, margin = told(rich)["bore wear"], told(rich)["valve margin"]
    assert [stands.words for stands in wear.stands] == [
        "replaced, the new one not measured (cylinder 2); the others within it"
    ]
    assert wear.stands[0].is_replaced
    assert wear not in rich.doubtful
    # 0.030 in is less than 0.035 in, and no valve was fitted there
    assert margin.stands[0].words.startswith("beyond it (exhaust valve 5); replaced, the new one not measured")
    assert margin in rich.doubtful


MEASURED, FITTED = "2026-11-25T10:00:00.000Z", "2026-11-26T10:00:00.000Z"


@pytest.mark.parametrize(
    ("name", "more", "words"),
    [
        ("Barrel, cylinder 2", {}, "replaced, the new one not measured (cylinder 2); the others within it"),
        ("Barrels", {"count": "2"}, "replaced, the new one not measured (cylinders 1 and 2)"),
        ("Barrel", {"note": "for cylinder 2"}, "replaced, the new one not measured (cylinder 2); the others within it"),
        ("Barrel, cylinder 1", {}, "beyond it (cylinder 2); replaced, the new one not measured (cylinder 1)"),
        ("Barrel", {}, "beyond it (cylinder 2); the others within it; fitted since, to which is not put down: Barrel"),
        ("Barrel 96 mm", {}, "beyond it (cylinder 2); the others within it; fitted since, to which is not put down: "
         "Barrel 96 mm"),
        ("Barrel gasket, cylinder 2", {}, "beyond it (cylinder 2); the others within it"),
        ("Piston ring set, cylinder 2", {}, "beyond it (cylinder 2); the others within it"),
        ("Barrel, cylinder 2", {"when": MEASURED}, "beyond it (cylinder 2); the others within it"),
    ],
)  # fmt: skip
def test_a_part_counts_as_replaced_only_as_far_as_the_list_of_parts_says_which(name, more, words):
    readings = read(bore_across__1="80.02", bore_along__1="80.01", bore_across__2="80.12", bore_along__2="80.11")
    readings |= read(cylinders="2", fits__bore__wear_most="0.1 mm")
    part = {"id": "0" * 16, "when": FITTED, "name": name} | more
    facts = {"dimensions": {"bore": {"value": "80 mm", "source": "maker’s book"}}}
    job = BARE | {"readings": readings, "parts": [part]}
    all_ = judgements(job, desk_of(readings, EngineCard("own", {"name": "Own", **facts})))
    assert [stands.words for stands in told(all_)["bore wear"].stands] == [words]


def test_a_valve_of_the_other_side_was_not_replaced():
    readings = read(exhaust_margin__1="0.5 mm", inlet_margin__1="0.5 mm")
    for name, words in (
        ("Exhaust valve 1", "beyond it (inlet valve 1); replaced, the new one not measured (exhaust valve 1)"),
        ("Valve 1", "beyond it (exhaust valve 1, inlet valve 1); fitted since, to which is not put down: Valve 1"),
    ):
        job = BARE | {"readings": readings, "parts": [{"id": "0" * 16, "when": FITTED, "name": name}]}
        (margin,) = judgements(job, desk_of(readings, own("maker’s book"))).telling
        assert margin.stands[0].words == words


def test_one_kind_is_told_in_one_unit_that_of_most_readings_and_each_kind_in_its_own():
    in_inches = {f"exhaust_margin__{number}": "0.052 in" for number in (1, 2, 3)}
    typed = {**in_inches, "inlet_margin__1": "1.3 mm", "dry__1": "7.5 bar", "dry__2": "7.4 bar", "cylinders": "2"}
    typed |= {"fits__valve_margin__margin_least": "1 mm", "cylinders__compression__least_pressure": "6 bar"}
    bench = {f"bore_{axis}__{row}": "80.01 mm" for axis in ("across", "along") for row in (1, 2)}
    all_ = judged(read(**typed))
    assert told(all_)["valve margin"].found[0][1] == "0.0512 to 0.0520 in"  # 1.3 mm is 0.0512 in
    assert told(all_)["compression"].found[0][1] == "7.4 to 7.5 bar"  # nobody read it in psi
    assert all_.is_converted
    # 0.052 in is 1.3208 mm; with the bores, five lengths of eight were read in millimetres
    assert told(judged(read(**typed, **bench)))["valve margin"].found[0][1] == "1.300 to 1.321 mm"


def test_a_reading_with_many_choices_beside_it_keeps_its_unit():
    typed = read(held__1="57 psi", leak_supply="80 psi", cylinders="1", dry__1="118psi", crank_rotation="clockwise")
    assert told(judged(typed))["compression"].found[0][1] == "118 psi"
    assert not judged(typed).is_converted


def test_before_and_after_stand_side_by_side_each_with_its_verdict(rich):
    compression = told(rich)["compression"]
    assert compression.found == (("before", "84 to 121 psi"), ("after", "126 to 131 psi"))
    # by hand: 121 − 97 is more than 18 psi apart, 118 − 97 too; 84 is below 95
    assert [(one.when, one.words) for one in compression.stands] == [
        ("before", "beyond it (cylinders 2 and 6); the others within it"),
        ("after", "within it"),
    ]
    assert compression.whose == "the maker’s and the workshop’s own figure"
    assert compression.is_good_now
    assert not compression.lacks_after
    assert compression not in rich.doubtful


def test_two_questions_tell_the_gap_before_and_after_and_each_has_its_limit(rich):
    gap = told(rich)["valve gap, exhaust"]
    assert gap.found == (("before", "0.0120 in"), ("after", "0.0080 to 0.0090 in"))
    # by hand: 0.008 in and the usual allowance of 0.05 mm, 0.002 in; 0.012 in is beyond that, 0.008 in is the figure
    assert gap.limit == "0.0080 to 0.0100 in"
    assert [one.words for one in gap.stands] == ["beyond it (cylinder 1)", "as it should be"]
    assert gap.is_good_now


def test_where_no_limit_is_known_nothing_is_said_to_be_good_or_bad(rich):
    assert [one.what for one in rich.unknown] == ["bore out-of-round", "rocker bush clearance"]
    for one in rich.unknown:
        assert (one.limit, one.whose, one.is_good_now) == ("", "", False)
        assert [stands.words for stands in one.stands] == ["limit not known"]


def test_without_a_card_and_a_typed_limit_no_fit_is_judged():
    all_ = judged(read(bore_across__1="80.11", bore_along__1="80.08", cylinders="1"))
    assert [one.what for one in all_.unknown] == ["bore out-of-round"]
    assert not all_.telling
    assert not all_.good


def test_a_limit_of_the_books_example_is_no_limit_of_the_readers_engine():
    all_ = judged(read(exhaust_margin__1="1.3 mm"), MARRAM)
    assert [one.what for one in all_.unknown] == ["valve margin"]


def own(source):
    return EngineCard("own", {"name": "Own", "limits": {"valve_margin": {"value": "0.9 mm", "source": source}}})


@pytest.mark.parametrize(
    ("source", "whose"),
    [
        ("maker’s book", "the maker’s"),
        ("the maker, by letter", "the maker’s"),
        ("told", "the engine card’s, source: told"),
    ],
)
def test_a_card_says_whose_its_limit_is(source, whose):
    all_ = judged(read(exhaust_margin__1="1.3 mm"), own(source))
    assert list(all_.good) == [whose]
    (one,) = all_.good[whose]
    assert (one.what, one.found, one.limit) == ("valve margin", (("", "1.300 mm"),), "at least 0.900 mm")


def test_a_typed_limit_is_the_workshops_and_a_usual_one_common_practice():
    typed = {"fits.valve_margin.margin_least": "1.0 mm", "exhaust_margin.1": "1.3 mm"}
    assert list(judged(read(**{path.replace(".", "__"): text for path, text in typed.items()})).good) == [
        "the workshop’s own figure"
    ]
    usual = judged(read(held__1="3.9 bar", leak_supply="5.5 bar", cylinders="1"))
    (leakage,) = usual.telling
    assert (leakage.limit, leakage.whose) == ("at most 20%", "common practice, no source")
    assert leakage.lacks_after


def test_what_the_gauge_cannot_tell_from_its_limit_is_not_called_good():
    (one,) = judged(read(exhaust_margin__1="0.92 mm"), own("maker’s book")).telling
    assert [(stands.words, stands.is_good) for stands in one.stands] == [
        ("too near it for the gauge to tell (exhaust valve 1)", False)
    ]


def test_a_limit_either_way_is_said_as_one():
    readings = read(
        inlet_opens_before_top="8 °",
        inlet_closes_after_bottom="40 °",
        exhaust_opens_before_bottom="42 °",
        exhaust_closes_after_top="6 °",
        inlet_opens_read="7 °",
        inlet_closes_read="41 °",
    )
    all_ = told(judged(readings))
    assert all_["cam behind its timing by"].limit == "at most 3.0° either way"


def test_it_is_told_in_the_unit_of_the_readings_and_not_of_limits_and_errors():
    typed = {"exhaust_margin__1": "0.052 in", "fits__valve_margin__margin_least": "1 mm", "calliper_error": "0.05 mm"}
    (margin,) = judged(read(**typed)).good["the workshop’s own figure"]
    assert margin.found == (("", "0.0520 in"),)
    assert margin.limit == "at least 0.0394 in"  # 1 mm ÷ 25.4 mm/in


def test_what_was_only_set_up_is_not_measured():
    assert not judged(read(cylinders="4", bore_error="0.01 mm", odometer="48250")).of


def test_many_parts_are_counted_and_not_named():
    texts = {f"exhaust_margin__{number}": "0.5 mm" for number in range(1, 8)}
    (one,) = judged(read(**texts, cylinders="8"), own("maker’s book")).telling
    assert one.stands[0].words == "beyond it (7 of 7)"


def test_names_that_differ_in_their_number_stand_together():
    assert names_of(["at 850 r/min", "at 2000 r/min"]) == "at 850 r/min and at 2000 r/min"
