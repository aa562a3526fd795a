"""Small turns of phrase that more than one sentence needs."""

from __future__ import annotations

from collections.abc import Iterable


def listed(things: Iterable[object]) -> str:
    """Return "1, 2 and 3"; there must be one thing at least.

    Examples
    --------
    >>> listed((1, 2, 3)), listed(["11"])
    ('1, 2 and 3', '11')
    """
    *most, last = map(str, things)
    return f"{', '.join(most)} and {last}" if most else last
