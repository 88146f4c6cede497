"""The phrase index kept between runs is the one that was built, and a spoilt one is done
without.
"""

from __future__ import annotations

from talk import the_base

from advisor.language import kept
from advisor.language.index import Index


def test_what_is_read_back_is_what_was_built(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    built = Index(the_base().vocabulary)
    kept.write("0" * 64, built.plain())
    again = Index(the_base().vocabulary, kept.read("0" * 64))
    assert {stems: list(senses) for stems, senses in again.phrases.items()} == built.phrases
    assert (again.alone, again.literals, again.longest, again.beginnings, again.words) == (
        built.alone,
        built.literals,
        built.longest,
        built.beginnings,
        built.words,
    )


def test_a_spoilt_or_missing_one_is_none(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert kept.read("1" * 64) is None
    kept.write("1" * 64, {})
    (store,) = (tmp_path / "ladder-pitch-advisor").iterdir()
    whole = store.read_bytes()
    assert kept.read("1" * 64) == {}
    store.write_bytes(whole[:-1] + bytes([whole[-1] ^ 1]))  # one bit
    assert kept.read("1" * 64) is None
    store.write_bytes(whole[:5])
    assert kept.read("1" * 64) is None
