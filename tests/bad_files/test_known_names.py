"""The names that the program itself knows: one that a rule base no longer has is a fault with its
place, never an empty line in a drawing or a paper.
"""

from __future__ import annotations

import shutil

import pytest
from depth import not_quick

from advisor.advise import Advisor
from advisor.faults import Faults
from advisor.load import names as check
from advisor.load.base import read_base
from advisor.load.folder import find_folder
from advisor.model import names


@pytest.fixture(scope="module")
def base():
    return Advisor().base


def told(faults):
    return [str(fault) for fault in faults]


def test_the_shipped_rules_have_every_name(base):
    assert told(check.unknown_names(find_folder("rules"), base)) == []
    assert len(names.FACTS) > 40 and all("." in key for key in names.FACTS)


@not_quick
def test_a_renamed_fact_is_a_fault_at_its_entity(tmp_path):
    """Renamed everywhere in the rule base, so that nothing else is wrong with it."""
    folder = tmp_path / "rules"
    shutil.copytree(find_folder("rules"), folder)
    for path in folder.rglob("*.yaml"):
        text = path.read_text("utf-8")
        path.write_text(text.replace("waiting distance", "waiting space"), "utf-8")
    with pytest.raises(Faults) as raised:
        read_base(folder)
    (fault,) = raised.value.faults
    assert fault.place.file.endswith("vocabulary/pitch-head.yaml") and fault.place.line > 1
    assert fault.message.startswith("the fact 'pitch head.waiting distance' is missing;")
    assert "Did you mean" in fault.message
    (folder / "papers.yaml").unlink()
    with pytest.raises(Faults) as raised:
        read_base(folder)  # a rule base that knows incidents must have papers
    assert "papers.yaml" in str(raised.value.faults[0])


@pytest.mark.parametrize(
    "known, name, values, wanted",
    [
        ("FACTS", "pitch.lipp", (), ("vocabulary/pitch.yaml:", "fact 'pitch.lipp'", "'pitch.lip'")),
        ("FACTS", "cellar.depth", (), ("vocabulary/cellar.yaml", "entity 'cellar'", "missing")),
        (
            "FACTS",
            "pitch.landing",
            ("pond",),
            ("vocabulary/pitch.yaml:", "value of pitch.landing 'pond'", "missing"),
        ),
        ("DECISIONS", "ladder ancor", None, ("decisions.yaml:", "decision", "'ladder anchor'")),
        ("CALCULATIONS", "hang-weak", None, ("rules/calculations:", "calculation", "missing")),
    ],
)
def test_whatever_is_missing_is_told_at_its_place(base, monkeypatch, known, name, values, wanted):
    if values is None:
        monkeypatch.setattr(check, known, (name,))
    else:
        monkeypatch.setitem(check.FACTS, name, values)
    (fault,) = told(check.unknown_names(find_folder("rules"), base))
    assert all(part in fault for part in wanted), fault
