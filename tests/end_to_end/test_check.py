"""`foldwright check` as a person runs it."""

from __future__ import annotations

import json
import shlex
import shutil
from pathlib import Path

import jsonschema
import pytest

from foldwright.document.catalogue import catalogue
from workbench.command_line import GOOD, MISFIT, TOP, foldwright, write

PIECES = """\
The pieces, as I understood them:
  card, from white card
    Cut 8 x 5 in.
    Score from top to bottom, 4 in from the left edge.
"""
TRAY = "    inside: 60 x 90 x 20 mm\n    thickness: 0.5 mm\n    fold: tray\n    corners: cut away\n"
SCHEMA = json.loads((TOP / "compiler/foldwright/cli/findings.schema.json").read_text(encoding="utf-8"))


def test_a_good_recipe_is_well(tmp_path: Path) -> None:
    write(tmp_path, "card")
    done = foldwright("check", "card", cwd=tmp_path)
    assert (done.status, done.err) == (0, "")
    assert done.out == PIECES + "\nAll is well.\n"


def test_pieces_are_said_back_of_one_recipe_and_of_several_when_asked(tmp_path: Path) -> None:
    write(tmp_path, "card")
    write(tmp_path, "other", MISFIT)
    of_all = foldwright("check", ".", cwd=tmp_path)
    assert "as I understood them" not in of_all.out
    asked = foldwright("check", ".", "--pieces", cwd=tmp_path)
    assert "The pieces of card/recipe.md, as I understood them:\n  card, from white card\n" in asked.out
    assert "The pieces of other/recipe.md, as I understood them:\n" in asked.out
    assert "  card, from white card, still to be corrected\n" in asked.out
    assert asked.out.splitlines()[-1] == of_all.out.splitlines()[-1]


def test_what_was_worked_out_shows_its_sums(tmp_path: Path) -> None:
    text = GOOD.replace("    size: 8 x 5 in\n    across: 4 back | 4 front\n    fold: card\n", TRAY)
    write(tmp_path, "card", text.replace("8 x 5 in and score it at 4 in", "size"))
    data = json.loads(foldwright("check", "card", "--format", "json", cwd=tmp_path).out)
    (piece,) = data["recipes"][0]["pieces"]
    assert piece["worked_out"] == [
        "Worked out from the inside: 60 x 90 x 20 mm.",
        "Walls: 20 mm inside + 0.25 mm for half the floor’s thickness = 20.25 mm.",
        "Floor across: 60 mm inside + 0.5 mm for the folds = 60.5 mm.",
        "Floor down: 90 mm inside + 0.5 mm for the folds = 90.5 mm.",
        "Across: 20.5 + 60.5 + 20.5 = 101.5 mm.",
        "Down: 20.5 + 90.5 + 20.5 = 131.5 mm.",
        "Every fold allows for the card, 0.5 mm thick as the recipe says.",
    ]


def test_panels_that_do_not_add_up_are_told_with_the_sum_and_the_place(tmp_path: Path) -> None:
    write(tmp_path, "card", MISFIT)
    done = foldwright("check", "card", cwd=tmp_path)
    line = MISFIT.splitlines().index("    across: 3 7/8 back | 4 front") + 1
    assert done.status == 1
    assert done.out.startswith("card/recipe.md\n")
    assert f"line {line}" in done.out
    assert "7 7/8 in" in done.out and "8 in" in done.out and "1/8 in" in done.out
    assert "^^^" in done.out
    assert done.out.splitlines()[-1].startswith("In all: 1 thing that won’t fit")


def test_everything_is_told_at_once_in_the_order_of_the_text(tmp_path: Path) -> None:
    text = MISFIT.replace("level:", "levvel:").replace("from: white card", "from: wite card")
    write(tmp_path, "card", text)
    done = foldwright("check", "card", "--format", "json", cwd=tmp_path)
    found = json.loads(done.out)["recipes"][0]["findings"]
    lines = [one["line"] for one in found]
    assert lines == sorted(lines)
    assert {"levvel", "wite card", "3 7/8 back"} <= {
        word for word in ("levvel", "wite card", "3 7/8 back") for one in found if word in one["line_text"]
    }


@pytest.mark.parametrize(
    ("entry", "more"),
    [
        ({}, {"odd": 1}),
        ({"version": 2}, {}),
        ({"in_all": {"fault": 0, "misfit": 0}}, {}),
        ({"recipes": [{"recipe": "a", "findings": []}]}, {}),
        ({"recipes": [{"recipe": "a", "findings": [{"strength": "odd"}], "pieces": []}]}, {}),
    ],
)
def test_the_schema_lets_nothing_else_pass(entry: dict[str, object], more: dict[str, object]) -> None:
    well: dict[str, object] = {
        "format": "foldwright findings",
        "version": 1,
        "recipes": [{"recipe": "a", "findings": [], "pieces": []}],
        "in_all": {"fault": 0, "misfit": 0, "thought": 0},
    }
    jsonschema.validate(well, SCHEMA)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**well, **entry, **more}, SCHEMA)


def test_the_data_is_as_its_schema_says(tmp_path: Path) -> None:
    write(tmp_path, "card", MISFIT)
    write(tmp_path, "tag", GOOD)
    write(tmp_path, "bad", b"\xff\xfe")
    done = foldwright("check", ".", "--measures", "--format", "json", cwd=tmp_path)
    data = json.loads(done.out)
    jsonschema.validate(data, SCHEMA)
    assert done.status == 1
    assert [Path(one["recipe"]).parent.name for one in data["recipes"]] == ["bad", "card", "tag"]
    assert data["in_all"]["misfit"] == 1
    assert data["in_all"]["fault"] == 1


