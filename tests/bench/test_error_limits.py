"""Half the width of a band may be typed as it is spoken: ± 0.1 mm."""

import pytest

from calculators.bench.question import entries_and_columns, rooms

HALVES = {
    entry.facts.shared_as or f"{of.name}.{entry.key}": entry
    for asked in rooms().values()
    for of in asked
    for entry, _ in entries_and_columns(of)
    if entry.facts.hint.startswith(("Plus or minus", "Either way"))
}


@pytest.mark.parametrize("entry", [pytest.param(entry, id=name) for name, entry in HALVES.items()])
def test_a_sign_in_front_of_an_error_limit_is_understood(entry):
    half = entry.facts.usual
    assert entry.kind.read(f"± {half}", str, None) == entry.kind.read(half, str, None)
