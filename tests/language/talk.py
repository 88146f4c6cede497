"""The corpus of talk: reading it, understanding it, and counting what was right, missed and wrong.

A line is 'what is typed => parts', parts being facts 'ENTITY.ATTRIBUTE=VALUE' ('unknown' where
the thing is only named), intents '!why',
'!what if: FACT & FACT' for a hypothetical, '~' for words not understood, '@' for what is outside
the job; '=>' with nothing: no fact. A '?' before a fact or a '~': it may be heard, and need not be.
"""

from __future__ import annotations

from difflib import SequenceMatcher
from functools import lru_cache
from pathlib import Path

import yaml

from advisor.advise import Advisor
from advisor.chat.session import Session
from advisor.chat.turn import context_of, take
from advisor.facts.values import read_fact
from advisor.faults import Place
from advisor.language.understand import Context, Intent, Outside, Said, Unclear, understand

HERE = Path(__file__).parent
FIXTURES = {
    "nothing": {},
    "two bolts": {
        "anchor left bolt": {"kind": "resin bolt", "side": "left"},
        "anchor right bolt": {"kind": "expansion bolt", "side": "right"},
        "pitch": {"depth": "18 m", "water": "drips"},
    },
    "many anchors": {
        "anchor left hanger": {"kind": "expansion bolt", "side": "left"},
        "anchor right hanger": {"kind": "expansion bolt", "side": "right"},
        "anchor flake": {"kind": "spike", "side": "right"},
        "anchor thread": {"kind": "natural thread"},
    },
    "ladder": {"ladder main": {"length": "15 m"}, "pitch": {"depth": "12 m"}},
    "two ladders": {"ladder old": {"length": "10 m"}, "ladder red": {"length": "8 m"}},
    "stuck": {"incident": {"what": "leg trapped in the ladder"}, "pitch": {"depth": "14 m"}},
    "group": {"group": {"size": "9", "novices": "7"}, "pitch": {"depth": "18 m"}},
    "kit": {"kit rope": {"type": "rope"}, "kit harness": {"type": "harness"}},
}


@lru_cache(maxsize=1)
def the_advisor():
    return Advisor()


def the_base():
    return the_advisor().base


def names_of(base, given):
    names = {}
    for entity in given:
        names.setdefault(base.vocabulary.split(entity)[0].name, set()).add(entity)
    return names


@lru_cache(maxsize=100)
def talked(lines):
    """A Context after some lines were typed."""
    session = Session(the_advisor())
    for line in lines:
        take(session, line, asking=False)
    return context_of(session)


def context(fixture="nothing", asked=None, last=None, before=()):
    """A Context from a fixture's name, the fact asked for and the fact last spoken of, both as
    'ENTITY.ATTRIBUTE'; or from lines typed before.
    """
    if before:
        return talked(tuple(before))
    base, given = the_base(), FIXTURES[fixture]
    names, facts = names_of(base, given), {}
    for entity, values in given.items():
        for name, raw in values.items():
            key = f"{base.vocabulary.split(entity)[0].name}.{name}"
            facts[entity, key] = read_fact(
                base.vocabulary.attribute(key), entity, raw, names, "test", Place("test")
            )[0]
    asked, last = (split(base, t) if t else None for t in (asked, last))
    return Context(base, names, facts, asked, *(last or (None, None)))


def split(base, text):
    entity, _, name = text.rpartition(".")
    return entity.strip(), f"{base.vocabulary.split(entity.strip())[0].name}.{name.strip()}"


def value_of(base, entity, key, raw, names):
    """What a raw value means: (state, value), or the words themselves for 'unknown' and
    free text.
    """
    if raw == "unknown":
        return "unknown"
    fact, message = read_fact(
        base.vocabulary.attribute(key), entity, raw, names, "test", Place("test")
    )
    assert not message, f"{entity} {key} = {raw}: {message}"
    return fact.state, fact.value


def alike(one, other):
    """Whether two values are the same; of free text, a place, only letters may differ."""
    texts = [v[1] for v in (one, other) if isinstance(v, tuple) and isinstance(v[1], str)]
    if len(texts) == 2:
        return SequenceMatcher(None, *(t.lower() for t in texts)).ratio() > 0.8
    return one == other


