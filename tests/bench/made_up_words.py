"""The words of a made-up library: titles, summaries, tips, endings. All invented, and no length among them."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import TYPE_CHECKING

from msgspec import Struct

if TYPE_CHECKING:
    from bench.made_up_forms import Project

COLOURS = (
    "blue", "navy", "teal", "sand", "cream", "kraft", "slate", "charcoal", "plum", "mint", "coral", "rose", "olive",
    "mustard", "rust", "white", "grey", "lilac", "green",
)  # fmt: skip
_MANNERS = (
    "Quick", "Pocket", "Striped", "Speckled", "Quiet", "Bright", "Plain", "Tiny", "Old-time", "Country", "Harbour",
    "Sunday", "Rainy-day", "First", "Lucky", "Evening", "Morning", "Market", "Garden", "Attic", "Seaside", "Woodland",
    "Midnight", "Golden", "Little", "Painted", "Patchwork", "Sleepy", "Merry", "Tall", "Round-the-corner", "Windy",
    "Cosy", "Frosty", "Sunny", "Mossy", "Dotted",
)  # fmt: skip
_MOTIFS = (
    "robin", "lighthouse", "acorn", "tulip", "hedgehog", "lantern", "snowdrop", "kite", "anchor", "pear", "swallow",
    "fern", "moon", "bramble", "fox", "daisy", "teapot", "holly", "wren", "clover", "sailing boat", "thistle", "owl",
    "apple", "mushroom", "bee", "rowan", "snail", "cloud", "poppy", "feather", "chestnut", "squirrel", "primrose",
    "shell", "mitten", "ivy", "hare", "plum", "starling", "maple",
)  # fmt: skip
_SEASONS = ("spring", "summer", "autumn", "winter")
_OCCASIONS = (
    "birthdays", "a spring table", "the school fair", "a harvest supper", "the last day of term", "a winter evening",
    "weddings", "a new neighbour", "the summer market", "a first visit", "a rainy afternoon", "somebody far away",
    "the whole class",
)  # fmt: skip
TAGS = (
    "favour", "gift", "table", "no glue", "one sheet", "children", "wedding", "birthday", "thank you", "classroom",
    "five minutes", "treat", "keepsake", "post", "place card", "garland", "storage", "harvest", "letters", "garden",
)  # fmt: skip
_OPENINGS = (
    "Nothing here is hard; the cutting takes longest.",
    "A project for an afternoon, or for two short evenings. The first one teaches you all you need for the next.",
    "Children from about eight can do everything but the cutting. Have scraps ready to practise on.",
    "We made these for a table of twelve, and everybody took one home. They travel well when they lie flat.",
    "It looks like more work than it is. Score with care and the rest nearly folds itself.",
)  # fmt: skip
_TIPS = (
    "Rub every fold down from the middle outwards, and the card does not creep.",
    "Put a scrap under the blade; a clean edge is worth the wait.",
    "Press the glued places under a book while you get on with the next.",
    "Cut all the pieces first and keep them together with a clip.",
    "A pencil mark on the wrong side saves a good sheet.",
    "If the card cracks at a fold, score it a second time and fold more slowly.",
)  # fmt: skip
_VARIATIONS = (
    "Try it in {colour} card with a {motif} drawn on the front.",
    "Leave the decoration off, and it is a quiet present for somebody who likes things plain.",
    "Let everybody at the table draw a {motif}, and no two are alike.",
)  # fmt: skip


class Ending(Struct, frozen=True):
    """A step that may come at the end of any project: what it needs beside its words."""

    heading: str
    do: str
    words: str
    facts: tuple[str, ...] = ()


def title_of(number: int, noun: str) -> str:
    """Manner and motif come round together only after 1,517 numbers; then another form is likely."""
    return f"{_MANNERS[number % len(_MANNERS)]} {_MOTIFS[number % len(_MOTIFS)]} {noun}"


def motif_of(number: int) -> str:
    return _MOTIFS[number % len(_MOTIFS)]


def season_of(number: int) -> str:
    return _SEASONS[number % len(_SEASONS)]


def occasion_of(number: int) -> str:
    return _OCCASIONS[number % len(_OCCASIONS)]


def summary(number: int, noun: str, dice: Random) -> str:
    ways = (
        f"A {noun} with a {motif_of(number)} on it, for {occasion_of(number)}.",
        f"For {occasion_of(number)}: a {noun} that takes little paper and less time.",
        f"A {noun} for {season_of(number)} days, cut from what a drawer of card holds.",
    )
    return dice.choice(ways)


def opening(dice: Random) -> str:
    return dice.choice(_OPENINGS)


def tip(dice: Random) -> str:
    return dice.choice(_TIPS)


def variation(number: int, dice: Random) -> str:
    return dice.choice(_VARIATIONS).format(colour=dice.choice(COLOURS), motif=motif_of(number))


def endings(project: Project, number: int, dice: Random) -> Iterator[Ending]:
    """Nothing, some, or all of what a finished thing may still be given."""
    piece, motif = project.main, motif_of(number)
    if dice.random() < 0.4:
        yield Ending("Decorate it", f"decorate {piece}", f"Draw a {motif} where it will be seen, and colour it in.")
    if project.tied:
        yield Ending("Tie it", f"tie {piece}", "Wind the ribbon round, and finish with a bow.", ("with: ribbon",))
    if dice.random() < 0.3:
        yield Ending("Look it over", f"check {piece}", "See that every edge lies flat and nothing sticks out.")
