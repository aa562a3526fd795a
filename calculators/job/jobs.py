"""Job files: read, checked, and put as this edition keeps a job."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from calculators.bench.errors import JobError
from calculators.bench.files import Unreadable, content, text_of
from calculators.card.checking import Fault, faults
from calculators.job.former import RENAMED
from calculators.job.readings import is_result, lacks_unit, named

SCHEMA_PATH = Path(__file__).with_name("job.schema.json")
LARGEST = 20_000_000
"""Bytes of a file that is opened; a job of a thousand readings has a twentieth of that."""
_ARCHIVE = 500_000_000
"""Bytes of an archive that is opened: photographs lie in it."""
_IN_ARCHIVE = "jobs.json"


def read_jobs(path: Path) -> list[dict[str, Any]]:
    """Read and check an exported file of any format; each job as ``as_kept_now`` puts it.

    Raises
    ------
    JobError
        One line a fault: where, what is wrong, and what would be right.
    """
    data = job_tree(path)
    found = list(job_faults(data))
    if found:
        raise JobError("\n".join(f"{path}: {fault}" for fault in found))
    return [as_kept_now(job).job for job in data["jobs"]]


def job_tree(path: Path) -> Any:
    """Return the tree of an exported file, also of one that lies in an archive with its photographs; unchecked.

    Raises
    ------
    JobError
    """
    try:
        read = content(path, LARGEST if path.suffix != ".zip" else _ARCHIVE, "job")
        text = text_of(_out_of_archive(read) if read[:4] == b"PK\x03\x04" else read)
        return json.loads(text, parse_constant=_no_number)
    except RecursionError:
        raise JobError(f"{path}: this is not a job file: it is nested deeper than any job") from None
    except Unreadable as why:
        raise JobError(f"{path}: {why}") from None
    except ValueError as error:
        raise JobError(f"{path}: this is not a job file: {' '.join(str(error).split())}") from None


def _no_number(text: str) -> Any:
    raise ValueError(f"{text} is not a number")


def _out_of_archive(read: bytes) -> bytes:
    import zipfile  # of no use in the browser, which opens archives itself

    try:
        with zipfile.ZipFile(io.BytesIO(read)) as archive:
            if _IN_ARCHIVE not in archive.namelist():
                raise Unreadable(f"the archive holds no {_IN_ARCHIVE}")
            if archive.getinfo(_IN_ARCHIVE).file_size > LARGEST:
                raise Unreadable(f"its {_IN_ARCHIVE} is larger than {LARGEST // 1_000_000} MB, which no job is")
            return archive.read(_IN_ARCHIVE)
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, OSError) as error:
        raise Unreadable(f"the archive is damaged: {error}") from None


@dataclass(frozen=True, slots=True)
class JobFault:
    """What is wrong at one place of a job file.

    Parameters
    ----------
    place : tuple of str and int
        Keys from the top of the file.
    message : str
        The place and the fault.
    strange : tuple of str
        The keys there that no job has.
    too_many : bool
        There is more at that place than a job holds, each good by itself.
    """

    place: tuple[str | int, ...]
    message: str
    strange: tuple[str, ...] = ()
    too_many: bool = False


def job_faults(data: Any) -> Iterator[str]:
    """Yield what is wrong with an exported file's tree, one sentence a fault."""
    yield from (fault.message for fault in faults_of(data))


def faults_of(data: Any) -> Iterator[JobFault]:
    """Yield what is wrong with an exported file's tree, with its place."""
    import jsonschema

    schema = json.loads(SCHEMA_PATH.read_text(encoding="utf-8"))
    checker = jsonschema.FormatChecker(formats=())
    checker.checks("date-time")(_is_a_day)
    validator = jsonschema.Draft202012Validator(schema, format_checker=checker)
    for error in sorted(validator.iter_errors(data), key=lambda error: error.json_path):
        message = _said(error)
        message = message if len(message) <= 200 else f"{message[:100]}…{message[-100:]}"
        where = error.json_path.removeprefix("$").lstrip(".") or "the file"
        yield JobFault(
            tuple(error.absolute_path), f"{where}: {message}", _strange_keys(error), error.validator in _COUNTS
        )
    if not isinstance(data, Mapping) or not isinstance(data.get("jobs"), list):
        return
    ids = [str(job.get("id")) for job in data["jobs"] if isinstance(job, Mapping)]
    if len(set(ids)) != len(ids):
        yield JobFault(("jobs",), "jobs: two jobs have one id; each must have its own")
    for index, job in enumerate(data["jobs"]):
        for fault in own_card_faults(job):
            yield JobFault(("jobs", index, "card"), f"jobs[{index}].card.data: {fault.message}")


_COUNTS = ("maxItems", "maxProperties")


