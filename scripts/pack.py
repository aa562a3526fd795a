"""Pack the built site: one archive that any static server can serve, with its licence texts, and checksums.

The same site gives the same bytes: members sorted, one owner, one mode, one date (``SOURCE_DATE_EPOCH``).
"""

from __future__ import annotations

import gzip
import hashlib
import io
import json
import os
import subprocess
import tarfile
import tempfile
from pathlib import Path

from calculators import __version__
from scripts.licences import left_out, licence_texts

ROOT = Path(__file__).resolve().parent.parent
SITE = ROOT / "build" / "site"
DIST = ROOT / "dist"
NAME = f"top-end-bench-book-{__version__}"
_WORTH_COMPRESSING = 1024  # bytes: below this a compressed copy saves no packet
_WORTH_KEEPING = 0.9  # of the size: above this a compressed copy is not worth its inflating
BROTLI = Path(__file__).with_name("brotli.mjs")
_LEAST, _QUICK = 11, 9
"""Qualities of Brotli: for what every visit asks for (the wasm is 13 in 100 smaller, in 15 times the time), and for
pages and what only a stock start asks for (pages are 4 in 100 larger)."""
_HOSTING = f"""\
Top-End Bench Book {__version__}

The folder "site" is the whole book. Any static web server can serve it, at any
address, port or path; nothing else runs on the server, and nothing is fetched
from anywhere else. Opened as files (file://) it cannot work: browsers refuse
there what the questions need.

  Try it:   python3 -m http.server --directory site 8000
            then open http://localhost:8000/
  nginx:    nginx.conf, for /etc/nginx/conf.d/
  Caddy:    Caddyfile, for /etc/caddy/

Both expect "site" in /srv/top-end-bench-book/ and a name in place of
bench.example. Each shows two ways, one for the root of a name and one for
a path below it: delete the one that you do not need.

The page "Host a copy" in the book has the rest: https, caching, the shop's own
engine cards and pages.

The licences of all that is inside: the folder licences. The book itself is
under the MIT licence: LICENSE.
"""


def main() -> None:
    """Write ``dist/`` and say what is in it."""
    moment = int(os.environ["SOURCE_DATE_EPOCH"])
    made = {f"{NAME}.tar.gz": archive(members(SITE), moment)}
    DIST.mkdir(exist_ok=True)
    for name, content in made.items():
        (DIST / name).write_bytes(content)
    sums = "".join(f"{hashlib.sha256(content).hexdigest()}  {name}\n" for name, content in made.items())
    (DIST / "SHA256SUMS").write_text(sums, encoding="utf-8")
    for name, content in made.items():
        print(f"dist/{name}  {len(content) / 1e6:.1f} MB")
    print("dist/SHA256SUMS")


def members(site: Path) -> dict[str, bytes]:
    """Return every file of the archive by its name there, the compressed copies among them."""
    policy = (site / "csp.txt").read_text(encoding="utf-8").strip()
    found = {
        f"site/{address}": path.read_bytes()
        for path in site.rglob("*")
        if path.is_file() and not left_out(site, address := path.relative_to(site).as_posix())
    }
    found |= compressed_copies(site, found)
    for name in ("nginx.conf", "Caddyfile"):
        text = (ROOT / "docs" / "hosting" / name).read_text(encoding="utf-8")
        found[name] = _filled(text, policy).encode()
    found |= {f"licences/{name}": text for name, text in licence_texts(site).items()}
    found["LICENSE"] = (ROOT / "LICENSE").read_bytes()
    found["HOSTING.txt"] = _HOSTING.encode()
    return found


def archive(files: dict[str, bytes], moment: int) -> bytes:
    """Return a gzip-compressed tar of the files, below one folder, the same bytes for the same files and moment."""
    packed = io.BytesIO()
    with (
        gzip.GzipFile(filename="", mode="wb", compresslevel=9, fileobj=packed, mtime=0) as outer,
        tarfile.open(fileobj=outer, mode="w", format=tarfile.GNU_FORMAT) as tar,
    ):
        for name, content in sorted(files.items()):
            entry = tarfile.TarInfo(f"{NAME}/{name}")
            entry.size, entry.mtime, entry.mode = len(content), moment, 0o644
            tar.addfile(entry, io.BytesIO(content))
    return packed.getvalue()


def compressed_copies(site: Path, files: dict[str, bytes]) -> dict[str, bytes]:
    """Return of each file of the site for which it pays a copy by gzip, ``name.gz``, and one by Brotli, ``name.br``."""
    small = {name: copy for name, copy in map(_compressed, files.items()) if copy and f"{name}.gz" not in files}
    found = {f"{name}.gz": copy for name, copy in small.items()}
    with tempfile.TemporaryDirectory() as place:
        copies = {name: Path(place) / str(number) for number, name in enumerate(small)}
        wanted = [(str(site / name.removeprefix("site/")), str(copy), _quality(name)) for name, copy in copies.items()]
        subprocess.run(["node", str(BROTLI)], input=json.dumps(wanted), text=True, check=True)
        for name, copy in copies.items():
            smaller = copy.read_bytes()
            if len(smaller) < len(small[name]):
                found[f"{name}.br"] = smaller
    return found


def _quality(name: str) -> int:
    return _LEAST if name.startswith("site/assets/") and not name.endswith("/pyodide.asm.wasm") else _QUICK


def _compressed(file: tuple[str, bytes]) -> tuple[str, bytes | None]:
    name, content = file
    if len(content) < _WORTH_COMPRESSING or name.endswith(".gz"):
        return name, None
    small = gzip.compress(content, 9, mtime=0)
    return name, small if len(small) < _WORTH_KEEPING * len(content) else None


def _filled(configuration: str, policy: str) -> str:
    """Put the policy where a configuration quotes it; the comment that says so goes."""
    kept = (line for line in configuration.splitlines(keepends=True) if not line.startswith("# {csp.txt}"))
    return "".join(kept).replace("{csp.txt}", policy)


if __name__ == "__main__":
    main()
