"""At the end of a night each kind of attempt stands with how often it was made and how often it failed."""

import pytest

from tests.attempts import TOLD, Attempts, summary


def report(nodeid, when="teardown", says="", kinds=None):
    made = pytest.TestReport(nodeid, ("", 0, ""), {}, "passed", None, when, user_properties=[(TOLD, kinds or {})])
    if says:
        made._hypothesis_stats = says
    return made


def test_properties_count_by_their_room_and_other_attempts_by_their_kind():
    counted = Attempts()
    for number in range(5):
        counted.count("damaged cards", *(["hung", "lost a box"] if number == 3 else []))
    generated = "during generate phase (0.1 seconds):\n - 200 passing, 0 failing, and 39 invalid test cases"
    shrunk = "during shrink phase:\n - 7 passing test cases, 2 failing test cases"
    lines = [
        *summary(
            [
                report("tests/fits/test_fit.py::test_one", says=generated),
                report("tests/fits/test_bore.py::test_two", says=f"{generated}\n{shrunk}"),
                report("tests/site/test_x.py::test_three", kinds=counted.kinds),
                report("tests/site/test_x.py::test_three", when="call", kinds=counted.kinds),
            ]
        )
    ]
    assert [line.split()[-2:] for line in lines] == [["attempts", "failures"], ["5", "1"], ["409", "2"]]
    assert lines[1].startswith("damaged cards ")
    assert lines[2].startswith("properties of tests/fits ")
    assert counted.wrong == ["damaged cards: hung", "damaged cards: lost a box"]
    assert str(counted) == "damaged cards: 5, 1 wrong"


def test_where_nothing_was_tried_nothing_is_said():
    assert not [*summary([report("tests/fits/test_fit.py::test_one")])]
