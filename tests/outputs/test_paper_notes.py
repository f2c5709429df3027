"""What is said of a card or handout that was made: short when all is there, and every loss by name."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from foldwright.document.model import Document, Photograph, PlacedPicture
from foldwright.measure.length import System
from foldwright.outputs.paper_notes import CardNote, HandoutNote, Lacks, Note, lacks_of, tell_note
from foldwright.pipeline import check_recipe, compose_document
from foldwright.render.paper.imposing import FlipEdge
from foldwright.render.paper.versions import Version
from workbench.command_line import GOOD

CARD = CardNote("card-imperial-4x6.pdf", 8.5, 2, Lacks())
PHOTO = Photograph("fold.png", "It")
TEXT = (
    GOOD.replace("time: 1 min\n", "time: 1 min\nshort: Fold.\ntip: Warm hands help.\n")
    + "\n## Tips\n\nUse a ruler.\n\n## Variations\n\nUse two.\n"
)
FULL = Version(10, 2)
THIN = Version(8, 0, sections=False, full_cautions=False, tips=False, summary=False, listed=False, short=True)


@pytest.mark.parametrize(
    ("note", "words"),
    [
        (CARD, "8.5 pt, two columns"),
        (replace(CARD, size_pt=14.0, columns=1), "14 pt, one column"),
        (replace(CARD, too_long_for="A6"), "too long for A6, 8.5 pt, two columns"),
        (replace(CARD, up=4, on_sheet="legal"), "4 to a sheet of legal, 8.5 pt, two columns"),
        (replace(CARD, up=2, on_sheet="letter", back_edge=FlipEdge.SHORT),
         "2 to a sheet of letter, printed on both sides, turned on the short edge, 8.5 pt, two columns"),
        (replace(CARD, lacks=Lacks(short_steps=5)), "8.5 pt, two columns, short words in 5 steps"),
        (replace(CARD, lacks=Lacks(pictures=(PlacedPicture(1, "base"),))),
     "8.5 pt, two columns, without the picture of base"),
    (replace(CARD, lacks=Lacks(pictures=(
        PlacedPicture(0, photo=PHOTO), PlacedPicture(4, "wrapper"), PlacedPicture(3, photo=PHOTO)))),
     "8.5 pt, two columns, without the pictures of the finished project, wrapper and step 3"),
        (replace(CARD, lacks=Lacks(headings=("Tips", "Notes"), missing=("summary", "tips"), brief=("cautions",))),
         "8.5 pt, two columns, without the summary, the tips in steps, Tips and Notes, cautions in brief"),
        (HandoutNote("card-imperial-4x6.pdf", 18.0, 1, Lacks()), "one page, 18 pt"),
        (HandoutNote("card-imperial-4x6.pdf", 11.0, 3, Lacks(brief=("supplies",))),
         "3 pages, 11 pt, supplies in one line"),
    ],
)  # fmt: skip
def test_a_line_for_each_file(note: Note, words: str) -> None:
    assert tell_note(note) == f"card-imperial-4x6.pdf: {words}"


@pytest.fixture(scope="module")
def document() -> Document:
    understood = check_recipe(TEXT, "card/recipe.md", "card").understood
    assert understood is not None
    return compose_document(understood, (), {})


def test_a_full_version_lacks_nothing(document: Document) -> None:
    assert lacks_of(document, System.METRIC, FULL, ()) == Lacks()


def test_a_thin_version_lacks_what_the_sheet_has(document: Document) -> None:
    pictures = (PlacedPicture(1, "card"),)
    assert lacks_of(document, System.METRIC, THIN, pictures) == Lacks(
        pictures=pictures,
        headings=("Tips", "Variations"),
        missing=("summary", "tips", "checks"),
        brief=("cautions", "supplies"),
        short_steps=1,
    )
    without_tools = lacks_of(document, System.METRIC, replace(THIN, tools=False), ())
    assert without_tools.missing == ("summary", "tips", "checks", "tools")


def test_what_a_sheet_never_had_is_not_missed() -> None:
    understood = check_recipe("---\ntitle: Thin card\n---\n\n## Fold it\n\nOnce.\n", "r", "r").understood
    assert understood is not None
    bare = compose_document(understood, (), {})
    assert lacks_of(bare, System.METRIC, replace(THIN, tools=False), ()) == Lacks()


def test_what_stands_on_the_back_is_not_missed(document: Document) -> None:
    lacks = lacks_of(document, System.METRIC, THIN, (), back=FULL)
    assert (lacks.headings, lacks.brief) == ((), ("cautions",))
