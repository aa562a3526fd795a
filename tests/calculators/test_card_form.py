"""The form of an engine card: the same verdict as the schema's, nothing typed lost, one message a box."""

import copy
import json
import math
import re
import time
from html.parser import HTMLParser
from itertools import cycle
from pathlib import Path

import jsonschema
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import EngineCard, read_card
from calculators.bench.card_facts import CardFacts
from calculators.bench.desk import Desk, Origin
from calculators.bench.kinds import Measure, Number
from calculators.bench.question import entries_and_columns, question, questions
from calculators.bench.units import unit
from calculators.browser import answer_message
from calculators.card.checking import faults, is_of_kind
from calculators.card.drawing import Placed, placed
from calculators.card.entries import HEADINGS, SECTIONS, inherited_entries, missing_for, takers, wanted
from calculators.card.form import (
    card_data,
    card_form_html,
    live_card,
    missing_html,
    read_card_form,
    taken_in,
    texts_of,
)
from calculators.card.schema import card_schema
from calculators.card.texts import card_texts, with_other_unit
from calculators.job.papers import paper_html
from scripts.card_fence import facts
from tests.bad_input import bad_strings
from tests.examples import IS_WIDE
from tests.processor import is_within

ROOT = Path(__file__).parents[2]
CARDS = {path.stem: read_card(path) for path in sorted((ROOT / "docs/engines").glob("*.yml"))}
MARRAM = CARDS["marram-f4"]
HOSTILE = "\"><script>alert('1')</script><img src=x onerror=y>&"
every_card = pytest.mark.parametrize("card", CARDS.values(), ids=list(CARDS))


def messages(texts):
    return {error.field: error.message for error in read_card_form(texts).errors}


def typed(**changes):
    """Return the demonstration card's boxes with some changed; ``__`` stands for the point, None empties a box."""
    texts = texts_of(MARRAM.data)
    for name, text in changes.items():
        texts.pop(name.replace("__", "."), None)
        if text is not None:
            texts[name.replace("__", ".")] = text
    return texts


def places(tree, path=()):
    """Return the path of everything in a tree."""
    found = [path]
    entries = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    for key, part in entries:
        found += places(part, (*path, key))
    return found


def changed(tree, path, value):
    """Return a copy of a tree with one place changed; ``...`` takes it away."""
    tree = copy.deepcopy(tree)
    if not path:
        return value if value is not ... else {}
    place = tree
    for key in path[:-1]:
        place = place[key]
    if value is ...:
        del place[path[-1]]
    else:
        place[path[-1]] = value
    return tree


LEAVES = (
    st.none()
    | st.booleans()
    | st.integers(-3, 14)
    | st.floats(allow_nan=False, allow_infinity=False, width=32)
    | st.sampled_from(
        ["", "A", "80 mm", "80 N", "-14 mm", "9 m", "34 N·m", "7°", "clockwise", "opposed", "8.8", "oiled", "x" * 80]
    )
)
TREES = st.recursive(
    LEAVES,
    lambda parts: (
        st.lists(parts, max_size=4)
        | st.dictionaries(
            st.sampled_from(["value", "source", "name", "x", "y", "boar", "cylinders"]), parts, max_size=3
        )
    ),
    max_leaves=6,
)


# The verdict: by the schema that is written from the same class, held against jsonschema, a library that we did not
# write; what it cannot say, that facts contradict each other, is told only of what it finds sound.
FORMATS = jsonschema.FormatChecker(formats=())
for kind in ("length", "torque", "volume", "angle", "force", "pressure", "speed of rotation"):
    FORMATS.checks(kind)(lambda text, kind=kind: not isinstance(text, str) or is_of_kind(text, kind))
LIBRARY = jsonschema.Draft202012Validator(card_schema(), format_checker=FORMATS)


def places_of_faults(tree):
    """Return where the library finds a fault."""
    return {tuple(error.absolute_path) for error in LIBRARY.iter_errors(tree)}


def judged_alike(tree):
    found = faults(tree)
    if expected := places_of_faults(tree):
        assert {fault.path for fault in found} == expected
    assert len({fault.message for fault in found}) == len(found)


