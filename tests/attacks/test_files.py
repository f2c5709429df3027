"""Tricks with files: names, links, pipes, sizes and encodings. Nothing outside is read or written, nothing hangs."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from attacks.hostile import CALM, compiled
from foldwright.cli.app import run
from foldwright.finding import Strength
from foldwright.outputs.compiling import MadeRecipe
from workbench.command_line import GOOD, contents

SECRET = "not for others"
PICTURE = (
    b"GIF89a\x01\x00\x01\x00\x80\x00\x00\x00\x00\x00\xff\xff\xff,\x00\x00\x00\x00\x01\x00\x01\x00\x00\x02\x02D\x01\x00;"
)
"""The smallest GIF (from memory)."""
SQUARE = b'<svg width="20mm" viewBox="0 0 20 30"><rect width="20" height="30"/></svg>'
PHOTO, OUTLINE = 9, 21
"""Places of the recipe where these are named."""


def named(folder: Path, place: int, name: str) -> MadeRecipe:
    said = list(CALM)
    said[place] = name
    return compiled(folder, said, "tutorial")


def codes(made: MadeRecipe) -> set[str]:
    return {one.code for one in made.findings if one.strength > Strength.THOUGHT}


def lay(folder: Path, kind: str, name: str, data: bytes) -> None:
    """Something of that name in the recipe's folder that is not what it seems."""
    home, outside = folder / "box", folder / "outside"
    home.mkdir(parents=True)
    outside.mkdir()
    (outside / "secret").write_bytes(data + SECRET.encode())
    path = home / name
    match kind:
        case "folder":
            path.mkdir()
        case "pipe":
            os.mkfifo(path)
        case "link out":
            path.symlink_to(outside / "secret")
        case "link to a link out":
            (home / "between").symlink_to(outside)
            path.symlink_to("between/secret")
        case "link to itself":
            path.symlink_to(name)
        case "link to nothing":
            path.symlink_to("nothing")
        case "device":
            path.symlink_to("/dev/zero")
        case "empty":
            path.write_bytes(b"")
        case "too large":
            with path.open("wb") as file:
                file.truncate(65 * 1024 * 1024)


KINDS = (
    "folder", "pipe", "link out", "link to a link out", "link to itself", "link to nothing", "device", "empty",
    "too large",
)  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_a_photograph_that_is_none_is_named(tmp_path: Path, kind: str) -> None:
    lay(tmp_path, kind, "a.gif", PICTURE)
    made = named(tmp_path, PHOTO, "a.gif")
    assert any(code.startswith("photo-") for code in codes(made) - {"photo-missing"}) or kind == "link to nothing"
    assert not any(SECRET.encode() in data for data in made.files.values())


@pytest.mark.parametrize("kind", KINDS)
def test_an_outline_that_is_none_is_named(tmp_path: Path, kind: str) -> None:
    lay(tmp_path, kind, "a.svg", SQUARE)
    made = named(tmp_path, OUTLINE, "a.svg")
    assert any(code.startswith("outline-") for code in codes(made))


@pytest.mark.parametrize(
    "name", ["../outside/a", "{}/outside/a", "./../outside/a", "sub/../../outside/a", "/proc/self/environ"]
)
def test_nothing_outside_the_folder_is_read(tmp_path: Path, name: str) -> None:
    (tmp_path / "outside").mkdir()
    (tmp_path / "box" / "sub").mkdir(parents=True)
    for ending, data in ((".gif", PICTURE), (".svg", SQUARE)):
        (tmp_path / "outside" / f"a{ending}").write_bytes(data)
    whole = name.format(tmp_path)
    assert "photo-outside" in codes(named(tmp_path, PHOTO, whole if "proc" in name else f"{whole}.gif"))
    if "proc" not in name:
        assert "outline-outside" in codes(named(tmp_path, OUTLINE, f"{whole}.svg"))


def test_a_hard_link_is_an_ordinary_file_of_the_folder(tmp_path: Path) -> None:
    """Whoever can make one could copy the file as well."""
    (tmp_path / "box").mkdir()
    (tmp_path / "kept.gif").write_bytes(PICTURE)
    os.link(tmp_path / "kept.gif", tmp_path / "box" / "a.gif")
    assert not any(code.startswith("photo-un") for code in codes(named(tmp_path, PHOTO, "a.gif")))


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is closed to this user")
def test_a_file_that_may_not_be_read_is_named(tmp_path: Path) -> None:
    (tmp_path / "box").mkdir()
    (tmp_path / "box" / "a.gif").write_bytes(PICTURE)
    (tmp_path / "box" / "a.gif").chmod(0)
    assert "photo-unreadable" in codes(named(tmp_path, PHOTO, "a.gif"))


# --- the text itself --------------------------------------------------------------------------------------------------

