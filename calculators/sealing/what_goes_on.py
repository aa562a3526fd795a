"""What seals a joint, where it goes and where it must not."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.bench import COMMON_PRACTICE, Answer, Caution, Question, Stage, Step, Value, Walk, choice
from calculators.sealing.cautions import CHLORINE, INWARDS, OLD_GASKET, VAPOUR
from calculators.sealing.joint_drawing import joint_drawn
from calculators.sealing.joints import JOINTS


@dataclass(frozen=True, kw_only=True, slots=True)
class Sealed:
    """What a joint takes.

    Parameters
    ----------
    headline : str
        What goes on.
    type : str
        Of what kind, never a brand.
    never : str
        Where none goes, or what ruins it.
    wet : bool
        A sealer goes on; else a seal or a washer does it alone.
    gasket : bool
        Old jointing has to come off first.
    """

    headline: str
    type: str
    never: str
    wet: bool = False
    gasket: bool = False


SEALED = {
    "barrel_foot": Sealed(
        headline="A thin film all round, on one face",
        type="only if the engine maker asks for sealer: neutral-cure silicone or what the maker names; paper gaskets "
        "and metal spacers dry if the maker says so; a rubber ring with a trace of oil",
        never="near an oilway through the joint, or on a gasket that must stay dry: it creeps",
        wet=True,
        gasket=True,
    ),
    "barrel_head": Sealed(
        headline="Nothing: clean metal, or the ring alone",
        type="bare, a metal ring or a gasket, as the engine maker says; sealer only if the maker asks for it",
        never="on the seat: it burns out and leaves a leak",
    ),
    "stud": Sealed(
        headline="Sealer on the thread, none on the tip",
        type="a thread sealer whose sheet lists hot engine oil",
        never="on the tip or in the bottom of the hole: it is pushed into the oil",
        wet=True,
    ),
    "tube": Sealed(
        headline="New seals, a trace of oil, no sealer",
        type="seals of acrylic, silicone or fluororubber; silicone grease only where the seal's maker allows it",
        never="under the seal: sealer acts as grease, and the seal works its way out",
    ),
    "cover": Sealed(
        headline="Glue on the cover, dry on the head",
        type="gasket glue between gasket and cover, left until it is tacky",
        never="on the head's side: the cover must come off again without tearing the gasket",
        wet=True,
        gasket=True,
    ),
    "cooler": Sealed(
        headline="New seals, in bare clean recesses",
        type="rubber seals of the maker's size, none forgotten in the case",
        never="in the recess: no sealer under a seal",
    ),
    "pipe": Sealed(
        headline="A new washer on each side of the eye",
        type="copper, aluminium or bonded washers, as the maker says",
        never="in the bolt's holes or on its thread: they carry the oil",
    ),
    "manifold": Sealed(
        headline="A new gasket, dry",
        type="the maker's gasket on flat flanges",
        never="where it can be drawn into the engine",
        gasket=True,
    ),
    "exhaust": Sealed(
        headline="A new ring, dry",
        type="the maker's ring or fibre gasket; a trace of grease holds a ring in its recess",
        never="anything that oil or heat can loosen",
        gasket=True,
    ),
    "case": Sealed(
        headline="A thin bead inside of the bolt holes",
        type="anaerobic flange sealer between rigid machined faces, to a gap of 0.2 mm; neutral-cure silicone on "
        "pressed sheet and in corners; what the engine maker names before either",
        never="near an oilway",
        wet=True,
        gasket=True,
    ),
    "drain": Sealed(
        headline="A new washer, faces wiped dry",
        type="copper, aluminium or fibre washer; new gaskets for a strainer plate",
        never="on a parallel thread that a washer seals",
    ),
}
"""Kind of joint, as ``JOINTS`` names it → what it takes: common practice, no source."""


class WhatGoesOn(Question):
    """From the kind of joint alone: the engine maker and the product's sheet come first."""

    asks = "What goes on this joint, and where?"
    tells = "Sealer of the joint"
    deed = "Seal a joint"

    joint = choice("Joint", {key: name.capitalize() for key, (name, _) in JOINTS.items()}, example="case")

    def answer(self) -> Answer:
        name, mind = JOINTS[self.joint]
        sealed = SEALED[self.joint]
        told = (
            ("what", "What goes on", sealed.headline),
            ("type", "Of what kind", sealed.type),
            ("mind", "Mind", mind),
            ("never", "Never", sealed.never),
        )
        return Answer(
            headline=sealed.headline,
            record=f"{name.capitalize()}: {sealed.headline[0].lower()}{sealed.headline[1:]}.",
            says=f"{name.capitalize()}: {sealed.headline[0].lower()}{sealed.headline[1:]}. {mind}",
            drawing=joint_drawn(self.joint, name),
            values=tuple(
                Value(
                    key=key,
                    label=label,
                    quantity=words,
                    formula="by the kind of joint; the engine maker's word comes first",
                    source=COMMON_PRACTICE,
                    given=(("joint", name),),
                )
                for key, label, words in told
            ),
            warnings=_warnings(sealed),
            steps=_walk(mind, sealed),
            notes=(
                "A thin film, on one side unless the sheet says both; product in date; closed within its open time.",
                "This cannot know whether a sealer suits your oil or fuel: see its sheet.",
            ),
        )


def _warnings(sealed: Sealed) -> tuple[Caution, ...]:
    found = (OLD_GASKET,) if sealed.gasket else ()
    return (*found, VAPOUR, CHLORINE, INWARDS) if sealed.wet else found


def _walk(mind: str, sealed: Sealed) -> Walk:
    clean = (
        "Clean both faces with a solvent that leaves no film. Once dry, touch them no more."
        if sealed.wet
        else "Wipe both faces dry. Look for scratches, burrs and grit."
    )
    deeds = [
        ("old", "Old off", "Rag in every opening, counted. Take off the old, and count seals and washers."),
        ("clean", "Clean", clean),
        ("dry", "Try dry", "Rags out, counted. Put the parts together once dry: they must go home by hand."),
        ("lay", "Lay it", f"{sealed.headline}. {mind}"),
        ("close", "Close", "Close it straight and at once, and tighten from the middle in small steps."),
    ]
    if sealed.wet:
        deeds.append(
            ("tag", "Tag", "Wipe the outside only. Hang a tag on it: when it may be loaded, when oil may go in.")
        )
    return Walk(
        key="joint",
        title="Step by step",
        stages=(
            Stage(
                title="In this order",
                steps=tuple(Step(key=key, label=label, words=words, large=label) for key, label, words in deeds),
            ),
        ),
    )
