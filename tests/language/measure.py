"""How well typed lines are heard: python tests/language/measure.py [--told] [--only NAME]

The corpus as it stands; lines typed by outside hands; and edits that keep the meaning of a line
that is heard right: 'and' as 'n', no commas, two letters swapped, no apostrophes, and two lines
joined.
Told of each: lines that keep their meaning, facts right, and lines with a wrong fact.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
import time
from collections import defaultdict
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent.parent), str(HERE)]

from talk import Outcome, corpus, outside  # noqa: E402

PAIRS = 300  # of lines that are joined, for each way to join them
# What answers or puts right what was said before cannot be joined to just any line.
LEANING = re.compile(
    r"(?:no|nah|nope|yes|yep|yeah|yup|sorry|oops|actually|make|correction|scratch|it|that|they|"
    r"them|he|she|the other|all|both|none|neither|i mean|wrong|not|same|and|but|one)\b",
    re.I,
)


class Broken:
    """A line at which something could not even be compared."""

    wanted, right, missed, intents_right, fully = [1], [], [1], False, False

    def __init__(self, error):
        self.wrong = [str(error)]


def outcome(typed, right, settings):
    try:
        return Outcome(f"{typed} => {right}", settings)
    except AssertionError as error:
        return Broken(error)


def same(found):
    return not found.missed and not found.wrong and found.intents_right


def parted(line):
    typed, _, right = line.rpartition("=>")
    return typed.strip(), right.strip()


def swapped(typed, rng):
    """Two letters inside one longer word the other way round."""
    words = list(re.finditer(r"[a-z]{5,}", typed))
    if not words:
        return typed
    word = rng.choice(words)
    at = rng.randrange(word.start() + 1, word.end() - 2)
    return typed[:at] + typed[at + 1] + typed[at] + typed[at + 2 :]


EDITS = {
    "and as n": lambda t, rng: re.sub(r"\band\b", "n", t),
    "no commas": lambda t, rng: re.sub(r",(?=\s)", "", t),
    "no apostrophes": lambda t, rng: t.replace("'", ""),
    "letters swapped": swapped,
}
JOINS = {"joined by ', '": ", ", "joined by ' '": " ", "joined by ' n '": " n "}


def edited(good, edit):
    """(typed, right side, settings) of every line that an edit changes."""
    rng = random.Random(7)
    for settings, line in good:
        typed, right = parted(line)
        other = edit(typed, rng)
        if other != typed:
            yield other, right, settings


def joined(good, between):
    """Two lines of the same setting, neither leaning on what stood before it, that speak of
    different facts.
    """
    by = defaultdict(list)
    for settings, line in good:
        typed, right = parted(line)
        free = not {"asked", "last"} & set(settings) and not LEANING.match(typed)
        if free and right and not re.search("[!~@]", right) and not typed.endswith("?"):
            by[repr(settings)].append((settings, typed.rstrip("."), right))
    rng, found = random.Random(3), 0
    groups = [group for group in by.values() if len(group) > 3]
    while found < PAIRS:
        (settings, one, first), (_, two, second) = rng.sample(rng.choice(groups), 2)
        facts = [{p.partition("=")[0].strip() for p in part.split(";")} for part in (first, second)]
        if not facts[0] & facts[1]:
            found += 1
            yield f"{one}{between}{two}", f"{first}; {second}", settings


def told(name, cases, show):
    """Measure some cases and print their row."""
    found = [(typed, outcome(typed, right, settings)) for typed, right, settings in cases]
    lines, kept = len(found), sum(same(o) for _, o in found)
    facts, right = (sum(len(getattr(o, n)) for _, o in found) for n in ("wanted", "right"))
    wrong = sum(bool(o.wrong) for _, o in found)
    print(
        f"{name:18} {lines:5} lines {kept / lines:6.1%} kept   facts {right}/{facts}"
        f" {right / facts:6.1%}   lines with a wrong fact {wrong}"
    )
    for typed, o in found if show else ():
        if not same(o):
            print(f"    {typed!r}: missed {o.missed} wrong {o.wrong}")
            if hasattr(o, "heard"):
                print(f"        {o.heard.parts}")


def main():
    parser = argparse.ArgumentParser(description=__doc__.split(chr(10))[0])
    parser.add_argument("--told", action="store_true", help="each line that is not heard right")
    parser.add_argument("--only", default="", help="measure only what has this in its name")
    options = parser.parse_args()
    all_lines = [(settings, line) for _, settings, line in corpus()]
    typed_lines = [(*parted(line), settings) for settings, line in all_lines]
    good = [
        (settings, line) for settings, line in all_lines if same(outcome(*parted(line), settings))
    ]
    measures = {"corpus": typed_lines}
    measures["outside hands"] = [(*parted(line), settings) for _, settings, line in outside()]
    measures.update((name, list(edited(good, edit))) for name, edit in EDITS.items())
    measures.update((name, list(joined(good, between))) for name, between in JOINS.items())
    for name, cases in measures.items():
        if options.only in name:
            told(name, cases, options.told)
    times = []
    for typed, right, settings in measures["outside hands"] + typed_lines[::8]:
        begun = time.perf_counter()
        outcome(typed, right, settings)
        times.append(time.perf_counter() - begun)
    most = sorted(times)[len(times) * 95 // 100] * 1e3
    print(f"reading and comparing a line, 95 in 100 within {most:.1f} ms")


if __name__ == "__main__":
    main()
