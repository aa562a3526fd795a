"""What to beware of with the stacks that were found, and what the readings cannot tell of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calculators.bench import Caution, symbol_of
from calculators.bench.units import plain, spread_alone
from calculators.compression.cautions import CLOSE, DOMED, KNOCK, LEVEL, MEASURE_AGAIN, fuel
from calculators.compression.engine import Engine
from calculators.compression.fitted import Barrel
from calculators.compression.level_tops import Step
from calculators.compression.measured import alike, main_part
from calculators.compression.words import apart, length, named
from calculators.formulas.decision_rule import judged
from calculators.formulas.spacer_choice import HEIGHT_GRAIN, Question


def warnings(
    engine: Engine,
    question: Question,
    choice: Sequence[int],
    fitted: Sequence[Barrel],
    tops: Sequence[Step],
) -> Iterator[Caution]:
    """Yield what to beware of, and where the readings do not carry the choice."""
    yield KNOCK
    yield fuel(max(barrel.best for barrel in fitted))
    if min(barrel.least_gap for barrel in fitted) < 1:
        yield CLOSE
    if any(cylinder.domed for cylinder in engine.cylinders):
        yield DOMED
    if any(len(head) > 1 for head in engine.heads):
        yield LEVEL
    yield MEASURE_AGAIN
    yield from level_doubted(engine, tops)
    for doubt in (*_close_to_a_limit(engine, fitted), *_not_resolved(engine, question, choice, fitted)):
        yield Caution("notice", doubt)


def level_doubted(engine: Engine, tops: Sequence[Step]) -> Iterator[Caution]:
    """Yield where these readings do not tell whether the tops under a head are level."""
    allowed = engine.wanted.height_tolerance
    for step in tops:
        if step.verdict != "in":
            yield Caution(
                "notice",
                f"Whether the tops of {named(step.head, 'barrel')} stand within {length(allowed, symbol_of(allowed))} "
                "of each other is too close to call with these readings. Measure lengths and spacers with a "
                "micrometer, each three times.",
            )


def _close_to_a_limit(engine: Engine, fitted: Sequence[Barrel]) -> Iterator[str]:
    least = engine.wanted.least_deck
    if doubtful := too_close(fitted):
        yield (
            f"The ratio of {named(doubtful, 'cylinder')} is too close to a limit to call with these readings. "
            "Measure the chamber volume again, three times, before you decide."
        )
    verdicts = [judged(barrel.gap_estimate, barrel.gap_expanded, engine.least_gap) for barrel in fitted]
    if close := [cylinder for cylinder, verdict in enumerate(verdicts) if verdict == "too close to call"]:
        yield (
            f"The deck clearance of {named(close, 'cylinder')} is too close to "
            f"{length(least, symbol_of(least))} to call with these readings."
        )


def _not_resolved(engine: Engine, question: Question, choice: Sequence[int], fitted: Sequence[Barrel]) -> Iterator[str]:
    """Say which two ratios these readings cannot part: the ends of the band, or two stacks'."""
    worst = question.worst(choice)
    barrel = fitted[worst]
    most_of_it = f"Most of the ± {spread_alone(barrel.expanded, 2)} comes from {main_part(barrel.ratio)}."
    if barrel.expanded >= engine.wanted.tolerance:
        ends = " and ".join(plain(round(end, 6)) for end in engine.band)
        yield f"{ends} cannot be told apart with these readings of cylinder {worst + 1}. {most_of_it}"
        return
    other = min(
        (
            stack
            for stack, of in enumerate(question.stacks)
            if question.allowed[worst][stack] and abs(of.height - barrel.stack.height) > HEIGHT_GRAIN
        ),
        key=lambda stack: question.deviations[worst][stack],
        default=None,
    )
    if other is None:
        return
    ratio = engine.ratio(worst, question.stacks[other].height)
    if abs(ratio - barrel.best) <= barrel.expanded:
        ours, theirs = apart(barrel.best, ratio)
        yield (
            f"{ours} and {theirs} cannot be told apart with these readings: whether "
            f"{engine.fitted(barrel.stack)} or {engine.fitted(question.stacks[other])} brings cylinder {worst + 1} "
            f"nearer to {plain(engine.wanted.target)} is not proved. {most_of_it}"
        )


ELSEWHERE = (
    "Between piston and head 0.55 to 0.65 mm is set on two other air-cooled engines, diesels, as US Army TM "
    "10-4320-310-14 and US Army TM 10-4320-318-14 print it. It shows the range; the engine maker's figure decides."
)


def notes(engine: Engine, fitted: Sequence[Barrel]) -> Iterator[str]:
    """Yield what is good to know of the choice."""
    if len(fitted) > 1 and (said := alike([barrel.ratio for barrel in fitted])):
        yield said
    yield "The choice uses the best estimates; the ± says how far you can trust them."
    yield "Each spacer is taken to be as thick as you typed. Measure it; type a ± if you doubt it."
    if all(cylinder.length is None for cylinder in engine.cylinders):
        yield "All barrels are taken to be equally long. If they are not, type their lengths."
    yield ELSEWHERE


def too_close(fitted: Sequence[Barrel]) -> list[int]:
    """Return the cylinders, counted from nought, whose ratio is too close to the band to call."""
    return [cylinder for cylinder, barrel in enumerate(fitted) if barrel.verdict == "too close to call"]
