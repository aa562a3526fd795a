"""Job files: read, checked, and put as this edition keeps a job."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from calculators._card.checking import Fault, faults
from calculators._errors import JobError
from calculators._job.readings import asked_by, lacks_unit

SCHEMA_PATH = Path(__file__).with_name("job.schema.json")
LARGEST = 20_000_000
"""Bytes of a file that is opened; a job of a thousand readings has a twentieth of that."""


def read_jobs(path: Path) -> list[dict[str, Any]]:
    """Read and check an exported file of any format; each job as ``with_units`` puts it.

    Raises
    ------
    JobError
        One line a fault: where, what is wrong, and what would be right.
    """
    if not path.is_file():
        raise JobError(f"{path}: there is no such file")
    if path.stat().st_size > LARGEST:
        raise JobError(f"{path}: the file is larger than {LARGEST // 1_000_000} MB, which no job is")
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
    except (ValueError, RecursionError) as error:
        raise JobError(f"{path}: this is not a job file: {' '.join(str(error).split())}") from None
    found = list(job_faults(data))
    if found:
        raise JobError("\n".join(f"{path}: {fault}" for fault in found))
    return [with_units(job)[0] for job in data["jobs"]]


def job_faults(data: Any) -> Iterator[str]:
    """Yield what is wrong with an exported file's tree, one sentence a fault."""
    import jsonschema

    schema = json.loads(SCHEMA_PATH.read_text(encoding="utf-8"))
    for error in sorted(jsonschema.Draft202012Validator(schema).iter_errors(data), key=lambda error: error.json_path):
        message = error.message if len(error.message) <= 200 else f"{error.message[:100]}…{error.message[-100:]}"
        yield f"{error.json_path.removeprefix('$').lstrip('.') or 'the file'}: {message}"
    if not isinstance(data, Mapping) or not isinstance(data.get("jobs"), list):
        return
    ids = [job.get("id") for job in data["jobs"] if isinstance(job, Mapping)]
    if len(set(map(str, ids))) != len(ids):
        yield "jobs: two jobs have one id; each must have its own"
    for index, job in enumerate(data["jobs"]):
        for fault in own_card_faults(job):
            yield f"jobs[{index}].card.data: {fault.message}"


def own_card_faults(job: Any) -> list[Fault]:
    """Return what is wrong with the card that a job has of its own."""
    card = job.get("card") if isinstance(job, Mapping) else None
    return list(faults(card["data"])) if isinstance(card, Mapping) and "data" in card else []


def with_units(job: Mapping[str, Any]) -> tuple[dict[str, Any], tuple[str, ...]]:
    """Return a job with each number's unit beside it, and what those are called whose unit the file does not say.

    Parameters
    ----------
    job : mapping
        As the schema has it, of any format.

    Notes
    -----
    Formats 1 and 2 kept the unit that was chosen for a box or a column as a reading of
    its own, and none where nobody chose one; such a number is in its field's own unit.

    Examples
    --------
    >>> job, unsaid = with_units({"readings": {"bore": {"text": "3.15"}, "bore.unit": {"text": "in"}}})
    >>> job["readings"], unsaid
    ({'bore': {'text': '3.15', 'unit': 'in'}}, ())
    >>> with_units({"readings": {"bore": {"text": "80"}}})
    ({'readings': {'bore': {'text': '80', 'unit': 'mm'}}}, ('Bore',))
    """
    readings = job.get("readings", {})
    found: dict[str, Any] = {}
    unsaid = []
    for path, reading in readings.items():
        if path.endswith(".unit"):
            continue
        column, _, row = path.rpartition(".")
        chosen = readings.get(f"{path}.unit") or (readings.get(f"{column}.unit") if row.isdigit() else None)
        _, label, field = asked_by(path)
        if "unit" in reading:
            found[path] = reading
        elif chosen:
            found[path] = {**reading, "unit": chosen["text"]}
        elif field and lacks_unit(reading["text"], field):
            found[path] = {**reading, "unit": field.own_unit}
            unsaid.append(label)
        else:
            found[path] = reading
    return ({**job, "readings": found} if readings else dict(job)), tuple(unsaid)


def taken_in(job: Mapping[str, Any]) -> dict[str, Any]:
    """Return a job from outside as it can be merged with one that is kept here.

    Returns
    -------
    dict
        ``job``; ``unsaid``: the names of the numbers that are taken in the unit of their field, for the file says
        none; ``left``: what was left out and why, one sentence each.
    """
    whole, unsaid = with_units(job)
    left = []
    if found := own_card_faults(whole):
        left.append(f"its engine card has a mistake: {found[0].message}")
        del whole["card"]
    if aside := whole.get("cards_aside"):
        whole["cards_aside"] = [card for card in aside if not own_card_faults({"card": card})]
        if len(whole["cards_aside"]) < len(aside):
            left.append("an engine card that was laid aside has a mistake")
    return {"job": whole, "unsaid": unsaid, "left": left}
