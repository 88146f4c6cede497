"""Questions of the trade at large that rules answer: which rules is told in rules/hearing, in the
part `topics`; the rules are said as they stand, each on its own conditions, and tell no fact.
"""

from __future__ import annotations

import re

from advisor.chat import nearest
from advisor.language.index import index_of
from advisor.language.mend import lexicon_of, mended
from advisor.language.signs import Sign, signs_of
from advisor.language.tokens import tokenise
from advisor.model.base import Base

EACH = "Each holds on its own conditions; local rules and the maker's word come first."
_WHO = (
    r"(?:i|we|he|she|they|you|it|that|this|there|the|a|an|my|our|somebody|someone|one|two|kids"
    r"|novices|\d+)"
)
_ASKS = re.compile(
    r"\?|^(?:is|are|do|does|can|may|which|whos?)\b"
    # 'I do not know how deep', 'cannot tell what' ask nothing
    r"|(?<!know )(?<!dunno )(?<!tell )(?<!sure )(?<!idea )(?<!see )\b(?:hows?|whats?)\b"
    r"|\b(?:whys?|when do|when should|suppose|supposing|is it|does)\b"
    rf"|\b(?:can|could|should|shall|may|might|must|would|will) {_WHO}\b"
    # 'the lifeline is one bolt' tells; in a question the verb begins what is asked
    rf"|(?:^|[.,;:]\s*|\b(?:so|and|but|then|or|ok|right)\s+)(?:do|is|are|was) {_WHO}\b"
    r"|\b(?:isnt|isn't|arent|aren't) (?:it|that|they)\b"
)
_OTHERWISE = frozenset(  # what the same words would be taken for, that is another question
    "safe advise thing where unknowns incident sources".split()
    + ["which of", "what would change", "how long", "why not", "what if", "what kit", "help"]
    + ["explain number", "how much rope", "why"]
)


def topic_of(base: Base, text: str) -> Sign | None:
    """What a question asks of the trade at large; None where it asks nothing of the kind."""
    if not _ASKS.search(text.lower()):
        return None
    tokens = mended(tokenise(text), text, lexicon_of(base, index_of(base)))
    seen = signs_of(base, "topics").seen(tokens)
    return seen.sign if seen else None


def told(base: Base, topic: Sign) -> list[str]:
    """The rules that answer, the plainest first."""
    rules = [base.rule(str(name)) for name in topic.entry["rules"]]
    first, *others = (nearest.told(rule) for rule in rules if rule)
    return [f"By my rules: {first}", *(f"- {line}" for line in others), EACH]


def otherwise(topic: Sign, intent) -> bool:
    """Whether an intent heard in the same line would answer another question."""
    if intent.kind == "what if":
        return not topic.entry.get("supposed too")
    return intent.kind in _OTHERWISE
