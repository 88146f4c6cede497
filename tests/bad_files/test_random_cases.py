"""Law 8 on chance: no text, and no mutation of a good case, ever gives a traceback or an internal
fault.
"""

import json

import pytest
from depth import examples
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from in_process import loaded, places, run

from advisor.load.folder import files_of, find_folder

GOOD = [path.read_text("utf-8") for path in files_of(find_folder("cases"))]
FRAGMENTS = [
    "given:\n",
    "  pitch: {depth: 14 m}\n",
    "  anchor left: {side: left}\n",
    "&a ",
    "*a",
    "!!int ",
    "- ",
    "? ",
    ": ",
    "{",
    "}",
    "[",
    "]",
    "\t",
    "\x00",
    "\ufeff",
    "'",
    '"',
    "|\n",
    ">-\n",
    "#",
    "%",
    "@",
    "unknown",
    "yes?",
    "12-14 m",
    "~",
    "null",
    "010",
    "1e999",
    ".nan",
    "2001-01-01",
    "<<: ",
    "---\n",
    "...\n",
    "\u2028",
    "\x85",
    "\ud83e\udea2".encode("utf-16", "surrogatepass").decode("utf-16"),
]
SETTINGS = {"deadline": None, "derandomize": True, "suppress_health_check": list(HealthCheck)}


def sane(code, out, error):
    """Advice, or faults with places; never an internal fault."""
    if code == 2:
        assert out == ""
        places(error, "standard input")
    else:
        assert code in (0, 3), error
        assert json.loads(out)["cautions"] and error == ""


def check(raw: bytes):
    sane(*run(["advise", "-", "--format", "json"], raw))


@settings(max_examples=examples(75, 6), **SETTINGS)
@given(
    st.one_of(
        st.text().map(str.encode if False else lambda t: t.encode("utf-8", "surrogatepass")),
        st.binary(),
        st.lists(st.sampled_from(FRAGMENTS), max_size=12).map(
            lambda parts: "".join(parts).encode()
        ),
    )
)
def test_any_text_or_bytes(raw):
    check(raw)


@st.composite
def mutations(draw):
    """A worked case with a few characters, lines or words changed."""
    text = draw(st.sampled_from(GOOD))
    for _ in range(draw(st.integers(1, 3))):
        at = draw(st.integers(0, len(text)))
        how = draw(st.sampled_from(["cut", "put", "double", "swap"]))
        length = draw(st.integers(1, 12))
        if how == "cut":
            text = text[:at] + text[at + length :]
        elif how == "put":
            text = (
                text[:at]
                + draw(st.one_of(st.sampled_from(FRAGMENTS), st.text(max_size=4)))
                + text[at:]
            )
        elif how == "double":
            text = text[: at + length] + text[at:]
        else:
            lines = text.split("\n")
            first, second = (
                draw(st.integers(0, len(lines) - 1)),
                draw(st.integers(0, len(lines) - 1)),
            )
            lines[first], lines[second] = lines[second], lines[first]
            text = "\n".join(lines)
    return text


@settings(max_examples=examples(150, 6), **SETTINGS)
@given(mutations())
def test_any_mutation_of_a_worked_case(text):
    check(text.encode("utf-8", "surrogatepass"))


VALUES = st.recursive(
    st.one_of(
        st.none(),
        st.booleans(),
        st.integers(-(10**6), 10**6),
        st.floats(allow_nan=False, allow_infinity=False),
        st.text(max_size=8),
        st.sampled_from(
            [
                "14 m",
                "unknown",
                "yes",
                "no",
                "dry?",
                "tether",
                "12:30",
                "about 3",
                "1/2",
                "½",
                "-",
                "5 °",
                "3 ft 2",
                "at least",
                "±",
                "12 to",
                "½ ½ m",
                "9 am",
            ]
        ),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=4), inner, max_size=2)
    ),
    max_leaves=4,
)


@st.composite
def misfits(draw):
    """A case of real entities and attributes with any value at all."""
    entities, given_ = loaded().base.vocabulary.entities, {}
    for _ in range(draw(st.integers(1, 4))):
        entity = entities[draw(st.sampled_from(sorted(entities)))]
        name = draw(st.sampled_from(sorted(entity.attributes)))
        given_.setdefault(entity.name + (" one" if entity.many else ""), {})[name] = draw(VALUES)
    return given_


@settings(max_examples=examples(150, 6), **SETTINGS)
@given(misfits())
def test_any_value_for_any_attribute(facts):
    check(json.dumps({"given": facts}).encode())


@pytest.mark.parametrize(
    "text",
    [
        "½ ½ m",
        "1 1/2 1/2 m",
        "--3",
        "5 - m",
        "12:30-13:00",
        "3 to",
        "9" * 400,
        "1e5",
        "٣ m",
        "１４ m",
        "²",
        "5 m m",
        "1 / 2",
        "± 3",
        "3 ± ",
        "about about 3",
        "<",
        "½",
        "1/0 m",
        "5'",
        "6'2\"",
        "\u0000",
    ],
)
def test_odd_quantities(text):
    for key, attribute in (("pitch", "depth"), ("group", "size"), ("plan", "start")):
        if attribute in loaded().base.vocabulary.entities[key].attributes:
            check(json.dumps({"given": {key: {attribute: text}}}).encode())
