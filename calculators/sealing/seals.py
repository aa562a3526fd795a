"""A list of seals and washers as they lie, each against its band."""

from __future__ import annotations

from calculators.bench import (
    COMMON_PRACTICE,
    DECISION,
    Answer,
    Caution,
    Column,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    ResultTable,
    Row,
    Table,
    TableRow,
    Value,
    magnitude_in,
    quantity,
)
from calculators.bench.words import listed, word
from calculators.sealing import crushed
from calculators.sealing.crush import NOTES
from calculators.sealing.crushed import Crush
from calculators.sealing.seal_drawing import rows_of_seals


class SealRow(Row):
    """One seal or washer."""

    seal = crushed.kind("o_ring; copper; fibre")
    free = crushed.free("2.62; 1.50; 1.60")
    fitted = crushed.fitted("2.05; 1.34; 1.53")
    least_crush = crushed.crush_limit("Least crush")
    most_crush = crushed.crush_limit("Most crush")


class Seals(Question):
    """For solid seals between flat faces. The usual bands are common practice; the maker's figure wins."""

    asks = "Will these seals and washers seal as fitted?"
    tells = "Seals and washers as fitted"

    seals = Table(
        SealRow,
        each="Seal {}",
        most=10,
        hint="New, and with the parts tight: depth of the groove, the gap, or the washer after tightening. "
        "Least and most crush from its maker. Empty: common practice.",
    )
    thickness_error = crushed.thickness_error()

    def answer(self) -> Answer:
        if not self.seals:
            raise Lacking(FieldError("seal.1", "Enter the seals, one row each"))
        found = self._judged()
        wrong = [seal for seal in found if seal.verdict == "out"]
        close = [seal for seal in found if seal.verdict == "too close to call"]
        headline, told = _said(len(found), wrong, close)
        return Answer(
            headline=headline,
            says=told,
            drawing=rows_of_seals(found),
            values=tuple(
                Value(
                    key=f"verdict_{seal.number}",
                    label=f"Seal {seal.number}, {seal.seen}",
                    quantity=f"{word(seal.verdict)}: {seal.deed}",
                    formula="(free thickness − fitted thickness) ÷ free thickness, with its ±, against its band",
                    source=DECISION,
                    given=(
                        ("free", seal.free),
                        ("fitted", seal.fitted),
                        ("wanted", f"{seal.least:g} to {seal.most:g}%"),
                    ),
                )
                for seal in found
            ),
            warnings=tuple(Caution("notice", f"Seal {seal.number}, {seal.seen}: {seal.deed}.") for seal in wrong)
            + ((Caution("notice", f"{_named(close)}: measure again with a finer gauge."),) if close else ()),
            tables=(_table(found),),
            notes=NOTES,
        )

    def _judged(self) -> tuple[Crush, ...]:
        found: list[Crush] = []
        errors: list[FieldError] = []
        for number, row in enumerate(self.seals, 1):
            try:
                band = crushed.band_of(row.seal, row.least_crush, row.most_crush, number)
            except InputErrors as wrong:
                errors += wrong.errors
                continue
            found.append(crushed.crushed(number, row.seal, row.free, row.fitted, band, self.thickness_error))
        if errors:
            raise InputErrors(*errors)
        return tuple(found)


def _named(seals: list[Crush]) -> str:
    return f"{'Seals' if len(seals) > 1 else 'Seal'} {listed(seal.number for seal in seals)}"


def _said(count: int, wrong: list[Crush], close: list[Crush]) -> tuple[str, str]:
    """Return the headline, and the same as a sentence."""
    if not wrong and not close:
        all_of_them = "It is" if count == 1 else f"All {count} are"
        return f"{all_of_them} crushed right", f"{all_of_them} crushed as {'it' if count == 1 else 'they'} should be."
    told = [f"{_named(wrong)} will not seal as measured."] if wrong else []
    told += [f"{_named(close)}: too close to call."] if close else []
    headline = f"{_named(wrong)} will not seal" if wrong else f"{_named(close)} too close to call"
    return headline, " ".join(told)


def _table(seals: tuple[Crush, ...]) -> ResultTable:
    """Return each seal's crush against its band."""
    rows = (
        TableRow(
            cells=(
                f"{one.number}",
                one.seen,
                quantity(one.crush, "%"),
                f"{one.least:g} to {one.most:g}%",
                one.verdict,
                one.deed,
            ),
            chosen=one.verdict == "out",
        )
        for one in seals
    )
    return ResultTable(
        key="seals",
        title="Crush of the seals and washers",
        columns=(
            Column(key="seal", label="Seal"),
            Column(key="kind", label="Kind"),
            Column(key="crush", label="Crush", unit="%", places=0, strong=True),
            Column(key="band", label="Wanted"),
            Column(key="verdict", label="Verdict"),
            Column(key="deed", label="That is", wide=True),
        ),
        rows=tuple(rows),
        formula="(free thickness − fitted thickness) ÷ free thickness; in or out only if all of it, ± included, is "
        "(ISO 14253-1)",
        source=COMMON_PRACTICE,
        given=tuple(
            (f"seal {one.number}", f"{magnitude_in(one.free, 'mm'):.2f} to {magnitude_in(one.fitted, 'mm'):.2f} mm")
            for one in seals
        ),
    )
