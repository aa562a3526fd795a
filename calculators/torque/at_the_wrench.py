"""What a question about a torque asks of the wrench: its scale, its range, what is on it, a small one beside it."""

from __future__ import annotations

import itertools
import math
from typing import Any

from calculators.bench import (
    Entry,
    FieldError,
    Figure,
    InputErrors,
    Lacking,
    Quantity,
    choice,
    count,
    length,
    listed,
    magnitude_in,
    measure,
    optional,
    torque,
)
from calculators.bench import angle as turn_of
from calculators.bench.entries import Given
from calculators.formulas.wrench_marks import even_shares, nip_shares
from calculators.formulas.wrench_reach import Wrench
from calculators.torque.owned_wrench import TYPES, Extension, Owned
from calculators.torque.passes import MAIN_WORDS, Pass
from calculators.torque.wrench_drawing import wrench_drawing

THE_WRENCH = "Range and type of the wrench"
_EXTENSION = "Extension or crowfoot on the wrench"
_SMALL = "A small wrench for the early passes"
_PASSES = "Passes as the maker gives them"
_USUAL_STEPS = {"lbf·ft": "1 lbf·ft", "lbf·in": "5 lbf·in", "kgf·m": "0.1 kgf·m", "daN·m": "0.1 daN·m"}
"""What one mark is worth on a wrench with the scale of the torque asked for (common practice, no source)."""
_SETTINGS = "smaller and larger wrenches are not used here"


def scale_step(label: str = "Wrench scale step", of: str = "target", **facts: Any) -> Entry[Quantity]:
    """Ask what one mark of the wrench is worth; ``of`` is the key of the torque that it is set to."""
    told: dict[str, Any] = {"usual": "1 N·m", "usual_beside": (of, _USUAL_STEPS), "said": "marks of {}"}
    told |= {"read_by": "torque_wrench", "shared_as": "wrench_step"}
    told["hint"] = "What one division of the wrench is worth, in the unit on its scale."
    return torque(label, 0.01, 50, why="no finer or coarser scale is made", **(told | facts))


def setting(label: str, shared_as: str, **facts: Any) -> Entry[Quantity | None]:
    """Ask for one end of a wrench's scale."""
    told = {"read_by": "torque_wrench", "refines": THE_WRENCH}
    return optional(torque(label, 0.1, 1000, why=_SETTINGS, shared_as=shared_as, **(told | facts)))


def kind_of_wrench(label: str = "Wrench type", **facts: Any) -> Entry[str]:
    """Ask for the kind of wrench, which says how far it may be off."""
    told = {"usual": "unknown", "shared_as": "wrench_type", "refines": THE_WRENCH, "said": "{}"}
    return choice(label, TYPES, **(told | facts))


def lever(label: str = "Wrench lever length", **facts: Any) -> Entry[Quantity]:
    """Ask how far the hand is from the drive square."""
    told = {"hint": "Centre of the grip to centre of the drive square.", "shared_as": "wrench_length", "said": "L {}"}
    return length(label, 50, 1500, why="no hand-held wrench is shorter or longer", **(told | facts))


extension_length = length(
    "Extension length",
    5,
    500,
    why="shorter and longer ones are not made",
    hint="Centre of the drive square to centre of the nut.",
    said="E {}",
)

extension_angle = turn_of(
    "Extension angle",
    0,
    180,
    why="either side gives the same",
    exact=True,
    hint="0 straight on from the wrench, 90 square to it, 180 back towards the hand.",
    said="at {}",
)


passes_count = count(
    "Number of passes",
    1,
    8,
    why="more passes gain nothing",
    hint="In even steps up to the torque; the confirming pass is extra.",
    usual="3",
    said="{} passes",
)


