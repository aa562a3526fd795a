"""What can hurt somebody is said before the step that can, in the grade that the safety page gives it.

No browser and no build: what is held here is what stands in ``docs/``.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from calculators.bench.question import rooms
from scripts.caution_list import GRADES
from tests.site.test_book import DOCS, PAGES, without_fences

CALCULATORS = DOCS.parent / "calculators"
every_page = pytest.mark.parametrize("page", sorted(PAGES))


@dataclass(frozen=True)
class Hazard:
    """The words of a deed that brings a danger with it, and the words of the caution that must stand before it."""

    deed: str
    caution: str


_SPUN = r"\bon the starter\b|\bspin (?:it\b(?! by hand)|once)|\bhelper spins\b|\bmeasure compression\b|\bcrank it\b"
_RUNS = (
    r"\bstart (?:it|the engine|and steady it)\b|\b(?:close up|run it) and (?:start|listen)\b|\brun it\b|\bat idle\b|"
    r"\bfast idle\b|\bwarm (?:it|the engine) up\b|\bby light\b"
)
LEAKAGE = r"\bleak-?down test\b|\bmeasure leakage\b|\bor leakage\b"
HAZARDS = {
    "solvent": Hazard(r"(?<!not )\bsolvents?\b(?! (?:alone|leaves))|\bpenetrant\b", r"solvent|cleaner|vapour"),
    "phosgene": Hazard(r"\bleaves no film\b|\bchlorinated\b", r"chlorinated.*phosgene"),
    "fuel": Hazard(
        r"\b(?:connect|clamp|close|drain|open|empty|fill|check|prove)\b[^.]*\b(?:fuel|petrol|float chambers?)\b",
        r"\b(?:petrol|fuel)\b",
    ),
    "fan and belt at the starter": Hazard(_SPUN, r"\bfan\b"),
    "fuel mist from open plug holes": Hazard(_SPUN, r"\b(?:mist|mixture)\b.*\bholes\b|\bholes\b.*\b(?:mist|mixture)\b"),
    "turning the crank": Hazard(
        r"(?<!not )\bturn(?:s|ed|ing)? the (?:crank|engine)\b|\bcrank (?:by hand|twice (?:round|by hand))\b|"
        r"\bturn twice\b|\bturn to (?:firing )?top dead centre\b|\bby turning twice\b",
        r"pinch points|cannot start|by itself|while you turn",
    ),
    "air in a cylinder, where the arm may be, and low pressure first": Hazard(
        LEAKAGE, r"^(?=.*\bair\b)(?=.*\barms?\b)(?=.*\blow pressure first\b)"
    ),
    "compressed air": Hazard(
        r"\bcompressed air\b|\bblow(?:n|s)?\b[^.]*\b(?:out|through|clean)\b|"
        r"\bair at low pressure\b|\blow-pressure air\b",
        r"\bair\b.*\b(?:eyes|blood)\b",
    ),
    "jack and stands": Hazard(
        r"\b(?:with|by|on) (?:the|a) jack\b|\brated stands\b|\bunder the vehicle\b|\b(?:raise|lower) the vehicle\b|"
        r"\b(?:drain|change) the oil\b|\boil and filter\b|\boffer the system up\b",
        r"vehicle (?:that|above)",
    ),
    "the engine's weight": Hazard(r"\b(?:lift|sling|hoist|support) the engine\b", r"engine (?:that|crushes|tilts)"),
    "battery": Hazard(
        r"\b(?:dis)?connect the battery\b|\bbattery (?:lead|on)\b", r"battery.*(?:acid|gas|welds)|(?:acid|gas).*battery"
    ),
    "fan and belt of a running engine": Hazard(_RUNS, r"\bfan\b"),
    "exhaust gas": Hazard(_RUNS, r"carbon monoxide|exhaust gas"),
    "hot parts": Hazard(
        r"\bhot (?:plate|air|oil)\b|\bwarm the (?:piston|case)\b|\bin hot water\b|\bwhile it cools\b|\bdull red\b|"
        r"\bdrain the oil\b|\boil and filter\b",
        r"\bburns?\b|\bscalds?\b|\bglow",
    ),
    "a hot-air gun": Hazard(r"\bhot-air gun\b", r"\bburns?\b"),
    "paraffin": Hazard(
        r"\b(?:pour|fill)\b[^.]*\bparaffin\b|\bspirit and paraffin\b", r"\bparaffin\b.*catch(?:es)? fire"
    ),
    "leaded deposits": Hazard(
        r"\b(?:scrape|loosen|clean|lift)\b[^.]*\bcarbon\b|\bcarbon\b[^.]*\bscraped\b|\bscrape the chambers\b|"
        r"\bclean the (?:piston|crown|stem|ports)",
        r"\blead(?:ed)?\b.*\bpoison",
    ),
    "clutch dust": Hazard(r"\bclutch (?:cover|plate|is off|by their marks)|\bclean the clutch\b", r"asbestos"),
    "asbestos": Hazard(
        r"\bold (?:gasket|packing|sound deadening|lagging)s?\b|\btake off the old\b|\btake the rocker covers off\b",
        r"asbestos",
    ),
    "a rocker cover's bail": Hazard(
        r"(?<!clutch )(?<!protective )\bcovers? off\b|\bcover's bail\b|\bclose the bail\b", r"\bbail"
    ),
    "pipes that fall": Hazard(r"\boffer the system up\b|\bhang the weight\b", r"slips off its studs"),
    "an engine that swings over": Hazard(
        r"\bslacken pass by pass\b|\bturn(?:ed on its| the) stand\b|\bturn (?:this|one) side up\b",
        r"\bheavier on\b.*\bswings\b",
    ),
    "springs under load": Hazard(
        r"\b(?:press|compress|squeeze) the spring\b|\blet the spring up\b|\bvalves? with (?:its|their) springs?\b",
        r"springs?\b",
    ),
    "circlips": Hazard(r"\b(?:fit|take) [^.]*\bcirclip\b", r"circlip.*\bblind"),
    "high voltage": Hazard(r"\bignition on\b|\bshort (?:a|one|each) plug\b|\blight on each lead\b", r"high voltage"),
}
"""Deeds are looked for, not bare words: a lead may be a wire, and hot may be the idle that a pressure is given for."""


@dataclass(frozen=True)
class Told:
    """A piece of a page as a reader meets it: a caution, or words of a numbered step."""

    step: str
    words: str
    caution: bool


_STEP = re.compile(r"(?P<number>\d+)\.\s+(?P<line>\S.*)", re.DOTALL)
_DEED = re.compile(r"\*\*(?P<deed>.+?)\*\*|(?P<sentence>[^.]+\.)$")
_CAUTION = re.compile(r' *!!! \w+ "(?P<title>.+)"\n(?P<body>(?:.|\n)*)')


def told(markdown: str) -> Iterator[Told]:
    """Give the cautions and the steps of a page in order; a step's bare headline comes after the caution below it.

    Examples
    --------
    >>> text = '''1. **Wash it.**
    ...
    ...     !!! warning "Warning: solvent"
    ...         It burns.
    ...
    ...     With solvent.
    ... '''
    >>> [(piece.step, piece.words) for piece in told(text)]
    [('step 1, Wash it', 'Warning: solvent It burns.'), ('step 1, Wash it', 'Wash it. With solvent.')]
    """
    step, headline, listed = "", "", False
    blocks = re.split(r"\n\s*\n", re.sub(r"(?m)^(?=\d+\.\s)", "\n", without_fences(markdown)))
    for block in (found.strip("\n") for found in blocks if found.strip()):
        if caution := _CAUTION.fullmatch(block):
            yield Told(step, plain(f"{caution['title']} {caution['body']}"), caution=True)
            continue
        begins = _STEP.fullmatch(block)
        if not begins and not (listed and block.startswith(" ")):
            listed = False
            continue
        if begins:
            if headline:
                yield Told(step, plain(headline), caution=False)
            listed, deed = True, _DEED.match(begins["line"])
            name = plain(deed["deed"] or deed["sentence"]).rstrip(".,") if deed else ""
            step, headline = f"step {begins['number']}" + (f", {name}" if name else ""), begins["line"]
            if deed and deed.end() == len(begins["line"]):
                continue  # nothing but the headline: nobody acts before what stands below it
            block = ""
        yield Told(step, plain(f"{headline} {block}"), caution=False)
        headline = ""
    if headline:
        yield Told(step, plain(headline), caution=False)


def plain(markdown: str) -> str:
    """Return words in one line, without marks and without the names of other pages."""
    return " ".join(re.sub(r"\[[^\[\]]+\]\(.*?\)|[*\[\]]", "", markdown).split())


def unwarned(page: str, markdown: str) -> Iterator[str]:
    """Say of each hazard which step of the page comes before its caution."""
    for name, hazard in HAZARDS.items():
        for piece in told(markdown):
            if piece.caution and re.search(hazard.caution, piece.words, re.IGNORECASE):
                break
            if not piece.caution and (found := re.search(hazard.deed, piece.words, re.IGNORECASE)):
                yield f"{page}, {piece.step}: no caution about {name} stands before {found[0]!r}"
                break


@every_page
def test_a_caution_stands_before_the_first_step_that_it_belongs_to(page):
    assert list(unwarned(page, PAGES[page])) == []


def test_where_leakage_is_measured_the_lock_is_named_and_the_place_of_the_piston():
    found = [
        page
        for page, text in PAGES.items()
        if any(re.search(LEAKAGE, piece.words, re.IGNORECASE) for piece in told(text) if not piece.caution)
    ]
    assert len(found) >= 3
    for page in found:
        assert re.search(r"lock\b.*\bring gear", PAGES[page], re.IGNORECASE), page
        assert re.search(r"exactly at (?:firing top|its top|top dead centre)", PAGES[page], re.IGNORECASE), page


@every_page
def test_no_step_is_swallowed_by_the_paragraph_before_it(page):
    """A number straight below an indented line is read as more of that line, and the step is gone."""
    assert re.findall(r"(?m)^ +\S.*\n\d+\. .*", without_fences(PAGES[page])) == []


@pytest.mark.parametrize("hazard", HAZARDS)
def test_each_hazard_is_met_somewhere_in_the_book(hazard):
    steps = [piece.words for text in PAGES.values() for piece in told(text) if not piece.caution]
    assert any(re.search(HAZARDS[hazard].deed, words, re.IGNORECASE) for words in steps)


def test_a_step_without_its_caution_is_named_with_page_and_words():
    page = (
        "# Wash\n\n1. **Wipe it.**\n\n2. **Wash it.** With solvent.\n\n"
        '    !!! warning "Warning: solvent"\n        It burns.\n'
    )
    assert list(unwarned("a/b.md", page)) == [
        "a/b.md, step 2, Wash it: no caution about solvent stands before 'solvent'"
    ]


# ---------------------------------------------------------------------------- one thing before another

IN_ORDER = {
    "build/set-valve-lash": ("Spanner and strap off the pulley", "Battery lead last"),
    "build/tighten-a-head-down": (
        "rags out and counted",
        "clamps of these barrels come off now",
        "**Run the nuts down by hand.**",
        "The other side's barrels clamped",
    ),
    "heads/assemble-the-valves": ("a turn of tape over", "take sleeve or tape off", "**Compress the spring.**"),
    "build/fit-pushrod-tubes": (
        "Deflectors under and between the barrels",
        "**Stand the tubes in the case.**",
        "Two people turn it",
        "With the engine turned on its stand",
        "**Offer the head up.**",
    ),
    "run/first-start": (
        "**Look at the gauge first.**",
        "**Hold a fast idle.**",
        "Do steps 15 to 17",
        "**Or load it on rollers.**",
        "nobody in front, behind or beside the wheels",
        "straps it down",
        "**Look while it cools.**",
    ),
    "refit/oil-cooler-and-shrouding": ("plugs and tape out of their holes", "**Fit cooler and seals.**"),
    "run/trace-oil-leaks": ("breather's hose off", "glove or gauge off, hose back on"),
    "refit/exhaust": (
        "come out of the ports, counted",
        "A system that slips off its studs",
        "Every flange must slide onto its studs",
        "**Hang the weight",
    ),
    "refit/fuel-and-oil-pipes": (
        "**Make it safe.**",
        "Clamp the line at the tank",
        "Bend the emptied piece",
        "Not before the engine is in",
        "then take the clamp off the tank's line",
        "Wipe every joint",
    ),
    "refit/manifolds-and-carburettors": (
        "paper and tape too",
        "One rag in each port",
        "**Take every rag out again.**",
        "**Look for the hidden screws.**",
        "**Fit gaskets and manifold.**",
        "with either return spring taken off",
        "Both springs back on",
        "**Connect fuel last.**",
        "Rag or lid off each carburettor's mouth",
    ),
    "refit/put-the-engine-in": (
        "**Secure the vehicle.**",
        "**Look over the empty bay.**",
        "Bag off the gearbox's mouth",
        "In gear,",
        "what held the gearbox",
        "**Set the clutch.**",
        "The earth (ground) strap first",
        "**Neutral, then lower the vehicle.**",
        "Take off the straps",
        "Tools and rags counted",
        "**Connect the battery",
    ),
    "run/oil-pressure-before-the-spark": (
        "lead off the battery, key out",
        "Take the spanner off",
        "battery's lead back on",
        "**Spin it on the starter.**",
        "Covers on and closed before the next burst",
        "look from clear of fan and belt",
        "Stop, key out; then wipe",
        "**Set the timing standing still",
        "the spanner off the crank",
        "plugs by hand",
    ),
    "run/set-the-timing": (
        "Spanner off the crank",
        "**Read the dwell.**",
        "vacuum hose off and plugged",
        "Vacuum hose back on",
    ),
    "run/early-rechecks": (
        "**Rocker covers off.**",
        "and the switch goes back in",
        "Spanner off the crank first",
        "**Run it until warm.**",
        "**Compression or leakage, warm.**",
        "**Oil and filter.**",
        "oil to the mark, before anybody starts it",
        "**Carburettors.**",
    ),
    "run/road-run": ("**Change the oil early.**", "Oil to the mark before it is lowered and started"),
    "build/find-top-dead-centre": (
        "every plug out, and turn by hand only",
        "**Free the valves of number 1.**",
        "**Put the stop in.**",
        "**Do both again.**",
        "**Take the stop out.**",
        "**Turn to the middle and look.**",
    ),
    "refit/flywheel-and-clutch": (
        "Barrels clamped or heads on",
        "**Clean without dust.**",
        "**Measure the end play.**",
        "**Fit the seal.**",
        "**Measure the end play again.**",
        "**Fit the clutch plate and cover.**",
        "Bar and lock off",
    ),
    "refit/distributor": ("plugs out", "**Find the firing top of number 1.**", "**Clamp it lightly.**"),
    "refit/clean-the-carburettors": ("**Empty it outdoors.**", "**Count the mixture screws in.**", "Empty it again"),
    "refit/wire-the-engine": (
        "Both leads away from their posts",
        "**Bolt the earth strap on first.**",
        "**Measure before the battery goes on.**",
        "**Battery on, earth (ground) lead last.**",
        "Gear lever in neutral, brake on",
    ),
    "run/retorque-in-the-vehicle": (
        "**Let it stand overnight.**",
        "**Read the lash before you touch a nut.**",
        "**Torque the nuts again.**",
        "**Set the lash, all valves.**",
        "Spanner off the crank",
    ),
    "run/change-the-oil": (
        "**Secure the vehicle.**",
        "**Drain it.**",
        "**Fill it.**",
        "**Start it and watch the lamp.**",
    ),
    "inspect/hone-the-barrels": (
        "**Measure first.**",
        "**Wet stones and bore.**",
        "**Keep the dust down.**",
        "**Hone.**",
        "**Wash with hot water and soap.**",
        "**Dry and oil at once.**",
    ),
    "measure/valve-to-piston": (
        "**Make sure that it cannot start.**",
        "Clamps on each barrel",
        "**Clay: lay it on the crown.**",
        "**Clay: put the head on.**",
        "**Clay: set the lash of both valves to nothing.**",
        "**Clay: turn the crank twice round.**",
        "**Clay: take the head off and cut.**",
        "**Springs: put them in.**",
        "**Springs: head on, lash to nothing.**",
        "**Springs: read at seven places of the crank.**",
        "**Judge.**",
        "Light springs out, the right ones in",
    ),
    "strip/lock-the-flywheel": (
        "Battery off, plugs out",
        "Use the toothed segment",
        "**Take up the play.**",
        "**Take the lock off before you turn the crank.**",
    ),
}
NEVER = {
    "an engine loaded on stands, or by its brakes": r"driven wheels off|brakes are the load|brakes used as a load",
    "an open column of liquid on a running engine": r"manometer with (?:water|oil)|liquid manometer",
    "a crank turned backwards unasked": r"^turning: backwards$",
    "figures of one family of engines": r"engines of one family",
    "a card that forbids the start for a lamp that is always on before it": r"do not start if the lamp",
}


@pytest.mark.parametrize("page", IN_ORDER)
def test_what_makes_safe_comes_first(page):
    text = PAGES[f"{page}.md"].split("\n## Steps\n")[1]
    found = [text.find(words) for words in IN_ORDER[page]]
    assert -1 not in found
    assert found == sorted(found)


@pytest.mark.parametrize("deed", NEVER)
def test_neither_page_nor_calculator_asks_for_it(deed):
    written = PAGES | {str(path): path.read_text("utf-8") for path in (DOCS.parent / "calculators").rglob("*.py")}
    assert [name for name, text in written.items() if re.search(NEVER[deed], text, re.IGNORECASE | re.MULTILINE)] == []


@every_page
def test_an_engine_runs_or_is_spun_out_of_gear_and_braked(page):
    """A helper at the key, a throttle opened by hand: in gear it drives over whoever stands there."""
    said, runs = "", False
    for piece in told(PAGES[page]):
        said += f" {piece.words}"
        if not piece.caution and not runs and re.search(f"{_SPUN}|{_RUNS}", piece.words, re.IGNORECASE):
            runs = True
            assert stands_still(said), piece.step
    if any("carbon monoxide" in piece.words.lower() for piece in told(PAGES[page]) if piece.step):
        assert stands_still(said)


def stands_still(words: str) -> bool:
    """Whether words put a vehicle out of gear and its brake on."""
    return all(
        re.search(pattern, words, re.IGNORECASE) for pattern in (r"\bneutral\b|\bout of gear\b", r"\bbrake on\b")
    )


def test_rags_come_out_of_the_mouths_before_the_crank_turns_between_bare_rods():
    """A rag round a rod is wound in: common practice, no source."""
    steps = {
        f"{page}, {name}": " ".join(piece.words for piece in told(PAGES[page]) if piece.step == name)
        for page in PAGES
        for name in {piece.step for piece in told(PAGES[page])}
    }
    turned = {name: words for name, words in steps.items() if "loop of strap" in words}
    assert len(turned) >= 3
    assert [name for name, words in turned.items() if not re.search(r"\brags? (?:comes )?out\b", words, re.I)] == []


_RAG_IN = r"\brags? (?:in|round|for)\b"
_RAG_OUT = r"\brags? (?:comes )?out\b|\btake (?:the|every) rags? out\b"


@every_page
def test_a_rag_that_goes_in_comes_out(page):
    words = " ".join(piece.words for piece in told(PAGES[page]) if not piece.caution)
    assert not re.search(_RAG_IN, words, re.IGNORECASE) or re.search(_RAG_OUT, words, re.IGNORECASE)


def test_whoever_leaves_out_the_last_steps_of_the_lash_is_told_to_take_the_spanner_off():
    before = PAGES["build/set-valve-lash.md"].split("\n## ")[0]
    assert "leave out steps 3, 4 and 17" in before
    assert "After step 15 take spanner and strap off the pulley" in before


# ---------------------------------------------------------------------------- grades

_BODY = (
    r"fingers?|fingertips?|(?<!-)hands?(?! tight)|palms?|arms?|wrists?|teeth|tooth|toes?|knuckles|limbs|chest|eyes?|"
    r"face|skin|lungs?|nerves|heart|hair|clothes|people|somebody|whoever|you|bones?"
)
GRAVE = (
    r"\bkills?\b|\bdeath\b|\bblinds?\b|\bcancer\b|\bpoison|\bcrush(?:es|ed)? (?!finger)|\btakes? off fingers|"
    r"\benters? the blood|\bto the bone|\bweak heart|\bbreaks? (?:an? )?(?:arm|wrist|hand|bone)|\bexplodes|"
    r"\bflammable|\bcatch(?:es)? fire|\bsets? fire"
)
"""Injuries that do not heal, or may not."""
INJURY = (
    rf"{GRAVE}|\b(?:{_BODY})\b|\bdizzy\b|\bfaint\b|\bdrows|\bdaze|\bscald|\binjur|\bshocks?\b|"
    r"\bburns? (?:on touch|for)\b|\bslips? underfoot"
)


def what_happens(page: str) -> Iterator[tuple[str, str]]:
    """Give each caution's grade, and what happens to whoever ignores it: all but its last line, the advice."""
    for opening in re.finditer(
        r'^( *)!!! (\w+) "(.+)"\n((?:\1    .*\n|\n(?=\1    ))+)', without_fences(page), re.MULTILINE
    ):
        lines = [line.strip() for line in opening[4].splitlines() if line.strip()]
        yield opening[2], " ".join([opening[3], *(lines[:-1] or lines)])


