"""The order of any studs, from where they stand."""

from __future__ import annotations

from calculators.bench import Answer, Caution, Question, Row, Stage, Step, Table, Walk, Worked
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.torque import studs
from calculators.torque.order_told import order_values


class StudRow(Row):
    """Where one stud stands."""

    across = studs.place("Distance across", example="-106; -14; 14; 106; -106; -14; 14; 106", shared_as="stud_across")
    up = studs.place("Distance up", example="47; 47; 47; 47; -43; -43; -43; -43", shared_as="stud_up")


class StudOrder(Question):
    """Assumes equal pull from every stud, a stiff part and an even joint.

    Uses positions only: it does not know a gasket that must be tightened first in the middle, or at a fire ring.
    """

    asks = "In what order do I tighten these nuts, and how square does that keep the part?"
    tells = "Order of the nuts"
    deed = "Tighten nuts in their order"

    works_out = ("studs_across", "studs_up")

    places = Table(StudRow, each="Stud {}", most=studs.MOST, hint=studs.PLACES_HINT)

    def answer(self) -> Answer:
        rows = ((row.across, row.up) for row in self.places)
        found = studs.typed(studs.whole_places(rows, "across", "up", "stud"), "across.1")
        order = " – ".join(found.in_order)
        return Answer(
            headline=order if len(order) <= LONGEST_HEADLINE else " ".join(found.in_order),
            says=f"Tighten in the order {order}, in every pass; slacken in the reverse order.",
            record=f"Order of the nuts: {order}.",
            drawing=studs.mapped(found),
            values=tuple(order_values(found)),
            warnings=(
                Caution("notice", "This order is worked out from the stud positions. The engine maker's order wins."),
            ),
            steps=Walk(
                key="round",
                title="One round",
                stages=(
                    Stage(
                        title="Every nut to the same setting",
                        steps=tuple(
                            Step(key=f"nut_{index + 1}", label=name, words=f"Tighten nut {name}.", large=name)
                            for index, name in zip(found.order, found.in_order, strict=True)
                        ),
                    ),
                ),
            ),
            figures=studs.charted(found),
            notes=(
                "Go round in this order on every pass. To take the part off, slacken cold in the reverse order, first "
                "by a quarter turn each nut.",
            ),
            worked=(
                Worked(name="studs_across", value=tuple(row.across for row in self.places)),
                Worked(name="studs_up", value=tuple(row.up for row in self.places)),
            ),
        )
