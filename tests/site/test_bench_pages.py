"""The pages from the first look to the last measurement: what they say of what hurts somebody, or the engine.

No browser and no build: what is held here is what stands in ``docs/``.
"""

from __future__ import annotations

import math
import posixpath
import re

import pint
import pytest

from calculators import read_card
from calculators.bench.question import questions
from scripts import caution_list, procedure_pages
from tests.site.test_book import DOCS, PAGES, PROCEDURES, links, sections, text_of

STAGES = ("start", "strip", "inspect", "heads", "measure")
READ = pint.UnitRegistry()
HELD = sorted(page for page in PAGES if page.split("/")[0] in STAGES)


def steps(page: str) -> list[str]:
    """Return the steps of a procedure, each with its cautions."""
    return re.split(r"^(?=\d+\.\s)", sections(PAGES[page])["Steps"], flags=re.MULTILINE)[1:]


def step_that_says(page: str, words: str) -> int:
    """Return the number of the first step in which ``words`` are found."""
    found = [number for number, step in enumerate(steps(page), 1) if re.search(words, step, re.DOTALL)]
    assert found, f"{page} has no step with '{words}'"
    return found[0]


def cautions(page: str) -> list[caution_list.Caution]:
    return list(caution_list.cautions(page, PAGES[page]))


# ---------------------------------------------------------------------------- the trial assembly

TRIAL = "measure/compression-and-spacers.md"


def test_trial_assembly_ends_with_the_rings_and_never_with_a_head():
    pins = step_that_says(TRIAL, r"\*\*Check each pin")
    off = step_that_says(TRIAL, r"\*\*Take the barrels off")
    gaps = step_that_says(TRIAL, r"ring-gaps\.md")
    fitted = step_that_says(TRIAL, r"fit-rings-pistons-and-barrels\.md")
    assert pins < off < gaps < fitted == len(steps(TRIAL))
    assert "tighten-a-head-down" not in sections(PAGES[TRIAL])["Steps"]


@pytest.mark.parametrize("page", [TRIAL, "measure/deck-height.md"])
def test_pins_without_circlips_are_centred_before_the_crank_turns_and_it_never_goes_round(page):
    assert step_that_says(page, "pin pushed to its middle") < step_that_says(page, r"\*\*Turn to top dead centre")
    assert re.search(r"stop at any drag", sections(PAGES[page])["Steps"])
    deeds = re.findall(r"^\d+\. \*\*(.+?)\*\*", sections(PAGES[page])["Steps"], re.MULTILINE)
    assert [deed for deed in deeds if re.search(r"twice|round", deed)] == []


# ---------------------------------------------------------------------------- loosening


def test_no_tightening_figure_stands_where_a_head_is_slackened():
    page = PAGES["strip/heads-and-barrels-off.md"]
    assert "```" not in page.replace("```drawing", "").replace("    ```\n", "")
    assert "backwards" not in page
    assert re.findall(r"\[\[(torque[a-z_]*\.\w+\.\w+)\]\]", page) == ["torque.stud_order.loosening"]


# ---------------------------------------------------------------------------- the leakage test

BASELINE = "start/baseline.md"


def test_leakage_is_measured_with_the_crank_locked_at_its_top_after_very_low_pressure():
    top = step_that_says(BASELINE, r"exactly at its top")
    measured = step_that_says(BASELINE, r"\*\*Measure leakage")
    assert top < measured
    found = steps(BASELINE)[top - 1]
    told = [one.words for one in cautions(BASELINE) if one.step.startswith(f"{top},")]
    assert any(re.search(r"low pressure first.*no arm inside the bar's circle", one, re.IGNORECASE) for one in told)
    assert "1.4 bar (20 psi)" in found
    assert re.search(r"Lock into the ring gear.*Bar off the nut.*open the air slowly", steps(BASELINE)[measured - 1])
    assert "AC 43.13-1B, 8-14" in sections(PAGES[BASELINE])["Sources"]
    assert "proper tool" not in PAGES[BASELINE]


@pytest.mark.parametrize(("bar", "psi"), [("1.4 bar", "20 psi"), ("5.5 bar", "80 psi"), ("2 bar", "30 psi")])
def test_pressures_in_bar_are_those_of_the_sources_in_psi(bar, psi):
    """20 and 80 psi: FAA AC 43.13-1B, 8-14.

    30 psi: OSHA, 29 CFR 1910.242(b), second-hand; US Army TM 10-4320-310-14, 5-10, which calls it 2.06 bar.
    """
    assert READ(bar).to("psi").magnitude == pytest.approx(READ(psi).magnitude, rel=0.04)
    written = [page for page in HELD if f"{bar} ({psi})" in PAGES[page] or f"{psi} ({bar})" in PAGES[page]]
    assert written


