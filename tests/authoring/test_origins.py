"""Every number of a piece lights a part of its plan, every part leads to its number: read here without the program."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from lxml import etree

from authoring.texts import NAMES, TEXTS, understood
from foldwright.authoring.marks import mark_of
from foldwright.authoring.numbers import numbers_at
from foldwright.authoring.origins import Origin, marks_at, origins, origins_by_length
from foldwright.authoring.plans import Plan, piece_plans
from foldwright.finding import Place
from foldwright.measure.length import System
from foldwright.pipeline import check_recipe

NUMBER = re.compile(
    r"(?<![\w./])(?>(\d+)[ -](\d+)/(\d+)|(\d+)/(\d+)|(\d+(?:[.,]\d+)?))(?![\w°/])(?! of\b| times\b| degrees)"
)
FACTS = ("size", "across", "down", "inside", "finished", "holes", "lines")


def value(text: str) -> Fraction:
    whole, over, under, top, bottom, plain = NUMBER.fullmatch(text).groups()
    if plain:
        return Fraction(plain.replace(",", "."))
    return Fraction(int(top or over), int(bottom or under)) + int(whole or 0)


@cache
def plans(path: Path) -> tuple[Plan, ...]:
    text, known, document = understood(path)
    return piece_plans(known, document, text, System.METRIC)


@cache
def found(path: Path) -> dict[str, Origin]:
    text, known, _ = understood(path)
    return origins(known, text)


def numbers_of_pieces(text: str) -> list[tuple[int, str]]:
    """The numbers in the facts of pieces that say how large they are, with their offsets; noughts are no lengths."""
    at, facts, fact, inside, deep = 0, [], "", False, 0
    for line in text.split("---")[1].splitlines(keepends=True):
        word = re.match(r"( *)(?:- )?([a-z ]+?):", line)
        if word and not word[1]:
            inside = word[2] == "pieces"
        elif word and len(word[1]) <= 4:
            fact, deep = word[2] if len(word[1]) == 4 else "", len(word[1])
        if inside and deep and fact in FACTS:
            facts.append((3 + at, line))
        at += len(line)
    return [
        (start + match.start(), match[0])
        for start, line in facts
        for match in NUMBER.finditer(line.partition(" #")[0])
        if value(match[0]) and not re.search(r"(?:corner|line) $", line[: match.start()])
    ]


@pytest.mark.parametrize("path", TEXTS, ids=NAMES)
def test_every_number_of_a_piece_lights_a_part_of_its_plan(path):
    text = understood(path)[0]
    shown = {mark for plan in plans(path) for mark in plan.marks}
    numbers = numbers_of_pieces(text)
    dark = [(start, number) for start, number in numbers if shown.isdisjoint(marks_at(found(path), start))]
    assert numbers
    assert not [(text[max(0, start - 60) : start + 12], number) for start, number in dark]


@pytest.mark.parametrize("path", TEXTS, ids=NAMES)
def test_every_part_leads_to_a_place_and_what_is_said_is_that_length(path):
    text, known, _ = understood(path)
    by_mark = {mark_of(name): name for name in origins_by_length(known, text)}
    lengths = known.flat.lengths.by_id
    for plan in plans(path):
        groups = etree.fromstring(plan.svg.encode()).findall(".//{*}g[@class='pick']")
        assert groups
        for group in groups:
            marks = group.get("data-mark").split()
            assert marks and group.get("tabindex") == "0" and group.get("aria-label")
            assert all(found(path)[mark].places for mark in marks)
    # What is written is gone to, shown in a plan or not.
    for mark, origin in found(path).items():
        if origin.said:
            place = origin.places[0]
            assert value(text[place.start : place.end]) == lengths[by_mark[mark]].value, mark
    for piece in known.recipe.pieces:
        blank = known.flat.blank(piece.name.value)
        for panels, strips in ((piece.across, blank.across), (piece.down, blank.down)) if blank else ():
            for panel, strip in zip(panels, strips, strict=False):
                one = found(path)[mark_of(strip.length)]
                assert one.said == (panel.length is not None)
                assert panel.place.start <= one.places[0].start <= one.places[0].end <= panel.place.end


@pytest.mark.parametrize("path", TEXTS, ids=NAMES)
def test_no_two_lengths_have_one_mark(path):
    text, known, _ = understood(path)
    by_length = origins_by_length(known, text)
    assert len(found(path)) == len(by_length)
    assert all(re.fullmatch(r"[^\s\"&<>]+", mark) for mark in found(path))


def origin_of(facts: str, mark: str) -> tuple[list[str], bool]:
    text = f"---\nsupplies:\n  card: cardstock, sheet A4\npieces:\n  box lid:\n    from: card\n{facts}---\n"
    known = check_recipe(text, "recipe.md", "box").understood
    one = origins(known, text)[mark]
    return [text[place.start : place.end] for place in one.places], one.said


@pytest.mark.parametrize(
    ("facts", "mark", "places", "said"),
    [
        ("    size: 100 x 100 mm\n", "box-lid.down", ["100"], True),
        ("    size: 4 in square\n", "box-lid.down", ["4"], True),
        ("    size: 1 ft 2 in x half an inch\n", "box-lid.across", ["1 ft 2"], True),
        ("    size: 1 ft 2 in x half an inch\n", "box-lid.down", ["half an"], True),
        ("    size: 90 x 100 mm\n    across: 30 | rest | 30\n", "box-lid.across.2", ["rest"], False),
        ("    size: 90 x 100 mm\n    across: 3 of 30\n", "box-lid.across.2", ["30"], True),
        ("    across: 20 | 30 | 20 mm\n    down: 90 mm\n", "box-lid.across", ["20", "30", "20"], False),
        ("    size: 90 x 100 mm\n    across: 20 | rest\n", "box-lid.across.1.score", ["20"], False),
    ],
)
def test_where_a_length_comes_from(facts, mark, places, said):
    assert origin_of(facts, mark) == (places, said)


def test_equal_numbers_are_told_apart_by_their_words():
    line = "    holes: round 6 mm, repeated 3 times, 20 mm apart down, middle 20 mm from the left\n"
    facts = f"    from: card\n    size: 90 x 90 mm\n{line}"
    text = f"---\nsupplies:\n  card: cardstock, sheet A4\npieces:\n  lid:\n{facts}---\n"
    known = origins(check_recipe(text, "recipe.md", "box").understood, text)
    apart, left = text.index("20 mm apart"), text.index("20 mm from")
    assert known["lid.hole-apart.1.down"].places[0].start == apart
    assert known["lid.hole.1.left.middle"].places[0].start == left
    assert marks_at(known, left)[0] == "lid.hole.1.left.middle"


def test_a_size_lights_its_own_side_and_not_the_other():
    text = "---\nsupplies:\n  card: cardstock, sheet A4\npieces:\n  lid:\n    from: card\n    size: 80 x 90 mm\n---\n"
    known = origins(check_recipe(text, "recipe.md", "box").understood, text)
    assert marks_at(known, text.index("80")) == ("lid.across",)
    assert marks_at(known, text.index("90")) == ("lid.down",)


@pytest.mark.parametrize(
    ("text", "typed"),
    [
        ("12 mm right of outline corner 3", ["12"]),
        ("mountain -90° from 8½ across 2-1/4 down to 3,5 across 4 down", ["8½", "2-1/4", "3,5", "4"]),
        ("6 of 1 1/2 in, 5 times", ["1 1/2"]),
        ("A4, 1 ft 6 in", ["1 ft 6"]),
    ],
)
def test_numbers_that_are_lengths(text, typed):
    assert [text[one.place.start : one.place.end] for one in numbers_at(text, Place("", 0, len(text)))] == typed
