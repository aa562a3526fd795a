"""Weigh the air, choose the main jet for it, balance the throttles, and read the mixture from gas and plug.

For fixed-choke carburettors without a correction for altitude, at full throttle. What mixture the
engine wants is the engine maker's to say.
"""

from __future__ import annotations

from types import SimpleNamespace

from calculators import Caution, Choice, Field, Form, Measure, Number, Report, Rows, Section, Series
from calculators._air.air import NUMBERED, SIDE_WORDS, Jetting, air_values, jets_table, read_jetting
from calculators._air.drawing import jets_figure, throttles_figure
from calculators._air.mixture import PLUGS, Gas, gas_lead, gas_values, guide, plug_values, read_gas
from calculators._air.throttles import balance_table, balance_values, read_balance
from calculators._units import bare, figures, plain

TITLE = "Air and mixture"
_ALTITUDE = Measure(own="m", low=-430, high=5000, why="roads", exact=True)
_WARMTH = Measure(own="°C", low=-40, high=60, why="weather")
_HUMIDITY = Measure(own="%", low=0, high=100, why="dry and saturated air")
_JET = Number(low=20, high=900, why="main jets of carburettors", whole=False)
_SHARE = Measure(own="%", low=0, high=15, why="more is no petrol engine's exhaust")


_LEAN, _RICH = 0.03, 0.1
"""Shares by which the nearest jet may miss the mixture before it is cautioned (common practice, no source)."""
_MARKS = Number(low=0, high=100, why="beyond, it reads nothing", whole=False, plus_minus=True)
_VACUUM_OFF = Measure(own="kPa", low=0, high=20, why="beyond, it reads nothing", exact=True, plus_minus=True)

