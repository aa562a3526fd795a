"""One seal: how far the parts must press it, and how far they do."""

from __future__ import annotations

from calculators.bench import (
    COMMON_PRACTICE,
    DECISION,
    Answer,
    Caution,
    Column,
    Question,
    ResultTable,
    TableRow,
    Value,
    magnitude_in,
    optional,
    quantity,
)
from calculators.bench.units import figures, printed
from calculators.bench.verdict import best_of, expanded_of
from calculators.sealing import crushed
from calculators.sealing.crushed import BANDS, Crush
from calculators.sealing.seal_drawing import pressed_seal


class CrushOfOneSeal(Question):
    """For one solid seal between flat faces. The usual bands are common practice; the maker's figure wins."""

    asks = "How much crush does this seal or washer need?"
    tells = "Crush of seal or washer"

    seal = crushed.kind("tube")
    free = crushed.free("6.00 mm")
    fitted = optional(crushed.fitted("4.50 mm"))
    least_crush = crushed.crush_limit("Least crush", crushed.MAKERS)
    most_crush = crushed.crush_limit("Most crush", crushed.MAKERS)
    thickness_error = crushed.thickness_error()

    def answer(self) -> Answer:
        least, most = crushed.band_of(self.seal, self.least_crush, self.most_crush)
        whole = crushed.thickness_read(self.free, "calliper", self.thickness_error)
        left = [whole * (1 - share / 100) for share in (most, least)]
        between = f"{figures(best_of(left[0]), 2)} to {figures(best_of(left[1]), 2)} mm"
        band = f"{least:g} to {most:g}%"
        fitted = None if self.fitted is None else magnitude_in(self.fitted, "mm")
        lies = (
            None
            if self.fitted is None
            else crushed.crushed(0, self.seal, self.free, self.fitted, (least, most), self.thickness_error)
        )
        values = [
            Value(
                key=key,
                label=label,
                quantity=quantity(thickness, "mm"),
                units=("mm", "in"),
                formula=f"free thickness × (1 − {share} crush)",
                source=COMMON_PRACTICE,
                given=(("free thickness", self.free), (f"{share} crush", f"{limit:g}%")),
            )
            for key, label, share, thickness, limit in (
                ("thinnest", "Press it to no less than", "most", left[0], most),
                ("thickest", "Press it to no more than", "least", left[1], least),
            )
        ]
        if lies is not None:
            values += _as_it_lies(lies, band)
        return Answer(
            headline=f"{between} thick when tight" if lies is None else _headline(lies),
            says=f"{BANDS[self.seal][0]}, {printed(self.free, 'mm')} free: press it by {band}, to {between}."
            + (f" Pressed to {figures(fitted or 0, 2)} mm it is {_said(lies)}." if lies else ""),
            drawing=pressed_seal(
                best_of(whole), (best_of(left[0]), best_of(left[1])), fitted, lies.deed if lies else ""
            ),
            values=tuple(values),
            warnings=_warnings(lies),
            tables=(_bands(self.seal),),
            notes=NOTES,
        )


NOTES = (
    "A metal washer hardens once tightened. Heating copper to a dull red softens it again; throw aluminium, fibre and "
    "rubber away.",
    "The seal maker's figure wins: type it in as the band.",
)


def _bands(seal: str) -> ResultTable:
    return ResultTable(
        key="bands",
        title="The usual bands",
        columns=(
            Column(key="kind", label="Kind"),
            Column(key="least", label="Least", unit="%", places=0),
            Column(key="most", label="Most", unit="%", places=0),
        ),
        rows=tuple(
            TableRow(cells=(seen, quantity(least, "%"), quantity(most, "%")), chosen=kind == seal)
            for kind, (seen, least, most) in BANDS.items()
        ),
        formula="(free thickness − fitted thickness) ÷ free thickness",
        source=COMMON_PRACTICE,
    )


def _as_it_lies(lies: Crush, band: str) -> tuple[Value, ...]:
    given = (("free thickness", lies.free), ("fitted thickness", lies.fitted))
    return (
        Value(
            key="crush",
            label="Crush as fitted",
            quantity=quantity(lies.crush, "%"),
            formula="(free thickness − fitted thickness) ÷ free thickness",
            source=COMMON_PRACTICE,
            given=given,
        ),
        Value(
            key="verdict",
            label=f"Against {band}",
            quantity=lies.verdict,
            formula="in or out only if all of the crush, ± included, is",
            source=DECISION,
            given=given,
        ),
    )


def _percent(lies: Crush) -> str:
    best, expanded = best_of(lies.crush), expanded_of(lies.crush)
    return f"{figures(best, 0)}%" if expanded < 0.5 else f"{figures(best, 0)} ± {figures(expanded, 0)}%"


def _headline(lies: Crush) -> str:
    told = {"in": "Seals", "too close to call": "Too close to call"}.get(
        lies.verdict, lies.deed.partition(":")[0].capitalize()
    )
    return f"{told}: {_percent(lies)}, wants {lies.least:g} to {lies.most:g}%"


def _said(lies: Crush) -> str:
    return f"crushed by {_percent(lies)}: {lies.deed}"


def _warnings(lies: Crush | None) -> tuple[Caution, ...]:
    if lies is None or lies.verdict == "in":
        return ()
    if lies.verdict == "too close to call":
        return (Caution("notice", "These readings cannot tell whether it seals. Measure again with a finer gauge."),)
    return (Caution("notice", f"As measured it is crushed {lies.deed}. Use another seal, or other parts."),)