BOX = GOOD.replace("title: Practice card", "title: Kärtchen")
TEXTS: dict[str, tuple[bytes, int]] = {
    "plain": (BOX.encode(), 0),
    "a mark of byte order": (BOX.encode("utf-8-sig"), 0),
    "lines end in CR LF": (BOX.replace("\n", "\r\n").encode(), 0),
    "lines end in CR": (BOX.replace("\n", "\r").encode(), 0),
    "UTF-16 with a mark": (BOX.encode("utf-16"), 1),
    "UTF-16 without": (BOX.encode("utf-16-le"), 1),
    "Latin-1": (BOX.encode("latin-1"), 1),
    "half a letter": (BOX.encode() + b"\xc3", 1),
    "a surrogate alone": (BOX.encode() + b"\xed\xa0\x80", 1),
    "no more than a byte": (b"\xff", 1),
    "nothing": (b"", 1),
    "lines and no end": (b"---\n" * 20_000, 1),
    "a picture": (PICTURE, 1),
    "larger than a recipe may be": (BOX.encode() + b"x" * (1 << 20), 1),
    "one endless line": (BOX.encode() + b"word " * 100_000, 0),
    "brackets in brackets": (BOX.replace("summary:", "summary: " + "[" * 5000).encode(), 0),
    "quotes in quotes": (BOX.encode() + b"> " * 20_000, 1),
    "lists in lists": (BOX.encode() + b"".join(b"  " * deep + b"- x\n" for deep in range(120)), 1),
    "facts in facts": (
        BOX.replace("tools:", "".join("  " * deep + f"a{deep}:\n" for deep in range(300)) + "tools:").encode(),
        1,
    ),
}
"""Each with the exit status it asks for."""


@pytest.mark.parametrize("name", TEXTS)
def test_texts_of_every_making_are_read_or_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    data, status = TEXTS[name]
    (tmp_path / "card").mkdir()
    (tmp_path / "card" / "recipe.md").write_bytes(data)
    assert run(["check", str(tmp_path / "card")]) == status
    said = capsys.readouterr()
    assert status == 0 or "recipe.md" in said.out + said.err
    assert contents(tmp_path).keys() == {"card/recipe.md"}


STUDIOS = {
    "a bomb of anchors": "a: &a [x]\n" + "".join(f"b{n}: &b{n} [*a, *a]\n" for n in range(40)),
    "a tag": "studio: !!python/object/apply:os.system ['touch made']\n",
    "a merge": "base: &base {studio: x}\n<<: *base\n",
    "thousands of facts": "".join(f"word{n}: x\n" for n in range(4_000)),
    "one long word": "studio: " + "x" * 60_000 + "\n",
    "documents": "---\nstudio: a\n---\nstudio: b\n",
    "deep": "".join("  " * deep + f"a{deep}:\n" for deep in range(300)),
    "a theme outside": "theme: ../../../../etc\n",
    "a theme at the root": "theme: /etc\n",
    "a theme that is a file": "theme: studio.yaml\n",
}


@pytest.mark.parametrize("name", STUDIOS)
def test_studio_files_of_every_kind_are_read_or_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    (tmp_path / "card").mkdir()
    (tmp_path / "card" / "recipe.md").write_text(GOOD, encoding="utf-8")
    (tmp_path / "studio.yaml").write_text(STUDIOS[name], encoding="utf-8")
    before = set(contents(tmp_path))
    status = run(["build", str(tmp_path / "card"), "--out", str(tmp_path / "out"), "--only", "tutorial"])
    assert status in (0, 1)
    made = {path for path in contents(tmp_path) if not path.startswith("out/card/")}
    assert made == before
    assert "x" * 200 not in capsys.readouterr().out


PIECES = (
    "../x",
    "/x",
    "CON",
    "aux.svg",
    "a/b",
    "...",
    "x" * 300,
    "é" * 200,
    "-rf",
    "tutorial",
    "a\\b",
    "～",
    "ﬀ",
    "a b..c",
)


def test_pieces_are_files_of_the_folder_whatever_they_are_called(tmp_path: Path) -> None:
    pieces = "".join(f"  {name}:\n    from: white card\n    size: 20 x 30 mm\n" for name in PIECES)
    text = GOOD.replace("pieces:\n", f"pieces:\n{pieces}")
    (tmp_path / "card").mkdir()
    (tmp_path / "card" / "recipe.md").write_text(text, encoding="utf-8")
    status = run(["build", str(tmp_path / "card"), "--out", str(tmp_path / "out"), "--only", "pieces,sheet"])
    assert status in (0, 1)
    made = [Path(name) for name in contents(tmp_path)]
    assert all(path.parts[0] in ("card", "out") for path in made)
    files = [path for path in made if path.suffix in (".svg", ".dxf", ".fold")]
    assert status == 1 or len(files) == 3 * (len(PIECES) + 1)
    assert len({str(path).casefold() for path in files}) == len(files)
    assert all(len(path.parts) == 3 and path.name.isascii() and len(path.name) < 255 for path in files)
