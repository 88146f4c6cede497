"""Tricks by which local guidance could loosen: each is refused with its place, or the advice keeps
all that it says without it, and tells the difference.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from depth import not_quick
from strict import softened

from advisor.advise import Advisor
from advisor.cli import main
from advisor.decide.verdicts import LOOK_AGAIN, VERDICTS
from advisor.facts.vocabulary import AT_HOME, AT_THE_HEAD
from advisor.load.case import read_case
from advisor.load.folder import find_folder
from advisor.model.advice import CLEAR, CLEAR_AT_HOME, NOT_YET, SEVERITY, STOPPED
from advisor.words import quoted

CASES = find_folder("cases")
PLAN = "plan/arrival-left.yaml"
HEAD = "local guidance: Our own\nissued by: A centre (invented)\ndate: 2026-03-01\n"
BUILT_IN = Advisor()


def rule(then: str, more: str = "if: {pitch.depth: {above: 0 m}}", about: str = "plan") -> str:
    """A file's own rules: one, with these effects."""
    return f"""topic: Rules of our own
about: {about}
rules:
  - id: local.trick
    title: A rule of our own
    {more}
    then: {then}
    because: The centre says so.
    source: local-guidance
    status: read in the source
    authority: local rule
"""


LADDER = "for: {l: ladder}\n    if: {l.length: {at least: 1 m}}"
ANCHOR = "for: {a: anchor}\n    if: {a.height: {at least: -1 m}}"


# What is refused: what it tries, the file, and what the fault says.
REFUSED = {
    "the way down left to others": (
        rule("[{refer: {to: local guidance, about: 'The way down.', decision: method}}]"),
        "take a decision out",
    ),
    "the anchor left to others": (
        rule("[{refer: {to: local guidance, about: 'Anchors.', decision: ladder anchor}}]"),
        "take a decision out",
    ),
    "an interval for a known value": (
        "facts:\n  leader: {authorised depth: 1 m to 150 m}\n",
        "one",
    ),
    "several values": ("facts:\n  plan: {whistle code: [local set, none agreed]}\n", "one"),
    "a doubtful value": ("facts:\n  leader: {authorised depth: 60 m?}\n", "one"),
    "unknown for a value": ("facts:\n  leader: {authorised depth: unknown}\n", "one"),
    "the length of the line": ("facts:\n  lifeline: {length: 0 to 300 m}\n", "of the day"),
    "the air of the day": ("facts:\n  site: {air checked: yes}\n", "of the day"),
    "the water of the day": ("facts:\n  pitch: {water: dry}\n", "of the day"),
    "the weather of the day": ("facts:\n  plan: {forecast: settled}\n", "of the day"),
    "the group of the day": ("facts:\n  group: {briefed: yes}\n", "of the day"),
    "numbers approved in advance": ("facts:\n  group: {within local numbers: yes}\n", "of the day"),
    "the head of the day": ("facts:\n  pitch head: {movement seen: no}\n", "of the day"),
    "the leader of the day": ("facts:\n  leader: {fit: yes}\n", "of the day"),
    "kit examined and passed": (
        "facts:\n  ladder main: {examined by: a competent person}\n",
        "may state facts of",
    ),
    "a worked-out fact": ("facts:\n  pitch: {ladder on landing: 5 m}\n", "not a stated attribute"),
    "another name for a thing": ("facts:\n  Leader: {authorised depth: 60 m}\n", "may state"),
    "a unit of another kind": ("facts:\n  leader: {authorised depth: 60 kN}\n", "length"),
    "beyond all bounds": ("facts:\n  leader: {authorised depth: 9999 km}\n", "outside"),
    "below nought": ("facts:\n  leader: {authorised depth: -5 m}\n", "outside"),
    "a number too large to be one": ("facts:\n  leader: {authorised depth: 1e999 m}\n", "number"),
    "soundness concluded": (rule("{derive: {a.sound: yes}}", ANCHOR), "derive"),
    "any other conclusion for the better": (
        rule(
            "{derive: {incident.can be lowered: yes}}",
            "if: {incident.helpers at top: {at least: 0}}",
            "incident",
        ),
        "derive",
    ),
    "a step instead of a built-in one": (
        rule(
            "{step: {do: 'Wait and see.', instead of: [trapped.let-ladder-down]}}",
            "if: {incident.what: leg trapped in the ladder}",
            "incident",
        ),
        "instead of",
    ),
    "kit passed": (rule("{verdict: {on: l, give: keep}}", LADDER, "kit"), "keep"),
    "kit passed with a word": (
        rule("{verdict: {on: l, give: keep and watch}}", LADDER, "kit"),
        "keep",
    ),
    "a rule with the id of a built-in one": (
        rule("{warn: {text: 'All is well.', severity: note}}").replace(
            "local.trick", "tether.fixed-with-novices"
        ),
        "must begin with 'local.'",
    ),
    "one id twice": (
        rule("{warn: {text: 'All is well.', severity: note}}")
        + rule("{stop: 'Do not.'}").partition("rules:\n")[2],
        "used already",
    ),
    "a borrowed source": (
        rule("{warn: {text: 'All is well.', severity: note}}").replace(
            "source: local-guidance", "source: osha-confined-space"
        ),
        "source",
    ),
    "a borrowed authority": (
        rule("{warn: {text: 'All is well.', severity: note}}").replace(
            "authority: local rule", "authority: published standard"
        ),
        "authority",
    ),
    "another order of caution": ("vocabulary:\n  tether.form: {worse: no}\n", "not known here"),
    "other questions": ("decisions:\n  tether: {options: [none]}\n", "not known here"),
    "a calculation of its own": ("calculations: []\n", "not known here"),
    "a rule taken away": ("without: [tether.fixed-with-novices]\n", "not known here"),
    "times a tenth of what is usual": ("figures: {rigging time: 2.5 min}\n", "too far"),
    "seconds for minutes": ("figures: {overhead for each person: 18 s}\n", "too far"),
    "a margin of nothing": ("figures: {least margin before the call-out: 3 min}\n", "too far"),
    "a load that weighs nothing": ("figures: {climbing load factor: 0.5}\n", "too far"),
    "a figure without end": ("figures: {rigging time: 1e999 min}\n", "number"),
    "the same key twice": (
        "facts:\n  leader: {authorised depth: 9 m}\nfacts:\n  leader: {authorised depth: 60 m}\n",
        "twice",
    ),
    "a name borrowed by an alias": (
        "facts:\n  leader: &a {authorised depth: 60 m}\n  pitch: *a\n",
        "alias",
    ),
    "a rule left off that is not there": (
        "departures: [{from: all stops, says: They do not hold here.}]\n",
        "not a rule of the base",
    ),
    "a title that moves the cursor": ('ask: {local guidance: "\\e[2Jall is well"}\n', "shown"),
    "a line of its own": (
        'ask: {local guidance: "us\\n\\nNothing found that forbids it"}\n',
        "one line",
    ),
}


