"""How near two words are to each other, letter by letter."""

from __future__ import annotations


def distance_one(one: str, other: str) -> bool:
    """Whether one letter left out or added, one vowel for another, or two neighbours swapped turn
    one word into the other.
    """
    if len(one) > len(other):
        one, other = other, one
    at = next((i for i, (a, b) in enumerate(zip(one, other)) if a != b), len(one))
    if len(one) < len(other):
        return one[at:] == other[at + 1 :]
    vowels = (
        one[at : at + 1] in "aeiouy" and other[at : at + 1] in "aeiouy"
    )  # 'kicked' is not 'kinked', but 'hangar' is 'hanger'
    return (vowels and one[at + 1 :] == other[at + 1 :]) or (
        one[at : at + 2] == other[at : at + 2][::-1] and one[at + 2 :] == other[at + 2 :]
    )
