"""The passes of a tightening: which wrench, which mark, and what then is on the nut."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import FieldError, InputErrors, magnitude_in, number_in, printed, quantity
from calculators.bench.units import reading
from calculators.bench.verdict import best_of
from calculators.formulas.wrench_marks import even_shares, nearest_mark
from calculators.formulas.wrench_reach import TRUE_FROM, Wrench

MAIN_WORDS = "wrench"
"""What the only wrench is called, or the larger of two."""
UNITS = ("N·m", "lbf·ft", "lbf·in", "kgf·m")
FARTHEST = 0.04
"""A final mark farther off than this share of the final torque is not that torque (common practice, no source)."""
HIGHEST_NIP = 0.75
"""A first pass above this share of the final torque pulls the part down in one go (common practice, no source)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Pass:
    """One round over all nuts.

    Parameters
    ----------
    name : str
        ``"Pass 1"``, ``"Confirm"``.
    share : float
        Of the final torque.
    wanted : Quantity, [torque]
        On the nut.
    wrench : Wrench
    mark : float
        What it is set to, in its unit.
    """

    name: str
    share: float
    wanted: Any
    wrench: Wrench
    mark: float

    @property
    def places(self) -> int:
        return decimals(self.wrench.step)

    @property
    def setting(self) -> str:
        """The mark as the wrench shows it: ``"11.5 N·m"``."""
        return f"{self.mark:.{self.places}f} {self.wrench.unit}"

    @property
    def on_the_nut(self) -> float:
        """Torque on the nut if the wrench reads true, in its unit."""
        return self.mark / best_of(self.wrench.share)

    @property
    def rounding(self) -> float:
        """By what share the mark misses what is wanted."""
        return self.on_the_nut / magnitude_in(self.wanted, self.wrench.unit) - 1

    def measured(self) -> Any:
        """Return the torque on the nut, [torque], off by what the wrench and the lengths may be off."""
        mark = reading(self.mark, self.wrench.deviation * self.mark, f"The {self.wrench.name}")
        return quantity(mark / self.wrench.share, self.wrench.unit)


def on_one_line(setting: str) -> str:
    """Return a number and its unit so that no line parts them, however large they are shown."""
    return setting.replace(" ", "\u00a0", 1)


def decimals(step: float) -> int:
    """Return how many decimals the marks of a scale have.

    Examples
    --------
    >>> decimals(1), decimals(0.25), decimals(2.5)
    (0, 2, 1)
    """
    return len(f"{step:.6f}".rstrip("0").partition(".")[2])


def planned(target: Any, shares: Sequence[float], wrenches: Sequence[Wrench], chosen_by: str) -> tuple[Pass, ...]:
    """Return all passes and the confirming one, each with the first wrench that reaches it.

    Parameters
    ----------
    target : Quantity, [torque]
    shares : sequence of float
        Of each pass, rising to 1.
    wrenches : sequence of Wrench
        The one to use where it reaches first.
    chosen_by : str
        Key of the entry that the shares come from: passes, shares or nip.

    Raises
    ------
    InputErrors
        No wrench reaches a pass, a pass would be tighter than the next, the final mark is not the final torque, or
        the first pass falls on it.
    """
    main = wrenches[0]
    if main.step > magnitude_in(target, main.unit):
        raise InputErrors(FieldError("graduation", "Wrench scale step must be smaller than the final torque"))
    passes = []
    for name, share in zip((*(f"Pass {n}" for n in range(1, len(shares) + 1)), "Confirm"), (*shares, 1.0), strict=True):
        found = reached(name, target, share, wrenches)
        if found is None:
            raise InputErrors(_out_of_reach(name, target, share, shares, wrenches, chosen_by))
        passes.append(found)
    _judge_rise(passes)
    _judge_final(passes, chosen_by)
    return tuple(passes)


def reached(name: str, target: Any, share: float, wrenches: Sequence[Wrench]) -> Pass | None:
    """Return a share of a torque with the first wrench that reaches it, or None."""
    for wrench in wrenches:
        mark = nearest_mark(_setting(target, share, wrench), wrench.step)
        if wrench.miss(mark) is None:
            return Pass(name=name, share=share, wanted=share * target, wrench=wrench, mark=mark)
    return None


def _setting(target: Any, share: float, wrench: Wrench) -> float:
    return share * float(number_in(target, wrench.unit)) * best_of(wrench.share)


