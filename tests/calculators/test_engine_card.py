"""Engine cards: the demonstration card is whole and coherent; every fault is named where it stands."""

import copy
import json
import math
import os
import re
import time
from pathlib import Path

import jsonschema
import pytest
import yaml

from calculators import CardError, EngineCard, magnitude_in, quantity, read_card
from calculators.bench.card import LARGEST
from calculators.bench.desk import Desk
from calculators.bench.units import read_number
from calculators.card.checking import faults
from calculators.card.schema import card_schema
from tests.processor import is_within

MARRAM_PATH = Path(__file__).parents[2] / "docs/engines/marram-f4.yml"
MARRAM = read_card(MARRAM_PATH)
CARDS = {path.stem: read_card(path) for path in sorted(MARRAM_PATH.parent.glob("*.yml"))}
WHOLE = {name: card for name, card in CARDS.items() if "dimensions" in card.data}
LAYOUTS = {name: card for name, card in CARDS.items() if name not in WHOLE}
_NESTED_ALIASES = b"a: &a [x,x,x,x,x,x,x,x,x]\n" + b"\n".join(
    b"%c: &%c [%s]" % (letter, letter, b",".join([b"*%c" % (letter - 1)] * 9)) for letter in range(98, 107)
)
"""A few hundred bytes that stand for 9¹⁰ entries."""
SCHEMA = card_schema()


def fact(path, symbol, card=MARRAM):
    typed = read_number(card.text(path))
    return magnitude_in(quantity(typed.number, typed.unit.symbol), symbol)


def damaged(path, value):
    """Return the demonstration card's tree with one place changed; a value of None takes the place away."""
    data = copy.deepcopy(dict(MARRAM.data))
    *parents, last = path
    place = data
    for key in parents:
        place = place[key]
    if value is None:
        del place[last]
    else:
        place[last] = value
    return data


def card_faults(tree):
    return [fault.message for fault in faults(tree)]


def schema_sections():
    return {
        name: list(part["properties"])
        for name, part in SCHEMA["properties"].items()
        if part.get("type") == "object" and name != "studs"
    }


every_whole_card = pytest.mark.parametrize("card", WHOLE.values(), ids=list(WHOLE))
every_layout = pytest.mark.parametrize("card", LAYOUTS.values(), ids=list(LAYOUTS))


def test_schema_is_a_valid_schema():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_demonstration_card_has_no_fault():
    assert card_faults(MARRAM.data) == []


@pytest.mark.parametrize(("section", "keys"), schema_sections().items())
def test_demonstration_card_has_every_fact_there_is(section, keys):
    assert sorted(MARRAM.data[section]) == sorted(keys)


@every_whole_card
def test_a_demonstration_card_says_of_every_fact_that_it_is_invented(card):
    for section in schema_sections():
        for key in card.data.get(section, {}):
            assert card.source(f"{section}.{key}").startswith("invented")
    assert card.fact("studs.cylinder_head.source").startswith("invented")
    assert card.fact("studs.head_screws.source").startswith("invented")
    assert "nvented demonstration engine" in card.fact("about")


# Each demonstration engine must be one coherent whole: each number is checked by another route.
@every_whole_card
def test_swept_volume_is_that_of_the_description(card):
    # geometry: n · π/4 · bore² · stroke; 4 · π/4 · 8.0² · 7.4 = 1487.9 cm³
    swept = card.fact("layout.cylinders") * math.pi / 4 * fact("dimensions.bore", "cm", card) ** 2
    swept *= fact("dimensions.stroke", "cm", card)
    told = re.search(r"([\d.]+)-litre", card.fact("about"))[1]
    assert f"{swept / 1000:.{len(told.partition('.')[2])}f}" == told


@every_whole_card
def test_ratio_at_a_permitted_deck_is_inside_its_band(card):
    # with the thinnest whole-millimetre spacer that gives the least deck clearance
    area = math.pi / 4 * fact("dimensions.bore", "cm", card) ** 2
    deck, least = fact("dimensions.deck_height", "mm", card), fact("compression.least_deck_clearance", "mm", card)
    deck += math.ceil(max(least - deck, 0))
    assert least <= deck <= fact("compression.most_deck_clearance", "mm", card)
    clearance = fact("dimensions.chamber_volume", "cm³", card) + fact("dimensions.crown_volume", "cm³", card)
    ratio = 1 + area * fact("dimensions.stroke", "cm", card) / (clearance + area * deck / 10)
    assert ratio == pytest.approx(card.fact("compression.ratio"), abs=card.fact("compression.ratio_tolerance"))


