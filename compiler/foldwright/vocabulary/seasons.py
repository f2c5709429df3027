"""The seasons of the year by one name each; feasts and anything else keep the name their author gave them."""

from __future__ import annotations

SEASONS = ("spring", "summer", "autumn", "winter")
"""In the order of the year, as a page lists them."""
_OTHER_NAMES = {"fall": "autumn", "springtime": "spring", "summertime": "summer", "wintertime": "winter"}


def season_of(text: str) -> str:
    """The season a word means (`Fall` is autumn), or the words as they stand."""
    name = " ".join(text.split())
    word = name.casefold()
    word = _OTHER_NAMES.get(word, word)
    return word if word in SEASONS else name
