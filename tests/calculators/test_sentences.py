"""Every visible sentence is in the catalogue, and nothing else: shown with a made-up language put in place of it.

In that language each letter of a sentence carries a mark. A word without marks on a page was missed by the catalogue;
a number, a tag or a class that is another was taken too much.
"""

import json
import re
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LETTERS = dict(zip("abcdefghijklmnopqrstuvwxyz", "áƀćďéƒğĥíĵķĺɱńóþɋŕśťúṽŵẋýź", strict=True))
LETTERS |= {plain.upper(): marked.upper() for plain, marked in LETTERS.items()}
READ_OUT = ("aria-label", "title", "alt", "placeholder", "data-label", "data-words", "data-large")


def marked(message):
    """Say a message in the made-up language, its places kept."""
    parts = re.split(r"(\{\w*\})", message)
    return "".join(part if part.startswith("{") else "".join(LETTERS.get(one, one) for one in part) for part in parts)


class Seen(HTMLParser):
    """What a reader sees or hears of HTML, and the rest of it, which is the same in every language."""

    def __init__(self, html):
        super().__init__()
        self.texts, self.rest = [], []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attributes):
        self.rest.append(tag)
        for name, value in attributes:
            (self.texts if name in READ_OUT else self.rest).append(value or "")

    def handle_data(self, data):
        if self.rest[-1:] != ["style"]:
            self.texts.append(data)


def answers(folder):
    command = [sys.executable, ROOT / "tests/every_answer.py", folder]
    return subprocess.Popen(command, stdout=subprocess.PIPE, cwd=folder, text=True)


def said_by(running):
    said = json.loads(running.communicate()[0])
    assert running.returncode == 0
    return said
