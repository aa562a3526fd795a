"""While someone writes, only what a change shows in is built again."""

import os

import pytest

from scripts import static_server


@pytest.fixture
def book(tmp_path, monkeypatch):
    monkeypatch.setattr(static_server, "ROOT", tmp_path)
    monkeypatch.setattr(static_server, "SITE", tmp_path / "build" / "site")
    for name, text in {
        "docs/index.md": "Home",
        "docs/build/lash.md": "1. Set it.\n\n    ```question\n    lash.plan\n    ```\n",
        "docs/build/head.md": "Set [[torque.wrench.settings]].\n",
        "docs/work-it-out/torque.md": "```room\ntorque\n```\n",
        "calculators/torque/__init__.py": "TITLE = 'Torque'",
        "calculators/bench/__init__.py": "",
    }.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    for page in ("index.html", "build/lash/index.html", "build/head/index.html", "work-it-out/torque/index.html"):
        path = tmp_path / "build/site" / page
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("built", encoding="utf-8")
        os.utime(path, (1_000, 1_000))
    return tmp_path


def outdated(book):
    site = book / "build/site"
    return {path.relative_to(site).as_posix() for path in site.rglob("*.html") if not path.stat().st_mtime}


def test_a_saved_word_and_a_saved_look_build_what_is_newer_than_its_page(book):
    changed = {book / "docs/build/lash.md", book / "docs/assets/question.css"}
    assert static_server._what_to_build(changed) == ("--dirty",)
    assert not outdated(book)


def test_a_saved_question_builds_the_pages_that_ask_or_quote_its_room(book):
    assert static_server._what_to_build({book / "calculators/torque/wrench.py"}) == ("--dirty",)
    assert outdated(book) == {"build/head/index.html", "work-it-out/torque/index.html"}


@pytest.mark.parametrize(
    "path", ["calculators/bench/units.py", "scripts/mkdocs_hook.py", "docs/engines/marram-f4.yml", "calculators/new.py"]
)
def test_what_can_show_anywhere_builds_all(book, path):
    assert static_server._what_to_build({book / path}) == ()
