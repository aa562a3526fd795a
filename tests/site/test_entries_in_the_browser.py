"""Generated entries of every question, in the browser's own Python under Node: answered or refused as on the host.

What is typed is half inside the limits and half what no careful person types; at night 10,000 a question.
"""

from __future__ import annotations

import json
import random
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from calculators.bench.desk import path_of
from calculators.bench.kinds import Choice, Date, Groups, Measure, Number, Series
from calculators.bench.question import Question, entries_and_columns, rooms
from calculators.browser import answer_message
from scripts import browser_python
from tests.attempts import Attempts
from tests.bad_input import SEED, bad_strings
from tests.cards import MARRAM
from tests.examples import IS_NIGHT

EACH = 10_000 if IS_NIGHT else 2
LONGEST = 2000  # characters of a reading, as calculators/job/job.schema.json has it
MOST_GROWN = 1.05  # of the memory after the first answers
WARM = 200  # answers after which all parts of the code are there
CARD = {"name": MARRAM.name, "data": MARRAM.data}
HALF_PAIR = re.compile("[\ud800-\udfff]")


class Python:
    """The memory that readers start from, restored in Node; it answers one message at a time."""

    def __init__(self) -> None:
        node = shutil.which("node")
        assert node, "Node is not installed"
        program = Path(__file__).with_name("restored.mjs")
        command = [node, str(program), str(browser_python.OUTPUT), str(browser_python.PARTS)]
        self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        self.memory: list[int] = []

    def ask(self, message: str) -> None:
        assert self._process.stdin
        self._process.stdin.write(f"{message}\n")
        self._process.stdin.flush()

    def answer(self) -> Any:
        """Return the answer to the message that was asked; until it is read, the host can work on its own."""
        assert self._process.stdout
        said, memory = json.loads(self._process.stdout.readline())
        self.memory.append(memory)
        return said

    def end(self) -> None:
        assert self._process.stdin and self._process.stdout
        self._process.stdin.close()
        self._process.wait()
        self._process.stdout.close()


@pytest.fixture(scope="module")
def python(site) -> Iterator[Python]:
    started = Python()
    yield started
    started.end()


def inside(pick: random.Random, kind: Any) -> str:
    """Return a text that a kind of entry takes, so that the answer is reached and not only the reading."""
    if isinstance(kind, Choice):
        return pick.choice(list(kind.options))
    if isinstance(kind, Measure):
        number = f"{pick.uniform(kind.low, kind.high):.3f} {kind.own}"
        return number if kind.exact else number + pick.choice(("", " ± 0.05"))
    if isinstance(kind, Number):
        number = pick.uniform(kind.low, kind.high)
        return str(round(number) if kind.whole else round(number, 2))
    if isinstance(kind, Series):
        return "; ".join(inside(pick, kind.of) for _ in range(pick.randint(kind.fewest, min(kind.most, 12))))
    if isinstance(kind, Date):
        return f"{pick.randint(kind.low.year, kind.high.year)}-{pick.randint(1, 12):02}-{pick.randint(1, 28):02}"
    assert isinstance(kind, Groups)
    groups = ([inside(pick, kind.of) for _ in range(pick.randint(1, 3))] for _ in range(pick.randint(1, 3)))
    return " / ".join(" ".join(group) for group in groups)


def messages(of: type[Question], count: int, seed: int) -> Iterator[str]:
    """Yield so many messages of a page, each with one to four boxes filled; the others have the example's."""
    pick, wild = random.Random(f"{seed} {of.name}"), bad_strings(4 * count, seed)  # noqa: S311
    boxes = [
        (path_of(of, entry, row), entry.kind if not table else entry.each)
        for entry, table in entries_and_columns(of)
        for row in ((1, 2) if table else (0,))
    ]
    for _ in range(count):
        readings = {}
        for path, kind in pick.sample(boxes, pick.randint(1, min(4, len(boxes)))):
            text = inside(pick, kind) if pick.random() < 0.5 else HALF_PAIR.sub("", next(wild))[:LONGEST]
            readings[path] = {"text": text, "when": "2026-11-25T10:00:00Z"}
        wanted = {"name": of.name, "opened": None, "rows": {}, "whole": pick.random() < 0.1}
        asked = {"want": "questions", "questions": [wanted], "quotes": [], "card": CARD, "readings": readings}
        yield json.dumps(asked | {"example": True})


def without_numbers(text: str) -> str:
    """Return an answer without its figures: a last digit may fall the other way on another processor."""
    return re.sub(r"\d+(?:[.,]\d+)*", "0", text)


def what_is_wrong(ours: Any, host: str) -> Iterator[str]:
    """Say where the browser's Python answers otherwise than the host's, or not at all."""
    if not isinstance(ours, str):
        yield f"no answer: {ours['failed']}"
        return
    here, there = (next(iter(json.loads(text)["questions"].values())) for text in (ours, host))
    errors = [{path: box["error"] for path, box in one["boxes"].items() if box["error"]} for one in (here, there)]
    if here["state"] != there["state"] or errors[0] != errors[1]:
        yield f"{here['state']} {errors[0]}, and on the host {there['state']} {errors[1]}"
    elif without_numbers(ours) != without_numbers(host):
        yield "another answer than on the host"


@pytest.mark.parametrize("room", rooms())
def test_generated_entries_are_answered_or_refused_as_on_the_host(python: Python, attempts: Attempts, room):
    seed = random.SystemRandom().randrange(10**9) if IS_NIGHT else SEED
    answered, last_digits = 0, 0
    for of in rooms()[room]:
        for message in messages(of, EACH, seed):
            python.ask(message)
            host, ours = answer_message(message), python.answer()
            wrong = [f"{of.name}, seed {seed}: {one}\n{message}" for one in what_is_wrong(ours, host)]
            attempts.count("generated entries in the browser's Python", *wrong)
            answered += '"state": "mixed"' in host or '"state": "yours"' in host
            last_digits += ours != host
    asked = EACH * len(rooms()[room])
    assert answered > asked / 50 or not IS_NIGHT  # that sums are tried, and not only texts refused
    assert last_digits <= max(1, asked / 100)
    grown = [size for size in python.memory[WARM:] if size > MOST_GROWN * python.memory[WARM]]
    assert not grown, f"{python.memory[WARM]} bytes became {grown[0]}"