@pytest.mark.parametrize("trick", REFUSED)
def test_it_is_refused_with_its_place(trick, tmp_path, capsys):
    text, says = REFUSED[trick]
    path = tmp_path / "own.yaml"
    path.write_text(HEAD + text, "utf-8")
    assert main(["advise", str(CASES / PLAN), "--local", str(path)]) == 2
    error = capsys.readouterr().err
    assert re.match(re.escape(str(path)) + r":[1-9]\d*:[1-9]\d*: ", error), error
    assert says in error and "Traceback" not in error


@dataclass(frozen=True)
class Trick:
    """A file that is read, a case it is tried on, with settings and what is assumed, and words of
    the departure that tells of it.
    """

    text: str
    case: str = PLAN
    settings: tuple[str, ...] = ()
    tells: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()


SHORT = ("pitch.depth=12 m", "leader.authorised depth=9 m")
FIXED = ("tether.form=fixed cord",)
HELD = {
    "the ladder ruled out where the main stream is assumed": Trick(
        rule("[{rule out: {decision: method, option: lifelined ladder}}]"),
        case="method/main-stream.yaml",
        settings=("pitch.water=unknown",),
        assumed=("pitch.water=stream",),
    ),
    "every anchor ruled out": Trick(
        rule(
            "[{rule out: {decision: ladder anchor, option: a}}]",
            "for: {a: anchor}\n    if: {a.height: {at least: -1 m}}",
        ),
        case="plan/doubtful-flake.yaml",
    ),
    "a greater depth than the leader has": Trick(
        "facts:\n  leader: {authorised depth: 150 m}\n", settings=SHORT
    ),
    "a depth for a leader who did not say": Trick(
        "facts:\n  leader: {authorised depth: 150 m}\n",
        settings=("leader.authorised depth=unknown",),
    ),
    "a doubt settled": Trick(
        "facts:\n  leader: {authorised depth: 150 m}\n",
        settings=("leader.authorised depth=18 m?",),
    ),
    "a rough depth made exact": Trick(
        "facts:\n  leader: {authorised depth: 30 m}\n",
        settings=("leader.authorised depth=8 m to 40 m",),
    ),
    "an option that is ruled out, preferred": Trick(
        rule(
            "{prefer: {decision: method, option: handline or lifelined scramble,"
            " strength: should, concern: life and independent lifeline}}"
        ),
    ),
    "a fixed cord preferred": Trick(
        rule(
            "{prefer: {decision: tether, option: fixed cord, strength: should,"
            " concern: life and independent lifeline}}"
        ),
        case="plan/four-peers.yaml",
        tells=("releasable hitch", "fixed cord"),
    ),
    "all ruled out but a fixed cord": Trick(
        rule(
            "[{rule out: {decision: tether, option: releasable hitch}},"
            " {rule out: {decision: tether, option: lowering device}}]"
        ),
        case="plan/four-peers.yaml",
        tells=("releasable hitch", "fixed cord"),
    ),
    "the good anchors ruled out": Trick(
        rule(
            "{rule out: {decision: ladder anchor, option: a}}",
            "for: {a: anchor}\n    if: {a.kind: resin bolt}",
        ),
        case="plan/doubtful-flake.yaml",
    ),
    "a stop told away": Trick(
        "departures: [{from: tether.fixed-with-novices, says: It is accepted here.}]\n",
        settings=FIXED,
        tells=("It is accepted here.", "stays in force"),
    ),
    "what comes first told away": Trick(
        "departures: [{from: clothing.hair, says: Hair may hang out here.}]\n",
        settings=("group.hair and jewellery secured=no",),
        tells=("Hair may hang out", "stays in force"),
    ),
    "a contradiction told away": Trick(
        "departures: [{from: contradiction.more-novices-than-group, says: We count otherwise.}]\n",
        settings=("group.novices=60",),
    ),
    "a bad fact drawn into doubt": Trick(
        rule(
            "{contradiction: {text: 'The line cannot be so thin.',"
            " between: [lifeline.diameter, group.fatigue]}}"
        ),
        settings=("lifeline.diameter=5 mm", "group.fatigue=exhausted"),
    ),
    "a verdict that silences what must be done": Trick(
        rule("{verdict: {on: l, give: retire}}", LADDER, "kit"),
        case="kit/left-in-cave.yaml",
    ),
    "the competent person named away": Trick(
        "ask:\n  a competent person: whoever is there\n",
        settings=("anchor left ladder bolt.rating=10 kN",),
    ),
    "rigging in no time": Trick(
        "figures: {rigging time: 15 min, overhead for each person: 2 min}\n",
        settings=("plan.call-out time=13:30", "plan.rigging time=unknown"),
        tells=("rigging time", "25 min", "15 min"),
    ),
    "a light step": Trick(
        "figures: {climbing load factor: 1}\n",
        settings=("ladder main.breaking load=1.5 kN",),
        tells=("climbing load factor",),
    ),
    "a hazard called under control": Trick(
        rule(
            "{hazard: {hazard: Water on the pitch, who: nobody, controls:"
            " [{do: 'Nothing.', broken by: local.trick, met by: {pitch.depth: {above: 0 m}}}]}}"
        ),
        settings=("pitch.water=spray",),
    ),
    "a requirement against a requirement": Trick(
        rule("{require: {text: 'Leave all knots undone.', strength: must}}"),
        settings=("lifeline.stopper knot=no",),
    ),
    "a step put before the first": Trick(
        rule(
            "{step: {do: 'Wait and see.', phase: at once, before: [trapped.let-ladder-down]}}",
            "if: {incident.what: leg trapped in the ladder}",
            "incident",
        ),
        case="incident/leg-trapped-fixed-cord.yaml",
    ),
}


