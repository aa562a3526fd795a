"""What a card is made of: sections of facts, which are entries as a question's are, and tables of things in rows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar, cast, overload

from calculators.bench.entries import Entry, Facts
from calculators.bench.kinds import Kind, Measure, Names, Number, Text, Wrong
from calculators.bench.units import unit

_LIKE = {
    "length": "80 mm",
    "torque": "34 N·m",
    "volume": "52 cm³",
    "angle": "180°",
    "force": "260 N",
    "pressure": "3 bar",
    "speed of rotation": "850 r/min",
}


class Section:
    """Facts that stand under one key of a card; of a card that was read they give the values, None where it is silent.

    Attributes
    ----------
    path, title : str
        ``studs.cylinder_head``, ``Studs: cylinder head``; they follow from the names of the attributes.
    hint : str
        What its title is too short for.
    needs : tuple of str
        The keys that none may lack.
    own_source : tuple of str, optional
        The keys of the facts that say by themselves where they come from; None for all of them.
        For the others the section says so once, under ``source``, if it does.
    """

    path: ClassVar[str] = ""
    title: ClassVar[str] = ""
    hint: ClassVar[str] = ""
    needs: ClassVar[tuple[str, ...]] = ()
    own_source: ClassVar[tuple[str, ...] | None] = None

    def __init__(self, tree: Any) -> None:
        self._tree = tree if isinstance(tree, Mapping) else {}

    def __init_subclass__(cls) -> None:
        if strange := {*cls.needs, *(cls.own_source or ())} - set(cls.members()):
            raise TypeError(f"{cls.__name__}: no fact is called {', '.join(sorted(strange))}")
        _place(cls, "", "")

    @classmethod
    def members(cls) -> dict[str, Member]:
        """Return what stands in it by key, as it is written."""
        return {key: found for key, found in vars(cls).items() if isinstance(found, Entry | Rows | Part)}

    @classmethod
    def entries(cls) -> tuple[Entry[Any], ...]:
        return tuple(found for found in cls.members().values() if isinstance(found, Entry))

    @classmethod
    def tables(cls) -> tuple[Rows[Any], ...]:
        return tuple(found for found in cls.members().values() if isinstance(found, Rows))

    @classmethod
    def parts(cls) -> tuple[Part[Any], ...]:
        return tuple(found for found in cls.members().values() if isinstance(found, Part))

    @classmethod
    def facts(cls) -> list[Entry[Any] | Rows[Any]]:
        """Return its tables and its entries, in the order of a form."""
        return [found for kind in (Rows, Entry) for found in cls.members().values() if isinstance(found, kind)]

    @classmethod
    def paths(cls) -> tuple[str, ...]:
        return tuple(fact.path for fact in cls.facts())

    @classmethod
    def says_source(cls, key: str) -> bool:
        """Return whether a fact has a box of its own for where it comes from."""
        return cls.own_source is None or key in cls.own_source

    def value_of[T](self, entry: Entry[T]) -> T | None:
        """Return the value of a fact; None where there is none, or it cannot be read."""
        found = self._tree.get(entry.key)
        if self.says_source(entry.key):
            found = found.get("value") if isinstance(found, Mapping) else None
        try:
            value: Any = None if found is None else entry.kind.read(as_typed(found), lambda: like(entry))
        except Wrong:
            return None
        return cast("T | None", value)


class Part[S: Section]:
    """A section that stands in another, under the attribute's name."""

    key = ""

    def __init__(self, of: type[S]) -> None:
        self.of = of

    def __set_name__(self, owner: type, name: str) -> None:
        self.key = name

    @overload
    def __get__(self, given: None, owner: type) -> type[S]: ...
    @overload
    def __get__(self, given: Section, owner: type) -> S: ...
    def __get__(self, given: Section | None, owner: type) -> type[S] | S:
        return self.of if given is None else self.of(given._tree.get(self.key))


class Rows[S: Section]:
    """Things in rows, like studs with their places: each row a section of bare facts, none of which may lack."""

    key, path = "", ""

    def __init__(self, label: str, of: type[S], fewest: int, most: int) -> None:
        self.label, self.of, self.fewest, self.most = label, of, fewest, most

    def __set_name__(self, owner: type, name: str) -> None:
        self.key = name

    @property
    def columns(self) -> tuple[Entry[Any], ...]:
        return self.of.entries()


Member = Entry[Any] | Rows[Any] | Part[Any]


def _place(section: type[Section], path: str, title: str) -> None:
    section.path, section.title = path, title
    for key, found in section.members().items():
        place = f"{path}.{key}" if path else key
        if isinstance(found, Part):
            words = key.replace("_", " ")
            _place(found.of, place, f"{title}: {words}" if title else words.capitalize())
        else:
            found.path = place


def every_section(section: type[Section]) -> Iterator[type[Section]]:
    """Yield the sections of a section that have facts or tables, the outer before the inner."""
    for part in section.parts():
        if part.of.entries() or part.of.tables():
            yield part.of
        yield from every_section(part.of)


def text(label: str, *, most: int | None = None, may_be_empty: bool = False, **facts: Any) -> Entry[str]:
    """Return an entry for words on one line, of so many letters."""
    return Entry(label, Text(fewest=0 if may_be_empty else 1, most=most), Facts(**facts))


def names(label: str, **facts: Any) -> Entry[tuple[str, ...]]:
    """Return an entry for names in a row: ``A B C D``."""
    return Entry(label, Names(), Facts(**facts))


def like(entry: Entry[Any]) -> str:
    """Return a value to show in an error."""
    kind: Kind = entry.kind
    if isinstance(kind, Measure):
        return _LIKE.get(unit(kind.own).kind) or kind.likely(kind.own)
    return ("4" if kind.whole else "7.6") if isinstance(kind, Number) else entry.like()


def as_typed(value: Any) -> str:
    """Return what stands on a card as it would be typed into a form.

    Examples
    --------
    >>> as_typed([[1, 2], [3, 4]]), as_typed(7.6)
    ('1 2 / 3 4', '7.6')
    """
    if isinstance(value, list):
        grouped = value and isinstance(value[0], list)
        return " / ".join(map(as_typed, value)) if grouped else " ".join(map(str, value))
    return str(value)
