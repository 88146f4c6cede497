"""Law 8 for cases that are based on others: what is wrong is told at its place, in the file in
which it stands.
"""

import pytest
from depth import not_quick
from in_process import run

GOOD = "given:\n  pitch: {depth: 14 m}\n"


def told(folder, **files):
    """The lines of errors on case.yaml, with these files beside it."""
    for name, text in files.items():
        path = folder / f"{name.replace('__', '/')}.yaml"
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    code, out, error = run(["advise", "case.yaml"])
    assert (code, out) == (2, "") and "Traceback" not in error
    return error.splitlines()


@not_quick
@pytest.mark.parametrize(
    "text, place, words",
    [
        ("based on: sond.yaml\n", "1:11", "no file 'sond.yaml'"),
        ("based on: sond.yaml\n", "1:11", "Did you mean 'sound.yaml'"),
        ("based on: [sound.yaml, gone/x.yaml]\n", "1:24", "no file 'gone/x.yaml'"),
        ("based on: .\n", "1:11", "no file '.'"),
        ('based on: "a\\0b"\n', "1:11", "cannot be shown"),
        (f"based on: {'x' * 5000}\n", "1:11", "no file"),
        ("based on: {a: b}\n", "1:11", "expected words or a list"),
        ("based on: []\n", "1:11", "at least 1 expected"),
        ("based on: [sound.yaml, 3]\n", "1:24", "expected words"),
        ("based on:\n", "1:10", "expected words or a list"),
        ("based on: sound.yaml\nwithout: anchor\n", "2:10", "expected a list"),
        ("based on: sound.yaml\nwithout: [pich]\n", "2:11", "Did you mean 'pitch'?"),
        (
            "based on: sound.yaml\nwithout: [pitch.dept]\n",
            "2:11",
            "Did you mean 'pitch.depth'",
        ),
        ("based on: sound.yaml\nwithout: [pitch, pitch]\n", "2:18", "nothing to take 'pitch' away"),
        ("without: [pitch]\n" + GOOD, "1:11", "is for what a case this one is based on"),
        ("case: Nothing given\n", "1:1", "'given' missing"),
        ("based on: sound.yaml\ngiven: {}\n", "2:8", "at least 1 expected"),
    ],
)
def test_a_fault_in_naming_a_base_is_told_at_its_place(folder, text, place, words):
    (line,) = told(folder, case=text, sound=GOOD)
    assert line.startswith(f"case.yaml:{place}: ") and words in line


@not_quick
def test_a_circle_is_told_with_all_its_places(folder):
    (line, *rest) = told(
        folder,
        case="based on: a.yaml\n",
        a="case: One\nbased on: deep/b.yaml\n",
        deep__b="based on: [../sound.yaml, ../a.yaml]\n",
        sound=GOOD,
    )
    assert line.startswith("a.yaml:2:11: 'deep/b.yaml' cannot be built on")
    assert any(
        "deep/b.yaml:1:27: these cases are based on each other, at a.yaml:2:11, deep/b.yaml:1:27;"
        in told_here
        for told_here in rest
    )


def test_a_case_based_on_itself_is_a_circle(folder):
    (line,) = told(folder, case="based on: ./case.yaml\n")
    assert "case.yaml:1:11: these cases are based on each other, at case.yaml:1:11;" in line


@pytest.mark.parametrize(
    "text, place, words",
    [
        ("topic: Rules\nrules: []\n", "1:1", "'topic' is not known here"),
        ("- a\n- b\n", "1:1", "expected a mapping"),
        ("", "1:1", "expected a mapping"),
        ("given: {pitch: {depth: 14 m}\n", "2:1", "not valid YAML"),
        ("given:\n  pitch: {depth: 1 m}\n  pitch : {depth: 2 m}\n", "3:3", "stands twice"),
    ],
)
def test_a_base_that_is_no_case_is_told_there_and_where_it_is_named(folder, text, place, words):
    lines = told(folder, case="based on: base.yaml\n", base=text)
    assert any(line.startswith(f"base.yaml:{place}: ") and words in line for line in lines), lines
    assert "case.yaml:1:11: 'base.yaml' cannot be built on: it has faults of its own." in lines


def test_a_wrong_fact_taken_over_is_told_where_it_stands(folder):
    (line,) = told(folder, case="based on: base.yaml\n", base="given:\n  pitch: {dept: 3 m}\n")
    assert line.startswith("base.yaml:2:11: 'dept' is not an attribute of pitch")


def test_more_levels_than_anyone_needs_are_refused(folder):
    chain = {f"c{n}": f"based on: c{n + 1}.yaml\n" for n in range(40)}
    lines = told(folder, case="based on: c0.yaml\n", c40=GOOD, **chain)
    assert any("more than 20 cases are based one on another" in line for line in lines)
