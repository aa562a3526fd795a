"""Finds the calculators: every public module of the package that declares a form and a compute."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from types import SimpleNamespace

import calculators
from calculators._errors import UnknownCalculator
from calculators._form import Card, Form
from calculators._report import Report


@dataclass(frozen=True, slots=True)
class Calculator:
    """A calculator as everyone meets it: a name, a title, a form, an answer."""

    name: str
    title: str
    purpose: str
    form: Form
    compute: Callable[[SimpleNamespace], Report]

    def answer(self, typed: Mapping[str, str], card: Card | None = None) -> Report:
        """Answer what was typed.

        Raises
        ------
        InputErrors
            Nothing else: any other exception is a bug.
        """
        return self.compute(self.form.read(typed, card))


@cache
def catalogue() -> Mapping[str, Calculator]:
    """Return all calculators by name, in the alphabet's order."""
    found = {}
    for module_info in pkgutil.iter_modules(calculators.__path__):
        if module_info.name.startswith("_") or module_info.ispkg:
            continue
        module = importlib.import_module(f"calculators.{module_info.name}")
        name = module_info.name.replace("_", "-")
        purpose = (module.__doc__ or "").strip().partition("\n")[0].rstrip(".")
        found[name] = Calculator(name, module.TITLE, purpose, module.FORM, module.compute)
    return found


def calculator(name: str) -> Calculator:
    """Return the calculator of this name.

    Raises
    ------
    UnknownCalculator
    """
    try:
        return catalogue()[name.replace("_", "-")]
    except KeyError:
        raise UnknownCalculator(f"There is no calculator {name}; there are {', '.join(catalogue())}") from None
