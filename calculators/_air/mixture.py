"""What exhaust gas and spark plug say of the mixture."""

from __future__ import annotations

from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from calculators._air.throttles import DECISION
from calculators._errors import FieldError, InputErrors
from calculators._report import COMMON_PRACTICE, Column, Row, Source, Table, Value
from calculators._units import bare, figures, magnitude_in, number_in, quantity, reading, uncertainty_in
from calculators._words import word
from calculators.formulas.decision_rule import judged
from calculators.formulas.exhaust_gas import air_ratio

LAMBDA = Source("J. Brettschneider (1979), as in UNECE Regulation No. 83, 5.3.7.3, constants for petrol", "memory")
MOST_OXYGEN = 20.95
"""Oxygen in dry air, % by volume: CO₂, O₂ and half the CO cannot pass it together."""

PLUGS = {
    "none": ("Not read", ""),
    "tan": ("Light grey to tan, dry", "The mixture is near right. Leave it."),
    "white": (
        "Chalk white, or beads of metal on it",
        "Too hot: lean mixture, air leak, early ignition or too hot a plug. Stop running it hard until the cause is "
        "found.",
    ),
    "sooty": (
        "Black, dry and sooty",
        "Rich, weak spark, or much idling. Look at choke and float level, then go a size down in the jet.",
    ),
    "oily": (
        "Black and wet with oil",
        "Oil, not mixture: rings, guides or a drowned air filter. No jet cures it.",
    ),
    "wet": ("Wet with fuel", "It does not fire there: plug, lead, compression, or a choke that stays shut."),
}
"""Look of a plug → what the reader sees, what it says."""

BANDS = (
    (0.0, 0.80, "under 0.80", "far too rich: fuel washes the barrels", "smoke, soot, a float or choke fault"),
    (0.80, 0.92, "0.80 to 0.92", "rich, as at full throttle", "coolest running, most power"),
    (0.92, 1.00, "0.92 to 1.00", "slightly rich, as at idle", "smooth idle"),
    (1.00, 1.08, "1.00 to 1.08", "slightly lean, as on a steady road", "least fuel"),
    (1.08, 99.0, "over 1.08", "lean, or air gets in", "spits back, runs hot; look for a leak before any jet"),
)
"""λ from, to; in words; what it means; what it goes with."""


@dataclass(frozen=True, slots=True)
class Gas:
    """What the analyser read, % by volume, each with its uncertainty; None where it was not read."""

    monoxide: Any
    dioxide: Any
    oxygen: Any
    fuel: Any

    @property
    def ratio(self) -> Any:
        """λ, or None where one of the gases is missing."""
        if self.monoxide is None or self.dioxide is None or self.oxygen is None:
            return None
        return air_ratio(self.monoxide, self.dioxide, self.oxygen, self.fuel)


def read_gas(inputs: SimpleNamespace) -> Gas:
    """Attach the analyser's limits.

    Raises
    ------
    InputErrors
        More oxygen than air has; a band of CO upside down.
    """
    share = magnitude_in(inputs.analyser_error, "%") / 100

    def read(value: Any, name: str) -> Any:
        if value is None:
            return None
        if uncertainty_in(value, "%") is None:
            best = magnitude_in(value, "%")
            return reading(best, share * best, name)
        return number_in(value, "%")

    least, most = inputs.idle_co_least, inputs.idle_co_most
    if least is not None and most is not None and magnitude_in(least, "%") > magnitude_in(most, "%"):
        raise InputErrors(FieldError("idle_co_most", "Most CO at idle must be no less than the least"))
    gas = Gas(
        monoxide=read(inputs.co, "Carbon monoxide"),
        dioxide=read(inputs.co2, "Carbon dioxide"),
        oxygen=read(inputs.o2, "Oxygen"),
        fuel=reading(inputs.hc / 1e4, share * inputs.hc / 1e4, "Unburnt fuel") if inputs.hc else 0.0,
    )
    bound = sum(
        part * bare(one)[0] for part, one in ((0.5, gas.monoxide), (1, gas.dioxide), (1, gas.oxygen)) if one is not None
    )
    if bound > MOST_OXYGEN:
        key = "co2" if gas.dioxide is not None else "o2" if gas.oxygen is not None else "co"
        label = {"co2": "Carbon dioxide", "o2": "Oxygen", "co": "Carbon monoxide"}[key]
        raise InputErrors(
            FieldError(
                key,
                f"{label} must be less: carbon dioxide, oxygen and half the carbon monoxide make {figures(bound, 1)}%, "
                "more oxygen than air has. Set the analyser to nought in clean air.",
            )
        )
    return gas


