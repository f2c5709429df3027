"""`--labels`: sizes and sheets as they are typed, the sum of a sheet that goes over the edge; letters no font has.

21 labels of 63.5 x 38.1 mm and 30 of 2 5/8 x 1 in are sheets as they are sold for A4 and letter (common practice).
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from foldwright.cli import main
from foldwright.document.catalogue import catalogue
from foldwright.event import setting
from foldwright.event.making import no_room
from foldwright.event.render.grids import Across, LabelGrid, LabelSheet, Overhang, grid_of
from foldwright.event.wishes import read_label_sheet
from foldwright.measure.length import System
from foldwright.render.paper.papers import A4, LETTER

IN = Fraction("25.4")
METRIC = LabelSheet(
    Across(Fraction("63.5"), 3, Fraction("7.2"), Fraction("2.5")), Across(Fraction("38.1"), 7, Fraction("15.1"))
)
IMPERIAL = LabelSheet(Across(21 * IN / 8, 3, 3 * IN / 16, IN / 8), Across(IN, 10, IN / 2))


@pytest.mark.parametrize(
    ("said", "sheet"),
    [
        ("4 x 2 in", LabelSheet(Across(4 * IN), Across(2 * IN))),
        ("3 across 7 down, 63.5 x 38.1 mm, margins 15.1 7.2, gaps 0 2.5", METRIC),
        ("63,5 x 38,1 mm; 3 across, 7 down; margins 15,1 7,2; gaps 0 2,5", METRIC),
        ("63.5 x 38.1 mm, gaps 2.5 across 0 down, margins 7.2 left 15.1 top, 3 across 7 down", METRIC),
        ("6.35 x 3.81 cm, 3 across 7 down, margins 15.1 mm 7.2 mm, gaps 0 mm and 2.5 mm", METRIC),
        ("3 across 10 down, 2 5/8 x 1 in, margins 1/2 3/16, gaps 0 1/8", IMPERIAL),
        ("70 x 37 mm, gap 1", LabelSheet(Across(Fraction(70), gap=Fraction(1)), Across(Fraction(37), gap=Fraction(1)))),
    ],
)
def test_sizes_and_sheets_are_read(said: str, sheet: LabelSheet) -> None:
    assert read_label_sheet(said) == sheet


@pytest.mark.parametrize(
    "said",
    [
        "",
        "x",
        "4 x 2",
        "4 in",
        "4 x 2 x 1 in",
        "19 x 40 mm",
        "40 x 201 mm",
        "0 across 2 down, 4 x 2 in",
        "4 x 2 in, 5 x 3 in",
        "4 x 2 in, margins",
        "4 x 2 in, margins 1 2 3",
        "4 x 2 in, margins -1",
        "4 x 2 in, gaps 1, gaps 2",
        "4 x 2 in, gaps 1 parsec",
        "4 x 2 in, margins 101 mm",
        "4 x 2 in, margins 1 top 2 top",
        "4 x 2 in, 3 across",
        "4 x 2 in, 3 across 7 down, 3 across 7 down",
    ],
)
def test_what_is_neither_is_refused(said: str) -> None:
    assert read_label_sheet(said) is None


def test_sheets_as_they_are_sold_go_on_their_paper() -> None:
    for paper, sheet, places in ((A4, METRIC, 21), (LETTER, IMPERIAL, 30)):
        grid = grid_of(paper, sheet)
        assert isinstance(grid, LabelGrid)
        assert len(grid.places) == places


def test_the_sum_of_a_sheet_that_goes_over_the_edge_is_said() -> None:
    over = grid_of(LETTER, METRIC)
    assert isinstance(over, Overhang)
    wrong = no_room(over, "...", LETTER, System.METRIC)
    said = catalogue().say(f"command.wrong.{wrong.message}", **dict(wrong.facts))
    assert "15.1 mm + 7 × 38.1 mm makes 281.8 mm, but letter is 279.4 mm high" in said
    wide = grid_of(A4, LabelSheet(Across(Fraction(70), 3, Fraction(2), Fraction(3)), METRIC.down))
    assert isinstance(wide, Overhang)
    wrong = no_room(wide, "...", A4, System.METRIC)
    said = catalogue().say(f"command.wrong.{wrong.message}", **dict(wrong.facts))
    assert "2 mm + 3 × 70 mm + 2 × 3 mm between them makes 218 mm, but A4 is 210 mm wide" in said


RECIPE = """---
title: Square
makes: 1 square
supplies:
  blue card: cardstock, sheet A4, pack 10 sheets at 2.00
pieces:
  square:
    from: blue card
    size: 100 x 100 mm
---

## Cut it

do: cut square
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "square").mkdir()
    (tmp_path / "square" / "recipe.md").write_text(RECIPE, encoding="utf-8")
    (tmp_path / "names.csv").write_text("Name,Table\nBo,1\nनेहा,2\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_names_that_no_font_has_are_told_and_nothing_is_written(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    lacking = {"नेहा": "न"} | {f"name {number}": "☃" for number in range(11)}
    monkeypatch.setattr(setting, "missing_letters", lambda texts, language, theme: lacking)
    assert main(["kit", "square", "--for", "2", "--names", "names.csv"]) == 1
    said = " ".join(capsys.readouterr().err.split())
    assert "No font on this computer has these letters of “नेहा”: न" in said
    assert "And 2 more names or texts." in said
    assert "Nothing was written. Install a font with Devanagari letters, or write these words in other letters." in said
    assert "Leave out ☃, or install a font that has such signs." in said
    assert list((folder / "build").iterdir()) == []


def test_a_sheet_over_the_edge_is_a_wrong_call_and_one_that_fits_is_said_back(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    call = ["kit", "square", "--for", "2", "--units", "metric", "--labels"]
    assert main([*call, "4 across 7 down, 63.5 x 38.1 mm, margins 15.1 7.2"]) == 2
    assert "from left to right, 7.2 mm + 4 × 63.5 mm makes 261.2 mm" in " ".join(capsys.readouterr().err.split())
    assert list((folder / "build").iterdir()) == []
    assert main([*call, "3 across 7 down, 63.5 x 38.1 mm, margins 15.1 7.2, gaps 0 2.5", "--name-line"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "7.3 mm is left at the right and 15.2 mm at the foot" in said
    assert (folder / "build" / "event-square" / "bag-labels-a4.pdf").is_file()
