"""`foldwright design`: proposals in a table, a page of pictures, and a recipe that is right as it stands."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from workbench.command_line import TOP, contents, foldwright
from workbench.long import every

TREATS = "3 treats of 1 1/8 x 3/4 x 1/2 in"
SENTENCE = (
    "A tray for three treats of 1 1/8 x 3/4 x 1/2 in, card of 270 g/m2, easy numbers to 1/8 in, out of 8 1/2 x 11 or A4"
)


def test_a_sentence_gives_a_table_of_trays(tmp_path: Path) -> None:
    done = foldwright("design", SENTENCE, cwd=tmp_path)
    assert done.status == 0, done.err
    assert "plain card (270 g/m2), in steps of 1/8 in" in " ".join(done.out.split())
    found = r"tray 3 5/8 x 2 1/2 in +5/8 \| 2 3/8 \| 5/8 +5/8 \| 1 1/4 \| 5/8 +9 +9 +3 numbers, 1/8 in +snug"
    assert re.search(found, done.out)
    assert "Tray with lid" not in done.out
    assert contents(tmp_path) == {}


def test_what_is_taken_passes_check_and_builds(tmp_path: Path) -> None:
    for number, things in enumerate((TREATS, "2 soaps of 60 x 40 x 25 mm")):
        for form in ("tray", "lid", "drawer"):
            call = ("design", things, "--form", form, "--take", "1", "--name", f"Blue {form} {number}")
            done = foldwright(*call, cwd=tmp_path)
            assert done.status == 0, done.out + done.err
    # What a treat contains is still asked, since only its wrapper says; nothing else is found.
    checked = foldwright("check", "recipes", cwd=tmp_path)
    assert (checked.status, checked.out.splitlines()[-1]) == (0, "In all, in 6 recipes: 3 suggestions.")
    assert checked.out.count("hush: contains-unsaid") == 3
    assert "Holds" in foldwright("check", "recipes/blue-tray-0", cwd=tmp_path).out
    made = every([f"recipes/blue-{form}-{number}" for number in range(2) for form in ("tray", "lid", "drawer")], 4)
    built = foldwright("build", *made, "--out", "out", "--only", "tutorial", cwd=tmp_path)
    assert built.status == 0, built.out + built.err


@pytest.mark.parametrize(
    ("things", "form"), [("a photo of 4 x 6 in", "envelope"), ("a photo of 4 x 6 in", "card"), ("C6 envelope", "card")]
)
def test_flat_things_get_envelopes_and_envelopes_get_cards(tmp_path: Path, things: str, form: str) -> None:
    done = foldwright("design", things, "--form", form, "--take", "1", "--name", "Flat", cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    checked = foldwright("check", "recipes/flat", cwd=tmp_path)
    assert (checked.status, checked.out.splitlines()[-1]) == (0, "All is well.")


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The page of proposals for three treats."""
    folder = tmp_path_factory.mktemp("proposals")
    done = foldwright("design", TREATS, "--html", "page.html", cwd=folder)
    assert done.status == 0, done.err
    return (folder / "page.html").read_text(encoding="utf-8")


def test_the_page_has_a_picture_of_every_blank_and_asks_for_nothing(page: str) -> None:
    # Five forms, three proposals each: one blank, two, two, one, one; and each as it is made.
    assert page.count("<svg") == 3 * 2 + 3 * 3 + 3 * 3 + 3 * 2 + 3 * 2
    assert not re.search(r'(?:src|href)="(?!data:|#)|url\((?!data:)', page)
    assert "Drawer with sleeve" in page


