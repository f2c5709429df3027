"""Finding measures in ordinary sentences: `score at 1 3/4 and 2 1/2 in` yes, `2 in each bag` no.

A text goes in, offsets into it come out (they count characters of the text as given). Nothing here knows Markdown,
pieces or pages; the caller names the words for acts that take a length.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from foldwright.measure.belief import (
    Belief,
    NumbersBefore,
    acts_before,
    believe,
    closing_quotes,
    may_lack_its_unit,
    nothing_described,
    speaks_of_time,
    takes_length,
)
from foldwright.measure.length import Length, Shape, Unit
from foldwright.measure.numbers import BLANKS, tidy
from foldwright.measure.reading import LONGEST_MM
from foldwright.measure.terms import (
    Series,
    Term,
    and_a_half,
    groups_of,
    last_group,
    merge_and_a_half,
    read_term,
    starts_in,
)
from foldwright.measure.unreadable import Unreadable
from foldwright.measure.worded import only_a_part


class FoundMeasure(Struct, frozen=True):
    """A measure from `start` to `end`. `joiners` are the author's words between its lengths; `why` it is believed.

    `why` is one of unit-spelled-out, unit, mark, feet-and-inches, fraction, cross, hyphen, abbreviated,
    act-takes-length, beside-another, measured-from, says-which-way, describes-something, names-a-size,
    other-units-beside.
    """

    start: int
    end: int
    shape: Shape
    lengths: tuple[Length, ...]
    joiners: tuple[str, ...]
    hyphenated: bool
    why: str


class PassedOver(Struct, frozen=True):
    """What looked like a measure and was not taken for one, from `start` to `end`, and why.

    `why` is one of little-word-in, in-or-inches, could-be-little-word, no-act-takes-length, a-number-of-something,
    a-price, a-quotation, minutes, could-be-minutes-or-quote, could-be-a-thing, cancelled, no-unit, no-unit-of-its-own,
    part-of-a-number, zero-length, or the code of the complaint.
    `complaint` is set when it is a measure in all but its number (`1/0 in`, `1,000 mm`).
    """

    start: int
    end: int
    why: str
    complaint: Unreadable | None = None


class BareNumbers(Struct, frozen=True):
    """Numbers that stand where a length would and have no unit: they are one if a piece has it, which others know."""

    start: int
    end: int
    shape: Shape
    values: tuple[Fraction, ...]
    joiners: tuple[str, ...]


class ProseMeasures(Struct, frozen=True):
    """`cancelled` holds the offsets of backslashes that cancelled a measure and should not be shown."""

    measures: tuple[FoundMeasure, ...] = ()
    cancelled: tuple[int, ...] = ()
    passed_over: tuple[PassedOver, ...] = ()
    bare: tuple[BareNumbers, ...] = ()


NOTHING = ProseMeasures()

_EM_DASH, _KEPT_DASH = "\u2014", "\ue002"
_BLANKS = re.compile(f"[\\s{BLANKS}]+")
_ODD_BLANKS = re.compile(f"[{BLANKS}]|[^\\S ]|  ")
_CHARACTERS = re.compile(f"[\\s{BLANKS}]+|.")
_NO_NUMBER_AFTER = frozenset(".,/:$£€¥#@&%^~-=_")
_REST_OF_NUMBER = re.compile(r"[\w.,/:]*")
_JOIN = re.compile(
    r"(?P<cross> ?x ?|-x-| by |-by-)|(?P<range> to |-to-| - |-)"
    r"|(?P<list>, (?:and |or )| and | or | & | / )|(?P<comma>, )",
    re.IGNORECASE,
)
_LARGE = (Unit.FOOT, Unit.YARD, Unit.METRE)
_BEFORE_SMALLER = re.compile(" ?(?:and )?")
_IN_BRACKETS = re.compile(r"(?:[ \ue002]?\(| ?/ ?| or )$")
_INCHES_UNSAID = re.compile(r"\.?(?:[\s,;:)]*$|[,;:)]|\s(?:x|wide|long|deep|high|tall)(?![^\W_]))")
"""Behind `1 ft 6` nothing may follow that there could be six of."""
_GOING_ON = re.compile(", |,? (?:and|then) ")
_PRICE = re.compile("[0-9]+[.,][0-9]{2}(?![0-9])")
_NO_ADJECTIVE = re.compile(r"-(?!wide|long|deep|high|tall|thick|square|round)", re.IGNORECASE)


def find_measures(text: str, length_acts: frozenset[str]) -> ProseMeasures:
    """Every measure in a text, in order. `length_acts` are words (`cut`, `scoring`) whose object may be a length."""
    odd = _ODD_BLANKS.search(text) is not None
    plain = _BLANKS.sub(" ", text) if odd else text
    starts = starts_in(plain)
    if not starts.search(plain):
        return NOTHING
    found = _MeasureReader(plain, tidy(plain.replace(_EM_DASH, _KEPT_DASH)), length_acts, starts).read()
    return _placed(found, [character.start() for character in _CHARACTERS.finditer(text)]) if odd else found


def _placed(found: ProseMeasures, offsets: Sequence[int]) -> ProseMeasures:
    """What was found where every run of blanks is one; `offsets` say where each character stands in the text."""

    def placed[Run: FoundMeasure | PassedOver | BareNumbers](run: Run) -> Run:
        return replace(run, start=offsets[run.start], end=offsets[run.end - 1] + 1)

    return ProseMeasures(
        tuple(map(placed, found.measures)),
        tuple(offsets[at] for at in found.cancelled),
        tuple(map(placed, found.passed_over)),
        tuple(map(placed, found.bare)),
    )


class _MeasureReader:
    """Goes through one text from left to right; `_at` only ever grows, so the work is linear."""

    def __init__(self, text: str, tidied: str, length_acts: frozenset[str], starts: re.Pattern[str]) -> None:
        self._text = text
        self._tidied = tidied
        self._acts = length_acts
        self._starts = starts
        self._closing: frozenset[int] | None = None
        self._measures: list[FoundMeasure] = []
        self._passed: list[PassedOver] = []
        self._cancelled: list[int] = []
        self._bare: list[BareNumbers] = []

    def read(self) -> ProseMeasures:
        at = 0
        while start := self._starts.search(self._tidied, at):
            at = self._read_at(start.start())
        return ProseMeasures(tuple(self._measures), tuple(self._cancelled), tuple(self._passed), tuple(self._bare))

    def _read_at(self, at: int) -> int:
        """Read what begins at a number; returns where to go on."""
        tidied = self._tidied
        if at and tidied[at - 1] in ".," and (at < 2 or tidied[at - 2] in " (\ue000") and tidied[at].isdigit():
            at -= 1
        before = tidied[at - 1] if at else " "
        beside_another = before in "/-" and self._measures and self._measures[-1].end == at - 1
        if before.isalnum() or (before in _NO_NUMBER_AFTER and not beside_another):
            return self._after_number(at)
        series = self._read_series(at)
        if series is None:
            return self._after_number(at)
        last = series.terms[-1]
        if all(term.unit is None for term in series.terms):
            if "cross" in series.kinds or self._a_place_without_unit(series):
                self._passed.append(PassedOver(at, last.end, "no-unit"))
            for terms, shape in groups_of(series):
                self._note_bare(terms, shape)
            return last.end
        self._settle(series)
        return max(last.end, self._measures[-1].end if self._measures else 0)

    def _a_place_without_unit(self, series: Series) -> bool:
        """`score at 1 3/4 and 2 1/2.`: an act that takes a length, `at`, and numbers that describe nothing."""
        first, last = series.terms[0], series.terms[-1]
        telling = len(series.terms) > 1 or (not first.whole and not _PRICE.match(self._tidied, first.start))
        return (
            telling
            and not any(term.spelled for term in series.terms)
            and self._tidied[max(0, first.start - 3) : first.start].lower() in {"at ", "at:"}
            and acts_before(self._tidied, first.start - 3, self._acts)
            and nothing_described(self._tidied, last.end)
        )

    def _note_bare(self, terms: Sequence[Term], shape: Shape) -> None:
        start, end = terms[0].start, terms[-1].end
        values = tuple(term.value for term in terms if isinstance(term.value, Fraction) and term.value)
        gap = self._tidied[self._measures[-1].end : start] if self._measures else ""
        listed = _GOING_ON.fullmatch(gap) is not None
        whole = all(term.whole for term in terms)
        numbers = NumbersBefore(start, end, whole, shape is Shape.CROSS, money_like=False, listed=listed)
        glued = self._tidied[end : end + 1]
        if len(values) < len(terms) or glued.isalnum() or glued == "-" or any(term.spelled for term in terms):
            return
        if not may_lack_its_unit(self._tidied, numbers, self._acts):
            return
        if start and self._tidied[start - 1] == "\\":
            self._cancelled.append(start - 1)
            return
        self._bare.append(BareNumbers(start, end, shape, values, self._joiners(terms)))

    def _joiners(self, terms: Sequence[Term]) -> tuple[str, ...]:
        return tuple(self._text[one.end : other.start] for one, other in pairwise(terms))

    def _after_number(self, at: int) -> int:
        rest = _REST_OF_NUMBER.match(self._tidied, at)
        return max(at + 1, rest.end() if rest else 0)

    def _read_series(self, at: int) -> Series | None:
        """Numbers joined by `x`, `to`, `and` and commas, as far as the first unit (past it only for `A in x B in`)."""
        term = read_term(self._tidied, at)
        if term is None:
            return None
        terms, kinds = [term], []
        while True:
            join = _JOIN.match(self._tidied, terms[-1].end)
            kind = join.lastgroup if join else None
            if join is None or kind is None or (terms[-1].unit and kind != "cross"):
                break
            following = read_term(self._tidied, join.end())
            if following is None or (terms[-1].unit and following.unit is None and "by" in join[0].lower()):
                break
            terms.append(following)
            kinds.append(kind)
        return Series(terms, kinds)

    def _settle(self, series: Series) -> None:
        """Decide what a series with a unit is, and keep it as found or passed over."""
        terms, kinds = merge_and_a_half(series)
        terms, shape, left = last_group(terms, kinds)
        if left:
            self._passed.append(PassedOver(left[0].start, left[-1].end, "no-unit-of-its-own"))
        unit_term = terms[-1] if terms[-1].unit else next(term for term in reversed(terms) if term.unit)
        start, end = terms[0].start, terms[-1].end
        if start and self._tidied[start - 1] == "\\":
            self._cancelled.append(start - 1)
            self._passed.append(PassedOver(start, end, "cancelled"))
            return
        if terms[0].spelled and only_a_part(self._tidied, start, terms[0].number_end, terms[0].hyphenated):
            self._passed.append(PassedOver(start, end, "part-of-a-number"))
            return
        values, complaint = _values(terms, unit_term.unit)
        if complaint:
            self._passed.append(PassedOver(start, end, complaint.code, complaint))
            return
        lengths = tuple(values)
        if shape is Shape.SINGLE:
            end, lengths, larger = self._with_smaller_unit(terms[0], lengths)
            if larger:
                self._keep(terms, shape, lengths, end, Belief(True, "feet-and-inches"))
                return
        self._keep(terms, shape, lengths, end, self._belief(terms, unit_term, shape))

    def _keep(self, terms: Sequence[Term], shape: Shape, lengths: tuple[Length, ...], end: int, belief: Belief) -> None:
        start = terms[0].start
        if not belief.believed:
            self._passed.append(PassedOver(start, end, belief.why))
            return
        joiners = self._joiners(terms)
        self._measures.append(FoundMeasure(start, end, shape, lengths, joiners, terms[-1].hyphenated, belief.why))

    def _with_smaller_unit(self, term: Term, lengths: tuple[Length, ...]) -> tuple[int, tuple[Length, ...], bool]:
        """`1 ft 6 in` and `two inches and a half` are one length."""
        unit, length = term.unit, lengths[0]
        assert unit is not None
        if half := and_a_half(self._tidied, term):
            end, part = half
            if length.value.denominator == 1 and nothing_described(self._tidied, end):
                return end, (Length.of(length.value + part, unit),), False
        gap = _BEFORE_SMALLER.match(self._tidied, term.end) if unit in _LARGE else None
        if gap is None or ("and" in gap[0] and term.kind != "word"):
            return term.end, lengths, False
        small = read_term(self._tidied, gap.end())
        if (
            small
            and unit is Unit.FOOT
            and _INCHES_UNSAID.match(self._tidied, small.end)
            and small.whole
            and gap[0] != ""
        ):
            small = replace(small, unit=Unit.INCH)
        if small is None or small.unit is None or isinstance(small.value, Unreadable) or not small.value:
            return term.end, lengths, False
        more = Length.of(small.value, small.unit)
        if small.unit.system is not unit.system or more.mm >= unit.mm or length.value.denominator != 1:
            return term.end, lengths, False
        return small.end, (Length(length.mm + more.mm, small.unit),), True

    def _belief(self, terms: Sequence[Term], unit_term: Term, shape: Shape) -> Belief:
        first, last = terms[0], terms[-1]
        if unit_term.kind == "word":
            return self._spelled_out(first, last)
        if unit_term.kind == "mark":
            return self._marked(first, last, shape)
        if unit_term.bare_in:
            return self._inches(terms, unit_term, shape)
        if unit_term.unit is Unit.METRE and first.whole and speaks_of_time(self._tidied, first.start):
            return Belief(False, "minutes")
        return Belief(True, "unit")

    def _spelled_out(self, first: Term, last: Term) -> Belief:
        """`an inch` is one; `the head to a foot` and `a yard` need to say of what or how long."""
        article = first is last and self._tidied[first.start : first.number_end].lower() in {"a", "an"}
        if article and last.unit in _LARGE and not nothing_described(self._tidied, last.end, only_sizes=True):
            return Belief(False, "could-be-a-thing")
        return Belief(True, "unit-spelled-out")

    def _marked(self, first: Term, last: Term, shape: Shape) -> Belief:
        if self._closing is None:
            self._closing = closing_quotes(self._tidied, self._text)
        at = last.end - 1
        if at in self._closing:
            return Belief(False, "a-quotation")
        sure = last.unit is not Unit.FOOT or shape is Shape.CROSS or self._text[at] == "\u2032"
        if sure or takes_length(self._tidied, first.start, self._acts):
            return Belief(True, "mark")
        if nothing_described(self._tidied, last.end, only_sizes=True):
            return Belief(True, "mark")
        return Belief(False, "could-be-minutes-or-quote")

    def _inches(self, terms: Sequence[Term], unit_term: Term, shape: Shape) -> Belief:
        first, last = terms[0], terms[-1]
        if unit_term.hyphenated:
            adjective = not _NO_ADJECTIVE.match(self._tidied, last.end)
            return Belief(True, "hyphen") if adjective else Belief(False, "little-word-in")
        if self._tidied[last.end : last.end + 1] == "-" and not self._tidied[last.end + 1 : last.end + 2].isdigit():
            return Belief(False, "little-word-in")
        if unit_term.abbreviated:
            return Belief(True, "abbreviated")
        whole = all(term.whole for term in terms)
        if whole and self._measures and self._measures[-1].end <= first.start:
            between = self._tidied[self._measures[-1].end : first.start]
            metric = self._measures[-1].lengths[0].unit is not Unit.INCH
            if metric and _IN_BRACKETS.fullmatch(between):
                return Belief(True, "other-units-beside")
        money_like = not whole and first is last and _PRICE.match(self._tidied, first.start) is not None
        numbers = NumbersBefore(
            first.start,
            last.end,
            whole,
            shape is Shape.CROSS,
            money_like,
            self._inches_since(),
            glued=unit_term is last and last.end == last.number_end + len("in"),
            solid=len(terms) == 3,
        )
        return believe(self._tidied, numbers, self._acts)

    def _inches_since(self) -> int:
        last = self._measures[-1] if self._measures else None
        return last.end if last and last.lengths[0].unit is Unit.INCH else -1


def _values(terms: Sequence[Term], unit: Unit | None) -> tuple[list[Length], Unreadable | None]:
    """The lengths of a group, each in its own unit or the shared one; or the first thing that is wrong with one."""
    lengths: list[Length] = []
    for term in terms:
        own = term.unit or unit
        assert own is not None
        if isinstance(term.value, Unreadable):
            return [], term.value
        length = Length.of(term.value, own)
        # Whole numbers are compared instead of fractions: this runs for every measure.
        if not length.mm.numerator:
            return [], Unreadable("zero-length")
        if length.mm.numerator > LONGEST_MM * length.mm.denominator:
            return [], Unreadable("absurd-number")
        lengths.append(length)
    return lengths, None
