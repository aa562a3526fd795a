"""The licence texts of all that ships. What is bundled is read from the bundles; one without a text stops the pack.

A package brings its own text. For a library that came inside something else, and for a package
without a text, it is kept in the folder ``licences`` beside this file, by the library's name.
"""

from __future__ import annotations

import importlib.metadata
import json
import re
import zipfile
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
KEPT = Path(__file__).with_name("licences")
THEME = "mkdocs-material"
SEARCH_LANGUAGES = "assets/javascripts/lunr/"
"""What the theme's search loads for other languages than English; a site in English alone does without."""
_RUNTIME = ROOT / "node_modules" / "pyodide" / "pyodide.asm.wasm"
_LICENCE_NAMES = ("licen", "copying", "notice", "authors")
_IN_MAP = re.compile(r"(?:^|/)node_modules/((?:@[^/]+/)?[^/]+)/")
_NOTICE = re.compile(
    rb"/\*[!*]\s*\**\s*([A-Za-z][\w.-]*?)(?:\.js)?\s[^/]*?(?:copyright|\(c\)|licen[sc]e|lunrjs)", re.IGNORECASE
)
_IN_WASM = {
    "zlib": rb"inflate \d[\d.]* Copyright",
    "bzip2": rb"bzip2/libbzip2",
    "libmpdec": rb"libmpdec",
    "expat": rb"expat_\d",
    "hacl-star": rb"Hacl_",
    "blake2": rb"BLAKE2B",
    "libffi": rb"ffi_call",
    "mimalloc": rb"mimalloc: ",
    "emscripten": rb"emscripten",
    "musl": rb"Value too large for data type|No error information",
    "llvm": rb"__cxa_",
}
"""Libraries inside the runtime, each by what it leaves in a binary."""
_OWNERS = {
    b"Mark Adler": "zlib",
    b"Secret Labs": "cpython-parts",
    b"Corporation for National Research": "cpython",
    b"Copyright CNRI": "cpython",
    b"Stichting Mathematisch": "cpython",
    b"BeOpen": "cpython",
    b"Python Software Foundation": "cpython",
}
"""Whose notices of copyright stand in the runtime, and in which text."""
_WASM_NOTICE = re.compile(
    rb"[\x20-\x7e]{0,60}(?:[Cc]opyright (?:\([Cc]\) )?\d{4}|\([Cc]\) [Cc]opyright)[\x20-\x7e]{0,60}"
)


LICENCES = {
    "blake2": "CC0-1.0",
    "bzip2": "bzip2-1.0.6",
    "clipboard": "MIT",
    "emscripten": "MIT",
    "escape-html": "MIT",
    "expat": "MIT",
    "focus-visible": "W3C-20150513",
    "hacl-star": "MIT",
    "libffi": "MIT",
    "libmpdec": "BSD-2-Clause",
    "llvm": "Apache-2.0 WITH LLVM-exception",
    "lunr": "MIT",
    "material-design-color": "MIT",
    "mimalloc": "MIT",
    "musl": "MIT",
    "rxjs": "Apache-2.0",
    "tslib": "0BSD",
    "zlib": "Zlib",
}
"""The licence of each library that lies in something else, by its name in the list of SPDX."""


def licence_texts(site: Path) -> dict[str, bytes]:
    """Return the licence texts of what ships, by file name.

    Raises
    ------
    RuntimeError
        Something ships without its text: what, and where it was found.
    """
    texts = {path.name: path.read_bytes() for path in sorted(KEPT.glob("*.txt"))}
    for package, files in packages(site).items():
        for file, content in sorted(files.items()):
            if Path(file).name.lower().startswith(_LICENCE_NAMES):
                texts[f"{package}-{Path(file).stem}.txt"] = content
    for path in _theme_files():
        if ".icons" in path.parts and path.stem == "LICENSE":
            texts[f"{THEME}-icons-{path.parent.name}.txt"] = Path(str(path.locate())).read_bytes()
    wanted = [*bundled(site), *((name, "the site's packages") for name in packages(site))]
    lacking = [f"{name}, in {where}" for name, where in wanted if not _has_text(name, texts)]
    if lacking:
        raise RuntimeError(f"no licence text for {'; '.join(lacking)}: put it into scripts/licences/, by that name")
    return texts


