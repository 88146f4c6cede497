"""The names of the papers and the sizes of their sheets, for the command line, which is read
before anything is loaded.
"""

from __future__ import annotations

from collections.abc import Mapping

KINDS = (
    *("plan", "card", "assessment", "kit", "incidents", "evidence"),
    *("trip", "packing", "briefing", "report", "working", "all"),
)
SIZES = ("A4", "letter")
# Territories whose usual sheet is US Letter, as the Unicode locale data list them (from memory).
LETTER = ("BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE")


def usual(environment: Mapping[str, str]) -> str:
    """The size that is usual where the user is, by the locale; A4 where it says nothing."""
    named = next((environment[n] for n in ("LC_ALL", "LC_PAPER", "LANG") if environment.get(n)), "")
    territory = named.partition(".")[0].partition("@")[0].rpartition("_")[2]
    return "letter" if territory in LETTER else "A4"
