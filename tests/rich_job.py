"""A whole job of an engine that is none of the book's examples: six cylinders, in inches, pounds and miles.

All its numbers are invented. Some readings are beyond their limit, of which one part was replaced and one was not; one
pass is half tightened, one decision is out of date, and one check has no date.
"""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

from calculators import read_card
from calculators.bench.card import EngineCard
from calculators.job.decisions import checks_of, decision_of, desk_of
from calculators.job.jobs import job_faults

LAYOUT = Path(__file__).parents[1] / "docs/engines/layout-flat-six-162435.yml"
BOOK = "maker’s book"


def _told(**facts: str) -> dict[str, dict[str, str]]:
    return {name: {"value": text, "source": BOOK} for name, text in facts.items()}


def card() -> EngineCard:
    """Return the engine's card: the Petrel Six."""
    data = copy.deepcopy(read_card(LAYOUT).data)
    data |= {
        "name": "Petrel Six",
        "about": "Flat six, air-cooled; begun with five facts.",
        "dimensions": _told(bore="3.312 in", stroke="2.6 in"),
        "torques": _told(cylinder_head="27 lbf·ft"),
        "clearances": _told(inlet="0.006 in", exhaust="0.008 in"),
        "limits": _told(
            cranking_pressure="95 psi",
            bore_wear="0.005 in",
            bore_taper="0.003 in",
            guide_clearance="0.006 in",
            valve_margin="0.035 in",
        ),
        "running": _told(highest_speed="4200 r/min"),
    }
    return EngineCard("own-petrel", data)


TYPED: dict[str, tuple[str, str, str, str, str]] = {
    # path: text, unit, day, who, with what
    **{
        f"dry.{n}": (text, "psi", "2026-09-07", "J. Marsh", "compression gauge no. 4")
        for n, text in enumerate(("118", "84", "121", "116", "119", "97"), 1)
    },
    **{
        f"dry_after.{n}": (text, "psi", "2026-10-02", "J. Marsh", "compression gauge no. 4")
        for n, text in enumerate(("128", "126", "131", "127", "129", "130"), 1)
    },
    **{
        f"bore_across.{n}": (text, "in", "2026-09-10", "P. Lowe", "bore gauge no. 1")
        for n, text in enumerate(
            (
                "3.3142 3.3135 3.3130",
                "3.3188 3.3160 3.3141",
                "3.3140 3.3134 3.3130",
                "3.3143 3.3137 3.3131",
                "3.3139 3.3133 3.3128",
                "3.3151 3.3140 3.3132",
            ),
            1,
        )
    },
    **{
        f"bore_along.{n}": (text, "in", "2026-09-10", "P. Lowe", "bore gauge no. 1")
        for n, text in enumerate(
            (
                "3.3138 3.3133 3.3129",
                "3.3171 3.3152 3.3138",
                "3.3136 3.3132 3.3129",
                "3.3139 3.3134 3.3130",
                "3.3135 3.3131 3.3128",
                "3.3144 3.3136 3.3131",
            ),
            1,
        )
    },
    **{
        f"exhaust_margin.{n}": (text, "in", "2026-09-11", "P. Lowe", "calliper no. 2")
        for n, text in enumerate(("0.052", "0.049", "0.036", "0.055", "0.030", "0.048"), 1)
    },
    **{
        f"inlet_rocker_bush.{n}": (text, "in", "2026-09-11", "P. Lowe", "")
        for n, text in enumerate(("0.7512", "0.7511", "0.7513"), 1)
    },
    **{
        f"inlet_rocker_shaft.{n}": (text, "in", "2026-09-11", "P. Lowe", "")
        for n, text in enumerate(("0.7490", "0.7491", "0.7489"), 1)
    },
    **{f"inlet_gap_left.{n}": ("0.006", "in", "2026-09-30", "J. Marsh", "feelers no. 9") for n in range(1, 7)},
    **{
        f"exhaust_gap_left.{n}": (text, "in", "2026-09-30", "J. Marsh", "feelers no. 9")
        for n, text in enumerate(("0.008", "0.008", "0.009", "0.008", "0.008", "0.008"), 1)
    },
    "inlet_gap_found.1": ("0.004", "in", "2026-09-07", "J. Marsh", "feelers no. 9"),
    "exhaust_gap_found.1": ("0.012", "in", "2026-09-07", "J. Marsh", "feelers no. 9"),
    "adjuster_pitch": ("0.0394", "in", "2026-09-07", "J. Marsh", ""),
    "crank_rotation": ("clockwise", "", "2026-09-07", "J. Marsh", ""),
    "adjuster_end": ("pushrod", "", "2026-09-07", "J. Marsh", ""),
    "rocker_ratio": ("1.1", "", "2026-09-07", "J. Marsh", ""),
    "most_cranking_spread": ("18", "psi", "2026-09-07", "J. Marsh", ""),
    "post_torque": ("14", "lbf·ft", "2026-09-29", "J. Marsh", ""),
    "rocker_posts": ("4", "", "2026-09-29", "J. Marsh", ""),
    "head_stud_pattern": ("8", "", "2026-09-28", "J. Marsh", ""),
    "odometer": ("41880", "", "2026-10-02", "J. Marsh", ""),
    "odometer_unit": ("miles", "", "2026-10-02", "J. Marsh", ""),
    "first_start": ("2026-10-01", "", "2026-10-02", "J. Marsh", ""),
    "road_speeds": ("4.1 7.6 11.9 16.8", "mph", "2026-10-02", "J. Marsh", ""),
}