@every_whole_card
def test_spring_loads_and_free_length_lie_on_one_straight_line(card):
    # Hooke's law: the rate between the two loads must also reach from seat load to free length
    seat, opened = fact("springs.seat_load", "N", card), fact("springs.open_load", "N", card)
    rate = (opened - seat) / fact("dimensions.valve_lift", "mm", card)
    reached = fact("springs.fitted_length", "mm", card) + seat / rate
    assert reached == pytest.approx(fact("springs.free_length", "mm", card), abs=0.1)


@every_whole_card
def test_spring_wire_gives_the_rate_of_the_loads_and_does_not_bind(card):
    # k = G·d⁴ / (8·D³·n), the usual formula for a coil spring of round wire (EN 13906-1, named from memory);
    # G of spring steel is 78 to 82 kN/mm² (from memory)
    wire = fact("springs.wire_diameter", "mm", card)
    coil = fact("springs.outside_diameter", "mm", card) - wire
    rate = fact("springs.open_load", "N", card) - fact("springs.seat_load", "N", card)
    rate /= fact("dimensions.valve_lift", "mm", card)
    modulus = rate * 8 * coil**3 * card.fact("springs.active_coils") / wire**4
    assert 78_000 < modulus < 82_000
    opened = fact("springs.fitted_length", "mm", card) - fact("dimensions.valve_lift", "mm", card)
    assert opened > card.fact("springs.total_coils") * wire


@every_whole_card
def test_pushrod_fills_the_way_from_its_tappet_to_the_rocker_shaft(card):
    # one straight sum along the cylinder's axis: cam to barrel base, barrel, head to shaft, less the tappet's part
    way = sum(
        fact(path, "mm", card)
        for path in (
            "valve_gear.cam_to_barrel_base",
            "dimensions.barrel_length",
            "valve_gear.barrel_seat_to_rocker_shaft",
        )
    )
    way -= fact("valve_gear.cam_to_pushrod", "mm", card)
    assert way == pytest.approx(fact("dimensions.pushrod_length", "mm", card), abs=1)


@every_whole_card
def test_tubes_are_crushed_by_what_their_seals_want(card):
    crush = fact("dimensions.tube_free_length", "mm", card) - fact("dimensions.tube_seat_distance", "mm", card)
    least, most = (fact(f"dimensions.tube_{end}_crush", "mm", card) for end in ("least", "most"))
    assert least < crush < most


@pytest.mark.parametrize("card", CARDS.values(), ids=list(CARDS))
def test_intervals_add_up_to_two_turns(card):
    # a four-stroke cycle is two turns of the crank, 720°
    assert sum(card.fact("layout.firing_intervals")) == 720


@every_whole_card
def test_firing_order_changes_banks_as_a_flat_engine_with_paired_throws_must(card):
    # common practice, no source: pistons that face each other move out together and fire one turn of the crank
    # apart, so the cylinder half an order on is the one across, in the other bank
    order = card.fact("layout.firing_order")
    across = {frozenset(pair) for pair in zip(*card.fact("layout.banks"), strict=True)}
    half = len(order) // 2
    assert {frozenset((order[index], order[index + half])) for index in range(half)} == across


def test_firing_order_is_that_of_a_flat_four():
    # common practice, no source: 1-4-3-2, counted as here, fires the banks as one, other, other, one
    banks = {number: index for index, bank in enumerate(MARRAM.fact("layout.banks")) for number in bank}
    assert [banks[number] for number in MARRAM.fact("layout.firing_order")] == [0, 1, 1, 0]


@every_whole_card
def test_valve_heads_fit_side_by_side_in_the_bore(card):
    heads = fact("dimensions.inlet_valve_head", "mm", card) + fact("dimensions.exhaust_valve_head", "mm", card)
    assert heads < fact("dimensions.bore", "mm", card)


