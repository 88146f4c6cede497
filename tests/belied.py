"""Facts that something already said makes impossible; no honest way of settling a case states
them.
"""

WITHOUT_A_METER = (
    "site.oxygen",
    "site.carbon dioxide",
    "site.carbon monoxide",
    "site.hydrogen sulphide",
    "site.flammable gas",
    "site.meter alarm",
)


def belied(case, key) -> bool:
    """Whether a case says that there is no gas meter, so that nothing can be read on one."""
    said = case.facts.get(("site", "site.gas meter"))
    return key in WITHOUT_A_METER and said is not None and said.text == "no"
