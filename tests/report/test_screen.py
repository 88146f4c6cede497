"""The answer on one screen: it fits, its first rows hold the verdict, every stop is on it, what a
plan's own facts bring stands before what every plan is told, and an incident before all planning.
"""

import re
from pathlib import Path

import count_common
import pytest
from depth import all_cases, many_cases, not_quick
from worked import advised, program

from advisor.facts.vocabulary import AT_HOME
from advisor.load.case import build_case, read_case
from advisor.load.folder import find_folder
from advisor.load.tree import Document
from advisor.papers.blocks import Bullets
from advisor.papers.one_screen import fit, news
from advisor.papers.one_screen.screen import screen, shown
from advisor.papers.outline import headline

ROOT = Path(__file__).resolve().parents[2]
SOUND = ROOT / "cases/plan/arrival-left.yaml"
PLANNING = (
    "RIG IT LIKE THIS",
    "THE RIG SO FAR",
    "PEOPLE",
    "EVERY PERSON",
    "STOP. Do not go on",
    "TELL ME",
)


def advice_of(path, *settings):
    if not settings:
        return advised(path)
    return program().advise(read_case(path, program().base, settings))


def given(facts, title="A pitch"):
    """The advice on some facts."""
    case = build_case(Document("case", {"case": title, "given": facts}), program().base)
    return program().advise(case)


def rows(advice, width=80):
    return shown(program().base, advice, width, False).split("\n")[:-1]


def flat(text):
    return re.sub(r"(?<=\w)- ", "-", " ".join(text.split()))


@many_cases
def test_the_answer_fits_one_screen_and_begins_with_its_verdict(path):
    for width, high in ((80, 40), (40, 60)):
        told = rows(advice_of(path), width)
        assert len(told) <= high
        assert max(map(len, told)) <= width
        assert re.match(
            r"STOP\.|NOT YET\.|NO, not by ladder|Nothing found|No stop, but|Nothing can be said"
            r"|\d+ pieces\.|[^:]+: [A-Z ]+\.|[A-Z][^.]+\. In this order",
            " ".join(told[1:3]),
        )


@not_quick
@many_cases
def test_every_stop_is_on_the_screen_whole(path):
    advice = advice_of(path)
    for width in (80, 40):
        told = flat(" ".join(rows(advice, width)))
        assert not [stop.text for stop in advice.stops if flat(stop.text) not in told]
        layout = program().base.screen
        assert (layout.caution_in_need if advice.response else layout.caution) in told
        assert "More: --all" in told


@many_cases
def test_nothing_of_planning_stands_above_an_incident(path):
    advice = advice_of(path)
    if advice.response is None:
        return
    told = rows(advice)
    assert told[1].startswith(headline(advice)[:20])
    last = max(n for n, row in enumerate(told) if row.startswith("  1. "))
    steps = next(n for n, row in enumerate(told) if row == "Steps")
    assert last >= steps
    assert not [row for row in told[:steps] if row.startswith(PLANNING)]


@many_cases
def test_calls_do_nots_and_what_matters_at_once_are_never_left_out(path):
    advice = advice_of(path)
    if advice.response is None:
        return
    told = flat(" ".join(rows(advice)))
    phases = {r.id: e.phase for r in program().base.rules for e in r.effects if e.kind == "step"}
    at_once = [s for s in advice.response.steps if phases[s.rule] == "at once"]
    assert at_once
    wanted = [s.words for s in (*advice.response.say, *at_once)]
    deadliest = program().base.screen.deadliest
    deadly = [s for s in advice.response.do_not if s.rule in deadliest]
    deadly.sort(key=lambda s: (bool(s.when), deadliest.index(s.rule)))
    wanted += [s.words for s in deadly[:3]]
    # of calls that begin alike, each is told with its own reason
    wanted += [c.when or c.text.partition(": ")[2].removesuffix(".") for c in advice.response.calls]
    assert not [words for words in wanted if flat(words) not in told]


