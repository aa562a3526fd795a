"""From burette and depth gauge to the pushrod tubes: one reading changed, and all that rests on it follows."""

import pytest

from calculators import InputErrors
from calculators.bench.asking import answered

# by hand: 86 mm by 86 mm sweep 499.56 cm³; 46.776 cm³ and 1 mm of bore, 5.809 cm³, make 10.5 : 1;
# half a millimetre less asks for 2.904 cm³ more chamber
MEASURED = {
    "cylinders": "2",
    "heads": "1 / 2",
    "bore": "86",
    "stroke": "86",
    "target": "10.5",
    "least_deck": "0.2",
    "thickness": "0.25; 0.5; 0.75; 1",
    "pieces": "4; 4; 4; 4",
    "fill.2": "46.776 46.776",
    "depth": "0 0 0 0; 0 0 0 0",
    "hole": "0",
    "level": "top",
}
TUBES = {
    "seat_distance": "201",
    "tube_free_length": "203.5",
    "least_crush": "0.5",
    "most_crush": "2.5",
    "pushrod_length": "276",
}


def ask(name, fill, **typed):
    return answered(name, **MEASURED | {"fill.1": fill} | typed)


def test_from_what_was_measured_follow_the_spacers_and_how_far_the_heads_move():
    assert ask("compression.spacers", "46.776 46.776").headline == "1.00 mm under every barrel"
    assert ask("compression.head_shift", "46.776 46.776").headline == "Heads move out 1.00 mm"


def test_one_burette_reading_changes_the_spacers_the_heads_and_the_tubes():
    spacers = ask("compression.spacers", "49.680 49.680")
    assert "0.50 mm" in spacers.says
    shift = ask("compression.head_shift", "49.680 49.680")
    assert "The head over cylinder 1 moves out by 0.50 mm; the head over cylinder 2 moves out by 1.00 mm" in shift.says
    tubes = ask("pushrods.tubes", "49.680 49.680", **TUBES)
    (table,) = tubes.tables
    column = next(place for place, one in enumerate(table.columns) if "apart" in one.label.lower())
    # the seats stood 201 mm apart, and the heads half a millimetre and a whole one further out
    assert [round(row.cells[column].magnitude.nominal_value, 3) for row in table.rows] == [201.5, 202.0]


def test_a_reading_that_says_nothing_stops_all_that_rests_on_it():
    with pytest.raises(InputErrors, match="Burette readings of cylinder 1"):
        ask("pushrods.tubes", "about fifty", **TUBES)
