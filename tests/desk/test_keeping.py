"""A recipe on disk: drafts, kept texts, versions, and what somebody else did meanwhile."""

from __future__ import annotations

import os
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.on_disk import NEW, OLD, made, opened, text_in, told
from foldwright.desk.keeping.manner import manner_of
from foldwright.desk.keeping.on_disk import Choice, Opened, Outside, RecipeOnDisk, Settled
from foldwright.desk.keeping.versions import KEPT, MOST_VERSIONS
from foldwright.outputs.texts import DRAFT, RECIPE
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.recipe.facts.source import decode


def test_a_draft_lies_beside_the_recipe_and_comes_back(tmp_path: Path) -> None:
    folder = made(tmp_path / "box")
    recipe, first = opened(folder)
    assert first == Opened(OLD, OLD)
    assert recipe.save_draft(NEW) is None
    assert text_in(folder) == OLD
    _, again = opened(folder)
    assert again == Opened(NEW, OLD, drafted=True)


def test_kept_the_text_is_the_recipe_and_the_draft_is_gone(tmp_path: Path) -> None:
    folder = made(tmp_path / "box")
    recipe, _ = opened(folder)
    recipe.save_draft(NEW)
    assert recipe.keep(NEW) is None
    assert text_in(folder) == NEW
    assert not (folder / DRAFT).exists()
    assert [recipe.version(one.name) for one in recipe.versions()] == [OLD]
    assert opened(folder)[1] == Opened(NEW, NEW)
    assert recipe.look(NEW) is None


@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_a_file_keeps_its_mark_and_its_line_ends(tmp_path: Path, mark: str, end: str) -> None:
    folder = made(tmp_path / "box", mark + OLD.replace("\n", end))
    recipe, first = opened(folder)
    assert first.text == OLD
    recipe.keep(NEW)
    assert (folder / RECIPE).read_bytes() == (mark + NEW.replace("\n", end)).encode()


@given(st.text(), st.sampled_from(["\n", "\r\n", "\r"]), st.booleans())
def test_whatever_is_typed_can_be_written_and_read_again(typed: str, end: str, marked: bool) -> None:
    manner = manner_of((("\ufeff" if marked else "") + f"a{end}b").encode())
    text, findings = decode(manner.bytes_of(typed), "r")
    assert findings == ()
    wanted = typed.replace("\r\n", "\n").replace("\r", "\n").replace("\0", "\ufffd")
    # A file without the mark whose text begins with that very letter cannot tell the one from the other.
    assert text == (wanted if marked else wanted.removeprefix("\ufeff"))


def test_half_a_pair_of_letters_is_no_reason_to_lose_the_others(tmp_path: Path) -> None:
    """A browser may send one (ECMA-262, 6.1.4); no file in UTF-8 can hold it."""
    folder = made(tmp_path / "box")
    recipe, _ = opened(folder)
    assert recipe.save_draft("a\ud83db") is None
    assert opened(folder)[1].text == "a?b"


def test_versions_are_the_last_fifty_and_never_the_same_twice_running(tmp_path: Path) -> None:
    folder = made(tmp_path / "box", "0")
    recipe, _ = opened(folder)
    for number in range(1, MOST_VERSIONS + 4):
        for _ in range(2 if number % 10 == 0 else 1):
            assert recipe.keep(str(number)) is None
    texts = [recipe.version(one.name) for one in recipe.versions()]
    assert texts == [str(number) for number in range(MOST_VERSIONS + 2, 2, -1)]


def test_a_clock_that_was_put_back_does_not_drop_the_newest(tmp_path: Path) -> None:
    folder = made(tmp_path / "box", "0")
    noon = datetime(2027, 3, 6, 12, tzinfo=UTC)
    hours = iter(range(MOST_VERSIONS + 20))
    recipe = RecipeOnDisk(folder, tmp_path, now=lambda: noon - timedelta(hours=next(hours)))
    recipe.open()
    for number in range(1, MOST_VERSIONS + 4):
        assert recipe.keep(str(number)) is None
    texts = [recipe.version(one.name) for one in recipe.versions()]
    assert texts == [str(number) for number in range(MOST_VERSIONS + 2, 2, -1)]


@pytest.mark.parametrize(
    "name", ["../recipe.md", "began-from", "", "x\0", "2027-03-06 12-00-00.000000 0123456789ab.md"]
)
def test_only_versions_are_read_as_versions(tmp_path: Path, name: str) -> None:
    recipe, _ = opened(made(tmp_path / "box"))
    recipe.save_draft(NEW)
    assert "not there" in told(recipe.version(name))


def changed_outside(folder: Path) -> tuple[RecipeOnDisk, Outside]:
    recipe, _ = opened(made(folder))
    recipe.save_draft("mine")
    before = os.stat(folder / RECIPE)
    (folder / RECIPE).write_text(OLD.replace("Heart", "Round"), encoding="utf-8")
    # Same size, same time: only what it says is another.
    os.utime(folder / RECIPE, ns=(before.st_atime_ns, before.st_mtime_ns))
    seen = recipe.look("mine")
    assert isinstance(seen, Outside)
    assert (seen.mine, seen.theirs, seen.gone) == ("mine", OLD.replace("Heart", "Round"), False)
    answer = recipe.keep("mine")
    assert answer == seen
    assert text_in(folder) == seen.theirs
    return recipe, seen


def test_what_somebody_else_wrote_is_never_written_over_unasked(tmp_path: Path) -> None:
    changed_outside(tmp_path / "box")
    # The desk is killed and opened again: there are still two texts.
    recipe, again = opened(tmp_path / "box")
    assert again.drafted and again.outside
    assert (again.outside.mine, again.outside.theirs) == ("mine", OLD.replace("Heart", "Round"))
    assert isinstance(recipe.keep("mine"), Outside)


