"""List what ships in the built site: each component with its version and licence, as CycloneDX.

CycloneDX's own tool reads the Python packages, and its own library writes the list. What else ships
says itself what it is: npm's packages, and the libraries that lie in the theme's bundles and in the runtime.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import uuid
import venv
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from cyclonedx.model.bom import Bom
from cyclonedx.model.component import Component, ComponentType
from cyclonedx.model.license import DisjunctiveLicense, LicenseAcknowledgement, LicenseExpression
from cyclonedx.output.json import JsonV1Dot6
from cyclonedx.schema import SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator
from packageurl import PackageURL

from scripts.licences import LICENCES, bundled, npm_dependencies, packages

ROOT = Path(__file__).resolve().parent.parent


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
    python = _python(site)
    shipped = [
        *(_plain(one) for one in python.components),
        *_javascript(),
        *_bundled(site),
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
    bom.metadata.tools.components = [_plain(tool) for tool in python.metadata.tools.components]
    bom.metadata.timestamp = datetime.fromtimestamp(moment, UTC)
    bom.serial_number = uuid.uuid5(uuid.NAMESPACE_OID, " ".join(sorted(str(one.bom_ref) for one in shipped)))
    bom.register_dependency(book, shipped)
    text = JsonV1Dot6(bom).output_as_string(indent=2)
    fault = JsonStrictValidator(SchemaVersion.V1_6).validate_str(text)
    if fault:
        raise RuntimeError(f"the list of components breaks its schema: {fault}")
    return f"{text}\n".encode()


def _python(site: Path) -> Bom:
    """List the Python packages in the site, as ``cyclonedx-py`` reads them from an environment of just those."""
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, symlinks=True)
        installed = next(Path(folder).glob("lib/python*/site-packages"))
        for files in packages(site).values():
            for name, content in files.items():
                if ".dist-info/" not in name:  # an npm package's
                    continue
                place = installed / name
                place.parent.mkdir(parents=True, exist_ok=True)
                place.write_bytes(content)
        tool = str(Path(sys.executable).with_name("cyclonedx-py"))
        return _run(tool, "environment", "--output-reproducible", f"{folder}/bin/python")


def _javascript() -> list[Component]:
    """List the npm packages that ship, as each says of itself what it is."""
    listed = []
    for name in npm_dependencies():
        said = json.loads((ROOT / "node_modules" / name / "package.json").read_text(encoding="utf-8"))
        scope, _, plain = name.rpartition("/")
        listed.append(
            Component(
                name=plain,
                group=scope or None,
                version=said["version"],
                bom_ref=f"{name}@{said['version']}",
                description=said.get("description"),
                purl=PackageURL("npm", scope or None, plain, said["version"]),
                licenses=[_declared(said["license"])],
            )
        )
    return listed


def _bundled(site: Path) -> list[Component]:
    """List the libraries inside the theme's bundles and the runtime, each with the file that it lies in."""
    places: dict[str, str] = {}
    for name, where in bundled(site):
        places.setdefault(name, where)
    return [
        Component(
            name=name,
            version=f"as in {Path(where).name}",
            bom_ref=f"{name}@{where}",
            licenses=[_declared(LICENCES[name])],
        )
        for name, where in places.items()
        if name not in ("cpython", "cpython-parts")  # the interpreter is listed by itself
    ]


def _declared(licence: str) -> Any:
    """Return a licence as the standard has it: one that its list knows, or an expression of several."""
    if " " in licence:
        return LicenseExpression(licence, acknowledgement=LicenseAcknowledgement.DECLARED)
    return DisjunctiveLicense(id=licence, acknowledgement=LicenseAcknowledgement.DECLARED)


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
