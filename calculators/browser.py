"""What a page asks the browser's Python: JSON text in, JSON text out."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from functools import reduce
from typing import Any

from calculators.bench.card import EngineCard
from calculators.bench.desk import Desk
from calculators.bench.errors import JobError
from calculators.bench.kinds import split_line
from calculators.bench.page import View, changes, inner_html
from calculators.bench.question import question
from calculators.bench.units import NotANumber, UnknownUnit, read_number
from calculators.card.begun import begun
from calculators.card.draft import met
from calculators.card.entries import inherited_entries
from calculators.card.figures import figure
from calculators.card.form import card_form_html, live_card, missing_html, taken_in, texts_of
from calculators.card.one_fact import offered, with_fact
from calculators.card.texts import card_texts
from calculators.checks import repeated
from calculators.formulas.calendar_file import Entry, calendar_file
from calculators.job.cylinders import from_above
from calculators.job.decisions import checks_of, decision_of, desk_of
from calculators.job.difference import difference
from calculators.job.jobs import taken_in as job_taken_in
from calculators.job.links import brought, carried
from calculators.job.papers import paper_html
from calculators.job.readings import as_read
from calculators.job.sheet import job_html
from calculators.later import take

Asked = Mapping[str, Any]


def answer_message(message: str) -> str:
    """Answer one request.

    Parameters
    ----------
    message : str
        ``want``, and what that takes:

        - ``questions``: the ``questions`` of a page (``name``, ``opened``, ``rows``, ``whole``) and its ``quotes``,
          the job's ``readings``, the ``card`` (null, or its ``name`` and ``data``), and whether the ``example`` may
          speak; ``anew`` where no answer is to be taken over from the key before, for a rehearsal;
        - ``done-with``: the ``name`` of a question, its ``readings``, ``card`` and ``example``;
        - ``figures``: the ``paths`` of what is looked up, and the same three;
        - ``job``: the ``job`` and its ``card``; ``csv``: the ``job``;
        - ``paper``: the ``job``, its ``card``, and which ``paper``;
        - ``incoming``: a ``job`` from outside;
        - ``clock-file``: the ``name`` of a clock, its ``words``, ``until`` when, and when ``made``, in ms since 1970;
        - ``engine-map``: the ``job``, its ``card``, and ``leads``, where each part leads to;
        - ``carried``: the ``names`` of the questions of a page, and the job's ``readings``;
        - ``brought``: the ``entries`` of a link;
        - ``difference``: ``mine`` (or null) and ``theirs``, and both merged, ``whole``;
        - ``card-form``: ``card``, or the form's ``texts``, or a ``tree`` from outside; ``card-read``: the ``texts``;
        - ``card-draft``: the ``card``, the ``draft`` as it stands, and what it was ``begun_as``;
        - ``card-begun``: the layout as ``card``, and the ``rows`` of what was typed;
        - ``card-with``: the ``card``, and of one fact its ``path``, ``text`` and ``source``;
        - ``card-missing``, ``card-texts``: ``card``;
        - ``drawings``: ``card``, the ``names`` of those on the page, and the ``sources`` of what draws them;
        - ``checks``: the ``checks``, each as ``repeated`` takes it.

    Returns
    -------
    str
        JSON text of what ``_ANSWERS`` gives.
    """
    asked = json.loads(message)
    return json.dumps(_ANSWERS[asked["want"]](asked), ensure_ascii=False)


def _card(asked: Asked) -> EngineCard | None:
    return EngineCard(**asked["card"]) if asked["card"] else None


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
    writer.writerow(("path", "reading", "as typed", "when", "who", "instrument"))
    for read in as_read(job.get("readings", {})):
        cells = (read.path, read.label, read.text, read.when, read.who, read.instrument)
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


def _drawings(asked: Asked) -> dict[str, Any]:
    """Return each drawing that was asked for, drawn from the card, and whether it shows what is the example's still."""
    take(asked["sources"])
    from calculators.drawings import drawn

    card = _card(asked)
    if card is None:
        return {"drawings": {}}
    inherited = inherited_entries(card)
    own = reduce(EngineCard.without, inherited, card)
    found = {}
    for name in asked["names"]:
        plate = drawn(name, card)
        inside = plate.inside()
        found[name] = {
            "title": plate.title,
            "shows": plate.shows,
            "height": plate.height,
            "inside": inside,
            "inherited": bool(inherited) and drawn(name, own).inside() != inside,
        }
    return {"drawings": found}


_desk_of_page: dict[tuple[str, ...], Desk] = {}
"""The desk on which the questions of the page in hand were asked last, by what is asked for on that page."""