def test_a_hand_holds_the_bar_at_the_first_pressure_and_not_at_the_full_one():
    """Gas force on the crown times the crank's lever, at its worst angle, by the slider-crank's geometry."""
    dimensions = read_card(DOCS / "engines" / "marram-f4.yml").data["dimensions"]
    bore, stroke, rod = (READ(dimensions[name]["value"]).to("m").magnitude for name in ("bore", "stroke", "rod_length"))

    def travel(angle: float) -> float:
        crank = stroke / 2
        return crank + rod - crank * math.cos(angle) - math.sqrt(rod**2 - (crank * math.sin(angle)) ** 2)

    lever = max(travel(angle + 5e-5) - travel(angle - 5e-5) for angle in (n * 1e-3 for n in range(1, 3141))) / 1e-4
    told = re.search(
        r"bar at (\S+ bar): .*? (\d+ N) at worst .*? (\d+ N) at (\S+ bar)", sections(PAGES[BASELINE])["Sources"]
    )
    assert told
    for bar, push in ((told[1], told[2]), (told[4], told[3])):
        worked_out = READ(bar).to("Pa").magnitude * math.pi / 4 * bore**2 * lever / 0.5
        assert worked_out == pytest.approx(READ(push).magnitude, rel=0.01)


# ---------------------------------------------------------------------------- vehicle, flywheel


def test_a_vehicle_is_secured_against_tipping_before_its_engine_leaves():
    page = "strip/take-the-engine-out.md"
    told = [one for one in cautions(page) if re.search(r"tips", one.title)]
    assert [one.grade for one in told] == ["danger"]
    drawn = step_that_says(page, r"\*\*Draw the engine straight back")
    assert int(told[0].step.split(",")[0]) < step_that_says(page, r"\*\*Undo the engine") < drawn
    assert "Look at every stand" in steps(page)[drawn - 1]


def test_clutch_dust_is_named_before_engine_and_gearbox_part():
    page = "strip/take-the-engine-out.md"
    told = next(one for one in cautions(page) if one.title == "clutch dust")
    assert int(told.step.split(",")[0]) <= step_that_says(page, r"\*\*Draw the engine straight back")


def test_the_flywheels_nut_has_a_hold_of_its_own_after_the_pulleys():
    page = "strip/lock-the-flywheel.md"
    hold = step_that_says(page, r"\*Pulley\.\*.*\*Flywheel\.\*.*two clutch holes")
    pulley, flywheel = (step_that_says(page, rf"\*\*Undo the {name}'s nut") for name in ("pulley", "flywheel"))
    lifted = step_that_says(page, r"\*\*Lift the flywheel off")
    assert hold < pulley < flywheel < lifted
    assert "Pulley first" in PAGES[page]
    assert "flywheel first" in steps(page)[-2]


# ---------------------------------------------------------------------------- leaded carbon, chlorinated cleaner

REMOVES_CARBON = {
    "heads/clean-and-decarbonise.md": "Loosen the carbon",
    "inspect/barrels-pistons-and-rings.md": "Clean the piston",
    "inspect/cylinder-heads.md": "Clean until metal shows",
    "inspect/valves.md": "Clean the stem",
    "measure/chamber-volume.md": "Clean the chamber",
    "measure/compression-and-spacers.md": "Clean the faces",
    "measure/deck-height.md": "Clean the crown's edge",
    "strip/heads-and-barrels-off.md": "Lift the head off",
    "strip/valves-out.md": "Free a stuck valve",
}


@pytest.mark.parametrize("page", REMOVES_CARBON)
def test_lead_in_carbon_is_named_before_the_carbon_comes_off(page):
    told = [one for one in cautions(page) if re.search(r"\bleaded fuel\b.*poisons", one.words)]
    assert told
    assert {one.grade for one in told} == {"warning"}
    assert int(told[0].step.split(",")[0]) <= step_that_says(page, re.escape(REMOVES_CARBON[page]))


def test_every_page_with_a_solvent_refuses_the_chlorinated_ones():
    with_solvent = [
        page
        for page in PAGES
        if page != "reference/all-cautions.md"
        if any(re.search(r"solvent|penetrant", one.words, re.I) for one in cautions(page))
    ]
    assert len(with_solvent) >= 15
    assert [page for page in with_solvent if "chlorinated" not in " ".join(one.words for one in cautions(page))] == []


