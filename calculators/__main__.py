"""The calculators on the command line: ``python -m calculators list | describe | run | job``."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Mapping
from pathlib import Path

from calculators._catalogue import Calculator, calculator, catalogue
from calculators._engine_card import EngineCard, read_card
from calculators._errors import BenchError, CardError, FieldError, InputErrors, JobError
from calculators._files import whole_characters, write_whole
from calculators._job.jobs import job_tree
from calculators._job.papers import PAPERS, paper_html
from calculators._job.sifting import sifted
from calculators._terminal import as_shown, complain, forget, open_outputs, shows_everything
from calculators._text import described_text, report_text, understood_text
from calculators._understood import list_understood
from calculators.bench.command_line import described_question, listed_questions, run_question


def main(arguments: list[str] | None = None) -> int:
    """Run one command; return 0 with an answer on stdout, 2 with what is wrong, a line each."""
    parser = argparse.ArgumentParser(prog="python -m calculators", description=__doc__)
    commands = parser.add_subparsers(dest="command", required=True)
    commands.add_parser("list", help="name every calculator")
    describe = commands.add_parser("describe", help="say what a calculator asks for")
    run = commands.add_parser("run", help="answer: field=value …")
    for command in (describe, run):
        command.add_argument("name")
        command.add_argument("--card", type=Path, help="an engine card that fills fields not given")
        command.add_argument("--json", action="store_true")
    run.add_argument("fields", nargs="*", metavar="field=value", help="a list for a row field: chamber='52.1; 52.4'")
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
    if given.command == "list":
        width = max(map(len, catalogue()))
        for found in catalogue().values():
            print(f"{found.name:{width}}  {found.purpose}")
        print(listed_questions())
        return 0
    try:
        if given.command == "job":
            return _job(given.deed, given.file, given.output, given.id, given.card, given.sheet)
        card = read_card(given.card) if given.card else None
        if "." in given.name:
            print(
                described_question(given.name, given.json)
                if given.command == "describe"
                else run_question(given.name, [*given.fields, *more], card, given.json)
            )
            return 0
        found = calculator(given.name)
        print(
            _described(found, card, given.json)
            if given.command == "describe"
            else _run(found, card, [*given.fields, *more], given.json)
        )
    except InputErrors as errors:
        return _fail(errors.errors, given.json)
    except JobError as error:
        return _fail([FieldError("file", line) for line in str(error).splitlines()], as_json=False)
    except CardError as error:
        return _fail([FieldError("card", line) for line in str(error).splitlines()], getattr(given, "json", False))
    except BenchError as error:
        return _fail([FieldError("name", str(error))], given.json)
    return 0


def _described(found: Calculator, card: EngineCard | None, as_json: bool) -> str:
    fields = found.form.described(card)
    if not as_json:
        return described_text(found.title, found.purpose, fields)
    return _dump({"name": found.name, "title": found.title, "purpose": found.purpose, "fields": fields})


def _run(found: Calculator, card: EngineCard | None, fields: list[str], as_json: bool) -> str:
    unreadable = [FieldError(text, f"{text} must be written field=value") for text in fields if "=" not in text]
    if unreadable:
        raise InputErrors(*unreadable)
    pairs = [(key.strip(), text) for key, _, text in (text.partition("=") for text in fields)]
    typed = _each_once(pairs)
    report = found.answer(typed, card)
    said = list_understood(found.form, typed)
    if as_json:
        return _dump(report.as_data() | {"understood": said})
    return report_text(found.title, report, as_shown) + understood_text(said)


def _each_once(pairs: list[tuple[str, str]]) -> Mapping[str, str]:
    """Return what was typed, by field; one given twice is a mistake, also where a list and its cell are."""
    typed: dict[str, str] = {}
    errors = []
    for key, text in pairs:
        column, _, row = key.partition(".")
        if key in typed:
            errors.append(FieldError(key, f"{key} is given twice, as {typed[key]} and as {text}; give it once"))
        elif row.isdigit() and column in dict(pairs):
            errors.append(FieldError(key, f"{key} is given twice, by itself and in {column}; give it once"))
        typed[key] = text
    if errors:
        raise InputErrors(*errors)
    return typed


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
    chosen = [job for job in jobs if job["id"].startswith(wanted or "")]
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
