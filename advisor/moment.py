"""The option `--at`: the moment at which advice is asked for."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from advisor.facts.vocabulary import AT_HOME, AT_THE_HEAD
from advisor.words import AT_HELP

_MOMENTS = {"home": AT_HOME, "head": AT_THE_HEAD}


def add(command: ArgumentParser) -> None:
    """Add it to a command."""
    command.add_argument("--at", choices=list(_MOMENTS), default="home", help=AT_HELP)


def asked_at(options: Namespace) -> str:
    """The moment that was named, at home where none was."""
    return _MOMENTS[options.at]
