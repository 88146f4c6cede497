"""The built-in advice is laid over the local one, item by item: every word, its order and its
gravity stand, and what local guidance adds is marked.
"""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

import pytest
from depth import kept, not_quick
from strict import MARK, softened

from advisor.advise import Advisor
from advisor.cli import main
from advisor.drill.drill import told_response
from advisor.facts.vocabulary import AT_HOME, AT_THE_HEAD
from advisor.load.folder import find_folder
from advisor.load.local import MOST_LINES
from advisor.model.advice import NOT_YET
from advisor.papers.one_screen.screen import shown
from advisor.papers.outline import headline

CASES = find_folder("cases")
HEAD = "local guidance: Rules of the hut\nissued by: A hut (invented)\ndate: 2026\n"
LOWER = "incident/unconscious-lower.yaml"
CORD = "incident/leg-trapped-fixed-cord.yaml"
SENSELESS = "if: {incident.what: unconscious on the lifeline}"
DEEP = "if: {pitch.depth: {at least: 0 m}}"
ELSEWHERE = "another way or no pitch"


def rules(about, *then):
    """Rules of one file, each (its conditions, what it brings about)."""
    head = f"topic: Rules of the hut\nabout: {about}\nrules:\n"
    return head + "".join(
        f"""  - id: local.r{n}
    title: Rule {n} of the hut
    {when}
    then: {effects}
    because: The hut has it so.
    source: local-guidance
    status: common practice
"""
        for n, (when, effects) in enumerate(then)
    )


def step(more, text="Sign the hut book."):
    return rules("incident", (SENSELESS, f"{{step: {{do: {text}, {more}}}}}"))


def out(option, decision="method"):
    return f"{{rule out: {{decision: {decision}, option: {option}}}}}"


class Trick(NamedTuple):
    text: str
    cases: tuple[str, ...]
    settings: tuple[str, ...] = ()