@pytest.mark.parametrize("choice", Choice)
def test_each_choice_keeps_both_texts(tmp_path: Path, choice: Choice) -> None:
    folder = tmp_path / "box"
    recipe, outside = changed_outside(folder)
    settled = recipe.settle(outside, choice, "mine, and a word more")
    assert isinstance(settled, Settled)
    assert recipe.look(settled.text) is None
    assert not (folder / DRAFT).exists()
    held = {text_in(folder), *(recipe.version(one.name) for one in recipe.versions())}
    if settled.beside:
        held.add((folder / settled.beside).read_text(encoding="utf-8"))
    assert {"mine, and a word more", outside.theirs} <= held
    assert text_in(folder) == settled.text == ("mine, and a word more" if choice is Choice.MINE else outside.theirs)
    assert recipe.keep("further") is None


def test_a_text_laid_beside_takes_no_other_s_name(tmp_path: Path) -> None:
    folder = tmp_path / "box"
    recipe, outside = changed_outside(folder)
    (folder / "recipe.mine.md").write_text("older", encoding="utf-8")
    settled = recipe.settle(outside, Choice.BOTH, "mine")
    assert settled == Settled(outside.theirs or "", "recipe.mine-2.md")
    assert (folder / "recipe.mine.md").read_text(encoding="utf-8") == "older"


def test_changed_once_more_while_one_chose_there_is_another_choice(tmp_path: Path) -> None:
    folder = tmp_path / "box"
    recipe, outside = changed_outside(folder)
    (folder / RECIPE).write_text("theirs again", encoding="utf-8")
    answer = recipe.settle(outside, Choice.MINE, "mine")
    assert isinstance(answer, Outside) and answer.theirs == "theirs again"
    assert text_in(folder) == "theirs again"
    assert isinstance(recipe.keep("mine"), Outside)


def test_a_recipe_taken_away_is_noticed_and_can_be_put_back(tmp_path: Path) -> None:
    folder = made(tmp_path / "box")
    recipe, _ = opened(folder)
    (folder / RECIPE).unlink()
    outside = recipe.keep("mine")
    assert isinstance(outside, Outside) and outside.gone and Choice.THEIRS not in outside.choices
    assert "no other text" in told(recipe.settle(outside, Choice.THEIRS, "mine"))
    assert recipe.settle(outside, Choice.MINE, "mine") == Settled("mine")
    assert text_in(folder) == "mine"


def test_what_is_no_text_is_refused_and_left_alone(tmp_path: Path) -> None:
    folder = made(tmp_path / "box")
    (folder / RECIPE).write_bytes("Grün".encode("latin-1"))
    wrong = RecipeOnDisk(folder, tmp_path).open()
    assert "UTF-8" in told(wrong)
    recipe, _ = opened(made(folder))
    recipe.save_draft("mine")
    (folder / RECIPE).write_bytes(b"\xff\xfea\0")
    outside = recipe.keep("mine")
    assert isinstance(outside, Outside) and outside.theirs is None and "UTF-16" in outside.unreadable
    assert opened(folder)[1].outside is not None
    assert recipe.settle(outside, Choice.MINE, "mine") == Settled("mine")
    kept = [(folder / KEPT / one.name).read_bytes() for one in recipe.versions()]
    assert kept == [b"\xff\xfea\0"]


def test_a_text_too_large_for_a_recipe_stays_a_draft(tmp_path: Path) -> None:
    folder = made(tmp_path / "box")
    recipe, _ = opened(folder)
    long = "x" * (MOST_BYTES + 1)
    assert "larger than 1 MB" in told(recipe.keep(long))
    assert recipe.save_draft(long) is None
    assert opened(folder)[1].text == long


def test_a_folder_that_is_gone(tmp_path: Path) -> None:
    folder = made(tmp_path / "box")
    recipe, _ = opened(folder)
    folder.rename(tmp_path / "elsewhere")
    assert "is gone" in told(recipe.save_draft(NEW))
    assert "is gone" in told(recipe.keep(NEW))
    (tmp_path / "elsewhere").rename(folder)
    assert recipe.keep(NEW) is None


def test_links_that_lead_out_of_the_desk_s_folder_are_refused(tmp_path: Path) -> None:
    desk = tmp_path / "desk"
    desk.mkdir()
    far = made(tmp_path / "far")
    (desk / "box").symlink_to(far)
    assert "leads out" in told(RecipeOnDisk(desk / "box", desk).open())
    (desk / "pot").mkdir()
    (desk / "pot" / RECIPE).symlink_to(far / RECIPE)
    pot = RecipeOnDisk(desk / "pot", desk)
    assert "leads out" in told(pot.open())
    assert "leads out" in told(pot.keep(NEW))
    made(desk / "bag")
    (desk / "bag" / KEPT).symlink_to(tmp_path / "far")
    assert "leads out" in told(RecipeOnDisk(desk / "bag", desk).save_draft(NEW))
    assert text_in(far) == OLD
    assert sorted(path.name for path in far.iterdir()) == [RECIPE]


def test_a_link_inside_stays_a_link_and_its_file_keeps_its_rights(tmp_path: Path) -> None:
    folder = made(tmp_path / "box")
    (folder / RECIPE).rename(folder / "text.md")
    (folder / "text.md").chmod(0o640)
    (folder / RECIPE).symlink_to("text.md")
    recipe, _ = opened(folder)
    assert recipe.keep(NEW) is None
    assert (folder / RECIPE).is_symlink()
    assert (folder / "text.md").read_text(encoding="utf-8") == NEW
    assert stat.S_IMODE((folder / "text.md").stat().st_mode) == 0o640
