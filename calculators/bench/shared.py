"""Entries that more than one room asks for: one label, one name in the job, one set of limits for each."""

from __future__ import annotations

from typing import Any

from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.entries import (
    Entry,
    Quantity,
    angle,
    choice,
    count,
    either_way,
    grouped,
    length,
    listed,
    measure,
    number,
    optional,
    volume,
)

ENGINES = "engines of this kind"


def bore(**facts: Any) -> Entry[Quantity]:
    """Ask for the bore; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.dimensions.bore,
        "Bore",
        **{"example": "80 mm", "shared_as": "bore", "read_by": "bore_gauge", "said": "bore {}"} | facts,
    )


def stroke(**facts: Any) -> Entry[Quantity]:
    """Ask for the stroke; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.dimensions.stroke,
        "Stroke",
        **{"example": "74 mm", "shared_as": "stroke", "said": "stroke {}"} | facts,
    )


def cylinders(**facts: Any) -> Entry[int]:
    """Ask for the cylinders; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.layout.cylinders,
        "Number of cylinders",
        **{"example": "4", "shared_as": "cylinders", "said": "{} cylinders"} | facts,
    )


def heads(**facts: Any) -> Entry[tuple[tuple[int, ...], ...]]:
    """Ask for the heads; ``facts`` as ``Facts`` has them, before ours."""
    return grouped(
        count(
            "Cylinders under each head",
            1,
            12,
            why=ENGINES,
            **{
                "hint": "A slash between the heads: 1 2 / 3 4.",
                "card": CardFacts.layout.banks.path,
                "example": "1 2 / 3 4",
                "shared_as": "banks",
            }
            | facts,
        ),
        12,
    )


def chamber(**facts: Any) -> Entry[Quantity]:
    """Ask for the chamber; ``facts`` as ``Facts`` has them, before ours."""
    return volume(
        "Chamber volume",
        1,
        2000,
        why=ENGINES,
        **{
            "hint": "In the head, plug and valves fitted, to the sealing face.",
            "example": "49.1; 49.5; 48.2; 48.6",
            "shared_as": "chamber",
            "read_by": "burette",
        }
        | facts,
    )


def crown(**facts: Any) -> Entry[Quantity]:
    """Ask for the crown; ``facts`` as ``Facts`` has them, before ours."""
    return volume(
        "Crown volume",
        -500,
        500,
        why=ENGINES,
        **{
            "hint": "Dish plus, dome minus; empty for a flat crown.",
            "shared_as": "crown",
            "read_by": "burette",
        }
        | facts,
    )


def deck(**facts: Any) -> Entry[Quantity]:
    """Ask for the deck; ``facts`` as ``Facts`` has them, before ours."""
    return length(
        "Deck height",
        -10,
        20,
        why="no piston of such an engine stands further from the barrel's top",
        **{
            "hint": "From the barrel's top down to the piston, no spacer fitted; minus where the piston stands proud.",
            "example": "0.42; 0.38; 0.45; 0.41",
            "shared_as": "deck",
            "read_by": "depth_gauge",
        }
        | facts,
    )


def rod_length(**facts: Any) -> Entry[Quantity]:
    """Ask for the rod length; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.dimensions.rod_length,
        "Rod length",
        **{"hint": "Centre of the big end to centre of the small end.", "example": "132 mm", "shared_as": "rod_length"}
        | facts,
    )


def inlet_closing(**facts: Any) -> Entry[Quantity]:
    """Ask for the inlet closing; ``facts`` as ``Facts`` has them, before ours."""
    return angle(
        "Inlet closing after bottom dead centre",
        0,
        120,
        why="cams of road engines",
        stands_in=True,
        **{
            "hint": "Where the valve has practically shut: some degrees after the figure that is given for a lift.",
            "card": CardFacts.cam_events.inlet_closes_after_bottom.path,
            "example": "40°",
            "shared_as": "inlet_closing",
        }
        | facts,
    )


def altitude(**facts: Any) -> Entry[Quantity]:
    """Ask for the altitude; ``facts`` as ``Facts`` has them, before ours."""
    return length(
        "Altitude",
        -430,
        5000,
        why="roads",
        own="m",
        exact=True,
        **{"hint": "Height of the workshop above sea level.", "usual": "0 m", "shared_as": "altitude"} | facts,
    )


def air_temperature(**facts: Any) -> Entry[Quantity]:
    """Ask for the air temperature; ``facts`` as ``Facts`` has them, before ours."""
    return measure(
        "Air temperature", "°C", -40, 60, why="weather", **{"usual": "15 °C", "shared_as": "air_temperature"} | facts
    )


def polytropic_exponent(**facts: Any) -> Entry[float]:
    """Ask for the exponent of cranking; ``facts`` as ``Facts`` has them, before ours."""
    return number(
        "Polytropic exponent",
        1,
        1.4,
        why="at 1 all heat is lost, at 1.4 none",
        **{
            "hint": "1.1 for a slow starter or worn rings, 1.3 for a fast one and tight rings. Common practice.",
            "usual": "1.2",
            "shared_as": "polytropic_exponent",
            "said": "exponent {}",
        }
        | facts,
    )