def test_safety_page_says_what_phosgene_comes_from_and_by_which_names():
    told = next(one.words for one in cautions("start/safety.md") if "phosgene" in one.title)
    for words in ("hot metal", "arc", "ultraviolet", "kills", "trichloroethylene", "dichloromethane", "hospital"):
        assert words in told


def test_what_penetrating_oil_was_put_on_is_not_run_hot():
    days = sections(PAGES["start/planning.md"])["The days"]
    assert days.index("the engine runs for the last time") < days.index("penetrating oil")
    assert days.index("!!! caution") < days.index("1. **First day")


# ---------------------------------------------------------------------------- facts

FACTS = {
    "inspect/cylinder-heads.md": (r"shows water|once by a quarter", r"not turned: turning smears"),
    "inspect/barrels-pistons-and-rings.md": (
        r"hone or replace|can be honed",
        r"rebore or replace: honing does not cure",
    ),
    "measure/ring-gaps.md": (r"must bore or hone", r"must bore it"),
    "inspect/valves.md": (r"Lay them in the groove: equal gaps", r"grooves:\* they are made to touch"),
    "heads/assemble-the-valves.md": (r"\| The halves touch", r"with them no gap is right"),
    "heads/clean-and-decarbonise.md": (r"scratch glows|soft wheel", r"carbon takes hold in a scratch"),
    "heads/tidy-and-match-the-ports.md": (r"[Mm]agnet and a white cloth|Vacuum first", r"aluminium is not magnetic"),
    "heads/lap-the-valves.md": (r"pressed and turned", r"turning smears blue over a low spot"),
    "strip/heads-and-barrels-off.md": (
        r"hot water|Guide the bare rods by hand",
        r"No water: it runs into the open case",
    ),
    "inspect/case-faces-and-studs.md": (r"Vacuum the hole", r"No vacuum cleaner on its chips"),
    "inspect/valve-springs.md": (r"weaker than the limit by less", r"within 2 % of the limit, above or below"),
    "start/safety.md": (r"runs on stands or rollers|step 12", r"on rollers with their trained operator"),
    "strip/lock-the-flywheel.md": (r"brake on, gear in", r"gear lever in neutral: the lock holds the crank"),
    "strip/take-the-engine-out.md": (r"Jack or strap under it", r"No jack: it stays there until the engine is back"),
    "strip/tag-and-keep-in-order.md": (r"wired to the stem", r"tied to the stem with string"),
    "measure/valve-to-piston.md": (r"millimetre and a half", r"2\.5 mm at the exhaust, 2\.0 mm at the inlet"),
    "build/seal-the-barrel-bases.md": (r"until the time on the tag", r"none comes off before its head goes on"),
}
"""What a page once said wrongly, and what it says instead.

Collets: Internal Combustion Engine Handbook, van Basshuysen and Schaefer, figure 7-146
(text from a second-hand copy, title from memory).
Vacuum cleaners: NFPA 484 (from second-hand quotations). Else: common practice, no source.
"""


AIR = re.compile(r"compressed air")
LEAST_ROOM = {"exhaust_least": "2.5 mm", "inlet_least": "2 mm"}


def test_air_for_blowing_out_has_its_figure_in_every_caution_and_its_source_on_the_page():
    """30 psi: OSHA, 29 CFR 1910.242(b), second-hand; US Army TM 10-4320-310-14, 5-10.

    A cooler is not put under pressure at all.
    """
    told = [(page, one) for page in PROCEDURES for one in cautions(page) if AIR.search(one.title)]
    assert len(told) >= 8
    for page, one in told:
        assert re.search(r"at most 2 bar \(30 psi\)|Do not pressurise", one.words), page
        assert "30 psi" not in one.words or "1910.242(b)" in sections(PAGES[page])["Sources"], page


def test_the_least_room_of_a_valve_is_the_same_on_its_page_and_in_its_question():
    asked = questions()["fits.valve_clearance"]
    for key, usual in LEAST_ROOM.items():
        assert getattr(asked, key).facts.usual == usual
        assert re.search(rf"\b{usual.replace(' mm', '')}(?:\.0)? mm\b", PAGES["measure/valve-to-piston.md"])


def test_one_way_of_measuring_a_valves_room_is_done_before_the_other_begins():
    deeds = re.findall(r"(?m)^\d+\. \*\*(Clay|Springs):", PAGES["measure/valve-to-piston.md"])
    assert deeds == sorted(deeds)
    assert deeds.count("Clay") >= 4
    assert deeds.count("Springs") >= 3


