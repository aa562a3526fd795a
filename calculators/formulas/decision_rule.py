"""Whether a measured value keeps its limits, or lies too near to one to be told with this instrument."""

from __future__ import annotations

from typing import Any, Literal

Verdict = Literal["in", "out", "too close to call"]


def judged(value: Any, expanded: Any, low: Any = None, high: Any = None, *, grain: Any = 0.0) -> Verdict:
    r"""Judge a measured value against its limits.

    Parameters
    ----------
    value : Quantity or float, [any]
        Best estimate.
    expanded : Quantity or float, [the same dimension]
        Expanded uncertainty of it, not negative; 0 where it carries none.
    low, high : Quantity or float, optional, [the same dimension]
        The limits, which are themselves allowed; None where there is none on that side.
    grain : Quantity or float, [the same dimension]
        An end of the interval this little beyond a limit counts as on it.

    Returns
    -------
    {"in", "out", "too close to call"}
        In and out only where the whole interval is.

    Notes
    -----
    .. math::
        y - U \ge low \;\wedge\; y + U \le high \quad (in) \qquad
        y + U < low \;\vee\; y - U > high \quad (out)

    An interval wider than the band is never in: the instrument cannot prove it.

    Examples
    --------
    >>> judged(7.6, 0.1, 7.4, 7.8), judged(7.5, 0.2, 7.4, 7.8), judged(8.1, 0.2, 7.4, 7.8)
    ('in', 'too close to call', 'out')
    >>> judged(1.38, 0.02, low=1.0)
    'in'

    References
    ----------
    ISO 14253-1, rules for proving conformity and nonconformity with specifications
    (from memory); U with k = 2 as in JCGM 100:2008 (GUM), 6.2.
    """
    least, most = value - expanded, value + expanded
    if (low is None or least >= low - grain) and (high is None or most <= high + grain):
        return "in"
    if (low is not None and most < low - grain) or (high is not None and least > high + grain):
        return "out"
    return "too close to call"
