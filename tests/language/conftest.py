"""The corpus report at the end of a run: how much was right by kind of talk, and every line that
was not.
"""

from __future__ import annotations


def pytest_terminal_summary(terminalreporter):
    for report in (
        r
        for reports in terminalreporter.stats.values()
        for r in reports
        if getattr(r, "when", "") == "call"
    ):
        for lines in (value for key, value in report.user_properties if key == "talk understood"):
            terminalreporter.section("talk understood")
            for line in lines:
                terminalreporter.write_line(line)
