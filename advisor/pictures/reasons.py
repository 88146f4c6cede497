"""The reasons of one decision as a graph in three columns: what was decided, the rules behind it,
the facts they look at.
"""

from __future__ import annotations

from advisor.decide.firing import fill
from advisor.model.names import LADDER_ANCHOR
from advisor.pictures.canvas import LEADING, Canvas, wrap
from advisor.reasons.graph import groups_of
from advisor.reasons.grounds import fact_line
from advisor.reasons.tree import Tree

WIDTH, GAP, MOST = 680, 7, 22
COLUMNS = ((8, 120), (158, 228), (424, 248))  # left edge and width of the columns


def subject_of(view):
    """The decision worth drawing: the ladder's anchor, else the first with reasons; '' when there
    is none.
    """
    decisions = view.advice.decisions
    names = [
        n
        for n in (LADDER_ANCHOR, *decisions)
        if n in decisions and n != "go" and decisions[n].reasons
    ]
    return names[0] if names else ""


def draw(view, decision: str = ""):
    """The graph of one decision; None when no decision has reasons."""
    decision = decision or subject_of(view)
    if not decision:
        return None
    found = view.advice.decisions[decision]
    chosen = found.words()
    groups = groups_of(Tree(view.base, view.advice), found)
    rules, facts = [_rule_text(view, group.applied) for group in groups], _facts(groups)
    canvas = Canvas("reasons", f"Why {decision}: {chosen}", WIDTH, 120)
    boxes = [
        [_block(f"{decision}: {chosen}", 0)],
        [_block(text, 1) for text in rules],
        [_block(text, 2) for _, text in facts],
    ]
    tops = _heights(canvas, boxes)
    _links(canvas, boxes, tops, groups, facts)
    for column, blocks in enumerate(boxes):
        for top, lines in zip(tops[column], blocks):
            _draw_block(canvas, column, top, lines, thick=2.5 if column == 0 else 1)
    for column, word in enumerate(("Decision", "Rules and calculations", "Facts")):
        canvas.text(COLUMNS[column][0], 22, word, size=13, bold=True)
    canvas.say(f"{decision}: {chosen}. " + " ".join(f"It rests on {text}." for text in rules))
    return canvas


def _rule_text(view, applied):
    """A rule by its title and id, with the things it was applied to; a calculation by its line."""
    first = applied[0]
    if first.rule is None:
        return first.number.text if first.number else first.id
    bound = first.rule.bind(first.derivation.bound)
    names = sorted({view.name(e) for one in applied for e in one.derivation.bound})
    return f"{fill(view.base, view.world, first.rule.title, bound)} [{first.rule.id}]" + (
        f": {', '.join(names)}" if names else ""
    )


def _facts(groups):
    """Facts under the rules, each once, in the order in which rules look at them: [(id, text)]."""
    found = {fact.id: fact for group in groups for fact in group.facts}
    texts = [(identity, fact_line(fact)) for identity, fact in found.items()]
    rest = len(texts) - MOST
    more = [("", f"… and {rest} more; the rationale lists all")] if rest > 0 else []
    return texts[:MOST] + more


def _block(text, column):
    return wrap(text, COLUMNS[column][1] - 12, size=11, most=5)


def _height(lines):
    return len(lines) * (LEADING - 1) + 8


def _heights(canvas, boxes):
    """Tops of all blocks, the columns centred on the tallest."""
    total = [sum(_height(b) + GAP for b in blocks) for blocks in boxes]
    canvas.height = max(total) + 52
    tops = []
    for blocks, tall in zip(boxes, total):
        room = (max(total) - tall) / max(len(blocks), 1)
        at, column = 36 + room / 2, []
        for lines in blocks:
            column.append(at)
            at += _height(lines) + GAP + room
        tops.append(column)
    return tops


def _draw_block(canvas, column, top, lines, thick):
    left, width = COLUMNS[column]
    canvas.box(left, top, width, _height(lines), thick=thick)
    for number, line in enumerate(lines):
        canvas.text(left + 6, top + 14 + number * (LEADING - 1), line, size=11, bold=column == 0)


def _links(canvas, boxes, tops, groups, facts):
    """Lines from the decision to its rules and from these to their facts; dashed for what speaks
    against an option.
    """
    place = {identity: number for number, (identity, _) in enumerate(facts)}

    def middle(column, number):
        return tops[column][number] + _height(boxes[column][number]) / 2

    for number, group in enumerate(groups):
        canvas.line(
            COLUMNS[0][0] + COLUMNS[0][1],
            middle(0, 0),
            COLUMNS[1][0],
            middle(1, number),
            dashes="5 4" if group.against else None,
        )
        for fact in group.facts:
            if fact.id in place:
                canvas.line(
                    COLUMNS[1][0] + COLUMNS[1][1],
                    middle(1, number),
                    COLUMNS[2][0],
                    middle(2, place[fact.id]),
                    thick=0.7,
                )
