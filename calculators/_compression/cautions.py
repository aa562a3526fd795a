"""What to beware of with spacers under the barrels, and what the readings can and cannot tell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from uncertainties import UFloat

from calculators._compression.fitted_barrels import Barrel
from calculators._compression.level_tops import Step
from calculators._compression.measured_engine import Engine
from calculators._compression.words import apart, length, named
from calculators._report import Caution
from calculators._units import bare, figures, plain, quantity, spread_alone, symbol_of
from calculators.formulas.cylinder_volume import clearance_for_ratio
from calculators.formulas.decision_rule import judged
from calculators.formulas.spacer_choice import HEIGHT_GRAIN, Question

_FUELS = (
    (7.3, "were commonly built for the lowest grade of petrol"),
    (8.3, "were commonly built for regular petrol"),
    (9.3, "were commonly built for premium petrol only"),
    (99.0, "commonly knock on any pump petrol unless chambers, cooling and ignition are made for it"),
)
"""Up to which ratio, and what is said of air-cooled engines there (common practice, no source)."""


def cautions(
    engine: Engine,
    question: Question,
    choice: Sequence[int] | None,
    fitted: Sequence[Barrel],
    tops: Sequence[Step],
) -> Iterator[Caution]:
    """Yield what to beware of, and where the readings do not carry the choice."""
    highest = max(barrel.best for barrel in fitted)
    built_for = next(words for up_to, words in _FUELS if highest <= up_to or up_to == _FUELS[-1][0])
    yield Caution(
        "warning",
        "A ratio too high for the fuel makes the engine knock, and knock breaks pistons. Keep to the engine "
        "maker's ratio for the fuel that you can get (common practice, no source).",
    )
    yield Caution(
        "caution",
        f"Air-cooled engines at {figures(highest, 1)} : 1 {built_for}. They knock sooner than water-cooled ones at "
        "the same ratio, most of all uphill in hot weather, and a figure from the days of leaded petrol may count "
        "on the lead. Listen on the first drive and retard or stop at the first rattle. Common practice, no source, "
        "and no promise.",
    )
    if min(barrel.least_gap for barrel in fitted) < 1:
        yield Caution(
            "caution",
            "Under about 1 mm of deck clearance, carbon and worn bearings let the piston strike the head "
            "(common practice, no source). The engine maker's figure wins.",
        )
    if any(cylinder.domed for cylinder in engine.cylinders):
        yield Caution(
            "caution",
            "A dome can meet the head or a valve before its edge does. Once rings and circlips are in, lay plasticine "
            "on it and bolt the head on. Plugs out, turn the crank over by hand once, stop at any drag, and measure "
            "what is left over the dome and at the valves (common practice, no source).",
        )
    if any(len(head) > 1 for head in engine.heads):
        yield Caution(
            "caution",
            "Barrels under one head must stand level. A head drawn down on uneven barrels leaks and cracks.",
        )
    yield Caution(
        "notice",
        "Deck height counts at top dead centre with the barrel clamped down. "
        "Fit the spacers, clamp, and measure again.",
    )
    for step in tops:
        if step.verdict != "in":
            tolerance = engine.wanted.height_tolerance
            limit = length(tolerance, symbol_of(tolerance))
            yield Caution(
                "notice",
                f"Whether the tops of {named(step.head, 'barrel')} stand within {limit} of each other is too close to "
                "call with these readings. Measure lengths and spacers with a micrometer, each three times.",
            )
    for doubt in (*_too_close(engine, fitted), *_not_resolved(engine, question, choice, fitted)):
        yield Caution("notice", doubt)


def notes(engine: Engine, fitted: Sequence[Barrel]) -> Iterator[str]:
    """Yield what would have to change, and what the choice takes for granted."""
    yield from _what_would_have_to_change(engine, fitted)
    yield from _alike(fitted)
    yield "The choice goes by the best estimates; the ± says how far the readings let you trust them."
    if all(cylinder.length is None for cylinder in engine.cylinders):
        yield "All barrels are taken to be alike in length. Type their lengths where they are not."


def _what_would_have_to_change(engine: Engine, fitted: Sequence[Barrel]) -> Iterator[str]:
    target = engine.wanted.target
    for number, barrel in enumerate(fitted, 1):
        if engine.misses(barrel.best):
            needed, there = (clearance_for_ratio(engine.displaced, ratio) for ratio in (target, barrel.best))
            spacer = quantity(abs(needed - there) / engine.per_mm, "mm")
            more, thicker, skim = (
                ("more", "thicker", "") if needed > there else ("less", "thinner", ", a skim of the face")
            )
            yield (
                f"For {plain(target)} : 1, cylinder {number} needs {figures(abs(needed - there), 1)} cm³ {more} "
                f"room above the piston: spacers {length(spacer, engine.unit)} {thicker}{skim}, "
                "or so much in chamber or crown."
            )


def too_close_to_call(fitted: Sequence[Barrel]) -> list[int]:
    """Return the cylinders of which it is not proved that their ratio is in the band, nor that it is not."""
    return [cylinder for cylinder, barrel in enumerate(fitted) if barrel.verdict == "too close to call"]


def _too_close(engine: Engine, fitted: Sequence[Barrel]) -> Iterator[str]:
    least = engine.wanted.least_deck
    if doubtful := too_close_to_call(fitted):
        yield (
            f"The ratio of {named(doubtful, 'cylinder')} is too close to a limit to call with these readings. "
            "Measure the chamber volume again, three times, before you decide."
        )
    verdicts = [judged(barrel.gap_estimate, barrel.gap_expanded, engine.least_gap) for barrel in fitted]
    close = [cylinder for cylinder, verdict in enumerate(verdicts) if verdict == "too close to call"]
    if close:
        yield (
            f"The deck clearance of {named(close, 'cylinder')} is too close to "
            f"{length(least, symbol_of(least))} to call with these readings."
        )


def _alike(fitted: Sequence[Barrel]) -> Iterator[str]:
    """Say that the cylinders farthest apart may well be alike."""
    order = sorted(range(len(fitted)), key=lambda cylinder: fitted[cylinder].best)
    low, high = fitted[order[0]], fitted[order[-1]]
    difference, spread = bare(high.ratio - low.ratio)
    if spread and 0.005 <= difference <= spread:
        yield (
            f"{figures(low.best, 2)} and {figures(high.best, 2)}, the ratios of cylinders {order[0] + 1} and "
            f"{order[-1] + 1}, cannot be told apart with these readings: {figures(difference, 2)} ± "
            f"{figures(spread, 2)} lies between them."
        )


def _not_resolved(
    engine: Engine, question: Question, choice: Sequence[int] | None, fitted: Sequence[Barrel]
) -> Iterator[str]:
    """Say which two ratios these readings cannot part: the ends of the band, or two stacks'."""
    if choice is None:
        return
    worst = question.worst(choice)
    barrel, target = fitted[worst], engine.wanted.target
    if barrel.expanded >= engine.wanted.tolerance:
        ends = " and ".join(plain(round(end, 6)) for end in engine.band)
        yield (
            f"{ends} cannot be told apart with these readings: the ratio of cylinder {worst + 1} is known "
            f"to ± {spread_alone(barrel.expanded, 2)}, and most of that comes from the {main_part(barrel.ratio)}."
        )
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
            f"nearer to {plain(target)} is not proved. Most of the ± {spread_alone(barrel.expanded, 2)} comes from the "
            f"{main_part(barrel.ratio)}."
        )


def main_part(ratio: Any) -> str:
    """Return the reading that most of a ratio's uncertainty comes from, in the middle of a sentence."""
    if not isinstance(ratio, UFloat):
        return "readings"
    parts: dict[str, float] = {}
    for variable, part in ratio.error_components().items():
        name = str(variable.tag or "readings")
        parts[name] = parts.get(name, 0.0) + part**2
    name = max(parts, key=parts.__getitem__)
    return name[0].lower() + name[1:]
