"""What heat does to the valve gaps, and whether each valve still shuts."""

from __future__ import annotations

from calculators.bench import (
    Answer,
    Entry,
    Quantity,
    Question,
    choice,
    magnitude_in,
    measure,
    number,
    shared,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.entries import either_way
from calculators.bench.units import number_in, reading
from calculators.formulas.base_circle import KINDS, Kind
from calculators.formulas.thermal_growth import gap_growth, growth
from calculators.lash.growth_drawing import growth_figure
from calculators.lash.hot_gap import (
    MAKER_WINS,
    Growth,
    Heated,
    customary_figures,
    gap_values,
    hard_cautions,
    running_cautions,
    says,
    short,
    steps_of,
)
from calculators.lash.hot_gap_tables import cold_figures, part_table
from calculators.lash.metals import COEFFICIENTS, MATERIALS

_CASE, _HEAD, _PUSHED, _VALVES, _HOW_GOOD = (
    "Case and barrel",
    "Head",
    "Tappet, pushrod and rocker",
    "Valves",
    "How good temperatures and coefficients are",
)


def _length(
    label: str, fact: Entry[Quantity], example: str, fold: str, hint: str = "", *, stands_in: bool = False
) -> Entry[Quantity]:
    return card_entry(fact, label, hint=hint, example=example, refines=fold, stands_in=stands_in)


def _material(part: str, card: str, example: str, fold: str | None) -> Entry[str]:
    return choice(f"{part} material", MATERIALS, card=card, example=example, refines=fold)


def _hot(part: str, usual: str, fold: str | None, hint: str = "") -> Entry[Quantity]:
    return measure(
        f"{part} temperature",
        "°C",
        -40,
        900,
        why="colder, no engine starts; hotter, a valve fails",
        exact=True,
        hint=hint,
        usual=f"{usual} °C",
        refines=fold,
        said=f"{part.lower()} {{}}",
    )


def _coefficient_error(label: str, hint: str, usual: str) -> Entry[float]:
    return either_way(
        number(label, 0, 30, why="a larger error means another metal", hint=hint, usual=usual, refines=_HOW_GOOD)
    )


class Heat(Question):
    """An estimate from lengths, metals and temperatures: to understand the maker's figure, never to replace it.

    Steady running only: while an engine warms up, the parts heat one after the other. Takes pushrod, valve and barrel
    as parallel, with coefficients for room temperature, give or take their error limit.
    """

    asks = "What does heat do to the gap, and is each valve sure to shut?"
    tells = "Valve gap, hot"

    inlet_clearance = shared.inlet_clearance(hint="The engine maker's, engine cold.")
    exhaust_clearance = shared.exhaust_clearance()
    pushrod_length = card_entry(
        CardFacts.dimensions.pushrod_length,
        "Pushrod length",
        example="276 mm",
        shared_as="pushrod_length",
        said="pushrods of {}",
    )
    pushrod_material = choice(
        "Pushrod material", MATERIALS, card=CardFacts.materials.pushrod.path, example="wrought aluminium", said="{}"
    )
    exhaust_hot = _hot("Exhaust valve", "250", None, "Mean over seat to tip: the head is far hotter.")
    hotter = either_way(
        number(
            "Extra valve temperature when worked hard, in K",
            0,
            500,
            why="hotter still, the valve melts",
            hint="How much hotter than in ordinary running: a long climb, a lean mixture, late ignition. 100 K is 180 "
            "°F.",
            usual="100",
            said="{} K more worked hard",
        )
    )
    cold = measure(
        "Cold temperature",
        "°C",
        -40,
        60,
        why="from a yard in winter to one in the sun; hotter is not cold",
        exact=True,
        hint="Of the whole engine, when the gap is set.",
        usual="20 °C",
        said="cold {}",
    )
    case_length = _length("Distance from cam to barrel base", CardFacts.valve_gear.cam_to_barrel_base, "116 mm", _CASE)
    case_material = _material("Case", CardFacts.materials.case.path, "cast magnesium", _CASE)
    case_hot = _hot("Case", "80", _CASE)
    barrel_length = _length(
        "Barrel length", CardFacts.dimensions.barrel_length, "104 mm", _CASE, "With spacers.", stands_in=True
    )
    barrel_material = _material("Barrel", CardFacts.materials.barrel.path, "grey iron", _CASE)
    barrel_hot = _hot("Barrel", "130", _CASE)
    shaft_height = _length(
        "Distance from barrel seat to rocker shaft",
        CardFacts.valve_gear.barrel_seat_to_rocker_shaft,
        "112 mm",
        _HEAD,
    )
    seat_height = _length(
        "Distance from barrel seat to valve seat", CardFacts.valve_gear.barrel_seat_to_valve_seat, "14 mm", _HEAD
    )
    head_material = _material("Head", CardFacts.materials.head.path, "cast aluminium", _HEAD)
    head_hot = _hot("Head", "140", _HEAD)
    tappet_length = _length(
        "Distance from cam to pushrod",
        CardFacts.valve_gear.cam_to_pushrod,
        "56 mm",
        _PUSHED,
        "Cam axis to the pushrod's seat in the tappet, valve shut.",
    )
    tappet_material = _material("Tappet", CardFacts.materials.tappet.path, "grey iron", _PUSHED)
    tappet_hot = _hot("Tappet", "90", _PUSHED)
    pushrod_hot = _hot("Pushrod", "110", _PUSHED)
    rocker_ratio = shared.rocker_ratio(refines=_PUSHED)
    valve_length = _length("Valve length", CardFacts.valve_gear.valve_length, "105 mm", _VALVES, "Seat to stem tip.")
    inlet_material = _material("Inlet valve", CardFacts.materials.inlet_valve.path, "martensitic steel", _VALVES)
    inlet_hot = _hot("Inlet valve", "150", _VALVES)
    exhaust_material = _material("Exhaust valve", CardFacts.materials.exhaust_valve.path, "martensitic steel", _VALVES)
    temperature_error = either_way(
        number(
            "Error limit of the hot temperatures in K",
            0,
            100,
            why="a wider guess says nothing",
            hint="Plus or minus, for each hot temperature.",
            usual="10",
            refines=_HOW_GOOD,
        )
    )
    coefficient_error = _coefficient_error(
        "Error limit of the coefficients in per cent",
        "Plus or minus: the spread among alloys of one kind. Common practice.",
        "5",
    )
    valve_coefficient_error = _coefficient_error(
        "Error limit of the valves' coefficients in per cent",
        "Plus or minus. Hot metal expands up to a tenth more.",
        "10",
    )

    def answer(self) -> Answer:
        error, cold = self.coefficient_error, magnitude_in(self.cold, "°C")
        case = self._heated("Case", self.case_length, self.case_material, self.case_hot, error)
        barrel = self._heated("Barrel", self.barrel_length, self.barrel_material, self.barrel_hot, error)
        shaft = self._heated("Head", self.shaft_height, self.head_material, self.head_hot, error)
        # one casting, one heat: what is unsure of the way to the shaft is unsure of the way to the seat alike
        seat = Heated("Head", self.seat_height, shaft.metal, shaft.hot, shaft.rise, shaft.coefficient)
        tappet = self._heated("Tappet", self.tappet_length, self.tappet_material, self.tappet_hot, error)
        pushrod = self._heated("Pushrod", self.pushrod_length, self.pushrod_material, self.pushrod_hot, error)
        stems: dict[Kind, Heated] = {
            "inlet": self._heated(
                "Inlet valve", self.valve_length, self.inlet_material, self.inlet_hot, self.valve_coefficient_error
            ),
            "exhaust": self._heated(
                "Exhaust valve",
                self.valve_length,
                self.exhaust_material,
                self.exhaust_hot,
                self.valve_coefficient_error,
            ),
        }
        grown = tuple(self._grown(kind, (case, barrel, shaft, seat, tappet, pushrod), stems[kind]) for kind in KINDS)
        inlet, exhaust = (growth_figure(one.kind, steps_of(one)) for one in grown)
        told = (
            case.part(cold),
            barrel.part(cold),
            shaft.part(cold, "Head, to the shaft"),
            seat.part(cold, "Head, to the seat"),
            tappet.part(cold, "Cam and tappet"),
            pushrod.part(cold),
            *(stem.part(cold) for stem in stems.values()),
        )
        return Answer(
            headline=" · ".join(short(one) for one in grown),
            says=says(grown),
            drawing=exhaust,
            values=tuple(
                value for one in grown for value in gap_values(one, self.rocker_ratio, self.valve_length, self.hotter)
            ),
            warnings=(*running_cautions(grown), *hard_cautions(grown), MAKER_WINS),
            tables=(cold_figures(grown), part_table(told)),
            figures=(inlet,),
            notes=(
                customary_figures(grown),
                "The temperatures are guesses until you measure some; the usual ones are common practice, no source. "
                "Change them to see which part matters.",
                "The coefficients hold near room temperature. Up to a tenth more is usual at a hot valve; the ± "
                "includes it.",
                "Pushrod, valve and barrel are taken as parallel: a valve inclined by 20° changes its own share by 6%.",
                "While warming up, the exhaust valve is hot before barrel and head are: the gap is then at its "
                "closest.",
            ),
        )

    def _heated(self, name: str, length: Quantity, metal: str, hot: Quantity, error: float) -> Heated:
        rise = reading(magnitude_in(hot, "°C"), self.temperature_error, f"{name} temperature")
        best = 1e-6 * COEFFICIENTS[metal]
        coefficient = reading(best, best * error / 100, f"{name} coefficient")
        return Heated(name, length, metal, hot, rise - magnitude_in(self.cold, "°C"), coefficient)

    def _grown(self, kind: Kind, parts: tuple[Heated, ...], valve: Heated) -> Growth:
        case, barrel, shaft, seat, tappet, pushrod = (part.longer for part in parts)
        ratio, carried, stem = self.rocker_ratio, case + barrel, valve.longer
        wanted = self.inlet_clearance if kind == "inlet" else self.exhaust_clearance
        return Growth(
            kind=kind,
            cold=magnitude_in(wanted, "mm"),
            shares=(
                ("case", ratio * case),
                ("barrel", ratio * barrel),
                ("head", (1 + ratio) * shaft - seat),
                ("cam, tappet", -ratio * tappet),
                ("pushrod", -ratio * pushrod),
                ("valve", -stem),
            ),
            change=gap_growth(ratio, carried + shaft, tappet + pushrod, carried + seat + stem),
            hotter=-growth(number_in(valve.length, "mm"), valve.coefficient, self.hotter),
        )
