"""A new plan at a real terminal of 80 by 24: questions fit, and Ctrl-C writes what was said."""

import sys
from pathlib import Path

import pexpect
import pytest
from depth import not_quick

if sys.platform == "win32":
    pytest.skip("needs a pseudo-terminal", allow_module_level=True)

ROOT = Path(__file__).resolve().parents[2]

pytestmark = not_quick  # real terminals take seconds


def test_ctrl_c_writes_what_was_said(tmp_path):
    file = tmp_path / "plan.yaml"
    child = pexpect.spawn(
        sys.executable,
        ["-m", "advisor", "new", str(file)],
        cwd=str(ROOT),
        timeout=60,
        encoding="utf-8",
        dimensions=(24, 80),
    )
    for question, answer in [("plan called", "Rook Pot"), ("How deep", "12 m"), ("hang", "1")]:
        child.expect(question)
        child.expect("> ")
        assert all(len(row) <= 80 for row in child.before.splitlines())
        child.sendline(answer)
    child.expect("lip")
    child.sendintr()
    child.expect("Written")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    said = file.read_text("utf-8")
    assert "depth: 12 m" in said and "hang: free" in said and "lip: unknown" in said
