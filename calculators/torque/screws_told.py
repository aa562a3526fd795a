"""What is told of a head's screws: the sentence, their steps among those of the nuts, values, what to beware of."""

from __future__ import annotations

from calculators.bench import COMMON_PRACTICE, Caution, Stage, Step, Value, printed, symbol_of
from calculators.bench.words import listed
from calculators.torque.passes import FARTHEST, UNITS, on_one_line
from calculators.torque.screws import SEQUENCES, Screws


def screw_sentence(screws: Screws | None) -> str:
    """Return what to do with the screws, to stand before the confirming pass is told."""
    if not screws:
        return ""
    torque = _torque(screws, 1.0)
    when = {
        "snug first": f"snug in the first pass, {torque} after the last",
        "every pass": f"after the nuts in every pass, to {torque} in the last",
        "before the nuts": f"to {torque} before the nuts",
        "after the nuts": f"to {torque} after the last pass",
    }
    return f"Screw{'s' if len(screws.names) > 1 else ''} {listed(screws.names)}: {when[screws.sequence]}. "


def _torque(screws: Screws, share: float) -> str:
    found = screws.setting(share)
    return found.setting if found else printed(share * screws.torque, symbol_of(screws.torque))


def first_stages(screws: Screws | None) -> tuple[Stage, ...]:
    """Return what comes before the nuts."""
    if not screws or screws.sequence != "before the nuts":
        return ()
    return (_tightened(screws, "Screws, before the nuts"),)


def with_pass(screws: Screws | None, number: int, share: float) -> tuple[Step, ...]:
    """Return the steps with the screws that end a pass over the nuts."""
    if not screws:
        return ()
    if screws.sequence == "snug first" and number == 1:
        return tuple(
            Step(
                key=f"snug_{index}",
                label=f"{name} snug",
                words=f"Turn in screw {name} with the short arm of its key until it just seats.",
                large=f"{name} · snug",
                nut=name,
            )
            for index, name in enumerate(screws.names, 1)
        )
    return _steps(screws, share, f"pass_{number}_screw") if screws.sequence == "every pass" else ()


def last_stages(screws: Screws | None) -> tuple[Stage, ...]:
    """Return what comes after the nuts' last pass."""
    if not screws or screws.sequence not in ("snug first", "after the nuts"):
        return ()
    return (_tightened(screws, f"Screws, after the nuts: {_torque(screws, 1.0)}"),)


def _tightened(screws: Screws, title: str) -> Stage:
    return Stage(title=title, steps=_steps(screws, 1.0, "screw"))


def _steps(screws: Screws, share: float, key: str) -> tuple[Step, ...]:
    found = screws.setting(share)
    torque = _torque(screws, share)
    return tuple(
        Step(
            key=f"{key}_{index}",
            label=name,
            words=f"Tighten screw {name} with the {found.wrench.name} set to {torque}."
            if found
            else f"Tighten screw {name} to {torque}, with a wrench that has this mark.",
            large=f"{name} · {on_one_line(torque)}",
            nut=name,
        )
        for index, name in enumerate(screws.names, 1)
    )


def screw_values(screws: Screws | None, count: int | None) -> tuple[Value, ...]:
    """Return which screws there are, and their torque; where there are none, that."""
    if not screws:
        none = Value(
            key="screws",
            label="Screws besides the studs",
            quantity="none",
            formula="as typed, or as the engine card says",
            source=COMMON_PRACTICE,
        )
        return (none,) if count == 0 else ()
    return (
        Value(
            key="screws",
            label="Screws besides the studs",
            quantity=listed(screws.names),
            formula=SEQUENCES[screws.sequence],
            source=screws.source,
            lead=True,
        ),
        Value(
            key="screw_torque",
            label="Screw torque",
            quantity=screws.torque,
            units=UNITS,
            formula="as typed, or from the engine card; the mark is the nearest one, without an extension",
            source=COMMON_PRACTICE,
            given=(("typed", screws.torque),),
        ),
    )


def screw_cautions(screws: Screws | None, unknown: bool) -> list[Caution]:
    """Return what to beware of where screws hold the head besides its nuts, or may do so."""
    if unknown:
        return [
            Caution(
                "notice",
                "Nothing here says whether screws hold this head as well as nuts. Look between the fins, beside the "
                "inlet flange and in the middle. Enter how many there are; 0 where there are none.",
            )
        ]
    if screws and not screws.setting():
        torque = printed(screws.torque, symbol_of(screws.torque))
        text = f"No wrench here has a mark within {FARTHEST:.0%} of the screws' {torque}. Take one that has."
        return [Caution("notice", text)]
    return []
