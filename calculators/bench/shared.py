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

bore = card_entry(
    CardFacts.dimensions.bore,
    "Bore",
    example="80 mm",
    shared_as="bore",
    read_by="bore_gauge",
    said="bore {}",
)

stroke = card_entry(
    CardFacts.dimensions.stroke,
    "Stroke",
    example="74 mm",
    shared_as="stroke",
    said="stroke {}",
)

cylinders = card_entry(
    CardFacts.layout.cylinders,
    "Number of cylinders",
    example="4",
    shared_as="cylinders",
    said="{} cylinders",
)

heads = grouped(
    count(
        "Cylinders under each head",
        1,
        12,
        why=ENGINES,
        hint="A slash between the heads: 1 2 / 3 4.",
        card=CardFacts.layout.banks.path,
        example="1 2 / 3 4",
        shared_as="banks",
    ),
    12,
)

chamber = volume(
    "Chamber volume",
    1,
    2000,
    why=ENGINES,
    hint="In the head, plug and valves fitted, to the sealing face.",
    example="49.1; 49.5; 48.2; 48.6",
    shared_as="chamber",
    read_by="burette",
)

crown = volume(
    "Crown volume",
    -500,
    500,
    why=ENGINES,
    hint="Dish plus, dome minus; empty for a flat crown.",
    shared_as="crown",
    read_by="burette",
)

deck = length(
    "Deck height",
    -10,
    20,
    why="no piston of such an engine stands further from the barrel's top",
    hint="From the barrel's top down to the piston, no spacer fitted; minus where the piston stands proud.",
    example="0.42; 0.38; 0.45; 0.41",
    shared_as="deck",
    read_by="depth_gauge",
)

rod_length = card_entry(
    CardFacts.dimensions.rod_length,
    "Rod length",
    hint="Centre of the big end to centre of the small end.",
    example="132 mm",
    shared_as="rod_length",
)

inlet_closing = angle(
    "Inlet closing after bottom dead centre",
    0,
    120,
    why="cams of road engines",
    hint="Where the valve has practically shut. If your figure is for a lift, it shuts some degrees later.",
    card=CardFacts.cam_events.inlet_closes_after_bottom.path,
    example="40°",
    shared_as="inlet_closing",
)

altitude = length(
    "Altitude",
    -430,
    5000,
    why="roads",
    own="m",
    exact=True,
    hint="Height of the workshop above sea level.",
    usual="0 m",
    shared_as="altitude",
)

air_temperature = measure("Air temperature", "°C", -40, 60, why="weather", usual="15 °C", shared_as="air_temperature")

polytropic_exponent = number(
    "Polytropic exponent",
    1,
    1.4,
    why="at 1 all heat is lost, at 1.4 none",
    hint="1.1 for a slow starter or worn rings, 1.3 for a fast one and tight rings. Common practice.",
    usual="1.2",
    shared_as="polytropic_exponent",
    said="exponent {}",
)

exponent_error = either_way(
    number(
        "Error limit of the exponent",
        0,
        0.2,
        why="a wider guess says nothing",
        hint="Plus or minus.",
        usual="0.1",
        shared_as="polytropic_exponent_error",
        said="± {}",
    )
)

firing_order = listed(
    count(
        "Firing order",
        1,
        12,
        why=ENGINES,
        card=CardFacts.layout.firing_order.path,
        example="1 4 3 2",
        shared_as="firing_order",
        said="firing order {}",
    ),
    1,
    12,
    like="1 4 3 2",
    run_on=True,
)


CLEARANCE_WHY = "less is not set with blades; more means worn valve gear"

inlet_clearance = card_entry(
    CardFacts.clearances.inlet,
    "Inlet clearance",
    exact=True,
    hint="The engine maker's, at the temperature the maker gives.",
    example="0.15 mm",
    shared_as="inlet_clearance",
    said="inlet {}",
)

exhaust_clearance = card_entry(
    CardFacts.clearances.exhaust,
    "Exhaust clearance",
    exact=True,
    example="0.20 mm",
    shared_as="exhaust_clearance",
    said="exhaust {}",
)


def error_limit(
    label: str, own: str, high: float, *, why: str = "a reading further off is no use", **facts: Any
) -> Entry[Quantity]:
    """Ask by how much something may be off either way, in ``own``: typed ``0.1`` or ``± 0.1``."""
    return either_way(measure(label, own, 0, high, why=why, exact=True, **facts))


burette_error = error_limit(
    "Error limit of the burette",
    "cm³",
    20,
    hint="Plus or minus, the same at every filling. A ± typed with a volume wins over it. "
    "Of 50 cm³: 0.05 in class A, 0.1 in class B.",
    usual="0.2 cm³",
    shared_as="burette_error",
    refines="How good the readings are",
    said="burette ± {}",
)

burette_read_to = error_limit(
    "Burette read to",
    "cm³",
    5,
    why="a coarser scale is no use",
    hint="Plus or minus, random at each reading: a fifth of a division is usual.",
    usual="0.02 cm³",
    shared_as="volume_scatter",
    refines="How good the readings are",
    said="read to ± {}",
)

