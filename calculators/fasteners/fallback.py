"""A torque from class and friction alone, for where no maker names one; and how the class is marked."""

from __future__ import annotations

from dataclasses import replace

from calculators.bench import (
    Answer,
    Caution,
    Column,
    Question,
    ResultTable,
    Source,
    TableRow,
    Value,
    choice,
    printed,
    quantity,
)
from calculators.bench.units import figures, plain
from calculators.bench.words import word
from calculators.fasteners.mark_drawing import marks
from calculators.fasteners.thread_and_steel import CONDITIONS, fastener_thread, steel, steel_source, steel_words
from calculators.fasteners.tightened_stud import FRICTION, LONG, Ends, TightenedStud
from calculators.formulas.bolted_joint import LUBRICANTS
from calculators.formulas.threads import FASTENERS, STEELS, Steel, clearance_hole, nut_face

_SAFE_SHARE = 0.75
"""Share of the proof load that a fallback torque never exceeds."""
_SAFE = Source("Shigley's Mechanical Engineering Design, 10th edition, eq. 8-31, reused fasteners", "memory")
LAST_RESORT = Caution(
    "warning",
    "A fallback torque is not for cylinder heads, connecting rods, brakes, steering, or anything else that a maker "
    "gives a figure for. There, a wrong clamp lets go, and that can kill. Get the maker's figure.",
)
SOFT = Caution(
    "caution",
    "In aluminium, magnesium or plastic the thread in the hole may strip below this torque, and a wrench that suddenly "
    "gives skins your knuckles. Before you tighten, work out how deep the bolt must be screwed in.",
)


class Fallback(Question):
    """A last resort: it does not know the part, the joint or the thread that the bolt goes into."""

    asks = "How tight, if no maker gives a torque?"
    tells = "Torque without a maker's figure"

    thread = fastener_thread()
    steel = steel(
        hint="By its mark, as drawn. No mark: take class 5.8 or lower.", example="8.8", shared_as="fastener_steel"
    )
    condition = choice(
        "Thread condition", CONDITIONS, hint="The same for thread and nut face.", usual="oiled", said="{}"
    )

    def answer(self) -> Answer:
        thread, of = FASTENERS[self.thread], STEELS[self.steel]
        friction = LUBRICANTS[self.condition]
        stud = TightenedStud(thread=thread, steel=of, face=nut_face(thread), hole=clearance_hole(thread), torque=0.0)
        torque = quantity(_kept(stud, friction) / 1000, "N·m")
        return Answer(
            headline=f"Not over {printed(torque, 'N·m')} = {printed(torque, 'lbf·ft')}",
            says=f"Without a maker's figure, not over {printed(torque, 'N·m')} for {thread.name} of {steel_words(of)}, "
            f"{word(self.condition)}.",
            drawing=marks(of),
            values=(_not_over(stud, friction), _mark(of)),
            warnings=(LAST_RESORT, SOFT),
            tables=(_of_each_class(stud, friction),),
            notes=(
                "It stays at three quarters of the proof load even at the least friction; with more friction it clamps "
                "less than it could.",
                "Class marks are for bolts from M5 up, grade marks for bolts of 1/4 in and up. Many small screws and "
                "old studs have no mark.",
            ),
        )


def _kept(stud: TightenedStud, friction: Ends) -> float:
    """Return the torque that keeps ``_SAFE_SHARE`` of the proof load even where friction is least, [N·mm]."""
    return _SAFE_SHARE * stud.proof * float(stud.arm(friction[0], friction[0]))


def _not_over(stud: TightenedStud, friction: Ends) -> Value:
    """Return the fallback torque of the class asked about."""
    torque = _kept(stud, friction)
    return Value(
        key="fallback",
        label=f"Fallback torque of {steel_words(stud.steel)}, not over",
        quantity=quantity(torque / 1000, "N·m"),
        units=("N·m", "lbf·ft", "lbf·in"),
        formula="0.75 × proof load × (½ (P + π μ′ d₂) ÷ (π − μ′ P ÷ d₂) + μ (face + hole) ÷ 4), least friction",
        source=Source(f"{_SAFE}; {LONG}; {steel_source(stud.steel)}"),
        lead=True,
        given=(
            ("proof load", f"{figures(stud.proof / 1000, 1)} kN"),
            ("friction μ", plain(friction[0])),
            ("pitch P", f"{plain(round(stud.thread.pitch, 4))} mm"),
            ("face", quantity(stud.face, "mm")),
            ("hole", quantity(stud.hole, "mm")),
        ),
    )


def _of_each_class(stud: TightenedStud, friction: Ends) -> ResultTable:
    """Return the fallback torque of every class of the steel's own system, with the pull that it gives."""
    rows = []
    for of in STEELS.values():
        if of.graded != stud.steel.graded:
            continue
        each = replace(stud, steel=of)
        each = replace(each, torque=_kept(each, friction))
        least, most = each.pulls(friction)
        torque = quantity(each.torque / 1000, "N·m")
        cells = (of.name, word(of.head), word(of.end), torque, torque, least / 1000, most / 1000)
        rows.append(TableRow(cells=cells, chosen=of == stud.steel))
    return ResultTable(
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
        source=Source(f"{_SAFE}; {LONG}; {FRICTION}"),
        given=(("friction", f"{plain(friction[0])} to {plain(friction[1])}"), ("proof stress", "of each class")),
    )


def _mark(steel: Steel) -> Value:
    """Return in words how a class or grade is marked."""
    return Value(
        key="mark",
        label=f"Mark of {steel_words(steel)}",
        quantity=f"head: {word(steel.head)}; stud end: {word(steel.end)}",
        formula="marked by the maker as the standard says",
        source=Source("SAE J429" if steel.graded else "ISO 898-1, marking", "memory"),
        given=(("steel", steel.name if steel.graded else f"class {steel.name}"),),
    )
