"""The packages: the lock files hold what pyproject.toml asks for, with hashes and on every Python
that it allows; each has its licence listed; durable-rules is built with what the compiler takes.
"""

import re
import subprocess
import sys
from pathlib import Path

import pytest
from packaging.requirements import Requirement

if sys.version_info >= (3, 11):
    import tomllib
else:
    import tomli as tomllib  # pytest needs it there

ROOT = Path(__file__).resolve().parents[2]
LOCKS = (ROOT / "requirements.lock", ROOT / ".ci/build.lock")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
PYTHONS = ("3.10", "3.11", "3.12", "3.13", "3.14")
NAME = "-DPyEval_CallObject=PyObject_CallObject"


def plain(name):
    return re.sub("[-_.]+", "-", name).lower()


def pinned(lock):
    """[(requirement, number of hashes)] of a lock file."""
    entries = re.split(r"^(?=\w)", lock.read_text("utf-8"), flags=re.M)[1:]
    return [
        (
            Requirement(entry.partition(" \\")[0]),
            len(re.findall("--hash=sha256:[0-9a-f]{64}", entry)),
        )
        for entry in entries
    ]


def holds(marker, python):
    """Whether a marker holds on such a Python, on Linux."""
    said = {
        "python_version": python,
        "python_full_version": f"{python}.9",
        "sys_platform": "linux",
        "implementation_name": "cpython",
        "platform_python_implementation": "CPython",
    }
    return marker is None or marker.evaluate(said)


def lacks(asked, lock, python):
    """The requirements that no version of a lock file meets on a Python."""
    there = {plain(r.name): r for r, _ in pinned(lock) if holds(r.marker, python)}
    return [
        str(one)
        for one in map(Requirement, asked)
        if holds(one.marker, python)
        and not (
            plain(one.name) in there
            and all(
                one.specifier.contains(s.version, prereleases=True)
                for s in there[plain(one.name)].specifier
            )
        )
    ]


def asked():
    project = PROJECT["project"]
    extras = project["optional-dependencies"].values()
    return [*project["dependencies"], *(one for extra in extras for one in extra)]


@pytest.mark.parametrize("python", PYTHONS)
def test_the_lock_files_hold_all_that_is_asked_for(python):
    assert lacks(asked(), LOCKS[0], python) == []
    assert lacks(PROJECT["dependency-groups"]["build"], LOCKS[1], python) == []


def test_what_a_lock_file_lacks_is_noticed():
    assert lacks(["PyYAML>=99", "no-such-package", "grimp==3.20"], LOCKS[0], "3.10") == [
        "PyYAML>=99",
        "no-such-package",
        "grimp==3.20",
    ]


def test_every_package_has_one_version_and_its_hashes():
    for lock in LOCKS:
        rows = pinned(lock)
        assert len(rows) > 5 and all(hashes for _, hashes in rows)
        assert all([s.operator for s in one.specifier] == ["=="] for one, _ in rows)
        assert "://" not in lock.read_text("utf-8"), "the place packages come from is the user's"


def test_every_package_asked_for_has_a_floor_that_can_be_tried():
    for one in map(Requirement, [*asked(), *PROJECT["dependency-groups"]["build"]]):
        assert one.specifier, one


def test_every_package_has_its_licence_listed():
    lines = (ROOT / ".ci/licences.txt").read_text("utf-8").splitlines()
    listed = {line.split()[0] for line in lines}
    assert listed == {one.name for lock in LOCKS for one, _ in pinned(lock)}
    assert all(len(line.split(maxsplit=2)) == 3 for line in lines)


@pytest.mark.skipif(sys.platform == "win32", reason="it is a script for sh")
def test_only_what_the_compiler_takes_hardens_the_second_engine(tmp_path):
    choosy = tmp_path / "cc"
    choosy.write_text('#!/bin/sh\ncase "$*" in *stack-protector*) exit 0;; esac\nexit 1\n')
    choosy.chmod(0o755)

    def flags(compiler):
        done = subprocess.run(
            ["sh", str(ROOT / ".ci/flags")],
            env={"PATH": "/usr/bin:/bin", "CC": compiler},
            capture_output=True,
            text=True,
            check=True,
        )
        assert not done.stderr
        return done.stdout.split()

    assert flags(str(choosy)) == [NAME, "-fstack-protector-strong"]
    assert flags("no-such-compiler") == flags("false") == [NAME]
    assert {NAME, "-U_FORTIFY_SOURCE", "-Wl,-z,now"} <= set(flags("true"))
