"""Facts that something already said makes impossible or leaves no room for; no honest way of
settling a case states them at odds with it.
"""

from advisor.facts.units import UNITS
from advisor.mechanics import Interval
from advisor.model.conditions import State
from advisor.model.inputs import FirstOf, FromFact, WholeRange

WITHOUT_A_METER = (
    "site.oxygen",
    "site.carbon dioxide",
    "site.carbon monoxide",
    "site.hydrogen sulphide",
    "site.flammable gas",
    "site.meter alarm",
)

# What nobody stated of a strength is judged and not counted, and of people's minutes the usual
# figures stand: what is settled later is new knowledge.
JUDGED = (
    "plan.minutes per person",
    "anchor.rating",
    "anchor.set depth",
    "tether.strength as rigged",
    "ladder.rating",
    "ladder.breaking load",
    "ladder.wire diameter",
)

TIMES = (
    "plan.start",
    "plan.turn time",
    "plan.call-out time",
    "plan.walk out",
    "plan.rigging time",
    "group.size",
    "group.novices",
)
PLACES = ("anchor.height", "anchor.distance from lip")
LEGS = ("pitch head.left leg", "pitch head.right leg", "pitch head.leg spacing")
# What the first say and what the others say are one thing: both stated, they may not fit.
ONE_THING = [
    (("pitch head.run to lip",), PLACES),
    (("pitch head.angle", "pitch head.drop if one leg fails"), (*LEGS, *PLACES[:1])),
    (("pitch head.angle", "pitch head.drop if one leg fails"), ("pitch head.master point height",)),
    (("plan.margin before call-out", "plan.longest wait"), TIMES),
    (("pitch.hang",), ("pitch.slab height", "pitch.slab slope")),
]


def belied(case, key) -> bool:
    """Whether a case has said something that leaves no room to settle a fact freely."""
    said = {k for _, k in case.facts}
    meter = case.facts.get(("site", "site.gas meter"))
    if key in WITHOUT_A_METER and meter is not None and meter.text == "no":
        return True
    if key in JUDGED:
        return True
    return any(
        (key in one and said & set(other)) or (key in other and said & set(one))
        for one, other in ONE_THING
    )


def until_known(base) -> set[str]:
    """The rules whose stops say 'not until this is known': they rightly go when it is known."""
    return {r.id for r in base.rules if any(isinstance(n, State) for n in r.condition.walk())}


def once_stated(base) -> set[str]:
    """The rules of rare things, not asked of every plan: their stops come once they are stated."""
    return {
        r.id
        for r in base.rules
        if any(isinstance(n, State) and n.word == "known" for n in r.condition.walk())
    }


def bounds(base) -> dict:
    """{key: (low, high) in steps} of facts that a calculation takes within the sourced bounds of a
    figure while they are not stated.
    """
    found = {}
    for calculation in base.calculations:
        for item in calculation.inputs:
            match item.input:
                case FirstOf(choices=(*facts, WholeRange(low=low, high=high))):
                    for fact in facts:
                        if isinstance(fact, FromFact):
                            key = fact.ref.key
                            found[key] = _steps(base, key, Interval(low, high))
    run = found["pitch head.run to lip"][1]
    return {**found, "anchor.height": (0, run // 2), "anchor.distance from lip": (0, run * 3 // 4)}


def _steps(base, key, span):
    per_unit = UNITS[base.vocabulary.attribute(key).unit][0].steps
    return round(span.lo * per_unit), round(span.hi * per_unit)
