"""What a page asks the browser's Python: JSON text in, JSON text out."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Mapping
from typing import Any

from calculators._card.form import card_form_html, live_card, missing_html, taken_in, texts_of
from calculators._card.texts import card_texts
from calculators._catalogue import calculator
from calculators._checks import repeated
from calculators._engine_card import EngineCard
from calculators._errors import InputErrors
from calculators._job.jobs import difference, merged
from calculators._job.readings import as_read
from calculators._job.sheet import handover_html, job_html, rests_on
from calculators._page import form_html, live_answer

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
        - ``job``, ``handover``, ``csv``: the ``job`` (and for the handover ``engine``, its card's title);
        - ``merge``: two copies of a job, ``mine`` (or null) and ``theirs``;
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
    """Return an answer as the job sheet keeps it, or nothing where there is no answer."""
    chosen = calculator(asked["calculator"])
    try:
        report = chosen.answer(asked["typed"], _card(asked))
    except InputErrors:
        return {"decision": None}
    values = [{"label": value.label, "text": " = ".join(value.texts)} for value in report.values if value.lead]
    return {
        "decision": {
            "calculator": chosen.name,
            "title": chosen.title,
            "lead": report.lead,
            "values": values,
            "rests_on": rests_on(asked["paths"], asked["readings"]),
        }
    }


def readings_csv(job: Asked) -> str:
    """Return a job's readings as CSV (RFC 4180), a heading first; a text that a spreadsheet would run is defused."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(("path", "reading", "as typed", "when", "worked out by", "who", "instrument"))
    for read in as_read(job.get("readings", {})):
        cells = (read.path, read.label, read.text, read.when, read.from_calculator, read.who, read.instrument)
        writer.writerow([f"'{cell}" if cell[:1] in "=@\t\r" and cell else cell for cell in cells])
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
    "handover": lambda asked: {"html": handover_html(asked["job"], asked["engine"])},
    "csv": lambda asked: {"text": readings_csv(asked["job"])},
    "merge": lambda asked: {
        "job": merged(asked["mine"], asked["theirs"]) if asked["mine"] else asked["theirs"],
        "difference": difference(asked["mine"], asked["theirs"]),
    },
    "card-form": _card_form,
    "card-read": lambda asked: live_card(asked["texts"]),
    "card-missing": _about_card,
    "card-texts": _card_texts,
    "checks": lambda asked: {"checks": [repeated(check) for check in asked["checks"]]},
}
