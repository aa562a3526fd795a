"""The engine as measured without spacers: what every question about its ratio rests on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from uncertainties import UFloat

from calculators.bench import (
    FieldError,
    InputErrors,
    Quantity,
    Row,
    Source,
    expanded,
    magnitude_in,
    optional,
    read_by_instrument,
    shared,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.entries import Entry, Given, either_way, length
from calculators.bench.heads import each_under_one_head
from calculators.bench.verdict import best_of
from calculators.compression.words import named
from calculators.formulas.cylinder_volume import bore_area, clearance_volume, swept_volume

PROPAGATION = Source("JCGM 100:2008 (GUM), 5.1.2 and 5.2.2; expanded uncertainty 6.2, k = 2")
PER_MM = 0.1
"""One cm² of bore is so many cm³ for each millimetre of depth."""
WANTED = "What is wanted"
GASKET = "Head gasket or ring"

target = card_entry(
    CardFacts.compression.ratio,
    "Compression ratio wanted",
    hint="To 1. From the engine maker, for the fuel you can get.",
    example="7.6",
    shared_as="target_ratio",
    said="{} : 1",
)

tolerance = either_way(
    card_entry(
        CardFacts.compression.ratio_tolerance,
        "Tolerance of the ratio",
        hint="Plus or minus.",
        usual="0.2",
        shared_as="ratio_tolerance",
        refines=WANTED,
        said="± {}",
    )
)


least_deck = card_entry(
    CardFacts.compression.least_deck_clearance,
    "Least deck clearance",
    exact=True,
    hint="The smallest gap allowed between piston and head.",
    usual="1 mm",
    shared_as="least_deck_clearance",
    said="deck clearance at least {}",
)

most_deck = optional(
    card_entry(
        CardFacts.compression.most_deck_clearance,
        "Most deck clearance",
        exact=True,
        hint="A wider gap no longer squeezes the charge. Empty: no limit.",
        shared_as="most_deck_clearance",
        refines=WANTED,
        said="at most {}",
    )
)


def spacer(hint: str, **facts: Any) -> Entry[Quantity | None]:
    """Ask for what is under one barrel, all together."""
    return optional(shared.spacer_height(hint=hint, **{"example": None} | facts))


class Cylinder(Row):
    """What was measured of one cylinder."""

    chamber = shared.chamber()
    deck = shared.deck()
    crown = optional(shared.crown())


class Barrel(Cylinder):
    """The same, with the length of its barrel."""

    barrel_length = optional(
        length(
            "Barrel length",
            20,
            500,
            why=shared.ENGINES,
            hint="Shoulder to top. Empty: all barrels under a head are equal.",
            shared_as="barrel_length",
        )
    )


@dataclass(frozen=True, slots=True)
class Bare:
    """One cylinder without spacers: deck height in mm, clearance volume in cm³, each with its uncertainty."""

    depth: Any
    clearance: Any
    domed: bool


@dataclass(frozen=True, slots=True)
class Measured:
    """The whole engine without spacers: bore's area in cm³ for each mm, swept volume in cm³, gasket in mm."""

    area: Any
    swept: Any
    gasket: Any
    cylinders: tuple[Bare, ...]


