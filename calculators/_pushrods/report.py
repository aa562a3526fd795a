"""What each side of the engine needs after its head has moved: the tables, the values, the words."""

from __future__ import annotations

from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

from calculators._pushrods.cautions import cautions, notes
from calculators._pushrods.drawing import Side, side_drawing
from calculators._pushrods.moved_head import Moved, in_words, millimetres, moves
from calculators._pushrods.values import COSINES, DECISION, flange_values, pushrod_values, rocker_values, shifts
from calculators._report import Column, Figure, Kept, Report, Row, Source, Table
from calculators._units import bare, figures, magnitude_in, number_in


def report(inputs: SimpleNamespace, heads: Sequence[Moved], swing: float) -> Report:
    """Report on all heads; the figure and the single values are of the one that moves farthest."""
    farthest = max(heads, key=lambda head: abs(bare(head.shift)[0]))
    return Report(
        lead=_lead(inputs, heads),
        values=(
            *shifts(inputs, heads),
            *pushrod_values(inputs, farthest),
            *rocker_values(inputs, farthest, swing),
            *flange_values(inputs, farthest, heads),
        ),
        tables=(_pushrods(inputs, heads), _tubes(inputs, heads)),
        figures=(_figure(inputs, farthest),),
        kept=tuple(
            Kept(
                path=f"head_shift.{number}",
                label=f"Head over {head.name} moves out",
                quantity=millimetres(head.shift),
                unit="mm",
            )
            for number, head in enumerate(heads, 1)
        ),
        cautions=tuple(cautions(inputs, heads)),
        notes=tuple(notes(inputs)),
    )


def _lead(inputs: SimpleNamespace, heads: Sequence[Moved]) -> str:
    ways = [moves(head.shift) for head in heads]
    if len(heads) > 1 and len(set(ways)) == 1:
        first = f"Each head {ways[0]}."
    else:
        first = "; ".join(f"the head over {head.name} {way}" for head, way in zip(heads, ways, strict=True)) + "."
        first = first[0].upper() + first[1:]
    return f"{first} {_adjusters_in_words(heads)} {_tubes_in_words(inputs, heads)}"


def _adjusters_in_words(heads: Sequence[Moved]) -> str:
    short = [head for head in heads if head.adjuster != "in"]
    if not short:
        return "The adjusters can take it up."
    worst = max(short, key=lambda head: abs(bare(head.reach)[0]))
    if worst.adjuster == "out":
        where = f" at {worst.name}" if len(heads) > 1 else ""
        return f"The adjusters cannot take it up: pushrods of {in_words(worst.pushrod, 1)} would{where}."
    return "Whether the adjusters can take it up is too close to call."


def _tubes_in_words(inputs: SimpleNamespace, heads: Sequence[Moved]) -> str:
    least, most = magnitude_in(inputs.least_crush, "mm"), magnitude_in(inputs.most_crush, "mm")
    if inputs.tube_kind == "set":
        lengths = dict.fromkeys(in_words(head.seats + (least + most) / 2, 1) for head in heads)
        return f"Stretch the tubes to {' and '.join(lengths)} before they go in."
    wrong = [head for head in heads if head.tube == "out"]
    if not wrong:
        doubtful = any(head.tube != "in" for head in heads)
        return "Whether the tubes fit is too close to call." if doubtful else "The tubes fit."
    worst = max(wrong, key=lambda head: abs(bare(head.crush)[0] - (least + most) / 2))
    side = "short" if bare(worst.crush)[0] < least else "long"
    return (
        f"The tubes are too {side}: at {worst.name} they must be {figures(bare(worst.seats)[0] + least, 1)} to "
        f"{in_words(worst.seats + most, 1)}."
    )


