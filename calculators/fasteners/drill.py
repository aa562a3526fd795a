"""The drill before the tap, before a wire insert's tap, and for a stud to pass."""

from __future__ import annotations

from fractions import Fraction

from calculators.bench import (
    Answer,
    Caution,
    Column,
    Question,
    ResultTable,
    Source,
    TableRow,
    Value,
    magnitude_in,
    measure,
    quantity,
)
from calculators.bench.units import figures, plain
from calculators.fasteners.hole_drawing import holes
from calculators.fasteners.thread_and_steel import fastener_thread
from calculators.formulas.threads import FASTENERS, Thread, clearance_hole, drill_for, insert_major, thread_left

_HOLES = Source("handbook rule for the height of thread that a drill leaves; ISO 273 and ASME B18.2.8", "memory")
SWARF = Caution(
    "warning",
    "Swarf flies into eyes. Swarf of magnesium burns, and water feeds the fire. Wear glasses, know the metal before "
    "you drill, and keep dry sand at hand.",
)


class Drill(Question):
    """From the height of thread that the hole leaves. If the maker of an insert gives another drill, use that."""

    asks = "Which drill does this thread need?"
    tells = "Drill for the thread"

    thread = fastener_thread()
    share = measure(
        "Share of full thread to tap",
        "%",
        40,
        95,
        why="less strips, more breaks taps",
        exact=True,
        hint="75% is usual; 60% in deep or hard holes.",
        usual="75%",
        said="{} of full thread",
    )

    def answer(self) -> Answer:
        thread, share = FASTENERS[self.thread], magnitude_in(self.share, "%") / 100
        majors = (thread.major, insert_major(thread.major, thread.pitch))
        own, inserted = (_nearest_tenth(drill_for(major, thread.pitch, share)) for major in majors)
        through = clearance_hole(thread)
        return Answer(
            headline=f"{figures(own, 1)} mm to tap · {figures(inserted, 1)} mm for an insert",
            says=f"{thread.name}: drill {figures(own, 1)} mm to tap it, {figures(inserted, 1)} mm for a wire insert, "
            f"{figures(through, 1)} mm as a clearance hole.",
            drawing=holes(thread, own, inserted, through),
            values=(
                _drill(thread, share, False),
                _drill(thread, share, True),
                Value(
                    key="clearance_hole",
                    label="Clearance hole",
                    quantity=quantity(through, "mm"),
                    units=("mm", "in"),
                    formula="the ordinary clearance hole of the standard",
                    source=_HOLES,
                    given=(("thread", thread.name),),
                ),
            ),
            warnings=(SWARF,),
            tables=(_drills(thread, share),),
            notes=(
                "A wire insert needs its own tap, larger than the stud's.",
                "Put rag in every opening of the engine before you drill, and count the rags.",
            ),
        )


def _drill(thread: Thread, share: float, inserted: bool) -> Value:
    """Return the drill for the thread, or for its insert, to the nearest tenth of a millimetre."""
    major = insert_major(thread.major, thread.pitch) if inserted else thread.major
    wanted = drill_for(major, thread.pitch, share)
    return Value(
        key="insert_drill" if inserted else "tapping_drill",
        label="Drill for a wire insert" if inserted else "Tapping drill",
        quantity=quantity(_nearest_tenth(wanted), "mm"),
        places=1,
        formula="diameter − 1.299 P × share of full thread, to the nearest tenth of a millimetre",
        source=_HOLES,
        lead=True,
        given=(
            ("diameter", f"{figures(major, 3)} mm"),
            ("pitch P", f"{plain(round(thread.pitch, 4))} mm"),
            ("worked out", f"{figures(wanted, 2)} mm"),
        ),
    )


def _drills(thread: Thread, share: float) -> ResultTable:
    """Return the drills for the thread, for the insert's thread, and for a stud to pass through."""
    rows = []
    for words, major in (
        ("the thread itself", thread.major),
        ("a wire insert", insert_major(thread.major, thread.pitch)),
        ("clearance for the stud", None),
    ):
        wanted = drill_for(major, thread.pitch, share) if major else clearance_hole(thread)
        sizes = (_nearest_tenth(wanted), _nearest_fraction(wanted))
        metric, inch = (
            quantity(100 * thread_left(major, thread.pitch, size), "%") if major else None
            for size in (sizes[0], 25.4 * float(sizes[1]))
        )
        cells = (words, quantity(wanted, "mm"), quantity(sizes[0], "mm"), metric, f"{sizes[1]} in", inch)
        rows.append(TableRow(cells=cells))
    return ResultTable(
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
        source=_HOLES,
        given=(
            ("diameter", quantity(thread.major, "mm")),
            ("pitch P", f"{plain(round(thread.pitch, 4))} mm"),
            ("share of full thread", f"{figures(100 * share, 0)}%"),
        ),
    )


def _nearest_tenth(wanted: float) -> float:
    """Return the nearest drill of a set by tenths, [mm].

    Examples
    --------
    >>> _nearest_tenth(8.54)
    8.5
    """
    return round(10 * wanted) / 10


def _nearest_fraction(wanted: float) -> Fraction:
    """Return the nearest drill of a set by sixty-fourths of an inch.

    Examples
    --------
    >>> _nearest_fraction(7.98)
    Fraction(5, 16)
    """
    return Fraction(round(64 * wanted / 25.4), 64)
