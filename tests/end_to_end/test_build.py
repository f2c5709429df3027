"""`foldwright build` as a person runs it: what is written, that it repeats, and that nothing else is touched."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from workbench.command_line import GOOD, HANG, MISFIT, contents, foldwright, write

FAULT = GOOD.replace("size: 8 x 5 in", "size: very large")
MANY = "tutorial,fragment,sheet"


def build(cwd: Path, *words: str | Path, status: int = 0, **variables: str) -> str:
    done = foldwright("build", *words, "--out", "out", cwd=cwd, **variables)
    assert done.status == status, done.out + done.err
    return done.out + done.err


def test_a_recipe_becomes_a_page_a_fragment_cards_handouts_and_data(tmp_path: Path) -> None:
    write(tmp_path, "card")
    said = build(tmp_path, "card")
    made = contents(tmp_path / "out")
    assert {"card/tutorial.html", "card/fragment.html", "card/sheet.json"} <= set(made)
    assert {name for name in made if name.endswith(".pdf")} == {
        "card/card-imperial-letter.pdf",
        "card/card-metric-a4.pdf",
        "card/handout-imperial-letter.pdf",
        "card/handout-metric-a4.pdf",
        "card/template-letter.pdf",
        "card/template-a4.pdf",
    }
    assert {"card/card.svg", "card/card.dxf", "card/card.fold"} <= set(made)
    assert "Practice card" in made["card/tutorial.html"].decode()
    assert json.loads(made["card/sheet.json"])
    for name in ("tutorial.html", "fragment.html", "sheet.json"):
        assert name in said
    assert "out/card" in said


def test_only_what_is_asked_for_is_made_and_the_rest_goes(tmp_path: Path) -> None:
    write(tmp_path, "card")
    build(tmp_path, "card", "--only", "tutorial,sheet,pieces")
    build(tmp_path, "card", "--only", "tutorial")
    assert [name for name in contents(tmp_path / "out") if not name.startswith("card/.")] == ["card/tutorial.html"]


def test_only_the_units_asked_for_are_printed(tmp_path: Path) -> None:
    write(tmp_path, "card")
    build(tmp_path, "card", "--units", "metric", "--only", "tutorial")
    page = (tmp_path / "out/card/tutorial.html").read_text(encoding="utf-8")
    body = page[page.index("<body") :]
    assert "mm" in body
    assert 'type="radio"' not in body
    assert " in<" not in body and "inches" not in body


def test_a_folder_of_recipes_is_built_with_its_studio(tmp_path: Path) -> None:
    for slug in ("card", "other-card"):
        write(tmp_path / "recipes", slug)
    (tmp_path / "recipes/studio.yaml").write_text("studio: Harbour Street Paper Studio\n", encoding="utf-8")
    build(tmp_path, "recipes", "--only", "tutorial")
    for slug in ("card", "other-card"):
        page = (tmp_path / f"out/{slug}/tutorial.html").read_text(encoding="utf-8")
        assert "Harbour Street Paper Studio" in page


def test_a_recipe_that_does_not_add_up_is_built_and_marked(tmp_path: Path) -> None:
    write(tmp_path, "card", MISFIT)
    said = build(tmp_path, "card", "--only", "tutorial", status=1)
    assert "7 7/8 in" in said
    assert "7 7/8 in" in (tmp_path / "out/card/tutorial.html").read_text(encoding="utf-8")


def test_a_fault_still_gives_a_draft_but_nothing_to_hand_on(tmp_path: Path) -> None:
    write(tmp_path, "card", FAULT)
    said = build(tmp_path, "card", status=1)
    made = contents(tmp_path / "out/card")
    assert {name for name in made if not name.startswith(".")} == {"tutorial.html", "sheet.json"}
    assert "very large" in made["tutorial.html"].decode()
    assert "draft" in said


def test_what_cannot_be_read_at_all_leaves_the_old_pages(tmp_path: Path) -> None:
    write(tmp_path, "card")
    build(tmp_path, "card", "--only", "tutorial,sheet")
    before = contents(tmp_path / "out")
    write(tmp_path, "card", b"\xff not a text")
    said = build(tmp_path, "card", status=1)
    assert contents(tmp_path / "out") == before
    assert "nothing was written" in said


def test_one_bad_recipe_does_not_keep_the_others_from_being_built(tmp_path: Path) -> None:
    for number in range(6):
        write(tmp_path / "recipes", f"card-{number}")
    write(tmp_path / "recipes", "bad", b"\xff")
    build(tmp_path, "recipes", "--jobs", "2", "--only", "tutorial", status=1)
    assert len(list((tmp_path / "out").glob("card-*/tutorial.html"))) == 6
    assert not (tmp_path / "out/bad").exists()


def test_an_interrupt_leaves_nothing_half_written(tmp_path: Path) -> None:
    """With a paper among what is made: then recipes are handed out one by one, and few are made before it ends."""
    recipes = 40
    for number in range(recipes):
        write(tmp_path / "recipes", f"card-{number:03}", GOOD.replace("Practice card", f"Practice card {number}"))
    words = [sys.executable, "-m", "foldwright", "build", "recipes", "--out", "out", "--jobs", "2"]
    words += ["--only", f"{MANY},template", "--units", "metric"]
    running = subprocess.Popen(
        words,
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
        text=True,
        # A suite started in the background of a shell would hand on that interrupts are ignored.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )
    while len(list((tmp_path / "out").glob("card-*"))) < 5:
        assert running.poll() is None, "the build was over before it could be interrupted"
        time.sleep(0.005)
    os.killpg(running.pid, signal.SIGINT)
    _out, err = running.communicate(timeout=HANG)
    assert running.returncode == 130, err
    assert "Traceback" not in err
    made = list((tmp_path / "out").glob("card-*"))
    assert 5 <= len(made) < recipes
    for folder in made:
        assert {"tutorial.html", "fragment.html", "sheet.json", "template-a4.pdf"} <= set(os.listdir(folder))
    assert not list((tmp_path / "out").glob(".*"))


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--only", "tutorial,hologram"], "hologram"),
        (["--only", ","], "tutorial"),
        (["--units", "furlongs"], "furlongs"),
        (["--theme", "gothic"], "gothic"),
        (["--pictures-at", "javascript:alert(1)"], "javascript:alert(1)"),
        (["--jobs", "-1"], "“-1” is not a number of recipes"),
        (["--jobs", "many"], "many"),
    ],
)
def test_a_wrong_call_is_told_and_nothing_is_written(tmp_path: Path, words: list[str], said: str) -> None:
    write(tmp_path, "card")
    done = foldwright("build", "card", "--out", "out", *words, cwd=tmp_path)
    assert done.status == 2, done.out + done.err
    assert said in done.err
    assert not list((tmp_path / "out").glob("*"))


@pytest.mark.parametrize("out", ["recipes", "recipes/card", "recipes/card/out", "file", "file/below", "/proc/out"])
def test_an_output_folder_that_will_not_do_is_told(tmp_path: Path, out: str) -> None:
    home = write(tmp_path / "recipes", "card")
    (tmp_path / "file").write_text("mine")
    done = foldwright("build", "recipes", "--out", out, cwd=tmp_path)
    assert done.status == 2
    assert out in done.err
    assert (home / "recipe.md").read_text() == GOOD
    assert (tmp_path / "file").read_text() == "mine"


def test_two_recipes_of_one_name_are_told(tmp_path: Path) -> None:
    write(tmp_path / "one", "card")
    write(tmp_path / "two", "Card")
    done = foldwright("build", "one", "two", "--out", "out", cwd=tmp_path)
    assert done.status == 2
    assert "one/card/recipe.md" in done.err and "two/Card/recipe.md" in done.err
    assert not (tmp_path / "out").exists()


def test_a_folder_of_somebody_elses_is_left_alone(tmp_path: Path) -> None:
    write(tmp_path, "card")
    (tmp_path / "out/card").mkdir(parents=True)
    (tmp_path / "out/card/notes.txt").write_text("mine")
    said = build(tmp_path, "card", "--only", MANY, status=1)
    assert "out/card" in said
    assert contents(tmp_path / "out") == {"card/notes.txt": b"mine"}


def test_pictures_of_the_fragment_may_stand_elsewhere(tmp_path: Path) -> None:
    write(tmp_path, "card")
    build(tmp_path, "card", "--only", "fragment", "--pictures-at", "https://harbourstreet.example/pictures/")
    fragment = (tmp_path / "out/card/fragment.html").read_text(encoding="utf-8")
    assert 'src="https://harbourstreet.example/pictures/' in fragment
    assert 'src="https://harbourstreet.example/pictures//' not in fragment