def test_measures_are_listed_with_what_they_were_taken_for(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace("Fold it and", "Fold 1 in half, leave \\3 in alone, and"))
    done = foldwright("check", "card", "--measures", cwd=tmp_path)
    assert done.status == 0
    assert "8 x 5 in" in done.out
    assert "4 in      score 1 of card, from the left edge\n" in done.out
    assert "8 x 5 in  the size of card\n" in done.out
    listed = done.out.partition("Not read as measurements:")[0]
    assert " 1 in " not in listed
    assert " 3 in " not in listed
    data = json.loads(foldwright("check", "card", "--measures", "--format", "json", cwd=tmp_path).out)
    measures = data["recipes"][0]["measures"]
    assert [one["exact_mm"] for one in measures] == [["1016/5", "127"], ["508/5"]]
    assert all("card" in one["meant"] for one in measures)


def test_strict_speaks_up_for_a_measure_that_is_no_piece_of_the_recipe(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace("score it at 4 in", "score it at 2 in"))
    easy = foldwright("check", "card", cwd=tmp_path)
    strict = foldwright("check", "card", "--strict", cwd=tmp_path)
    assert easy.out != strict.out
    assert "2 in" in strict.out


def test_a_thought_alone_is_no_failure_and_can_be_hushed(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace("time: 1 min\n", ""))
    done = foldwright("check", "card", "--format", "json", cwd=tmp_path)
    (thought,) = json.loads(done.out)["recipes"][0]["findings"]
    assert (done.status, thought["strength"]) == (0, "thought")
    hushed = GOOD.replace("time: 1 min\n", "").replace("level: easy", f"level: easy\nhush: {thought['code']}")
    write(tmp_path, "card", hushed)
    assert foldwright("check", "card", cwd=tmp_path).out == PIECES + "\nAll is well.\n"


@pytest.mark.parametrize(
    "text",
    [
        b"",
        b"\n\n",
        b"---\n",
        b"---\n---\n",
        b"no facts at all",
        b"\xff\xfeU\x00",
        "title: café".encode("latin-1"),
        b"\x00" * 50,
    ],
)
def test_what_is_no_recipe_is_told_kindly(tmp_path: Path, text: bytes) -> None:
    write(tmp_path, "odd", text)
    done = foldwright("check", "odd", cwd=tmp_path)
    assert done.status == 1
    assert "odd/recipe.md" in done.out
    assert done.out.splitlines()[-1].startswith("In all:")


def test_a_text_that_is_too_large_is_told(tmp_path: Path) -> None:
    write(tmp_path, "large", GOOD + "x" * 1024 * 1024)
    done = foldwright("check", "large", cwd=tmp_path)
    assert done.status == 1
    assert "1 MiB" in done.out


@pytest.mark.parametrize("path", ["nowhere", "empty"])
def test_a_call_that_means_no_recipe_is_wrong(tmp_path: Path, path: str) -> None:
    (tmp_path / "empty").mkdir()
    done = foldwright("check", path, cwd=tmp_path)
    assert done.status == 2
    assert path in done.err
    assert done.out == ""


@pytest.mark.parametrize("words", [[], ["--fromat", "json", "."], ["--format", "xml", "."]])
def test_a_call_that_cannot_be_understood_is_wrong(tmp_path: Path, words: list[str]) -> None:
    assert foldwright("check", *words, cwd=tmp_path).status == 2


@pytest.mark.parametrize("command", ["check", "build", "convert", "new"])
def test_help_has_an_example(tmp_path: Path, command: str) -> None:
    done = foldwright(command, "--help", cwd=tmp_path)
    assert done.status == 0
    assert f"For example:  foldwright {command} " in done.out
    assert done.out.index("For example:") < done.out.index(f"Usage:  foldwright {command} ")


@pytest.mark.parametrize("command", ["check", "convert", "new", "design"])
def test_the_example_of_help_works(tmp_path: Path, command: str) -> None:
    """Those of build and kit take longer: that they are calls at all is tried with the options."""
    if command == "check":
        shutil.copytree(TOP / "recipes", tmp_path / "recipes")
    call = shlex.split(catalogue().say(f"command.{command}.example").splitlines()[0])
    assert call[:2] == ["foldwright", command]
    assert foldwright(*call[1:], cwd=tmp_path).status == 0


def test_links_that_lead_out_of_the_folder_are_refused(tmp_path: Path) -> None:
    secret = tmp_path / "secret.md"
    secret.write_text(GOOD.replace("Practice card", "SECRET"))
    outside = write(tmp_path / "elsewhere", "box")
    recipes = tmp_path / "recipes"
    (recipes / "linked").mkdir(parents=True)
    (recipes / "linked" / "recipe.md").symlink_to(secret)
    (recipes / "whole").symlink_to(outside)
    (recipes / "studio.yaml").symlink_to(secret)
    write(recipes, "fine")
    done = foldwright("check", "recipes", "--format", "json", cwd=tmp_path)
    found = {one["recipe"]: [finding["code"] for finding in one["findings"]] for one in json.loads(done.out)["recipes"]}
    assert done.status == 1
    assert found == {
        "recipes/fine/recipe.md": ["file-outside"],
        "recipes/linked/recipe.md": ["file-outside", "file-outside"],
        "recipes/whole/recipe.md": ["file-outside", "file-outside"],
    }
    assert "SECRET" not in done.out


def test_a_reader_that_has_had_enough_is_no_trouble(tmp_path: Path) -> None:
    import subprocess
    import sys

    for number in range(60):
        write(tmp_path, f"card-{number}", MISFIT)
    words = f"{sys.executable} -m foldwright check . | head -1"
    done = subprocess.run(["bash", "-c", words], cwd=tmp_path, capture_output=True, text=True, check=True)
    assert done.stdout.startswith("card-0/recipe.md")
    assert done.stderr == ""
