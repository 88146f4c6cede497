"""A long search at a real terminal: it shows how far it is, and Ctrl-C gives what was found so
far.
"""

import re
import sys
from pathlib import Path

import pexpect
import pytest
from depth import not_quick

if sys.platform == "win32":
    pytest.skip("needs a pseudo-terminal", allow_module_level=True)

ROOT = Path(__file__).resolve().parent.parent.parent

pytestmark = not_quick  # a search of seconds


def wherever_broken(text):
    """A pattern for a text whose lines may end between any two words."""
    return r"\s+".join(map(re.escape, text.split()))


def test_ctrl_c_in_a_long_search_gives_what_was_found():
    child = pexpect.spawn(
        sys.executable,
        [
            "-m",
            "advisor",
            "advise",
            "cases/kit/glazed-cord.yaml",
            "--what-would",
            "stops",
            "--changes",
            "3",
        ],
        cwd=str(ROOT),
        timeout=120,
        encoding="utf-8",
        dimensions=(24, 120),
    )
    child.expect(r"[\d,]+ of [\d,]+ sets of 3 tried, [\d,]+ a second; Ctrl-C shows what was found")
    child.sendintr()
    child.expect(
        wherever_broken("all sets of up to 2 changes were tried (the search was stopped early)")
    )
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 3
