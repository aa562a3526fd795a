"""What an engine card holds: every fact by its name, with its unit, its limits and the reason for them.

This is the one place that knows it. From here come the card's schema, what is refused and in which words, the boxes
in the browser, and the list on the card's page; a question names a fact as ``CardFacts.dimensions.bore``.
Limits are told while a card is typed. A card is opened whatever its figures are: a question refuses
what it cannot take.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from calculators.bench import entries
from calculators.bench.entries import (
    Entry,
    Facts,
    angle,
    choice,
    count,
    grouped,
    length,
    listed,
    measure,
    number,
    torque,
    volume,
)
from calculators.bench.kinds import Measure
from calculators.bench.sections import Part, Rows, Section, every_section, names, text

FORMAT = 1
"""Of the layout of a card's file."""

ENGINES, PARTS = "engines of this kind", "parts of engines of this kind"
VALVES, SPRINGS = "valves of such engines", "valve springs of such engines"
SPARK = "spark-ignition engines"
WEAR = "a limit of wear"
WRENCHES = "workshop wrenches reach no lower or higher"
CAMS = "cams of road and racing engines"
CYCLE = "one cycle is 720°"
ADVANCE = "no engine of this kind fires further from the top"
SPEEDS = "from starter speed to the fastest such engine"
EXHAUST = "no petrol engine's exhaust holds more"
OIL = "no such oil pump gives more"
FARTHEST, FAR = 1000, "from the origin of a pattern; beyond, a unit was mistaken"
TURNS = {one: one for one in ("clockwise", "anticlockwise")}
METALS = {
    one: one
    for one in (
        "cast aluminium",
        "wrought aluminium",
        "cast magnesium",
        "grey iron",
        "ductile iron",
        "carbon steel",
        "alloy steel",
        "martensitic steel",
        "austenitic steel",
        "titanium",
    )
}
CLASSES = ["4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"] + [f"grade {one}" for one in (1, 2, 5, 8)]


class Layout(Section):
    needs = ("cylinders",)
    arrangement = choice("Arrangement", {one: one for one in ("opposed", "inline", "V", "single")})
    cylinders = count("Cylinders", 1, 12, why=ENGINES)
    banks = grouped(count("Banks", 1, 12, why=ENGINES), 12)
    firing_order = listed(count("Firing order", 1, 12, why=ENGINES), 1, 12, like="1 4 3 2")
    firing_intervals = listed(number("Firing intervals", 1, 720, why=CYCLE), 1, 12, like="180 180 180 180")
    crank_rotation = choice("Crank rotation", TURNS)
    rotor_rotation = choice("Rotor rotation", TURNS)


class Dimensions(Section):
    bore = length("Bore", 30, 200, why=ENGINES)
    stroke = length("Stroke", 20, 250, why=ENGINES)
    rod_length = length("Rod length", 20, 500, why=ENGINES)
    chamber_volume = volume("Chamber volume", 1, 2000, why=ENGINES)
    crown_volume = volume("Crown volume", -500, 500, why=ENGINES, hint="Dish plus, dome minus.")
    deck_height = length("Deck height", -20, 20, why=ENGINES, hint="Minus where the piston stands proud.")
    barrel_length = length("Barrel length", 1, 600, why=PARTS)
    head_gasket_thickness = length("Head gasket thickness", 0, 10, why="gaskets and rings of such heads")
    head_gasket_bore = length("Head gasket bore", 30, 250, why=ENGINES)
    inlet_valve_head = length("Inlet valve head", 10, 100, why=VALVES)
    exhaust_valve_head = length("Exhaust valve head", 10, 100, why=VALVES)
    inlet_throat = length("Inlet throat", 8, 100, why=VALVES)
    valve_stem = length("Valve stem", 3, 25, why=VALVES)
    valve_lift = length("Valve lift", 1, 30, why=VALVES)
    rocker_ratio = number("Rocker ratio", 0.5, 3, why="rockers of such engines", to_one=True)
    pushrod_length = length("Pushrod length", 1, 600, why=PARTS)
    pushrod_slope = angle("Pushrod slope", 0, 45, why="steeper ones belong to other engines")
    tube_free_length = length("Tube free length", 30, 600, why=ENGINES)
    tube_seat_distance = length("Tube seat distance", 30, 600, why=ENGINES)
    tube_least_crush = length("Tube least crush", 0, 20, why="seals of such tubes")
    tube_most_crush = length("Tube most crush", 0, 20, why="seals of such tubes")
    rocker_pushrod_arm = length("Rocker pushrod arm", 5, 100, why="rockers of such engines")
    pulley_diameter = length("Pulley diameter", 40, 600, why="pulleys and flywheels of such engines")


