"""What the class of engine cards puts on their page: the fold in which one is begun, and the list of every fact."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from html import escape
from typing import Any

from calculators import EngineCard
from calculators.bench.entries import Entry
from calculators.bench.kinds import Measure, Number
from calculators.bench.sections import Rows
from calculators.card.begun import FIRST, TITLE
from calculators.card.entries import SECTIONS, limits, options, takers, wanted
from calculators.card.one_fact import FROM


def editor(cards: Iterable[EngineCard]) -> str:
    """Return the element of the page; the fold lies in it until the element comes to life."""
    return f"<bench-card>The engine card needs JavaScript.<template>{_begin(cards)}</template></bench-card>"


def _begin(cards: Iterable[EngineCard]) -> str:
    """Return the fold; of the cards, the layouts are offered, those of flat engines first."""
    layouts = [(card.name, card.title.removeprefix(TITLE)) for card in cards if card.title.startswith(TITLE)]
    layouts.sort(key=lambda layout: not layout[1].startswith("flat"))
    rows = "\n".join(_row(entry, label) for entry, label in FIRST)
    return f"""
<details class="bench-more bench-begin">
<summary>Begin your engine’s card: its layout and five facts</summary>
<div class="bench-fields">
<div class="bench-field" data-field="name"><label for="bench-begin-name">Name of the engine</label>
<input id="bench-begin-name" data-part="value" type="text" maxlength="100" aria-describedby="bench-begin-name-error">
<p class="bench-error" id="bench-begin-name-error"></p></div>
<div class="bench-field"><label for="bench-begin-layout">Layout and firing order</label>
<select id="bench-begin-layout">{_options(layouts)}</select></div>
</div>
<p class="bench-hint">Hold the numbering and the firing order against the maker’s. Leave empty what you do not have:
a question that needs it asks for it.</p>
{rows}
<div class="bench-buttons"><button type="button" data-do="begin">Make this the job’s card</button></div>
</details>"""


def _row(entry: Entry[Any], label: str) -> str:
    assert isinstance(entry.kind, Measure)  # noqa: S101 (each of the first facts is one)
    key = f"bench-begin-{entry.path.replace('.', '-')}"
    units = [(unit.symbol, unit.symbol) for unit in entry.kind.units[:2]]
    return f"""<div class="bench-begin-row" data-field="{entry.path}">
<label for="{key}">{label}</label>
<input id="{key}" data-part="value" type="text" inputmode="decimal" maxlength="60" aria-describedby="{key}-error">
<select data-part="unit" aria-label="Unit of {label}">{_options(units)}</select>
<select data-part="from" aria-label="Where {label} is from">{_options((one, one) for one in FROM)}</select>
<p class="bench-error" id="{key}-error"></p>
</div>"""


def _options(choices: Iterable[tuple[str, str]]) -> str:
    return "".join(f'<option value="{escape(value)}">{escape(words)}</option>' for value, words in choices)


def facts() -> str:
    """Return every fact that a card can hold, section by section."""
    return "".join(
        f'<details class="bench-more"><summary>{section.title} <code>{section.path}</code></summary>'
        f"{f'<p>{escape(section.hint)}</p>' if section.hint else ''}"
        f"<dl>{''.join(map(_fact, section.facts()))}</dl></details>"
        for section in SECTIONS
    )


def _fact(fact: Entry[Any] | Rows[Any]) -> str:
    taken = ", ".join(takers().get(fact.path, ()))
    said = ". ".join(filter(None, (_must(fact), f"Taken by: {taken}" if taken else "")))
    label = f"{fact.label[0].upper()}{fact.label[1:]}"
    return f"<dt>{escape(label)} <code>{fact.key}</code></dt><dd>{escape(said) or 'In words'}.</dd>"


def _must(fact: Entry[Any] | Rows[Any]) -> str:
    """Return what a fact must be, its limits with their reason."""
    if isinstance(fact, Rows):
        return f"{fact.fewest} to {fact.most} rows, each with {', '.join(column.key for column in fact.columns)}"
    kind = fact.kind
    within = f"{limits(fact)}: {kind.why}" if isinstance(kind, Measure | Number) else ""
    chosen = f"One of: {', '.join(options(fact))}" if options(fact) else ""
    typed = "" if within and isinstance(kind, Measure) else wanted(fact)  # the limits show the unit
    return ". ".join(filter(None, (typed, within, fact.facts.hint.rstrip("."), chosen)))


FENCES: dict[str, Callable[[Iterable[EngineCard]], str]] = {"editor": editor, "facts": lambda cards: facts()}
"""What a ``card`` fence can ask for."""
