"""What a job keeps of worked-out readings follows a change of what they rest on."""

from __future__ import annotations

import copy
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import read_card
from calculators._catalogue import calculator, catalogue
from calculators._engine_card import EngineCard
from calculators._form import Rows
from calculators._job.readings import as_read
from calculators._job.renewal import as_typed, asked, renewed

CARD = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
EARLY, THEN, LATER = "2026-05-04T09:00:00.000Z", "2026-05-04T10:00:00.000Z", "2026-05-04T11:00:00.000Z"
HOME = "calculators/chamber-volume/ chamber-volume"
CHAIN = ("chamber-volume", "deck-height", "compression-and-spacers", "pushrods-and-tubes")


def _typed(**texts: str) -> dict[str, dict[str, str]]:
    return {path: {"text": text, "when": EARLY} for path, text in texts.items()}


def _kept(name: str, when: str = THEN, **typed: str) -> dict[str, dict[str, str]]:
    """What the page of a calculator keeps for what is typed in it."""
    return {
        kept.path: {"text": kept.text, "label": kept.label, "from": name, "when": when}
        for kept in calculator(name).answer(calculator(name).form.prefilled(CARD) | typed, CARD).kept
    }


def _job() -> dict[str, dict[str, str]]:
    """Return a job in which four calculators, one after the other, kept what they worked out."""
    fills = {f"fill.{row}": f"{fill} {fill}" for row, fill in enumerate((49.1, 49.5, 48.2, 48.6), 1)}
    depths = {f"depth.{row}": "0.42 0.40 0.41 0.43" for row in range(1, 5)}
    drawer = {"spacer_thickness": (0.25, 0.5, 0.75, 1), "spacer_pieces": (4, 4, 4, 4)}
    readings = {f"{HOME} {key}": {"text": text, "when": EARLY} for key, text in fills.items()}
    readings |= {
        f"calculators/deck-height/ deck-height {key}": {"text": text, "when": EARLY} for key, text in depths.items()
    }
    readings |= {
        f"{path}.{row}": {"text": str(cell), "when": EARLY}
        for path, cells in drawer.items()
        for row, cell in enumerate(cells, 1)
    }
    readings |= _typed(target_ratio="7.6", adjuster_travel_in="2.5", adjuster_travel_out="3.5")
    for name in CHAIN:  # each once kept something, and works it out anew
        first = {"once": {"text": "", "when": EARLY, "from": name}}
        found = renewed(readings | first, CARD)["renewed"]
        readings |= {path: kept | {"when": THEN} for path, kept in found.items()}
    return readings


def _texts(readings: dict[str, dict[str, str]], start: str) -> list[str]:
    return [reading["text"] for path, reading in sorted(readings.items()) if path.startswith(start)]


def test_a_job_in_which_nothing_changed_stays_as_it_is():
    job = _job()
    assert {reading.get("from") for reading in job.values()} == {None, *CHAIN}
    assert renewed(job, CARD) == {"renewed": {}, "stuck": {}}


def test_one_fill_changes_all_that_rests_on_it_and_nothing_else():
    job = _job()
    before = _texts(job, "spacer_height")
    job[f"{HOME} fill.1"] = {"text": "51.3 51.3", "when": LATER}
    found = renewed(job, CARD)
    assert found["stuck"] == {}
    assert found["renewed"].keys() == {
        "chamber.1",
        "volume_scatter",  # more than the burette holds, so it is filled twice
        *(f"{kept}.{row}" for kept in ("spacer_height", "deck_clearance") for row in (1, 2)),
        *(f"{kept}.1" for kept in ("clearance_volume", "ratio")),
        *(f"{kept}.2" for kept in ("clearance_volume", "ratio")),
        "head_shift.1",
    }
    assert found["renewed"]["chamber.1"] == {
        "text": _kept("chamber-volume", **{f"fill.{row}": "51.3 51.3" for row in range(1, 5)})["chamber.1"]["text"],
        "label": "Chamber volume of cylinder 1",
        "from": "chamber-volume",
    }
    after = _texts(job | found["renewed"], "spacer_height")
    assert before[:2] != after[:2]
    assert before[2:] == after[2:]
    # and once it is kept, it is as the pages would have it
    whole = job | {path: kept | {"when": LATER} for path, kept in found["renewed"].items()}
    assert renewed(whole, CARD) == {"renewed": {}, "stuck": {}}
    typed = {"target": "7.6", "thickness": "0.25 0.5 0.75 1", "pieces": "4 4 4 4"}
    typed |= {f"{name}.{row}": whole[f"{name}.{row}"]["text"] for name in ("chamber", "deck") for row in range(1, 5)}
    page = _kept("compression-and-spacers", **typed)
    assert {path: kept["text"] for path, kept in page.items()} == {path: whole[path]["text"] for path in page}


