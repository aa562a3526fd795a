"""Order the sealing work by its cure times against the clock, and judge the crush of seals and washers.

The times are the product maker's, typed in from its sheet. It does not know whether a sealer suits the
joint, the oil or the fuel.
"""

from __future__ import annotations

from types import SimpleNamespace

from calculators import Caution, Choice, Field, Figure, Form, Measure, Number, Report, Rows, Section
from calculators._sealing.drawing import strip
from calculators._sealing.joints import (
    JOINTS,
    Sealing,
    clock,
    lead,
    plan_file,
    plan_table,
    plan_values,
    plan_walk,
    read_sealing,
)
from calculators._sealing.seals import BANDS, Crush, read_seals, seals_table
from calculators._words import listed

TITLE = "Sealing plan"
_HOUR = "a day has 24 hours"
_THICKNESS = Measure(own="mm", low=0.2, high=30, why="seals and washers of engines")
_CRUSH = Measure(own="%", low=0, high=90, why="a seal is not crushed away", exact=True)


def _hour(key: str, label: str, default: str, high: float = 24, hint: str = "") -> Field:
    return Field(key=key, label=label, help=hint, kind=Number(low=0, high=high, why=_HOUR), default=default)


FORM = Form(
    (
        Section(
            title="The clock",
            fields=(
                _hour("start_hour", "Hour of the start", "8", 23, "Of day 1, by the clock of 24 hours."),
                Field(
                    key="start_minute",
                    label="Minutes past that hour",
                    kind=Number(low=0, high=59, why="an hour has 60 minutes"),
                    default="0",
                ),
                Field(
                    key="joints",
                    label="Number of joints",
                    kind=Number(low=1, high=10, why="more are two plans"),
                    default="5",
                ),
            ),
        ),
        Rows(
            key="work_list",
            title="The joints",
            each="Joint {}",
            most=10,
            count="joints",
            help="Times from the product's own sheet. Where it says overnight, type 12 h. Dry seals have no cure.",
            fields=(
                Field(
                    key="joint",
                    label="Kind",
                    kind=Choice(options={key: name.capitalize() for key, (name, _) in JOINTS.items()}),
                    example="case; barrel_foot; stud; cooler; cover",
                ),
                Field(
                    key="work",
                    label="Work",
                    help="From wiping the faces to the last bolt.",
                    kind=Measure(own="min", low=1, high=720, why="longer work is two joints", exact=True),
                    example="45; 60; 20; 25; 15",
                ),
                Field(
                    key="open_time",
                    label="Open time",
                    help="First bead to last bolt; empty for dry seals.",
                    kind=Measure(own="min", low=0.5, high=1440, why="sealers for engines", exact=True),
                    optional=True,
                    example="10; 15; 20; ; ",
                ),
                Field(
                    key="setting",
                    label="Setting time",
                    help="Until a joint that builds on it may begin; empty for none.",
                    kind=Measure(own="min", low=0, high=10080, why="sealers for engines", exact=True),
                    optional=True,
                    example="60; 30; ; ; ",
                ),
                Field(
                    key="cure",
                    label="Cure before oil",
                    help="From the last bolt; empty for none.",
                    kind=Measure(own="h", low=0, high=336, why="sealers for engines", exact=True),
                    optional=True,
                    example="24; 12; 6; ; 2",
                ),
                Field(
                    key="earlier",
                    label="Earlier joint",
                    help="Number of the joint that must be made first; empty for none.",
                    kind=Number(low=1, high=10, why="the joints of this list"),
                    optional=True,
                    example="; 1; 2; 1; 3",
                ),
            ),
        ),
        Section(
            title="The workshop",
            folded=True,
            fields=(
                _hour("opens", "Hour the workshop opens", "7"),
                _hour("shuts", "Hour the workshop shuts", "19", hint="0 and 24: hands work day and night."),
                Field(
                    key="shop_temperature",
                    label="Workshop temperature",
                    help="Of the parts, by night as well.",
                    kind=Measure(own="°C", low=-10, high=50, why="no sealer cures beyond", exact=True),
                    default="20 °C",
                    reading="workshop_temperature",
                ),
                Field(
                    key="sheet_temperature",
                    label="Temperature of the product's sheet",
                    help="For which its times hold.",
                    kind=Measure(own="°C", low=0, high=40, why="rooms", exact=True),
                    default="23 °C",
                ),
                Field(
                    key="doubling",
                    label="Degrees colder that double the time",
                    help="In degrees Celsius; so much warmer halves the open time. 10 is common practice.",
                    kind=Number(low=3, high=50, why="sealers for engines", whole=False),
                    default="10",
                ),
            ),
        ),
        Section(
            title="Seals and washers to judge",
            fields=(
                Field(
                    key="seals",
                    label="Number of seals and washers",
                    kind=Number(low=0, high=10, why="more are two lists"),
                    default="3",
                ),
                Field(
                    key="thickness_error",
                    label="Error limit of the thickness readings",
                    help="Plus or minus. A ± typed with a reading wins over it.",
                    kind=Measure(
                        own="mm",
                        low=0,
                        high=1,
                        why="a reading further off decides nothing",
                        exact=True,
                        plus_minus=True,
                    ),
                    default="0.02 mm",
                ),
            ),
        ),
        Rows(
            key="seal_list",
            title="Seals and washers",
            each="Seal {}",
            most=10,
            count="seals",
            help="New, and as the parts leave it when tight: groove depth, gap, or washer after tightening.",
            fields=(
                Field(
                    key="seal",
                    label="Kind",
                    kind=Choice(options={key: seen for key, (seen, _, _) in BANDS.items()}),
                    example="o_ring; copper; fibre",
                ),
                Field(key="free", label="Free thickness", kind=_THICKNESS, example="2.62; 1.50; 1.60"),
                Field(
                    key="fitted",
                    label="Fitted thickness",
                    kind=Measure(own="mm", low=0.05, high=30, why="seals and washers of engines"),
                    example="2.05; 1.34; 1.53",
                ),
                Field(
                    key="least_crush",
                    label="Least crush",
                    help="From its maker; empty for common practice.",
                    kind=_CRUSH,
                    optional=True,
                ),
                Field(key="most_crush", label="Most crush", kind=_CRUSH, optional=True),
            ),
        ),
    )
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the order of the joints, when the oil may go in, and what is wrong with the seals."""
    sealing = read_sealing(inputs)
    seals = read_seals(inputs)
    return Report(
        lead=" ".join(filter(None, (lead(sealing), _seal_lead(seals)))),
        values=plan_values(sealing, inputs),
        tables=(plan_table(sealing), *((seals_table(seals),) if seals else ())),
        figures=(_strip(sealing),),
        walks=(plan_walk(sealing),),
        attachments=(plan_file(sealing),),
        cautions=(*_CAUTIONS, *_cold(sealing), *_warm(sealing)),
        notes=(
            "The product maker's sheet wins over every time here, and the engine maker over both.",
            "Lay a bead of each sealer on a spare plate when you use it. It shows at the end what has cured.",
            "A metal washer that was tight once is hard. Copper is soft again after it has glowed dull red; "
            "aluminium, fibre and rubber are thrown away.",
        ),
    )


def _seal_lead(seals: tuple[Crush, ...]) -> str:
    wrong = [seal.number for seal in seals if seal.verdict == "out"]
    close = [seal.number for seal in seals if seal.verdict == "too close to call"]
    told = []
    if wrong:
        told.append(f"{'Seals' if len(wrong) > 1 else 'Seal'} {listed(wrong)} will not seal as measured.")
    if close:
        told.append(f"{'Seals' if len(close) > 1 else 'Seal'} {listed(close)}: too close to call.")
    if seals and not told:
        told.append("All seals are crushed as they should be.")
    return " ".join(told)


def _strip(sealing: Sealing) -> Figure:
    rows = tuple((joint.number, joint.begins, joint.ends, joint.cured) for joint in sealing.joints)
    said = tuple(
        f"Joint {joint.number}, {joint.name}: hands {clock(joint.begins)} to {clock(joint.ends)}, "
        f"cured {clock(joint.cured)}"
        for joint in sealing.joints
    )
    return strip(rows, sealing.start, sealing.plan.done, (sealing.opens, sealing.shuts), said, clock(sealing.plan.done))


_CAUTIONS = (
    Caution(
        "warning",
        "Vapour of cleaner and sealer catches fire and makes you drowsy. Open the doors; no flame, no heater, no "
        "grinder.",
    ),
    Caution(
        "warning",
        "Sealers and cleaners hurt eyes and skin. Glasses and gloves; read the product's sheet before you open it.",
    ),
    Caution(
        "notice",
        "A bead squeezed inwards breaks off and blocks an oilway. Use little, and none within 5 mm of an oil hole.",
    ),
    Caution(
        "notice",
        "Oil or heat on a sealer that has not cured lifts it. No oil, no turning by the starter, before the time.",
    ),
)


def _cold(sealing: Sealing) -> tuple[Caution, ...]:
    if sealing.longer < 4:
        return ()
    return (
        Caution(
            "notice",
            "So cold, some sealers do not cure at all. Look on the product's sheet for its least temperature, or warm "
            "the parts.",
        ),
    )


def _warm(sealing: Sealing) -> tuple[Caution, ...]:
    if sealing.shorter == 1 or all(joint.open_time is None for joint in sealing.joints):
        return ()
    return (
        Caution(
            "notice",
            f"So warm, a bead skins sooner: open times here are {100 * sealing.shorter:.0f}% of the sheet's. A joint "
            "closed over a skin leaks. Lay everything ready before the first bead, or work where it is cooler.",
        ),
    )
