"""The text of a sample's readings: a line for each run of the ruler, as one would note it down.

title: Tuesday's treat box
base across, from the left: 5/8, 3 1/2, 4 1/8; whole: 4 1/8
base down: 1 3/4 front | 3/4 floor | 1 3/4 back; read to 1/16 in
base fold: tray
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.draft.model import UNITS, DraftNote
from foldwright.begin.recover.counting import MeasuredRun, RunManner, lay_side
from foldwright.begin.recover.model import SIDES, Sample, SamplePiece, SampleSide
from foldwright.begin.recover.rows import READ_TO, MeasuredRow, NumberCustoms, lone_length, only_fractions, read_row
from foldwright.finding import Finding
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.structure import Node, read_structure
from foldwright.recipe.facts.unprintable import gated
from foldwright.recipe.pieces.piece import PIECE_WORDS

SAMPLE_WORDS = ("title", "summary", "measured in", "read to", "card", "weight", "thickness", "sheet")
"""What may be said of the sample as a whole."""
_OTHERS = {"name": "title", "called": "title", "units": "measured in", "read within": "read to", "made of": "card"}
_MEASURED = frozenset({*SIDES, "size", "whole"})
LONE_PIECE = "base"
"""What a piece is called that nobody gave a name."""

_FACTS = dict(PIECE_WORDS.spellings)
for _word in ("across", "down", "size", "inside", "whole"):
    _FACTS.pop(_word, None)
_FACT_WORDS = "|".join(sorted(map(re.escape, _FACTS), key=len, reverse=True))
_HEAD = re.compile(rf"(?:(?P<piece>.*\S)\s+)?(?P<word>across|down|size|whole|{_FACT_WORDS})", re.IGNORECASE)
_AGAIN = re.compile(r"\bagain\b|\bonce more\b", re.IGNORECASE)
_SIDE_APART = re.compile(r"\s*(?:across|down)\s*(?:,|$)", re.IGNORECASE)
_SIDE_WHOLE = re.compile(r"(?P<head>.*\b(?:across|down))\s+(?:whole|overall|in all|total)", re.IGNORECASE)
_FROM = re.compile(r"(?:measured |running )?from (?:the )?(?P<edge>\w+)(?: edge| end)?", re.IGNORECASE)
_SINGLY = re.compile(
    r"(?:the |all )?panels|panel by panel|one by one|one at a time|singly|each(?: panel)?|", re.IGNORECASE
)
_WHOLE = re.compile(r"(?:the )?whole|overall|in all|edge to edge", re.IGNORECASE)
_PANEL = re.compile(r"(?:only )?(?:the )?(?:panel )?(?P<panel>\S.*)", re.IGNORECASE)
_DASHES = re.compile(r"^[-–—]{3,}[^\S\n]*$", re.MULTILINE)
_EDGES = {
    ("across", "left"): RunManner.FROM_START,
    ("across", "right"): RunManner.FROM_END,
    ("down", "top"): RunManner.FROM_START,
    ("down", "bottom"): RunManner.FROM_END,
}


class SampleRead(Struct, frozen=True):
    """`sample` is None when something about it could not be read; `findings` say what, in the order of the text."""

    sample: Sample | None
    findings: tuple[Finding, ...]


class _NoteLine(Struct, frozen=True):
    """A line about one piece: the word it is about (a side, `size`, or a fact), how it was measured, and its value."""

    piece: str
    word: str
    how: str
    key: Phrase
    value: Phrase


def read_sample(text: str, file: str, read_to: Length | None = None) -> SampleRead:
    """Read the notes of a sample. Whatever the text, a finding and never an exception.

    `read_to` overrules what the notes say of all readings; a line's own word still counts.
    """
    complaints = Complaints()
    text = gated(text, file, complaints)
    bare = _DASHES.sub(lambda dashes: " " * len(dashes[0]), text)
    nodes = read_structure(bare, file, 0, complaints)
    facts: dict[str, Phrase] = {}
    lines = list(_lines(nodes, facts, complaints))
    customs = _customs(facts, read_to, complaints)
    assumed: list[DraftNote] = []
    if customs.unit is None and only_fractions([line.value for line in lines if line.word in _MEASURED]):
        customs = replace(customs, unit=Unit.INCH)
        assumed.append(DraftNote.of("fractions-are-inches"))
    pieces = _PiecesReader(customs, assumed, complaints).pieces(lines)
    if not pieces and not complaints.findings:
        complaints.fault("no-readings", nodes[0].whole if nodes else Phrase("", file, 0))
    findings = tuple(sorted(complaints.findings, key=lambda finding: finding.place.start if finding.place else 0))
    if not pieces or any(finding.strength > 1 for finding in findings):
        return SampleRead(None, findings)
    plain = tuple((word, phrase.plain) for word, phrase in facts.items())
    return SampleRead(Sample(pieces, plain, tuple(dict.fromkeys(assumed))), findings)


# --- lines ----------------------------------------------------------------------------------------------------------


def _lines(
    nodes: Sequence[Node], facts: dict[str, Phrase], complaints: Complaints, piece: str = ""
) -> Iterator[_NoteLine]:
    """The lines about pieces; what is said of the whole goes into `facts`. `piece` is whose lines stand beneath it."""
    for node in nodes:
        if node.key is None:
            complaints.fault("reading-without-colon", node.first)
            continue
        word = _OTHERS.get(node.key.plain.casefold(), node.key.plain.casefold())
        if not piece and word in SAMPLE_WORDS:
            facts[word] = node.written
        elif not piece and node.entries and node.value is None and _HEAD.fullmatch(_head_of(node.key)[0]) is None:
            yield from _lines(node.entries, facts, complaints, node.key.plain)
        elif line := _line(node.key, node.written, piece, complaints):
            yield line


def _head_of(key: Phrase) -> tuple[str, str]:
    """What a line is about, and how it was measured: `base across`, `from the left`."""
    head, _, how = _AGAIN.sub("", key.plain).partition(",")
    if _SIDE_APART.match(how):
        # `base, across, from the left`
        side, _, how = how.strip().partition(",")
        head = f"{head} {side}"
    if not how and (match := re.search(r"\s+from (?:the )?\w+(?: edge| end)?$", head, re.IGNORECASE)):
        return head[: match.start()], match[0].strip()
    return head.strip(" ,"), how.strip(" ,")


def _line(key: Phrase, value: Phrase, piece: str, complaints: Complaints) -> _NoteLine | None:
    head, how = _head_of(key)
    if whole := _SIDE_WHOLE.fullmatch(head):
        head, how = whole["head"], "whole"
    match = _HEAD.fullmatch(head)
    if match is None:
        known = (*SAMPLE_WORDS, *SIDES)
        near = nearest(head.rpartition(" ")[2], (*_FACTS, *known))
        complaints.fault("reading-of-what", key, nearest=near, known=known)
        return None
    if not value.text:
        complaints.fault("nothing-read", key)
        return None
    return _NoteLine(piece or match["piece"] or LONE_PIECE, match["word"].casefold(), how, key, value)


def _customs(facts: dict[str, Phrase], overruled: Length | None, complaints: Complaints) -> NumberCustoms:
    said = facts.get("measured in")
    unit = UNITS.get(said.plain.casefold()) if said else None
    if said and unit is None:
        complaints.fault("measured-in-what", said)
    bounds = dict(READ_TO)
    if read_to := facts.get("read to"):
        lengths = tuple(lone_length(read_to))
        bounds |= {length.unit.system: length for length in lengths}
        if not lengths:
            complaints.fault("read-to-what", read_to)
    if overruled is not None:
        # In the other system just as far, so that notes in both are read alike.
        bounds = dict.fromkeys(System, overruled)
    return NumberCustoms(unit, bounds)


# --- pieces ---------------------------------------------------------------------------------------------------------


def _about_panel(line: _NoteLine, lines: Sequence[_NoteLine]) -> _NoteLine:
    """`base floor across: 2 7/8 in`: a line about one panel of a piece that other lines are about."""
    others = {one.piece for one in lines if line.piece.startswith(f"{one.piece} ")}
    if line.word not in SIDES or line.how or not others:
        return line
    piece = max(others, key=len)
    return replace(line, piece=piece, how=line.piece.removeprefix(piece).strip())


class _PiecesReader(Struct, frozen=True):
    """Reads the lines about pieces by the customs of the notes; `assumed` gathers what is taken for granted."""

    customs: NumberCustoms
    assumed: list[DraftNote]
    complaints: Complaints

    def pieces(self, lines: Sequence[_NoteLine]) -> tuple[SamplePiece, ...]:
        """Every piece in order of mention; none when one of them could not be read."""
        lines = [_about_panel(line, lines) for line in lines]
        names = dict.fromkeys(line.piece for line in lines)
        pieces = [self._piece(name, [one for one in lines if one.piece == name]) for name in names]
        found = tuple(piece for piece in pieces if piece)
        return found if len(found) == len(pieces) else ()

    def _piece(self, name: str, lines: Sequence[_NoteLine]) -> SamplePiece | None:
        runs: dict[str, list[MeasuredRun]] = {side: [] for side in SIDES}
        facts: list[tuple[str, str]] = []
        for line in lines:
            if line.word not in _MEASURED:
                facts.append((_FACTS[line.word], line.value.plain))
            for side, run in self._runs(line) if line.word in _MEASURED else ():
                runs[side].append(run)
        missing = next((side for side in SIDES if not runs[side]), "")
        if missing and not self.complaints.findings:
            self.complaints.fault("side-not-measured", lines[0].key, piece=name, side=missing)
        sides: list[SampleSide] = []
        # What follows from all readings together is asked only when each could be read.
        for side in SIDES if not self.complaints.findings else ():
            if laid := lay_side(name, side, runs[side], self.complaints):
                sides.append(laid[0])
                self.assumed.extend(laid[1])
        return SamplePiece(name, (sides[0], sides[1]), tuple(facts), lines[0].key.place) if len(sides) == 2 else None

    def _runs(self, line: _NoteLine) -> Iterator[tuple[str, MeasuredRun]]:
        """What a line says of which side; `base size: 5 x 4 1/4 in` says both wholes at once."""
        size = line.word not in SIDES
        row = read_row(line.value, self.customs, self.complaints, cross=size)
        if row is None:
            return
        if row.guessed:
            self.assumed.append(DraftNote.of("fractions-are-inches"))
        wholes = row.items if size else row.whole
        if size and len(wholes) != 2:
            self.complaints.fault("size-of-two", line.value)
            return
        if not size and row.items and (run := self._run(line, row)):
            yield line.word, run
        for side, whole in zip(SIDES if size else (line.word,) * len(wholes), wholes, strict=True):
            yield side, MeasuredRun(RunManner.WHOLE, (whole,), whole.said.place)

    def _run(self, line: _NoteLine, row: MeasuredRow) -> MeasuredRun | None:
        """The numbers of a line, and how they were measured."""
        place = line.value.place
        if match := _FROM.fullmatch(line.how):
            way = _EDGES.get((line.word, match["edge"].casefold()))
            if way is None:
                edges = tuple(edge for side, edge in _EDGES if side == line.word)
                facts = {"side": line.word, "edge": match["edge"], "known": edges}
                self.complaints.fault("from-which-edge", line.key, **facts)
                return None
            return MeasuredRun(way, row.items, place)
        if row.arrows and not line.how:
            edge = "left" if line.word == "across" else "top"
            self.complaints.fault("reading-arrows-unclear", line.value, side=line.word, edge=edge)
            return None
        if _WHOLE.fullmatch(line.how) or (_SINGLY.fullmatch(line.how) and len(row.items) == 1):
            return MeasuredRun(RunManner.WHOLE, row.items, place)
        if _SINGLY.fullmatch(line.how):
            return MeasuredRun(RunManner.SINGLY, row.items, place)
        match = _PANEL.fullmatch(line.how)
        return MeasuredRun(RunManner.PANEL, row.items, place, match["panel"] if match else line.how)
