"""The least oil pressure, hot, at each speed, and what the gauge showed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    Entry,
    FieldError,
    Finding,
    FoundPart,
    InputErrors,
    Quantity,
    Question,
    Source,
    Value,
    Worked,
    magnitude_in,
    measure,
    number_in,
    optional,
    printed,
    quantity,
    read_by_instrument,
    shared,
    symbol_of,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.words import listed as spoken
from calculators.formulas.running_in import least_pressure
from calculators.running_in.fast_idle import cam, fast_idle, speeds_of
from calculators.running_in.pressure_scales import At, pressure_scales, pressure_table

STRAIGHT = Source("linear interpolation; assumes that oil pressure follows speed in a straight line", "common practice")
SWITCH_OFF = (
    "Switch off at once for: oil lamp on, pressure below its least, knock, a hiss or smell of fuel, a stream of oil, "
    "a cylinder that does not fire, temperature that keeps rising."
)
ELSEWHERE = (
    "On other engines, hot and at full speed, 20 to 30 psi (1.4 to 2.1 bar) is normal, as US Army TM 10-3930-623-12 "
    "prints it, or 30 to 60 psi (2.1 to 4.1 bar), as US Army TM 55-1930-209-14&P-9-4 prints it; at idle at least 7 psi "
    "(0.5 bar), as the first prints it. It shows the range; the engine maker's figure decides."
)
_FAST = "Fast idle of the first run"


def _pressure(label: str, **facts: Any) -> Entry[Quantity]:
    return measure(label, "bar", 0.1, 15, why="no such oil pump gives more", **facts)


class OilPressure(Question):
    """For hot oil, on a straight line between the maker's two figures; between them a worn pump may fall below it.

    Cold oil reads well above it; a reading below it is a reason to switch off.
    """

    asks = "What oil pressure is too low?"
    tells = "Oil pressure"
    judges = True
    works_out = ("least_oil_pressure",)

    idle_speed = card_entry(
        CardFacts.running.idle_speed,
        "Idle speed",
        exact=True,
        example="850 r/min",
        shared_as="idle_speed",
        said="idle {}",
    )
    pressure_idle = _pressure(
        "Least oil pressure at idle",
        exact=True,
        hint="Hot; the maker's figure.",
        card=CardFacts.running.oil_pressure_idle.path,
        example="0.8 bar",
        shared_as="oil_pressure_idle",
        said="least {}",
    )
    pressure_hot = _pressure(
        "Least oil pressure at speed",
        exact=True,
        hint="Hot; the maker's figure.",
        card=CardFacts.running.oil_pressure_hot.path,
        example="2.8 bar",
        shared_as="oil_pressure_hot",
        said="least {}",
    )
    pressure_speed = card_entry(
        CardFacts.running.oil_pressure_speed,
        "Speed for that pressure",
        exact=True,
        example="2500 r/min",
        shared_as="oil_pressure_speed",
        said="at {}",
    )
    read_idle = optional(
        _pressure(
            "Oil pressure read at idle",
            hint="Hot.",
            shared_as="oil_pressure_read_idle",
            read_by="oil_gauge",
            said="read {} at idle",
        )
    )
    read_hot = optional(
        _pressure(
            "Oil pressure read at speed",
            hint="Hot, at the speed above.",
            shared_as="oil_pressure_read_hot",
            read_by="oil_gauge",
            said="read {} at speed",
        )
    )
    cam = cam(refines=_FAST)
    fast_idle = fast_idle(refines=_FAST)
    gauge_error = shared.error_limit(
        "Gauge error",
        "bar",
        2,
        why="a less accurate gauge is no use",
        hint="Plus or minus. A ± typed with a reading wins over it.",
        usual="0.2 bar",
        shared_as="oil_gauge_error",
        refines="How good the gauge is",
        said="gauge ± {}",
    )

    def answer(self) -> Answer:
        idle, fast, speed = self._rows()
        low = [at.place for at in (idle, speed) if at.verdict == "out"]
        near = [at.place for at in (idle, speed) if at.verdict == "too close to call"]
        symbol = symbol_of(self.pressure_hot)
        least = quantity(number_in(quantity(fast.least, "bar"), symbol), symbol)
        return Answer(
            headline=f"Stop: too low at {spoken(low)}"
            if low
            else f"Below {printed(least, symbol)} at {fast.place}: switch off",
            says=f"Do not keep it running: oil pressure is too low at {spoken(low)}."
            if low
            else f"Hot, it must reach {printed(self.pressure_idle, symbol)} at idle, {printed(least, symbol)} at "
            f"{fast.place} and {printed(self.pressure_hot, symbol)} at {speed.place}.",
            drawing=pressure_scales((idle, fast, speed), symbol),
            values=(
                Value(
                    key="least_pressure",
                    label=f"Least oil pressure at {fast.place}",
                    quantity=least,
                    units=(symbol, *(other for other in ("bar", "psi") if other != symbol)),
                    formula="on the straight line between the hot figures at idle and at speed",
                    source=STRAIGHT,
                    given=(
                        ("at idle", self.pressure_idle),
                        ("idle speed", self.idle_speed),
                        ("at speed", self.pressure_hot),
                        ("that speed", self.pressure_speed),
                    ),
                ),
            ),
            warnings=tuple(_warnings(low, near)),
            tables=(pressure_table((idle, fast, speed), symbol),),
            findings=tuple(
                Finding(
                    key=key,
                    what=f"oil pressure, hot, {where}",
                    parts=(FoundPart("", quantity(at.read, "bar"), at.verdict),),
                    units=("bar", "psi"),
                    low=quantity(at.least, "bar"),
                    limits=(limit,),
                )
                for key, where, limit, at in (
                    ("pressure_idle", "at idle", "pressure_idle", idle),
                    ("pressure_hot", f"at {speed.place}", "pressure_hot", speed),
                )
                if at.read is not None
            ),
            notes=(
                SWITCH_OFF,
                "Cold oil reads well above these.",
                "Between the maker's two figures a straight line is taken; a worn pump may fall below it.",
                "The maker's own figure for a speed wins.",
                ELSEWHERE,
            ),
            worked=(Worked(name="least_oil_pressure", value=least),),
        )

    def _rows(self) -> tuple[At, At, At]:
        """Return idle, the lower end of the fast idle, and the speed that the maker names."""
        idle, speed = magnitude_in(self.idle_speed, "r/min"), magnitude_in(self.pressure_speed, "r/min")
        weak, strong = magnitude_in(self.pressure_idle, "bar"), magnitude_in(self.pressure_hot, "bar")
        fast, _ = speeds_of(self.cam, self.fast_idle)
        errors = []
        if idle >= fast:
            errors.append(FieldError("idle_speed", f"Idle speed must be below the fast idle, {fast:.0f} r/min"))
        if speed <= idle:
            errors.append(FieldError("pressure_speed", "Speed for that pressure must be above the idle speed"))
        if strong < weak:
            message = "Least oil pressure at speed must not be below the one at idle"
            errors.append(FieldError("pressure_hot", message))
        if errors:
            raise InputErrors(*errors)
        return (
            At("idle", weak, self._read(self.read_idle)),
            At(f"{fast:.0f} r/min", least_pressure(fast, (idle, weak), (speed, strong)), None),
            At(printed(self.pressure_speed, "r/min"), strong, self._read(self.read_hot)),
        )

    def _read(self, typed: Quantity | None) -> Any:
        if typed is None:
            return None
        return read_by_instrument([typed], "bar", instrument="oil gauge", limit=self.gauge_error)[0]


def _warnings(low: Sequence[str], near: Sequence[str]) -> Iterator[Caution]:
    if low:
        yield Caution(
            "warning",
            "Oil pressure is below its least. Bearings run dry and seize, which can kill on the road. Do not keep "
            "it running: find out why before the next start.",
        )
    if near:
        yield Caution(
            "notice",
            f"At {spoken(near)} this gauge cannot tell whether the pressure is enough. Read it with a better one.",
        )
