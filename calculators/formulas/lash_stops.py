"""Ways to set every valve once: which valves at which place of the crank, and the turns of a hand between them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from calculators.formulas.base_circle import CYCLE, OVERLAP, Cam, Valve, Window, depth, inside
from calculators.formulas.fewest_stops import HAIR, deepest_stops
from calculators.formulas.firing import SAME_MARK, companion

Method = Literal["own", "companion", "opening", "two", "fewest"]
Sign = Literal["fires", "rocks", "exhaust opens", "inlet closes"]


@dataclass(frozen=True, slots=True)
class Setting:
    """A valve set at a stop, and the proof: degrees of crank from the stop to either end of its base circle.

    Parameters
    ----------
    behind : float, [°]
        Back, against the way the engine runs, to the ramp that has let the valve down.
    ahead : float, [°]
        On, the way it runs, to the ramp that will lift it. Negative: the cam is that far off.
    """

    valve: Valve
    behind: float
    ahead: float

    @property
    def least(self) -> float:
        return min(self.behind, self.ahead)


@dataclass(frozen=True, slots=True)
class Stop:
    """One place where the crank is held.

    Parameters
    ----------
    crank : float, [°]
        Crank angle after number 1's firing top dead centre, counted as the engine runs.
    turn, turned : float, [°]
        Turned by hand from the stop before, and from the dead centre where the hand began.
    signs : tuple of (int, Sign)
        What tells the place: which cylinder does what.
    settings : tuple of Setting
    """

    crank: float
    turn: float
    turned: float
    signs: tuple[tuple[int, Sign], ...]
    settings: tuple[Setting, ...]

    def cylinders(self, kind: str) -> tuple[int, ...]:
        """Return the cylinders whose valves of a kind are set here, in the order of their numbers."""
        return tuple(dict.fromkeys(one.valve.cylinder for one in self.settings if one.valve.kind == kind))


@dataclass(frozen=True, slots=True)
class Plan:
    """Stops in the order in which the hand meets them, from the firing top dead centre of cylinder ``begin`` on."""

    begin: int
    stops: tuple[Stop, ...]

    @property
    def shallowest(self) -> Setting:
        """The valve that lies least far inside its base circle."""
        return min((one for stop in self.stops for one in stop.settings), key=lambda one: one.least)


@dataclass(frozen=True, slots=True)
class _Place:
    crank: float
    signs: tuple[tuple[int, Sign], ...]
    settings: tuple[Setting, ...]


def plan(
    method: Method, fires: Mapping[int, float], valves: Sequence[Valve], cam: Cam, backwards: bool, slack: float = 0.0
) -> Plan:
    """Return where every valve of an engine is set once.

    Parameters
    ----------
    method : Method
        ``own``: each cylinder at its own firing top dead centre. ``companion``: the same
        places, told by the companion on overlap. ``opening``: the inlet valves where the
        exhaust valve of the cylinder begins to open, the exhaust valves where its inlet
        valve has just closed. ``two``: number 1's firing top dead centre and one turn on.
        ``fewest``: the smallest number of places; if it can be had at dead centres, there.
    fires : mapping of int to float, [°]
        Crank angle at which each cylinder is at its firing top dead centre; number 1's is 0.
    valves : sequence of Valve
    cam : Cam
        Used by ``opening``, for where the eye sees a valve begin or end its lift.
    backwards : bool
        The hand turns the crank against the way it runs.
    slack : float, [°]
        How far the hand may miss a place: ``fewest`` keeps every valve so far inside.

    Notes
    -----
    Where a place is seen as a valve begins to open, the crank may be anywhere on its
    ramp: the settings there are reckoned from the worse end.

    Examples
    --------
    >>> from calculators.formulas.base_circle import ORDINARY_CAM, valves
    >>> fires = {1: 0.0, 3: 180.0, 4: 360.0, 2: 540.0}
    >>> ones = valves(fires, ORDINARY_CAM, {"inlet": (1,) * 4, "exhaust": (1,) * 4})
    >>> for stop in plan("two", fires, ones, ORDINARY_CAM, False).stops:
    ...     print(stop.turn, stop.cylinders("inlet"), stop.cylinders("exhaust"))
    0.0 (1, 2) (1, 3)
    360.0 (3, 4) (2, 4)
    """
    if method == "opening":
        return _least_turning(_by_lift(fires, valves, cam), fires, backwards)
    if method == "fewest":
        return _least_turning(_shared_out(valves, _fewest(fires, valves, slack), fires), fires, backwards)
    if method == "two":
        return _turned(_shared_out(valves, (0.0, OVERLAP), fires), fires, 1, backwards)
    places = []
    for cylinder, crank in fires.items():
        other = companion(cylinder, fires) if method == "companion" else None
        sign: tuple[int, Sign] = (other, "rocks") if other else (cylinder, "fires")
        places.append(_Place(crank, (sign,), _set([one for one in valves if one.cylinder == cylinder], crank)))
    return _turned(places, fires, 1, backwards)


def _set(valves: Iterable[Valve], crank: float, spread: float = 0.0) -> tuple[Setting, ...]:
    """Return the valves set at a crank angle that is known to within ``spread`` degrees."""
    found = []
    for valve in valves:
        behind, ahead = inside(valve.window, crank)
        found.append(Setting(valve, behind - spread, ahead - spread))
    return tuple(found)


def _by_lift(fires: Mapping[int, float], valves: Sequence[Valve], cam: Cam) -> list[_Place]:
    """Return the places where an exhaust valve begins to open or an inlet valve has just closed, near ones as one."""
    exhaust, inlet = cam["exhaust"], cam["inlet"]
    seen: tuple[tuple[Sign, str, float, float], ...] = (
        ("exhaust opens", "inlet", exhaust.leaves, exhaust.opens),
        ("inlet closes", "exhaust", inlet.closes, inlet.returns),
    )
    places: list[_Place] = []
    for cylinder, fired in fires.items():
        for sign, kind, early, late in seen:
            crank = (fired + (early + late) / 2) % CYCLE
            chosen = [one for one in valves if (one.cylinder, one.kind) == (cylinder, kind)]
            places.append(_Place(crank, ((cylinder, sign),), _set(chosen, crank, (late - early) / 2)))
    places.sort(key=lambda place: place.crank)
    merged = places[:1]
    for place in places[1:]:
        if place.crank - merged[-1].crank < SAME_MARK * CYCLE:
            last = merged.pop()
            place = _Place(last.crank, (*last.signs, *place.signs), (*last.settings, *place.settings))
        merged.append(place)
    return merged


def _shared_out(valves: Sequence[Valve], cranks: Sequence[float], fires: Mapping[int, float]) -> list[_Place]:
    """Give each valve to the place where it lies deepest on its base circle; a place without valves falls away."""
    mine: dict[float, list[Valve]] = {crank: [] for crank in cranks}
    for valve in valves:
        mine[max(cranks, key=lambda crank: round(depth(valve.window, crank), 6))].append(valve)
    return [_Place(crank, _signs(crank, fires), _set(held, crank)) for crank, held in mine.items() if held]


def _signs(crank: float, fires: Mapping[int, float]) -> tuple[tuple[int, Sign], ...]:
    found: list[tuple[int, Sign]] = []
    for cylinder, fired in fires.items():
        away = (crank - fired + CYCLE / 4) % CYCLE - CYCLE / 4  # from a quarter before to three quarters after
        if abs(away) < SAME_MARK * CYCLE:
            found.append((cylinder, "fires"))
        elif abs(away - OVERLAP) < SAME_MARK * CYCLE:
            found.append((cylinder, "rocks"))
    return tuple(found)


def _fewest(fires: Mapping[int, float], valves: Sequence[Valve], slack: float) -> tuple[float, ...]:
    """Return the deepest of the smallest sets of places: at dead centres where those are as few."""
    windows = [Window(valve.window.start + slack, valve.window.length - 2 * slack) for valve in valves]
    anywhere = deepest_stops(windows) or ()
    tops = dict.fromkeys(round((fired + turn) % CYCLE, 6) for turn in (0.0, OVERLAP) for fired in fires.values())
    at_tops = deepest_stops(windows, tuple(tops))
    return at_tops if at_tops and len(at_tops) == len(anywhere) else anywhere


def _on(begin: float, end: float, backwards: bool) -> float:
    """Return how far the hand turns the crank from one angle to another, nought up to one cycle."""
    turn = (begin - end if backwards else end - begin) % CYCLE
    return 0.0 if min(turn, CYCLE - turn) < HAIR else turn


def _least_turning(places: Sequence[_Place], fires: Mapping[int, float], backwards: bool) -> Plan:
    """Begin at the firing top dead centre from which all places are met soonest; of equals at the lowest number."""
    begin = min(
        sorted(fires), key=lambda one: round(max(_on(fires[one], place.crank, backwards) for place in places), 6)
    )
    return _turned(places, fires, begin, backwards)


def _turned(places: Iterable[_Place], fires: Mapping[int, float], begin: int, backwards: bool) -> Plan:
    """Put places in the order in which the hand meets them."""
    stops, before = [], 0.0
    met = sorted((_on(fires[begin], place.crank, backwards), index, place) for index, place in enumerate(places))
    for turned, _, place in met:
        stops.append(Stop(place.crank, turned - before, turned, place.signs, place.settings))
        before = turned
    return Plan(begin, tuple(stops))
