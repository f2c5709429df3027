"""Made-up projects in random sizes: all is read, adds up, and nothing is wrong that was not."""

from __future__ import annotations

from fractions import Fraction

import pytest

from begin.resize.made_up import Beside, Maker, resized, understood
from foldwright.geometry.flat.blank import GLUE_FLAP, Blank
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import Flat
from foldwright.measure.length import Unit
from foldwright.outputs.texts import texts_of
from geometry.test_planted_faults import CASES, text_of
from workbench.long import every, tries

MARKS = {True: Unit.INCH.mm / 32, False: Fraction(1, 2)}
"""The finest marks of a ruler in inches and of one in millimetres."""
GROUPS = 4


def sides(blank: Blank) -> list[tuple[Fraction, ...]]:
    return [tuple(strip.long for strip in row) for row in (blank.across, blank.down)]


def borders(flat: Flat) -> dict[LengthId, Fraction]:
    return {name: length.mm for name, length in flat.lengths.by_id.items() if name.side in ("border", "overhang")}


@pytest.mark.parametrize("group", range(GROUPS))
def test_random_projects_in_random_sizes(group):
    for seed in range(group, tries(60, 1000), GROUPS):
        maker = Maker(seed)
        text, scale = maker.recipe(), maker.scale()
        old = understood(texts_of("made-up", text), Beside())
        made = resized(text, scale)
        assert not made.wrong, (seed, scale, made.checked.findings, made.broken)
        new = made.checked.understood
        assert new is not None
        mark = MARKS[maker.inches]
        for blank in new.flat.blanks:
            before = old.flat.blank(blank.piece)
            assert before is not None
            for row, was, whole in zip(sides(blank), sides(before), (blank.width, blank.height), strict=True):
                assert len(row) == len(was)
                assert sum(row) == whole
                if not blank.made:
                    assert all(long % mark == 0 for long in row), (seed, scale, blank.piece, row)
                # What was equal is equal.
                assert all((row[a] == row[b]) >= (was[a] == was[b]) for a in range(len(row)) for b in range(a))
            flaps = [[strip.long for strip in one.across if strip.role == GLUE_FLAP] for one in (before, blank)]
            assert flaps[0] == flaps[1]
        for was, now in zip(old.flat.gaps, new.flat.gaps, strict=True):
            assert was.between_scores == now.between_scores, (seed, scale)
        assert borders(old.flat).keys() == borders(new.flat).keys(), (seed, scale)
        kept = {dict(note.facts)["piece"] for note in made.notes if note.code.startswith("keeps")}
        for name, border in borders(old.flat).items():
            if name.piece in kept and name.place in ("across", "down"):
                assert borders(new.flat)[name] == border, (seed, scale, name)


@pytest.mark.parametrize("group", range(GROUPS))
def test_twice_as_large_is_exactly_that_but_for_what_stays(group):
    # Whole millimetres and eighths of an inch are so twice over: nothing is rounded.
    for seed in range(group, tries(20, 200), GROUPS):
        text = Maker(seed).recipe()
        old = understood(texts_of("made-up", text), Beside())
        new = resized(text, "2").checked.understood
        assert new is not None
        for blank in (blank for blank in old.flat.blanks if blank.form in ("tray", "card")):
            twice = new.flat.blank(blank.piece)
            assert twice is not None
            assert (twice.width, twice.height) == (2 * blank.width, 2 * blank.height)


@pytest.mark.parametrize("group", range(GROUPS))
def test_random_contents_go_into_random_boxes(group):
    for seed in range(group, tries(24, 200), GROUPS):
        text, wished = Maker(seed).holder()
        made = resized(text, holds=wished)
        assert not made.wrong, (seed, wished, made.checked.findings, made.broken)
        new = made.checked.understood
        assert new is not None
        count = int(wished.split()[0])
        assert [one.things for one in new.flat.held] == [(("sweet", count),)], (seed, wished)


SOUND = [case for case in CASES if case.get("sound", True) and "bench" not in case]
"""Pieces of every kind that fold and go together, of which none holds something bought."""


@pytest.mark.parametrize("case", every(SOUND, 2), ids=lambda case: case["name"])
def test_what_is_sound_is_sound_in_another_size(case):
    pieces = case["pieces"]
    for old, new in ([case["twin"]] if "twin" in case else []) + case.get("twin2", []):
        pieces = pieces.replace(old, new)
    text = text_of(case, pieces).replace("sheet 700 x 1000 mm", "sheet 2000 x 2000 mm")
    files = {name.replace(".", "_"): svg for name, svg in case.get("outlines", {}).items()}
    for scale in ("1.37", "1.5", "2"):
        made = resized(text, scale, Beside(**files))
        assert not made.wrong, (scale, made.entry, made.checked.findings, made.broken)
