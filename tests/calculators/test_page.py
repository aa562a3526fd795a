"""A calculator as HTML: every control is labelled, every id is its own, and nothing typed becomes markup."""

import copy
import json
import re
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote

import pytest

from calculators import (
    COMMON_PRACTICE,
    Attachment,
    Choice,
    EngineCard,
    Field,
    Form,
    InputErrors,
    Kept,
    Measure,
    Number,
    Report,
    Rows,
    Section,
    Stage,
    Step,
    Value,
    Walk,
    measured,
    quantity,
    read_card,
)
from calculators._catalogue import Calculator, catalogue
from calculators._page import calculator_html, form_html, live_answer, unbroken
from calculators._questions import answer_message

MARRAM = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
HOSTILE = "\"><script>alert('1')</script><img src=x onerror=y>&"
VOID = {"input", "img", "br", "hr", "meta", "link"}

every_calculator = pytest.mark.parametrize("found", catalogue().values(), ids=list(catalogue()))


class Reader(HTMLParser):
    """Collects elements with their attributes and texts; complains of tags that do not close."""

    def __init__(self):
        super().__init__()
        self.elements, self.open = [], []

    def handle_starttag(self, tag, attributes):
        element = {"tag": tag, "text": "", **{name: value or "" for name, value in attributes}}
        assert len(attributes) == len(dict(attributes)), f"{tag} has an attribute twice"
        self.elements.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_startendtag(self, tag, attributes):
        self.handle_starttag(tag, attributes)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        assert self.open.pop()["tag"] == tag

    def handle_data(self, data):
        for element in self.open:
            element["text"] += data


def elements(html, tag=None):
    reader = Reader()
    reader.feed(html)
    reader.close()
    assert reader.open == []
    return [element for element in reader.elements if tag in (None, element["tag"])]


def asked(html):
    """What stands in the form, and so not the boxes to tick in the answer."""
    return [element for element in elements(html) if "data-step" not in element]


def control(html, name):
    return next(
        element for element in elements(html) if element.get("name") == name and element["tag"] != "bench-calculator"
    )


def chosen_option(html, name):
    """The option marked in a select, else its first, as a browser takes it."""
    select = re.search(rf'<select[^>]* name="{re.escape(name)}".*?</select>', html, re.DOTALL)[0]
    options = elements(select, "option")
    return next((option for option in options if "selected" in option), options[0])["text"]


ROWS = Rows(
    key="barrels",
    title="Each cylinder",
    fields=(
        Field(
            key="chamber",
            label="Chamber volume",
            help="By burette.",
            kind=Measure(own="cm³", low=1, high=200, why="burettes"),
            example="50; 51",
        ),
        Field(
            key="crown",
            label="Crown",
            help="Seen from the side.",
            kind=Choice(options={"flat": "Flat", "dish": "Dished"}),
            default="flat; flat",
        ),
    ),
    each="Cylinder {}",
    most=4,
    count="cylinders",
)
DRAWER = Rows(
    key="drawer",
    title="Drawer",
    fields=(
        Field(
            key="thickness",
            label="Thickness",
            kind=Measure(own="mm", low=0.1, high=5, why="spacers"),
            example="0.25; 0.5",
        ),
    ),
    each="Spacer {}",
    most=3,
)
FORM = Form(
    (
        Section(
            title="Engine",
            fields=(
                Field(
                    key="bore", label="Bore", kind=Measure(own="mm", low=30, high=200, why="engines"), example="80 mm"
                ),
                Field(key="cylinders", label="Number of cylinders", kind=Number(low=1, high=4, why="x"), default="2"),
            ),
        ),
        ROWS,
        DRAWER,
    )
)


def small(compute=lambda inputs: Report(lead="Fit 0.25 mm.")):
    return Calculator("small", "Small", "Shows a form", FORM, compute)


