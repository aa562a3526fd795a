"""Calculators for the top end of an engine: forms, computed reports, drawings.

Every public module of this package is a calculator; what they share stands in
private modules and in ``calculators.formulas``. Nothing here knows a browser or a site.
"""

from calculators._drawing import Drawing, around
from calculators._engine_card import EngineCard, read_card
from calculators._errors import BenchError, CardError, FieldError, InputErrors, UnknownCalculator
from calculators._form import Field, Form, Rows, Section
from calculators._kinds import Choice, Date, Groups, Measure, Number, Series
from calculators._report import (
    COMMON_PRACTICE,
    CONVERSION,
    GEOMETRY,
    Attachment,
    Caution,
    Column,
    Figure,
    Kept,
    Report,
    Row,
    Source,
    Stage,
    Step,
    Table,
    Value,
    Walk,
)
from calculators._units import Quantity, magnitude_in, measured, printed, quantity, symbol_of, uncertainty_in, unit

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
    "Field",
    "FieldError",
    "Figure",
    "Form",
    "Groups",
    "InputErrors",
    "Kept",
    "Measure",
    "Number",
    "Quantity",
    "Report",
    "Row",
    "Rows",
    "Section",
    "Series",
    "Source",
    "Stage",
    "Step",
    "Table",
    "UnknownCalculator",
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
