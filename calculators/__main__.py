"""The questions on the command line: ``python -m calculators list | describe | run | job``."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from calculators.bench.card import EngineCard, read_card
from calculators.bench.command_line import (
    answer_data,
    answer_text,
    asked_on_the_command_line,
    described_data,
    described_text,
    listed_questions,
)
from calculators.bench.errors import BenchError, CardError, FieldError, InputErrors, JobError
from calculators.bench.files import whole_characters, write_whole
from calculators.bench.terminal import as_shown, complain, forget, open_outputs, shows_everything
from calculators.job.jobs import as_kept_now, job_tree
from calculators.job.papers import PAPERS, paper_html
from calculators.job.sifting import sifted


def main(arguments: list[str] | None = None) -> int:
    """Run one command; return 0 with an answer on stdout, 2 with what is wrong, a line each."""
    parser = argparse.ArgumentParser(prog="python -m calculators", description=__doc__)
    commands = parser.add_subparsers(dest="command", required=True)
    commands.add_parser("list", help="name every question")
    describe = commands.add_parser("describe", help="say what a question asks for")
    run = commands.add_parser("run", help="answer: key=value …")
    for command in (describe, run):
        command.add_argument("name", metavar="room.question")
        command.add_argument("--json", action="store_true")
    run.add_argument("--card", type=Path, help="an engine card that fills entries not given")
    run.add_argument("entries", nargs="*", metavar="key=value", help="a list for a column: chamber='52.1; 52.4'")
    job = commands.add_parser("job", help="check an exported job file, or write one of its sheets")
    job.add_argument("deed", choices=("check", "report"))
    job.add_argument("file", type=Path)
    job.add_argument("-o", "--output", type=Path, help="where the sheet goes; without it, to the screen")
    job.add_argument("--sheet", choices=tuple(PAPERS), default="handover", help="which one (default: %(default)s)")
    job.add_argument("--id", help="which job of a file that holds several; begin of its id is enough")
    job.add_argument("--card", type=Path, help="the engine card, where the job does not carry its own")
    given, more = parser.parse_known_args(arguments)
    if strange := [text for text in more if text.startswith("-") or given.command != "run"]:
        parser.error(f"unknown: {' '.join(strange)}")
    try:
        if given.command == "list":
            print(listed_questions())
        elif given.command == "job":
            return _job(given.deed, given.file, given.output, given.id, given.card, given.sheet)
        elif given.command == "describe":
            print(_dump(described_data(given.name)) if given.json else described_text(given.name))
        else:
            card = read_card(given.card) if given.card else None
            asked = asked_on_the_command_line(given.name, [*given.entries, *more], card)
            print(_dump(answer_data(asked)) if given.json else answer_text(asked, as_shown))
    except InputErrors as errors:
        return _fail(errors.errors, given.json)
    except JobError as error:
        return _fail([FieldError("file", line) for line in str(error).splitlines()], as_json=False)
    except CardError as error:
        return _fail([FieldError("card", line) for line in str(error).splitlines()], getattr(given, "json", False))
    except BenchError as error:
        return _fail([FieldError("name", str(error))], given.json)
    return 0


def _job(deed: str, file: Path, output: Path | None, wanted: str | None, card: Path | None, sheet: str) -> int:
    try:
        jobs, left_out = sifted(job_tree(file))
    except JobError as error:
        raise JobError("\n".join(_of_file(file, line) for line in str(error).splitlines())) from None
    for line in left_out:
        complain(_of_file(file, line))
    if deed == "check":
        for job in jobs:
            name = job.get("about", {}).get("name") or job.get("about", {}).get("vehicle") or "no name"
            print(f"{job['id']}  {name}: {len(job.get('readings', {}))} readings, changed {job['changed']}")
        return 2 if left_out else 0
    chosen = [as_kept_now(job).job for job in jobs if job["id"].startswith(wanted or "")]
    if len(chosen) != 1:
        raise JobError(
            f"{file}: it holds {len(chosen)} such jobs; name one by --id: {', '.join(j['id'] for j in jobs)}"
        )
    own = chosen[0].get("card", {})
    html = paper_html(
        sheet,
        chosen[0],
        EngineCard(own["name"], own["data"], own=True)
        if "name" in own.get("data", {})
        else (read_card(card) if card else None),
    )
    if output:
        try:
            write_whole(output, html)
        except OSError as error:
            raise JobError(f"{output}: it cannot be written: {error.strerror or type(error).__name__}") from None
    elif sys.stdout is not None:
        sys.stdout.flush()
        sys.stdout.buffer.write(whole_characters(f"{html}\n").encode())  # its head says UTF-8, whatever the terminal
    return 0


def _of_file(file: Path, line: str) -> str:
    return line if line.startswith(f"{file}: ") else f"{file}: {line}"


def _fail(errors: list[FieldError] | tuple[FieldError, ...], as_json: bool) -> int:
    if as_json:
        print(_dump({"errors": [{"field": error.field, "message": error.message} for error in errors]}))
    else:
        for error in errors:
            complain(error.message)
    return 2


def _dump(data: object) -> str:
    return json.dumps(data, ensure_ascii=not shows_everything(), indent=2)


def _program() -> int:
    """Run one command as a program of its own; return 1 where its answer could not be written."""
    open_outputs()
    try:
        code = main()
        if sys.stdout is None:
            if not code:
                complain("The answer could not be written: the output is closed")
            return code or 1
        sys.stdout.flush()
    except BrokenPipeError:  # whoever reads has seen enough
        forget("stdout")
        return 0
    except OSError as error:
        forget("stdout")
        complain(f"The answer could not be written: {error.strerror or type(error).__name__}")
        return 1
    return code


if __name__ == "__main__":
    sys.exit(_program())
