"""What is asked of any fastener: its thread, what it is made of, what is on the thread."""

from __future__ import annotations

from calculators.bench import Source, choice
from calculators.bench.card_facts import CardFacts
from calculators.bench.words import word
from calculators.formulas.threads import FASTENERS, STEELS, Steel

_METRIC_STEEL = Source("ISO 898-1, stress under proof load, seen in a fastener supplier's copy")
_INCH_STEEL = Source("SAE J429, table 1, seen in a fastener supplier's copy")
CONDITIONS = {"dry": "Dry and clean", "oiled": "Oiled", "anti-seize": "Anti-seize paste"}

thread = choice("Thread", {name: f"{name}, {word(of.series)}" for name, of in FASTENERS.items()}, said="{}")

steel = choice(
    "Property class or grade",
    {name: f"{name} (SAE J429)" if of.graded else name for name, of in STEELS.items()},
    said="steel {}",
)

head_stud_thread = thread(card=CardFacts.studs.cylinder_head.thread.path, example="M10 × 1.5", shared_as="stud_thread")

head_stud_steel = steel(
    hint="Marked on the stud's end or known from the maker. No mark: take class 5.8 or lower.",
    card=CardFacts.studs.cylinder_head.property_class.path,
    example="8.8",
    shared_as="stud_steel",
)

fastener_thread = thread(example="M8 × 1.25", shared_as="fastener_thread")


def steel_words(steel: Steel) -> str:
    """Name a steel in a sentence: ``class 8.8``, ``grade 5``."""
    return steel.name if steel.graded else f"class {steel.name}"


def steel_source(steel: Steel) -> Source:
    """Return where a steel's stresses come from."""
    return _INCH_STEEL if steel.graded else _METRIC_STEEL
