"""Make a built site installable and whole without a network: an edition, its service worker, its marks.

An edition is one build: every page and every file, named by a hash over all of them. The worker is
Workbox, as its packages ship it, the list of the edition's files with their hashes, and our own
``service_worker.js``. The same site gives the same bytes.
"""

from __future__ import annotations

import argparse
import base64
import hashlib
import json
import re
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
_OWN = Path(__file__).with_suffix(".js")
_WORKBOX = ("core", "routing", "strategies", "precaching")  # each needs those before it
_FAST_START = {"pyodide.mjs", "pyodide.asm.js"}
_EITHER = {"runtime.wasm": {"brotli": True}, "runtime.bin": {"brotli": False}}
"""One of them is needed: the first where the host sends it by Brotli."""
_NOT_KEPT = re.compile(r"(^sw\.js|^csp\.txt|\.map|^sitemap\.xml\.gz|^assets/javascripts/lunr/.*)$")
_MARKS = re.compile(r"<!-- edition -->.*?<!-- /edition -->")
_THEME_HASHED = re.compile(r"^assets/.*\.[0-9a-f]{8}\.min\.(js|css)$")
_WAY_TO_ROOT = re.compile(r'(?:src|href)="([^"]*?)assets/')


def write(site_dir: Path, release: str) -> None:
    """Mark every page with its edition, and write ``sw.js`` for the site as it then is.

    Parameters
    ----------
    site_dir : Path
        A built site, complete but for this. A site that has been through here already is done anew.
    release : str
        The folder below ``assets/`` whose files never change under their names.

    Raises
    ------
    FileNotFoundError
        The npm packages are not installed.
    """
    pages = {path: _MARKS.sub("", path.read_text(encoding="utf-8")) for path in sorted(site_dir.rglob("*.html"))}
    kept = {
        address: path
        for path in sorted(site_dir.rglob("*"))
        if path.is_file() and not _NOT_KEPT.search(address := path.relative_to(site_dir).as_posix())
    }
    worker = _libraries() + _OWN.read_text(encoding="utf-8")
    made_of = hashlib.sha256(worker.encode())
    for address, path in kept.items():
        content = pages[path].encode() if path in pages else path.read_bytes()
        made_of.update(f"{address} {hashlib.sha256(content).hexdigest()}\n".encode())
    edition = made_of.hexdigest()[:12]
    for path, text in pages.items():
        path.write_text(_marked(text, edition), encoding="utf-8")

    python = f"assets/{release}/python/"
    facts: dict[str, Any] = {"edition": edition, "release": release, "pages": [], "python": []}
    for address, path in kept.items():
        lasts = address.startswith(f"assets/{release}/") or bool(_THEME_HASHED.search(address))
        entry = _entry(address, path.read_bytes(), lasts=lasts)
        if address.startswith(python):
            stock = path.name not in (*_FAST_START, *_EITHER) and path.suffix != ".bin"
            facts["python"].append(entry | {"stock": stock} | _EITHER.get(path.name, {}))
        else:
            facts["pages"].append(entry)
    licence = (ROOT / "node_modules" / "workbox-core" / "LICENSE").read_text(encoding="utf-8")
    given = f"const EDITION = {json.dumps(facts, ensure_ascii=False, separators=(',', ':'))};\n"
    (site_dir / "sw.js").write_text(
        f"/*\nContains Workbox 7.\n\n{licence.strip()}\n*/\n{given}{worker}", encoding="utf-8"
    )


def withdraw(site_dir: Path) -> None:
    """Undo ``write``, and leave a ``sw.js`` that removes an earlier one from the readers' devices."""
    for path in site_dir.rglob("*.html"):
        path.write_text(_MARKS.sub("", path.read_text(encoding="utf-8")), encoding="utf-8")
    worker = _OWN.with_name("withdrawn_worker.js").read_text(encoding="utf-8")
    (site_dir / "sw.js").write_text(worker, encoding="utf-8")


def _libraries() -> str:
    """Return Workbox's own builds, one behind the other; each puts its part into ``workbox``."""
    builds = (ROOT / "node_modules" / f"workbox-{part}" / "build" / f"workbox-{part}.prod.js" for part in _WORKBOX)
    return "".join(re.sub(r"\n?//# sourceMappingURL=.*", "", build.read_text(encoding="utf-8")) for build in builds)


def _entry(address: str, content: bytes, *, lasts: bool) -> dict[str, Any]:
    """Return what the worker must know of one file; what does not last under its name has a revision."""
    digest = hashlib.sha256(content).digest()
    return {
        "url": re.sub(r"(^|/)index\.html$", r"\1", address) or "./",
        "revision": None if lasts else digest.hex()[:12],
        "integrity": f"sha256-{base64.b64encode(digest).decode()}",
        "size": len(content),
    }


def _marked(text: str, edition: str) -> str:
    """Return a page that leads to the manifest, by the page's own way to the root, and names its edition."""
    found = _WAY_TO_ROOT.search(text)
    root = found[1] if found else ""
    head = (
        f'<link rel="manifest" href="{root}manifest.webmanifest" crossorigin="use-credentials">'
        f'<link rel="apple-touch-icon" href="{root}icons/touch-180.png">'
    )
    line = f'<bench-offline edition="{edition}"></bench-offline>'
    for mark, place in ((head, "</head>"), (line, "</footer>")):
        before, found_place, after = text.rpartition(place)
        if found_place:
            text = f"{before}<!-- edition -->{mark}<!-- /edition -->{place}{after}"
    return text


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("site", type=Path)
    parser.add_argument("release")
    arguments = parser.parse_args()
    write(arguments.site, arguments.release)
