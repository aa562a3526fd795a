"""What is said about spacers under the barrels: the tables, the reasons, the words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calculators import _compression_drawing as drawing
from calculators._errors import FieldError
from calculators._measured_engine import Engine
from calculators._report import GEOMETRY, Caution, Column, Figure, Report, Row, Source, Table, Value
from calculators._units import bare, figures, magnitude_in, plain, quantity, symbol_of, uncertainty_in, unit
from calculators._words import listed
from calculators.formulas.cylinder_volume import clearance_for_ratio, compression_ratio, deck_clearance
from calculators.formulas.decision_rule import Verdict, judged
from calculators.formulas.spacer_choice import (
    GRAIN,
    HEIGHT_GRAIN,
    Question,
    Stack,
    candidates,
    least_step,
    windows,
)

SHOWN = 40
"""Candidates listed for one head."""

PROPAGATION = Source("JCGM 100:2008 (GUM), 5.1.2 and 5.2.2; expanded uncertainty 6.2, k = 2")
DECISION = Source(
    "ISO 14253-1, rules for proving conformity and nonconformity, with the expanded uncertainty, k = 2", "memory"
)
SEARCH = Source("exact search over every stack of the drawer", "identity")


def why_none(engine: Engine, question: Question, unstinted: Sequence[int] | None) -> FieldError:
    """Say which demand cannot be met, and by how much.

    ``unstinted`` is what would be chosen if the drawer held any number of each size.
    """
    wanted, thickest = engine.wanted, question.stacks[-1]
    blocked = [cylinder for cylinder, allowed in enumerate(question.allowed) if not any(allowed)]
    if blocked:
        symbol = symbol_of(wanted.least_deck)
        worst = min(blocked, key=lambda cylinder: engine.cylinders[cylinder].gap)
        most = quantity(engine.cylinders[worst].gap + thickest.height, "mm")
        if not wanted.thickness:
            return FieldError(
                "thickness.1",
                f"Enter the spacers that you have: with none, the deck clearance of cylinder {worst + 1} is "
                f"{_length(most, symbol)}, and {_length(wanted.least_deck, symbol)} is the least.",
            )
        return FieldError(
            "least_deck",
            f"No stack of these spacers gives cylinder {worst + 1} the least deck clearance of "
            f"{_length(wanted.least_deck, symbol)}. The most is {_length(most, symbol)}, with "
            f"{engine.fitted(thickest)} fitted: {_length(wanted.least_deck - most, symbol)} is missing.",
        )
    symbol = symbol_of(wanted.height_tolerance)
    for head in engine.heads:
        if not any(windows(question, question.costs(), head)):
            return FieldError(
                f"barrel_length.{head[0] + 1}",
                f"No stacks of these spacers bring the tops of {_named(head, 'barrel')} within "
                f"{_length(wanted.height_tolerance, symbol)} of each other. "
                f"At best they stand {_length(quantity(least_step(question, head), 'mm'), symbol)} apart.",
            )
    if unstinted is None:
        raise AssertionError("no demand is left but the drawer's, which was just lifted")
    return too_few(engine, question, unstinted, "for all barrels")


def too_few(engine: Engine, question: Question, unstinted: Sequence[int], what_for: str) -> FieldError:
    """Say of which spacers the drawer has too few, and what they would be needed for."""
    size, need = question.shortages(unstinted)[0]
    return FieldError(
        f"pieces.{engine.spacers[size].row}",
        f"The drawer has too few spacers {what_for}. "
        f"{everywhere(engine, [question.stacks[stack] for stack in unstinted])} "
        f"would do, but it {_shortage(engine, size, need)}.",
    )


def out_of_reach(engine: Engine, stacks: Sequence[Stack], worst: int) -> FieldError:
    """Say how near the stacks come to the wanted ratio, by the cylinder that is farthest from it."""
    wanted, ratio = engine.wanted, engine.ratio(worst, stacks[worst].height)
    nearest = f"{apart(ratio, wanted.target)[0]} : 1" + (f", in cylinder {worst + 1}" if len(stacks) > 1 else "")
    if not wanted.thickness and ratio > wanted.target:  # spacers would lower it
        message = f"Enter the spacers that you have: with none, the nearest to {plain(wanted.target)} : 1 is {nearest}."
        return FieldError("thickness.1", message)
    return FieldError(
        "target",
        f"No stack of these spacers reaches {plain(wanted.target)} : 1. The nearest is {nearest}, "
        f"with {everywhere(engine, stacks)}.",
    )


def too_many_ways(engine: Engine, question: Question, unstinted: Sequence[int]) -> FieldError:
    """Say which spacers to leave out, so that the rest can be weighed to the end."""
    used = Counter(size for stack in unstinted for size in question.stacks[stack].pieces)
    fewest = min(used[size] for size in range(len(engine.spacers)))
    spared = listed(spacer.stamp for size, spacer in enumerate(engine.spacers) if used[size] == fewest)
    why = f"used {fewest} times" if fewest > 1 else "used once" if fewest else "not used"
    fewer = ", or allow fewer pieces in one stack" if engine.wanted.most_pieces > 1 else ""
    return FieldError(
        "thickness.1",
        "These spacers can be stacked in too many ways to weigh them all. "
        f"Leave out {spared} {engine.unit}, {why} in the stacks nearest to the target{fewer}.",
    )


@dataclass(frozen=True, slots=True)
class _Barrel:
    """One cylinder on its spacers, with the uncertainties."""

    stack: Stack
    height: Any
    clearance: Any  # volume
    gap: Any  # deck clearance
    ratio: Any
    best: float  # estimate of the ratio
    verdict: Verdict  # on the ratio


def _fit(engine: Engine, stacks: Sequence[Stack]) -> list[_Barrel]:
    """Work out each cylinder on its stack, with the uncertainties."""
    low, high = _band(engine)
    heights = {stack: engine.height(stack) for stack in stacks}
    rooms = {stack: engine.area * height for stack, height in heights.items()}
    fitted = []
    for cylinder, stack in zip(engine.cylinders, stacks, strict=True):
        clearance = cylinder.clearance + rooms[stack]
        ratio = compression_ratio(engine.swept, clearance)
        best, expanded = bare(ratio)
        gap = deck_clearance(cylinder.depth, heights[stack], engine.gasket)
        verdict = judged(best, expanded or 0.0, low, high, grain=GRAIN)
        fitted.append(
            _Barrel(
                stack=stack,
                height=quantity(heights[stack], "mm"),
                clearance=quantity(clearance, "cm³"),
                gap=quantity(gap, "mm"),
                ratio=ratio,
                best=best,
                verdict=verdict,
            )
        )
    return fitted


def report(engine: Engine, question: Question, choice: Sequence[int] | None) -> Report:
    """Report on the stacks chosen, on the nearest ones, or on the engine without spacers where there is no choice."""
    fitted = _fit(engine, [question.stacks[stack] for stack in choice or (0,) * len(engine.cylinders)])
    ratios = [barrel.best for barrel in fitted]
    low, high = figures(min(ratios), 2), figures(max(ratios), 2)
    reached = low if low == high else f"{low} to {high}"
    tightest = min(range(len(fitted)), key=lambda one: engine.cylinders[one].gap + fitted[one].stack.height)
    gap, stacks = fitted[tightest].gap, [barrel.stack for barrel in fitted]
    missed = any(map(engine.misses, ratios))
    if choice is None:
        lead = f"Without spacers: {reached} : 1."
    elif missed:
        lead = f"{plain(engine.wanted.target)} : 1 is out of reach of this drawer. Nearest: {reached} : 1, with "
        lead += f"{everywhere(engine, stacks)}."
    else:
        fit = "; ".join(f"under {where} fit {engine.fitted(stack)}" for where, stack in _places(engine, stacks))
        lead = f"{fit[0].upper()}{fit[1:]}: {reached} : 1."
    return Report(
        lead=lead,
        values=(
            *(
                Value(
                    key=f"spacers_{number}",
                    label=f"{'Nearest: spacers' if missed else 'Spacers'} under {_named(head, 'cylinder')}",
                    quantity=_under_head(engine, head, [stacks[cylinder] for cylinder in head]),
                    formula="least worst |ratio − wanted|, then least sum of them, then fewest pieces; barrel tops "
                    "level, every deck clearance at least the least, no more pieces than the drawer has",
                    source=SEARCH,
                    lead=True,
                )
                for number, head in enumerate(engine.heads if choice else (), 1)
            ),
            Value(
                key="ratio",
                label="Compression ratio",
                quantity=f"{reached} : 1",
                formula="(swept volume + clearance volume) ÷ clearance volume",
                source=GEOMETRY,
                lead=True,
            ),
            *(
                Value(
                    key=f"{which}_ratio",
                    label=f"{which.capitalize()} ratio, to 1, in cylinder {cylinder + 1}",
                    quantity=fitted[cylinder].ratio,
                    places=2,
                    formula="(swept volume + clearance volume) ÷ clearance volume; ± is k = 2",
                    source=PROPAGATION,
                )
                for which, cylinder in (("lowest", ratios.index(min(ratios))), ("highest", ratios.index(max(ratios))))
            ),
            Value(
                key="least_deck_clearance",
                label=f"Least deck clearance, in cylinder {tightest + 1}",
                quantity=gap,
                units=tuple(dict.fromkeys((symbol_of(engine.wanted.least_deck), "mm", "thou"))),
                formula="deck height + spacers + gasket thickness",
                source=GEOMETRY,
            ),
            Value(
                key="displacement",
                label="Displacement",
                quantity=quantity(engine.swept * len(fitted), "cm³"),
                units=("cm³", "in³"),
                formula="number of cylinders × π ÷ 4 × bore² × stroke",
                source=GEOMETRY,
            ),
        ),
        tables=(
            _cylinders(engine, fitted),
            *(
                _candidates(engine, question, number, tuple(choice[one] for one in head) if choice else None, missed)
                for number, head in enumerate(engine.heads)
            ),
        ),
        figures=_figures(
            engine, question, fitted, tightest, "as measured" if choice is None else "nearest" if missed else "chosen"
        ),
        cautions=tuple(_cautions(engine, gap)),
        notes=tuple(_notes(engine, fitted)),
    )


def _cylinders(engine: Engine, fitted: Sequence[_Barrel]) -> Table:
    swept = quantity(engine.swept, "cm³")
    rows = [
        (str(number), engine.fitted(of.stack), of.height, swept, of.clearance, of.gap, of.ratio, of.verdict)
        for number, of in enumerate(fitted, 1)
    ]
    return Table(
        key="cylinders",
        title="Cylinder by cylinder",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            Column(key="spacers", label="Spacers", strong=True),
            Column(key="stack", label="Their thickness", unit=engine.unit, places=engine.places),
            Column(key="swept", label="Swept volume", unit="cm³"),
            Column(key="clearance", label="Clearance volume", unit="cm³"),
            Column(key="deck", label="Deck clearance", unit=symbol_of(engine.wanted.least_deck)),
            Column(key="ratio", label="Ratio, to 1", places=2),
            Column(key="verdict", label="Against the band"),
        ),
        rows=tuple(Row(cells=cells) for cells in rows),
        formula="clearance volume = chamber + gasket + π ÷ 4 × bore² × (deck height + spacers) + crown; "
        "ratio = (swept + clearance) ÷ clearance; ± is k = 2, linear propagation, bore and stroke common to all; "
        "in, out: the whole interval of ± lies inside or outside the band",
        source=Source(f"{PROPAGATION}; {DECISION}"),
    )


def _candidates(engine: Engine, question: Question, number: int, chosen: tuple[int, ...] | None, missed: bool) -> Table:
    head = engine.heads[number]
    best = question.weighed(head, chosen)[:3] if chosen else None
    found, count = candidates(question, head, chosen, SHOWN)
    more = f"; {count - len(found)} more lost" if count > len(found) else ""
    rows = []
    for choice in found:
        stacks = [question.stacks[stack] for stack in choice]
        ratios = [engine.ratio(cylinder, stack.height) for cylinder, stack in zip(head, stacks, strict=True)]
        least = min(engine.cylinders[cylinder].gap + stack.height for cylinder, stack in zip(head, stacks, strict=True))
        gap = quantity(least, "mm")
        why = _forbidden(engine, question, head, choice, gap)
        if choice == chosen:
            outside = _outside(engine, ratios)
            why = f"nearest, but {outside}" if outside else "nearest" if missed else "fit this"
        elif not why:
            why = _outside(engine, ratios) or _losing(question.weighed(head, choice)[:3], best)
        cells = (_under_head(engine, head, stacks), min(ratios), max(ratios), gap, why)
        rows.append(Row(cells=cells, chosen=choice == chosen))
    return Table(
        key=f"candidates_{number + 1}",
        title=f"What could go under {_named(head, 'cylinder')}, nearest to the wanted ratio first{more}",
        columns=(
            Column(key="spacers", label="Spacers", strong=True),
            Column(key="lowest_ratio", label="Lowest ratio", places=2),
            Column(key="highest_ratio", label="Highest ratio", places=2),
            Column(key="deck", label="Least deck clearance", unit=symbol_of(engine.wanted.least_deck)),
            Column(key="why", label="Why", wide=True),
        ),
        rows=tuple(rows),
        formula="least worst |ratio − wanted|, then least sum of them, then fewest pieces",
        source=SEARCH,
        folded=True,
    )


def _forbidden(engine: Engine, question: Question, head: Sequence[int], choice: Sequence[int], gap: Any) -> str:
    """Say what forbids a candidate, if anything does."""
    wanted = engine.wanted
    if magnitude_in(gap, "mm") < engine.least_gap - HEIGHT_GRAIN:
        symbol = symbol_of(wanted.least_deck)
        words = apart(magnitude_in(gap, symbol), magnitude_in(wanted.least_deck, symbol), unit(symbol).places)
        return f"deck clearance {words[0]} {symbol}, under {words[1]} {symbol}"
    step = question.step(head, choice)
    if step > question.level + HEIGHT_GRAIN / 2:
        return f"barrel tops {_length(quantity(step, 'mm'), symbol_of(wanted.height_tolerance))} apart"
    return next((_shortage(engine, size, need) for size, need in question.shortages(choice)), "")


def _outside(engine: Engine, ratios: Sequence[float]) -> str:
    """Say of the ratio farthest from the target that it is outside the band, if it is."""
    farthest = max(ratios, key=lambda ratio: abs(ratio - engine.wanted.target))
    if not engine.misses(farthest):
        return ""
    low, high = _band(engine)
    limit, side = (low, "below") if farthest < low else (high, "above")
    return f"ratio {apart(farthest, limit)[0]}, {side} {plain(round(limit, 6))}"


def _losing(ours: tuple[int, int, int], best: tuple[int, int, int] | None) -> str:
    """Say of a candidate that nothing forbids, and whose ratios are in the band, why it is not the one to fit."""
    if best is None:
        return "in the band"
    if ours < best:
        return "its spacers are needed under another head"
    further, together, parts = (our - least for our, least in zip(ours, best, strict=True))
    if further > 0:
        return f"{apart(further * GRAIN, 0)[0]} further from the target"
    if together > 0:
        return f"{apart(together * GRAIN, 0)[0]} further from the target, all cylinders together"
    return "same height with more parts" if parts > 0 else "same height, as many parts"


def _figures(
    engine: Engine, question: Question, fitted: Sequence[_Barrel], tightest: int, dots: str
) -> tuple[Figure, ...]:
    wanted, barrel = engine.wanted, fitted[tightest]
    in_unit = magnitude_in(quantity(1.0, "mm"), engine.unit)
    chart = drawing.ratio_chart(
        lambda cylinder, height: engine.ratio(cylinder, height / in_unit),
        [of.stack.height * in_unit for of in fitted],
        wanted.target,
        wanted.tolerance,
        question.stacks[-1].height * in_unit,
        engine.unit,
        dots,
    )
    section = drawing.Section(
        name=str(tightest + 1),
        bore=magnitude_in(wanted.bore, "mm"),
        barrel_length=engine.cylinders[tightest].length,
        spacers=tuple(engine.spacers[size].size for size in barrel.stack.pieces),
        gasket=bare(engine.gasket)[0],
        clearance=magnitude_in(barrel.gap, "mm"),
        clearance_words=_length(barrel.gap, symbol_of(wanted.least_deck)),
        spacer_words=engine.fitted(barrel.stack),
    )
    return chart, drawing.barrel_section(section)


def _cautions(engine: Engine, gap: Any) -> Iterator[Caution]:
    yield Caution(
        "warning",
        "A ratio too high for the fuel makes the engine knock, and knock breaks pistons. Keep to the engine "
        "maker's ratio for the fuel that you can get (common practice, no source).",
    )
    if magnitude_in(gap, "mm") - (uncertainty_in(gap, "mm") or 0) < 1:
        yield Caution(
            "caution",
            "Under about 1 mm of deck clearance, carbon and worn bearings let the piston strike the head "
            "(common practice, no source). The engine maker's figure wins.",
        )
    if any(cylinder.domed for cylinder in engine.cylinders):
        yield Caution(
            "caution",
            "A dome can meet the head or a valve before its edge does. Lay plasticine on it, turn the crank over by "
            "hand once, and measure what is left over the dome and at the valves (common practice, no source).",
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


def _notes(engine: Engine, fitted: Sequence[_Barrel]) -> Iterator[str]:
    target, least = engine.wanted.target, engine.wanted.least_deck
    for number, barrel in enumerate(fitted, 1):
        if engine.misses(barrel.best):
            needed, there = (clearance_for_ratio(engine.displaced, ratio) for ratio in (target, barrel.best))
            spacer = quantity(abs(needed - there) / engine.per_mm, "mm")
            more, thicker = ("more", "thicker") if needed > there else ("less", "thinner")
            yield (
                f"For {plain(target)} : 1, cylinder {number} needs {figures(abs(needed - there), 1)} cm³ {more} "
                f"room above the piston: spacers {_length(spacer, engine.unit)} {thicker}, "
                "or so much in chamber or crown."
            )
    doubtful = [cylinder for cylinder, barrel in enumerate(fitted) if barrel.verdict == "too close to call"]
    if doubtful:
        yield (
            f"The ratio of {_named(doubtful, 'cylinder')} is too close to a limit to call with these readings. "
            "Measure the chamber volume again, three times, before you decide."
        )
    gaps = [(magnitude_in(barrel.gap, "mm"), uncertainty_in(barrel.gap, "mm") or 0.0) for barrel in fitted]
    verdicts = [judged(gap, expanded, engine.least_gap) for gap, expanded in gaps]
    close = [cylinder for cylinder, verdict in enumerate(verdicts) if verdict == "too close to call"]
    if close:
        yield (
            f"The deck clearance of {_named(close, 'cylinder')} is too close to "
            f"{_length(least, symbol_of(least))} to call with these readings."
        )
    yield "The choice goes by the best estimates; the ± says how far the readings let you trust them."
    if all(cylinder.length is None for cylinder in engine.cylinders):
        yield "All barrels are taken to be alike in length. Type their lengths where they are not."


def _band(engine: Engine) -> tuple[float, float]:
    return engine.wanted.target - engine.wanted.tolerance, engine.wanted.target + engine.wanted.tolerance


def _length(value: Any, symbol: str) -> str:
    return f"{figures(magnitude_in(value, symbol), unit(symbol).places)} {symbol}"


def apart(value: float, limit: float, places: int = 2) -> tuple[str, str]:
    """Print two numbers with so many decimals that they do not look alike."""
    while places < 6 and figures(value, places) == figures(limit, places):
        places += 1
    return figures(value, places), figures(limit, places)


def _named(cylinders: Sequence[int], noun: str) -> str:
    """Return "cylinder 1" or "cylinders 1, 2 and 3", from numbers counted from nought."""
    return f"{noun}{'s' if len(cylinders) > 1 else ''} {listed(cylinder + 1 for cylinder in cylinders)}"


def _shortage(engine: Engine, size: int, need: int) -> str:
    spacer = engine.spacers[size]
    return f"needs {need} of {spacer.stamp} {engine.unit}, the drawer has {spacer.pieces}"


def _places(engine: Engine, stacks: Sequence[Stack]) -> list[tuple[str, Stack]]:
    """Say where each stack goes: under every barrel, or under those of a head that have it in common."""
    if len(set(stacks)) == 1 and len(stacks) > 1:
        return [("every barrel", stacks[0])]
    return [
        (_named([cylinder for cylinder in head if stacks[cylinder] == stack], "cylinder"), stack)
        for head in engine.heads
        for stack in dict.fromkeys(stacks[cylinder] for cylinder in head)
    ]


def _under_head(engine: Engine, head: Sequence[int], stacks: Sequence[Stack]) -> str:
    """Return the stacks of one head in words: once where they are all alike."""
    if len(set(stacks)) == 1:
        return engine.fitted(stacks[0])
    return "; ".join(f"{cylinder + 1}: {engine.fitted(stack)}" for cylinder, stack in zip(head, stacks, strict=True))


def everywhere(engine: Engine, stacks: Sequence[Stack]) -> str:
    """Return all stacks in words, each with the barrels it is under."""
    if not any(stack.pieces for stack in stacks):
        return "none fitted"
    if len(stacks) == 1:
        return f"{engine.fitted(stacks[0])} under the barrel"
    return "; ".join(f"{engine.fitted(stack)} under {where}" for where, stack in _places(engine, stacks))
