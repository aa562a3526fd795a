"""Entries that several questions on lash ask for, and the valves that they are asked of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import cast

from uncertainties import UFloat

from calculators.bench import Entry, Quantity, choice, count, grouped, length, listed, optional, shared
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.units import measured, uncertainty_in
from calculators.bench.words import word
from calculators.formulas.adjuster_screw import Place
from calculators.formulas.base_circle import KINDS, Kind
from calculators.lash.stop_words import SHORT_WORDS

HOW_GOOD = "How good the readings are"

blades = listed(
    length(
        "Feeler blades",
        0.01,
        2,
        why="thinner and thicker blades are not made",
        exact=True,
        hint="Every blade in your set; one that you have twice, twice.",
        usual="0.05 0.10 0.15 0.20 0.25 0.30 0.40 0.50",
        shared_as="blades",
        said="blades {}",
    ),
    1,
    20,
    like="0.05 0.10 0.15",
)

allowance = card_entry(
    CardFacts.valve_gear.gap_allowance,
    "Allowance over the gap",
    exact=True,
    hint="How much wider than its figure a gap may be; never closer.",
    usual="0.05 mm",
    shared_as="gap_allowance",
    said="up to {} wider",
)

gap_error = shared.error_limit(
    "Error limit of the gap readings",
    "mm",
    0.2,
    hint="Plus or minus. A ± typed with a reading wins over it.",
    usual="0.01 mm",
    shared_as="gap_error",
    refines=HOW_GOOD,
    said="gaps ± {}",
)

screw_pitch = card_entry(
    CardFacts.valve_gear.adjuster_pitch,
    "Screw pitch",
    exact=True,
    hint="How far one turn moves the screw. 24 threads to the inch: 1/24 in.",
    example="1 mm",
    shared_as="adjuster_pitch",
    said="pitch {}",
)

end = choice(
    "Where you stand", {"pulley": "At the pulley end", "flywheel": "At the flywheel end"}, usual="pulley", said="{}"
)

banks = optional(
    grouped(
        count(
            "Cylinders by bank",
            1,
            12,
            why=shared.ENGINES,
            hint="For the drawing from above. Count each bank from the pulley end: 1 2 / 3 4. An inline "
            "engine is one bank.",
            card=CardFacts.layout.banks.path,
            shared_as="banks",
        ),
        12,
    )
)


def gaps(label: str, shared_as: str, example: str, hint: str = "") -> Entry[tuple[Quantity, ...] | None]:
    """Ask for the gaps of one kind of valve at one cylinder: one, or each of two or three."""
    return optional(
        listed(
            length(
                label,
                0,
                5,
                why="a valve with more lash than this no longer opens",
                hint=hint,
                example=example,
                shared_as=shared_as,
                read_by="feelers",
            ),
            1,
            3,
            like="0.15",
        )
    )


TWO_VALVES = "Two valves of a kind: 0.15 0.17."
INLET_FOUND = "0.10; 0.22; 0.18; 0.15"
EXHAUST_FOUND = "0.16; 0.23; 0.31; 0.20"


@dataclass(frozen=True, slots=True)
class Gap:
    """The gap at one valve: where, and the reading with its uncertainty."""

    cylinder: int
    kind: Kind
    number: int
    reading: Quantity

    @property
    def name(self) -> str:
        return f"{self.cylinder} {word(self.kind)}{f' {self.number}' if self.number else ''}"

    @property
    def short(self) -> str:
        return f"{self.cylinder} {SHORT_WORDS[self.kind]}{f' {self.number}' if self.number else ''}"


Readings = Sequence[Mapping[Kind, Sequence[Quantity] | None]]
"""Row by row, what was read of each kind of valve at one cylinder."""


def read_gaps(rows: Readings, limit: Quantity, what: str) -> Iterator[Gap]:
    """Yield every gap that was read, cylinder by cylinder, inlet first; ``what`` names it in an uncertainty's budget.

    Blades are off each by its own, and each gap is felt anew: no error is common to two readings.
    """
    for cylinder, row in enumerate(rows, 1):
        for kind in KINDS:
            readings = row[kind] or ()
            for number, reading in enumerate(readings, 1):
                gap = Gap(cylinder, kind, number if len(readings) > 1 else 0, reading)
                if not isinstance(reading.magnitude, UFloat):
                    gap = Gap(gap.cylinder, kind, gap.number, measured(reading, limit, f"{gap.name}, {what}"))
                yield gap


def place_of(end: str) -> Place:
    """Return where an adjusting screw sits, as the entry of its place tells."""
    return cast("Place", end)


def measured_unless_typed(gap: Quantity, limit: Quantity, name: str) -> Quantity:
    """Return a gap with the readings' uncertainty, where none was typed with it."""
    return gap if uncertainty_in(gap, "mm") is not None else measured(gap, limit, name)
