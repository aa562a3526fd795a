"""Units and fasteners: conversions, drills, marks, fallback torques, and every refusal."""

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in, stud_clamp, units_and_fasteners
from calculators._units import units_of
from calculators.formulas.threads import FASTENERS, STEELS

CIRCLE, LINE, RECTANGLE = (f"{{http://www.w3.org/2000/svg}}{shape}" for shape in ("circle", "line", "rect"))


def answer(**typed):
    return units_and_fasteners.compute(units_and_fasteners.FORM.read(typed))


def value(report, key):
    return next(value for value in report.values if value.key == key)


def table(report, key):
    return next(table for table in report.tables if table.key == key)


def errors_of(**typed):
    with pytest.raises(InputErrors) as caught:
        answer(**typed)
    return [(error.field, error.message) for error in caught.value.errors]


def test_lead_gives_the_drills_and_the_fallback():
    assert answer().lead == (
        "M8 × 1.25: drill 6.8 mm to tap it, 8.4 mm for a wire insert. Without a maker's figure, "
        "not over 15.1 N·m for class 8.8, oiled."
    )


@pytest.mark.parametrize("kind", ["length", "torque", "volume", "force", "pressure"])
def test_a_value_is_told_in_every_unit_of_its_kind(kind):
    own = units_and_fasteners.FORM.read({}).__dict__  # all of them may be left empty
    assert own[kind] is None
    report = answer(**{kind: "12.5"})
    shown = [value.units[0] for value in report.values if value.label.startswith(f"{kind.capitalize()}, in ")]
    assert shown == [unit.symbol for unit in units_of(kind)]


def test_conversions_keep_six_figures_also_of_small_values():
    report = answer(length="0.15 mm")
    texts = [text for value in report.values if value.label.startswith("Length") for text in value.texts]
    # by hand: 0.15 ÷ 25.4 = 0.005 905 512
    assert {"0.15 mm", "0.00590551 in", "5.90551 thou", "0.015 cm", "0.00015 m"} <= set(texts)


def test_a_typed_doubt_is_converted_too():
    texts = [text for value in answer(length="25.4 ± 0.254 mm").values for text in value.texts]
    # NIST SP 811 (2008), B.8: 1 in is 25.4 mm, of a limit too
    assert "1 ± 0.01 in" in texts


@given(number=st.floats(0.001, 1e4), symbol=st.sampled_from([unit.symbol for unit in units_of("torque")]))
def test_a_value_comes_back_from_every_unit(number, symbol):
    report = answer(torque=f"{number:.9f} {symbol}")
    for item in report.values:
        if item.label.startswith("Torque, in "):
            there = magnitude_in(item.quantity, item.units[0])
            again = answer(torque=f"{there!r}"[:30] + f" {item.units[0]}") if "e" not in f"{there!r}" else None
            if again:
                back = next(value for value in again.values if value.key == item.key)
                assert magnitude_in(back.quantity, symbol) == pytest.approx(float(f"{number:.9f}"), rel=1e-12)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"diameter": "9.88 mm", "pitch": "1.5 mm"}, "can be M10 × 1.5."),
        ({"diameter": "0.37 in", "per_inch": "24"}, "can be 3/8-24."),
        ({"diameter": "9.88 mm", "pitch": "1.4"}, "is none listed here; nearest is M10 × 1.5."),
    ],
)
def test_a_measured_thread_is_named_in_the_lead(typed, words):
    assert answer(**typed).lead.endswith(f" The thread measured {words}")


def test_table_of_threads_tells_what_it_is_confused_with():
    rows = table(answer(diameter="9.88", pitch="1.5"), "threads").rows
    assert [(row.cells[0], row.chosen) for row in rows][:2] == [("M10 × 1.5", True), ("3/8-16", False)]


def test_a_doubt_typed_with_the_diameter_wins_over_the_caliper():
    sure = table(answer(diameter="9.99 ± 0.005 mm", pitch="1.5"), "threads").rows[0].cells[1]
    unsure = table(answer(diameter="9.99", pitch="1.5"), "threads").rows[0].cells[1]
    assert (sure, unsure) == ("fits", "may fit")


def test_drills_leave_about_the_share_wanted():
    for row in table(answer(thread="M10 × 1.5", share="75"), "drills").rows[:2]:
        assert magnitude_in(row.cells[3], "%") == pytest.approx(75, abs=3)
    through = table(answer(thread="M10 × 1.5"), "drills").rows[2].cells
    assert magnitude_in(through[1], "mm") == 11
    assert through[3] is None


