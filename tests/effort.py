"""How many answers a leader must give: python tests/effort.py [--told] [--write] [PLAN ...]

A leader who knows a whole sound plan (tests/effort.yaml) opens with what one says of one's own
accord, then answers exactly what is asked, in typed lines through the real conversation: at home
until it is clear, then at the head until nothing is found that forbids it. Counted are the lines
typed, and the questions that should not have been put: of what follows from facts already told
(implied), of what makes no sense beside them (absurd), put again after a good answer (repeated), of
a later moment than the one asked at (later), and answers not taken (missed).
"""

from __future__ import annotations

import argparse
import itertools
import sys
import tempfile
from collections import Counter
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from advisor.advise import Advisor  # noqa: E402
from advisor.chat import faces  # noqa: E402
from advisor.chat.session import Session  # noqa: E402
from advisor.chat.turn import Reply, take  # noqa: E402
from advisor.facts.values import read_fact  # noqa: E402
from advisor.facts.vocabulary import AT_THE_HEAD  # noqa: E402
from advisor.facts.world import KNOWN  # noqa: E402
from advisor.faults import Place  # noqa: E402
from advisor.load.case import read_case  # noqa: E402
from advisor.load.tree import read_document  # noqa: E402
from advisor.model.advice import CLEAR, CLEAR_AT_HOME  # noqa: E402
from advisor.records.desk import Desk  # noqa: E402
from advisor.records.store import Store  # noqa: E402

PLANS = ROOT / "tests/effort.yaml"
SHOWN, SAMPLE = "arrival-left", ROOT / "tests/samples/talk-effort.txt"
KIT_TYPES = {"ladder": "ladder", "lifeline": "rope", "tether": "cord"}
SEEN, TRIP = date(2026, 11, 20), date(2026, 11, 27)
MOST = 200  # lines, after which a leader gives up
WRONG = ("implied", "absurd", "repeated", "later", "missed")


class Plan(NamedTuple):
    """A plan as its leader knows it: {(entity, key): words}, what is said of it first, and what
    stands on cards.
    """

    opening: list[str]
    facts: dict
    cards: dict  # what stands on cards: role -> mark


@dataclass
class Run:
    """What a conversation came to; `lines` are those typed, with the replies, in their order."""

    at_home: int = 0
    at_the_head: int = 0
    screen: int = 0
    clear: str = ""
    lines: list[tuple[str, Reply]] = field(default_factory=list)
    wrong: Counter = field(default_factory=Counter)
    what: list[str] = field(default_factory=list)  # what was wrong, in words


def plans(base) -> dict[str, Plan]:
    """The plans of effort.yaml by their names."""
    data = read_document(PLANS).data
    return {name: _plan(base, spec, data["also known"]) for name, spec in data["plans"].items()}


def _plan(base, spec, also) -> Plan:
    known = {}
    for path in spec["knows"]:
        known |= {r: f.text for r, f in read_case(ROOT / "cases" / path, base).facts.items()}
    called = dict(spec["called"])
    renamed = any(talk.startswith("anchor ") for talk in called)
    facts = {r: words for r, words in known.items() if not (renamed and r[0].startswith("anchor "))}
    for talk, name in called.items():
        facts |= {(talk, key): words for (entity, key), words in known.items() if entity == name}
        facts |= {(talk, key): words for (entity, key), words in known.items() if entity == talk}
    for key, words in also.items():
        kind = key.partition(".")[0]
        facts |= {(e, key): words for e, _ in known if base.vocabulary.split(e)[0].name == kind}
    opening = spec["opening"]
    lines = opening if isinstance(opening, list) else [opening]
    return Plan(lines, facts, spec.get("cards", {}))


def desk_with(advisor, plan: Plan, folder: Path) -> Desk:
    """A desk with the cards of a plan, each with what may stand on it, seen a week before."""
    sound = read_document(PLANS).data["sound kit"]
    ticks = itertools.count()
    store = Store(folder / "cards.sqlite", lambda: str(next(ticks)))
    desk = Desk(advisor, store, SEEN)
    for role, mark in plan.cards.items():
        kind = role if role in desk.layout.kinds else "kit"
        type_ = KIT_TYPES.get(role, "")
        things = desk.layout.things_of(type_) if type_ else desk.layout.kinds[kind]
        facts = {}
        for (entity, key), words in plan.facts.items():
            attribute = advisor.base.vocabulary.by_key[key]
            if attribute.entity in things and desk.layout.holds(kind, attribute):
                thing = attribute.entity if kind == "kit" else entity
                facts[f"{thing}.{attribute.name}"] = words
        if type_:
            own = "ladder" if type_ == "ladder" else "kit"
            known = advisor.base.vocabulary.entities[own].attributes
            told = {
                f"{own}.{name}": words
                for name, words in sound["facts"].items()
                if name in known and desk.layout.holds(kind, known[name])
            }
            days = {name: date.fromisoformat(day) for name, day in sound["dates"].items()}
            desk.begin(mark, kind, type_, {**told, **facts}, days)
            every = {**told, **facts}
            of_examination = {k: w for k, w in every.items() if _until_examined(desk, k)}
            desk.happened([mark], sound["events"], {"facts": of_examination})
        else:
            desk.begin(mark, kind, type_, facts, {})
    return desk.on(TRIP)