class Compression(Section):
    ratio = number("Ratio", 3, 20, why=SPARK, to_one=True)
    ratio_tolerance = number("Ratio tolerance", 0.01, 2, why="less cannot be measured, more is no tolerance")
    least_deck_clearance = length("Least deck clearance", 0, 20, why="a gap cannot be negative")
    most_deck_clearance = length("Most deck clearance", 0, 20, why=ENGINES)
    head_height_tolerance = length("Head height tolerance", 0, 5, why="with more, no head seals")
    chamber_difference = volume("Chamber difference", 0, 100, why="chambers further apart are not a matched set")
    barrel_tilt = length("Barrel tilt", 0, 5, why="with more, no head seals")


class Torques(Section):
    cylinder_head = torque("Cylinder head", 1, 400, why=WRENCHES)
    rocker_shaft = torque("Rocker shaft", 1, 100, why="no post is tightened more")
    inlet_manifold = torque("Inlet manifold", 1, 400, why=WRENCHES)
    exhaust_flange = torque("Exhaust flange", 1, 400, why=WRENCHES)
    spark_plug = torque("Spark plug", 1, 400, why=WRENCHES)
    adjuster_locknut = torque("Adjuster locknut", 1, 400, why=WRENCHES)
    head_cap_screw = torque("Head cap screw", 1, 100, why="no such screw is tightened more")
    oil_pipe_union = torque("Oil pipe union", 1, 400, why=WRENCHES)
    oil_cooler = torque("Oil cooler", 1, 400, why=WRENCHES)
    drain_plug = torque("Drain plug", 1, 400, why=WRENCHES)
    carburettor = torque("Carburettor", 1, 400, why=WRENCHES)
    engine_to_gearbox = torque("Engine to gearbox", 1, 400, why=WRENCHES)
    engine_mounting = torque("Engine mounting", 1, 400, why=WRENCHES)
    distributor_clamp = torque("Distributor clamp", 1, 400, why=WRENCHES)


class Clearances(Section):
    inlet = length("Inlet", 0.02, 1, why="less is not set with blades; more means worn valve gear")
    exhaust = length("Exhaust", 0.02, 1, why="less is not set with blades; more means worn valve gear")


class CamEvents(Section):
    hint = (
        "At the lift named; a positive angle is before (opening) or after (closing) the dead centre that its name says."
    )
    at_lift = length("At lift", 0, 3, why="events are given near the seat")
    inlet_opens_before_top = angle("Inlet opens before top", -60, 150, why=CAMS)
    inlet_closes_after_bottom = angle("Inlet closes after bottom", -60, 150, why=CAMS)
    exhaust_opens_before_bottom = angle("Exhaust opens before bottom", -60, 150, why=CAMS)
    exhaust_closes_after_top = angle("Exhaust closes after top", -60, 150, why=CAMS)


class Springs(Section):
    free_length = length("Free length", 5, 200, why=SPRINGS)
    fitted_length = length("Fitted length", 5, 200, why=SPRINGS)
    fitted_length_tolerance = length("Fitted length tolerance", 0, 20, why=SPRINGS)
    seat_load = measure("Seat load", "N", 5, 5000, why=SPRINGS)
    open_load = measure("Open load", "N", 5, 5000, why=SPRINGS)
    wire_diameter = length("Wire diameter", 1, 12, why=SPRINGS)
    outside_diameter = length("Outside diameter", 8, 100, why=SPRINGS)
    active_coils = number("Active coils", 1, 30, why=SPRINGS)
    total_coils = number("Total coils", 1, 30, why=SPRINGS)


