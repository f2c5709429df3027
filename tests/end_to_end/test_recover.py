"""`foldwright recover`: a recipe that is right as it stands, or a message that says what to measure."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from workbench.command_line import contents, foldwright

BOX = """\
title: Tuesday box
base across, from the left: 5/8, 3 1/2, 4 1/8; whole: 4 1/8
base down: 1 3/4 front | 3/4 floor | 1 25/32 back
base fold: tray
"""
DRAWER = """\
title: Drawer
measured in: inches
thickness: 0.32 mm
drawer across: 13/16 | 2 3/8 | 13/16; whole 3 15/16
drawer down, from the top: 25/32, 4 21/64, 5 1/8
drawer fold: tray
drawer slides in: sleeve
sleeve across: 62.4 mm, 21.8 mm, 61.8 mm, 22.3 mm, 12.1 mm
sleeve down: 3 9/16
"""


@pytest.mark.parametrize(("notes", "slug"), [(BOX, "tuesday-box"), (DRAWER, "drawer")])
def test_what_it_begins_passes_check_with_nothing_found_and_can_be_built(tmp_path: Path, notes: str, slug: str) -> None:
    (tmp_path / "sample.txt").write_text(notes, encoding="utf-8")
    done = foldwright("recover", "sample.txt", cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    checked = foldwright("check", f"recipes/{slug}", cwd=tmp_path)
    assert (checked.status, checked.out.splitlines()[-1]) == (0, "All is well.")
    built = foldwright("build", "recipes", "--out", "out", "--only", "tutorial", cwd=tmp_path)
    assert built.status == 0, built.out + built.err


def test_the_answer_says_the_pieces_what_was_assumed_and_how_far_each_reading_is_off(tmp_path: Path) -> None:
    (tmp_path / "sample.txt").write_text(BOX, encoding="utf-8")
    done = foldwright("recover", "sample.txt", cwd=tmp_path)
    assert "across: 5/8 | 2 7/8 | 5/8\n" in done.out
    assert "down: 1 3/4 front | 3/4 floor | 1 3/4 back\n" in done.out
    assert "Fractions without a unit are inches." in done.out
    assert "base down, back: you measured 1 25/32 in, it is 1 3/4 in: 1/32 in too long" in done.out
    drawing = (tmp_path / "recipes/tuesday-box/base-drawing.svg").read_text(encoding="utf-8")
    assert drawing.startswith("<svg")
    words = re.sub(r"<[^>]*>", "", drawing).replace("\u202f", " ")
    assert "2 ⅞ in" in words
    assert "floor" in words


def test_millimetres_behind_readings_in_inches(tmp_path: Path) -> None:
    (tmp_path / "sample.txt").write_text(DRAWER, encoding="utf-8")
    foldwright("recover", "sample.txt", cwd=tmp_path)
    text = (tmp_path / "recipes/drawer/recipe.md").read_text(encoding="utf-8")
    assert "measured in: millimetres" in text
    assert "across: 20 | 60 | 20" in text
    assert "across: 62 | 22 | 62 | 22 | 12 glue flap" in text


def test_contradictions_name_the_readings_and_what_comes_nearest_and_write_nothing(tmp_path: Path) -> None:
    notes = "base across: 5/8 | 2 5/8 | 5/8 in; whole: 4 1/8 in\nbase down: 4 in\n"
    (tmp_path / "sample.txt").write_text(notes, encoding="utf-8")
    done = foldwright("recover", "sample.txt", cwd=tmp_path)
    assert done.status == 1
    assert "cannot all be true" in done.err
    assert "write behind the measurements of base across:  ; within 1/16 in\n" in done.err
    assert not (tmp_path / "recipes").exists()
    (tmp_path / "sample.txt").write_text(notes.replace("4 1/8 in", "4 1/8 in; within 1/16 in"), encoding="utf-8")
    wider = foldwright("recover", "sample.txt", cwd=tmp_path)
    assert wider.status == 0, wider.err


def test_a_coarser_ruler_of_the_call_explains_the_same(tmp_path: Path) -> None:
    """Marks every eighth leave a sixteenth open either way, as `within 1/16 in` does."""
    notes = "base across: 5/8 | 2 5/8 | 5/8 in; whole: 4 1/8 in\nbase down: 4 in\n"
    (tmp_path / "sample.txt").write_text(notes, encoding="utf-8")
    assert foldwright("recover", "sample.txt", "--read-to", "1/16 in", cwd=tmp_path).status == 1
    assert foldwright("recover", "sample.txt", "--read-to", "1/8 in", cwd=tmp_path).status == 0


def test_every_slip_is_told_at_once_with_its_line(tmp_path: Path) -> None:
    notes = "base acros: 5/8\nbase down: foo\nlid down, from the left: 2 in, 3 in\nlid across: 3 in\n"
    (tmp_path / "sample.txt").write_text(notes, encoding="utf-8")
    done = foldwright("recover", "sample.txt", cwd=tmp_path)
    assert done.status == 1
    for line in ("line 1", "line 2", "line 3"):
        assert line in done.err
    assert "You cannot measure down from the left" in done.err
    assert "Traceback" not in done.err


def test_nothing_is_written_over(tmp_path: Path) -> None:
    (tmp_path / "sample.txt").write_text(BOX, encoding="utf-8")
    foldwright("recover", "sample.txt", cwd=tmp_path)
    before = contents(tmp_path)
    again = foldwright("recover", "sample.txt", cwd=tmp_path)
    assert again.status == 2
    assert "already exists" in again.err
    assert contents(tmp_path) == before


def test_it_asks_for_readings_and_keeps_them(tmp_path: Path) -> None:
    typed = "Blue box\nblue card\nbase\nfrom the left: 5/8, 3 1/2; whole: 4 1/8 in\n1 | 2 | 1 in\ntray\n\n"
    done = foldwright("recover", cwd=tmp_path, typed=typed)
    assert done.status == 0, done.out + done.err
    folder = tmp_path / "recipes/blue-box"
    assert "base across, from the left: 5/8, 3 1/2; whole: 4 1/8 in" in (folder / "readings.txt").read_text("utf-8")
    assert "blue card: cardstock" in (folder / "recipe.md").read_text(encoding="utf-8")


def test_sentences_are_understood_and_what_was_taken_for_granted_is_said(tmp_path: Path) -> None:
    notes = """\
