"""Choose the spacers under the barrels from measured volumes, for ratio, deck clearance and level barrel tops.

Geometry only: which ratio the fuel and the engine stand is the engine maker's to say. Takes
every barrel to have the same bore and every piston the same stroke.
"""

from __future__ import annotations

from types import SimpleNamespace

from calculators import (
    Field,
    FieldError,
    Form,
    InputErrors,
    Measure,
    Number,
    Report,
    Rows,
    Section,
    magnitude_in,
)
from calculators._compression.measured_engine import Engine, read_engine
from calculators._compression.reasons import out_of_reach, too_few, too_many_ways, why_none
from calculators._compression.report import report
from calculators._fields import (
    AIR_TEMPERATURE,
    ALTITUDE,
    BEFORE,
    BORE,
    CHAMBER,
    CROWN,
    CYLINDERS,
    EXPONENT,
    EXPONENT_ERROR,
    FILLED_FROM,
    HEADS,
    INLET_CLOSING,
    ROD_LENGTH,
    STROKE,
)
from calculators._units import plain
from calculators.formulas.spacer_choice import (
    HEIGHT_GRAIN,
    Question,
    TooManyChoices,
    best_choice,
    stacks_of,
)

TITLE = "Compression and spacers"

_READ_WORDS = {"volume": "volume", "depth": "depth", "bore": "bore and stroke"}


def _limit(key: str, what: str, own: str, default: str, high: float) -> Field:
    return Field(
        key=key,
        label=f"Error limit of the {_READ_WORDS[what]} readings",
        help="Plus or minus. A ± typed with a reading wins over it.",
        kind=Measure(
            own=own, low=0, high=high, why="a reading further off decides nothing", exact=True, plus_minus=True
        ),
        default=default,
    )


_VOLUME_SCATTER = Field(
    key="volume_scatter",
    label="Scatter of the volume readings",
    help="Plus or minus: reading the scale, from fill to fill. It alone counts between volumes of one burette.",
    kind=Measure(own="cm³", low=0, high=20, why="a reading further off decides nothing", exact=True, plus_minus=True),
    default="0.02 cm³",
    reading="volume_scatter",
)

