"""The typesetter's faces: there as long as their process is."""

from __future__ import annotations

from pathlib import Path

from foldwright.cli.workers import pool_of
from foldwright.render.paper.typesetting import font_configuration, typeset
from printed.reading import read


def test_a_worker_that_ends_takes_no_face_from_the_process_it_came_from() -> None:
    """It did: faces that had not been read by then left holes, so that a label in another look had no words."""
    typeset("<p>Fold</p>", "p{font-family:'Foldwright Sans'}")
    with pool_of(1, on_paper=True) as pool:
        assert pool.submit(letters, "Fold").result() == "Fold"
    assert Path(font_configuration()._folder).is_dir()
    assert letters("Fold") == "Fold"


def letters(words: str) -> str:
    page = typeset(
        f"<html lang=en><title>Page</title><h1>{words}</h1>", "h1{font:italic 12pt 'Foldwright Serif'}"
    ).pdf()
    return "".join(glyph.text for glyph in read(page)[0].glyphs)
