"""Steps without words get the list of their own work, and what to measure where they are folded and glued."""

from __future__ import annotations

import re

from foldwright.document.model import Document
from foldwright.document.words import plain
from foldwright.measure.length import System
from foldwright.recipe.words import Items, Paragraph
from workbench.compiled import compiled

BASE = """\
  base:
    from: card
    size: 100 x 130 mm
    across: 20 left wall | 60 floor | 20 right wall
    down: 20 back | 90 floor | 20 front
    flaps: joined to left wall and right wall
    fold: tray
    holes: round 10 mm, centred
"""
CARTON = """\
  carton:
    from: card
    fold: gable-top
    finished: 2 1/2 x 2 x 3 in
  pocket:
    from: card
    fold: envelope
    finished: 2 3/4 x 7 1/4 in
  slip:
    from: card
    size: 5 x 7 in
    across: 2 1/2 | rest
    fold: card
    slides in: pocket
"""


def sheet_of(pieces: str, *steps: str, more: str = "") -> Document:
    words = "\n".join(f"## Step {number}\n\ndo: {do}\n" for number, do in enumerate(steps, 1))
    facts = f"title: Box\nmakes: 1 box\nmeasured in: millimetres\n{more}supplies:\n  card: cardstock, sheet A3\n"
    return compiled(f"---\n{facts}tools: paper trimmer, scissors\npieces:\n{pieces}---\n\n{words}")[0]


def lists(document: Document) -> list[list[str]]:
    """Of each step the first word or two of every line of its list."""
    found = []
    for step in document.steps:
        lines = [item for part in step.words if isinstance(part, Items) for item in part.items]
        paragraphs = [part for line in lines for part in line if isinstance(part, Paragraph)]
        said = [plain(one.children, System.METRIC) for one in paragraphs]
        found.append([" ".join(line.split()[:2]) for line in said])
    return found


def test_each_step_lists_what_it_does_and_nothing_else() -> None:
    sheet = sheet_of(BASE, "cut base", "score base", "slit base", "punch base", "fold base", "glue base", "tie base")
    cut, score, slit, hole, *rest = lists(sheet)
    assert cut == ["Cut 100"]
    assert score == ["Score from", "Score from"]
    assert slit == ["Make 4"]
    assert len(hole) == 1
    assert rest == [[], [], []]


def test_work_that_no_step_names_belongs_to_the_first_that_works_on_the_piece() -> None:
    (first, second) = lists(sheet_of(BASE, "cut and score base", "fold and glue base"))
    assert [line.split()[0] for line in first][:4] == ["Cut", "Score", "Score", "Make"]
    assert len(first) == 5 and second == []


def test_what_to_measure_stands_where_the_piece_is_glued_or_else_where_it_is_folded() -> None:
    steps = ("cut carton", "score and fold carton", "tape carton", "fold pocket", "cut, score and fold slip")
    sheet = sheet_of(CARTON, *steps)
    said = [[plain(line, System.IMPERIAL) for line in step.trials] for step in sheet.steps]
    floor = "from fold to fold, the floor of the carton is 2 1/2 x 2 in, and its walls are 3 in high."
    assert said == [
        [],
        [],
        [f"Check before you glue: {floor}"],
        ["Check: folded shut, the pocket is 2 3/4 x 7 1/4 in."],
        ["Check: folded shut, the slip is 2 1/2 x 7 in."],
    ]


def test_no_note_tells_of_a_number_that_was_worked_out() -> None:
    """Places of a carton have square roots in them: nobody wrote them, and nobody can read them."""
    sheet = sheet_of(CARTON, "cut carton", more="trimmer: reads 1/16 in\n")
    notes = [note for system in System for note in sheet.rounding.of(system)]
    assert not [note for note in notes if re.search(r"/\d{4}", note)]
    assert not [note for note in notes if "carton" in note]


def test_how_it_looks_when_finished_is_the_box_and_not_a_card_half_in_its_envelope() -> None:
    steps = ("fold and tape carton", "fold and glue pocket", "fold slip")
    sheet = sheet_of(CARTON, *steps)
    assert sheet.finished is not None and sheet.finished.piece == "carton"


def test_lines_that_lie_anywhere_have_a_picture_of_their_own() -> None:
    sheet = sheet_of(CARTON, "cut carton", "score carton", "score and fold slip")
    kinds = [[picture.kind for picture in step.pictures] for step in sheet.steps]
    assert kinds == [["cut"], ["score-drawn"], ["score-across", "fold", "made"]]
