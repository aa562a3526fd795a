"""Questions about the top end of an engine, each with its answer, its drawing and its sources.

Every public package beside ``bench`` and ``formulas`` is a room of questions. Nothing here knows a browser or a site.
"""

from calculators.bench.card import EngineCard, read_card
from calculators.bench.drawing import Drawing, around
from calculators.bench.errors import BenchError, CardError, FieldError, InputErrors
from calculators.bench.kinds import Choice, Date, Groups, Measure, Number, Series
from calculators.bench.report import (
    COMMON_PRACTICE,
    CONVERSION,
    GEOMETRY,
    Attachment,
    Caution,
    Column,
    Figure,
    Row,
    Source,
    Stage,
    Step,
    Table,
    Value,
    Walk,
)
from calculators.bench.units import Quantity, magnitude_in, measured, printed, quantity, symbol_of, uncertainty_in, unit

__version__ = "0.1.0"

__all__ = [
    "COMMON_PRACTICE",
    "CONVERSION",
    "GEOMETRY",
    "Attachment",
    "BenchError",
    "CardError",
    "Caution",
    "Choice",
    "Column",
    "Date",
    "Drawing",
    "EngineCard",
    "FieldError",
    "Figure",
    "Groups",
    "InputErrors",
    "Measure",
    "Number",
    "Quantity",
    "Row",
    "Series",
    "Source",
    "Stage",
    "Step",
    "Table",
    "Value",
    "Walk",
    "around",
    "magnitude_in",
    "measured",
    "printed",
    "quantity",
    "read_card",
    "symbol_of",
    "uncertainty_in",
    "unit",
]
