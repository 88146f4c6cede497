"""What the plan settles of an incident while nobody has said otherwise."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from advisor.facts.values import Fact, read_fact
from advisor.facts.vocabulary import Attribute, Vocabulary
from advisor.model.ref import Ref

if TYPE_CHECKING:
    from advisor.load.case import Case


def with_plan(vocabulary: Vocabulary, case: Case) -> Case:
    """The case with the incident's facts that its plan settles; the case itself where none is."""
    if "incident" not in case.topics:
        return case
    found: dict[tuple[str, str], Fact] = {}
    for attribute in vocabulary.by_key.values():
        here = Ref(attribute.entity, attribute.key)
        fact = _settled(vocabulary, case, attribute) if here not in case.facts else None
        if fact:
            found[here] = fact
    return replace(case, facts={**case.facts, **found}) if found else case


def _settled(vocabulary: Vocabulary, case: Case, attribute: Attribute) -> Fact | None:
    """The fact that every possible value of the plan's own fact leads to, or None."""
    key, leads_to = attribute.from_plan or ("", {})
    planned = case.facts.get(Ref(key.partition(".")[0], key))
    if planned is None:
        return None
    values = vocabulary.by_key[key].values
    words = {leads_to.get(v) for i, v in enumerate(values) if planned.value >> i & 1}
    if len(words) != 1 or None in words:
        return None
    raw, said_by = words.pop(), planned.said_by
    return read_fact(attribute, attribute.entity, raw, {}, said_by, planned.place)[0]
