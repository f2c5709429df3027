"""Captions are read as the standard has them, each word with its place; what is wrong is told with its line."""

from __future__ import annotations

from io import StringIO
from random import Random

import pytest
import webvtt

from foldwright.finding import LineTable, Strength
from foldwright.recipe.captions import Cue, read_captions
from foldwright.recipe.facts.complaints import Complaints
from workbench.long import tries

GOOD = """WEBVTT - a film of ours

STYLE
::cue { color: yellow }

NOTE This is not said --
and nor is this

1
00:00:02.000 --> 00:00:06.500 align:start line:0
Hello <b>everybody</b>,

00:06.500 --> 00:12.000
<v Ada>the box &amp; its lid &lt;one&gt;
on two lines

the end
01:00:00.000 --> 01:00:01.001
Bye!
"""


def read(text: str) -> tuple[tuple[Cue, ...], list[tuple[str, int]]]:
    """The cues, and the codes of what is found, each with its line."""
    complaints = Complaints()
    cues = read_captions(text, "film.vtt", complaints)
    lines = LineTable(text)
    places = [one.place for one in complaints.findings if one.place]
    return cues, [
        (one.code, lines.line_and_column(place.start)[0])
        for one, place in zip(complaints.findings, places, strict=True)
    ]


def test_the_cues_are_those_an_independent_reader_has() -> None:
    cues, found = read(GOOD)
    assert found == []
    theirs = webvtt.from_buffer(StringIO(GOOD)).captions

    def thousandths(time: str) -> int:
        hours, minutes, seconds = time.split(":")
        return round((int(hours) * 60 + int(minutes)) * 60_000 + float(seconds) * 1000)

    assert [(one.begins, one.ends) for one in cues] == [
        (thousandths(one.start), thousandths(one.end)) for one in theirs
    ]
    assert [len(one.lines) for one in cues] == [len(one.lines) for one in theirs]


def test_what_is_said_is_plain_and_keeps_its_place() -> None:
    cues, _ = read(GOOD)
    assert [cue.text for cue in cues] == ["Hello everybody,", "the box and its lid one on two lines", "Bye!"]
    for line in (line for cue in cues for line in cue.lines):
        there = GOOD[line.start : line.start + len(line.text)]
        assert "\n" not in there
        for at, letter in enumerate(line.text):
            # `&amp;` is said as a word of its own.
            assert letter in (" ", there[at]) or there[at : at + 1] in "&amp;"


# The line is that of the text as it stands, counted by hand.
FAULTY = {
    "": ("captions-not-webvtt", 1),
    "hello\n": ("captions-not-webvtt", 1),
    "WEBVTTX\n": ("captions-not-webvtt", 1),
    "1\n00:00:01,000 --> 00:00:02,000\nHi\n": ("captions-not-webvtt", 1),
    "WEBVTT\n": ("captions-empty", 1),
    "WEBVTT\n\nNOTE nothing\n": ("captions-empty", 1),
    "WEBVTT\n\nHello there\nyou two\n": ("captions-no-time", 3),
    "WEBVTT\n\n0:1 --> 2\nHi\n": ("captions-time-unreadable", 3),
    "WEBVTT\n\nmark\n00:00:01,000 --> 00:00:02,000\nHi\n": ("captions-time-unreadable", 4),
    "WEBVTT\n\n00:61.000 --> 01:02.000\nHi\n": ("captions-time-unreadable", 3),
    "WEBVTT\n\n00:02.000 --> 00:02.000\nHi\n": ("captions-cue-ends-first", 3),
    "WEBVTT\n\n00:05.000 --> 00:06.000\nHi\n\n00:04.000 --> 00:07.000\nBye\n": ("captions-out-of-order", 6),
    "WEBVTT\n\n00:05.000 --> 00:07.000\nHi\n\n00:06.000 --> 00:08.000\nBye\n": ("captions-overlap", 6),
}


@pytest.mark.parametrize(("text", "told"), FAULTY.items())
def test_what_is_wrong_is_told_with_its_line(text: str, told: tuple[str, int]) -> None:
    _, found = read(text)
    assert found == [told]


def test_captions_out_of_order_are_not_guessed_at() -> None:
    cues, _ = read("WEBVTT\n\n00:05.000 --> 00:06.000\nHi\n\n00:04.000 --> 00:07.000\nBye\n")
    assert cues == ()


def test_only_what_may_be_meant_so_is_a_thought() -> None:
    complaints = Complaints()
    read_captions("WEBVTT\n\n00:05.000 --> 00:07.000\nHi\n\n00:06.000 --> 00:08.000\nBye\n", "film.vtt", complaints)
    assert [one.strength for one in complaints.findings] == [Strength.THOUGHT]


def test_a_line_that_rolls_up_the_screen_is_said_once() -> None:
    cues, _ = read(
        "WEBVTT\n\n00:01.000 --> 00:02.000\ncut the card\n\n00:02.000 --> 00:03.000\ncut the card\nthen score it\n\n"
        "00:03.000 --> 00:04.000\nthen score it\n"
    )
    assert [cue.text for cue in cues] == ["cut the card", "then score it"]


def test_nothing_in_a_file_raises() -> None:
    random = Random(3)
    signs = [
        "\n",
        "\n\n",
        "-->",
        "00:01.000",
        "WEBVTT",
        "NOTE",
        "<",
        ">",
        "&",
        "&#99999999;",
        "&amp;",
        "é",
        "3 in",
        " ",
    ]
    signs += ["\t", "\u2028", "١"]
    for _ in range(tries(400, 20_000)):
        text = random.choice(["", "WEBVTT\n\n"]) + "".join(random.choice(signs) for _ in range(random.randint(0, 30)))
        cues, found = read(text)
        assert cues or found
        assert all(0 <= line.start <= len(text) - len(line.text) for cue in cues for line in cue.lines)
        cut = random.randrange(len(GOOD))
        read(GOOD[:cut] + random.choice(signs) + GOOD[cut + random.randint(0, 9) :])
