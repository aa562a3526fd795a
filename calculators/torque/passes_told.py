"""What is told of the passes: headline, sentence, table, and what is on the nut at the last mark."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Any

from calculators.bench import (
    COMMON_PRACTICE,
    CONVERSION,
    Column,
    Quantity,
    ResultTable,
    Source,
    TableRow,
    Value,
    printed,
    quantity,
    symbol_of,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.verdict import best_of
from calculators.bench.words import listed
from calculators.formulas.wrench_reach import SMALL_TO
from calculators.torque.passes import UNITS, Pass
from calculators.torque.screws import Screws
from calculators.torque.screws_told import screw_sentence

PERMITTED = Source(
    "ISO 6789:2003, 5.1.5: setting wrench with a scale from tool makers' summaries, other types", "memory"
)
LEVER = Source("US Army TM 9-254, torque wrenches with adaptors: the effective lever")


def settings(passes: Sequence[Pass], turns: Sequence[float] = ()) -> str:
    """Return what the wrench is set to, pass by pass: ``"11 → 23 → 34 N·m"``; the confirming one is left out."""
    parts = []
    for unit, stages in itertools.groupby(passes[:-1], key=lambda stage: stage.wrench.unit):
        marks = " → ".join(stage.setting.removesuffix(unit).strip() for stage in stages)
        parts.append(f"{marks} {unit}")
    return " → ".join(parts) + "".join(f" + {turn:g}°" for turn in turns)


def headline(passes: Sequence[Pass], turns: Sequence[float], behind: str) -> str:
    """Return the settings and what stands behind them, cut to what is read at two metres."""
    whole, turned = settings(passes, turns), "".join(f" + {turn:g}°" for turn in turns)
    brief = f"{passes[0].setting} → {passes[-1].setting}{turned} in {len(passes) - 1} passes"
    wordings = (f"{whole} · {behind}", f"{brief} · {behind}", whole, brief)
    return next(wording for wording in wordings if len(wording) <= LONGEST_HEADLINE)


def sentence(
    passes: Sequence[Pass], turns: Sequence[float], order: str, drawn_down: bool = False, screws: Screws | None = None
) -> str:
    """Return what to do, in one breath: how it begins, every setting, the order, and how it ends."""
    stages, confirm = passes[:-1], passes[-1]
    parts = []
    for wrench, grouped in itertools.groupby(stages, key=lambda stage: stage.wrench):
        marks = listed(stage.setting.removesuffix(wrench.unit).rstrip() for stage in grouped)
        parts.append(f"the {wrench.name} to {marks} {wrench.unit}")
    settings = ", then ".join(parts)
    if turns:
        further = listed(f"{turn:g}°" for turn in turns)
        end = f"Then turn each nut {further} further, in the same order, and do not use the torque wrench on it again."
    else:
        end = f"Then go round once more at {confirm.setting} to confirm."
    begin = "Bring the shaft down one turn of each nut at a time until it sits on every post. " if drawn_down else ""
    return f"{begin}Set {settings}: every nut at each setting, in the order {order}. {screw_sentence(screws)}{end}"


def record(what: str, figure: Quantity, passes: Sequence[Pass], turns: Sequence[float]) -> str:
    """Return what the owner reads: how tight, in the unit of the figure, and in how many passes."""
    further = f", then {listed(f'{turn:g}°' for turn in turns)} further" if turns else ""
    return f"{what}: {printed(figure, symbol_of(figure))}, in {len(passes) - 1} passes{further}."


def settings_value(passes: Sequence[Pass], turns: Sequence[float], name: str, figure: Quantity) -> Value:
    """Return what the wrench is set to, as a value; ``name`` is what the figure is called."""
    return Value(
        key="settings",
        label="Set the wrench to",
        quantity=settings(passes, turns),
        formula="share × figure, to the nearest mark",
        source=COMMON_PRACTICE,
        given=((name, figure), ("passes", len(passes) - 1)),
    )


def in_every_unit(label: str, figure: Quantity) -> Value:
    """Return a torque as it was typed, in every unit that wrenches are marked in."""
    return Value(
        key="target",
        label=label,
        quantity=figure,
        units=UNITS,
        formula="1 lbf·ft = 1.355818 N·m; 1 lbf·in = 0.1129848 N·m; 1 kgf·m = 9.80665 N·m",
        source=CONVERSION,
        given=(("typed", figure),),
    )


def passes_table(target: Any, passes: Sequence[Pass], turns: Sequence[float]) -> ResultTable:
    """Return one row a pass, then the turns or the confirming pass."""
    symbol = passes[-1].wrench.unit
    places = max(stage.places for stage in passes)
    several = len({stage.wrench.name for stage in passes}) > 1
    one_unit = len({stage.wrench.unit for stage in passes}) == 1
    shown = passes[:-1] if turns else passes
    rows = [
        TableRow(
            cells=(
                stage.name,
                quantity(stage.mark, symbol) if one_unit else stage.setting,
                *((stage.wrench.name,) if several else ()),
                *(quantity(stage.share * target.magnitude, symbol_of(target)),) * len(UNITS),
                quantity(100 * stage.share, "%"),
                quantity(100 * stage.rounding, "%"),
                *(
                    quantity(stage.on_the_nut * (1 + side * stage.wrench.deviation), stage.wrench.unit)
                    for side in (-1, 1)
                ),
            ),
            chosen=stage is passes[-1],
        )
        for stage in shown
    ]
    rows += [
        TableRow(
            cells=(f"Turn {number}", f"{turn:g}° further", *((None,) if several else ()), *(None,) * (len(UNITS) + 4)),
            chosen=number == len(turns),
        )
        for number, turn in enumerate(turns, 1)
    ]
    return ResultTable(
        key="passes",
        title="Passes",
        columns=(
            Column(key="pass", label="Pass"),
            Column(
                key="mark",
                label="Set the wrench to",
                unit=symbol if one_unit else None,
                places=places,
                strong=True,
            ),
        )
        + ((Column(key="wrench", label="Wrench"),) if several else ())
        + tuple(Column(key=name.replace("·", "_"), label=name, unit=name) for name in UNITS)
        + (
            Column(key="share", label="Share", unit="%", places=0),
            Column(key="rounding", label="Rounding", unit="%"),
            Column(key="at_least", label="On the nut, at least", unit=symbol),
            Column(key="at_most", label="At most", unit=symbol),
        ),
        rows=tuple(rows),
        formula="share × final torque; the mark is the nearest one on the scale, a half going down; "
        "on the nut: mark ÷ share to set × (1 ± permitted deviation)",
        source=COMMON_PRACTICE,
        given=(("final torque", target), *_wrenches_given(passes)),
    )


def _wrenches_given(passes: Sequence[Pass]) -> Iterator[tuple[str, Any]]:
    wrenches = dict.fromkeys(stage.wrench for stage in passes)

    for wrench in wrenches:
        yield f"one mark of the {wrench.name}", quantity(wrench.step, wrench.unit)
        yield f"deviation of the {wrench.name}", quantity(100 * wrench.deviation, "%")


def wrench_values(final: Pass, kind: str, lengths: tuple[Any, Any, Any] | None) -> tuple[Value, ...]:
    """Return what the extension does, and what is on the nut at the final mark.

    Parameters
    ----------
    final : Pass
    kind : str
        The wrench's type, in words.
    lengths : tuple of Quantity, optional
        Lever of the final wrench, extension, angle.
    """
    wrench = final.wrench
    on_the_nut = final.measured()
    values = [
        Value(
            key="applied",
            label="On the nut at the final mark",
            quantity=on_the_nut,
            units=(wrench.unit, *(unit for unit in UNITS[:2] if unit != wrench.unit)),
            formula="mark ÷ share to set; uncertain (k = 2) by the wrench's permitted deviation and the lengths",
            source=PERMITTED,
            given=(
                ("mark", quantity(final.mark, wrench.unit)),
                ("share to set", quantity(100 * best_of(wrench.share), "%")),
                ("permitted deviation", quantity(100 * wrench.deviation, "%")),
            ),
        ),
        Value(
            key="deviation",
            label="Permitted deviation of the wrench",
            quantity=quantity(100 * wrench.deviation, "%"),
            places=0,
            formula=f"by type, and by whether the highest setting is above {SMALL_TO:g} N·m",
            source=PERMITTED,
            given=(
                ("type", kind),
                ("highest setting", quantity(wrench.highest, wrench.unit) if wrench.highest else "not typed"),
            ),
        ),
    ]
    if lengths:
        lever, extension, angle = lengths
        values.insert(
            0,
            Value(
                key="to_set",
                label="Of the torque on the nut, set",
                quantity=quantity(100 * wrench.share, "%"),
                formula="L ÷ (L + E·cos a)",
                source=LEVER,
                given=(("L", lever), ("E", extension), ("a", angle)),
                lead=True,
            ),
        )
    return tuple(values)