class Gauges(Given):
    """The gasket, and how good burette, depth gauge and bore gauge are."""

    gasket_thickness = card_entry(
        CardFacts.dimensions.head_gasket_thickness,
        "Gasket thickness",
        hint="Compressed; 0 if there is no gasket.",
        usual="0 mm",
        shared_as="gasket_thickness",
        read_by="micrometer",
        refines=GASKET,
        said="{} thick",
    )
    gasket_bore = optional(
        card_entry(
            CardFacts.dimensions.head_gasket_bore,
            "Gasket bore",
            hint="Empty: the same as the cylinder's.",
            shared_as="gasket_bore",
            refines=GASKET,
            said="bore {}",
        )
    )
    burette_error = shared.burette_error()
    burette_read_to = shared.burette_read_to()
    volumes_from = shared.volumes_from()
    depth_error = shared.depth_error()
    depth_read_to = shared.depth_read_to()
    bore_error = shared.bore_error()

    def lengths(self, bore: Quantity, stroke: Quantity) -> tuple[Any, Any]:
        """Return bore and stroke in cm, each read by an instrument of its own."""
        return (
            read_by_instrument([bore], "cm", instrument="bore gauge", limit=self.bore_error)[0],
            read_by_instrument([stroke], "cm", instrument="stroke gauge", limit=self.bore_error)[0],
        )

    def measured(self, bore: Quantity, stroke: Quantity, rows: Sequence[Cylinder]) -> Measured:
        """Return the engine without spacers.

        Raises
        ------
        InputErrors
            No room is left above a piston.
        """
        bore_, stroke_ = self.lengths(bore, stroke)
        area, gasket, gasket_volume = bore_area(bore_) * PER_MM, 0.0, 0.0
        if magnitude_in(self.gasket_thickness, "mm"):
            gasket = read_by_instrument([self.gasket_thickness], "mm", instrument="micrometer", limit=self.depth_error)[
                0
            ]
            within = bore_
            if self.gasket_bore is not None:
                within = read_by_instrument([self.gasket_bore], "cm", instrument="calliper", limit=self.bore_error)[0]
            gasket_volume = bore_area(within) * PER_MM * gasket
        found, errors = [], []
        for row, of in enumerate(rows, 1):
            crown = 0.0 if of.crown is None or not best_of(of.crown.magnitude) else self._filled(of.crown)
            depth = read_by_instrument(
                [of.deck], "mm", instrument="depth gauge", limit=self.depth_error, read_to=self.depth_read_to
            )[0]
            room = clearance_volume(self._filled(of.chamber), area, depth, crown, gasket_volume)
            bow = expanded(crown)
            found.append(Bare(depth, room, bow.best + bow.spread < 0))
            if best_of(room) <= 0:
                message = (
                    f"Chamber volume of cylinder {row} must be more than piston and crown take up; "
                    "check the signs of deck height and crown volume"
                )
                errors.append(FieldError(f"chamber.{row}", message))
        if errors:
            raise InputErrors(*errors)
        return Measured(area, swept_volume(bore_, stroke_), gasket, tuple(found))

    def _filled(self, volume: Quantity) -> Any:
        return read_by_instrument(
            [volume],
            "cm³",
            instrument="burette",
            limit=self.burette_error,
            read_to=self.burette_read_to,
            one=self.volumes_from == "one",
        )[0]


def heads_of(heads: Sequence[Sequence[int]], cylinders: int) -> tuple[tuple[int, ...], ...]:
    """Return the cylinders under each head, counted from nought.

    Raises
    ------
    InputErrors
        Where a cylinder is missing, or named twice.
    """
    each_under_one_head(heads, cylinders)
    return tuple(tuple(cylinder - 1 for cylinder in head) for head in heads)


def alike(ratios: Sequence[Any]) -> str:
    """Say that the cylinders farthest apart may well be alike; nothing where they are told apart."""
    best = [best_of(ratio) for ratio in ratios]
    low, high = best.index(min(best)), best.index(max(best))
    between = expanded(ratios[high] - ratios[low])
    if not between.spread or not 0.005 <= between.best <= between.spread:
        return ""
    return (
        f"{best[low]:.2f} and {best[high]:.2f}, the ratios of {named(sorted((low, high)), 'cylinder')}, cannot be told "
        f"apart with these readings: {between.best:.2f} ± {between.spread:.2f} lies between them."
    )


def main_part(ratio: Any) -> str:
    """Return the reading that most of a ratio's uncertainty comes from, in the middle of a sentence."""
    if not isinstance(ratio, UFloat):
        return "readings"
    parts: dict[str, float] = {}
    for variable, part in ratio.error_components().items():
        name = str(variable.tag or "readings")
        parts[name] = parts.get(name, 0.0) + part**2
    name = max(parts, key=parts.__getitem__)
    return name[0].lower() + name[1:]