@given(thread=st.sampled_from(list(FASTENERS)), steel=st.sampled_from(list(STEELS)))
def test_a_fallback_never_pulls_beyond_three_quarters_of_proof(thread, steel):
    torque = value(answer(thread=thread, steel=steel), "fallback").quantity
    if not 1 <= magnitude_in(torque, "N·m") <= 400:
        return
    typed = {
        "thread": thread,
        "steel": steel,
        "torque": f"{magnitude_in(torque, 'N·m'):.9f}",
        "engagement": "20",
        "wrench_error": "0",
    }
    values = {value.key: value for value in stud_clamp.compute(stud_clamp.FORM.read(typed)).values}
    most, proof = (magnitude_in(values[key].quantity, "N") for key in ("most_pull", "proof_load"))
    assert most == pytest.approx(0.75 * proof, rel=1e-6)


def test_fallbacks_list_the_classes_of_one_system_and_mark_the_one_asked_for():
    metric, inch = (table(answer(steel=steel), "fallbacks").rows for steel in ("10.9", "grade 5"))
    assert [row.cells[0] for row in metric if row.chosen] == ["10.9"]
    assert {row.cells[0] for row in inch} == {"grade 1", "grade 2", "grade 5", "grade 8"}


def test_slicker_threads_want_less_torque():
    torques = [magnitude_in(value(answer(condition=name), "fallback").quantity, "N·m") for name in ("dry", "oiled")]
    assert torques[0] > torques[1] > magnitude_in(value(answer(condition="anti-seize"), "fallback").quantity, "N·m")


def test_fallback_is_forbidden_where_a_maker_gives_a_figure():
    (warning,) = [caution for caution in answer().cautions if caution.signal == "warning"]
    assert "cylinder heads" in warning.text
    assert "Only where no maker's figure exists".lower() in table(answer(), "fallbacks").title.lower()


@pytest.mark.parametrize(
    ("steel", "shape", "count"),
    [("grade 5", LINE, 3), ("grade 8", LINE, 6), ("grade 2", LINE, 0), ("10.9", RECTANGLE, 1), ("9.8", LINE, 2)],
)
def test_marks_are_drawn_with_their_strokes_and_signs(steel, shape, count):
    (figure,) = answer(steel=steel).figures
    drawn = list(ElementTree.fromstring(figure.svg).iter(shape))  # noqa: S314 (our own text)
    assert len(drawn) == count


@pytest.mark.parametrize("steel", STEELS)
def test_marks_are_told_in_words(steel):
    (figure,) = answer(steel=steel).figures
    label = ElementTree.fromstring(figure.svg).get("aria-label")  # noqa: S314
    assert STEELS[steel].head in label
    assert STEELS[steel].head in value(answer(steel=steel), "mark").quantity


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"thread": ""}, "thread", "Enter the thread"),
        ({"steel": ""}, "steel", "Enter the property class or grade"),
        ({"condition": ""}, "condition", "Enter the thread condition"),
        ({"condition": "wet"}, "condition", "Thread condition must be one of: dry, oiled, anti-seize"),
        ({"share": "39"}, "share", "Share of full thread to tap must be between 40% and 95%"),
        ({"diameter": "2"}, "diameter", "Outside diameter must be between 2.5 mm and 21 mm"),
        ({"pitch": "4"}, "pitch", "Pitch must be between 0.4 mm and 3 mm"),
        ({"per_inch": "7"}, "per_inch", "Threads per inch must be between 8 and 60"),
        ({"caliper_error": "1"}, "caliper_error", "Error limit of the caliper must be between 0 mm and 0.5 mm"),
        ({"torque": "25 mm"}, "torque", "Torque must use a unit of torque, like N·m or lbf·ft"),
        ({"length": "-1"}, "length", "Length must be between 0 mm and 1000000 mm"),
        ({"pitch": "1.5"}, "diameter", "Enter the outside diameter too, in millimetres"),
        (
            {"diameter": "10", "pitch": "1.5", "per_inch": "16"},
            "per_inch",
            "Threads per inch must be empty where the pitch is typed, or the pitch",
        ),
        (
            {"diameter": "11.2", "pitch": "0.5"},
            "diameter",
            "No thread listed here comes near 11.20 mm and this pitch. Measure over the crests, and the pitch over "
            "ten threads.",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    assert errors_of(**typed) == [(field, message)]
