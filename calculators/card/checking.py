"""What is wrong with a card: one reader, for files and for what is typed, with nothing but the standard library."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench.card import EngineCard, millimetres
from calculators.bench.card_facts import FARTHEST, FORMAT, CardFacts
from calculators.bench.entries import Entry
from calculators.bench.kinds import Choice, Groups, Kind, Measure, Names, Number, OutOfRange, Series, Text, Wrong
from calculators.bench.sections import Part, Rows, Section, as_typed, like, text
from calculators.bench.units import NotANumber, UnknownUnit, read_number, unit, units_of

Path = tuple[str | int, ...]
_NAMED, _KEY = 8, 40
"""So many unknown keys a fault names, with so many characters of each."""
_ABOVE = ("format",)
"""What stands on a card and is no fact."""


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong at one place of a card.

    Parameters
    ----------
    path : tuple of str and int
        Keys from the top of the card.
    found : str
        ``is "80 N"``.
    must : str
        ``must be …``; empty where nothing would help but to look at what was found.
    alone : str
        The same where what was found is not told.
    missing : tuple of str
        The keys that lack there, where that is the fault.
    """

    path: Path
    found: str
    must: str = ""
    alone: str = ""
    missing: tuple[str, ...] = ()

    @property
    def message(self) -> str:
        """All of it in one sentence that begins with the key."""
        key = "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in self.path).lstrip(".")
        return f"{key or 'the card'} {self.found}{f'; it {self.must}' if self.must else ''}"


def faults(data: Any, *, typing: bool = False) -> tuple[Fault, ...]:
    """Return what is wrong with a card's tree.

    Parameters
    ----------
    data : any
        A tree as JSON has it.
    typing : bool
        While it is typed, a figure beyond its limits is wrong too. A kept card is opened with it: a question
        that cannot take it says so.

    Examples
    --------
    >>> mine = {"format": 1, "name": "Mine", "about": "A twin."}
    >>> [fault.message for fault in faults(mine | {"layout": {"cylinders": {"value": 0, "source": "counted"}}})]
    ['layout.cylinders.value is 0; it must be between 1 and 12']
    """
    found = dict.fromkeys([*_in_format(data), *_in_section(CardFacts, data, (), typing)])
    return tuple(found or _contradictions(EngineCard("", data)))


def _in_format(data: Any) -> Iterator[Fault]:
    if isinstance(data, Mapping) and "format" in data and not _same(data["format"], FORMAT):
        yield Fault(("format",), f"is {_shown(data['format'])}", f"must be {FORMAT}")


def _in_section(section: type[Section], data: Any, path: Path, typing: bool) -> Iterator[Fault]:
    members = section.members()
    above, needs = (_ABOVE, (*_ABOVE, *section.needs)) if section is CardFacts else ((), section.needs)
    yield from _keys(data, path, (*above, *members), needs)
    for key, member in members.items() if isinstance(data, Mapping) else ():
        if key not in data:
            continue
        value, place = data[key], (*path, key)
        if isinstance(member, Part):
            yield from _in_section(member.of, value, place, typing)
        elif isinstance(member, Rows):
            yield from _in_rows(member, value, place, typing)
        elif section.says_source(key):
            yield from _in_fact(member, value, place, typing)
        else:
            yield from _in_value(member, value, place, typing)


def _keys(data: Any, path: Path, known: Sequence[str], needs: Sequence[str], why: str = "") -> Iterator[Fault]:
    """Yield what is wrong with the keys of a mapping, or that it is none."""
    if not isinstance(data, Mapping):
        yield Fault(path, f"is {_shown(data)}", "must be a mapping of keys")
        return
    if strange := sorted(str(name)[:_KEY] for name in data if name not in known):
        more = f" and {len(strange) - _NAMED} more" if len(strange) > _NAMED else ""
        named = ", ".join(strange[:_NAMED]) + more
        yield Fault(path, f"has an unknown key {named}; known here are {', '.join(known)}")
    if missing := tuple(name for name in needs if name not in data):
        yield Fault(path, f"lacks {', '.join(missing)}{why}", missing=missing)


