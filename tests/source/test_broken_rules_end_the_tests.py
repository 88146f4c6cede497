"""A fault in rules/ ends the tests before the first of them, and says where it is."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

from depth import not_quick

ROOT = Path(__file__).resolve().parents[2]


@not_quick
def test_a_fault_in_a_rule_is_told_once_and_no_test_runs(tmp_path):
    for name in ("advisor", "rules"):
        shutil.copytree(ROOT / name, tmp_path / name)
    tests = tmp_path / "tests"
    tests.mkdir()
    for name in ("conftest.py", "depth.py"):
        shutil.copy2(ROOT / "tests" / name, tests / name)
    (tests / "test_one.py").write_text(
        "def test_one():\n    print('ran')\n    assert False\n", "utf-8"
    )
    rules = tmp_path / "rules/tether/form.yaml"
    rules.write_text(rules.read_text("utf-8") + "  - id: [\n", "utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "tests"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
        env={
            **os.environ,
            "PYTHONPATH": f"{tmp_path}{os.pathsep}{tests}",
            "XDG_CACHE_HOME": str(tmp_path / "cache"),
        },
    )
    assert done.returncode == 1 and "test_one" not in done.stdout
    assert "rules/tether/form.yaml:" in done.stdout + done.stderr
