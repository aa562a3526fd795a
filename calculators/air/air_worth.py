"""What the air weighs, and how much of it one charge holds against the air where the jets are right."""

from __future__ import annotations

from calculators.air.air_here import MOIST_AIR, AirHere
from calculators.air.charge_drawing import two_charges
from calculators.bench import Answer, Question, Value, Worked, quantity
from calculators.bench.units import bare, figures


class AirWorth(AirHere, Question):
    """For cold outside air; under a hot bonnet it is thinner.

    Treats air as an ideal gas; real air weighs 0.04% more. Leaves out blowers and tuned pipes.
    """

    asks = "How much power is the air worth here today?"
    tells = "Power in this air"
    works_out = ("outside_pressure",)

    def answer(self) -> Answer:
        here, base = self.here, self.base
        share = 100 * here.dry / base.dry
        best = bare(share)[0]
        weight = figures(bare(here.density)[0], 3)
        return Answer(
            headline=f"{figures(best, 1)}% of the air where the jets are right",
            says=f"The air here weighs {weight} kg/m³. One charge holds {figures(best, 1)}% of the dry air that it "
            "holds where the jets are right, and power follows it closely.",
            drawing=two_charges(round(best, 1)),
            values=(
                Value(
                    key="density",
                    label="Air density here",
                    quantity=quantity(here.density, "kg/m³"),
                    units=("kg/m³", "lb/ft³"),
                    formula="(p − e) ÷ (R T) + 0.621945 e ÷ (R T); vapour pressure e = humidity × saturation "
                    "pressure; R = 287.053 J/(kg K)",
                    source=MOIST_AIR,
                    given=here.given,
                ),
                Value(
                    key="charge",
                    label="Dry air in one charge, compared with where the jets are right",
                    quantity=quantity(share, "%"),
                    formula="dry air here ÷ dry air where the jets are right; power follows it closely",
                    source=MOIST_AIR,
                    given=(
                        ("dry air here", quantity(bare(here.dry)[0], "kg/m³")),
                        ("dry where the jets are right", quantity(bare(base.dry)[0], "kg/m³")),
                    ),
                ),
                Value(
                    key="pressure",
                    label="Air pressure here",
                    quantity=quantity(here.pressure / 100, "hPa"),
                    units=("hPa", "inHg", "mmHg"),
                    formula="as read, or 101.325 kPa × (T ÷ (T + 0.0065 K/m × altitude)) ^ 5.2559, which the weather "
                    "changes by 2%",
                    source=MOIST_AIR,
                    given=here.given[1:2],
                ),
            ),
            notes=(
                "A weather report gives the pressure reduced to the sea: choose that, or the altitude is ignored. An "
                "airfield's altimeter setting is worked out differently: in hot or cold air it is one or two per cent "
                "off.",
            ),
            worked=(Worked(name="outside_pressure", value=quantity(here.pressure / 1000, "kPa")),),
        )
