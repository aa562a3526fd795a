"""Engine cards of the book, read once."""

from pathlib import Path

from calculators import read_card

ENGINES = Path(__file__).resolve().parent.parent / "docs/engines"
MARRAM = read_card(ENGINES / "marram-f4.yml")
DUNLIN = read_card(ENGINES / "dunlin-f2.yml")
SAMPHIRE = read_card(ENGINES / "samphire-f6.yml")
