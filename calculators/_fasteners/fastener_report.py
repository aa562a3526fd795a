"""What is said about units, threads to find, drills and fallback torques."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from calculators._fasteners.clamp_report import FRICTION, LONG, steel_source, steel_words
from calculators._fasteners.tightened_stud import Ends, TightenedStud
from calculators._report import CONVERSION, Column, Row, Source, Table, Value
from calculators._units import (
    bare,
    figures,
    limit_of,
    magnitude_in,
    number_in,
    plain,
    quantity,
    symbol_of,
    unit,
    units_of,
)
from calculators._words import word
from calculators.formulas.thread_finder import Candidate
from calculators.formulas.threads import (
    STEELS,
    Steel,
    Thread,
    clearance_hole,
    drill_for,
    insert_major,
    thread_left,
)

SAFE_SHARE = 0.75
"""Share of the proof load that a fallback torque never exceeds."""

SAFE = Source("Shigley's Mechanical Engineering Design, 10th edition, eq. 8-31, reused fasteners", "memory")
HOLES = Source("handbook rule for the height of thread that a drill leaves; ISO 273 and ASME B18.2.8", "memory")
LISTS = Source("ISO 261, ISO 228-1, ASME B1.1, ASME B1.20.1, BS 84 and BS 93; tolerance 6g of ISO 965-1", "memory")


def conversions(kind: str, value: Any) -> Iterator[Value]:
    """Yield one value in every unit of its kind, to six figures, with the ± as it was typed: a limit."""
    own = symbol_of(value)
    for number, found in enumerate(units_of(kind), 1):
        best, spread = bare(number_in(value, found.symbol))
        gap = "" if found.symbol in "°%" else " "
        limit = f" ± {_figures(limit_of(spread), 3)}" if spread else ""
        words = f"{_six(best)}{limit}{gap}{found.symbol}"
        factor = magnitude_in(quantity(1.0, found.symbol), own)
        yield Value(
            key=f"{kind.split()[0]}_{number}",
            label=f"{word(kind).capitalize()}, in {found.words}",
            quantity=value,
            units=(found.symbol,),
            words=words,
            formula=f"1 {found.symbol} = {_six(factor)} {own}",
            source=CONVERSION,
            lead=found.symbol != own,
            given=((f"{word(kind)} typed", f"{_six(bare(number_in(value, own))[0])} {unit(own).symbol}"),),
        )


def found_threads(found: Sequence[Candidate], measured: tuple[tuple[str, Any], ...]) -> Table:
    """Return the threads that a measured one can be, and those that are taken for it."""
    rows = (
        Row(
            cells=(
                candidate.thread.name,
                candidate.fit,
                quantity(candidate.thread.major, "mm"),
                quantity(10 * candidate.thread.pitch, "mm"),
                quantity(candidate.thread.flanks, "°"),
                candidate.thread.series,
            ),
            chosen=candidate.fit == "fits",
        )
        for candidate in found
    )
    return Table(
        key="threads",
        title="What the thread can be, and what it is confused with",
        columns=(
            Column(key="thread", label="Thread", strong=True),
            Column(key="fit", label="By what you measured"),
            Column(key="diameter", label="Nominal diameter", unit="mm", places=3),
            Column(key="ten", label="Ten threads are", unit="mm"),
            Column(key="flanks", label="Flanks", unit="°", places=1),
            Column(key="series", label="Series"),
        ),
        rows=tuple(rows),
        formula="fits: diameter between nominal and the least of an ordinary fit, pitch within 1%, each with its whole "
        "error; may fit: with a part of it",
        source=LISTS,
        given=measured,
    )


def drills(thread: Thread, share: float) -> Table:
    """Return the drills for the thread, for the insert's thread, and for a stud to pass through."""
    rows = []
    for words, major in (
        ("the thread itself", thread.major),
        ("a wire insert", insert_major(thread.major, thread.pitch)),
        ("the stud to pass", None),
    ):
        wanted = drill_for(major, thread.pitch, share) if major else clearance_hole(thread)
        sizes = (nearest_tenth(wanted), nearest_fraction(wanted))
        metric, inch = (
            quantity(100 * thread_left(major, thread.pitch, size), "%") if major else None
            for size in (sizes[0], 25.4 * float(sizes[1]))
        )
        cells = (words, quantity(wanted, "mm"), quantity(sizes[0], "mm"), metric, f"{sizes[1]} in", inch)
        rows.append(Row(cells=cells))
    return Table(
        key="drills",
        title=f"Drills for {thread.name}",
        columns=(
            Column(key="hole", label="Hole for"),
            Column(key="wanted", label="Worked out", unit="mm"),
            Column(key="metric", label="Nearest tenth", unit="mm", places=1, strong=True),
            Column(key="metric_left", label="Thread it leaves", unit="%", places=0),
            Column(key="inch", label="Nearest 1/64"),
            Column(key="inch_left", label="Thread it leaves", unit="%", places=0),
        ),
        rows=tuple(rows),
        formula="drill = diameter − 1.299 P × share of full thread; for an insert the diameter is 1.299 P wider",
        source=HOLES,
        given=(
            ("diameter", quantity(thread.major, "mm")),
            ("pitch P", f"{plain(round(thread.pitch, 4))} mm"),
            ("share of full thread", f"{figures(100 * share, 0)}%"),
        ),
    )


