"""The book as a whole, read as Markdown: form, cautions, links, numbers, plain words, and the way to each page.

No browser and no build: what is held here is what stands in ``docs/``.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
import yaml

from calculators import read_card
from calculators.bench.question import questions
from scripts import caution_list
from tests.site.conftest import ROOT

DOCS = ROOT / "docs"
STAGES = ("start", "strip", "inspect", "measure", "heads", "build", "refit", "run", "handover")
BOOK = (*STAGES, "faults", "reference")
FORM = (
    "When to stop and ask",
    "Tools and parts",
    "Work it out",
    "Steps",
    "What good looks like",
    "What goes wrong",
    "Sources",
)
MAY_LACK = {"Work it out"}


def text_of(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def named(path: Path) -> str:
    return path.relative_to(DOCS).as_posix()


PAGES = {named(path): text_of(path) for path in sorted(DOCS.rglob("*.md"))}
BOOK_PAGES = sorted(page for page in PAGES if page.split("/")[0] in BOOK or page == "index.md")
PROCEDURES = [page for page in BOOK_PAGES if "\n## Steps\n" in PAGES[page]]
every_page = pytest.mark.parametrize("page", BOOK_PAGES)
every_procedure = pytest.mark.parametrize("page", PROCEDURES)


def nav() -> list[object]:
    settings = re.sub(r"!!python\S*", "", text_of(ROOT / "mkdocs.yml"))
    return list(yaml.safe_load(settings)["nav"])


def without_fences(markdown: str) -> str:
    """Return a page without its front matter and its fenced blocks."""
    markdown = re.sub(r"\A---\n.*?\n---\n", "", markdown, flags=re.DOTALL)
    return re.sub(r"^ *(```|~~~).*?^ *\1 *$", "", markdown, flags=re.DOTALL | re.MULTILINE)


def headings(markdown: str) -> list[str]:
    return re.findall(r"^## (.+)$", without_fences(markdown), re.MULTILINE)


def sections(markdown: str) -> dict[str, str]:
    parts = re.split(r"^## (.+)\n", without_fences(markdown), flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


# ---------------------------------------------------------------------------- the form of a procedure


def test_each_stage_has_procedures():
    assert {page.split("/")[0] for page in PROCEDURES} == set(STAGES)
    assert len(PROCEDURES) >= 40


@every_procedure
def test_procedure_has_its_headings_in_order(page):
    found = headings(PAGES[page])
    assert found == [heading for heading in FORM if heading in found or heading not in MAY_LACK]


@every_procedure
def test_procedure_is_called_by_its_deed_and_says_what_it_is_for(page):
    title, purpose, *_ = without_fences(PAGES[page]).strip().split("\n\n")
    assert re.fullmatch(r"# [A-Z]\S*(-\S+)? .+", title)
    assert not re.match(r"# (A|An|The|How) ", title)
    assert purpose[0].isupper()
    assert purpose.endswith(".")


@every_procedure
def test_work_it_out_holds_a_calculator(page):
    parts = re.split(r"^## (.+)\n", PAGES[page], flags=re.MULTILINE)
    found = dict(zip(parts[1::2], parts[2::2], strict=True))
    assert ("Work it out" in found) == ("```calculator" in PAGES[page])
    assert "```calculator" in found.get("Work it out", "```calculator")


@every_procedure
def test_steps_are_numbered_through_and_begin_with_the_deed(page):
    steps = re.findall(r"^(\d+)\.\s+(.*)$", sections(PAGES[page])["Steps"], re.MULTILINE)
    assert [int(number) for number, _ in steps] == list(range(1, len(steps) + 1))
    assert [words for _, words in steps if not re.match(r"\*\*[A-Z].+?\*\*", words)] == []
    assert len(steps) >= 10


@every_procedure
def test_fault_table_names_sign_cause_and_remedy(page):
    rows = re.findall(r"^\|(.+)\|$", sections(PAGES[page])["What goes wrong"], re.MULTILINE)
    assert [cell.strip() for cell in rows[0].split("|")] == ["What you see", "Likely cause", "What to do"]
    assert len(rows) >= 5 + 2
    for row in rows[2:]:
        assert [cell for cell in row.split("|") if not cell.strip()] == []
        assert row.count("|") == 2


@every_procedure
def test_numbers_have_a_source_or_say_that_they_have_none(page):
    sources = sections(PAGES[page])["Sources"]
    assert re.search(r"no source|engine card|ISO|NIST|JCGM|data sheet|maker", sources)
    assert "http" not in sources


# ---------------------------------------------------------------------------- cautions


@pytest.mark.parametrize("page", sorted(PAGES))
def test_each_caution_is_graded_and_begins_with_its_signal_word(page):
    for line in without_fences(PAGES[page]).splitlines():
        if line.lstrip().startswith(("!!!", "???")):
            found = re.fullmatch(r' *!!! (\w+) "(\w+): (\S.+)"', line)
            assert found, line
            assert found[1] in caution_list.GRADES, line
            assert found[2] == found[1].capitalize(), line


@every_page
def test_each_caution_says_hazard_and_how_to_avoid_it(page):
    for caution in caution_list.cautions(page, PAGES[page]):
        sentences = list(sentences_of(caution.words))
        assert len(sentences) >= 2, caution.title


@every_procedure
def test_caution_stands_before_the_deed_that_it_belongs_to(page):
    for step in re.split(r"^(?=\d+\.\s)", sections(PAGES[page])["Steps"], flags=re.MULTILINE):
        if "!!!" not in step:
            continue
        first, *others = [block for block in step.strip().split("\n\n") if block.strip()]
        told = re.sub(r"^\d+\.\s+\*\*.+?\*\*", "", first.splitlines()[0]).strip()
        last = others[-1].splitlines()[0]
        ends_in_caution = last.lstrip().startswith("!!!") or last.startswith(" " * 8)
        assert not (told and ends_in_caution), first


WHERE_IT_BELONGS = {
    "Compressed springs": (r"compressed spring|springs? under load", ("strip/valves-out", "heads/assemble-the-valves")),
    "Sodium": (r"sodium", ("start/safety", "strip/valves-out", "inspect/valves", "handover/hand-the-vehicle-over")),
    "Magnesium": (r"magnesium", ("start/safety", "inspect/case-faces-and-studs", "reference/materials-and-sealers")),
    "Asbestos of gaskets": (
        r"asbestos",
        ("start/safety", "heads/clean-and-decarbonise", "build/seal-the-barrel-bases"),
    ),
    "Clutch dust": (r"clutch", ("start/safety", "strip/lock-the-flywheel")),
    "Solvents": (r"solvent", ("start/safety", "heads/clean-and-decarbonise", "heads/lap-the-valves")),
    "Petrol": (r"petrol", ("start/safety", "strip/take-the-engine-out", "refit/fuel-and-oil-pipes")),
    "Lifting and stands": (r"falls", ("start/safety", "strip/take-the-engine-out", "refit/put-the-engine-in")),
    "Rotating hubs": (r"hubs?", ("start/safety", "run/first-start", "run/road-run")),
    "Fan and belt": (r"fan", ("start/safety", "run/first-start", "run/set-the-timing", "build/set-valve-lash")),
    "Carbon monoxide": (r"carbon monoxide", ("start/safety", "run/first-start", "run/balance-the-carburettors")),
    "Hot oil": (r"hot oil|oil .*(scald|burn)", ("start/safety", "strip/take-the-engine-out", "run/road-run")),
    "Carbide swarf": (r"swarf", ("start/safety", "heads/tidy-and-match-the-ports")),
    "Battery": (r"battery", ("start/safety", "strip/take-the-engine-out", "refit/put-the-engine-in")),
    "High voltage": (r"high voltage", ("start/safety", "faults/index", "run/set-the-timing")),
    "Compressed air": (r"\bair\b", ("start/safety", "start/baseline", "faults/index")),
}


@pytest.mark.parametrize("hazard", WHERE_IT_BELONGS)
def test_hazard_has_its_caution_where_it_belongs(hazard):
    pattern, pages = WHERE_IT_BELONGS[hazard]
    for page in pages:
        found = [f"{one.title} {one.words}" for one in caution_list.cautions(f"{page}.md", PAGES[f"{page}.md"])]
        assert re.search(pattern, "\n".join(found), re.IGNORECASE), page


# ---------------------------------------------------------------------------- the page that lists them


def listed() -> str:
    page = "reference/all-cautions.md"
    return caution_list.filled(PAGES[page], page, PAGES, nav())


def places(lines: str) -> list[str]:
    """Return the pages that the listed cautions lead to, seen from the folder of the list."""
    found = re.findall(r"^- \*\*\[.+?\]\(([^)#]+)(?:#\S+)?\)\*\* ", lines, re.MULTILINE)
    return [posixpath.normpath(posixpath.join("reference", link)) for link in found]


def test_all_cautions_are_listed_by_grade_each_with_a_link_to_its_page():
    every = [caution for page in PAGES for caution in caution_list.cautions(page, PAGES[page])]
    written = sum(len(re.findall(r"^ *!!! ", without_fences(text), re.MULTILINE)) for text in PAGES.values())
    assert len(every) == written
    by_grade = re.split(r"^## (\w+): (\d+) .*\n", listed().split("## Sources")[0], flags=re.MULTILINE)[1:]
    assert by_grade[0::3] == ["Danger", "Warning", "Caution", "Notice"]
    for grade, count, lines in zip(by_grade[0::3], by_grade[1::3], by_grade[2::3], strict=True):
        links = places(lines)
        assert sorted(links) == sorted(one.page for one in every if one.grade == grade.lower())
        assert len(links) == int(count)


def test_cautions_are_listed_in_the_order_of_the_job():
    pages = places(listed().split("## Warning")[0])
    order = caution_list.in_order(nav(), PAGES)
    assert pages == sorted(pages, key=order.index)
    assert pages[0] == "start/safety.md"


def test_links_inside_a_listed_caution_lead_to_the_same_place():
    pages = {
        "all.md": "# All\n<!-- all cautions -->\n",
        "run/start.md": """# Start
