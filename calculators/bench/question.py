"""A question: one thing a person wants to know, a few entries, one pure answer."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any, ClassVar

import calculators
from calculators.bench.answer import Answer, WorkedFirst
from calculators.bench.card import EngineCard
from calculators.bench.card_facts import CARD_PATHS
from calculators.bench.entries import Entry, Given, Table, entries_of, tables_of
from calculators.bench.errors import BenchError

MOST_OPEN = 7
"""So many things at most are asked at once; what refines the answer lies in a fold."""
MOST_BESIDE_A_TABLE = 3


class UnknownQuestion(BenchError):
    """No question has this name."""


class Question(Given):
    """One thing a person wants to know.

    A subclass declares its entries as attributes and works out ``answer``; its docstring says
    where the answer stops to hold.

    Attributes
    ----------
    asks : str
        The question in the reader's words, with its question mark.
    tells : str
        What it finds out, as a heading on paper: ``Compression ratio``.
    name : str
        ``room.module``, where it stands.
    deed : str
        What its steps do, where it has some, as a list of what was done has it: ``Tighten the head nuts``.
    procedures : tuple of str
        Pages with a step in which its walk that goes onto paper is done: ``build/set-valve-lash``.
    judges : bool
        Its answer has findings: what was measured, beside its limits.
    works_out : tuple of str
        Names under which other questions take its values for their entries.
    from_card : tuple of str
        Paths of the engine card's facts that it asks for itself (``self.card.facts``), beside those of its entries.
    """

    asks: ClassVar[str] = ""
    tells: ClassVar[str] = ""
    name: ClassVar[str] = ""
    deed: ClassVar[str] = ""
    procedures: ClassVar[tuple[str, ...]] = ()
    judges: ClassVar[bool] = False
    works_out: ClassVar[tuple[str, ...]] = ()
    from_card: ClassVar[tuple[str, ...]] = ()
    _entries: ClassVar[tuple[Entry[Any], ...]] = ()
    _tables: ClassVar[tuple[Table[Any], ...]] = ()

    def __init__(self, values: Mapping[str, Any], card: EngineCard | None = None) -> None:
        super().__init__(values)
        self.card = card

    def __init_subclass__(cls) -> None:
        _, *room, module = cls.__module__.split(".")
        cls.name = ".".join([*room, module])
        cls._entries, cls._tables = entries_of(cls), tables_of(cls)
        names = [entry.key for entry in cls._entries]
        for table in cls._tables:
            names += [table.key, *(column.key for column in table.columns)]
        if twice := {key for key in names if names.count(key) > 1}:
            raise TypeError(f"{cls.name}: {', '.join(sorted(twice))} stands twice")
        of_entries = (entry.facts.card for entry, _ in entries_and_columns(cls) if entry.facts.card)
        if strange := {*of_entries, *cls.from_card} - CARD_PATHS:
            raise TypeError(f"{cls.name}: an engine card has no {', '.join(sorted(strange))}")

    def answer(self) -> Answer | WorkedFirst:
        """Return the answer to what was given.

        Raises
        ------
        Lacking
            None of several entries was filled, of which it takes one.
        InputErrors
            Entries that cannot be true together. Any other exception is a bug.
        Lacking
            One of several boxes must be filled, and none is.
        """
        raise NotImplementedError

    @classmethod
    def entries(cls) -> tuple[Entry[Any], ...]:
        return cls._entries

    @classmethod
    def tables(cls) -> tuple[Table[Any], ...]:
        return cls._tables


@cache
def questions() -> Mapping[str, type[Question]]:
    """Return every question by name, room by room: found, not listed."""
    found = {}
    for room in filter(lambda module: module.ispkg, pkgutil.iter_modules(calculators.__path__)):
        package = importlib.import_module(f"calculators.{room.name}")
        if not hasattr(package, "TITLE"):  # a room has one
            continue
        for module_info in pkgutil.iter_modules(package.__path__):
            module = importlib.import_module(f"calculators.{room.name}.{module_info.name}")
            for thing in vars(module).values():
                if isinstance(thing, type) and issubclass(thing, Question) and thing.__module__ == module.__name__:
                    found[thing.name] = thing
    return found


def entries_and_columns(of: type[Question]) -> Iterator[tuple[Entry[Any], Table[Any] | None]]:
    """Yield each entry of a question, and each column of its tables with its table."""
    for entry in of.entries():
        yield entry, None
    for table in of.tables():
        for column in table.columns:
            yield column, table


@cache
def provider(shared_name: str) -> type[Question] | None:
    """Return the question that works out a shared name (``"chamber"``), or None where none does."""
    return next((asked for asked in questions().values() if shared_name in asked.works_out), None)


def question(name: str) -> type[Question]:
    """Return the question of this name.

    Raises
    ------
    UnknownQuestion
    """
    try:
        return questions()[name]
    except KeyError:
        raise UnknownQuestion(f"There is no question {name}; there are {', '.join(questions())}") from None


def rooms() -> Mapping[str, list[type[Question]]]:
    """Return the questions of each room, in the room's own ``ORDER``; those that it does not name come last."""
    found: dict[str, list[type[Question]]] = {}
    for asked in questions().values():
        found.setdefault(asked.name.partition(".")[0], []).append(asked)
    for room, asked_there in found.items():
        order = getattr(importlib.import_module(f"calculators.{room}"), "ORDER", ())
        asked_there.sort(key=lambda asked: _place(order, asked.name.rpartition(".")[2]))
    return found


def _place(order: Sequence[str], name: str) -> int:
    return order.index(name) if name in order else len(order)


def room_title(room: str) -> str:
    """Return what a room is called."""
    return str(importlib.import_module(f"calculators.{room}").TITLE)
