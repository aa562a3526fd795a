"""Entries that more than one room asks for: one label, one name in the job, one set of limits for each."""

from __future__ import annotations

from typing import Any

from calculators.bench.entries import (
    Entry,
    Quantity,
    angle,
    choice,
    count,
    grouped,
    length,
    listed,
    measure,
    number,
    volume,
)

ENGINES = "engines of this kind"


def bore(**facts: Any) -> Entry[Quantity]:
    """Ask for the bore; ``facts`` as ``Facts`` has them, before ours."""
    return length(
        "Bore",
        30,
        200,
        why=ENGINES,
        **{
            "card": "dimensions.bore",
            "example": "80 mm",
            "shared_as": "bore",
            "read_by": "bore_gauge",
            "said": "bore {}",
        }
        | facts,
    )


def stroke(**facts: Any) -> Entry[Quantity]:
    """Ask for the stroke; ``facts`` as ``Facts`` has them, before ours."""
    return length(
        "Stroke",
        20,
        250,
        why=ENGINES,
        **{"card": "dimensions.stroke", "example": "74 mm", "shared_as": "stroke", "said": "stroke {}"} | facts,
    )


def cylinders(**facts: Any) -> Entry[int]:
    """Ask for the cylinders; ``facts`` as ``Facts`` has them, before ours."""
    return count(
        "Number of cylinders",
        1,
        12,
        why=ENGINES,
        **{"card": "layout.cylinders", "example": "4", "shared_as": "cylinders", "said": "{} cylinders"} | facts,
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
                "hint": "A stroke between the heads: 1 2 / 3 4.",
                "card": "layout.banks",
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
        why="beyond, the piston or the barrel is another engine's",
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
    return length(
        "Rod length",
        20,
        500,
        why=ENGINES,
        **{
            "hint": "Middle of the big eye to middle of the small one.",
            "card": "dimensions.rod_length",
            "example": "132 mm",
            "shared_as": "rod_length",
        }
        | facts,
    )


def inlet_closing(**facts: Any) -> Entry[Quantity]:
    """Ask for the inlet closing; ``facts`` as ``Facts`` has them, before ours."""
    return angle(
        "Inlet closing after bottom dead centre",
        0,
        120,
        why="cams of road engines",
        **{
            "hint": "Where the valve is as good as shut; given at a lift, it shuts some degrees later.",
            "card": "cam_events.inlet_closes_after_bottom",
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
        **{"hint": "Of the workshop, above the sea.", "usual": "0 m", "shared_as": "altitude"} | facts,
    )


def air_temperature(**facts: Any) -> Entry[Quantity]:
    """Ask for the air temperature; ``facts`` as ``Facts`` has them, before ours."""
    return measure(
        "Air temperature", "°C", -40, 60, why="weather", **{"usual": "15 °C", "shared_as": "air_temperature"} | facts
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
                "card": "layout.firing_order",
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


CLEARANCE_WHY = "below, the valve gear is not set by blade; above, it is worn out"


def inlet_clearance(**facts: Any) -> Entry[Quantity]:
    """Ask for the inlet clearance; ``facts`` as ``Facts`` has them, before ours."""
    return length(
        "Inlet clearance",
        0.02,
        1,
        why=CLEARANCE_WHY,
        **{
            "hint": "From the engine maker, at the temperature that the maker names.",
            "card": "clearances.inlet",
            "example": "0.15 mm",
            "shared_as": "inlet_clearance",
            "said": "inlet {}",
        }
        | facts,
    )


def exhaust_clearance(**facts: Any) -> Entry[Quantity]:
    """Ask for the exhaust clearance; ``facts`` as ``Facts`` has them, before ours."""
    return length(
        "Exhaust clearance",
        0.02,
        1,
        why=CLEARANCE_WHY,
        **{
            "card": "clearances.exhaust",
            "example": "0.20 mm",
            "shared_as": "exhaust_clearance",
            "said": "exhaust {}",
        }
        | facts,
    )


def burette_error(**facts: Any) -> Entry[Quantity]:
    """Ask for the burette error; ``facts`` as ``Facts`` has them, before ours."""
    return volume(
        "Error limit of the burette",
        0,
        20,
        why="a reading further off decides nothing",
        exact=True,
        **{
            "hint": "Plus or minus, the same at every filling. A ± typed with a reading wins over it.",
            "usual": "0.2 cm³",
            "shared_as": "burette_error",
            "refines": "How good the readings are",
            "said": "burette ± {}",
        }
        | facts,
    )


def burette_read_to(**facts: Any) -> Entry[Quantity]:
    """Ask for the burette read to; ``facts`` as ``Facts`` has them, before ours."""
    return volume(
        "Burette read to",
        0,
        5,
        why="coarser scales decide nothing",
        exact=True,
        **{
            "hint": "Plus or minus, by itself at each reading: a fifth of a mark is usual.",
            "usual": "0.02 cm³",
            "shared_as": "burette_read_to",
            "refines": "How good the readings are",
            "said": "read to ± {}",
        }
        | facts,
    )


def depth_error(**facts: Any) -> Entry[Quantity]:
    """Ask for the depth error; ``facts`` as ``Facts`` has them, before ours."""
    return length(
        "Error limit of the depth gauge",
        0,
        1,
        why="a reading further off decides nothing",
        exact=True,
        **{
            "hint": "Plus or minus.",
            "usual": "0.02 mm",
            "shared_as": "depth_error",
            "refines": "How good the readings are",
            "said": "depths ± {}",
        }
        | facts,
    )


def bore_error(**facts: Any) -> Entry[Quantity]:
    """Ask for the bore error; ``facts`` as ``Facts`` has them, before ours."""
    return length(
        "Error limit of bore and stroke",
        0,
        1,
        why="a reading further off decides nothing",
        exact=True,
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
        "The engine turns",
        DIRECTIONS,
        **{
            "hint": "Seen from the pulley end.",
            "card": "layout.crank_rotation",
            "example": "clockwise",
            "shared_as": "crank_rotation",
        }
        | facts,
    )


def valve_lift(**facts: Any) -> Entry[Quantity]:
    """Ask for the valve lift; ``facts`` as ``Facts`` has them, before ours."""
    return length(
        "Valve lift",
        1,
        30,
        why="valves of such engines",
        **{
            "card": "dimensions.valve_lift",
            "example": "8.2 mm",
            "shared_as": "valve_lift",
            "said": "lift {}",
        }
        | facts,
    )


def rocker_ratio(**facts: Any) -> Entry[float]:
    """Ask for the rocker ratio; ``facts`` as ``Facts`` has them, before ours."""
    return number(
        "Rocker ratio",
        0.5,
        3,
        why="rockers of such engines",
        to_one=True,
        **{
            "hint": "Valve arm over pushrod arm, to 1.",
            "card": "dimensions.rocker_ratio",
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
            "hint": "Where the screw sits that sets the lash. Told of the wrong end, its turn is out by the rocker "
            "ratio.",
            "card": "valve_gear.adjuster_end",
            "example": "pushrod",
            "shared_as": "adjuster_end",
        }
        | facts,
    )
