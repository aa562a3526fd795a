"""What a page asks the browser's Python: JSON text in, JSON text out."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Iterable, Mapping
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
from calculators._kinds import split_line
from calculators._page import form_html, live_answer
from calculators._report import Check, Table, Walk
from calculators._units import NotANumber, UnknownUnit, read_number
from calculators.bench.asking import may_rest_on
from calculators.bench.desk import Desk, Reading
from calculators.bench.page import View, changes, inner_html
from calculators.bench.question import question

Asked = Mapping[str, Any]


def answer_message(message: str) -> str:
    """Answer one request.

    Parameters
    ----------
    message : str
        ``want``, by default ``answer``, and what that takes:

        - ``answer``: ``calculator`` (name), ``typed``, ``prefix``, ``rows`` and ``opened`` as
          for ``live_answer``, and ``card``: null, or its ``name`` and ``data``;
        - ``questions``: the ``questions`` of a page (``name``, ``opened``, ``rows``, ``whole``) and its ``quotes``,
          the job's ``readings``, the ``card``, and whether the ``example`` may speak;
        - ``done-with``: the ``name`` of a question, and the last three of these;
        - ``form``: ``calculator``, ``card``, ``prefix`` and ``presets``;
        - ``decision``: ``calculator``, ``typed``, ``card``, and the job's ``readings`` at ``paths``;
        - ``job``: the ``job`` and its ``card``; ``csv``: the ``job``;
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
            **_on_paper(report.walks, report.tables),
        },
        "checks": _checks_of(chosen.name, report.checks),
    }


def _on_paper(walks: Iterable[Walk], tables: Iterable[Table]) -> dict[str, Any]:
    """Return of an answer what the bench strip and the card for the dash are printed from."""
    stages = [
        {"title": stage.title, "words": stage.steps[0].words, "steps": [step.large for step in stage.steps]}
        for walk in walks
        if walk.on_paper
        for stage in walk.stages
        if stage.steps
    ]
    printed = [
        {
            "title": table.title,
            "columns": [column.label for column in table.columns],
            "rows": [
                [column.text(cell) for column, cell in zip(table.columns, row.cells, strict=True)] for row in table.rows
            ],
        }
        for table in tables
        if table.on_paper
    ]
    return ({"stages": stages} if stages else {}) | ({"tables": printed} if printed else {})


def _paper(asked: Asked) -> dict[str, Any]:
    """Return a sheet to print, or why there is nothing to print on it."""
    try:
        return {"html": paper_html(asked["paper"], asked["job"], _card(asked)), "lacking": ""}
    except JobError as lacking:
        return {"html": "", "lacking": str(lacking)}


def readings_csv(job: Asked) -> str:
    """Return a job's readings as CSV (RFC 4180), a heading first; a text that a spreadsheet would run is defused."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(("path", "reading", "as typed", "when", "worked out by", "who", "instrument"))
    for read in as_read(job.get("readings", {})):
        cells = (read.path, read.label, read.text, read.when, read.from_calculator, read.who, read.instrument)
        writer.writerow([f"'{cell}" if _would_run(cell) else cell for cell in cells])
    return text.getvalue()


_RUN = tuple("=@\t\r\n＝＠")
_SIGNS = tuple("+-＋－")


def _would_run(cell: str) -> bool:
    """Tell whether a spreadsheet takes a cell for a formula; a reading with a sign before it is none."""
    if not cell.startswith(_SIGNS):
        return cell.startswith(_RUN)
    try:
        for part in split_line(cell):
            read_number(part)
    except (NotANumber, UnknownUnit):
        return True
    return False


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


def _questions(asked: Asked) -> dict[str, Any]:
    """Return what changes of each question on a page, and what its quotes say: one pass over the job."""
    card = _card(asked)
    engine = card.title if card else ""
    readings = {path: Reading(read["text"], read.get("unit")) for path, read in asked["readings"].items()}
    desk = Desk(readings, card, example=asked["example"])
    shown = {}
    for wanted in asked["questions"]:
        is_open = not wanted.get("folded")
        view = View(desk.ask(wanted["name"]), engine, wanted["opened"], wanted.get("place", "room"), is_open)
        whole = {"html": inner_html(view)} if wanted["whole"] and is_open else {}
        shown[view.of.name] = changes(view, wanted["rows"]) | whole
    return {"questions": shown, "quotes": {path: _quote(desk, path) for path in asked["quotes"]}}


def _done_with(asked: Asked) -> dict[str, Any]:
    """Return a question's answer as the job sheet keeps it, and its checks; nothing where it is not the reader's."""
    readings = {path: Reading(read["text"], read.get("unit")) for path, read in asked["readings"].items()}
    stands = Desk(readings, _card(asked), example=asked["example"]).ask(asked["name"])
    if not stands.answer or stands.is_example:
        return {"decision": None, "checks": []}
    chosen = [value for value in stands.answer.values if value.lead] or stands.answer.values
    paths = [path for path in asked["readings"] if may_rest_on(stands.of, path)]
    return {
        "decision": {
            "calculator": stands.of.name,
            "title": stands.of.asks,
            "lead": stands.answer.says,
            "values": [{"label": value.label, "text": " = ".join(value.texts)} for value in chosen[:_MOST_VALUES]],
            "rests_on": rests_on(paths, asked["readings"]),
            **_on_paper(stands.answer.walks, stands.answer.tables),
        },
        "checks": _checks_of(stands.of.name, stands.answer.checks),
    }


_MOST_VALUES = 12


def _checks_of(name: str, checks: Iterable[Check]) -> list[dict[str, str]]:
    return [
        {
            "id": uuid5(NAMESPACE_URL, f"{name}/{check.key}").hex,
            "what": check.what,
            "due": check.due,
            "distance": check.distance,
        }
        for check in checks
    ]


def _quote(desk: Desk, path: str) -> dict[str, str]:
    """Return one value of an answer as a page quotes it; nothing where it is not worked out, or is the example's."""
    name, _, key = path.rpartition(".")
    asked = desk.ask(question(name).name)
    value = asked.answer.value(key) if asked.answer else None
    return {"text": value.texts[0] if value else "", "whose": "example" if asked.is_example else "yours"}


_ANSWERS: dict[str, Callable[[Asked], dict[str, Any]]] = {
    "answer": _answer,
    "questions": _questions,
    "done-with": _done_with,
    "form": _form,
    "decision": _decision,
    "job": lambda asked: {"html": job_html(asked["job"], _card({"card": None} | dict(asked)))},
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
