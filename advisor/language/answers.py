"""Bare answers to the question just asked: 'yes', 'nope', 'no idea', 'probably', 'I think so'."""

from __future__ import annotations

from advisor.language.words import NO, NUMBER_WORDS, UNKNOWN_ANSWERS, YES

_POLITE = frozenset(
    "um uh er erm oh ah well hmm please thanks thank mate sorry i it is that they we are does do"
    " has have there would say to be honest tbh afraid am just all of yet really at the moment now"
    " course".split()
)
_DOUBTFUL_YES = (
    "think so",
    "should have been",
    "should been",
    "should have",
    "ought to be",
    "think we did",
    "think we have",
    "think it is",
    "think they do",
    "think they have",
    "think it does",
    "think there is",
    "think did",
    "think have",
    "should",
    "should be",
    "should do",
    "probably",
    "prob",
    "probably yes",
    "hopefully",
    "hope so",
    "reckon so",
    "believe so",
    "suppose so",
    "guess so",
    "likely",
    "most likely",
    "presumably",
    "seems so",
    "looks like it",
    "kind of",
    "sort of",
    "more or less",
    "yes think",
    "yes probably",
    "pretty sure",
    "fairly sure",
    "yes think so",
    "mostly",
    "nearly",
    "almost",
    "would think so",
    "as far as know",
    "look like",
    "seem to",
    "apparently",
    "apparently so",
    "yeah probably",
    "might",
    "may",
    "possibly",
)
_DOUBTFUL_NO = (
    "not as such",
    "not exactly",
    "not quite",
    "not entirely",
    "not fully",
    "not all",
    "not everyone",
    "not properly",
    "not strictly",
    "not formally",
    "only partly",
    "partly",
    "some",
    "sort of not",
    "think not",
    "not think so",
    "not think",
    "probably not",
    "hope not",
    "not not think",
    "doubt",
    "not really",
    "not sure not",
    "hopefully not",
    "suppose not",
    "reckon not",
    "guess not",
    "not likely",
    "unlikely",
    "not as far as know",
    "not that know",
    "no think",
    "no not think",
    "not much",
    "should not",
)
_FIRM_NO = (
    "not",
    "not one",
    "not any",
    "none",
    "not yet",
    "never",
    "nothing",
    "not today",
    "nobody",
    "no one",
    "no not",
    "no not yet",
    "can not",
    "not got one",
    "not got any",
    "no chance",
    "no way",
    "haven not",
    "not checked",
)
_FOUND_OUT = frozenset(
    "measured measure checked check counted count weighed weigh asked ask looked look tested test"
    " tried seen been timed noticed read plumbed".split()
)
_UNKNOWN = (
    "maybe",
    "perhaps",
    "could be",
    "depends",
    "hard to say",
    "50 50",
    "who knows",
    "might",
    "either",
)


def read_answer(scene, tokens) -> bool:
    """Take a line that is nothing but an answer; False if it is more than that, or nothing was
    asked.
    """
    asked = scene.context.asked
    if (
        not asked
        or len(tokens) > 12
        or any(t.is_number or t.text in NUMBER_WORDS and t.text != "one" for t in tokens)
    ):
        return False
    words = [t.text for t in tokens if t.is_word]
    text = " ".join(w for w in words if w not in _POLITE)
    full = " ".join(words)
    attribute = scene.vocabulary.attribute(asked[1])
    value = (
        _unknown(text, full, scene.line)
        or (None if attribute.type == "yes/no" else _not_done(words))
        or (_yes_no(text, words) if attribute.type == "yes/no" else None)
    )
    if (
        value is None
        and attribute.unit == "count"
        and attribute.low == 0
        and text in ("none", "zero", "nil", "nobody", "no", "no one", "not any", "not one", "nope")
    ):
        value = "0"
    if value is None and attribute.type == "choice":
        named = [
            v
            for v, phrases in attribute.value_phrases.items()
            if text and text in (v, *(str(p).lower() for p in phrases))
        ]
        value = named[0] if len(named) == 1 else None
    if value is None:
        return _odd(scene, text, attribute)
    scene.say(asked[0], asked[1], value, scene.line.strip())
    return True


def _unknown(text, full, line):
    if (
        line.strip() == "?"
        or any(full == p or text == p for p in UNKNOWN_ANSWERS)
        or text in _UNKNOWN
        or full in _UNKNOWN
    ):
        return "unknown"
    return (
        "unknown"
        if any(
            full.startswith(p) and len(full.split()) - len(p.split()) <= 1
            for p in UNKNOWN_ANSWERS
            if p not in ("unsure", "?")
        )
        else None
    )


def _not_done(words):
    """'haven't measured it': nothing is known of a figure nobody took."""
    rest = [
        w
        for w in words
        if w not in _POLITE
        and w not in ("have", "did", "had", "got", "round", "to", "properly", "really", "actually")
    ]
    return (
        "unknown"
        if len(rest) == 2 and rest[0] in ("not", "never") and rest[1] in _FOUND_OUT
        else None
    )


def _yes_no(text, words):
    parts = text.split()
    if (
        parts
        and all(p in YES for p in parts)
        or not text
        and words
        and words[0] in ("it", "they", "we", "there")
        and words[-1] in ("is", "are", "does", "do", "has", "have")
    ):
        return "yes"
    if (
        parts
        and all(p in NO for p in parts)
        or text in _FIRM_NO
        or (parts[:1] and parts[0] in NO and " ".join(parts[1:]) in _FIRM_NO)
    ):
        return "no"
    if text in _DOUBTFUL_NO or (parts[:1] == ["no"] and " ".join(parts[1:]) in _DOUBTFUL_NO):
        return "no?"
    return "yes?" if text in _DOUBTFUL_YES else None


def _odd(scene, text, attribute) -> bool:
    """'yes' to a question that is not yes or no; 'both' where both is no answer."""
    if text == "both" and attribute.is_choice and "both" in attribute.values:
        return False
    if (
        text
        and all(p in YES | NO for p in text.split())
        or text in ("both", "either", "neither", "all")
    ):
        if text in ("both", "either", "neither", "all") and any(
            text in v.split() for v in attribute.values
        ):
            return False
        scene.unclear(
            scene.line,
            [f"{scene.context.asked[0]} {attribute.name}: {v}" for v in attribute.values],
        )
        return True
    return False
