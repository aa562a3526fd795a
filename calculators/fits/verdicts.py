"""What many fits say together: the headline, the sentence, and what the verdicts warn of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from calculators.bench import Caution
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.units import figures
from calculators.bench.words import listed, word
from calculators.fits.fit import SHORT_WORDS, WORSE, Fit, Part, by_part, worst_of_each, worst_verdict
from calculators.formulas.decision_rule import Verdict

_TOLD = 3
NOT_AS_IT_IS = Caution(
    "notice",
    "Do not refit a part that is out. Fit a new part, or ask a machine shop what can be made good: it "
    "bores barrels, fits guides, cuts seats and faces heads. Measure again afterwards.",
)
NO_PASS = Caution(
    "notice",
    "Too close to call is not a pass. Measure again with a finer gauge, or treat the part as worn.",
)


def headline(fits: Sequence[Fit]) -> str:
    """Return which parts are out, which too close to call and which in; of one part or one verdict the number too."""
    parts = by_part(fits)
    verdicts = {part: worst_verdict(its) for part, its in parts.items()}
    said = set(verdicts.values())
    if said == {None}:
        return f"{_numbers(fits)}, no limit given"
    if len(parts) == 1:
        (verdict,) = said
        return f"{_numbers(fits)} · {word(verdict or '')}"
    if said == {"in"}:
        numbers = f": {_numbers(fits)}" if len({fit.kind.noun for fit in fits}) == 1 else ""
        return f"All {len(parts)} in{numbers}"
    for with_number in (True, False):
        told = " · ".join(_groups(parts, verdicts, with_number))
        if len(told) <= LONGEST_HEADLINE:
            return told[0].upper() + told[1:]
    counts = ((verdict, sum(its == verdict for its in verdicts.values())) for verdict in reversed(WORSE))
    return " · ".join(f"{count} {word(verdict or 'no limit')}" for verdict, count in counts if count)


def _groups(parts: dict[Part, list[Fit]], verdicts: dict[Part, Verdict | None], with_number: bool) -> Iterator[str]:
    """Yield the parts of each verdict, the gravest first; the number of the first where it is one."""
    first, said = True, set(verdicts.values())
    for verdict in reversed(WORSE):
        those = [part for part, its in verdicts.items() if its == verdict]
        if verdict == "in" and not first and len(those) > 1 and None not in said:
            yield f"the other {len(those)} {word(verdict)}"
        elif those:
            its = parts[those[0]]
            alone = with_number and first and len(those) == 1 and len({fit.kind.noun for fit in its}) == 1
            yield f"{SHORT_WORDS[verdict]}: {_named(those, first)}{f', {_numbers(its)}' if alone else ''}"
            first = False


def _named(parts: Sequence[Part], first: bool) -> str:
    """Return ``"cylinders 1, 3"`` or ``"inlet 2, exhaust 1, 3"``."""
    sides: dict[str, list[str]] = {}
    for part in parts:
        sides.setdefault(part.side, []).append(str(part.number))
    told = []
    for side, numbers in sides.items():
        noun = f"{word(parts[0].noun)}{'s' if len(numbers) > 1 else ''}" if first and not side else word(side)
        told.append(f"{noun} {', '.join(numbers)}".strip())
    return ", ".join(told)


def _numbers(fits: Sequence[Fit]) -> str:
    """Return the number, or from least to greatest; of several kinds that of the gravest."""
    if len({fit.kind.noun for fit in fits}) > 1:
        worst = max(worst_of_each(fits), key=lambda fit: (WORSE.index(fit.verdict), fit.excess))
        return f"{worst.kind.label} {figures(worst.best, 3)} mm"
    least, most = (figures(end(fit.best for fit in fits), 3) for end in (min, max))
    return f"{least} mm" if least == most else f"{least} to {most} mm"


def sentence(fits: Sequence[Fit]) -> str:
    """Return the verdicts in words: what is out and by what, what cannot be told, and the rest."""
    judged = [fit for fit in fits if fit.verdict]
    told: list[str] = []
    if not judged:
        worst = (f"{fit.part.name}, {fit.kind.noun} {figures(fit.best, 3)} mm" for fit in worst_of_each(fits)[:_TOLD])
        return f"There is no limit to judge by: {'; '.join(worst)}."
    for verdict, words in (("out", "Out"), ("too close to call", "Too close to call")):
        those = [fit for fit in judged if fit.verdict == verdict]
        names = [f"{fit.part.name}, {fit.said}" for fit in those[:_TOLD]]
        more = [f"{len(those) - _TOLD} more"] if len(those) > _TOLD else []
        told += [f"{words}: {'; '.join(names + more)}."] if those else []
    if not told:
        worst = (f"{fit.part.name}, {fit.said}" for fit in worst_of_each(judged)[:_TOLD])
        return f"All parts judged are in: {'; '.join(worst)}."
    if any(fit.verdict == "in" for fit in judged):
        told.append("The others are in.")
    return " ".join(told)


def cautions(fits: Sequence[Fit], told: Sequence[Fit] = ()) -> tuple[Caution, ...]:
    """Return what the verdicts warn of; of those ``told`` the question itself has spoken."""
    worn = any(fit.verdict == "out" and fit not in told for fit in fits)
    close = any(fit.verdict == "too close to call" and fit not in told for fit in fits)
    return (*((NOT_AS_IT_IS,) if worn else ()), *((NO_PASS,) if close else ()))


def names_of(fits: Iterable[Fit]) -> str:
    """Return ``"Cylinder 1 and cylinder 3"``."""
    names = listed(dict.fromkeys(fit.part.name for fit in fits))
    return names[0].upper() + names[1:]