def looser(before, after) -> list[str]:
    """All that is said less strictly after than before."""
    found = [f"{word}: {gone}" for word, gone in _gone(before, after)]
    found += [
        f"verdict: {id}"
        for id, verdict in _verdicts(before).items()
        if VERDICTS.index(_verdicts(after).get(id, VERDICTS[0])) < VERDICTS.index(verdict)
    ]
    found += [
        f"passed: {id}"
        for id, verdict in _verdicts(after).items()
        if VERDICTS.index(verdict) < LOOK_AGAIN and id not in _verdicts(before)
    ]
    found += [
        f"chosen: {name}"
        for name, decision in after.decisions.items()
        if set(decision.chosen) & _ruled_out(before.decisions[name])
        or (before.decisions[name].standing == "stop" and decision.standing != "stop")
    ]
    go = [_caution(a.decisions["go"].choice) for a in (before, after) if "go" in a.decisions]
    return found + (["go"] if go and go[1] < go[0] else [])


def _caution(choice):
    """How cautious a word of go is; another way than a ladder before a stop alone."""
    grades = (CLEAR, CLEAR_AT_HOME, NOT_YET, "another way", STOPPED)
    return grades.index(choice if choice in grades else "another way")


def _gone(before, after):
    for word, of in {
        "stop": lambda a: a.stops,
        "first": lambda a: a.first,
        "contradiction": lambda a: a.contradictions,
        "must": lambda a: a.must("must"),
        "danger": lambda a: [w for w in a.warnings if w.severity == SEVERITY[0]],
        "caution": lambda a: [w for w in a.warnings if w.severity != SEVERITY[-1]],
        "refer": lambda a: a.refer,
        "hazard": lambda a: a.hazards,
        "question": lambda a: a.blocking,
        "check": lambda a: a.checks,
        "line": lambda a: a.response.lines if a.response else (),
    }.items():
        kept = {item.id for item in of(after)}
        yield from ((word, item.id) for item in of(before) if item.id not in kept)
    for old in before.refer:
        new = next((r for r in after.refer if r.id == old.id), None)
        if new and old.to not in new.text:
            yield "asked", old.to


