"""A case file: found where it is named, read, and held to its form."""

from __future__ import annotations

import os
import re
from pathlib import Path

from advisor.bounded import read_input
from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.load.folder import files_of, find_folder
from advisor.load.schema import form_faults
from advisor.load.tree import MAX_BYTES, Data, Document, parse_document, read_document

KEYS = {
    *("case", "teaches", "about", "based on", "without", "given", "expect"),
    *("retold from", "twin of"),
}
# What may mean a case by a word of its name; anything else is a path.
WORD = re.compile(r"[\w -]{1,80}")


def document_of(path: str | Path | Document) -> Document:
    """The document in a file or in standard input ('-'); one that is read already, as it is.
    Raises Faults.
    """
    if isinstance(path, Document):
        return path
    return (
        parse_document(read_input(MAX_BYTES), "standard input")
        if str(path) == "-"
        else _named(path)
    )


def _named(path: str | Path) -> Document:
    """The document of a path, or of the case that comes with the program that a word means."""
    found = shipped(path)
    word = WORD.fullmatch(str(path)) and not os.path.exists(found)
    return read_document(case_called(str(path)) if word else found, str(path))


def shipped(path: str | Path) -> str | Path:
    """A path as given; where no such file is here and it begins with cases/, the case of that name
    that comes with the program.
    """
    if not os.path.exists(path) and str(path).replace("\\", "/").startswith("cases/"):
        within = find_folder("cases").parent / path
        return within if within.exists() else path
    return path


def case_called(word: str) -> Path:
    """The case that comes with the program whose name holds a word; raises Faults where none or
    several do.
    """
    folder = find_folder("cases")
    files = {p.relative_to(folder.parent).as_posix(): p for p in files_of(folder)}
    near = [name for name in files if word.lower().replace(" ", "-") in name.lower()]
    exact = [name for name in near if name.rpartition("/")[2] == f"{word.lower()}.yaml"]
    if len(exact or near) == 1:
        return files[(exact or near)[0]]
    names = [name.rpartition("/")[2].removesuffix(".yaml") for name in files]
    found = (
        f"several cases are called so: {', '.join(near[:6])}{' …' if near[6:] else ''}"
        if near
        else f"no such file, and no case is called so.{did_you_mean(word, names)}"
    )
    raise Faults([Fault(Place(word), f"{found.rstrip('.')}. 'pitch-advisor cases' lists them.")])


def check_form(document: Document) -> None:
    """Raise Faults for all in which a document is not of a case's form."""
    faults = [] if _plainly_good(document.data) else form_faults(document, "case")
    if faults:
        raise Faults(faults)


def _plainly_good(data: Data) -> bool:
    """True for the everyday shape, which the schema would accept; anything else is left to the
    schema and its messages.
    """
    return (
        isinstance(data, dict)
        and set(data) <= KEYS
        and _plainly_given(data)
        and data.get("about", ["plan"]) in (["plan"], ["incident"], ["kit"])
        and _plain_expectation(data.get("expect", {}))
        and all(
            isinstance(data.get(k, ""), str) and len(data.get(k, "")) <= 200
            for k in ("case", "teaches", "retold from", "twin of")
        )
    )


def _plain_expectation(expect: Data) -> bool:
    lists, maps, standings = (
        ("stops", "first", "contradictions", "requires", "warns", "refers", "steps", "response"),
        ("decisions", "items"),
        ("firm", "provisional", "stop", "refer"),
    )
    return isinstance(expect, dict) and all(
        (
            isinstance(value, list) and all(isinstance(v, str) for v in value)
            if key in lists
            else isinstance(value, dict)
            and (
                all(v in standings for v in value.values())
                if key == "standings"
                else key in maps and all(isinstance(v, (str, type(None))) for v in value.values())
            )
        )
        for key, value in expect.items()
    )


def _plainly_given(data: Data) -> bool:
    given, bases = data.get("given"), data.get("based on")
    return (
        (given is not None or bases is not None)
        and (given is None or isinstance(given, dict) and bool(given))
        and all(isinstance(v, dict) for v in (given or {}).values())
        and (bases is None or isinstance(bases, str) and bool(bases) or _words(bases))
        and _words(data.get("without", ["nothing"]))
    )


def _words(value: Data) -> bool:
    return (
        isinstance(value, list)
        and 0 < len(value) < 9
        and all(isinstance(word, str) and word for word in value)
    )
