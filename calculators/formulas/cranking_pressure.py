"""What a gauge in the plug's hole should show while the starter turns the engine."""

from __future__ import annotations

from typing import Any


def cranking_pressure(ambient: Any, ratio: Any, exponent: Any) -> Any:
    r"""Return the gauge pressure at top dead centre.

    Parameters
    ----------
    ambient : float or Quantity, [pressure]
        Of the air outside.
    ratio : float or ufloat, [1]
        From the moment when the inlet valve has shut.
    exponent : float or ufloat, [1]
        Polytropic: 1 where all heat leaves at once, 1.4 where none does and nothing leaks.

    Returns
    -------
    float, ufloat or Quantity, [the same unit]
        Above ambient.

    Notes
    -----
    .. math:: p = p_{air} \left( \varepsilon'^{\,n} - 1 \right)

    The cylinder is taken to be full of outside air when the valve shuts: throttle open, air
    cleaner off. The room in gauge and hose lowers the reading.

    Examples
    --------
    >>> round(cranking_pressure(1.0, 8.0, 1.0), 9)
    7.0
    """
    return ambient * (ratio**exponent - 1)
