"""Measured words and pictures made up for tests of arithmetic: all letters are equally wide. Not a test."""

from __future__ import annotations

from hypothesis import strategies as st
from msgspec import Struct

from foldwright.render.paper.arranging import Item
from foldwright.render.paper.measured import Block, MeasuredParagraph, Word

LETTER = 0.5
"""Ems a letter is wide, and the space between words."""


def monospaced(text: str, inset: float = 0.0, line: float = 1.0, elastic: bool = True) -> MeasuredParagraph:
    """Words as a typewriter sets them; the author's own line ends are kept."""
    words: list[Word] = []
    for one in text.split("\n"):
        found = one.split(" ")
        words += [Word(len(word) * LETTER, LETTER, text=word) for word in found[:-1]]
        words.append(Word(len(found[-1]) * LETTER, 0.0, ends_line=True, text=found[-1]))
    return MeasuredParagraph(tuple(words), inset, line, elastic)


class Rectangle(Struct, frozen=True):
    """A picture of a fixed shape."""

    least_mm: float
    most_mm: float
    ratio: float
    """Its height for a width of one."""

    @property
    def told_mm(self) -> float:
        return self.least_mm

    def height_at(self, width_mm: float) -> float:
        return width_mm * self.ratio


words = st.text("abcdefghij", min_size=1, max_size=12)
# Lengths that a float holds exactly, so that a word fits to a hair or does not.
halves = st.integers(1, 24).map(lambda number: number * 0.5)


@st.composite
def pictures(draw: st.DrawFn) -> Rectangle:
    least = draw(st.integers(15, 70))
    return Rectangle(
        float(least), float(least + draw(st.integers(0, 120))), draw(st.sampled_from((0.3, 0.7, 1.0, 1.4)))
    )


@st.composite
def items(draw: st.DrawFn, name: str = "step-1", most_words: int = 80, most_pictures: int = 3) -> Item:
    """A step of a heading and some words, perhaps with pictures."""
    said = draw(st.integers(1, most_words))
    long = draw(st.integers(1, 12))
    heading = monospaced(" ".join("a" * long for _ in range(1 + said % 4)), 1.75, 1.2, elastic=False)
    body = monospaced(" ".join("a" * (1 + number * long % 11) for number in range(said)), 1.75)
    shown = draw(st.lists(pictures(), max_size=most_pictures))
    return Item(Block(name, (heading, body), draw(st.sampled_from((0.0, 0.15, 0.75)))), tuple(shown))