def _in_fact(entry: Entry[Any], data: Any, path: Path, typing: bool) -> Iterator[Fault]:
    yield from _keys(data, path, ("value", "source"), ("value", "source"), "; every fact needs a value and a source")
    if isinstance(data, Mapping):
        if "value" in data:
            yield from _in_value(entry, data["value"], (*path, "value"), typing)
        if "source" in data:
            yield from _in_value(_SOURCE, data["source"], (*path, "source"), typing)


_SOURCE = text("Source")


def _in_rows(table: Rows[Any], data: Any, path: Path, typing: bool) -> Iterator[Fault]:
    if not isinstance(data, list):
        yield Fault(path, f"is {_shown(data)}", "must be a list")
        return
    for word, bound, wrong in (
        ("least", table.fewest, len(data) < table.fewest),
        ("most", table.most, len(data) > table.most),
    ):
        if wrong:
            must = f"must have at {word} {bound}"
            yield Fault(path, f"has {len(data)} entries", must, f"{must} entries")
    for index, row in enumerate(data):
        yield from _in_section(table.of, row, (*path, index), typing)


def _in_value(entry: Entry[Any], value: Any, path: Path, typing: bool) -> Iterator[Fault]:
    kind = entry.kind
    if isinstance(kind, Series | Groups | Names):
        yield from _in_list(kind, value, path)
    elif wrong := _wrong(kind, value, lambda: like(entry)):
        yield Fault(path, "is empty" if value == "" else f"is {_shown(value)}", wrong)
        return
    if typing and isinstance(kind, Measure | Series):
        try:
            kind.read(as_typed(value), lambda: like(entry))
        except Wrong as why:
            yield Fault(path, f"is {_shown(value)}", str(why))
    elif typing and isinstance(kind, Number) and not kind.low <= value <= kind.high:
        yield Fault(path, f"is {_shown(value)}", str(OutOfRange(kind.limits)))


def _in_list(kind: Series | Groups | Names, value: Any, path: Path) -> Iterator[Fault]:
    """Yield the entries of a list that are none of its kind; how many there must be, the cylinders say."""
    if not isinstance(value, list):
        yield Fault(path, f"is {_shown(value)}", "must be a list")
    elif isinstance(kind, Groups):
        if not value:
            yield Fault(path, "has 0 entries", "must have at least 1", "must have at least 1 entries")
        for index, group in enumerate(value):
            if group == []:
                yield Fault((*path, index), "has 0 entries", "must have at least 1")
            yield from _in_list(Series(of=kind.of, fewest=1, most=kind.most), group, (*path, index))
    else:
        of = Text(fewest=0) if isinstance(kind, Names) else kind.of
        for index, one in enumerate(value):
            if wrong := _wrong(of, one, lambda: ""):
                yield Fault((*path, index), f"is {_shown(one)}", wrong)


def _wrong(kind: Kind, value: Any, like: Callable[[], str]) -> str:
    """Return what a value must be instead to stand on a card at all; empty where it may."""
    match kind:
        case Number(whole=True):
            if not _whole(value):
                return "must be a whole number"
            return "" if kind.low <= value <= kind.high else str(OutOfRange(kind.limits))
        case Number():
            return "" if _number(value) else "must be a number"
        case Choice():
            return "" if any(_same(value, option) for option in kind.options) else kind.one_of
        case Measure():
            if is_of_kind(value, unit(kind.own).kind):
                return ""
            if not isinstance(value, str) or is_bare(value):
                return f"must name its unit, like {like()}"
    if not isinstance(value, str):
        return "must be text"
    try:
        kind.read(value, like)
    except Wrong as why:
        return str(why)
    return ""


