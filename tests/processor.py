"""What a bound in seconds of the processor is worth on this machine, just now."""

import time

OURS = 0.011
"""Seconds that the work below takes on the quiet machine on which the bounds were set."""


def slowness() -> float:
    """Return how many times longer than there the same work takes here; a faster machine counts as that one."""
    taken = []
    for _ in range(5):
        started = time.process_time()
        words: dict[str, int] = {}
        for number in range(40_000):
            words[str(number % 997)] = words.get(str(number % 991), 0) + number
        taken.append(time.process_time() - started)
    return max(1.0, min(taken) / OURS)


def is_within(taken: float, bound: float) -> bool:
    """Tell whether so many seconds of the processor are fewer than a bound, which grows where the machine is slow."""
    return taken < bound or taken < bound * slowness()  # most are, and need no measuring of the machine
