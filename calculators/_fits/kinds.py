"""What is judged of each part: the limits it is held against, the formula, the source."""

from __future__ import annotations

from dataclasses import dataclass

from calculators._report import COMMON_PRACTICE, GEOMETRY, Source
from calculators._words import word

READ = "as read"
_RINGS = Source("plane geometry of a closed ring; growth with heat as Callister, 3rd edition, Table B.6", "identity")


@dataclass(frozen=True, kw_only=True, slots=True)
class Kind:
    """One thing that is judged.

    Parameters
    ----------
    key : str
        In data.
    noun : str
        ``"bore taper"``.
    short : str
        In the drawing, up to 18 letters.
    formula : str
    source : Source
    low, high : str, optional
        Keys of the fields that hold the limits.
    side : str
        ``"Inlet"`` or ``"Exhaust"`` where the part has two of the kind.
    """

    key: str
    noun: str
    short: str
    formula: str
    source: Source
    low: str | None = None
    high: str | None = None
    side: str = ""

    @property
    def label(self) -> str:
        """``"Inlet guide clearance"``."""
        return f"{self.side} {self.noun}" if self.side else self.noun.capitalize()


def _valve_kinds(kind: str) -> tuple[Kind, ...]:
    name = word(kind).capitalize()
    return (
        Kind(
            key=f"{kind}_guide_clearance",
            side=name,
            noun="guide clearance",
            short=f"{name} guide",
            formula="widest reading of the guide less narrowest reading of the stem",
            source=COMMON_PRACTICE,
            high="guide_clearance_most",
        ),
        Kind(
            key=f"{kind}_rock",
            side=name,
            noun="valve rock",
            short=f"{name} rock",
            formula=READ,
            source=COMMON_PRACTICE,
            high="rock_most",
        ),
        Kind(
            key=f"{kind}_rocked_clearance",
            side=name,
            noun="clearance by rock",
            short=f"{name} by rock",
            formula="rock · guide length ÷ (guide length + 2 · guide's end to dial)",
            source=GEOMETRY,
            high="guide_clearance_most",
        ),
        Kind(
            key=f"{kind}_runout",
            side=name,
            noun="stem run-out",
            short=f"{name} run-out",
            formula=READ,
            source=COMMON_PRACTICE,
            high="runout_most",
        ),
        Kind(
            key=f"{kind}_margin",
            side=name,
            noun="valve margin",
            short=f"{name} margin",
            formula=READ,
            source=COMMON_PRACTICE,
            low="margin_least",
        ),
        Kind(
            key=f"{kind}_width",
            side=name,
            noun="seat width",
            short=f"{name} seat",
            formula=READ,
            source=COMMON_PRACTICE,
            low=f"{kind}_width_least",
            high=f"{kind}_width_most",
        ),
        Kind(
            key=f"{kind}_rim",
            side=name,
            noun="line to outer edge",
            short=f"{name} line out",
            formula=READ,
            source=COMMON_PRACTICE,
            low="edge_least",
        ),
        Kind(
            key=f"{kind}_inner",
            side=name,
            noun="line to inner edge",
            short=f"{name} line in",
            formula="width of the valve's face less line to outer edge less seat width",
            source=GEOMETRY,
            low="edge_least",
        ),
    )


def _gear_kinds(kind: str) -> tuple[Kind, ...]:
    name = word(kind).capitalize()
    return (
        Kind(
            key=f"{kind}_bush",
            side=name,
            noun="rocker bush clearance",
            short=f"{name} bush",
            formula="rocker bush less rocker shaft",
            source=COMMON_PRACTICE,
            high="bush_most",
        ),
        Kind(
            key=f"{kind}_tappet",
            side=name,
            noun="tappet clearance",
            short=f"{name} tappet",
            formula="tappet bore less tappet diameter",
            source=COMMON_PRACTICE,
            high="tappet_most",
        ),
        Kind(
            key=f"{kind}_hollow",
            side=name,
            noun="tappet face hollow",
            short=f"{name} hollow",
            formula=READ,
            source=COMMON_PRACTICE,
            high="hollow_most",
        ),
        Kind(
            key=f"{kind}_pushrod",
            side=name,
            noun="pushrod run-out",
            short=f"{name} pushrod",
            formula=READ,
            source=COMMON_PRACTICE,
            high="pushrod_most",
        ),
    )


@dataclass(frozen=True, slots=True)
class Group:
    """Parts that one table lists."""

    key: str
    title: str
    part: str
    kinds: tuple[Kind, ...]


BARRELS = Group(
    "barrels",
    "Barrels and pistons",
    "Cylinder",
    (
        Kind(
            key="wear",
            noun="bore wear",
            short="Bore wear",
            formula="greatest reading of the bore less bore when new",
            source=COMMON_PRACTICE,
            high="wear_most",
        ),
        Kind(
            key="taper",
            noun="bore taper",
            short="Bore taper",
            formula="greatest less least reading on one axis; the axis with more of it",
            source=COMMON_PRACTICE,
            high="taper_most",
        ),
        Kind(
            key="out_of_round",
            noun="bore out-of-round",
            short="Out-of-round",
            formula="difference of the two axes at one depth; the depth with most of it",
            source=COMMON_PRACTICE,
            high="round_most",
        ),
        Kind(
            key="piston_clearance",
            noun="piston clearance",
            short="Piston clearance",
            formula="mean of the readings across the thrust less piston diameter",
            source=COMMON_PRACTICE,
            low="clearance_least",
            high="clearance_most",
        ),
    ),
)
RINGS = Group(
    "rings",
    "Rings",
    "Cylinder",
    (
        Kind(
            key="narrow_gap",
            noun="narrowest end gap",
            short="Narrow end gap",
            formula="narrowest of the barrel's rings, against the least end gap or what heat closes, "
            "whichever is wider: π · bore · (ring expansion · ring rise − barrel expansion · barrel rise)",
            source=_RINGS,
            low="gap_least",
        ),
        Kind(
            key="wide_gap",
            noun="widest end gap",
            short="Wide end gap",
            formula="widest of the barrel's rings",
            source=COMMON_PRACTICE,
            high="gap_most",
        ),
        Kind(
            key="side_clearance",
            noun="ring side clearance",
            short="Ring side",
            formula="widest of the piston's grooves, ring in it",
            source=COMMON_PRACTICE,
            high="side_most",
        ),
    ),
)
HEADS = Group(
    "head_faces",
    "Head faces",
    "Head",
    (
        Kind(
            key="flatness",
            noun="head face flatness",
            short="Head flatness",
            formula="widest gap found under the straight edge",
            source=COMMON_PRACTICE,
            high="flatness_most",
        ),
    ),
)
VALVES = {
    kind: Group(
        f"{kind}_valves", f"{word(kind).capitalize()} valves and seats", f"{word(kind).capitalize()} valve", found
    )
    for kind, found in (("inlet", _valve_kinds("inlet")), ("exhaust", _valve_kinds("exhaust")))
}
GEAR = {
    kind: Group(
        f"{kind}_gear",
        f"{word(kind).capitalize()} rockers, tappets and pushrods",
        f"{word(kind).capitalize()} gear",
        found,
    )
    for kind, found in (("inlet", _gear_kinds("inlet")), ("exhaust", _gear_kinds("exhaust")))
}
GROUPS = (BARRELS, RINGS, VALVES["inlet"], VALVES["exhaust"], GEAR["inlet"], GEAR["exhaust"], HEADS)
