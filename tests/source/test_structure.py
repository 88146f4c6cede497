"""The program's own structure: no circle, no import that runs back, no function too complex."""

import structure
from depth import not_quick


def test_no_function_is_too_complex():
    assert structure.complex_functions() == []


@not_quick
def test_no_type_is_wrong():
    assert structure.type_errors() == []


def test_no_import_goes_in_a_circle():
    assert structure.circle(structure.imports()) == []


def test_every_room_has_its_place():
    assert structure.unranked(structure.imports(), structure.data()["rooms"]) == []


def test_no_import_runs_back():
    """Those known are listed; one that is mended is taken off the list, so that it stays away."""
    order = structure.data()
    assert structure.backward(structure.imports(), order["rooms"]) == sorted(order["back"])


ROOMS = ["low also-low", "high"]


def imports(text):
    """{module: modules imported} from 'a.b>c.d …', within the package."""
    found = {}
    for arrow in text.split():
        one, other = (f"advisor.{end}" for end in arrow.split(">"))
        found.setdefault(one, set()).add(other)
        found.setdefault(other, set())
    return found


def test_imports_upwards_and_across_are_seen():
    wanted = ["advisor.low.a -> advisor.also-low", "advisor.low.a -> advisor.high.b"]
    found = imports("low.a>high.b low.a>also-low low.a>low.c high.b>low.a high.b>high.d")
    assert structure.backward(found, ROOMS) == wanted


def test_a_circle_is_seen():
    assert structure.circle(imports("low.a>low.b low.b>low.c")) == []
    found = structure.circle(imports("low.a>low.b low.b>low.c low.c>low.a low.c>low.d"))
    assert set(found) == {"advisor.low.a", "advisor.low.b", "advisor.low.c"}


def test_a_room_without_a_place_is_seen():
    assert structure.unranked(imports("new.a>low.b"), ROOMS) == ["new"]
