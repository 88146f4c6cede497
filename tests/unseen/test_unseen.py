"""Accidents and sound practices written up by outside hands: what is due comes, and nothing sound
is stopped. What should be said in words is scored by people; see the head of expected.yaml.
"""

from pathlib import Path

import pytest
import yaml
from worked import advised, program

from advisor.model.advice import STOPPED

HERE = Path(__file__).parent
EXPECTED = yaml.safe_load((HERE / "expected.yaml").read_text("utf-8"))
TAKEN_OUT = ("set aside for a competent person", "retire")
# Missed: it is only looked at again, where it should be set aside.
LOOKED_AT_AGAIN = {"a32-rope-from-the-car-park.yaml"}
# The stone for the ladder is left out and the ladder hung on a bolt, which the hand did not expect.
RE_RIGGED = {"a03-stone-lifted-out.yaml"}
# Whether advice was taken is not told in it, and asked; the answer no is put first.
ASKED = {"a6-09-a-shoulder-out-before.yaml": "group.medical advice"}
# Put right before going, but nothing that keeps anybody from the edge: told as a must.
MUST = {"a13x-08-ring-if-we-are-late.yaml": "call-out.means-call"}

# Slips of the hand that wrote them, which it saw itself: an angle that does not fit its legs.
SLIPS = {"s12x-03-one-says-no-and-stays.yaml": ("pitch head.angle=67",)}


def due(*kinds):
    return sorted(name for name, told in EXPECTED.items() if told["due"] in kinds)


def test_every_file_has_its_expectations():
    assert {path.name for path in HERE.glob("[as]*.yaml")} == set(EXPECTED)


@pytest.mark.parametrize("name", due("stop"))
def test_nobody_goes_on_where_a_stop_is_due(name):
    advice = advised(HERE / name)
    held = advice.stops or advice.first or advice.contradictions
    if name in RE_RIGGED:
        assert advice.decisions["ladder anchor"].chosen != ("pinched stone",)
    else:
        assert held, name


@pytest.mark.parametrize("name", due("first"))
def test_what_is_due_first_is_put_right_first(name):
    advice = advised(HERE / name)
    if name in ASKED:
        assert ASKED[name] in {question.fact for question in advice.blocking}
    elif name in MUST:
        assert MUST[name] in {r.rule for r in advice.requirements if r.strength == "must"}
    else:
        assert advice.stops or advice.first or advice.contradictions


@pytest.mark.parametrize("name", due("steps"))
def test_an_incident_has_steps(name):
    response = advised(HERE / name).response
    assert response and response.steps and response.do_not


@pytest.mark.parametrize("name", due("retire", "quarantine"))
def test_bad_kit_is_taken_out_of_use(name):
    verdicts = {item.verdict for item in advised(HERE / name).items}
    allowed = {*TAKEN_OUT, "clean and look again"} if name in LOOKED_AT_AGAIN else {*TAKEN_OUT}
    assert verdicts & allowed


@pytest.mark.parametrize("name", due("go"))
def test_sound_practice_is_neither_stopped_nor_held(name):
    advice = program().advise(program().read(HERE / name, SLIPS.get(name, ())))
    assert not (advice.stops or advice.first or advice.contradictions)
    assert "go" not in advice.decisions or advice.decisions["go"].choice != STOPPED


@pytest.mark.parametrize("name", due("keep"))
def test_sound_kit_is_not_taken_out_of_use(name):
    items = advised(HERE / name).items
    assert items and not [item for item in items if item.verdict in TAKEN_OUT]
