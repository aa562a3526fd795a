"""MkDocs hook: makes a build one whole release.

Everything of ours that a page loads stands in one folder named by a hash over all of it, so that no
page can ever mix two releases, and a server may let browsers keep the folder for ever. Each page
carries a strict Content-Security-Policy, and instant navigation works at any address.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
import sys
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from calculators import BenchError, drawings  # noqa: E402
from calculators.card.schema import card_schema  # noqa: E402
from scripts import browser_python, check_list, former_pages, room_pages, search_answers, service_worker  # noqa: E402
from scripts.engine_cards import engine_card  # noqa: E402

_INLINE = {name: re.compile(rf"<{name}>(.*?)</{name}>", re.DOTALL) for name in ("script", "style")}
_NODE, _JSON_SCHEMA = ROOT / "node_modules", ROOT / "node_modules/@cfworker/json-schema/dist/esm"
_LIBRARIES = {
    "idb.js": _NODE / "idb/build/index.js",
    "fflate.js": _NODE / "fflate/esm/browser.js",
    **{f"qr/{name}": _NODE / "qr" / name for name in ("index.js", "decode.js")},
    "b612-bold.woff2": _NODE / "@fontsource/b612/files/b612-latin-700-normal.woff2",
    **{f"json-schema/{path.name}": path for path in sorted(_JSON_SCHEMA.glob("*.js"))},
    "paper.css": ROOT / "calculators/bench/templates/paper.css",
}
"""Files from elsewhere than docs/assets: modules and letters of others as published, and the look of the paper."""
_JOB_SCHEMA = ROOT / "calculators/job/job.schema.json"
_RUN_TOGETHER, _KEPT_APART = "e=e+s+o.id}return e", 'e=e+s+o.id+","}return e'
_COMMENT = re.compile(rb"^[ \t]*/\*\*(?:(?!\*/).)*\*/[ \t]*\n", re.MULTILINE | re.DOTALL)
_EMBEDS = re.compile(r"^ *```(question|room)\b", re.MULTILINE)


@dataclass
class _Release:
    """What one build collects on its way."""

    name: str = ""
    drawings: str = ""  # what draws again what follows the card
    made: dict[str, str] = field(default_factory=dict)  # modules that only some pages need, by name
    inline: dict[str, set[str]] = field(default_factory=lambda: {name: set() for name in _INLINE})
    pages: list[str] = field(default_factory=list)


_release = _Release()


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    """Name the release, and point stylesheet, scripts and mark into its folder."""
    docs, card = Path(config.docs_dir), str(config.extra["engine_card"])
    try:
        cards = {path.stem: engine_card(path).data for path in sorted((docs / "engines").glob("*.yml"))}
        parts, checks = browser_python.build(), "export default [];" if browser_python.WATCH else check_list.module()
    except (BenchError, browser_python.TamperedError, check_list.CheckError) as error:
        raise PluginError(str(error)) from None
    except FileNotFoundError as error:
        raise PluginError(f"{error.filename} is missing. Run scripts/setup.") from None
    if card not in cards:
        raise PluginError(f"mkdocs.yml: extra.engine_card names {card}, but docs/engines has no {card}.yml")
    global _release
    _release = _Release()  # a watching server builds again and again
    assets = sorted(path for path in (docs / "assets").rglob("*") if path.is_file())
    pages = sorted(docs.rglob("*.md"))
    embedding = [path.relative_to(docs) for path in pages if _EMBEDS.search(path.read_text(encoding="utf-8"))]
    try:
        found = search_answers.module(docs, list(config.nav or []), engine_card(docs / "engines" / f"{card}.yml"))
    except search_answers.UnknownFigure as error:
        raise PluginError(str(error)) from None
    facts = {
        "python": {
            key: parts[key]
            for key in ("info", "runtime", "plain", "snapshot", "shared", "chain", "tables", "later")
            if key in parts
        },
        "questionPages": [_address(path) for path in (*embedding, *map(Path, room_pages.made(docs)))],
        "card": card,
    }
    more = {"cards": cards, "job-schema": json.loads(_JOB_SCHEMA.read_text(encoding="utf-8"))}
    made_of = hashlib.sha256(
        json.dumps(facts | more, sort_keys=True).encode() + parts["made_of"].encode() + checks.encode() + found.encode()
    )
    _release.drawings = json.dumps(drawings.sources(), ensure_ascii=False)
    made_of.update(_release.drawings.encode())
    for name, path in ({path.relative_to(docs).as_posix(): path for path in assets} | _LIBRARIES).items():
        made_of.update(name.encode() + served(path))
    _release.name = "watched" if browser_python.WATCH else made_of.hexdigest()[:12]
    _release.made = {
        name: f"export default {json.dumps(value, ensure_ascii=False)};\n"
        for name, value in (more | {"release": facts | {"name": _release.name}}).items()
    } | {"checks": checks, "found": found}
    config.extra_css = [_moved(path) for path in config.extra_css]
    for script in config.extra_javascript:
        assert not isinstance(script, str)  # noqa: S101  # mkdocs.yml gives each a type
        script.path = _moved(script.path)
    for key in ("logo", "favicon"):
        config.theme[key] = _moved(config.theme[key])
    return config


def _moved(path: str) -> str:
    return path.replace("assets/", f"assets/{_release.name}/", 1)


def served(path: Path) -> bytes:
    """Return a file as the site has it: our scripts without the comments for contributors, a fifth of them."""
    whole = path.read_bytes()
    return _COMMENT.sub(b"", whole) if path.suffix == ".js" and path.parent.name == "assets" else whole


def _address(source: Path) -> str:
    """Return where a page stands on the site, from its root."""
    folder = source.parent if source.stem == "index" else source.with_suffix("")
    return "" if folder == Path() else f"{folder.as_posix()}/"


def on_files(files: Files, *, config: MkDocsConfig) -> Files:
    """Move our assets into the release's folder, and add what was made for it."""
    docs = Path(config.docs_dir)
    for file in files:
        if file.src_uri.startswith("assets/") and file.src_dir == config.docs_dir:  # the theme's own stay
            file.dest_uri = _moved(file.dest_uri)
            file.url = file.dest_uri
            if file.src_uri.endswith(".js"):
                file.content_bytes = served(docs / file.src_uri)
    for name, module in _release.made.items():
        files.append(File.generated(config, f"assets/{_release.name}/{name}.js", content=module))
    files.append(File.generated(config, f"assets/{_release.name}/drawings.json", content=_release.drawings))
    for name, path in _LIBRARIES.items():
        files.append(File.generated(config, f"assets/{_release.name}/{name}", abs_src_path=str(path)))
    files.append(File.generated(config, "job/job.schema.json", abs_src_path=str(_JOB_SCHEMA)))
    card_layout = json.dumps(card_schema(), ensure_ascii=False, indent=1)
    files.append(File.generated(config, "job/engine-card.schema.json", content=card_layout))
    for path in sorted(browser_python.OUTPUT.iterdir()):
        files.append(File.generated(config, f"assets/{_release.name}/python/{path.name}", abs_src_path=str(path)))
    return files


