"""How many examples a property gets: its own number in the ordinary run, 10,000 in the nightly one."""

import os

from hypothesis import settings

ORDINARY = 200
NIGHTLY = 10_000
IS_NIGHT = os.environ.get("BENCH_EXAMPLES") == "nightly"


def examples(ordinary: int, nightly: int = NIGHTLY) -> int:
    """Return the number of examples for a property that is content with so many in the ordinary run.

    Where a property says fewer than the profile does, because one example is dear or is
    tried on every calculator, the nightly run still gives it 10,000; fewer only where
    these alone would take hours.
    """
    return nightly if IS_NIGHT else max(1, ordinary * settings.default.max_examples // ORDINARY)