def _has_text(name: str, texts: dict[str, bytes]) -> bool:
    """Tell whether a library has a text of its own: by its name, or by its name and that of a file."""
    plain = _plain(name)
    brought = re.compile(rf"{re.escape(plain)}-(licen|copying|notice)")
    return any(_plain(Path(file).stem) == plain or brought.match(_plain(file)) for file in texts)


def _plain(name: str) -> str:
    return name.removeprefix("@").replace("/", "-").replace("_", "-").lower()


def bundled(site: Path, runtime: Path = _RUNTIME) -> list[tuple[str, str]]:
    """Return each library that came inside something else, with where it was found."""
    found = dict.fromkeys((*_in_the_theme(site), *_in_the_runtime(runtime)))
    return list(found)


def _in_the_theme(site: Path) -> Iterator[tuple[str, str]]:
    """Yield what source maps and notices name in the theme's scripts and styles."""
    for path in sorted((site / "assets").rglob("*")):
        where = path.relative_to(site).as_posix()
        if (
            path.name.endswith(".min.js")
            and not left_out(site, where)
            and not path.with_name(f"{path.name}.map").exists()
        ):
            raise RuntimeError(f"{where} has no source map that says what is bundled in it")
        if path.suffix == ".map":
            sources = json.loads(path.read_text(encoding="utf-8"))["sources"]
            yield from ((found[1], where) for source in sources if (found := _IN_MAP.search(source)))
        elif path.name.endswith((".min.js", ".min.css")) and not left_out(site, where):
            yield from (
                (match.decode().partition(".")[0].lower(), where) for match in _NOTICE.findall(path.read_bytes())
            )


@cache
def _in_the_runtime(runtime: Path) -> tuple[tuple[str, str], ...]:
    """Return the libraries whose marks stand in the runtime, and any whose notice nobody knows yet."""
    content = runtime.read_bytes()
    found = [name for name, mark in _IN_WASM.items() if re.search(mark, content)]
    for notice in sorted(set(_WASM_NOTICE.findall(content))):
        known = next((name for owner, name in _OWNERS.items() if owner in notice), None)
        found.append(known or f"the owner of '{notice.decode('ascii').strip()}'")
    return tuple((name, runtime.name) for name in found)


@cache
def _theme_files() -> tuple[importlib.metadata.PackagePath, ...]:
    return tuple(importlib.metadata.distribution(THEME).files or ())


def left_out(site: Path, address: str) -> bool:
    """Tell whether a file of the site stays behind: the search's other languages, where the site is in English."""
    if not address.startswith(SEARCH_LANGUAGES):
        return False
    index = json.loads((site / "search" / "search_index.json").read_text(encoding="utf-8"))
    if index["config"]["lang"] != ["en"]:
        raise RuntimeError(f"{SEARCH_LANGUAGES} is needed, and scripts/licences/ has no texts for what lies in it")
    return True


def packages(site: Path) -> dict[str, dict[str, bytes]]:
    """Return the files that may be licences, of every package that ships: wheels, the theme, npm's."""
    found: dict[str, dict[str, bytes]] = {}
    for wheel in sorted(site.rglob("*.whl")):
        with zipfile.ZipFile(wheel) as archive:
            names = [name for name in archive.namelist() if ".dist-info/" in name and not name.endswith("/")]
            found[wheel.name.partition("-")[0]] = {name: archive.read(name) for name in names}
    if not found:
        raise RuntimeError(f"no wheel lies in {site}")
    found.pop("calculators", None)  # the book's own, LICENSE beside it
    for name in npm_dependencies():
        folder = ROOT / "node_modules" / name
        found[_plain(name)] = {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}
    kept = [
        path
        for path in _theme_files()
        if ".dist-info" in str(path) and path.name not in ("INSTALLER", "RECORD", "REQUESTED")
    ]
    return found | {THEME: {path.as_posix(): Path(str(path.locate())).read_bytes() for path in kept}}


def npm_dependencies() -> list[str]:
    """Return the npm packages that ship; what those need in turn serves them in Node alone."""
    return list(json.loads((ROOT / "package.json").read_text(encoding="utf-8"))["dependencies"])