def misgraded(grade: str, words: str) -> str:
    """Say what is wrong with a grade for what happens, or nothing."""
    grave, hurt = (bool(re.search(pattern, words, re.IGNORECASE)) for pattern in (GRAVE, INJURY))
    if grade == "notice":
        return "names an injury: that is a caution at the least" if hurt else ""
    if not hurt:
        return "names no injury: that is a notice"
    if grade == "caution" and grave:
        return "names a grave injury: that is a warning at the least"
    if grade == "danger" and not grave:
        return "names no grave injury: that is no danger"
    return ""


@every_page
def test_the_signal_word_is_the_one_that_the_safety_page_defines(page):
    found = [
        f"{grade}: {words!r} {wrong}"
        for grade, words in what_happens(PAGES[page])
        if (wrong := misgraded(grade, words))
    ]
    assert found == []


@pytest.mark.parametrize(
    ("grade", "words", "wrong"),
    [
        ("caution", "The stud yields.", "names no injury"),
        ("notice", "The bail breaks a finger.", "names an injury"),
        ("caution", "Air at the skin can enter the blood.", "names a grave injury"),
        ("danger", "Pistons hole and rods break.", "names no injury"),
        ("danger", "It nips fingertips.", "names no grave injury"),
        *((grade, "It falls and kills you.", "") for grade in ("danger", "warning")),
    ],
)
def test_a_wrong_grade_is_told(grade, words, wrong):
    assert misgraded(grade, words).startswith(wrong)
    assert bool(misgraded(grade, words)) == bool(wrong)


