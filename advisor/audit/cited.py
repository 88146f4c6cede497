"""Sources that nothing cites, what has no source, and figures that nothing uses."""

from __future__ import annotations

from advisor.audit.bench import Finding, finding

KIND = "source"


def uncited(bench):
    """Findings for sources never cited and for rules, figures and calculations without a source."""
    base = bench.base
    cited = {
        s
        for things in (base.rules, base.figures.values(), base.calculations)
        for thing in things
        for s in thing.sources
    }
    found = [
        Finding(
            KIND,
            name,
            bench.place_of(None, name),
            "no rule, figure or calculation cites this source; cite it or drop it.",
            (f"source = {name}",),
        )
        for name in base.sources
        if name not in cited
    ]
    found += [
        finding(KIND, rule, "this rule has no source.") for rule in base.rules if not rule.sources
    ]
    found += [
        Finding(KIND, f.name, bench.place_of("figures", f.name), "this figure has no source.", ())
        for f in base.figures.values()
        if not f.sources
    ]
    return found + [
        Finding(KIND, c.id, str(bench.folder), "this calculation has no source.", ())
        for c in base.calculations
        if not c.sources
    ]


def unused_figures(bench):
    """Figures that no calculation uses."""
    used = {name for calculation in bench.base.calculations for name in calculation.figures}
    return [
        Finding(
            "note",
            name,
            bench.place_of("figures", name),
            "no calculation uses this figure.",
            (f"figure = {name}",),
        )
        for name in bench.base.figures
        if name not in used
    ]
