"""A minimal rule base in a folder, to plant faults in: one pitch, one kind of point, one decision."""
from __future__ import annotations

VOCABULARY = {
    "pitch": """\
entity: pitch
many: no
help: The drop that people go down.
attributes:
  depth:
    type: number
    unit: m
    range: [0 m, 60 m]
    worse: more
    asks: How deep is {it}?
    help: From lip to foot.
    change: can only be found out
  water:
    type: choice
    values: {dry: [], drips: [], stream: []}
    worse: [[dry], [drips], [stream]]
    asks: How wet is {it}?
    help: Water that falls on people.
    change: can only be found out
""",
    "point": """\
entity: point
many: yes
help: A point that may carry.
attributes:
  moves:
    type: yes/no
    worse: yes
    says: {yes: "{it} moves", no: "{it} does not move"}
    asks: Does {it} move?
    help: When pulled by hand.
    change: can only be found out
  sound:
    type: yes/no
    worse: no
    derived: yes
    otherwise: no
    says: {yes: "{it} is sound", no: "{it} is not sound"}
    help: Fit to carry.
""",
}
DECISIONS = """\
topics:
  plan: [pitch, point]
  incident: [pitch]
  kit: [point]
concerns: [life, convenience]
decisions:
  way:
    about: plan
    question: Which way?
    does: Go by
    options: [ladder, rope]
    none left: No way is left.
cautions: [Look again.]
last word: The leader decides.
"""
SOURCES = """\
practice: {title: Invented practice, publisher: nobody, kind: practice, read: invented for tests}
"""
CLEAN = """\
  - id: way.ladder
    title: Ladder on a short pitch
    if: {pitch.depth: {at most: 20 m}}
    then:
      - prefer: {decision: way, option: ladder, strength: should, concern: life}
    because: It is short.
    source: practice
    status: common practice
  - id: way.rope
    title: Rope on a long pitch
    if: {pitch.depth: {above: 20 m}}
    then:
      - prefer: {decision: way, option: rope, strength: should, concern: life}
    because: It is long.
    source: practice
    status: common practice
  - id: point.sound
    title: A point that does not move is sound
    for: {a: point}
    if: {a.moves: no}
    then:
      - derive: {a.sound: yes}
    because: It holds.
    source: practice
    status: common practice
  - id: point.none
    title: No sound point, no descent
    for: {a: point}
    if: {a.sound: no, pitch.depth: {at least: 1 m}}
    then:
      - stop: "Do not use {a}."
    because: It moves.
    source: practice
    status: common practice
  - id: water.stream
    title: Water matters
    if: {pitch.water: {as bad as: drips}}
    then:
      - warn: {text: "Keep out of the water.", severity: caution}
    because: Water cools.
    source: practice
    status: common practice
"""
RULE = """\
  - id: {id}
    title: A planted rule
    if: {condition}
    then:
      - {effect}
    because: It was planted.
    source: practice
    status: common practice
"""
LINES_BEFORE = 3 + CLEAN.count("\n")   # the head of the file, then the clean rules


def rule(id, condition, effect, variables=""):
    """One rule as YAML."""
    text = RULE.format(id=id, condition=condition, effect=effect)
    return text.replace("    if:", f"    for: {variables}\n    if:") if variables else text


def write(folder, *more, vocabulary=None, decisions=DECISIONS, sources=SOURCES, clean=CLEAN, figures=None):
    """Write the base with more rules after the clean ones; returns the folder."""
    files = {f"vocabulary/{name}.yaml": text for name, text in {**VOCABULARY, **(vocabulary or {})}.items()}
    files.update({"decisions.yaml": decisions, "sources.yaml": sources, "plan/rules.yaml": "topic: Planted rules\nabout: plan\nrules:\n" + clean + "".join(more)})
    files.update({"figures/one.yaml": figures} if figures else {})
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder
