"""What is kept of a file between starts saves time and changes nothing."""

from datetime import date, timedelta
from itertools import count

import pytest
from depth import examples
from desks import layout, store_in, with_ladder
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from test_cards import HISTORY, START, at, entries_of
from test_entries import edited, new
from worked import program

from advisor.records import drawn as drawing
from advisor.records import store as storing
from advisor.records.card import making_of, standing
from advisor.records.store import Store

LATER = 10**12  # nanoseconds


@pytest.fixture(autouse=True)
def own_cache(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


def later_on(store):
    """The same file for a program that starts long after anything was written."""
    ticks = count()
    return Store(
        store.path,
        lambda: f"later tick {next(ticks)}",
        clock=lambda: store.path.stat().st_ctime_ns + LATER,
    )


@settings(
    max_examples=examples(40),
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
@given(HISTORY, st.integers(0, 800))
def test_a_card_that_was_kept_is_the_card_its_entries_make(history, later):
    entries, vocabulary = entries_of(history), program().base.vocabulary
    made = making_of(standing(entries), layout(), vocabulary)
    packed = drawing._packed(drawing.Drawn("", {"L3": made}))
    kept = drawing._unpacked(packed, lambda: drawing.Making(layout(), vocabulary)).makings["L3"]
    day = START + timedelta(900 + later)
    assert kept.card(day) == at(entries, day)


def never(*_):
    raise AssertionError("the entries were read")


def test_a_chain_that_was_proven_is_not_proven_again_until_the_file_changes(tmp_path, monkeypatch):
    store = store_in(tmp_path)
    store.add([new(a=1), new(b=2)])
    assert later_on(store).doubt() is None
    with monkeypatch.context() as patch:
        patch.setattr(storing, "_all", never)
        assert later_on(store).doubt() is None
    edited(store.path, "UPDATE entries SET body = '{}' WHERE number = 2")
    assert "entry 2 " in str(later_on(store).doubt())
    assert "entry 2 " in str(later_on(store).doubt())


def test_a_file_changed_but_a_moment_ago_is_not_trusted_by_its_times(tmp_path):
    store = store_in(tmp_path)
    store.add([new(a=1)])
    just_now = Store(store.path, str, clock=lambda: store.path.stat().st_ctime_ns + 1)
    assert just_now.state() == "" and later_on(store).state()


def test_listing_cards_reads_no_entries_once_they_were_drawn(tmp_path, monkeypatch):
    desk = with_ladder(tmp_path)
    desk.happened(["L3"], ["used"])
    first = drawing_of(desk, later_on(desk.store))
    with monkeypatch.context() as patch:
        patch.setattr(Store, "entries", never)
        assert drawing_of(desk, later_on(desk.store)) == first
        with pytest.raises(AssertionError, match="were read"):
            drawing_of(desk, later_on(desk.store), rules="other rules")
    desk.happened(["L3"], ["set aside"])
    assert drawing_of(desk, later_on(desk.store)) != first


def drawing_of(desk, store, rules="these rules"):
    found = drawing.drawn(store, desk.layout, desk.advisor.base.vocabulary, rules)
    return {mark: making.card(date(2026, 3, 1)) for mark, making in found.makings.items()}


def test_an_entry_of_a_later_day_does_not_count_before_it(tmp_path):
    desk = with_ladder(tmp_path)
    ahead = desk.on(date(2026, 6, 1))
    ahead.happened(["L3"], ["retired"])
    assert desk.all("kit")[0].final is None and ahead.all("kit")[0].final
