"""Injection: every hostile string in every place where a recipe takes words, a turn of the wheel at a time."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from attacks.hostile import CALM, PLACES, STRINGS, WORDS, assert_harmless, compiled
from foldwright.cli.outputs import Made
from foldwright.finding import Strength

AT_ONCE = 12
"""Recipes in one test."""


@cache
def calm() -> Made:
    with TemporaryDirectory() as folder:
        return compiled(Path(folder), CALM)


def test_there_is_something_to_try_and_plain_words_come_through() -> None:
    assert len(WORDS) > 150 and len(WORDS) == len(set(WORDS))
    assert {"tutorial.html", "fragment.html", "sheet.json"} <= set(calm().files)
    page = calm().files["tutorial.html"].decode()
    assert all(f"plain words {place}" in page for place in (4, 5, 12, 15, 23, 24, 29, 32))


@pytest.mark.parametrize("start", range(0, len(WORDS), AT_ONCE))
def test_words_stay_words_wherever_they_stand(tmp_path: Path, start: int) -> None:
    """Recipe number k has string number k + j in place j: so every string stands once in every place."""
    for number in range(start, min(start + AT_ONCE, len(WORDS))):
        said = [WORDS[(number + place * 7) % len(WORDS)] for place in range(PLACES)]
        assert_harmless(compiled(tmp_path / str(number), said), calm())
        assert [path.name for path in tmp_path.iterdir()] == [str(one) for one in ()] or all(
            path.name.isdecimal() for path in tmp_path.iterdir()
        )


@pytest.mark.parametrize("text", WORDS[:: len(WORDS) // 8])
def test_one_string_everywhere_at_once(tmp_path: Path, text: str) -> None:
    assert_harmless(compiled(tmp_path, [text] * PLACES), calm())


@pytest.mark.parametrize("text", STRINGS["control"])
def test_control_characters_are_refused_where_they_are_typed(tmp_path: Path, text: str) -> None:
    """None of them in any output that is made, and each told at its place."""
    for place in (4, 12, 20, 23, 24, 29):
        said = list(CALM)
        said[place] = text
        made = compiled(tmp_path / str(place), said)
        assert_harmless(made, calm())
        (mark,) = [sign for sign in text if not sign.isprintable()][:1]
        for name, data in made.files.items():
            assert mark == "\f" or mark.encode() not in data, (name, text)
        assert any(one.strength > Strength.THOUGHT for one in made.findings), text