@given(data=st.data())
@settings(max_examples=150)
def test_a_changed_card_is_judged_as_the_library_judges_it(data):
    tree = dict(data.draw(st.sampled_from(list(CARDS.values()))).data)
    for _ in range(data.draw(st.integers(1, 2))):
        path = data.draw(st.sampled_from(places(tree)))
        tree = changed(tree, path, data.draw(TREES | st.just(...)))
    judged_alike(tree)


@given(tree=TREES)
def test_what_is_no_card_at_all_is_judged_as_the_library_judges_it(tree):
    judged_alike(tree)


@every_card
def test_a_card_without_fault_is_found_without_fault(card):
    assert faults(card.data, typing=True) == ()
    assert not places_of_faults(card.data)


def test_every_place_of_a_card_is_judged_as_the_library_judges_it():
    schema = card_schema()
    values = (None, True, 3, 3.5, "x", "80 mm", [1], {"value": 1})
    in_turn = cycle(range(3))  # so that each place meets each value alone, and some of them in a whole card
    for value in values:
        for key, part in schema["properties"].items():
            names = part.get("properties", {"": None})
            for tree in ({key: value}, *({key: {name: value}} for name in names)):
                judged_alike(tree)
                if IS_WIDE or not next(in_turn):
                    judged_alike(dict(MARRAM.data) | tree)


STUD = {"name": "A", "x": "1 mm", "y": "2 mm"}


@pytest.mark.parametrize(
    ("path", "value"),
    [(("layout", "cylinders", "value"), value) for value in (0, 1, 12, 13, 4.0, 4.5, True)]
    + [(("layout", "banks", "value"), value) for value in ([], [[]], [[1, 2, 3, 4]], [[1, True], [3, 4]], [1, 2])]
    + [(("layout", "firing_order", "value"), value) for value in ([], [1, 4, 3, 13], [1, 4, 3.0, 2], ["1"], "1 4 3 2")]
    + [(("format",), value) for value in (True, 1.0, "1")]
    + [(("name",), ""), (("compression", "ratio", "value"), True), (("layout", "arrangement", "value"), 1)]
    + [(("studs", "cylinder_head", "thread"), ""), (("dimensions", "bore", "source"), "")]
    + [
        (("studs", "cylinder_head", "positions"), [STUD | {"name": str(row), "x": f"{row} mm"} for row in range(count)])
        for count in (0, 1, 2, 20, 21)
    ]
    + [(("studs", "cylinder_head", "positions", 0, "name"), name) for name in ("", "ABC", "ABCD")],
)
def test_each_edge_of_the_schema_is_judged_as_the_library_judges_it(path, value):
    judged_alike(changed(dict(MARRAM.data), path, value))


FAR = [(("dimensions", "bore", "value"), "300 mm"), (("compression", "ratio", "value"), 40)]


@pytest.mark.parametrize(("path", "value"), FAR)
def test_a_kept_card_opens_with_a_figure_beyond_its_limits_which_is_told_while_it_is_typed(path, value):
    tree = changed(dict(MARRAM.data), path, value)
    assert faults(tree) == ()
    assert not places_of_faults(tree)
    (told,) = faults(tree, typing=True)
    assert "it must be between" in told.message
    assert list(messages(texts_of(tree))) == [".".join(path[:-1])]


def test_the_limits_of_a_fact_leave_room_for_every_question_that_takes_it():
    facts = {entry.path: entry for section in SECTIONS for entry in section.entries()}
    for of in questions().values():
        for entry, _ in entries_and_columns(of):
            own, kind = facts.get(entry.facts.card), entry.kind
            if own is None or not isinstance(own.kind, Measure | Number) or not isinstance(kind, Measure | Number):
                continue
            if isinstance(own.kind, Measure):
                assert isinstance(kind, Measure), (of.name, entry.key)
                assert unit(own.kind.own).kind == unit(kind.own).kind, (of.name, entry.key)
                assert own.kind.own == kind.own, (of.name, entry.key)
            assert own.kind.low <= kind.low <= kind.high <= own.kind.high, (of.name, entry.key)


