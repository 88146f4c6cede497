"""What understanding takes and gives: plain data."""

from __future__ import annotations

from typing import NamedTuple


class Context(NamedTuple):
    """What a line may lean on: the rule base, the names and facts of the case, the question just
    asked
    as (entity, key), and the entity and key last spoken of."""

    base: object
    names: dict
    facts: dict
    asked: tuple | None = None
    last: str | None = None
    last_key: str | None = None
    answering: bool = False  # whether lines were read out that a reply may speak of


class Said(NamedTuple):
    """A fact. raw is what facts.values.read_fact takes: a string, or a list where several values
    are left;
    'unknown' where the speaker does not know, or only names a thing. words are the speaker's own.
    """

    entity: str
    key: str
    raw: object
    doubtful: bool
    words: str


class Intent(NamedTuple):
    """Something asked for. arguments: names, or the Said of a hypothetical."""

    kind: str
    arguments: tuple
    words: str


class Unclear(NamedTuple):
    """Words not understood, word for word, with up to three phrases the speaker could type
    instead.
    """

    words: str
    readings: tuple = ()


class Outside(NamedTuple):
    """Something asked that is not this program's job, and who to ask."""

    words: str
    to: str


class Heard(NamedTuple):
    """Said, Intent, Unclear and Outside in the order spoken."""

    parts: tuple