WORST = "{derive: {%s}}"
COLD = "if: {pitch.temperature: {below: 5 °C}}"
TRICKS = {
    "a step that ties two built-in ones the other way round": Trick(
        step("after: [over.write-it-down], before: [unconscious.stop-and-lock]"), (LOWER,)
    ),
    "a step before the first": Trick(
        step("phase: at once, before: [unconscious.stop-and-lock]"), (LOWER,)
    ),
    "a late step before an early one": Trick(
        step("phase: when over, before: [unconscious.lower]"), (LOWER,)
    ),
    "a step among others": Trick(step("after: [unconscious.stop-and-lock]"), (LOWER,)),
    "a step that nothing places": Trick(step("phase: at once"), (LOWER,)),
    "the worst of a fact that nobody stated": Trick(
        rules("incident", (COLD, WORST % "incident.line in doubt: 'yes'")), (CORD, LOWER)
    ),
    "another fact like it": Trick(
        rules("incident", (COLD, WORST % "incident.can be lowered: 'no'")), (LOWER,)
    ),
    "facts of an incident called a contradiction": Trick(
        rules(
            "incident",
            (
                "if: {incident.people below: {at least: 1}}",
                "{contradiction: {text: The base is not clear., between: [incident.base safe]}}",
            ),
        ),
        (LOWER,),
    ),
    "facts of a plan called a contradiction": Trick(
        rules(
            "plan",
            (
                DEEP,
                "{contradiction: {text: Measure again., between: [pitch head.angle,"
                " pitch.depth, group.size]}}",
            ),
        ),
        ("plan/wide-angle.yaml", "plan/saturday.yaml", "method/by-pass.yaml"),
    ),
    "no way left but down": Trick(
        rules("plan", (DEEP, out(ELSEWHERE))),
        (
            "method/by-pass.yaml",
            "anchors/loose-nut.yaml",
            "method/deep-with-novices.yaml",
            "method/spray-long.yaml",
        ),
    ),
    "all ways out but a handline": Trick(
        rules(
            "plan",
            (DEEP, out(ELSEWHERE)),
            (DEEP, out("lifelined ladder")),
            (DEEP, out("rope ascent by the trained")),
        ),
        ("anchors/loose-nut.yaml", "method/by-pass.yaml"),
    ),
    "codes laid down": Trick(
        "facts:\n  plan: {whistle code: local set, rating scale: five by five}\n",
        ("plan/saturday.yaml", "plan/arrival-left.yaml"),
    ),
    "the way out preferred": Trick(
        rules(
            "plan",
            (
                DEEP,
                f"{{prefer: {{decision: method, option: {ELSEWHERE}, strength: should,"
                " concern: life and independent lifeline}}",
            ),
        ),
        ("plan/saturday.yaml", "plan/late-at-the-pitch.yaml"),
    ),
    "anchors called bad": Trick(
        rules("plan", ("for: {x: anchor}\n    " + DEEP, WORST % "x.sound: 'no'")),
        ("plan/saturday.yaml", "anchors/loose-nut.yaml"),
    ),
    "people quicker than usual": Trick(
        "figures:\n  overhead for each person: 1.5 min\n",
        ("plan/twelve-cubs.yaml", "plan/spray-and-a-long-queue.yaml"),
    ),
    "people slower than usual": Trick(
        "figures:\n  overhead for each person: 6 min\n",
        ("plan/twelve-cubs.yaml", "plan/spray-and-a-long-queue.yaml", "plan/saturday.yaml"),
    ),
    "a longer wait held to be harmless": Trick(
        "figures:\n  standing time dry: 40 min\n", ("plan/saturday.yaml",)
    ),
    "a stated angle called wrong": Trick(
        rules("plan", (DEEP, WORST % "pitch head.stated angle fits: 'no'")),
        ("plan/wide-angle.yaml",),
    ),
    "things first that nothing else gets past": Trick(
        rules("plan", (DEEP, "{first: Ring the hut.}")),
        ("method/by-pass.yaml", "plan/saturday.yaml"),
    ),
    "a worse verdict": Trick(
        rules(
            "kit",
            (
                "for: {x: ladder}\n    if: {x.clean: ['yes', 'no']}",
                "{verdict: {on: x, give: retire}}",
            ),
        ),
        ("kit/weeping-ferrule.yaml",),
    ),
    "a thing not to do in the words of a built-in one": Trick(
        rules(
            "incident",
            (
                SENSELESS,
                "{do not: 'Do not leave the belay until the line is locked, backed up and"
                " watched.'}",
            ),
        ),
        (LOWER,),
    ),
    "whoever is to be asked, told to be nobody": Trick(
        "ask: {local guidance: 'nobody; it is settled, carry on'}\n",
        ("plan/saturday.yaml", CORD),
    ),
    "a control of a hazard that is to be kept": Trick(
        rules(
            "plan",
            (
                DEEP,
                "{hazard: {hazard: A flag., who: everyone, controls: [{do: Look up.,"
                " asked by: local.r0}]}}",
            ),
        ),
        ("plan/saturday.yaml",),
    ),
}
BUILT_IN = cache(Advisor)


def found(name):
    return next(CASES.rglob(name.rpartition("/")[2]))


@kept
def _plain(path, settings, at):
    by = BUILT_IN()
    return by.advise(by.read(path, settings, at))


def both(tmp_path, text, case, settings=(), at=AT_THE_HEAD):
    """(what is advised without, what is advised with, the advisor with)"""
    path = tmp_path / "own.yaml"
    path.write_text(HEAD + text, "utf-8")
    local = Advisor(local_file=str(path))
    return (
        _plain(found(case), settings, at),
        local.advise(local.read(found(case), settings, at)),
        local,
    )


@not_quick
@pytest.mark.parametrize("trick", TRICKS)
def test_what_is_built_in_stands_word_for_word(trick, tmp_path):
    of = TRICKS[trick]
    path = tmp_path / "own.yaml"
    path.write_text(HEAD + of.text, "utf-8")
    local = Advisor(local_file=str(path))
    for case in of.cases:
        for at in (AT_HOME, AT_THE_HEAD):
            before = _plain(found(case), of.settings, at)
            after = local.advise(local.read(found(case), of.settings, at))
            assert not softened(before, after), (case, at)


