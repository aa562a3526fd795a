"""Which spacers of the drawer go under which barrel."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench import (
    Answer,
    Caution,
    FieldError,
    InputErrors,
    Lacking,
    Late,
    Question,
    Row,
    Table,
    Worked,
    WorkedFirst,
    count,
    quantity,
    shared,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.entries import length
from calculators.bench.units import plain
from calculators.compression.barrels_drawing import barrels_map
from calculators.compression.binding_limit import binding_limit
from calculators.compression.candidates import candidates_table
from calculators.compression.engine import Engine, Wanted, engine_of, question_of
from calculators.compression.fitted import Barrel, fit
from calculators.compression.level_tops import Step, steps
from calculators.compression.measured import WANTED, Gauges, heads_of, least_deck, most_deck, target, tolerance
from calculators.compression.measured import Barrel as MeasuredBarrel
from calculators.compression.reasons import out_of_reach, too_few, too_many_ways, why_none
from calculators.compression.spacers_doubted import notes, too_close, warnings
from calculators.compression.spacers_told import chosen, cylinders_table, drawn, level, ratios, to_buy
from calculators.compression.stacks_told import everywhere, places
from calculators.compression.words import named, reached
from calculators.formulas import spacer_choice
from calculators.formulas.spacer_choice import TooManyChoices, best_choice

ENGINE = "The engine"


class Thickness(Row):
    """Spacers of one thickness."""

    thickness = length(
        "Thickness",
        0.02,
        10,
        why="thinner is foil, thicker is not a spacer",
        example="0.25; 0.5; 0.75; 1.0",
        shared_as="spacer_thickness",
    )
    pieces = count("Pieces", 0, 99, why="a drawer", example="4; 4; 2; 4", shared_as="spacer_pieces")


class Spacers(Gauges, Question):
    """Geometry only: ask the engine maker what ratio the engine and its fuel can take.

    Assumes that all bores and all strokes are equal. Every stack you can make from your spacers is compared: by the
    worst cylinder first, then by the sum of all deviations, then by the fewest parts.
    """

    asks = "Which spacers go under the barrels?"
    tells = "Spacers under the barrels"
    works_out = ("spacer_height",)

    target = target()
    least_deck = least_deck()
    drawer = Table(
        Thickness,
        each="Spacer {}",
        most=8,
        hint="The spacers you have: each thickness as measured, and how many of it.",
    )
    most_pieces = count(
        "Most pieces in one stack",
        1,
        3,
        why="each joint more is one more that can leak",
        usual="2",
        shared_as="most_pieces",
        said="{} pieces at most",
    )
    tolerance = tolerance()
    most_deck = most_deck()
    height_tolerance = shared.height_tolerance(refines=WANTED)
    bore = shared.bore(refines=ENGINE)
    stroke = shared.stroke(refines=ENGINE)
    cylinders = shared.cylinders(refines=ENGINE)
    heads = shared.heads(refines=ENGINE)
    rows = Table(MeasuredBarrel, each="Cylinder {}", most=12, count="cylinders", refines="What was measured")

    def answer(self) -> WorkedFirst:
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
        stacks = [question.stacks[stack] for stack in choice]
        worked = (
            ()
            if missed
            else tuple(
                Worked(name=f"spacer_height.{number}", value=quantity(engine.height(stack), "mm"))
                for number, stack in enumerate(stacks, 1)
            )
        )
        return WorkedFirst(worked, lambda: _told(engine, question, choice, why))


def _told(engine: Engine, question: spacer_choice.Question, choice: Sequence[int], why: FieldError | None) -> Answer:
    """Return the answer to a choice; ``why`` says what kept it from the wanted ratio."""
    missed = why is not None
    fitted = fit(engine, [question.stacks[stack] for stack in choice])
    tops = tuple(steps(engine, fitted))
    return Answer(
        headline=_headline(engine, fitted, missed),
        says=_says(engine, question, choice, fitted, tops, missed),
        record=_record(engine, fitted),
        drawing=barrels_map(
            engine.heads,
            tuple(engine.fitted(barrel.stack).removesuffix(f" {engine.unit}") for barrel in fitted),
            engine.unit,
            "Nearest spacers under each barrel" if missed else "Spacers under each barrel",
        ),
        values=Late(
            lambda: (
                *chosen(engine, fitted, missed),
                *level(engine, tops),
                *ratios(engine, fitted),
                *to_buy(engine, question, choice),
            )
        ),
        warnings=Late(
            lambda: (
                *((Caution("notice", why.message),) if why else ()),
                *warnings(engine, question, choice, fitted, tops),
            )
        ),
        tables=Late(
            lambda: (
                cylinders_table(engine, fitted),
                *(
                    candidates_table(engine, question, number, tuple(choice[one] for one in head), missed)
                    for number, head in enumerate(engine.heads)
                ),
            )
        ),
        figures=Late(lambda: drawn(engine, question, fitted, missed)),
        notes=Late(lambda: notes(engine, fitted)),
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


def _record(engine: Engine, fitted: Sequence[Barrel]) -> str:
    """Return what the owner reads of it."""
    stacks = [barrel.stack for barrel in fitted]
    under = "; ".join(f"{engine.fitted(stack)} under {where}" for where, stack in places(engine, stacks))
    return f"Spacers: {under}. The ratio with them is {reached([barrel.best for barrel in fitted])} : 1."


def _says(
    engine: Engine,
    question: spacer_choice.Question,
    choice: Sequence[int],
    fitted: Sequence[Barrel],
    tops: Sequence[Step],
    missed: bool,
) -> str:
    stacks, to_one = [barrel.stack for barrel in fitted], reached([barrel.best for barrel in fitted])
    if missed:
        limit = binding_limit(engine, question, choice)
        out_of = f"within {limit.name}" if limit else "of your spacers"
        target = f"{plain(engine.wanted.target)} : 1 is out of reach {out_of}"
        return f"{target}. Nearest: {to_one} : 1, with {everywhere(engine, stacks)}."
    fitting = "; ".join(f"under {where} fit {engine.fitted(stack)}" for where, stack in places(engine, stacks))
    said = f"{fitting[0].upper()}{fitting[1:]}: {to_one} : 1."
    if doubtful := too_close(fitted):
        said += f" Whether that is in the band is too close to call at {named(doubtful, 'cylinder')}."
    if unlevel := [cylinder for step in tops if step.verdict != "in" for cylinder in step.head]:
        said += f" Whether the tops of {named(unlevel, 'barrel')} are level is too close to call."
    return said
