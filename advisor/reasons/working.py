"""The working of one calculation, told in full."""

from __future__ import annotations

from advisor.decide.names import source_name
from advisor.facts.rounding import exact
from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.model.advice import Advice, Number
from advisor.model.base import Base

ORIGIN = {"fact": "a fact of the case", "figure": "a trade figure", "fixed": "fixed by the method"}


def find(advice: Advice, name: str) -> list[Number]:
    """The calculations an id or a name means; raises Faults with the nearest names when there is
    none.
    """
    items, wanted = advice.calculations, name.strip().lower()
    found = [i for i in items if wanted in (i.id.lower(), i.calculation.lower(), i.title.lower())]
    found = found or [i for i in items if wanted in i.id.lower() or wanted in i.title.lower()]
    if not found:
        known = sorted({i.calculation for i in items})
        listed = (
            f"expected one of: {', '.join(known)}"
            if known
            else "none could be worked out on these facts"
        )
        raise Faults(
            [
                Fault(
                    Place("--explain"),
                    f"no calculation here is called '{name}'; {listed}.{did_you_mean(name, known)}",
                )
            ]
        )
    return found


def lines(item: Number, base: Base) -> list[str]:
    """One calculation as lines: formula, inputs with their origin, result with its
    range, sources.
    """
    figures = {
        name: i.value for i in item.inputs if i.origin == "figure" for name in i.of.split(" or ")
    }
    out = [item.title, f"  Formula: {item.formula}", "  Inputs:"]
    for part in item.inputs:
        origin = f"{ORIGIN[part.origin]}, {part.of}" if part.of else ORIGIN[part.origin]
        out.append(f"    {part.name} = {part.value}  ({origin})")
    if item.result:
        result = item.result
        ends = dict.fromkeys(exact(end, result.unit) for end in (result.low, result.high))
        out.append(f"  Result: {result.text}  ({' to '.join(ends)})")
    else:
        out.append(f"  Result: not worked out, {item.missing}")
    if item.named:
        out.append(
            f"  {'Weakest' if item.function == 'weakest' else 'Chosen'}: {', '.join(item.named)}"
        )
    sources = "; ".join(source_name(base, s) for s in item.sources)
    out.append(f"  Why: {item.because} ({item.status}; {sources})")
    for name in sorted(figures):
        figure = base.figure(name, figures[name])
        if figure:
            limits = f", range {figure.limits[0]} to {figure.limits[1]}" if figure.limits else ""
            out.append(
                f"  Figure: {name} = {figure.shown}{limits} ({figure.status};"
                f" {'; '.join(source_name(base, s) for s in figure.sources)}). {figure.note}"
            )
    return out
