"""The trade's names stand in one file: nowhere else in the program, but for the reader of typed
lines, is a fact or a decision of the rule base written out.
"""

from __future__ import annotations

import ast
from pathlib import Path

from depth import not_quick

from advisor.advise import Advisor

PACKAGE = Path(__file__).resolve().parents[2] / "advisor"
NAMES, READER = PACKAGE / "model/names.py", PACKAGE / "language"


def texts(tree) -> list:
    """[(text, line)] of all strings of a module but its docstrings."""
    told = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef))
        and isinstance(node.body[0], ast.Expr)
    }
    return [
        (node.value, node.lineno)
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told
    ]


@not_quick
def test_facts_and_decisions_are_named_in_one_file():
    base = Advisor().base
    known = {*base.vocabulary.by_key, *base.decisions} - set(base.vocabulary.entities)
    found = {
        path: [
            (text, line)
            for text, line in texts(ast.parse(path.read_text("utf-8")))
            if text in known
        ]
        for path in PACKAGE.rglob("*.py")
    }
    assert len(found.pop(NAMES)) > 50
    elsewhere = [
        f"{path.relative_to(PACKAGE)}:{line}: {text}"
        for path, named in sorted(found.items())
        for text, line in named
        if READER not in path.parents and text != "go"  # worked out from the others by the program
    ]
    assert elsewhere == []
