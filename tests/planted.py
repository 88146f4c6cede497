"""Plant a bug in each room of advisor/, one after the other, and show the least depth whose tests
notice: `python tests/planted.py [ROOM …]`. It takes some minutes and is run by hand.

The bugs stand in planted.yaml. Each is planted in a copy; nothing here is changed.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

import yaml

ROOT = Path(__file__).resolve().parents[1]
COPIED = (
    *("advisor", "rules", "cases", "tests", ".ci"),
    *("pyproject.toml", "requirements.lock", "README.md", "DEVELOPERS.md"),
)
DEPTHS = ("quick", "normal")
FAILED = (1, 2)  # what pytest returns when a test failed; 2 where it ended at the first
NOTHING_RAN = 5


@dataclass(frozen=True)
class Bug:
    file: str
    fault: str
    stands: str
    planted: str
    folders: list[str]

    @property
    def room(self) -> str:
        return self.file.partition("/")[0].removesuffix(".py")


def bugs() -> list[Bug]:
    return [
        Bug(**item) for item in yaml.safe_load((ROOT / "tests/planted.yaml").read_text("utf-8"))
    ]


def rooms() -> set[str]:
    """Rooms with code of their own."""
    found = {path.name.removesuffix(".py") for path in (ROOT / "advisor").iterdir()}
    return {name for name in found if not name.startswith("_") and name != "schema"}


def plant(bug: Bug, root: Path) -> bool:
    """Put a bug in its place; False where its line is no longer there, or not once."""
    path = root / "advisor" / bug.file
    text = path.read_text("utf-8") if path.exists() else ""
    path.write_text(text.replace(bug.stands, bug.planted), "utf-8")
    return text.count(bug.stands) == 1


def tried(bug: Bug, root: Path, depth: str) -> subprocess.CompletedProcess[str]:
    """The tests of the bug's folders at a depth, up to the first that fails."""
    command = [sys.executable, "-m", "pytest", "-x", f"--depth={depth}"]
    return subprocess.run(
        [*command, *(f"tests/{folder}" for folder in bug.folders)],
        cwd=root,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "XDG_CACHE_HOME": str(root / "cache"), "PYTHONDONTWRITEBYTECODE": "1"},
    )


def noticed(bug: Bug) -> str:
    """The depth that notices a bug with the first test that fails, or why none does."""
    with tempfile.TemporaryDirectory() as place:
        root = Path(place)
        for name in COPIED:
            copy = shutil.copytree if (ROOT / name).is_dir() else shutil.copy2
            copy(ROOT / name, root / name)
        if not plant(bug, root):
            return "STALE: what should stand there does not stand there once; mend planted.yaml"
        for depth in DEPTHS:
            done = tried(bug, root, depth)
            failed = [li for li in done.stdout.splitlines() if li.startswith(("FAILED", "ERROR"))]
            if done.returncode in FAILED and failed:
                return f"{depth}: {failed[0].partition(' - ')[0]}"
            if done.returncode not in (0, NOTHING_RAN):
                return f"{depth}: the tests break off: {done.stdout.strip().splitlines()[-1:]}"
    return "NOT NOTICED"


def main(asked: list[str]) -> int:
    known = bugs()
    missing = sorted(rooms() - {bug.room for bug in known})
    if missing:
        print("Rooms without a bug:", ", ".join(missing))
    lost = 0
    for bug in known:
        if not asked or bug.room in asked:
            found = noticed(bug)
            lost += found.isupper() or found.startswith("STALE")
            print(f"{bug.room}: {bug.fault}\n    {found}", flush=True)
    return 1 if lost or missing else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