def on_post_page(output: str, *, page: Page, config: MkDocsConfig) -> str:
    """Give a page its policy and the script that instant navigation needs."""
    _release.pages.append(page.url)
    return _guarded(output, "../" * page.url.count("/") if page.url != "./" else "./")


def on_post_template(output: str, *, template_name: str, config: MkDocsConfig) -> str:
    """Do the same for the page of lost links."""
    root = urlsplit(config.site_url or "").path or "/"
    return _guarded(output, root) if template_name == "404.html" else output


_NAMES = {'role="progressbar"': "Loading the page", 'role="dialog"': "Search", 'id="__drawer"': "Menu"}
"""What the theme leaves without a name for who hears the page."""


def _guarded(output: str, root: str) -> str:
    for part, name in _NAMES.items():
        output = output.replace(part, f'{part} aria-label="{name}"', 1)
    inline = {name: set(map(_hash, pattern.findall(output))) for name, pattern in _INLINE.items()}
    for name, hashes in inline.items():
        _release.inline[name] |= hashes
    early = f'<script src="{root}assets/{_release.name}/early.js"></script>'
    meta = f'<meta http-equiv="Content-Security-Policy" content="{policy(inline)}">'
    return output.replace('<meta charset="utf-8">', f'<meta charset="utf-8">{meta}{early}', 1)


def _hash(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def policy(inline: dict[str, set[str]]) -> str:
    """Return the policy: nothing but our own origin, nothing inline but the theme's own, by hash."""
    return "; ".join(
        (
            "default-src 'none'",
            " ".join(("script-src 'self' 'wasm-unsafe-eval'", *sorted(inline["script"]))),
            " ".join(("style-src 'self'", *sorted(inline["style"]))),
            "img-src 'self' data: blob:",
            "font-src 'self'",
            "connect-src 'self'",
            "worker-src 'self'",
            "manifest-src 'self'",
            "base-uri 'none'",
            "form-action 'none'",
        )
    )


def _mend_search(site: Path) -> None:
    """Keep apart what the search's index tells apart by a text of letters and numbers without a mark between them.

    lunr 2.3.9 (in the theme) takes two nodes of its word tree for one when label and number run into the same text,
    as 1 and 23 with 12 and 3. Pages full of figures meet that, and then no word with that beginning is found.
    """
    for worker in (site / "assets/javascripts/workers").glob("search.*.js"):
        text = worker.read_text(encoding="utf-8")
        if browser_python.WATCH and _KEPT_APART in text:
            continue  # by an earlier build
        if text.count(_RUN_TOGETHER) != 1:
            raise PluginError(f"{worker.name}: the theme's search is another than the one that is mended here")
        worker.write_text(text.replace(_RUN_TOGETHER, _KEPT_APART), encoding="utf-8")


def on_post_build(*, config: MkDocsConfig) -> None:
    """Write the sitemap, the policy that covers every page (for a server's headers), and the service worker."""
    site = Path(config.site_dir)
    root = config.site_url or "/"
    urls = "".join(f"<url><loc>{root}{'' if url == './' else url}</loc></url>\n" for url in sorted(_release.pages))
    sitemap = (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">\n{urls}</urlset>\n'
    )
    (site / "sitemap.xml").write_text(sitemap, encoding="utf-8")
    (site / "sitemap.xml.gz").unlink(missing_ok=True)
    (site / "csp.txt").write_text(policy(_release.inline) + "\n", encoding="utf-8")
    _mend_search(site)
    former_pages.write(site, _release.name, policy({name: set() for name in _INLINE}))
    if browser_python.WATCH:
        service_worker.withdraw(site)  # a browser that has saved an edition would go on showing that
    else:
        service_worker.write(site, _release.name)