def test_calls_that_begin_alike_are_one_sentence():
    hung = {"what": "hanging on the lifeline", "also": "lifeline jammed or crossed"}
    stuck = {"minutes hanging": "10 min", "line runs free": False, "helpers at top": 1}
    advice = given({"incident": {**hung, **stuck}})
    head = "Call cave rescue now: "
    due = [c.text for c in advice.response.calls if c.text.startswith(head) and not c.when]
    assert len(due) > 1
    told = flat(" ".join(rows(advice)))
    assert told.count(head) == 1
    for text in due:
        assert text.removeprefix(head).removesuffix(".") in told


@many_cases
def test_nothing_is_said_twice(path):
    blocks = screen(program().base, advice_of(path), 80).blocks
    said = [line.text for b in blocks if isinstance(b, Bullets) for line in b.items]
    assert said and len(said) == len(set(said))


@many_cases
def test_paper_never_stands_above_life(path):
    base = program().base
    papers = {r.id for r in base.rules if r.topic in base.screen.paper_topics}
    papers |= set(base.screen.paper_rules)
    kinds = [n.rule in papers for n in news.news(base, advice_of(path))]
    assert kinds == sorted(kinds)


def test_stops_come_first_then_what_few_plans_have():
    """One danger more in a sound plan is the first reason; what all plans have is no reason."""
    told = rows(advice_of(SOUND, "pitch.open to the surface=yes"))
    first = next(row for row in told if row.startswith("  1. "))
    assert "Have someone guard the open top" in first
    layout = program().base.screen
    # The last row of a name is the one that every plan has, but for calls where voice fails.
    every = {row.name: row for row in layout.drill if row.name != "Calls"}
    drill = {rule for row in every.values() for rule in row.given}
    assert {layout.band(rule) for rule in drill} == {"nearly all"}
    assert not drill & {n.rule for n in news.news(program().base, advice_of(SOUND))}


def test_the_sum_of_the_ladder_is_worked_and_what_is_taken_is_named():
    told = flat(" ".join(rows(advice_of(SOUND, "ladder main.length=14 m"))))
    assert re.search(
        r"\(depth 12 m \+ run [\d.]+ m - tether out [^()]+ - bridle out 300 mm\)", told
    )
    without = given(
        {
            "pitch": {"depth": "10 m"},
            "ladder a": {"length": "10 m"},
            "pitch head": {"run to lip": "2.5 m"},
        }
    )
    told = flat(" ".join(rows(without)))
    assert "tether out 0.5 m (taken)" in told and "yours is 10 m" in told


def test_the_rig_obeys_what_stands_above_it():
    told = flat(" ".join(rows(advice_of(SOUND, "pitch.ledge=yes", "pitch.ledge depth=7 m"))))
    assert "upper part, 7 m to the ledge" in told and "of ladder to the ledge" in told
    told = flat(" ".join(rows(advice_of(SOUND, "ladder main.length=20 m"))))
    assert "bridle round both wires at a lower rung" in told and "take up the rest" in told
    told = flat(" ".join(rows(advice_of(SOUND, "pitch.water=spray"))))
    assert "ettle first how ladder and line hang out of the spray" in told
    told = flat(" ".join(rows(advice_of(SOUND, "ladder main.length=11 m"))))
    assert re.search(r"yours is 11 m: bring [\d.]+ m", told)


def test_the_verdict_names_what_is_asked_first():
    told = flat(" ".join(rows(advice_of(ROOT / "cases/plan/saturday.yaml"))))
    assert "NOT YET. See to these; answer TELL ME." in told
    bare = flat(" ".join(rows(given({"pitch": {"depth": "9 m"}}))))
    asked = bare.partition("TELL ME; each could change this 1. ")[2].partition("?")[0]
    assert asked and f"NOT YET. Not known: {asked}?" in bare


