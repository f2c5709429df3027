"""`do:` lines: which acts are done to which pieces, and what is asked about."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.prose.doings import DoingNames, read_doings
from workbench.long import tries

PIECES = (
    "base",
    "lid",
    "outer mat",
    "inner mat",
    "birdhouse front",
    "front",
    "tag",
    "wrapper",
    "card",
    "stamp",
    "punch card",
)
NAMES = DoingNames(PIECES, ("satin ribbon", "cotton twine"))


def read(said: str) -> tuple[list[str], list[str]]:
    """The doings as `cut base+lid`, and what was complained of as `code word`."""
    complaints = Complaints()
    doings = read_doings(Phrase(said, "recipe.md", 0), NAMES, complaints)
    told = [f"{each.code} {dict(each.facts)['said']}" for each in complaints.findings]
    return [f"{doing.act} {'+'.join(doing.subjects)}".strip() for doing in doings], told


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        ("cut base", ["cut base"]),
        ("Cut the base", ["cut base"]),
        ("cut and score base", ["cut base", "score base"]),
        ("cut, score and fold base", ["cut base", "score base", "fold base"]),
        ("cut base, score lid", ["cut base", "score lid"]),
        ("cut base and score lid", ["cut base", "score lid"]),
        ("cut base; score lid", ["cut base", "score lid"]),
        ("cut base and lid", ["cut base+lid"]),
        ("cut base, lid and tag", ["cut base+lid+tag"]),
        ("cut base, mats and tag", ["cut base+outer mat+inner mat+tag"]),
        ("cut and stamp tag", ["cut tag", "stamp tag"]),
        ("cut bases, Outer-Mats", ["cut base+outer mat"]),
        ("cutting the birdhouse fronts", ["cut birdhouse front"]),
        ("cut front", ["cut front"]),
        ("stick birdhouse front to base", ["stick birdhouse front+base"]),
        ("tape inner mat to outer mat, tape outer mat to base", ["tape inner mat+outer mat", "tape outer mat+base"]),
        ("die cut tag", ["die cut tag"]),
        ("tie", ["tie"]),
        ("wrap wrapper", ["wrap wrapper"]),
        ("cut stamp", ["cut stamp"]),
        ("cut base, stamp", ["cut base+stamp"]),
        ("stamp tag", ["stamp tag"]),
        ("stamp stamp", ["stamp stamp"]),
        ("cut base, stamp tag", ["cut base", "stamp tag"]),
        ("cut punch card", ["cut punch card"]),
        ("fold base up, glue lid shut", ["fold base", "glue lid"]),
        ("thread ribbon, glue twine", ["thread", "glue"]),
        ("slit corner flaps of base", ["slit base"]),
        ("fold everything", ["fold"]),
        ("cut base base base", ["cut base"]),
        ("glue", ["glue"]),
    ],
)
def test_acts_and_pieces(said: str, wanted: list[str]) -> None:
    assert read(said) == (wanted, [])


@pytest.mark.parametrize(
    ("said", "wanted", "told"),
    [
        ("laminate base", ["laminate base"], ["unknown-act laminate"]),
        ("laminate and cut base", ["laminate base", "cut base"], ["unknown-act laminate"]),
        ("cut base, laminate lid", ["cut base", "laminate lid"], ["unknown-act laminate"]),
        ("cut bsae", ["cut base"], ["unknown-piece-in-do-near bsae"]),
        ("glue inenr mat to base", ["glue inner mat+base"], ["unknown-piece-in-do-near inenr mat"]),
        ("cut base and zebra", ["cut base"], ["unknown-piece-in-do zebra"]),
        ("cut base, zebra", ["cut base"], ["unknown-piece-in-do zebra"]),
        ("glue tag to zebra", ["glue tag"], ["unknown-piece-in-do zebra"]),
    ],
)
def test_what_is_not_known_is_asked_about_and_kept(said: str, wanted: list[str], told: list[str]) -> None:
    assert read(said) == (wanted, told)


WORDS = [
    *PIECES,
    "cut",
    "and",
    "score",
    ",",
    ";",
    "to",
    "zebra",
    "mats",
    "the",
    "up",
    "die cut",
    "ribbon",
    "—",
    "x" * 50,
]


@settings(max_examples=tries(100, 200))
@given(st.lists(st.sampled_from(WORDS), max_size=20).map(" ".join))
def test_any_words_are_read(said: str) -> None:
    complaints = Complaints()
    doings = read_doings(Phrase(said, "recipe.md", 3), NAMES, complaints)
    assert all(subject in PIECES for doing in doings for subject in doing.subjects)
    for each in complaints.findings:
        assert each.place
        assert said[each.place.start - 3 : each.place.end - 3] == dict(each.facts)["said"]


def test_no_pieces_at_all() -> None:
    assert read_doings(Phrase("cut base", "recipe.md", 0), DoingNames(()), Complaints())[0].act == "cut"


def test_a_very_long_line_is_cut_short() -> None:
    assert read("cut base, " * 5000)[0] == ["cut base"] * 66 + ["cut base"]
