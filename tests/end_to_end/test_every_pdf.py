"""Every kind of PDF in every look goes through the second reader of PDF/UA and our own, and is measured: no failure."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from printed.colours import lost_in_grey, pale_words
from printed.declared import declared_complaints
from printed.headed import alone
from printed.pictured import astray
from printed.structure import figure_boxes, list_numbering, structure_complaints
from printed.unbroken import broken_measures
from printed.validated import validator_complaints
from workbench.command_line import foldwright
from workbench.compiled import DEMOS, RECIPES
from workbench.demo_pages import THEMES
from workbench.long import LONG

ALL_PAPERS = "letter,half-letter,4x6,A4,A5,A6"
IN_ALL = ("--paper", ALL_PAPERS)
IN_SOME = (
    ("--paper", "A5", "--units", "metric"),
    ("--paper", "letter", "--units", "imperial"),
    ("--paper", "A5", "--units", "imperial"),
)
PAPERS = dict.fromkeys(THEMES, IN_ALL) if LONG else dict(zip(THEMES, IN_SOME, strict=True))
"""For each look: a small paper and a large one, and either system of units. Cards of every paper go through the second
reader in the tests of cards, too."""
RECIPES_TRIED = DEMOS if LONG else ("twine-tag",)
WITHOUT_HEADING = ("bag-labels", "place-cards")
"""Sheets of labels: each is a section of its own, none is a chapter."""
TO_WRITE_UNDER = ("Your notes",)
GUESTS = "name,table,diet,note\nAda,Rose,dairy,by the window\nZoë,Rose,,\nBo,Lily,kiwi,\n"
WHEN = ("--on", "2027-03-06", "--out", "out")
CALLS = {
    "plain": ("--only", "card,handout,template,run-sheet"),
    "turned": ("--only", "card,handout,template", "--back", "--large-print", "--mirror"),
    "two up": ("--only", "card", "--paper", "A6,4x6", "--up", "2", "--back"),
    "four up": ("--only", "card", "--paper", "A6", "--up", "4"),
}
EVENTS = list(product(("letter", "A4"), THEMES)) if LONG else [("letter", THEMES[1])]
"""An event in one look, and one for guests in another; on a long run, on both papers and all in all."""
LOOKED_AT = [
    (call, theme)
    for (number, call), theme in product(enumerate(CALLS), THEMES)
    if LONG or call == "plain" or (call == "turned" and number == THEMES.index(theme))
]
"""The plain ones in every look, those with backs in one; on a long run, all in all. Several cards to a sheet are among
the tests of cards, in every look."""


def complaints(path: Path) -> list[str]:
    data = path.read_bytes()
    # Each of several cards on a sheet has its own title.
    several = path.stem.endswith("-up") or path.name.startswith(WITHOUT_HEADING)
    found = [
        *validator_complaints(data),
        *declared_complaints(data),
        *(one for one in structure_complaints(data) if not (several and "headings of the first level" in one)),
        *figure_boxes(data, slack=2.0),
        *list_numbering(data),
        *pale_words(data),
        *lost_in_grey(data),
        *alone(data, to_write_under=TO_WRITE_UNDER),
        *broken_measures(data),
        *astray(data),
    ]
    return [f"{path.name}: {one}" for one in found]


def all_well(folder: Path, kinds: set[str]) -> None:
    """No complaint of any file, and files of every kind."""
    files = sorted(folder.rglob("*.pdf"))
    assert kinds <= {kind for kind in kinds for path in files if path.name.startswith(kind)}
    assert [one for path in files for one in complaints(path)] == []


@pytest.mark.parametrize(("call", "theme"), LOOKED_AT)
def test_what_is_built_in_every_look(tmp_path: Path, theme: str, call: str) -> None:
    recipes = [RECIPES / name for name in RECIPES_TRIED]
    # What is too long for a paper is told and not made: some are.
    papers = () if "--paper" in CALLS[call] else PAPERS[theme]
    done = foldwright("build", *recipes, "--out", "out", "--theme", theme, *CALLS[call], *papers, cwd=tmp_path)
    assert done.status in (0, 1), done.err
    all_well(tmp_path / "out", set(CALLS[call][1].split(",")))


@pytest.mark.parametrize(("paper", "theme"), EVENTS)
def test_what_an_event_prints_in_every_look(tmp_path: Path, theme: str, paper: str) -> None:
    two = [RECIPES / name for name in ("keepsake-box", "twine-tag")]
    words = ["--for", "12,8", "--helpers", "3", "--name-line", "--theme", theme, "--paper", paper, *WHEN]
    done = foldwright("kit", *two, *words, cwd=tmp_path)
    assert done.status == 0, done.err
    kinds = "bag-labels before-class costs cutting-plan handout packing shopping-list the-day what-to-print"
    all_well(tmp_path / "out", set(kinds.split()))


@pytest.mark.parametrize("theme", THEMES if LONG else THEMES[2:])
def test_what_an_event_prints_for_its_guests(tmp_path: Path, theme: str) -> None:
    (tmp_path / "guests.csv").write_text(GUESTS, encoding="utf-8")
    words = ["--for", "guests", "--names", "guests.csv", "--theme", theme, "--paper", "letter", *WHEN]
    done = foldwright("kit", RECIPES / "twine-tag", *words, cwd=tmp_path)
    assert done.status == 0, done.err
    all_well(tmp_path / "out", {"allergies", "bag-labels", "place-cards", "seating", "tables"})