@every_whole_card
def test_rod_is_longer_than_the_stroke_and_advance_rises(card):
    assert fact("dimensions.rod_length", "mm", card) > fact("dimensions.stroke", "mm", card)
    assert fact("running.full_advance", "°", card) > fact("running.static_advance", "°", card)
    assert fact("running.highest_speed", "r/min", card) > fact("running.idle_speed", "r/min", card)


@every_whole_card
def test_limits_of_wear_lie_on_the_worn_side_of_the_new_part(card):
    assert fact("limits.spring_free_length", "mm", card) < fact("springs.free_length", "mm", card)
    assert fact("limits.spring_seat_load", "N", card) < fact("springs.seat_load", "N", card)
    assert fact("limits.ring_end_gap", "mm", card) > fact("rings.end_gap_greatest", "mm", card)
    assert fact("limits.piston_clearance", "mm", card) > fact("limits.piston_clearance_least", "mm", card)


def test_studs_stand_outside_the_bores():
    # barrels stand half their pitch either side of the origin; the pitch follows from the stud columns
    studs = MARRAM.studs("studs.cylinder_head")
    columns = sorted({x for x, _ in studs.values()})
    middles = [(columns[0] + columns[1]) / 2, (columns[2] + columns[3]) / 2]
    for x, y in studs.values():
        assert min(math.hypot(x - middle, y) for middle in middles) > fact("dimensions.bore", "mm") / 2


@pytest.mark.parametrize(("name", "middles"), [("dunlin-f2", [0]), ("samphire-f6", [-118, 0, 118])])
def test_studs_of_the_others_stand_outside_their_bores(name, middles):
    # the barrels' middles as the card's source says: one at the origin; three, each midway between stud columns
    card = CARDS[name]
    for x, y in card.studs("studs.cylinder_head").values():
        assert min(math.hypot(x - middle, y) for middle in middles) > fact("dimensions.bore", "mm", card) / 2


# Layouts alone: trade knowledge for the lash plan.
@every_layout
def test_a_layout_says_nothing_but_how_an_engine_is_laid_out(card):
    assert list(card.data) == ["format", "name", "about", "layout"]
    for key in card.data["layout"]:
        assert card.source(f"layout.{key}").startswith("common practice, no source")


@every_layout
def test_a_layout_gives_the_lash_plan_one_stop_or_more_for_each_cylinder(card):
    answer = Desk({}, card, example=True).ask("lash.plan").answer
    assert answer
    (stops,) = answer.walks
    assert len(stops.stages) >= 1
    for cylinder in card.fact("layout.firing_order"):
        assert str(cylinder) in answer.says


# common practice, no source: which cylinders rise together in these engines, counted from the front
@pytest.mark.parametrize(
    ("name", "pairs"),
    [
        ("layout-inline-four-1342", [{1, 4}, {2, 3}]),
        ("layout-inline-four-1243", [{1, 4}, {2, 3}]),
        ("layout-inline-six", [{1, 6}, {2, 5}, {3, 4}]),
        ("layout-v8", [{1, 6}, {8, 5}, {4, 7}, {3, 2}]),
        # flat: those that face each other
        ("layout-flat-twin", [{1, 2}]),
        ("layout-flat-four-1432", [{1, 3}, {2, 4}]),
        ("layout-flat-four-1324", [{1, 2}, {3, 4}]),
        ("layout-flat-six-162435", [{1, 4}, {2, 5}, {3, 6}]),
        ("layout-flat-six-145236", [{1, 2}, {3, 4}, {5, 6}]),
    ],
)
def test_cylinders_that_rise_together_fire_one_turn_apart(name, pairs):
    order = CARDS[name].fact("layout.firing_order")
    half = len(order) // 2
    assert {frozenset((order[index], order[index + half])) for index in range(half)} == set(map(frozenset, pairs))


@pytest.mark.parametrize("name", [name for name in CARDS if name.startswith("layout-flat")])
def test_in_a_flat_layout_those_that_face_each_other_rise_together(name):
    # geometry: opposed pistons on opposite throws are at top at the same time, and fire one turn apart
    order = CARDS[name].fact("layout.firing_order")
    half = len(order) // 2
    assert {frozenset(pair) for pair in zip(*CARDS[name].fact("layout.banks"), strict=True)} == {
        frozenset((order[index], order[index + half])) for index in range(half)
    }
    assert sum(CARDS[name].fact("layout.firing_intervals")) == 720