def exponent_error(**facts: Any) -> Entry[float]:
    """Ask for the error limit of that exponent; ``facts`` as ``Facts`` has them, before ours."""
    return either_way(
        number(
            "Error limit of the exponent",
            0,
            0.2,
            why="a wider guess says nothing",
            **{
                "hint": "Plus or minus.",
                "usual": "0.1",
                "shared_as": "polytropic_exponent_error",
                "said": "± {}",
            }
            | facts,
        )
    )


def firing_order(**facts: Any) -> Entry[tuple[int, ...]]:
    """Ask for the firing order; ``facts`` as ``Facts`` has them, before ours."""
    return listed(
        count(
            "Firing order",
            1,
            12,
            why=ENGINES,
            **{
                "card": CardFacts.layout.firing_order.path,
                "example": "1 4 3 2",
                "shared_as": "firing_order",
                "said": "firing order {}",
            }
            | facts,
        ),
        1,
        12,
        like="1 4 3 2",
        run_on=True,
    )


CLEARANCE_WHY = "less is not set with blades; more means worn valve gear"


def inlet_clearance(**facts: Any) -> Entry[Quantity]:
    """Ask for the inlet clearance; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.clearances.inlet,
        "Inlet clearance",
        exact=True,
        **{
            "hint": "The engine maker's, at the temperature the maker gives.",
            "example": "0.15 mm",
            "shared_as": "inlet_clearance",
            "said": "inlet {}",
        }
        | facts,
    )


def exhaust_clearance(**facts: Any) -> Entry[Quantity]:
    """Ask for the exhaust clearance; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.clearances.exhaust,
        "Exhaust clearance",
        exact=True,
        **{"example": "0.20 mm", "shared_as": "exhaust_clearance", "said": "exhaust {}"} | facts,
    )


def error_limit(
    label: str, own: str, high: float, *, why: str = "a reading further off is no use", **facts: Any
) -> Entry[Quantity]:
    """Ask by how much something may be off either way, in ``own``: typed ``0.1`` or ``± 0.1``."""
    return either_way(measure(label, own, 0, high, why=why, exact=True, **facts))


def burette_error(**facts: Any) -> Entry[Quantity]:
    """Ask for the burette error; ``facts`` as ``Facts`` has them, before ours."""
    return error_limit(
        "Error limit of the burette",
        "cm³",
        20,
        **{
            "hint": "Plus or minus, the same at every filling. A ± typed with a volume wins over it. "
            "Of 50 cm³: 0.05 in class A, 0.1 in class B.",
            "usual": "0.2 cm³",
            "shared_as": "burette_error",
            "refines": "How good the readings are",
            "said": "burette ± {}",
        }
        | facts,
    )


def burette_read_to(**facts: Any) -> Entry[Quantity]:
    """Ask for the burette read to; ``facts`` as ``Facts`` has them, before ours."""
    return error_limit(
        "Burette read to",
        "cm³",
        5,
        why="a coarser scale is no use",
        **{
            "hint": "Plus or minus, random at each reading: a fifth of a division is usual.",
            "usual": "0.02 cm³",
            "shared_as": "volume_scatter",
            "refines": "How good the readings are",
            "said": "read to ± {}",
        }
        | facts,
    )


def depth_error(**facts: Any) -> Entry[Quantity]:
    """Ask for the depth error; ``facts`` as ``Facts`` has them, before ours."""
    return error_limit(
        "Error limit of the depth gauge",
        "mm",
        1,
        **{
            "hint": "Plus or minus, the same at every reading.",
            "usual": "0.02 mm",
            "shared_as": "depth_error",
            "refines": "How good the readings are",
            "said": "depths ± {}",
        }
        | facts,
    )


def bore_error(**facts: Any) -> Entry[Quantity]:
    """Ask for the bore error; ``facts`` as ``Facts`` has them, before ours."""
    return error_limit(
        "Error limit of bore and stroke",
        "mm",
        1,
        **{
            "hint": "Plus or minus.",
            "usual": "0.02 mm",
            "shared_as": "bore_error",
            "refines": "How good the readings are",
            "said": "bore and stroke ± {}",
        }
        | facts,
    )


DIRECTIONS = {"clockwise": "Clockwise", "anticlockwise": "Anticlockwise"}


def crank_rotation(**facts: Any) -> Entry[str]:
    """Ask for the crank rotation; ``facts`` as ``Facts`` has them, before ours."""
    return choice(
        "Turning direction",
        DIRECTIONS,
        **{
            "hint": "Seen from the pulley end.",
            "card": CardFacts.layout.crank_rotation.path,
            "example": "clockwise",
            "shared_as": "crank_rotation",
        }
        | facts,
    )


