"""The first step of the command: Ctrl-C ends it in one sentence from here on, whatever is still
being loaded.
"""

from __future__ import annotations

import gc
import sys

INTERRUPTED = 130  # the exit code that shells give what ended by Ctrl-C


def collect_seldom() -> None:
    """Let the collector of garbage run seldom: a command makes much and throws little away."""
    gc.set_threshold(50_000, 20, 20)


def main() -> int:
    """Run one command."""
    collect_seldom()
    try:
        from advisor.cli import main as command

        return command()
    except KeyboardInterrupt:
        print("pitch-advisor: stopped.", file=sys.stderr)
        return INTERRUPTED