@every_calculator
def test_a_page_is_well_formed_and_every_id_is_its_own(found):
    ids = [element["id"] for element in elements(calculator_html(found, MARRAM, "first")) if "id" in element]
    assert ids
    assert len(ids) == len(set(ids))
    assert all(re.fullmatch(r"first-[a-z0-9_-]+", found_id) for found_id in ids)


@every_calculator
def test_two_of_one_kind_on_a_page_share_no_id(found):
    both = [
        {element["id"] for element in elements(calculator_html(found, MARRAM, prefix)) if "id" in element}
        for prefix in ("one", "two")
    ]
    assert not both[0] & both[1]


@every_calculator
def test_every_control_is_labelled_and_every_label_has_a_control(found):
    html = calculator_html(found, MARRAM, "p")
    controls = [element for element in asked(html) if element["tag"] in {"input", "select", "textarea"}]
    labelled = {element["for"] for element in elements(html, "label") if element.get("class") != "bench-step"}
    assert labelled == {element["id"] for element in controls if "id" in element}
    for element in controls:
        assert element.get("id") in labelled or element.get("aria-label"), element


@every_calculator
def test_every_description_that_a_control_names_is_there(found):
    html = calculator_html(found, MARRAM, "p")
    ids = {element["id"] for element in elements(html) if "id" in element}
    named = [element["aria-describedby"] for element in elements(html) if "aria-describedby" in element]
    assert named
    assert {one for text in named for one in text.split()} <= ids


@every_calculator
def test_every_field_is_asked_once_by_its_key(found):
    html = calculator_html(found, MARRAM, "p")
    names = [element["name"] for element in asked(html) if element["tag"] in {"input", "select"}]
    assert len(names) == len(set(names))
    for section in found.form.sections:
        for field in section.fields:
            assert (f"{field.key}.1" if isinstance(section, Rows) else field.key) in names


@every_calculator
def test_example_on_the_page_is_the_answer_to_what_stands_in_its_form(found):
    html = calculator_html(found, MARRAM, "p")
    typed = {}
    for element in asked(html):
        if element["tag"] == "input":
            typed[element["name"]] = element["value"]
        elif element["tag"] == "select":
            value = re.search(rf'<select[^>]* name="{re.escape(element["name"])}".*?</select>', html, re.DOTALL)[0]
            options = elements(value, "option")
            marked = next((option for option in options if "selected" in option), options[0])
            typed[element["name"]] = marked.get("value", marked["text"])
    lead = next(element for element in elements(html) if "bench-lead" in element.get("class", ""))
    assert live_answer(found, typed, MARRAM, "p", {})["lead"] == lead["text"]


@every_calculator
def test_nothing_on_the_page_is_inline_script_or_style(found):
    for element in elements(calculator_html(found, MARRAM, "p")):
        assert element["tag"] not in {"script", "style", "iframe", "object"}
        assert not {"style", "onclick", "onerror", "onload", "srcdoc"} & element.keys()


@every_calculator
def test_hostile_text_in_any_field_stays_text(found):
    typed = found.form.prefilled(MARRAM, example=True)
    for field in found.form.fields:
        key = next(key for key in (field.key, f"{field.key}.1") if key in typed or key == f"{field.key}.1")
        answer = live_answer(found, typed | {key: HOSTILE}, MARRAM, "p", {})
        for html in (answer["summary"], answer["answer"]):
            assert not {"script", "img"} & {element["tag"] for element in elements(html)}
            assert "<script" not in html


def test_hostile_text_comes_back_whole_in_its_box():
    answer = live_answer(small(), {"cylinders": "2", "chamber.2": HOSTILE}, None, "p", {"barrels": 0, "drawer": 0})
    assert control(answer["rows"]["barrels"]["more"], "chamber.2")["value"] == HOSTILE
    assert "script" not in {element["tag"] for element in elements(answer["rows"]["barrels"]["more"])}


def test_hostile_field_name_stays_text():
    summary = live_answer(small(), {HOSTILE: "1"}, None, "p", {})["summary"]
    assert not {"script", "img"} & {element["tag"] for element in elements(summary)}
    assert HOSTILE in "".join(element["text"] for element in elements(summary, "a"))


def test_hostile_card_stays_text():
    data = copy.deepcopy(dict(MARRAM.data)) | {"name": HOSTILE}
    studs = data["studs"]["cylinder_head"]["positions"]
    for number, stud in enumerate(studs):
        stud["name"] = f"<i>{number}{HOSTILE}"
    card = EngineCard(HOSTILE, data)
    html = calculator_html(catalogue()["torque-stages"], card, "p")
    assert not {"script", "img", "i"} & {element["tag"] for element in elements(html)}
    assert "<script" not in html
    assert HOSTILE in next(element for element in elements(html) if element.get("role") == "status")["text"]


def test_hostile_preset_stays_text():
    html = calculator_html(small(), None, "p", {"bore": "80 mm", "thickness": "0.25"})
    assert control(html, "bore")["value"] == "80"
    with pytest.raises(InputErrors):
        calculator_html(small(), None, "p", {"bore": HOSTILE})


def test_a_preset_that_cannot_be_answered_or_names_no_field_is_not_passed_over():
    with pytest.raises(InputErrors, match="There is no field boar"):
        calculator_html(small(), None, "p", {"boar": "80 mm"})


def test_a_preset_is_parted_into_number_and_unit():
    html = calculator_html(catalogue()["torque-stages"], MARRAM, "p", {"target": "27,5 ft-lb"})
    assert control(html, "target")["value"] == "27,5"
    assert chosen_option(html, "target.unit") == "lbf·ft"


def test_every_unit_of_the_kind_is_offered():
    html = calculator_html(catalogue()["torque-stages"], MARRAM, "p")
    select = re.search(r'<select[^>]* name="target.unit".*?</select>', html, re.DOTALL)[0]
    assert [option["text"] for option in elements(select, "option")] == ["N·m", "lbf·ft", "lbf·in", "kgf·m", "daN·m"]


def test_errors_say_the_same_beside_the_field_and_in_the_summary():
    found = catalogue()["torque-stages"]
    typed = found.form.prefilled(MARRAM, example=True) | {"target": "", "passes": "9"}
    answer = live_answer(found, typed, MARRAM, "p", {})
    beside = [error["message"] for error in answer["errors"]]
    assert beside == ["Enter the final torque, in newton metres", "Number of passes must be between 1 and 8"]
    assert [link["text"] for link in elements(answer["summary"], "a")] == beside
    assert "2 entries need another look" in answer["summary"]
    assert (answer["lead"], answer["answer"]) == ("", "")


def test_errors_link_to_a_control_that_is_there():
    found = catalogue()["torque-stages"]
    typed = found.form.prefilled(MARRAM, example=True)
    ids = {element["id"] for element in elements(calculator_html(found, MARRAM, "p")) if "id" in element}
    for field in found.form.fields:
        summary = live_answer(found, typed | {field.key: "?"}, MARRAM, "p", {})["summary"]
        (link,) = elements(summary, "a")
        assert link["href"].removeprefix("#") in ids
    assert "One entry needs another look" in summary


def test_errors_of_a_row_link_to_its_cell():
    typed = {"bore": "80", "cylinders": "2", "chamber.1": "50", "chamber.2": "?", "thickness.1": "0.5"}
    answer = live_answer(small(), typed, None, "p", {"barrels": 0, "drawer": 0})
    (link,) = elements(answer["summary"], "a")
    assert link["href"] == "#p-chamber-2"
    assert "p-chamber-2" in {element.get("id") for element in elements(answer["rows"]["barrels"]["more"])}


