"""As much of a world as a condition needs, which is quick to make."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct, field

from advisor.facts.vocabulary import Value


class Slice(Struct, frozen=True):
    """The parts of a world (see facts.world) that a condition is told by."""

    columns: Mapping[str, Mapping[str, Value]]
    states: Mapping[tuple[str, str], int] = field(default_factory=dict)
    kinds: Mapping[str, Sequence[str]] = field(default_factory=dict)
    bits: Mapping[str, int] = field(default_factory=dict)
    choices: Mapping[str, str | None] = field(default_factory=dict)
