"""Published sound practice, retold as what its report says over an otherwise sound plan: none
of it is stopped, and no planned trip is sent another way.

Where the trade does not agree, a case stands here only if its practice keeps the advisor's own
laws (a line for everybody, on two sound anchors).
"""

from depth import sampled, sweep
from worked import advised

from advisor.load.folder import find_folder
from advisor.load.tree import read_document

FOLDER = find_folder("cases") / "sound-practice"
NAMES = [path.stem for path in sorted(FOLDER.glob("*.yaml"))]

every_practice = sweep("name", lambda: sampled(NAMES, 5, None))


def advice_on(name):
    return advised(FOLDER / f"{name}.yaml")


def test_there_are_some():
    assert len(NAMES) >= 8


@every_practice
def test_the_source_is_named_without_an_address(name):
    source = read_document(FOLDER / f"{name}.yaml").data["retold from"]
    assert source.endswith(")") and "://" not in source and "www." not in source


@every_practice
def test_sound_practice_is_not_stopped(name):
    advice = advice_on(name)
    assert [stop.id for stop in advice.stops] == []
    if "plan" in advice.about:
        assert advice.decisions["go"].choice == "nothing found that forbids it"
