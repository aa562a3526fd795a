"""Real web servers with the packed configurations, over plain http, at the root and below a path."""

from __future__ import annotations

import gzip
import re

import pytest

from tests.hosting.conftest import HOST, NAME, Server, answers_pound_feet

PAGE = "work-it-out/torque/"
UNDER = ("/", "/bench/")

# IANA media types, and the registrations behind them: RFC 9239 (JavaScript), RFC 9512 (YAML), RFC 7303 (XML),
# RFC 8259 (JSON), RFC 8081 (fonts); WebAssembly Web API (W3C, 2019) for wasm; Web Application Manifest (W3C)
TYPES = {
    ".html": "text/html",
    ".css": "text/css",
    ".js": "text/javascript",
    ".mjs": "text/javascript",
    ".json": "application/json",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".xml": "application/xml",
    ".txt": "text/plain",
}
ALIASES = {"text/xml": "application/xml", "application/javascript": "text/javascript"}


@pytest.fixture(scope="session")
def files(unpacked):
    site = unpacked / "site"
    return {path.relative_to(site).as_posix(): path for path in sorted(site.rglob("*")) if path.is_file()}


@pytest.fixture(scope="session")
def pages(files):
    return [name.removesuffix("index.html") for name in files if name.endswith("index.html")]


@pytest.mark.parametrize("under", UNDER)
def test_serves_every_page(server, pages, files, under):
    assert len(pages) > 8
    for page in pages:
        status, headers, body = server.get(under + page)
        assert (status, headers["content-type"]) == (200, "text/html; charset=utf-8"), page
        assert body == files[f"{page}index.html"].read_bytes()


@pytest.mark.parametrize("under", UNDER)
def test_serves_every_file_with_its_type(server, files, under):
    for name, path in files.items():
        status, headers, body = server.get(under + name.removesuffix("index.html"))
        assert status == 200, name
        assert body == path.read_bytes(), name
        if path.suffix in TYPES:
            found = headers["content-type"].partition(";")[0]
            assert ALIASES.get(found, found) == TYPES[path.suffix], name


@pytest.mark.parametrize("under", UNDER)
def test_sends_the_compressed_copy_to_whoever_takes_it(server, files, under):
    large = [name for name in files if f"{name}.gz" in files]
    assert len(large) > 20
    for name in large:
        status, headers, body = server.get(under + name.removesuffix("index.html"), Accept_Encoding="gzip")
        assert (status, headers["content-encoding"]) == (200, "gzip"), name
        assert "accept-encoding" in headers["vary"].lower(), name
        assert gzip.decompress(body) == files[name].read_bytes(), name


@pytest.mark.parametrize("under", UNDER)
def test_a_server_that_knows_brotli_sends_that_copy_to_whoever_takes_it(server, files, under):
    """nginx does so with a module that few systems bring."""
    for name in (name for name in files if f"{name}.br" in files):
        place = under + name.removesuffix("index.html")
        status, headers, body = server.get(place, Accept_Encoding="gzip, br")
        coding = "gzip" if server.kind == "nginx" else "br"
        assert (status, headers["content-encoding"]) == (200, coding), name
        assert body == files[f"{name}.{'gz' if coding == 'gzip' else 'br'}"].read_bytes(), name


def test_a_compressed_copy_keeps_the_type_of_the_file(server, files):
    for name in files:
        if name.endswith((".wasm", ".mjs")):
            _, headers, _ = server.get(f"/{name}", Accept_Encoding="gzip")
            assert headers["content-type"].partition(";")[0] == TYPES[f".{name.rpartition('.')[2]}"]


@pytest.mark.parametrize("under", UNDER)
def test_only_what_a_name_pins_is_kept_without_asking(server, files, under):
    kept = set()
    for name in files:
        _, headers, _ = server.get(under + name.removesuffix("index.html"))
        if "immutable" in headers["cache-control"]:
            assert headers["cache-control"] == "public, max-age=31536000, immutable"
            kept.add(name)
        else:
            assert headers["cache-control"] == "no-cache", name
    released = {name for name in files if re.match(r"assets/[0-9a-f]{12}/", name)}
    themed = {name for name in files if re.search(r"^assets/(?:javascripts|stylesheets)/.*\.[0-9a-f]{8}\.min\.", name)}
    assert released
    assert themed
    assert kept == released | themed


def test_what_is_not_there_is_never_kept(server):
    for name in ("nothing-here/", "assets/0123456789ab/gone.js", "assets/javascripts/bundle.01234567.min.js"):
        for under in UNDER:
            status, headers, body = server.get(under + name)
            assert status == 404, name
            assert b"<h1>This page is not here" in body, name
            assert "immutable" not in headers.get("cache-control", ""), name


def test_a_file_that_has_not_changed_is_not_sent_again(server):
    _, first, _ = server.get(f"/{PAGE}")
    status, _, body = server.get(f"/{PAGE}", If_None_Match=first["etag"])
    assert (status, body) == (304, b"")


@pytest.mark.parametrize("under", UNDER)
def test_every_answer_carries_the_policy(server, files, unpacked, under):
    policy = f"{(unpacked / 'site' / 'csp.txt').read_text(encoding='utf-8').strip()}; frame-ancestors 'none'"
    worker = next(name for name in files if name.endswith("/python-worker.js"))
    for name in (PAGE, worker, "search/search_index.json", "nothing-here/"):
        _, headers, _ = server.get(under + name)
        assert headers["content-security-policy"] == policy, name
        assert headers["x-content-type-options"] == "nosniff", name
        assert headers["referrer-policy"] == "no-referrer", name
        assert "camera=(self), geolocation=()" in headers["permissions-policy"], name


def test_the_policy_starts_from_nothing_and_lets_no_text_become_script(server):
    _, headers, _ = server.get("/")
    directives = dict(part.strip().split(" ", 1) for part in headers["content-security-policy"].split(";"))
    assert directives["default-src"] == "'none'"
    assert directives["frame-ancestors"] == "'none'"
    assert "'wasm-unsafe-eval'" in directives["script-src"]
    assert not {"'unsafe-eval'", "'unsafe-inline'"} & set(directives["script-src"].split())


@pytest.mark.parametrize("folder", ["/bench", "/bench/start/safety", "/start/safety"])
def test_a_folder_without_its_slash_leads_on_at_the_same_address(server, folder):
    status, headers, _ = server.get(folder)
    assert status in (301, 302, 308)
    place = headers["location"]
    assert place == f"{folder}/" or f"{folder.rpartition('/')[0]}/{place.removeprefix('./')}" == f"{folder}/"


@pytest.mark.parametrize("under", UNDER)
def test_a_question_answers_over_plain_http(server, at_bench, under):
    page = at_bench(f"http://{NAME}:{server.port}{under}{PAGE}")
    assert not page.evaluate("isSecureContext")
    answers_pound_feet(page)


def test_a_loopback_address_answers_and_is_a_secure_context(server, at_bench):
    """Secure Contexts (W3C, 2023), 3.1: all of 127.0.0.0/8 is potentially trustworthy, so it proves no plain http."""
    page = at_bench(f"http://{HOST}:{server.port}/{PAGE}")
    assert page.evaluate("isSecureContext")
    answers_pound_feet(page)


def test_the_smallest_server_is_enough(smallest: Server, at_bench):
    page = at_bench(f"http://{NAME}:{smallest.port}/{PAGE}")
    answers_pound_feet(page)