def _told(advice):
    return " | ".join(d.text for d in advice.local.departures)


@not_quick
def test_a_step_that_would_reorder_is_told_and_stands_behind(tmp_path):
    text = step("after: [over.write-it-down], before: [unconscious.stop-and-lock]")
    before, after, _ = both(tmp_path, text, LOWER)
    steps = [s.text for s in after.response.steps]
    own = f"{MARK}Sign the hut book."
    written = next(s.text for s in before.response.steps if s.rule == "over.write-it-down")
    assert steps.index(own) == steps.index(written) + 1
    assert "Sign the hut book." in _told(after) and "order" in _told(after)


@not_quick
def test_a_step_stands_where_it_asks_to_between_built_in_ones(tmp_path):
    before, after, _ = both(tmp_path, step("after: [unconscious.stop-and-lock]"), LOWER)
    at = [s.rule for s in after.response.steps].index("local.r0")
    behind = [s.rule for s in after.response.steps[:at]]
    assert "unconscious.stop-and-lock" in behind and not after.local.departures
    text = step("before: [unconscious.lower]")
    _, after, _ = both(tmp_path, text, LOWER)
    told = [s.rule for s in after.response.steps]
    assert 0 < told.index("local.r0") < told.index("unconscious.lower")


@not_quick
def test_leaving_no_way_but_down_changes_nothing_on_the_screen(tmp_path):
    before, after, local = both(tmp_path, rules("plan", (DEEP, out(ELSEWHERE))), "by-pass.yaml")
    plain, screen = shown(BUILT_IN().base, before), shown(local.base, after)
    assert plain.splitlines()[:4] == screen.splitlines()[:4] and "NO, not by ladder" in screen
    assert ELSEWHERE in _told(after)


@not_quick
def test_something_first_does_not_turn_no_into_not_yet(tmp_path):
    text = rules("plan", (DEEP, "{first: Ring the hut.}"))
    before, after, local = both(tmp_path, text, "by-pass.yaml")
    assert "NO, not by ladder" in shown(local.base, after)
    assert after.decisions["go"].choice == before.decisions["go"].choice


@not_quick
def test_a_local_choice_among_what_is_allowed_is_told_on_the_screen(tmp_path):
    text = rules("plan", (DEEP, out("releasable hitch", "tether")))
    planned = ("tether.form=lowering device",)
    before, after, local = both(tmp_path, text, "four-peers.yaml", planned, at=AT_HOME)
    assert before.decisions["tether"].choice != after.decisions["tether"].choice
    screen = " ".join(shown(local.base, after).split())
    assert "Built in, tether comes to: releasable hitch" in screen
    assert "Built in, tether comes to: releasable hitch" in _told(after)


@not_quick
def test_what_is_ruled_out_is_planned_anew_and_never_put_another_way(tmp_path):
    """No rule has looked at the line from below, which this plan has not; it would be too short."""
    text = rules("plan", (DEEP, out("direct belay from the top", "lifeline way")))
    short = ("lifeline.length=26 m",)
    before, after, local = both(tmp_path, text, "arrival-left.yaml", short)
    assert after.decisions["lifeline way"].choice == before.decisions["lifeline way"].choice
    assert [item.text for item in after.first if item.local] == [
        "Local: Plan lifeline way anew: direct belay from the top is ruled out; left is doubled"
        " line worked from below. Ask again."
    ]
    assert after.decisions["go"].choice == NOT_YET
    planned = (*short, "lifeline.way=doubled from below")
    _, after, _ = both(tmp_path, text, "arrival-left.yaml", planned)
    assert any("too short" in stop.text for stop in after.stops)


LIMITED = {"stops", "things first", "calls", "things not to do"}  # more are refused
CROWDING = {
    "stops": "{stop: 'Do not %s%s.'}",
    "things first": "{first: 'Put right %s%s.'}",
    "musts": "{require: {text: 'Do %s%s.', strength: must}}",
    "dangers": "{warn: {text: 'Mind %s%s.', severity: danger}}",
}