FORM = Form(
    (
        Section(
            title="The engine",
            fields=(
                BORE,
                STROKE,
                CYLINDERS,
                HEADS,
            ),
        ),
        Rows(
            key="readings",
            title="What you measured",
            each="Cylinder {}",
            most=12,
            count="cylinders",
            help="Piston at top dead centre, barrel clamped down without spacer.",
            fields=(
                CHAMBER,
                Field(
                    key="deck",
                    instrument="depth_gauge",
                    label="Deck height",
                    help="From the barrel's top down to the piston; minus where the piston stands proud.",
                    reading="deck",
                    kind=Measure(
                        own="mm", low=-10, high=20, why="beyond, the piston or the barrel is another engine's"
                    ),
                    example="0.42; 0.38; 0.45; 0.41",
                ),
                CROWN,
                Field(
                    key="barrel_length",
                    label="Barrel length",
                    help="Shoulder to top; empty where all barrels under a head are alike.",
                    reading="barrel_length",
                    kind=Measure(own="mm", low=20, high=500, why="engines of this kind"),
                    optional=True,
                ),
            ),
        ),
        Rows(
            key="drawer",
            title="The spacers you have",
            each="Spacer {}",
            most=8,
            fields=(
                Field(
                    key="thickness",
                    label="Thickness",
                    reading="spacer_thickness",
                    kind=Measure(own="mm", low=0.02, high=10, why="thinner is foil, thicker is no spacer"),
                    example="0.25; 0.5; 0.75; 1.0",
                ),
                Field(
                    key="pieces",
                    label="Pieces",
                    reading="spacer_pieces",
                    kind=Number(low=0, high=99, why="a drawer"),
                    example="4; 4; 2; 4",
                ),
            ),
        ),
        Section(
            title="What is wanted",
            fields=(
                Field(
                    key="target",
                    label="Compression ratio wanted",
                    help="To 1. From the engine maker, for the fuel you can get.",
                    reading="target_ratio",
                    kind=Number(low=3, high=20, why="spark-ignition engines", whole=False, to_one=True),
                    card="compression.ratio",
                    example="7.6",
                ),
                Field(
                    key="tolerance",
                    label="Tolerance of the ratio",
                    help="Plus or minus.",
                    kind=Number(
                        low=0.01,
                        high=2,
                        why="tighter cannot be measured, wider is no tolerance",
                        whole=False,
                        plus_minus=True,
                    ),
                    card="compression.ratio_tolerance",
                    default="0.2",
                ),
                Field(
                    key="least_deck",
                    label="Least deck clearance",
                    help="The smallest gap between piston and head that is allowed.",
                    kind=Measure(own="mm", low=0, high=20, why="a gap cannot be less than none"),
                    card="compression.least_deck_clearance",
                    default="1 mm",
                ),
                Field(
                    key="most_deck",
                    label="Most deck clearance",
                    help="Beyond it the gap no longer squeezes the charge; empty for no limit.",
                    kind=Measure(own="mm", low=0, high=20, why="engines of this kind"),
                    card="compression.most_deck_clearance",
                    optional=True,
                ),
                Field(
                    key="height_tolerance",
                    label="Height tolerance",
                    help="Barrel tops under one head may differ by so much.",
                    kind=Measure(own="mm", low=0, high=2, why="further apart, no head seals", plus_minus=True),
                    card="compression.head_height_tolerance",
                    default="0.05 mm",
                ),
                Field(
                    key="most_pieces",
                    label="Most pieces in one stack",
                    kind=Number(low=1, high=3, why="every joint is one more that can leak"),
                    default="2",
                ),
            ),
        ),
        Section(
            title="Head gasket or ring",
            folded=True,
            fields=(
                Field(
                    key="gasket_thickness",
                    instrument="micrometer",
                    label="Gasket thickness",
                    help="Compressed; 0 where barrel and head meet bare.",
                    reading="gasket_thickness",
                    kind=Measure(own="mm", low=0, high=10, why="gaskets and rings of such heads"),
                    card="dimensions.head_gasket_thickness",
                    default="0 mm",
                ),
                Field(
                    key="gasket_bore",
                    label="Gasket bore",
                    help="Empty where it is the cylinder's.",
                    reading="gasket_bore",
                    kind=Measure(own="mm", low=30, high=250, why="engines of this kind"),
                    card="dimensions.head_gasket_bore",
                    optional=True,
                ),
            ),
        ),
        Section(
            title="Inlet closing and the cranking gauge",
            folded=True,
            help="For what is left of the ratio when the inlet valve has shut. Rod or angle empty: not worked out.",
            fields=(
                ROD_LENGTH,
                INLET_CLOSING,
                ALTITUDE,
                AIR_TEMPERATURE,
                EXPONENT,
                EXPONENT_ERROR,
            ),
        ),
        Section(
            title="What stood there before",
            folded=True,
            help="For what moves with the heads.",
            fields=(
                BEFORE,
                Field(
                    key="rocker_ratio",
                    label="Rocker ratio",
                    help="Valve movement divided by pushrod movement; empty where it is not known.",
                    reading="rocker_ratio",
                    kind=Number(low=0.5, high=3, why="rockers of such engines", whole=False, to_one=True),
                    card="dimensions.rocker_ratio",
                    optional=True,
                ),
            ),
        ),
        Section(
            title="How good the readings are",
            folded=True,
            fields=(
                _limit("volume_error", "volume", "cm³", "0.2 cm³", 20),
                _VOLUME_SCATTER,
                FILLED_FROM,
                _limit("depth_error", "depth", "mm", "0.02 mm", 1),
                _limit("bore_error", "bore", "mm", "0.02 mm", 1),
            ),
        ),
    ),
    sets_aside=("before", "height_tolerance", "air_temperature"),
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the spacers to fit, and what they give."""
    engine = read_engine(inputs)
    question = _question(engine)
    try:
        choice = best_choice(question)
    except TooManyChoices:
        error = too_many_ways(engine, question)
        raise InputErrors(error, report=report(engine, question, None)) from None
    answer = report(engine, question, choice)
    if choice is None:
        raise InputErrors(why_none(engine, question), report=answer)
    worst = question.worst(choice)
    if engine.misses(engine.ratio(worst, question.stacks[choice[worst]].height)):
        raise InputErrors(_missed(engine, question, choice), report=answer)
    return answer


def _missed(engine: Engine, question: Question, choice: tuple[int, ...]) -> FieldError:
    """Say whether a fuller drawer would reach the ratio, or nothing made of these spacers."""
    unstinted = question.unstinted
    if unstinted is not None and question.shortages(unstinted):
        worst = question.worst(unstinted)
        if not engine.misses(engine.ratio(worst, question.stacks[unstinted[worst]].height)):
            return too_few(engine, question, unstinted, f"for {plain(engine.wanted.target)} : 1")
    return out_of_reach(engine, question, choice, question.worst(choice))


def _question(engine: Engine) -> Question:
    wanted, cylinders = engine.wanted, engine.cylinders
    stacks = stacks_of(tuple(spacer.size for spacer in engine.spacers), wanted.most_pieces)
    least, most = engine.least_gap - HEIGHT_GRAIN, engine.most_gap + HEIGHT_GRAIN
    return Question(
        heads=engine.heads,
        stacks=stacks,
        stock=tuple(spacer.pieces for spacer in engine.spacers),
        deviations=tuple(
            tuple(abs(engine.ratio(cylinder, stack.height) - wanted.target) for stack in stacks)
            for cylinder in range(len(cylinders))
        ),
        allowed=tuple(
            tuple(least <= cylinder.gap + stack.height <= most for stack in stacks) for cylinder in cylinders
        ),
        lengths=tuple(cylinder.length or 0.0 for cylinder in cylinders),
        level=magnitude_in(wanted.height_tolerance, "mm"),
    )
