import pytest

from calculators.bench.words import listed


@pytest.mark.parametrize(("things", "words"), [((1,), "1"), ((1, 2), "1 and 2"), (("a", "b", "c"), "a, b and c")])
def test_things_are_listed_as_they_are_said(things, words):
    assert listed(things) == listed(iter(things)) == words
