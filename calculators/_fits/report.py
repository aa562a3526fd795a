"""Fits and wear in words and numbers: a table for each group of parts, and the worst of each kind with its working."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from types import SimpleNamespace

from calculators._fits.drawing import Bar, bores_figure, limits_figure
from calculators._fits.findings import Finding, Found, worst_of_each
from calculators._fits.kinds import GROUPS, Group
from calculators._report import Caution, Column, Figure, Kept, Report, Row, Source, Table, Value
from calculators._units import figures, magnitude_in, plain, quantity
from calculators._words import listed, word
from calculators.formulas.worn_fit import gap_of_wear

_DECISION = Source("ISO 14253-1, decision rules for conformity with specifications", "memory")
_RING = Source("plane geometry: a circle's circumference", "identity")
_NAMED = 3


def report(inputs: SimpleNamespace, found: Found) -> Report:
    """Return the whole answer."""
    findings = found.findings
    worst = worst_of_each(findings)
    return Report(
        lead=_lead(findings),
        values=(*_counts(findings), *_heat(inputs, found), *_worst_values(worst)),
        tables=(*(_table(group, findings) for group in GROUPS if _of(group, findings)), _limits(worst)),
        figures=tuple(_figures(inputs, found, worst)),
        kept=_kept(found),
        cautions=tuple(_cautions(findings)),
        notes=_NOTES,
    )


_NOTES = (
    "Measure gauge, setting ring and part at one temperature: an aluminium piston of 80 mm grows 0.019 mm in 10 K "
    "(23.6 millionths per K; Callister, 3rd edition, Table B.6).",
    "A gauge with two points sees nothing of a bore with three lobes. Turn it round the whole bore, and do not "
    "take a figure that falls between your two axes for all there is.",
    "Where one part of a fit is new, measure again: a new piston in a worn barrel is another fit.",
    "Cracks, scores, pitting, a hammered stem tip and a worn collet groove are judged by eye, and out whatever the "
    "gauge says.",
)


def _of(group: Group, findings: Sequence[Finding]) -> list[Finding]:
    return [finding for finding in findings if finding.group is group]


def _with(verdict: str, findings: Sequence[Finding]) -> list[Finding]:
    return [finding for finding in findings if finding.verdict == verdict]


def _lead(findings: Sequence[Finding]) -> str:
    judged = [finding for finding in findings if finding.verdict]
    if not judged:
        return f"Fits worked out: {len(findings)}; judged: none, as there is no limit to hold them against."
    out, close = _with("out", judged), _with("too close to call", judged)
    told = [f"Of {len(judged)} fits judged, {len(out)} {'is' if len(out) == 1 else 'are'} out{_named(out)}"]
    if close:
        told.append(f"{len(close)} too close to call{_named(close)}")
    if len(judged) > len(out) + len(close):
        told.append("the others in")
    return f"{'; '.join(told)}."


def _named(findings: Sequence[Finding]) -> str:
    names = [f"{finding.part.lower()}: {finding.kind.noun}" for finding in findings[:_NAMED]]
    more = [f"{len(findings) - _NAMED} more"] if len(findings) > _NAMED else []
    return f" ({', '.join(names + more)})" if names else ""


def _counts(findings: Sequence[Finding]) -> Iterator[Value]:
    for key, label, verdict in (
        ("out", "Out", "out"),
        ("close", "Too close to call", "too close to call"),
        ("in", "In", "in"),
    ):
        yield Value(
            key=key,
            label=label,
            quantity=len(_with(verdict, findings)),
            formula="in or out only where the reading with all of its uncertainty is; else too close to call",
            source=_DECISION,
            lead=True,
        )


def _heat(inputs: SimpleNamespace, found: Found) -> Iterator[Value]:
    if found.closed is not None:
        yield Value(
            key="closed",
            label="End gap that heat closes",
            quantity=quantity(found.closed, "mm"),
            units=("mm",),
            places=3,
            formula="π · bore · (ring expansion · ring rise − barrel expansion · barrel rise); not below nought",
            source=Source("Callister, 3rd edition, Table B.6; the temperatures are common practice, no source"),
            given=(
                ("ring", inputs.ring_temperature),
                ("barrel", inputs.barrel_temperature),
                ("measured at", inputs.cold_temperature),
                ("expansion of the ring", f"{inputs.ring_expansion:g} millionths per K"),
                ("expansion of the barrel", f"{inputs.barrel_expansion:g} millionths per K"),
                ("temperatures within", f"±{plain(inputs.temperature_error)} K"),
                ("expansions within", f"±{plain(magnitude_in(inputs.expansion_error, '%'))}%"),
            ),
        )
    wears = [finding for finding in found.findings if finding.kind.key == "wear"]
    if wears:
        most = max(wears, key=lambda finding: finding.excess)
        yield Value(
            key="gap_of_wear",
            label=f"Wear opens the end gap of {most.part.lower()} by",
            quantity=gap_of_wear(most.measured),
            units=("mm",),
            places=3,
            formula="π · bore wear: so much wider is the gap at the top of the travel than in the unworn bore",
            source=_RING,
            given=(("bore wear", most.measured),),
        )


def _worst_values(worst: Sequence[Finding]) -> Iterator[Value]:
    for finding in worst:
        yield Value(
            key=f"worst_{finding.kind.key}",
            label=f"{finding.part}: {finding.kind.noun}",
            quantity=finding.measured,
            units=("mm",),
            places=3,
            formula=finding.kind.formula,
            source=finding.kind.source,
            given=(*finding.given_quantities, *_limits_given(finding)),
        )


def _limits_given(finding: Finding) -> tuple[tuple[str, str], ...]:
    bounds = (("least allowed", finding.low), ("greatest allowed", finding.high))
    return tuple((name, f"{figures(limit, 3)} mm") for name, limit in bounds if limit is not None)


def _table(group: Group, findings: Sequence[Finding]) -> Table:
    mine = _of(group, findings)
    kinds = [kind for kind in group.kinds if any(finding.kind is kind for finding in mine)]
    by_part: dict[int, dict[str, Finding]] = {}
    for finding in mine:
        by_part.setdefault(finding.number, {})[finding.kind.key] = finding
    return Table(
        key=group.key,
        title=f"{group.title}, in mm",
        columns=(
            Column(key="part", label=group.part),
            *(Column(key=kind.key, label=kind.noun.capitalize(), places=3) for kind in kinds),
            Column(key="verdict", label="Verdict", wide=True),
        ),
        rows=tuple(
            Row(
                cells=(
                    number,
                    *(row[kind.key].in_mm if kind.key in row else None for kind in kinds),
                    _verdict(tuple(row.values())),
                ),
                chosen=any(finding.verdict == "out" for finding in row.values()),
            )
            for number, row in by_part.items()
        ),
        formula="; ".join(f"{kind.noun}: {kind.formula}" for kind in kinds),
        source=_DECISION,
    )


def _verdict(findings: Sequence[Finding]) -> str:
    told = []
    for verdict in ("out", "too close to call"):
        names = [finding.kind.noun for finding in findings if finding.verdict == verdict]
        if names:
            told.append(f"{word(verdict)}: {listed(names)}")
    unjudged = [finding.kind.noun for finding in findings if finding.verdict is None]
    if told or len(unjudged) < len(findings):
        told = told or ["in"]
    if unjudged:
        told.append(f"no limit: {listed(unjudged)}")
    return "; ".join(told)


def _limits(worst: Sequence[Finding]) -> Table:
    return Table(
        key="limits",
        title="What it was held against, in mm",
        columns=(
            Column(key="fit", label="Fit"),
            Column(key="least", label="Least", unit="mm", places=3),
            Column(key="greatest", label="Greatest", unit="mm", places=3),
        ),
        rows=tuple(
            Row(
                cells=(
                    finding.kind.label,
                    None if finding.low is None else quantity(finding.low, "mm"),
                    None if finding.high is None else quantity(finding.high, "mm"),
                )
            )
            for finding in worst
        ),
        formula="as typed under Limits; the narrowest end gap against the least end gap or what heat closes, "
        "whichever is wider",
        source=Source("the engine maker's limits, as on the engine card or typed"),
        folded=True,
    )


def _figures(inputs: SimpleNamespace, found: Found, worst: Sequence[Finding]) -> Iterator[Figure]:
    bars = tuple(_bar(finding) for finding in worst if finding.verdict)
    if bars:
        yield limits_figure(bars)
    bores = tuple((number, *bore) for number, bore in enumerate(found.bores, 1) if bore)
    if bores:
        least = min(reading for _, across, along in bores for reading in across + along)
        new = None if inputs.bore_new is None else magnitude_in(inputs.bore_new, "mm")
        yield bores_figure(bores, least if new is None else new, new is not None)


def _bar(finding: Finding) -> Bar:
    best, low, high = finding.best, finding.low, finding.high
    if low is not None and high is not None:
        start, width = low, high - low
    elif high is not None:
        start, width = 0.0, high
    else:
        start = width = low or 0.0
    width = max(width, 1e-3)
    bounds = [f"at least {figures(low, 3)}"] if low is not None else []
    bounds += [f"at most {figures(high, 3)}"] if high is not None else []
    return Bar(
        name=finding.kind.short,
        part=finding.part,
        place=round((best - start) / width, 3),
        reach=round(finding.expanded / width, 3),
        least=low is not None,
        most=high is not None,
        verdict=finding.verdict or "",
        said=f"{finding.kind.label}, {finding.part.lower()}: {figures(best, 3)} mm, {' and '.join(bounds)}, "
        f"{word(finding.verdict or '')}",
    )


def _kept(found: Found) -> tuple[Kept, ...]:
    if found.mean_bore is None:
        return ()
    return (Kept(path="bore", label="Mean bore of all barrels", quantity=quantity(found.mean_bore, "mm"), unit="mm"),)


def _cautions(findings: Sequence[Finding]) -> Iterator[Caution]:
    out = _with("out", findings)
    margins = [finding.part.lower() for finding in out if finding.kind.key.endswith("_margin")]
    if margins:
        yield Caution(
            "warning",
            f"{listed(margins).capitalize()}: a valve with too thin a rim burns, and its head can break off and go "
            "through the piston: under way that can kill. Do not grind it again. Fit a new valve.",
        )
    butting = [finding.part.lower() for finding in out if finding.kind.key == "narrow_gap"]
    if butting:
        yield Caution(
            "warning",
            f"{listed(butting).capitalize()}: a ring whose ends meet when hot scores the barrel and can seize the "
            "engine, and under way that can kill. Open its gap, or find out why it is so narrow.",
        )
    tight = [
        finding.part.lower()
        for finding in out
        if finding.kind.key == "piston_clearance" and finding.low is not None and finding.best < finding.low
    ]
    if tight:
        yield Caution(
            "warning",
            f"{listed(tight).capitalize()}: a piston with too little clearance seizes when hot, and an engine "
            "that seizes under way can kill. Do not fit it.",
        )
    told = {"narrow_gap", "piston_clearance"}
    worn = [finding for finding in out if finding.kind.key not in told and not finding.kind.key.endswith("_margin")]
    if worn or any(finding.kind.key == "piston_clearance" and finding.part.lower() not in tight for finding in out):
        yield Caution(
            "notice",
            "What is out does not go back as it is. Fit a new part, or ask a machine shop what can be made good: it "
            "bores barrels, fits guides, cuts seats and faces heads. Measure again afterwards.",
        )
    if _with("too close to call", findings):
        yield Caution(
            "notice",
            "Too close to call is not a pass. Measure again with a finer gauge, or count the part as worn.",
        )
    yield Caution("notice", "The engine maker's limits win over any figure here.")
