"""What is known while one line is read: the case, what the line has said so far, and who it is
about.
"""

from __future__ import annotations

from copy import copy

from advisor.language.clauses import clauses
from advisor.language.index import index_of
from advisor.language.listed import one_by_one, side_by_side
from advisor.language.mend import lexicon_of, mended
from advisor.language.parts import Said, Unclear
from advisor.language.signs import signs_of
from advisor.language.tokens import stem, tokenise


class Scene:
    """names grows as the line names new things; subjects are the entities the last clause was
    about, subject the last of them; crowd: things named
    one after another of which nothing was said yet; recent the facts of this line; correcting:
    whether the clause puts something right;
    naming: whether the last clause only named things; contrasted: attributes of which a value was
    denied, as in 'spray, not drips'; strain: how much more its clauses hold than one clause does;
    parted: places in the line at which a clause holds another thing; otherwise: what the line only
    hints at; asking: the facts of a question, which are not told;
    supposing: whether what is read is only supposed; by_signs: places in the line of words that
    tell together what happened; hung: the key of what hangs on the things of the last clause.
    """

    def __init__(self, line: str, context):
        self.line, self.context, self.base = line, context, context.base
        self.vocabulary, self.index = context.base.vocabulary, index_of(context.base)
        self.take(line)
        self.names = {kind: set(ids) for kind, ids in context.names.items()}
        self.subjects: list = []
        self.crowd: list = []
        self.recent: list = []
        self.parts: list = []
        self.correcting, self.naming = False, False
        self.contrasted: set[str] = set()
        self.strain = 0.0
        self.parted: list[int] = []
        self.otherwise: list = []
        self.asking: list | None = None
        self.supposing = False
        self.by_signs: set[int] = set()
        self.hung = ""

    def take(self, line: str):
        """Read another line from here on, its words as they were meant."""
        tokens = tokenise(line)
        self.line = line
        if tokens:
            tokens = mended(tokens, line, lexicon_of(self.base, self.index))
        self.tokens = side_by_side(one_by_one(tokens, self.base, self.index), self.index)

    def fork(self) -> Scene:
        """A scene to try a reading in."""
        other = copy(self)
        other.names = {kind: set(ids) for kind, ids in self.names.items()}
        for name in ("tokens", "subjects", "crowd", "recent", "parts", "otherwise", "parted"):
            setattr(other, name, list(getattr(self, name)))
        other.contrasted = set(self.contrasted)
        return other

    def adopt(self, other: Scene):
        """Take over the reading that was tried in a fork."""
        vars(self).update(vars(other))

    @property
    def subject(self):
        return self.subjects[-1] if self.subjects else None

    @subject.setter
    def subject(self, identity):
        self.subjects = [identity] if identity else []

    def clauses(self):
        """The clauses of the line, in order."""
        return clauses(self)

    def words(self, start: int, end: int) -> str:
        """The speaker's own words between two tokens."""
        return self.line[self.tokens[start].start : self.tokens[end - 1].end] if start < end else ""

    def entity(self, kind):
        return self.vocabulary.entities[kind]

    def kind_of(self, identity: str) -> str:
        return self.vocabulary.split(identity)[0].name

    def ids(self, kind: str) -> list:
        """Entities of a kind that the case or this line names; single ones always exist."""
        return sorted(self.names.get(kind, ())) if self.entity(kind).many else [kind]

    def raw_of(self, identity: str, key: str):
        """What was last said of a fact, or None."""
        for said in reversed(self.recent):
            if (said.entity, said.key) == (identity, key):
                return said.raw
        fact = self.context.facts.get((identity, key))
        return None if fact is None else fact.raw if fact.raw is not None else fact.text

    def name_words(self, identity: str) -> set:
        """Stems of the user's own name for an entity."""
        return {stem(t.text) for t in tokenise(self.vocabulary.split(identity)[1])}

    def say(self, entity: str, key: str, raw, words: str, doubtful: bool = False):
        """Take a fact; said again with the same value it is not repeated."""
        if doubtful and isinstance(raw, str) and raw != "unknown" and not raw.endswith("?"):
            raw += "?"
        said = Said(entity, key, raw, isinstance(raw, str) and raw.endswith("?"), words)
        if self.asking is not None:
            self.asking += [said] if said not in self.asking and raw != "unknown" else []
            return
        if not any(s[:3] == said[:3] for s in self.recent):
            self.names.setdefault(self.kind_of(entity), set()).add(entity)
            self.recent.append(said)
            self.parts.append(said)

    def retract(self, entity: str, key: str) -> str:
        """Take back what this line said of a fact, now that it says something else too; returns
        the value.
        """
        said = next(s for s in reversed(self.recent) if (s.entity, s.key) == (entity, key))
        self.recent = [s for s in self.recent if (s.entity, s.key) != (entity, key)]
        self.parts = [p for p in self.parts if p[:2] != (entity, key)]
        self.unclear(said.words, [])
        return str(said.raw)

    def forget(self, entity: str, key: str):
        """Take back what this line said of a fact."""
        self.recent = [s for s in self.recent if (s.entity, s.key) != (entity, key)]
        self.parts = [p for p in self.parts if p[:2] != (entity, key)]

    def forget_unknown(self, entity: str, key: str):
        """Take back that a fact was only named in this line, now that it is told."""
        self.recent = [
            s for s in self.recent if (s.entity, s.key, s.raw) != (entity, key, "unknown")
        ]
        self.parts = [p for p in self.parts if p[:3] != (entity, key, "unknown")]

    def unclear(self, words: str, readings=()):
        """Say that words were not understood, with what could be typed instead."""
        if words.strip():
            self.parts.append(Unclear(words.strip(), tuple(dict.fromkeys(readings))[:3]))

    @property
    def incident_live(self) -> bool:
        """Whether the talk is about an incident."""
        return (
            any(k.startswith("incident.") for _, k in self.context.facts)
            or any(s.key.startswith("incident.") for s in self.recent)
            or bool(self.context.asked and self.context.asked[1].startswith("incident."))
        )

    @property
    def signs(self):
        """The signs of trouble in this line, or None. What answers lines that were read out speaks
        of how things stand.
        """
        if self.context.answering:
            return None
        return signs_of(self.base).seen(self.tokens, self.supposing)
