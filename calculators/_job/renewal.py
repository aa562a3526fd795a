"""What calculators kept in a job, worked out anew where something under it was changed since."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from calculators._catalogue import Calculator, catalogue
from calculators._engine_card import EngineCard
from calculators._errors import InputErrors
from calculators._form import Rows
from calculators._page import shown

Readings = Mapping[str, Mapping[str, Any]]


def renewed(readings: Readings, card: EngineCard | None, card_since: str = "") -> dict[str, Any]:
    """Follow a change through all that rests on it, from calculator to calculator.

    Parameters
    ----------
    readings : mapping
        The job's, by path.
    card : EngineCard, optional
        The job's.
    card_since : str
        When it was chosen, ISO 8601, UTC; empty if never.

    Returns
    -------
    dict
        ``renewed``: by path, what is another now (``text``, ``label``, ``from``); ``stuck``: by the name of
        each calculator that could not follow, the title of the one that has no answer to its entries.
    """
    keepers = {reading["from"] for reading in readings.values() if reading.get("from") in catalogue()}
    waiting = {name: dict(_asked(catalogue()[name], readings)) for name in sorted(keepers)}
    found: dict[str, Mapping[str, Any]] = {}
    stuck: dict[str, str] = {}
    while waiting:
        known = {**readings, **found}
        of = {path: reading.get("from") for path, reading in known.items()}
        name = next(
            (name for name, asked in waiting.items() if not any(of.get(path) in waiting for path in asked.values())),
            None,
        )
        if name is None:
            break  # each rests on another: no calculator of ours does, but a file from outside may say so
        chosen, asked = catalogue()[name], waiting.pop(name)
        behind = [stuck[source] for path in asked.values() if (source := of.get(path)) in stuck]
        if behind:
            stuck[name] = behind[0]
        kept_when = max(reading["when"] for reading in readings.values() if reading.get("from") == name)
        since = max((readings[path]["when"] for path in asked.values()), default="")
        if max(since, card_since) <= kept_when and not found.keys() & set(asked.values()):
            continue
        typed = _fresh(chosen, card) | {control: known[path]["text"] for control, path in asked.items()}
        try:
            report = chosen.answer(typed, card)
        except InputErrors:
            stuck[name] = chosen.title
            continue
        found |= {
            kept.path: {"label": kept.label, "text": kept.text, "from": name}
            for kept in report.kept
            if (before := readings.get(kept.path, {"from": name, "text": ""}))["text"] != kept.text
            and before.get("from") == name  # else somebody typed another since
        }
    return {"renewed": found, "stuck": stuck}


def _asked(chosen: Calculator, readings: Readings) -> Iterator[tuple[str, str]]:
    """Yield the controls of a calculator that the job has something for, and the path of each."""
    home = f"calculators/{chosen.name}/ {chosen.name} "
    for section in chosen.form.sections:
        for field in section.fields:
            start = field.reading or home + field.key
            rows = range(1, section.most + 1) if isinstance(section, Rows) else ()
            for part in ("", *([".unit"] if field.measure else []), *(f".{row}" for row in rows)):
                if start + part in readings:
                    yield field.key + part, start + part


def _fresh(chosen: Calculator, card: EngineCard | None) -> dict[str, str]:
    """Return what stands in a form before anything is typed, the units chosen in it too."""
    texts = chosen.form.prefilled(card)
    fields = {field.key: field for section in chosen.form.sections for field in section.fields}
    units = {f"{key}.unit": shown(fields[key], text)[1] for key, text in texts.items() if key in fields}
    return texts | {key: unit for key, unit in units.items() if unit}
