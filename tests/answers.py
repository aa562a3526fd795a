"""What tests read off an answer, and off a question that refuses."""

from xml.etree import ElementTree

import pytest

from calculators import InputErrors, magnitude_in


def errors_of(asking, /, *given, **typed):
    """Return what is wrong or lacking, the box and its sentence each, where asking so is refused."""
    with pytest.raises(InputErrors) as caught:
        asking(*given, **typed)
    return [(error.field, error.message) for error in caught.value.errors]


def error_of(asking, /, *given, **typed):
    (error,) = errors_of(asking, *given, **typed)
    return error


def wrong(asking, /, *given, **typed):
    return dict(errors_of(asking, *given, **typed))


def messages_of(asking, /, *given, **typed):
    return [message for _, message in errors_of(asking, *given, **typed)]


def read_off(found, key, unit="mm"):
    return magnitude_in(found.value(key).quantity, unit)


def bare_number(found, key):
    return found.value(key).as_data()["magnitude"]


def signals(found, words=""):
    return [caution.signal for caution in found.warnings if words in caution.text]


def cautions(found, signal=""):
    return [caution.text for caution in found.warnings if signal in caution.signal]


def table(found, key=""):
    return next(one for one in found.tables if key in ("", one.key))


def rows(found, key=""):
    """Return a table's rows as data, the first table's where none is named."""
    return table(found, key).as_data()["rows"]


def column(found, key, of=""):
    """Return the cells of one column, as they are."""
    place = [one.key for one in table(found, of).columns].index(key)
    return [row.cells[place] for row in table(found, of).rows]


def steps(found):
    return {step.key: step for stage in found.steps.stages for step in stage.steps}


def drawn_words(found):
    return ElementTree.fromstring(found.drawing.svg).get("aria-label")  # noqa: S314 (our own drawing)


def cells(found):
    """Return the rows of the first table, each cell as it is by its column's key."""
    keys = [one.key for one in found.tables[0].columns]
    return [dict(zip(keys, row.cells, strict=True)) for row in found.tables[0].rows]
