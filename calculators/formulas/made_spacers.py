"""The spacers to have made where the drawer's do not serve: one height for each head, to any thickness."""

from __future__ import annotations

from collections.abc import Callable, Sequence

FINENESS = 1e-5
"""The height is sought so finely, in the caller's unit: ten nanometres in mm."""


def made_height(
    ratio: Callable[[int, float], float],
    cylinders: Sequence[int],
    lengths: Sequence[float],
    target: float,
    least: Sequence[float],
    most: Sequence[float],
) -> float | None:
    r"""Return the height under the longest barrel of a head that brings its worst cylinder nearest to the target.

    Parameters
    ----------
    ratio : callable
        Of a cylinder on spacers of a height, [length]; falls as the height grows.
    cylinders : sequence of int
        Under one head.
    lengths : sequence of float, [length]
        Of their barrels; each gets so much more as it is shorter than the longest.
    target : float
    least, most : sequence of float, [length]
        Between which the height under each must lie.

    Returns
    -------
    float or None
        None where no height is allowed to all of them.

    Notes
    -----
    .. math:: \max_i \varepsilon_i(h) - \varepsilon_0 = \varepsilon_0 - \min_i \varepsilon_i(h)

    Both sides fall and rise with the height, so that halving the interval finds it.

    Examples
    --------
    >>> round(made_height(lambda cylinder, height: 9 - height, (0,), (100.0,), 7.5, (0.0,), (9.0,)), 4)
    1.5
    """
    longest = max(lengths)
    shorter = [longest - length for length in lengths]
    low = max([0.0, *(bound - short for bound, short in zip(least, shorter, strict=True))])
    high = min(bound - short for bound, short in zip(most, shorter, strict=True))
    if low > high:
        return None

    def too_low_a_ratio(height: float) -> bool:
        ratios = [ratio(cylinder, height + short) for cylinder, short in zip(cylinders, shorter, strict=True)]
        return max(ratios) + min(ratios) < 2 * target

    if too_low_a_ratio(low):
        return low
    if not too_low_a_ratio(high):
        return high
    while high - low > FINENESS:
        middle = (low + high) / 2
        if too_low_a_ratio(middle):
            high = middle
        else:
            low = middle
    return (low + high) / 2
