"""Set the wrench and tighten the nuts, pass by pass, in the order that keeps the part square.

Takes the final torque as given: whether it is right for the stud, its thread and what is on the
thread is the engine maker's to say. Degrees that the maker wants after the torque are told, not checked.
"""

from __future__ import annotations

import itertools
import math
from types import SimpleNamespace
from typing import Any

from calculators import (
    CONVERSION,
    Choice,
    Field,
    FieldError,
    Figure,
    Form,
    InputErrors,
    Measure,
    Number,
    Report,
    Rows,
    Section,
    Series,
    Value,
    magnitude_in,
)
from calculators._torque.passes import planned
from calculators._torque.report import (
    UNITS,
    cautions,
    notes,
    passes_table,
    passes_walks,
    screw_cautions,
    sentence,
    spring_cautions,
    unknowns,
    wrench_values,
)
from calculators._torque.screws import MOST, SEQUENCES, Screws, is_unknown, screw_values, screws_of
from calculators._torque.step_chart import step_chart
from calculators._torque.stud_map import stud_map
from calculators._torque.stud_order import PATTERNS, Studs, order_values, studs_of
from calculators._torque.wrench_drawing import wrench_drawing
from calculators._torque.wrenches import TYPES, wrenches_of
from calculators.formulas.wrench_marks import even_shares, nip_shares

TITLE = "Torque stages"
_TORQUE = Measure(own="N·m", low=1, high=400, why="below and above, workshop wrenches do not reach", exact=True)
_SCREW = Measure(own="N·m", low=1, high=100, why="beyond, no such screw is tightened", exact=True)
_SETTING = Measure(own="N·m", low=0.1, high=1000, why="smaller and larger wrenches are not used here", exact=True)
_STEP = Measure(own="N·m", low=0.01, high=50, why="finer or coarser scales are not made", exact=True)
_LEVER = Measure(own="mm", low=50, high=1500, why="shorter and longer wrenches are not pulled by one hand")
_PLACE = Measure(own="mm", low=-1000, high=1000, why="no part of an engine's top end is wider", exact=True)


FORM = Form(
    (
        Section(
            title="The figure and the wrench",
            fields=(
                Field(
                    key="target",
                    label="Final torque",
                    help="From the engine maker, for these nuts and this thread condition. Rocker posts: see below.",
                    kind=_TORQUE,
                    card="torques.cylinder_head",
                    example="34 N·m",
                    reading="head_torque",
                ),
                Field(
                    key="graduation",
                    instrument="torque_wrench",
                    label="Wrench scale step",
                    help="What one mark of the wrench is worth, in the unit it is marked in.",
                    kind=_STEP,
                    default="1 N·m",
                    reading="wrench_step",
                ),
                Field(
                    key="wrench_low",
                    instrument="torque_wrench",
                    label="Lowest wrench setting",
                    kind=_SETTING,
                    optional=True,
                    reading="wrench_low",
                ),
                Field(
                    key="wrench_high",
                    instrument="torque_wrench",
                    label="Highest wrench setting",
                    help="Typed once, a pass that the wrench cannot be trusted with is refused.",
                    kind=_SETTING,
                    optional=True,
                    reading="wrench_high",
                ),
                Field(
                    key="wrench_type",
                    label="Wrench type",
                    kind=Choice(options=TYPES),
                    default="unknown",
                    reading="wrench_type",
                ),
                Field(
                    key="passes",
                    label="Number of passes",
                    kind=Number(low=1, high=8, why="more passes gain nothing"),
                    help="In even steps up to the final torque; the confirming pass comes on top.",
                    default="3",
                ),
            ),
        ),
        Section(
            title="The studs",
            fields=(
                Field(
                    key="pattern",
                    label="Stud pattern",
                    kind=Choice(
                        options={"card": "As on the engine card", **PATTERNS, "typed": "Positions typed below"}
                    ),
                    default="card",
                    behind="studs.cylinder_head.positions",
                ),
                Field(
                    key="heads",
                    label="Heads to tighten",
                    help="Each has a list of its own to tick. Empty: one for each bank on the engine card.",
                    kind=Number(low=1, high=12, why="no engine here has more heads"),
                    optional=True,
                ),
            ),
        ),
        Section(
            title="Screws besides the studs",
            help="Internal hexagon screws, deep between the fins or beside the inlet flange: easily missed.",
            fields=(
                Field(
                    key="screws",
                    label="Screws besides the studs",
                    help="In each head. 0 where there are none.",
                    kind=Number(low=0, high=MOST, why="no head here has more"),
                    card="studs.head_screws.screw_count",
                    optional=True,
                ),
                Field(
                    key="screw_torque",
                    label="Screw torque",
                    kind=_SCREW,
                    card="torques.head_cap_screw",
                    optional=True,
                    reading="head_screw_torque",
                ),
                Field(
                    key="screw_sequence",
                    label="When their turn comes",
                    help="The engine maker's order wins.",
                    kind=Choice(options=SEQUENCES),
                    card="studs.head_screws.screw_sequence",
                    optional=True,
                ),
            ),
        ),
        Section(
            title="Passes as the maker gives them",
            folded=True,
            fields=(
                Field(
                    key="shares",
                    label="Passes in per cent",
                    help="Typed here, these replace the even steps: 40 70 100.",
                    kind=Series(
                        of=Measure(own="%", low=1, high=100, why="a share of the final torque", exact=True),
                        fewest=1,
                        most=8,
                        like="40 70 100",
                    ),
                    optional=True,
                ),
                Field(
                    key="nip",
                    label="First nip",
                    help="The first pass, as a torque; the others rise evenly from it.",
                    kind=Measure(own="N·m", low=0.5, high=400, why="a first pass below the final torque", exact=True),
                    optional=True,
                ),
                Field(
                    key="turns",
                    label="Turns after the torque",
                    help="Degrees for every nut once the final torque is on: 90, or 60 60 for two rounds.",
                    kind=Series(
                        of=Measure(own="°", low=5, high=360, why="a part of a turn", exact=True),
                        fewest=1,
                        most=3,
                        like="90",
                    ),
                    optional=True,
                ),
            ),
        ),
        Section(
            title="Extension or crowfoot on the wrench",
            help="What sets the nut off the drive square. A straight socket extension on the square changes nothing.",
            folded=True,
            fields=(
                Field(
                    key="extension",
                    label="Extension length",
                    help="Middle of the drive square to middle of the nut.",
                    kind=Measure(own="mm", low=5, high=500, why="shorter and longer ones are not made"),
                    optional=True,
                ),
                Field(
                    key="angle",
                    label="Extension angle",
                    help="0 points straight on from the wrench, 90 square to it, 180 back to the hand.",
                    kind=Measure(own="°", low=0, high=180, why="either side alike", exact=True),
                    default="0°",
                ),
                Field(
                    key="wrench_length",
                    label="Wrench lever length",
                    help="Middle of the grip to middle of the drive square.",
                    kind=_LEVER,
                    optional=True,
                    reading="wrench_length",
                ),
            ),
        ),
        Section(
            title="A small wrench for the early passes",
            help="Taken for each pass that the first wrench does not reach.",
            folded=True,
            fields=(
                Field(
                    key="small_step",
                    instrument="small_wrench",
                    label="Small wrench scale step",
                    kind=_STEP,
                    optional=True,
                    reading="small_wrench_step",
                ),
                Field(
                    key="small_low",
                    instrument="small_wrench",
                    label="Lowest small wrench setting",
                    kind=_SETTING,
                    optional=True,
                    reading="small_wrench_low",
                ),
                Field(
                    key="small_high",
                    instrument="small_wrench",
                    label="Highest small wrench setting",
                    kind=_SETTING,
                    optional=True,
                    reading="small_wrench_high",
                ),
                Field(
                    key="small_type",
                    label="Small wrench type",
                    kind=Choice(options=TYPES),
                    default="unknown",
                    reading="small_wrench_type",
                ),
                Field(
                    key="small_length",
                    label="Small wrench lever length",
                    help="Needed with an extension only.",
                    kind=_LEVER,
                    optional=True,
                    reading="small_wrench_length",
                ),
            ),
        ),
        Section(
            title="Rocker-shaft posts instead of the head",
            folded=True,
            fields=(
                Field(
                    key="posts",
                    label="Posts to tighten",
                    kind=Choice(
                        options={"none": "None, the studs above", "2": "2 posts", "3": "3 in line", "4": "4 in line"}
                    ),
                    default="none",
                ),
                Field(
                    key="post_torque",
                    label="Post torque",
                    help="Takes the place of the final torque.",
                    kind=_TORQUE,
                    card="torques.rocker_shaft",
                    optional=True,
                ),
            ),
        ),
        Rows(
            key="studs",
            title="Stud positions",
            help="Seen from outside, from any one point; taken where the stud pattern says so.",
            folded=True,
            each="Stud {}",
            most=20,
            fields=(
                Field(
                    key="across",
                    label="Distance across",
                    help="To the right; minus to the left.",
                    kind=_PLACE,
                    optional=True,
                ),
                Field(key="up", label="Distance up", help="Minus is down.", kind=_PLACE, optional=True),
            ),
        ),
        Rows(
            key="screw_places",
            title="Screw positions",
            help="From the same point as the studs; in place of those on the engine card.",
            folded=True,
            each="Screw {}",
            most=MOST,
            fields=(
                Field(
                    key="screw_across",
                    label="Screw distance across",
                    help="To the right; minus to the left.",
                    kind=_PLACE,
                    optional=True,
                ),
                Field(key="screw_up", label="Screw distance up", help="Minus is down.", kind=_PLACE, optional=True),
            ),
        ),
    ),
    sets_aside=("small_length",),
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the passes, the marks to set, and the order of the studs."""
    posts = inputs.posts != "none"
    target = _target(inputs)
    shares, chosen_by = _shares(inputs, target)
    studs = studs_of(inputs)
    wrenches = wrenches_of(inputs, target)
    passes = planned(target, shares, wrenches, chosen_by)
    screws = screws_of(inputs, studs, wrenches)
    turns = tuple(magnitude_in(turn, "°") for turn in inputs.turns or ())
    is_small = passes[-1].wrench is not wrenches[0]
    kind, lever = (inputs.small_type, inputs.small_length) if is_small else (inputs.wrench_type, inputs.wrench_length)
    lengths = (lever, inputs.extension, inputs.angle) if inputs.extension is not None else None
    return Report(
        lead=sentence(passes, turns, " – ".join(studs.in_order), drawn_down=posts, screws=screws),
        values=(
            Value(
                key="target",
                label="Post torque" if posts else "Final torque",
                quantity=target,
                units=UNITS,
                formula="1 lbf·ft = 1.355818 N·m; 1 lbf·in = 0.1129848 N·m; 1 kgf·m = 9.80665 N·m",
                source=CONVERSION,
                given=(("typed", target),),
            ),
            *wrench_values(passes[-1], TYPES[kind], lengths),
            *order_values(studs),
            *(() if posts else screw_values(screws, inputs.screws)),
        ),
        tables=(passes_table(target, passes, turns),),
        figures=_figures(studs, lengths, passes[-1].setting, screws),
        walks=passes_walks(studs, passes, turns, drawn_down=posts, screws=screws, heads=_heads(inputs)),
        cautions=(
            *cautions(passes, turns, bool(studs.published), lengths is not None),
            *screw_cautions(screws, is_unknown(inputs)),
            *(spring_cautions(target, inputs.target) if posts else ()),
            *unknowns(inputs.wrench_type == "unknown", inputs.wrench_high is None),
        ),
        notes=notes(turns, screws),
    )


def _heads(inputs: SimpleNamespace) -> int:
    """Return how many heads are tightened: as typed, else one for each bank on the card."""
    banks = inputs.card.fact("layout.banks") if inputs.card else None
    return int(inputs.heads or len(banks or ()) or 1)


def _target(inputs: SimpleNamespace) -> Any:
    if inputs.posts == "none":
        return inputs.target
    if inputs.post_torque is None:
        raise InputErrors(FieldError("post_torque", "Enter the post torque, in newton metres"))
    return inputs.post_torque


def _shares(inputs: SimpleNamespace, target: Any) -> tuple[tuple[float, ...], str]:
    """Return the share of each pass, and the field it comes from."""
    if inputs.shares:
        if inputs.nip is not None:
            message = "First nip must be empty where the passes are typed in per cent"
            raise InputErrors(FieldError("nip", message))
        shares = tuple(magnitude_in(share, "%") / 100 for share in inputs.shares)
        if any(later <= earlier for earlier, later in itertools.pairwise(shares)):
            raise InputErrors(FieldError("shares", "Passes in per cent must rise from pass to pass, like 40 70 100"))
        return (shares if math.isclose(shares[-1], 1) else (*shares, 1.0)), "shares"
    if inputs.nip is None:
        return even_shares(inputs.passes), "passes"
    nip = magnitude_in(inputs.nip, "N·m") / magnitude_in(target, "N·m")
    if nip >= 1:
        raise InputErrors(FieldError("nip", "First nip must be below the final torque"))
    if inputs.passes < 2:
        raise InputErrors(FieldError("passes", "Number of passes must be 2 or more with a first nip"))
    return nip_shares(inputs.passes, nip), "nip"


def _figures(
    studs: Studs, lengths: tuple[Any, Any, Any] | None, setting: str, screws: Screws | None
) -> tuple[Figure, ...]:
    figures = [stud_map(studs.names, studs.positions, studs.order, screws=screws.places if screws else ())]
    if lengths:
        lever, extension, angle = lengths
        figures.append(
            wrench_drawing(magnitude_in(lever, "mm"), magnitude_in(extension, "mm"), magnitude_in(angle, "°"), setting)
        )
    if len(studs.order) > 2:
        figures.append(step_chart(studs.in_order, studs.imbalances, studs.edge_imbalances))
    return tuple(figures)
