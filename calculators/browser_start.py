"""What the browser's Python does first, however it was started."""

from __future__ import annotations

import gc
import random
from collections.abc import Callable

from uncertainties.core import Variable

from calculators.bench.units import printed, quantity
from calculators.browser import answer_message
from calculators.later import NotHereYet, come

Variable.__hash__ = object.__hash__  # which is by identity too, and not written in Python

LACKING = "\0"
"""Stands before the name of a part that has to come before there is an answer; no JSON begins so."""


def answer(message: str) -> str:
    """Answer as ``answer_message`` does, or name the part of the code that this still needs."""
    try:
        return answer_message(message)
    except NotHereYet as lacking:
        return LACKING + lacking.part


def start() -> tuple[Callable[[str], str], Callable[[], int], Callable[[str, bytes], None]]:
    """Return what answers a page, what tidies up after an answer, and what takes a part of the code.

    Raises
    ------
    RuntimeError
        This Python does not calculate.
    """
    random.seed()
    if printed(quantity(37, "N·m"), "lbf·ft") != "27.3 lbf·ft":
        raise RuntimeError("the self-test came out wrong")
    gc.freeze()  # what was imported stays; the collector need not look through it
    gc.disable()  # it works between two answers, not within one
    return answer, gc.collect, come