def engine_speed(**facts: Any) -> Entry[Quantity]:
    """Ask for the engine speed; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.running.highest_speed,
        "Engine speed",
        exact=True,
        **{
            "hint": "The speed you want to know about; empty, the engine's highest.",
            "stands_in": True,
            "example": "4600 r/min",
            "shared_as": "engine_speed",
            "said": "at {}",
        }
        | facts,
    )


def inlet_valve_head(**facts: Any) -> Entry[Quantity]:
    """Ask for the inlet valve head; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.dimensions.inlet_valve_head,
        "Inlet valve head",
        **{"hint": "Its diameter.", "example": "34 mm", "shared_as": "inlet_valve_head", "said": "valve {}"} | facts,
    )


def firing_intervals(**facts: Any) -> Entry[tuple[Quantity, ...] | None]:
    """Ask for the firing intervals; ``facts`` as ``Facts`` has them, before ours."""
    return optional(
        listed(
            angle(
                "Firing intervals",
                1,
                720,
                why="one cycle is 720°",
                exact=True,
                **{
                    "hint": "Crank angle from each cylinder of the firing order to the next, and from the last to the "
                    "first. Empty: it fires evenly.",
                    "card": CardFacts.layout.firing_intervals.path,
                    "shared_as": "firing_intervals",
                }
                | facts,
            ),
            1,
            12,
            like="180 180 180 180",
        )
    )


def rocker_ratio(**facts: Any) -> Entry[float]:
    """Ask for the rocker ratio; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.dimensions.rocker_ratio,
        "Rocker ratio",
        **{
            "hint": "Valve arm over pushrod arm, to 1.",
            "example": "1.15",
            "shared_as": "rocker_ratio",
            "said": "rocker {} : 1",
        }
        | facts,
    )


def adjuster_end(**facts: Any) -> Entry[str]:
    """Ask for the place of the adjuster; ``facts`` as ``Facts`` has them, before ours."""
    return choice(
        "Place of the adjuster",
        {
            "valve": "Valve end of the rocker",
            "pushrod": "Pushrod end of the rocker",
            "pivot": "Nut on the rocker's pivot",
        },
        **{
            "hint": "Where the adjusting screw is. Choose the wrong end and the turn is wrong by the rocker ratio.",
            "card": CardFacts.valve_gear.adjuster_end.path,
            "example": "pushrod",
            "shared_as": "adjuster_end",
            "said": "{}",
        }
        | facts,
    )


def volumes_from(**facts: Any) -> Entry[str]:
    """Ask for where the volumes come from; ``facts`` as ``Facts`` has them, before ours."""
    return choice(
        "Where the volumes come from",
        {"one": "One burette", "several": "Several burettes, or none"},
        **{
            "hint": "One burette has the same error everywhere: it adds up in chamber and crown, and cancels between "
            "cylinders.",
            "usual": "one",
            "shared_as": "volumes_from",
            "refines": "How good the readings are",
        }
        | facts,
    )


def depth_read_to(**facts: Any) -> Entry[Quantity]:
    """Ask for the depth read to; ``facts`` as ``Facts`` has them, before ours."""
    return error_limit(
        "Depths read to",
        "mm",
        1,
        **{
            "hint": "Plus or minus, random at each reading: half a division, plus the rock of the piston.",
            "usual": "0.01 mm",
            "shared_as": "depth_scatter",
            "refines": "How good the readings are",
            "said": "read to ± {}",
        }
        | facts,
    )


def height_tolerance(**facts: Any) -> Entry[Quantity]:
    """Ask for the height tolerance; ``facts`` as ``Facts`` has them, before ours."""
    return either_way(
        length(
            "Height tolerance",
            0,
            2,
            why="no head seals on tops further apart",
            **{
                "hint": "How far the barrel tops under one head may differ.",
                "card": CardFacts.compression.head_height_tolerance.path,
                "usual": "0.05 mm",
                "shared_as": "height_tolerance",
                "said": "tops within {}",
            }
            | facts,
        )
    )


def may_differ(**facts: Any) -> Entry[Quantity]:
    """Ask for the difference allowed between chambers; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.compression.chamber_difference,
        "Allowed difference between chambers",
        exact=True,
        **{
            "hint": "The largest less the smallest. Empty: the engine maker gives none.",
            "shared_as": "chamber_difference",
            "said": "{} allowed",
        }
        | facts,
    )


def dimension_error(**facts: Any) -> Entry[Quantity]:
    """Ask for the dimension error; ``facts`` as ``Facts`` has them, before ours."""
    return error_limit(
        "Error limit of the dimensions",
        "mm",
        5,
        why="a less accurate instrument is no use",
        **{"hint": "Plus or minus.", "usual": "0.1 mm", "shared_as": "dimension_error", "said": "± {}"} | facts,
    )


def valve_lift(**facts: Any) -> Entry[Quantity]:
    """Ask for the valve lift; ``facts`` as ``Facts`` has them, before ours."""
    return card_entry(
        CardFacts.dimensions.valve_lift,
        "Valve lift",
        **{"example": "8.2 mm", "shared_as": "valve_lift", "said": "lift {}"} | facts,
    )