def test_the_page_marks_the_best_of_each_form_and_says_what_it_is_worth_in_words(page: str) -> None:
    # By hand: the blank of 3 5/8 x 2 1/2 in goes 3 times along 11 in (10 7/8) and 3 times down 8 1/2 in (7 1/2).
    first, second = re.findall(r'<li id="proposal-[0-9]+".*?</div>\n</li>', page, re.DOTALL)[:2]
    words = re.sub("<[^>]+>", "", first[first.index("<h2>") :]).replace("\u00a0", " ")
    assert "1. Tray Best tray" in words
    assert "9 from a sheet of 8 1⁄2 × 11 in or A4" in words.replace("81", "8 1")
    assert "A snug fit" in words
    assert "3 different numbers to measure, all on the 1⁄8 in marks of a ruler" in words
    assert "badge" not in second
    badges = ["Best tray", "Best tray with lid", "Best drawer with sleeve", "Best tuck box", "Best gift bag"]
    assert re.findall('class="badge">([^<]+)<', page) == badges
    assert "oints" not in words


@pytest.mark.parametrize("things", ["1 mug of 85 mm round x 95 mm", "1 gift card of 3 3/8 x 2 1/8 in", "A2 envelope"])
def test_every_proposal_is_shown_as_it_will_be_made(tmp_path: Path, things: str) -> None:
    done = foldwright("design", things, "--html", "page.html", "--theme", "almanac", cwd=tmp_path)
    assert done.status == 0, done.err
    page = (tmp_path / "page.html").read_text(encoding="utf-8")
    rows = re.findall(r'<div class="made">(.*?)</div>', page, re.DOTALL)
    assert rows
    assert all("<svg" in row for row in rows)


def test_what_is_taken_for_granted_is_told_in_the_terminal_and_on_the_page(tmp_path: Path) -> None:
    done = foldwright("design", "4 cupcakes 50 mm round x 55 mm", "--form", "tray", "--html", "page.html", cwd=tmp_path)
    assert done.status == 0, done.err
    assert "“cupcake”: kept upright, never on its side." in done.out
    assert "“cupcake”: kept upright, never on its side." in (tmp_path / "page.html").read_text(encoding="utf-8")


def test_what_is_kept_upright_is_so_in_the_recipe(tmp_path: Path) -> None:
    call = ("design", "4 cupcakes 50 mm round x 55 mm", "--form", "tray", "--take", "1", "--name", "Party tray")
    assert foldwright(*call, cwd=tmp_path).status == 0
    recipe = (tmp_path / "recipes/party-tray/recipe.md").read_text(encoding="utf-8")
    assert re.search(r"^  cupcake: .*, this way up$", recipe, re.MULTILINE)
    checked = foldwright("check", "recipes", cwd=tmp_path)
    assert checked.status == 0, checked.out