class ValveGear(Section):
    adjuster_end = choice("Adjuster end", {"valve": "valve end of the rocker", "pushrod": "pushrod end of the rocker"})
    adjuster_pitch = length("Adjuster pitch", 0.25, 3, why="finer and coarser screws are not made")
    gap_allowance = length("Gap allowance", 0.01, 0.3, why="less cannot be set by hand; more means noise and wear")
    cam_to_barrel_base = length("Cam to barrel base", 1, 600, why=PARTS)
    cam_to_pushrod = length("Cam to pushrod", 1, 600, why=PARTS)
    barrel_seat_to_rocker_shaft = length("Barrel seat to rocker shaft", 1, 600, why=PARTS)
    barrel_seat_to_valve_seat = length("Barrel seat to valve seat", 1, 600, why=PARTS)
    guide_length = length("Guide length", 10, 150, why="guides of such engines")
    valve_length = length("Valve length", 1, 600, why=PARTS)


class Materials(Section):
    case = choice("Case", METALS)
    barrel = choice("Barrel", METALS)
    head = choice("Head", METALS)
    tappet = choice("Tappet", METALS)
    pushrod = choice("Pushrod", METALS)
    inlet_valve = choice("Inlet valve", METALS)
    exhaust_valve = choice("Exhaust valve", METALS)


class Running(Section):
    idle_speed = measure("Idle speed", "r/min", 300, 3000, why=ENGINES)
    highest_speed = measure("Highest speed", "r/min", 100, 20000, why=ENGINES)
    oil_pressure_hot = measure("Oil pressure hot", "bar", 0.1, 15, why=OIL)
    oil_pressure_speed = measure(
        "Oil pressure speed", "r/min", 500, 10000, why="pressures are given for speeds like these"
    )
    oil_pressure_idle = measure("Oil pressure idle", "bar", 0.1, 15, why=OIL)
    oil_quantity = volume("Oil quantity", 100, 50_000, why=ENGINES)
    static_advance = angle("Static advance", -30, 75, why=ADVANCE)
    full_advance = angle("Full advance", -30, 75, why=ADVANCE)
    full_advance_speed = measure("Full advance speed", "r/min", 50, 15000, why=SPEEDS)
    advance_start_speed = measure("Advance start speed", "r/min", 50, 15000, why=SPEEDS)
    advance_tolerance = angle("Advance tolerance", 0, 15, why="a wider limit is no use")
    dwell = angle("Dwell", 1, 359, why="a part of one turn of the distributor")
    dwell_tolerance = angle("Dwell tolerance", 0, 20, why="a wider limit is no use")
    points_gap = length("Points gap", 0.1, 1.5, why="contact breaker points")
    plug_gap = length("Plug gap", 0.1, 3, why="sparking plugs")


class Carburettor(Section):
    throttles = count("Throttles", 1, 12, why=ENGINES)
    main_jet = number("Main jet", 20, 900, why="no main jet is smaller or larger")
    idle_co_least = number("Least CO at idle", 0, 15, why=EXHAUST)
    idle_co_most = number("Most CO at idle", 0, 15, why=EXHAUST)


class Rings(Section):
    end_gap_least = length("End gap least", 0, 20, why=WEAR)
    end_gap_greatest = length("End gap greatest", 0, 20, why=WEAR)


class Seats(Section):
    angle = entries.angle("Angle", 10, 80, why="valve seats")
    inlet_width_least = length("Inlet width least", 0, 20, why=WEAR)
    inlet_width_greatest = length("Inlet width greatest", 0, 20, why=WEAR)
    exhaust_width_least = length("Exhaust width least", 0, 20, why=WEAR)
    exhaust_width_greatest = length("Exhaust width greatest", 0, 20, why=WEAR)
    inlet_face_width = length("Inlet face width", 0, 20, why=WEAR)
    exhaust_face_width = length("Exhaust face width", 0, 20, why=WEAR)
    contact_from_edge = length("Contact from edge", 0, 20, why=WEAR)


