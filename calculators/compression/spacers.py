"""Which spacers of the drawer go under which barrel."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from calculators._compression import drawing
from calculators._compression.binding_limit import binding_limit
from calculators._compression.candidates import SEARCH, candidates_table
from calculators._compression.cautions import main_part
from calculators._compression.fitted_barrels import Barrel
from calculators._compression.level_tops import Step, steps
from calculators._compression.measured_engine import Engine
from calculators._compression.reasons import out_of_reach, too_few, too_many_ways, why_none
from calculators._compression.words import apart, everywhere, length, named, places, reached, under_head
from calculators._units import plain, spread_alone
from calculators._verdict import best_of
from calculators._words import listed
from calculators.bench import (
    GEOMETRY,
    Answer,
    Caution,
    Column,
    FieldError,
    Figure,
    InputErrors,
    Lacking,
    Question,
    ResultTable,
    Row,
    Source,
    Table,
    TableRow,
    Value,
    Worked,
    count,
    magnitude_in,
    quantity,
    shared,
    symbol_of,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.entries import length as length_entry
from calculators.compression.barrels_drawing import barrels_map
from calculators.compression.cautions import CLOSE, DOMED, KNOCK, LEVEL, MEASURE_AGAIN, fuel
from calculators.compression.fitted import Wanted, engine_of, fit, question_of
from calculators.compression.measured import (
    DECISION,
    PROPAGATION,
    WANTED,
    Gauges,
    alike,
    heads_of,
    least_deck,
    most_deck,
    target,
    tolerance,
)
from calculators.compression.measured import (
    Barrel as MeasuredBarrel,
)
from calculators.formulas import spacer_choice
from calculators.formulas.decision_rule import judged
from calculators.formulas.spacer_choice import HEIGHT_GRAIN, TooManyChoices, best_choice

ENGINE = "The engine"


class Thickness(Row):
    """Spacers of one thickness."""

    thickness = length_entry(
        "Thickness",
        0.02,
        10,
        why="thinner is foil, thicker is no spacer",
        example="0.25; 0.5; 0.75; 1.0",
        shared_as="spacer_thickness",
    )
    pieces = count("Pieces", 0, 99, why="a drawer", example="4; 4; 2; 4", shared_as="spacer_pieces")


class Spacers(Gauges, Question):
    """Geometry only: which ratio the fuel and the engine stand is the engine maker's to say.

    Takes every barrel to have the same bore and every piston the same stroke. Every stack that the drawer allows is
    weighed: first counts the worst cylinder, then the sum of all deviations, then the fewest parts.
    """

    asks = "Which spacers go under the barrels?"
    works_out = ("spacer_height",)

    target = target()
    least_deck = least_deck()
    drawer = Table(
        Thickness,
        each="Spacer {}",
        most=8,
        hint="What lies in the drawer: each thickness as you measured it, and how many there are of it.",
    )
    most_pieces = count(
        "Most pieces in one stack",
        1,
        3,
        why="every joint is one more that can leak",
        usual="2",
        shared_as="most_pieces",
        said="{} pieces at most",
    )
    tolerance = tolerance()
    most_deck = most_deck()
    height_tolerance = shared.height_tolerance(shared_as="height_tolerance", refines=WANTED)
    bore = shared.bore(refines=ENGINE)
    stroke = shared.stroke(refines=ENGINE)
    cylinders = shared.cylinders(refines=ENGINE)
    heads = shared.heads(refines=ENGINE)
    rows = Table(MeasuredBarrel, each="Cylinder {}", most=12, count="cylinders", refines="What was measured")

    def answer(self) -> Answer:
        heads = heads_of(self.heads, self.cylinders)
        wanted = Wanted(
            target=self.target,
            tolerance=self.tolerance,
            least_deck=self.least_deck,
            most_deck=self.most_deck,
            height_tolerance=self.height_tolerance,
            most_pieces=self.most_pieces,
            thickness=tuple(of.thickness for of in self.drawer),
        )
        engine = engine_of(
            self.measured(self.bore, self.stroke, self.rows),
            self.rows,
            heads,
            [(of.thickness, of.pieces) for of in self.drawer],
            wanted,
            self.depth_error,
        )
        question = question_of(engine, wanted)
        try:
            choice = best_choice(question)
        except TooManyChoices:
            raise InputErrors(too_many_ways(engine, question)) from None
        if choice is None:
            raise _refused(why_none(engine, question))
        worst = question.worst(choice)
        missed = engine.misses(engine.ratio(worst, question.stacks[choice[worst]].height))
        why = _missed(engine, question, choice) if missed else None
        if why and why.field == "thickness.1" and not self.drawer:
            raise Lacking(why)
        fitted = fit(engine, [question.stacks[stack] for stack in choice])
        tops = tuple(steps(engine, fitted))
        return Answer(
            headline=_headline(engine, fitted, missed),
            says=_says(engine, question, choice, fitted, tops, missed),
            drawing=barrels_map(
                engine.heads,
                tuple(engine.fitted(barrel.stack).removesuffix(f" {engine.unit}") for barrel in fitted),
                engine.unit,
                "Nearest spacers under each barrel" if missed else "Spacers under each barrel",
            ),
            values=(
                *_chosen(engine, fitted, missed),
                *_level(engine, tops),
                *_reached(engine, fitted),
                *_to_buy(engine, question, choice),
            ),
            warnings=(
                *((Caution("notice", why.message),) if why else ()),
                *_warnings(engine, question, choice, fitted, tops),
            ),
            tables=(
                _cylinders(engine, fitted),
                *(
                    candidates_table(engine, question, number, tuple(choice[one] for one in head), missed)
                    for number, head in enumerate(engine.heads)
                ),
            ),
            figures=_figures(engine, question, fitted, self.bore, missed),
            notes=tuple(_notes(engine, fitted)),
            worked=()
            if missed
            else tuple(Worked(name=f"spacer_height.{number}", value=of.height) for number, of in enumerate(fitted, 1)),
        )


def _refused(error: FieldError) -> InputErrors:
    return Lacking(error) if error.field == "thickness.1" else InputErrors(error)


def _missed(engine: Engine, question: spacer_choice.Question, choice: Sequence[int]) -> FieldError:
    """Say whether a fuller drawer would reach the ratio, or nothing made of these spacers."""
    unstinted = question.unstinted
    if unstinted is not None and question.shortages(unstinted):
        worst = question.worst(unstinted)
        if not engine.misses(engine.ratio(worst, question.stacks[unstinted[worst]].height)):
            return too_few(engine, question, unstinted, f"for {plain(engine.wanted.target)} : 1")
    return out_of_reach(engine, question, choice, question.worst(choice))


def _headline(engine: Engine, fitted: Sequence[Barrel], missed: bool) -> str:
    if missed:
        nearest = reached([barrel.best for barrel in fitted])
        return f"{plain(engine.wanted.target)} : 1 out of reach; nearest {nearest} : 1"
    stacks = [barrel.stack for barrel in fitted]
    parts = [
        f"{where.removeprefix('cylinder').removeprefix('s').strip()}: {engine.fitted(stack)}"
        for where, stack in places(engine, stacks)
    ]
    whole = " · ".join(parts) if len(set(stacks)) > 1 else f"{engine.fitted(stacks[0])} under every barrel"
    if len(stacks) == 1:
        whole = f"{engine.fitted(stacks[0])} under the barrel"
    if len(whole) <= LONGEST_HEADLINE:
        return whole
    return f"Barrel by barrel, for {reached([barrel.best for barrel in fitted])} : 1"


def _says(
    engine: Engine,
    question: spacer_choice.Question,
    choice: Sequence[int],
    fitted: Sequence[Barrel],
    tops: Sequence[Step],
    missed: bool,
) -> str:
    stacks, ratios = [barrel.stack for barrel in fitted], reached([barrel.best for barrel in fitted])
    if missed:
        limit = binding_limit(engine, question, choice)
        out_of = f"within {limit.name}" if limit else "of this drawer"
        target = f"{plain(engine.wanted.target)} : 1 is out of reach {out_of}"
        return f"{target}. Nearest: {ratios} : 1, with {everywhere(engine, stacks)}."
    fitting = "; ".join(f"under {where} fit {engine.fitted(stack)}" for where, stack in places(engine, stacks))
    said = f"{fitting[0].upper()}{fitting[1:]}: {ratios} : 1."
    if doubtful := _too_close(fitted):
        said += f" Whether that is in the band is too close to call at {named(doubtful, 'cylinder')}."
    if unlevel := [cylinder for step in tops if step.verdict != "in" for cylinder in step.head]:
        said += f" Whether the tops of {named(unlevel, 'barrel')} are level is too close to call."
    return said


def _too_close(fitted: Sequence[Barrel]) -> list[int]:
    return [cylinder for cylinder, barrel in enumerate(fitted) if barrel.verdict == "too close to call"]


def _chosen(engine: Engine, fitted: Sequence[Barrel], missed: bool) -> Iterator[Value]:
    for number, head in enumerate(engine.heads, 1):
        yield Value(
            key=f"spacers_{number}",
            label=f"{'Nearest: spacers' if missed else 'Spacers'} under {named(head, 'cylinder')}",
            quantity=under_head(engine, head, [fitted[cylinder].stack for cylinder in head]),
            formula="least worst |ratio − wanted|, then least sum of them, then fewest pieces; barrel tops "
            "level, every deck clearance within its limits, no more pieces than the drawer has",
            source=SEARCH,
            given=(("ratio wanted, to 1", engine.wanted.target), ("least deck clearance", engine.wanted.least_deck)),
        )


def _level(engine: Engine, tops: Sequence[Step]) -> Iterator[Value]:
    allowed = engine.wanted.height_tolerance
    symbol = symbol_of(allowed)
    for number, step in enumerate(tops, 1):
        yield Value(
            key=f"step_{number}",
            label=f"Tops of {named(step.head, 'barrel')} stand apart by",
            quantity=quantity(step.apart, "mm"),
            units=tuple(dict.fromkeys((symbol, "mm", "thou"))),
            formula="greatest difference between two barrels' length + spacers; where no length was typed, the barrels "
            "are taken to be alike",
            source=PROPAGATION,
            given=tuple(
                (f"length of barrel {cylinder + 1}", quantity(engine.cylinders[cylinder].top, "mm"))
                for cylinder in step.head
                if engine.cylinders[cylinder].length is not None
            ),
        )
        yield Value(
            key=f"level_{number}",
            label=f"Tops of {named(step.head, 'barrel')} against the height tolerance",
            quantity=step.verdict,
            formula="in where all of it, with its ±, is within the height tolerance",
            source=DECISION,
            given=(("height tolerance", quantity(magnitude_in(allowed, symbol), symbol)),),
        )


def _reached(engine: Engine, fitted: Sequence[Barrel]) -> Iterator[Value]:
    ratios = [barrel.best for barrel in fitted]
    lowest, highest = ratios.index(min(ratios)), ratios.index(max(ratios))
    tightest = _tightest(fitted)
    for key, label, cylinder in (("lowest_ratio", "Lowest", lowest), ("highest_ratio", "Highest", highest)):
        yield Value(
            key=key,
            label=f"{label} ratio, to 1, in cylinder {cylinder + 1}",
            quantity=fitted[cylinder].ratio,
            places=2,
            formula="(swept volume + clearance volume) ÷ clearance volume; ± is k = 2",
            source=PROPAGATION,
            given=(
                ("swept volume", engine.swept_volume),
                (f"clearance volume of cylinder {cylinder + 1}", fitted[cylinder].clearance),
            ),
        )
    yield Value(
        key="least_deck_clearance",
        label=f"Least deck clearance, in cylinder {tightest + 1}",
        quantity=fitted[tightest].gap,
        units=tuple(dict.fromkeys((symbol_of(engine.wanted.least_deck), "mm", "thou"))),
        formula="deck height + spacers + gasket thickness",
        source=GEOMETRY,
        given=(
            ("deck height", quantity(engine.cylinders[tightest].depth, "mm")),
            ("spacers", fitted[tightest].height),
            ("gasket", quantity(engine.gasket, "mm")),
        ),
    )


def _tightest(fitted: Sequence[Barrel]) -> int:
    return min(range(len(fitted)), key=lambda cylinder: fitted[cylinder].gap_estimate)


def _to_buy(engine: Engine, question: spacer_choice.Question, choice: Sequence[int]) -> Iterator[Value]:
    """Yield what to buy, where more of the same thicknesses would do better."""
    unstinted = question.unstinted
    if unstinted is None or tuple(unstinted) == tuple(choice):
        return
    used = Counter(size for stack in unstinted for size in question.stacks[stack].pieces)
    lacking = listed(
        f"{used[size] - engine.spacers[size].pieces} of {engine.spacers[size].stamp} {engine.unit}"
        for size, _ in question.shortages(unstinted)
    )
    ratios = [engine.ratio(cylinder, question.stacks[stack].height) for cylinder, stack in enumerate(unstinted)]
    yield Value(
        key="to_buy",
        label="Or to buy, for the best of these thicknesses",
        quantity=f"{lacking} more, for {reached(ratios)} : 1",
        formula="the same choice, as if the drawer held any number of each thickness",
        source=SEARCH,
        given=(("ratio wanted, to 1", engine.wanted.target),),
    )


def _warnings(
    engine: Engine,
    question: spacer_choice.Question,
    choice: Sequence[int],
    fitted: Sequence[Barrel],
    tops: Sequence[Step],
) -> Iterator[Caution]:
    yield KNOCK
    yield fuel(max(barrel.best for barrel in fitted))
    if min(barrel.least_gap for barrel in fitted) < 1:
        yield CLOSE
    if any(cylinder.domed for cylinder in engine.cylinders):
        yield DOMED
    if any(len(head) > 1 for head in engine.heads):
        yield LEVEL
    yield MEASURE_AGAIN
    allowed = engine.wanted.height_tolerance
    for step in tops:
        if step.verdict != "in":
            yield Caution(
                "notice",
                f"Whether the tops of {named(step.head, 'barrel')} stand within {length(allowed, symbol_of(allowed))} "
                "of each other is too close to call with these readings. Measure lengths and spacers with a "
                "micrometer, each three times.",
            )
    for doubt in (*_close_to_a_limit(engine, fitted), *_not_resolved(engine, question, choice, fitted)):
        yield Caution("notice", doubt)


def _close_to_a_limit(engine: Engine, fitted: Sequence[Barrel]) -> Iterator[str]:
    least = engine.wanted.least_deck
    if doubtful := _too_close(fitted):
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


def _not_resolved(
    engine: Engine, question: spacer_choice.Question, choice: Sequence[int], fitted: Sequence[Barrel]
) -> Iterator[str]:
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


def _notes(engine: Engine, fitted: Sequence[Barrel]) -> Iterator[str]:
    if len(fitted) > 1 and (said := alike([barrel.ratio for barrel in fitted])):
        yield said
    yield "The choice goes by the best estimates; the ± says how far the readings let you trust them."
    yield "A spacer is as thick as you typed it. Measure it; type a ± with it if you doubt it."
    if all(cylinder.length is None for cylinder in engine.cylinders):
        yield "All barrels are taken to be alike in length. Type their lengths where they are not."


def _cylinders(engine: Engine, fitted: Sequence[Barrel]) -> ResultTable:
    return ResultTable(
        key="cylinders",
        title="Cylinder by cylinder",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            Column(key="spacers", label="Spacers", strong=True),
            Column(key="stack", label="Their thickness", unit=engine.unit, places=engine.places),
            Column(key="clearance", label="Clearance volume", unit="cm³"),
            Column(key="deck", label="Deck clearance", unit=symbol_of(engine.wanted.least_deck)),
            Column(key="ratio", label="Ratio, to 1", places=2),
            Column(key="verdict", label="Against the band"),
        ),
        rows=tuple(
            TableRow(
                cells=(str(number), engine.fitted(of.stack), of.height, of.clearance, of.gap, of.ratio, of.verdict)
            )
            for number, of in enumerate(fitted, 1)
        ),
        formula="clearance volume = chamber + gasket + π ÷ 4 × bore² × (deck height + spacers) + crown; "
        "ratio = (swept + clearance) ÷ clearance; ± is k = 2, what one instrument is off by is common to all it read; "
        "in, out: the whole interval of ± lies inside or outside the band",
        source=Source(f"{PROPAGATION}; {DECISION}"),
        given=(("swept volume", engine.swept_volume),),
        on_paper=True,
    )


def _figures(
    engine: Engine, question: spacer_choice.Question, fitted: Sequence[Barrel], bore: object, missed: bool
) -> tuple[Figure, ...]:
    tightest = _tightest(fitted)
    barrel, per_unit = fitted[tightest], engine.per_unit
    section = drawing.Section(
        name=str(tightest + 1),
        bore=magnitude_in(bore, "mm"),
        barrel_length=engine.cylinders[tightest].length,
        spacers=tuple(engine.spacers[size].size for size in barrel.stack.pieces),
        gasket=best_of(engine.gasket),
        clearance=barrel.gap_estimate,
        clearance_words=length(barrel.gap, symbol_of(engine.wanted.least_deck)),
        spacer_words=engine.fitted(barrel.stack),
    )
    chart = drawing.ratio_chart(
        lambda cylinder, height: engine.ratio(cylinder, height / per_unit),
        [of.stack.height * per_unit for of in fitted],
        engine.wanted.target,
        engine.wanted.tolerance,
        question.stacks[-1].height * per_unit,
        engine.unit,
        "nearest" if missed else "chosen",
    )
    return drawing.barrel_section(section), chart
