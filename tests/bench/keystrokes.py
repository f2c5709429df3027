"""Typing into a recipe of twenty steps with pictures and two photographs: one change after the other, as a desk gets
them. Not a test.

A word and a heading grow by a letter and begin again; a number becomes another one. No text comes twice in a row.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from pathlib import Path

from PIL import Image

from foldwright.outputs.live import Live
from foldwright.outputs.texts import Texts, texts_of
from foldwright.render.web.parts import PageParts, patch
from foldwright.surroundings import Folder
from workbench.unremembered import nothing_remembered

STEPS = 20
TEXT = (Path(__file__).parent / "twenty_steps" / "recipe.md").read_text(encoding="utf-8")
STUDIO = "studio: Harbour Street Paper Studio\ntrimmer: bed 12 in, reads 1/16 in\ncard thickness: 0.32 mm\n"
PHOTOS = ("finished.jpg", "label.jpg")
_LETTERS = "and then once more"


def _grown(before: str) -> Callable[[int], str]:
    """A letter more behind these words each time."""
    assert TEXT.count(before) == 1, before
    return lambda number: TEXT.replace(before, f"{before} {_LETTERS[: number % len(_LETTERS) + 1]}")


def _other_number(before: str, after: str) -> Callable[[int], str]:
    """Sixteenths in the place of `#`, those of a panel or of a size."""
    assert TEXT.count(before) == 1, before
    return lambda number: TEXT.replace(before, after.replace("#", str(1 + 2 * (number % 7))))


KINDS: dict[str, Callable[[int], str]] = {
    "a word of a step": _grown("set the stop once, score"),
    "a heading": _grown("## Score the lid"),
    "the summary": _grown("everything for a small parcel"),
    "a tool": _grown("- small sharp scissors"),
    "a panel": _other_number("down: 1 1/4 back", "down: 1 #/16 back"),
    "a size": _other_number("size: 2 5/8 x 2 5/8 in", "size: 2 #/16 x 2 5/8 in"),
}
NUMBERS = ("a panel", "a size")
"""What changes a piece, which is laid, folded and drawn anew."""


def write_photos(folder: Path) -> None:
    """As a telephone takes them, though of nothing."""
    for name in PHOTOS:
        noise = [Image.effect_noise((40, 30), 90).resize((1600, 1200)) for _ in range(3)]
        Image.merge("RGB", noise).save(folder / name, quality=90)


class Desk:
    """What a desk does with a text: compile it, and find what has changed."""

    def __init__(self, folder: Path) -> None:
        write_photos(folder)
        self._folder = Folder(folder)
        self._live = Live()
        self._shown: PageParts | None = None

    def typed(self, text: str) -> float:
        """Seconds from the text to what is sent."""
        started = time.perf_counter()
        page = self._live.page(self._texts(text), self._folder).page
        assert page is not None
        patch(self._shown, page)
        self._shown = page
        return time.perf_counter() - started

    def anew(self, text: str) -> float:
        """Seconds for the same where nothing is remembered but its photographs."""
        with nothing_remembered():
            return self.typed(text)

    def _texts(self, text: str) -> Texts:
        return texts_of("market-stall", text, STUDIO)


def all_kinds() -> Iterator[str]:
    """Changes of every kind in turn, without end."""
    number = 0
    while True:
        for change in KINDS.values():
            yield change(number)
        number += 1
