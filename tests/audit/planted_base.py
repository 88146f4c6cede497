"""A minimal rule base in a folder, to plant faults in: one pitch, one kind of anchor, one
decision.
"""

from __future__ import annotations

from small_rules import ANCHOR, PITCH, SOURCES, rules_file
from small_rules import write as write_files

VOCABULARY = {"pitch": PITCH, "anchor": ANCHOR}
DECISIONS = """\
topics:
  plan: [pitch, anchor]
  incident: [pitch]
  kit: [anchor]
concerns: [life, convenience]
decisions:
  way:
    about: plan
    question: Which way?
    options:
      ladder: {for: It is simple., against: It tires the arms.}
      rope: {for: It is light., against: It takes training.}
    none left: No way is left.
cautions: [Look again.]
last word: The leader decides.
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
  - id: anchor.sound
    title: An anchor that does not move is sound
    for: {a: anchor}
    if: {a.moves: no}
    then:
      - derive: {a.sound: yes}
    because: It holds.
    source: practice
    status: common practice
  - id: anchor.none
    title: No sound anchor, no descent
    for: {a: anchor}
    if: {a.sound: no, pitch.depth: {at least: 1 m}}
    then:
      - stop: "Do not use {a}."
    because: It moves.
    source: practice
    status: common practice
  - id: water.wet
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
LINES_BEFORE = rules_file(CLEAN).count("\n")  # the head of the file, then the clean rules


def rule(id, condition, effect, variables=""):
    """One rule as YAML."""
    text = RULE.format(id=id, condition=condition, effect=effect)
    return text.replace("    if:", f"    for: {variables}\n    if:") if variables else text


def write(
    folder, *more, vocabulary=None, decisions=DECISIONS, sources=SOURCES, clean=CLEAN, figures=None
):
    """Write the base with more rules after the clean ones; returns the folder."""
    files = {
        f"vocabulary/{name}.yaml": text
        for name, text in {**VOCABULARY, **(vocabulary or {})}.items()
    }
    files.update(
        {
            "decisions.yaml": decisions,
            "sources.yaml": sources,
            "plan/rules.yaml": rules_file(clean + "".join(more)),
        }
    )
    files.update({"figures/one.yaml": figures} if figures else {})
    return write_files(folder, files)
