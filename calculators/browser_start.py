"""What the browser's Python does first, however it was started."""

from __future__ import annotations

import gc
import random
from collections.abc import Callable

from calculators.bench.units import printed, quantity
from calculators.browser import answer_message


def start() -> tuple[Callable[[str], str], Callable[[], int]]:
    """Return what answers a page, and what tidies up after an answer.

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
    return answer_message, gc.collect
