"""The map of a ladder: its questions from top to bottom, and beside each what an answer finds."""

from __future__ import annotations

from calculators.drawings.kit.letters import width_of
from calculators.drawings.kit.path import box, closed, line
from calculators.drawings.kit.plate import LETTERS, WIDTH, Plate
from scripts.ladders import Ladder, Question

_ROW, _AIR, _GAP, _LANE = 19.0, 10.0, 28.0, 16.0
_SPINE, _BRANCH = 20.0, 62.0
"""From the left of the questions to the line that leads on, and to what is found."""
_RIGHT = WIDTH - 2


def ladder_map(ladder: Ladder) -> Plate:
    """Draw a ladder.

    A question is a box with its number, a finding has the clipped corner of a tag. What leads on past other
    questions runs in a lane at the left.
    """
    lanes = _lanes(ladder)
    left = _LANE * max(lanes.values(), default=0) + (6 if lanes else 2)
    plate = Plate(f"{ladder.title}, as a map", told(ladder), 0)
    sides: dict[int, tuple[float, float]] = {}
    y = 2.0
    for question in ladder.questions:
        rows = wrapped(f"{question.number}  {question.asks}", _RIGHT - left - 20)
        foot = y + _ROW * len(rows) + _AIR
        sides[question.number] = y + 14, foot - 8
        plate.draw(box(left, y, _RIGHT - left, foot - y), name=f"question {question.number}")
        _write(plate, left + 10, y, rows)
        y = _answered(plate, question, left, foot)
    for (start, to), lane in lanes.items():
        x, begin, end = left - _LANE * lane, sides[start][1], sides[to][0]
        plate.draw(line((left, begin), (x, begin), (x, end), (left - 8, end)), "open")
        plate.arrow((left - 9, end), (left - 2, end))
    plate.height = y - _GAP + 4
    return plate


def _answered(plate: Plate, question: Question, left: float, foot: float) -> float:
    """Draw what the answers of a question lead to, and return where the next question begins."""
    spine, begun = left + _SPINE, foot
    for said, answer in question.answers.items():
        if answer.to is not None:
            continue
        rows = wrapped(answer.finding, _RIGHT - left - _BRANCH - 20)
        top, x = foot + 14, left + _BRANCH
        foot = top + _ROW * len(rows) + _AIR
        middle = (top + foot) / 2
        plate.draw(line((spine, begun), (spine, middle)), "open")
        plate.arrow((spine, middle), (x - 2, middle))
        plate.words(spine + 8, middle - 11, said.lower(), "start")
        frame = closed((x + 8, top), (_RIGHT, top), (_RIGHT, foot), (x, foot), (x, top + 8))
        plate.draw(frame, name=answer.finding)
        _write(plate, x + 10, top, rows)
        begun = middle
    for said, answer in question.answers.items():
        if answer.to == question.number + 1:
            plate.arrow((spine, begun), (spine, foot + _GAP - 2))
            plate.words(spine + 10, foot + _GAP / 2, said.lower(), "start")
        elif answer.to is not None:
            plate.words(_RIGHT, foot + _GAP / 2, f"{said.lower()}: go to {answer.to}", "end")
    return foot + _GAP


def _lanes(ladder: Ladder) -> dict[tuple[int, int], int]:
    """Return what leads past other questions, and how far out it runs: outside of all that it passes."""
    past = [
        (question.number, answer.to)
        for question in ladder.questions
        for answer in question.answers.values()
        if answer.to is not None and answer.to > question.number + 1
    ]
    lanes: dict[tuple[int, int], int] = {}
    for start, to in sorted(past, key=lambda way: way[1] - way[0]):
        inside = [lane for (first, last), lane in lanes.items() if start <= first and last <= to]
        lanes[start, to] = max(inside, default=0) + 1
    return lanes


def _write(plate: Plate, x: float, top: float, rows: list[str]) -> None:
    for place, row in enumerate(rows):
        plate.words(x, top + (_AIR + _ROW) / 2 + _ROW * place, row, "start")


def wrapped(words: str, width: float) -> list[str]:
    """Break words into rows no wider than a width.

    Examples
    --------
    >>> wrapped("Does air hiss in at a joint?", 120)
    ['Does air', 'hiss in at a', 'joint?']
    """
    rows = [""]
    for word in words.split(" "):
        longer = f"{rows[-1]} {word}" if rows[-1] else word
        if width_of(longer, LETTERS) <= width or not rows[-1]:
            rows[-1] = longer
        else:
            rows.append(word)
    return rows


def told(ladder: Ladder) -> str:
    """Return a ladder in words, for who cannot see its map."""
    return " ".join(
        f"{question.number}. {question.asks} "
        + " ".join(
            f"{said}: {f'go to {answer.to}' if answer.to else answer.finding}."
            for said, answer in question.answers.items()
        )
        for question in ladder.questions
    )
