"""What an entry asks for, as the reader of texts takes it; and a list typed for a column, parted into cells."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.bench.instrument_kinds import INSTRUMENTS
from calculators.bench.kinds import (
    Choice,
    Date,
    Groups,
    Kind,
    Measure,
    Names,
    Number,
    Series,
    Text,
    is_one_number,
    split_line,
    three_figures,
    unit_of_list,
)
from calculators.bench.units import NotANumber, UnknownUnit, magnitude_in, plain, quantity, read_number


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Field:
    """One thing asked for.

    Parameters
    ----------
    key, label : str
        ``bore``, ``Bore``.
    kind : Measure, Number, Choice, Series, Groups or Date
    default : str, optional
        What fills it where nobody says otherwise, as typed.
    example : str, optional
        What the worked example reads.
    instrument : str, optional
        The kind of instrument that reads it (``INSTRUMENTS``): the job names the one on the bench.
    """

    key: str
    label: str
    kind: Kind
    default: str | None = None
    example: str | None = None
    instrument: str | None = None

    def __post_init__(self) -> None:
        if self.instrument and self.instrument not in INSTRUMENTS:
            raise ValueError(f"{self.key}: no kind of instrument is called {self.instrument}")

    @property
    def entry(self) -> Measure | Number | Choice | Date | Text | Names:
        """What the field asks for, or what each entry of its list is."""
        return self.kind.of if isinstance(self.kind, Series | Groups) else self.kind

    @property
    def measure(self) -> Measure | None:
        return self.entry if isinstance(self.entry, Measure) else None

    @property
    def own_unit(self) -> str | None:
        return self.measure.own if self.measure else None

    @property
    def signed(self) -> bool:
        """True where a minus or a dash can occur, so that a phone must offer one."""
        return isinstance(self.kind, Date) or (isinstance(self.kind, Measure) and self.kind.low < 0)

    def like(self, chosen: str | None = None) -> str:
        """Return a value to show in an error: the field's own example, in the unit chosen and bare of it."""
        text = self.example or self.default
        if isinstance(self.kind, Series):
            return text or self.kind.like
        if isinstance(self.kind, Groups | Choice):
            return text or "1 2 / 3 4"
        if isinstance(self.kind, Date):
            return text or "2026-11-25"
        if isinstance(self.kind, Text | Names):
            return text or "A B C D"
        if not text:
            return self.measure.likely(chosen or self.measure.own) if self.measure else self.kind.limits[0]
        text = split_line(text)[0]
        typed = read_number(text)
        if self.measure and chosen and typed.number:
            written_in = typed.unit.symbol if typed.unit else self.measure.own
            if written_in != chosen:
                return plain(three_figures(magnitude_in(quantity(typed.number, written_in), chosen), round))
        return text.split()[0] if typed.number else "0 or 0.5"


LONGEST_ENTRY = 2000
"""Characters that a box takes, and the job's schema too: what can be typed can be exported and taken in again."""
KEPT = 2048
"""So many texts that were read are remembered: between two keys, all but one stay as they were."""


def cells_of(field: Field, text: str, most: int) -> list[str]:
    """Split a list typed for a column; an empty place between two semicolons is an empty cell.

    The first cell's unit, or one typed once behind the last, is put behind each that has none,
    unless there are more cells than rows and the list is refused anyhow.
    """
    if not text.strip():
        return []
    lines = isinstance(field.kind, Series)  # each cell is a line itself: 49.5 49.6; 48.1 48.2
    if is_one_number(field.kind, text):
        return [text.strip()]
    cells = [cell.strip() for cell in text.split(";")] if lines or ";" in text else split_line(text)
    filled = [cell for cell in cells if cell]
    if not field.measure or not filled or len(cells) > most:
        return cells
    # of lines only the first counts: a unit at the end of the last is that line's own
    shared = _unit_of_line(filled[0]) if lines else unit_of_list(filled)
    if shared is None:
        return cells
    return [f"{cell} {shared}" if _bare(cell) else cell for cell in cells]


_LONG = 500
"""Characters; a cell beyond is a paste gone wrong, and refused elsewhere."""


def _unit_of_line(line: str) -> str | None:
    return unit_of_list(split_line(line)) if len(line) <= _LONG else None


def _bare(cell: str) -> bool:
    """Tell whether a cell has numbers and no unit."""
    try:
        return 0 < len(cell) <= _LONG and not any(read_number(part).unit for part in split_line(cell))
    except (NotANumber, UnknownUnit):
        return False
