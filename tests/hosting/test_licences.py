"""Nothing ships without its licence text: what is bundled is found in the bundles; one that lacks stops the pack."""

from __future__ import annotations

import json
import shutil
import zipfile
from pathlib import Path

import material
import pytest

from scripts import licences
from scripts.licences import LICENCES, bundled, left_out, licence_texts

THEME = Path(material.__file__).parent / "templates" / "assets"


@pytest.fixture
def site(tmp_path):
    """Return a site of the theme's own files and one wheel, as a build puts them."""
    shutil.copytree(THEME / "javascripts", tmp_path / "assets/javascripts")
    shutil.copytree(THEME / "stylesheets", tmp_path / "assets/stylesheets")
    speak(tmp_path, "en")
    with zipfile.ZipFile(tmp_path / "pint-1.0-py3-none-any.whl", "w") as wheel:
        wheel.writestr("pint-1.0.dist-info/LICENSE", "A licence.")
    return tmp_path


def speak(site, *languages):
    (site / "search").mkdir(exist_ok=True)
    (site / "search/search_index.json").write_text(json.dumps({"config": {"lang": languages}}), encoding="utf-8")


@pytest.fixture
def kept(tmp_path, monkeypatch):
    """Return a copy of the folder of texts, to take some out."""
    folder = tmp_path / "kept"
    shutil.copytree(licences.KEPT, folder)
    monkeypatch.setattr(licences, "KEPT", folder)
    return folder


def test_finds_what_the_theme_and_the_runtime_have_in_them(site):
    names = {name for name, _ in bundled(site)}
    # read by eye in the bundles' source maps, and by strings(1) in the runtime
    assert {"rxjs", "lunr", "clipboard", "escape-html", "focus-visible", "tslib"} <= names
    assert {"zlib", "bzip2", "libmpdec", "expat"} <= names


def test_each_has_a_text_and_a_licence_by_its_name(site):
    texts = licence_texts(site)
    for name, _ in bundled(site):
        assert len(texts[f"{name}.txt"]) > 500
        assert name in LICENCES or name.startswith("cpython")
    assert texts["pint-LICENSE.txt"] == b"A licence."


def test_no_text_is_kept_for_what_does_not_ship(site):
    ship = {name for name, _ in bundled(site)} | {"cfworker-json-schema", "pyodide"}
    assert {path.stem for path in licences.KEPT.glob("*.txt")} == ship
    assert set(LICENCES) == {name for name, _ in bundled(site) if not name.startswith("cpython")}


@pytest.mark.parametrize("name", sorted({*LICENCES, "cpython", "cpython-parts", "cfworker-json-schema", "pyodide"}))
def test_a_library_without_a_text_stops_the_pack(site, kept, name):
    (kept / f"{name}.txt").unlink()
    with pytest.raises(RuntimeError, match=rf"no licence text for @?{name.replace('-', '[-/]')}, in "):
        licence_texts(site)


def test_a_package_without_a_text_stops_the_pack(site):
    with zipfile.ZipFile(site / "other-1.0-py3-none-any.whl", "w") as wheel:
        wheel.writestr("other-1.0.dist-info/METADATA", "Name: other")
    with pytest.raises(RuntimeError, match="no licence text for other, in the site's packages"):
        licence_texts(site)


@pytest.mark.parametrize(
    ("file", "content"),
    [
        ("assets/javascripts/new.min.js.map", json.dumps({"sources": ["../node_modules/@some/library/index.js"]})),
        ("assets/stylesheets/new.min.css", "/*! some-library v1.2 | (c) Somebody */ a{}"),
    ],
)
def test_a_library_that_a_later_theme_brings_along_stops_the_pack(site, file, content):
    (site / file).write_text(content, encoding="utf-8")
    with pytest.raises(RuntimeError, match=r"no licence text for @?some[-/]library, in assets/"):
        licence_texts(site)


def test_a_bundle_that_does_not_say_what_is_in_it_stops_the_pack(site):
    next(site.glob("assets/javascripts/bundle.*.map")).unlink()
    with pytest.raises(RuntimeError, match=r"bundle\..*\.min\.js has no source map"):
        licence_texts(site)


def test_a_notice_of_copyright_in_the_runtime_that_nobody_knows_stops_the_pack(site, tmp_path, monkeypatch):
    runtime = tmp_path / "some.wasm"
    runtime.write_bytes(b"\0asm inflate 1.3.1 Copyright 1995-2024 Mark Adler \0 Copyright (c) 2031 Somebody Else \0")
    assert [name for name, _ in bundled(site, runtime)][-2:] == [
        "zlib",
        "the owner of 'Copyright (c) 2031 Somebody Else'",
    ]
    monkeypatch.setattr(licences, "bundled", lambda site: bundled(site, runtime))
    with pytest.raises(RuntimeError, match="no licence text for the owner of 'Copyright"):
        licence_texts(site)


def test_the_search_s_other_languages_stay_behind_and_stop_the_pack_where_they_are_needed(site):
    assert left_out(site, "assets/javascripts/lunr/wordcut.js")
    assert not left_out(site, "assets/javascripts/workers/search.js")
    speak(site, "en", "de")
    with pytest.raises(RuntimeError, match="assets/javascripts/lunr/ is needed"):
        left_out(site, "assets/javascripts/lunr/wordcut.js")
