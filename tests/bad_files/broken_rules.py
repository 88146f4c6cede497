"""A small good rule base, and ways to break one part of it: (name, file, text replaced, text put,
[(line, column, words)]).
"""

from small_rules import ANCHOR, SOUND, base_files

GOOD_ATTRIBUTE = """  good:
    type: yes/no
    worse: no
    derived: yes
    otherwise: no
    says: {yes: "{it} is good", no: "{it} is not shown good"}
    help: Concluded.
"""
RULES = (
    SOUND
    + """  - id: small.prefer
    title: Hang it on what is sound
    for: {a: anchor}
    if: {a.sound: yes}
    then: {prefer: {decision: ladder anchor, option: a, strength: should, concern: soundness}}
    because: "{a} stands."
    source: practice
    status: common practice
  - id: small.stop
    title: Not in spray
    if: {pitch.water: {as bad as: spray}}
    then: {stop: Wait for less water.}
    because: People get cold.
    source: practice
    status: common practice
"""
)
PHRASES = """phrases of: pitch
phrases: [drop, shaft]
attributes:
  depth:
    phrases: [deep]
  water:
    values:
      dry: [bone dry]
      spray: [wet through]
"""
REPLIES = """replies of: pitch
told by: depth
attributes:
  water:
    about: [shower]
    answers:
      dry: [not a drop]
"""
GOOD = {
    **base_files(RULES, ANCHOR + GOOD_ATTRIBUTE),
    "phrases/pitch.yaml": PHRASES,
    "replies/pitch.yaml": REPLIES,
}
Y = "replies/pitch.yaml"
R, P, A, D, S, W = (
    "small/rules.yaml",
    "vocabulary/pitch.yaml",
    "vocabulary/anchor.yaml",
    "decisions.yaml",
    "sources.yaml",
    "phrases/pitch.yaml",
)

