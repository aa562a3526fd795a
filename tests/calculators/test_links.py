"""Links from device to device: numbers go with their units, and what no question asks for is named."""

import json

import pytest

from calculators.browser import answer_message
from calculators.job.links import brought, carried

WHEN = "2026-11-25T10:00:00Z"


def reading(text, unit=None):
    return {"text": text, "when": WHEN} | ({"unit": unit} if unit else {})


JOB = {
    "bore": reading("3.15", "in"),
    "chamber.2": reading("49.6 ± 0.2", "cm³"),
    "measuring.chambers.fill.1": reading("49.2 49.1", "cm³"),
    "crank_rotation": reading("anticlockwise"),
    "firing_order": reading("1 4 3 2"),
    "ratio.1": reading("7.6") | {"from": "compression-and-spacers"},
    "calculators/torque-stages/ torque-stages passes": reading("3"),
    "instrument.burette": reading("no. 2"),
}


def test_a_link_carries_what_a_page_rests_on_each_number_with_its_unit():
    assert carried(["compression.ratio"], JOB) == {
        "bore": "3.15 in",
        "chamber.2": "49.6 ± 0.2 cm³",
        "measuring.chambers.fill.1": "49.2 49.1 cm³",  # the chambers rest on it
    }
    assert carried(["lash.plan"], JOB)["crank_rotation"] == "anticlockwise"
    assert carried([], JOB) == {}


@pytest.mark.parametrize("names", [["compression.ratio"], ["lash.plan", "lash.marks"]])
def test_what_one_device_sends_another_takes_as_it_was_typed(names):
    sent = carried(names, JOB)
    found = brought(sent)
    assert (found["strange"], found["bare"]) == ([], [])
    for path, taken in found["readings"].items():
        assert (taken["text"], taken.get("unit")) == (JOB[path]["text"], JOB[path].get("unit")), path


@pytest.mark.parametrize(
    "path",
    ["horoscope", "bore.2", "chamber.0", "chamber.999", "chamber.x", "torque-stages nip", "instrument.burette", ""],
)
def test_what_no_question_asks_for_is_named_and_left_out(path):
    found = brought({path: "7", "bore": "80 mm"})
    assert found["strange"] == [path]
    assert list(found["readings"]) == ["bore"]


def test_a_number_without_a_unit_is_taken_in_its_entrys_own_and_named():
    found = brought({"bore": "80", "chamber.1": "3 in³", "deck.1": ""})
    assert found["bare"] == ["Bore (taken in mm)"]
    assert found["readings"]["bore"] == {"text": "80", "unit": "mm", "called": "Bore"}
    assert found["readings"]["chamber.1"]["unit"] == "in³"


def test_any_text_comes_as_it_was_sent():
    for text in ("<b>", "much", "x" * 3000, "3 furlong"):
        assert brought({"bore": text})["readings"]["bore"]["text"] == text


def test_the_page_asks_for_both():
    asked = {"want": "carried", "names": ["compression.ratio"], "readings": JOB}
    assert json.loads(answer_message(json.dumps(asked)))["entries"]["bore"] == "3.15 in"
    assert json.loads(answer_message(json.dumps({"want": "brought", "entries": {"bore": "80 mm"}})))["readings"]


def test_a_link_of_an_older_edition_brings_the_exponent_under_the_name_it_has_now():
    found = brought({"cranking_exponent": "1.3"})
    assert (list(found["readings"]), found["strange"]) == (["polytropic_exponent"], [])