class Tightening(Given):
    """What refines the tightening of several nuts: wrenches, extension, and passes that the maker gives."""

    wrench_low = setting("Lowest wrench setting", "wrench_low", said="from {}")
    wrench_high = setting(
        "Highest wrench setting",
        "wrench_high",
        hint="Type it once, and passes too low for this wrench are refused.",
        said="to {}",
    )
    wrench_type = kind_of_wrench()
    shares = optional(
        listed(
            measure(
                "Passes in per cent",
                "%",
                1,
                100,
                why="a share of the final torque",
                exact=True,
                hint="These replace the even steps: 40 70 100.",
                refines=_PASSES,
                said="{}",
            ),
            1,
            8,
            like="40 70 100",
        )
    )
    nip = optional(
        torque(
            "First pass torque",
            0.5,
            400,
            why="a first pass below the final torque",
            hint="The first pass as a torque; the others rise evenly from it.",
            refines=_PASSES,
            said="first pass {}",
        )
    )
    turns = optional(
        listed(
            turn_of(
                "Turns after the torque",
                5,
                360,
                why="a part of a turn",
                exact=True,
                hint="Degrees for every nut after the final torque: 90, or 60 60 for two rounds.",
                refines=_PASSES,
                said="then {}",
            ),
            1,
            3,
            like="90",
        )
    )
    extension = optional(
        extension_length(
            refines=_EXTENSION,
            hint="Centre of the drive square to centre of the nut. A straight socket extension changes nothing.",
        )
    )
    angle = extension_angle(usual="0°", refines=_EXTENSION)
    wrench_length = optional(lever(refines=_EXTENSION))
    small_step = optional(
        scale_step(
            "Small wrench scale step",
            usual=None,
            usual_beside=None,
            hint="Used for each pass that the first wrench does not reach.",
            read_by="small_wrench",
            shared_as="small_wrench_step",
            refines=_SMALL,
        )
    )
    small_low = setting(
        "Lowest small wrench setting", "small_wrench_low", read_by="small_wrench", refines=_SMALL, said="from {}"
    )
    small_high = setting(
        "Highest small wrench setting", "small_wrench_high", read_by="small_wrench", refines=_SMALL, said="to {}"
    )
    small_type = kind_of_wrench("Small wrench type", shared_as="small_wrench_type", refines=_SMALL)
    small_length = optional(
        lever(
            "Small wrench lever length",
            hint="Needed with an extension only.",
            shared_as="small_wrench_length",
            refines=_SMALL,
        )
    )

    def wrenches(self, step: Quantity, target: Quantity) -> tuple[Wrench, ...]:
        """Return the wrench, and the small one where any of it is typed.

        Raises
        ------
        Lacking
        InputErrors
        """
        main = self._main(step).with_extension(self.on_it, target)
        small = self._small
        return (main,) if small is None else (main, small.with_extension(self.on_it, None))

    @property
    def on_it(self) -> Extension | None:
        return None if self.extension is None else Extension(length=self.extension, angle=self.angle)

    def _main(self, step: Quantity) -> Owned:
        return Owned(
            stem="wrench",
            name=MAIN_WORDS,
            step=step,
            low=self.wrench_low,
            high=self.wrench_high,
            kind=self.wrench_type,
            lever=self.wrench_length,
        )

    @property
    def _small(self) -> Owned | None:
        if self.small_step is None:
            if self.small_low is None and self.small_high is None:
                return None
            raise Lacking(FieldError("small_step", "Enter the small wrench scale step, in newton metres"))
        return Owned(
            stem="small",
            name="small wrench",
            step=self.small_step,
            low=self.small_low,
            high=self.small_high,
            kind=self.small_type,
            lever=self.small_length,
        )

    def shares_of(self, passes: int, target: Quantity) -> tuple[tuple[float, ...], str]:
        """Return the share of each pass, and the entry it comes from.

        Raises
        ------
        InputErrors
        """
        if self.shares:
            if self.nip is not None:
                message = "First pass torque must be empty where the passes are typed in per cent"
                raise InputErrors(FieldError("nip", message))
            shares = tuple(magnitude_in(share, "%") / 100 for share in self.shares)
            if any(later <= earlier for earlier, later in itertools.pairwise(shares)):
                message = "Passes in per cent must rise from pass to pass, like 40 70 100"
                raise InputErrors(FieldError("shares", message))
            return (shares if math.isclose(shares[-1], 1) else (*shares, 1.0)), "shares"
        if self.nip is None:
            return even_shares(passes), "passes"
        nip = magnitude_in(self.nip, "N·m") / magnitude_in(target, "N·m")
        if nip >= 1:
            raise InputErrors(FieldError("nip", "First pass torque must be below the final torque"))
        if passes < 2:
            raise InputErrors(FieldError("passes", "Number of passes must be 2 or more with a first pass torque"))
        return nip_shares(passes, nip), "nip"

    @property
    def degrees(self) -> tuple[float, ...]:
        """Return the turns after the torque, in degrees."""
        return tuple(magnitude_in(turn, "°") for turn in self.turns or ())

    def final_kind(self, final: Pass) -> str:
        """Return the type of the wrench that the last pass is made with, in words."""
        return TYPES[self.wrench_type if final.wrench.name == MAIN_WORDS else self.small_type]

    def lengths(self, final: Pass) -> tuple[Quantity, Quantity, Quantity] | None:
        """Return lever, extension and angle at the last pass, or None without an extension."""
        arm = self.wrench_length if final.wrench.name == MAIN_WORDS else self.small_length
        return None if self.extension is None or arm is None else (arm, self.extension, self.angle)

    def wrench_figures(self, final: Pass) -> tuple[Figure, ...]:
        """Return the drawing of the wrench with what is on it; none without an extension."""
        lengths = self.lengths(final)
        return () if lengths is None else (drawn_wrench(*lengths, final.setting),)


def drawn_wrench(arm: Quantity, extension: Quantity, turned: Quantity, mark: str) -> Figure:
    """Draw a wrench with an extension on it."""
    return wrench_drawing(magnitude_in(arm, "mm"), magnitude_in(extension, "mm"), magnitude_in(turned, "°"), mark)
