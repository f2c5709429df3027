"""The text of a sample's readings: a line for each run of the ruler, as one would note it down.

title: Tuesday's treat box
base across, from the left: 5/8, 3 1/2, 4 1/8; whole: 4 1/8
base down: 1 3/4 front | 3/4 floor | 1 3/4 back; within 1/16 in
base fold: tray
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence, Set

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.draft.model import UNITS, DraftNote
from foldwright.begin.recover.model import SIDES, Sample, SamplePiece, SampleSide
from foldwright.begin.recover.notes.clauses import read_line
from foldwright.begin.recover.notes.counting import lay_side
from foldwright.begin.recover.notes.heads import LineHead, head_of
from foldwright.begin.recover.notes.lengths import READ_TO, NumberCustoms, RowItem, lengths_of, only_fractions
from foldwright.begin.recover.notes.lines import FACTS, SAMPLE_WORDS, NotedLines, NoteLine, read_lines
from foldwright.begin.recover.notes.marks import read_bounds, read_habit
from foldwright.begin.recover.notes.noted import ALL_ROUND, OPEN, NotedLine, NotedRun, RunManner
from foldwright.begin.recover.notes.parts import NotedNumber
from foldwright.begin.recover.notes.runs import MeasuredRun
from foldwright.finding import Finding
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.reading import UNIT_WORDS
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.limits import LONGEST_WORD
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.unprintable import gated

LONE_PIECE = "base"
"""What a piece is called that nobody gave a name."""
_ARTICLE = re.compile(r"^(?:the|my|our|an?) |['’]s$", re.IGNORECASE)
"""What is no part of a piece's name: an article, and the end of `the lid's width`."""


class SampleRead(Struct, frozen=True):
    """`sample` is None when something about it could not be read; `findings` say what, in the order of the text."""

    sample: Sample | None
    findings: tuple[Finding, ...]


class _MeasuredLine(Struct, frozen=True):
    """A line about one piece, or (with a `word`) a fact of it."""

    piece: str
    panel: str
    phrase: Phrase
    noted: NotedLine | None = None
    word: str = ""
    named: str = ""
    """The piece in its author's words, with the article before it."""
    unit: Unit | None = None
    """That of the heading."""

    @property
    def sides(self) -> frozenset[str]:
        """What its runs are about."""
        return frozenset(run.side for run in self.noted.runs) if self.noted else frozenset()


def read_sample(text: str, file: str, bound: Length | None = None) -> SampleRead:
    """Read the notes of a sample. Whatever the text, a finding and never an exception.

    `bound` overrules what the notes say of all readings; a line's own word still counts.
    """
    complaints = Complaints()
    noted = read_lines(gated(text, file, complaints), file, complaints)
    assumed: list[DraftNote] = []
    facts = {line.word: line.value for line in noted.lines if line.of_all}
    customs = _customs(facts, bound, complaints)
    habit = read_habit(facts["made in"].text) if "made in" in facts else None
    if "made in" in facts and habit is None:
        complaints.fault("made-in-what", facts["made in"])
    lines = list(_lines(noted, assumed, complaints))
    customs = _with_usual(customs, lines)
    if customs.unit is None and customs.usual is None and only_fractions(_numbers(lines)):
        customs = replace(customs, unit=Unit.INCH)
        assumed.append(DraftNote.of("fractions-are-inches"))
    reader = _PiecesReader(customs, assumed, complaints)
    pieces = reader.pieces(lines)
    if not pieces and not complaints.findings:
        complaints.fault("no-readings", _first(noted, file))
    assumed += _left_out(noted, lines, facts)
    if len(pieces) == 1:
        # Where there is but one, nobody need be told which.
        assumed = [one for one in assumed if one.code != "same-piece"]
    findings = tuple(sorted(complaints.findings, key=lambda finding: finding.place.start if finding.place else 0))
    if not pieces or any(finding.strength > 1 for finding in findings):
        return SampleRead(None, findings)
    plain = tuple((word, facts[word].plain) for word in SAMPLE_WORDS if word in facts)
    return SampleRead(Sample(pieces, plain, tuple(dict.fromkeys(assumed)), habit), findings)


def _first(noted: NotedLines, file: str) -> Phrase:
    phrases = [*(line.phrase for line in noted.lines), *noted.headings, *noted.remarks]
    return min(phrases, key=lambda phrase: phrase.start, default=Phrase("", file, 0))


def _left_out(noted: NotedLines, lines: Sequence[_MeasuredLine], facts: dict[str, Phrase]) -> Iterator[DraftNote]:
    """Lines without a number that nothing was made of; the first of them may be the title."""
    used = {_key(line.piece) for line in lines}
    unused = [one for one in noted.headings if _key(one.plain) not in used]
    first = min((line.phrase.start for line in noted.lines), default=0)
    for one in sorted((*unused, *noted.remarks), key=lambda phrase: phrase.start):
        if one.start < first and "title" not in facts and one.text[:1].isalnum():
            facts["title"] = one
            yield DraftNote.of("first-line-is-title", said=one.plain)
        else:
            yield DraftNote.of("line-left-out", said=one.plain)


# --- lines ----------------------------------------------------------------------------------------------------------


def _key(name: str) -> str:
    """Names that differ in nothing else than capital letters and an article are one."""
    return _ARTICLE.sub("", " ".join(name.split())).casefold()


def _lines(noted: NotedLines, assumed: list[DraftNote], complaints: Complaints) -> Iterator[_MeasuredLine]:
    """The lines about pieces. One that names no piece is about the piece over it, or the last one named."""
    last = side = passed = ""
    unnamed: list[str] = []
    for line in noted.lines:
        if line.of_all:
            continue
        if line.word:
            last = _ARTICLE.sub("", line.piece) or last or LONE_PIECE
            yield _MeasuredLine(last, "", line.value if line.value.text else line.phrase, None, line.word)
            continue
        head = head_of(line.phrase, line.tokens)
        own, over = _ARTICLE.sub("", head.piece), "" if line.piece == passed else _ARTICLE.sub("", line.piece)
        piece, panel = own or over or last or LONE_PIECE, head.panel
        if own and over and _is_panel(head):
            piece, panel = over, head.piece
        elif own and over:
            # From here on this piece is spoken of, and no more that of the heading.
            passed = line.piece
        read = _measured(line, head, panel, side if line.follows else "", complaints)
        if read is None:
            continue
        said = {run.side for run in read.runs}
        side = next(iter(said)) if len(said) == 1 else ""
        if not own and not over and last:
            unnamed.append(last)
        last = piece
        yield _MeasuredLine(piece, panel, line.phrase, read, "", head.piece.casefold(), line.unit)
    assumed += [DraftNote.of("same-piece", piece=name) for name in dict.fromkeys(unnamed)]


def _is_panel(head: LineHead) -> bool:
    """`floor across: 2 7/8 in`, with the piece as a heading over it."""
    return not head.panel and any(word in head.piece.casefold() for word in ("panel", "floor", "flap", "wall"))


def _measured(line: NoteLine, head: LineHead, panel: str, meant: str, complaints: Complaints) -> NotedLine | None:
    before = len(complaints.findings)
    read = None
    if head.body:
        read = read_line(line.phrase, head, panel, meant, complaints)
    elif any(token.kind in SIDES for token in head.words):
        complaints.fault("nothing-read", line.phrase)
    if read is None and len(complaints.findings) == before:
        complaints.fault("reading-of-what", line.phrase, **_known(head.piece))
    return read


def _known(said: str) -> dict[str, object]:
    known = (*SAMPLE_WORDS, *SIDES)
    return {"nearest": nearest(said.rpartition(" ")[2], (*FACTS, *known)), "known": known}


def _numbers(lines: Sequence[_MeasuredLine]) -> Iterator[NotedNumber]:
    for line in lines:
        for run in line.noted.runs if line.noted else ():
            yield from run.numbers


# --- customs --------------------------------------------------------------------------------------------------------


def _customs(facts: dict[str, Phrase], overruled: Length | None, complaints: Complaints) -> NumberCustoms:
    said = facts.get("measured in")
    word = said.plain.casefold().rstrip(".") if said else ""
    unit = UNITS.get(word) or UNIT_WORDS.get(word)
    if said and unit is None:
        complaints.fault("measured-in-what", said)
    bounds, marked = dict(READ_TO), True
    for word, are_marks in (("read to", True), ("within", False)):
        if word in facts:
            lengths = list(read_bounds(facts[word].text, are_marks))
            bounds |= {length.unit.system: length for length in lengths}
            marked = are_marks
            if not lengths:
                complaints.fault("read-to-what", facts[word])
    if overruled is not None:
        # In the other system just as far, so that notes in both are read alike.
        bounds, marked = dict.fromkeys(System, overruled), False
    return NumberCustoms(unit, bounds, None, marked)


def _with_usual(customs: NumberCustoms, lines: Sequence[_MeasuredLine]) -> NumberCustoms:
    """Bare numbers take the one unit that all other lines have."""
    units = {number.unit for number in _numbers(lines) if number.unit}
    units |= {unit for line in lines if line.noted and (unit := line.noted.unit or line.unit)}
    return replace(customs, usual=next(iter(units))) if len(units) == 1 else customs


# --- pieces ---------------------------------------------------------------------------------------------------------


def _about_panel(line: _MeasuredLine, known: frozenset[str]) -> _MeasuredLine:
    """`base floor across: 2 7/8 in`: a line about one panel of a piece that other lines are about."""
    parts = ((key[:at], key[at:]) for key in (line.named, _key(line.piece)) for at in _blanks(key))
    piece, panel = next((one for one in parts if one[0] in known), ("", ""))
    if line.noted is None or line.panel or not piece or len(line.noted.runs) > 1:
        return line
    run = line.noted.runs[0]
    if len(run.numbers) > 1 or run.way is not RunManner.UNSAID or run.side not in SIDES:
        return line
    return replace(line, piece=piece, panel=panel.strip())


def _blanks(key: str) -> list[int]:
    """Where the blanks of a short name are, the last first."""
    return [at for at, character in enumerate(key[:LONGEST_WORD]) if character == " "][::-1]


def _side_left(lines: Sequence[_MeasuredLine]) -> str:
    """The side that lines without one must be about: the other is told by one number alone."""
    runs = [run for line in lines if line.noted for run in line.noted.runs]
    open_ones = sum(1 for run in runs if run.side == OPEN)
    told = {run.side for run in runs if run.side in SIDES}
    alone = all(len(run.numbers) == 1 for run in runs if run.side in SIDES)
    return SIDES[1 - SIDES.index(next(iter(told)))] if open_ones == 1 and len(told) == 1 and alone else ""


class _PiecesReader(Struct, frozen=True):
    """Reads the lines about pieces by the customs of the notes; `assumed` gathers what is taken for granted."""

    customs: NumberCustoms
    assumed: list[DraftNote]
    complaints: Complaints

    def pieces(self, lines: Sequence[_MeasuredLine]) -> tuple[SamplePiece, ...]:
        """Every piece in order of mention; none when one of them could not be read."""
        known = frozenset(_key(line.piece) for line in lines)
        by_piece: dict[str, list[_MeasuredLine]] = {}
        for line in (_about_panel(line, known) for line in lines):
            by_piece.setdefault(_key(line.piece), []).append(line)
        found = [self._piece(about[0].piece, about) for about in by_piece.values()]
        return tuple(piece for piece in found if piece) if all(found) else ()

    def _piece(self, name: str, lines: Sequence[_MeasuredLine]) -> SamplePiece | None:
        runs: dict[str, list[MeasuredRun]] = {side: [] for side in SIDES}
        facts = [(line.word, line.phrase.plain) for line in lines if line.word]
        lengthwise, left = self._lengthwise(name, lines), _side_left(lines)
        told = Counter(side for line in lines for side in line.sides)
        for line in lines:
            others = {side for side, count in told.items() if count > (side in line.sides)}
            for side, run in self._runs(line, lengthwise, left, others) if line.noted else ():
                runs[side].append(run)
        missing = next((side for side in SIDES if not runs[side]), "")
        if missing and not self.complaints.findings:
            self.complaints.fault("side-not-measured", lines[0].phrase, piece=name, side=missing)
        sides: list[SampleSide] = []
        # What follows from all readings together is asked only when each could be read.
        for side in SIDES if not self.complaints.findings else ():
            if laid := lay_side(name, side, runs[side], self.complaints):
                sides.append(laid[0])
                self.assumed.extend(laid[1])
        place = lines[0].phrase.place
        return SamplePiece(name, (sides[0], sides[1]), tuple(facts), place) if len(sides) == 2 else None

    def _lengthwise(self, name: str, lines: Sequence[_MeasuredLine]) -> str:
        """Which side the length of a piece is: the one that its width, or its height, is not."""
        noted = [line for line in lines if line.noted]
        lengthy = [line for line in noted if line.noted and line.noted.lengthwise]
        if not lengthy:
            return ""
        sides = frozenset(side for line in noted for side in line.sides)
        known = sides & set(SIDES)
        if "length" in sides and len(known) != 1:
            self.complaints.fault("length-which-way", lengthy[0].phrase, piece=name)
            return ""
        side = SIDES[1 - SIDES.index(next(iter(known)))] if "length" in sides else "down"
        self.assumed.append(DraftNote.of("length-is", piece=name, side=side))
        return side

    def _runs(
        self, line: _MeasuredLine, lengthwise: str, left: str, others: Set[str]
    ) -> Iterator[tuple[str, MeasuredRun]]:
        noted = line.noted
        assert noted is not None
        customs = replace(self.customs, unit=noted.unit or line.unit or self.customs.unit)
        items = lengths_of([run.numbers for run in noted.runs], customs, noted.bound, self.complaints, self.assumed)
        if items is None:
            return
        if not noted.ordered:
            self.assumed.append(DraftNote.of("across-by-down", piece=line.piece))
        for run in noted.runs:
            side = {"length": lengthwise, OPEN: left}.get(run.side, run.side)
            taken = run.side == OPEN or any(run is one for one in noted.taken)
            if taken and (not side or side in others):
                self.complaints.fault("reading-of-what", line.phrase, **_known(""))
                return
            if taken:
                said = _run_of(line.phrase, run.numbers).plain
                self.assumed.append(DraftNote.of("side-taken", said=said, piece=line.piece, side=side))
            both = SIDES if side == ALL_ROUND else (side,)
            if side in (*SIDES, ALL_ROUND) and (
                laid := self._run(run, [items[one.phrase.place] for one in run.numbers], line)
            ):
                yield from ((one, laid) for one in both)

    def _run(self, run: NotedRun, items: Sequence[RowItem], line: _MeasuredLine) -> MeasuredRun | None:
        place = run.place or line.phrase.place
        way = run.way
        panel = run.panel or (line.panel if line.noted and run is line.noted.runs[0] else "")
        bare = way in (RunManner.UNSAID, RunManner.SINGLY)
        if panel and bare:
            way = RunManner.PANEL
        elif bare and len(items) == 1 and items[0].length is None:
            return None
        elif bare and len(items) == 1:
            # A number with a name is that panel's.
            own = items[0].name if _key(items[0].name) != _key(line.piece) else ""
            way, panel = (RunManner.PANEL, own) if own else (RunManner.WHOLE, "")
        counted = run.counted.value if run.counted else None
        if counted is not None and counted != len(items):
            self.complaints.fault("counted-otherwise", line.phrase, count=str(counted), given=len(items))
            return None
        said = _run_of(line.phrase, run.numbers)
        return MeasuredRun(
            way, tuple(items), place, said, panel, run.scores, run.arrows, run.bars, _unclear(run), run.backwards
        )


def _run_of(phrase: Phrase, numbers: Sequence[NotedNumber]) -> Phrase:
    """All numbers of a run, from the first to the last, as they stand."""
    first, last = (one.wide or one.phrase for one in (numbers[0], numbers[-1]))
    return phrase.part(first.start - phrase.start, last.end - phrase.start)


def _unclear(run: NotedRun) -> bool:
    """Whether blanks alone may part numbers, or a whole from its fraction: `1 3/4 3/4`."""
    loose = [number.loose for number in run.numbers if number.loose]
    if not run.gaps or not loose or min(run.gaps) > max(loose):
        return False
    return not all(number.unit for number in run.numbers) and len(loose) < len(run.numbers)
