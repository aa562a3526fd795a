"""What is said of a tightened stud: its values, its thread in other conditions, what it warns of."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.bench import (
    DECISION,
    Caution,
    Column,
    ResultTable,
    Source,
    TableRow,
    Value,
    magnitude_in,
    quantity,
)
from calculators.bench.units import bare, figures, plain, reading, with_plus_minus
from calculators.bench.words import word
from calculators.fasteners.pull_drawing import Band
from calculators.fasteners.thread_and_steel import steel_source
from calculators.fasteners.tightened_stud import FRICTION, LONG, Tightening
from calculators.formulas.bolted_joint import HANDBOOK_K, LUBRICANTS
from calculators.formulas.threads import pitch_diameter

SHORT = Source("Shigley's Mechanical Engineering Design, 10th edition, eq. 8-27 and table 8-15", "memory")
TWIST = Source("VDI 2230-1, assembly preload from the equivalent stress", "memory")

_LONG_FORMULA = "torque ÷ (½ (P + π μ′ d₂) ÷ (π − μ′ P ÷ d₂) + μ (face + hole) ÷ 4), μ′ = μ ÷ cos 30°"
_STANDS_WORDS = {
    "in": "below both over the whole range",
    "out": "above over the whole range",
    "too close to call": "too close to call: above at the worst friction",
}
_ENDS_WORDS = {"least": "Least", "most": "Most"}
_CONDITION_WORDS = {"dry": "dry", "oiled": "oiled", "anti-seize": "anti-seize", "own": "own friction"}
FITTED_WORDS = {"dry": "dry", "oiled": "oiled", "anti-seize": "with anti-seize paste", "own": "with your own friction"}


def pull_values(joint: Tightening) -> Iterator[Value]:
    """Yield the ends of the pull, how they stand to the proof load, and the middle with its budget."""
    stud, (least, most), (low, high) = joint.stud, joint.pulls, joint.friction
    given = (
        ("pitch P", f"{plain(round(stud.thread.pitch, 4))} mm"),
        ("pitch diameter d₂", f"{figures(pitch_diameter(stud.thread.major, stud.thread.pitch), 3)} mm"),
        ("face", quantity(stud.face, "mm")),
        ("hole", quantity(stud.hole, "mm")),
    )
    source = Source(f"{LONG}; friction: {'as typed' if joint.condition == 'own' else FRICTION}")
    ends = (("least", least, 1 - stud.error, high), ("most", most, 1 + stud.error, low))
    for name, pull, share, friction in ends:
        yield Value(
            key=f"{name}_pull",
            label=f"{_ENDS_WORDS[name]} pull of one stud",
            quantity=quantity(pull, "N"),
            words=_force(pull),
            formula=_LONG_FORMULA,
            source=source,
            lead=True,
            given=(("torque", quantity(share * stud.torque / 1000, "N·m")), ("friction μ", plain(friction)), *given),
        )
    pull_shares, stress_shares = joint.proof_shares, joint.yield_shares
    yield Value(
        key="strength_verdict",
        label="Against proof load and yield point",
        quantity=_STANDS_WORDS[joint.stands],
        formula="below: the most pull stays within the proof load and the most stress, pull and twist together, within "
        "the yield point; above: the least pull or the least stress exceeds it",
        source=DECISION,
        lead=True,
        given=(
            ("pull, of the proof load", f"{_percent(pull_shares[0])} to {_percent(pull_shares[1])}"),
            ("pull and twist, of the yield point", f"{_percent(stress_shares[0])} to {_percent(stress_shares[1])}"),
        ),
    )
    middle, half = (low + high) / 2, (high - low) / 2
    expected = reading(stud.torque, stud.torque * stud.error, "Wrench") / stud.arm(
        reading(middle, half, "Friction in the thread"), reading(middle, half, "Friction under the nut")
    )
    best, spread = bare(expected)
    yield Value(
        key="pull",
        label="Pull in the middle of the range",
        quantity=quantity(expected, "N"),
        words=_force(best, spread),
        formula=f"{_LONG_FORMULA}; ± is k = 2, both frictions independent, so it is not an end of the range",
        source=source,
        given=(
            ("torque", f"{figures(stud.torque / 1000, 1)} N·m ± {plain(round(100 * stud.error, 6))}%"),
            ("friction μ", f"{plain(round(middle, 6))} ± {plain(round(half, 6))}"),
            *given,
        ),
    )
    yield Value(
        key="proof_load",
        label="Proof load of one stud",
        quantity=quantity(stud.proof, "N"),
        words=_force(stud.proof),
        formula="proof stress × stress area",
        source=steel_source(stud.steel),
        given=(
            ("proof stress", f"{figures(stud.steel.proof, 0)} MPa"),
            ("stress area", f"{figures(stud.area, 1)} mm²"),
        ),
    )


def total_values(joint: Tightening) -> Iterator[Value]:
    """Yield the clamp of all studs of a head."""
    for name, pull in zip(("least", "most"), joint.pulls, strict=True):
        yield Value(
            key=f"{name}_total",
            label=f"{_ENDS_WORDS[name]} clamp of all {joint.studs}"
            if joint.studs > 1
            else f"{_ENDS_WORDS[name]} clamp",
            quantity=quantity(joint.studs * pull, "N"),
            words=_force(joint.studs * pull),
            formula="number of studs × pull of one, as if all were at the same end of the range",
            source=LONG,
            given=(("studs", joint.studs), ("pull", f"{_kn(pull)} kN")),
        )


def stress_values(joint: Tightening) -> Iterator[Value]:
    """Yield the stress of the pull, that of pull and twist, and the torque factor."""
    stud, most = joint.stud, joint.pulls[1]
    yield Value(
        key="stress",
        label="Most tensile stress, in MPa",
        quantity=most / stud.area,
        places=0,
        formula="most pull ÷ stress area",
        source=steel_source(stud.steel),
        given=(("most pull", f"{_kn(most)} kN"), ("stress area", f"{figures(stud.area, 1)} mm²")),
    )
    worst = stud.stresses(joint.friction)[1]
    yield Value(
        key="yield_share",
        label="Most stress while the nut turns, of the yield point",
        quantity=quantity(100 * joint.yield_shares[1], "%"),
        places=0,
        lead=True,
        formula="√(σ² + 3 τ²) ÷ yield stress, τ = 12 × torque in the thread ÷ (π d³), d of the stress area; "
        "at the worst ends of both frictions",
        source=TWIST,
        given=(
            ("pull and twist together", f"{figures(worst, 0)} MPa"),
            ("yield stress", f"{figures(stud.steel.yielding, 0)} MPa"),
        ),
    )
    middle = sum(joint.friction) / 2
    yield Value(
        key="torque_factor",
        label="Torque factor K of the long formula",
        quantity=float(stud.arm(middle, middle)) / stud.thread.major,
        places=3,
        formula="torque ÷ (pull × thread diameter), in the middle of the friction",
        source=LONG,
        given=(("friction μ", plain(round(middle, 6))), ("thread diameter", quantity(stud.thread.major, "mm"))),
    )


def conditions_table(joint: Tightening) -> ResultTable:
    """Return what the same torque makes of threads in another condition."""
    stud, dry = joint.stud, joint.stud.middle(LUBRICANTS["dry"])
    rows = []
    for name, friction in joint.conditions.items():
        least, most = stud.pulls(friction)
        factor = HANDBOOK_K.get(name)
        cells = (
            name,
            f"{plain(friction[0])} to {plain(friction[1])}",
            least / 1000,
            most / 1000,
            quantity(100 * most / stud.proof, "%"),
            stud.middle(friction) / dry,
            stud.torque / (factor * stud.thread.major) / 1000 if factor else None,
        )
        rows.append(TableRow(cells=cells, chosen=name == joint.condition))
    return ResultTable(
        key="conditions",
        title="The same torque on other threads",
        columns=(
            Column(key="condition", label="Threads"),
            Column(key="friction", label="Friction"),
            Column(key="least", label="Least pull, kN", places=1),
            Column(key="most", label="Most pull, kN", places=1, strong=True),
            Column(key="share", label="Most, of proof", unit="%", places=0),
            Column(key="against_dry", label="Times the pull of dry", places=1),
            Column(key="short", label="By handbook K, kN", places=1),
        ),
        rows=tuple(rows),
        formula="pull by the long formula, at the ends of the friction and of the wrench's error; times dry: in the "
        "middle of each friction; by handbook K: torque ÷ (K × thread diameter) with "
        + ", ".join(f"K {plain(factor)} {word(name)}" for name, factor in HANDBOOK_K.items()),
        source=Source(f"{LONG}; {FRICTION}; {SHORT}"),
        given=(
            ("torque", f"{figures(stud.torque / 1000, 1)} N·m ± {plain(round(100 * stud.error, 6))}%"),
            ("proof load", f"{_kn(stud.proof)} kN"),
        ),
    )


def pull_bands(joint: Tightening) -> list[Band]:
    """Return the pull of each thread condition, [kN]."""
    pulls = {name: joint.stud.pulls(ends) for name, ends in joint.conditions.items()}
    return [
        Band(_CONDITION_WORDS[name], least / 1000, most / 1000, chosen=name == joint.condition)
        for name, (least, most) in pulls.items()
    ]


def strength_cautions(joint: Tightening) -> Iterator[Caution]:
    """Yield what can happen to the stud."""
    yield Caution(
        "warning",
        "A stud that breaks flies out with its nut. Wear eye protection and keep out of line with it.",
    )
    if joint.stands != "in":
        yield Caution(
            "warning",
            f"This torque can pull the stud to {_percent(joint.proof_shares[1])} of its proof load and, with the twist "
            f"of the nut, to {_percent(joint.yield_shares[1])} of its yield point. Beyond 100% it stretches "
            "permanently, and a stud that breaks flies into hand or face. Check class, thread condition and figure "
            "before you tighten.",
        )


def lubricant_cautions(joint: Tightening) -> Iterator[Caution]:
    """Yield what another thread condition than the figure's does, and whose figure wins."""
    stud = joint.stud
    meant, fitted = (FITTED_WORDS.get(name, "") for name in (joint.meant_for, joint.condition))
    if joint.overload > 1:
        yield Caution(
            "warning",
            f"The figure is meant for threads that are {meant}. On yours, {fitted}, the same torque overloads the "
            f"stud: about {figures(joint.overload, 1)} times the intended pull. A stud that breaks flies into "
            "hand or face. Take the figure for your threads.",
        )
    if joint.overload < 1:
        yield Caution(
            "notice",
            f"The figure is meant for threads that are {meant}. On yours, {fitted}, the same torque gives about "
            f"{figures(100 * joint.overload, 0)}% of the intended pull, and the joint may leak.",
        )
    oil = stud.middle(LUBRICANTS["oiled"]) / stud.middle(LUBRICANTS["dry"])
    yield Caution(
        "notice",
        "Oil on a thread whose figure is for dry threads overloads it: here to about "
        f"{figures(oil, 1)} times the pull. Use the thread condition the figure is meant for.",
    )
    yield Caution(
        "notice",
        "The engine maker's figure wins. This answer says what a torque does to the stud. It is not a torque to set.",
    )


