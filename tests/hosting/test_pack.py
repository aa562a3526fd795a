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

from tests.hosting.conftest import INSTALLED, RELEASED, ROOT

SHA256SUM = shutil.which("sha256sum") or "sha256sum"


def test_is_the_same_bytes_from_two_clones_of_one_commit(packed):
    one, other = packed
    names = sorted(path.name for path in one.iterdir())
    assert names == sorted(path.name for path in other.iterdir())
    assert not unequal_members(one, other)  # first, so that a failure says where to look
    assert not [name for name in names if (one / name).read_bytes() != (other / name).read_bytes()]


def unequal_members(one: Path, other: Path) -> list[str]:
    contents = []
    for place in (one, other):
        with tarfile.open(next(place.glob("*.tar.gz"))) as archive:
            contents.append({entry.name: archive.extractfile(entry).read() for entry in archive})
    first, second = contents
    return sorted(name for name in first.keys() | second.keys() if first.get(name) != second.get(name))


def test_members_are_sorted_and_say_nothing_of_who_packed_them(packed):
    moment = datetime.fromisoformat(RELEASED).timestamp()
    with tarfile.open(next(packed[0].glob("*.tar.gz"))) as archive:
        entries = archive.getmembers()
    assert [entry.name for entry in entries] == sorted(entry.name for entry in entries)
    assert {(entry.uid, entry.gid, entry.uname, entry.gname, entry.mode, entry.mtime) for entry in entries} == {
        (0, 0, "", "", 0o644, moment)
    }


def test_names_no_place_of_the_machine_that_packed_it(packed, unpacked):
    places = [str(place.parent).encode() for place in packed] + [f"{ROOT}/{name}".encode() for name in INSTALLED]
    for path in unpacked.rglob("*"):
        if path.is_file():
            content = path.read_bytes()
            if content[:2] == b"\x1f\x8b" and path.suffix != ".br":
                content = gzip.decompress(content)
            assert not [place for place in places if place in content], path


def test_checksums_agree(packed):
    done = subprocess.run(
        [SHA256SUM, "--check", "--strict", "SHA256SUMS"], cwd=packed[0], capture_output=True, check=False
    )
    assert done.returncode == 0, done.stdout
    assert len((packed[0] / "SHA256SUMS").read_text().splitlines()) == 1


def test_checksums_notice_one_changed_byte(packed, tmp_path):
    for path in packed[0].iterdir():
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
