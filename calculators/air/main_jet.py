"""The main jet that this air wants, and the nearest of those in the drawer."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.air.air_here import AirHere
from calculators.air.cautions import FUEL
from calculators.air.jets_drawing import jets_figure
from calculators.air.jetting import JET, NUMBERED, SIDE_WORDS, Jetting, jets_table
from calculators.bench import (
    Answer,
    Caution,
    Question,
    Value,
    choice,
    listed,
    number,
    optional,
    quantity,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.units import bare, figures, plain

_JETS = "no main jet is smaller or larger"
_LEAN, _RICH = 0.03, 0.1
"""Shares by which the nearest jet may miss the mixture before it is cautioned (common practice, no source)."""


class MainJet(AirHere, Question):
    """For fixed-choke carburettors without altitude correction, at full throttle.

    Keeps the mixture of the jet fitted; for the mixture the engine wants, ask its maker.
    """

    asks = "Which main jet does this air need?"
    tells = "Main jet for this air"

    main_jet = card_entry(
        CardFacts.carburettor.main_jet,
        "Main jet fitted",
        hint="The number stamped on it.",
        example="125",
        shared_as="main_jet",
        said="jet {}",
    )
    jet_drawer = optional(
        listed(
            number(
                "Jets in the drawer",
                20,
                900,
                why=_JETS,
                hint="Their numbers, on one line.",
                example="115 117.5 120 122.5 125 130",
                shared_as="jet_drawer",
                said="drawer: {}",
            ),
            1,
            24,
            like="115 120 125",
        )
    )
    jet_numbers = choice(
        "Meaning of the jet numbers",
        NUMBERED,
        hint="Ask the carburettor's maker: one means twice the change of the other.",
        usual="diameter",
        shared_as="jet_numbers",
        refines="What the jet numbers mean",
        said="{}",
    )

    def answer(self) -> Answer:
        jetting = Jetting(
            here=self.here,
            base=self.base,
            fitted=self.main_jet,
            numbered=self.jet_numbers,
            drawer=tuple(sorted({*(self.jet_drawer or ()), self.main_jet})),
        )
        off = jetting.leaner(jetting.chosen)
        deed = _deed(jetting, off)
        return Answer(
            headline=deed,
            says=f"{deed}: in this air it runs {figures(100 * abs(off), 1)}% {SIDE_WORDS[off > 0]} than where the jets "
            "are right.",
            record=f"Main jet for this air: {plain(round(jetting.chosen, 2))}.",
            drawing=jets_figure(
                tuple((jet, jetting.leaner(jet)) for jet in jetting.drawer), jetting.chosen, jetting.fitted
            ),
            values=_values(jetting),
            warnings=(FUEL, *_warnings(off)),
            tables=(jets_table(jetting),),
            notes=(
                "The main jet sets the mixture at full throttle. Set idle jet and air screw by the idle itself.",
                "Before you change a jet: float level right, choke fully open, filter clean, no air leak, valve lash "
                "and timing right.",
                "Between two jets, take the richer if the engine is worked hard (common practice, no source).",
                "A constant-depression carburettor, or one with an altitude capsule, partly corrects itself: do not "
                "use this for it.",
            ),
        )


def _deed(jetting: Jetting, off: float) -> str:
    fitted, chosen = (plain(round(jet, 2)) for jet in (jetting.fitted, jetting.chosen))
    if jetting.chosen != jetting.fitted:
        return f"Fit main jet {chosen} in place of {fitted}"
    far = off > _LEAN or off < -_RICH
    return f"Main jet {fitted} {'is the nearest you have' if far else 'may stay'}"


def _values(jetting: Jetting) -> tuple[Value, ...]:
    here, base = jetting.here, jetting.base
    return (
        Value(
            key="main_jet",
            label="Main jet for this air",
            quantity=jetting.wanted,
            places=1,
            formula="fitted × √(fuel share)" if jetting.numbered == "diameter" else "fitted × fuel share",
            source=JET,
            given=(("fitted", jetting.fitted), ("fuel share", figures(bare(jetting.share)[0], 4))),
        ),
        Value(
            key="mixture_shift",
            label="Mixture with the jet fitted; plus is leaner, minus richer",
            quantity=quantity(100 * (jetting.share - 1), "%"),
            formula="fuel share − 1; fuel share = dry air here ÷ dry air where the jets are right ÷ "
            "√(density here ÷ density where the jets are right)",
            source=JET,
            given=tuple(
                (name, quantity(bare(density)[0], "kg/m³"))
                for name, density in (
                    ("density here", here.density),
                    ("dry air here", here.dry),
                    ("density where the jets are right", base.density),
                    ("dry where the jets are right", base.dry),
                )
            ),
        ),
    )


def _warnings(off: float) -> Iterator[Caution]:
    if off > _LEAN:
        yield Caution(
            "notice",
            f"The nearest jet runs {figures(100 * off, 1)}% lean. A lean air-cooled engine overheats at full throttle. "
            "Take the next larger jet.",
        )
    elif off < -_RICH:
        yield Caution("notice", f"The nearest jet runs {figures(-100 * off, 1)}% rich. Buy a smaller one.")
