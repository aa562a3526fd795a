"""The archive: the same bytes from the same commit, whole, and with the licence texts of what is in it."""

from __future__ import annotations

import gzip
import json
import re
import shutil
import subprocess
import tarfile
from datetime import datetime
from pathlib import Path

from scripts import pack
from tests.examples import IS_WIDE
from tests.hosting.conftest import INSTALLED, RELEASED, ROOT

SHA256SUM = shutil.which("sha256sum") or "sha256sum"


def members_of(archive: Path) -> dict[str, bytes]:
    with tarfile.open(archive) as opened:
        return {entry.name.removeprefix(f"{pack.NAME}/"): opened.extractfile(entry).read() for entry in opened}


def test_a_clone_elsewhere_packs_the_same_bytes_as_this_checkout(packed, site, monkeypatch):
    (archive,) = packed.glob("*.tar.gz")
    theirs = members_of(archive)
    copies = {name for name in theirs if name.endswith((".gz", ".br"))}
    # a copy is made of its file alone, which the next test holds it to: here it is taken over
    monkeypatch.setattr(pack, "compressed_copies", lambda _, ours: {name: theirs[name] for name in copies - {*ours}})
    ours = pack.members(site)
    # first, so that a failure says where to look
    assert not sorted(name for name in ours.keys() | theirs.keys() if ours.get(name) != theirs.get(name))
    moment = int(datetime.fromisoformat(RELEASED).timestamp())
    assert pack.archive(ours, moment) == archive.read_bytes()
    assert [path.name for path in sorted(packed.iterdir())] == ["SHA256SUMS", archive.name]


ONE_IN = 1 if IS_WIDE else 12
"""Of the files that have copies so many are compressed again; the wasm alone takes as long as all others."""


def test_a_compressed_copy_is_the_same_bytes_whoever_makes_it(packed, site):
    (archive,) = packed.glob("*.tar.gz")
    theirs = members_of(archive)
    large = sorted(name for name in theirs if f"{name}.gz" in theirs and (IS_WIDE or not name.endswith(".wasm")))
    some = [*large[::ONE_IN], "site/index.html"]
    ours = pack.compressed_copies(site, {name: (site / name.removeprefix("site/")).read_bytes() for name in some})
    assert ours == {name: copy for name, copy in theirs.items() if name.removesuffix(name[-3:]) in some}
    assert {name[-3:] for name in ours} == {".gz", ".br"}
    assert len(ours) > 20


def test_members_are_sorted_and_say_nothing_of_who_packed_them(packed):
    moment = datetime.fromisoformat(RELEASED).timestamp()
    with tarfile.open(next(packed.glob("*.tar.gz"))) as archive:
        entries = archive.getmembers()
    assert [entry.name for entry in entries] == sorted(entry.name for entry in entries)
    assert {(entry.uid, entry.gid, entry.uname, entry.gname, entry.mode, entry.mtime) for entry in entries} == {
        (0, 0, "", "", 0o644, moment)
    }


def test_names_no_place_of_the_machine_that_packed_it(packed, unpacked):
    places = [str(packed.parent).encode()] + [f"{ROOT}/{name}".encode() for name in INSTALLED]
    for path in unpacked.rglob("*"):
        if path.is_file():
            content = path.read_bytes()
            if content[:2] == b"\x1f\x8b" and path.suffix != ".br":
                content = gzip.decompress(content)
            assert not [place for place in places if place in content], path


def test_checksums_agree(packed):
    done = subprocess.run(
        [SHA256SUM, "--check", "--strict", "SHA256SUMS"], cwd=packed, capture_output=True, check=False
    )
    assert done.returncode == 0, done.stdout
    assert len((packed / "SHA256SUMS").read_text().splitlines()) == 1


