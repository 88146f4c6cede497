"""Scenes from the worked cases: facts on which a rule is known to fire, for its own names."""

from __future__ import annotations

from advisor.audit.scene import Scene
from advisor.facts.world import KNOWN
from advisor.faults import Faults
from advisor.load.case import read_case
from advisor.load.folder import files_of, find_folder


class Worked:
    """The worked cases that come with the program, each run once when first asked for."""

    def __init__(self, advisor):
        self.advisor, self._runs = advisor, None

    def runs(self):
        """[(case, {rule index: entities for which it surely fires})]."""
        if self._runs is None:
            self._runs = []
            for path in files_of(find_folder("cases")):
                try:
                    case = read_case(path, self.advisor.base)
                except Faults:  # a case for another rule base
                    continue
                outcome, fired = self.advisor.run(case, [self.advisor.plain])[0], {}
                # A contradiction fires before what it speaks against is doubted.
                for run in (outcome, outcome.against):
                    for item in run.instances if run else ():
                        if item.truth == 2:
                            fired.setdefault(item.rule, item.bound)
                self._runs.append((case, fired))
        return self._runs

    def scenes(self, rule, bound):
        """The facts of each case in which a rule fires, its entities called as in the rule."""
        index = self.advisor.base.rules.index(rule)
        for case, fired in self.runs():
            if index in fired and rule.about in case.topics:
                yield renamed(
                    self.advisor.base.vocabulary, case, dict(zip(fired[index], bound.values()))
                )

    def others(self, rule):
        """The facts of each case about the same in which a rule does not fire."""
        index = self.advisor.base.rules.index(rule)
        for case, fired in self.runs():
            if index not in fired and rule.about in case.topics:
                yield renamed(self.advisor.base.vocabulary, case, {})


def renamed(vocabulary, case, names) -> Scene:
    """A case as a scene with some entities renamed; what was said in ranges is left out."""
    scene = Scene({e.name: () if e.many else (e.name,) for e in vocabulary.entities.values()})
    for kind, ids in case.names.items():
        if vocabulary.entities[kind].many:
            scene.kinds[kind] = tuple(names.get(i, i) for i in sorted(ids))
    for (entity, key), fact in case.facts.items():
        attribute, cell = vocabulary.attribute(key), (names.get(entity, entity), key)
        if attribute.type == "named" and len(fact.value) == 1:
            scene.named[cell] = names.get(fact.value[0], fact.value[0])
        elif fact.state == KNOWN and (
            attribute.is_choice or attribute.is_number and fact.value[0] == fact.value[1]
        ):
            scene.values[cell] = (KNOWN, fact.value)
    return scene
