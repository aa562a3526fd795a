"""Make the Python that runs in the reader's browser: runtime, standard library and wheels, byte-compiled.

Everything comes from what the hash-locked installs put here: the npm package ``pyodide`` and the
virtual environment. Nothing is fetched. The result is one folder that the site serves as it is.
"""

from __future__ import annotations

import hashlib
import importlib.metadata
import json
import re
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
RUNTIME = ROOT / "node_modules" / "pyodide"
BUILD = ROOT / "build"
OUTPUT = BUILD / "python"
_RUNTIME_FILES = ("pyodide.mjs", "pyodide.asm.js", "pyodide.asm.wasm", "python_stdlib.zip")
_OWN = "calculators"
_LONG_AGO = (2020, 1, 1, 0, 0, 0)


def build() -> Path:
    """Make the folder, unless it is there already and made of the same things, and return it.

    Raises
    ------
    FileNotFoundError
        The npm packages are not installed.
    """
    packages = {name: _wheel(name) for name in _needed(_OWN)}
    runtime = {name: (RUNTIME / name).read_bytes() for name in _RUNTIME_FILES}
    wanted = hashlib.sha256(Path(__file__).read_bytes() + sys.version.encode())
    for content in (*runtime.values(), *(wheel.read_bytes() for wheel in packages.values())):
        wanted.update(hashlib.sha256(content).digest())
    stamp = BUILD / "python.made-of.txt"
    if OUTPUT.is_dir() and stamp.is_file() and stamp.read_text() == wanted.hexdigest():
        return OUTPUT
    shutil.rmtree(OUTPUT, ignore_errors=True)
    OUTPUT.mkdir(parents=True)
    for name, content in runtime.items():
        (OUTPUT / name).write_bytes(content)
    wheels = [str(shutil.copy(wheel, OUTPUT)) for wheel in packages.values()]
    _write_lock(wheels)
    _pyodide("py-compile", "--silent", str(OUTPUT))
    stamp.write_text(wanted.hexdigest())
    return OUTPUT


def _needed(name: str) -> list[str]:
    """Return our package and all it needs at run time, each once."""
    found = [name]
    project = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    listed = re.search(r"^dependencies = (\[.*?\])", project, re.MULTILINE | re.DOTALL)
    waiting = json.loads(listed[1]) if listed else []
    while waiting:
        requirement = waiting.pop(0)
        if "extra ==" in requirement:
            continue
        package = re.split(r"[^\w.-]", requirement, maxsplit=1)[0]
        if package not in found:
            found.append(package)
            waiting += importlib.metadata.requires(package) or []
    return found


def _wheel(name: str) -> Path:
    """Pack a package as a pure wheel: ours from the source tree, others as they are installed."""
    if name == _OWN:
        version = re.search(r'__version__ = "(.+)"', (ROOT / _OWN / "__init__.py").read_text())
        number = version[1] if version else "0"
        files = dict(_own_files())
        files[f"{name}-{number}.dist-info/METADATA"] = (
            f"Metadata-Version: 2.1\nName: {name}\nVersion: {number}\n"
            + "".join(f"Requires-Dist: {other}\n" for other in _needed(name)[1:])
        ).encode()
    else:
        distribution = importlib.metadata.distribution(name)
        number = distribution.version
        files = {
            str(path): Path(str(path.locate())).read_bytes()
            for path in distribution.files or ()
            if path.suffix not in (".so", ".pyc", ".pyd", ".c")
            and not {"..", "bin", "testsuite"} & set(path.parts)
            and path.name not in ("RECORD", "INSTALLER", "REQUESTED", "direct_url.json", "WHEEL")
        }
    info = next(path.partition("/")[0] for path in files if ".dist-info/" in path)
    files[f"{info}/WHEEL"] = b"Wheel-Version: 1.0\nGenerator: bench\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
    files[f"{info}/RECORD"] = b"".join(f"{path},,\n".encode() for path in sorted(files)) + f"{info}/RECORD,,\n".encode()
    wheel = BUILD / "wheels" / f"{re.sub(r'[-_.]+', '_', name).lower()}-{number}-py3-none-any.whl"
    wheel.parent.mkdir(parents=True, exist_ok=True)
    with zipfile.ZipFile(wheel, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in sorted(files):
            archive.writestr(zipfile.ZipInfo(path, _LONG_AGO), files[path], zipfile.ZIP_DEFLATED)
    return wheel


def _own_files() -> Iterator[tuple[str, bytes]]:
    for path in sorted((ROOT / _OWN).rglob("*")):
        if path.is_file() and "__pycache__" not in path.parts and path.name != "__main__.py":
            yield path.relative_to(ROOT).as_posix(), path.read_bytes()


def _write_lock(wheels: list[str]) -> None:
    """Write the runtime's lock file: its own facts, and only our packages."""
    lock = OUTPUT / "pyodide-lock.json"
    facts = json.loads((RUNTIME / "pyodide-lock.json").read_text())
    lock.write_text(json.dumps(facts | {"packages": {}}))
    base, here = ("--input", str(lock), "--output", str(lock)), ("--base-path", str(OUTPUT))
    _pyodide("lockfile", "add-wheels", *wheels, *base, *here)


def _pyodide(*arguments: str) -> None:
    command = [str(Path(sys.executable).with_name("pyodide")), *arguments]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(f"pyodide {arguments[0]} failed:\n{done.stdout}{done.stderr}")


if __name__ == "__main__":
    print(build())
