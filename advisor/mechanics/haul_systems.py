"""Hauling systems described as ropes and pulleys, and their tensions by the T-method.

A system is a list of ropes. The hand pulls the first rope with one unit. Following a rope from
the side that is pulled, it passes
pulleys, each fixed to "load", "anchor" or the pulled end of a later rope, and ends fixed to
"load" or "anchor".
"""

from typing import TypeAlias

from msgspec import Struct

Fixing: TypeAlias = str | int
"""What a pulley or an end is fixed to: "load", "anchor", or the pulled end of the rope with this
number, counted from 1 in the same system.
"""


class Rope(Struct, frozen=True):
    """One rope: what each pulley that it passes is fixed to, in order from the pulled side, and
    what its far end is fixed to.
    """

    pulleys: tuple[Fixing, ...]
    end: Fixing


Z_RIG = Rope(("load", "anchor"), "load")

SYSTEMS: dict[str, tuple[Rope, ...]] = {
    "straight pull": (Rope((), "load"),),
    "1:1 redirect": (Rope(("anchor",), "load"),),
    "counterbalance": (Rope(("anchor",), "load"),),
    "2:1": (Rope(("load",), "anchor"),),
    "2:1 with redirect": (Rope(("anchor", "load"), "anchor"),),
    "3:1": (Z_RIG,),
    "3:1 with redirect": (Rope(("anchor", "load", "anchor"), "load"),),
    "4:1": (Rope((2,), "anchor"), Rope(("load",), "anchor")),
    "5:1 simple": (Rope(("load", "anchor", "load", "anchor"), "load"),),
    "5:1 with second cord": (Rope((2, "anchor"), "load"), Rope(("load",), "anchor")),
    "6:1": (Rope((2,), "anchor"), Z_RIG),
    "9:1": (Rope((2, "anchor"), 2), Z_RIG),
}
"""The systems by name. Ropes are numbered by place: 2 is the second rope of the same system."""


def forces(system: str, efficiency: float) -> dict[str, float]:
    """Forces on load and anchors for one unit of hand force, as {"load": ratio, "anchor": ratio}.

    Method: each pulley passes on the fraction e of the tension; its fixing takes the sum of its
    two strands (T-method).
    Inputs: name of a system in SYSTEMS; pulley efficiency, ratio above 0 and at most 1. Errors:
    ValueError for any other.
    Source: T-method as taught in rope-access and rescue manuals.
    """
    if system not in SYSTEMS:
        raise ValueError(
            f"There is no hauling system called {system!r}; use one of {', '.join(SYSTEMS)}."
        )
    if not 0 < efficiency <= 1:
        raise ValueError(
            f"The pulley efficiency is {efficiency:g}; give a ratio above 0 and at most 1."
        )
    taken: dict[Fixing, float] = {"load": 0.0, "anchor": 0.0, 1: 1.0}
    for number, rope in enumerate(SYSTEMS[system], start=1):
        tension = taken[number]
        for fixing in rope.pulleys:
            taken[fixing] = taken.get(fixing, 0.0) + tension * (1 + efficiency)
            tension *= efficiency
        taken[rope.end] = taken.get(rope.end, 0.0) + tension
    return {"load": taken["load"], "anchor": taken["anchor"]}
