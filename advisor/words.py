"""The fixed words a person sees around the advice, in one place; the trade's own words stand in
rules/.
"""

from typing import NamedTuple

HEADLINES = {
    "stop": "STOP. Do not go on until this is put right:",
    "stop kit": "STOP. Not for use as it is:",
    "not yet": "NOT YET. Find these out first; each could forbid it:",
    "first": "NOT YET. Put this right before anyone goes to the edge:",
    "contradiction": "NOT YET. Facts that do not fit together come first; say which is wrong:",
    "checks": "NOT YET. See these true at the head first:",
    "clear at home": (
        "Clear at home, on the facts given. That is no leave to go down; checks left for the head:"
        " {n}."
    ),
    "clear": (
        "Nothing found that forbids it, on the facts given. It is still the leader's decision."
    ),
    "elsewhere": (
        "No stop, but on these facts the better answer is: {choice}. It is still the leader's"
        " decision."
    ),
    "kit": "The kit, piece by piece:",
    "incident": "In this order, first things first:",
    "nothing": "Nothing can be said on these facts yet.",
}
# The first word on one screen, where it differs.
FIRST_WORDS = {
    "not by ladder": "NO, not by ladder on these facts, but: {choice}.",
    "not yet": "NOT YET. Not known: {first} Open questions that could forbid it: {all}.",
    "see to these": "NOT YET. See to these; answer TELL ME. Questions that could forbid it: {all}.",
    "kit": "{item}: {verdict}.",
    "kits": "{n} pieces. The worst: {item}, {verdict}.",
}
PLAN_ANEW = "Plan {decision} anew: {was} is ruled out; left is {left}. Ask again."
ONLY_ASSUMED = "Assumed"
ASSUMING = "{told}: not known; they clear nothing."

ON_FILE = "From cards: {cards} (as of entry {entry})."
USUALLY = "As usual, to be read out and confirmed once a trip: {said}."
CONFIRM_USUAL = "Read out what is usual ({n}; --all) and confirm it."
EXPIRED = "No longer known: {fact}."

UNDER_LOCAL = (
    "Local guidance laid over: {title}. By the built-in rules alone, go: {before} -> {after}."
)

SCREEN = {
    "stops": "STOP. Do not go on until this is put right",
    "rig": "RIG IT LIKE THIS",
    "rig then": "ONCE THAT IS PUT RIGHT, RIG IT LIKE THIS",
    "rig so far": "THE RIG SO FAR; THE ABOVE MAY CHANGE IT",
    "people": "PEOPLE, AND EVERY PERSON EVERY TIME",
    "also": "HERE ALSO",
    "checks": "CHECKS",
    "looked first": "First: {these}.",
    "more checks": "… {n} more checks: {all}.",
    "find": "TELL ME; each could change this",
    "kit": "THE KIT",
    "against": "WHAT ELSE SPEAKS AGAINST IT",
    "do": "WHAT TO DO",
    "local": "Local guidance used: {title}. It adds lines ({added}), differs from what is built in"
    " ({n}){more}: {all}.",
    "local numbers": " and has other numbers ({n})",
    "with local": " (with local guidance)",
    "by local": "LOCAL GUIDANCE",
    "more local": "Local: {n} more things: {all}.",
    "built in": "By the built-in rules alone: {verdict}",
    "not ladder": "Not by ladder; {because}.",
    "more asked": "{n} more (--find-out).",
    "such as": "Such as: {names}",
    "and so on": "{names} …",
    "asked too": "ALSO",
    "on file": "ON FILE",
    "assumed": "ASSUMED",
    "more like it": "{text} (And {n} more like it.)",
    "more steps": "… {n} more steps: {all}.",
    "nor": "Nor",
    "no rig": "No ladder here, on these facts.",
    "no rig yet": "Nothing until that is put right.",
    "elsewhere": "Whether another way, or another pitch, can be had.",
    "turn": "What would make this one fit for a ladder: {turn}.",
}


class Doors(NamedTuple):
    """The ways to what one screen leaves out, as they are said in one place."""

    more: str
    more_in_need: str
    all: str
    checks: str
    turn: str


DOORS = Doors(
    "More: --all, --why NAME, --find-out.",
    "More: --all.",
    "--all",
    "{n} to be seen true at the head (--all).",
    '--what-would "{decision}={option}"',
)
DOORS_SAID = Doors(
    "More: say 'everything', 'why', 'what kit', 'how long' or 'what don't you know'.",
    "More: say 'everything'.",
    "say 'everything'",
    "{n} to be seen true at the head (say 'at the head').",
    "say 'what would change it'",
)
SECTIONS = {
    "on file": "From cards",
    "assumed": "Assumed, to look ahead",
    "call": "CALL NOW",
    "call when": "Call",
    "steps": "Steps",
    "do_not": "Do not",
    "do": "What to do",
    "first": "First, before anyone goes to the edge",
    "contradictions": "These cannot all be true",
    "must": "It must have",
    "should": "It should have",
    "items": "Kit",
    "numbers": "Numbers",
    "why": "Why",
    "find": "Find out next",
    "find first": "Find these out first; each could forbid it",
    "checks": "Checks at the head",
    "warnings": "Watch for",
    "refer": "Ask",
    "local": "Local guidance",
    "cautions": "Cautions",
}
STANDINGS = {
    "firm": "firm",
    "firm, if the checks hold": "firm, if the checks hold",
    "provisional": "provisional: open facts could change it",
    "stop": "stop: no option is left",
    "refer": "not this program's to decide: ask",
}
ONE_ENGINE = (
    "Checked by one engine only: durable-rules is not usable here. README, 'Before you start', says"
    " how to install it; until then have a second person check this advice."
)
LOCAL_HELP = "local guidance; it adds, marked, and takes nothing built in away"
AT_HELP = "when it is asked: at home what is only seen at the head is a check (default home)"
NO_LOCAL = (
    "No local guidance was given: depth, numbers, ratios and calls here are custom, not permission."
)
BESIDE_LOCAL = (
    "What is not marked as local, depth, numbers, ratios and calls, is custom, not permission."
)
CHECKS_BESIDES = "Besides, to be seen true at the head: {n}."
CALL_IF = "Call if {when}."
OR_CALL_IF = "Or if {when}."
MORE_SAID = "… and {n} more; say 'everything'."  # the same in a conversation


def quoted(words: str) -> str:
    """What guidance calls itself or its issuer, in quotation marks that it cannot end, so that it
    is not taken for what the program says.
    """
    return '"{}"'.format(words.replace('"', "'"))