@pytest.mark.parametrize("page", FACTS)
def test_page_says_what_is_so(page):
    wrong, right = FACTS[page]
    assert not re.search(wrong, PAGES[page])
    assert re.search(right, PAGES[page])


def test_drawing_of_collets_calls_neither_kind_wrong():
    drawn = text_of(DOCS / "drawings" / "collet-fitting.svg")
    assert "wrong pair" not in drawn
    assert re.search(r">one groove:<.*>equal gaps<.*>several grooves:<.*>halves touch<", drawn, re.DOTALL)


def test_what_is_measured_first_stands_first_on_the_days_of_the_barrels():
    day = next(line for line in PAGES["start/planning.md"].splitlines() if "**Barrel days.**" in line)
    order = [link.split("/")[-1] for link in links(day)]
    assert order == ["deck-height.md", "compression-and-spacers.md", "ring-gaps.md", "fit-rings-pistons-and-barrels.md"]


# ---------------------------------------------------------------------------- where the build puts each part


def built(page: str) -> str:
    return procedure_pages.on_page_markdown(PAGES[page], page=None)


def parts_of(text: str) -> list[str]:
    return re.findall(
        r"<summary>(Tools and parts)|^## (.+)", text.replace("Tools, parts and limits", "Tools and parts"), re.M
    )


@pytest.mark.parametrize("page", PROCEDURES)
def test_the_table_of_parts_has_them_in_the_order_of_the_built_page(page):
    table = sections(PAGES["start/using-it-at-the-car.md"])["How a procedure reads"]
    told = re.findall(r"^\| (?!Part \||---)([^|]+?) \|", table, re.MULTILINE)
    found = [folded or heading for folded, heading in parts_of(built(page))]
    assert found == [part for part in told if part in found]
    assert {"Tools and parts", "Steps", "What good looks like"} <= set(found)


@pytest.mark.parametrize("page", PROCEDURES)
def test_no_word_points_to_where_a_part_no_longer_stands(page):
    """What is worked out stands behind the steps, and its calculator straight below its own words."""
    assert "[above](#work-it-out)" not in PAGES[page]
    words = sections(PAGES[page]).get("Work it out", "")
    assert re.findall(r"[^.]*(?<!readings )\b(?:below|above)\b[^.]*", words) == []


# ---------------------------------------------------------------------------- questions in their steps

ASKED = sorted(page for page in PAGES if page.split("/")[0] in (*STAGES, "faults"))


@pytest.mark.parametrize("page", [page for page in ASKED if page in PROCEDURES])
def test_a_question_stands_in_the_step_that_needs_it_one_a_step_and_none_twice(page):
    text = PAGES[page]
    asked = re.findall(r"^ *```question\n *(\S+)\n *```$", text, re.MULTILINE)
    assert len(asked) == text.count("```question") <= 4
    assert sorted(set(asked)) == sorted(asked)
    assert set(asked) <= set(questions())
    by_step = re.split(r"^(?=\d+\. \*\*)", text.split("\n## Steps\n")[1].split("\n## ")[0], flags=re.MULTILINE)
    assert max(step.count("```question") for step in by_step) <= 1
    assert sum(step.count("\n    ```question\n") for step in by_step[1:]) == len(asked)


@pytest.mark.parametrize("page", ASKED)
def test_no_page_asks_an_old_calculator_or_leads_to_one(page):
    assert "```calculator" not in PAGES[page]
    assert [link for link in links(PAGES[page]) if "calculators/" in link] == []


@pytest.mark.parametrize("page", ASKED)
def test_an_answer_that_may_be_the_examples_is_not_called_yours(page):
    """What a page quotes is the demonstration engine's until the reader has entered something."""
    quoted = "|".join(re.escape(name) for name in questions())
    said = re.split(r"(?<=[.?!}])[ \n]|\n\n", PAGES[page])
    assert [
        words for words in said if re.search(rf"\[\[(?:{quoted})\.", words) and re.search(r"\byours?\b", words, re.I)
    ] == []


@pytest.mark.parametrize("page", [page for page in ASKED if page in PROCEDURES])
def test_common_practice_in_a_step_is_a_mark_behind_a_full_stop_and_named_in_the_sources(page):
    found = re.findall(r"(.)\{cp\}", PAGES[page])
    assert set(found) <= {"."}
    assert not found or "ommon practice, no source" in sections(PAGES[page])["Sources"]


# ---------------------------------------------------------------------------- steps that are named by their number

