"""The structure of the program, by `python tests/structure.py`: lines, functions too complex,
import circles, imports that run back between rooms, type errors. Tests fail on all but lines.

A room is a folder or a file right under advisor/. Which may import which stands in structure.toml.
"""

from __future__ import annotations

import graphlib
import json
import subprocess
import sys
from collections import Counter
from collections.abc import Mapping
from pathlib import Path

import grimp

if sys.version_info >= (3, 11):
    import tomllib
else:
    import tomli as tomllib

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = "advisor"

Imports = Mapping[str, set[str]]


def data() -> dict:
    return tomllib.loads((Path(__file__).parent / "structure.toml").read_text("utf-8"))


def room(module: str) -> str:
    return module.split(".")[1] if "." in module else module


def imports() -> dict[str, set[str]]:
    """{module: modules it imports}, also inside functions."""
    graph = grimp.build_graph(PACKAGE, cache_dir=None)
    return {module: graph.find_modules_directly_imported_by(module) for module in graph.modules}


def circle(imports: Imports) -> list[str]:
    """The modules of one import circle, the first also last; none if there is no circle."""
    try:
        graphlib.TopologicalSorter(imports).prepare()
    except graphlib.CycleError as error:
        return error.args[1][::-1]
    return []


def ranks(rooms: list[str]) -> dict[str, int]:
    return {name: rank for rank, line in enumerate(rooms) for name in line.split()}


def unranked(imports: Imports, rooms: list[str]) -> list[str]:
    """Rooms of which structure.toml does not say where they stand."""
    return sorted({room(module) for module in imports} - set(ranks(rooms)) - {PACKAGE})


def backward(imports: Imports, rooms: list[str]) -> list[str]:
    """The imports that run back or across."""
    rank = ranks(rooms)
    return sorted(
        f"{module} -> {other}"
        for module, others in imports.items()
        for other in others
        if room(other) != PACKAGE
        and room(module) != room(other)
        and rank.get(room(other), 0) >= rank.get(room(module), 0)
    )


def lines() -> Counter:
    """Lines by room; the formatter keeps them to one form."""
    found = Counter()
    for path in sorted((ROOT / PACKAGE).rglob("*.py")):
        name = path.relative_to(ROOT / PACKAGE).parts[0].removesuffix(".py")
        found[name] += len(path.read_text("utf-8").splitlines())
    return found


def run(*command: str) -> str:
    """What a tool prints; anything but 'clean' and 'found something' is its own fault."""
    done = subprocess.run(
        [sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if done.returncode not in (0, 1):
        raise RuntimeError(done.stdout + done.stderr)
    return done.stdout


def complex_functions() -> list[str]:
    """Functions over the complexity that pyproject.toml allows, also those excused in place."""
    command = ("ruff", "check", "--select", "C901", "--ignore-noqa", "--output-format", "json")
    return [
        f"{Path(found['filename']).relative_to(ROOT)}:{found['location']['row']}: "
        f"{found['message']}"
        for found in json.loads(run(*command, PACKAGE))
    ]


def type_errors() -> list[str]:
    """What the type checker says; pyproject.toml says which rooms it is strict with."""
    return [line for line in run("mypy").splitlines() if ": error: " in line]


def main() -> int:
    order, graph = data(), imports()
    found = lines()
    for name, number in found.most_common():
        print(f"{number:6d} {name}")
    print(f"{found.total():6d} lines at 100 columns")
    back, known = backward(graph, order["rooms"]), set(order["back"])
    faults = {
        "functions too complex": complex_functions(),
        "modules in a circle": circle(graph),
        "rooms without a place": unranked(graph, order["rooms"]),
        "new imports that run back": [arrow for arrow in back if arrow not in known],
        "type errors": type_errors(),
    }
    for told, those in {**faults, "imports known to run back": back}.items():
        print(f"{len(those):6d} {told}", *(f"       {one}" for one in those), sep="\n")
    return 1 if any(faults.values()) else 0


if __name__ == "__main__":
    sys.exit(main())
