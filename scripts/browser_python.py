"""Make the Python that runs in the reader's browser: runtime, standard library, wheels, and a memory snapshot.

Everything comes from what the hash-locked installs put here: the npm package ``pyodide`` and the
virtual environment. Nothing is fetched, and each file is held against ``browser_python.sha256``.
The result is one folder that the site serves as it is, the same bytes on every machine:

- ``runtime.bin``, ``snapshot.bin``: the wasm and the memory after all imports, gzip-compressed under
  a name that no server takes for something to decode. A start from these is the fast way.
- ``runtime.wasm``: the wasm as it is, for hosts that send it smaller than we pack it, by Brotli.
- ``torque.bin`` and the like: the code of what few pages ask for, which comes when it is asked for.
- the rest: what a stock start needs, for browsers in which the fast way fails.
"""

from __future__ import annotations

import argparse
import base64
import hashlib
import importlib.metadata
import importlib.util
import json
import os
import re
import shutil
import struct
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import deflate
from packaging.requirements import Requirement

from scripts.lean_runtime import MEMORY_BASE, Lean, lean

ROOT = Path(__file__).resolve().parent.parent
RUNTIME = ROOT / "node_modules" / "pyodide"
BUILD = ROOT / "build"
WATCH = "BENCH_WATCH" in os.environ
"""For whoever writes: our own code stands beside the others' as it was saved, and no memory is kept."""
OUTPUT = BUILD / ("python-watched" if WATCH else "python")
PARTS = BUILD / f"{OUTPUT.name}.parts.json"
HASHES = Path(__file__).with_suffix(".sha256")
_RUNTIME_FILES = ("pyodide.mjs", "pyodide.asm.js", "pyodide.asm.wasm", "python_stdlib.zip", "pyodide-lock.json")
_SNAPSHOT = Path(__file__).with_name("snapshot.mjs")
_USUAL = Path(__file__).with_name("usual_functions.txt")
_LEAN_RUNTIME = Path(__file__).with_name("lean_runtime.py")
_CLOSE_TOGETHER = Path(__file__).with_name("close_together.mjs")
_LEAN_CODE = Path(__file__).with_name("lean_code.py")
_FROZEN_WORLD = Path(__file__).with_name("frozen_world.mjs")
_OWN = "calculators"
_LEAN = ("-OO", "-X", "no_debug_ranges")
_LENGTH_OF_HEAD = 4
"""Where a snapshot says how much stands before its memory."""
_RESOLVED = "if(entry.value==0){var value=resolveGlobalSymbol(symName,true).sym;"
_RESOLVED_BUT_GRAPHICS = _RESOLVED.replace("==0", '==0&&!symName.startsWith("emscripten_gl")')
_LONG_AGO = (2020, 1, 1, 0, 0, 0)
_MAKINGS = 8
"""How often a memory is made, at the most, until all that stays lies together (three times, as a rule); if it never
does, the last has all together, what stays and what goes."""
_PAGE = 1 << 16
_MORE_OF_NOTHING = re.compile(rb"\0*")
_ROOM = 22 << 20
"""Bytes of memory to begin with: what is kept has 18 MiB, a room's answers take another half; beyond that, it grows."""


class TamperedError(Exception):
    """A file is not the one that ``browser_python.sha256`` names."""


