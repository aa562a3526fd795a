"""What a card says of places, as pictures: the cylinders from above, the studs to scale."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import ascii_uppercase

from calculators.bench.card import EngineCard
from calculators.bench.card_facts import CardFacts
from calculators.bench.engine_from_above import from_above
from calculators.bench.report import Figure
from calculators.bench.stud_map import stud_map
from calculators.formulas.tightening_order import square_order

_TURN_WORDS = ("1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th", "9th", "10th", "11th", "12th")


_GRID = sorted(
    itertools.product(range(-120, 121, 40), repeat=2), key=lambda place: (max(map(abs, place)), -place[1], place[0])
)
"""Millimetres: where a further stud is laid down, from the middle outwards."""
_STUDS, _SCREWS = "studs.cylinder_head", "studs.head_screws"
_NEAR = 15.0  # mm: too near to another to be taken hold of
_DRAG = "Drag each stud to its place, to half a millimetre. If you have measured it, type the figure below instead."


@dataclass(frozen=True, slots=True)
class Placed:
    """What is placed on a drawing: the drawing, where there is one, and the stud that would come next.

    Parameters
    ----------
    figure : Figure, optional
    help : str
        What a hand can do on it.
    row : str
        The path of that stud's row; empty where there can be no more.
    name : str
    x, y : int
        [mm]
    """

    figure: Figure | None
    help: str
    row: str = ""
    name: str = ""
    x: int = 0
    y: int = 0


def placed(card: EngineCard, rows: Mapping[str, Sequence[int]]) -> dict[str, Placed]:
    """Return what each section has on a drawing, by its path; a card with mistakes has fewer drawings.

    Parameters
    ----------
    card : EngineCard
        Also one whose facts contradict each other.
    rows : mapping of str to sequence of int
        The rows of its form that are not empty, by the path of the table.
    """
    found = {_STUDS: _studs(card, _STUDS, rows)}
    cylinders = _cylinders(card)
    if cylinders:
        found["layout"] = Placed(cylinders, "Drag one cylinder onto another to swap their numbers.")
    return found


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
    lines = {number: (turn,) for number, turn in turns.items()}
    drawing = from_above(banks, lines, order[:1] if fires else (), movable=True)
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


def _studs(card: EngineCard, path: str, rows: Mapping[str, Sequence[int]]) -> Placed:
    """Draw the studs in the order of the card, or in the one that torque stages works out."""
    table = CardFacts.studs.cylinder_head.positions
    taken = rows[table.path]
    studs = card.studs(path)
    figure = None
    if len(studs) > 1:
        names, positions = tuple(studs), tuple(studs.values())
        order = card.fact(f"{path}.order")
        told = isinstance(order, list) and sorted(map(str, order)) == sorted(names)
        turns = tuple(names.index(name) for name in order) if told else square_order(positions).order
        figure = stud_map(names, positions, turns, tuple(taken), tuple(card.studs(_SCREWS).items()))
    if len(taken) == table.most:
        return Placed(figure, _DRAG)
    free = next(row for row in itertools.count(1) if row not in taken)
    used = {stud.get("name") for stud in card.fact(table.path) or ()}
    name = next(letter for letter in ascii_uppercase if letter not in used)
    x, y = next(place for place in _GRID if all(math.dist(place, stud) > _NEAR for stud in studs.values()))
    return Placed(figure, _DRAG, f"{table.path}.{free}", name, x, y)
