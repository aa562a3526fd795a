"""One figure by its name, as whoever looks it up wants it: the reader's own before all, and whose it is."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.bench.desk import Asked, Desk, Known, Origin
from calculators.bench.question import questions
from calculators.bench.units import NotANumber, UnknownUnit, read_number
from calculators.card.texts import with_other_unit


@dataclass(frozen=True, kw_only=True, slots=True)
class Figure:
    """A figure as text, empty where there is none, and whose it is: yours, your card's, usual or the example's."""

    text: str = ""
    whose: str = ""


_WHOSE = {
    Origin.TYPED: "yours",
    Origin.WORKED_OUT: "yours",
    Origin.CARD: "card",
    Origin.USUAL: "usual",
    Origin.EXAMPLE: "example",
}


def figure(desk: Desk, path: str) -> Figure:
    """Return what stands under a path: an entry of a question, a value that one works out, or a fact of the card.

    Examples
    --------
    >>> from calculators.bench.desk import Reading
    >>> figure(Desk({"head_torque": Reading("25", "lbf·ft")}), "torque.wrench.target")
    Figure(text='25 lbf·ft (33.9 N·m)', whose='yours')
    >>> figure(Desk(), "torques.spark_plug")
    Figure(text='', whose='')
    """
    name, _, key = path.rpartition(".")
    if name not in questions():
        return _of_entry(desk.from_card(path))
    asked = desk.ask(name)
    return _of_entry(asked.known[key]) if key in asked.known else _worked_out(asked, key)


def _of_entry(known: Known) -> Figure:
    if not known.text or (known.origin is Origin.TYPED and known.value is None):
        return Figure()
    return Figure(
        text=with_other_unit(_with_unit(known)), whose="example" if known.is_example else _WHOSE[known.origin]
    )


def _with_unit(known: Known) -> str:
    """Return a text with the unit that stood beside it, where it names none itself."""
    try:
        named = read_number(known.text).unit
    except (NotANumber, UnknownUnit):
        return known.text
    return known.text if named or not known.unit else f"{known.text} {known.unit}"


def _worked_out(asked: Asked, key: str) -> Figure:
    value = asked.answer.value(key) if asked.answer else None
    return Figure(text=value.texts[0], whose="example" if asked.is_example else "yours") if value else Figure()
