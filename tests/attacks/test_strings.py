"""Injection: every hostile string in every place where a recipe takes words, a turn of the wheel at a time."""

from __future__ import annotations

import csv
import io
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from attacks.hostile import CALM, PLACES, STRINGS, WORDS, assert_harmless, compiled
from foldwright.cli.app import run
from foldwright.finding import Strength
from foldwright.outputs.compiling import MadeRecipe
from workbench.command_line import GOOD
from workbench.long import every

AT_ONCE = 12
"""Recipes in one test."""


@cache
def calm() -> MadeRecipe:
    with TemporaryDirectory() as folder:
        return compiled(Path(folder), CALM, "tutorial,fragment,sheet,pieces")


def test_there_is_something_to_try_and_plain_words_come_through() -> None:
    assert len(WORDS) > 150 and len(WORDS) == len(set(WORDS))
    assert {"tutorial.html", "fragment.html", "sheet.json"} <= set(calm().files)
    page = calm().files["tutorial.html"].decode()
    assert all(f"plain words {place}" in page for place in (4, 5, 12, 15, 23, 24, 29, 32))


@pytest.mark.parametrize("start", range(0, len(WORDS), AT_ONCE))
def test_words_stay_words_wherever_they_stand(tmp_path: Path, start: int) -> None:
    """Recipe number k has string number k + 7 j in place j. With all of them every string stands once in every place;
    with every fourth, in every fourth place, and every place has a quarter of them."""
    for number in every(range(start, min(start + AT_ONCE, len(WORDS))), 4):
        said = [WORDS[(number + place * 7) % len(WORDS)] for place in range(PLACES)]
        assert_harmless(compiled(tmp_path / str(number), said), calm())
    assert all(path.name in ("recipe.md", "studio.yaml") for path in tmp_path.rglob("*") if path.is_file())


@pytest.mark.parametrize("text", WORDS[:: len(WORDS) // 6])
def test_one_string_everywhere_at_once(tmp_path: Path, text: str) -> None:
    assert_harmless(compiled(tmp_path, [text] * PLACES, "tutorial,fragment"), calm())


@pytest.mark.parametrize("text", STRINGS["control"])
def test_control_characters_are_refused_where_they_are_typed(tmp_path: Path, text: str) -> None:
    """None of them in any output that is made, and each told at its place."""
    for place in (4, 12, 20, 24):
        said = list(CALM)
        said[place] = text
        made = compiled(tmp_path / str(place), said)
        assert_harmless(made, calm())
        mark = next(sign for sign in text if not sign.isprintable())
        assert [name for name, data in made.files.items() if mark.encode() in data] == [], text
        assert any(one.strength > Strength.THOUGHT and one.place is not None for one in made.findings), text


def test_no_cell_of_a_list_is_taken_for_a_formula(tmp_path: Path) -> None:
    """Supplies named as formulas are, in the lists of an event that a spreadsheet opens."""
    names = [text for text in STRINGS["formula"] if ":" not in text and "," not in text]
    supplies = "".join(f"  {name}: ribbon, use 2, pack 5 at 2.00\n" for name in names)
    (tmp_path / "card").mkdir()
    text = GOOD.replace("tools:", f"{supplies}\ntools:", 1)
    (tmp_path / "card" / "recipe.md").write_text(text, encoding="utf-8")
    status = run(["kit", str(tmp_path / "card"), "--for", "3", "--out", str(tmp_path / "out")])
    lists = list((tmp_path / "out").rglob("*.csv"))
    assert status == 0 and lists
    texts = [io.StringIO(path.read_bytes().decode("utf-8-sig"), newline="") for path in lists]
    cells = [cell for text in texts for row in csv.reader(text) for cell in row]
    assert any(names[0] in cell for cell in cells)
    assert [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t", "\r"))] == []