def _until_examined(desk: Desk, name: str) -> bool:
    """Whether an examination has to say it again."""
    return desk.advisor.base.vocabulary.by_key[name].stands == "until examined"


class Leader:
    """Answers what was asked last, from what is known of the plan."""

    def __init__(self, session: Session, plan: Plan):
        self.session, self.plan, self.run = session, plan, Run()
        self.answered: set = set()
        self.base = session.advisor.base

    def go(self) -> Run:
        for line in self.plan.opening:
            self.say(line, of_its_own=True)
        self.until(CLEAR_AT_HOME)
        self.run.at_home = len(self.run.lines)
        told = take(self.session, "what should I do")
        self.run.screen = faces.shown(faces.lines_of(told), 80).count("\n")
        if self.choice == CLEAR_AT_HOME:
            self.say("at the head")
            self.until(CLEAR)
            self.run.at_the_head = len(self.run.lines) - self.run.at_home - 1
        self.run.clear = self.choice
        return self.run

    @property
    def choice(self) -> str:
        return self.session.advice.decisions["go"].choice

    def until(self, choice):
        while self.choice != choice and len(self.run.lines) < MOST:
            line = self.answer()
            if line is None:
                return
            self.say(line)

    def say(self, line, of_its_own=False):
        """Type a line, as an answer or of one's own accord."""
        asked = [] if of_its_own else self.asked()
        self.run.lines.append((line, take(self.session, line)))
        unclear = self.run.lines[-1][1].unclear
        if unclear:
            self.note("missed", f"{line!r}: {unclear}")
        taken = [r for r in asked if r in self.session.said]
        self.answered.update(taken)
        if line not in ("skip", "at the head") and not unclear and asked and not taken:
            self.note("missed", f"{line!r} to {asked}")
        for ref in self.asked():
            self.judge(*ref)

    def asked(self) -> list:
        """The facts that are being asked for."""
        session = self.session
        lone = [session.question] if session.question and session.question[0] else []
        return [*lone, *(ref for line in session.read_out for ref in line)]

    def answer(self) -> str | None:
        """The next line to type; None when nothing is asked."""
        session = self.session
        if session.choosing:
            return self.which()
        if session.read_out:
            bad = [n for n, line in enumerate(session.read_out, 1) if not self.so(line)]
            return f"all but {', '.join(map(str, bad))}" if bad else "all"
        if not session.question:
            return None
        entity, key = session.question
        if not entity:
            return self.named(key)
        return self.words(entity, key)

    def named(self, kind) -> str:
        """A thing of a kind, told as one tells of it."""
        of = [(e, k, w) for (e, k), w in self.plan.facts.items() if e.split()[0] == kind]
        entity, key, words = next(i for i in of if i[1] in NAMED_BY)
        return f"{entity} {self.base.vocabulary.attribute(key).name}: {words}"

    def words(self, entity, key) -> str:
        words = self.plan.facts.get((entity, key), "skip")
        if self.base.vocabulary.attribute(key).type != "time":
            return words
        return f"{words} am" if int(words.partition(":")[0]) < 12 else words

    def which(self) -> str:
        """The numbers of the things that were read out of which it is so."""
        so = [
            str(n)
            for n, refs in enumerate(self.session.read_out, 1)
            if self.plan.facts.get(refs[0]) == "yes"
        ]
        return " and ".join(so) or "none"

    def so(self, line) -> bool:
        """Whether a line that was read out holds, of everything that it speaks of."""
        return all(self.well(*ref) for ref in line)

    def well(self, entity, key) -> bool:
        """Whether a fact that is known is among the answers that are well."""
        attribute, words = self.base.vocabulary.attribute(key), self.plan.facts.get((entity, key))
        if words is None or attribute.sound is None:
            return False
        value = read_fact(attribute, entity, words, {}, "", Place(""))[0].value
        if attribute.is_choice:
            return not value & ~attribute.sound
        return attribute.sound[0] <= value[0] and value[1] <= attribute.sound[1]

    def judge(self, entity, key):
        """Count a question that should not have been put."""
        session, fact = self.session, f"{entity}.{key.partition('.')[2]}"
        attribute = self.base.vocabulary.attribute(key)
        world = session.run().outcome.world
        if (entity, key) in self.answered and (entity, key) not in session.to_ask:
            self.note("repeated", fact)
        if attribute.on_the_spot and session.at != AT_THE_HEAD:
            self.note("later", fact)
        if world.states.get((entity, key)) == KNOWN:
            self.note("implied", fact)
        for of, sources in FOLLOWS.items():
            if key == of and all(source in self.plan.facts for source in sources):
                self.note("implied", f"{fact} (from {', '.join(s[1] for s in sources)})")
        for of, (ref, values) in MEANS_NOTHING.items():
            said = session.case().facts.get((entity if ref[0] == "same" else ref[0], ref[1]))
            if key == of and said is not None and said.text in values:
                self.note("absurd", f"{fact} ({ref[1]}: {said.text})")

    def note(self, kind, words):
        self.run.wrong[kind] += 1
        self.run.what.append(f"{kind}: {words}")


