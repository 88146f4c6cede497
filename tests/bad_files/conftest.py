"""A working folder in which every file that appears is noticed."""

import pytest
from in_process import loaded


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """An empty working folder, which is also home, cache and temporary folder."""
    work = tmp_path / "work"
    work.mkdir()
    monkeypatch.chdir(work)
    for name in (
        "HOME",
        "XDG_CACHE_HOME",
        "XDG_STATE_HOME",
        "XDG_DATA_HOME",
        "TMPDIR",
        "LOCALAPPDATA",
    ):
        monkeypatch.setenv(name, str(tmp_path / "elsewhere"))
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "elsewhere"))
    loaded()
    return work