class Limits(Section):
    hint = "What a part may be worn to and still be used again."
    cranking_pressure = measure("Cranking pressure", "bar", 0.5, 40, why=SPARK)
    cranking_spread = measure("Cranking spread", "bar", 0.1, 20, why=SPARK)
    guide_clearance = length("Guide clearance", 0, 20, why=WEAR)
    valve_rock = length("Valve rock", 0, 20, why=WEAR)
    valve_margin = length("Valve margin", 0, 20, why=WEAR)
    valve_stem_runout = length("Valve stem run-out", 0, 20, why=WEAR)
    spring_free_length = length("Spring free length", 5, 200, why=SPRINGS)
    spring_seat_load = measure("Spring seat load", "N", 5, 5000, why=SPRINGS)
    spring_lean = length("Spring lean", 0, 20, why=WEAR)
    rocker_bush_clearance = length("Rocker bush clearance", 0, 20, why=WEAR)
    pushrod_runout = length("Pushrod run-out", 0, 20, why=WEAR)
    tappet_clearance = length("Tappet clearance", 0, 20, why=WEAR)
    tappet_face_hollow = length("Tappet face hollow", 0, 20, why=WEAR)
    head_flatness = length("Head flatness", 0, 20, why=WEAR)
    lobe_lift_loss = length("Lobe lift loss", 0, 20, why=WEAR)
    bore_wear = length("Bore wear", 0, 20, why=WEAR)
    bore_taper = length("Bore taper", 0, 20, why=WEAR)
    bore_out_of_round = length("Bore out of round", 0, 20, why=WEAR)
    piston_clearance = length("Piston clearance", 0, 20, why=WEAR)
    piston_clearance_least = length("Piston clearance least", 0, 20, why=WEAR)
    ring_end_gap = length("Ring end gap", 0, 20, why=WEAR)
    ring_side_clearance = length("Ring side clearance", 0, 20, why=WEAR)
    gudgeon_pin_clearance = length("Gudgeon pin clearance", 0, 20, why=WEAR)
    stud_height_difference = length("Stud height difference", 0, 20, why=WEAR)
    port_step = length("Port step", 0, 20, why="with a larger step, the parts do not belong together")
    chamber_wall = length("Chamber wall", 0.5, 50, why="no wall of such a head is thicker")


class Place(Section):
    needs = ("name", "x", "y")
    own_source = ()
    name = text("Name", most=3)
    x = length("X", -FARTHEST, FARTHEST, why=FAR)
    y = length("Y", -FARTHEST, FARTHEST, why=FAR)


class HeadStuds(Section):
    needs = ("positions", "source")
    own_source = ("order",)
    thread = text("Thread", may_be_empty=True)
    property_class = choice("Property class", {one: one for one in CLASSES})
    thread_condition = choice("Thread condition", {one: one for one in ("dry", "oiled", "anti-seize")})
    engagement = length("Engagement", 2, 80, why="shorter does not hold, longer gains nothing")
    source = text("Source")
    positions = Rows("positions", Place, 2, 20)
    order = names("Order")


class HeadScrews(Section):
    hint = (
        "Screws that hold the head besides the nuts on its studs: 0 where there are none. "
        "Their torque stands among the torques; their places are seen as the studs are."
    )
    needs = ("screw_count", "source")
    own_source = ()
    screw_count = count("Screw count", 0, 8, why="no head here has more")
    screw_sequence = choice(
        "Screw sequence", {one: one for one in ("snug first", "every pass", "before the nuts", "after the nuts")}
    )
    source = text("Source")
    positions = Rows("positions", Place, 1, 8)


class Studs(Section):
    cylinder_head = Part(HeadStuds)
    head_screws = Part(HeadScrews)


class CardFacts(Section):
    """The facts of one engine."""

    needs = ("name", "about", "layout")
    own_source = ()
    name = text("Name")
    about = text("About")
    layout = Part(Layout)
    dimensions = Part(Dimensions)
    compression = Part(Compression)
    torques = Part(Torques)
    clearances = Part(Clearances)
    cam_events = Part(CamEvents)
    springs = Part(Springs)
    valve_gear = Part(ValveGear)
    materials = Part(Materials)
    running = Part(Running)
    carburettor = Part(Carburettor)
    rings = Part(Rings)
    seats = Part(Seats)
    limits = Part(Limits)
    studs = Part(Studs)


def card_entry[T](fact: Entry[T], label: str, *, exact: bool | None = None, **facts: Any) -> Entry[T]:
    """Return a question's entry for a fact of the card, within the card's limits.

    Parameters
    ----------
    fact : Entry
        ``CardFacts.dimensions.bore``
    label : str
        What the question calls it.
    exact : bool, optional
        Whether a ± behind it is refused; as the card has it, where it is not said.
    **facts
        As ``Facts`` has them.
    """
    kind = fact.kind
    if isinstance(kind, Measure) and exact is not None:
        kind = replace(kind, exact=exact)
    return Entry(label, kind, Facts(**({"card": fact.path} | facts)))


CARD_PATHS = frozenset(path for section in every_section(CardFacts) for path in section.paths())
"""What a question can ask a card for."""