@not_quick
@pytest.mark.parametrize("crowd", CROWDING)
@pytest.mark.parametrize(
    "about, case", [("plan", "saturday.yaml"), ("plan", "twelve-cubs.yaml"),
                    ("plan", "lower-together.yaml"), ("kit", "weeping-ferrule.yaml")],
)  # fmt: skip
def test_no_crowd_pushes_a_line_off_the_screen_of_a_plan_or_of_kit(about, case, crowd, tmp_path):
    long = " look at the book that hangs in the hut by the door where all may read it" * 3
    holds = DEEP if about == "plan" else "for: {l: ladder}\n    if: {l.length: {at least: 1 m}}"
    number = MOST_LINES if crowd in LIMITED else 20
    text = rules(about, *((holds, CROWDING[crowd] % (n, long)) for n in range(number)))
    before, after, local = both(tmp_path, text, case, at=AT_HOME)
    plain, screen = shown(BUILT_IN().base, before), shown(local.base, after)
    title, told = plain.split("\n", 1)
    verdict, body = told.partition("  1. ")[::2]
    kept = body.partition("In an emergency")[0]
    for part in (verdict, kept):
        assert " ".join(part.split()) in " ".join(screen.split()), part
    assert "LOCAL GUIDANCE" in screen and screen.count("\n") <= plain.count("\n") + 22


def _lines(screen):
    return {re.sub(r"^\s*\d+\.\s*", "", line).strip() for line in screen.splitlines()}


CROWDS = {
    "things not to do": "{do not: 'Do not %s%s.'}",
    "calls": "{call now: 'Ring %s%s.'}",
    "steps": "{step: {do: 'Go and %s%s.', phase: at once}}",
    "stops": "{stop: 'Do not %s%s.'}",
    "things said": "{say: 'We %s%s.'}",
}


@not_quick
@pytest.mark.parametrize("crowd", CROWDS)
@pytest.mark.parametrize("case", [LOWER, CORD])
@pytest.mark.parametrize("width", [40, 80])
def test_no_crowd_pushes_a_built_in_line_off_the_screen(crowd, case, width, tmp_path):
    long = " look at the book that hangs in the hut" * 4
    any_ = "if: {incident.what: [unconscious on the lifeline, leg trapped in the ladder]}"
    text = rules(
        "incident",
        *((any_, CROWDS[crowd] % (n, long)) for n in range(MOST_LINES if crowd in LIMITED else 30)),
    )
    before, after, local = both(tmp_path, text, case)
    plain, screen = shown(BUILT_IN().base, before, width), shown(local.base, after, width)
    title = plain.splitlines()[0]
    lost = _lines(plain) - _lines(screen) - {title.strip(), ""}
    assert not lost, lost
    assert screen.count("\n") <= plain.count("\n") or screen.count("\n") <= (
        60 if width == 40 else 40
    )
    assert "local guidance" in screen.splitlines()[0].lower()


@not_quick
def test_the_line_on_its_use_costs_no_step(tmp_path):
    before, after, local = both(tmp_path, "", LOWER)
    plain, screen = shown(BUILT_IN().base, before), shown(local.base, after)
    assert not _lines(plain) - _lines(screen) - {plain.splitlines()[0].strip()}


@not_quick
def test_what_is_asked_can_grow_graver_and_bars(tmp_path):
    text = rules("plan", ("if: {plan.whistle code: {is: unknown}}", "{stop: Agree the code.}"))
    text = text.replace("{is: unknown}", "none agreed")
    before, after, _ = both(
        tmp_path, text, "saturday.yaml", settings=("plan.whistle code=unknown",)
    )
    asked = [
        next(q for q in a.open_questions if q.fact == "plan.whistle code") for a in (before, after)
    ]
    assert [q.gravity for q in asked][1] == "stop" and asked[0].gravity != "stop"
    assert any(text.startswith(MARK) for text in asked[1].could)


