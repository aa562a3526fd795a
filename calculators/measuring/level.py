"""Whether the pistons under one head stand at one depth."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calculators.bench import (
    DECISION,
    Answer,
    Caution,
    FieldError,
    Finding,
    FoundPart,
    InputErrors,
    Question,
    Row,
    Source,
    Table,
    Value,
    expanded,
    magnitude_in,
    quantity,
    read_by_instrument,
    shared,
)
from calculators.bench.heads import each_under_one_head
from calculators.bench.instruments import Expanded
from calculators.bench.units import figures, printed
from calculators.bench.verdict import verdict_on
from calculators.bench.words import listed as in_words
from calculators.formulas.decision_rule import Verdict
from calculators.measuring.drawings import deck_steps

DIFFERENCE = Source("JCGM 100:2008 (GUM), 5.2.2 and G.4.1: the error of one gauge cancels in a difference")
_WORDS = {"in": "alike", "out": "unlike", "too close to call": "too close to call"}


class Deck(Row):
    """How deep one piston stands."""

    deck = shared.deck()


@dataclass(frozen=True, slots=True)
class Head:
    """The decks under one head: its cylinders, the deepest less the shallowest in mm, and the verdict."""

    cylinders: tuple[int, ...]
    apart: Expanded
    verdict: Verdict


class Level(Question):
    """The deepest deck less the shallowest under each head, for barrels of equal length.

    If decks differ, suspect a bent rod, a worn case or unequal barrels.
    """

    asks = "Are the pistons under one head equally high?"
    tells = "Height of the pistons under one head"
    judges = True

    cylinders = shared.cylinders()
    heads = shared.heads()
    difference_allowed = shared.height_tolerance(
        "Allowed difference under one head",
        hint="The deepest deck less the shallowest: as far as the barrel tops may differ.",
        said="{} allowed",
    )
    decks = Table(Deck, each="Cylinder {}", most=12, count="cylinders")
    depth_error = shared.depth_error()
    depth_read_to = shared.depth_read_to()

    def answer(self) -> Answer:
        each_under_one_head(self.heads, self.cylinders)
        decks = read_by_instrument(
            [of.deck for of in self.decks],
            "mm",
            instrument="depth gauge",
            limit=self.depth_error,
            read_to=self.depth_read_to,
        )
        best = tuple(expanded(deck).best for deck in decks)
        limit = magnitude_in(self.difference_allowed, "mm")
        found = []
        for head in self.heads:
            order = sorted(head, key=lambda cylinder: best[cylinder - 1])
            if len(head) > 1:
                apart = expanded(decks[order[-1] - 1] - decks[order[0] - 1])
                found.append(Head(head, apart, verdict_on(apart.value, high=limit)))
        if not found:
            message = "Cylinders under each head must include one head with two or more, to compare decks"
            raise InputErrors(FieldError("heads", message))
        worst = max(found, key=lambda one: one.apart.best)
        return Answer(
            headline=f"{printed(quantity(worst.apart.value, 'mm'), 'mm', 3)} apart: {_verdict(found)}",
            says=f"The pistons under one head stand {printed(quantity(worst.apart.value, 'mm'), 'mm', 3)} apart at "
            f"most, where {printed(self.difference_allowed, 'mm', 3)} is allowed: {_verdict(found)}.",
            drawing=deck_steps(
                tuple(one.cylinders for one in found),
                tuple(round(one, 3) for one in best),
                tuple(figures(one, 3) for one in best),
                tuple(f"{figures(one.apart.best, 3)} mm apart, {_WORDS[one.verdict]}" for one in found),
            ),
            values=tuple(self._shown(found)),
            warnings=tuple(_warnings(found)),
            findings=(
                Finding(
                    key="level",
                    what="difference in height between pistons",
                    parts=tuple(
                        FoundPart(f"cylinders {in_words(one.cylinders)}", quantity(one.apart.value, "mm"), one.verdict)
                        for one in found
                    ),
                    units=("mm", "in"),
                    places=3,
                    high=self.difference_allowed,
                    limits=("difference_allowed",),
                ),
            ),
            notes=("The gauge's own error is the same for both decks and cancels.",),
        )

    def _shown(self, found: list[Head]) -> Iterator[Value]:
        for one in found:
            yield Value(
                key=f"difference_{one.cylinders[0]}",
                label=f"Difference between cylinders {in_words(one.cylinders)}",
                quantity=quantity(one.apart.value, "mm"),
                units=("mm", "thou"),
                formula="deepest − shallowest under one head",
                source=DIFFERENCE,
                given=one.apart.certainty("mm"),
            )
            yield Value(
                key=f"verdict_{one.cylinders[0]}",
                label=f"Decks of cylinders {in_words(one.cylinders)} against the difference allowed",
                quantity=one.verdict,
                formula="in: difference + U is within the limit; out: difference − U is above it; else too close to "
                "call",
                source=DECISION,
                given=(("allowed", self.difference_allowed),),
            )


def _verdict(found: list[Head]) -> str:
    verdicts = [one.verdict for one in found]
    return _WORDS["out" if "out" in verdicts else "too close to call" if "too close to call" in verdicts else "in"]


def _warnings(found: list[Head]) -> Iterator[Caution]:
    for one in found:
        differ = f"Decks of cylinders {in_words(one.cylinders)} differ by {figures(one.apart.best, 3)} mm"
        if one.verdict == "out":
            yield Caution(
                "notice",
                f"{differ}. If the barrels are equally long, a rod is bent or the case is worn: a machine shop must "
                "measure it.",
            )
        elif one.verdict == "too close to call":
            yield Caution("notice", f"{differ}, too close to what is allowed to call.")
