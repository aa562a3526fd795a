"""The report on spacers under the barrels: what to fit, what it gives, and what comes with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calculators._compression import drawing
from calculators._compression.binding_limit import binding_limit
from calculators._compression.candidates import SEARCH, candidates_table
from calculators._compression.cautions import cautions, notes, too_close_to_call
from calculators._compression.cranking_report import cranking
from calculators._compression.fitted_barrels import Barrel, fit
from calculators._compression.head_shift import head_shift
from calculators._compression.level_tops import Step, steps
from calculators._compression.levers import levers, other_spacers
from calculators._compression.measured_engine import Engine, best_estimate
from calculators._compression.words import everywhere, length, named, places, reached, under_head
from calculators._report import GEOMETRY, Column, Figure, Kept, Report, Row, Source, Table, Value
from calculators._units import magnitude_in, plain, printed_bare, quantity, symbol_of
from calculators.formulas.spacer_choice import Question

PROPAGATION = Source("JCGM 100:2008 (GUM), 5.1.2 and 5.2.2; expanded uncertainty 6.2, k = 2")
DECISION = Source(
    "ISO 14253-1, rules for proving conformity and nonconformity, with the expanded uncertainty, k = 2", "memory"
)

_ENDS_WORDS = {"lowest": "Lowest", "highest": "Highest"}


def report(engine: Engine, question: Question, choice: Sequence[int] | None) -> Report:
    """Report on the stacks chosen, on the nearest ones, or on the engine without spacers where there is no choice."""
    fitted = fit(engine, [question.stacks[stack] for stack in choice or (0,) * len(engine.cylinders)])
    ratios = [barrel.best for barrel in fitted]
    missed = any(map(engine.misses, ratios))
    standing = "as measured" if choice is None else "nearest" if missed else "chosen"
    tops = () if choice is None else tuple(steps(engine, fitted))
    gauge_values, gauge_tables = cranking(engine.wanted, [barrel.ratio for barrel in fitted], ratios)
    return Report(
        lead=_lead(engine, question, choice, fitted, tops, standing),
        values=(
            *(_chosen_spacers(engine, fitted, missed) if choice is not None else ()),
            *_level_tops(engine, tops),
            *_ratios(engine, fitted),
            *other_spacers(engine, question, choice),
            *gauge_values,
        ),
        tables=(
            _cylinders(engine, fitted),
            *(
                candidates_table(
                    engine, question, number, tuple(choice[one] for one in head) if choice else None, missed
                )
                for number, head in enumerate(engine.heads)
            ),
            levers(engine, [barrel.clearance for barrel in fitted], ratios, standing),
            head_shift(engine, [barrel.height for barrel in fitted]),
            *gauge_tables,
        ),
        figures=_figures(engine, question, fitted, standing),
        kept=tuple(_kept(fitted)) if standing == "chosen" else (),
        cautions=tuple(cautions(engine, question, choice, fitted, tops)),
        notes=tuple(notes(engine, fitted)),
    )


def _lead(
    engine: Engine,
    question: Question,
    choice: Sequence[int] | None,
    fitted: Sequence[Barrel],
    tops: Sequence[Step],
    standing: str,
) -> str:
    stacks, ratios = [barrel.stack for barrel in fitted], reached([barrel.best for barrel in fitted])
    if standing == "as measured":
        return f"Without spacers: {ratios} : 1."
    if standing == "nearest":
        limit = binding_limit(engine, question, choice or ())
        target, nearest = plain(engine.wanted.target), f"{ratios} : 1, with {everywhere(engine, stacks)}"
        if limit:
            return f"{target} : 1 is out of reach within {limit.name}. Nearest: {nearest}."
        return f"{target} : 1 is out of reach of this drawer. Nearest: {nearest}."
    fitting = "; ".join(f"under {where} fit {engine.fitted(stack)}" for where, stack in places(engine, stacks))
    fit_this = f"{fitting[0].upper()}{fitting[1:]}: {ratios} : 1."
    if doubtful := too_close_to_call(fitted):
        fit_this += f" Whether that is in the band is too close to call at {named(doubtful, 'cylinder')}."
    if unlevel := _not_proved_level(tops):
        fit_this += f" Whether the tops of {named(unlevel, 'barrel')} are level is too close to call."
    return fit_this


def _not_proved_level(tops: Sequence[Step]) -> list[int]:
    return [cylinder for step in tops if step.verdict != "in" for cylinder in step.head]


def _level_tops(engine: Engine, tops: Sequence[Step]) -> Iterator[Value]:
    symbol = symbol_of(engine.wanted.height_tolerance)
    tolerance = quantity(magnitude_in(engine.wanted.height_tolerance, symbol), symbol)
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
            given=(("height tolerance", tolerance),),
        )


def _chosen_spacers(engine: Engine, fitted: Sequence[Barrel], missed: bool) -> Iterator[Value]:
    for number, head in enumerate(engine.heads, 1):
        yield Value(
            key=f"spacers_{number}",
            label=f"{'Nearest: spacers' if missed else 'Spacers'} under {named(head, 'cylinder')}",
            quantity=under_head(engine, head, [fitted[cylinder].stack for cylinder in head]),
            formula="least worst |ratio − wanted|, then least sum of them, then fewest pieces; barrel tops "
            "level, every deck clearance within its limits, no more pieces than the drawer has",
            source=SEARCH,
            given=(("ratio wanted, to 1", engine.wanted.target), ("least deck clearance", engine.wanted.least_deck)),
            lead=True,
        )


def _ratios(engine: Engine, fitted: Sequence[Barrel]) -> Iterator[Value]:
    ratios = [barrel.best for barrel in fitted]
    lowest, highest = ratios.index(min(ratios)), ratios.index(max(ratios))
    tightest = _tightest(fitted)
    swept = ("swept volume", engine.swept_volume)
    yield Value(
        key="ratio",
        label="Compression ratio",
        quantity=f"{reached(ratios)} : 1",
        formula="(swept volume + clearance volume) ÷ clearance volume",
        source=GEOMETRY,
        given=(swept, *(_clearance_of(fitted, cylinder) for cylinder in dict.fromkeys((lowest, highest)))),
        lead=True,
    )
    for which, cylinder in (("lowest", lowest), ("highest", highest)):
        yield Value(
            key=f"{which}_ratio",
            label=f"{_ENDS_WORDS[which]} ratio, to 1, in cylinder {cylinder + 1}",
            quantity=fitted[cylinder].ratio,
            places=2,
            formula="(swept volume + clearance volume) ÷ clearance volume; ± is k = 2",
            source=PROPAGATION,
            given=(swept, _clearance_of(fitted, cylinder)),
        )
    if len(fitted) > 1:
        yield Value(
            key="spread",
            label="Spread between cylinders",
            quantity=fitted[highest].ratio - fitted[lowest].ratio,
            places=2,
            formula="highest ratio − lowest ratio; what the cylinders have in common drops out of its ±",
            source=PROPAGATION,
            given=tuple(
                (name, printed_bare(fitted[of].ratio, 2)) for name, of in (("highest", highest), ("lowest", lowest))
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
    yield Value(
        key="displacement",
        label="Displacement",
        quantity=engine.swept_volume * len(fitted),
        units=("cm³", "in³"),
        formula="number of cylinders × π ÷ 4 × bore² × stroke",
        source=GEOMETRY,
        given=(("cylinders", len(fitted)), ("bore", engine.wanted.bore), ("stroke", engine.wanted.stroke)),
    )


def _clearance_of(fitted: Sequence[Barrel], cylinder: int) -> tuple[str, object]:
    return f"clearance volume of cylinder {cylinder + 1}", fitted[cylinder].clearance


def _tightest(fitted: Sequence[Barrel]) -> int:
    return min(range(len(fitted)), key=lambda cylinder: fitted[cylinder].gap_estimate)


def _cylinders(engine: Engine, fitted: Sequence[Barrel]) -> Table:
    rows = [
        (
            str(number),
            engine.fitted(of.stack),
            of.height,
            of.clearance,
            of.gap,
            of.ratio,
            of.verdict,
        )
        for number, of in enumerate(fitted, 1)
    ]
    return Table(
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
        rows=tuple(Row(cells=cells) for cells in rows),
        formula="clearance volume = chamber + gasket + π ÷ 4 × bore² × (deck height + spacers) + crown; "
        "ratio = (swept + clearance) ÷ clearance; ± is k = 2, linear propagation, bore and stroke common to all; "
        "in, out: the whole interval of ± lies inside or outside the band",
        source=Source(f"{PROPAGATION}; {DECISION}"),
        given=(("bore", engine.wanted.bore), ("swept volume", engine.swept_volume)),
    )


def _figures(engine: Engine, question: Question, fitted: Sequence[Barrel], standing: str) -> tuple[Figure, ...]:
    wanted, tightest = engine.wanted, _tightest(fitted)
    barrel, per_unit = fitted[tightest], engine.per_unit
    chart = drawing.ratio_chart(
        lambda cylinder, height: engine.ratio(cylinder, height / per_unit),
        [of.stack.height * per_unit for of in fitted],
        wanted.target,
        wanted.tolerance,
        question.stacks[-1].height * per_unit,
        engine.unit,
        standing,
    )
    section = drawing.Section(
        name=str(tightest + 1),
        bore=magnitude_in(wanted.bore, "mm"),
        barrel_length=engine.cylinders[tightest].length,
        spacers=tuple(engine.spacers[size].size for size in barrel.stack.pieces),
        gasket=best_estimate(engine.gasket),
        clearance=barrel.gap_estimate,
        clearance_words=length(barrel.gap, symbol_of(wanted.least_deck)),
        spacer_words=engine.fitted(barrel.stack),
    )
    return chart, drawing.barrel_section(section)


def _kept(fitted: Sequence[Barrel]) -> Iterator[Kept]:
    for number, barrel in enumerate(fitted, 1):
        of = f"of cylinder {number}"
        yield Kept(path=f"spacer_height.{number}", label=f"Spacers {of}", quantity=barrel.height, unit="mm")
        yield Kept(path=f"deck_clearance.{number}", label=f"Deck clearance {of}", quantity=barrel.gap, unit="mm")
        yield Kept(
            path=f"clearance_volume.{number}", label=f"Clearance volume {of}", quantity=barrel.clearance, unit="cm³"
        )
        yield Kept(path=f"ratio.{number}", label=f"Compression ratio {of}", quantity=barrel.best)
