"""Calls that are odd are refused in the program's own words, whatever stands after an option."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest

from foldwright.cli.app import run
from foldwright.event.options import KitOptions
from foldwright.event.wishes import KitWish, read_wish
from foldwright.outputs.reading import AS_WRITTEN, in_sizes
from foldwright.outputs.sources import find_sources
from workbench.command_line import GOOD

ODD = {
    "--for -5": "--for -5: write how many kits, as a whole number from 1 to 10000.",
    "--for -5,3": "--for -5,3: there is one recipe",
    '--for ""': "Add NUMBER after --for.",
    "--for": "Add NUMBER after --for.",
    "--for --helpers 3": "Add NUMBER after --for.",
    "--for 1.5": "--for 1.5: write how many kits",
    "--for 5 --helpers 0": "--helpers 0: write how many people prepare",
    "--for 5 --helpers -1": "--helpers -1: write how many people prepare",
    "--for 5 --fee -3": "--fee -3: write what each person pays",
    "--for 5 --fee -3,50": "--fee -3,50: write what each person pays",
    "--for 5 --spare 200%": "--spare 200%: write a share from 0% to 100%",
    "--for 5 --spare -5%": "--spare -5%: write a share from 0% to 100%",
    "--for 5 --sample -1": "--sample -1: write how many kits to make up beforehand",
    "--for 5 --margin -10%": "--margin -10%: write the share of the fee you want to keep",
    "--for 5 --per-table 1.5": "--per-table 1.5: write how many people sit at a table",
    "--for 5 --trim -1mm": "--trim -1mm: write what you trim off every edge",
    "--for 5 --begins -1:00": "--begins -1:00: write a time such as 14:00",
    "--for 5 --on 2027-02-29": "--on 2027-02-29: write a date such as 2027-03-06",
    "--for 5 --on 0001-01-01": "--on 0001-01-01: write a date such as 2027-03-06",
    "--for 5 --on 9999-12-31": "--on 9999-12-31: write a date such as 2027-03-06",
    "--for 5 --on soon": "--on soon: write a date such as 2027-03-06",
    f"--for 5 --called {'x' * 81}": "write the name of the event in at most 80 letters",
    f"--for 5 --at {'x' * 81}": "write the place in at most 80 letters",
    "--for 5 --size card=huge": "--size card=huge: card has no size called “huge”.",
    "--for 5 --size tray=large": "--size tray=large: you did not name a recipe tray here.",
    "--for 5 --fro 3": "Did you mean --for?",
    "--for 5 -x": "kit has no option -x.",
    "": "kit needs --for NUMBER.",
}


@pytest.fixture(scope="module")
def recipe(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("recipes") / "card"
    folder.mkdir()
    large = "    fold: card\nsizes:\n  large:\n    card:\n      size: 10 x 7 in\n      across: 5 back | 5 front\n"
    (folder / "recipe.md").write_text(GOOD.replace("    fold: card\n", large), encoding="utf-8")
    return folder


@pytest.mark.parametrize("words", ODD)
def test_an_odd_call_is_refused(words: str, recipe: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status = run(["kit", str(recipe), *shlex.split(words), "--out", str(tmp_path / "out")])
    told = " ".join(capsys.readouterr().err.split())
    assert status == 2
    assert ODD[words] in told
    assert told.endswith("Nothing was done.")
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("said", "recipes", "kits"),
    [
        ("100", 1, (100,)),
        ("1,000", 1, (1000,)),
        ("60,40", 2, (60, 40)),
        ("300,200", 2, (300, 200)),
        ("1,000 200", 2, (1000, 200)),
        ("1,000, 200", 2, (1000, 200)),
        ("20, 100, 5", 3, (20, 100, 5)),
    ],
)
def test_how_many_of_each(said: str, recipes: int, kits: tuple[int, ...]) -> None:
    wish = read_wish(KitOptions(kits=said), recipes)
    assert isinstance(wish, KitWish)
    assert wish.kits == kits


def test_a_call_without_a_recipe_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["kit", "--for", "5"]) == 2
    assert "kit needs PATH. For example:  foldwright kit recipes/birdhouse --for 100" in capsys.readouterr().err


def test_a_number_below_nothing_is_no_option(capsys: pytest.CaptureFixture[str]) -> None:
    """25.4 mm are an inch (ISO 80000-3 gives the metre; the international inch is exact)."""
    assert run(["convert", "25.4 mm", "--to=imperial"]) == 0
    assert "1 in" in capsys.readouterr().out


def test_each_recipe_may_have_its_own_size(recipe: Path) -> None:
    other = recipe.parent / "plain"
    other.mkdir()
    (other / "recipe.md").write_text(GOOD, encoding="utf-8")
    sources, wrong = find_sources([recipe, other])
    assert not wrong

    def chosen(wanted: str) -> list[str]:
        found, odd = in_sizes(sources, wanted, AS_WRITTEN)
        assert not odd
        return [source.slug for source in found]

    assert chosen("") == ["card", "plain"]
    assert chosen("card=large") == ["card-large", "plain"]
    assert chosen("plain=as written, card = Large") == ["card-large", "plain"]
    assert chosen("card=large,card=as written") == ["card", "card-large", "plain"]
    assert chosen("large") == ["card-large"]
