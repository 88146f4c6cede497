"""The rule base: everything in rules/ read, checked and put in running order."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from advisor.facts.vocabulary import Entity, Vocabulary
from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.kept import fingerprint
from advisor.load.calculations import read_calculations
from advisor.load.decisions import read_decisions, read_sources
from advisor.load.figures import read_figures
from advisor.load.folder import files_of, passed_over
from advisor.load.hearing import read_hearing
from advisor.load.layout import read_layout
from advisor.load.local import read_local
from advisor.load.moments import without_moment
from advisor.load.names import unknown_names
from advisor.load.new_plan import FILE as NEW_PLAN
from advisor.load.new_plan import read_new_plan
from advisor.load.order import ordered, unknown_rules
from advisor.load.papers import read_lists
from advisor.load.phrases import read_phrases
from advisor.load.records import FILE as RECORDS
from advisor.load.records import read_records
from advisor.load.replies import read_replies
from advisor.load.rules import read_rules, twice
from advisor.load.tree import Document, read_document
from advisor.load.vocabulary import loose_links, read_entity, read_more, unserved
from advisor.model.base import Base
from advisor.model.calculation import Calculation, Figure
from advisor.model.names import INCIDENT_KIND
from advisor.model.rule import Rule


def read_base(folder: Path, sha256: str = "") -> Base:
    """Read and check a whole rule base; raises Faults with every fault of every file."""
    documents, faults = _documents(folder)
    faults += passed_over(folder)
    spoken = [d for name, d in documents.items() if name.startswith("vocabulary/")]
    entities, more = _entities(folder, documents)
    # An entity whose file is broken is still known by name, so that one fault does not bring others
    # with it.
    known = {
        **{path.stem.replace("-", " "): None for path in files_of(folder / "vocabulary")},
        **entities,
    }
    choices = documents.pop("decisions.yaml", None)
    decisions, even_more = read_decisions(choices, folder, known)
    screen, common = documents.pop("screen.yaml", None), documents.pop("common.yaml", None)
    hearing, heard_faults = read_hearing(_taken(documents, "hearing/"))
    sources, yet_more = read_sources(documents.pop("sources.yaml", None), folder)
    _raise(faults + more + even_more + yet_more + heard_faults)
    vocabulary = Vocabulary(entities)
    _raise(without_moment(spoken, vocabulary.by_key, tuple(decisions.get("eyes", ()))))
    served = {*decisions.get("topics", ()), *decisions["decisions"], "go"}
    _raise([fault for document in spoken for fault in unserved(document, served)])
    figures, calculations, rules, faults = _topics(documents, vocabulary, decisions, sources)
    first = decisions.get("told first", ())
    _raise(faults + twice(rules))
    _raise(
        unknown_rules(rules) + unknown_topics(choices, first, rules)
    )  # a rule that could not be read is not said to be missing as well
    rules.sort(
        key=lambda rule: first.index(rule.topic) if rule.topic in first else len(first)
    )  # what stands first is told first
    base = assemble(
        vocabulary,
        decisions,
        sources,
        rules,
        sha256 or fingerprint(folder, files_of(folder)),
        figures,
        calculations,
    )
    layout, faults = read_layout(screen, common, base)
    _raise(faults + _besides(folder, base))
    return replace(base, screen=layout, hearing=hearing)


def _besides(folder: Path, base: Base) -> list[Fault]:
    """Faults of what is only looked at when it is asked for: the lists for papers, examples of
    local guidance, the names that the program itself knows.
    """
    papers, faults = folder / "papers.yaml", list[Fault]()
    readers: list[Callable[[], object]] = (
        [lambda: read_lists(base, papers)]
        if papers.exists() or base.vocabulary.attribute(INCIDENT_KIND.key)
        else []
    )
    if (folder / NEW_PLAN).exists():
        readers.append(lambda: read_new_plan(base.vocabulary, folder))
    if (folder / RECORDS).exists():
        readers.append(lambda: read_records(base.vocabulary, folder, base.sources))
    for read in readers + [
        lambda path=path: read_local(os.path.relpath(path), base)
        for path in files_of(folder)
        if path.parent.relative_to(folder).as_posix() == "local"
    ]:
        try:
            read()
        except Faults as error:
            faults += error.faults
    return faults + (unknown_names(folder, base) if papers.exists() else [])


def _raise(faults: list[Fault]) -> None:
    if faults:
        raise Faults(faults)


def _documents(folder: Path) -> tuple[dict[str, Document], list[Fault]]:
    """({path within the folder: Document}, faults)."""
    documents, faults = {}, []
    for path in files_of(folder):
        try:
            documents[path.relative_to(folder).as_posix()] = read_document(
                path, os.path.relpath(path)
            )
        except Faults as error:
            faults += error.faults
    for name in (
        "papers.yaml",
        "pictures.yaml",
        NEW_PLAN,
        RECORDS,
    ):  # read where they are asked for
        documents.pop(name, None)
    return documents, faults


def _entities(
    folder: Path, documents: dict[str, Document]
) -> tuple[dict[str, Entity], list[Fault]]:
    entities, faults, later = {}, [], []
    said, read = _taken(documents, "phrases/"), _taken(documents, "vocabulary/")
    replied = _taken(documents, "replies/")
    for document in read:
        if isinstance(document.data, dict) and "more of" in document.data:
            later.append(document)
            continue
        entity, more = read_entity(document)
        faults += more
        if entity:
            entities[entity.name] = entity
    for document in later if not faults else ():
        faults += read_more(document, entities)
    for document in said if not faults else ():
        faults += read_phrases(document, entities)
    for document in replied if not faults else ():
        faults += read_replies(document, entities)
    for document in read if not faults else ():
        faults += loose_links(document, Vocabulary(entities))
    return entities, faults


def _taken(documents: dict[str, Document], folder: str) -> list[Document]:
    """The documents of one folder, taken out of all."""
    return [documents.pop(name) for name in list(documents) if name.startswith(folder)]


def _topics(
    documents: dict[str, Document],
    vocabulary: Vocabulary,
    decisions: dict[str, Any],
    sources: dict[str, Any],
) -> tuple[dict[str, Figure], list[Calculation], list[Rule], list[Fault]]:
    """(figures, calculations, rules, faults) of all the other files; local guidance is read where
    it is asked for.
    """
    figures: dict[str, Figure] = {}
    calculations: list[Calculation] = []
    rules: list[Rule] = []
    faults: list[Fault] = []
    for name in sorted(
        documents, key=lambda name: not name.startswith("figures/")
    ):  # calculations name figures
        kind, document = name.split("/")[0], documents[name]
        if kind == "figures":
            named, more = read_figures(document, sources)
            figures.update(named)
        elif kind == "calculations":
            worked, more = read_calculations(document, vocabulary, figures, sources)
            calculations += worked
        elif kind != "local":
            ruled, more = read_rules(
                document, vocabulary, decisions["decisions"], decisions["concerns"], sources
            )
            rules += ruled
        else:
            continue
        faults += more
    return figures, calculations, rules, faults


def assemble(
    vocabulary: Vocabulary,
    decisions: dict[str, Any],
    sources: dict[str, Any],
    rules: Sequence[Rule],
    sha256: str,
    figures: dict[str, Figure] | None = None,
    calculations: Sequence[Calculation] = (),
) -> Base:
    """Put checked parts in running order; raises Faults for derived facts that need each other."""
    order, calculation_places = ordered(rules, calculations)
    return Base(
        vocabulary,
        decisions.get("topics", {}),
        tuple(decisions["concerns"]),
        decisions["decisions"],
        tuple(decisions["cautions"]),
        decisions["last word"],
        sources,
        tuple(rules),
        order,
        figures or {},
        tuple(calculations),
        calculation_places,
        sha256,
        decisions.get("out of use", {}),
        decisions.get("a plan names", {}),
        tuple(decisions.get("eyes", ())),
        decisions.get("told together", {}),
        tuple(decisions.get("told first", ())),
    )


def unknown_topics(
    document: Document | None, first: Sequence[str], rules: Sequence[Rule]
) -> list[Fault]:
    """Faults for topics to be told first that no rule file has."""
    topics = {rule.topic for rule in rules}
    return [
        Fault(
            document.place(("told first", n)) if document else Place("rules"),
            f"no rule file has the topic '{topic}'.{did_you_mean(topic, topics)}",
        )
        for n, topic in enumerate(first)
        if topic not in topics
    ]
