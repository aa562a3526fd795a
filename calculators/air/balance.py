"""The throttles against each other: which to open, which to close, and the vacuum behind them."""

from __future__ import annotations

from typing import Any, Literal

from calculators.air.cautions import BELT, MONOXIDE
from calculators.air.throttles import Balance
from calculators.air.throttles_drawing import throttles_figure
from calculators.air.throttles_told import headline, table, values, walk
from calculators.bench import (
    Answer,
    Entry,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    Row,
    Table,
    count,
    magnitude_in,
    measure,
    number,
    optional,
    read_by_instrument,
    shared,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.entries import Quantity, either_way
from calculators.bench.instruments import common_error
from calculators.bench.units import bare, figures, number_in, reading

_GOOD = "How good the gauge is"


def _marks(label: str, hint: str, said: str, shared_as: str) -> Entry[float]:
    return either_way(
        number(
            label,
            0,
            100,
            why="the gauge reads no higher",
            hint=hint,
            usual="0.1",
            shared_as=shared_as,
            refines=_GOOD,
            said=said,
        )
    )


def _off(label: str, hint: str, said: str, shared_as: str) -> Entry[Quantity]:
    return shared.error_limit(
        label,
        "kPa",
        20,
        why="the gauge reads no higher",
        hint=hint,
        usual="0.5 kPa",
        shared_as=shared_as,
        refines=_GOOD,
        said=said,
    )


class Throttle(Row):
    """What the gauge read at one throttle."""

    flow = optional(
        number(
            "Flow reading",
            0.1,
            1000,
            why="no such meter reads higher",
            hint="Of a meter at the air inlet, in its own marks.",
            example="6.2; 7.0",
            read_by="balance_gauge",
        )
    )
    vacuum = optional(
        measure(
            "Vacuum",
            "kPa",
            0.1,
            100,
            why="vacuum cannot exceed the air pressure",
            hint="Behind the throttle: how far below the outside air.",
            read_by="balance_gauge",
        )
    )


class BalanceOfThrottles(Question):
    """For one gauge moved from throttle to throttle, or one that reads all; engine warm and steady at one speed.

    A cylinder that is weak for another reason looks like a throttle that is out.
    """

    asks = "Are the throttles in balance, and which one do I move?"
    tells = "Throttle balance"
    deed = "Balance the throttles"

    throttles = card_entry(
        CardFacts.carburettor.throttles, "Number of throttles", usual="2", shared_as="throttles", said="{} throttles"
    )
    spread_allowed = measure(
        "Allowed spread between throttles",
        "%",
        0.5,
        50,
        why="less cannot be read, more is not balanced",
        exact=True,
        hint="Largest less smallest, as a share of the mean. 5% is common practice.",
        usual="5%",
        said="within {}",
    )
    stays = optional(
        count(
            "Throttle to leave alone",
            1,
            12,
            why=shared.ENGINES,
            hint="The one that the linkage drives. Empty: any may be moved.",
            said="{} stays",
        )
    )
    gauge = Table(
        Throttle,
        each="Throttle {}",
        most=12,
        count="throttles",
        hint="Warm engine, steady at one speed, read all within a minute. Flow or vacuum: if you type a vacuum, the "
        "flow is ignored.",
    )
    flow_error = _marks(
        "Error limit of the flow meter",
        "Plus or minus, in its own marks; the same at every throttle.",
        "flow ± {}",
        "flow_meter_error",
    )
    flow_scatter = _marks(
        "Scatter of the flow readings",
        "In the meter's own marks, when one throttle is read again; only this counts in the spread.",
        "scatter ± {}",
        "flow_meter_scatter",
    )
    vacuum_error = _off(
        "Error limit of the vacuum gauge",
        "The same at every throttle if one gauge is moved from one to the next.",
        "vacuum ± {}",
        "vacuum_gauge_error",
    )
    vacuum_scatter = _off(
        "Scatter of the vacuum readings",
        "When one throttle is read again; only this counts in the spread.",
        "scatter ± {}",
        "vacuum_gauge_scatter",
    )
    outside = optional(
        measure(
            "Air pressure outside",
            "kPa",
            45,
            110,
            why="no weather on any road goes further",
            hint="For the pressure behind the throttles. Empty: taken from the question on the air's power, if you "
            "answered it.",
            shared_as="outside_pressure",
            refines="The air outside",
            said="{}",
        )
    )

    def answer(self) -> Answer:
        balance = self._balance()
        outside = None if self.outside is None else number_in(self.outside, "kPa")
        reach = tuple(bare(one)[1] or 0.0 for one in balance.readings)
        both = balance.by == "vacuum" and any(row.flow is not None for row in self.gauge)
        return Answer(
            headline=headline(balance),
            says=balance.sentence(),
            record=balance.record,
            drawing=throttles_figure(
                balance.best, reach, balance.target, balance.allowed * balance.mean, balance.moves, balance.by
            ),
            values=values(balance, outside),
            warnings=(MONOXIDE, BELT),
            steps=walk(balance),
            tables=(table(balance),),
            notes=(
                *(("You typed a vacuum: the flow readings are ignored.",) if both else ()),
                "Balance the throttles at idle first, then just off idle, where the linkage sets them and not the stop "
                "screws.",
                "Use a flow meter or a dial gauge: idle vacuum lifts water more than six metres, so the engine would "
                "swallow an open column of liquid.",
                "Before you move a throttle, make sure that valve lash, compression and timing are right and that no "
                "air leaks in.",
            ),
        )

    def _balance(self) -> Balance:
        by: Literal["flow", "vacuum"] = "vacuum" if any(row.vacuum is not None for row in self.gauge) else "flow"
        flows, vacuums = [row.flow for row in self.gauge], [row.vacuum for row in self.gauge]
        missing = [place for place, one in enumerate(flows if by == "flow" else vacuums, 1) if one is None]
        if len(missing) == len(self.gauge):
            raise Lacking(FieldError("flow.1", "Enter the flow, or the vacuum, that the gauge reads at each throttle"))
        if len(self.gauge) < 2:
            message = "Number of throttles must be 2 or more to compare their readings"
            raise InputErrors(FieldError("throttles", message))
        noun, unit = ("flow reading", "") if by == "flow" else ("vacuum", ", in kilopascals")
        if missing:
            raise Lacking(
                *(FieldError(f"{by}.{place}", f"Enter the {noun} of throttle {place}{unit}") for place in missing)
            )
        if self.stays is not None and self.stays > len(self.gauge):
            raise InputErrors(FieldError("stays", f"Throttle to leave alone must be between 1 and {len(self.gauge)}"))
        return Balance(
            readings=self._flows([one for one in flows if one is not None])
            if by == "flow"
            else self._vacuums([one for one in vacuums if one is not None]),
            by=by,
            allowed=magnitude_in(self.spread_allowed, "%") / 100,
            fixed=self.stays - 1 if self.stays is not None else None,
        )

    def _flows(self, marks: list[float]) -> tuple[Any, ...]:
        """Return readings of the flow meter, in marks that have no unit."""
        common = common_error("flow meter", self.flow_error)
        return tuple(
            one + common + reading(0.0, self.flow_scatter, f"Flow reading of throttle {place}")
            for place, one in enumerate(marks, 1)
        )

    def _vacuums(self, vacuums: list[Quantity]) -> tuple[Any, ...]:
        if self.outside is not None:
            outside = magnitude_in(self.outside, "kPa")
            deep = [place for place, one in enumerate(vacuums, 1) if magnitude_in(one, "kPa") >= outside]
            if deep:
                most = figures(outside, 0)
                raise InputErrors(
                    *(
                        FieldError(
                            f"vacuum.{place}",
                            f"Vacuum of throttle {place} must be less than the air pressure, {most} kPa",
                        )
                        for place in deep
                    )
                )
        return read_by_instrument(
            vacuums, "kPa", instrument="vacuum gauge", limit=self.vacuum_error, read_to=self.vacuum_scatter
        )
