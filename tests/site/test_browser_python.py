"""What the browser's Python is made of, held against the hashes that the repository names."""

from __future__ import annotations

import json
import re
import shutil

import pytest

from scripts import browser_python


@pytest.fixture
def workshop(tmp_path, monkeypatch):
    """A copy of the runtime to tamper with, and folders of its own to build into."""
    shutil.copytree(browser_python.RUNTIME, tmp_path / "pyodide")
    monkeypatch.setattr(browser_python, "RUNTIME", tmp_path / "pyodide")
    for name in ("BUILD", "OUTPUT", "PARTS"):
        monkeypatch.setattr(browser_python, name, tmp_path / name.lower())
    return tmp_path


@pytest.mark.parametrize("name", browser_python._RUNTIME_FILES)
def test_a_tampered_runtime_file_stops_the_build_with_its_name(workshop, name):
    path = workshop / "pyodide" / name
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 1
    path.write_bytes(content)
    with pytest.raises(browser_python.TamperedError, match=rf"^pyodide/{re.escape(name)} is not the one"):
        browser_python.build()
    assert not (workshop / "output").exists()


def test_a_tampered_package_stops_the_build_with_its_name(workshop, monkeypatch):
    honest = browser_python._package

    def tampered(name):
        files = honest(name)
        return files | {"pint/__init__.py": files["pint/__init__.py"] + b"# more"} if name == "pint" else files

    monkeypatch.setattr(browser_python, "_package", tampered)
    with pytest.raises(browser_python.TamperedError, match=r"^pint is not the one"):
        browser_python.build()


def test_every_file_that_is_not_ours_is_named(site):
    named = {line.split()[1] for line in browser_python.HASHES.read_text().splitlines()}
    lock = json.loads((browser_python.OUTPUT / "pyodide-lock.json").read_text())
    assert {name.lower() for name in named if "/" not in name} == set(lock["packages"]) - {"calculators"}
    assert {name for name in named if "/" in name} == {f"pyodide/{name}" for name in browser_python._RUNTIME_FILES}
