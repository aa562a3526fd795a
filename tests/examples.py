"""How much is tried: at work, before a change lands, at night."""

import os

import pytest
from hypothesis import settings

ORDINARY = 200
NIGHTLY = 10_000
IS_NIGHT = os.environ.get("BENCH_EXAMPLES") == "nightly"
IS_WIDE = IS_NIGHT or os.environ.get("BENCH_WIDE") == "1"
"""Whether each page, word or paper is looked at, and not only one of each kind."""
wide = pytest.mark.wide
"""A test that looks at more of the same; it is left out at work."""


def examples(ordinary: int, nightly: int = NIGHTLY) -> int:
    """Return the number of examples for a property that is content with so many in the ordinary run.

    Where a property says fewer than the profile does, because one example is dear or is
    tried on every calculator, the nightly run still gives it 10,000; fewer only where
    these alone would take hours.
    """
    return nightly if IS_NIGHT else max(1, ordinary * settings.default.max_examples // ORDINARY)
