"""What readers see, as HTML by a name: every calculator asked in many ways, the job's sheets, the card's form.

A program of its own, because it takes the package from the folder that it is given: ``every_answer.py FOLDER``.
It prints JSON. Nothing that is typed into anything here has two letters in a row but for units, so each word that
comes out is one of ours.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import yaml

HERE = Path(__file__).resolve().parent
CHECKS = sorted((HERE / "reference" / "checks").glob("*.yml"))
ASKING = ("value(", "texts(", "column(", "lead(", "refusal(", "spread(")
WRONG = {"nothing": "", "no number": "?", "too much": "9999999", "too little": "-9999999", "another unit": "7 kg/m³"}
WHEN = "2026-11-24T08:00:00.000Z"


class Everything:
    """A set that holds all there is: every fold is open."""

    def __contains__(self, key: object) -> bool:
        return True


def every_answer() -> Iterator[tuple[str, str]]:
    """Yield each piece of HTML with a name for it."""
    from calculators import read_card
    from calculators._catalogue import catalogue
    from calculators._page import calculator_html

    card = read_card(HERE.parent / "docs/engines/marram-f4.yml")
    for name, found in catalogue().items():
        yield f"{name} page", calculator_html(found, card, "p")
        for asked, typed in _questions(found, card):
            yield f"{name} {asked}", _html(found, typed, card)
    for at, (name, typed) in enumerate(_from_the_checks()):
        yield f"{name} check {at}", _html(catalogue()[name], typed, None)
    yield from _jobs(card)
    yield from _cards(card)


def _questions(found: Any, card: Any) -> Iterator[tuple[str, dict[str, str]]]:
    """Yield what is typed into one calculator: its example, each option of a choice, and what is wrong in many ways."""
    example = found.form.prefilled(card, example=True)
    yield "example", example
    yield "without a card", found.form.prefilled(None, example=True)
    for field in found.form.fields:
        for option in getattr(field.kind, "options", ()):
            if option != example.get(field.key):
                yield f"{field.key} {option}", example | {field.key: option}
        if field.key in example:
            yield f"no {field.key}", {key: text for key, text in example.items() if key.partition(".")[0] != field.key}
    chosen = {field.key for field in found.form.fields if hasattr(field.kind, "options")}
    for how, text in WRONG.items():
        typed = {key: text for key in example if not key.endswith(".unit") and key not in chosen}
        yield how, example | typed


def _html(found: Any, typed: Mapping[str, str], card: Any) -> str:
    from calculators._page import live_answer

    said = live_answer(found, typed, card, "p", {}, Everything())  # type: ignore[arg-type]
    rows = "".join(part["more"] for part in said["rows"].values())
    errors = "".join(f"<p>{error['message']}</p>" for error in said["errors"])
    kept = "".join(f"<p>{kept['label']}</p><b>{kept['text']}</b>" for kept in said["kept"].values())
    understood = "".join(f"<b>{words}</b>" for words in said["understood"].values())
    return f"<p>{said['lead']}</p>{said['answer']}{said['summary']}{rows}{errors}{kept}{understood}"


def _from_the_checks() -> Iterator[tuple[str, dict[str, str]]]:
    """Yield what the outside checks type into calculators."""
    from calculators import _checks

    asked: dict[str, tuple[str, dict[str, str]]] = {}
    answered = _checks._report

    def noted(name: str, typed: Mapping[str, str]) -> Any:
        asked[f"{name} {typed}"] = name, dict(typed)
        return answered(name, typed)

    _checks._report = noted
    for path in CHECKS:
        checks = yaml.safe_load(path.read_text(encoding="utf-8"))
        for check in checks if isinstance(checks, list) else ():
            if any(word in check["ours"] for word in ASKING):
                _checks.outcome(check["ours"])
    _checks._report = answered
    yield from asked.values()


def _jobs(card: Any) -> Iterator[tuple[str, str]]:
    """Yield the sheet of a job with something of everything, and all that is printed from it."""
    from calculators._catalogue import catalogue
    from calculators._errors import JobError
    from calculators._job.papers import PAPERS, paper_html
    from calculators._job.sheet import job_html
    from calculators._questions import answer_message

    decisions, checks, readings = [], [], {}
    for name, found in catalogue().items():
        typed = found.form.prefilled(card, example=True)
        asked = {"want": "decision", "calculator": name, "typed": typed, "paths": [], "readings": {}}
        made = json.loads(answer_message(json.dumps(asked | {"card": {"name": card.name, "data": card.data}})))
        decisions.append(made["decision"] | {"id": name, "when": WHEN})
        checks += made["checks"]
        for field in found.form.fields:
            path = field.reading or f"x/ {name} {field.key}"
            row = ".1" if any(field in rows.fields for rows in found.form.rows) else ""
            text = typed.get(field.key + row) or typed.get(field.key)
            if text:
                readings[path + row] = {"text": text, "when": WHEN}
    old = {"bore": {"label": catalogue()["deck-height"].title, "text": "1"}}
    decisions[0]["rests_on"] = old
    empty = {"format": 2, "id": "1", "made": WHEN, "changed": WHEN, "about": {}}
    tick = {"words": "1", "when": WHEN, "of": 3}
    entries = {"id": "1", "text": "1", "when": WHEN}
    full = empty | {
        "readings": readings | {"instrument.burette": {"text": "1", "when": WHEN}},
        "decisions": decisions,
        "checks": checks,
        "notes": [entries],
        "tags": [entries],
        "parts": [entries],
        "ticks": {"x/ torque-stages passes": {"1": tick}},
        "about": {"complaint": "1", "left": "1", "vehicle": "1", "odometer": "1"},
    }
    for kind, job in (("empty", empty), ("full", full)):
        yield f"job {kind}", job_html(job)
        for name in PAPERS:
            try:
                yield f"{name} {kind}", paper_html(name, job, card)
            except JobError as lacking:
                yield f"{name} {kind}", f"<p>{lacking}</p>"


def _cards(card: Any) -> Iterator[tuple[str, str]]:
    """Yield the form of a card, whole, empty, and with every kind of mistake."""
    from calculators._card.entries import SECTIONS
    from calculators._card.form import card_form_html, live_card, taken_in, texts_of

    texts = texts_of(card.data)
    unsourced = {name: text for name, text in texts.items() if not name.endswith(".source")}
    chosen = {entry.path for section in SECTIONS for entry in section.entries if entry.options}
    typed = texts.keys() - chosen
    cards = {
        "whole": texts,
        "empty": {},
        "unsourced": unsourced,
        "only sources": {name: "1" for name in texts if name.endswith(".source")},
        **{f"card {how}": texts | dict.fromkeys(typed, text) for how, text in WRONG.items()},
        "banks": texts
        | {"layout.banks": "1 2 / 3 3", "layout.firing_order": "1 2 3 3", "layout.firing_intervals": "1"},
    }
    for name, typed in cards.items():
        said = live_card(typed)
        errors = "".join(f"<p>{error['message']}</p>" for error in said["errors"])
        filled = "".join(f"<p>{words}</p>" for words in said["filled"].values())
        figures = "".join(said["figures"].values())
        yield f"card {name}", card_form_html(typed) + said["summary"] + said["missing"] + errors + filled + figures
    for tree in ([], {"format": 2, "name": "", "about": 1, "dimensions": []}):
        yield f"card file {tree}", "".join(f"<p>{fault}</p>" for fault in taken_in(tree)["lost"])


if __name__ == "__main__":
    sys.path.insert(0, sys.argv[1])
    sys.stdout.write(json.dumps(dict(every_answer()), ensure_ascii=False))
