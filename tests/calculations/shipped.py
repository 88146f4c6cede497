"""Advice on shipped cases with settings, for the tests of calculations."""

from functools import cache

from advisor.advise import Advisor
from advisor.load.case import read_case
from advisor.load.folder import files_of, find_folder
from advisor.model.advice import Advice


@cache
def program() -> Advisor:
    """The real rule base with its engines, loaded once."""
    return Advisor()


def advice(name: str, *settings: str) -> Advice:
    """The advice on cases/NAME.yaml with settings as typed after --set."""
    return program().advise(
        read_case(find_folder("cases") / f"{name}.yaml", program().base, settings)
    )


def worked(name: str, *settings: str) -> dict:
    """{calculation id: item} of that advice."""
    return {item.id: item for item in advice(name, *settings).calculations}


def said(found: Advice) -> dict:
    """{rule id: texts and reasons} of all stops, what is due first, requirements, warnings
    and referrals.
    """
    told = {}
    for item in (*found.stops, *found.first, *found.requirements, *found.warnings, *found.refer):
        told[item.rule] = f"{told.get(item.rule, '')}{item.text} {item.because} "
    return told


def every_case() -> list:
    """The names of the shipped cases."""
    folder = find_folder("cases")
    return [path.relative_to(folder).with_suffix("").as_posix() for path in files_of(folder)]
