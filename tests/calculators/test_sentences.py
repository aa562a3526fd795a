"""Every visible sentence is in the catalogue, and nothing else: shown with a made-up language put in place of it.

In that language each letter of a sentence carries a mark. A word without marks on a page was missed by the catalogue;
a number, a tag or a class that is another was taken too much.
"""

import ast
import io
import json
import re
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from calculators._units import all_units
from scripts import translation
from scripts.sentences import sentences, translated_files

ROOT = Path(__file__).resolve().parents[2]
LETTERS = dict(zip("abcdefghijklmnopqrstuvwxyz", "áƀćďéƒğĥíĵķĺɱńóþɋŕśťúṽŵẋýź", strict=True))
LETTERS |= {plain.upper(): marked.upper() for plain, marked in LETTERS.items()}
READ_OUT = ("aria-label", "title", "alt", "placeholder", "data-label", "data-words", "data-large")
NAMES = {"Marram", "BSF", "BSW", "NPT", "grade"}
"""Of our invented engine, and of threads and steels, which are called so everywhere."""
OF_THE_CARD = "invented; internal hexagon, in each head, beside the inlet flange"
"""What the demonstration card says of a source: in the words of whoever wrote the card."""
KEYS_OF_A_CARD = re.compile(r"\b[a-z_]+(\.[a-z_]+)+\b|\b(about|dimensions|format|layout|name)\b")
"""What a message about a file of a card names as it stands in the file."""


def marked(message):
    """Say a message in the made-up language, its places kept."""
    parts = re.split(r"(\{\w*\})", message)
    return "".join(part if part.startswith("{") else "".join(LETTERS.get(one, one) for one in part) for part in parts)


def unfolded(text):
    """Undo what an address and a calendar do to a text: percent signs, and a break within a long line."""
    return unquote(text).replace("\r\n ", "")


class Seen(HTMLParser):
    """What a reader sees or hears of HTML; what was typed or is taken away; and the rest."""

    def __init__(self, html):
        super().__init__()
        self.texts, self.typed, self.rest = [], [], []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attributes):
        self.rest.append(tag)
        for name, value in attributes:
            if (value or "").startswith("job-group-"):
                continue  # named after what the group is called
            typed = (tag, name) in (("input", "value"), ("a", "href"))
            (self.texts if name in READ_OUT else self.typed if typed else self.rest).append(unfolded(value or ""))

    def handle_data(self, data):
        if self.rest[-1:] != ["style"]:
            self.texts.append(data)


def numbers(texts):
    return [re.findall(r"\d+", text) for text in texts]


@pytest.fixture(scope="module")
def answers(tmp_path_factory):
    """All that readers see, in English and in the made-up language, side by side by its name."""
    folder = tmp_path_factory.mktemp("marked")
    translation.write_copies(folder, marked, "en")
    command = [sys.executable, ROOT / "tests/every_answer.py"]
    asked = [subprocess.Popen([*command, place], stdout=subprocess.PIPE, cwd=place) for place in (ROOT, folder)]
    english, other = (json.loads(one.communicate()[0]) for one in asked)
    assert [one.returncode for one in asked] == [0, 0]
    assert english.keys() == other.keys()
    assert len(english) > 800
    return {name: (Seen(english[name]), Seen(other[name])) for name in english}


def test_every_word_on_a_page_is_in_the_catalogue(answers):
    known = sorted((OF_THE_CARD, *NAMES, *(unit.symbol for unit in all_units())), key=len, reverse=True)
    known_word = re.compile(rf"(?<![A-Za-z])({'|'.join(map(re.escape, known))})(?![A-Za-z])")
    missed = {}
    for name, (_, seen) in answers.items():
        for text in seen.texts:
            bare = KEYS_OF_A_CARD.sub("", text) if name.startswith("card file") else text
            for word in re.findall("[A-Za-z]{2,}", known_word.sub("", bare)):
                missed.setdefault(word, f"{name}: {text.strip()}")
    assert not missed


