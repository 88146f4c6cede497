"""The lists and sentences that the papers take from the rules, and the scale they take from the
user.
"""

from __future__ import annotations

from advisor.faults import Fault, Faults, Place
from advisor.load.folder import find_folder
from advisor.load.papers import read_lists


def shipped_lists(base) -> dict:
    """The lists that come with the rules; raises Faults."""
    return read_lists(base, find_folder("rules") / "papers.yaml")


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