NAMED_STEPS = {
    ("build/fit-rings-pistons-and-barrels.md", 2): "Turn one side up, cover studs and mouths",
    ("build/fit-rings-pistons-and-barrels.md", 8): "Turn the rod out",
    ("build/fit-tappets-and-pushrods.md", 6): "Check the length",
    ("build/fit-tappets-and-pushrods.md", 8): "Slide each tappet in",
    ("build/set-valve-lash.md", 3): "Make sure that it cannot roll or fall",
    ("build/set-valve-lash.md", 4): "Take the rocker covers off",
    ("build/set-valve-lash.md", 15): "Come back to number 1 and check",
    ("build/set-valve-lash.md", 17): "Run it and listen",
    ("build/tighten-a-head-down.md", 1): "Read the maker's figure",
    ("build/tighten-a-head-down.md", 2): "Inspect the studs, count the screws",
    ("inspect/cylinder-heads.md", 10): "Measure the guide that rocks",
    ("inspect/valves.md", 1): "Know what is in your hand",
    ("measure/compression-and-spacers.md", 7): "Turn to top dead centre",
    ("measure/deck-height.md", 2): "Hang each piston on its rod",
    ("refit/exhaust.md", 1): "Let everything cool, and make the vehicle safe",
    ("refit/fuel-and-oil-pipes.md", 2): "Make it safe",
    ("refit/fuel-and-oil-pipes.md", 13): "Prove the fuel side",
    ("refit/put-the-engine-in.md", 1): "Secure the vehicle",
    ("refit/put-the-engine-in.md", 17): "Neutral, then lower the vehicle",
    ("run/balance-the-carburettors.md", 15): "Test by cylinder",
    ("run/first-start.md", 15): "Look while it cools",
    ("run/first-start.md", 17): "Leave it overnight",
    ("run/set-the-timing.md", 2): "Make sure that it cannot start",
    ("run/set-the-timing.md", 7): "Check it by turning twice round",
    ("strip/lock-the-flywheel.md", 1): "Mark the parts to each other",
    ("strip/lock-the-flywheel.md", 4): "Clean the clutch without dust",
    ("strip/lock-the-flywheel.md", 5): "Take the clutch cover off",
    ("strip/lock-the-flywheel.md", 12): "Undo the flywheel's nut",
    ("strip/lock-the-flywheel.md", 13): "Lift the flywheel off",
    ("strip/valves-out.md", 4): "Knock the caps loose",
    ("inspect/cylinder-heads.md", 13): "Check the inlet",
    ("strip/lock-the-flywheel.md", 6): "Choose the place of the lock",
    ("build/find-top-dead-centre.md", 2): "Free the valves of number 1",
    ("build/find-top-dead-centre.md", 12): "Make the mark",
    ("strip/tag-and-keep-in-order.md", 12): "Store for weeks",
    ("strip/take-the-engine-out.md", 19): "Note belt, distributor and flaps",
    ("refit/clean-the-carburettors.md", 1): "Empty it outdoors",
    ("refit/distributor.md", 3): "Find the firing top of number 1",
    ("refit/distributor.md", 8): "Let the distributor in",
    ("refit/distributor.md", 11): "Put the leads on",
    ("refit/flywheel-and-clutch.md", 6): "Measure the end play",
    ("refit/flywheel-and-clutch.md", 7): "Choose the shims",
    ("run/retorque-in-the-vehicle.md", 8): "Torque the nuts again",
    ("measure/valve-to-piston.md", 4): "Clay: lay it on the crown",
    ("measure/valve-to-piston.md", 8): "Clay: take the head off and cut",
    ("measure/valve-to-piston.md", 9): "Springs: put them in",
    ("measure/valve-to-piston.md", 11): "Springs: read at seven places of the crank",
    ("measure/valve-to-piston.md", 12): "Judge",
}
_NAMED = re.compile(
    r"(?:\]\((?P<page>[\w./-]+\.md)\),(?: up to its)? )?\bsteps? (?P<numbers>\d+(?:(?:, | and | to )\d+)*)"
)


def test_a_step_that_is_named_by_its_number_is_the_one_that_is_meant():
    named = set()
    for page, text in PAGES.items():
        for found in _NAMED.finditer(text):
            there = (
                posixpath.normpath(posixpath.join(posixpath.dirname(page), found["page"])) if found["page"] else page
            )
            named |= {(there, int(number)) for number in re.findall(r"\d+", found["numbers"])}
    assert named == set(NAMED_STEPS)
    for (page, number), deed in NAMED_STEPS.items():
        assert re.match(rf"{number}\.\s+\*\*{re.escape(deed)}", steps(page)[number - 1]), (page, number)
