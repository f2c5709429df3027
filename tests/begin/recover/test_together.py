"""Two pieces of a sample that plainly go with each other: nobody has to say so."""

from __future__ import annotations

import pytest

from foldwright.begin.draft.begun import begin
from foldwright.begin.draft.model import Draft, DraftNote
from foldwright.begin.recover.notes.reading import read_sample
from foldwright.begin.recover.recovering import recover
from foldwright.begin.recover.telling import draft_of_sample

DRAWER = "drawer across: 20 | 60 | 20 mm\ndrawer down: 20 | 90 | 20 mm\n"
SLEEVE = "sleeve across: 62 | 22 | 62 | 22 | 12 mm\nsleeve down: 91 mm\n"
BOX = "box across: 1 1/2 | 4 | 1 1/2 in\nbox down: 1 1/2 | 3 | 1 1/2 in\n"
TOP = "top across: 3/4 | 4 1/8 | 3/4 in\ntop down: 3/4 | 3 1/8 | 3/4 in\n"


def drafted(notes: str) -> tuple[Draft, tuple[DraftNote, ...]]:
    sample = read_sample(notes, "notes").sample
    assert sample is not None
    found = recover(sample).recovered
    assert found is not None
    return draft_of_sample(sample, found, "Sample")


@pytest.mark.parametrize("notes", [DRAWER + SLEEVE, SLEEVE + DRAWER])
def test_a_drawer_slides_into_the_sleeve_round_it(notes: str) -> None:
    draft, assumed = drafted(notes)
    assert list(draft.pairs("slides in")) == [("drawer", "sleeve")]
    assert DraftNote.of("slides-in", piece="drawer", other="sleeve") in assumed
    assert not begin(draft, "recipe.md", "").checked.findings


@pytest.mark.parametrize("notes", [BOX + TOP, TOP + BOX, BOX + TOP + "top fold: lid\n"])
def test_of_two_boxes_the_larger_is_the_lid_of_the_other(notes: str) -> None:
    draft, assumed = drafted(notes)
    assert list(draft.pairs("fits over")) == [("top", "box")]
    assert {part.name: part.form for part in draft.parts} == {"box": "tray", "top": "lid"}
    assert DraftNote.of("fits-over", piece="top", other="box") in assumed
    assert DraftNote.of("folds-to", piece="top", form="tray") not in assumed
    assert not begin(draft, "recipe.md", "").checked.findings


@pytest.mark.parametrize(
    "notes",
    [
        DRAWER + SLEEVE.replace("22", "40"),
        DRAWER + SLEEVE.replace("62", "60"),
        BOX + TOP.replace("4 1/8", "6"),
        BOX + TOP.replace("4 1/8", "4"),
        BOX + TOP + "top fold: tray\n",
    ],
)
def test_what_does_not_plainly_go_together_is_left_alone(notes: str) -> None:
    draft, _ = drafted(notes)
    assert not [*draft.pairs("slides in"), *draft.pairs("fits over")]