# There and back.
@every_card
def test_a_card_s_form_makes_the_same_card(card):
    assert card_data(texts_of(card.data)) == card.data


@given(data=st.data())
@settings(max_examples=150)
def test_a_changed_card_s_form_says_wrong_where_the_card_is_wrong(data):
    card = data.draw(st.sampled_from(list(CARDS.values())))
    texts = texts_of(card.data)
    for name in data.draw(st.lists(st.sampled_from(sorted(texts)), min_size=1, max_size=3)):
        texts[name] = data.draw(
            st.sampled_from(["", " ", "80 mm", "80", "34 N·m", "1 2", "4", "1,2", "A", "no", "0.00001"])
        )
    read = read_card_form(texts)
    assert bool(read.errors) == bool(faults(read.data, typing=True))
    assert card_data(texts_of(read.data)) == read.data  # a draft with mistakes comes back whole from its file too


@given(text=st.text(max_size=80) | st.sampled_from(list(bad_strings(400))), name=st.sampled_from(sorted(typed())))
@settings(max_examples=100)
def test_any_text_in_any_box_is_a_card_or_a_message_and_survives_yaml(text, name):
    least = {"name": "Mine", "about": "A twin.", "layout.cylinders": "2", "layout.cylinders.source": "counted"}
    read = read_card_form(least | {name: text})
    assert bool(read.errors) == bool(faults(read.data, typing=True))
    assert yaml.safe_load(json.dumps(read.data, indent=1, ensure_ascii=False)) == read.data


@given(tree=TREES)
@settings(max_examples=60)
def test_any_file_from_outside_becomes_a_form(tree):
    taken = taken_in(tree)
    assert taken["html"].count("<details") == len(SECTIONS)
    assert all(isinstance(text, str) for text in taken["texts"].values())


@every_card
def test_an_exported_card_can_be_put_among_the_site_s(card, tmp_path):
    read = read_card_form(texts_of(card.data))
    path = tmp_path / "mine.yml"
    path.write_text(json.dumps(read.data, indent=1, ensure_ascii=False), encoding="utf-8")
    assert read_card(path).data == card.data


# What is wrong, box by box.
@pytest.mark.parametrize(
    ("box", "text", "message"),
    [
        ("name", None, "Enter the name"),
        ("about", " ", "Enter the about"),
        ("dimensions.bore", "80 N", "Bore (dimensions) must use a unit of length, like mm or in"),
        ("dimensions.bore", "80", "Bore (dimensions) must name its unit, like 80 mm"),
        ("dimensions.bore", "8 mm", "Bore (dimensions) must be between 30 mm and 200 mm"),
        ("torques.spark_plug", "25 ± 2 N·m", "Spark plug must be a single figure without a ±, like 34 N·m"),
        ("dimensions.stroke", None, "Enter the stroke, or clear where it comes from"),
        ("dimensions.stroke.source", None, "Say where the stroke comes from, like a manual and its page, or measured"),
        ("clearances.inlet", "thin", "Inlet (clearances) must be a number, like 80 mm"),
        ("compression.ratio", "high", "Ratio must be a number"),
        ("layout.cylinders", "4.5", "Cylinders must be a whole number"),
        ("layout.cylinders", "13", "Cylinders must be between 1 and 12"),
        ("layout.firing_order", "1 4 3 3", "Firing order must name each cylinder from 1 to 4 once"),
        ("layout.firing_order", "1 4 x 2", "Firing order must be whole numbers in a row, like 1 4 3 2"),
        ("layout.firing_intervals", "180 180 180", "Firing intervals must be 4 angles that add up to 720"),
        ("layout.banks", "1 2 / 3", "Banks must name each cylinder from 1 to 4 once"),
        ("layout.banks", "1 2 / 3 ?", "Banks must be whole numbers in groups, like 1 2 / 3 4"),
        ("layout.crank_rotation", "left", "Crank rotation must be one of: clockwise, anticlockwise"),
        ("studs.cylinder_head.positions.2.x", "-14", "X of row 2 must name its unit, like 80 mm"),
        ("studs.cylinder_head.positions.2.x", None, "Enter the x of row 2"),
        ("studs.cylinder_head.positions.2.x", "-14 m", "X of row 2 must be between −1000 mm and 1000 mm"),
        ("studs.cylinder_head.positions.2.name", "Long", "Name of row 2 must have at most 3 characters"),
        (
            "studs.cylinder_head.source",
            None,
            "Say where these figures come from, like a manual and its page, or measured",
        ),
    ],
)
def test_each_mistake_is_told_beside_its_box(box, text, message):
    assert messages(typed(**{box: text})) == {box: message}


