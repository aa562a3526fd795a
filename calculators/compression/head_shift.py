"""What moves with the heads, when the spacers under the barrels change."""

from __future__ import annotations

from calculators.bench import (
    GEOMETRY,
    Answer,
    Caution,
    Column,
    Question,
    ResultTable,
    Row,
    Table,
    TableRow,
    Value,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.units import figures, printed
from calculators.bench.verdict import best_of
from calculators.compression.barrels_drawing import barrels_map
from calculators.compression.measured import heads_of
from calculators.compression.words import named


class Under(Row):
    """What is under one barrel now."""

    spacer = shared.spacer_height()


class HeadShift(Question):
    """Takes the mean of each head's spacers, less those there when tubes and pushrods last fitted.

    An upper limit: sloping pushrods change a little less.
    """

    asks = "What moves with the heads?"
    tells = "What moves with the heads"

    cylinders = shared.cylinders()
    heads = shared.heads()
    before = shared.spacers_before(said="before {}")
    rows = Table(Under, each="Cylinder {}", most=12, count="cylinders")
    rocker_ratio = optional(
        shared.rocker_ratio(
            hint="Valve movement divided by pushrod movement; empty where it is not known.",
            example=None,
            refines="The rockers",
            said="",
        )
    )

    def answer(self) -> Answer:
        heads = heads_of(self.heads, self.cylinders)
        under = [number_in(of.spacer, "mm") for of in self.rows]
        before = number_in(self.before, "mm")
        shifts = [sum((under[one] for one in head), start=0.0) / len(head) - before for head in heads]
        lash = [None if self.rocker_ratio is None else quantity(shift * self.rocker_ratio, "mm") for shift in shifts]
        texts = tuple(figures(best_of(shift), 2) for shift in shifts)
        most = max(shifts, key=lambda shift: abs(best_of(shift)))
        out = "out" if best_of(most) >= 0 else "in"
        same = len(set(texts)) == 1
        size = f"{figures(abs(best_of(most)), 2)} mm"
        return Answer(
            headline=f"Heads move {out} {size}" if same else f"Heads move {out} by up to {size}",
            says="; ".join(
                f"the head over {named(head, 'cylinder')} moves {'out' if best_of(shift) >= 0 else 'in'} by "
                f"{figures(abs(best_of(shift)), 2)} mm"
                for head, shift in zip(heads, shifts, strict=True)
            ).capitalize()
            + "; tubes and pushrods must be longer by as much."
            if best_of(most) >= 0
            else f"The heads move in by {size} at most; tubes and pushrods must be shorter by as much.",
            drawing=barrels_map(
                heads,
                tuple(figures(best_of(one), 2) if best_of(one) else "none" for one in under),
                "mm",
                "Spacers under each barrel, and how far each head moves",
                tuple(f"{text} mm" for text in texts),
            ),
            values=tuple(
                Value(
                    key=f"shift_{place}",
                    label=f"Head over {named(head, 'cylinder')} moves out",
                    quantity=quantity(shift, "mm"),
                    units=("mm", "thou"),
                    formula="mean of its spacers − those fitted before",
                    source=GEOMETRY,
                    given=(("fitted before", self.before),),
                )
                for place, (head, shift) in enumerate(zip(heads, shifts, strict=True), 1)
            ),
            warnings=tuple(self._warnings(best_of(most))),
            tables=(
                ResultTable(
                    key="head_shift",
                    title="What moves with the heads",
                    columns=(
                        Column(key="head", label="Head over"),
                        Column(key="shift", label="Moves out: tubes and pushrods must be longer by", unit="mm"),
                        Column(key="lash", label="Lash opens at the valves, until it is set", unit="mm"),
                    ),
                    rows=tuple(
                        TableRow(cells=(named(head, "cylinder"), quantity(shift, "mm"), opens))
                        for head, shift, opens in zip(heads, shifts, lash, strict=True)
                    ),
                    formula="mean of its spacers − those fitted before; × rocker ratio at the valves. An upper limit: "
                    "sloping pushrods change less",
                    source=GEOMETRY,
                    given=(
                        ("fitted before", self.before),
                        *((("rocker ratio", self.rocker_ratio),) if self.rocker_ratio is not None else ()),
                    ),
                ),
            ),
            notes=("A minus means the head moves in: lash closes and the tubes are squeezed more.",),
        )

    def _warnings(self, most: float) -> list[Caution]:
        if most < -0.005:
            return [
                Caution(
                    "notice",
                    f"A head that moves in by {printed(quantity(-most, 'mm'), 'mm')} closes the lash: valves stay open "
                    "and burn, or hit a piston. Back off every adjuster before you tighten the nuts.",
                )
            ]
        if most > 0.005:
            return [
                Caution(
                    "notice",
                    "Check the crush of the tube seals and that the pushrods are seated before you close up; set the "
                    "lash again.",
                )
            ]
        return []
