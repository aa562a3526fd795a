"""The worked example of the hosting page: a shop's own card, page and limits, built as the page says."""

from __future__ import annotations

import html
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

from tests.hosting.conftest import ROOT, clone, take_over_python

EXAMPLE = Path(__file__).with_name("our-shop")


def merged(base, more):
    """Lay a tree over another: mappings are joined, anything else is replaced."""
    if isinstance(base, dict) and isinstance(more, dict):
        return base | {key: merged(base.get(key), value) for key, value in more.items()}
    return more


@pytest.fixture(scope="module")
def shop(tmp_path_factory, site):
    """A checkout with the example in it, as a shop would have it; after our own build, whose Python it takes over."""
    place = clone(tmp_path_factory.mktemp("shop"))
    take_over_python(place)
    card = yaml.safe_load((place / "docs/engines/marram-f4.yml").read_text(encoding="utf-8"))
    ours = yaml.safe_load((EXAMPLE / "engine-card.yml").read_text(encoding="utf-8"))
    text = yaml.safe_dump(merged(card, ours), allow_unicode=True, sort_keys=False)
    (place / "docs/engines/our-marram.yml").write_text(text, encoding="utf-8")
    (place / "docs/shop").mkdir()
    shutil.copy(EXAMPLE / "page.md", place / "docs/shop/before-a-head-goes-on.md")
    settings = yaml.safe_load((place / "mkdocs.yml").read_text(encoding="utf-8"))
    more = yaml.safe_load((EXAMPLE / "mkdocs.yml").read_text(encoding="utf-8"))
    settings = merged(settings, more | {"nav": settings["nav"] + more["nav"]})
    (place / "mkdocs.yml").write_text(yaml.safe_dump(settings, allow_unicode=True, sort_keys=False), encoding="utf-8")
    return place


def build(place, into):
    return subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--strict", "--site-dir", into],
        cwd=place,
        env=os.environ | {"NO_MKDOCS_2_WARNING": "1", "PYTHONPATH": str(place)},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture(scope="module")
def built(shop):
    done = build(shop, "build/site")
    assert done.returncode == 0, done.stderr
    return shop / "build" / "site"


def text_of(path):
    return html.unescape(re.sub(r"<[^>]+>", "", path.read_text(encoding="utf-8")))


def test_the_shop_page_shows_the_shop_limits_in_both_units(built):
    text = text_of(built / "shop/before-a-head-goes-on/index.html")
    # NIST SP 811 (2008) B.8: 1 mil (0.001 in) = 0.0254 mm; 1.2 ÷ 0.0254 = 47.2, 0.03 ÷ 0.0254 = 1.2
    assert "Each deck clearance is at least 1.2 mm (47.2 thou)." in text
    assert "level within 0.03 mm (1.2 thou)." in text


def test_figures_of_the_shop_card_are_not_called_the_demonstration_engine_s(built):
    page = (built / "build/tighten-a-head-down/index.html").read_text(encoding="utf-8")
    beside = [text for text in re.findall(r"<(?:p|li)>.*?</(?:p|li)>", page, re.DOTALL) if "card-value" in text]
    assert any("The card’s engine has studs of" in text for text in beside)
    assert not [text for text in beside if "demonstration" in text]


def test_the_shop_page_asks_the_question_of_the_shop_card_and_quotes_its_answer(built):
    page = (built / "shop/before-a-head-goes-on/index.html").read_text(encoding="utf-8")
    (asked,) = re.findall(r"<bench-question .*?</bench-question>", page, re.DOTALL)
    assert "Marram F4, by our shop" in html.unescape(asked)
    (quoted,) = re.findall(r'<data class="answer-value" value="torque.wrench.settings"[^>]*>(.*?)</data>', page)
    assert quoted in asked


def test_the_book_itself_follows_the_shop_card(built):
    text = text_of(built / "measure/compression-and-spacers/index.html")
    assert "at least 1.2 mm (47.2 thou)" in text
    assert "1.0 mm (39.4 thou)" not in text


def test_the_shop_page_is_in_the_navigation(built):
    home = (built / "index.html").read_text(encoding="utf-8")
    assert "shop/before-a-head-goes-on/" in home


def test_a_value_that_the_card_lacks_stops_the_build_with_its_name(shop, built):
    page = shop / "docs/shop/before-a-head-goes-on.md"
    whole = page.read_text(encoding="utf-8")
    page.write_text(whole.replace("compression.least_deck_clearance", "compression.least_deck"), encoding="utf-8")
    try:
        done = build(shop, "build/stopped")
    finally:
        page.write_text(whole, encoding="utf-8")
    assert done.returncode != 0
    assert "compression.least_deck" in done.stderr


def test_the_hosting_page_shows_the_files_as_they_are(built):
    text = text_of(built / "hosting/index.html")
    for path in (*EXAMPLE.iterdir(), ROOT / "docs/hosting/nginx.conf", ROOT / "docs/hosting/Caddyfile"):
        shown = re.sub(r"\s+", " ", text)
        assert re.sub(r"\s+", " ", path.read_text(encoding="utf-8")).strip() in shown, path.name