@pytest.mark.parametrize(
    ("box", "text", "message"),
    [
        ("studs.cylinder_head.positions.2.name", "A", "This list names a stud twice; each name must be its own"),
        (
            "studs.cylinder_head.positions.2.x",
            "-106 mm",
            "This list puts a stud where another is; each must have its own place",
        ),
    ],
)
def test_studs_that_cannot_be_are_told_above_their_list(box, text, message):
    assert messages(typed(**{box: text})) == {"studs.cylinder_head.positions": message}


def test_one_stud_alone_is_no_pattern():
    least = {"name": "Mine", "about": "A twin.", "layout.cylinders": "2", "layout.cylinders.source": "counted"}
    stud = {
        f"studs.cylinder_head.positions.1.{key}": text for key, text in {"name": "A", "x": "1 mm", "y": "2 mm"}.items()
    }
    told = messages(least | stud | {"studs.cylinder_head.source": "measured"})
    assert told == {"studs.cylinder_head.positions": "This list must have at least 2 entries"}


def test_an_empty_row_between_studs_is_no_stud_and_messages_keep_their_row():
    texts = texts_of(MARRAM.data)
    for key in ("name", "x", "y"):
        texts[f"studs.cylinder_head.positions.12.{key}"] = texts.pop(f"studs.cylinder_head.positions.2.{key}")
    read = read_card_form(texts)
    assert not read.errors
    assert [stud["name"] for stud in read.data["studs"]["cylinder_head"]["positions"]] == list("ACDEFGHB")
    texts["studs.cylinder_head.positions.12.x"] = "wide"
    assert list(messages(texts)) == ["studs.cylinder_head.positions.12.x"]


def test_an_empty_form_asks_for_what_every_card_has_in_the_form_s_order():
    assert list(messages({})) == ["name", "about", "layout.cylinders"]


def test_a_fact_is_left_out_by_clearing_both_its_boxes():
    texts = typed(dimensions__bore=None, dimensions__bore__source=None)
    read = read_card_form(texts)
    assert not read.errors
    assert "bore" not in read.data["dimensions"]


@pytest.mark.parametrize(
    ("text", "value"),
    [("4", 4), ("4.0", 4), (" 4 ", 4), ("½", 0.5), ("7,6", 7.6), ("4 mm", "4 mm"), ("0.00001", "0.00001"), ("-1", -1)],
)
def test_a_number_is_read_as_a_person_types_it(text, value):
    read = card_data({"compression.ratio": text})["compression"]["ratio"]["value"]
    assert (read, type(read)) == (value, type(value))


# What a file from outside has that the form has no box for is told.
@pytest.mark.parametrize(
    ("tree", "lost"),
    [
        ({**MARRAM.data, "boar": 1}, "the card has an unknown key boar"),
        ({**MARRAM.data, "format": 2}, "format is 2; it must be 1"),
        ({**MARRAM.data, "clearances": [1]}, "clearances is a list; it must be a mapping of keys"),
        ([1], "the card is a list; it must be a mapping of keys"),
        (None, "the card is null; it must be a mapping of keys"),
    ],
)
def test_what_a_file_has_too_much_is_told(tree, lost):
    assert any(told.startswith(lost) for told in taken_in(tree)["lost"])


def test_nothing_of_a_card_of_ours_is_lost():
    assert taken_in(dict(MARRAM.data))["lost"] == []


def test_a_mistake_that_has_a_box_stays_in_it():
    taken = taken_in(changed(dict(MARRAM.data), ("dimensions", "bore", "value"), "80 N"))
    assert taken["lost"] == []
    assert taken["texts"]["dimensions.bore"] == "80 N"


