"""'why' without a name explains the last answer, and a thing asked after is answered on; common
practice of talk, no source.
"""

from depth import not_quick


def _after(say, *lines):
    return [" ".join(say(line).answer) for line in lines][-1]


def test_why_after_a_fact_refused_tells_its_reason(say):
    text = _after(say, "70 m pitch", "why")
    assert "0 m to 60 m" in text and "ladder anchor" not in text


def test_why_after_what_is_outside_does_not_turn_to_the_anchor(say):
    assert "ladder anchor" not in _after(
        say, "14 m pitch, two resin bolts", "what's the weather going to be", "why"
    )


def test_why_after_a_supposed_stop_tells_of_that_stop(say):
    text = _after(say, "14 m pitch, two resin bolts", "suppose the water is a stream", "why")
    assert "On what was supposed" in text and "main stream" in text


def test_why_after_undo_no_longer_tells_of_what_was_supposed(say):
    assert "supposed" not in _after(
        say, "14 m pitch, two resin bolts", "suppose the water is a stream", "undo", "why"
    )


@not_quick
def test_the_tether_is_answered_on_though_it_is_no_decision_yet(say):
    for asked in ("is that ok", "why not the tether", "what about the tether"):
        text = _after(say, "start again", "tether, 6 mm HMPE sling knotted", asked)
        assert "HMPE" in text and "is not a decision" not in text and "not that it is safe" in text


def test_a_second_finding_leaves_the_first_ones_part_alone(say):
    say("ladder main is 15 m, the joining is by links")
    say("a bent link")
    heard = " ".join(say("two wires sprung, side wire").heard)
    assert "broken wire part: side wire" in heard and "bent part" not in heard


def test_a_denial_is_never_offered_as_a_yes(say):
    for line in ("he's not answering", "one lad on the ladder is not answering"):
        assert not any(
            "answers: yes" in reading for _, readings in say(line).unclear for reading in readings
        )


def test_one_bolt_after_two_anchors_takes_no_stop_away(say):
    say("left bolt is a resin bolt on the left, 14 m pitch")
    say("the flake is on the right")
    say("left bolt is loose")
    stops = {s.id for s in say("14 m pitch").advice.stops}
    after = {s.id for s in say("only one bolt").advice.stops}
    assert stops and stops <= after