def wanted_parts(base, text):
    """(facts, intents, supposed facts, unclear?, outside?) of the right side of a line."""
    facts, intents, supposed, unclear, outside = [], [], [], False, False
    for part in (p.strip() for p in text.split(";")):
        if part == "?~":
            continue
        if part.startswith("!"):
            kind, _, rest = part[1:].partition(":")
            intents.append(kind.strip())
            supposed += [p.strip() for p in rest.split("&") if p.strip()]
        elif part == "~":
            unclear = True
        elif part == "@":
            outside = True
        elif part:
            facts.append(part)
    return facts, intents, supposed, unclear, outside


def pairs(base, texts, names):
    result = {}
    for text in texts:
        left, _, raw = text.lstrip("?").partition("=")
        entity, key = split(base, left)
        raw = [r.strip() for r in raw.split("|")] if "|" in raw else raw.strip()
        result[entity, key] = raw
        names.setdefault(base.vocabulary.split(entity)[0].name, set()).add(entity)
    return {k: value_of(base, *k, raw, names) for k, raw in result.items()}


class Outcome:
    """How one line came out."""

    def __init__(self, line, settings):
        base = the_base()
        typed, _, right = line.partition("=>")
        self.typed, self.context = typed.strip(), context(**settings)
        self.heard = understand(self.typed, self.context)
        facts, self.intents, supposed, self.unclear, self.outside = wanted_parts(base, right)
        names = {k: set(v) for k, v in self.context.names.items()}
        said = [p for p in self.heard.parts if isinstance(p, Said)]
        imagined = [
            a
            for p in self.heard.parts
            if isinstance(p, Intent)
            for a in p.arguments
            if isinstance(a, Said)
        ]
        for part in said + imagined:
            names.setdefault(base.vocabulary.split(part.entity)[0].name, set()).add(part.entity)
        may = [[f for f in told if f.startswith("?")] for told in (facts, supposed)]
        facts, supposed = ([f for f in told if f[0] != "?"] for told in (facts, supposed))
        self.wanted, self.may = self._both(facts, supposed, names), self._both(*may, names)
        self.got = {
            **{(p.entity, p.key): value_of(base, p.entity, p.key, p.raw, names) for p in said},
            **{
                ((p.entity, p.key), "supposed"): value_of(base, p.entity, p.key, p.raw, names)
                for p in imagined
            },
        }
        self.right = [k for k, v in self.wanted.items() if alike(self.got.get(k), v)]
        self.wrong = [
            f"{k}: {v}"
            for k, v in self.got.items()
            if not alike(self.wanted.get(k), v) and not alike(self.may.get(k), v) and v != "unknown"
        ]
        self.missed = [k for k in self.wanted if k not in self.right]
        self.intents_got = [p.kind for p in self.heard.parts if isinstance(p, Intent)]
        self.intents_right = self.intents_got == self.intents
        has_unclear, has_outside = (
            any(isinstance(p, kind) for p in self.heard.parts) for kind in (Unclear, Outside)
        )
        self.marks_right = (has_unclear or not self.unclear) and has_outside == self.outside

    def _both(self, facts, supposed, names):
        base = the_base()
        return {
            **pairs(base, facts, names),
            **{(k, "supposed"): v for k, v in pairs(base, supposed, names).items()},
        }

    @property
    def fully(self):
        """Whether everything is as the line means it."""
        return not self.missed and not self.wrong and self.intents_right and self.marks_right


def lines_of(path):
    """(settings, line) of every utterance of a file."""
    for group in yaml.safe_load(path.read_text("utf-8")):
        settings = {k: group[k] for k in ("fixture", "asked", "last", "before") if k in group}
        for line in group["talk"]:
            yield settings, line


def corpus():
    """(kind, settings, line) of every utterance."""
    for path in sorted((HERE / "corpus").glob("*.yaml")):
        for settings, line in lines_of(path):
            yield path.stem, settings, line


def outside():
    """(kind, settings, line) of what was typed by hands that had not seen the program's words."""
    for path in sorted(HERE.glob("outside*.yaml")):
        for settings, line in lines_of(path):
            yield path.stem, settings, line
