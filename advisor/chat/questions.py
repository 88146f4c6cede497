"""Which open question to ask next: the gravest; of those, what nobody has named yet, then the one
that bears on most, then one
that settles a rule by itself; then in the order of the vocabulary, where a thing's kind stands
before its details.
"""

from __future__ import annotations

from collections import Counter

from advisor.decide.questions import GRAVITY


def next_question(base, advice, done, first=()):
    """((entity, key), item), or None when all was asked.

    In an incident only what the response turns on is asked. Checks are read out in groups, and only
    asked one by one where they are to come `first`.
    """
    items = [(split_fact(base, item.fact), item) for item in advice.open_questions]
    for reference in first:
        if reference not in done:
            found = [i for i in items if i[0] == reference]
            if found:
                return found[0]
    checks = {check.fact for check in advice.checks}
    items = [i for i in items if i[1].fact not in checks]
    if advice.response:
        items = [
            i
            for i in items
            if i[0][0] == "incident" or any(base.rule(r).about == "incident" for r in i[1].rules)
        ]
    behind = Counter((reference[0], rule) for reference, item in items for rule in item.rules)
    order = _order(base)

    def weight(entry):
        (entity, key), item = entry
        alone = any(behind[entity, rule] == 1 for rule in item.rules)
        # Numbers of a size weigh the same: 4 to 7 consequences are no reason to ask for details
        # before the kind. What local guidance asks comes after all that is built in.
        return (
            item.local,
            GRAVITY.index(item.gravity),
            bool(entity),
            -len(item.could).bit_length(),
            -alone,
            order.get(key, -1),
            entity,
        )

    return min((i for i in items if i[0] not in done), key=weight, default=None)


def _order(base) -> dict:
    """Attribute key -> its place in the vocabulary."""
    return {key: place for place, key in enumerate(base.vocabulary.by_key)}


def split_fact(base, identity: str):
    """'anchor left bolt.side' -> ('anchor left bolt', 'anchor.side'); 'anchor' (name one at all)
    -> ('', 'anchor').
    """
    entity, _, name = identity.rpartition(".")
    if not entity:
        return "", name
    return entity, f"{base.vocabulary.split(entity)[0].name}.{name}"
