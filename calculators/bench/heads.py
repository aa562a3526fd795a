"""The heads of an engine: each cylinder lies under one of them."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench.errors import FieldError, InputErrors


def each_under_one_head(heads: Sequence[Sequence[int]], cylinders: int) -> None:
    """Refuse heads that leave a cylinder out or name one twice.

    Parameters
    ----------
    heads : sequence of sequences of int
        The cylinders under each, counted from 1; the entry's key is ``heads``.
    cylinders : int

    Raises
    ------
    InputErrors

    Examples
    --------
    >>> each_under_one_head(((1, 2), (3, 4)), 4)
    >>> each_under_one_head(((1, 2), (3, 3)), 4)
    Traceback (most recent call last):
        ...
    calculators.bench.errors.InputErrors: Cylinders under each head must name each cylinder from 1 to 4 once
    """
    if sorted(cylinder for head in heads for cylinder in head) != list(range(1, cylinders + 1)):
        message = f"Cylinders under each head must name each cylinder from 1 to {cylinders} once"
        raise InputErrors(FieldError("heads", message))
