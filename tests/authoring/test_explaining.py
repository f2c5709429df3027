"""What a word means is what the guide says of it; what a number was taken for is what `check` takes it for."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.authoring.explaining import explain
from foldwright.authoring.manual import ROOMS, passage_of, passages
from foldwright.guide import FOLDER
from foldwright.pipeline import check_recipe
from foldwright.recipe.pieces.piece import FORMS
from workbench.compiled import RECIPES

TEXT = (RECIPES / "birdhouse" / "recipe.md").read_text(encoding="utf-8")
UNDERSTOOD = check_recipe(TEXT, "r", "s").understood


@pytest.mark.parametrize("room", ROOMS)
def test_the_manual_has_an_entry_for_every_word(room: str) -> None:
    assert [word for word in sorted(ROOMS[room]) if passage_of(word, room) is None] == []


def test_forms_have_their_own_rows_and_pictures() -> None:
    rows = {form: passage_of(form, "form") for form in FORMS}
    assert all(row and row.room == "form" and form in row.words for form, row in rows.items())
    octagonal = rows["octagonal box"]
    assert octagonal is not None
    assert octagonal.picture == "reference-octagonal.png"
    assert sum(bool(row and row.picture) for row in rows.values()) > 18


def test_passages_are_the_guides_own_text() -> None:
    for passage in passages():
        if passage.page == "writing" and passage.text.startswith("**"):
            first = passage.text.split("\n")[0]
            assert first in (FOLDER / "writing.md").read_text(encoding="utf-8")
        assert "](" not in passage.text
        assert not passage.picture or (FOLDER / "pictures" / passage.picture).exists()


@pytest.mark.parametrize(
    ("at", "word", "title", "says"),
    [
        ("measured in", "measured in", "measured in", "how you measured"),
        ("easy\n", "easy", "level", "a word of your own"),
        ("weight 100", "weight", "weight", "100 lb cover"),
        ("one way, pack", "one", "pattern", "may not be turned"),
        ("wrapped sweet\n", "wrapped sweet", "wrapped sweet", "your own word"),
        ("lb cover, sheet 8", "lb", "weight", "220 g/m2"),
        ("tray\n", "tray", "tray", "four walls"),
        ("flaps: joined", "flaps", "flaps", "A tray with four walls has four corners"),
        ("goes on: out", "goes on", "goes on", "lies on that face"),
        ("on: outside of base", "goes on", "goes on", "lies on that face"),
        ("slit base", "slit", "slit", "what you do to which piece"),
        ("before class", "before", "when", "otherwise a step is in class"),
        ("in. With", "in", "in", "how you measured"),
        ("Press two", "Press", "press", "what you do to which piece"),
        ("Tips\n", "Tips", "Tips", "heading is a step, except"),
        ("Tie it shut", "Tie it shut", "Tie it shut", "heading is a step, except"),
    ],
)
def test_words(at: str, word: str, title: str, says: str) -> None:
    found = explain(TEXT, TEXT.index(at), UNDERSTOOD)
    assert found is not None
    assert (found.word, found.title) == (word, title)
    assert says in " ".join(found.text.split())
    assert TEXT[found.start : found.end] == word
    dos = explain(TEXT.replace("\n", "\r\n"), TEXT.replace("\n", "\r\n").index(at.replace("\n", "\r\n")))
    assert dos is not None
    assert dos.title == title


@pytest.mark.parametrize(
    ("at", "understood"),
    [
        ("3/4 left end", "the panel left end of base, across: 3/4 in"),
        ("1/2 floor |", "the panel floor of base, across: 3 1/2 in"),
        ("3/4 back", "the panel back of base, down: 1 3/4 in"),
        ("5 x 4 1/4 in   ", "the size of base: 5 x 4 1/4 in"),
        ("1 in, centred", "the size of hole 1 of birdhouse front: 1 in"),
        ("5 x 4 1/4 in. With", "the size of base"),
        ("2 1/2 in. Turn", "score 2 of base, from the top edge"),
        ("title", ""),
        ("birdhouse front up with", "the size of birdhouse front: 3 1/2 x 4 in"),
    ],
)
def test_what_a_number_was_taken_for(at: str, understood: str) -> None:
    found = explain(TEXT, TEXT.index(at), UNDERSTOOD)
    assert found is not None
    assert found.understood == understood


def test_what_was_understood_before_the_text_changed_is_not_told() -> None:
    moved = TEXT.replace("makes: 1 box\n", "makes: 1 box\nfor: children\n")
    for at in ("3/4 left end", "1/2 in. Turn"):
        found = explain(moved, moved.index(at), UNDERSTOOD)
        assert found is None or not found.understood


def test_where_there_is_nothing_to_say() -> None:
    for at in ("---", "\n\n## Cut", "sturdy favour"):
        assert explain(TEXT, TEXT.index(at), UNDERSTOOD) is None
    assert explain(TEXT, -1) is None
    assert explain(TEXT, len(TEXT) + 1) is None


PARTS = [
    "---\n",
    "supplies:\n",
    "  a: card, ",
    "fold: ",
    "tray",
    "pieces:\n",
    "  b:\n",
    "    across: 1 | 2\n",
    "## Cut",
]


@given(
    st.lists(st.sampled_from([*PARTS, "## Cut", "## \n", "do: cut", "\t", "3 in "]), max_size=10).map("".join)
    | st.text()
)
def test_no_text_is_too_odd(text: str) -> None:
    for offset in range(len(text) + 1):
        found = explain(text, offset, UNDERSTOOD)
        assert found is None or found.start <= offset <= found.end
