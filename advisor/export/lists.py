"""The lists and sentences of rules/papers.yaml, checked against the vocabulary and the sources."""

from __future__ import annotations

import os

from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.load.base import find_folder
from advisor.load.schema import check
from advisor.load.tree import read_document


def read_lists(base, path=None) -> dict:
    """The checked data; raises Faults."""
    document = (
        read_document(path, os.path.relpath(path))
        if path
        else read_document(find_folder("rules") / "papers.yaml", "rules/papers.yaml")
    )
    faults = check(document, "papers")
    if faults:
        raise Faults(faults)
    incidents = base.vocabulary.attribute("incident.what").values
    for number, name in enumerate(document.data["main incidents"]):
        if name not in incidents:
            faults.append(
                Fault(
                    document.place(["main incidents", number]),
                    f"'{name}' is not a kind of incident.{did_you_mean(name, incidents)}",
                )
            )
    for number, name in enumerate(document.data["record source"]):
        if name not in base.sources:
            faults.append(
                Fault(
                    document.place(["record source", number]),
                    f"'{name}' is not in rules/sources.yaml.{did_you_mean(name, base.sources)}",
                )
            )
    if faults:
        raise Faults(faults)
    return document.data


def read_scale(text: str, lists) -> tuple:
    """The words of a rating scale: '' for none, 'plain' for low, medium, high, else words parted
    by commas. Raises Faults.
    """
    if not text:
        return ()
    words = (
        tuple(lists["plain scale"])
        if text == "plain"
        else tuple(word.strip() for word in text.split(","))
    )
    if not (
        2 <= len(words) <= 7
        and all(w and len(w) <= 20 and w.isprintable() for w in words)
        and len(set(words)) == len(words)
    ):
        raise Faults(
            [
                Fault(
                    Place("--scale"),
                    "a scale is 'plain', or two to seven different words of at most 20 letters"
                    ' parted by commas, such as "low, medium, high".',
                )
            ]
        )
    return words
