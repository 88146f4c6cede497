"""Single facts of sound plans, each made another: what answers is as kept in sweep.csv, and nothing
made worse passes in silence without a reason in sweep-silent.yaml.
"""

from __future__ import annotations

import pytest
import sweep
from depth import sampled
from depth import sweep as over

from advisor.model.advice import CLEAR


@pytest.mark.parametrize("name", sweep.PLANS)
def test_the_plan_is_sound_before(name):
    assert sweep.before(name).decisions["go"].choice == CLEAR


def some_flips():
    return sampled([f for name in sweep.PLANS for f in sweep.flips(name)], 12, 200)


def told(flip):
    return f"{flip.plan}: {' = '.join(flip.row[:2])}"


@over("flip", some_flips, told)
def test_the_answer_is_as_kept(flip):
    assert sweep.answer(flip) == sweep.kept()[flip.row][flip.plan]


def test_the_table_holds_every_flip_and_no_other():
    wanted = {(name, flip.row) for name in sweep.PLANS for flip in sweep.flips(name)}
    assert wanted == {(plan, row) for row, cells in sweep.kept().items() for plan in cells}


def rows():
    return [(p, *row, cell) for row, cells in sweep.kept().items() for p, cell in cells.items()]


def test_nothing_made_worse_passes_in_silence():
    assert not [row for row in rows() if sweep.unexplained(*row)]


def test_every_reason_is_needed():
    """Each covers a silent row, and none that is answered is passed off as silent."""
    quiet = [r for r in rows() if r[3] == "yes" and r[4].split(" ")[0] in sweep.QUIET]
    assert quiet
    unused = [r for r in sweep.reasons() if not any(r.covers(*row[:3]) for row in quiet)]
    assert not unused