depth_error = error_limit(
    "Error limit of the depth gauge",
    "mm",
    1,
    hint="Plus or minus, the same at every reading.",
    usual="0.02 mm",
    shared_as="depth_error",
    refines="How good the readings are",
    said="depths ± {}",
)

bore_error = error_limit(
    "Error limit of bore and stroke",
    "mm",
    1,
    hint="Plus or minus.",
    usual="0.02 mm",
    shared_as="bore_error",
    refines="How good the readings are",
    said="bore and stroke ± {}",
)


DIRECTIONS = {"clockwise": "Clockwise", "anticlockwise": "Anticlockwise"}

crank_rotation = choice(
    "Turning direction",
    DIRECTIONS,
    hint="Seen from the pulley end.",
    card=CardFacts.layout.crank_rotation.path,
    example="clockwise",
    shared_as="crank_rotation",
)

engine_speed = card_entry(
    CardFacts.running.highest_speed,
    "Engine speed",
    exact=True,
    hint="The speed you want to know about.",
    example="4600 r/min",
    shared_as="engine_speed",
    said="at {}",
)

inlet_valve_head = card_entry(
    CardFacts.dimensions.inlet_valve_head,
    "Inlet valve head",
    hint="Its diameter.",
    example="34 mm",
    shared_as="inlet_valve_head",
    said="valve {}",
)

firing_intervals = optional(
    listed(
        angle(
            "Firing intervals",
            1,
            720,
            why="one cycle is 720°",
            exact=True,
            hint="Crank angle from each cylinder of the firing order to the next, and from the last to the "
            "first. Empty: it fires evenly.",
            card=CardFacts.layout.firing_intervals.path,
            shared_as="firing_intervals",
        ),
        1,
        12,
        like="180 180 180 180",
    )
)

rocker_ratio = card_entry(
    CardFacts.dimensions.rocker_ratio,
    "Rocker ratio",
    hint="Valve arm over pushrod arm, to 1.",
    example="1.15",
    shared_as="rocker_ratio",
    said="rocker {} : 1",
)

adjuster_end = choice(
    "Place of the adjuster",
    {
        "valve": "Valve end of the rocker",
        "pushrod": "Pushrod end of the rocker",
        "pivot": "Nut on the rocker's pivot",
    },
    hint="Where the adjusting screw is. Choose the wrong end and the turn is wrong by the rocker ratio.",
    card=CardFacts.valve_gear.adjuster_end.path,
    example="pushrod",
    shared_as="adjuster_end",
    said="{}",
)

volumes_from = choice(
    "Where the volumes come from",
    {"one": "One burette", "several": "Several burettes, or none"},
    hint="One burette has the same error everywhere: it adds up in chamber and crown, and cancels between cylinders.",
    usual="one",
    shared_as="volumes_from",
    refines="How good the readings are",
)

depth_read_to = error_limit(
    "Depths read to",
    "mm",
    1,
    hint="Plus or minus, random at each reading: half a division, plus the rock of the piston.",
    usual="0.01 mm",
    shared_as="depth_scatter",
    refines="How good the readings are",
    said="read to ± {}",
)

height_tolerance = either_way(
    length(
        "Height tolerance",
        0,
        2,
        why="no head seals on tops further apart",
        hint="How far the barrel tops under one head may differ.",
        card=CardFacts.compression.head_height_tolerance.path,
        usual="0.05 mm",
        said="tops within {}",
    )
)

may_differ = card_entry(
    CardFacts.compression.chamber_difference,
    "Allowed difference between chambers",
    exact=True,
    hint="The largest less the smallest. Empty: the engine maker gives none.",
    said="{} allowed",
)

dimension_error = error_limit(
    "Error limit of the dimensions",
    "mm",
    5,
    why="a less accurate instrument is no use",
    hint="Plus or minus.",
    usual="0.1 mm",
    shared_as="dimension_error",
    said="± {}",
)

valve_lift = card_entry(
    CardFacts.dimensions.valve_lift,
    "Valve lift",
    example="8.2 mm",
    shared_as="valve_lift",
    said="lift {}",
)

spacer_height = length(
    "Spacers fitted",
    0,
    30,
    why="three of the thickest",
    hint="Total under the barrel; 0 for none.",
    example="1; 1; 1.25; 1.25",
    shared_as="spacer_height",
)

spacers_before = length(
    "Spacers fitted before",
    0,
    30,
    why="three of the thickest",
    hint="Under each barrel, when tubes and pushrods last fitted; 0 for none.",
    usual="0 mm",
    shared_as="spacers_before",
)

ratio = number(
    "Compression ratio",
    2,
    20,
    why="spark-ignition engines",
    to_one=True,
    hint="To 1, with its spacers.",
    example="7.6; 7.6; 7.6; 7.6",
    shared_as="ratio",
)

head_torque = card_entry(
    CardFacts.torques.cylinder_head, "Final torque", example="34 N·m", shared_as="head_torque", said="{}"
)

thermometer_error = either_way(
    number(
        "Error limit of the thermometer",
        0,
        20,
        why="a hand can feel a larger error",
        hint="Plus or minus, in degrees Celsius.",
        usual="1",
        shared_as="thermometer_error",
    )
)
