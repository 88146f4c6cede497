"""What every check of a rule base needs: the base, its space of facts, a search, the compiled
engine and where things stand in the files.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import NamedTuple

from advisor.audit.effects import same_effect
from advisor.audit.goals import SURE, fires
from advisor.audit.scene import smallest, truth_in
from advisor.audit.search import search
from advisor.audit.space import Space
from advisor.engine.plain import PlainEngine
from advisor.faults import Place
from advisor.load.base import read_base
from advisor.load.folder import files_of, find_folder
from advisor.load.tree import read_document


class Finding(NamedTuple):
    """One thing to mend: its kind, the rule (or attribute, source, …), where it stands, what is
    wrong, the smallest facts that show it.
    """

    kind: str
    rule: str
    place: str
    message: str
    facts: tuple


class Bench:
    """A rule base laid out for inspection; `undecided` gathers what the search and the engine
    differ on.
    """

    def __init__(self, folder=None, base=None):
        self.folder = Path(folder) if folder else find_folder("rules")
        self.base = base or read_base(self.folder)
        self.space = Space(self.base)
        self.plain = PlainEngine(self.base.rules, self.base.strata)
        self.undecided = []
        self._documents, self._same = None, {}

    def bound(self, rule) -> dict:
        """An entity for each variable of a rule: {'a': 'anchor a'}."""
        return {variable: f"{kind} {variable}" for variable, kind in rule.variables}

    def scene(self, goals, names=()):
        """A scene that meets goals, None where there is none."""
        return search(self.space, list(goals), tuple(names))

    def firing(self, rule, *more, names=()):
        """A scene in which a rule surely fires and more goals are met."""
        bound = self.bound(rule)
        return self.scene([fires(rule, bound, SURE), *more], (*bound.values(), *names))

    def truth(self, rule, scene, bound=None) -> int:
        """The truth of a rule's condition in a scene."""
        return truth_in(self.space, self.plain, scene, rule.condition, bound or self.bound(rule))

    def facts(self, scene, shows=None) -> tuple:
        """The lines of a scene, first made as small as `shows(scene)` allows."""
        return tuple((smallest(scene, shows) if shows else scene).lines(self.space))

    def holds(self, *rules):
        """A test whether all these rules surely fire in a scene."""
        return lambda scene: all(self._safe_truth(rule, scene) == 2 for rule in rules)

    def _safe_truth(self, rule, scene):
        there = {e for ids in scene.kinds.values() for e in ids}
        return self.truth(rule, scene) if there >= set(self.bound(rule).values()) else 0

    def same_effect(self, rule, effect) -> list:
        """[(rule, effect)] that give the same effect, looked up once."""
        key = (rule.id, rule.effects.index(effect))
        if key not in self._same:
            self._same[key] = same_effect(self.base, rule, effect)
        return self._same[key]

    # Where things stand.

    def documents(self) -> dict:
        """{path below the folder: Document}, read once more for the places of what is
        not a rule.
        """
        if self._documents is None:
            self._documents = {
                p.relative_to(self.folder).as_posix(): read_document(p, os.path.relpath(p))
                for p in files_of(self.folder)
            }
        return self._documents

    def place_of(self, top, name, path_of=lambda top, name: (top, name)) -> str:
        """'file:line' of a key below a top-level entry, in whichever file has it."""
        for document in self.documents().values():
            if isinstance(document.data, dict) and (
                name in document.data if top is None else name in (document.data.get(top) or ())
            ):
                return at(document.key_place((name,) if top is None else path_of(top, name)))
        return str(self.folder)

    def place_of_attribute(self, attribute) -> str:
        for document in self.documents().values():
            if isinstance(document.data, dict) and document.data.get("entity") == attribute.entity:
                return at(document.key_place(("attributes", attribute.name)))
        return str(self.folder)


def at(place: Place) -> str:
    """'file:line'."""
    return f"{place.file}:{place.line}"


def finding(kind, rule, message, facts=()) -> Finding:
    """A finding about a rule."""
    return Finding(kind, rule.id, at(rule.place), message, tuple(facts))
