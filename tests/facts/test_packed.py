"""A rule base goes into the cache and comes back as it was."""

import marshal

from msgspec import Struct

from advisor.load.base import read_base
from advisor.load.folder import find_folder
from advisor.load.packed import TYPES, packed, unpacked
from advisor.model import conditions, effects, inputs


def test_the_shipped_base_comes_back_as_it_was():
    base = read_base(find_folder("rules"))
    assert unpacked(marshal.loads(marshal.dumps(packed(base)))) == base


def test_every_form_can_be_kept():
    assert {*conditions.FORMS, *effects.FORMS, *inputs.FORMS} <= set(TYPES)
    for room, kind in (
        (conditions, conditions.Condition),
        (effects, effects.Effect),
        (inputs, inputs.Input),
    ):
        written = {
            form
            for form in vars(room).values()
            if isinstance(form, type) and issubclass(form, kind) and issubclass(form, Struct)
        }
        shared = {effects.OnOption, effects.Weigh, effects.Said}  # what forms are made from
        assert written - shared == set(room.FORMS)
