"""Why something must be put right is told on the screen before what would only be better."""

from pathlib import Path

import pytest
from worked import advised, program

from advisor.load.case import build_case, read_case
from advisor.load.tree import Document
from advisor.papers.one_screen.screen import shown

ROOT = Path(__file__).resolve().parents[2]
SOUND = ROOT / "cases/plan/arrival-left.yaml"
FRIDAY = ROOT / "cases/plan/saturday.yaml"


def told(advice):
    return " ".join(shown(program().base, advice, 80, False).split())


def with_facts(path, *settings):
    return program().advise(read_case(path, program().base, settings))


def incident(**facts):
    facts = {name.replace("_", " "): value for name, value in facts.items()}
    case = build_case(Document("case", {"case": "x", "given": {"incident": facts}}), program().base)
    return program().advise(case)


# What a plan of few facts must put right, and the reason for it.
REASONS = [
    (("lifeline.attachment=one twist-lock connector",), "can turn and open a twist-lock"),
    (
        ("lifeline.way=doubled from below", "lifeline.runs through=rope or cord"),
        "Moving rope melts the cord or tape",
    ),
    (("pitch head.check broken off=yes",), "left out the very step they were at"),
    (("plan.other parties=yes", "pitch.loose rock=yes"), "pulled off a block"),
]


@pytest.mark.parametrize("settings, reason", REASONS)
def test_a_full_screen_keeps_why_something_must_be_put_right(settings, reason):
    advice = with_facts(FRIDAY, *settings)
    assert advice.first
    assert reason in told(advice)


def test_it_still_fits_and_asks():
    for settings, _ in REASONS:
        lines = shown(program().base, with_facts(FRIDAY, *settings), 80, False).split("\n")[:-1]
        assert len(lines) <= 40
        assert "TELL ME; each could change this" in lines
        assert [row for row in lines if row.startswith("  2. ")]


def test_a_sound_plan_asks_and_names_its_checks_as_before():
    """Nothing is put right there, so nothing gives way to a reason."""
    sound = told(advised(SOUND))
    assert "HERE ALSO" in sound or "RIG IT LIKE THIS" in sound
    few = told(advised(FRIDAY))
    assert " 3. " in few.partition("TELL ME")[2] and "Such as: " in few


# Whatever is said in an incident without a word on who does it, or when to stop trusting it.
@pytest.mark.parametrize(
    "facts, words",
    [
        ({"what": "frozen or panicked"}, "one minds the group"),
        ({"what": "lifeline jammed or crossed"}, "Help takes hours: ask for cave rescue"),
        (
            {"what": "rockfall"},
            "More may come: nobody moves on or above the pitch, other parties too",
        ),
        (
            {"what": "climbing with no belay", "on_the_line": "no"},
            "None to be had, arms fresh: slowly to the nearer end",
        ),
        (
            {"what": "person hurt at the base", "symptom": "under water"},
            "one watches breath and cough for hours",
        ),
    ],
)
def test_an_incident_says(facts, words):
    assert words in told(incident(**facts))
