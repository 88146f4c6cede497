"""The rule base: everything in rules/ read, checked and put in running order."""
from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass, field
from pathlib import Path

from advisor.facts.vocabulary import Vocabulary
from advisor.faults import Fault, Faults, Place
from advisor.knowledge.rule import references
from advisor.knowledge.strata import Cycle, calculation_order, strata

VERSION = "1"
POINTERS = {"step": ("after", "before", "instead of"), "hazard": ("controls",)}   # where an effect names other rules


@dataclass(frozen=True)
class Base:
    """A checked rule base. `strata`: [(name, rule indexes)] in running order; `worked`: calculations already worked (see engine.calculate)."""

    vocabulary: Vocabulary
    topics: dict
    concerns: tuple
    decisions: dict
    cautions: tuple
    last_word: str
    sources: dict
    rules: tuple
    strata: tuple
    figures: dict
    calculations: tuple
    calculation_order: tuple
    sha256: str
    out_of_use: dict = field(default_factory=dict)   # {"from": verdict, "stop": what is said of the item}
    worked: dict = field(init=False, default_factory=dict, compare=False, repr=False)

    def rule(self, identity):
        return next((r for r in self.rules if r.id == identity), None)


def find_folder(name: str) -> Path:
    """rules/ or cases/: inside the package when installed, beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "_data" / name, package.parent / name):
        if folder.is_dir():
            return folder
    raise Faults([Fault(Place(name), "this folder is missing; install the program again.")])


def files_of(folder: Path) -> list[Path]:
    """All YAML files below a folder, in a fixed order."""
    return sorted(p for p in folder.rglob("*.yaml") if p.is_file())


def fingerprint(folder: Path, paths) -> str:
    """SHA-256 over names and contents of the files, independent of where the folder lies."""
    total = hashlib.sha256()
    for path in paths:
        total.update(path.relative_to(folder).as_posix().encode() + b"\0" + path.read_bytes().replace(b"\r\n", b"\n") + b"\0")
    return total.hexdigest()


def read_base(folder: Path, sha256: str = "") -> Base:
    """Read and check a whole rule base; raises Faults with every fault of every file."""
    from advisor.load.calculations import read_calculations
    from advisor.load.decisions import read_decisions, read_sources
    from advisor.load.figures import read_figures
    from advisor.load.rules import read_rules
    from advisor.load.tree import read_document
    from advisor.load.vocabulary import read_entity

    documents, faults = {}, []
    for path in files_of(folder):
        try:
            documents[path.relative_to(folder).as_posix()] = read_document(path, os.path.relpath(path))
        except Faults as error:
            faults += error.faults
    entities = {}
    for name, document in documents.items():
        if name.startswith("vocabulary/"):
            entity, more = read_entity(document)
            faults += more
            if entity:
                entities[entity.name] = entity
    # An entity whose file is broken is still known by name, so that one fault does not bring others with it.
    known = {**{path.stem.replace("-", " "): None for path in files_of(folder / "vocabulary")}, **entities}
    decisions, more = read_decisions(documents.pop("decisions.yaml", None), folder, known)
    sources, even_more = read_sources(documents.pop("sources.yaml", None), folder)
    documents.pop("papers.yaml", None)   # lists for the papers of an export, read there
    faults += more + even_more
    if faults:
        raise Faults(faults)
    vocabulary, rules, figures, calculations = Vocabulary(entities), [], {}, []
    for name, document in documents.items():
        if name.startswith("figures/"):
            found, more = read_figures(document, sources)
            figures.update(found)
            faults += more
    for name, document in documents.items():
        folder_name = name.split("/")[0]
        if folder_name == "calculations":
            found, more = read_calculations(document, vocabulary, figures, sources)
            calculations += found
            faults += more
        elif folder_name not in ("vocabulary", "figures", "local"):
            found, more = read_rules(document, vocabulary, decisions["decisions"], decisions["concerns"], sources)
            rules += found
            faults += more
    faults += twice(rules)
    faults = faults or unknown_rules(rules)   # a rule that could not be read is not said to be missing as well
    if faults:
        raise Faults(faults)
    return assemble(vocabulary, decisions, sources, rules, sha256 or fingerprint(folder, files_of(folder)), figures, calculations)


def assemble(vocabulary, decisions, sources, rules, sha256, figures=None, calculations=()) -> Base:
    """Put checked parts in running order; raises Faults for derived facts that need each other."""
    try:
        order, calculation_places = strata(rules, calculations), calculation_order(rules, calculations)
    except Cycle as cycle:
        steps = set(zip(cycle.keys, cycle.keys[1:]))   # the rule to look at is one that makes a step of the circle
        place = next((r.place for r in rules if any((r.derives, key) in steps for _, key in references(r.condition))), Place("rules"))
        raise Faults([Fault(place, f"these derived facts need each other: {' needs '.join(cycle.keys)}; break the circle.")]) from None
    return Base(vocabulary, decisions.get("topics", {}), tuple(decisions["concerns"]), decisions["decisions"], tuple(decisions["cautions"]),
                decisions["last word"], sources, tuple(rules), tuple((n, tuple(i)) for n, i in order), figures or {}, tuple(calculations),
                calculation_places, sha256, decisions.get("out of use", {}))


def twice(rules):
    """Faults for rule ids used twice."""
    seen, faults = {}, []
    for rule in rules:
        if rule.id in seen:
            faults.append(Fault(rule.place, f"the rule id '{rule.id}' is used already at {seen[rule.id]}; choose another."))
        seen[rule.id] = rule.place
    return faults


def unknown_rules(rules):
    """Faults for steps and hazards that point at rules which do not exist."""
    from advisor.faults import did_you_mean

    known, faults = {r.id for r in rules}, []
    for rule in rules:
        for kind, details in rule.effects:
            for name in POINTERS.get(kind, ()):
                faults += [Fault(rule.place, f"'{name}' names the rule '{other}', which does not exist.{did_you_mean(other, known)}")
                           for other in details.get(name, ()) if other not in known]
    return faults