def test_what_the_rig_lacks_is_said_in_its_row():
    """A part of the rig that nobody told is named as not told, not passed over."""
    few = flat(" ".join(rows(advice_of(ROOT / "cases/plan/saturday.yaml"))))
    for words in ("cord to be named", "Anchors to be named", "device to be named"):
        assert words in few
    full = flat(" ".join(rows(advice_of(SOUND, "anchor right ladder bolt.in safety line=yes"))))
    assert (
        "A tight safety line to clip to, off the ladder's anchors; on right ladder bolt" in full
        and ": tell " not in full
    )


def test_what_is_in_order_is_said_only_of_a_plan_that_nothing_holds_back():
    refuge = ("site.flood response=fast", "site.dry refuge=yes", "site.wait provided for=yes")
    told = flat(" ".join(rows(advice_of(SOUND, *refuge))))
    assert "As told" in told and "dry refuge, proven and stocked" in told.lower()
    for worse in ("site.wait provided for=no", "site.dry refuge=yes?"):
        told = flat(" ".join(rows(advice_of(SOUND, *refuge, worse))))
        assert "proven and stocked" not in told.partition("As told")[2]
    assert "As told" not in flat(
        " ".join(rows(advice_of(SOUND, *refuge, "site.warning signs=yes")))
    )


def test_where_no_ladder_is_to_be_used_the_dangers_are_told_still():
    told = flat(" ".join(rows(advice_of(ROOT / "cases/method/reservoir-upstream.yaml"))))
    assert "NO, not by ladder" in told or "STOP." in told
    assert "Ask whoever controls the water upstream" in told and "fine weather" in told


def test_a_colleague_asks_first_what_the_plan_hangs_on():
    told = flat(" ".join(rows(advice_of(ROOT / "cases/plan/saturday.yaml"))))
    asked = told.partition("TELL ME; each could change this ")[2]
    assert asked.startswith("1. How is the lifeline worked? 2. How is the ladder held")


def test_some_of_the_checks_are_named():
    advice = program().advise(program().read(ROOT / "cases/plan/saturday.yaml", at=AT_HOME))
    assert advice.checks
    told = flat(" ".join(rows(advice)))
    named = told.partition("to be seen true at the head (--all). First: ")[2].partition(".")[0]
    layout = program().base.screen
    assert 0 < len(named.split("; ")) <= 5 and set(named.split("; ")) <= {
        *layout.look_first.values()
    }


def test_of_kit_what_is_out_of_use_comes_before_what_was_not_looked_at():
    case = ROOT / "cases/kit/glazed-cord.yaml"
    told = flat(" ".join(rows(advice_of(case, "ladder main.inspection=quick look"))))
    assert 0 < told.index("(cord: retire)") < told.index("been inspected by hand")


def test_nothing_is_kept_of_which_a_part_is_out_of_use():
    told = rows(advice_of(ROOT / "cases/kit/glazed-cord.yaml"))
    assert told[1].startswith("STOP.") and not [row for row in told if "KEEP" in row]


@pytest.mark.parametrize(
    "setting, forbidden",
    [("anchor belay left bolt.moves=yes", "elay left bolt"), ("lifeline.device=body belay", "ody")],
)
def test_the_rig_names_nothing_that_a_stop_forbids(setting, forbidden):
    def lifeline(*settings):
        told = rows(advice_of(SOUND, *settings))
        at = next(n for n, row in enumerate(told) if row.startswith(" Lifeline"))
        return " ".join(told[at : at + 3])

    assert advice_of(SOUND, setting).stops and forbidden not in lifeline(setting)
    assert "Belay left bolt and belay right bolt" in lifeline()


def test_the_rig_of_a_method_that_is_ruled_out_is_not_told():
    deep = advice_of(SOUND, "pitch.depth=60 m")
    assert "lifelined ladder" not in deep.decisions["method"].chosen
    told = rows(deep)
    assert not [row for row in told if row.startswith(("RIG", "ONCE", " Ladder", "EVERY"))]