# The form itself.
class Reader(HTMLParser):
    def __init__(self, html):
        super().__init__()
        self.elements = []
        self.feed(html)

    def handle_starttag(self, tag, attributes):
        self.elements.append({"tag": tag, **dict(attributes)})


def test_each_box_has_a_label_a_place_for_its_message_and_an_id_of_its_own():
    elements = Reader(card_form_html(texts_of(MARRAM.data))).elements
    ids = [element["id"] for element in elements if "id" in element]
    assert len(ids) == len(set(ids))
    labelled = {element["for"] for element in elements if element["tag"] == "label"}
    boxes = [element for element in elements if element["tag"] in ("input", "select")]
    assert {box["id"] for box in boxes} == labelled
    assert all(box["aria-describedby"] in ids for box in boxes)
    assert all(f"card-{error.field.replace('.', '-')}" in ids for error in read_card_form({}).errors)


def test_the_form_has_a_box_for_every_fact_of_the_schema():
    names = {element.get("name") for element in Reader(card_form_html({})).elements}
    for card in CARDS.values():
        assert set(texts_of(card.data)) <= names


def test_nothing_typed_becomes_markup():
    texts = dict.fromkeys(texts_of(MARRAM.data), HOSTILE)
    live = live_card(texts)
    whole = card_form_html(texts) + live["summary"] + live["missing"] + "".join(live["figures"].values())
    assert not re.search(r"<(script|img)", whole)


def test_a_choice_that_no_longer_exists_is_still_shown_as_it_was():
    assert "<option selected>boxer</option>" in card_form_html({"layout.arrangement": "boxer"})


def test_each_fact_names_the_rooms_that_take_it():
    assert "Compression and spacers" in takers()["dimensions.stroke"]
    assert takers()["studs.cylinder_head.order"] == ("Torque and order",)  # asked of the card itself, by no entry
    assert set(takers()) <= {path for section in SECTIONS for path in section.paths()}
    html = card_form_html({})
    assert "Taken by: Compression and spacers" in html
    assert html.count("Taken by: Torque and order") > 1


def test_the_empty_row_below_the_last_stud_is_shown():
    assert live_card(texts_of(MARRAM.data))["rows"] == {
        "studs.cylinder_head.positions": 9,
        "studs.head_screws.positions": 3,
    }
    assert live_card({})["rows"] == {"studs.cylinder_head.positions": 1, "studs.head_screws.positions": 1}
    full = {f"studs.cylinder_head.positions.{row}.name": str(row) for row in range(1, 21)}
    assert live_card(full)["rows"]["studs.cylinder_head.positions"] == 20


def test_an_answer_takes_no_longer_than_a_keystroke():
    texts = texts_of(MARRAM.data)
    live_card(texts)
    started = time.process_time()
    live_card(texts | {"dimensions.bore": "81 mm"})
    assert is_within(time.process_time() - started, 0.05)


# What is missing.
@pytest.mark.parametrize("name", ["dunlin-f2", "marram-f4", "samphire-f6"])
def test_a_whole_card_leaves_no_question_asking(name):
    assert {of.name: missing for of in questions().values() if (missing := missing_for(of, CARDS[name]))} == {}


def test_what_a_layout_alone_leaves_open_is_named_by_the_question_s_own_labels():
    missing = missing_for(question("compression.ratio"), CARDS["layout-v8"])
    assert {"Bore", "Stroke"} <= set(missing)
    assert "Cylinders" not in missing
    assert not {"Firing order", "Cylinders by bank"} & set(missing_for(question("lash.plan"), CARDS["layout-v8"]))


def test_the_page_lists_every_fact_with_its_limits_and_who_takes_it():
    html = facts()
    assert html.count("<dt>") == sum(len(section.facts()) for section in SECTIONS)
    assert html.count("<details") == len(SECTIONS)
    bore = html.partition("<dt>Bore <code>bore</code></dt><dd>")[2].partition("</dd>")[0]
    assert bore.startswith("30 mm to 200 mm: engines of this kind. Taken by: Compression and spacers")
    assert "2 to 20 rows, each with name, x, y" in html


