"""A minimal rule base that tests build theirs from: a pitch, anchors, two decisions and one
source. Invented throughout.
"""

from __future__ import annotations

from pathlib import Path

PITCH = """entity: pitch
many: no
help: The drop itself.
attributes:
  depth:
    type: number
    unit: m
    range: [0, 30 m]
    worse: more
    asks: How deep is it?
    help: From lip to landing.
    change: can only be found out
  water:
    type: choice
    values: [dry, drips, spray]
    worse: [[dry], [drips], [spray]]
    asks: How wet is it?
    help: What falls on people.
    change: can only be found out
  note: {type: text, help: Anything else.}
"""
ANCHOR = """entity: anchor
many: yes
help: Something to hang on.
attributes:
  moves:
    type: yes/no
    worse: yes
    says: {yes: "{it} moves", no: "{it} stands"}
    asks: Does {it} move?
    help: Pull it.
    change: can only be found out
  sound:
    type: yes/no
    worse: no
    derived: yes
    otherwise: no
    says: {yes: "{it} is sound", no: "{it} is not shown sound"}
    help: Concluded.
"""
DECISIONS = """topics: {plan: [pitch, anchor]}
concerns: [soundness, convenience]
decisions:
  ladder anchor: {about: plan, question: Which one?, each: anchor, none left: None is left.,
    each of itself: {for: Nothing is better., against: Nothing speaks for it.}}
  tether:
    about: plan
    question: With what?
    options:
      hitch: {for: It lets out., against: It takes practice.}
      cord: {for: It is simple., against: It cannot be let out.}
    none left: Nothing is left.
cautions: [Look again on the day.]
last word: The leader decides.
"""
SOURCES = "practice: {title: What is done, publisher: The trade, kind: practice, read: no}\n"
SOUND = """  - id: small.sound
    title: What stands is sound
    for: {a: anchor}
    if: {a.moves: no}
    then: {derive: {a.sound: yes}}
    because: It stands.
    source: practice
    status: common practice
"""


def rules_file(rules: str) -> str:
    """A file of plan rules."""
    return "topic: Small rules\nabout: plan\nrules:\n" + rules


def base_files(rules: str, anchor: str = ANCHOR) -> dict:
    """{path below the folder: text} of a whole rule base with these rules."""
    return {
        "vocabulary/pitch.yaml": PITCH,
        "vocabulary/anchor.yaml": anchor,
        "decisions.yaml": DECISIONS,
        "sources.yaml": SOURCES,
        "small/rules.yaml": rules_file(rules),
    }


def write(folder, files: dict) -> Path:
    """Write the files of a rule base below a folder; returns the folder."""
    for name, text in files.items():
        path = Path(folder) / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return Path(folder)
