"""Job files: read and checked, and two copies of one job made into one."""

from __future__ import annotations

import copy
import io
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from calculators._card.checking import Fault, faults
from calculators._errors import JobError
from calculators._files import Unreadable, content, text_of

SCHEMA_PATH = Path(__file__).with_name("job.schema.json")
LARGEST = 20_000_000
"""Bytes of a file that is opened; a job of a thousand readings has a twentieth of that."""
_ARCHIVE = 500_000_000
"""Bytes of an archive that is opened: photographs lie in it."""
_IN_ARCHIVE = "jobs.json"
LISTS = ("decisions", "parts", "tags", "notes", "checks", "photographs")


def read_jobs(path: Path) -> list[dict[str, Any]]:
    """Read and check an exported file.

    Raises
    ------
    JobError
        One line a fault: where, what is wrong, and what would be right.
    """
    data = job_tree(path)
    found = list(job_faults(data))
    if found:
        raise JobError("\n".join(f"{path}: {fault}" for fault in found))
    jobs: list[dict[str, Any]] = data["jobs"]
    return jobs


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
    raise ValueError(f"{text} is no number")


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
            return f"{error.instance} is no time that the calendar has"
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


def merged(mine: Mapping[str, Any], theirs: Mapping[str, Any]) -> dict[str, Any]:
    """Return one job out of two copies: of each entry the newer one, and nothing that was taken out later.

    Parameters
    ----------
    mine, theirs : mapping
        Jobs of one id, as the schema has them.

    Notes
    -----
    Which copy is called mine makes no difference. Entries of one time that differ are
    taken by their text, so that both sides come to the same.
    """
    older, newer = sorted((mine, theirs), key=lambda job: (job["changed"], json.dumps(job, sort_keys=True)))
    whole: dict[str, Any] = {
        "id": newer["id"],
        "made": min(older["made"], newer["made"]),
        "changed": newer["changed"],
    }
    gone = _newest(older.get("gone", {}), newer.get("gone", {}), lambda when: when)
    about = max((older, newer), key=lambda job: (job.get("about_when", ""), json.dumps(job.get("about", {}))))
    if about.get("about"):
        whole |= {"about": about["about"]} | ({"about_when": about["about_when"]} if "about_when" in about else {})
    cards = [job["card"] for job in (older, newer) if "card" in job]
    if cards:
        whole["card"] = max(cards, key=lambda card: (card.get("when", ""), json.dumps(card, sort_keys=True)))
    whole["readings"] = _kept(_newest(older.get("readings", {}), newer.get("readings", {}), _when), gone, "readings")
    walks = {**older.get("ticks", {}), **newer.get("ticks", {})}
    whole["ticks"] = {
        walk: _kept(
            _newest(older.get("ticks", {}).get(walk, {}), newer.get("ticks", {}).get(walk, {}), _when),
            gone,
            f"ticks {walk}",
        )
        for walk in walks
    }
    whole["clocks"] = {**older.get("clocks", {}), **newer.get("clocks", {})}
    for name in LISTS:
        entries = _newest(_by_id(older.get(name, ())), _by_id(newer.get(name, ())), _when)
        whole[name] = sorted(_kept(entries, gone, name).values(), key=lambda entry: (entry["when"], entry["id"]))
    whole["gone"] = gone
    return copy.deepcopy(whole)


def difference(mine: Mapping[str, Any] | None, theirs: Mapping[str, Any]) -> dict[str, int]:
    """Return what taking a copy in would do to mine: how many entries are new, newer, or left as they are.

    Parameters
    ----------
    mine : mapping, optional
        None where the job is not known here.
    """
    counts = {"new": 0, "newer": 0, "kept": 0}
    whole = merged(mine, theirs) if mine else dict(theirs)
    before = dict(_entries(mine or {}))
    after = dict(_entries(whole))
    for key, entry in _entries(theirs):
        if key not in before:
            counts["new"] += int(key in after)
            counts["kept"] += int(key not in after)
        else:
            changed = after.get(key) != before[key] and after.get(key) == entry
            counts["newer" if changed else "kept"] += 1
    return counts


def _entries(job: Mapping[str, Any]) -> Iterator[tuple[tuple[str, str], Any]]:
    for path, reading in job.get("readings", {}).items():
        yield ("readings", path), reading
    for walk, ticks in job.get("ticks", {}).items():
        for step, tick in ticks.items():
            yield (f"ticks {walk}", step), tick
    for name in LISTS:
        for entry in job.get(name, ()):
            yield (name, entry["id"]), entry


def _when(entry: Mapping[str, Any]) -> str:
    return max(str(entry["when"]), str(entry.get("corrected", "")))


def _by_id(entries: Any) -> dict[str, Any]:
    return {entry["id"]: entry for entry in entries}


def _newest(one: Mapping[str, Any], other: Mapping[str, Any], when: Any) -> dict[str, Any]:
    """Return of each key the newer entry."""
    both = dict(one)
    for key, entry in other.items():
        rank = (when(entry), json.dumps(entry, sort_keys=True))
        if key not in both or rank > (when(both[key]), json.dumps(both[key], sort_keys=True)):
            both[key] = entry
    return dict(sorted(both.items()))


def _kept(entries: Mapping[str, Any], gone: Mapping[str, str], kind: str) -> dict[str, Any]:
    """Return the entries that were not taken out after they were made."""
    return {key: entry for key, entry in entries.items() if gone.get(f"{kind} {key}", "") < _when(entry)}