# Drawings.
def _on_paper(card: str, section: str, **changed: str) -> Placed:
    read = read_card_form(texts_of(CARDS[card].data) | changed)
    return placed(EngineCard("", read.data), read.rows)[section]


def test_cylinders_are_drawn_with_their_turn_to_fire():
    figure = _on_paper("layout-v8", "layout").figure
    assert "cylinder 8 fires 2nd" in figure.svg
    assert figure.svg.count('class="stud first"') == 1


def test_studs_are_drawn_in_the_card_s_own_order():
    figure = _on_paper("samphire-f6", "studs.cylinder_head").figure
    assert "1 is B, 2 is G, 3 is C, 4 is F, 5 is A, 6 is H, 7 is D, 8 is E" in figure.svg


def test_each_stud_on_the_drawing_says_its_row_its_place_and_the_scale():
    """Identity: marram-f4's studs span 212 mm; the drawing is 340 wide with 48 at each side."""
    table = "studs.cylinder_head.positions"
    moved = {f"{table}.{row}.{key}": "" for row in (3,) for key in ("name", "x", "y")}
    moved |= {f"{table}.12.name": "C", f"{table}.12.x": "14 mm", f"{table}.12.y": "47 mm"}
    svg = _on_paper("marram-f4", "studs.cylinder_head", **moved).figure.svg
    assert 'data-row="1" data-x="-106.0" data-y="47.0" data-scale="1.1509"' in svg
    assert 'data-row="12" data-x="14.0" data-y="47.0"' in svg
    assert 'data-row="3"' not in svg
    assert svg.count("data-row=") == 8


def test_the_next_stud_has_the_next_letter_the_first_free_row_and_a_place_clear_of_the_others():
    table = "studs.cylinder_head.positions"
    first = _on_paper("layout-v8", "studs.cylinder_head")
    assert (first.figure, first.row, first.name, first.x, first.y) == (None, f"{table}.1", "A", 0, 0)
    one = {f"{table}.1.name": "A", f"{table}.1.x": "0.4 in", f"{table}.1.y": "0 mm"}
    second = _on_paper("layout-v8", "studs.cylinder_head", **one)
    assert (second.figure, second.row, second.name) == (None, f"{table}.2", "B")
    assert math.hypot(second.x - 10.16, second.y) > 15
    full = {f"{table}.{row}.name": f"S{row}" for row in range(1, 21)}
    assert _on_paper("layout-v8", "studs.cylinder_head", **full).row == ""


@pytest.mark.parametrize(
    "change",
    [
        {"layout.banks": "1 2 / 3 3"},
        {"layout.banks": "1 x"},
        {"layout.banks": None},
        {"studs.cylinder_head.positions.2.x": "-106 mm"},
        {"studs.cylinder_head.positions.2.x": "wide"},
    ],
)
def test_places_with_a_mistake_are_not_drawn(change):
    figures = live_card(typed(**change))["figures"]
    (box,) = change
    assert "<svg" not in figures.get(box.rpartition(".")[0].removesuffix(".positions.2"), "")
    assert sum("<svg" in html for html in figures.values()) == 1


def test_a_firing_order_with_a_mistake_leaves_the_numbers():
    figure = live_card(typed(layout__firing_order="1 2"))["figures"]["layout"]
    assert "fires" not in figure
    assert "cylinder 3" in figure


# What pages quote.
def test_pages_quote_a_number_with_its_other_unit():
    texts = card_texts(MARRAM)
    # ISO 80000-4 and the pound-force foot of 1.355 818 N·m (NIST SP 811, B.9): 34 / 1.355818 = 25.08
    assert texts["torques.cylinder_head"] == "34 N·m (25.1 lbf·ft)"
    # 1 in = 25.4 mm exactly (NIST SP 811, B.9): 0.15 / 0.0254 = 5.9
    assert texts["clearances.inlet"] == "0.15 mm (5.9 thou)"
    assert texts["layout.firing_order"] == "1 4 3 2"
    assert texts["studs.cylinder_head.thread"] == "M10 × 1.5"
    assert "name" not in texts
    assert "studs.cylinder_head.positions" not in texts
    assert with_other_unit("a rag") == "a rag"


