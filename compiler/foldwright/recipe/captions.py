"""The captions of a video (WebVTT): what is said in it when, each word with its place in the file.

Read here and not by a library, since what is wrong has to be told with its line. NOTE, STYLE and REGION blocks are
passed over, settings and tags of a cue too.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from itertools import pairwise

from msgspec import Struct

from foldwright.finding import Place
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.moments import write_moment

_HEAD = re.compile(r"WEBVTT(?:[ \t][^\n]*)?(?:\n|$)")
_BLOCK = re.compile(r"[^\n]+(?:\n[^\n]+)*")
_TIME = r"(?:([0-9]{2,4}):)?([0-5][0-9]):([0-5][0-9])\.([0-9]{3})"
_TIMING = re.compile(rf"{_TIME}[ \t]+-->[ \t]+{_TIME}(?:[ \t][^\n]*)?")
_SPOKEN_OVER = re.compile("NOTE(?:[ \t\n]|$)|(?:STYLE|REGION)[ \t]*(?:\n|$)")
_TAG = re.compile(r"<[^<>\n]*>")
_SIGN = re.compile(r"&(?:#[0-9]{1,7}|#x[0-9a-fA-F]{1,6}|[a-zA-Z]{2,8});")
_BEFORE_STOP = re.compile(r" +(?=[,.;:!?])")
"""What a tag leaves behind."""
_MARKS = str.maketrans(dict.fromkeys("\\`*_[]<>&", " "))
"""What would be marks in a recipe, and is none here."""


class CueLine(Struct, frozen=True):
    """A line of what is said, plain, as long as it is in the file, where it begins at `start`."""

    text: str
    start: int


class Cue(Struct, frozen=True):
    """What is said from `begins` to `ends`, in thousandths of a second."""

    begins: int
    ends: int
    lines: tuple[CueLine, ...]
    place: Place

    @property
    def moment(self) -> str:
        return write_moment(self.begins // 1000)

    @property
    def text(self) -> str:
        said = " ".join(" ".join(line.text for line in self.lines).split())
        return _BEFORE_STOP.sub("", said)


def read_captions(text: str, file: str, complaints: Complaints) -> tuple[Cue, ...]:
    """The cues in their order; none where the file is no WebVTT, or nobody can tell in which order they are meant."""
    head = _HEAD.match(text)
    if head is None:
        complaints.fault("captions-not-webvtt", Place(file, 0, len(text.partition("\n")[0])), file=file)
        return ()
    read = (_cue(block[0], block.start(), file, complaints) for block in _BLOCK.finditer(text, head.end()))
    cues = [cue for cue in read if cue and cue.lines]
    if not cues and not complaints.findings:
        complaints.fault("captions-empty", Place(file, 0, head.end()), file=file)
    return () if _out_of_order(cues, complaints) else tuple(_each_once(cues))


def _cue(block: str, at: int, file: str, complaints: Complaints) -> Cue | None:
    if _SPOKEN_OVER.match(block):
        return None
    first, _, rest = block.partition("\n")
    timing, payload = (first, rest) if "-->" in first else (rest.partition("\n")[0], rest.partition("\n")[2])
    start = at if "-->" in first else at + len(first) + 1
    place = Place(file, start, start + len(timing))
    if "-->" not in timing:
        complaints.fault("captions-no-time", Place(file, at, at + len(first)), said=first.strip())
        return None
    found = _TIMING.fullmatch(timing.strip())
    if found is None:
        complaints.fault("captions-time-unreadable", place, said=timing.strip())
        return None
    numbers = [int(one or 0) for one in found.groups()]
    begins, ends = (((h * 60 + m) * 60 + s) * 1000 + t for h, m, s, t in (numbers[:4], numbers[4:]))
    if ends <= begins:
        complaints.fault("captions-cue-ends-first", place, said=timing.strip())
        return None
    return Cue(begins, ends, tuple(_lines(payload, start + len(timing) + 1)), place)


def _lines(payload: str, at: int) -> Iterator[CueLine]:
    for line in payload.split("\n"):
        plain = _SIGN.sub(_unescaped, _TAG.sub(lambda tag: " " * len(tag[0]), line)).translate(_MARKS)
        if plain.strip():
            yield CueLine(plain, at)
        at += len(line) + 1


def _unescaped(sign: re.Match[str]) -> str:
    """What a reference stands for, as long as it was; `and` for `&amp;`."""
    said = unescape(sign[0])
    said = "and" if said == "&" else said
    return said.ljust(len(sign[0])) if len(said) <= len(sign[0]) else " " * len(sign[0])


def _out_of_order(cues: list[Cue], complaints: Complaints) -> bool:
    """Whether a cue begins before the one above it, which is told; cues that overlap are told once."""
    pairs = list(pairwise(cues))
    wrong = [(before, cue) for before, cue in pairs if cue.begins < before.begins]
    for before, cue in wrong[:1]:
        facts = {"moment": cue.moment, "before": before.moment, "count": len(wrong)}
        complaints.fault("captions-out-of-order", cue.place, **facts)
    over = [cue for before, cue in pairs if before.begins <= cue.begins < before.ends]
    if over and not wrong:
        complaints.thought("captions-overlap", over[0].place, moment=over[0].moment, count=len(over))
    return bool(wrong)


def _each_once(cues: list[Cue]) -> Iterator[Cue]:
    """What rolls up the screen stands in two cues: it is said in the first."""
    last = ""
    for cue in cues:
        lines = cue.lines[1:] if last and cue.lines[0].text.split() == last.split() else cue.lines
        last = cue.lines[-1].text
        if lines:
            yield Cue(cue.begins, cue.ends, lines, cue.place)
