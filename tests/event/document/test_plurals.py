"""Names of pieces as they are counted."""

from __future__ import annotations

import pytest

from foldwright.event.document.writing import named


@pytest.mark.parametrize(
    ("one", "several"),
    [
        ("birdhouse front", "birdhouse fronts"),
        ("box", "boxes"),
        ("belly", "bellies"),
        ("tray", "trays"),
        ("inner half", "inner halves"),
        ("leaf", "leaves"),
        ("cuff", "cuffs"),
        ("sash", "sashes"),
        ("wings", "wings"),
        ("glass", "glasses"),
        ("panel 2", "panel 2"),
        ("Größe", "Größe"),
        ("B", "B"),
    ],
)
def test_of_several_the_last_word_is_in_the_plural(one: str, several: str) -> None:
    """Plurals as an English dictionary has them."""
    assert named(one, 1) == one
    assert named(one, 2) == named(one, 40) == several