@pytest.mark.parametrize("name", ["dunlin-f2", "marram-f4", "samphire-f6"])
def test_what_any_page_quotes_is_on_every_whole_card(name):
    quoted = {
        path
        for page in (ROOT / "docs").rglob("*.md")
        for path in re.findall(r"\[\[([a-z_]+(?:\.[a-z_]+)+)\]\]", page.read_text(encoding="utf-8"))
    }
    of_the_card = {path for path in quoted if path.rpartition(".")[0] not in questions()}
    assert of_the_card
    assert of_the_card <= set(card_texts(CARDS[name]))


# What a page asks for.
def ask(**asked):
    return json.loads(answer_message(json.dumps(asked)))


def test_a_page_is_given_the_form_of_a_card_a_draft_or_a_file():
    card = {"name": "marram-f4", "data": MARRAM.data}
    assert ask(want="card-form", card=card)["texts"]["name"] == "Marram F4"
    assert 'value="80 N"' in ask(want="card-form", card=None, texts={"dimensions.bore": "80 N"})["html"]
    assert ask(want="card-form", card=None, tree={"boar": 1})["lost"]
    assert ask(want="card-form", card=None)["texts"] == {}


def test_a_page_is_told_what_stands_in_the_form():
    answer = ask(want="card-read", card=None, texts=texts_of(MARRAM.data))
    assert answer["errors"] == []
    assert answer["data"] == MARRAM.data
    wrong = ask(want="card-read", card=None, texts=typed(dimensions__bore="80 N"))
    assert 'href="#card-dimensions-bore"' in wrong["summary"]


def begun(**rows):
    typed = {
        path.replace("__", "."): dict(zip(("value", "unit", "from"), row, strict=True)) for path, row in rows.items()
    }
    layout = {"name": "layout-flat-twin", "data": CARDS["layout-flat-twin"].data}
    return ask(want="card-begun", card=layout, rows={"name": {"value": "Curlew F2"}} | typed)


def test_a_card_is_begun_with_a_layout_and_five_facts():
    made = begun(
        dimensions__bore=("78.5", "mm", "told"),
        dimensions__stroke=("2.75 in", "mm", "measured"),
        torques__cylinder_head=("22", "lbf·ft", "maker’s book"),
        clearances__inlet=(" ", "mm", "told"),
    )
    assert made["errors"] == []
    card = made["data"]
    assert (card["name"], card["about"]) == ("Curlew F2", "flat twin; begun with five facts.")
    assert card["layout"] == CARDS["layout-flat-twin"].data["layout"]
    assert card["dimensions"]["bore"] == {"value": "78.5 mm", "source": "told"}
    assert card["dimensions"]["stroke"] == {"value": "2.75 in", "source": "measured"}  # it brings its own unit
    assert card["torques"]["cylinder_head"]["value"] == "22 lbf·ft"
    assert "clearances" not in card


def test_what_is_wrong_with_a_card_that_is_begun_is_told_as_in_the_whole_form():
    told = begun(dimensions__bore=("8", "mm", "told"), dimensions__stroke=("a rag", "mm", "told"))["errors"]
    assert [(error["field"], error["message"]) for error in told] == [
        ("dimensions.bore", "Bore (dimensions) must be between 30 mm and 200 mm"),
        ("dimensions.stroke", "Stroke must be a number, like 80 mm"),
    ]


def test_a_page_is_told_what_is_missing_and_what_to_quote():
    card = {"name": "x", "data": CARDS["layout-v8"].data}
    assert "<a href=" in ask(want="card-missing", card=card)["html"]
    assert ask(want="card-missing", card=None) == {"html": ""}
    assert ask(want="card-texts", card=card)["texts"]["layout.cylinders"] == "8"
    assert ask(want="card-texts", card=None) == {"texts": {}}


