"""While someone writes, only what a change shows in is built again."""

import os

import pytest

from scripts import watch


@pytest.fixture
def book(tmp_path, monkeypatch):
    monkeypatch.setattr(watch, "ROOT", tmp_path)
    monkeypatch.setattr(watch, "SITE", tmp_path / "build" / "site")
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
    assert watch._what_to_build(changed) == "dirty"
    assert not outdated(book)


def test_a_saved_question_builds_the_pages_that_ask_or_quote_its_room(book):
    assert watch._what_to_build({book / "calculators/torque/wrench.py"}) == "dirty"
    assert outdated(book) == {"build/head/index.html", "work-it-out/torque/index.html"}


@pytest.mark.parametrize(
    "path", ["calculators/bench/units.py", "scripts/mkdocs_hook.py", "docs/engines/marram-f4.yml", "calculators/new.py"]
)
def test_what_can_show_anywhere_builds_all(book, path):
    assert watch._what_to_build({book / path}) == "whole"


class Builder:
    """Stands in for a process that waits to be told how to build."""

    def __init__(self, made, fails):
        self.number, self.fails, self.returncode = len(made), fails, None
        made.append(self)

    def poll(self):
        return self.returncode

    def kill(self):
        self.returncode = -9

    def wait(self):
        pass

    def communicate(self, how):
        self.how, self.returncode = how, int(self.number in self.fails)


class Over(Exception):
    pass


def watched(book, monkeypatch, *saved, fails=()):
    """Save one file after the other; return who built, and how."""
    made, states = [], [{}]
    for number, name in enumerate(saved):
        states.append(states[-1] | {book / name: number})

    def state():
        if not states:
            raise Over
        return states.pop(0)

    monkeypatch.setattr(watch, "_state", state)
    monkeypatch.setattr(watch, "_waiting", lambda: Builder(made, fails))
    monkeypatch.setattr(watch, "PAUSE", 0)
    with pytest.raises(Over):
        watch.rebuild_on_change()
    return [(one.number, one.how) for one in made if hasattr(one, "how")]


def test_a_saved_word_is_built_by_who_waits_and_saved_python_by_who_has_not_imported_it_before(book, monkeypatch):
    saved = ("docs/build/lash.md", "docs/build/head.md", "calculators/torque/wrench.py")
    assert watched(book, monkeypatch, *saved) == [(0, "dirty"), (1, "dirty"), (3, "dirty")]


def test_after_a_build_that_failed_another_is_begun_at_the_next_save(book, monkeypatch, capsys):
    saved = ("docs/build/lash.md", "docs/build/lash.md")
    assert watched(book, monkeypatch, *saved, fails=[0]) == [(0, "dirty"), (1, "dirty")]
    first, second = capsys.readouterr().out.splitlines()
    assert first == "Not built."
    assert second.startswith("Built in")