def test_several_things_go_into_one_box_and_each_has_its_step(tmp_path: Path) -> None:
    things = "a bar of soap 3 1/2 x 2 1/4 x 1 in and 2 tea lights 38 mm round x 16 mm"
    done = foldwright("design", things, "--form", "tray", "--take", "1", "--name", "Gift tray", cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    recipe = (tmp_path / "recipes/gift-tray/recipe.md").read_text(encoding="utf-8")
    assert "holds: bar of soap, tea light" in recipe
    assert re.findall("^## Put the (.+) in$", recipe, re.MULTILINE) == ["bar of soap", "tea lights"]
    checked = foldwright("check", "recipes", cwd=tmp_path)
    assert (checked.status, checked.out.splitlines()[-1]) == (0, "All is well.")
    assert "Holds 1 × bar of soap and 2 × tea light." in checked.out


def test_a_thing_without_a_size_is_told_how_it_is_measured(tmp_path: Path) -> None:
    done = foldwright("design", "a mug", cwd=tmp_path)
    assert done.status == 2
    told = " ".join(done.err.split())
    assert "Measure its width with the handle, its width without the handle, and its height." in told
    assert (
        foldwright(
            "design", told.rpartition("Then write: ")[2], "--form", "lid", "--sheet", "12 x 18 in", cwd=tmp_path
        ).status
        == 0
    )


def test_a_look_that_is_not_there_is_told(tmp_path: Path) -> None:
    done = foldwright("design", TREATS, "--form", "tray", "--html", "page.html", "--theme", "velvet", cwd=tmp_path)
    assert done.status == 2
    assert "--theme: " in done.err
    assert "velvet" in done.err
    assert contents(tmp_path) == {}


def test_what_fits_no_sheet_is_said_with_the_blank_it_would_take(tmp_path: Path) -> None:
    done = foldwright("design", "7 x 7 x 7 in", cwd=tmp_path)
    assert done.status == 1
    assert "the smallest blank needs" in done.err
    # A tray of 7 1/8 in with walls as high takes 21 3/8 in either way: 22 x 28 in holds it, 18 x 24 in does not.
    assert '--sheet "22 x 28 in"' in done.err
    told = " ".join(done.err.split())
    assert "No tray or tray with lid: the smallest blank needs 21 1/2 x 21 3/8 in" in told
    # A sleeve that goes all round the drawer is longer than 28 in.
    assert re.search(r"No drawer with sleeve: .* --sheet \"24 x 36 in\"", told)


@pytest.mark.parametrize(
    "call",
    [
        ["nonsense"],
        [],
        ["1000 of 1 x 1 x 1 in"],
        [TREATS, "--form", "pyramid"],
        [TREATS, "--sheet", "B99"],
        [TREATS, "--numbers", "easy"],
        [TREATS, "--clearance", "-1"],
        [TREATS, "--card", "kraft card"],
        [TREATS, "--units", "yards"],
        [TREATS, "--take", "99"],
        ["an envelope of 4 x 6 in"],
    ],
)
def test_wrong_calls_are_said_plainly(tmp_path: Path, call: list[str]) -> None:
    done = foldwright("design", *call, cwd=tmp_path)
    assert done.status == 2
    assert done.err.strip()
    assert "Traceback" not in done.err
    assert contents(tmp_path) == {}


def test_nothing_is_written_over(tmp_path: Path) -> None:
    call = ("design", TREATS, "--form", "tray", "--take", "1", "--name", "Blue box")
    assert foldwright(*call, cwd=tmp_path).status == 0
    before = contents(tmp_path)
    assert foldwright(*call, cwd=tmp_path).status == 2
    assert contents(tmp_path) == before


def test_another_size_of_a_recipe_is_shown_and_kept_when_it_has_a_name(tmp_path: Path) -> None:
    foldwright("design", TREATS, "--form", "drawer", "--take", "1", "--name", "Blue box", cwd=tmp_path)
    recipe = tmp_path / "recipes/blue-box/recipe.md"
    before = recipe.read_text(encoding="utf-8")
    shown = foldwright("design", "--resize", "recipes/blue-box", "--scale", "1.5", cwd=tmp_path)
    assert shown.status == 0, shown.err
    assert "sizes:" in shown.out
    assert recipe.read_text(encoding="utf-8") == before
    kept = foldwright("design", "--resize", "recipes/blue-box", "--scale", "1.5", "--as", "large", cwd=tmp_path)
    assert kept.status == 0, kept.err
    after = recipe.read_text(encoding="utf-8")
    assert [line for line in before.splitlines() if line not in after.splitlines()] == []
    assert foldwright("check", "recipes/blue-box", cwd=tmp_path).status == 0
    built = foldwright("build", "recipes", "--out", "out", "--only", "tutorial", "--size", "large", cwd=tmp_path)
    assert built.status == 0, built.out
    again = foldwright("design", "--resize", "recipes/blue-box", "--scale", "2", "--as", "large", cwd=tmp_path)
    assert again.status == 2
    other = foldwright(
        "design", "--resize", "recipes/blue-box", "--holds", "8 treats of 1 1/8 x 3/4 x 1/2 in", cwd=tmp_path
    )
    assert other.status == 0, other.err
    assert "use: 8" in other.out


def test_what_is_found_is_told_with_the_lines_of_the_recipe_as_it_is(tmp_path: Path) -> None:
    shutil.copytree(TOP / "recipes/twine-tag", tmp_path / "recipes/tag")
    text = (tmp_path / "recipes/tag/recipe.md").read_text(encoding="utf-8")
    line = next(number for number, one in enumerate(text.splitlines(), 1) if "Mark 1/2 in" in one)
    call = ("design", "--resize", "recipes/tag", "--scale", "1.5")
    shown = foldwright(*call, cwd=tmp_path)
    assert f"suggestion, line {line}\n" in shown.out
    kept = foldwright(*call, "--as", "large", cwd=tmp_path)
    longer = (tmp_path / "recipes/tag/recipe.md").read_text(encoding="utf-8")
    there = next(number for number, one in enumerate(longer.splitlines(), 1) if "Mark 1/2 in" in one)
    assert there > line
    assert f"suggestion, line {there}\n" in kept.out


def test_a_size_that_is_added_leaves_every_other_byte_as_it_was(tmp_path: Path) -> None:
    recipe = tmp_path / "recipes/tag/recipe.md"
    recipe.parent.mkdir(parents=True)
    written = (TOP / "recipes/twine-tag/recipe.md").read_bytes()
    recipe.write_bytes(b"\xef\xbb\xbf" + written.replace(b"\n", b"\r\n"))
    before = recipe.read_bytes()
    done = foldwright("design", "--resize", "recipes/tag", "--scale", "1.5", "--as", "5 x 7 in", cwd=tmp_path)
    assert done.status == 0, done.err
    assert "--size '5 x 7 in'" in " ".join(done.out.split())
    after = recipe.read_bytes()
    at = after.index(b"\r\nsizes:\r\n  5 x 7 in:\r\n")
    added = len(after) - len(before)
    assert after[:at] + after[at + added :] == before
    assert after[at : at + added].count(b"\n") == after[at : at + added].count(b"\r\n") > 5


def test_a_size_that_cannot_be_made_names_the_largest_that_can_and_writes_nothing(tmp_path: Path) -> None:
    shutil.copytree(TOP / "recipes/drawer-box", tmp_path / "recipes/drawer-box")
    before = contents(tmp_path)
    done = foldwright("design", "--resize", "recipes/drawer-box", "--scale", "2", "--as", "giant", cwd=tmp_path)
    assert done.status == 1
    # The sleeve at 1.72: 2 x (103 + 2) + 2 x (34 + 2) + 12 = 294 mm of 297; at 1.73 104 and 35 make it 298 mm.
    assert "The largest scale that works is 1.72" in done.err
    assert contents(tmp_path) == before


@pytest.mark.parametrize(
    "call",
    [
        ["--resize", "recipes/blue-box"],
        ["--resize", "recipes/blue-box", "--scale", "0"],
        ["--resize", "recipes/blue-box", "--scale", "-1"],
        ["--resize", "recipes/blue-box", "--scale", "nan"],
        ["--resize", "recipes/blue-box", "--scale", "1000"],
        ["--resize", "recipes/blue-box", "--scale", "big"],
        ["--resize", "recipes/blue-box", "--scale", "1.5", "--numbers", "5 mm"],
        ["--resize", "recipes/blue-box", "--scale", "1.5", "--as", "a: b"],
        ["--resize", "recipes/blue-box", "--holds", "nonsense"],
        ["--resize", "recipes/nothing", "--scale", "2"],
        ["--scale", "2"],
    ],
)
def test_wrong_calls_for_another_size_are_said_plainly(tmp_path: Path, call: list[str]) -> None:
    shutil.copytree(TOP / "recipes/keepsake-box", tmp_path / "recipes/blue-box")
    before = contents(tmp_path)
    done = foldwright("design", *call, cwd=tmp_path)
    assert done.status == 2
    assert done.err.strip()
    assert "Traceback" not in done.err
    assert contents(tmp_path) == before