def is_of_kind(text: Any, kind: str) -> bool:
    """Return whether a text is a quantity of this kind, with its unit.

    Examples
    --------
    >>> is_of_kind("80 mm", "length"), is_of_kind("80", "length"), is_of_kind("80 N", "length")
    (True, False, False)
    """
    try:
        return isinstance(text, str) and read_number(text).unit in units_of(kind)
    except (NotANumber, UnknownUnit):
        return False


def is_bare(text: str) -> bool:
    """Return whether a text is a number that names no unit.

    Examples
    --------
    >>> is_bare("78.5"), is_bare("2.75 in"), is_bare("a rag")
    (True, False, False)
    """
    try:
        return read_number(text).unit is None
    except (NotANumber, UnknownUnit):
        return False


def _number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _whole(value: Any) -> bool:
    return _number(value) and (isinstance(value, int) or value.is_integer())


def _same(one: Any, other: Any) -> bool:
    return bool(one == other) and isinstance(one, bool) == isinstance(other, bool)


def _shown(value: Any) -> str:
    if isinstance(value, Mapping | list):
        return "a mapping of keys" if isinstance(value, Mapping) else "a list"
    text = json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= 60 else f"{text[:57]}…"


def _contradictions(card: EngineCard) -> Iterator[Fault]:
    """Yield facts that cannot be true together."""
    cylinders = int(card.fact("layout.cylinders"))
    numbers = list(range(1, cylinders + 1))
    each_once = f"must name each cylinder from 1 to {cylinders} once"
    order = card.fact("layout.firing_order")
    if order is not None and sorted(order) != numbers:
        yield Fault(("layout", "firing_order", "value"), f"is {order}", each_once)
    banks = card.fact("layout.banks")
    if banks is not None and sorted(number for bank in banks for number in bank) != numbers:
        yield Fault(("layout", "banks", "value"), f"is {banks}", each_once)
    intervals = card.fact("layout.firing_intervals")
    if intervals is not None and (len(intervals) != cylinders or not math.isclose(sum(intervals), 720, abs_tol=1e-6)):
        must = f"must be {cylinders} angles that add up to 720"
        yield Fault(("layout", "firing_intervals", "value"), f"is {intervals}", must)
    studs = card.fact("studs.cylinder_head.positions") or []
    yield from _in_pattern(studs, [], ("studs", "cylinder_head"), "stud")
    names = [stud["name"] for stud in studs]
    published = card.fact("studs.cylinder_head.order")
    if published is not None and sorted(published) != sorted(names):
        must = f"must name each of {', '.join(names)} once"
        yield Fault(("studs", "cylinder_head", "order", "value"), f"is {published}", must)
    path, screws = ("studs", "head_screws"), card.fact("studs.head_screws.positions") or []
    count = card.fact("studs.head_screws.screw_count")
    if screws and len(screws) != count:
        yield Fault((*path, "screw_count"), f"is {count}", f"must be {len(screws)}, as many as have a place")
    yield from _in_pattern(screws, studs, path, "screw")


def _in_pattern(own: Sequence[Any], others: Sequence[Any], path: Path, what: str) -> Iterator[Fault]:
    """Yield what is wrong with the names and the places of a pattern, by itself and beside another one's."""
    path = (*path, "positions")
    every = [*own, *others]
    beside = (", or as a stud", "another or a stud is") if others or what == "screw" else ("", "another is")
    names = [one["name"] for one in every]
    if any(names.count(one["name"]) > 1 for one in own):
        yield Fault(path, f"names a {what} twice{beside[0]}; each name must be its own")
    places = [tuple(millimetres(one[axis]) for axis in "xy") for one in every]
    for one, place in zip(own, places, strict=False):
        if max(map(abs, place)) > FARTHEST:
            yield Fault(path, f"puts {one['name']} over {FARTHEST} mm off", "must be nearer")
    if any(places.count(place) > 1 for place in places[: len(own)]):
        yield Fault(path, f"puts a {what} where {beside[1]}; each must have its own place")
