"""Drawings that come to the browser after its start: their sources are all that it takes."""

from __future__ import annotations

import importlib
import json
import subprocess
import sys

import pytest

from calculators.browser import answer_message
from calculators.drawings import drawn, follows_the_card, names, sources
from calculators.later import take
from tests.cards import SAMPHIRE as CARD
from tests.drawings.test_plates import ROOT


@pytest.fixture
def elsewhere():
    """Take all sources under a name that is installed nowhere."""
    take(
        {
            name.replace("calculators.drawings", "drawn_elsewhere"): text.replace(
                "calculators.drawings", "drawn_elsewhere"
            )
            for name, text in sources().items()
        }
    )
    yield importlib.import_module("drawn_elsewhere")
    for name in [name for name in sys.modules if name.startswith("drawn_elsewhere")]:
        del sys.modules[name]


@pytest.mark.parametrize("name", [name for name in names() if follows_the_card(name)])
def test_what_came_later_draws_the_same(elsewhere, name):
    assert elsewhere.drawn(name, CARD).svg() == drawn(name, CARD).svg()


def test_what_is_the_same_for_every_engine_does_not_come(elsewhere):
    assert not {name for name in names() if not follows_the_card(name)} & {
        source.rpartition(".")[2].replace("_", "-") for source in sources()
    }


def test_python_draws_each_that_is_asked_for_from_the_card_that_is_sent():
    card = {"name": CARD.name, "data": CARD.data}
    asked = {"want": "drawings", "card": card, "names": ["head-map"], "sources": {}}
    answer = json.loads(answer_message(json.dumps(asked)))["drawings"]
    plate = drawn("head-map", CARD)
    assert answer == {
        "head-map": {"title": plate.title, "shows": plate.shows, "height": plate.height, "inside": plate.inside()}
    }


def test_python_draws_nothing_without_a_card():
    asked = {"want": "drawings", "card": None, "names": ["head-map"], "sources": {}}
    assert json.loads(answer_message(json.dumps(asked))) == {"drawings": {}}


DRAWS_WITHOUT = """
import dataclasses, json, sys
from pathlib import Path
import calculators.browser
from calculators import read_card
from calculators.later import take

card = read_card(Path("docs/engines/samphire-f6.yml"))
del dataclasses.inspect
for name in ("inspect", "pathlib", "html", "pkgutil", "ast"):
    sys.modules[name] = None
take(json.load(sys.stdin))
import drawn_elsewhere

for name in sys.argv[1:]:
    assert drawn_elsewhere.drawn(name, card).svg()
"""


def test_draws_in_a_memory_that_is_without_what_only_imports_need():
    elsewhere = json.dumps(sources()).replace("calculators.drawings", "drawn_elsewhere")
    following = [name for name in names() if follows_the_card(name)]
    command = [sys.executable, "-OO", "-c", DRAWS_WITHOUT, *following]
    done = subprocess.run(command, input=elsewhere, capture_output=True, text=True, cwd=ROOT, check=False)
    assert done.returncode == 0, done.stderr