@not_quick
def test_a_worse_verdict_keeps_the_built_in_reasons_and_is_told(tmp_path):
    text = TRICKS["a worse verdict"].text
    before, after, local = both(tmp_path, text, "weeping-ferrule.yaml")
    (item,) = [i for i in after.items if i.id == before.items[0].id]
    assert item.verdict == "retire" and before.items[0].verdict != "retire"
    assert item.reasons[: len(before.items[0].reasons)] == before.items[0].reasons
    assert "retire" in _told(after)
    assert "retire" in shown(local.base, after).lower()


@not_quick
def test_local_words_are_marked_beside_the_stop_that_stays(tmp_path):
    say = "Go on, the stops are lifted for members."
    text = rules("plan", (DEEP, f"{{require: {{text: '{say}', strength: must}}}}"))
    settings = ("tether.form=fixed cord",)
    before, after, local = both(tmp_path, text, "arrival-left.yaml", settings)
    assert after.stops == before.stops and before.stops
    screen = " ".join(shown(local.base, after).split())
    assert say not in screen.replace(f"{MARK}{say}", "")
    assert f"{MARK}{say}" in [r.text for r in after.requirements]


@not_quick
def test_a_crowd_of_steps_leaves_every_first_step_in_the_papers_and_the_rehearsal(tmp_path):
    text = rules("incident", *((SENSELESS, CROWDS["steps"] % (n, " x")) for n in range(30)))
    before, after, local = both(tmp_path, text, LOWER)
    told = [re.sub(r"^\d+\. ", "", line) for line in told_response(after.response)]
    assert all(s.words in told for s in before.response.steps if not s.when)
    papers = [
        export(made, case, tmp_path)
        for made, case in (([], LOWER), (["--local", str(tmp_path / "own.yaml")], LOWER))
    ]
    for n in range(8):
        step = before.response.steps[n].words
        assert all(step in paper for paper in papers), step


def export(more, case, tmp_path):
    out = tmp_path / "out.txt"
    assert main(["export", str(found(case)), "-o", str(out), "--force", *more]) in (0, 3)
    return " ".join(out.read_text("utf-8").split())


@not_quick
def test_local_musts_stand_behind_what_stands_out_by_the_built_in_rules(tmp_path):
    musts = ((DEEP, f"{{require: {{text: Do thing {n}., strength: must}}}}") for n in range(9))
    before, after, local = both(tmp_path, rules("plan", *musts), "saturday.yaml", at=AT_HOME)
    plain, screen = (
        [line for line in text.splitlines() if re.match(r"\s+\d+\. ", line)]
        for text in (shown(BUILT_IN().base, before), shown(local.base, after))
    )
    reasons = next(n for n, line in enumerate(plain) if n and line.strip().startswith("1. "))
    assert reasons and plain[:reasons] == screen[:reasons]


@not_quick
def test_a_local_contradiction_leaves_the_word_on_what_comes_first(tmp_path):
    text = TRICKS["facts of a plan called a contradiction"].text
    before, after, local = both(tmp_path, text, "twelve-cubs.yaml")
    assert headline(before) == headline(after) and after.contradictions and before.first


