"""The rationale: every recommendation with the facts and calculations it rests on, its rule, its
sources and how it stands.
"""

from __future__ import annotations

from advisor.export.blocks import Bullets, Heading, Para, Table, cell
from advisor.export.front import chosen
from advisor.export.plan import reasons_picture
from advisor.words import STANDINGS

HEADS, WIDTHS = (
    (
        "Recommendation, and why",
        "Facts and calculations it rests on",
        "Rule, sources, standing",
    ),
    (38, 34, 28),
)


class Grounds:
    """Turns derivations into lines of facts, absences and calculations."""

    def __init__(self, s):
        self.s = s
        self.derivations = {d.id: d for d in s.advice.derivations}
        self.facts = {f.id: f for f in s.advice.facts}
        self.numbers = {c.id: c for c in s.advice.calculations}

    def lines(self, identity) -> tuple:
        """What a derivation rests on."""
        entry = self.derivations[identity]
        found = [self.fact(f) for f in entry.facts] + [
            self.numbers[c].text for c in entry.calculations if c in self.numbers
        ]
        return cell("; ".join(dict.fromkeys(found)), *entry.absences)

    def fact(self, identity) -> str:
        """'pitch.depth: 12 m', with its state where it is not plainly known."""
        fact = self.facts.get(identity)
        if fact is None:
            return f"{identity}: not known"
        mark = {
            "doubtful": " (doubtful)",
            "unknown": "" if fact.value == "not known" else " (not settled)",
        }.get(fact.state, "")
        return f"{identity}: {fact.value or 'not known'}{mark}" + (
            " (concluded)" if fact.concluded else ""
        )

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
            self.lines(item.derivation),
            self.backing(item, standing),
        )


def rationale(s):
    """All recommendations, then open questions, calculations, facts and sources."""
    grounds = Grounds(s)
    blocks = [
        Heading(2, "Rationale"),
        Para(
            "Each recommendation with what it rests on. 'Concluded' facts come from rules and"
            " calculations; all derivations stand in the JSON export."
        ),
    ]
    blocks += _decisions(s, grounds)
    for title, items, mark in (
        ("Stops", s.advice.stops, None),
        ("Requirements", s.advice.requirements, "strength"),
        ("Warnings", s.advice.warnings, "severity"),
        ("To ask others", s.advice.refer, None),
    ):
        if items:
            rows = tuple(
                grounds.row(
                    i,
                    getattr(i, mark) if mark else "",
                    f"{i.severity.capitalize()}: {i.text}" if mark == "severity" else "",
                )
                for i in items
            )
            blocks += [Heading(3, title), Table(title, HEADS, rows, WIDTHS)]
    blocks += _steps(s, grounds) + _verdicts(s, grounds) + _hazards(s, grounds)
    return blocks


def _decisions(s, grounds):
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
                        grounds.row(r, "", f"Against {r.option}: {r.text}" if r.option else "")
                        for r in d.reasons
                    ),
                    WIDTHS,
                )
            )
        if d.alternatives:
            blocks.append(
                Bullets(
                    tuple(
                        (
                            f"Not {a.option}: {a.lost_because} ({', '.join(a.derivations)})."
                            if a.derivations
                            else f"Not {a.option}: {a.lost_because}."
                        )
                        for a in d.alternatives
                    )
                )
            )
    return blocks + reasons_picture(s)


def _steps(s, grounds):
    """The case's own response, whose steps rest on its facts."""
    response = s.advice.response
    if not response:
        return []
    return [
        Heading(3, "Response"),
        Table(
            "Response",
            HEADS,
            tuple(grounds.row(i, f"if {i.when}" if i.when else "") for i in response.lines),
            WIDTHS,
        ),
    ]


def _verdicts(s, grounds):
    rows = tuple(
        grounds.row(r, i.standing, f"{i.item}: {i.verdict}. {r.text}.")
        for i in s.advice.items
        for r in i.reasons
    )
    return (
        [Heading(3, "Verdicts on kit"), Table("Verdicts on kit", HEADS, rows, WIDTHS)]
        if rows
        else []
    )


def _hazards(s, grounds):
    rows = tuple(grounds.row(h, "exists" if h.sure else "may exist") for h in s.advice.hazards)
    return (
        [
            Heading(3, "Why each hazard is listed"),
            Table("Why each hazard is listed", HEADS, rows, WIDTHS),
        ]
        if rows
        else []
    )
