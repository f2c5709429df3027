"""A finding told: words from the catalogue, lines and columns counted from one, the author's own words."""

from __future__ import annotations

from foldwright.document.findings import tell
from foldwright.finding import Finding, Place, Strength

TEXT = "title: Box\nphoto: box.jpg\n"


def test_the_place_is_a_line_and_a_column_and_the_authors_words():
    start = TEXT.index("box.jpg")
    finding = Finding.of("photo-missing", Strength.MISFIT, Place("recipe.md", start, start + 7), name="box.jpg")
    told = tell(finding, {"recipe.md": TEXT})
    assert (told.line, told.column, told.said, told.line_text) == (2, 8, "box.jpg", "photo: box.jpg")
    assert told.says == "There is no photograph box.jpg in the recipe’s folder."
    assert told.remedy.startswith("Copy it there")
    assert told.understood == ""
    assert told.where == "recipe.md, line 2"


def test_without_a_place_or_a_text_no_line_is_told():
    nowhere = tell(Finding.of("photo-missing", Strength.MISFIT, None, name="a.jpg"), {})
    assert (nowhere.file, nowhere.line, nowhere.column) == ("", 0, 0)
    unread = tell(Finding.of("photo-missing", Strength.MISFIT, Place("studio.yaml", 3, 4), name="a.jpg"), {})
    assert (unread.file, unread.line) == ("studio.yaml", 0)


def test_a_place_among_the_facts_is_told_as_its_line():
    text = "pieces:\n  base:\n    size: 5 x 4 in\n  Base:\n    size: 3 x 3 in\n"
    first, second = text.index("base"), text.index("Base")
    finding = Finding.of(
        "name-twice",
        Strength.FAULT,
        Place("r.md", second, second + 4),
        said="Base",
        first=Place("r.md", first, first + 4),
    )
    assert tell(finding, {"r.md": text}).says == "The name “Base” is used twice. It is already used in line 2."
