"""Kit as clubs and centres have it, in order and not, and what is told of it."""

from functools import cache

from advisor.advise import Advisor
from advisor.load.case import build_case
from advisor.load.tree import parse_document

ORDER = (
    "identity: yes, record: in order, last examined: 2 month, examined by: a competent person,"
    " examination interval: 6 month, use: by groups or hard, chemical contact: no, mishap: no,"
    " repair: none, inspection: full by fingertip, clean: yes, dry: yes, standing: in use"
)
LADDER = f"{ORDER}, made by: the maker, wire core: steel core, left in place: no, overloaded: no"
ROPE = (
    f"{ORDER}, type: rope, history: known from new, age: 3 year, years in use: 2 year,"
    " life limit: 10 year, hard fall: no, drying: in the shade, found in place: no"
)
CORD = ROPE.replace("type: rope", "type: cord")
LIFE = " dropped: no, found in place: no, age: 3 year, life limit: 10 year"
KNOWN = f"{LADDER}, history: known from new"


@cache
def program():
    return Advisor()


def advise(given):
    text = "case: Kit\nabout: [kit]\ngiven:\n" + given
    document = parse_document(text.encode(), "case")
    return program().advise(build_case(document, program().base))


def case(given):
    return advise("".join(f"  {name}: {{{facts}}}\n" for name, facts in given.items()))


def verdict(advice, item):
    return {i.item: i.verdict for i in advice.items}.get(item)


def texts(advice):
    return " | ".join(i.text for i in (*advice.stops, *advice.requirements, *advice.refer))


def of_type(kind):
    """A piece of kit of a type, known from new and in order."""
    textile = ROPE.replace("type: rope", f"type: {kind}")
    hard = f"{ORDER}, type: {kind}, history: known from new,{LIFE}"
    return textile if kind in ("rope", "cord", "sling", "harness") else hard
