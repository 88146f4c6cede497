"""The rationale: every recommendation with the facts and calculations it rests on, its rule, its
sources and how it stands.
"""

from __future__ import annotations

from advisor.papers.blocks import Bullets, Heading, Para, Table, cell, lines
from advisor.papers.front import chosen
from advisor.reasons.grounds import grounds
from advisor.reasons.tree import Tree
from advisor.words import STANDINGS

HEADS, WIDTHS = (
    (
        "Recommendation, and why",
        "Facts and calculations it rests on",
        "Rule, sources, standing",
    ),
    (38, 34, 28),
)


class Rows:
    """Recommendations as rows: what it is and why, what it rests on, by which rule and source."""

    def __init__(self, s):
        self.s, self.tree = s, Tree(s.view.base, s.advice)

    def backing(self, item, standing="") -> tuple:
        """Rule, sources and status of an item."""
        names = "; ".join(self.s.source(i) for i in item.sources)
        rule = self.s.view.base.rule(item.rule)
        return cell(
            f"[{item.rule}]" if item.rule else "",
            names,
            "; ".join(w for w in (item.status, rule.authority if rule else "", standing) if w),
        )

    def row(self, item, standing="", text=""):
        """One recommendation as a row."""
        return (
            cell(text or item.text, item.because),
            grounds(self.tree.of(item.derivation)),
            self.backing(item, standing),
        )


def rationale(s):
    """All recommendations, then open questions, calculations, facts and sources."""
    made = Rows(s)
    blocks = [
        Heading(2, "Rationale"),
        Para(
            "Each recommendation with what it rests on. 'Concluded' facts come from rules and"
            " calculations; all derivations stand in the JSON export."
        ),
    ]
    blocks += _decisions(s, made)
    for title, items, mark in (
        ("Stops", s.advice.stops, None),
        ("Contradictions", s.advice.contradictions, None),
        ("To be done first", s.advice.first, None),
        ("Requirements", s.advice.requirements, "strength"),
        ("Warnings", s.advice.warnings, "severity"),
        ("To ask others", s.advice.refer, None),
    ):
        if items:
            rows = tuple(
                made.row(
                    i,
                    getattr(i, mark) if mark else "",
                    f"{i.severity.capitalize()}: {i.text}" if mark == "severity" else "",
                )
                for i in items
            )
            blocks += [Heading(3, title), Table(title, HEADS, rows, WIDTHS)]
    blocks += _steps(s, made) + _verdicts(s, made) + _hazards(s, made)
    return blocks


def _decisions(s, made):
    decisions = s.advice.choices
    if not decisions:
        return []
    blocks = [Heading(3, "Decisions")]
    for name, d in decisions.items():
        title = f"{name[:1].upper()}{name[1:]}: {chosen(d)}"
        blocks.append(Heading(4, title))
        blocks.append(
            Para(
                f"Standing: {STANDINGS[d.standing]}."
                + (f" Open: {', '.join(d.open)}." if d.open else "")
            )
        )
        if d.reasons:
            blocks.append(
                Table(
                    f"Reasons: {name}",
                    HEADS,
                    tuple(
                        made.row(r, "", f"Against {r.option}: {r.text}" if r.option else "")
                        for r in d.reasons
                    ),
                    WIDTHS,
                )
            )
        if d.of_itself:
            blocks.append(Para(d.of_itself))
        if d.alternatives:
            blocks.append(
                Bullets(
                    lines(
                        *(
                            f"Not {a.option}: {a.lost_because} ({', '.join(a.derivations)})."
                            if a.derivations
                            else f"Not {a.option}: {a.lost_because}."
                            for a in d.alternatives
                        )
                    )
                )
            )
    return blocks


def _steps(s, made):
    """The case's own response, whose steps rest on its facts."""
    response = s.advice.response
    if not response:
        return []
    return [
        Heading(3, "Response"),
        Table(
            "Response",
            HEADS,
            tuple(made.row(i, f"if {i.when}" if i.when else "") for i in response.lines),
            WIDTHS,
        ),
    ]


def _verdicts(s, made):
    rows = tuple(
        made.row(r, i.standing, f"{i.item}: {i.verdict}. {r.text}.")
        for i in s.advice.items
        for r in i.reasons
    )
    return (
        [Heading(3, "Verdicts on kit"), Table("Verdicts on kit", HEADS, rows, WIDTHS)]
        if rows
        else []
    )


def _hazards(s, made):
    rows = tuple(made.row(h, "exists" if h.sure else "may exist") for h in s.advice.hazards)
    return (
        [
            Heading(3, "Why each hazard is listed"),
            Table("Why each hazard is listed", HEADS, rows, WIDTHS),
        ]
        if rows
        else []
    )