def test_what_can_be_worked_out_all_the_same_is_shown_below_the_error():
    def compute(inputs):
        from calculators import FieldError

        raise InputErrors(
            FieldError("bore", "No stack reaches it."), report=Report(lead="Fit none.", notes=("As it is.",))
        )

    typed = small().form.prefilled(None, example=True)
    answer = live_answer(small(compute), typed, None, "p", {})
    assert "As it is." in answer["answer"]
    assert answer["lead"] == ""
    assert "No stack reaches it." in answer["summary"]


def test_the_chosen_row_alone_is_marked_and_every_cell_names_its_column():
    found = catalogue()["torque-stages"]
    answer = live_answer(found, found.form.prefilled(MARRAM, example=True), MARRAM, "p", {})["answer"]
    rows = elements(answer, "tr")
    assert [row.get("class") for row in rows] == [None, None, None, None, "bench-chosen"]
    assert rows[-1]["text"].startswith("Confirm34 N·m")
    heads = [element["text"] for element in elements(answer, "th")]
    labels = [element["data-label"] for element in elements(answer, "td")]
    assert labels == heads * 4
    looks = {element["data-label"]: element.get("class") for element in elements(answer, "td")}
    assert looks["Set the wrench to"] == "bench-strong"
    assert looks["Share"] is None


def test_an_answer_without_errors_has_no_summary():
    answer = live_answer(small(), small().form.prefilled(None, example=True), None, "p", {})
    assert (answer["lead"], answer["summary"], answer["errors"]) == ("Fit 0.25\u00a0mm.", "", [])


@pytest.mark.parametrize(
    ("cylinders", "shown", "count", "added"),
    [("2", 2, 2, []), ("4", 2, 4, [3, 4]), ("1", 2, 1, []), ("3", 0, 3, [1, 2, 3]), ("x", 2, 2, [])],
)
def test_a_counted_table_grows_and_shrinks_with_its_number(cylinders, shown, count, added):
    typed = {"cylinders": cylinders, "chamber.1": "50", "chamber.2": "51"}
    rows = live_answer(small(), typed, None, "p", {"barrels": shown, "drawer": 1})["rows"]["barrels"]
    assert rows["count"] == count
    more = [element for element in elements(rows["more"]) if "data-row" in element]
    assert [int(element["data-row"]) for element in more] == added
    assert [element["aria-label"] for element in more] == [f"Cylinder {number}" for number in added]


@pytest.mark.parametrize(
    ("typed", "count"),
    [({}, 1), ({"thickness.1": "0.5"}, 2), ({"thickness.1": "1", "thickness.2": "1", "thickness.3": "1"}, 3)],
)
def test_a_free_table_keeps_one_row_open_up_to_its_most(typed, count):
    assert live_answer(small(), typed, None, "p", {"drawer": 1})["rows"]["drawer"]["count"] == count


def test_a_cell_shows_the_unit_that_its_number_is_in():
    html = calculator_html(small(), None, "p", {"chamber": "3 in³; 3.1 in³"})
    cell = control(html, "chamber.1")["value"]
    beside = next(element["text"] for element in elements(html) if element.get("data-unit-of") == "chamber")
    assert cell == "3 in³" or (cell, beside) == ("3", "in³")


@pytest.mark.parametrize("text", ["½ in", "3 ½ in", "3/8 in", "4 in ± 0.01 in", "4 ± 0.01 in"])
def test_parting_number_and_unit_loses_nothing(text):
    form = Form(
        (
            Section(
                title="T",
                fields=(Field(key="a", label="A", kind=Measure(own="mm", low=1, high=200, why="x"), example=text),),
            ),
        )
    )
    found = Calculator("t", "T", "Tests a field", form, lambda inputs: Report(lead=f"{inputs.a:.6f}"))
    html = calculator_html(found, None, "p")
    typed = {"a": control(html, "a")["value"], "a.unit": chosen_option(html, "a.unit")}
    assert live_answer(found, typed, None, "p", {})["lead"] == found.answer({"a": text}).lead


