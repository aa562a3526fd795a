"""Job files: read and checked, and two copies of one job made into one."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from calculators._card.checking import Fault, faults
from calculators._errors import JobError

SCHEMA_PATH = Path(__file__).with_name("job.schema.json")
LARGEST = 20_000_000
"""Bytes of a file that is opened; a job of a thousand readings has a twentieth of that."""
LISTS = ("decisions", "parts", "tags", "notes", "checks", "photographs")


def read_jobs(path: Path) -> list[dict[str, Any]]:
    """Read and check an exported file.

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
    jobs: list[dict[str, Any]] = data["jobs"]
    return jobs


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
