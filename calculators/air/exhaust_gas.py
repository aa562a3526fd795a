"""What the exhaust gas says of the mixture: λ from three gases, and CO at idle against the maker's band."""

from __future__ import annotations

from typing import Any

from calculators.air.air_ratio import LAMBDA, MOST_OXYGEN, Gas, band_of, guide
from calculators.air.cautions import BELT, MONOXIDE
from calculators.air.gas_drawing import gas_scales
from calculators.bench import (
    DECISION,
    Answer,
    Caution,
    Entry,
    FieldError,
    Finding,
    FoundPart,
    InputErrors,
    Lacking,
    Quantity,
    Question,
    Value,
    magnitude_in,
    measure,
    number,
    optional,
    quantity,
    shared,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.units import bare, figures, number_in, reading, uncertainty_in
from calculators.bench.words import listed, word
from calculators.formulas.decision_rule import Verdict, judged

_LEAKS_FROM = 1.08
"""λ from which air in the exhaust is likelier to have leaked in (common practice, no source)."""
_LEAK = Caution(
    "warning",
    "Air in the exhaust on this scale may come in through a leaking pipe or flange, and gas that leaks out can poison "
    "the people in the vehicle. Seal the exhaust and read again before you enrich the mixture.",
)
_LABELS = {"co": "Carbon monoxide", "co2": "Carbon dioxide", "o2": "Oxygen"}


def _share(label: str, low: float, high: float, why: str, **facts: Any) -> Entry[Quantity | None]:
    return optional(measure(label, "%", low, high, why=why, **facts))


def _limit(label: str, **facts: Any) -> Entry[Quantity | None]:
    return _share(label, 0, 15, "no petrol engine's exhaust holds more", exact=True, **facts)


class ExhaustGas(Question):
    """For petrol with little alcohol, engine warm, exhaust sound, probe well in.

    Air drawn in by a leaking exhaust counts as oxygen and makes the mixture look lean.
    """

    asks = "What does the exhaust gas say about the mixture?"
    tells = "Mixture, by exhaust gas"
    judges = True

    co = _share(
        "Carbon monoxide",
        0,
        15,
        "no petrol engine's exhaust holds more",
        hint="CO.",
        example="2.6%",
        read_by="gas_analyser",
        said="CO {}",
    )
    co2 = _share(
        "Carbon dioxide",
        0.1,
        18,
        "no petrol engine's exhaust holds more",
        hint="CO₂.",
        example="13.1%",
        read_by="gas_analyser",
        said="CO₂ {}",
    )
    o2 = _share("Oxygen", 0, 20.9, "clean air", hint="O₂.", example="0.6%", read_by="gas_analyser", said="O₂ {}")
    hc = optional(
        number(
            "Unburnt fuel in ppm",
            0,
            30000,
            why="with more, a cylinder is not firing",
            hint="HC, as hexane.",
            example="240",
            read_by="gas_analyser",
            said="HC {} ppm",
        )
    )
    idle_co_least = _limit(
        "Least CO at idle",
        hint="From the engine maker.",
        card=CardFacts.carburettor.idle_co_least.path,
        shared_as="idle_co_least",
        said="idle CO from {}",
    )
    idle_co_most = _limit(
        "Most CO at idle",
        hint="From the engine maker, or the law where you are.",
        card=CardFacts.carburettor.idle_co_most.path,
        shared_as="idle_co_most",
        said="to {}",
    )
    analyser_error = shared.error_limit(
        "Error limit of the analyser",
        "%",
        50,
        why="the gauge reads no higher",
        hint="Plus or minus, as a share of each reading. A ± typed with a reading wins over it.",
        usual="5%",
        refines="How good the analyser is",
        said="± {}",
    )

    def answer(self) -> Answer:
        band = self._band()
        gas = self._gas()
        ratio, verdict = gas.ratio, self._verdict(gas.monoxide, band)
        if ratio is None and verdict is None:
            raise Lacking(*self._wanted())
        told = _told(ratio, gas.monoxide, verdict)
        return Answer(
            headline="; ".join(words for words, _ in told),
            says=" ".join(words for _, words in told),
            drawing=gas_scales(
                None if ratio is None else bare(ratio),
                None if gas.monoxide is None else bare(gas.monoxide),
                band,
            ),
            values=(
                *((self._ratio_value(ratio),) if ratio is not None else ()),
                *((self._idle_value(gas.monoxide, verdict),) if verdict else ()),
            ),
            warnings=(MONOXIDE, BELT, *((_LEAK,) if ratio is not None and bare(ratio)[0] >= _LEAKS_FROM else ())),
            tables=(guide(gas),),
            findings=()
            if gas.monoxide is None
            else (
                Finding(
                    key="co",
                    what="carbon monoxide (CO) in the exhaust at idle",
                    parts=(FoundPart("", quantity(gas.monoxide, "%"), verdict),),
                    units=("%",),
                    places=1,
                    low=self.idle_co_least,
                    high=self.idle_co_most,
                    limits=("idle_co_least", "idle_co_most"),
                ),
            ),
            notes=(
                *(self._left_out() if ratio is None else ()),
                "An analyser shows HC as hexane and misses part of the petrol: above 1000 ppm, λ comes out a little "
                "lean. With much alcohol in the petrol, λ is a few per cent off.",
                "For the mixture that the engine wants, follow the engine maker and your local law.",
                "CO at idle, petrol without a catalyst, is at most 4.5 % on older vehicles and 3.5 % on those from the "
                "autumn of 1986, by the laws of two countries: United Kingdom, S.I. 2001 No. 25, schedule 3; "
                "Luxembourg, road traffic code, article 25ter.",
            ),
        )

    def _band(self) -> tuple[float | None, float | None]:
        least, most = (
            None if limit is None else magnitude_in(limit, "%") for limit in (self.idle_co_least, self.idle_co_most)
        )
        if least is not None and most is not None and least > most:
            raise InputErrors(FieldError("idle_co_most", "Most CO at idle must be no less than the least"))
        return least, most

    def _gas(self) -> Gas:
        share = magnitude_in(self.analyser_error, "%") / 100

        def read(value: Quantity | None, name: str) -> Any:
            if value is None:
                return None
            if uncertainty_in(value, "%") is None:
                best = magnitude_in(value, "%")
                return reading(best, share * best, name)
            return number_in(value, "%")

        fuel = (self.hc or 0.0) / 1e4
        gas = Gas(
            monoxide=read(self.co, _LABELS["co"]),
            dioxide=read(self.co2, _LABELS["co2"]),
            oxygen=read(self.o2, _LABELS["o2"]),
            fuel=reading(fuel, share * fuel, "Unburnt fuel") if fuel else 0.0,
        )
        parts = ((0.5, gas.monoxide), (1.0, gas.dioxide), (1.0, gas.oxygen))
        bound = sum(part * bare(one)[0] for part, one in parts if one is not None)
        if bound > MOST_OXYGEN:
            key = "co2" if gas.dioxide is not None else "o2"
            raise InputErrors(
                FieldError(
                    key,
                    f"{_LABELS[key]} must be less: carbon dioxide, oxygen and half the carbon monoxide make "
                    f"{figures(bound, 1)}%, more oxygen than air has. Zero the analyser in clean air.",
                )
            )
        return gas

    @staticmethod
    def _verdict(monoxide: Any | None, band: tuple[float | None, float | None]) -> Verdict | None:
        if monoxide is None or band == (None, None):
            return None
        best, expanded = bare(monoxide)
        return judged(best, expanded or 0.0, *band)

    @property
    def _missing(self) -> list[str]:
        return [key for key, one in (("co", self.co), ("co2", self.co2), ("o2", self.o2)) if one is None]

    def _wanted(self) -> tuple[FieldError, ...]:
        return tuple(FieldError(key, f"Enter the {_LABELS[key].lower()}, in per cent") for key in self._missing)

    def _left_out(self) -> tuple[str, ...]:
        return (f"λ needs {listed(_LABELS[key].lower() for key in self._missing)} as well.",)

    def _ratio_value(self, ratio: Any) -> Value:
        return Value(
            key="lambda",
            label="λ, air supplied ÷ air needed",
            quantity=ratio,
            places=2,
            formula="(CO₂ + CO ÷ 2 + O₂ + (1.7261 ÷ 4 × 3.5 ÷ (3.5 + CO ÷ CO₂) − 0.0176 ÷ 2) × (CO₂ + CO)) ÷ "
            "((1 + 1.7261 ÷ 4 − 0.0176 ÷ 2) × (CO₂ + CO + 6 HC))",
            source=LAMBDA,
            given=(
                ("CO", self.co),
                ("CO₂", self.co2),
                ("O₂", self.o2),
                ("HC", f"{figures(self.hc or 0, 0)} ppm"),
            ),
        )

    def _idle_value(self, monoxide: Any, verdict: Verdict) -> Value:
        limits = (("least", self.idle_co_least), ("most", self.idle_co_most))
        return Value(
            key="co",
            label=f"CO at idle, {word(verdict)}",
            quantity=quantity(monoxide, "%"),
            formula="in or out only if the whole reading, ± included, is; more fuel at idle gives more CO",
            source=DECISION,
            given=tuple((name, limit) for name, limit in limits if limit is not None),
        )


def _told(ratio: Any | None, monoxide: Any | None, verdict: Verdict | None) -> list[tuple[str, str]]:
    """Return headline and sentence of what is known: of λ, of CO at idle."""
    told = []
    if ratio is not None:
        best = bare(ratio)[0]
        means = band_of(best)[3].partition(":")[0]
        told.append(
            (f"λ {figures(best, 2)}: {means.partition(',')[0]}", f"The exhaust shows λ {figures(best, 2)}, {means}.")
        )
    if verdict:
        share = f"{figures(bare(monoxide)[0], 1)}%"
        told.append((f"CO {share} {word(verdict)}", f"CO at idle, {share}: {word(verdict)}."))
    return told
