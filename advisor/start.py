"""The first step of the command: Ctrl-C ends it in one sentence from here on, whatever is still
being loaded.
"""

from __future__ import annotations

import sys

INTERRUPTED = 130  # the exit code that shells give what ended by Ctrl-C


def main() -> int:
    """Run one command."""
    try:
        from advisor.cli import main as command

        return command()
    except KeyboardInterrupt:
        print("pitch-advisor: stopped.", file=sys.stderr)
        return INTERRUPTED
