"""A desk with cards of its own for a test."""

from datetime import date
from functools import cache
from itertools import count

from worked import program

from advisor.load.folder import find_folder
from advisor.load.records import read_records
from advisor.records.desk import Desk
from advisor.records.store import Store

LADDER = {
    "length": "12 m",
    "rating": "2 kN",
    "breaking load": "6 kN",
    "kind": "wire sides",
    "rung fixing": "pressed ferrule",
    "wire core": "steel core",
    "made by": "the maker",
    "history": "known from new",
    "identity": "yes",
    "record": "in order",
    "repair": "none",
    "storage": "dry and aired",
    "examination interval": "6 month",
}
MADE = {"made": date(2024, 3, 1)}


@cache
def layout():
    return read_records(program().base.vocabulary, find_folder("rules"))


def store_in(folder, name="records.sqlite"):
    ticks = count()
    return Store(folder / name, lambda: f"tick {next(ticks)}")


def desk_in(folder, day="2026-01-05"):
    return Desk(program(), store_in(folder), date.fromisoformat(day), "AB")


def with_ladder(folder, day="2026-01-05"):
    """A desk with the card of one ladder, L3, made on that day."""
    desk = desk_in(folder, day)
    desk.begin("L3", "kit", "ladder", LADDER, MADE)
    return desk