def _questions(asked: Asked) -> dict[str, Any]:
    """Return what changes of each question on a page, and what its quotes say: one pass over the job."""
    card = _card(asked)
    engine = card.title if card else ""
    page = (*(wanted["name"] for wanted in asked["questions"]), *asked["quotes"])
    before = None if asked.get("anew") else _desk_of_page.get(page)
    desk = desk_of(asked["readings"], card, example=asked["example"], before=before)
    _desk_of_page.clear()
    _desk_of_page[page] = desk
    shown = {}
    for wanted in asked["questions"]:
        is_open = not wanted.get("folded")
        view = View(desk.ask(wanted["name"]), engine, wanted["opened"], wanted.get("place", "room"), is_open)
        whole = {"html": inner_html(view)} if wanted["whole"] and is_open else {}
        offers = {"offers": offered(view.asked, card)} if card and card.own and is_open else {}
        shown[view.of.name] = changes(view, wanted["rows"]) | whole | offers
    return {"questions": shown, "quotes": {path: _quote(desk, path) for path in asked["quotes"]}}


def _done_with(asked: Asked) -> dict[str, Any]:
    """Return a question's answer as the job sheet keeps it, and its checks; nothing where it is not the reader's."""
    stands = desk_of(asked["readings"], _card(asked), example=asked["example"]).ask(asked["name"])
    if not stands.answer or stands.is_example:
        return {"decision": None, "checks": []}
    return {
        "decision": decision_of(stands, asked["readings"]),
        "checks": checks_of(stands.of.name, stands.answer.checks),
    }


def _quote(desk: Desk, path: str) -> dict[str, str]:
    """Return one value of an answer as a page quotes it; nothing where it is not worked out, or is the example's."""
    name, _, key = path.rpartition(".")
    asked = desk.ask(question(name).name)
    value = asked.answer.value(key) if asked.answer else None
    if not value:
        return {"text": "", "whose": "nobody"}
    return {"text": value.texts[0], "whose": "example" if asked.is_example else "yours"}


def _figures(asked: Asked) -> dict[str, Any]:
    """Return each figure that is looked up, and whose it is."""
    desk = desk_of(asked["readings"], _card(asked), example=asked["example"])
    found = {path: figure(desk, path) for path in asked["paths"]}
    return {"figures": {path: {"text": one.text, "whose": one.whose} for path, one in found.items()}}


def _clock_file(asked: Asked) -> dict[str, Any]:
    """Return a clock as a calendar's entry that rings when it runs out."""
    until, made = (datetime.fromtimestamp(asked[key] / 1000, UTC) for key in ("until", "made"))
    entry = Entry(asked["name"], until, f"Time is up: {asked['words']}", asked["words"])
    return {"text": calendar_file("Top-End Bench Book", "clock", made.date(), [entry])}


def _engine_map(asked: Asked) -> dict[str, Any]:
    """Return the engine of a job from above, and what it is called."""
    card = _card(asked)
    title = card.title if card else "Engine"
    named = f"{title} from above, pulley towards you"
    return {"svg": from_above(asked["job"], card, asked["leads"], named), "title": title}


_ANSWERS: dict[str, Callable[[Asked], dict[str, Any]]] = {
    "questions": _questions,
    "done-with": _done_with,
    "figures": _figures,
    "job": lambda asked: {"html": job_html(asked["job"], _card({"card": None} | dict(asked)))},
    "paper": _paper,
    "csv": lambda asked: {"text": readings_csv(asked["job"])},
    "clock-file": _clock_file,
    "incoming": lambda asked: job_taken_in(asked["job"]),
    "engine-map": _engine_map,
    "carried": lambda asked: {"entries": carried(asked["names"], asked["readings"])},
    "brought": lambda asked: brought(asked["entries"]),
    "difference": lambda asked: difference(asked["mine"], asked["whole"], asked["theirs"]),
    "card-form": _card_form,
    "card-read": lambda asked: live_card(asked["texts"]),
    "card-draft": lambda asked: met(EngineCard(**asked["card"]), asked["draft"], asked["begun_as"]),
    "card-begun": lambda asked: begun(EngineCard(**asked["card"]), asked["rows"]),
    "card-with": lambda asked: with_fact(EngineCard(**asked["card"]), asked["path"], asked["text"], asked["source"]),
    "card-missing": _about_card,
    "card-texts": _card_texts,
    "drawings": _drawings,
    "checks": lambda asked: {"checks": [repeated(check) for check in asked["checks"]]},
}
