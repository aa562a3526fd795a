"""What is said about a tightened stud: its values, tables, cautions and notes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators._fasteners.clamp_drawing import Band, clamp_bands
from calculators._fasteners.tightened_stud import Ends, Hold, Joint, Tightening, held
from calculators._report import COMMON_PRACTICE, Caution, Column, Figure, Report, Row, Source, Table, Value
from calculators._units import (
    bare,
    figures,
    magnitude_in,
    number_in,
    plain,
    printed,
    quantity,
    reading,
    symbol_of,
    with_plus_minus,
)
from calculators._words import word
from calculators.formulas.bolted_joint import HANDBOOK_K, LUBRICANTS, SHEAR_SHARE, external_shear_area
from calculators.formulas.threads import Steel, Thread, pitch_diameter, stress_area

LONG = Source("ISO 16047, tightening torque, and VDI 2230-1", "memory")
FRICTION = Source("VDI 2230-1, friction classes A, B and C, seen in a fastener supplier's copy")
SHORT = Source("Shigley's Mechanical Engineering Design, 10th edition, eq. 8-27 and table 8-15", "memory")
METRIC_STEEL = Source("ISO 898-1, stress under proof load, seen in a fastener supplier's copy")
INCH_STEEL = Source("SAE J429, table 1, seen in a fastener supplier's copy")
TWIST = Source("VDI 2230-1, assembly preload from the equivalent stress", "memory")
DECISION = Source("ISO 14253-1, rules for proving conformity and nonconformity", "memory")
SHEAR = Source("FED-STD-H28/2 and VDI 2230-1, shear area of the internal thread", "memory")
CASES: dict[str, Ends] = {"cast aluminium": (90.0, 180.0), "cast magnesium": (110.0, 145.0), "unknown": (90.0, 180.0)}
"""Shear strength of case metals, least and most, [MPa]: castings from as cast to heat-treated."""
CASTINGS = {
    "cast aluminium": "typical shear strengths from 356.0-F to 356.0-T6, seen in casters' tables",
    "unknown": "typical shear strengths of aluminium and magnesium castings, least and most of both",
    "cast magnesium": "typical shear strengths of magnesium-aluminium-zinc castings, quoted from memory, not seen",
    "own": "shear strength as typed",
}

_LONG_FORMULA = "torque ÷ (½ (P + π μ′ d₂) ÷ (π − μ′ P ÷ d₂) + μ (face + hole) ÷ 4), μ′ = μ ÷ cos 30°"
_STANDS_WORDS = {
    "in": "below both over the whole range",
    "out": "above over the whole range",
    "too close to call": "too close to call: above at the worst friction",
}
_ENDS_WORDS = {"least": "Least", "most": "Most"}
_CONDITION_WORDS = {"dry": "dry", "oiled": "oiled", "anti-seize": "anti-seize", "own": "own friction"}
HOLD_WORDS = {"in": "holds", "out": "tears out", "too close to call": "too close to call"}
FITTED_WORDS = {"dry": "dry", "oiled": "oiled", "anti-seize": "with anti-seize paste", "own": "with your own friction"}


def report(joint: Joint) -> Report:
    """Report what the torque makes of the stud, and what the case holds."""
    least, most = joint.pulls
    shares = f"{_percent(joint.proof_shares[0])} to {_percent(joint.proof_shares[1])}"
    holds = (joint.hold(False), joint.hold(True))
    return Report(
        lead=(
            f"{printed(joint.torque, symbol_of(joint.torque))} on {joint.stud.thread.name}, "
            f"{FITTED_WORDS[joint.condition]}, pulls each stud with {_kn(least)} to {_kn(most)} kN: "
            f"{shares} of the proof load of {steel_words(joint.stud.steel)}. With the twist of the nut it reaches "
            f"{_percent(joint.yield_shares[1])} of the yield point."
        ),
        values=(*pull_values(joint), *(total_values(joint) if joint.studs else ()), *stress_values(joint)),
        tables=(
            conditions_table(joint),
            case_table(
                joint.stud.thread,
                joint.stud.steel,
                joint.case,
                joint.strength,
                joint.length,
                joint.pulls[1],
                joint.inserted,
            ),
        ),
        figures=(_figure(joint, holds),),
        cautions=tuple(_cautions(joint, holds[joint.inserted])),
        notes=tuple(tightening_notes(joint)),
    )


def steel_words(steel: Steel) -> str:
    """Name a steel in a sentence: ``class 8.8``, ``grade 5``."""
    return steel.name if steel.graded else f"class {steel.name}"


def steel_source(steel: Steel) -> Source:
    """Return where a steel's stresses come from."""
    return INCH_STEEL if steel.graded else METRIC_STEEL


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
            units=("N",),
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
        formula="below: neither the most pull exceeds the proof load nor the most stress, pull and twist together, the "
        "yield point; above: the least pull or the least stress does",
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
        units=("N",),
        words=_force(best, spread),
        formula=f"{_LONG_FORMULA}; ± is k = 2, both frictions on their own, so it is no end of the range",
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
        units=("N",),
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
            units=("N",),
            words=_force(joint.studs * pull),
            formula="number of studs × pull of one, as if all stood at the same end of the range",
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
        units=("%",),
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


