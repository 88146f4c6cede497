"""The trade's own names that the program itself must know: to draw the pitch, to fill in papers, to
tell an incident from a plan. Everything else it learns from the rule base.

They stand here alone, and are held against a whole rule base when it is read (see load/names.py),
so that a renamed fact is a fault with its place and not an empty line.
"""

from __future__ import annotations

from advisor.model.ref import Ref

FACTS: dict[str, tuple[str, ...]] = {}  # the values told apart, by key
CALCULATIONS = (HANG_WEAKEST,) = ("hang-weakest",)
DECISIONS = (LADDER_ANCHOR, LADDERS_JOINED, LIFELINE_WORKED, METHOD, TETHER_FORM) = (
    "ladder anchor",
    "ladder length",
    "lifeline way",
    "method",
    "tether",
)


def _of_each(key: str, *values: str) -> str:
    """An attribute of something that a case may name several of."""
    FACTS[key] = values or FACTS.get(key, ())
    return key


def _of(key: str, *values: str) -> Ref:
    """An attribute of what there is one of."""
    return Ref(_of_each(key, *values).partition(".")[0], key)


def _told(entity: str, *attributes: str) -> tuple[Ref, ...]:
    """Attributes that papers tell together, of what there is one of."""
    return tuple(_of(f"{entity}.{name}") for name in attributes)


INCIDENT_KIND = _of("incident.what")
CAUGHT_PART = _of_each("incident.caught part")
FINDING_ITEM = _of_each("finding.item")
FINDING_WHAT = _of_each("finding.what")
FINDING_PART = _of_each("finding.part")
FINDING_TOLD = (FINDING_WHAT, FINDING_PART)
FINDING_PLACE = _of_each("finding.place")
KIT_TYPE = _of_each("kit.type")

ANCHOR_KIND = _of_each("anchor.kind", "master point")
ANCHOR_SOUND = _of_each("anchor.sound", "yes")
ANCHOR_SIDE = _of_each("anchor.side", "left", "middle", "right")
ANCHOR_HEIGHT = _of_each("anchor.height")
ANCHOR_BACK = _of_each("anchor.distance from lip")
ANCHOR_GAP = _of_each("anchor.gap below ladder")
ANCHOR_IN_LIFELINE = _of_each("anchor.in lifeline", "yes")
ANCHOR_IN_SAFETY_LINE = _of_each("anchor.in safety line", "yes")
ANCHOR_CHECKED = _of_each("anchor.checked")
ANCHOR_MOVES = _of_each("anchor.moves")
ANCHOR_WORST_SIGN = _of_each("anchor.worst sign")
ANCHOR_RATING = _of_each("anchor.rating")

LADDER = "ladder"
PLANNED = ("site", "pitch", "pitch head", LADDER, "tether", "lifeline", "group", "leader", "plan")
LADDER_LENGTH = _of_each("ladder.length")
LADDER_RATING = _of_each("ladder.rating")

PITCH_DEPTH = _of("pitch.depth")
PITCH_LIP = _of("pitch.lip", "clean", "sloping", "narrow", "sharp")
PITCH_HANG = _of("pitch.hang", "free", "touching", "mixed", "slab", "flush")
PITCH_WATER = _of("pitch.water", "dry", "drips", "spray", "stream")
PITCH_LANDING = _of("pitch.landing", "floor", "slope", "ledge", "pool")
PITCH_REFUGE = _of("pitch.base refuge", "yes", "no")
PITCH_LEDGE = _of("pitch.ledge", "yes", "no")
PITCH_LEDGE_DEPTH = _of("pitch.ledge depth")
PITCH_IN_TWO = _of("pitch.rigged in two", "yes")
PITCH_SLAB_HEIGHT = _of("pitch.slab height")
PITCH_SLAB_SLOPE = _of("pitch.slab slope")
PITCH_LADDER_MADE_UP = _of("pitch.ladder made up")
PITCH_LADDER_NEEDED = _of("pitch.ladder needed")
PITCH_LADDER_GAP = _of("pitch.gap below ladder")