def test_each_quantity_says_with_which_units_it_may_be_typed():
    entries = [entry for section in SECTIONS for entry in section.entries() if isinstance(entry.kind, Measure)]
    for entry in entries:
        units = wanted(entry).removeprefix("With its unit: ").replace(" or ", ", ").split(", ")
        assert all(is_of_kind(f"1 {symbol}", unit(entry.kind.own).kind) for symbol in units)
    assert {"mm", "N·m", "°"} <= {entry.kind.own for entry in entries}
    assert [entry.path for entry in HEADINGS] == ["name", "about"]


def test_a_draft_with_mistakes_can_still_be_asked_for_facts():
    read = read_card_form(typed(layout__cylinders="many"))
    assert EngineCard("", read.data).text("dimensions.bore") == "80 mm"


# What is the example's still.
OWN = EngineCard("own-marram-f4-changed", MARRAM.data, own=True)


def own_with(**sources: str) -> EngineCard:
    return EngineCard("own", read_card_form(typed(**sources)).data, own=True)


def test_a_copy_is_the_example_s_until_each_figure_has_a_source_of_its_own():
    assert len(inherited_entries(OWN)) > 130
    assert inherited_entries(MARRAM) == ()
    given = own_with(dimensions__bore__source="measured", studs__cylinder_head__source="the maker's drawing")
    kept = set(inherited_entries(OWN)) - set(inherited_entries(given))
    assert {"dimensions.bore", "studs.cylinder_head.positions", "studs.cylinder_head.thread"} <= kept
    assert all(path == "dimensions.bore" or path.startswith("studs.cylinder_head.") for path in kept)


def test_a_copy_does_not_say_that_every_question_finds_what_it_takes():
    assert "every question finds all it takes" in missing_html(MARRAM)
    about = missing_html(OWN)
    assert "every question finds all it takes" not in about
    assert "entries are still the example’s" in about
    assert f"{question('torque.wrench').asks}</a> final torque</li>" in about
    answer = ask(want="card-missing", card={"name": "own", "data": MARRAM.data, "own": True})
    assert answer["html"] == about


def test_the_form_marks_what_is_the_example_s_still_and_counts_it():
    answer = live_card(texts_of(MARRAM.data) | {"dimensions.bore": "81 mm", "dimensions.bore.source": "measured"})
    assert "dimensions.bore" not in answer["inherited"]
    assert {"dimensions.stroke", "studs.cylinder_head.positions", "studs.head_screws.screw_count"} <= set(
        answer["inherited"]
    )
    count = len(CardFacts.dimensions.entries())
    assert answer["filled"]["dimensions"] == f"{count} of {count}, {count - 1} still the example’s"


def test_pages_and_sheets_say_whose_a_figure_is():
    given = own_with(torques__rocker_shaft__source="the maker's manual, page 12")
    assert card_texts(given)["torques.rocker_shaft"] == "22 N·m (16.2 lbf·ft)"
    assert card_texts(given)["torques.cylinder_head"] == "34 N·m (25.1 lbf·ft) (the example’s)"
    assert card_texts(MARRAM)["torques.cylinder_head"] == "34 N·m (25.1 lbf·ft)"
    job = {"id": "0123abcd", "made": "2026-11-25T10:00:00Z", "changed": "2026-11-25T10:00:00Z"}
    assert "entries still the example" in paper_html("handover", job, OWN)
    assert "entries still the example" not in paper_html("handover", job, MARRAM)
    assert "entries still the example" in paper_html("measuring", job, OWN)


def test_questions_take_nothing_of_a_copy_that_is_the_example_s_still():
    assert {known.origin for known in Desk({}, OWN).ask("torque.wrench").known.values()} <= {Origin.USUAL}
    given = own_with(torques__cylinder_head__source="page 12")
    known = Desk({}, given).ask("torque.wrench").known
    assert (known["target"].origin, known["target"].text) == (Origin.CARD, "34 N·m")
    assert "screw_torque" not in known


def test_every_address_of_what_is_missing_is_a_question_on_its_room_s_page():
    known = {f"{name.partition('.')[0].replace('_', '-')}/#q-{name.replace('.', '-')}" for name in questions()}
    addresses = re.findall(r'href="../../work-it-out/([^"]+)"', missing_html(CARDS["layout-v8"]))
    assert addresses
    assert set(addresses) <= known
