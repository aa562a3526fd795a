"""The nuts of a cylinder head, and the screws that hold it besides: settings, order, passes."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.bench import (
    Answer,
    FieldError,
    ForCard,
    InputErrors,
    Question,
    Table,
    choice,
    count,
    magnitude_in,
    optional,
    shared,
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.torque import at_the_wrench, studs
from calculators.torque.cautions import cautions, notes, unknowns
from calculators.torque.order_told import order_values
from calculators.torque.passes import planned
from calculators.torque.passes_told import (
    headline,
    in_every_unit,
    passes_table,
    record,
    sentence,
    settings_value,
    wrench_values,
)
from calculators.torque.screws import FROM_CARD, SEQUENCES, USUAL, Screws, screws_of
from calculators.torque.screws import MOST as MOST_SCREWS
from calculators.torque.screws_told import screw_cautions, screw_values
from calculators.torque.studs import PATTERNS, Studs
from calculators.torque.walks import passes_walks


class Wrench(at_the_wrench.Tightening, Question):
    """Takes the torque as given: ask the maker whether it is right for stud, thread and lubricant.

    Degrees after the torque are passed on, not checked.
    """

    asks = "What do I set the wrench to for the head, and in what order?"
    tells = "Head nuts"
    deed = "Tighten the head nuts"
    procedures = ("build/tighten-a-head-down", "run/retorque-in-the-vehicle")
    from_card = (
        CardFacts.studs.cylinder_head.positions.path,
        CardFacts.studs.cylinder_head.order.path,
        *FROM_CARD,
        CardFacts.layout.banks.path,
    )
    in_the_unit_typed = ("applied",)

    target = shared.head_torque(hint="From the engine maker, for these nuts and this thread condition.")
    graduation = at_the_wrench.scale_step()
    passes = at_the_wrench.passes_count()
    pattern = choice(
        "Stud pattern",
        {"card": "As on the engine card", **PATTERNS, "typed": "Positions typed below"},
        usual="card",
        shared_as="head_stud_pattern",
        said="studs: {}",
    )
    screws = optional(
        card_entry(
            CardFacts.studs.head_screws.screw_count,
            "Screws besides the studs",
            hint="In each head: hexagon-socket screws, deep between the fins or beside the inlet flange, easily "
            "missed. 0 if there are none.",
            shared_as="head_screws",
            said="{} screws besides",
        )
    )
    screw_torque = optional(
        card_entry(CardFacts.torques.head_cap_screw, "Screw torque", shared_as="head_screw_torque", said="at {}")
    )
    screw_sequence = choice(
        "When to tighten them",
        SEQUENCES,
        hint="The engine maker's order wins.",
        card=CardFacts.studs.head_screws.screw_sequence.path,
        usual=USUAL,
        shared_as="head_screw_sequence",
        said="{}",
    )
    heads = optional(
        count(
            "Heads to tighten",
            1,
            12,
            why="no engine here has more",
            hint="Each has its own list to tick. Empty: one for each bank on the engine card.",
            refines="Heads",
            said="{}",
        )
    )
    across = studs.places(
        "Distances across",
        hint="All on one line, A first; as typed for the nut order question, or here. Minus is left.",
        shared_as="studs_across",
    )
    up = studs.places("Distances up", hint="In the same order. Minus is down.", shared_as="studs_up")
    screw_places = Table(
        studs.ScrewRow,
        each="Screw {}",
        most=MOST_SCREWS,
        refines="Screw positions",
        hint="From the same point as the studs; used instead of those on the engine card.",
    )

    def answer(self) -> Answer:
        shares, chosen_by = self.shares_of(self.passes, self.target)
        head = self._studs()
        wrenches = self.wrenches(self.graduation, self.target)
        passes = planned(self.target, shares, wrenches, chosen_by)
        besides = screws_of(
            self.screws,
            self.screw_torque,
            self.screw_sequence,
            self._screw_places(),
            head,
            wrenches,
            self.card,
            drawn_from_card=self.pattern == "card",
        )
        turns, final = self.degrees, passes[-1]
        return Answer(
            headline=headline(passes, turns, f"{head.in_order[0]} first"),
            says=sentence(passes, turns, " – ".join(head.in_order), screws=besides),
            record=record("Head nuts", self.target, passes, turns),
            drawing=studs.mapped(head, besides.places if besides else ()),
            values=(
                settings_value(passes, turns, "final torque", self.target),
                in_every_unit("Final torque", self.target),
                *wrench_values(final, self.final_kind(final), self.lengths(final)),
                *order_values(head),
                *screw_values(besides, self.screws),
            ),
            warnings=(
                *cautions(passes, turns, bool(head.published), self.extension is not None),
                *screw_cautions(besides, self.screws is None),
                *unknowns(self.wrench_type == "unknown", self.wrench_high is None),
            ),
            steps=passes_walks(head, passes, turns, screws=besides, heads=self._heads),
            tables=(passes_table(self.target, passes, turns),),
            figures=(*self.wrench_figures(final), *studs.charted(head)),
            notes=notes(turns, besides),
            for_card=tuple(self._for_card(head, besides)),
        )

    def _for_card(self, head: Studs, besides: Screws | None) -> Iterator[ForCard]:
        if self.pattern == "typed":
            places = zip(head.names, head.positions, strict=True)
            yield studs.for_card("up", CardFacts.studs.cylinder_head.positions.path, "stud", tuple(places))
        if self.pattern == "card" and besides and self._screw_places():  # else not seen from the point of its studs
            yield studs.for_card("screws", CardFacts.studs.head_screws.positions.path, "screw", besides.places)

    def _studs(self) -> Studs:
        if self.pattern == "card":
            return studs.of_card(self.card)
        if self.pattern != "typed":
            return studs.ready_made(self.pattern)
        across, up = self.across or (), self.up or ()
        if len(across) != len(up):
            message = f"Distances up must be {len(across)}, as many as there are across"
            raise InputErrors(FieldError("up", message))
        found = tuple((magnitude_in(x, "mm"), magnitude_in(y, "mm")) for x, y in zip(across, up, strict=True))
        return studs.typed(found, "across")

    def _screw_places(self) -> tuple[tuple[float, float], ...]:
        if not self.screws:
            return ()
        rows = ((row.screw_across, row.screw_up) for row in self.screw_places)
        return studs.whole_places(rows, "screw_across", "screw_up", "screw")

    @property
    def _heads(self) -> int:
        banks = self.card.facts.layout.banks if self.card else None
        return int(self.heads or len(banks or ()) or 1)
