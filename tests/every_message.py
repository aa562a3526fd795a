"""What pages ask the browser's Python: every question, the job, its papers, the card, in many ways."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from calculators import drawings, read_card
from calculators.bench.desk import Asked, Desk, Known, path_of
from calculators.bench.entries import Entry
from calculators.bench.question import questions
from calculators.browser import answer_message
from calculators.job.papers import PAPERS
from scripts import check_list

WHEN = "2026-11-24T08:00:00.000Z"
TEXTS = (
    *(
        "",
        "0",
        "?",
        "9999999",
        "-9999999",
        "7 kg/m³",
        "7 ± 0.1 mm",
        "1/2 in",
        "81.5 81.6 81,7",
        "1 2 / 3 4",
        "2026-11-24",
    ),
    *("24.11.2026", "12 thou", "30 ft lb", "5 °C", "72 °F", "0.04-0.06 mm", "1 L", "2.5 bar", "12:30", "next monday"),
)
"""Texts of every kind, each typed into every box."""


def every_message() -> Iterator[tuple[str, str]]:
    """Yield each message with a name for it."""
    for name, asked in _asked():
        yield name, json.dumps(asked, ensure_ascii=False)


def _asked() -> Iterator[tuple[str, dict[str, Any]]]:
    found = read_card(Path(__file__).resolve().parent.parent / "docs/engines/marram-f4.yml")
    card = {"name": found.name, "data": found.data}
    decisions, readings = [], {}
    for name, of in questions().items():
        example = Desk({}, found, example=True).ask(name)
        typed = {path_of(of, entry): {"text": known.text, "when": WHEN} for entry, known in _known(example)}
        asked = {"want": "done-with", "name": name, "readings": typed, "card": card, "example": False}
        yield f"{name} done with", asked
        made = json.loads(answer_message(json.dumps(asked)))["decision"]
        decisions += [made | {"id": name, "when": WHEN}] if made else []
        readings |= {path: reading for path, reading in typed.items() if not path.startswith(name)}
    yield from _questions(card)
    job = {"format": 5, "id": "1", "made": WHEN, "changed": WHEN, "about": {"complaint": "1"}}
    job |= {"readings": readings, "decisions": decisions, "notes": [{"id": "1", "text": "1", "when": WHEN}]}
    yield "job", {"want": "job", "job": job, "card": card}
    yield "csv", {"want": "csv", "job": job}
    yield "carried", {"want": "carried", "names": list(questions()), "readings": readings}
    yield "brought", {"want": "brought", "entries": {path: one["text"] for path, one in readings.items()} | {"?": "1"}}
    yield "incoming", {"want": "incoming", "job": job}
    for paper in PAPERS:
        yield f"paper {paper}", {"want": "paper", "paper": paper, "job": job, "card": card}
    texts = json.loads(answer_message(json.dumps({"want": "card-form", "card": card})))["texts"]
    for want in ("card-form", "card-missing", "card-texts"):
        yield want, {"want": want, "card": card}
    for text in (None, *TEXTS):
        yield f"card {text}", {"want": "card-read", "texts": texts if text is None else dict.fromkeys(texts, text)}
    yield from _beside(card, job)
    yield "card of others", {"want": "card-form", "tree": {"format": 2, "name": "", "about": 1, "dimensions": []}}


def _beside(card: dict[str, Any], job: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield what pages ask for beside questions, papers and the card's form."""
    yield "difference", {"want": "difference", "mine": None, "theirs": job, "whole": job}
    yield "clock", {"want": "clock-file", "name": "a", "words": "Cool", "until": 1.8e12, "made": 1.7e12}
    leads = {part: ["6·4", "build/"] for part in ("head", "barrel", "case", "cover", "pulley")}
    yield "map", {"want": "engine-map", "job": job, "card": card, "leads": leads}
    paths = ["torques.cylinder_head", "clearances.inlet", "torque.wrench.settings"]
    yield "figures", {"want": "figures", "paths": paths, "readings": {}, "card": card, "example": True}
    rows = {"name": {"value": "Turnstone"}, "dimensions.bore": {"value": "81", "unit": "mm", "from": "measured"}}
    yield "card begun", {"want": "card-begun", "card": card, "rows": rows}
    own = card | {"own": True}
    begun_as = json.loads(answer_message(json.dumps({"want": "card-form", "card": card})))["texts"]
    draft = begun_as | {"dimensions.bore": "81 mm", "name": "Turnstone"}
    for was in (begun_as, dict.fromkeys(begun_as, "1")):
        yield "card draft", {"want": "card-draft", "card": own, "draft": draft, "begun_as": was}
    typed = {"bore": {"text": "81 ± 0.1", "unit": "mm"}, "cylinders": {"text": "4"}}
    ratio = [{"name": "compression.ratio", "opened": None, "rows": {}, "whole": True}]
    asked = {"want": "questions", "questions": ratio, "quotes": [], "card": own, "readings": typed, "example": False}
    yield "offers to a card", asked
    for text in ("81 mm", ""):
        yield (
            f"card with {text}",
            {"want": "card-with", "card": own, "path": "dimensions.bore", "text": text, "source": "told"},
        )
    for name in filter(drawings.follows_the_card, drawings.names()):
        yield f"drawing {name}", {"want": "drawings", "card": card, "names": [name], "sources": drawings.sources()}
    checks = check_list.module().removeprefix("export default ").rstrip(";\n")
    yield "checks", {"want": "checks", "checks": json.loads(checks)}


def _known(example: Asked) -> Iterator[tuple[Entry[Any], Known]]:
    """Yield the entries outside tables of which the example holds a text."""
    for entry in example.of.entries():
        known = example.known.get(entry.key)
        if known and known.text:
            yield entry, known


def _questions(card: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    for name, of in questions().items():
        wanted = [{"name": name, "opened": None, "rows": {}, "whole": True}]
        asked = {"want": "questions", "questions": wanted, "quotes": [], "card": card, "readings": {}, "example": True}
        yield f"{name} example", asked
        for entry in of.entries():
            for option in getattr(entry.kind, "options", ()):
                yield f"{name} {entry.key} {option}", asked | {"readings": {path_of(of, entry): {"text": option}}}
        yield f"{name} nothing", asked | {"card": None, "example": False}
        paths = [path_of(of, entry) for entry in of.entries()]
        paths += [path_of(of, column, row) for table in of.tables() for column in table.columns for row in (1, 2)]
        for text in TEXTS:
            typed = {path: {"text": text} for path in paths}
            yield f"{name} {text}", asked | {"readings": typed}