DECIDED = (
    ("cylinders.compression", "2026-10-02"),
    ("fits.bore", "2026-09-10"),
    ("torque.wrench", "2026-09-28"),
    ("torque.rocker_posts", "2026-09-29"),
    ("lash.plan", "2026-09-30"),
    ("running_in.speed_limit", "2026-10-02"),
    ("running_in.rechecks", "2026-10-02"),
)


def _at(day: str, minute: int = 0) -> str:
    return f"{day}T{9 + minute // 60:02}:{minute % 60:02}:00.000Z"


def rich_job() -> dict[str, Any]:
    """Return the job as the book would export it."""
    readings: dict[str, dict[str, str]] = {}
    for path, (text, unit, day, who, instrument) in TYPED.items():
        readings[path] = {"text": text, "when": _at(day), "who": who}
        readings[path] |= {"unit": unit} if unit else {}
        readings[path] |= {"instrument": instrument} if instrument else {}
    desk = desk_of(readings, card())
    decisions, checks = [], []
    for place, (name, day) in enumerate(DECIDED):
        asked = desk.ask(name)
        assert asked.answer, (name, asked.lacking, asked.errors)
        decisions.append({"id": f"{place:016x}", "when": _at(day, 30), **decision_of(asked, readings)})
        checks += checks_of(name, asked.answer.checks)
    readings["post_torque"] |= {"text": "16", "when": _at("2026-10-01")}  # after it was decided
    wrench = desk.ask("torque.wrench").answer
    assert wrench
    first, second = (
        [step for stage in walk.stages for step in stage.steps] for walk in wrench.walks if walk.key in HEADS
    )
    day = "2026-09-28"
    job = {
        "id": "00c0ffee00c0ffee",
        "made": _at("2026-09-07"),
        "changed": _at("2026-10-02", 90),
        "about": {
            "name": "Blue estate car",
            "vehicle": "Blue estate car, PTR 6",
            "engine_number": "P6-00412",
            "owner": "A. Winter",
            "workshop": "Creek Lane Garage",
            "fitter": "J. Marsh",
            "complaint": "Smokes on the overrun, down on power, ticks when cold.",
            "left": "Exhaust flange of cylinder 5 is thin: renew it within a year.",
        },
        "card": {"name": "own-petrel", "data": card().data, "when": _at("2026-09-07")},
        "readings": readings,
        "decisions": decisions,
        "checks": [
            *({"when": _at("2026-10-02"), **check} for check in checks),
            {"id": "c1" * 8, "when": _at("2026-10-02"), "what": "Fan belt: look at its tension", "distance": "42,100"},
            {"id": "c2" * 8, "when": _at("2026-10-02"), "what": "Exhaust flange of cylinder 5: renew it"},
            {"id": "c3" * 8, "when": _at("2026-10-02"), "what": "Oil leak test in the yard", "due": "5 October 2026"},
        ],
        "ticks": {
            "build/set-valve-lash/ steps": _ticks([f"Step {n}" for n in range(1, 13)], 12, "2026-09-30"),
            "torque.wrench head_1": _ticks([step.words for step in first], len(first), day),
            "torque.wrench head_2": _ticks([step.words for step in second], len(second) - 5, day),
        },
        "notes": [
            {
                "id": "a1" * 8,
                "when": _at("2026-09-10"),
                "text": "Barrel 2 is scored on the thrust side and worn at the top.",
            },
            {"id": "a2" * 8, "when": _at("2026-09-11"), "text": "Exhaust valve 3 is pitted; its stem is sound."},
        ],
        "parts": [
            {
                "id": "b1" * 8,
                "when": _at("2026-09-20"),
                "name": "Barrel and piston, cylinder 2",
                "number": "PB-62",
                "count": "1",
            },
            {"id": "b2" * 8, "when": _at("2026-09-20"), "name": "Piston ring set", "number": "3.312 in", "count": "6"},
            {
                "id": "b3" * 8,
                "when": _at("2026-09-21"),
                "name": "Exhaust valve, cylinder 3",
                "number": "EV-31",
                "count": "1",
            },
        ],
        "tags": [
            {
                "id": "d1" * 8,
                "when": _at("2026-09-08"),
                "part": "Tappet",
                "kind": "tappet",
                "cylinder": 1,
                "from": "1 inlet",
                "bag": "1",
                "back": _at("2026-09-25"),
            },
            {
                "id": "d2" * 8,
                "when": _at("2026-09-08"),
                "part": "Pushrod",
                "kind": "pushrod",
                "cylinder": 5,
                "from": "5 exhaust",
                "bag": "7",
                "photograph": "e1" * 8,
            },
        ],
        "photographs": [
            {
                "id": "e1" * 8,
                "when": _at("2026-09-08"),
                "caption": "Pushrod 5 exhaust, worn end",
                "width": 1600,
                "height": 1200,
            },
        ],
    }
    assert not list(job_faults({"format": 5, "jobs": [job]}))
    return job


HEADS = ("head_1", "head_2")


def _ticks(words: list[str], done: int, day: str) -> dict[str, dict[str, Any]]:
    return {
        str(place): {"words": words[place - 1], "when": _at(day, place), "of": len(words)}
        for place in range(1, done + 1)
    }