def _verdicts(advice):
    return {item.id: item.verdict for item in advice.items}


def _ruled_out(decision):
    return {a.option for a in decision.alternatives if a.lost_because.startswith("ruled out")}


@not_quick
@pytest.mark.parametrize("trick", HELD)
def test_the_advice_is_as_strict_as_without_it(trick, tmp_path, capsys):
    of = HELD[trick]
    path: Path = tmp_path / "own.yaml"
    path.write_text(HEAD + of.text, "utf-8")
    local = Advisor(local_file=str(path))
    for at in (AT_HOME, AT_THE_HEAD):
        before, after = (
            a.advise(a.read(CASES / of.case, of.settings, at, of.assumed))
            for a in (BUILT_IN, local)
        )
        assert not looser(before, after) and not softened(before, after), at
    told = " ".join(d.text for d in after.local.departures)
    assert all(words in told for words in of.tells), told
    settings = [word for setting in of.settings for word in ("--set", setting)]
    settings += [word for value in of.assumed for word in ("--assume", value)]
    codes = [
        main(["advise", str(CASES / of.case), *settings, *more])
        for more in ([], ["--local", str(path)])
    ]
    assert codes[1] >= codes[0] and codes[1] in (0, 3)


INCIDENT = "incident/leg-trapped-releasable.yaml"
KINDS = {
    "stop": ("stop: {}", "plan"),
    "first": ("first: {}", "plan"),
    "contradiction": ("contradiction: {{text: {}, between: [pitch.depth, pitch.hang]}}", "plan"),
    "call now": ("call now: {}", "incident"),
    "do not": ("do not: {}", "incident"),
}


def crowd(kind: str, number: int) -> str:
    """A file whose rules add so many lines of one kind."""
    line, about = KINDS[kind]
    when = "pitch.depth: {above: 0 m}" if about == "plan" else "incident.what: rockfall"
    head, *_ = rule("X", f"if: {{{when}}}", about).partition("  - id:")
    one = rule("X", f"if: {{{when}}}", about).partition("rules:\n")[2]
    more = [
        one.replace("local.trick", f"local.n{n}").replace(
            "then: X", "then:\n      " + line.format(f'"Say line {n} of our own"')
        )
        for n in range(number)
    ]
    return HEAD + head + "".join(more)


@pytest.mark.parametrize("kind", KINDS)
def test_no_crowd_of_local_lines_pushes_built_in_ones_out_of_sight(kind, tmp_path, capsys):
    path = tmp_path / "own.yaml"
    path.write_text(crowd(kind, 6), "utf-8")
    assert main(["advise", str(CASES / PLAN), "--local", str(path)]) in (0, 3), capsys.readouterr()
    path.write_text(crowd(kind, 7), "utf-8")
    capsys.readouterr()
    assert main(["advise", str(CASES / PLAN), "--local", str(path)]) == 2
    said = capsys.readouterr().err
    assert f"at most 6 lines of '{kind}', here are 7" in said and said.count("\n") == 1


