"""Ladders of questions that end at a fault: read from their Markdown, checked, and made ready for page and browser.

A page of ``docs/faults`` holds one, under its heading *Questions*. Each question is a numbered step, its two answers
a list below it::

    1. **Is there a spark?**

        !!! warning "Warning: high voltage"
            What must be read before anybody looks.

        How to look.

        - Yes: go to 2.
        - No: **Coil or points.** What to do next, and the [page](../run/set-the-timing.md) that says how.
"""

from __future__ import annotations

import html
import posixpath
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

HEADING = "## Questions"
LONGEST = 8
"""So many questions, at most, stand before any finding."""
_QUESTION = re.compile(r"^(\d+)\.\s+(?:\*\*(.+?)\*\*)?", re.MULTILINE)
_ANSWER = re.compile(r"^    - (\w+): (.*)$", re.MULTILINE)
_ON = re.compile(r"go to (\d+)\.")
_FINDING = re.compile(r"\*\*(.+?)\*\*\s*(.*)")
_LINK = re.compile(r"\[[^\[\]]+\]\(([^)\s]+)\)")
_TITLE = re.compile(r"^# (.+)$", re.MULTILINE)
_ANSWERS = ["Yes", "No"]

PLACE = "<!-- all ladders -->"
"""Where a page asks for the list of them."""


class LadderError(Exception):
    """A ladder that nobody could walk."""


@dataclass(frozen=True)
class Answer:
    """Where an answer leads: on to a question, or to a finding with what to do next."""

    to: int | None
    finding: str
    words: str

    @property
    def links(self) -> list[str]:
        return _LINK.findall(self.words)


@dataclass(frozen=True)
class Question:
    """One question; ``text`` is all that stands under its number, as Markdown."""

    number: int
    asks: str
    text: str
    answers: Mapping[str, Answer]


@dataclass(frozen=True)
class Ladder:
    """The questions of one fault, from the first."""

    title: str
    questions: tuple[Question, ...]

    def ways(self) -> Iterator[tuple[tuple[Question, str], ...]]:
        """Give each way from the first question to a finding: the questions on it, each with its answer."""
        yield from self._ways(1)

    def _ways(self, number: int) -> Iterator[tuple[tuple[Question, str], ...]]:
        question = self.questions[number - 1]
        for said, answer in question.answers.items():
            if answer.to is None:
                yield ((question, said),)
            else:
                yield from (((question, said), *way) for way in self._ways(answer.to))


def has_ladder(markdown: str) -> bool:
    """Tell whether a page holds a ladder."""
    return f"\n{HEADING}\n" in markdown


def read(markdown: str) -> Ladder:
    r"""Return the ladder of a page.

    Raises
    ------
    LadderError
        In words, each thing that keeps it from being a tree with a finding at every end.

    Examples
    --------
    >>> lit = '''# Dark
    ...
    ... ## Questions
    ...
    ... 1. **Is the lamp lit?**
    ...
    ...     - Yes: **It works.** [Go on](on.md).
    ...     - No: go to 2.
    ...
    ... 2. **Is it plugged in?**
    ...
    ...     - Yes: **The lamp.** A [new one](on.md).
    ...     - No: **The plug.** [Plug it in](on.md).
    ... '''
    >>> [[question.number for question, _ in way] for way in read(lit).ways()]
    [[1], [1, 2], [1, 2]]
    """
    title = _TITLE.search(markdown)
    section = markdown.partition(f"\n{HEADING}\n")[2].partition("\n## ")[0]
    begun = list(_QUESTION.finditer(section))
    ends = [found.start() for found in begun[1:]] + [len(section)]
    questions = tuple(
        _question(int(found[1]), found[2] or "", section[found.end() : end])
        for found, end in zip(begun, ends, strict=True)
    )
    ladder = Ladder(title[1] if title else "", questions)
    if found := list(_faults(ladder)):
        raise LadderError("; ".join(found))
    return ladder


def _question(number: int, asks: str, text: str) -> Question:
    answers = {said: _answer(words) for said, words in _ANSWER.findall(text)}
    return Question(number, asks, text, answers)


def _answer(words: str) -> Answer:
    if on := _ON.fullmatch(words.strip()):
        return Answer(int(on[1]), "", "")
    found = _FINDING.match(words)
    return Answer(None, found[1].rstrip(".") if found else "", found[2] if found else words)


