"""List what ships in the built site: each component with its version and licence, as CycloneDX.

CycloneDX's own tools read the packages (``cyclonedx-py``, ``cyclonedx-npm``) and its own library
writes the list. Here is only chosen what ships: they see all that is installed for the build.
"""

from __future__ import annotations

import importlib.metadata
import json
import subprocess
import sys
import tempfile
import uuid
import venv
import zipfile
from datetime import UTC, datetime
from pathlib import Path

from cyclonedx.model.bom import Bom
from cyclonedx.model.component import Component, ComponentType
from cyclonedx.model.license import DisjunctiveLicense, LicenseAcknowledgement
from cyclonedx.output.json import JsonV1Dot6
from cyclonedx.schema import SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator

ROOT = Path(__file__).resolve().parent.parent
_THEME = "mkdocs-material"
_OWN = "calculators"
_NPM_TOOL = ROOT / "build" / "components" / "node_modules" / ".bin" / "cyclonedx-npm"
_LICENCE_NAMES = ("licen", "copying", "notice", "authors")
_LICENCES = Path(__file__).with_name("components")


def component_list(site: Path, version: str, moment: int) -> bytes:
    """Return the list of components, as CycloneDX 1.6 JSON.

    Parameters
    ----------
    site : Path
        The built site; the Python packages are those whose wheels lie in it.
    version : str
        Of the book.
    moment : int, [s]
        The edition's date, in seconds since 1970, UTC.

    Raises
    ------
    RuntimeError
        A tool failed, no wheel lies in the site, or the list breaks the standard's schema.
    """
    python, javascript = _python(site), _javascript()
    dependencies = _npm_dependencies()  # what those need in turn serves them in Node alone
    shipped = [
        *(_plain(one) for one in python.components if one.name != _OWN),
        *(_plain(one) for one in javascript.components if _full_name(one) in dependencies),
        _interpreter(),
    ]
    book = Component(
        name="top-end-bench-book",
        version=version,
        type=ComponentType.APPLICATION,
        bom_ref="top-end-bench-book",
        licenses=[DisjunctiveLicense(id="MIT", acknowledgement=LicenseAcknowledgement.DECLARED)],
    )
    bom = Bom(components=shipped)
    bom.metadata.component = book
    bom.metadata.tools.components = [
        _plain(tool)
        for listed in (python, javascript)
        for tool in listed.metadata.tools.components
        if tool.name != "npm"  # whichever is installed: it only answered
    ]
    bom.metadata.timestamp = datetime.fromtimestamp(moment, UTC)
    bom.serial_number = uuid.uuid5(uuid.NAMESPACE_OID, " ".join(sorted(str(one.bom_ref) for one in shipped)))
    bom.register_dependency(book, shipped)
    text = JsonV1Dot6(bom).output_as_string(indent=2)
    fault = JsonStrictValidator(SchemaVersion.V1_6).validate_str(text)
    if fault:
        raise RuntimeError(f"the list of components breaks its schema: {fault}")
    return f"{text}\n".encode()


def licence_texts(site: Path) -> dict[str, bytes]:
    """Return the licence texts of what ships, by file name: what packages bring, and what is kept here for the rest."""
    texts = {path.name: path.read_bytes() for path in sorted(_LICENCES.glob("*.txt"))}
    packages = _metadata(site)
    for name in _npm_dependencies():
        folder = ROOT / "node_modules" / name
        packages[name.removeprefix("@").replace("/", "-")] = {
            path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()
        }
    for package, files in packages.items():
        for file, content in sorted(files.items()):
            if Path(file).name.lower().startswith(_LICENCE_NAMES):
                texts[f"{package}-{Path(file).stem}.txt"] = content
    for path in importlib.metadata.distribution(_THEME).files or ():
        if ".icons" in path.parts and path.stem == "LICENSE":
            texts[f"{_THEME}-icons-{path.parent.name}.txt"] = Path(str(path.locate())).read_bytes()
    return texts


def _python(site: Path) -> Bom:
    """List the Python packages in the site, as ``cyclonedx-py`` reads them from an environment of just those."""
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, symlinks=True)
        packages = next(Path(folder).glob("lib/python*/site-packages"))
        for files in _metadata(site).values():
            for name, content in files.items():
                place = packages / name
                place.parent.mkdir(parents=True, exist_ok=True)
                place.write_bytes(content)
        tool = str(Path(sys.executable).with_name("cyclonedx-py"))
        return _run(tool, "environment", "--output-reproducible", f"{folder}/bin/python")


def _javascript() -> Bom:
    """List the npm packages of the lock, without those that only serve to build or test."""
    options = ("--package-lock-only", "--omit", "dev", "--output-reproducible", "--no-validate")
    return _run(str(_NPM_TOOL), *options, "package.json")


def _full_name(component: Component) -> str:
    """Return a package's name with its scope, as npm writes it."""
    return f"{component.group}/{component.name}" if component.group else str(component.name)


def _npm_dependencies() -> list[str]:
    return list(json.loads((ROOT / "package.json").read_text(encoding="utf-8"))["dependencies"])


def _interpreter() -> Component:
    """Return the Python inside the runtime, which no package names."""
    runtime = json.loads((ROOT / "node_modules" / "pyodide" / "pyodide-lock.json").read_text(encoding="utf-8"))
    version = runtime["info"]["python"]
    return Component(
        name="cpython",
        version=version,
        type=ComponentType.PLATFORM,
        bom_ref=f"cpython@{version}",
        description="The Python interpreter and its standard library, compiled to WebAssembly",
        licenses=[DisjunctiveLicense(id="PSF-2.0", acknowledgement=LicenseAcknowledgement.DECLARED)],
    )


def _metadata(site: Path) -> dict[str, dict[str, bytes]]:
    """Return the metadata files of every Python package that ships, from its wheel; the theme's from the install."""
    found = {}
    for wheel in sorted(site.rglob("*.whl")):
        with zipfile.ZipFile(wheel) as archive:
            names = [name for name in archive.namelist() if ".dist-info/" in name and not name.endswith("/")]
            found[wheel.name.partition("-")[0]] = {name: archive.read(name) for name in names}
    if not found:
        raise RuntimeError(f"no wheel lies in {site}")
    theme = importlib.metadata.distribution(_THEME).files or ()
    kept = [
        path for path in theme if ".dist-info" in str(path) and path.name not in ("INSTALLER", "RECORD", "REQUESTED")
    ]
    return found | {_THEME: {path.as_posix(): Path(str(path.locate())).read_bytes() for path in kept}}


def _run(*command: str) -> Bom:
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(f"{Path(command[0]).name} failed:\n{done.stderr}")
    listed: Bom = Bom.from_json(json.loads(done.stdout))  # type: ignore[attr-defined]
    return listed


def _plain(found: Component) -> Component:
    """Keep what a component is and drop where it was met: no host, no path, nothing that differs between machines."""
    return Component(
        name=found.name,
        group=found.group,
        version=found.version,
        bom_ref=f"{found.name}@{found.version}",
        description=found.description,
        purl=found.purl,
        licenses=found.licenses,
    )