def test_a_choice_in_a_row_names_only_descriptions_that_are_there():
    html = calculator_html(small(), None, "p")
    ids = {element["id"] for element in elements(html) if "id" in element}
    assert set(control(html, "crown.1")["aria-describedby"].split()) <= ids


def test_a_number_pad_is_offered_where_no_minus_can_occur():
    html = calculator_html(catalogue()["torque-stages"], MARRAM, "p")
    assert control(html, "target")["inputmode"] == "decimal"
    assert control(html, "passes")["inputmode"] == "numeric"
    assert control(html, "shares")["inputmode"] == "text"
    assert {element["type"] for element in asked(html) if element["tag"] == "input"} == {"text"}


@pytest.mark.parametrize(
    "text",
    [
        "7.53 to 7.61\u00a0: 1",
        "34\u00a0N·m (25.1\u00a0lbf·ft)",
        "3 more turns",
        "4 inches",
        "20\u00a0°C",
        "5 hours",
        "5\u00a0h.",
    ],
)
def test_no_number_parts_from_its_unit_at_the_end_of_a_line(text):
    assert unbroken(text.replace("\u00a0", " ")) == text


def test_what_each_text_was_taken_for_comes_with_the_answer():
    typed = small().form.prefilled(None, example=True) | {"bore": "3 1/4 in", "chamber.2": "49,5", "cylinders": "2"}
    answer = live_answer(small(), typed, None, "p", {"barrels": 0, "drawer": 0})
    assert answer["understood"] == {"bore": "= 82.55 mm", "chamber.2": "= 49.5 cm³"}
    assert "p-chamber-2-read" in {element.get("id") for element in elements(answer["rows"]["barrels"]["more"])}


def test_a_message_is_answered_with_a_message():
    question = {
        "calculator": "torque-stages",
        "typed": {"target": "37", "pattern": "4"},
        "prefix": "p",
        "rows": {},
        "opened": [],
        "card": None,
    }
    answer = json.loads(answer_message(json.dumps(question)))
    assert answer["lead"].startswith("Set the wrench to 12, 25 and 37\u00a0N·m")
    assert answer["errors"] == []
    question["card"] = {"name": MARRAM.name, "data": dict(MARRAM.data)}
    question["typed"] = {}
    assert "in the order B – G" in json.loads(answer_message(json.dumps(question)))["lead"]


def whole_report(inputs):
    depth = measured(quantity(20, "mm"), quantity(0.1, "mm"), "Deck")
    value = Value(
        key="depth",
        label="Depth",
        quantity=depth,
        units=("mm",),
        formula="what was read",
        given=(("bore", inputs.bore),),
        source=COMMON_PRACTICE,
    )
    steps = (Step(key="1.A", label="A", words="Tighten A to 20 N·m.", large="A · 20", minutes=2), *WORDY)
    walk = Walk(key="passes", title="The passes", stages=(Stage(title="Pass 1", steps=steps),))
    kept = Kept(path="deck.1", label="Deck", quantity=depth, unit="mm")
    file = Attachment(
        name="checks.ics", title="Into the calendar", media_type="text/calendar", text='A "day" & 1 %\r\n'
    )
    return Report(lead="Fit 0.25 mm.", values=(value,), walks=(walk,), kept=(kept,), attachments=(file,))


WORDY = (Step(key="1.B", label=HOSTILE, words=HOSTILE, large=HOSTILE),)


def test_a_fold_that_is_closed_on_the_page_is_sent_empty_and_an_open_one_open_and_whole():
    found = small(whole_report)
    typed = found.form.prefilled(None, example=True)
    whole, closed, opened = (
        calculator_html(found, None, "p"),
        live_answer(found, typed, None, "p", {})["answer"],
        live_answer(found, typed, None, "p", {}, ["value depth", "no such fold"])["answer"],
    )
    for html, standing, words in ((whole, False, True), (closed, False, False), (opened, True, True)):
        fold = next(element for element in elements(html) if element.get("data-fold") == "value depth")
        assert ("open" in fold) is standing
        assert ("With bore 80.00 mm." in fold["text"]) is words
        assert ("Where the ± comes from: Deck 100 %." in fold["text"]) is words
        assert ("Source: common practice, no source" in fold["text"]) is words