def _faults(ladder: Ladder) -> Iterator[str]:
    """Say what keeps a ladder from being one."""
    count = len(ladder.questions)
    if [question.number for question in ladder.questions] != list(range(1, count + 1)) or not count:
        yield "the questions are not numbered 1, 2, 3"
        return
    led: list[int] = []
    for question in ladder.questions:
        name = f"question {question.number}"
        if not question.asks.endswith("?"):
            yield f"{name} does not end in a question mark"
        if list(question.answers) != _ANSWERS or len(_ANSWER.findall(question.text)) != len(_ANSWERS):
            yield f"{name} is not answered by Yes, then No"
        for said, answer in question.answers.items():
            if answer.to is not None:
                led.append(answer.to)
                if not question.number < answer.to <= count:
                    yield f"{name}, {said}: go to {answer.to} leads to no later question"
            elif not answer.finding:
                yield f"{name}, {said}: neither a question nor a finding"
            elif not answer.links:
                yield f"{name}, {said}: the finding leads to no page"
    for number in range(2, count + 1):
        if (times := led.count(number)) != 1:
            yield f"question {number} is reached {times} times, not once"
        elif number not in (first.to for first in ladder.questions[number - 2].answers.values()) and any(
            answer.to is not None for answer in ladder.questions[number - 2].answers.values()
        ):
            yield f"question {number} does not stand behind the one that leads to it"


def listed(markdown: str, page: str, pages: Mapping[str, str], order: Sequence[str]) -> str:
    """Put the list of all ladders where a page asks for it: each a door into its walk.

    Parameters
    ----------
    markdown, page : str
        The page's text and its path below ``docs``.
    pages : mapping
        The text of every page by its path.
    order : sequence of str
        Their paths, in the order of the nav.
    """
    doors = [
        f'<a class="bench-way" href="{_address(path, page)}#walk-1">{html.escape(read(pages[path]).title)}</a>'
        for path in order
        if has_ladder(pages[path])
    ]
    nav = f'<nav class="bench-ladders" aria-label="Faults">{"".join(doors)}</nav>'
    return markdown.replace(PLACE, nav)


def _address(path: str, page: str) -> str:
    """Return where a page stands on the site, seen from another that is its section's first."""
    return f"{posixpath.relpath(path, posixpath.dirname(page) or '.').removesuffix('.md')}/"


def prepared(markdown: str, drawing: str) -> str:
    """Return a page with its ladder made ready: places to go to, its map beside it, and the way into its walk.

    Parameters
    ----------
    markdown : str
    drawing : str
        The map, as HTML.
    """
    head, _, rest = markdown.partition(f"\n{HEADING}\n")
    section, mark, foot = rest.partition("\n## ")
    head = head.replace("\n## ", f"\n{_BEGIN}\n\n## ", 1) if "\n## " in head else f"{head}\n{_BEGIN}\n"
    number, lines = 0, []
    for line in section.split("\n"):
        if begun := _QUESTION.match(line):
            number = int(begun[1])
            line = line.replace(f"**{begun[2]}**", f"**{begun[2]}**{{ #ask-{number} }}", 1)
        elif answered := _ANSWER.match(line):
            said, words = answered[1], answered[2]
            if on := _ON.fullmatch(words.strip()):
                words = f"[go to {on[1]}](#ask-{on[1]}){{ data-to={on[1]} }}"
            elif found := _FINDING.match(words):
                marked = f"**{found[1]}**{{ #end-{number}-{said.lower()} .bench-finding }}"
                words = f'{marked} <span class="bench-do-next">{found[2]}</span>'
            line = f"    - {said} → {words}"
        lines.append(line)
    body = "\n".join(lines).strip("\n")
    ladder = f'<div class="bench-ladder" markdown="1">\n\n{body}\n\n</div>'
    sides = f'<div class="bench-ladder-sides" markdown="1">\n\n{ladder}\n\n{drawing}\n\n</div>'
    return f"{head}\n{HEADING}\n\n{sides}\n{mark}{foot}"


_BEGIN = '<p class="bench-ladder-begin"><a class="bench-go" id="walk-1" href="#ask-1">One question at a time</a></p>'
