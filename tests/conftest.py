"""What all tests share: repeatable property tests, and one browser driver a session."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from filelock import FileLock
from hypothesis import HealthCheck, Phase, settings
from playwright.sync_api import Browser, sync_playwright

from scripts.static_server import SITE
from tests.attempts import SHOWN, TOLD, Attempts, summary
from tests.examples import IS_NIGHT, IS_WIDE
from tests.processor import is_within

ROOT = Path(__file__).resolve().parent.parent

settings.register_profile("ordinary", deadline=None, derandomize=True, max_examples=200)
settings.register_profile("nightly", deadline=None, derandomize=False, max_examples=10_000, print_blob=True)
settings.register_profile(
    "mutation",
    deadline=None,
    derandomize=True,
    max_examples=20,
    phases=[Phase.explicit, Phase.generate],  # that a test fails is enough: not with which least example
    suppress_health_check=list(HealthCheck),
)
settings.load_profile(os.environ.get("BENCH_EXAMPLES", "ordinary"))


COMPILED_ONCE = "--js-flags=--liftoff-only"
"""V8 compiles Python's wasm for every page that starts it: here without the second, slower pass, which no short visit
earns back. It is a quarter of a start's processor time."""

_said: list[str] = []


@pytest.fixture(scope="session")
def said() -> Callable[[str], None]:
    """Note a line for the end of the run: what was measured, which browser was driven."""
    return _said.append


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out what is wide; begin with what takes long, so that two processes come to an end together.

    The first of all needs no site: one process builds it, while another would only wait. The next packs it, which what
    serves the pack would wait for.
    """
    if not IS_WIDE and (left_out := [item for item in items if item.get_closest_marker("wide")]):
        config.hook.pytest_deselected(items=left_out)
        items[:] = [item for item in items if item not in set(left_out)]
    rooms = ("tests/bench/test_bad_input.py", "tests/hosting/test_pack.py", "tests/site/", "tests/hosting/", "")
    items.sort(key=lambda item: next(place for place, room in enumerate(rooms) if item.nodeid.startswith(room)))
    for item in items:
        if item.nodeid.startswith(("tests/site/", "tests/hosting/")):
            item.add_marker(pytest.mark.flaky(reruns=1))  # named at the end, to be mended


def pytest_sessionfinish(session: pytest.Session) -> None:
    if hasattr(session.config, "workeroutput"):  # one of several processes: the first of them prints
        session.config.workeroutput["said"] = _said


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: object) -> None:
    _said.extend(getattr(node, "workeroutput", {}).get("said", []))


@pytest.fixture
def attempts(request: pytest.FixtureRequest) -> Iterator[Attempts]:
    """Count what a test tries, by kind; what went wrong fails it when all was tried."""
    counted = Attempts()
    yield counted
    request.node.user_properties.append((TOLD, counted.kinds))
    if counted.wrong:
        pytest.fail("\n".join([str(counted), *counted.wrong[:SHOWN]]), pytrace=False)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    for line in _said:
        terminalreporter.write_line(line)
    reports = (one for many in terminalreporter.stats.values() for one in many if isinstance(one, pytest.TestReport))
    for line in summary(reports) if IS_NIGHT else ():
        terminalreporter.write_line(line)
    for report in terminalreporter.stats.get("rerun", []):
        terminalreporter.section(f"failed at first: {report.nodeid}")
        terminalreporter.write_line(report.longreprtext)


@pytest.fixture(scope="session")
def shared_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder of this run, the same for all that test at the same time."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own


@pytest.fixture(scope="session")
def site(shared_folder: Path) -> Path:
    """Build the site, strictly and inside its minute, once for all that test at the same time."""
    built = shared_folder / "site.built"
    with FileLock(f"{built}.lock"):
        if not built.exists():
            before = resource.getrusage(resource.RUSAGE_CHILDREN)
            command = [sys.executable, "-m", "mkdocs", "build", "--strict"]
            quiet = os.environ | {"NO_MKDOCS_2_WARNING": "1"}
            done = subprocess.run(command, cwd=ROOT, env=quiet, capture_output=True, text=True, check=False)
            assert done.returncode == 0, done.stderr
            after = resource.getrusage(resource.RUSAGE_CHILDREN)
            taken = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
            assert is_within(taken, 60)  # s of one processor
            built.touch()
    return SITE


@pytest.fixture(scope="session")
def launch() -> Iterator[Callable[..., Browser]]:
    """Start Chromium, with more arguments if wanted; all are closed when the session ends."""
    browsers = []
    with sync_playwright() as playwright:

        def launched(*arguments: str) -> Browser:
            quiet = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", COMPILED_ONCE]
            chromium = os.environ.get("BENCH_CHROMIUM") or "/usr/bin/chromium"
            browsers.append(playwright.chromium.launch(executable_path=chromium, args=[*quiet, *arguments]))
            return browsers[-1]

        yield launched
        for browser in browsers:
            browser.close()