def _said(error: Any) -> str:
    """Return a broken rule in words; the schema's own where they are plain."""
    match error.validator:
        case "minItems" | "maxItems":
            least, count = error.validator == "minItems", error.validator_value
            entries = "1 entry" if count == 1 else f"{count} entries"
            return f"must have at {'least' if least else 'most'} {entries}, not {len(error.instance)}"
        case "maxLength":
            return f"is longer than {error.validator_value} characters"
        case "format":
            return f"{error.instance} is not a real date and time"
    return str(error.message)


def _strange_keys(error: Any) -> tuple[str, ...]:
    if error.validator == "additionalProperties":
        return tuple(set(error.instance) - set(error.schema.get("properties", {})))
    if error.parent is None and "propertyNames" in error.absolute_schema_path:
        return (error.instance,)
    return ()


def _is_a_day(text: Any) -> bool:
    """Tell whether the calendar has the day that a time begins with; its layout is the pattern's matter."""
    found = (
        re.match(r"([1-9]\d{3})-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T", text, re.ASCII)
        if isinstance(text, str)
        else None
    )
    if not found:
        return True
    try:
        date(*map(int, found.groups()))
    except ValueError:
        return False
    return True


def own_card_faults(job: Any) -> list[Fault]:
    """Return what is wrong with the card that a job has of its own."""
    card = job.get("card") if isinstance(job, Mapping) else None
    return list(faults(card["data"])) if isinstance(card, Mapping) and "data" in card else []


@dataclass(frozen=True, slots=True)
class KeptNow:
    """A job as this edition keeps it, and what had to be decided for that.

    Parameters
    ----------
    job : dict
    unsaid : tuple of str
        What the numbers are called whose unit the file does not say.
    results : int
        How many results of former calculators were left out: they are worked out anew from the readings.
    """

    job: dict[str, Any]
    unsaid: tuple[str, ...]
    results: int


def as_kept_now(job: Mapping[str, Any]) -> KeptNow:
    """Return a job of any format as this edition keeps it: each number with its unit, and nothing that was worked out.

    Notes
    -----
    Formats 1 and 2 kept the unit that was chosen for a box or a column as a reading of
    its own, and none where nobody chose one; such a number is in its entry's own unit.
    Formats 1 to 3 kept what calculators worked out among the readings. What is asked under another name
    than before is found under the new one.

    Examples
    --------
    >>> kept = as_kept_now({"readings": {"bore": {"text": "3.15"}, "bore.unit": {"text": "in"}}})
    >>> kept.job["readings"], kept.unsaid
    ({'bore': {'text': '3.15', 'unit': 'in'}}, ())
    >>> kept = as_kept_now({"readings": {"bore": {"text": "80"}, "ratio.1": {"text": "7.6", "from": "torque-stages"}}})
    >>> kept.job["readings"], kept.unsaid, kept.results
    ({'bore': {'text': '80', 'unit': 'mm'}}, ('Bore',), 1)
    """
    readings = job.get("readings", {})
    found: dict[str, Any] = {}
    unsaid = []
    results = 0
    for path, reading in readings.items():
        if path.endswith(".unit"):
            continue
        if is_result(reading):
            results += 1
            continue
        column, _, row = path.rpartition(".")
        chosen = readings.get(f"{path}.unit") or (readings.get(f"{column}.unit") if row.isdigit() else None)
        called = named(path)
        if "unit" in reading:
            found[path] = reading
        elif chosen:
            found[path] = {**reading, "unit": chosen["text"]}
        elif lacks_unit(reading["text"], called.unit):
            found[path] = {**reading, "unit": called.unit}
            unsaid.append(called.label)
        else:
            found[path] = reading
    for before, now in RENAMED.items():
        if before in found:
            found.setdefault(now, found.pop(before))
    return KeptNow({**job, "readings": found} if readings else dict(job), tuple(unsaid), results)


def taken_in(job: Mapping[str, Any]) -> dict[str, Any]:
    """Return a job from outside as it can be merged with one that is kept here.

    Returns
    -------
    dict
        ``job``; ``unsaid``: the names of the numbers that are taken in the unit of their entry, for the file says
        none; ``left``: what was left out and why, one sentence each; ``results``: how many were dropped that
        calculators of a former edition had worked out.
    """
    kept = as_kept_now(job)
    whole, left = kept.job, []
    if found := own_card_faults(whole):
        left.append(f"its engine card has a mistake: {found[0].message}")
        del whole["card"]
    if aside := whole.get("cards_aside"):
        whole["cards_aside"] = [card for card in aside if not own_card_faults({"card": card})]
        if len(whole["cards_aside"]) < len(aside):
            left.append("an engine card that was laid aside has a mistake")
    return {"job": whole, "unsaid": kept.unsaid, "left": left, "results": kept.results}
