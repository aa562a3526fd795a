"""What the search says at once: ``search_answers.yml`` with its figures, as a module that the browser loads then."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import yaml

from calculators.bench.card import EngineCard
from calculators.bench.desk import Desk
from calculators.card.figures import figure
from scripts.page_tags import tags

ANSWERS = Path(__file__).with_suffix(".yml")


class UnknownFigure(Exception):
    """A figure that the example does not have, or a page that is none."""


def answers(docs: Path, nav: list[dict[str, Any]], card: EngineCard) -> list[dict[str, Any]]:
    """Return each answer with its figures as the example has them, and the page that uses them by tag and title."""
    desk, tag_of = Desk({}, card, example=True), tags(nav)
    made = []
    for answer in yaml.safe_load(ANSWERS.read_text(encoding="utf-8")):
        path, _, anchor = answer["page"].partition("#")
        text = (docs / path).read_text(encoding="utf-8") if (docs / path).is_file() else ""
        title = re.search(r"^# (.+)$", text, re.MULTILINE)
        if title is None:
            raise UnknownFigure(f"{ANSWERS.name}: {answer['says']}: there is no page {path}")
        figures = []
        for called, of in answer["figures"].items():
            found = figure(desk, of)
            if not found.text:
                raise UnknownFigure(f"{ANSWERS.name}: {answer['says']}: the example has no {of}")
            figures.append([called, of, found.text])
        address = f"{path.removesuffix('.md')}/" + (f"#{anchor}" if anchor else "")
        page = f"{tag_of.get(path, '')} {title[1]}".strip()
        made.append(
            {"says": answer["says"], "asked": answer["asked"], "figures": figures, "address": address, "page": page}
        )
    return made


def module(docs: Path, nav: list[dict[str, Any]], card: EngineCard) -> str:
    """Return the answers as a module of JavaScript."""
    return f"export default {json.dumps(answers(docs, nav, card), ensure_ascii=False, separators=(',', ':'))};\n"
