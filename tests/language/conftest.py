"""The corpus report at the end of a run: how much was right by kind of talk, and every line that was not."""
from __future__ import annotations


def pytest_terminal_summary(terminalreporter):
    from talk import REPORT

    if REPORT:
        terminalreporter.section("talk understood")
        for line in REPORT:
            terminalreporter.write_line(line)
