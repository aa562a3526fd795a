"""What calculators kept in a job, worked out anew where something under it is another since."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calculators._catalogue import Calculator, catalogue
from calculators._engine_card import EngineCard
from calculators._form import Rows
from calculators._page import shown

Readings = Mapping[str, Mapping[str, Any]]


def renewed(readings: Readings, card: EngineCard | None) -> dict[str, Any]:
    """Follow a change through all that rests on it, from calculator to calculator.

    Parameters
    ----------
    readings : mapping
        The job's, by path.
    card : EngineCard, optional
        The job's.

    Returns
    -------
    dict
        ``renewed``: by path, what is another now (``text``, ``label``, ``from``); ``stuck``: by the name of
        each calculator that could not follow, the title of the one that has no answer to its entries.
    """
    keepers = {reading["from"] for reading in readings.values() if reading.get("from") in catalogue()}
    waiting = {name: asked(catalogue()[name], readings) for name in sorted(keepers)}
    found: dict[str, Mapping[str, Any]] = {}
    stuck: dict[str, str] = {}
    while waiting:
        known = {**readings, **found}
        of = {path: reading.get("from") for path, reading in known.items()}
        name = next(
            (
                name
                for name, entries in waiting.items()
                if not any(of.get(path) in waiting for path in entries.values())
            ),
            None,
        )
        if name is None:
            break  # each rests on another: no calculator of ours does, but a file from outside may say so
        chosen, entries = catalogue()[name], waiting.pop(name)
        behind = [stuck[source] for path in entries.values() if (source := of.get(path)) in stuck]
        if behind:
            stuck[name] = behind[0]
        typed = fresh(chosen, card) | as_typed(chosen, entries, known)
        try:
            report = chosen.answer(typed, card)
        except Exception:  # a job or a card from outside can hold anything; the others still follow
            stuck[name] = chosen.title
            continue
        found |= {
            kept.path: {"label": kept.label, "text": kept.text, "from": name}
            for kept in report.kept
            if (before := readings.get(kept.path, {"from": name, "text": ""}))["text"] != kept.text
            and before.get("from") == name  # else somebody typed another since
        }
    return {"renewed": found, "stuck": stuck}


def asked(chosen: Calculator, readings: Readings) -> dict[str, str]:
    """Return the controls of a calculator that the job has something for, and the path of each."""
    found = {}
    home = f"calculators/{chosen.name}/ {chosen.name} "
    for section in chosen.form.sections:
        for field in section.fields:
            start = field.reading or home + field.key
            rows = range(1, section.most + 1) if isinstance(section, Rows) else ()
            for part in ("", *(f".{row}" for row in rows)):
                if start + part in readings:
                    found[field.key + part] = start + part
    return found


def as_typed(chosen: Calculator, entries: Mapping[str, str], readings: Readings) -> dict[str, str]:
    """Return the readings as a form sends them: each number with its unit, which no card and no chooser changes."""
    own = {field.key: field.own_unit for field in chosen.form.fields}
    found = {}
    for control, path in entries.items():
        found[control] = readings[path]["text"]
        if unit := own[control.partition(".")[0]]:
            found[f"{control}.unit"] = readings[path].get("unit") or unit
    return found


def fresh(chosen: Calculator, card: EngineCard | None) -> dict[str, str]:
    """Return what stands in the boxes of a form before anything is typed, and the units chosen beside them."""
    found = {}
    for control, text in chosen.form.prefilled(card).items():
        key, _, row = control.partition(".")
        field = next(field for section in chosen.form.sections for field in section.fields if field.key == key)
        box, unit = shown(field, text)
        found[control] = text if row and unit != field.own_unit else box  # a table's unit is chosen for the column
        if unit and not row:
            found[f"{key}.unit"] = unit
    return found
