"""The note on unused figures is true: a figure is used where any form of input takes it."""

import pytest
from planted_base import VOCABULARY, write

from advisor.audit import cited
from advisor.audit.bench import Bench
from advisor.model import inputs

FIGURES = """\
figures:
  point:
    value: 8 kN
    range: [7 kN, 9 kN]
    source: practice
    status: common practice
    note: Made up.
  other: {value: 6 kN, source: practice, status: common practice, note: Made up.}
  table:
    table: {dry: 8 kN, drips: 7 kN, spray: 6 kN}
    source: practice
    status: common practice
    note: Made up.
"""
STRENGTH = """\
  strength: {type: number, unit: N, range: [0, 100 kN], worse: less, derived: yes, help: Made up.}
"""
CALCULATION = """\
topic: Made up for a test
about: plan
calculations:
  - id: weakest
    title: The weakest of two parts
    gives: pitch.strength
    weakest of: {part: %s, rest: not there}
    because: It was planted.
    source: practice
    status: common practice
"""
# What a calculation file says, and which figures it takes that way.
TAKEN = {
    inputs.FromFact: ("pitch.depth", ()),
    inputs.Over: ("{least over: anchor, of: moves}", ()),
    inputs.FirstOf: ("{first of: [pitch.depth, {figure: point}]}", ("point",)),
    inputs.FromFigure: ("{figure: point}", ("point",)),
    inputs.WholeRange: ("{figure: point, whole range: yes}", ("point",)),
    inputs.Cell: ("{figure: table, cell: drips}", ("table",)),
    inputs.RowBy: ("{figure: table, row: pitch.water}", ("table",)),
    inputs.PickedBy: (
        "{by: pitch.water, pick: {dry: {figure: table, cell: dry}, drips: {figure: other}}}",
        ("table", "other"),
    ),
    inputs.NotThere: ("not there", ()),
    inputs.Number: ("{quantity: 5 kN}", ()),
    inputs.Word: ("{word: wet}", ()),
}


def base(folder, said):
    write(
        folder,
        vocabulary={"pitch": VOCABULARY["pitch"] + STRENGTH},
        figures=FIGURES,
    )
    (folder / "calculations").mkdir()
    (folder / "calculations" / "planted.yaml").write_text(CALCULATION % said, "utf-8")
    return Bench(folder)


def test_every_form_is_planted():
    assert set(TAKEN) == set(inputs.FORMS)


@pytest.mark.parametrize("form", TAKEN, ids=lambda form: form.__name__)
def test_a_figure_that_a_form_of_input_takes_is_not_called_unused(tmp_path, form):
    said, taken = TAKEN[form]
    bench = base(tmp_path, said)
    assert type(bench.base.calculations[0].inputs[0].input) is form
    unused = {note.rule for note in cited.unused_figures(bench)}
    assert unused == {"point", "other", "table"} - set(taken)


def test_the_short_way_to_pick_figures_counts_too(tmp_path):
    bench = base(tmp_path, "{by: pitch.water, figures: {dry: point, drips: other, spray: other}}")
    assert {note.rule for note in cited.unused_figures(bench)} == {"table"}
