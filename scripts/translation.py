"""A translation of the sentences: its file, and the copies of our own code that say them.

``docs/translations/<language>.po`` is the whole of a translation. A build in that language works with copies of the
package and of the elements below ``build/translated``, with the sentences put into them; so a translation costs
nothing at run time, and a build without one does not touch any of this.
"""

from __future__ import annotations

import argparse
import hashlib
import io
import os
import re
import shutil
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from string import Formatter

ROOT = Path(__file__).resolve().parent.parent
FILES = ROOT / "docs" / "translations"
TEMPLATE = ROOT / "build" / "sentences.pot"
COPIES = ROOT / "build" / "translated"

LANGUAGE = os.environ.get("BENCH_LANGUAGE", "")
"""In which language this build is; empty for English."""
SUFFIX = f"-{LANGUAGE}" if LANGUAGE else ""
"""Behind the names of what is built, so that a language does not take English's place."""


class TranslationError(Exception):
    """A translation that cannot be used: which message, and what is wrong with it."""


def home() -> Path:
    """Return where the package and the assets of this build are: the root, or the copies in another language."""
    return copies(LANGUAGE) if LANGUAGE else ROOT


def said_here(path: Path) -> Path:
    """Return a file of ours as this build ships it."""
    copy = home() / path.relative_to(ROOT) if path.is_relative_to(ROOT) else path
    return copy if copy.is_file() else path


def copies(language: str) -> Path:
    """Make the copies in a language, unless they are there and made of the same things; return their root.

    Raises
    ------
    TranslationError
        There is no such translation, or one of its messages does not fit.
    """
    path = FILES / f"{language}.po"
    if not path.is_file():
        raise TranslationError(f"there is no docs/translations/{language}.po; scripts/sentences {language} makes it")
    folder = COPIES / language
    made_of = _digest((path, Path(__file__), *_scripts(), *_own_files()))
    stamp = folder / "made-of"
    if not stamp.is_file() or stamp.read_text() != made_of:
        messages = read(path)
        write_copies(folder, lambda words: messages.get(words, words), language)
        stamp.write_text(made_of)
    return folder


def write_copies(folder: Path, translate: Callable[[str], str], language: str) -> None:
    """Write the package and the elements anew into a folder, with other sentences in them."""
    from scripts.sentences import translated_files

    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(ROOT / "calculators", folder / "calculators", ignore=shutil.ignore_patterns("__pycache__"))
    for name, text in translated_files(lambda words, path, line: translate(words)).items():
        copy = folder / name
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_text(text, encoding="utf-8")
    paper = folder / "calculators/templates/paper.html"
    paper.write_text(paper.read_text(encoding="utf-8").replace('lang="en"', f'lang="{language}"'), encoding="utf-8")


def _scripts() -> tuple[Path, ...]:
    return tuple(
        Path(__file__).with_name(name)
        for name in ("sentences.py", "python_sentences.py", "page_sentences.py", "sentences.mjs")
    )


def _own_files() -> list[Path]:
    own = (*(ROOT / "calculators").rglob("*"), *(ROOT / "docs/assets").glob("*.js"))
    return [path for path in sorted(own) if path.is_file() and "__pycache__" not in path.parts]


def _digest(paths: tuple[Path, ...]) -> str:
    made_of = hashlib.sha256()
    for path in paths:
        made_of.update(path.relative_to(ROOT).as_posix().encode() + path.read_bytes())
    return made_of.hexdigest()


def read(path: Path) -> dict[str, str]:
    """Return a translation's messages by the English sentence; what is not translated, or only guessed, is left out.

    Raises
    ------
    TranslationError
        A message has other places than its English sentence, or cannot be read.
    """
    from babel.messages.pofile import PoFileError, read_po

    try:
        catalog = read_po(io.BytesIO(path.read_bytes()), abort_invalid=True)
    except PoFileError as error:
        raise TranslationError(f"{path.name}: {error}") from None
    said = {str(one.id): str(one.string) for one in catalog if one.id and one.string and not one.fuzzy}
    for english, words in said.items():
        wrong = _misfit(english, words)
        if wrong:
            raise TranslationError(f"{path.name}: {words!r} does not fit {english!r}: {wrong}")
    return said


def _misfit(english: str, words: str) -> str:
    """Return why a message does not fit its English sentence, or nothing."""
    try:
        wanted, found = _places(english), _places(words)
    except ValueError as error:
        return f"{error}; a brace that is no place is written twice"
    lacking, strange = wanted - found, found - wanted
    if lacking or strange:
        named = [f"{{{name}}} is missing" for name in lacking] + [f"{{{name}}} is too much" for name in strange]
        return ", ".join(named)
    if english[: len(english) - len(english.lstrip())] != words[: len(words) - len(words.lstrip())]:
        return "it must begin with the same spaces"
    if english[len(english.rstrip()) :] != words[len(words.rstrip()) :]:
        return "it must end with the same spaces"
    return ""


def _places(message: str) -> Counter[str]:
    found = Counter[str]()
    for _, name, form, conversion in Formatter().parse(message):
        if name is not None:
            if form or conversion:
                raise ValueError("a place is a name alone")
            found[name] += 1
    return found


def write_template() -> Path:
    """Write the catalogue of all sentences, without any translation, and return its path."""
    from babel.messages.catalog import Catalog
    from babel.messages.pofile import write_po

    from scripts.sentences import sentences

    catalog = Catalog(project="Top-End Bench Book", header_comment="# Every sentence of calculators and elements.")
    for words, places in sentences().items():
        catalog.add(words, locations=places, flags=("python-brace-format",) if re.search(r"\{\w+\}", words) else ())
    TEMPLATE.parent.mkdir(exist_ok=True)
    with TEMPLATE.open("wb") as file:
        write_po(file, catalog, width=100, omit_header=False)
    return TEMPLATE


def update(language: str) -> str:
    """Make a translation's file, or bring it up to date: what is translated stays; return how far it is."""
    from babel.messages.catalog import Catalog
    from babel.messages.pofile import read_po, write_po

    template = read_po(io.BytesIO(write_template().read_bytes()))
    path = FILES / f"{language}.po"
    catalog = read_po(io.BytesIO(path.read_bytes()), locale=language) if path.is_file() else Catalog(locale=language)
    catalog.update(template)
    FILES.mkdir(exist_ok=True)
    with path.open("wb") as file:
        write_po(file, catalog, width=100)
    done = sum(bool(one.id and one.string and not one.fuzzy) for one in catalog)
    guessed = sum(one.fuzzy for one in catalog if one.id)
    return f"docs/translations/{path.name}: {done} of {len(catalog)} sentences translated, {guessed} to be looked over"


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("language", nargs="?", help="make or update the file of this language, like de or pt_BR")
    parser.add_argument("--template", action="store_true", help=write_template.__doc__)
    wanted = parser.parse_args()
    if wanted.template == bool(wanted.language):
        parser.error("name a language, or --template")
    sys.stdout.write(f"{update(wanted.language) if wanted.language else write_template().relative_to(ROOT)}\n")