## Steps
!!! danger "Danger: fire"
    See [here](../a/b.md#c), [there](next.md) or [x](#y).
""",
    }
    made = caution_list.filled(pages["all.md"], "all.md", pages, None)
    assert "[here](a/b.md#c), [there](run/next.md) or [x](run/start.md#y)" in made
    assert "](run/start.md#steps)" in made


def test_a_fence_that_shows_a_caution_is_no_caution():
    text = '# Write\n## How\n```\n!!! danger "Danger: x"\n    y\n```\n'
    assert list(caution_list.cautions("write.md", text)) == []


# ---------------------------------------------------------------------------- links, and the way to each page


def anchors(markdown: str) -> set[str]:
    found = re.findall(r"^#{1,6} (.+?)(?: *\{.*\})? *$", without_fences(markdown), re.MULTILINE)
    plain = [re.sub(r"\[\[.+?\]\]|[*`_]|\[(.+?)\]\(.+?\)", r"\1", heading) for heading in found]
    asked = re.findall(r"^ *```(?:question|room)\n *([\w.]+)$", markdown, re.MULTILINE)
    names = [name for name in questions() if name in asked or name.split(".")[0] in asked]
    return {caution_list.slugify(heading, "-") for heading in plain} | {f"q-{name.replace('.', '-')}" for name in names}


def links(markdown: str) -> Iterator[str]:
    yield from re.findall(r"(?<!!)\[[^\[\]]+\]\(([^)\s]+)\)", without_fences(markdown))


@pytest.mark.parametrize("page", sorted(PAGES))
def test_no_link_is_dead(page):
    for link in links(PAGES[page]):
        if urlsplit(link).scheme:
            continue
        path, _, anchor = link.partition("#")
        target = (DOCS / page).parent / path if path else DOCS / page
        made = {"job.schema.json", "engine-card.schema.json"}  # the build puts them beside the page
        assert target.is_file() or target.name in made, link
        if anchor:
            assert anchor in anchors(PAGES[named(target.resolve())]), link


def taps(entries: object, depth: int) -> Iterator[tuple[str, int]]:
    if isinstance(entries, str):
        yield entries, depth
    elif isinstance(entries, dict):
        for below in entries.values():
            yield from taps(below, depth + isinstance(below, list))
    elif isinstance(entries, list):
        for entry in entries:
            yield from taps(entry, depth)


def test_each_page_is_in_the_nav_once_or_behind_the_foot_and_at_most_three_taps_away():
    found = list(taps(nav(), 1))
    # a tap opens the menu on a phone, one opens the section, one the page
    assert max(1 + depth for _, depth in found) <= 3
    foot = text_of(ROOT / "overrides/main.html")
    behind = [page for page in PAGES if f"'{page.removesuffix('.md').removesuffix('index').rstrip('/')}/'" in foot]
    assert len(behind) == 3
    checks = [page for page in PAGES if page.startswith("reference/checks-of-")]  # listed on Sources and checks
    assert sorted([*(path for path, _ in found), *behind, *checks]) == sorted(PAGES)


def test_the_nav_follows_the_job():
    order = caution_list.in_order(nav(), PAGES)

    def stands(page: str) -> int:
        return order.index(f"{page}.md")

    # clean before inspecting; each touch of a seat changes spring room and chamber; spacers need the chamber
    chain = (
        "start/safety",
        "start/planning",
        "start/baseline",
        "strip/take-the-engine-out",
        "strip/heads-and-barrels-off",
        "strip/valves-out",
        "heads/clean-and-decarbonise",
        "inspect/cylinder-heads",
        "heads/tidy-and-match-the-ports",
        "heads/lap-the-valves",
        "measure/spring-heights",
        "heads/assemble-the-valves",
        "measure/chamber-volume",
        "measure/deck-height",
        "measure/compression-and-spacers",
        "build/fit-rings-pistons-and-barrels",
        "build/fit-pushrod-tubes",
        "build/tighten-a-head-down",
        "build/fit-the-rocker-gear",
        "build/set-valve-lash",
        "refit/put-the-engine-in",
        "run/oil-pressure-before-the-spark",
        "run/first-start",
        "run/road-run",
        "run/early-rechecks",
        "handover/hand-the-vehicle-over",
    )
    assert [stands(page) for page in chain] == sorted(stands(page) for page in chain)


def test_home_leads_to_each_stage():
    assert "<!-- stages -->" in PAGES["index.md"]  # each page of the job, which the build puts there
    doors = {link.split("/")[0] for link in links(PAGES["index.md"])}
    assert doors >= {"start", "faults", "job"}


def test_there_are_pages_enough_and_none_is_a_stub():
    assert len(PAGES) >= 45
    lives_by_its_element = {
        "job/index.md",
        "job/engine-card.md",
        "reference/diagnostics.md",
    }
    filled_at_the_build = {
        page for page, text in PAGES.items() if re.search("^<!-- (all|checks of)", text, re.MULTILINE)
    }
    for page in set(PAGES) - lives_by_its_element - filled_at_the_build - {"index.md"}:
        enough = re.search("^```(calculator|rooms?)$", PAGES[page], re.MULTILINE) or len(PAGES[page].split()) >= 300
        assert enough, f"{page} holds no calculator, no room and fewer than 300 words"


# ---------------------------------------------------------------------------- numbers that the card holds

_AMOUNT = re.compile(r"(?<![\d.,/×])(\d+(?:[.,]\d+)?) ?(mm|cm³|N·m|bar|r/min|N|l|°)(?![\w/·³])")

MAY_BE_TYPED = {
    "reference/conversions.md": "tables of conversion: round numbers, no engine's",
    "reference/threads-and-torques.md": "tables of threads and drills, after ISO",
    "reference/published-limits.md": "limits of other engines, as their manuals print them",
    "reference/materials-and-sealers.md": "limits of materials and sealers, no engine's",
    "start/using-it-at-the-car.md": "shows how a reading is typed",
}
COINCIDES = {
    ("build/fit-the-rocker-gear.md", "0.3 mm"): "usual side play of a rocker, common practice",
    ("heads/lap-the-valves.md", "0.2 mm"): "how even a contact line looks by eye",
    ("heads/tidy-and-match-the-ports.md", "20 mm"): "how far a dressed step fades out, common practice",
    ("measure/compression-and-spacers.md", "1 mm"): "least deck clearance of common practice, whatever the engine",
    ("measure/deck-height.md", "0.02 mm"): "agreement of two readings of a dial gauge",
    ("measure/valve-to-piston.md", "2.0 mm"): "usual room at the inlet valve, common practice",
    ("measure/valve-to-piston.md", "2.5 mm"): "usual room at the exhaust valve, common practice",
    ("refit/exhaust.md", "0.2 mm"): "bow of a flange, common practice",
    ("refit/flywheel-and-clutch.md", "0.15 mm"): "usual end play of a crank, common practice",
}
"""A number of common practice that happens to be one of this card's too."""


def card_amounts() -> dict[tuple[float, str], list[str]]:
    """Every quantity on the demonstration engine's card, by number and unit, with its paths."""
    found: dict[tuple[float, str], list[str]] = {}

    def walk(tree: object, path: str) -> None:
        if isinstance(tree, dict) and "value" in tree:
            walk(tree["value"], path)
        elif isinstance(tree, dict):
            for key, below in tree.items():
                walk(below, f"{path}.{key}".strip("."))
        elif isinstance(tree, str) and (amount := _AMOUNT.fullmatch(tree)):
            found.setdefault((float(amount[1]), amount[2]), []).append(path)

    walk(read_card(DOCS / "engines" / "marram-f4.yml").data, "")
    return found


@every_page
def test_no_number_is_typed_that_the_card_holds(page):
    if page in MAY_BE_TYPED:
        return
    held = card_amounts()
    prose = without_fences(PAGES[page])
    typed = {(float(number.replace(",", ".")), unit): f"{number} {unit}" for number, unit in _AMOUNT.findall(prose)}
    both = {text: held[amount] for amount, text in typed.items() if amount in held and (page, text) not in COINCIDES}
    assert not both


# ---------------------------------------------------------------------------- plain words


def prose_of(markdown: str) -> str:
    """Return what is read as sentences: no tables, headings, fences; a card's value is one word."""
    text = without_fences(markdown)
    text = re.sub(r"^ *(\||#|!!!|\{|<).*$", "", text, flags=re.MULTILINE)
    text = re.sub(r"\[\[.+?\]\]", "8", text).replace("{cp}", "")
    text = re.sub(r"!?\[([^\]]+)\]\([^)]+\)", r"\1", text)
    return re.sub(r"[*`]|<[^>]+>", "", text)


def sentences_of(markdown: str) -> Iterator[str]:
    # a list item ends a sentence even without a full stop, and so does a paragraph
    for block in re.split(r"\n\s*\n|\n(?= *(?:[-*]|\d+\.)\s)", prose_of(markdown)):
        line = " ".join(re.sub(r"^\s*(?:[-*]|\d+\.)\s+", "", block).split())
        for sentence in re.split(r"(?<=[.?!])[\s\"')]+(?=[A-Z0-9*])", line):
            if re.search(r"[A-Za-z]{2}", sentence):
                yield sentence


@every_page
def test_no_sentence_is_longer_than_thirty_words(page):
    assert [sentence for sentence in sentences_of(PAGES[page]) if len(sentence.split()) > 30] == []


@every_page
def test_a_school_leaver_can_read_it(page):
    """Coleman-Liau index: 0.0588 L - 0.296 S - 15.8, letters and sentences in 100 words.

    Formula: Coleman and Liau, A computer readability formula designed for machine scoring,
    Journal of Applied Psychology 60 (1975) (from memory). It needs no syllables.
    """
    sentences = list(sentences_of(PAGES[page]))
    words = [word for sentence in sentences for word in re.findall(r"[A-Za-z'-]+", sentence)]
    letters = sum(len(re.findall(r"[A-Za-z]", word)) for word in words)
    grade = 0.0588 * 100 * letters / len(words) - 0.296 * 100 * len(sentences) / len(words) - 15.8
    assert grade <= 10