def test_the_rig_is_not_told_while_the_whole_group_should_stay_out():
    told = rows(advice_of(SOUND, "site.water level=high or rising"))
    assert told[1].startswith("STOP.") and not [row for row in told if row.startswith(" Ladder")]


def test_a_rig_to_be_put_right_is_told_as_such():
    told = rows(advice_of(SOUND, "ladder main.length=12 m"))
    assert told[1].startswith("STOP.")
    assert any(row.startswith("ONCE THAT IS PUT RIGHT") for row in told)


def test_kit_begins_with_its_verdict_then_why_then_what_to_do():
    told = rows(advice_of(ROOT / "cases/kit/rust-film.yaml"))
    assert told[1] == "ladder main: CLEAN AND LOOK AGAIN."
    assert "Rust that brushes off (side wire): " in told[2] and "WHAT TO DO" in told


@pytest.mark.parametrize("width, high", [(30, 60), (40, 60), (60, 50), (80, 40), (100, 40)])
def test_a_narrow_screen_may_be_longer(width, high):
    assert fit.height(width) == high


def test_what_matters_least_goes_first_and_the_blank_rows_before_what_matters_more():
    def kept(rows):
        pieces = tuple(fit.Piece(f"piece {n}", rank) for n, rank in enumerate((0, 9, 5, 8)))
        sections = [fit.Section("A", pieces), fit.Section("B", (fit.Piece("last", 1),))]
        fit_rows = fit.ROWS
        fit.ROWS = (rows, rows)
        try:
            return fit.fitted((), sections, 80).written(80, False).split("\n")[:-1]
        finally:
            fit.ROWS = fit_rows

    assert kept(8) == ["A", *(f"  - piece {n}" for n in range(4)), "", "B", "  - last"]
    assert kept(7) == ["A", "  - piece 0", "  - piece 2", "  - piece 3", "", "B", "  - last"]
    assert kept(5) == ["A", "  - piece 0", "  - piece 2", "B", "  - last"]
    assert kept(1) == ["A", "  - piece 0"]


@many_cases
def test_the_first_step_of_an_incident_is_in_sight(path):
    """Who acts on the first screenful sees a step in it; a terminal has had 24 rows since the
    1970s, and some go to the prompt.
    """
    advice = advice_of(path)
    if advice.response is None:
        return
    told = rows(advice)
    steps = told.index("Steps")
    assert told[steps + 1].startswith("  1. ") and steps + 1 < 20, told[:24]
    if advice.response.do_not:
        assert len([r for r in told[told.index("Do not") : steps] if r.startswith("  - ")]) <= 3


def test_steps_are_cut_from_the_end_and_counted():
    path = ROOT / "cases/incident/unknown-everything-but-hanging.yaml"
    advice, told = advice_of(path), rows(advice_of(path))
    steps = len(advice.response.steps)
    shown_ = max(int(m[1]) for row in told if (m := re.match(r"  (\d+)\. ", row)))
    assert 0 < shown_ < steps
    assert any(f"… {steps - shown_} more steps: --all." in row for row in told)


@not_quick
def test_the_count_of_common_lines_is_up_to_date():
    """After a change of rules or cases: python tests/count_common.py"""
    kept = (find_folder("rules") / "common.yaml").read_text("utf-8")
    assert kept == count_common.counted(map(advice_of, all_cases()))


def test_what_is_to_be_done_first_is_not_asked_as_well():
    """Who shows four rungs has answered whether they can; and who has charge is told all the same,
    though something is to be put right.
    """
    untold = ("group.climbs four rungs=unknown", "group.practised=unknown")
    told = flat(" ".join(rows(advice_of(SOUND, "pitch.other way out=no", *untold))))
    assert "Have everyone show you four rungs" in told and "climb four rungs unaided?" not in told
    assert "Charge Two leaders with one at each end." in told