def test_every_caution_is_graded_here():
    counted = sum(1 for text in PAGES.values() for _ in what_happens(text))
    assert counted == sum(len(re.findall(r"(?m)^ *!!! ", without_fences(text))) for text in PAGES.values())
    assert {grade for text in PAGES.values() for grade, _ in what_happens(text)} == set(GRADES)


# ---------------------------------------------------------------------------- grades of what a calculator says

_NOT_A_PERSON = (
    r"\bby hand\b|\bthe hand in the middle\b|\b(?:before|while|that) you \w+|"
    r"\b(?:sealing|with the|or the) face\b|\bis crushed\b|\bcrush of\b"
)
"""Words of the trade, and of advice, that sound like the body or an injury to it."""


def cautions_in(source: str) -> Iterator[tuple[str, str]]:
    """Give grade and words of each caution that a module writes; what is worked out in them reads as a blank."""
    nodes = sorted(
        (node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call | ast.Assign)),
        key=lambda node: node.lineno,
    )
    named: dict[str, ast.expr] = {}
    for node in nodes:
        if isinstance(node, ast.Assign):
            named |= {target.id: node.value for target in node.targets if isinstance(target, ast.Name)}
        elif getattr(node.func, "id", "") == "Caution":
            arguments = [
                named.get(argument.id, argument) if isinstance(argument, ast.Name) else argument
                for argument in node.args
            ]
            grade, words = (
                "".join(
                    part.value
                    for part in ast.walk(argument)
                    if isinstance(part, ast.Constant) and isinstance(part.value, str)
                )
                for argument in arguments
            )
            yield grade, words


def misgraded_here(grade: str, words: str) -> str:
    """Say what is wrong with the grade of a calculator's caution, advice and all; a notice names no grave injury."""
    if grade not in GRADES:
        return f"{grade!r} is no grade that can be read here"
    words = re.sub(_NOT_A_PERSON, "", words, flags=re.IGNORECASE)
    if grade == "notice" and not re.search(GRAVE, words, re.IGNORECASE):
        return ""
    return misgraded(grade, words)


@pytest.mark.parametrize("room", rooms())
def test_a_calculator_warns_of_injury_and_notes_the_rest(room):
    sources = {module.name: module.read_text("utf-8") for module in sorted((CALCULATORS / room).glob("*.py"))}
    found = [(name, *caution) for name, source in sources.items() for caution in cautions_in(source)]
    assert len(found) >= 3
    assert [
        f"{name}: {grade}: {words!r} {wrong}" for name, grade, words in found if (wrong := misgraded_here(grade, words))
    ] == []


def test_a_calculators_wrong_grade_is_found():
    source = (
        'yield Caution("warning", f"It seizes at {speed}.")\n'
        'Caution("notice", "It knocks.")\n'
        'text = f"{valve} burns."\n'
        'Caution("caution", text)\n'
        'text = "It falls and kills you."\n'
        'Caution("danger", text)\n'
        'Caution("caution", "Turn it by hand before you set it.")\n'
        'Caution("caution" if high else "notice", "It knocks.")\n'
        'Caution("notice", "It falls and kills you.")'
    )
    assert [misgraded_here(grade, words) for grade, words in cautions_in(source)] == [
        "names no injury: that is a notice",
        "",
        "names no injury: that is a notice",
        "",
        "names no injury: that is a notice",
        "'cautionnotice' is no grade that can be read here",
        "names an injury: that is a caution at the least",
    ]