@pytest.mark.parametrize(("name", "angle"), [("layout-v-twin-45", 45), ("layout-v-twin-90", 90)])
def test_a_v_twin_on_one_crankpin_fires_one_turn_and_its_angle_apart(name, angle):
    # geometry: the second piston is at top its bank angle after the first, and fires a turn later
    assert CARDS[name].fact("layout.firing_intervals") == [360 + angle, 360 - angle]


@pytest.mark.parametrize(
    ("path", "value", "fault"),
    [
        (
            ["dimensions", "bore", "value"],
            "80 N",
            'dimensions.bore.value is "80 N"; it must use a unit of length, like mm or in',
        ),
        (["dimensions", "bore", "value"], "80", 'dimensions.bore.value is "80"; it must name its unit, like 80 mm'),
        (["dimensions", "bore", "value"], 80, "dimensions.bore.value is 80; it must name its unit, like 80 mm"),
        (["torques", "spark_plug", "value"], "25 mm", "torques.spark_plug.value is"),
        (["dimensions", "chamber_volume", "value"], "50 mm", "it must use a unit of volume, like cm³ or in³"),
        (["cam_events", "inlet_opens_before_top", "value"], "8 mm", "it must use a unit of angle, like °"),
        (["springs", "seat_load", "value"], "265", "it must name its unit, like 260 N"),
        (["running", "oil_pressure_hot", "value"], "much", "it must be a number, like 3 bar"),
        (["running", "idle_speed", "value"], "850 mm", "it must use a unit of speed of rotation, like r/min"),
        (["compression", "ratio", "value"], "high", 'compression.ratio.value is "high"; it must be a number'),
        (["dimensions", "bore"], "80 mm", 'dimensions.bore is "80 mm"; it must be a mapping of keys'),
        (["dimensions", "bore", "source"], None, "dimensions.bore lacks source; every fact needs a value and a source"),
        (["dimensions", "bore", "value"], None, "dimensions.bore lacks value; every fact needs a value and a source"),
        (["dimensions", "bore", "source"], "", "dimensions.bore.source is empty; it must have at least 1 character"),
        (
            ["dimensions", "boar"],
            {"value": "8 mm", "source": "x"},
            "dimensions has an unknown key boar; known here are",
        ),
        (["dimension"], {}, "the card has an unknown key dimension; known here are format, name, about"),
        (["layout"], None, "the card lacks layout"),
        (["layout"], [1], "layout is a list; it must be a mapping of keys"),
        (["format"], 2, "format is 2; it must be 1"),
        (["name"], 7, "name is 7; it must be text"),
        (["layout", "crank_rotation", "value"], "left", "it must be one of: clockwise, anticlockwise"),
        (["layout", "arrangement", "value"], "boxer", "it must be one of: opposed, inline, V, single"),
        (["layout", "cylinders", "value"], 0, "layout.cylinders.value is 0; it must be between 1 and 12"),
        (["layout", "cylinders", "value"], 13, "layout.cylinders.value is 13; it must be between 1 and 12"),
        (["layout", "cylinders", "value"], 4.5, "layout.cylinders.value is 4.5; it must be a whole number"),
        (["layout", "firing_order", "value"], [1, 4, 3, 3], "it must name each cylinder from 1 to 4 once"),
        (["layout", "banks", "value"], [[1, 2], [3]], "it must name each cylinder from 1 to 4 once"),
        (["layout", "firing_intervals", "value"], [180, 180, 180], "it must be 4 angles that add up to 720"),
        (["layout", "firing_intervals", "value"], [180, 180, 180, 90], "it must be 4 angles that add up to 720"),
        (["layout", "firing_intervals", "value"], [180, 180, 180, math.nan], "it must be 4 angles that add up to 720"),
        (["studs", "cylinder_head", "positions", 1, "name"], "A", "names a stud twice; each name must be its own"),
        (["studs", "cylinder_head", "positions", 1, "name"], "Long", "it must have at most 3 characters"),
        (["studs", "cylinder_head", "positions", 1, "x"], "-14", "positions[1].x is"),
        (["studs", "cylinder_head", "positions", 1, "x"], "-14 m", "positions puts B over 1000 mm off"),
        (["studs", "cylinder_head", "positions", 1, "x"], "-106 mm", "puts a stud where another is"),
        (["studs", "cylinder_head", "positions"], [], "has 0 entries; it must have at least 2"),
        (["studs", "head_screws", "screw_count"], 3, "is 3; it must be 2, as many as have a place"),
        (["studs", "head_screws", "screw_count"], 0, "is 0; it must be 2, as many as have a place"),
        (["studs", "head_screws", "screw_count"], 9, "it must be between 0 and 8"),
        (["studs", "head_screws", "screw_count"], None, "studs.head_screws lacks screw_count"),
        (["studs", "head_screws", "screw_sequence"], "last", "it must be one of: snug first, every pass, "),
        (["studs", "head_screws", "positions", 0, "name"], "A", "names a screw twice, or as a stud"),
        (["studs", "head_screws", "positions", 0, "name"], "S2", "names a screw twice, or as a stud"),
        (["studs", "head_screws", "positions", 0], {"name": "S1", "x": "-14 mm", "y": "47 mm"}, "where another or a"),
        (["studs", "head_screws", "positions", 0, "x"], "-14 m", "positions puts S1 over 1000 mm off"),
        (
            ["studs", "cylinder_head", "order"],
            {"value": ["A", "B"], "source": "x"},
            "must name each of A, B, C, D, E, F, G, H once",
        ),
    ],
)
def test_each_fault_is_named_with_its_key_and_what_would_be_right(path, value, fault):
    (found,) = card_faults(damaged(path, value))
    assert fault in found


