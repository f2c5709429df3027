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
_FIRST_EDGE = {"across": "left", "down": "top"}


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
    sample = _sample(lines, facts, customs, assumed, complaints)
    if sample is None and not complaints.findings:
        complaints.fault("no-readings", nodes[0].whole if nodes else Phrase("", file, 0))
    findings = tuple(sorted(complaints.findings, key=lambda finding: finding.place.start if finding.place else 0))
    wrong = any(finding.strength > 1 for finding in findings)
    return SampleRead(None if wrong else sample, findings)


# --- lines ----------------------------------------------------------------------------------------------------------


def _lines(nodes: Sequence[Node], facts: dict[str, Phrase], complaints: Complaints) -> Iterator[_NoteLine]:
    for node in nodes:
        if node.key is None:
            complaints.fault("reading-without-colon", node.first)
            continue
        word = _OTHERS.get(node.key.plain.casefold(), node.key.plain.casefold())
        if word in SAMPLE_WORDS:
            facts[word] = node.written
        elif node.entries and node.value is None and _HEAD.fullmatch(_head_of(node.key)[0]) is None:
            # A piece with its lines beneath it.
            for entry in node.entries:
                if line := _line(entry, node.key.plain, complaints):
                    yield line
        elif line := _line(node, "", complaints):
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


def _line(node: Node, piece: str, complaints: Complaints) -> _NoteLine | None:
    if node.key is None:
        complaints.fault("reading-without-colon", node.first)
        return None
    head, how = _head_of(node.key)
    if whole := _SIDE_WHOLE.fullmatch(head):
        head, how = whole["head"], "whole"
    match = _HEAD.fullmatch(head)
    if match is None:
        known = (*SAMPLE_WORDS, "across", "down")
        near = nearest(head.rpartition(" ")[2], (*_FACTS, *known))
        complaints.fault("reading-of-what", node.key, nearest=near, known=known)
        return None
    if not node.written.text:
        complaints.fault("nothing-read", node.key)
        return None
    word = match["word"].casefold()
    return _NoteLine(piece or match["piece"] or LONE_PIECE, word, how, node.key, node.written)


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


def _sample(
    lines: Sequence[_NoteLine],
    facts: dict[str, Phrase],
    customs: NumberCustoms,
    assumed: list[DraftNote],
    complaints: Complaints,
) -> Sample | None:
    lines = [_about_panel(line, lines) for line in lines]
    names = dict.fromkeys(line.piece for line in lines)
    pieces = [_piece(name, [one for one in lines if one.piece == name], customs, assumed, complaints) for name in names]
    if not pieces or any(piece is None for piece in pieces):
        return None
    plain = tuple((word, phrase.plain) for word, phrase in facts.items())
    return Sample(tuple(piece for piece in pieces if piece), plain, tuple(dict.fromkeys(assumed)))


def _about_panel(line: _NoteLine, lines: Sequence[_NoteLine]) -> _NoteLine:
    """`base floor across: 2 7/8 in`: a line about one panel of a piece that other lines are about."""
    others = {one.piece for one in lines if line.piece.startswith(f"{one.piece} ")}
    if line.word not in SIDES or line.how or not others:
        return line
    piece = max(others, key=len)
    return replace(line, piece=piece, how=line.piece.removeprefix(piece).strip())


def _piece(
    name: str, lines: Sequence[_NoteLine], customs: NumberCustoms, assumed: list[DraftNote], complaints: Complaints
) -> SamplePiece | None:
    runs: dict[str, list[MeasuredRun]] = {side: [] for side in SIDES}
    facts: list[tuple[str, str]] = []
    for line in lines:
        if line.word in SIDES:
            runs[line.word] += _runs(line, customs, assumed, complaints)
        elif line.word in _MEASURED:
            for side, run in _sizes(line, customs, assumed, complaints):
                runs[side].append(run)
        else:
            facts.append((_FACTS[line.word], line.value.plain))
    missing = next((side for side in SIDES if not runs[side]), "")
    if missing and not complaints.findings:
        complaints.fault("side-not-measured", lines[0].key, piece=name, side=missing)
    sides: list[SampleSide] = []
    # What follows from all readings together is asked only when each could be read.
    for side in SIDES if not complaints.findings else ():
        laid = lay_side(name, side, runs[side], complaints)
        if laid is not None:
            sides.append(laid[0])
            assumed += laid[1]
    return SamplePiece(name, (sides[0], sides[1]), tuple(facts), lines[0].key.place) if len(sides) == 2 else None


def _runs(
    line: _NoteLine, customs: NumberCustoms, assumed: list[DraftNote], complaints: Complaints
) -> list[MeasuredRun]:
    row = read_row(line.value, customs, complaints)
    if row is None:
        return []
    _note_guess(row, assumed)
    runs = [MeasuredRun(RunManner.WHOLE, (whole,), whole.said.place) for whole in row.whole]
    if row.items and (run := _run(line, row, complaints)):
        runs.insert(0, run)
    return runs


def _run(line: _NoteLine, row: MeasuredRow, complaints: Complaints) -> MeasuredRun | None:
    place = line.value.place
    if match := _FROM.fullmatch(line.how):
        way = _EDGES.get((line.word, match["edge"].casefold()))
        if way is None:
            edges = tuple(edge for side, edge in _EDGES if side == line.word)
            complaints.fault("from-which-edge", line.key, side=line.word, edge=match["edge"], known=edges)
            return None
        return MeasuredRun(way, row.items, place)
    if row.arrows and not line.how:
        complaints.fault("reading-arrows-unclear", line.value, side=line.word, edge=_FIRST_EDGE[line.word])
        return None
    if _WHOLE.fullmatch(line.how) or (_SINGLY.fullmatch(line.how) and len(row.items) == 1):
        return MeasuredRun(RunManner.WHOLE, row.items, place)
    if _SINGLY.fullmatch(line.how):
        return MeasuredRun(RunManner.SINGLY, row.items, place)
    match = _PANEL.fullmatch(line.how)
    return MeasuredRun(RunManner.PANEL, row.items, place, match["panel"] if match else line.how)


def _sizes(
    line: _NoteLine, customs: NumberCustoms, assumed: list[DraftNote], complaints: Complaints
) -> list[tuple[str, MeasuredRun]]:
    """`base size: 5 x 4 1/4 in`: both wholes at once."""
    row = read_row(line.value, customs, complaints, cross=True)
    if row is None:
        return []
    _note_guess(row, assumed)
    if len(row.items) != 2:
        complaints.fault("size-of-two", line.value)
        return []
    return [
        (side, MeasuredRun(RunManner.WHOLE, (item,), item.said.place))
        for side, item in zip(SIDES, row.items, strict=True)
    ]


def _note_guess(row: MeasuredRow, assumed: list[DraftNote]) -> None:
    if row.guessed:
        assumed.append(DraftNote.of("fractions-are-inches"))