BROKEN = [
    (
        "unknown entity in for",
        R,
        "for: {a: anchor}\n    if: {a.moves",
        "for: {a: ancor}\n    if: {a.moves",
        [(6, 14, "Did you mean 'anchor'"), (7, 10, "'a.moves'"), (8, 21, "'a.sound'")],
    ),
    (
        "single entity in for",
        R,
        "for: {a: anchor}\n    if: {a.sound: yes}",
        "for: {a: pitch}\n    if: {pitch.depth: 3 m}",
        [(14, 14, "may name several of"), (16, 54, "variable for anchor"), (17, 14, "'a'")],
    ),
    ("unknown attribute", R, "a.moves: no", "a.move: no", [(7, 10, "Did you mean 'moves'")]),
    ("unknown single entity", R, "pitch.water", "pich.water", [(22, 10, "Did you mean 'pitch'")]),
    ("no dot", R, "pitch.water", "water", [(22, 10, "should be 'name.attribute'")]),
    ("unknown value", R, "as bad as: spray", "as bad as: spry", [(22, 35, "Did you mean 'spray'")]),
    (
        "unknown test",
        R,
        "as bad as: spray",
        "as badd as: spray",
        [(22, 24, "Did you mean 'as bad as'")],
    ),
    (
        "number test on a choice",
        R,
        "as bad as: spray",
        "at least: 3 m",
        [(22, 24, "is for numbers")],
    ),
    (
        "choice test on a number",
        R,
        "pitch.water: {as bad as: spray}",
        "pitch.depth: {as bad as: 3 m}",
        [(22, 24, "is for choices")],
    ),
    (
        "ordering where there is none",
        P,
        "    worse: [[dry], [drips], [spray]]\n",
        "",
        [("small/rules.yaml", 22, 24, "no ordering of caution")],
    ),
    (
        "range for a figure",
        R,
        "pitch.water: {as bad as: spray}",
        "pitch.depth: {at least: 3-4 m}",
        [(22, 34, "one exact figure")],
    ),
    (
        "wrong unit",
        R,
        "pitch.water: {as bad as: spray}",
        "pitch.depth: {at least: 3 kg}",
        [(22, 34, "is a mass")],
    ),
    (
        "factor of nought",
        R,
        "pitch.water: {as bad as: spray}",
        "pitch.depth: {at least: pitch.depth, times: 0}",
        [(22, 54, "a number above 0")],
    ),
    ("free text", R, "pitch.water: {as bad as: spray}", "pitch.note: wet", [(22, 10, "free text")]),
    (
        "bad state word",
        R,
        "as bad as: spray",
        "is: unsure",
        [(22, 28, "known, unknown or doubtful")],
    ),
    (
        "state in a derivation",
        R,
        "if: {a.moves: no}",
        "if: {a.moves: {is: unknown}}",
        [(7, 9, "asks whether a fact is known")],
    ),
    (
        "state in a preference",
        R,
        "if: {a.sound: yes}",
        "if: {a.moves: {is: known}}",
        [(15, 9, "asks whether a fact is known")],
    ),
    (
        "choice in a stop",
        R,
        "if: {pitch.water: {as bad as: spray}}",
        "if: {choice of tether: cord}",
        [(22, 9, "looks at what was chosen")],
    ),
    (
        "choice of nothing known",
        R,
        "if: {pitch.water: {as bad as: spray}}",
        "if: {choice of tehter: cord}",
        [(22, 10, "Did you mean 'tether'")],
    ),
    (
        "choice of no option",
        R,
        "if: {pitch.water: {as bad as: spray}}",
        "if: {choice of tether: chord}",
        [(22, 28, "Did you mean 'cord'")],
    ),
    (
        "no condition on a fact",
        R,
        "if: {pitch.water: {as bad as: spray}}",
        "if: {there is: {b: anchor}}",
        [(22, 9, "at least one condition")],
    ),
    (
        "empty condition",
        R,
        "if: {pitch.water: {as bad as: spray}}",
        "if: {}",
        [(22, 9, "at least 1")],
    ),
    (
        "empty any of",
        R,
        "if: {pitch.water: {as bad as: spray}}",
        "if: {any of: []}",
        [(22, 18, "list of conditions")],
    ),
    (
        "variable used twice",
        R,
        "if: {a.moves: no}",
        "if: {there is: {a: anchor, where: {a.moves: no}}}",
        [(7, 20, "in use already")],
    ),
    (
        "there are none at least",
        R,
        "if: {a.moves: no}",
        "if: {there are at least: {number: 0, of: {b: anchor}}}",
        [(7, 30, "expected the form")],
    ),
    (
        "unknown effect",
        R,
        "then: {stop: Wait for less water.}",
        "then: {halt: Wait for less water.}",
        [(23, 12, "'halt'")],
    ),
    (
        "two effects in one mapping",
        R,
        "then: {stop: Wait for less water.}",
        "then: {stop: Wait., do not: Go on.}",
        [(23, 11, "at most 1")],
    ),
    (
        "unknown decision",
        R,
        "decision: ladder anchor",
        "decision: ladder anchr",
        [(16, 31, "Did you mean 'ladder anchor'")],
    ),
    (
        "unknown concern",
        R,
        "concern: soundness",
        "concern: soundnes",
        [(16, 84, "Did you mean 'soundness'")],
    ),
    ("unknown strength", R, "strength: should", "strength: must", [(16, 67, "is not one of")]),
    (
        "option that is no variable",
        R,
        "option: a,",
        "option: b,",
        [(16, 54, "variable for anchor")],
    ),
    (
        "deriving what people state",
        R,
        "derive: {a.sound: yes}",
        "derive: {a.moves: yes}",
        [(8, 21, "stated by people")],
    ),
    (
        "deriving no value",
        R,
        "derive: {a.sound: yes}",
        "derive: {a.sound: maybe}",
        [(8, 30, "'maybe' is not a value")],
    ),
    (
        "derivation with another effect",
        R,
        "then: {derive: {a.sound: yes}}",
        "then: [{derive: {a.sound: yes}}, {stop: Stop here.}]",
        [(8, 11, "does nothing else")],
    ),
    (
        "facts that need each other",
        R,
        "if: {a.moves: no}\n    then: {derive: {a.sound: yes}}",
        "if: {a.good: yes}\n    then: {derive: {a.sound: yes}}",
        None,
    ),
    ("rule id twice", R, "id: small.stop", "id: small.sound", [(20, 9, "used already")]),
    ("bad rule id", R, "id: small.stop", "id: Small Stop", [(20, 9, "expected form")]),
    (
        "unknown source",
        R,
        "because: It stands.\n    source: practice",
        "because: It stands.\n    source: practise",
        [(10, 13, "Did you mean 'practice'")],
    ),
    (
        "unknown status",
        R,
        "because: It stands.\n    source: practice\n    status: common practice",
        "because: It stands.\n    source: practice\n    status: sure",
        [(11, 13, "is not one of")],
    ),
    ("no reason given", R, "    because: It stands.\n", "", [(4, 5, "'because' missing")]),
    ("template for no variable", R, '"{a} stands."', '"{b} stands."', [(17, 14, "'b'")]),
    (
        "template for no attribute",
        R,
        '"{a} stands."',
        '"{a.high} stands."',
        [(17, 14, "'high' is not an attribute")],
    ),
    (
        "step after nothing known",
        R,
        "then: {stop: Wait for less water.}",
        "then: {step: {do: Wait a while., after: [small.stpo]}}",
        [(20, 9, "Did you mean 'small.stop'")],
    ),
    (
        "referring a decision that is not",
        R,
        "then: {stop: Wait for less water.}",
        "then: {refer: {to: the owner, about: Ask first., decision: tehter}}",
        [(23, 64, "Did you mean 'tether'")],
    ),
    (
        "asking for nothing known",
        R,
        "then: {stop: Wait for less water.}",
        "then: {ask: pitch.dept}",
        [(23, 17, "Did you mean 'depth'")],
    ),
    (
        "verdict on no variable",
        R,
        "then: {stop: Wait for less water.}",
        "then: {verdict: {on: b, give: retire}}",
        [(23, 26, "not a variable")],
    ),
    ("unknown topic", R, "about: plan", "about: plans", [(2, 8, "Did you mean 'plan'")]),
    ("no rules", R, "rules:\n" + RULES, "rules: []\n", [(3, 8, "at least 1")]),
    (
        "duplicate key in a rule",
        R,
        "    because: It stands.\n",
        "    because: It stands.\n    because: So it is.\n",
        [(10, 5, "stands twice")],
    ),
    ("unknown unit", P, "unit: m\n", "unit: cubit\n", [(7, 11, "'cubit' is not a unit")]),
    ("no range", P, "    range: [0, 30 m]\n", "", [(5, 3, "needs its range")]),
    ("range in another unit", P, "range: [0, 30 m]", "range: [0, 30 kg]", [(8, 12, "is a mass")]),
    (
        "ordering leaves one out",
        P,
        "[[dry], [drips], [spray]]",
        "[[dry], [spray]]",
        [(16, 12, "name each value once")],
    ),
    ("no question", P, "    asks: How deep is it?\n", "", [(5, 3, "needs the question")]),
    (
        "no change",
        P,
        "    help: From lip to landing.\n    change: can only be found out\n",
        "    help: From lip to landing.\n",
        [(5, 3, "whether people can change it")],
    ),
    (
        "derived without its cautious value",
        A,
        '    derived: yes\n    otherwise: no\n    says: {yes: "{it} is sound"',
        '    derived: yes\n    says: {yes: "{it} is sound"',
        [("small/rules.yaml", 8, 21, "worked out by a calculation")],
    ),
    (
        "yes/no without sentences",
        A,
        '    says: {yes: "{it} moves", no: "{it} stands"}\n',
        "",
        [(5, 3, "needs says")],
    ),
    ("unknown type", P, "type: number", "type: figure", [(6, 11, "is not one of")]),
    (
        "decision for no entity",
        D,
        "each: anchor",
        "each: ancor",
        [(4, 60, "Did you mean 'anchor'")],
    ),
    (
        "topic for no entity",
        D,
        "[pitch, anchor]}",
        "[pitch, ancor]}",
        [(1, 24, "Did you mean 'anchor'")],
    ),
    (
        "decision with both",
        D,
        "each: anchor, none",
        "each: anchor, options: {a: {for: It is light., against: It is thin.},"
        " b: {for: It is strong., against: It is heavy.}}, none",
        [(4, 3, "has either")],
    ),
    (
        "option with nothing against it",
        D,
        "cord: {for: It is simple., against: It cannot be let out.}",
        "cord: {for: It is simple.}",
        [(11, 13, "'against' missing")],
    ),
    (
        "things to choose from with nothing against them",
        D,
        ".,\n    each of itself: {for: Nothing is better., against: Nothing speaks for it.}}",
        ".}",
        [(4, 3, "'each of itself'")],
    ),
    ("no last word", D, "last word: The leader decides.\n", "", [(1, 1, "'last word' missing")]),
    (
        "no cautions",
        D,
        "cautions: [Look again on the day.]",
        "cautions: []",
        [(13, 11, "at least 1")],
    ),
    (
        "source without a publisher",
        S,
        "publisher: The trade, ",
        "",
        [(1, 11, "'publisher' missing")],
    ),
    ("value twice", P, "[dry, drips, spray]", "[dry, drips, dry]", [(15, 13, "stands here twice")]),
    (
        "phrases in the vocabulary",
        P,
        "many: no",
        "many: no\nphrases: [drop]",
        [(3, 1, "'phrases'")],
    ),
    (
        "phrases of no entity",
        W,
        "phrases of: pitch",
        "phrases of: pich",
        [(1, 13, "Did you mean 'pitch'")],
    ),
    ("replies of no entity", Y, "of: pitch", "of: pich", [(1, 13, "Did you mean 'pitch'")]),
    ("replies told by nothing", Y, "by: depth", "by: deph", [(2, 10, "Did you mean 'depth'")]),
    ("replies of no attribute", Y, "  water:", "  watre:", [(4, 3, "Did you mean 'water'")]),
    ("replies of no value", Y, "      dry:", "      dri:", [(7, 7, "is not a value")]),
    ("phrases of no attribute", W, "  water:", "  watre:", [(6, 3, "Did you mean 'water'")]),
    ("phrases of no value", W, "      spray:", "      spry:", [(9, 7, "Did you mean 'spray'")]),
    (
        "phrases of a number's value",
        W,
        "    phrases: [deep]",
        "    values: {deep: [deep]}",
        [(5, 5, "is not a choice")],
    ),
    ("phrases of a wrong kind", W, "[bone dry]", "bone dry", [(8, 12, "expected a list")]),
    ("phrases for nothing", W, "[bone dry]", "[]", [(8, 12, "at least 1")]),
    (
        "phrase with an unknown mark",
        W,
        "[deep]",
        "[deep, shallow (not)]",
        [(5, 21, "'shallow (not)' ends in a mark")],
    ),
    (
        "unknown part of phrases",
        W,
        "  depth:\n    phrases",
        "  depth:\n    says",
        [(5, 5, "'says'")],
    ),
]