def tightening_notes(joint: Tightening) -> Iterator[str]:
    """Yield what is good to know of any such answer."""
    thread, steel = joint.stud.thread, joint.stud.steel
    yield "Friction decides. Two studs oiled from the same can may still be far apart in this range."
    yield (
        "An aluminium head and barrels expand more than steel studs, so a hot engine pulls its studs harder than this "
        "({COMMON_PRACTICE.name})."
    )
    if not joint.studs:
        yield "For the clamp of a whole head, enter the number of studs."
    if steel.graded and thread.name.startswith("#"):
        yield "SAE J429 begins at 1/4 in. Its stresses are used for this thinner thread as well."
    if steel.graded != (thread.per_inch is not None):
        yield "Thread and class belong to two systems of standards. Make sure that you read both right."


def _percent(share: float) -> str:
    return f"{figures(100 * share, 0)}%"


def _kn(newtons: float) -> str:
    return figures(newtons / 1000, 1)


def _force(newtons: float, spread: float | None = None) -> str:
    """Print a pull as the trade reads it, to a tenth of a kilonewton and to one pound-force."""
    in_pounds = [magnitude_in(quantity(part, "N"), "lbf") for part in (newtons, spread or 0.0)]
    if not spread:
        return f"{_kn(newtons)} kN = {figures(in_pounds[0], 0)} lbf"
    return (
        f"{with_plus_minus(newtons / 1000, spread / 1000, 1)} kN = {with_plus_minus(in_pounds[0], in_pounds[1], 0)} lbf"
    )