def _pushrods(inputs: SimpleNamespace, heads: Sequence[Moved]) -> Table:
    rows = [
        (
            head.name,
            millimetres(head.shift),
            millimetres(head.pushrod),
            millimetres(head.reach * inputs.rocker_ratio),
            millimetres(head.screwed_in),
            millimetres(head.left),
            head.adjuster,
        )
        for head in heads
    ]
    return Table(
        key="pushrods",
        title="Pushrods and adjusters",
        columns=(
            Column(key="head", label="Head over"),
            Column(key="shift", label="Moves out", unit="mm"),
            Column(key="pushrod", label="Pushrod as before", unit="mm", strong=True),
            Column(key="lash", label="Lash opens", unit="mm"),
            Column(key="screwed_in", label="Adjuster goes in", unit="mm"),
            Column(key="left", label="Travel left", unit="mm"),
            Column(key="verdict", label="Adjuster"),
        ),
        rows=tuple(Row(cells=cells) for cells in rows),
        formula="reach = pushrod as before − pushrod fitted; the adjuster goes in by the reach at the pushrod end, by "
        "reach × rocker ratio at the valve end, by reach × ratio ÷ (1 + ratio) as a nut on the pivot; travel left, "
        "less what it went; in: some is left, ± counted",
        source=Source(f"{COSINES}; {DECISION}"),
        given=(
            ("pushrod fitted", inputs.new_length if inputs.new_length is not None else inputs.pushrod_length),
            ("rocker ratio", inputs.rocker_ratio),
            ("travel in", inputs.travel_in),
            ("travel out", inputs.travel_out),
        ),
    )


def _tubes(inputs: SimpleNamespace, heads: Sequence[Moved]) -> Table:
    least, most = number_in(inputs.least_crush, "mm"), number_in(inputs.most_crush, "mm")
    if inputs.tube_kind == "set":
        columns: tuple[Column, ...] = (Column(key="length", label="Stretch each tube to", unit="mm", strong=True),)
        cells: list[tuple[Any, ...]] = [(millimetres(head.seats + (least + most) / 2),) for head in heads]
    else:
        columns = (
            Column(key="crush", label="Crush of this tube's seals", unit="mm", strong=True),
            Column(key="verdict", label="Against what is wanted"),
            Column(key="shortest", label="Shortest that fits", unit="mm"),
            Column(key="longest", label="Longest that fits", unit="mm"),
        )
        cells = [
            (millimetres(head.crush), head.tube, millimetres(head.seats + least), millimetres(head.seats + most))
            for head in heads
        ]
    return Table(
        key="tubes",
        title="Pushrod tubes",
        columns=(
            Column(key="head", label="Head over"),
            Column(key="seats", label="Seats stand apart", unit="mm"),
            *columns,
        ),
        rows=tuple(
            Row(cells=(head.name, millimetres(head.seats), *rest)) for head, rest in zip(heads, cells, strict=True)
        ),
        formula="seats apart = √(before² + 2 × before × shift × cos slope + shift²); crush = free length − seats "
        "apart; fits: seats apart + least crush to seats apart + most crush; to stretch to: their middle",
        source=Source(f"{COSINES}; {DECISION}"),
        given=(
            ("free length", inputs.tube_free_length),
            ("seats before", inputs.seat_distance),
            ("slope", inputs.pushrod_slope),
            ("least crush", inputs.least_crush),
            ("most crush", inputs.most_crush),
        ),
    )


def _figure(inputs: SimpleNamespace, head: Moved) -> Figure:
    before = magnitude_in(inputs.before, "mm")
    return side_drawing(
        Side(
            name=str(head.cylinders[0] + 1),
            shift=bare(head.shift)[0],
            spacer_before=before,
            spacer_after=head.spacers,
            place=inputs.adjuster_end,
            tube_words=(in_words(number_in(inputs.seat_distance, "mm"), 1), in_words(head.seats, 1)),
            pushrod_words=(in_words(number_in(inputs.pushrod_length, "mm"), 1), in_words(head.pushrod, 1)),
            lean_words=(
                f"{figures(magnitude_in(inputs.off_square, '°'), 1)}°",
                f"{figures(head.off_square, 1)}°",
            ),
            shift_words=moves(head.shift),
            spacer_words=(in_words(before), in_words(head.spacers)),
        )
    )
