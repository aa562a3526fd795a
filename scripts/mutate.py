"""Breaks the formulas and the decisions in one place at a time, and tells which breaks no test notices.

mutmut makes the mutants: a copy of each function for each break, and a switch that says which copy
runs. We run them: the tests are loaded once, each mutant is tried in a forked process with only the
tests that reach its function, the quickest first, and the first failure ends it. A mutant then
costs a tenth of a second, against two for a start of pytest each.
"""

from __future__ import annotations

import argparse
import gc
import json
import math
import os
import re
import resource
import shutil
import sys
import time
from collections import Counter
from dataclasses import dataclass, field
from difflib import unified_diff
from pathlib import Path

import pytest
import yaml
from mutmut.mutation import trampoline
from mutmut.mutation.file_mutation import mutate_file_contents

ROOT = Path(__file__).resolve().parents[1]
COPY = ROOT / "build/mutants"
RESULTS = ROOT / "build/mutants.json"
REACH = ROOT / "build/mutants-reach.json"
EXPLAINED = ROOT / "scripts/explained_mutants.yml"
DECISIONS = ("_kinds", "_verdict")
TESTS = ("tests/calculators", "tests/reference")

# Left out: what holds for every module alike, knows no formula or counts them, what is held to a time (a busy
# machine would count as a kill), and two searches of minutes.
LEFT_OUT = (
    *(
        f"--ignore=tests/calculators/test_{name}.py"
        for name in (
            "bad_input",
            "card_form",
            "catalogue",
            "command_line",
            "drawing",
            "engine_card",
            "job",
            "page",
        )
    ),
    "--deselect=tests/reference/test_checks.py::test_every_formula_and_every_calculator_has_one",
    "--deselect=tests/reference/test_lash.py::test_the_solver_needs_as_many_stops_on_two_thousand_engines",
    "--deselect=tests/reference/test_lash.py::test_the_solver_needs_as_many_stops_among_given_places",
    "-k=not quick and not keystrokes and not of_thousands",
)
MEMORY = 3 * 2**30  # bytes: a loop that never ends must not take the machine with it

_CACHED = re.compile(r"^@(?P<cache>lru_cache\(.*\))\n(?=def (?P<name>\w+))", re.MULTILINE)


def modules() -> list[str]:
    """Return the names that can be broken, below ``calculators``."""
    formulas = sorted(path.stem for path in (ROOT / "calculators/formulas").glob("*.py"))
    return [*(f"formulas/{name}" for name in formulas if name != "__init__"), *DECISIONS]


