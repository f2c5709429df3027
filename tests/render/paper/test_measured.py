"""Lines and heights by arithmetic, against the standard library's own breaker of lines and against trying all ways."""

from __future__ import annotations

import textwrap
from functools import cache
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.render.paper.measured import Block, Heights, MeasuredParagraph, Word
from render.paper.blocks import LETTER, halves, monospaced, words


def fewest(lengths: tuple[float, ...], space: float, room: float) -> int:
    """The fewest lines there can be, by trying every way to part the words; one too long for a line has its own."""

    @cache
    def from_word(start: int) -> int:
        if start == len(lengths):
            return 0
        ends = [
            end
            for end in range(start + 1, len(lengths) + 1)
            if end == start + 1 or sum(lengths[start:end]) + space * (end - start - 1) <= room
        ]
        return 1 + min(from_word(end) for end in ends)

    return from_word(0)


lines = st.lists(words, min_size=1, max_size=40).map(" ".join)
texts = st.lists(lines, min_size=1, max_size=4).map("\n".join)


@given(texts, st.integers(1, 60), st.integers(0, 8))
def test_lines_are_those_of_the_standard_library(text: str, letters: int, indent: int) -> None:
    # textwrap.wrap of the Python standard library, told to part nothing but at spaces.
    wrapped = [
        textwrap.wrap(line, letters, break_long_words=False, break_on_hyphens=False) for line in text.split("\n")
    ]
    paragraph = monospaced(text, inset=indent * LETTER)
    assert paragraph.lines((letters + indent) * LETTER) == sum(map(len, wrapped))


@given(st.lists(halves, min_size=1, max_size=12), st.sampled_from((0.0, 0.5)), halves)
def test_no_way_to_part_the_words_makes_fewer_lines(lengths: list[float], space: float, room: float) -> None:
    paragraph = MeasuredParagraph(tuple(Word(length, space) for length in lengths), 0.0, 1.0, elastic=True)
    assert paragraph.lines(room) == fewest(tuple(lengths), space, room)


@given(texts, halves, halves)
def test_a_wider_column_never_has_more_lines(text: str, width: float, more: float) -> None:
    paragraph = monospaced(text)
    assert paragraph.lines(width + more) <= paragraph.lines(width)


@given(texts)
def test_one_line_where_there_is_room_and_a_line_a_word_where_there_is_none(text: str) -> None:
    paragraph = monospaced(text)
    longest = max(map(len, text.split("\n"))) * LETTER
    assert paragraph.lines(longest) == text.count("\n") + 1
    assert paragraph.lines(LETTER) == len(text.split())


@given(lines, halves)
def test_there_are_at_least_as_many_lines_as_the_length_wants(text: str, width: float) -> None:
    paragraph = monospaced(text)
    if width >= paragraph.longest:
        # Each line takes the space after it with it.
        assert paragraph.lines(width) >= ceil((len(text) + 1) * LETTER / (width + LETTER))


def test_a_space_at_the_end_of_a_line_takes_no_room() -> None:
    two = MeasuredParagraph((Word(3.0, 0.5), Word(3.0, 0.5)), 0.0, 1.0, elastic=True)
    assert two.lines(6.5) == 1
    assert two.lines(6.49) == 2
    assert two.lines(3.0) == 2


def test_a_word_that_ends_a_line_ends_it_however_much_room_there_is() -> None:
    # A line end of the author's at the very end makes no line more.
    broken = MeasuredParagraph(
        (Word(1.0, 0.0, ends_line=True), Word(0.0, 0.0, ends_line=True), Word(1.0, 0.0)), 0.0, 1.0, True
    )
    assert broken.lines(100.0) == 3
    assert MeasuredParagraph((Word(1.0, 0.0, ends_line=True),), 0.0, 1.0, True).lines(100.0) == 1
    assert MeasuredParagraph((), 0.0, 1.0, True).lines(100.0) == 0


# --- blocks and heights ----------------------------------------------------------------------------------------------


@st.composite
def blocks(draw: st.DrawFn, name: str = "step-1", parts: bool = True) -> Block:
    paragraphs = tuple(
        monospaced(draw(texts), draw(halves), draw(st.sampled_from((0.8, 1.0, 1.3))), draw(st.booleans()))
        for _ in range(draw(st.integers(1, 3)))
    )
    of_it = {name: draw(blocks(name, parts=False)) for name in ("words", "tip")} if parts else {}
    return Block(name, paragraphs, draw(halves), of_it)


@given(blocks(), halves, st.floats(1.2, 1.5))
def test_a_height_is_the_sum_of_its_lines_and_what_is_none(block: Block, width: float, leading: float) -> None:
    wanted = block.fixed
    for paragraph in block.paragraphs:
        wanted += paragraph.lines(width) * paragraph.line * (leading if paragraph.elastic else 1)
    assert Heights().of(block, width, leading) == pytest.approx(wanted)


@given(blocks(), halves, halves, st.floats(1.2, 1.5), st.floats(0, 0.3))
def test_heights_fall_with_the_width_and_grow_with_the_leading(
    block: Block, width: float, wider: float, leading: float, more: float
) -> None:
    heights = Heights()
    here = heights.of(block, width, leading)
    assert heights.of(block, width + wider, leading) <= here + 1e-9
    assert heights.of(block, width, leading + more) >= here - 1e-9


@given(st.lists(blocks(parts=False), min_size=2, max_size=4), st.lists(halves, min_size=2, max_size=3))
def test_what_is_counted_once_is_the_same_when_asked_again(several: list[Block], widths: list[float]) -> None:
    """All of one name: what is kept is kept by the block, not by what it is called."""
    heights = Heights()
    first = [heights.of(block, width, 1.3) for block in several for width in widths]
    again = [heights.of(block, width, 1.3) for block in several for width in widths]
    fresh = [Heights().of(block, width, 1.3) for block in several for width in widths]
    assert first == again == fresh


@given(blocks(), halves, st.sampled_from(((), ("words",), ("tip",), ("words", "tip"))))
def test_a_block_with_parts_is_as_high_as_all_together(block: Block, width: float, names: tuple[str, ...]) -> None:
    heights = Heights()
    alone = heights.of(Block("", block.paragraphs, block.fixed), width, 1.3)
    parts = [heights.of(block.parts[name], width, 1.3) for name in names]
    whole = block.with_parts(names)
    assert heights.of(whole, width, 1.3) == pytest.approx(alone + sum(parts))
    assert whole.words == sum(len(paragraph.words) for paragraph in block.paragraphs) + sum(
        block.parts[name].words for name in names
    )


@given(blocks(parts=False))
def test_the_longest_word_just_stands_in_the_narrowest_column(block: Block) -> None:
    reach = [paragraph.inset + len(word.text) * LETTER for paragraph in block.paragraphs for word in paragraph.words]
    assert block.longest == max(reach)
    named = [
        paragraph.inset + len(word.text) * LETTER
        for paragraph in block.paragraphs
        for word in paragraph.words
        if word.text == block.longest_word
    ]
    assert max(named) == block.longest
