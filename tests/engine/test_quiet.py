"""The second engine runs without background threads, without the package's own host and without a
warning.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from depth import not_quick

ROOT = Path(__file__).resolve().parents[2]
PROBE = """
import os, sys, threading, warnings
from advisor.advise import Advisor
from advisor.load.case import read_case
advisor = Advisor()
assert [e.name for e in advisor.engines] == ["compiled", "durable-rules"], advisor.engines
for path in sys.argv[1:]:
    advisor.advise(read_case(path, advisor.base))
loaded = sum(name.startswith("durable.") or name == "durable" for name in sys.modules)
print(threading.active_count(), loaded, "durable_rules_engine" in sys.modules,
      len(os.listdir("/proc/self/task")) if os.path.isdir("/proc/self/task") else 1)
"""


@not_quick
def test_no_threads_no_host_no_warnings(tmp_path):
    cases = [
        str(next((ROOT / "cases" / folder).glob("*.yaml")))
        for folder in ("plan", "incident", "kit")
    ]
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", PROBE, *cases],
        cwd=ROOT,
        capture_output=True,
        text=True,
        env={**os.environ, "XDG_CACHE_HOME": str(tmp_path)},
    )
    # one thread to Python, nothing of the package 'durable', the bare core loaded, one thread to
    # the operating system
    assert (done.returncode, done.stdout.split(), done.stderr) == (0, ["1", "0", "True", "1"], "")