def conditions_table(joint: Tightening) -> Table:
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
        rows.append(Row(cells=cells, chosen=name == joint.condition))
    return Table(
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


def stud_thread_shears(thread: Thread, steel: Steel, length: Any) -> float:
    """Return the pull at which the stud's own thread shears off over a length, [N]."""
    return float(
        SHEAR_SHARE * steel.breaking * external_shear_area(thread.major, thread.pitch, bare(number_in(length, "mm"))[0])
    )


def case_table(
    thread: Thread, steel: Steel, case: str, strength: Ends, length: Any, pull: float, inserted: bool
) -> Table:
    """Return what the thread in the case holds against a pull, [N], bare and with a wire insert."""
    holds = tuple(held(thread, length, strength, pull, each) for each in (False, True))
    own = stud_thread_shears(thread, steel, length)
    rows = (
        Row(
            cells=(
                "Wire insert" if each else "Bare",
                quantity(hold.major, "mm"),
                hold.area,
                hold.ends[0] / 1000,
                hold.ends[1] / 1000,
                HOLD_WORDS[hold.verdict],
                quantity(hold.needed, "mm"),
            ),
            chosen=each == inserted,
        )
        for each, hold in enumerate(holds)
    )
    return Table(
        key="case",
        title="What the thread in the case holds",
        columns=(
            Column(key="thread", label="Thread"),
            Column(key="diameter", label="Its diameter", unit="mm"),
            Column(key="area", label="Sheared area, mm²", places=0),
            Column(key="least", label="Holds at least, kN", places=1, strong=True),
            Column(key="most", label="At most, kN", places=1),
            Column(key="verdict", label="Against the most pull"),
            Column(key="needed", label="Length sure to hold", unit="mm", places=1),
        ),
        rows=tuple(rows),
        formula="0.875 π × diameter × length × shear strength; the hole of an insert is 1.299 P wider than the stud; "
        f"the stud breaks at {_kn(steel.breaking * stress_area(thread))} kN, its own thread shears at {_kn(own)} kN",
        source=Source(f"{SHEAR}; {CASTINGS[case]}"),
        given=(
            ("length", length),
            ("shear strength", f"{plain(strength[0])} to {plain(strength[1])} MPa"),
            ("most pull", f"{_kn(pull)} kN"),
        ),
    )


def pull_bands(joint: Tightening) -> list[Band]:
    """Return the pull of each thread condition, [kN]."""
    return [
        Band(_CONDITION_WORDS[name], *_kilo(joint.stud.pulls(ends)), name == joint.condition)
        for name, ends in joint.conditions.items()
    ]


def _figure(joint: Joint, holds: tuple[Hold, Hold]) -> Figure:
    case = [
        Band(f"case holds, {'with insert' if inserted else 'bare'}", *_kilo(hold.ends), inserted == joint.inserted)
        for inserted, hold in enumerate(holds)
    ]
    return clamp_bands(pull_bands(joint), case, joint.stud.proof / 1000)


def _cautions(joint: Joint, hold: Hold) -> Iterator[Caution]:
    yield from strength_cautions(joint)
    yield from case_cautions(hold, joint.pulls[1], joint.inserted)
    yield from lubricant_cautions(joint)


def strength_cautions(joint: Tightening) -> Iterator[Caution]:
    """Yield what can happen to the stud."""
    yield Caution(
        "warning",
        "A stud that breaks flies out with its nut. Wear eye protection and stand out of line with it.",
    )
    if joint.stands != "in":
        yield Caution(
            "warning",
            f"This torque can pull the stud to {_percent(joint.proof_shares[1])} of its proof load and, with the twist "
            f"of the nut, to {_percent(joint.yield_shares[1])} of its yield point. Beyond 100% it stretches for good, "
            "and one that breaks flies into hand or face. Check class, thread condition and figure before you tighten.",
        )


def case_cautions(hold: Hold, most: float, inserted: bool) -> Iterator[Caution]:
    """Yield what can happen to the thread of the case under the most pull, [N]."""
    if hold.verdict != "in":
        cure = "Have the insert looked at" if inserted else "Have a thread insert fitted"
        yield Caution(
            "caution",
            f"The thread of the case may tear out at {_kn(hold.ends[0])} kN, and the stud may pull with "
            f"{_kn(most)} kN: a wrench that gives way skins your knuckles. {cure}, or ask a machine shop, "
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
            f"stud: about {figures(joint.overload, 1)} times the pull that is meant. A stud that breaks flies into "
            "hand or face. Take the figure for your threads.",
        )
    if joint.overload < 1:
        yield Caution(
            "notice",
            f"The figure is meant for threads that are {meant}. On yours, {fitted}, the same torque gives about "
            f"{figures(100 * joint.overload, 0)}% of the pull that is meant, and the joint may leak.",
        )
    oil = stud.middle(LUBRICANTS["oiled"]) / stud.middle(LUBRICANTS["dry"])
    yield Caution(
        "notice",
        "Oil on a thread whose figure is for dry threads overloads it: here to about "
        f"{figures(oil, 1)} times the pull. Use the thread condition that the figure is meant for.",
    )
    yield Caution(
        "notice",
        "The engine maker's figure wins. This answer says what a figure does to the stud. It is no figure to set.",
    )


def tightening_notes(joint: Tightening) -> Iterator[str]:
    """Yield what is good to know of any such answer."""
    thread, steel = joint.stud.thread, joint.stud.steel
    yield "Friction decides. Two studs oiled from one can may still lie far apart in this range."
    yield (
        "An aluminium head and barrels grow more with heat than steel studs do, so a hot engine pulls its studs harder "
        f"than this ({COMMON_PRACTICE.name})."
    )
    if not joint.studs:
        yield "For the clamp of a whole head, enter the number of studs."
    if steel.graded and thread.name.startswith("#"):
        yield "SAE J429 begins at 1/4 in. Its stresses are taken for this thinner thread as well."
    if steel.graded != (thread.per_inch is not None):
        yield "Thread and class come from two systems of standards. Make sure that both were read right."


def _kilo(ends: tuple[float, float]) -> tuple[float, float]:
    return ends[0] / 1000, ends[1] / 1000


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
