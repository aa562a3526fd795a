"""The core: values, entries, questions, answers, and one pass over what was given."""

from calculators._engine_card import EngineCard
from calculators._errors import BenchError, FieldError, InputErrors, Lacking
from calculators._report import (
    COMMON_PRACTICE,
    CONVERSION,
    GEOMETRY,
    Attachment,
    Caution,
    Check,
    Column,
    Figure,
    Source,
    Stage,
    Step,
    Value,
    Walk,
)
from calculators._report import Row as TableRow
from calculators._report import Table as ResultTable
from calculators._units import magnitude_in, number_in, printed, quantity, symbol_of
from calculators.bench import shared
from calculators.bench.answer import Answer, Worked
from calculators.bench.drawing import Drawing, around
from calculators.bench.entries import (
    Entry,
    Quantity,
    Row,
    Table,
    angle,
    choice,
    count,
    day,
    described,
    grouped,
    length,
    listed,
    measure,
    number,
    optional,
    torque,
    volume,
)
from calculators.bench.instruments import read_by_instrument
from calculators.bench.question import Question

__all__ = [
    "COMMON_PRACTICE",
    "CONVERSION",
    "GEOMETRY",
    "Answer",
    "Attachment",
    "BenchError",
    "Caution",
    "Check",
    "Column",
    "Drawing",
    "EngineCard",
    "Entry",
    "FieldError",
    "Figure",
    "InputErrors",
    "Lacking",
    "Quantity",
    "Question",
    "ResultTable",
    "Row",
    "Source",
    "Stage",
    "Step",
    "Table",
    "TableRow",
    "Value",
    "Walk",
    "Worked",
    "angle",
    "around",
    "choice",
    "count",
    "day",
    "described",
    "grouped",
    "length",
    "listed",
    "magnitude_in",
    "measure",
    "number",
    "number_in",
    "optional",
    "printed",
    "quantity",
    "read_by_instrument",
    "shared",
    "symbol_of",
    "torque",
    "volume",
]
