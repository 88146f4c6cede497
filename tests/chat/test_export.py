"""A conversation written as a case file and read again gives the same advice."""

from depth import not_quick, some_cases
from msgspec.structs import replace

from advisor.chat.session import Session
from advisor.chat.turn import take
from advisor.load.case import read_case

TALK = (
    "14 m shaft, dripping, nine of them plus me and a helper",
    "anchor left bolt kind: resin bolt?",
    "anchor flake side: right",
    "ladder main length: about 15 m",
    "anchor left bolt kind: resin bolt or expansion bolt",
    "pitch head arrival side: not known",
    "finding a item: ladder main",
    "finding a what: broken wire",
)


def without_title(advice):
    """An advice without the title and without who said each fact: 'chat' here, 'case
    file' there.
    """
    facts = tuple(replace(fact, said_by="") for fact in advice.facts)
    return replace(advice, case="", facts=facts)


@not_quick
def test_talk_exported_and_read_again_gives_the_same_advice(advisor, session, tmp_path):
    for line in TALK:
        assert take(session, line).heard
    path = tmp_path / "mine.yaml"
    assert take(session, f"export {path}").answer == (f"Written: {path}",)
    case = replace(read_case(path, advisor.base), at=session.at)
    assert without_title(advisor.advise(case)) == without_title(session.advice)
    again = Session(advisor)
    take(again, f"load {path}")
    assert (
        again.case().facts.keys() == session.case().facts.keys()
        and again.case().names == session.case().names
    )


@some_cases
def test_worked_cases_go_through_a_conversation_unchanged(advisor, tmp_path, path):
    session = Session(advisor)
    take(session, f"load {path}")
    written = tmp_path / f"{path.parent.name}-{path.name}"
    take(session, f"export {written}")
    first, second = read_case(path, advisor.base), read_case(written, advisor.base)
    assert {k: f.value for k, f in second.facts.items()} == {
        k: f.value for k, f in first.facts.items()
    } and second.names == first.names
    if first.topics == second.topics:  # a case may say that it is about less than it names
        assert without_title(advisor.advise(second)) == without_title(advisor.advise(first))


def test_export_never_writes_over_a_file(say, tmp_path):
    path = tmp_path / "kept.yaml"
    path.write_text("mine", "utf-8")
    say("14 m shaft")
    assert "exists already" in say(f"export {path}").answer[0] and path.read_text("utf-8") == "mine"


def test_export_says_what_is_wrong(say, tmp_path):
    assert "nothing to write" in say("export a.yaml").answer[0]
    say("14 m shaft")
    assert say(f"export {tmp_path}/none/a.yaml").answer[0].startswith("Cannot write ")
    assert say("export").answer[0] == "Say 'export NAME.yaml'."
