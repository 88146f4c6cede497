"""What is kept between starts: never read where another user could have written it, never after
the program or the rules have changed, and done without where it is spoilt.
"""

from __future__ import annotations

import hashlib
import marshal
import os
import shutil
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from depth import not_quick

from advisor import kept

ROOT = Path(__file__).resolve().parents[2]
owners = pytest.mark.skipif(os.name == "nt", reason="Windows has no owner and mode to ask for")


@pytest.fixture
def store(tmp_path, monkeypatch):
    """The file of something that is kept, in a cache folder of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    kept.write("thing", "a stamp", {"of": "mine"})
    assert kept.read("thing", "a stamp") == {"of": "mine"}
    return kept.place("thing")


def test_it_is_closed_to_others(store):
    if os.name != "nt":
        assert stat.S_IMODE(store.stat().st_mode) == 0o600
        assert stat.S_IMODE(store.parent.stat().st_mode) == 0o700
    assert [path.name for path in store.parent.iterdir()] == [store.name], "no draft stays"


def test_one_bit_or_a_part_is_not_read(store):
    whole = store.read_bytes()
    for spoilt in (whole[:-1] + bytes([whole[-1] ^ 1]), whole[:5], b""):
        store.write_bytes(spoilt)
        assert kept.read("thing", "a stamp") is None


def test_another_stamp_is_not_read_and_takes_the_place_of_the_older(store):
    assert kept.read("thing", "b stamp") is None
    kept.write("thing", "b stamp", 2)
    assert (kept.read("thing", "a stamp"), kept.read("thing", "b stamp")) == (None, 2)
    assert len(list(store.parent.iterdir())) == 1


def test_files_of_older_forms_are_removed_and_the_rest_are_bounded(store):
    (store.parent / "0123-7-456-cpython-311").write_bytes(b"older")
    for number in range(kept.MOST + 3):
        kept.write(f"thing {number}", "a stamp", number)
    names = {path.name for path in store.parent.iterdir()}
    assert len(names) == kept.MOST and "0123-7-456-cpython-311" not in names
    assert kept.read(f"thing {kept.MOST + 2}", "a stamp") == kept.MOST + 2


@owners
@pytest.mark.parametrize("mode", [0o620, 0o602, 0o666])
def test_a_file_that_others_may_write_is_not_read(store, mode):
    store.chmod(mode)
    assert kept.read("thing", "a stamp") is None
    kept.write("thing", "a stamp", 3)
    assert kept.read("thing", "a stamp") == 3 and stat.S_IMODE(store.stat().st_mode) == 0o600


@owners
@pytest.mark.parametrize("mode", [0o770, 0o777, 0o1777])
def test_a_folder_that_others_may_write_is_not_read_then_closed_and_emptied(store, mode):
    store.parent.chmod(mode)
    (store.parent / f"{kept.FORM}planted").write_bytes(b"theirs")
    assert kept.read("thing", "a stamp") is None
    kept.write("thing", "a stamp", 3)
    assert kept.read("thing", "a stamp") == 3
    assert stat.S_IMODE(store.parent.stat().st_mode) == 0o700
    assert [path.name for path in store.parent.iterdir()] == [store.name]


@owners
def test_a_link_or_a_pipe_is_not_read(store, tmp_path):
    for folder in (False, True):
        real = store.parent if folder else store
        moved = real.rename(tmp_path / f"moved {folder}")
        real.symlink_to(moved, target_is_directory=folder)
        assert kept.read("thing", "a stamp") is None
        if folder:
            kept.write("thing", "a stamp", 3)
            assert kept.read("thing", "a stamp") is None, "nor is anything written through it"
        real.unlink()
        moved.rename(real)
    store.unlink()
    os.mkfifo(store)
    assert kept.read("thing", "a stamp") is None


@pytest.fixture
def another(monkeypatch):
    """This process as another user than the one whose files it meets."""
    monkeypatch.setattr(os, "geteuid", lambda: os.stat(__file__).st_uid + 4321)


@owners
def test_another_users_folder_and_file_are_neither_read_nor_written(store, another):
    before = store.read_bytes()
    assert kept.read("thing", "a stamp") is None
    kept.write("thing", "b stamp", 3)
    assert store.read_bytes() == before and len(list(store.parent.iterdir())) == 1


@owners
def test_another_users_file_in_a_folder_of_ones_own_is_not_read(store, monkeypatch):
    """In truth where the test runs as root; else as the system would tell it."""
    if os.geteuid() == 0:
        os.chown(store, 4321, -1)
    else:
        told = os.fstat
        monkeypatch.setattr(
            os, "fstat", lambda at: os.stat_result((*told(at)[:4], 4321, *told(at)[5:]))
        )
    assert kept.read("thing", "a stamp") is None


# The whole program, with a package and rules of its own that are edited between two starts.


@pytest.fixture
def program(tmp_path):
    """Runs an advice in a copy of the package; keeps in a cache folder of its own."""
    shutil.copytree(ROOT / "advisor", tmp_path / "advisor", ignore=lambda *_: ["__pycache__"])
    shutil.copytree(ROOT / "rules", tmp_path / "rules")
    case = ROOT / "cases/plan/arrival-left.yaml"
    environment = {**os.environ, "XDG_CACHE_HOME": str(tmp_path / "cache"), "PYTHONPATH": "."}
    environment["LOCALAPPDATA"] = environment["XDG_CACHE_HOME"]

    def run():
        done = subprocess.run(
            [sys.executable, "-m", "advisor", "advise", case, "--all"],
            cwd=tmp_path,
            env=environment,
            capture_output=True,
            text=True,
            timeout=300,
        )
        assert done.returncode in (0, 3) and not done.stderr, done.stderr
        return done.stdout

    run.folder = tmp_path
    return run


def _edit(path, old, new):
    text = path.read_text("utf-8")
    assert text.count(old) == 1, "the part to edit must stand once"
    times = path.stat()
    path.write_text(text.replace(old, new), "utf-8")
    os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))  # content counts, not its time


@not_quick
def test_an_edited_program_or_rule_is_followed_at_once(program):
    first = program()
    assert program() == first
    caution = program.folder / "rules/decisions.yaml"
    _edit(caution, "It knows only the facts given.", "It knows what it was told.")
    second = program()
    assert second == first.replace("It knows only the facts given.", "It knows what it was told.")
    reader = program.folder / "advisor/load/figures.py"
    with reader.open("a", encoding="utf-8") as file:
        file.write("\n\ndef si(written):\n    return 3.0\n")
    third = program()
    assert third != second, "the figures are read anew"


PLANTED = "open('run by the planted cache', 'w').close()"


@not_quick
@owners
@pytest.mark.parametrize("loose", ["folder", "file", "owner"])
def test_planted_code_is_not_run(program, loose):
    """A well-formed cache with a true checksum, whose code would leave a file behind."""
    first = program()
    (store,) = (program.folder / "cache/ladder-pitch-advisor").iterdir()
    whole = store.read_bytes()
    data, code = marshal.loads(whole[kept.LENGTH :])
    packed = marshal.dumps((data, compile(PLANTED, "planted", "exec")))
    front = kept.MAGIC_NUMBER + kept.program().encode() + data["sha256"].encode() + b"\0"
    assert hashlib.sha256(front + whole[kept.LENGTH :]).digest() == whole[: kept.LENGTH]
    store.write_bytes(hashlib.sha256(front + packed).digest() + packed)
    if loose == "owner" and os.geteuid() == 0:
        os.chown(store, 4321, -1)
    else:
        (store.parent if loose == "folder" else store).chmod(0o777)
    assert program() == first
    assert not (program.folder / "run by the planted cache").exists()