def gas_lead(gas: Gas) -> str:
    """Say in a sentence what the exhaust shows; empty where λ is not known."""
    if gas.ratio is None:
        return ""
    best = bare(gas.ratio)[0]
    return f"The exhaust shows λ {figures(best, 2)}, {band_of(best)[3].partition(':')[0]}."


def band_of(ratio: float) -> tuple[float, float, str, str, str]:
    """Return the row of ``BANDS`` in which λ lies."""
    return next(band for band in BANDS if band[0] <= ratio < band[1])


def gas_values(gas: Gas, inputs: SimpleNamespace) -> tuple[Value, ...]:
    """Return λ, and the CO against the maker's band, where they are known."""
    values = []
    if gas.ratio is not None:
        values.append(
            Value(
                key="lambda",
                label="λ, air over what the fuel wants",
                quantity=gas.ratio,
                places=2,
                formula="(CO₂ + CO ÷ 2 + O₂ + (1.7261 ÷ 4 × 3.5 ÷ (3.5 + CO ÷ CO₂) − 0.0176 ÷ 2) × (CO₂ + CO)) ÷ "
                "((1 + 1.7261 ÷ 4 − 0.0176 ÷ 2) × (CO₂ + CO + 6 HC))",
                source=LAMBDA,
                lead=True,
                given=(
                    ("CO", inputs.co),
                    ("CO₂", inputs.co2),
                    ("O₂", inputs.o2),
                    ("HC", f"{figures(inputs.hc or 0, 0)} ppm"),
                ),
            )
        )
    least, most = inputs.idle_co_least, inputs.idle_co_most
    if gas.monoxide is not None and (least is not None or most is not None):
        best, expanded = bare(gas.monoxide)
        low, high = (None if limit is None else magnitude_in(limit, "%") for limit in (least, most))
        verdict = judged(best, expanded or 0.0, low, high)
        given = (("least", least), ("most", most))
        values.append(
            Value(
                key="co",
                label=f"CO at idle, {word(verdict)}",
                quantity=quantity(gas.monoxide, "%"),
                units=("%",),
                formula="in or out only where the whole reading with its ± is; more fuel at idle gives more CO",
                source=DECISION,
                given=tuple((name, limit) for name, limit in given if limit is not None),
            )
        )
    return tuple(values)


def plug_values(plug: str) -> tuple[Value, ...]:
    """Return what the look of a plug says; nothing where none was read."""
    seen, words = PLUGS[plug]
    if not words:
        return ()
    return (
        Value(
            key="plug",
            label="What the plug says",
            quantity=words,
            formula="read after a steady pull at working speed, engine cut and coasted down; fuel without lead leaves "
            "little colour",
            source=COMMON_PRACTICE,
            given=(("seen", seen.lower()),),
        ),
    )


def guide(gas: Gas) -> Table:
    """Return what λ means for an engine of this kind."""
    best = None if gas.ratio is None else bare(gas.ratio)[0]
    return Table(
        key="guide",
        title="What λ means on a carburettor",
        columns=(
            Column(key="ratio", label="λ", strong=True),
            Column(key="means", label="Mixture", wide=True),
            Column(key="sign", label="Goes with", wide=True),
        ),
        rows=tuple(
            Row(cells=(words, means, sign), chosen=best is not None and low <= best < high)
            for low, high, words, means, sign in BANDS
        ),
        formula="λ below 1 is rich, above 1 lean; petrol burns outright with about 14.7 times its weight of air",
        source=COMMON_PRACTICE,
        folded=best is None,
    )