HEAD_ARRIVAL = _of("pitch head.arrival side", "left", "right", "behind")
HEAD_LEADER = _of("pitch head.leader side", "left", "middle", "right")
HEAD_STANCE = _of(
    "pitch head.stance", "own anchor", "lifeline anchor", "ladder anchor", "not attached"
)
HEAD_ANGLE = _of("pitch head.angle")
HEAD_LEG_ANGLE = _of("pitch head.leg angle")
HEAD_SIDE_LEG_ANGLE = _of("pitch head.side leg angle")
HEAD_LEG_SPACING = _of("pitch head.leg spacing")
HEAD_LEFT_LEG = _of("pitch head.left leg")
HEAD_RIGHT_LEG = _of("pitch head.right leg")
HEAD_MASTER_HEIGHT = _of("pitch head.master point height")
HEAD_PATH_CROSSES = _of("pitch head.path crosses", "yes", "no")
HEAD_COWSTAIL = _of("pitch head.cowstail length")
HEAD_LIFELINE_AT_LIP = _of("pitch head.lifeline at lip")
HEAD_LADDER_TO_LIFELINE = _of("pitch head.gap ladder to lifeline")
HEAD_SAFETY_LINE = _of("pitch head.safety line", "yes", "no")
HEAD_WAITING = _of("pitch head.waiting distance")

LIFELINE_CLASS = _of("lifeline.class")
LIFELINE_LENGTH = _of("lifeline.length")
LIFELINE_DIAMETER = _of("lifeline.diameter")
LIFELINE_DEVICE = _of("lifeline.device")
LIFELINE_WAY = _of("lifeline.way", "from the top", "doubled from below", "self-lining")
LIFELINE_BELAY_PLACE = _of("lifeline.belay place", "master point")
LIFELINE_BELAYER = _of("lifeline.belayer", "leader or assistant")
LIFELINE_RESERVE = _of("lifeline.reserve")
LIFELINE_DOUBLED = _of("lifeline.needed doubled")
LIFELINE_TO_SPARE = _of("lifeline.to spare")
LIFELINE_SLACK = _of("lifeline.slack")
LIFELINE_DROP = _of("lifeline.drop at the foot")
LIFELINE_CLEARANCE = _of("lifeline.clearance above landing")

TETHER_FORM_TOLD = _of("tether.form")
TETHER_EYES = _of("tether.eyes", "cord bridle", "wire spreader", "both in one connector")
TETHER_BRIDLE_LEG = _of("tether.bridle leg")
TETHER_BRIDLE_ANGLE = _of("tether.bridle angle")
TETHER_LET_OUT = _of("tether.let-out")
TETHER_MATERIAL = _of("tether.material")
TETHER_DIAMETER = _of("tether.diameter")
TETHER_CORD = _of("tether.cord length")
TETHER_CONNECTOR = _of("tether.connector")
TETHER_OUT = _of("tether.length out")

RATING_SCALE = _of("plan.rating scale")

GROUP_SIZE = _of("group.size")
GROUP_LOAD = _of("group.expected load")
GROUP_TOLD = _told("group", "size", "novices", "children", "heaviest", "lightest")
LEADER_NUMBER = _of("leader.number")
LEADER_ASSISTANTS = _of("leader.assistants")
LEADERS_TOLD = _told("leader", "number", "assistants", "authorised depth")
TIME_DOWN = _of("plan.time down")
EACH_DOWN = _of("plan.each down")
EACH_UP = _of("plan.each up")
START = _of("plan.start")
START_UP = _of("plan.start up")
TIMES_TOLD = _told(
    "plan", "start", "turn time", "time down", "time up", "latest start up", "out by"
)
REMARKS = _of("plan.remarks")
CALL_OUT_TOLD = _told("plan", "call-out time", "call-out set")