def test_a_translation_changes_words_and_nothing_else(answers):
    for name, (english, other) in answers.items():
        if name.startswith(("job full", "handover full")):  # readings stand in the order of their names
            for one in (english, other):
                one.texts.sort(key=lambda text: re.findall(r"\d+", text))
                one.typed.sort(key=lambda text: re.findall(r"\d+", text))
                one.rest.sort()
        assert numbers(english.texts) == numbers(other.texts), name
        assert numbers(english.typed) == numbers(other.typed), name
        assert english.rest == other.rest, name


def written(tmp_path, *messages):
    """Write a translation's file of (English, other, flags) and return its path."""
    catalog = Catalog(locale="de")
    for english, other, *flags in messages:
        catalog.add(english, other, flags=flags)
    path = tmp_path / "de.po"
    with path.open("wb") as file:
        write_po(file, catalog)
    return path


def test_the_catalogue_said_again_in_english_gives_the_same_code(tmp_path):
    path = written(tmp_path, *((words, words) for words in sentences()))
    said = translation.read(path)
    asked = []

    def again(words, place, line):
        asked.append(words)
        return said[words]

    for name, text in translated_files(again).items():
        source = (ROOT / name).read_text(encoding="utf-8")
        if name.endswith(".py"):
            assert ast.dump(ast.parse(text)) == ast.dump(ast.parse(source)), name
        else:
            assert text == source, name
    assert len(set(asked)) == len(said) > 3000


def test_each_sentence_says_where_it_stands():
    for words, places in sentences().items():
        for path, line in places[:1]:
            around = "".join((ROOT / path).read_text(encoding="utf-8").splitlines()[line - 1 : line + 12])
            first = re.search(r"[A-Za-z]{2,}", re.sub(r"\{\w*\}", " ", words))
            assert first and (first[0].lower() in around.lower()), (words, path, line)


@pytest.mark.parametrize(
    ("english", "other", "why"),
    [
        ("Cylinder {number}", "Zylinder", "{number} is missing"),
        ("Cylinder {number}", "Zylinder {nummer}", "{number} is missing"),
        ("Cylinder {number}", "Zylinder {number} {number}", "{number} is too much"),
        ("Cylinder {}", "Zylinder", "{} is missing"),
        ("Cylinder {number}", "Zylinder {number!r}", "a place is a name alone"),
        ("Cylinder {number}", "Zylinder {number:>9}", "a place is a name alone"),
        ("Cylinder {number}", "Zylinder {number", "expected '}'"),
        (" or less", "oder weniger", "begin with the same spaces"),
    ],
)
def test_a_message_that_does_not_fit_stops_the_build_and_is_named(tmp_path, english, other, why):
    path = written(tmp_path, ("Bore", "Bohrung"), (english, other))
    with pytest.raises(translation.TranslationError) as error:
        translation.read(path)
    assert english in str(error.value)
    assert why in str(error.value)


def test_what_is_not_translated_or_only_guessed_stays_english(tmp_path):
    path = written(tmp_path, ("Bore", "Bohrung"), ("Stroke", ""), ("Rod length", "Stablänge", "fuzzy"))
    assert translation.read(path) == {"Bore": "Bohrung"}


def test_an_update_keeps_what_is_translated_and_marks_what_was_changed(tmp_path, monkeypatch):
    monkeypatch.setattr(translation, "FILES", tmp_path)
    monkeypatch.setattr(translation, "TEMPLATE", tmp_path / "sentences.pot")
    written(
        tmp_path,
        ("Chamber volume", "Brennraumvolumen"),
        ("Take four points or more, as the wise do.", "Vier Punkte oder mehr nehmen."),
        ("Piston rises to the top dead centre, barrel clamped down without spacer", "Kolben oben"),
    )
    assert "de.po" in translation.update("de")
    catalog = read_po(io.BytesIO((tmp_path / "de.po").read_bytes()))
    assert catalog["Chamber volume"].string == "Brennraumvolumen"
    assert "Take four points or more, as the wise do." not in catalog
    assert "Deck height" in catalog and not catalog["Deck height"].string
    assert translation.read(tmp_path / "de.po") == {"Chamber volume": "Brennraumvolumen"}


def test_a_language_without_a_file_says_how_to_begin_one():
    with pytest.raises(translation.TranslationError, match="scripts/sentences xx makes it"):
        translation.copies("xx")
