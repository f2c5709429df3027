"""A recipe on disk: drafts, kept texts, versions, and what somebody else did meanwhile."""

from __future__ import annotations

import errno
import os
import random
import signal
import stat
import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.desk.disk import laid
from foldwright.desk.keeping import Choice, Opened, Outside, RecipeOnDisk, Settled
from foldwright.desk.manner import manner_of
from foldwright.desk.versions import KEPT, MOST_VERSIONS
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.outputs.texts import DRAFT, RECIPE
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.recipe.facts.source import decode

OLD, NEW = "---\ntitle: Heart box\n---\n\n## Cut\nCut it.\n", "---\ntitle: Star box\n---\n\n## Cut\nCut it out.\n"


def made(folder: Path, text: str = OLD) -> Path:
    folder.mkdir(exist_ok=True)
    (folder / RECIPE).write_bytes(text.encode())
    return folder


def opened(folder: Path) -> tuple[RecipeOnDisk, Opened]:
    recipe = RecipeOnDisk(folder, folder.parent)
    answer = recipe.open()
    assert isinstance(answer, Opened), answer
    return recipe, answer


def told(wrong: object) -> str:
    """What is wrong, in words that a test may ask for; every fact has its slot (a missing one is an error)."""
    assert isinstance(wrong, Wrong), wrong
    return catalogue().say(wrong.message, **dict(wrong.facts))


def text_in(folder: Path) -> str:
    return (folder / RECIPE).read_text(encoding="utf-8")


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
    for number in range(1, MOST_VERSIONS + 10):
        assert recipe.keep(str(number)) is None
        assert recipe.keep(str(number)) is None
    texts = [recipe.version(one.name) for one in recipe.versions()]
    assert texts == [str(number) for number in range(MOST_VERSIONS + 8, 8, -1)]


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


FAILURES = {
    errno.ENOSPC: "disk is full",
    errno.EDQUOT: "all the space",
    errno.EACCES: "not allowed",
    errno.EROFS: "only be read",
    errno.ENOENT: "is gone",
    errno.ENAMETOOLONG: "too long",
    errno.EIO: "Try again",
}


@pytest.mark.parametrize("number", FAILURES)
@pytest.mark.parametrize("call", ["open", "fsync", "replace", "mkdir"])
def test_a_disk_that_will_not_is_told_in_words_and_the_next_try_works(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, call: str
) -> None:
    folder = made(tmp_path / "box")
    recipe, _ = opened(folder)

    def fail(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    with monkeypatch.context() as broken:
        broken.setattr(os, call, fail)
        answers = [recipe.save_draft(NEW), recipe.keep(NEW)]
    for answer in answers:
        assert FAILURES[number] in told(answer)
    assert text_in(folder) == OLD
    assert not list(folder.rglob("*.new"))
    assert recipe.save_draft(NEW) is None
    assert recipe.keep(NEW) is None
    assert text_in(folder) == NEW


@pytest.mark.skipif(sys.platform != "linux", reason="a device that is always full")
def test_a_disk_that_is_really_full() -> None:
    with pytest.raises(OSError, match="No space") as full, open("/dev/full", "wb", buffering=0) as stream:
        stream.write(b"x")
    assert full.value.errno == errno.ENOSPC


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


def killed_at(step: int, work: Callable[[], object], folder: Path) -> bool:
    """Do the work in a process of its own that is killed before its `step`th dealing with the disk; whether it was."""
    child = os.fork()
    if child == 0:
        left = step

        def watch(event: str, args: tuple[object, ...]) -> None:
            nonlocal left
            ours = args and isinstance(args[0], str | os.PathLike) and str(folder) in os.fspath(args[0])
            if ours or event == "fsync":
                left -= 1
                if not left:
                    os.kill(os.getpid(), signal.SIGKILL)

        sync = os.fsync

        def watched_sync(number: int) -> None:
            watch("fsync", ())
            sync(number)

        os.fsync = watched_sync
        sys.addaudithook(watch)
        work()
        os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="a process of its own")
@pytest.mark.parametrize("what", ["draft", "keep", "settle", "photograph"])
def test_killed_at_any_moment_each_file_is_whole_and_nothing_is_left_about(tmp_path: Path, what: str) -> None:
    for step in range(1, 1000):
        folder = made(tmp_path / f"box-{step}")
        recipe, _ = opened(folder)
        assert recipe.save_draft("typed") is None
        works: dict[str, Callable[[], object]] = {
            "draft": lambda recipe=recipe: recipe.save_draft(NEW),
            "keep": lambda recipe=recipe: recipe.keep(NEW),
            "settle": lambda recipe=recipe: recipe.settle(Outside(NEW, OLD, "", recipe._seen), Choice.BOTH, NEW),
            "photograph": lambda recipe=recipe: recipe.add_file("lid", ".jpg", b"picture" * 1000),
        }
        was_killed = killed_at(step, works[what], folder)
        assert text_in(folder) in (OLD, NEW)
        again, seen = opened(folder)
        # What was typed is there, as the draft or as the recipe.
        assert seen.text in ("typed", NEW) or (what == "settle" and (folder / "recipe.mine.md").exists())
        assert not list(folder.rglob("*.new"))
        for beside in folder.glob("lid*"):
            assert beside.read_bytes() == b"picture" * 1000
        assert all(again.version(one.name) in (OLD, NEW) for one in again.versions())
        if what == "keep" and text_in(folder) == NEW:
            assert [again.version(one.name) for one in again.versions()] == [OLD]
        if not was_killed:
            break
    assert step > 5, "the work was never interrupted"


@pytest.mark.skipif(not hasattr(os, "fork"), reason="a process of its own")
def test_killed_again_and_again_while_typing(tmp_path: Path) -> None:
    """A desk that goes on where the last one was killed: what comes back was typed by one of them, whole."""
    chance = random.Random(19)
    folder = made(tmp_path / "box")
    for round_ in range(40):
        recipe, seen = opened(folder)
        assert seen.outside is None
        if seen.text != OLD:
            number, _, rest = seen.text.partition(" ")
            assert rest == "word " * (int(number) % 50)
        assert not list(folder.rglob("*.new"))

        def type_on(recipe: RecipeOnDisk = recipe, begin: int = round_ * 1000) -> None:
            for number in range(begin, begin + 100):
                text = f"{number} " + "word " * (number % 50)
                assert (recipe.keep if number % 7 == 0 else recipe.save_draft)(text) is None

        assert killed_at(chance.randrange(1, 300), type_on, folder)


def test_a_file_on_its_way_is_not_swept_up_by_a_second_opening(tmp_path: Path) -> None:
    folder = made(tmp_path / "box")
    with laid(folder / RECIPE, b"new") as fresh:
        opened(folder)
        assert fresh.exists()
