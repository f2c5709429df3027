"""Each text about files is said somewhere, and each that is said is there."""

from __future__ import annotations

import re
from pathlib import Path

import foldwright
from foldwright.document.catalogue import catalogue

ROOM = "desk-keeping"


def test_the_words_of_files_and_the_sources_have_each_other() -> None:
    sources = Path(foldwright.__file__).parent
    code = "".join(
        path.read_text(encoding="utf-8") for room in ("desk", "authoring") for path in (sources / room).rglob("*.py")
    )
    # Reasons stand in a table of their own, and what is wrong with a picture is told by the room that opens it.
    pictures = (sources / "render" / "photos.py").read_text(encoding="utf-8")
    there = {name.removeprefix(f"{ROOM}.") for name in catalogue().names() if name.startswith(f"{ROOM}.")}
    said = set(re.findall(rf'"{ROOM}\.([a-z-]+)"', code))
    reasons = set(re.findall(r'^ +errno\.\w+: "([a-z-]+)"', code, re.MULTILINE)) | {"cannot-write"}
    assert (
        said | reasons | set(re.findall(r'Unusable\("(photo-[a-z-]+)"', pictures)) | {"photo-heic", "photo-unreadable"}
        == there
    )
