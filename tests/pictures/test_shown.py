"""rules/pictures.yaml: what is wrong with it is told with its place."""

import pytest
from worked import program

from advisor.faults import Faults
from advisor.load.folder import find_folder
from advisor.load.pictures import FILE, read_shown


def test_every_form_of_tether_is_shown():
    shown = read_shown(program().base, find_folder("rules") / FILE)
    forms = program().base.vocabulary.attribute("tether.form").values
    assert set(shown.tethers) == set(forms)
    assert len(shown.out) == len(shown.back) == 4


@pytest.mark.parametrize(
    "change, told",
    [
        (("    fixed cord:", "    fixed chord:"), "fixed chord"),
        (("source: common-practice", "source: hearsay"), "hearsay"),
        (("at: edge", "at: rim"), "rim"),
        (("  reason: A fixed", "  raison: A fixed"), "raison"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(tmp_path, change, told):
    text = (find_folder("rules") / FILE).read_text("utf-8")
    assert change[0] in text
    (tmp_path / FILE).write_text(text.replace(*change, 1), "utf-8")
    with pytest.raises(Faults) as raised:
        read_shown(program().base, tmp_path / FILE)
    assert any(told in str(fault) for fault in raised.value.faults)
    assert all(fault.place.line for fault in raised.value.faults)
