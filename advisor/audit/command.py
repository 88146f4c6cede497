"""`pitch-advisor audit`: 0 when clean (notes do not count), 3 with findings, 2 (raised as Faults)
for what cannot be read.
"""

from __future__ import annotations

import sys
from pathlib import Path

from advisor.faults import Fault, Faults, Place

CLEAN, FOUND = 0, 3


def run(options) -> int:
    """Audit a rule base, or measure how well it is tested."""
    folder = Path(options.folder) if options.folder else None
    if folder and not folder.is_dir():
        raise Faults(
            [Fault(Place(str(folder)), "this is not a folder; name a folder like rules/.")]
        )
    report, lines, code = (
        _measured(folder, options)
        if options.coverage or options.mutation
        else _audited(folder, options)
    )
    if options.format == "json":
        from advisor.model.record import as_json

        sys.stdout.write(as_json(report))
    else:
        from advisor.screen import page

        sys.stdout.write(page(lines))
    sys.stdout.flush()
    return code


def _audited(folder, options):
    from advisor.audit.audit import audit, told

    report = audit(folder)
    return report, told(report, options.all), FOUND if report["findings"] else CLEAN


def _measured(folder, options):
    """Coverage and mutation figures; they are measurements, so the exit code is 0."""
    from advisor.audit import coverage, mutation
    from advisor.audit.bench import Bench

    bench = Bench(folder)
    figures = coverage.coverage(bench)
    covered, report, lines = figures.pop("covered"), {}, []
    if options.coverage:
        report["coverage"], lines = figures, coverage.table(figures)
    if options.mutation:
        from advisor.audit.worked import worked_cases

        report["mutation"] = mutation.mutation(
            bench, covered, worked_cases(bench) if folder is None else ()
        )
        lines = [*lines, *[""] * bool(lines), *mutation.table(report["mutation"])]
    return report, lines, CLEAN