def test_checksums_notice_one_changed_byte(packed, tmp_path):
    for path in packed.iterdir():
        (tmp_path / path.name).write_bytes(path.read_bytes())
    archive = next(tmp_path.glob("*.tar.gz"))
    archive.write_bytes(archive.read_bytes()[:-1] + b"\0")
    done = subprocess.run([SHA256SUM, "--check", "SHA256SUMS"], cwd=tmp_path, capture_output=True, check=False)
    assert done.returncode != 0


def test_every_compressed_copy_inflates_to_the_file_beside_it(unpacked):
    copies = [path for path in (unpacked / "site").rglob("*.gz") if path.with_suffix("").is_file()]
    assert len(copies) > 20
    for copy in copies:
        assert gzip.decompress(copy.read_bytes()) == copy.with_suffix("").read_bytes(), copy


INFLATE = """
const { readFileSync } = require("node:fs");
const { brotliDecompressSync } = require("node:zlib");
const copies = JSON.parse(readFileSync(0, "utf8"));
const file = (copy) => readFileSync(copy.slice(0, -".br".length));
const wrong = copies.filter((copy) => !brotliDecompressSync(readFileSync(copy)).equals(file(copy)));
process.stdout.write(JSON.stringify(wrong));
"""


def test_every_copy_by_brotli_is_smaller_and_inflates_to_the_file_beside_it(unpacked):
    copies = sorted((unpacked / "site").rglob("*.br"))
    given = json.dumps([str(copy) for copy in copies])
    done = subprocess.run(["node", "-e", INFLATE], input=given, capture_output=True, text=True, check=True)
    assert json.loads(done.stdout) == []
    sizes = {copy: (copy.stat().st_size, copy.with_suffix(".gz").stat().st_size) for copy in copies}
    assert all(brotli < gzipped for brotli, gzipped in sizes.values())
    assert len(sizes) > 0.9 * len(list((unpacked / "site").rglob("*.gz")))


def test_no_large_file_lacks_the_compressed_copy_that_would_pay(unpacked):
    for path in (unpacked / "site").rglob("*"):
        if path.is_file() and path.suffix not in (".gz", ".br") and path.stat().st_size > 20_000:
            content = path.read_bytes()
            pays = len(gzip.compress(content, 9)) < 0.9 * len(content)
            assert pays == path.with_name(f"{path.name}.gz").is_file(), path


def test_holds_the_configurations_with_the_policy_of_this_build(unpacked):
    policy = (unpacked / "site" / "csp.txt").read_text(encoding="utf-8").strip()
    for name in ("nginx.conf", "Caddyfile"):
        text = (unpacked / name).read_text(encoding="utf-8")
        assert f"{policy}; frame-ancestors 'none'" in text
        assert "{csp.txt}" not in text


def test_holds_what_a_shop_must_read(unpacked):
    assert "http.server --directory site" in (unpacked / "HOSTING.txt").read_text(encoding="utf-8")
    assert (unpacked / "LICENSE").read_bytes() == (ROOT / "LICENSE").read_bytes()


def test_brings_the_licence_text_of_each_package_that_ships(unpacked):
    texts = [path.name.lower().replace("_", "-") for path in (unpacked / "licences").iterdir()]
    wheels = {path.name.split("-")[0] for path in (unpacked / "site").rglob("*.whl")} - {"calculators"}
    assert wheels
    for name in (*wheels, *json.loads((ROOT / "package.json").read_text())["dependencies"], "mkdocs-material"):
        plain = re.sub(r"[-_.@/]+", "-", name).lower().strip("-")
        assert [text for text in texts if text.startswith(plain)], name


def test_locks_name_no_registry():
    for path in (
        *ROOT.glob("requirements*.txt"),
        *ROOT.glob("package-lock.json"),
        *ROOT.glob("scripts/*/package-lock.json"),
    ):
        text = path.read_text(encoding="utf-8")
        assert "resolved" not in text, path
        assert not re.search(r"--(extra-)?index-url|--find-links|files\.|registry\.", text), path