Harbour street favour
made in: eighths
The base is 4 1/8 in across, with scores about 5/8 in from each end.
It is 4 1/4 in high, with panels of 1 3/4, 3/4 and 1 3/4 in.
"""
    (tmp_path / "sample.txt").write_text(notes, encoding="utf-8")
    done = foldwright("recover", "sample.txt", cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    text = (tmp_path / "recipes/harbour-street-favour/recipe.md").read_text(encoding="utf-8")
    assert "across: 5/8 | 2 7/8 | 5/8\n" in text
    assert "down: 1 3/4 | 3/4 | 1 3/4\n" in text
    assert "“about 5/8 in” is somewhere from 9/16 in to 11/16 in." in done.out
    assert "“Harbour street favour” is the title." in done.out
    assert "Your ruler is marked every 1/16 in, so each number may be off by 1/32 in." in done.out


def test_it_asks_what_the_maker_cuts_to(tmp_path: Path) -> None:
    typed = "Slip\n\nbase\n20 | 60 | 20 mm\n40 mm\n\n\nin a hurry\n5 mm steps\n"
    done = foldwright("recover", cwd=tmp_path, typed=typed)
    assert done.status == 0, done.out + done.err
    assert "I cannot tell from “in a hurry” which marks the maker cuts to." in done.out + done.err
    assert "made in: 5 mm steps\n" in (tmp_path / "recipes/slip/readings.txt").read_text("utf-8")


@pytest.mark.parametrize("call", [["recover", "nothing.txt"], ["recover", "sample.txt", "--read-to", "far"]])
def test_wrong_calls_are_said_plainly(tmp_path: Path, call: list[str]) -> None:
    (tmp_path / "sample.txt").write_text(BOX, encoding="utf-8")
    done = foldwright(*call, cwd=tmp_path)
    assert done.status == 2
    assert done.err.strip()
    assert "Traceback" not in done.err


def test_pieces_that_go_together_get_steps_that_put_them_together(tmp_path: Path) -> None:
    notes = """\
title: Gift set
card: blue card, 270 g/m2
sheet: 12 x 12 in
base size: 5 1/2 x 5 1/2 in
base across: 1 1/4 | 3 | 1 1/4 in
base down: 1 1/4 | 3 | 1 9/32 in
base fold: tray
lid across: 3/4 | 3 1/8 | 3/4 in
lid down, from the bottom: 25/32, 3 7/8, 4 5/8 in
lid fold: lid
lid fits over: base
label size: 2 5/8 x 2 5/8 in
label goes on: outside of lid floor, centred
"""
    (tmp_path / "sample.txt").write_text(notes, encoding="utf-8")
    done = foldwright("recover", "sample.txt", cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    text = (tmp_path / "recipes/gift-set/recipe.md").read_text(encoding="utf-8")
    assert "blue card: cardstock, 270 g/m2, sheet 12 x 12 in" in text
    assert "do: stick label to lid" in text
    assert "## Put the lid on" in text
    checked = foldwright("check", "recipes/gift-set", cwd=tmp_path)
    assert (checked.status, checked.out.splitlines()[-1]) == (0, "All is well.")