def _out_of_reach(
    name: str, target: Any, share: float, shares: Sequence[float], wrenches: Sequence[Wrench], chosen_by: str
) -> FieldError:
    """Return which pass is out of reach of every wrench, why, and what helps."""
    misses = []
    for wrench in wrenches:
        mark = nearest_mark(_setting(target, share, wrench), wrench.step)
        match wrench.miss(mark), wrench.lowest, wrench.highest:
            case "above", _, float(highest):
                misses.append(f"The {wrench.name} goes only to {_printed(highest, wrench)}.")
            case "below", float(lowest), _:
                misses.append(f"The {wrench.name} starts at {_printed(lowest, wrench)}.")
            case _:
                true_from = _printed(wrench.true_from or 0.0, wrench)
                misses.append(
                    f"Below {true_from}, {TRUE_FROM:.0%} of its highest setting, the {wrench.name} may not be accurate."
                )
    setting = _setting(target, share, wrenches[0])
    high = wrenches[0].highest is not None and setting > wrenches[0].highest
    if high:
        field, remedy = "wrench_high", "Use a larger wrench."
    elif math.isclose(share, 1):
        field, remedy = "wrench_high", "Use a smaller wrench."
    else:
        field, remedy = chosen_by, _remedy(target, shares, wrenches, chosen_by)
    words = f"{name} needs a setting of {_printed(setting, wrenches[0])}. {' '.join(misses)} {remedy}"
    return FieldError(field, words)


def _remedy(target: Any, shares: Sequence[float], wrenches: Sequence[Wrench], chosen_by: str) -> str:
    """Return what brings an early pass within reach."""
    small = "enter a small wrench" if len(wrenches) < 2 else "use a small wrench that reaches it"
    if chosen_by != "passes":
        return f"Take a higher first pass, or {small}."
    for fewer in range(len(shares) - 1, 1, -1):
        if all(reached("", target, share, wrenches) for share in even_shares(fewer)):
            return f"Take {fewer} passes, or {small}."
    nip = _least_nip(target, wrenches)
    return f"Enter a first pass torque of {nip}, or {small}." if nip else f"{small[0].upper()}{small[1:]}."


def _least_nip(target: Any, wrenches: Sequence[Wrench]) -> str | None:
    """Return the least first pass that the wrench reaches, as it is typed, or None where it is too near the end."""
    main = wrenches[0]
    least = max(main.lowest or 0.0, main.true_from or 0.0) / best_of(main.share)
    torque = math.ceil(least / main.step - 1e-9) * main.step
    share = torque / magnitude_in(target, main.unit)
    if share > HIGHEST_NIP or reached("", target, share, wrenches) is None:
        return None
    return _printed(torque, main)


def _printed(setting: float, wrench: Wrench) -> str:
    return printed(quantity(setting, wrench.unit), wrench.unit, max(1, decimals(wrench.step)))


def _judge_rise(passes: Sequence[Pass]) -> None:
    """Refuse two scales so coarse that a pass with one is tighter than the next with the other."""
    for earlier, later in itertools.pairwise(passes):
        tight, tighter = (quantity(stage.on_the_nut, stage.wrench.unit) for stage in (earlier, later))
        if magnitude_in(tight, "N·m") > magnitude_in(tighter, "N·m") * (1 + 1e-9):
            field = _scale_of(earlier)
            words = (
                f"{earlier.name} at {earlier.setting} would be tighter than {later.name.lower()} at {later.setting}."
            )
            raise InputErrors(FieldError(field, f"{words} Use a {earlier.wrench.name} with a finer scale."))


def _scale_of(judged: Pass) -> str:
    return "graduation" if judged.wrench.name == MAIN_WORDS else "small_step"


def _judge_final(passes: Sequence[Pass], chosen_by: str) -> None:
    first, final = passes[0], passes[-1]
    field = _scale_of(final)
    if abs(final.rounding) > FARTHEST + 1e-9:
        raise InputErrors(
            FieldError(
                field,
                f"No mark of this wrench comes within {FARTHEST:.0%} of the final torque. The nearest is "
                f"{final.setting}, {abs(final.rounding):.1%} off. Use a wrench with a finer scale.",
            )
        )
    if len(passes) > 2 and (first.wrench, first.mark) == (final.wrench, final.mark):
        lower = "fewer passes" if chosen_by == "passes" else "a lower first pass"
        raise InputErrors(
            FieldError(
                field,
                f"The first pass falls on the final mark, {final.setting}. "
                f"Use a wrench with a finer scale, or {lower}.",
            )
        )
