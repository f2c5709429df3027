"""`foldwright check --mend`: one finding after the other that can be put right, shown as a diff and asked about.

What was agreed is written at once, whole or not at all; then the text is checked again, so that every place is true.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Collection, Iterator, Sequence
from difflib import unified_diff
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from foldwright.cli.telling import INDENT, StyledLine, Teller, seen, told_as_shown
from foldwright.desk.keeping.disk import write_whole
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import Told
from foldwright.finding import Finding, Mend, Wrong
from foldwright.finding.changes import changed, moved
from foldwright.mending.saved import as_saved
from foldwright.outputs.checking import check_every_size
from foldwright.outputs.new_folders import cannot_write
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source
from foldwright.outputs.spoken import heard
from foldwright.recipe.facts.source import decode

_AROUND = 2
"""Lines of a diff before and behind those that change."""
_STYLES = {"+": "green", "-": "red", "@": "cyan"}


class _Stopped(Exception):  # noqa: N818
    """Whoever is asked wants no more."""


class _Asked(Struct, frozen=True):
    """A finding as it was asked about: what it says, and where it stands by now."""

    says: str
    file: Path
    start: int


class _Mendable(Struct, frozen=True):
    """A finding that can be put right, in words, and the file it stands in as it was read."""

    finding: Finding
    told: Told
    file: Path
    text: str
    asked: _Asked


def mend(sources: Sequence[Source], strict: bool, captions: str = "") -> Wrong | None:
    """Put right what can be, as far as it is agreed to; what kept it from being written, if anything did."""
    asking = _Asking(Teller())
    asked: list[_Asked] = []
    wrong = None
    try:
        for source in sources:
            wrong = wrong or _mend_one(source, strict, captions, asking, asked)
    except _Stopped:
        pass
    asking.end()
    return wrong


def _mend_one(source: Source, strict: bool, captions: str, asking: _Asking, asked: list[_Asked]) -> Wrong | None:
    """One recipe, and its studio's file with it. What was `asked` once is not asked again."""
    while one := next(_to_ask(source, strict, captions, frozenset(asked)), None):
        asked.append(one.asked)
        chosen = asking.choose(one)
        if chosen is None:
            continue
        if wrong := _write(one, chosen):
            return wrong
        asking.count(one.told.file)
        asked[:] = [_now(each, one.file, chosen) for each in asked]
    return None


def _now(asked: _Asked, file: Path, done: Mend) -> _Asked:
    """Where it stands once a file is changed."""
    return replace(asked, start=moved(asked.start, done.changes)) if asked.file == file else asked


def _to_ask(source: Source, strict: bool, captions: str, known: Collection[_Asked]) -> Iterator[_Mendable]:
    """The findings that can be put right and were not asked about, in the order of the text."""
    texts = read_texts(source)
    shown = {**texts.shown, source.name: source.shown}
    for size, checked in check_every_size(texts, source.surroundings, strict):
        if not size:
            texts, checked = heard(texts, checked, source.surroundings, captions)
        for finding in checked.findings:
            place = finding.place
            if place is None or not finding.mends:
                continue
            file = _path_of(source, place.file)
            told = told_as_shown([finding], texts.by_name, shown)[0]
            asked = _Asked(told.says, file, place.start)
            if asked not in known:
                yield _Mendable(finding, told, file, texts.by_name[place.file], asked)


def _path_of(source: Source, file: str) -> Path:
    studio = None if file == source.name else source.studio
    return Path(os.path.realpath(studio or source.path))


def _write(one: _Mendable, chosen: Mend) -> Wrong | None:
    """The file as it is after a mend, written whole or not at all."""
    try:
        data = one.file.read_bytes()
        if decode(data, one.told.file)[0] != one.text:
            return Wrong.of("mended-elsewhere", path=one.told.file)
        write_whole(one.file, as_saved(data, chosen.changes))
    except OSError as trouble:
        return cannot_write(Path(one.told.file), trouble)
    return None


class _Asking:
    """Shows what a mend would do and asks; knows what was answered once for all."""

    def __init__(self, teller: Teller) -> None:
        self._teller = teller
        self._all = False
        self._done: dict[str, int] = {}
        self._asked = False

    def count(self, file: str) -> None:
        """One more change of a file is written."""
        self._done[file] = self._done.get(file, 0) + 1

    def choose(self, one: _Mendable) -> Mend | None:
        """The mend that was agreed to; None when none was. Raises `_Stopped`."""
        if self._all:
            return _first(one.finding)
        self._asked = True
        self._show(one)
        return self._answer(one.finding)

    def _show(self, one: _Mendable) -> None:
        self._teller.told_alone(one.told)
        mends = one.finding.mends
        for number, (way, words) in enumerate(zip(mends, one.told.mends, strict=True), 1):
            label = seen(words.label)
            said = _say("one", number=number, label=label) if len(mends) > 1 else label
            self._teller.say([StyledLine(INDENT * 2 + said, "bold")])
            self._teller.say(_diff(one.text, changed(one.text, way.changes)))

    def _answer(self, finding: Finding) -> Mend | None:
        several = len(finding.mends) > 1
        kind = "-which" if several else ""
        while True:
            print(f"{_say('ask' + kind)} ", end="", flush=True, file=sys.stderr)
            line = sys.stdin.readline()
            if not sys.stdin.isatty():
                print(file=sys.stderr)
            answer = line.strip().casefold()
            if not line or answer in ("s", "stop", "q", "quit"):
                raise _Stopped
            if answer in ("n", "no", ""):
                return None
            if answer in ("a", "all"):
                self._all = True
                return _first(finding)
            if answer in ("y", "yes") and not several:
                return finding.mends[0]
            if several and answer.isdecimal() and 1 <= int(answer) <= len(finding.mends):
                return finding.mends[int(answer) - 1]
            print(_say("not-understood", said=seen(line.strip())), _say("how" + kind), file=sys.stderr)

    def end(self) -> None:
        """What was written, file by file."""
        if not self._asked:
            self._teller.text(_say("nothing"))
        elif not self._done:
            self._teller.text(_say("left"))
        for file, count in self._done.items():
            self._teller.text(_say("done", count=count, file=file))
        self._teller.text("")


def _first(finding: Finding) -> Mend | None:
    """The likeliest mend, unless it only hides the finding: nobody has that done to all."""
    first = finding.mends[0]
    return None if first.hides else first


def _diff(before: str, after: str) -> Iterator[StyledLine]:
    lines = unified_diff(before.splitlines(), after.splitlines(), n=_AROUND, lineterm="")
    for line in list(lines)[2:]:
        yield StyledLine(INDENT * 2 + seen(line), _STYLES.get(line[0], ""))


def _say(key: str, **facts: object) -> str:
    return catalogue().say(f"mending.{key}", **facts)