def test_every_fault_is_told_at_once_and_none_twice():
    data = damaged(["dimensions", "bore", "value"], "80 N")
    del data["name"], data["about"]
    assert card_faults(data) == [
        "the card lacks name, about",
        'dimensions.bore.value is "80 N"; it must use a unit of length, like mm or in',
    ]


def test_a_fault_is_told_with_the_name_of_the_file(tmp_path):
    path = tmp_path / "mine.yml"
    path.write_text(yaml.safe_dump(damaged(["format"], 2)), encoding="utf-8")
    with pytest.raises(CardError) as caught:
        read_card(path)
    assert str(caught.value) == f"{path}: format is 2; it must be 1"


@pytest.mark.parametrize(
    ("written", "fault"),
    [
        (b"name: [", ", line 1: this is not YAML"),
        (b"name: a: b", ", line 1: this is not YAML"),
        (b"name: a\xff", ": this is not UTF-8 text: byte 8 does not fit"),
        (b"name: \x00", ": this is not YAML"),
        (b"name: 2024-99-99", ": this is not YAML: month must be in 1..12"),
        (b"name: 0000-00-00", ": this is not YAML: year 0 is out of range"),
        (b"[" * 50_000, ": it is nested deeper than any card"),
        (b"#" * (LARGEST + 1), ": the file is larger than 100 kB, which no card is"),
        (b"[" + b"1," * 49_000 + b"]", ", line 1: it has over 5000 entries, which no card has"),
        (b"name: A\nabout: b\nname: C", ", line 3: the key name appears twice, first in line 1; keep one"),
        (b"layout:\n  banks: 1\n  banks: 1\n", ", line 3: the key banks appears twice, first in line 2; keep one"),
        (b"format: 0x" + b"f" * 80_000, ", line 1: a number of 80002 digits is too long to be a fact"),
        (b"format: " + b"9" * 5_000, ", line 1: a number of 5000 digits is too long to be a fact"),
        (b"format: .nan", ", line 1: .nan is not a usable number"),
        (b"format: -.inf", ", line 1: -.inf is not a usable number"),
        (b"format: 1.0e+999", ", line 1: 1.0e+999 is not a usable number"),
        (_NESTED_ALIASES, ", line 2: *a stands for another place; write the value itself"),
        (b"\n".join(b"k%d: 1" % count for count in range(2000)), ": the card has an unknown key k0, k1, k10, k100, "),
        (b"", ": the card is null; it must be a mapping of keys"),
        (b"- 1", ": the card is a list; it must be a mapping of keys"),
        (b"a: &loop [*loop]", ", line 1: *loop stands for another place; write the value itself"),
        (b"1: 2\na: 3", ": the card has an unknown key 1, a"),
        (b"name: 2024-01-01", ': name is "2024-01-01"; it must be text'),
        (b"!!python/object/apply:os.getcwd []", ", line 1: this is not YAML"),
    ],
)
def test_a_file_that_is_no_card_is_refused_in_one_line_a_fault(tmp_path, written, fault):
    path = tmp_path / "mine.yml"
    path.write_bytes(written)
    began = time.process_time()
    with pytest.raises(CardError) as caught:
        read_card(path)
    assert is_within(time.process_time() - began, 1.0)
    assert max(map(len, str(caught.value).splitlines())) < len(str(path)) + 600
    assert any(line.startswith(f"{path}{fault}") for line in str(caught.value).splitlines())
    assert all(line.startswith(str(path)) for line in str(caught.value).splitlines())


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(CardError, match="there is no such file"):
        read_card(tmp_path / "none.yml")


