"""How many examples a property gets: its own number in the ordinary run, as many as all others in the nightly one."""

from hypothesis import settings

ORDINARY = 200


def examples(ordinary: int) -> int:
    """Return the number of examples for a property that is content with so many in the ordinary run.

    Where a property says fewer than the profile does, because one example is dear or is
    tried on every calculator, the nightly run still gives it 10,000.
    """
    given = settings.default.max_examples
    return max(1, ordinary * given // ORDINARY) if given <= ORDINARY else given