def fallback(stud: TightenedStud, friction: Ends) -> float:
    """Return the torque that keeps ``SAFE_SHARE`` of the proof load even where friction is least, [N·mm]."""
    return SAFE_SHARE * stud.proof * float(stud.arm(friction[0], friction[0]))


def fallbacks(stud: TightenedStud, friction: Ends) -> Table:
    """Return the fallback torque of every class of the steel's own system, with the pull that it gives."""
    rows = []
    for steel in STEELS.values():
        if steel.graded != stud.steel.graded:
            continue
        each = replace(stud, steel=steel)
        each = replace(each, torque=fallback(each, friction))
        least, most = each.pulls(friction)
        torque = quantity(each.torque / 1000, "N·m")
        cells = (steel.name, word(steel.head), word(steel.end), torque, torque, least / 1000, most / 1000)
        rows.append(Row(cells=cells, chosen=steel == stud.steel))
    return Table(
        key="fallbacks",
        title="Fallback torques, only where no maker's figure exists",
        columns=(
            Column(key="steel", label="Class or grade", stamped=True),
            Column(key="head", label="On the head", stamped=True),
            Column(key="end", label="On a stud's end", stamped=True),
            Column(key="torque", label="Not over", unit="N·m", strong=True),
            Column(key="torque_ft", label="Not over", unit="lbf·ft"),
            Column(key="least", label="Least pull, kN", places=1),
            Column(key="most", label="Most pull, kN", places=1),
        ),
        rows=tuple(rows),
        formula="0.75 × proof load × (½ (P + π μ′ d₂) ÷ (π − μ′ P ÷ d₂) + μ (face + hole) ÷ 4) at the least friction; "
        "least pull: the same torque at the most friction",
        source=Source(f"{SAFE}; {LONG}; {FRICTION}"),
        given=(("friction", f"{plain(friction[0])} to {plain(friction[1])}"), ("proof stress", "of each class")),
    )


def fallback_value(stud: TightenedStud, friction: Ends) -> Value:
    """Return the fallback torque of the class asked about."""
    torque = fallback(stud, friction)
    return Value(
        key="fallback",
        label=f"Fallback torque of {steel_words(stud.steel)}, not over",
        quantity=quantity(torque / 1000, "N·m"),
        units=("N·m", "lbf·ft", "lbf·in"),
        formula="0.75 × proof load × (½ (P + π μ′ d₂) ÷ (π − μ′ P ÷ d₂) + μ (face + hole) ÷ 4), least friction",
        source=Source(f"{SAFE}; {LONG}; {steel_source(stud.steel)}"),
        lead=True,
        given=(
            ("proof load", f"{figures(stud.proof / 1000, 1)} kN"),
            ("friction μ", plain(friction[0])),
            ("pitch P", f"{plain(round(stud.thread.pitch, 4))} mm"),
            ("face", quantity(stud.face, "mm")),
            ("hole", quantity(stud.hole, "mm")),
        ),
    )


def mark_value(steel: Steel) -> Value:
    """Return in words how a class or grade is marked."""
    return Value(
        key="mark",
        label=f"Mark of {steel_words(steel)}",
        quantity=f"head: {word(steel.head)}; stud end: {word(steel.end)}",
        formula="as the standard has the maker mark it",
        source=Source("SAE J429" if steel.graded else "ISO 898-1, marking", "memory"),
        given=(("steel", steel.name if steel.graded else f"class {steel.name}"),),
    )


def drill_value(thread: Thread, share: float, inserted: bool) -> Value:
    """Return the drill for the thread, or for its insert, to the nearest tenth of a millimetre."""
    major = insert_major(thread.major, thread.pitch) if inserted else thread.major
    wanted = drill_for(major, thread.pitch, share)
    return Value(
        key="insert_drill" if inserted else "tapping_drill",
        label="Drill for a wire insert" if inserted else "Tapping drill",
        quantity=quantity(nearest_tenth(wanted), "mm"),
        units=("mm",),
        places=1,
        formula="diameter − 1.299 P × share of full thread, to the nearest tenth of a millimetre",
        source=HOLES,
        lead=True,
        given=(
            ("diameter", f"{figures(major, 3)} mm"),
            ("pitch P", f"{plain(round(thread.pitch, 4))} mm"),
            ("worked out", f"{figures(wanted, 2)} mm"),
        ),
    )


def nearest_tenth(wanted: float) -> float:
    """Return the nearest drill of a set by tenths, [mm].

    Examples
    --------
    >>> nearest_tenth(8.54)
    8.5
    """
    return round(10 * wanted) / 10


def nearest_fraction(wanted: float) -> Fraction:
    """Return the nearest drill of a set by sixty-fourths of an inch.

    Examples
    --------
    >>> nearest_fraction(7.98)
    Fraction(5, 16)
    """
    return Fraction(round(64 * wanted / 25.4), 64)


def _figures(number: float, count: int) -> str:
    return plain(float(f"{number:.{count}g}"))


def _six(number: float) -> str:
    return _figures(number, 6)