def test_what_is_no_file_is_named_as_what_it_is(tmp_path):
    os.mkfifo(tmp_path / "pipe.yml")
    for place, kind in ((tmp_path, "a folder"), (Path(os.devnull), "a device"), (tmp_path / "pipe.yml", "a pipe")):
        with pytest.raises(CardError, match=f"{place}: this is {kind}, not a file"):
            read_card(place)
    with pytest.raises(CardError, match="this is not a file name"):
        read_card(Path("a\0b"))


def test_a_file_that_may_not_be_read_is_named_with_the_reason(monkeypatch):
    def refused(*_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refused)
    with pytest.raises(CardError, match="the file cannot be read: Permission denied"):
        read_card(MARRAM_PATH)


def test_a_file_that_begins_with_a_byte_order_mark_is_read(tmp_path):
    path = tmp_path / "mine.yml"
    path.write_bytes(b"\xef\xbb\xbf" + MARRAM_PATH.read_bytes())
    assert read_card(path).data == MARRAM.data


def test_a_card_may_be_json(tmp_path):
    path = tmp_path / "mine.json"
    path.write_text(json.dumps(MARRAM.data), encoding="utf-8")
    card = read_card(path)
    assert (card.name, card.title) == ("mine", "Marram F4")


def test_whole_cylinders_may_be_written_with_a_point():
    assert card_faults(damaged(["layout", "cylinders", "value"], 4.0)) == []


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("dimensions.bore", "80 mm"),
        ("layout.banks", "1 2 / 3 4"),
        ("layout.firing_order", "1 4 3 2"),
        ("compression.ratio", "7.6"),
        ("dimensions.unheard_of", None),
        ("name.value", None),
    ],
)
def test_a_fact_reads_as_it_would_be_typed(path, text):
    assert MARRAM.text(path) == text


def test_a_source_is_given_in_the_card_s_words():
    assert MARRAM.source("torques.cylinder_head") == "invented; threads lightly oiled"
    assert MARRAM.source("torques.unheard_of") is None
    assert MARRAM.source("name") is None


def test_studs_come_by_name_in_millimetres():
    studs = MARRAM.studs("studs.cylinder_head")
    assert list(studs) == list("ABCDEFGH")
    assert studs["B"] == (-14, 47)


@pytest.mark.parametrize(
    "positions",
    [
        None,
        [],
        "A",
        [{"name": "A"}],
        [{"name": "A", "x": 1, "y": 2}],
        [{"name": "A", "x": "1 mm", "y": "2 N"}],
        [{"name": "A", "x": "1 mm", "y": "wide"}],
        [{"name": "A", "x": "9 m", "y": "2 mm"}],
        [{"name": "A", "x": "1 mm", "y": "2 mm"}, {"name": "A", "x": "1 mm", "y": "3 mm"}],
        [{"name": "A", "x": "1 mm", "y": "2 mm"}, {"name": "B", "x": "1 mm", "y": "2 mm"}],
    ],
)
def test_studs_that_cannot_be_used_are_none_at_all(positions):
    card = EngineCard("mine", {"studs": {"cylinder_head": {"positions": positions}}})
    assert card.studs("studs.cylinder_head") == {}
