"""The marks of a rim: how far along it each lies from the top mark, and which way."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.bench import (
    GEOMETRY,
    Answer,
    Attachment,
    Column,
    FieldError,
    InputErrors,
    Question,
    ResultTable,
    Stage,
    Step,
    TableRow,
    Value,
    Walk,
    angle,
    magnitude_in,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.entries import listed as listed_on_one_line
from calculators.bench.units import printed_bare
from calculators.bench.verdict import best_of
from calculators.bench.words import listed, word
from calculators.formulas.firing import misnamed, unequal, uneven_intervals
from calculators.timing import asked
from calculators.timing.cautions import ARRIVE, IT_FIRES, MAKER_WINS
from calculators.timing.degree_tape import rim_tape
from calculators.timing.rim import HOLDER_WORDS, Rim, advances, angle_of, degrees_words, rim_of, tops, where
from calculators.timing.rim_drawing import rim_figure


class Marks(Question):
    """From a true top mark, on a round rim, for four-stroke engines.

    If the top mark is wrong, all marks are.
    """

    asks = "Where do the timing marks go?"
    tells = "Timing marks"
    deed = "Make the timing marks"

    diameter = asked.rim_diameter()
    crank_rotation = asked.rotation()
    scale_on = asked.marks_on()
    static_advance = asked.static_advance()
    full_advance = asked.full_advance()
    firing_order = shared.firing_order()
    more_marks = optional(
        listed_on_one_line(
            angle(
                "More marks",
                -180,
                180,
                why="half a turn either way",
                exact=True,
                hint="Degrees before top dead centre, all on one line; minus for after it.",
                said="more at {}",
            ),
            1,
            8,
            like="10 20",
        )
    )
    firing_intervals = shared.firing_intervals(refines="Uneven firing", said="{}")

    def answer(self) -> Answer:
        rim = self._rim()
        wanted = [mark for mark in rim.marks if not mark.top and mark.ahead != 0]
        along = [f"{where(rim, mark)} for {angle_of(mark)}" for mark in wanted]
        return Answer(
            headline=self._headline(rim),
            says=f"From the top mark, measure along the {'rim' if rim.on_rim else 'case'}: {listed(along)}."
            if wanted
            else "Use the top mark itself: static and full advance are 0°.",
            record=f"Timing marks, along the {'rim' if rim.on_rim else 'case'} from the top mark: {listed(along)}."
            if wanted
            else "Timing mark: the top mark itself.",
            drawing=rim_figure(
                tuple((mark.name, mark.ahead, mark.top, where(rim, mark), mark.brief) for mark in rim.marks),
                rim.clockwise,
                rim.rotation,
                rim.on_rim,
            ),
            values=tuple(_values(rim)),
            warnings=(IT_FIRES,),
            steps=_walk(rim),
            tables=(_table(rim),),
            attachments=(_tape(rim),),
            notes=(
                MAKER_WINS,
                ARRIVE,
                "The same distances apply from every other top mark.",
                "If the ends of the tape do not meet on the rim, its diameter is not what you typed.",
            ),
        )

    def _rim(self) -> Rim:
        count = len(self.firing_order)
        if wrong := misnamed(self.firing_order, count):
            raise InputErrors(FieldError("firing_order", f"Firing order {wrong}"))
        typed = tuple(magnitude_in(interval, "°") for interval in self.firing_intervals or ())
        if fault := unequal(typed, count):
            raise InputErrors(FieldError("firing_intervals", f"Firing intervals {fault}"))
        asked.refuse_full_below_static(self.static_advance, self.full_advance)
        marks = (
            *tops(self.firing_order, uneven_intervals(typed, count)),
            *advances(self.static_advance, self.full_advance, self.more_marks or ()),
        )
        return rim_of(number_in(self.diameter, "mm"), marks, self.crank_rotation, self.scale_on)

    @staticmethod
    def _headline(rim: Rim) -> str:
        """Return static and full advance, as far as they are no top mark."""
        named = [mark for mark in rim.marks if mark.names[0] in ("static", "full advance") and mark.ahead != 0]
        if not named:
            return "Use the top mark itself"
        ways = list(dict.fromkeys(rim.way(mark.ahead) for mark in named))
        brief = {"static": "static", "full advance": "full"}
        places = [f"{brief[mark.names[0]]} {where(rim, mark)}" for mark in named]
        if len(named) > 1 and len(ways) == 1:
            places[0] = places[0].removesuffix(ways[0]).strip()
        whole = " · ".join(places)
        return whole[0].upper() + whole[1:]


def _values(rim: Rim) -> Iterator[Value]:
    diameter = quantity(rim.diameter, "mm")
    for place, mark in enumerate(mark for mark in rim.marks if not mark.top and mark.ahead != 0):
        if place < 2 or mark.names[0] in ("static", "full advance"):
            yield Value(
                key=f"mark_{place + 1}",
                label=f"Along it to {angle_of(mark)}, {word(rim.way(mark.ahead))}",
                quantity=quantity(rim.along(mark.ahead), "mm"),
                units=("mm", "in"),
                formula="π × diameter × degrees ÷ 360",
                source=GEOMETRY,
                given=(("diameter", diameter), ("degrees", printed_bare(abs(mark.ahead)))),
            )
    yield Value(
        key="half_turn",
        label="Halfway round, for the second top mark"
        if any(mark.top and abs(mark.ahead) == 180 for mark in rim.marks)
        else "Halfway round",
        quantity=quantity(rim.along(180), "mm"),
        units=("mm", "in"),
        formula="π × diameter ÷ 2",
        source=GEOMETRY,
        given=(("diameter", diameter),),
    )
    yield Value(
        key="per_degree",
        label="One degree along it",
        quantity=quantity(rim.along(1.0), "mm"),
        units=("mm", "in"),
        formula="π × diameter ÷ 360",
        source=GEOMETRY,
        given=(("diameter", diameter),),
    )


def _walk(rim: Rim) -> Walk | tuple[Walk, ...]:
    marks = [mark for mark in rim.marks if mark.ahead != 0]
    holder = HOLDER_WORDS[rim.on_rim]
    steps = tuple(
        Step(
            key=f"mark_{number}",
            label=mark.name if mark.top else degrees_words(mark.ahead),
            words=f"Mark {word(mark.names[0]) if mark.top else angle_of(mark)} on the {holder}: {where(rim, mark)}.",
            large=where(rim, mark),
        )
        for number, mark in enumerate(marks, 1)
    )
    return (
        Walk(key="marks", title="Mark by mark", stages=(Stage(title="From the top mark", steps=steps),))
        if steps
        else ()
    )


def _table(rim: Rim) -> ResultTable:
    return ResultTable(
        key="marks",
        title="Every mark, from the top mark of cylinder 1",
        columns=(
            Column(key="mark", label="Mark"),
            Column(key="degrees", label="Degrees before it", unit="°", places=1),
            Column(key="along", label="Along it", unit="mm", places=1, strong=True),
            Column(key="across", label="With dividers", unit="mm", places=1),
            Column(key="way", label="Which way"),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    mark.name,
                    quantity(mark.ahead, "°"),
                    quantity(rim.along(mark.ahead), "mm"),
                    quantity(rim.across(mark.ahead), "mm"),
                    rim.way(mark.ahead),
                ),
                chosen=not mark.top,
            )
            for mark in rim.marks
        ),
        formula="along it: π × diameter × degrees ÷ 360; with dividers: diameter × sin(degrees ÷ 2); the same "
        "distances apply from every other top mark; tops are apart by the firing intervals, less whole turns",
        source=GEOMETRY,
        given=(("diameter", quantity(rim.diameter, "mm")), ("crank turns", rim.rotation)),
    )


def _tape(rim: Rim) -> Attachment:
    named = [mark for mark in rim.marks if mark.top or mark.names[0] in ("static", "full advance")]
    bare = [mark for mark in rim.marks if mark not in named]
    marks = [(f"TDC {', '.join(map(str, mark.cylinders))}" if mark.top else mark.name, mark.ahead) for mark in named]
    return Attachment(
        name="degree-tape.svg",
        title="Degree tape to print",
        media_type="image/svg+xml",
        text=rim_tape(best_of(rim.diameter), (*marks, *(("", mark.ahead) for mark in bare)), rim.clockwise),
    )
