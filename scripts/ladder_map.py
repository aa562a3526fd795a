"""The map of a ladder: its questions from top to bottom, and beside each what an answer finds."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Set

from calculators.drawings.kit.letters import width_of
from calculators.drawings.kit.path import box, closed, line
from calculators.drawings.kit.plate import LETTERS, WIDTH, Plate
from scripts.ladders import Ladder, Question

_ROW, _AIR, _GAP, _LANE = 19.0, 10.0, 28.0, 16.0
_SPINE, _BRANCH = 20.0, 62.0
"""From the left of the questions to the line that leads on, and to what is found."""
_RIGHT = WIDTH - 2
TALLEST = 1080.0
"""Units: what stands on a sheet of Letter paper, 7 cm wide."""


def ladder_maps(ladder: Ladder) -> list[Plate]:
    """Draw a ladder, on more than one plate where it is longer than a sheet of paper.

    A question is a box with its number, a finding has the clipped corner of a tag. What leads on past other
    questions runs in a lane at the left; what leads onto another plate is told in words.
    """
    lanes = _lanes(ladder)
    left = _LANE * max(lanes.values(), default=0) + (6 if lanes else 2)
    highs = {one.number: _question(Plate("", "", 0), one, left, 0, set()) for one in ladder.questions}
    plates = math.ceil(sum(highs.values()) / TALLEST)
    share, before = sum(highs.values()) / plates, 0.0
    parts: list[list[Question]] = [[] for _ in range(plates)]
    for question in ladder.questions:
        parts[int((before + highs[question.number] / 2) / share)].append(question)
        before += highs[question.number]
    of = [f", part {part} of {plates}" if plates > 1 else "" for part in range(1, plates + 1)]
    return [
        _plate(f"{ladder.title}, as a map{which}", part, lanes, left) for part, which in zip(parts, of, strict=True)
    ]


def _plate(title: str, questions: list[Question], lanes: Mapping[tuple[int, int], int], left: float) -> Plate:
    plate = Plate(title, told(questions), 0)
    here = {question.number for question in questions}
    tops, feet, y = {}, {}, 2.0
    for question in questions:
        tops[question.number], feet[question.number] = y, y + _box(question, left)
        y = _question(plate, question, left, y, here)
    for (start, to), lane in lanes.items():
        if start in here and to in here:
            x, begin, end = left - _LANE * lane, feet[start] - 8, tops[to] + 14
            plate.draw(line((left, begin), (x, begin), (x, end), (left - 8, end)), "open")
            plate.arrow((left - 9, end), (left - 2, end))
    leads_on = any(answer.to is not None for answer in questions[-1].answers.values())
    plate.height = y if leads_on else y - _GAP + 4
    return plate


def _rows(question: Question, left: float) -> list[str]:
    return wrapped(f"{question.number}  {question.asks}", _RIGHT - left - 20)


def _box(question: Question, left: float) -> float:
    return _ROW * len(_rows(question, left)) + _AIR


def _question(plate: Plate, question: Question, left: float, y: float, here: Set[int]) -> float:
    """Draw a question with what its answers lead to, and return where the next one begins; ``here`` are its plate's."""
    spine, foot = left + _SPINE, y + _box(question, left)
    plate.draw(box(left, y, _RIGHT - left, foot - y), name=f"question {question.number}")
    _write(plate, left + 10, y, _rows(question, left))
    begun = foot
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
        if answer.to == question.number + 1 and answer.to in here:
            plate.arrow((spine, begun), (spine, foot + _GAP - 2))
            plate.words(spine + 10, foot + _GAP / 2, said.lower(), "start")
        elif answer.to is not None:
            next_one = answer.to == question.number + 1
            plate.words(
                left if next_one else _RIGHT,
                foot + _GAP / 2,
                f"{said.lower()}: go to {answer.to}",
                "start" if next_one else "end",
            )
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
    ['Does air hiss in', 'at a joint?']
    """
    rows = [""]
    for word in words.split(" "):
        longer = f"{rows[-1]} {word}" if rows[-1] else word
        if width_of(longer, LETTERS) <= width or not rows[-1]:
            rows[-1] = longer
        else:
            rows.append(word)
    return rows


def told(questions: Iterable[Question]) -> str:
    """Return questions in words, for who cannot see its map."""
    return " ".join(
        f"{question.number}. {question.asks} "
        + " ".join(
            f"{said}: {f'go to {answer.to}' if answer.to else answer.finding}."
            for said, answer in question.answers.items()
        )
        for question in questions
    )
