"""The licences of the packages of the lock files, as each package itself declares them, and what
each is there for.

    .venv/bin/python .ci/licences.py            writes .ci/licences.txt anew
    .venv/bin/python .ci/licences.py --check    ends with 1 where it is not up to date

A package is read where it is installed. What only another system or Python needs keeps the line
that was written where it was.
"""

from __future__ import annotations

import re
import sys
from importlib import metadata
from pathlib import Path

from packaging.requirements import Requirement

HERE = Path(__file__).resolve().parent
PROJECT, LIST = "ladder-pitch-advisor", HERE / "licences.txt"
LOCKS = (HERE.parent / "requirements.lock", HERE / "build.lock")
PIN = re.compile(r"^([a-z0-9._-]+)==", re.M | re.I)
NOT_HERE = "not seen: only another system or Python needs it"
TOO_LONG = 60  # characters: what is longer is no name of a licence but its text


def declared(name: str) -> str:
    """What a package declares: its expression, else its classifiers, else its free words, else what
    its licence file is known by.
    """
    try:
        about = metadata.metadata(name)
    except metadata.PackageNotFoundError:
        return NOT_HERE
    classed = [c for c in about.get_all("Classifier") or () if c.startswith("License ::")]
    told = [
        about.get("License-Expression") or "",
        "; ".join(c.split(" :: ")[-1] for c in classed if c.count(" :: ") > 1),
        *(about.get("License") or "").strip().splitlines()[:1],
        *("MIT, by its text" for text in _files(name) if "granted, free of charge, to any" in text),
    ]
    return next((t for t in told if t and len(t) <= TOO_LONG), "not declared")


def _files(name: str) -> list[str]:
    """The texts of a package's licence files."""
    files = [f for f in metadata.files(name) or () if re.search("licen[cs]e|copying", f.name, re.I)]
    return [text for f in files if (text := f.read_text("utf-8")).strip()]


def needed(name: str, extra: str = "") -> set[str]:
    """A package and all that it needs here."""
    found, waiting = set[str](), [(name, extra)]
    while waiting:
        package, wanted = waiting.pop()
        for line in metadata.requires(package) or ():
            one = Requirement(line)
            plain = re.sub("[-_.]+", "-", one.name).lower()
            if plain in found or one.marker and not one.marker.evaluate({"extra": wanted}):
                continue
            found.add(plain)
            waiting.append((plain, ""))
    return found


def rows() -> dict[str, tuple[str, str]]:
    """Package of the lock files -> (what it is there for, its licence)."""
    named = sorted({n for lock in LOCKS for n in PIN.findall(lock.read_text("utf-8"))})
    uses = {"program": needed(PROJECT), "engine": needed(PROJECT, "second-engine")}
    uses["tests"] = needed(PROJECT, "test")
    return {
        name: (next((use for use, of in uses.items() if name in of), "building"), declared(name))
        for name in named
    }


def main() -> int:
    """Write the list, or check that it names every package of the lock files and no other."""
    kept: dict[str, tuple[str, str]] = {}
    for line in LIST.read_text("utf-8").splitlines() if LIST.exists() else ():
        name, use, licence = line.split(maxsplit=2)
        kept[name] = (use, licence)
    now = {
        name: kept.get(name, ("other", NOT_HERE)) if row[1] == NOT_HERE else row
        for name, row in rows().items()
    }
    if "--check" not in sys.argv[1:]:
        LIST.write_text(
            "".join(f"{n:<26} {u:<8} {text}\n" for n, (u, text) in now.items()), "utf-8"
        )
        return 0
    wrong = sorted(name for name in {*kept, *now} if kept.get(name) != now.get(name))
    for name in wrong:
        print(f"{LIST.name} is out of date: {name}: {now.get(name)}", file=sys.stderr)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
