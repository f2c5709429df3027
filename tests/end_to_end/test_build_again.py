"""Building again: only what its own inputs changed is made anew, and the folder is what a first build would write."""

from __future__ import annotations

import io
import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random

import pytest
from PIL import Image

from foldwright.cli.app import run
from foldwright.cli.records import read_record
from foldwright.outputs import papers, piece_files
from foldwright.outputs.taken import TAKEN
from workbench.command_line import GOOD, contents, foldwright, write
from workbench.long import tries

FAULT = GOOD.replace("size: 8 x 5 in", "size: very large")
PHOTO = GOOD.replace("level: easy", "level: easy\nphoto: card.png\nphoto shows: The card, open").replace(
    "    fold: card\n", "    fold: card\n  tag:\n    from: white card\n    size: 3 x 2 in\n    outline: tag.svg\n"
)
OUTLINE = '<svg xmlns="http://www.w3.org/2000/svg" width="3in" height="2in" viewBox="0 0 3 2"><path d="{path}"/></svg>'
PATH = "M0 0H3V2H0Z"


def photo(shade: int) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), (shade, 90, 120)).save(out, "PNG")
    return out.getvalue()


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of two recipes, one with a photograph and an outline, their studio and a look of its own."""
    write(tmp_path / "recipes", "card")
    box = write(tmp_path / "recipes", "photo-card", PHOTO)
    (box / "card.png").write_bytes(photo(200))
    (box / "tag.svg").write_text(OUTLINE.format(path=PATH))
    (tmp_path / "recipes/studio.yaml").write_text("studio: Harbour Street Paper Studio\ntheme: ours\n")
    (tmp_path / "recipes/ours").mkdir()
    (tmp_path / "recipes/ours/page.css").write_text(".x { color: #333 }\n")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The outputs that are made from here on, in order."""
    found: list[str] = []

    def counted[**P, R](name: str, make: Callable[P, R]) -> Callable[P, R]:
        def make_it(*facts: P.args, **more: P.kwargs) -> R:
            found.append(name)
            return make(*facts, **more)

        return make_it

    from foldwright.outputs import pages

    monkeypatch.setattr(pages, "tutorial_page", counted("tutorial", pages.tutorial_page))
    monkeypatch.setattr(pages, "fragment_files", counted("fragment", pages.fragment_files))
    monkeypatch.setattr(pages, "document_data", counted("sheet", pages.document_data))
    monkeypatch.setattr(papers, "templates", counted("template", papers.templates))
    monkeypatch.setattr(papers, "cards", counted("card", papers.cards))
    monkeypatch.setattr(piece_files, "piece_files", counted("pieces", piece_files.piece_files))
    return found


EVERYTHING = ("--only", "tutorial,fragment,card,template,pieces,sheet", "--units", "imperial")
QUICK = ("--only", "tutorial,pieces,sheet", "--units", "imperial")


def build(*words: str, status: int = 0, out: str = "out") -> None:
    assert run(["build", "recipes", "--out", out, "--jobs", "1", *words]) == status


def edit(file: str, old: str, new: str) -> None:
    path = Path(file)
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))


def test_a_changed_word_sets_no_template_and_draws_no_file_anew(home: Path, made: list[str]) -> None:
    build(*EVERYTHING)
    assert sorted(set(made)) == ["card", "fragment", "pieces", "sheet", "template", "tutorial"]
    made.clear()
    build(*EVERYTHING)
    assert made == []
    edit("recipes/card/recipe.md", "A plain card.", "A plainer card.")
    build(*EVERYTHING)
    assert sorted(made) == ["card", "fragment", "sheet", "tutorial"]
    made.clear()
    edit("recipes/card/recipe.md", "title: Practice card", "title: A practice card")
    build(*EVERYTHING)
    assert {"template", "pieces"} <= set(made)
    made.clear()
    build(*EVERYTHING, "--mirror")
    # What the card of the other recipe tells has a place in its text: that one is made whenever it is compiled.
    assert sorted(made) == ["card", "template", "template"]


