"""The calculators of former editions: what jobs, links and addresses that name one still mean."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Former:
    """A calculator that questions have taken the place of.

    Parameters
    ----------
    title : str
    room : str
        Where its questions are.
    shared : mapping of str to str
        The job's name for each of its entries that questions ask for too.
    units : mapping of str to str
        The unit in which each of its own entries was taken where none was typed.
    """

    title: str
    room: str
    shared: Mapping[str, str]
    units: Mapping[str, str]


def _former(title: str, room: str, shared: str, units: str = "") -> Former:
    """Return one, its entries as ``key`` or ``key=name`` and ``unit: key key``, parted by spaces and semicolons."""
    names = dict((entry.split("=") * 2)[:2] for entry in shared.split())
    by_unit = (group.split(":") for group in units.split(";") if group)
    return Former(title, room, names, {key: unit.strip() for unit, keys in by_unit for key in keys.split()})


FORMER = {
    "air-and-mixture": _former(
        "Air and mixture",
        "air",
        "altitude air_temperature air_humidity air_pressure main_jet jet_numbers jet_drawer throttles",
        "%: spread_allowed co co2 o2 idle_co_least idle_co_most base_humidity hygrometer_error "
        "analyser_error; kPa: vacuum vacuum_error vacuum_scatter; m: base_altitude; °C: base_temperature; "
        "hPa: barometer_error",
    ),
    "chamber-volume": _former(
        "Chamber volume",
        "measuring",
        "cylinders bore",
        "cm³: may_differ fill fill_start step burette_error capacity parts crown_fill crown_fill_start; "
        "mm: hole plate dome_diameter dome_height cone_wide cone_narrow cone_height step_diameter "
        "step_height dimension_error crown_diameter bore_error depth_error piston_depth crown_depth; °C: "
        "liquid_temperature head_temperature",
    ),
    "compression-and-spacers": _former(
        "Compression and spacers",
        "compression",
        "bore stroke cylinders heads=banks chamber deck crown barrel_length thickness=spacer_thickness "
        "pieces=spacer_pieces target=target_ratio gasket_thickness gasket_bore rod_length inlet_closing "
        "altitude air_temperature before=spacers_before rocker_ratio volume_scatter "
        "filled_from=volumes_from",
        "mm: least_deck most_deck height_tolerance depth_error bore_error; cm³: volume_error",
    ),
    "cylinder-tests": _former(
        "Cylinder tests",
        "cylinders",
        "cylinders heads=banks dry wet dry_after held flow heard=leak_heard held_after supply=leak_supply "
        "orifice=leak_orifice gauge_error=compression_gauge_error leak_error=leak_gauge_error ratio "
        "stroke rod_length inlet_closing altitude air_temperature",
        "%: most_leakage flow_error; bar: least_pressure most_spread gauge_scatter",
    ),
    "deck-height": _former(
        "Deck height",
        "measuring",
        "cylinders heads=banks bore",
        "mm: depth tilt_allowed difference_allowed zero step gauge_error circle",
    ),
    "fits-and-wear": _former(
        "Fits and wear",
        "fits",
        "cylinders bore_across bore_along piston end_gap side_gap inlet_stem inlet_guide inlet_rock "
        "inlet_stem_runout inlet_margin inlet_seat_width inlet_line exhaust_stem exhaust_guide "
        "exhaust_rock exhaust_stem_runout exhaust_margin exhaust_seat_width exhaust_line "
        "inlet_rocker_bush inlet_rocker_shaft inlet_tappet_bore inlet_tappet inlet_tappet_gap "
        "inlet_pushrod_runout exhaust_rocker_bush exhaust_rocker_shaft exhaust_tappet_bore exhaust_tappet "
        "exhaust_tappet_gap exhaust_pushrod_runout face_gaps overhang=guide_to_dial bore_error "
        "micrometer_error guide_error feeler_error dial_error calliper_error",
        "mm: bore_new guide_length inlet_face exhaust_face wear_most taper_most round_most "
        "clearance_least clearance_most gap_least gap_most side_most guide_clearance_most rock_most "
        "runout_most margin_least inlet_width_least inlet_width_most exhaust_width_least "
        "exhaust_width_most edge_least bush_most tappet_most hollow_most pushrod_most flatness_most "
        "bore_scatter; °C: ring_temperature barrel_temperature cold_temperature; %: expansion_error",
    ),
    "lash-growth": _former(
        "Lash growth",
        "lash",
        "inlet_clearance exhaust_clearance rocker_ratio pushrod_length",
        "°C: cold case_hot barrel_hot head_hot tappet_hot pushrod_hot inlet_hot exhaust_hot; mm: "
        "case_length barrel_length shaft_height seat_height tappet_length valve_length",
    ),
    "lash-setting": _former(
        "Lash setting",
        "lash",
        "adjuster_end rocker_ratio inlet_clearance exhaust_clearance blades cylinders "
        "inlet_found=inlet_gap_found exhaust_found=exhaust_gap_found",
        "mm: screw_pitch allowance gap_before gap_after gap_error",
    ),
    "lash-turn-plan": _former(
        "Lash turn plan",
        "lash",
        "cylinders banks firing_order crank_rotation rotor_rotation notch=rotor_notch inlet_clearance "
        "exhaust_clearance blades firing_intervals inlet_valves exhaust_valves "
        "inlet_opens=inlet_opens_before_top inlet_closes=inlet_closes_after_bottom "
        "exhaust_opens=exhaust_opens_before_bottom exhaust_closes=exhaust_closes_after_top event_lift "
        "ramp=cam_ramp inlet_last=inlet_gap_last inlet_found=inlet_gap_found inlet_left=inlet_gap_left "
        "exhaust_last=exhaust_gap_last exhaust_found=exhaust_gap_found exhaust_left=exhaust_gap_left",
        "°: crank_limit; mm: gap_limit",
    ),
    "marks-and-timing": _former(
        "Marks and timing",
        "timing",
        "diameter=pulley_diameter crank_rotation scale_on=marks_on firing_order firing_intervals "
        "static_advance full_advance stop_forwards stop_backwards rim_forwards rim_backwards stroke "
        "rod_length dwell_read dwell_read_share gap_second dwell_second light_from light_speed "
        "light_advance inlet_opens=inlet_opens_before_top inlet_closes=inlet_closes_after_bottom "
        "exhaust_opens=exhaust_opens_before_bottom exhaust_closes=exhaust_closes_after_top "
        "inlet_opens_read inlet_closes_read exhaust_opens_read exhaust_closes_read cam_teeth",
        "°: more_marks wheel_error mark_limit dwell dwell_tolerance dwell_error tolerance light_error "
        "bend_advance cam_tolerance; mm: rim_error gap_fitted; r/min: start_speed full_speed bend_speed",
    ),
    "port-match": _former(
        "Port match",
        "ports",
        "pipe_width pipe_height pipe_corner pipe_across pipe_up pipe_trace gasket_width gasket_height "
        "gasket_corner gasket_across gasket_up gasket_trace port_width port_height port_corner "
        "port_across port_up port_trace cylinders bore stroke engine_speed valve_head=inlet_valve_head "
        "valve_lift throat=inlet_throat chamber wall=chamber_wall crown volume_scatter "
        "filled_from=volumes_from",
        "mm: step_allowed edge_error stem least_wall wall_error; °C: inlet_temperature; cm³: may_differ volume_error",
    ),
    "pushrods-and-tubes": _former(
        "Pushrods and tubes",
        "pushrods",
        "cylinders heads=banks spacer_height before=spacers_before pushrod_length "
        "new_length=new_pushrod_length rocker_ratio adjuster_end travel_in=adjuster_travel_in "
        "travel_out=adjuster_travel_out tube_free_length seat_distance=tube_seat_distance valve_lift",
        "mm: other_shift least_crush most_crush rocker_arm flange_play length_error; °: pushrod_slope "
        "off_square inlet_facing exhaust_facing",
    ),
    "run-in-plan": _former(
        "Run-in plan",
        "running_in",
        "start=first_start odometer_unit odometer weekly=weekly_distance highest_speed stroke idle_speed "
        "pressure_idle=oil_pressure_idle pressure_hot=oil_pressure_hot pressure_speed=oil_pressure_speed "
        "temperature=oil_temperature_highest inlet_clearance exhaust_clearance nuts=head_nuts_again "
        "cam=cam_condition load=first_load minutes=first_run_minutes fast_idle "
        "read_idle=oil_pressure_read_idle read_hot=oil_pressure_read_hot share=run_in_share "
        "first=run_in_first end=run_in_end rises=run_in_rises mark=revolution_counter_mark "
        "gears=road_speeds early=run_in_early second=run_in_second oil=run_in_oil "
        "oil_interval=run_in_oil_interval lash_interval=run_in_lash_interval months=service_months",
        "bar: gauge_error",
    ),
    "sealing-plan": _former(
        "Sealing plan",
        "sealing",
        "shop_temperature=workshop_temperature",
        "min: work open_time setting; h: cure; °C: sheet_temperature; mm: thickness_error free fitted; %: "
        "least_crush most_crush",
    ),
    "stud-clamp": _former(
        "Stud clamp",
        "fasteners",
        "thread=stud_thread steel=stud_steel torque=head_torque condition=stud_condition engagement=stud_engagement",
        "%: wrench_error; mm: face hole",
    ),
    "torque-stages": _former(
        "Torque stages",
        "torque",
        "target=head_torque graduation=wrench_step wrench_low wrench_high wrench_type "
        "screw_torque=head_screw_torque wrench_length small_step=small_wrench_step "
        "small_low=small_wrench_low small_high=small_wrench_high small_type=small_wrench_type "
        "small_length=small_wrench_length",
        "%: shares; N·m: nip post_torque; °: turns angle; mm: extension across up screw_across screw_up",
    ),
    "units-and-fasteners": _former(
        "Units and fasteners",
        "fasteners",
        "",
        "%: share; mm: diameter pitch caliper_error length; N·m: torque; cm³: volume; N: force; bar: pressure",
    ),
    "valve-springs": _former(
        "Valve springs",
        "springs",
        "valve_lift highest_speed",
        "mm: fitted_length least_margin free_length wire outside length_a length_b height to_guide shims "
        "old_free loss_of_length wire_error length_error length_scatter stop_error; N: seat_load load_a "
        "load_b old_load load_error load_scatter; %: load_band loss_of_load modulus_error",
    ),
}
"""By the name that jobs and addresses have."""

RENAMED = {
    "cranking_exponent": "polytropic_exponent",
    "cranking_exponent_error": "polytropic_exponent_error",
    "deck_difference_allowed": "height_tolerance",
    "lash.marks.end": "stands_at",
    "lash.plan.end": "stands_at",
    "measuring.even.may_differ": "chamber_difference",
}
"""Names under which jobs kept what is now asked under another; ``withUnits`` in ``merge-jobs.js`` has them too."""
