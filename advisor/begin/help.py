"""Help by topic: short texts that stand beside this module."""

from __future__ import annotations

from importlib import resources

from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.screen import narrowed
from advisor.streams import give

FOLDER = "topics"


def topics() -> dict[str, str]:
    """{topic: text}, in the order of their names."""
    folder = resources.files("advisor.begin").joinpath(FOLDER)
    found = sorted(folder.iterdir(), key=lambda file: file.name)
    return {file.name.removesuffix(".txt"): file.read_text("utf-8") for file in found}


def tell(topic: str) -> int:
    """Show one topic, or the list of them; returns 0. Raises Faults."""
    known = topics()
    if not topic:
        titles = [f"  {name:<10} {text.splitlines()[0]}" for name, text in known.items()]
        return give(narrowed(["pitch-advisor help TOPIC:", *titles]))
    near = [name for name in known if name.startswith(topic.lower().rstrip("s"))]
    if not near:
        hint = did_you_mean(topic, known)
        raise Faults([Fault(Place(topic), f"no such topic; there are {', '.join(known)}.{hint}")])
    return give(narrowed(known[near[0]].splitlines()))
