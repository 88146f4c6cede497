"""The phrase index kept between runs is the one that was built."""

from __future__ import annotations

from talk import the_base

from advisor import kept
from advisor.language.index import Index


def test_what_is_read_back_is_what_was_built(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    built = Index(the_base().vocabulary)
    kept.write("phrases", "0" * 64, built.plain())
    again = Index(the_base().vocabulary, kept.read("phrases", "0" * 64))
    assert {stems: list(senses) for stems, senses in again.phrases.items()} == built.phrases
    assert (again.alone, again.literals, again.longest, again.beginnings, again.words) == (
        built.alone,
        built.literals,
        built.longest,
        built.beginnings,
        built.words,
    )
