"""The words of a library: folded as people type them, each at the first place it stands in."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.library.searching import folded, index_of, words_in


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Pop-up star CARD", ["pop", "up", "star", "card"]),
        ("Bird’s nest, bird's nest", ["birds", "nest", "birds", "nest"]),
        ("Crème brûlée", ["creme", "brulee"]),
        ("Größe, Œuvre, smørrebrød, Łódź", ["grosse", "oeuvre", "smorrebrod", "lodz"]),
        ("ΛΌΓΟΣ λόγος", ["λογοσ", "λογοσ"]),
        ("snake_case 8½ in", ["snake", "case", "81", "2", "in"]),
        ("שָׁלוֹם עולם", ["שלום", "עולם"]),
        ("🎄 …", []),
    ],
)
def test_words_are_found_as_they_are_typed(text: str, words: list[str]) -> None:
    """Worked out by hand from the rule: small letters, no accents, apostrophes bind, all else divides."""
    assert words_in(text) == words


@given(st.text(max_size=40))
def test_folding_twice_is_folding_once(text: str) -> None:
    assert folded(folded(text)) == folded(text)


def test_each_word_stands_at_its_first_field() -> None:
    index = index_of([("star box", "box", ""), ("", "star", ""), ("x", "", "star box")])
    # Three fields: entry 0 field 0; one further on, field 1; one further on, field 2.
    assert dict(zip(index.words, index.places, strict=True)) == {"box": (0, 8), "star": (0, 4, 5), "x": (6,)}


def test_words_stand_in_the_order_of_their_utf_16_units() -> None:
    """U+10428 is the units D801 DC28 (Unicode, D91), and so comes before U+FA0E, which has no other form."""
    assert index_of([("\ufa0e \U00010428 b",)]).words == ("b", "\U00010428", "\ufa0e")
