"""The blocks of README.md and the guide: what each is, and what the program prints where one says so. Not a test.

A block says behind its fence what it is; a block of the program's own words has the command above it, and where in what
is printed it begins: `<!-- printed by: foldwright check recipes/x; from: In all -->`. It ends before the next line that
is empty or less far in.
`python3 compiler/start.py pictures` prints them anew.
"""

from __future__ import annotations

import re
import shlex
import shutil
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import takewhile
from pathlib import Path

from foldwright.guide import FOLDER
from foldwright.guide import PAGES as NAMES
from workbench.command_line import TOP, foldwright

README = TOP / "README.md"
PAGES = (README, *(FOLDER / f"{name}.md" for name in NAMES))
"""All pages a user reads."""
FILES = {"sample": "sample.txt", "shelf": "stock.yaml", "guests": "guests.csv"}
"""Blocks that commands of the pages read, and the files in which they look for them."""
_BLOCK = re.compile(
    r"(?:<!-- printed by: (?P<command>[^;\n]+?)(?:; from: (?P<begin>[^\n]+?))? -->\n)?"
    r"^(?P<fence>```+)(?P<kind>[a-z]*)\n(?P<text>.*?\n)(?P=fence)$",
    re.MULTILINE | re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class Block:
    kind: str
    text: str
    line: int
    command: str = ""
    begin: str = ""


def blocks(readme: str) -> Iterator[Block]:
    for found in _BLOCK.finditer(readme):
        line = readme.count("\n", 0, found.start("fence")) + 1
        yield Block(found["kind"], found["text"], line, found["command"] or "", found["begin"] or "")


def all_pages() -> str:
    """README.md and the guide, one after the other."""
    return "\n".join(page.read_text(encoding="utf-8") for page in PAGES)


def set_out(folder: Path) -> None:
    """A folder in which the commands of the pages find what they speak of."""
    shutil.copytree(TOP / "recipes", folder / "recipes")
    for block in blocks(all_pages()):
        if block.kind in FILES:
            (folder / FILES[block.kind]).write_text(block.text, encoding="utf-8")


def printed(block: Block, folder: Path) -> str:
    """What the program prints now in place of a block."""
    done = foldwright(*shlex.split(block.command)[1:], cwd=folder)
    lines = (done.out + done.err).splitlines()
    first = next((number for number, line in enumerate(lines) if block.begin in line), None)
    assert first is not None, f"{block.command} prints no {block.begin!r}:\n{done.out}{done.err}"
    blank = re.match(r" *", lines[first])
    shown = takewhile(lambda line: line.strip() and line.startswith(blank[0] if blank else ""), lines[first:])
    return "".join(f"{line}\n" for line in shown)


def main() -> int:
    with tempfile.TemporaryDirectory(prefix="foldwright-readme-") as name:
        set_out(Path(name))
        for page in PAGES:
            text = page.read_text(encoding="utf-8")
            for block in blocks(text):
                if block.command:
                    text = text.replace(f"\n{block.text}", f"\n{printed(block, Path(name))}", 1)
            page.write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