def write_mutants(names: list[str]) -> dict[str, str]:
    """Copy what the tests need, with these modules broken; return each mutant's name with its difference."""
    shutil.rmtree(COPY, ignore_errors=True)
    for part in ("calculators", "tests", "docs", "scripts"):
        shutil.copytree(ROOT / part, COPY / part, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", COPY)
    found = {}
    for name in names:
        path = f"calculators/{name}.py"
        source = (ROOT / path).read_text(encoding="utf-8")
        mutated = mutate_file_contents(path, _CACHED.sub("", source))  # a decorated function would be left alone
        caches = "".join(f"\n{match['name']} = {match['cache']}({match['name']})" for match in _CACHED.finditer(source))
        (COPY / path).write_text(f"{mutated.code}{caches}\n", encoding="utf-8")
        lines = mutated.code.splitlines()
        bodies = {key: lines[span.start - 1 : span.end] for key, span in mutated.line_span_by_function_name.items()}
        for mutant in mutated.mutant_names:
            whole = bodies[f"{mutant.rpartition('__mutmut_')[0]}__mutmut_orig"]
            changes = list(unified_diff(whole, bodies[mutant], lineterm="", n=0))
            found[f"{path[:-3].replace('/', '.')}.{mutant}"] = "\n".join(
                line for line in changes[2:] if not line.startswith("@@") and "__mutmut_" not in line
            )
    return found


@dataclass
class Mutants:
    """Pytest's loop over tests, in which every mutant has its turn."""

    names: list[str]
    at_once: int
    reach: dict[str, dict[str, float]]  # function → test → seconds
    whole: bool  # all modules are broken, so that what a test reaches is worth keeping for the next run
    results: dict[str, str] = field(default_factory=dict)
    failed: bool = False

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.failed = self.failed or report.failed

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self._watch(session)
        if self.whole:
            REACH.write_text(json.dumps(self.reach), encoding="utf-8")
        tests = {item.nodeid: item for item in session.items}
        gc.collect()
        gc.freeze()
        running: dict[int, str] = {}
        for done, name in enumerate(self.names):
            costs = self.reach.get(name.rpartition("__mutmut_")[0], {})
            items = [tests[test] for test in sorted(costs, key=lambda test: costs[test]) if test in tests]
            if not items:
                self.results[name] = "not reached"
                continue
            if len(running) >= self.at_once:
                self._collect(running)
            seconds = math.ceil(2 + 2 * sum(costs.values()))
            if not (child := os.fork()):
                self._try(session, name, items, seconds)
            running[child] = name
            if done % 100 == 0:
                print(f"{done} of {len(self.names)} tried", file=sys.stderr, flush=True)
                RESULTS.write_text(json.dumps(self.results, indent=1), encoding="utf-8")
        while running:
            self._collect(running)
        return True

    def _watch(self, session: pytest.Session) -> None:
        """Run each test once, unbroken, unless it is known which functions it reaches, and in what processor time."""
        hits: set[str] = set()
        vars(trampoline)["record_trampoline_hit"] = lambda name, caller=None: hits.add(name)
        os.environ["MUTANT_UNDER_TEST"] = "stats"
        known = {test for costs in self.reach.values() for test in costs}
        for item in session.items:
            if item.nodeid in known:
                continue
            hits.clear()
            started = time.process_time()
            self._run(session, item)
            if self.failed:
                pytest.exit(f"{item.nodeid} fails before anything is broken", returncode=1)
            for hit in hits | {"any"}:
                self.reach.setdefault(hit, {})[item.nodeid] = time.process_time() - started
        os.environ["MUTANT_UNDER_TEST"] = ""
        for module in [module for name, module in sys.modules.items() if name.startswith("calculators.")]:
            for kept in vars(module).values():
                if hasattr(kept, "cache_clear"):
                    kept.cache_clear()  # it holds the right answers

    def _run(self, session: pytest.Session, item: pytest.Item) -> None:
        session.config.hook.pytest_runtest_protocol(item=item, nextitem=None)

    def _try(self, session: pytest.Session, name: str, items: list[pytest.Item], seconds: int) -> None:
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        with Path(os.devnull).open("w") as nowhere:
            os.dup2(nowhere.fileno(), 1)
            os.dup2(nowhere.fileno(), 2)
        os.environ["MUTANT_UNDER_TEST"] = name
        try:
            for item in items:
                self._run(session, item)
                if self.failed:
                    os._exit(1)
            os._exit(0)
        finally:
            os._exit(1)

    def _collect(self, running: dict[int, str]) -> None:
        child, status = os.wait()
        if child in running:
            ended = os.waitstatus_to_exitcode(status)
            self.results[running.pop(child)] = {0: "survived", 1: "killed"}.get(ended, "never ends")


def explained(module: str, line: str) -> bool:
    """Tell whether a break is one of those that change nothing a test could see; each stands there with its reason."""
    groups = yaml.safe_load(EXPLAINED.read_text(encoding="utf-8"))
    return any(
        re.search(f"^(?:{pattern})$", line)
        for found in groups.values()
        for where, patterns in found.items()
        for pattern in patterns
        if where in (module, "any")
    )


def report(differences: dict[str, str], results: dict[str, str]) -> None:
    """Print each module's score, and each mutant that no test noticed and nobody explained."""
    score: dict[str, Counter[str]] = {}
    for name, result in results.items():
        module = name.split(".")[-2]
        if result in ("survived", "not reached"):
            if explained(module, differences[name].rpartition("\n+")[2].strip()):
                result = "explained"
            else:
                print(f"{name}: {result}\n{differences[name]}")
        score.setdefault(module, Counter())[result] += 1
    whole: Counter[str] = Counter()
    for module, counts in score.items():
        whole += counts
        print(_line(module, counts))
    print(_line("all", whole))


def _line(name: str, counts: Counter[str]) -> str:
    noticed, tried = counts["killed"] + counts["never ends"], counts.total()
    rest = f"{counts['explained']:4} explained {counts['survived'] + counts['not reached']:4} not noticed"
    return f"{name:22}{tried:5} breaks {noticed:5} noticed {100 * noticed / tried:5.1f} % {rest}"


def main() -> int:
    """Break what is named, or all of it."""
    parser = argparse.ArgumentParser(prog="scripts/mutate", description=__doc__)
    parser.add_argument("module", nargs="*", help="like leakage or _verdict; all, if none is named")
    parser.add_argument("--at-once", type=int, default=os.cpu_count() or 1, help="processes that run beside each other")
    asked = parser.parse_args()
    wanted = [name for name in modules() if not asked.module or name.removeprefix("formulas/") in asked.module]
    if len(wanted) < len(asked.module):
        parser.error(f"there are {', '.join(name.removeprefix('formulas/') for name in modules())}")
    differences = write_mutants(wanted)
    os.chdir(COPY)
    sys.path.insert(0, str(COPY))
    reach = json.loads(REACH.read_text(encoding="utf-8")) if asked.module and REACH.exists() else {}
    plugin = Mutants(list(differences), asked.at_once, reach, whole=not asked.module)
    ended = pytest.main(["-p", "no:cacheprovider", *TESTS, *LEFT_OUT], plugins=[plugin])
    if ended:
        return int(ended)
    report(differences, plugin.results)
    return 0


if __name__ == "__main__":
    sys.exit(main())