def test_a_remark_makes_nothing_anew_but_is_read(home: Path, made: list[str]) -> None:
    """The page does not show a remark. Its record has to know the new text, or it would be compiled for ever."""
    build(*QUICK)
    made.clear()
    edit("recipes/card/recipe.md", "level: easy", "level: easy  # for everyone")
    build(*QUICK)
    assert made == []
    assert read_record(home / "out/card") != read_record(home / "out/photo-card")
    compiled = 0
    from foldwright.cli import one_recipe

    def never(*_facts: object) -> None:
        nonlocal compiled
        compiled += 1

    one_recipe_build = one_recipe.build_one
    try:
        one_recipe.build_one = never  # type: ignore[assignment]
        build(*QUICK)
    finally:
        one_recipe.build_one = one_recipe_build
    assert compiled == 0


def test_what_is_there_is_told_again_and_the_status_stays(tmp_path: Path) -> None:
    write(tmp_path / "recipes", "card", GOOD.replace("across: 4 back |", "across: 3 7/8 back |"))
    write(tmp_path / "recipes", "other")
    words = ("build", "recipes", "--out", "out", "--only", "tutorial")
    first, second = (foldwright(*words, cwd=tmp_path) for _ in range(2))
    assert (first.status, second.status) == (1, 1)
    assert "7 7/8 in" in first.out and "7 7/8 in" in second.out
    assert "2 made" in first.out and "2 unchanged" in second.out
    assert first.out.splitlines()[-1] == second.out.splitlines()[-1]


@pytest.mark.parametrize("damage", ["gone", "altered", "same length"])
def test_a_file_that_is_not_as_it_was_written_is_made_anew(home: Path, made: list[str], damage: str) -> None:
    build(*QUICK)
    page = home / "out/card/card.svg"
    good = page.read_bytes()
    made.clear()
    if damage == "gone":
        page.unlink()
    else:
        page.write_bytes(good.replace(b"svg", b"gvs") if damage == "same length" else b"mine")
    build(*QUICK)
    assert page.read_bytes() == good
    assert made == ["pieces"]


def test_a_folder_carried_elsewhere_without_its_times_is_known_again(home: Path, made: list[str]) -> None:
    build(*QUICK)
    made.clear()
    shutil.copytree(home / "out", home / "away", copy_function=shutil.copyfile)
    for path in (home / "away").rglob("*"):
        os.utime(path, (1, 1))
    build(*QUICK, out="away")
    assert made == []