FORM = Form(
    (
        Section(
            title="The air now",
            fields=(
                Field(
                    key="altitude",
                    label="Altitude",
                    help="Of the place where it runs, above the sea.",
                    kind=_ALTITUDE,
                    example="650 m",
                    reading="altitude",
                ),
                Field(
                    key="air_temperature",
                    instrument="thermometer",
                    label="Air temperature",
                    help="In the shade, as the engine draws it.",
                    kind=_WARMTH,
                    example="28 °C",
                    reading="air_temperature",
                ),
                Field(
                    key="air_humidity",
                    label="Relative humidity",
                    kind=_HUMIDITY,
                    default="50%",
                    reading="air_humidity",
                ),
                Field(
                    key="air_pressure",
                    instrument="barometer",
                    label="Air pressure",
                    help="From a barometer. Empty: from the altitude, and the weather counts as uncertainty.",
                    kind=Measure(own="hPa", low=450, high=1100, why="weather on any road"),
                    optional=True,
                    reading="air_pressure",
                ),
                Field(
                    key="pressure_at",
                    label="Place of the air pressure",
                    kind=Choice(
                        options={"here": "As it is at this place", "sea": "Reduced to the sea, as in a weather report"}
                    ),
                    default="here",
                ),
            ),
        ),
        Section(
            title="The main jet",
            fields=(
                Field(
                    key="main_jet",
                    label="Main jet fitted",
                    help="The number on it.",
                    kind=_JET,
                    card="carburettor.main_jet",
                    example="125",
                    reading="main_jet",
                ),
                Field(
                    key="jet_numbers",
                    label="Meaning of the jet numbers",
                    kind=Choice(options=NUMBERED),
                    default="diameter",
                    reading="jet_numbers",
                ),
                Field(
                    key="jet_drawer",
                    label="Jets in the drawer",
                    help="Their numbers, in one line.",
                    kind=Series(of=_JET, fewest=1, most=24, like="115 120 125"),
                    optional=True,
                    example="115 117.5 120 122.5 125 130",
                    reading="jet_drawer",
                ),
            ),
        ),
        Section(
            title="The throttles",
            fields=(
                Field(
                    key="throttles",
                    label="Number of throttles",
                    kind=Number(low=1, high=12, why="engines of this kind"),
                    card="carburettor.throttles",
                    default="2",
                    reading="throttles",
                ),
                Field(
                    key="spread_allowed",
                    label="Spread allowed between throttles",
                    help="Largest less smallest, as a share of the mean. 5% is common practice.",
                    kind=Measure(
                        own="%", low=0.5, high=50, why="tighter cannot be read, wider is no balance", exact=True
                    ),
                    default="5%",
                ),
                Field(
                    key="stays",
                    label="Throttle that stays",
                    help="The one that the linkage drives; empty where any may move.",
                    kind=Number(low=1, high=12, why="engines of this kind"),
                    optional=True,
                ),
            ),
        ),
        Rows(
            key="gauge",
            title="What the gauge read",
            each="Throttle {}",
            most=12,
            count="throttles",
            help="Warm engine, steady at one speed. Flow or vacuum, not both; leave all empty to go without.",
            fields=(
                Field(
                    key="flow",
                    instrument="balance_gauge",
                    label="Flow reading",
                    help="Of a meter at the air inlet, in its own marks.",
                    kind=Number(low=0.1, high=1000, why="meters held to an inlet", whole=False),
                    optional=True,
                    example="6.2; 7.0",
                ),
                Field(
                    key="vacuum",
                    instrument="balance_gauge",
                    label="Vacuum",
                    help="Behind the throttle, below the air outside.",
                    kind=Measure(own="kPa", low=0.1, high=100, why="no more than the air itself"),
                    optional=True,
                ),
            ),
        ),
        Section(
            title="Exhaust gas",
            help="Warm engine, sound exhaust, probe well in. λ needs the first three.",
            folded=True,
            fields=(
                Field(
                    key="co",
                    label="Carbon monoxide",
                    instrument="gas_analyser",
                    help="CO.",
                    kind=_SHARE,
                    optional=True,
                    example="2.6%",
                ),
                Field(
                    key="co2",
                    instrument="gas_analyser",
                    label="Carbon dioxide",
                    help="CO₂.",
                    kind=Measure(own="%", low=0.1, high=18, why="more is no petrol engine's exhaust"),
                    optional=True,
                    example="13.1%",
                ),
                Field(
                    key="o2",
                    instrument="gas_analyser",
                    label="Oxygen",
                    help="O₂.",
                    kind=Measure(own="%", low=0, high=20.9, why="clean air"),
                    optional=True,
                    example="0.6%",
                ),
                Field(
                    key="hc",
                    instrument="gas_analyser",
                    label="Unburnt fuel in ppm",
                    help="HC, as hexane.",
                    kind=Number(low=0, high=30000, why="beyond, a cylinder does not fire", whole=False),
                    optional=True,
                    example="240",
                ),
                Field(
                    key="idle_co_least",
                    label="Least CO at idle",
                    help="From the engine maker.",
                    kind=_SHARE,
                    card="carburettor.idle_co_least",
                    optional=True,
                ),
                Field(
                    key="idle_co_most",
                    label="Most CO at idle",
                    help="From the engine maker, or the law where you are.",
                    kind=_SHARE,
                    card="carburettor.idle_co_most",
                    optional=True,
                ),
            ),
        ),
        Section(
            title="Spark plug",
            folded=True,
            fields=(
                Field(
                    key="plug",
                    label="Look of the plug",
                    kind=Choice(options={key: seen for key, (seen, _) in PLUGS.items()}),
                    default="none",
                ),
            ),
        ),
        Section(
            title="Where the jets are right",
            help="The air for which the fitted jet was chosen.",
            folded=True,
            fields=(
                Field(key="base_altitude", label="Altitude where the jets are right", kind=_ALTITUDE, default="0 m"),
                Field(
                    key="base_temperature",
                    label="Temperature where the jets are right",
                    kind=_WARMTH,
                    default="15 °C",
                ),
                Field(key="base_humidity", label="Humidity where the jets are right", kind=_HUMIDITY, default="50%"),
            ),
        ),
        Section(
            title="How good the readings are",
            help="Plus or minus. A ± typed with a reading wins over it.",
            folded=True,
            fields=(
                Field(
                    key="thermometer_error",
                    label="Error limit of the thermometer",
                    help="In degrees Celsius.",
                    kind=Number(low=0, high=20, why="a hand feels more", whole=False, plus_minus=True),
                    default="1",
                ),
                Field(
                    key="hygrometer_error",
                    label="Error limit of the humidity",
                    kind=Measure(own="%", low=0, high=50, why="a guess is better", exact=True, plus_minus=True),
                    default="5%",
                ),
                Field(
                    key="barometer_error",
                    label="Error limit of the barometer",
                    kind=Measure(own="hPa", low=0, high=50, why="the altitude says more", exact=True, plus_minus=True),
                    default="3 hPa",
                ),
                Field(
                    key="flow_error",
                    label="Error limit of the flow meter",
                    help="In its own marks; the same at every throttle.",
                    kind=_MARKS,
                    default="0.1",
                ),
                Field(
                    key="flow_scatter",
                    label="Scatter of the flow readings",
                    help="In the meter's own marks, when one throttle is read again; it alone counts in the spread.",
                    kind=_MARKS,
                    default="0.1",
                ),
                Field(
                    key="vacuum_error",
                    label="Error limit of the vacuum gauge",
                    help="The same at every throttle, where one gauge is moved from one to the next.",
                    kind=_VACUUM_OFF,
                    default="0.5 kPa",
                ),
                Field(
                    key="vacuum_scatter",
                    label="Scatter of the vacuum readings",
                    help="When one throttle is read again; it alone counts in the spread.",
                    kind=_VACUUM_OFF,
                    default="0.5 kPa",
                ),
                Field(
                    key="analyser_error",
                    label="Error limit of the analyser",
                    help="As a share of each reading.",
                    kind=Measure(own="%", low=0, high=50, why="beyond, it reads nothing", exact=True, plus_minus=True),
                    default="5%",
                ),
            ),
        ),
    )
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the air and its jet, the throttles against each other, and what gas and plug say."""
    jetting = read_jetting(inputs)
    outside = jetting.here.pressure / 1000
    balance = read_balance(inputs, float(bare(outside)[0]))
    gas = read_gas(inputs)
    sentences = (_jet_lead(jetting), balance.lead() if balance else "", gas_lead(gas))
    figures_drawn = []
    if balance:
        reach = tuple(bare(one)[1] or 0.0 for one in balance.readings)
        allowed = balance.allowed * balance.mean
        figures_drawn.append(throttles_figure(balance.best, reach, balance.target, allowed, balance.moves, balance.by))
    if len(jetting.drawer) > 1:
        jets = tuple((jet, jetting.leaner(jet)) for jet in jetting.drawer)
        figures_drawn.append(jets_figure(jets, jetting.chosen, jetting.fitted))
    return Report(
        lead=" ".join(filter(None, sentences)),
        values=(
            *air_values(jetting),
            *(balance_values(balance, outside) if balance else ()),
            *gas_values(gas, inputs),
            *plug_values(inputs.plug),
        ),
        tables=(
            *((balance_table(balance),) if balance else ()),
            jets_table(jetting),
            guide(gas),
        ),
        figures=tuple(figures_drawn),
        cautions=(*_cautions(jetting), *_gas_cautions(gas)),
        notes=(
            "The jet follows the air at full throttle. Idle jet and air screw are set by the idle itself.",
            "Balance the throttles at idle first, then just off idle: there the linkage shows, not the stop screws.",
            "Before any jet: float level, choke fully open, clean filter, no air leak, valve lash and timing right.",
        ),
    )


def _jet_lead(jetting: Jetting) -> str:
    off = jetting.leaner(jetting.chosen)
    if jetting.chosen == jetting.fitted:
        far = off > _LEAN or off < -_RICH
        deed = f"Main jet {plain(round(jetting.fitted, 2))} {'is the nearest you have' if far else 'may stay'}"
    else:
        deed = f"Fit main jet {plain(round(jetting.chosen, 2))} in place of {plain(round(jetting.fitted, 2))}"
    side = SIDE_WORDS[off > 0]
    return f"{deed}: in this air it runs {figures(100 * abs(off), 1)}% {side} than where the jets are right."


def _cautions(jetting: Jetting) -> tuple[Caution, ...]:
    cautions = [
        Caution(
            "danger",
            "Exhaust holds carbon monoxide: it has no smell and kills. Run the engine in the open, or lead the exhaust "
            "outside and keep the doors open.",
        ),
        Caution(
            "warning",
            "Fuel from an open carburettor catches fire. Engine cold and off, no flame, extinguisher at hand when you "
            "change a jet.",
        ),
        Caution(
            "warning",
            "Belt, fan and pulley turn beside the throttles. No sleeves, no hair, no hoses near them. Secure the car.",
        ),
    ]
    off = jetting.leaner(jetting.chosen)
    if off > _LEAN:
        cautions.append(
            Caution(
                "caution",
                f"The nearest jet runs {figures(100 * off, 1)}% lean. A lean engine cooled by air overheats at full "
                "throttle. Take the next larger jet.",
            )
        )
    elif off < -_RICH:
        cautions.append(
            Caution("notice", f"The nearest jet runs {figures(-100 * off, 1)}% rich. A smaller one is worth buying.")
        )
    return tuple(cautions)


def _gas_cautions(gas: Gas) -> tuple[Caution, ...]:
    if gas.ratio is None or bare(gas.ratio)[0] < 1.08:
        return ()
    return (
        Caution(
            "caution",
            "So much air in the exhaust can come through a leaking pipe or flange. Seal the exhaust and read again "
            "before you enrich the mixture.",
        ),
    )
