"""The gaps as they were left, held against their figures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calculators.bench import (
    DECISION,
    Answer,
    Caution,
    Column,
    FieldError,
    Figure,
    Finding,
    FoundPart,
    Lacking,
    Question,
    ResultTable,
    Row,
    Table,
    TableRow,
    Value,
    magnitude_in,
    shared,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.units import uncertainty_in
from calculators.bench.words import listed
from calculators.formulas.decision_rule import Verdict, judged
from calculators.lash.asked import TWO_VALVES, Gap, Readings, gap_error, gaps, read_gaps
from calculators.lash.cautions import MAKER_WINS
from calculators.lash.feelers import GRAIN
from calculators.lash.gap_drawing import Bar, gap_bars

AS_LEFT: dict[Verdict, str] = {
    "out": "closer than the clearance: set it again",
    "in": "not closer than the clearance",
    "too close to call": "at the clearance, as far as the blades can tell",
}
_SHORT: dict[Verdict, str] = {"out": "set it again", "in": "not closer", "too close to call": "at the figure"}


class Left(Row):
    """What was left at one cylinder, its lock-nut tight."""

    inlet_left = gaps("Inlet gap left", "inlet_gap_left", "0.17; 0.16; 0.17; 0.15", TWO_VALVES)
    exhaust_left = gaps("Exhaust gap left", "exhaust_gap_left", "0.22; 0.18; 0.22; 0.22")


class AsLeft(Question):
    """Looks only for gaps that are too close. For one too wide, see the allowance."""

    asks = "Is any gap that I set too close?"
    tells = "Valve gaps as left"
    judges = True

    cylinders = shared.cylinders()
    inlet_clearance = shared.inlet_clearance()
    exhaust_clearance = shared.exhaust_clearance()
    left = Table(Left, each="Cylinder {}", most=12, count="cylinders")
    gap_error = gap_error()

    def answer(self) -> Answer:
        rows: Readings = [{"inlet": row.inlet_left, "exhaust": row.exhaust_left} for row in self.left]
        left = tuple(read_gaps(rows, self.gap_error, "gap left"))
        if not left:
            raise Lacking(FieldError("inlet_left.1", "Enter the gap left at one valve or more, in millimetres"))
        verdicts = [self._verdict(gap) for gap in left]
        close = [gap.name for gap, verdict in zip(left, verdicts, strict=True) if verdict == "out"]
        return Answer(
            headline=_headline(close, len(left)),
            says=f"Left closer than the clearance: {listed(close)}. Set again."
            if close
            else "No gap that was measured is closer than its clearance, as far as the blades can tell.",
            drawing=self._drawing(left, verdicts),
            values=(
                Value(
                    key="close",
                    label="Valves left too close",
                    quantity=len(close),
                    formula="closer: the whole interval of gap left ± U is below the clearance",
                    source=DECISION,
                    given=(("measured", len(left)), ("error limit of the gap readings, ±", self.gap_error)),
                ),
            ),
            warnings=(*_cautions(close), MAKER_WINS),
            tables=(self._table(left, verdicts),),
            findings=tuple(self._findings(left, verdicts)),
        )

    def _findings(self, left: Sequence[Gap], verdicts: Sequence[Verdict]) -> Iterator[Finding]:
        for kind in dict.fromkeys(gap.kind for gap in left):
            yield Finding(
                key=f"lash_{kind}",
                what=f"valve gap, {kind}",
                parts=tuple(
                    FoundPart(f"cylinder {gap.cylinder}", gap.reading, verdict)
                    for gap, verdict in zip(left, verdicts, strict=True)
                    if gap.kind == kind
                ),
                units=("mm", "in"),
                places=2,
                low=self.inlet_clearance if kind == "inlet" else self.exhaust_clearance,
                limits=(f"{kind}_clearance",),
                when="after",
                gloss="the play that lets the valve shut",
                is_set=True,
            )

    def _least(self, gap: Gap) -> float:
        return magnitude_in(self.inlet_clearance if gap.kind == "inlet" else self.exhaust_clearance, "mm")

    def _verdict(self, gap: Gap) -> Verdict:
        best, expanded = magnitude_in(gap.reading, "mm"), uncertainty_in(gap.reading, "mm") or 0.0
        return judged(best, expanded, low=self._least(gap), grain=GRAIN)

    def _drawing(self, left: Sequence[Gap], verdicts: Sequence[Verdict]) -> Figure:
        bars = tuple(
            Bar(
                gap.short,
                magnitude_in(gap.reading, "mm"),
                uncertainty_in(gap.reading, "mm") or 0.0,
                _SHORT[verdict],
                strong=verdict == "out",
                least=self._least(gap),
            )
            for gap, verdict in zip(left, verdicts, strict=True)
        )
        return gap_bars("left", "Gaps as left, against their figures", bars, "dot: left; dashed: from the figure up")

    def _table(self, left: Sequence[Gap], verdicts: Sequence[Verdict]) -> ResultTable:
        return ResultTable(
            key="left",
            title="Valve by valve",
            columns=(
                Column(key="valve", label="Valve", strong=True),
                Column(key="left", label="Left", unit="mm"),
                Column(key="as_left", label="As left", wide=True),
            ),
            rows=tuple(
                TableRow(cells=(gap.name, gap.reading, AS_LEFT[verdict]), chosen=verdict == "out")
                for gap, verdict in zip(left, verdicts, strict=True)
            ),
            formula="closer than the clearance only if all of gap left ± U is",
            source=DECISION,
            given=(("error limit of the gap readings, ±", self.gap_error),),
        )


def _headline(close: Sequence[str], measured: int) -> str:
    if not close:
        return "Not too close" if measured == 1 else f"None of {measured} too close"
    named = f"Set again: {', '.join(close)}"
    return named if len(named) <= LONGEST_HEADLINE else f"Set {len(close)} of {measured} valves again"


def _cautions(close: Sequence[str]) -> tuple[Caution, ...]:
    if not close:
        return ()
    text = (
        f"Left closer than the clearance: {listed(close)}. Set them again: a valve that does not shut when hot burns."
    )
    return (Caution("notice", text),)