def test_what_is_taken_away_as_it_is_not_asked_for_is_told(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    build(*QUICK)
    kinds = (".svg", ".dxf", ".fold")
    pieces = sorted(path.name for path in (home / "out/card").iterdir() if path.suffix in kinds)
    capsys.readouterr()
    build("--only", "tutorial,sheet", "--units", "imperial")
    said = " ".join(capsys.readouterr().out.split())
    assert pieces
    assert f"Taken away from out/card, because you did not ask for it this time: {', '.join(pieces)} " in said
    build("--only", "tutorial,sheet", "--units", "imperial")
    assert "Taken away" not in capsys.readouterr().out


# --- errors -----------------------------------------------------------------------------------------------------------


def test_a_broken_recipe_keeps_its_good_pages_with_the_draft_beside_them(tmp_path: Path) -> None:
    write(tmp_path / "recipes", "card")
    write(tmp_path / "recipes", "other")
    words = ("build", "recipes", "--out", "out", "--only", "tutorial,pieces,sheet")
    assert foldwright(*words, cwd=tmp_path).status == 0
    good = contents(tmp_path / "out/card")
    write(tmp_path / "recipes", "card", FAULT)
    for _ in range(2):
        done = foldwright(*words, cwd=tmp_path)
        assert done.status == 1
        kept = contents(tmp_path / "out/card")
        assert {name: kept[name] for name in good if name != ".made-by-foldwright"} == {
            name: data for name, data in good.items() if name != ".made-by-foldwright"
        }
        # The draft has drawings of its own, which lie beside it as those of the page do.
        assert {name for name in set(kept) - set(good) if not name.startswith("drawings/")} == {"draft.html"}
        assert b"very large" in kept["draft.html"]
        assert "very large" in done.out and "out/card keeps its pages of " in done.out
        assert "1 kept" in done.out
    write(tmp_path / "recipes", "card")
    done = foldwright(*words, cwd=tmp_path)
    assert done.status == 0
    assert contents(tmp_path / "out/card") == good


def test_a_kept_page_that_is_gone_is_not_asked_for_for_ever(home: Path, made: list[str]) -> None:
    build(*QUICK)
    write(home / "recipes", "card", FAULT)
    build(*QUICK, status=1)
    (home / "out/card/card.svg").unlink()
    build(*QUICK, status=1)
    made.clear()
    build(*QUICK, status=1)
    assert made == []
    write(home / "recipes", "card")
    build(*QUICK)
    assert (home / "out/card/card.svg").is_file()


# --- removed ----------------------------------------------------------------------------------------------------------


def test_recipes_and_sizes_that_are_gone_go_from_a_library_alone(tmp_path: Path) -> None:
    sizes = GOOD.replace(
        "pieces:\n", "sizes:\n  large:\n    card: size 10 x 6 in, across 5 back | 5 front\n\npieces:\n"
    )
    for slug, text in (("card", sizes), ("other", GOOD), ("third", GOOD)):
        write(tmp_path / "recipes", slug, text)
    write(tmp_path / "elsewhere", "guest")
    words = ("--out", "out", "--only", "sheet")
    done = foldwright("build", "recipes", *words, cwd=tmp_path)
    assert done.status == 0, done.out
    assert foldwright("build", "elsewhere/guest", *words, cwd=tmp_path).status == 0
    assert {path.name for path in (tmp_path / "out").iterdir() if (path / ".made-by-foldwright").is_file()} == {
        "card", "card-large", "other", "third", "guest",
    }  # fmt: skip
    (tmp_path / "out/third/notes.txt").write_text("mine")
    (tmp_path / "out/own").mkdir()
    shutil.rmtree(tmp_path / "recipes/other")
    shutil.rmtree(tmp_path / "recipes/third")
    write(tmp_path / "recipes", "card")
    assert foldwright("build", "recipes/card", *words, cwd=tmp_path).status == 0
    assert (tmp_path / "out/other").is_dir()
    done = foldwright("build", "recipes", *words, cwd=tmp_path)
    there = {path.name for path in (tmp_path / "out").iterdir() if (path / ".made-by-foldwright").is_file()}
    assert there == {"card", "third", "guest"}
    assert (tmp_path / "out/own").is_dir()
    assert "Removed out/other" in done.out and "Removed out/card-large" in done.out
    assert "out/third" in done.err
    assert (tmp_path / "out/third/notes.txt").read_text() == "mine"


# --- the same as from nothing -----------------------------------------------------------------------------------------


def edits(random: Random) -> Iterator[tuple[str, Callable[[], object]]]:
    """Things that people do to a folder of recipes, by what they are; each may be done any number of times."""
    number = random.randrange(1000)
    card, other = Path("recipes/card/recipe.md"), Path("recipes/photo-card/recipe.md")
    words = [f"Fold it {number} times", "Fold it and rub", "Fold it"]

    def reworded(path: Path) -> None:
        lines = path.read_text().splitlines()
        at = next(place for place, line in enumerate(lines) if line.startswith("Fold it"))
        lines[at] = f"{random.choice(words)} and rub the fold down with the bone folder."
        path.write_text("\n".join(lines) + "\n")

    def fact(path: Path, name: str, value: str) -> None:
        lines = [f"{name}: {value}" if line.startswith(f"{name}:") else line for line in path.read_text().splitlines()]
        path.write_text("\n".join(lines) + "\n")

    def said(name: str, value: str) -> None:
        """What a library goes by, said of one recipe in place of what is said there."""
        path = random.choice((card, other))
        rest = [line for line in path.read_text().splitlines() if not line.startswith(f"{name}:")]
        path.write_text("\n".join([rest[0], f"{name}: {value}", *rest[1:]]) + "\n")

    def renamed() -> None:
        (third,) = Path("recipes").glob("third*")
        third.rename(f"recipes/third-{number}")

    studio = "studio: {name}\ntheme: {theme}\n{more}"
    more = ["", "card thickness: 0.4 mm\n", "licence: CC BY 4.0\n", "numbers: 1/8 in\n"]
    yield "a word", lambda: reworded(random.choice((card, other)))
    yield "a tag", lambda: said("tags", random.choice(("gift", "gift, box", "Gift")))
    yield "a day", lambda: said("published", random.choice(("2026-03-20", "2020-01-01", "2200-01-01")))
    yield "an old name", lambda: said("was", f"old-{number % 3}")
    yield "another name", renamed
    yield "a title", lambda: fact(random.choice((card, other)), "title", f"Card {number}")
    yield "a remark", lambda: other.write_text(other.read_text().replace("---\n", f"---\n# {number}\n", 1))
    yield "a size", lambda: fact(card, "    size", f"8 x {random.choice((5, 5.5, 6))} in")
    yield "a photograph", lambda: (other.parent / "card.png").write_bytes(photo(number % 256))
    yield "no photograph", lambda: (other.parent / "card.png").unlink(missing_ok=True)
    yield (
        "an outline",
        lambda: (other.parent / "tag.svg").write_text(OUTLINE.format(path=random.choice((PATH, "M0 0H3V1L2 2H0Z")))),
    )
    yield (
        "the studio",
        lambda: Path("recipes/studio.yaml").write_text(
            studio.format(name=f"Studio {number}", theme=random.choice(("ours", "harbour")), more=random.choice(more))
        ),
    )
    yield "the look", lambda: Path("recipes/ours/page.css").write_text(f".x {{ margin: {number}px }}\n")
    yield (
        "a part of the look",
        lambda: Path("recipes/ours/tutorial.html").write_text(
            '{% extends "theme/tutorial.html" %}\n{% block title %}' + str(number) + "{% endblock %}\n"
        ),
    )


def test_after_any_change_the_folder_is_what_a_first_build_writes(home: Path) -> None:
    random = Random(21)
    write(home / "recipes", "third", GOOD.replace("level: easy", "level: easy\npublished: 2026-01-01\ntags: gift"))
    done: list[str] = []
    for round_ in range(tries(10, 200)):
        for _ in range(random.randint(1, 2)):
            name, change = random.choice(list(edits(random)))
            done.append(name)
            change()
        only = random.choice(("tutorial,pieces,sheet", "tutorial,pieces", "sheet,tutorial"))
        options = ["--only", only, "--units", random.choice(("imperial", "imperial,metric"))]
        fresh = f"fresh-{round_}"
        statuses = [run(["build", "recipes", "--jobs", "1", "--out", out, *options]) for out in ("out", fresh)]
        assert statuses[0] == statuses[1], done
        again, first = contents(home / "out"), contents(home / fresh)
        assert again.keys() == first.keys(), done
        assert [name for name in first if again[name] != first[name]] == [], done
        shutil.rmtree(home / fresh)


def test_a_key_knows_every_output_of_ours() -> None:
    """An output without a row is made anew each time: that is never wrong, but whoever adds one should choose it."""
    from foldwright.outputs.table import OUTPUTS

    assert set(TAKEN) <= set(OUTPUTS)
    assert {"tutorial", "card", "handout", "template", "pieces", "sheet", "fragment"} <= set(TAKEN)