def build() -> dict[str, Any]:
    """Make the folder ``OUTPUT``, unless it is there already and made of the same things.

    Returns
    -------
    dict
        ``runtime`` and ``snapshot`` (``file``, ``integrity``, inflated ``length``), ``shared``
        (what the snapshot leaves to the wasm file), and the lock file's ``info``.

    Raises
    ------
    TamperedError
        Naming the file.
    FileNotFoundError
        The npm packages are not installed.
    """
    runtime, packages = _ingredients()
    _check(runtime, packages)
    made_of = hashlib.sha256(importlib.util.MAGIC_NUMBER)
    ours = (_LEAN_CODE, _SNAPSHOT, _SNAPSHOT.with_suffix(".py"), _USUAL, _FROZEN_WORLD, _CLOSE_TOGETHER, _LEAN_RUNTIME)
    for path in (Path(__file__), *ours):
        made_of.update(path.read_bytes())
    own = packages.pop(_OWN) if WATCH else {}
    for part in (*map(_digest, runtime.values()), *map(_digest_of_files, packages.values())):
        made_of.update(part.encode())
    if OUTPUT.is_dir() and PARTS.is_file():
        parts: dict[str, Any] = json.loads(PARTS.read_text())
        if parts["made_of"] == made_of.hexdigest():
            return _with_own(parts, own) if WATCH else parts
    info = write_plain(OUTPUT)
    _without_graphics(OUTPUT / "pyodide.asm.js")
    _pyodide("py-compile", "--silent", str(OUTPUT))
    _lean_archives(OUTPUT)
    if WATCH:
        parts = {"made_of": made_of.hexdigest(), "info": info}
        PARTS.write_text(json.dumps(parts))
        return _with_own(parts, own)
    memory, said, later = _take_snapshot()
    reached = lean(runtime["pyodide.asm.wasm"], runtime["pyodide.asm.js"].decode(), said["modules"])
    place = _without_what_is_emptied(memory, reached)
    (OUTPUT / "runtime.bin").write_bytes(_compressed(reached.wasm))
    (OUTPUT / "runtime.wasm").write_bytes(reached.wasm)
    kept, gaps = _without_gaps(bytes(memory))
    (OUTPUT / "snapshot.bin").write_bytes(_compressed(kept))
    parts = {
        "made_of": made_of.hexdigest(),
        "info": info,
        "runtime": _part("runtime.bin", len(reached.wasm)),
        "plain": _part("runtime.wasm", len(reached.wasm)),
        "snapshot": _part("snapshot.bin", len(memory))
        | {"room": max(_ROOM, (len(memory) // _PAGE + 1) * _PAGE), "gaps": gaps},
        "shared": [reached.data, place, reached.length],
        "chain": said["chain"],
        "tables": said["tables"],
        "later": later,
        "modules": said["modules"],
    }
    PARTS.write_text(json.dumps(parts))
    return parts


def _with_own(parts: dict[str, Any], own: dict[str, bytes]) -> dict[str, Any]:
    """Put our own package as it was saved beside what was made of the others."""
    wheel = Path(_write_wheel(OUTPUT, _OWN, own))
    lock = OUTPUT / "pyodide-lock.json"
    facts = json.loads(lock.read_text())
    facts["packages"][_OWN] |= {"file_name": wheel.name, "sha256": _digest(wheel.read_bytes())}
    lock.write_text(json.dumps(facts))
    return parts


def write_plain(folder: Path) -> dict[str, Any]:
    """Write runtime, packages and lock file into a new folder just as they were published; return the lock's facts."""
    runtime, packages = _ingredients()
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    for name, content in runtime.items():
        (folder / name).write_bytes(content)
    return _write_lock(folder, [_write_wheel(folder, name, files) for name, files in packages.items()])


def _ingredients() -> tuple[dict[str, bytes], dict[str, dict[str, bytes]]]:
    runtime = {name: (RUNTIME / name).read_bytes() for name in _RUNTIME_FILES}
    return runtime, {name: _package(name) for name in _needed(_OWN)}


def _without_graphics(script: Path) -> None:
    """Let the script make no wasm function of each of its 253 for graphics: a worker has no canvas.

    Each is a module of its own, compiled and started one by one whenever Python starts.
    """
    text = script.read_text()
    if text.count(_RESOLVED) != 1:
        raise ValueError(f"{script.name} does not look up its functions as this expects")
    script.write_text(text.replace(_RESOLVED, _RESOLVED_BUT_GRAPHICS))


def _compressed(content: bytes) -> bytes:
    """Return gzip of the smallest kind that every browser inflates, with no date in it."""
    compressed = bytes(deflate.gzip_compress(content, 12))
    return compressed[:4] + bytes(4) + compressed[8:]


def _lean_archives(folder: Path) -> None:
    """Write each archive again, leaner and with one date (the compiler puts the hour it ran); note its hash."""
    archives = sorted((*folder.glob("*.whl"), *folder.glob("*.zip")))
    # In a process of its own: what is written depends on what else the writing process holds.
    subprocess.run([sys.executable, "-I", str(_LEAN_CODE), *map(str, archives)], check=True)
    lock = folder / "pyodide-lock.json"
    facts = json.loads(lock.read_text())
    for package in facts["packages"].values():
        package["sha256"] = _digest((folder / package["file_name"]).read_bytes())
    lock.write_text(json.dumps(facts))


def _part(name: str, length: int) -> dict[str, Any]:
    digest = hashlib.sha384((OUTPUT / name).read_bytes()).digest()
    return {"file": name, "integrity": f"sha384-{base64.b64encode(digest).decode()}", "length": length}


def _take_snapshot() -> tuple[bytearray, dict[str, Any], dict[str, Any]]:
    """Return the memory after all imports, what is said of it, and the parts of the code that come later."""
    memory, stays = OUTPUT / "snapshot.bin", OUTPUT / "stays"
    # Liftoff alone: what runs once is not worth V8's second, slower pass over the wasm.
    command = ["node", "--liftoff-only", "--import", str(_FROZEN_WORLD), *map(str, (_SNAPSHOT, OUTPUT, memory, stays))]
    environment = {name: value for name, value in os.environ.items() if name in ("PATH", "HOME", "LD_LIBRARY_PATH")}
    for making in range(_MAKINGS):
        if making == _MAKINGS - 1:
            stays.write_bytes(b"\1" * stays.stat().st_size)
        done = subprocess.run(command, capture_output=True, text=True, check=False, env=environment)
        if done.returncode:
            raise RuntimeError(f"the snapshot failed:\n{done.stderr[-1000:]}")
        if done.stdout:  # nothing that stays is left apart
            break
    stays.unlink()
    kept = bytearray(memory.read_bytes())
    later = {}
    for path in sorted(OUTPUT.glob("*.bin")):
        if path != memory:
            code = path.read_bytes()
            path.write_bytes(_compressed(code))
            later[path.stem] = _part(path.name, len(code))
    return kept, json.loads(done.stdout), later


def _without_what_is_emptied(snapshot: bytearray, reached: Lean) -> int:
    """Make the memory that goes with the lean runtime, less what that holds itself; return where its data lies.

    The memory begins with what the wasm puts there, and most of that never changes: the snapshot holds the difference.
    """
    head = struct.unpack_from("<I", snapshot, _LENGTH_OF_HEAD)[0]
    place: int = head + MEMORY_BASE
    for start, end in reached.emptied:
        snapshot[place + start : place + end] = bytes(end - start)
    _cut_off(snapshot, place, reached)
    wasm = reached.wasm[reached.data : reached.data + reached.length]
    held = snapshot[place : place + reached.length]
    difference = int.from_bytes(held, "little") ^ int.from_bytes(wasm, "little")
    snapshot[place : place + reached.length] = difference.to_bytes(reached.length, "little")
    return place


def _without_gaps(memory: bytes) -> tuple[bytes, list[tuple[int, int]]]:
    """Return a memory without its gaps, in which all is 0, and from where to where they are; it begins with none."""
    found, at, nothing = [], 0, bytes(_PAGE)
    while (start := memory.find(nothing, at)) >= 0:
        at = _MORE_OF_NOTHING.match(memory, start).end()  # type: ignore[union-attr]  # it matches even where there is none
        found.append((start, at))
    ends = [0, *(end for gap in found for end in gap), len(memory)]
    return b"".join(memory[start:end] for start, end in zip(ends[::2], ends[1::2], strict=True)), found


def _cut_off(snapshot: bytearray, place: int, reached: Lean) -> None:
    """Put in place of each module that is not there the entry of one that is: what is found first is taken."""
    (one, *_), entries = reached.kept, reached.cut_off.values()
    kept = snapshot[place + one : place + one + 8]
    for at in entries:
        entry = bytes(snapshot[place + at : place + at + 8])
        found = snapshot.find(entry)
        while found >= 0:  # the interpreter has a copy
            snapshot[found : found + 8] = kept
            found = snapshot.find(entry, found + 8)


def _check(runtime: dict[str, bytes], packages: dict[str, dict[str, bytes]]) -> None:
    """Hold every file that is not ours against the hashes kept in the repository."""
    named = {name: digest for digest, name in map(str.split, HASHES.read_text().splitlines())}
    for name, digest in _found(runtime, packages).items():
        if named.get(name) != digest:
            raise TamperedError(
                f"{name} is not the one that scripts/{HASHES.name} names. Install again by the locks "
                "(delete .venv and node_modules); after a change of dependencies run scripts/lock."
            )


def _found(runtime: dict[str, bytes], packages: dict[str, dict[str, bytes]]) -> dict[str, str]:
    files = {f"pyodide/{name}": _digest(content) for name, content in runtime.items()}
    return files | {name: _digest_of_files(content) for name, content in packages.items() if name != _OWN}


def record() -> None:
    """Write ``browser_python.sha256`` anew, from what is installed by the locks."""
    found = _found(*_ingredients())
    HASHES.write_text("".join(f"{digest}  {name}\n" for name, digest in sorted(found.items())))


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _digest_of_files(files: dict[str, bytes]) -> str:
    return _digest("".join(f"{_digest(content)}  {path}\n" for path, content in sorted(files.items())).encode())


def _needed(name: str) -> list[str]:
    """Return our package and all it needs at run time, each once."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    found, waiting = [name], list(project["dependencies"])
    while waiting:
        requirement = Requirement(waiting.pop(0))
        wanted = not requirement.marker or requirement.marker.evaluate({"extra": ""})
        if wanted and requirement.name not in found:
            found.append(requirement.name)
            waiting += importlib.metadata.requires(requirement.name) or []
    return found


def _package(name: str) -> dict[str, bytes]:
    """Return the pure-Python files of a package by path: ours from the source tree, others as they are installed."""
    if name == _OWN:
        version = re.search(r'__version__ = "(.+)"', (ROOT / _OWN / "__init__.py").read_text())
        number = version[1] if version else "0"
        needs = "".join(f"Requires-Dist: {other}\n" for other in _needed(name)[1:])
        metadata = f"Metadata-Version: 2.1\nName: {name}\nVersion: {number}\n{needs}"
        return dict(_own_files()) | {f"{name}-{number}.dist-info/METADATA": metadata.encode()}
    return {
        str(path): Path(str(path.locate())).read_bytes()
        for path in importlib.metadata.distribution(name).files or ()
        if path.suffix not in (".so", ".pyc", ".pyd", ".c")
        and not {"..", "bin", "testsuite"} & set(path.parts)
        and path.name not in ("RECORD", "INSTALLER", "REQUESTED", "direct_url.json", "WHEEL")
    }


def _write_wheel(folder: Path, name: str, files: dict[str, bytes]) -> str:
    """Pack files as a pure wheel into the folder and return its path."""
    info = next(path.partition("/")[0] for path in files if ".dist-info/" in path)
    number = info.removesuffix(".dist-info").rpartition("-")[2]
    wheel = folder / f"{re.sub(r'[-_.]+', '_', name).lower()}-{number}-py3-none-any.whl"
    record = "".join(f"{path},,\n" for path in (*sorted(files), f"{info}/WHEEL", f"{info}/RECORD"))
    more = {
        f"{info}/WHEEL": b"Wheel-Version: 1.0\nGenerator: bench\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
        f"{info}/RECORD": record.encode(),
    }
    with zipfile.ZipFile(wheel, "w", zipfile.ZIP_DEFLATED) as archive:
        for path, content in sorted((files | more).items()):
            archive.writestr(zipfile.ZipInfo(path, _LONG_AGO), content, zipfile.ZIP_DEFLATED)
    return str(wheel)


def _own_files() -> Iterator[tuple[str, bytes]]:
    for path in sorted((ROOT / _OWN).rglob("*")):
        if path.is_file() and "__pycache__" not in path.parts and path.name != "__main__.py" and not _comes_later(path):
            yield path.relative_to(ROOT).as_posix(), path.read_bytes()


def _comes_later(path: Path) -> bool:
    """Tell whether a file is of the drawings, which a page brings along when it draws one again."""
    return "drawings" in path.relative_to(ROOT / _OWN).parts


def _write_lock(folder: Path, wheels: list[str]) -> dict[str, Any]:
    """Write the runtime's lock file, with its own facts and only our packages, and return the facts."""
    lock = folder / "pyodide-lock.json"
    facts = json.loads(lock.read_text())
    lock.write_text(json.dumps(facts | {"packages": {}}))
    base, here = ("--input", str(lock), "--output", str(lock)), ("--base-path", str(folder))
    _pyodide("lockfile", "add-wheels", *wheels, *base, *here)
    info: dict[str, Any] = facts["info"]
    return info


def _pyodide(*arguments: str) -> None:
    command = [sys.executable, *_LEAN, str(Path(sys.executable).with_name("pyodide")), *arguments]
    # with a date set, compiled files say that they go by a hash: these are to be the same for a pack and for any build
    undated = {key: text for key, text in os.environ.items() if key != "SOURCE_DATE_EPOCH"}
    done = subprocess.run(command, env=undated, capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(f"pyodide {arguments[0]} failed:\n{done.stdout}{done.stderr}")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--record", action="store_true", help=record.__doc__)
    if parser.parse_args().record:
        record()
