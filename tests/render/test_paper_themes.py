"""Themes for paper: any part of a card or handout overridden by a folder of the user's, styles for both and for one."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from foldwright.guide import read_page
from foldwright.measure.length import System
from foldwright.render.paper.card import Card, Proof
from foldwright.render.paper.handout import Handout, handout
from foldwright.render.paper.papers import A4
from foldwright.render.themes import built_in_themes, load_paper_theme
from printed.order import reading_order
from workbench.compiled import small
from workbench.long import LONG

KINDS = ("card", "handout")
PARTS = [(kind, part) for kind in KINDS for part in load_paper_theme("harbour", kind).page.blocks]
NAMES = list(dict.fromkeys(part for _, part in PARTS))
ANEW = [
    (kind, part)
    for kind, part in PARTS
    if LONG or [name for _, name in PARTS].count(part) == 1 or kind == KINDS[NAMES.index(part) % len(KINDS)]
]
"""Of parts that both have, a usual run tries one on a card and the next on a handout."""
WORDS = "## Fold\n\n```step\ndo: fold base\n```\n\nFold it.\n\n## Tips\n\nFold two.\n"
ADDED = '<p style="position:absolute;top:0;left:0">Periwinkle</p>'


def words_of(kind: str, theme: Path) -> str:
    sheet = small(words=WORDS)
    made = (
        Proof(sheet, System.METRIC, str(theme), {}).card(A4)
        if kind == "card"
        else handout(sheet, System.METRIC, str(theme), {}, A4)
    )
    assert isinstance(made, Card | Handout)
    return " ".join(text for _, text in reading_order(made.pdf))


def put(folder: Path, kind: str, parts: Mapping[str, str]) -> Path:
    """A theme that has words of its own in some parts."""
    folder.mkdir()
    blocks = "".join(f"{{% block {part} %}}{words}{{% endblock %}}" for part, words in parts.items())
    (folder / f"{kind}.html").write_text(f'{{% extends "theme/{kind}.html" %}}{blocks}', encoding="utf-8")
    return folder


@pytest.mark.parametrize("kind", KINDS)
def test_every_part_can_be_added_to(tmp_path: Path, kind: str) -> None:
    """All of them at once, each with a word of its own."""
    parts = [part for one, part in PARTS if one == kind]
    marks = {part: ADDED.replace("winkle", part) for part in parts}
    words = {part: f"{{{{ super() }}}}{mark}" for part, mark in marks.items()}
    added = words_of(kind, put(tmp_path / "added", kind, words))
    assert all(f"Peri{part}" in added.split() for part in parts)
    assert "Small box" in added and "Fold it." in added and "Fold two." in added


@pytest.mark.parametrize(("kind", "part"), ANEW)
def test_every_part_can_be_written_anew(tmp_path: Path, kind: str, part: str) -> None:
    anew = words_of(kind, put(tmp_path / "anew", kind, {part: ADDED}))
    assert "Periwinkle" in anew
    # Whatever is not in the part stays.
    assert ("Small box" in anew) is (part not in ("head", "body"))
    assert ("Fold it." in anew) is (part not in ("steps", "body"))
    assert ("Fold two." in anew) is (part not in ("after", "body"))


def test_a_step_longer_than_a_page_needs_no_foot_after_it(tmp_path: Path) -> None:
    sheet = small(words="## Fold\n\n```step\ndo: fold base\n```\n\n" + "Fold it slowly. " * 600)
    made = handout(sheet, System.METRIC, str(put(tmp_path / "own", "handout", {"foot": ""})), {}, A4)
    assert isinstance(made, Handout) and made.pages > 1


@pytest.mark.parametrize("kind", KINDS)
def test_what_stands_in_both_can_be_put_into_a_part_of_ones_own(tmp_path: Path, kind: str) -> None:
    feet = {"card": "cell", "handout": "page"}[kind] + ".feet"
    again = f"<p>Periwinkle</p>{{% for block in {feet} %}}{{{{ footer(block) }}}}{{% endfor %}}"
    assert "Periwinkle The Tuesday table" in words_of(kind, put(tmp_path / "own", kind, {"foot": again}))


def test_the_guide_names_every_part() -> None:
    named = read_page("looks").partition("The same goes for `card.html`")[2].partition("\n\n")[0]
    assert {part for _, part in PARTS} == {
        "body",
        "head",
        "before",
        "steps",
        "after",
        "foot",
        "fields",
        "table",
        "notes",
    }
    assert all(f"`{part}`" in named for _, part in PARTS)


@pytest.mark.parametrize("kind", KINDS)
def test_a_style_for_both_comes_before_the_style_for_one_and_after_the_parents(tmp_path: Path, kind: str) -> None:
    (tmp_path / "theme.toml").write_text('parent = "almanac"\n', encoding="utf-8")
    for name in ("paper", *KINDS):
        (tmp_path / f"{name}.css").write_text(f".{name}-of-ours{{color:teal}}", encoding="utf-8")
    mine, parent = (load_paper_theme(name, kind).style for name in (str(tmp_path), "almanac"))
    assert mine == f"{parent}.paper-of-ours{{color:teal}}.{kind}-of-ours{{color:teal}}"


def test_every_look_has_a_style_of_its_own_for_both() -> None:
    for kind in KINDS:
        assert len({load_paper_theme(name, kind).style for name in built_in_themes()}) == 3