def test_a_walk_is_boxes_to_tick_that_say_the_whole_deed():
    found = small(whole_report)
    answer = live_answer(found, found.form.prefilled(None, example=True), None, "p", {})
    boxes = [element for element in elements(answer["answer"]) if "data-step" in element]
    assert [box["data-step"] for box in boxes] == ["1.A", "1.B"]
    assert (boxes[0]["data-words"], boxes[0]["data-large"]) == ("Tighten A to 20 N·m.", "A · 20")
    assert [box.get("data-minutes") for box in boxes] == ["2", None]
    assert boxes[1]["data-words"] == HOSTILE
    labels = [element["text"].strip() for element in elements(answer["answer"], "label")]
    assert labels == ["A: Tighten A to 20 N·m.", HOSTILE]
    assert "script" not in {element["tag"] for element in elements(answer["answer"])}


def test_what_others_may_take_for_a_reading_comes_with_the_answer():
    found = small(whole_report)
    answer = live_answer(found, found.form.prefilled(None, example=True), None, "p", {})
    assert answer["kept"] == {"deck.1": {"label": "Deck", "text": "20.000 ± 0.1 mm"}}
    assert live_answer(small(), found.form.prefilled(None, example=True), None, "p", {})["kept"] == {}


def test_controls_carry_the_name_under_which_the_job_keeps_them():
    rows = Rows(
        key="decks",
        title="Decks",
        fields=(
            Field(
                key="depth",
                label="Depth",
                kind=Measure(own="mm", low=0, high=9, why="decks"),
                example="1; 2",
                reading="deck",
            ),
        ),
        each="Cylinder {}",
        most=4,
    )
    bore = Field(key="b", label="Bore", kind=Measure(own="mm", low=1, high=200, why="x"), default="80", reading="bore")
    form = Form((Section(title="S", fields=(bore,)), rows))
    html = calculator_html(Calculator("t", "T", "Tests a form", form, lambda inputs: Report(lead="1.")), None, "p")
    names = {element["name"]: element.get("data-reading") for element in elements(html) if "name" in element}
    assert (names["b"], names["depth.1"], names["depth.2"]) == ("bore", "deck.1", "deck.2")
    assert (names["b.unit"], names["depth.unit"]) == (None, None)  # a unit is part of the reading beside it
    assert control(calculator_html(small(), None, "p"), "bore").get("data-reading") is None


def test_what_only_the_example_fills_is_marked():
    html = calculator_html(small(), None, "p", {"bore": "81"})
    marked = {element["data-field"] for element in elements(html) if "data-example" in element}
    assert marked == {"chamber.1", "chamber.2", "thickness.1", "thickness.2"}


def test_a_file_to_take_away_is_in_its_link_to_the_letter():
    found = small(whole_report)
    answer = live_answer(found, found.form.prefilled(None, example=True), None, "p", {})["answer"]
    link = next(element for element in elements(answer, "a") if "download" in element)
    assert (link["download"], link["text"]) == ("checks.ics", "Into the calendar")
    head, _, text = link["href"].partition(",")
    assert head == "data:text/calendar;charset=utf-8"
    assert unquote(text) == 'A "day" & 1 %\r\n'


def test_a_card_whose_word_is_no_option_is_shown_as_it_is_and_refused():
    found = small()
    html = form_html(found, None, "p", {"crown": "domed; FLAT"})
    assert chosen_option(html, "crown.1") == "domed: choose another"
    assert chosen_option(html, "crown.2") == "Flat"
