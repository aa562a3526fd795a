"""What a card says of places, as pictures: the cylinders from above, the studs to scale."""

from __future__ import annotations

from calculators._card.entries import SECTIONS
from calculators._engine_card import EngineCard
from calculators._lash.drawing import from_above
from calculators._report import Figure
from calculators._torque.stud_map import stud_map
from calculators.formulas.tightening_order import square_order

_TURN_WORDS = ("1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th", "9th", "10th", "11th", "12th")


def card_figures(card: EngineCard) -> dict[str, Figure]:
    """Return the figure of each section that has one, by its path; a card with mistakes has fewer.

    Parameters
    ----------
    card : EngineCard
        Also one whose facts contradict each other.
    """
    found = {"layout": _cylinders(card)} | {
        section.path: _studs(card, section.path) for section in SECTIONS if section.tables
    }
    return {path: figure for path, figure in found.items() if figure}


def _cylinders(card: EngineCard) -> Figure | None:
    banks, order = card.fact("layout.banks"), card.fact("layout.firing_order")
    if not isinstance(banks, list) or not all(isinstance(bank, list) and bank for bank in banks):
        return None
    numbers = [number for bank in banks for number in bank]
    if not numbers or not _each_once(numbers, len(numbers)) or len(numbers) > 12:
        return None
    fires = isinstance(order, list) and _each_once(order, len(numbers))
    turns = {number: _turn(order.index(number)) for number in numbers} if fires else {}
    said = "; ".join(
        f"bank {number}, from the pulley end: "
        + ", ".join(f"cylinder {one}{f' fires {turns[one]}' if fires else ''}" for one in bank)
        for number, bank in enumerate(banks, 1)
    )
    drawing = from_above(banks, {number: (turn,) for number, turn in turns.items()}, order[:1] if fires else ())
    return Figure(
        key="cylinders",
        title="The engine from above: each cylinder" + (" and its turn to fire" if fires else ""),
        svg=drawing.svg(f"The engine from above, its pulley towards you: {said}."),
    )


def _each_once(numbers: list[object], count: int) -> bool:
    whole = all(isinstance(number, int) and not isinstance(number, bool) for number in numbers)
    return whole and sorted(numbers) == list(range(1, count + 1))  # type: ignore[type-var]


def _turn(index: int) -> str:
    return _TURN_WORDS[index] if index < len(_TURN_WORDS) else f"{index + 1}th"


def _studs(card: EngineCard, path: str) -> Figure | None:
    """Draw the studs in the order of the card, or in the one that torque stages works out."""
    studs = card.studs(path)
    if len(studs) < 2:
        return None
    names, positions = tuple(studs), tuple(studs.values())
    order = card.fact(f"{path}.order")
    if isinstance(order, list) and sorted(map(str, order)) == sorted(names):
        return stud_map(names, positions, tuple(names.index(name) for name in order))
    return stud_map(names, positions, square_order(positions).order)