NAMED_BY = ("ladder.length", "lifeline.length", "anchor.kind", "leader.number")
# What is worked out, and from what; a leader who knows those is asked for those.
FOLLOWS = {
    "plan.margin before call-out": [
        ("plan", "plan.turn time"),
        ("plan", "plan.call-out time"),
        ("plan", "plan.walk out"),
    ],
    "plan.people in all": [("group", "group.size"), ("leader", "leader.number")],
    "plan.longest wait": [("group", "group.size"), ("pitch", "pitch.depth")],
    "plan.time budget": [("plan", "plan.start"), ("plan", "plan.turn time")],
    "plan.smallest user limit": [("ladder main", "ladder.rating")],
    "group.children": [("group", "group.youngest")],
}
_BOLTS = ("resin bolt", "expansion bolt")
_NATURAL = ("natural thread", "spike", "tree", "boulder")
# A question that means nothing once another fact has one of these values.
MEANS_NOTHING = {
    "group.youngest": (("group", "group.children"), ("0",)),
    "lifeline.runs through": (("lifeline", "lifeline.way"), ("from the top",)),
    "anchor.bridge": (("same", "anchor.kind"), (*_BOLTS, "spike", "tree", "boulder")),
    "anchor.bed": (("same", "anchor.kind"), (*_BOLTS, "natural thread", "spike", "tree")),
    "anchor.trunk": (("same", "anchor.kind"), (*_BOLTS, "natural thread", "spike", "boulder")),
    "anchor.examined": (("same", "anchor.kind"), (*_BOLTS, *_NATURAL)),
    "anchor.set depth": (("same", "anchor.kind"), _NATURAL),
    "ladder.matched pieces": (("same", "ladder.joins"), ("0",)),
    "site.inspection current": (("site", "site.kind"), ("cave",)),
    "plan.far exit open today": (("plan", "plan.through trip"), ("no",)),
    "plan.height to lower": (("plan", "plan.lower ladder and person together"), ("no",)),
}


def play(advisor, name) -> Run:
    """The conversation of one plan."""
    plan, session = plans(advisor.base)[name], Session(advisor)
    with tempfile.TemporaryDirectory() as folder:
        if plan.cards:
            session.desk = desk_with(advisor, plan, Path(folder))
        return Leader(session, plan).go()


def talk(run) -> str:
    """A whole conversation, as tests/samples shows one."""
    return "".join(
        f"> {line}\n{faces.shown(faces.lines_of(reply), 80)}" for line, reply in run.lines
    )


def main(arguments=None):
    reader = argparse.ArgumentParser(description="How many answers a leader must give.")
    reader.add_argument("plans", nargs="*", metavar="PLAN", help="plans of tests/effort.yaml")
    reader.add_argument("--told", action="store_true", help="every line typed and its question")
    reader.add_argument("--write", action="store_true", help="write the talk of the samples anew")
    options = reader.parse_args(arguments)
    advisor = Advisor()
    if options.write:
        SAMPLE.write_text(talk(play(advisor, SHOWN)), "utf-8")
        return
    print(f"{'plan':34}{'at home':>9}{'at head':>9}{'lines':>7}", *(f"{w:>9}" for w in WRONG))
    for name in options.plans or plans(advisor.base):
        run = play(advisor, name)
        figures = "".join(f"{run.wrong[kind]:>10}" for kind in WRONG)
        print(f"{name:34}{run.at_home:>9}{run.at_the_head:>9}{run.screen:>7}{figures}  {run.clear}")
        print("".join(f"  > {line}\n" for line in plans(advisor.base)[name].opening), end="")
        print("".join(f"  {line}\n" for line in run.what), end="")
        if options.told:
            for number, (line, reply) in enumerate(run.lines, 1):
                print(f"  {number:3} > {line}\n      {reply.question}")


if __name__ == "__main__":
    main()