def test_a_target_out_of_reach_is_told_and_the_rest_follows():
    job = _job()
    job["target_ratio"] = {"text": "12", "when": LATER}
    job[f"{HOME} fill.1"] = {"text": "51.3 51.3", "when": LATER}
    found = renewed(job, CARD)
    assert found["stuck"] == dict.fromkeys(("compression-and-spacers", "pushrods-and-tubes"), "Compression and spacers")
    assert found["renewed"].keys() == {"chamber.1", "volume_scatter"}


def test_a_mistake_is_told_and_what_it_gave_before_stands():
    job = _job()
    job[f"{HOME} fill.1"] = {"text": "about fifty", "when": LATER}
    found = renewed(job, CARD)
    assert found["renewed"] == {}
    behind = ("chamber-volume", "compression-and-spacers", "pushrods-and-tubes")
    assert found["stuck"] == dict.fromkeys(behind, "Chamber volume")


def test_what_was_typed_over_a_result_stays():
    job = _job() | {"chamber.1": {"text": "50", "when": EARLY}}
    job[f"{HOME} fill.1"] = {"text": "51.3 51.3", "when": LATER}
    job[f"{HOME} fill.2"] = {"text": "51.3 51.3", "when": LATER}
    found = renewed(job, CARD)["renewed"]
    assert "chamber.1" not in found
    assert "chamber.2" in found


def test_another_card_is_a_change_too():
    job = _job()
    data = copy.deepcopy(CARD.data)
    data["dimensions"]["stroke"]["value"] = "73.9 mm"
    assert renewed(job, EngineCard("other", data))["renewed"].keys() >= {f"ratio.{row}" for row in range(1, 5)}


def test_an_entry_that_was_taken_out_leaves_no_answer():
    job = _job()
    del job[f"{HOME} fill.1"]
    found = renewed(job, CARD)
    assert found["renewed"] == {}
    assert found["stuck"]["chamber-volume"] == "Chamber volume"


def test_an_older_entry_that_came_with_another_copy_counts_too():
    job = _job()
    job[f"{HOME} fill.1"] = {"text": "51.3 51.3", "when": EARLY}  # before what was kept, on another device
    assert "ratio.1" in renewed(job, CARD)["renewed"]


def test_a_card_that_breaks_one_calculator_leaves_the_others_following():
    job = _job() | {"odd": {"text": "", "when": EARLY, "from": "torque-stages"}}
    job[f"{HOME} fill.1"] = {"text": "51.3 51.3", "when": LATER}
    data = copy.deepcopy(CARD.data)
    data["studs"]["cylinder_head"]["positions"][0]["name"] = 7
    found = renewed(job, EngineCard("odd", data))
    assert found["stuck"] == {"torque-stages": "Torque stages"}
    assert "head_shift.1" in found["renewed"]


