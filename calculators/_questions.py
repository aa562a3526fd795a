"""What a page asks the browser's Python: JSON text in, JSON text out."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable, Mapping
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from calculators._card.form import card_form_html, live_card, missing_html, taken_in, texts_of
from calculators._card.texts import card_texts
from calculators._catalogue import calculator
from calculators._checks import repeated
from calculators._engine_card import EngineCard
from calculators._errors import InputErrors, JobError
from calculators._job.difference import difference
from calculators._job.jobs import taken_in as job_taken_in
from calculators._job.papers import paper_html
from calculators._job.readings import as_read
from calculators._job.renewal import renewed
from calculators._job.sheet import job_html, rests_on
from calculators._page import form_html, live_answer
from calculators._report import Report

Asked = Mapping[str, Any]


def answer_message(message: str) -> str:
    """Answer one request.

    Parameters
    ----------
    message : str
        ``want``, by default ``answer``, and what that takes:

        - ``answer``: ``calculator`` (name), ``typed``, ``prefix``, ``rows`` and ``opened`` as
          for ``live_answer``, and ``card``: null, or its ``name`` and ``data``;
        - ``form``: ``calculator``, ``card``, ``prefix`` and ``presets``;
        - ``decision``: ``calculator``, ``typed``, ``card``, and the job's ``readings`` at ``paths``;
        - ``job``, ``csv``: the ``job``;
        - ``renew``: the job's ``readings`` and its ``card``;
        - ``paper``: the ``job``, its ``card``, and which ``paper``;
        - ``incoming``: a ``job`` from outside;
        - ``difference``: ``mine`` (or null) and ``theirs``, and both merged, ``whole``;
        - ``card-form``: ``card``, or the form's ``texts``, or a ``tree`` from outside; ``card-read``: the ``texts``;
        - ``card-missing``, ``card-texts``: ``card``;
        - ``checks``: the ``checks``, each as ``repeated`` takes it.

    Returns
    -------
    str
        JSON text of what ``_ANSWERS`` gives.
    """
    asked = json.loads(message)
    return json.dumps(_ANSWERS[asked.get("want", "answer")](asked), ensure_ascii=False)


def _card(asked: Asked) -> EngineCard | None:
    return EngineCard(**asked["card"]) if asked["card"] else None


def _answer(asked: Asked) -> dict[str, Any]:
    chosen = calculator(asked["calculator"])
    return live_answer(chosen, asked["typed"], _card(asked), asked["prefix"], asked["rows"], asked["opened"])


def _form(asked: Asked) -> dict[str, Any]:
    card = _card(asked)
    html = form_html(calculator(asked["calculator"]), card, asked["prefix"], asked["presets"])
    return {"form": html, "engine": card.title if card else ""}


def _decision(asked: Asked) -> dict[str, Any]:
    """Return an answer as the job sheet keeps it, with the checks that it brings; nothing where there is no answer."""
    chosen = calculator(asked["calculator"])
    try:
        report = chosen.answer(asked["typed"], _card(asked))
    except InputErrors:
        return {"decision": None, "checks": []}
    values = [{"label": value.label, "text": " = ".join(value.texts)} for value in report.values if value.lead]
    return {
        "decision": {
            "calculator": chosen.name,
            "title": chosen.title,
            "lead": report.lead,
            "values": values,
            "rests_on": rests_on(asked["paths"], asked["readings"]),
            **_on_paper(report),
        },
        "checks": [
            {
                "id": uuid5(NAMESPACE_URL, f"{chosen.name}/{check.key}").hex,
                "what": check.what,
                "due": check.due,
                "distance": check.distance,
            }
            for check in report.checks
        ],
    }


def _on_paper(report: Report) -> dict[str, Any]:
    """Return of a report what the bench strip and the card for the dash are printed from."""
    stages = [
        {"title": stage.title, "words": stage.steps[0].words, "steps": [step.large for step in stage.steps]}
        for walk in report.walks
        if walk.on_paper
        for stage in walk.stages
        if stage.steps
    ]
    tables = [
        {
            "title": table.title,
            "columns": [column.label for column in table.columns],
            "rows": [
                [column.text(cell) for column, cell in zip(table.columns, row.cells, strict=True)] for row in table.rows
            ],
        }
        for table in report.tables
        if table.on_paper
    ]
    return ({"stages": stages} if stages else {}) | ({"tables": tables} if tables else {})


def _paper(asked: Asked) -> dict[str, Any]:
    """Return a sheet to print, or why there is nothing to print on it."""
    try:
        return {"html": paper_html(asked["paper"], asked["job"], _card(asked)), "lacking": ""}
    except JobError as lacking:
        return {"html": "", "lacking": str(lacking)}


_RUNS = re.compile(r"[=@\t\r]|[+-](?!\s*[\d.,]+([\s;±]+-?[\d.,]+)*\s*[\w·°%³²/]*$)")
"""What a spreadsheet may take for a formula; a sign before numbers and their unit is a reading's own."""


def readings_csv(job: Asked) -> str:
    """Return a job's readings as CSV (RFC 4180), a heading first; a text that a spreadsheet would run is defused."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(("path", "reading", "as typed", "when", "worked out by", "who", "instrument"))
    for read in as_read(job.get("readings", {})):
        cells = (read.path, read.label, read.text, read.when, read.from_calculator, read.who, read.instrument)
        writer.writerow([f"'{cell}" if _RUNS.match(cell) else cell for cell in cells])
    return text.getvalue()


def _card_form(asked: Asked) -> dict[str, Any]:
    if "tree" in asked:
        return taken_in(asked["tree"])
    card = _card(asked)
    texts = asked["texts"] if "texts" in asked else texts_of(card.data if card else {})
    return {"html": card_form_html(texts), "texts": texts, "lost": []}


def _about_card(asked: Asked) -> dict[str, Any]:
    card = _card(asked)
    return {"html": missing_html(card) if card else ""}


def _card_texts(asked: Asked) -> dict[str, Any]:
    card = _card(asked)
    return {"texts": card_texts(card) if card else {}}


_ANSWERS: dict[str, Callable[[Asked], dict[str, Any]]] = {
    "answer": _answer,
    "form": _form,
    "decision": _decision,
    "job": lambda asked: {"html": job_html(asked["job"])},
    "paper": _paper,
    "renew": lambda asked: renewed(asked["readings"], _card(asked)),
    "csv": lambda asked: {"text": readings_csv(asked["job"])},
    "incoming": lambda asked: job_taken_in(asked["job"]),
    "difference": lambda asked: difference(asked["mine"], asked["whole"], asked["theirs"]),
    "card-form": _card_form,
    "card-read": lambda asked: live_card(asked["texts"]),
    "card-missing": _about_card,
    "card-texts": _card_texts,
    "checks": lambda asked: {"checks": [repeated(check) for check in asked["checks"]]},
}