@pytest.mark.parametrize("everything", [["--all"], []])
def test_a_local_call_stands_behind_the_built_in_ones(everything, tmp_path, capsys):
    path = tmp_path / "own.yaml"
    when = "if: {incident.what: leg trapped in the ladder}"
    path.write_text(HEAD + rule('{call now: "Call the office and nobody else."}', when, "incident"))
    assert main(["advise", str(CASES / INCIDENT), *everything]) in (0, 3)
    plain = capsys.readouterr().out
    assert main(["advise", str(CASES / INCIDENT), *everything, "--local", str(path)]) in (0, 3)
    told = capsys.readouterr().out
    assert "CALL NOW" not in plain and "CALL NOW" not in told
    assert told.index("ask for cave rescue") < told.index("Do not\n")
    if "Local: Call the office" in told:
        assert told.index("Call if") < told.index("Local: Call the office")
    assert everything == [] or "Local: Call the office" in told


def test_in_a_rehearsal_a_local_call_stands_behind_the_built_in_ones(tmp_path):
    path = tmp_path / "own.yaml"
    when = "if: {incident.what: leg trapped in the ladder}"
    path.write_text(HEAD + rule('{call now: "Call the office and nobody else."}', when, "incident"))
    from advisor.drill.drill import told_response

    ours = Advisor(local_file=path)
    lines = told_response(ours.advise(ours.read(CASES / INCIDENT)).response)
    local = next(n for n, line in enumerate(lines) if "Call the office" in line)
    assert local and not lines[local].startswith("CALL NOW")
    assert lines[0].startswith("Call if")


FRIDAY = "plan/saturday.yaml"


def with_stops(path, number):
    """An advisor under local guidance that adds so many stops."""
    path.write_text(crowd("stop", number), "utf-8")
    return Advisor(local_file=path)


def test_on_the_field_card_a_local_stop_replaces_no_built_in_question(tmp_path):
    local, built_in = tmp_path / "own.yaml", tmp_path / "card.txt"
    ours = with_stops(local, 1)
    asked = BUILT_IN.advise(BUILT_IN.read(CASES / FRIDAY)).blocking[0].text
    for more in ([], ["--local", str(local)]):
        arguments = ["export", str(CASES / FRIDAY), "-o", str(built_in), "--paper", "card"]
        assert main([*arguments, "--force", *more]) == (3 if more else 0)
        card = " ".join(built_in.read_text("utf-8").split())
        assert asked in card
    assert "Local: Say line 0 of our own" in card
    assert ours.advise(ours.read(CASES / FRIDAY)).stops[0].local


def test_in_a_rehearsal_local_stops_push_out_no_built_in_question(tmp_path):
    from advisor.drill.drill import Drill

    def advice(advisor):
        """What is told once somebody has said whether to go on."""
        going = Drill(advisor, advisor.read(CASES / FRIDAY))._go()
        next(going)
        going.send("go on")
        return going.send("because").lines

    built_in = [line for line in advice(BUILT_IN) if line.startswith("  - ")]
    told = advice(with_stops(tmp_path / "own.yaml", 6))
    assert len(built_in) >= 6 and set(built_in) <= set(told)
    first_local = next(n for n, line in enumerate(told) if "Say line" in line)
    assert all(told.index(line) < first_local for line in built_in[:6])


@pytest.mark.parametrize("paper", ["card", "plan"])
def test_a_tether_that_local_guidance_rules_out_is_told_beside_the_rig(paper, tmp_path):
    """The row keeps what is built in; what rules it out stands beside it, marked."""
    local, told = tmp_path / "own.yaml", tmp_path / "paper.txt"
    ways = ("releasable hitch", "lowering device")
    out = ", ".join(f"{{rule out: {{decision: tether, option: {way}}}}}" for way in ways)
    local.write_text(HEAD + rule(f"[{out}]"), "utf-8")
    case = str(CASES / "numbers/rope-and-ladder-short.yaml")
    assert main(["export", case, "-o", str(told), "--paper", paper, "--local", str(local)]) == 3
    text = " ".join(told.read_text("utf-8").split())
    assert "How: Releasable hitch; 0.4 m from anchor" in text
    assert "Local: No way of tying the ladder is left." in text


def test_the_foot_counts_the_lines_that_local_guidance_adds(tmp_path, capsys):
    local = tmp_path / "own.yaml"
    local.write_text(crowd("stop", 2), "utf-8")
    main(["advise", str(CASES / "group/two-leaders-sound.yaml"), "--local", str(local)])
    assert "It adds lines (2), differs from what is built in (0)" in " ".join(
        capsys.readouterr().out.split()
    )


