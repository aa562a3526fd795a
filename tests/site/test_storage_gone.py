"""The browser's storage is full, forbidden, deleted or torn in the middle of a write: what a tab shows is not lost.

The job's own storage code runs under Node, in a world made up for the test (``job_storage.mjs``).
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator

import pytest

from calculators.job.jobs import job_faults
from tests.attempts import Attempts
from tests.bad_input import SEED
from tests.examples import IS_NIGHT
from tests.site.job_world import World, world

HOUR = 3600_000
HISTORIES, DEEDS = (1_000, 40) if IS_NIGHT else (6, 20)
PATHS = ("bore", "stroke", "chamber.1")


@pytest.fixture(scope="module")
def running() -> Iterator[World]:
    with world() as started:
        yield started


@pytest.fixture
def ask(running: World) -> World:
    running("world", names=["phone"])
    running("open", device="phone", tab="a")
    return running


def typed(ask: World, path: str, text: str, tab: str = "a") -> None:
    ask("deed", tab=tab, deed="type", path=path, text=text, unit="mm")


def seen(ask: World, tab: str = "a") -> dict[str, str]:
    return {path: reading["text"] for path, reading in ask("look", tab=tab)["job"]["readings"].items()}


def stored(ask: World) -> dict[str, str]:
    return {path: one["text"] for job in ask("stored", device="phone") for path, one in job["readings"].items()}


def test_what_was_deleted_behind_a_tab_is_whole_again_with_its_next_entry(ask):
    typed(ask, "bore", "80")
    ask("wipe", device="phone")
    assert stored(ask) == {}  # what the reader deletes stays deleted as long as nothing is typed
    assert seen(ask) == {"bore": "80"}
    typed(ask, "stroke", "74")
    assert stored(ask) == {"bore": "80", "stroke": "74"}
    assert ask("look", tab="a")["why"] == ""


def test_where_the_browser_forbids_to_keep_anything_the_job_lasts_as_long_as_the_tab(ask):
    typed(ask, "bore", "80")
    ask("block", device="phone", blocked=True)
    ask("open", device="phone", tab="b")
    assert seen(ask, "b") == {}
    typed(ask, "bore", "90", tab="b")
    assert seen(ask, "b") == {"bore": "90"}
    assert stored(ask) == {"bore": "80"}
    typed(ask, "stroke", "74")  # a tab that was open before it was forbidden still has its storage
    assert stored(ask) == {"bore": "80", "stroke": "74"}
    ask("block", device="phone", blocked=False)
    ask("open", device="phone", tab="c")
    assert seen(ask, "c") == {"bore": "80", "stroke": "74"}


def test_a_copy_that_is_torn_anywhere_is_taken_up_or_left_and_hurts_nothing(ask, attempts: Attempts):
    typed(ask, "bore", "80")
    (job,) = ask("stored", device="phone")
    job["readings"]["stroke"] = job["readings"]["bore"] | {"text": "74"}
    text = json.dumps(job)
    for place in range(1, len(text)) if IS_NIGHT else range(1, len(text), len(text) // 12):
        ask("left", device="phone", key="bench-unsaved", text=text[:place])
        ask("open", device="phone", tab="b")
        wrong = [] if seen(ask, "b") == stored(ask) == {"bore": "80"} else [f"torn after {place}: {stored(ask)}"]
        attempts.count("storage: a copy torn", *wrong)
        ask("close", tab="b")
    ask("left", device="phone", key="bench-unsaved", text=text)
    ask("open", device="phone", tab="b")
    assert seen(ask, "b") == {"bore": "80", "stroke": "74"}


class History:
    """One tab at a time; what it shows is what was typed, whatever becomes of the storage."""

    def __init__(self, ask: World, pick: random.Random) -> None:
        self.ask, self.pick, self.number = ask, pick, 0
        self.shown: dict[str, str] = {}
        self.safe: list[dict[str, str]] = [{}]
        """What another tab may find: more than one where all was deleted in the middle of a write."""

    def _deed(self) -> dict[str, str]:
        self.number += 1
        path = self.pick.choice(PATHS)
        if path in self.shown and self.pick.random() < 0.2:
            self.shown.pop(path)
            return {"deed": "takeOut", "list": "readings", "id": path}
        self.shown[path] = f"{self.number}.5"
        return {"deed": "type", "path": path, "text": self.shown[path], "unit": "mm"}

    def entry(self) -> None:
        self.ask("deed", tab="a", **self._deed())
        self.safe = [dict(self.shown)]

    def full(self) -> None:
        self.ask("room", device="phone", full=True)
        self.entry()
        self.entry()
        self.ask("room", device="phone", full=False)

    def deleted(self) -> None:
        self.ask("wipe", device="phone")
        self.safe = [{}]

    def deleted_in_a_write(self) -> None:
        self.ask("wipeIn", tab="a", after=self.pick.randrange(9), **self._deed())
        self.safe = [{}, dict(self.shown)]

    def cut_in_a_write(self) -> None:
        self.ask("cut", tab="a", after=self.pick.randrange(1, 9), **self._deed())
        self.safe = [dict(self.shown)]
        self._opened()

    def opened_again(self) -> None:
        self.ask("close", tab="a")
        self._opened()

    def _opened(self) -> None:
        self.ask("open", device="phone", tab="a")
        found = seen(self.ask)
        assert found in self.safe, (found, self.safe)
        self.shown, self.safe = found, [found]

    def clock_put(self) -> None:
        self.ask("clock", device="phone", ms=self.pick.choice((-240, -24, -1, 0, 24)) * HOUR)

    def time_goes_by(self) -> None:
        self.ask("pass", ms=self.pick.choice((1, HOUR)))

    def holds(self) -> None:
        assert seen(self.ask) == self.shown
        jobs = self.ask("stored", device="phone")
        assert not jobs or not list(job_faults({"format": 5, "jobs": jobs}))


HAPPENS = ("entry", "entry", "full", "deleted", "deleted_in_a_write", "cut_in_a_write", "opened_again", "clock_put")


def test_whatever_becomes_of_the_storage_a_tab_shows_what_was_typed(running: World, attempts: Attempts):
    seed = random.SystemRandom().randrange(10**9) if IS_NIGHT else SEED
    for number in range(HISTORIES):
        running("world", names=["phone"])
        running("open", device="phone", tab="a")
        history = History(running, random.Random(f"{seed} {number}"))  # noqa: S311
        done = []
        for _ in range(DEEDS):
            done.append(history.pick.choice((*HAPPENS, "time_goes_by")))
            try:
                getattr(history, done[-1])()
                history.holds()
            except AssertionError as wrong:
                attempts.count(f"storage: {done[-1].replace('_', ' ')}", f"seed {seed}, {number}: {done}: {wrong}")
                break
            attempts.count(f"storage: {done[-1].replace('_', ' ')}")
        else:
            history.entry()
            assert stored(running) == history.shown
