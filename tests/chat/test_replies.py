"""Replies typed by outside hands to the questions of a talk: what each was meant to say is taken,
or the question is kept open; never is something else taken.
"""

import pytest
from depth import sampled
from replies_typed import HERE, grade, outcome, read

FILES = sorted((HERE / "replies").glob("*.yaml"))
LEAST = 0.85  # of a file's replies, taken just as they were meant


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_reply_is_taken_as_it_was_meant_or_kept_open(path, advisor):
    typed = sampled(read(path), 40, None)
    grades: dict[str, list[str]] = {"right": [], "careful": [], "wrong": []}
    for one in typed:
        got = outcome(advisor, one)
        grades[grade(one.expected, got)].append(f"{one.text!r}: {got}, meant {one.expected}")
    told = "\n".join(grades["careful"])
    assert not grades["wrong"], "\n".join(grades["wrong"])
    assert len(grades["right"]) >= LEAST * len(typed), told


@pytest.mark.parametrize(
    ("expected", "got", "of"),
    [
        ("95 kg", "95 kg", "right"),
        ("95 kg", "59 kg", "wrong"),
        ("floor", "floor?", "careful"),
        ("floor?", "floor", "wrong"),
        ("floor", "open", "careful"),
        ("floor", "floor; ladder main length: 5 m", "wrong"),
        ("yes 1 2; no 3", "yes 1 2; left 3", "right"),
        ("yes 1 2; left 3", "yes 1 2 3", "wrong"),
        ("yes 1 2 3", "yes 1 3; left 2", "careful"),
        ("yes 1", "no 1", "wrong"),
    ],
)
def test_the_grade_tells_what_is_wrong_from_what_is_only_careful(expected, got, of):
    assert grade(expected, got) == of