REFUSED = {
    "a step after itself": (
        step("after: [local.r0]"),
        "circle",
    ),
    "two steps after each other": (
        rules(
            "incident",
            (SENSELESS, "{step: {do: Do one., after: [local.r1]}}"),
            (SENSELESS, "{step: {do: Do two., after: [local.r0]}}"),
        ),
        "circle",
    ),
    "a step before and after one built in": (
        step("after: [unconscious.haul], before: [unconscious.haul]"),
        "circle",
    ),
    "a step after a rule that is not there": (step("after: [no.such-rule]"), "no.such-rule"),
    "a step before a rule that has no step": (step("before: [belay.angle-120]"), "step"),
    "a control of a rule that is not there": (
        rules(
            "plan",
            (
                DEEP,
                "{hazard: {hazard: A flag., who: all, controls: [{do: Look., asked by: no.such}]}}",
            ),
        ),
        "no.such",
    ),
    "a control broken by a rule that is not there": (
        rules(
            "plan",
            (
                DEEP,
                "{hazard: {hazard: A flag., who: all, controls: [{do: Look.,"
                " broken by: no.such}]}}",
            ),
        ),
        "no.such",
    ),
    "a fact concluded from itself": (
        rules("plan", ("for: {x: anchor}\n    if: {x.sound: 'no'}", WORST % "x.sound: 'no'")),
        "circle",
    ),
    "an option both preferred and ruled out": (
        rules(
            "plan",
            (DEEP, out("fixed cord", "tether")),
            (
                DEEP,
                "{prefer: {decision: tether, option: fixed cord, strength: should,"
                " concern: rescue and release}}",
            ),
        ),
        "both",
    ),
    "one built-in rule departed from twice": (
        "departures:\n  - {from: tether.fixed-with-novices, says: Accepted here.}\n"
        "  - {from: tether.fixed-with-novices, says: Not accepted here.}\n",
        "twice",
    ),
    "rules without a topic": (
        rules("plan", (DEEP, "{stop: Do not go.}")).partition("\n")[2],
        "topic",
    ),
    "a figure as a range": ("figures:\n  overhead for each person: 1 min to 2 min\n", "one number"),
    "a stated fact concluded": (
        rules("plan", (DEEP, WORST % "pitch.water: dry")),
        "stated by people",
    ),
    "facts of a thing of which none is laid down": (
        "facts:\n  anchor left: {kind: resin bolt}\n",
        "leader, plan",
    ),
    "a topic with a line of its own": (
        rules("plan", (DEEP, "{stop: Do not go.}")).replace(
            "topic: Rules of the hut", 'topic: "Rules\\n\\nGO ON."'
        ),
        "one line",
    ),
    "a sign that nobody sees": ('ask: {local guidance: "the\\u200bhut"}\n', "plain"),
}


@pytest.mark.parametrize("fault", REFUSED)
def test_it_is_one_clear_sentence_with_its_place(fault, tmp_path, capsys):
    text, says = REFUSED[fault]
    path = tmp_path / "own.yaml"
    path.write_text(HEAD + text, "utf-8")
    assert main(["advise", str(found(LOWER)), "--local", str(path)]) == 2
    error = capsys.readouterr().err
    assert error.count("\n") == 1 and says in error, error
    place = re.match(re.escape(str(path)) + r":(\d+):(\d+): ", error)
    assert place and int(place[1]) > 3, error
    assert "in the vocabulary" not in error and "group, incident" not in error


@pytest.mark.parametrize(
    "date",
    [
        "2026-13-45",
        '""',
        '"2026\\n\\nGO ON."',
        "soon",
        "2026-02-30",
        '"2026\\u200b"',
        '"' + "9" * 999 + '"',
    ],
)
def test_a_date_is_a_date(date, tmp_path, capsys):
    path = tmp_path / "own.yaml"
    path.write_text(HEAD.replace("2026", date), "utf-8")
    assert main(["advise", str(found(LOWER)), "--local", str(path)]) == 2
    error = capsys.readouterr().err
    assert error.startswith(f"{path}:3:") and error.count("\n") == 1 and len(error) < 300


DOORS = {
    "advise": ["advise", LOWER],
    "compare": ["compare", "saturday.yaml", "--set", "group.size=3"],
    "chat": ["chat", "saturday.yaml"],
    "drill": ["drill", "saturday.yaml"],
    "export": ["export", "saturday.yaml", "-o", "x.md"],
}


@pytest.mark.parametrize("door", DOORS)
@pytest.mark.parametrize("given", [["", None], [None, None], ["-", None], [" ", None]])
def test_guidance_is_given_once_and_by_a_name(door, given, tmp_path, capsys):
    path = tmp_path / "own.yaml"
    path.write_text(HEAD, "utf-8")
    names = [str(path) if name is None else name for name in given]
    names = names[:1] if given[0] is not None else names
    command, case, *more = DOORS[door]
    local = [word for name in names for word in ("--local", name)]
    with pytest.raises(SystemExit) as ended:
        main([command, str(found(case)), *more, *local])
    error = capsys.readouterr().err
    assert ended.value.code == 2 and "--local" in error and "Traceback" not in error
    assert not (tmp_path / "x.md").exists()
