"""What README.md and the transcripts show is what the program says: mend a stale one with `python
tests/samples/retell.py`.
"""

import re

import pytest
from depth import sampled
from retell import PLACES, ROOT, fits, outputs, parts, samples

SAMPLES = [
    pytest.param(sample, id=f"{path.stem}-{number}")
    for path in PLACES
    for number, sample in enumerate(samples(path))
]


@pytest.mark.parametrize("sample", sampled(SAMPLES, 1, None))
def test_a_sample_is_what_the_program_says(sample, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.chdir(ROOT)
    for (line, shown), output in zip(parts(sample), outputs(sample)):
        assert fits(shown, output), f"stale after '{line}'; now:\n{output}"


def test_a_stale_sample_is_noticed():
    assert fits("a\nb\n", "a\nb\n") and not fits("a\nb\n", "a\nc\n")
    assert (
        fits("a\n[…]\nd\n", "a\nb\nc\nd\n")
        and not fits("a\n[…]\nd\n", "a\nb\nc\ne\n")
        and not fits("a\n[…]\nb\n", "a\nb\n")
    )


def test_reasons_are_shown_on_three_cases():
    asked = {
        path.stem: " ".join(line for sample in samples(path) for line, _ in parts(sample))
        for path in PLACES
        if path.suffix == ".txt" and not path.stem.startswith(("talk-", "season-"))
    }
    assert len(asked) >= 3
    for text in asked.values():
        assert all(
            door in text
            for door in ("--why ", "--why-not", "compare", "--what-would", "--find-out")
        )


def blocks_of_yaml():
    return re.findall(r"^```yaml\n(.*?)^```$", (ROOT / "README.md").read_text("utf-8"), re.S | re.M)


def test_the_rule_shown_in_the_readme_is_one_of_the_rules():
    (shown,) = [block for block in blocks_of_yaml() if "because:" in block]
    assert shown in (ROOT / "rules/anchors/choice.yaml").read_text("utf-8")


def test_the_case_shown_in_the_readme_is_the_one_that_is_advised():
    (shown,) = [block for block in blocks_of_yaml() if block.startswith("case:")]
    assert (ROOT / "cases/plan/saturday.yaml").read_text("utf-8").startswith(shown)
