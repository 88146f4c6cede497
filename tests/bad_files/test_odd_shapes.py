"""Every value of a small rule base in turn put in another shape: faults with places, or a rule
base that reads, and never anything else.
"""

import json

import pytest
from broken_rules import GOOD
from depth import not_quick, sampled
from small_rules import write

from advisor.faults import Faults
from advisor.load.base import read_base
from advisor.load.folder import passed_over
from advisor.load.tree import parse_document

ODD = [
    None,
    True,
    3,
    -1.5,
    "",
    "x",
    "x.y",
    [],
    [[1]],
    {},
    {"a": [1]},
    "9 MPa",
    "abc MPa",
    "9" * 5000,
]
FIGURES = """figures:
  weight: {value: 80 kg, range: [50 kg, 90 kg], source: practice, status: from memory, note: One.}
  steel: {value: 9 MPa, source: [practice], status: from memory, note: Two.}
  knots:
    {table: {bowline: 0.5, overhand: 50 %}, source: practice, status: from memory, note: Three.}
"""
CALCULATIONS = """topic: Small numbers
about: plan
calculations:
  - id: small.sum
    title: The sum of them
    for: {a: anchor}
    gives: anchor.margin
    work: %s
    from: {%s}
    because: So it is.
    source: practice
    status: worked out
"""
INPUTS = (
    "pitch.depth",
    3,
    "{figure: weight}",
    "{figure: weight, whole range: yes}",
    "{figure: knots, cell: bowline}",
    "{figure: knots, row: pitch.water}",
    "{quantity: 3 m}",
    "{pick: {dry: 1, drips: {quantity: 2 m}}, by: pitch.water}",
    "{figures: {dry: weight, spray: steel}, by: pitch.water}",
    "{least over: anchor, of: margin}",
    "{word: x}",
    "not there",
)
FILES = {
    **GOOD,
    "figures/some.yaml": FIGURES,
    "calculations/some.yaml": (
        CALCULATIONS % ("nothing", ", ".join(f"i{n}: {i}" for n, i in enumerate(INPUTS)))
    ),
    "small/rules.yaml": GOOD["small/rules.yaml"]
    + """  - id: small.many
    title: Two of them
    if:
      any of:
        - there are at least: {number: 2, of: {b: anchor, where: {b.sound: yes}}}
        - pitch.depth: {at least: pitch.depth, times: 2}
        - pitch.water: {same as: pitch.water}
      unless: {pitch.depth: {is: unknown}}
    then: [{warn: {text: Look., severity: note}}, {require: {text: Look., strength: should}}]
    because: So it is.
    source: [practice]
    status: common practice
""",
}


def spots(data, path=()):
    yield path
    for key, value in (
        data.items()
        if isinstance(data, dict)
        else enumerate(data)
        if isinstance(data, list)
        else ()
    ):
        yield from spots(value, path + (key,))


def with_odd(data, path, odd):
    """A copy with another value at a path."""
    if not path:
        return odd
    copy = json.loads(json.dumps(data))
    inner = copy
    for key in path[:-1]:
        inner = inner[key]
    inner[path[-1]] = odd
    return copy


@not_quick
@pytest.mark.parametrize("name", sampled(FILES, 1, 5))
def test_any_value_in_any_other_shape(tmp_path, name):
    write(tmp_path, FILES)
    if name.partition("/")[0] not in (
        "figures",
        "calculations",
    ):  # its formula is made up, and would hide what comes after
        (tmp_path / "calculations" / "some.yaml").unlink()
    data = parse_document(FILES[name].encode(), name).data
    for path in spots(data):
        for odd in ODD:
            (tmp_path / name).write_text(json.dumps(with_odd(data, path, odd)))
            try:
                read_base(tmp_path)
            except Faults as error:
                assert all(str(fault).endswith((".", "?")) for fault in error.faults), (
                    path,
                    odd,
                    error.faults,
                )
            except Exception as error:
                pytest.fail(f"{path} = {str(odd)[:40]!r}: {type(error).__name__}: {error}")


@pytest.mark.parametrize("name", ["small/more.yml", "small/MORE.YAML"])
def test_a_file_that_would_never_be_read_is_told(tmp_path, name):
    write(tmp_path, {**GOOD, name: ""})
    with pytest.raises(Faults, match="rename it"):
        read_base(tmp_path)


def test_a_folder_that_cannot_be_opened_is_told(tmp_path, monkeypatch):
    import os

    write(tmp_path, GOOD)
    walked = os.walk

    def walk(top, onerror):
        onerror(PermissionError(13, "Permission denied", str(tmp_path / "small")))
        return walked(top)

    monkeypatch.setattr(os, "walk", walk)
    assert "cannot open this folder" in str(passed_over(tmp_path)[0])


@pytest.mark.parametrize(
    "name, text", [("local/centre.yaml", "zzz: 1\n"), ("papers.yaml", "main incidents: 3\n")]
)
def test_files_read_only_when_asked_for_are_checked_with_the_rest(tmp_path, name, text):
    write(tmp_path, {**GOOD, name: text})
    with pytest.raises(Faults, match=name):
        read_base(tmp_path)