def test_a_comparison_tells_how_the_built_in_word_turns(tmp_path, capsys):
    local = tmp_path / "own.yaml"
    local.write_text(crowd("stop", 1), "utf-8")
    case = str(CASES / "group/two-leaders-sound.yaml")
    main(["compare", case, "--set", "site.access allowed=no", "--local", str(local)])
    told = " ".join(capsys.readouterr().out.split())
    assert "By the built-in rules alone, go: clear at home -> do not go on." in told


def test_a_built_in_figure_is_not_credited_to_local_guidance(tmp_path, capsys):
    """Looser figures are not used, so what was used is told with its own standing."""
    local = tmp_path / "own.yaml"
    local.write_text(HEAD + "figures:\n  climbing load factor: 1.5\n", "utf-8")
    case = str(CASES / "numbers/rope-and-ladder-short.yaml")
    main(["advise", case, "--why", "stops", "--local", str(local)])
    told = " ".join(capsys.readouterr().out.split())
    assert "climbing factor: 2.0, a trade figure: climbing load factor (common practice;" in told


def test_a_rehearsal_marks_the_facts_of_local_guidance(tmp_path):
    from advisor.drill.screens import screens

    local = tmp_path / "own.yaml"
    local.write_text(HEAD + "facts:\n  leader: {authorised depth: 30 m}\n", "utf-8")
    ours = Advisor(local_file=local)
    told = " ".join(" ".join(sum(screens(ours.base, ours.read(CASES / FRIDAY)), [])).split())
    assert "authorised depth = 30 m (local guidance)" in told


def test_what_guidance_calls_itself_is_never_said_in_the_voice_of_the_program(tmp_path, capsys):
    name = "the built-in rules. STOP lifted; clear at home: go down"
    assert quoted('a" b') == '"a\' b"'
    path = tmp_path / "own.yaml"
    facts = "facts:\n  leader: {authorised depth: 30 m}\n"
    path.write_text(HEAD.replace("Our own", f"'{name}'") + facts, "utf-8")
    for more in ((), ("--all",)):
        main(["advise", str(CASES / PLAN), "--local", str(path), *more])
        told = " ".join(capsys.readouterr().out.split())
        assert name in told
        assert told.count(name) == told.count(f'"{name}"'), told


def test_the_field_for_licences_is_left_to_be_checked_by_hand(tmp_path, capsys):
    path = tmp_path / "own.yaml"
    text = HEAD.replace("Our own", "All checked") + "facts:\n  leader: {authorised depth: 30 m}\n"
    path.write_text(text, "utf-8")
    out = tmp_path / "papers.md"
    assert main(["export", str(CASES / PLAN), "--local", str(path), "-o", str(out)]) == 0
    field = next(row for row in out.read_text("utf-8").split("\n") if "Licence, local rules" in row)
    assert "to be checked by hand" in field


def test_whom_guidance_names_to_be_asked_is_told_as_local(tmp_path):
    case = read_case(CASES / "accidents/a-person-for-an-anchor.yaml", BUILT_IN.base)
    to = BUILT_IN.advise(case).refer[0].to
    path = tmp_path / "own.yaml"
    path.write_text(f"{HEAD}ask:\n  {to}: whoever stands nearest\n", "utf-8")
    own = Advisor(local_file=str(path))
    advice = own.advise(read_case(CASES / "accidents/a-person-for-an-anchor.yaml", own.base))
    assert any("whoever stands nearest" in d.text for d in advice.local.departures)


def test_what_is_not_marked_as_local_stays_custom_and_no_permission(tmp_path, capsys):
    path = tmp_path / "own.yaml"
    path.write_text(HEAD + "facts:\n  leader: {authorised depth: 30 m}\n", "utf-8")
    main(["advise", str(CASES / PLAN), "--local", str(path), "--all"])
    assert "is custom, not permission" in " ".join(capsys.readouterr().out.split())


def test_a_local_line_costs_the_card_no_picture(tmp_path):
    text = "Look at the board by the door and read the rule of the centre aloud to all, once."
    path = tmp_path / "own.yaml"
    path.write_text(HEAD + rule(f"[{{require: {{text: '{text}', strength: must}}}}]"), "utf-8")
    out = tmp_path / "card.md"
    told = []
    for local in ((), ("--local", str(path))):
        main(["export", str(CASES / PLAN), "--paper", "card", *local, "-o", str(out), "--force"])
        told.append(out.read_text("utf-8"))
    assert all("*Picture: Field card*" in card for card in told)
    assert text in told[1] or "local: 1 more" in told[1]
