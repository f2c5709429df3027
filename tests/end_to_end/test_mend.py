"""`foldwright check --mend` as a person runs it: a diff, a question, and only what was agreed to in the file."""

from __future__ import annotations

import json
import stat
from pathlib import Path

import pytest

from foldwright.finding.changes import Change
from foldwright.mending.saved import as_saved
from workbench.command_line import GOOD, Done, contents, foldwright, write

BROKEN = GOOD.replace("makes:", "mkaes:").replace("sheet 8 1/2", "sheet 81/2").replace("from: white", "from: whit")
"""A misspelt fact, a number without its space, and a name that names nothing."""


def mend(cwd: Path, typed: str, *words: str) -> Done:
    return foldwright("check", *(words or ("card",)), "--mend", cwd=cwd, typed=typed)


def text_of(folder: Path) -> str:
    return (folder / "card" / "recipe.md").read_bytes().decode()


def test_it_shows_a_diff_asks_and_writes_only_what_was_agreed(tmp_path: Path) -> None:
    write(tmp_path, "card", BROKEN)
    done = mend(tmp_path, "yes\n2\nno\n")
    assert text_of(tmp_path) == BROKEN.replace("mkaes:", "makes:").replace("81/2", "40 1/2")
    assert (
        "    Type “makes”\n"
        "    @@ -2,5 +2,5 @@\n"
        "     title: Practice card\n"
        "     summary: A folded card to try things on.\n"
        "    -mkaes: 1 card\n"
        "    +makes: 1 card\n"
        "     measured in: inches\n"
        "     level: easy\n"
    ) in done.out
    assert "    1: Type “8 1/2”\n" in done.out
    assert "    2: Type “40 1/2”\n" in done.out
    assert "2 changes in card/recipe.md.\n" in done.out
    assert done.err.count("Do it? yes, no, all, or stop:") == 2
    assert done.err.count("Which? A number, no, all, or stop:") == 1
    assert "\x1b" not in done.out + done.err


def test_the_status_and_the_last_lines_are_those_of_check_afterwards(tmp_path: Path) -> None:
    write(tmp_path, "card", BROKEN)
    well = mend(tmp_path, "all\n")
    assert (well.status, text_of(tmp_path)) == (0, GOOD)
    assert well.out.endswith("All is well.\n")
    write(tmp_path, "card", BROKEN)
    left = mend(tmp_path, "n\nn\nn\n")
    assert (left.status, text_of(tmp_path)) == (1, BROKEN)
    assert "Nothing was changed." in left.out
    assert left.out.splitlines()[-1].startswith("In all: 3 errors")


def test_at_the_end_of_the_input_nothing_more_is_written(tmp_path: Path) -> None:
    write(tmp_path, "card", BROKEN)
    assert mend(tmp_path, "yes\n").status == 1
    assert text_of(tmp_path) == BROKEN.replace("mkaes:", "makes:")
    assert mend(tmp_path, "").status == 1
    assert mend(tmp_path, "stop\nyes\n").status == 1
    assert text_of(tmp_path) == BROKEN.replace("mkaes:", "makes:")


def test_an_answer_that_is_none_is_asked_for_again(tmp_path: Path) -> None:
    write(tmp_path, "card", BROKEN)
    done = mend(tmp_path, "perhaps\n7\nY\nyes\n9\n1\nno\n")
    assert "I do not understand “perhaps”. yes does it." in done.err
    assert "I do not understand “9”. A number does that one." in done.err
    assert text_of(tmp_path) == BROKEN.replace("mkaes:", "makes:").replace("81/2", "8 1/2")


def test_all_hides_no_suggestion(tmp_path: Path) -> None:
    text = GOOD.replace("time: 1 min\n", "").replace("makes:", "mkaes:")
    write(tmp_path, "card", text)
    done = mend(tmp_path, "all\n")
    assert text_of(tmp_path) == text.replace("mkaes:", "makes:")
    assert "1 suggestion" in done.out
    hidden = mend(tmp_path, "yes\n")
    assert "    Hide this suggestion\n" in hidden.out
    assert "hush: no-time\n" in text_of(tmp_path)
    assert hidden.out.endswith("All is well.\n")


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_line_ends_mark_and_mode_of_the_file_stay(tmp_path: Path, mark: bytes) -> None:
    windows = mark + BROKEN.replace("Practice", "Prächtige 🚢").replace("\n", "\r\n").encode()
    file = write(tmp_path, "card", windows) / "recipe.md"
    file.chmod(0o640)
    assert mend(tmp_path, "all\n").status == 0
    assert file.read_bytes() == mark + GOOD.replace("Practice", "Prächtige 🚢").replace("\n", "\r\n").encode()
    assert stat.S_IMODE(file.stat().st_mode) == 0o640
    assert [*contents(tmp_path)] == ["card/recipe.md"]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    home = write(tmp_path, "card", BROKEN)
    (home / "recipe.md").rename(home / "text.md")
    (home / "recipe.md").symlink_to("text.md")
    assert mend(tmp_path, "all\n").status == 0
    assert (home / "recipe.md").is_symlink()
    assert (home / "text.md").read_text(encoding="utf-8") == GOOD


def test_the_studio_is_mended_in_its_own_file_and_asked_about_once(tmp_path: Path) -> None:
    write(tmp_path, "card")
    write(tmp_path, "other")
    studio = tmp_path / "studio.yaml"
    studio.write_text("stduio: Harbour Street Paper Studio\nhand: rihgt\n", encoding="utf-8")
    declined = mend(tmp_path, "no\nno\nyes\nyes\n", ".")
    assert declined.err.count("Do it?") == 2
    assert studio.read_text(encoding="utf-8").startswith("stduio: ")
    assert mend(tmp_path, "yes\nyes\n", ".").status == 0
    assert studio.read_text(encoding="utf-8") == "studio: Harbour Street Paper Studio\nhand: right\n"
    assert text_of(tmp_path) == GOOD


def test_several_recipes_are_gone_through_one_after_the_other(tmp_path: Path) -> None:
    write(tmp_path, "card", BROKEN)
    write(tmp_path, "other", GOOD.replace("level:", "levvel:"))
    done = mend(tmp_path, "a\n", ".")
    assert (done.status, text_of(tmp_path)) == (0, GOOD)
    assert "3 changes in card/recipe.md." in done.out and "1 change in other/recipe.md." in done.out


def test_where_nothing_can_be_put_right_nothing_is_asked(tmp_path: Path) -> None:
    write(tmp_path, "card")
    done = mend(tmp_path, "")
    assert (done.status, done.err) == (0, "")
    assert "There is nothing here that I can put right by myself." in done.out


def test_json_cannot_ask_but_has_every_change(tmp_path: Path) -> None:
    file = write(tmp_path, "card", BROKEN) / "recipe.md"
    refused = mend(tmp_path, "", "card", "--format", "json")
    assert (refused.status, refused.out) == (2, "")
    assert "--mend asks you about each change" in refused.err
    told = json.loads(foldwright("check", "card", "--format", "json", cwd=tmp_path).out)
    first = told["recipes"][0]["findings"][0]
    assert [one["label"] for one in first["mends"]] == ["Type “makes”"]
    changes = [Change(**change) for change in first["mends"][0]["changes"]]
    assert as_saved(file.read_bytes(), changes).decode() == BROKEN.replace("mkaes:", "makes:")