def test_a_number_stands_in_its_own_unit_whatever_the_card_has():
    data = copy.deepcopy(CARD.data)
    data["dimensions"]["bore"]["value"] = "3.14 in"
    inches = EngineCard("inches", data)
    found = [
        renewed(_job() | {"bore": bore | {"when": LATER}}, card)
        for bore, card in (
            ({"text": "80.01", "unit": "mm"}, inches),
            ({"text": "80.01"}, inches),  # of an older file: the field's own
            ({"text": "80.01 mm", "unit": "in"}, CARD),
            ({"text": "3.15", "unit": "in"}, CARD),
        )
    ]
    texts = [{path: kept["text"] for path, kept in one["renewed"].items()} for one in found]
    assert "ratio.1" in texts[0]
    assert texts.count(texts[0]) == 4


@pytest.mark.parametrize("name", catalogue())
def test_every_number_goes_into_its_calculator_with_the_unit_it_was_typed_in(name):
    chosen = calculator(name)
    for section in chosen.form.sections:
        row = ".1" if isinstance(section, Rows) else ""
        for field in (one for one in section.fields if one.measure):
            path = (field.reading or f"calculators/{name}/ {name} {field.key}") + row
            for unit in [one.symbol for one in field.measure.units]:
                reading = {path: {"text": "1", "unit": unit, "when": EARLY}}
                typed = as_typed(chosen, asked(chosen, reading), reading)
                assert typed == {f"{field.key}{row}": "1", f"{field.key}{row}.unit": unit}
                assert next(as_read(reading)).text.removeprefix("1").strip() == unit
            assert (
                as_typed(chosen, {field.key + row: path}, {path: {"text": "1"}})[f"{field.key}{row}.unit"]
                == field.own_unit
            )


def test_a_cell_of_a_table_stands_in_its_own_unit():
    mm, thou = _job(), _job()
    own = "calculators/deck-height/ deck-height depth.2"
    mm[own] = {"text": "0.762 0.762 0.762 0.762", "unit": "mm", "when": LATER}
    thou[own] = {
        "text": "30 30 30 30",
        "unit": "thou",
        "when": LATER,
    }  # 25.4 µm each: ISO 80000-3, conversion of the inch
    found = [renewed(one, CARD)["renewed"] for one in (mm, thou)]
    assert "deck.2" in found[0]
    assert {path: kept["text"] for path, kept in found[0].items()} == {
        path: kept["text"] for path, kept in found[1].items()
    }


def test_the_unit_that_was_chosen_goes_with_the_number():
    job = _job()
    job["bore"] = {"text": "3.15", "unit": "in", "when": LATER}
    inches = renewed(job, CARD)["renewed"]
    assert "ratio.1" in inches
    job["bore"] = {"text": "80.01", "unit": "mm", "when": LATER}
    assert {path: kept["text"] for path, kept in inches.items()} == {
        path: kept["text"] for path, kept in renewed(job, CARD)["renewed"].items()
    }


def test_a_unit_for_a_number_that_has_none_is_left_alone():
    job = _job() | {"target_ratio.unit": {"text": "mm", "when": LATER}}
    assert renewed(job, CARD) == {"renewed": {}, "stuck": {}}


@pytest.mark.parametrize("source", ["horoscope", "torque-stages", ""])
def test_what_nobody_can_work_out_is_left_alone(source):
    job = {"bore": {"text": "80", "when": EARLY, "from": source}, "stroke": {"text": "66", "when": LATER}}
    assert renewed(job, CARD)["renewed"] == {}


@given(
    st.dictionaries(
        st.sampled_from(("bore", "chamber.1", "deck.1", "spacer_height.1", "ratio.1")),
        st.sampled_from((*CHAIN, "fits-and-wear", "nobody")),
    )
)
def test_a_file_that_says_that_each_rests_on_another_is_read_to_its_end(sources):
    job = _job() | {path: {"text": "1", "when": LATER, "from": source} for path, source in sources.items()}
    found = renewed(job, CARD)
    assert all(kept["from"] in (*CHAIN, "fits-and-wear") for kept in found["renewed"].values())
