"""What a sentence says about its measures: the pieces, the act, from where it is measured, how firmly."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from itertools import takewhile

from msgspec import Struct
from msgspec.structs import replace

from foldwright.bind.direction import Telling, tellings
from foldwright.bind.named import MARK, PieceNames, Sentence, is_of_another_thing, pieces_meant, sentences
from foldwright.bind.spans import PieceSpans
from foldwright.recipe.model import Step
from foldwright.recipe.words import Block, Measure, Shape
from foldwright.vocabulary import act_of
from foldwright.vocabulary.names import singular


class Use(Enum):
    """What the words do with a measure."""

    CUT = "cut"
    SCORE = "score"
    STOP = "stop"
    """The stop of the trimmer is set to it: it may be for a cut or a score."""
    HOLE = "hole"
    BORDER = "border"
    OTHER = "other"


class Scope(Enum):
    """How many edges a measure is taken from."""

    NONE = "none"
    ONE = "one"
    BOTH = "both"
    EVERY = "every"
    INNER = "inner"
    """From a fold, a score, the middle: not from an edge."""


class Reach(Struct, frozen=True):
    """From which edges, and along which side: `across`, `down`, `long`, `short` or empty when the words do not say."""

    scope: Scope = Scope.NONE
    along: str = ""
    back: bool = False
    """From the right or the bottom."""


class Context(Struct, frozen=True):
    """`firm` when the words say this number of a piece and of nothing else; `act` is the governing act's plain name.

    `of_hole` when they say it plainly of a hole: `a window 86 x 66 mm`, `a 1 in circle`.
    """

    use: Use
    act: str
    firm: bool
    reach: Reach
    of_hole: bool = False


_NOT_A_VERB_AFTER = frozenset(
    "the a an each every of this that these those first second third last other both all long short top bottom left "
    "right middle your its their one two three four five six any some no same new outer inner with".split()
)
_CLAUSE_OPENERS = frozenset(", ; : ( and then or now next to".split())
_SOFT_VERBS = frozenset(
    "trim trims trimming trimmed leave leaves leaving overlap overlaps overlapping lap laps lapping allow allows "
    "allowing shave shaves shaving take takes taking nip nips nipping tape tapes taping add adds adding".split()
)
_SOFT_NEAR = frozenset(
    "about roughly approximately around nearly almost circa approx say least most under over than within short shy "
    "generous scant spare extra more less off offcut offcuts waste scrap overlap overlaps margin tape gap larger "
    "bigger smaller wider narrower longer shorter or decorative not never between rough double".split()
)
_SOFT_SENTENCE = frozenset("if instead alternatively practice test variation bigger larger smaller".split())
_FOLDED = frozenset("closed folded finished open opened inside outside unfolded ready wrapped".split())
_HOLES = frozenset(
    "hole holes notch notches slot slots window windows opening openings door doors eyelet eyelets aperture".split()
)
_AWAY = frozenset("from below above beneath under over up down away apart to left right of past beyond deep".split())
_ROUNDS = frozenset("circle circles disc round".split())
_BORDERS = frozenset(
    "border borders shows show showing margin margins frame even room gap play spare clearance".split()
)
_INNER = frozenset(
    "fold folds score scores line lines crease creases middle centre center mark marks crossing hole slot".split()
)
_EDGES = frozenset("edge edges end ends side sides top bottom left right corner corners".split())
_PLURAL = frozenset("edges ends sides".split())
_EDGE_PHRASE = (
    _EDGES
    | _INNER
    | frozenset(
        "the a of two its outer other first same long short each both either opposite every all four and".split()
    )
)
_ALL = frozenset("all four every each both".split())
_CUT_OUT = ("out", "off", "away", "in", "from", "hole", "window", "opening")
_SMALL = frozenset("to at into down up measuring measure measures of is are , ( exactly and it's by each be".split())
_RUN_ENDS = frozenset({*", ; : ( ) and for from to in on with of out then".split(), MARK})
_LISTING = frozenset({MARK, "and", ",", "then", "again", "&", "or"})
_CUTS = frozenset({"cut", "slice", "die cut"})
_SCORES = frozenset({"score", "fold", "crease", "perforate"})


def context_of(sentence: Sentence, at: int, measure: Measure, names: PieceNames) -> Context:
    """What the sentence says about the measure standing at `at`."""
    words = sentence.words
    verb_at = _verb_before(words, at, names)
    verb = words[verb_at] if verb_at >= 0 else ""
    name = act.name if verb and (act := act_of(verb)) else ""
    reach = _reach(words, at, names)
    use = _use(words, at, verb_at, name)
    soft = verb in _SOFT_VERBS or _is_soft(words, at) or any("or" in joiner.split() for joiner in measure.joiners)
    context = Context(use, name, False, reach)
    if soft:
        return context
    whole = reach.scope is Scope.NONE and measure.shape is not Shape.RANGE
    firm = _is_firm(words, at, measure.shape, context, names)
    return replace(context, firm=firm, of_hole=use is Use.HOLE and whole and _by_a_hole(words, at))


def _by_a_hole(words: tuple[str, ...], at: int) -> bool:
    """`a window 86 x 66 mm`, `a hole of 1 in`, `a 1 in circle`; not `1 in below the hole`."""
    before = next((word for word in reversed(words[:at]) if word not in _SMALL), "")
    after = (words[at + 1 : at + 2] or ("",))[0]
    return after in _HOLES | _ROUNDS or (
        before in _HOLES and after not in _AWAY and "from" not in words[at + 1 : at + 4]
    )


def _verb_before(words: tuple[str, ...], at: int, names: PieceNames) -> int:
    """The nearest act before the measure that stands as a verb (`the score`, `four cuts` do not), or -1."""
    acts = (index for index in reversed(range(at)) if words[index] in _SOFT_VERBS or act_of(words[index]) is not None)
    return next((index for index in acts if not _is_noun(words, index, names)), -1)


def _is_noun(words: tuple[str, ...], index: int, names: PieceNames) -> bool:
    before = words[index - 1] if index else ","
    ours = singular(words[index]) in names.nouns and before not in _CLAUSE_OPENERS
    return ours or before in _NOT_A_VERB_AFTER


def _is_soft(words: tuple[str, ...], at: int) -> bool:
    before = words[max(0, at - 4) : at]
    after = words[at + 1 : at + 4]
    if MARK in before:
        before = before[len(before) - before[::-1].index(MARK) :]
    near = not _SOFT_NEAR.isdisjoint((*before, *after))
    return near or "first" in after[:1] or not _SOFT_SENTENCE.isdisjoint(words)


def _use(words: tuple[str, ...], at: int, verb_at: int, act: str) -> Use:
    between = words[max(verb_at, 0) : at]
    near = (*between, *words[at + 1 : at + 5])
    if "stop" in words[max(0, at - 6) : at]:
        return Use.STOP
    if not _HOLES.isdisjoint(near) or act in ("punch", "pierce"):
        return Use.HOLE
    if act in _CUTS:
        return Use.CUT
    if act in _SCORES:
        return Use.SCORE
    return Use.OTHER if _BORDERS.isdisjoint(near) else Use.BORDER


def _is_firm(words: tuple[str, ...], at: int, shape: Shape, context: Context, names: PieceNames) -> bool:
    use, reach = context.use, context.reach
    if use in (Use.HOLE, Use.BORDER) or reach.scope is Scope.INNER or shape is Shape.RANGE:
        return False
    if shape is Shape.CROSS:
        speaks_of_size = use is Use.CUT or context.act in ("", "measure")
        return speaks_of_size and not _FOLDED.intersection(words) and _noun_is_ours(words, at, names)
    joint = _joint(words, at)
    if use is Use.SCORE:
        return joint in ("at", "every") or reach.scope in (Scope.ONE, Scope.BOTH, Scope.EVERY)
    if use is Use.STOP:
        return joint in ("at", "to")
    if use is Use.CUT and _followed_by(words, at, ("square",)) and "corner" not in words and "corners" not in words:
        # `Cut a 7 in square.`
        return shape is Shape.SINGLE and not _FOLDED.intersection(words) and not _followed_by(words, at + 1, _CUT_OUT)
    return (
        use is Use.CUT
        and joint == "to"
        and shape is Shape.SINGLE
        and reach.scope is Scope.NONE
        and not _followed_by(words, at, ("of", "below", "above", "past", "before", "beyond", "deep", "from", "in"))
        and _noun_is_ours(words, at, names)
    )


def _joint(words: tuple[str, ...], at: int) -> str:
    """The word that leads to a measure, looking back over a list of measures: `at` in `at 62, 84 and 146 mm`."""
    return next((word for word in reversed(words[:at]) if word not in _LISTING), "")


def _followed_by(words: tuple[str, ...], at: int, any_of: tuple[str, ...]) -> bool:
    return at + 1 < len(words) and words[at + 1] in any_of


def _noun_is_ours(words: tuple[str, ...], at: int, names: PieceNames) -> bool:
    """Whether what is being cut, or what `is` so large, is a piece or plain paper, not a thing no piece stands for."""
    index = at - 1
    while index >= 0 and (words[index] in _SMALL or words[index] == MARK):
        index -= 1
    head = words[index] if index >= 0 else ""
    if head in ("a", "an", "the", "another", "two", "three", "four", "five", "six", "one", "your") or not head:
        run = _run_after(words, at)
        return not run or singular(run[-1]) in names.nouns or any(singular(word) in names.nouns for word in run[:3])
    if singular(head) in names.nouns or act_of(head) is not None:
        return True
    # `Cut the base from teal card to ...` ends in a noun of ours; `Cut the teal one carefully to ...` in an adverb.
    return head.endswith("ly") and index > 0 and singular(words[index - 1]) in names.nouns


def _run_after(words: tuple[str, ...], at: int) -> tuple[str, ...]:
    """What follows a measure up to the next mark or joining word: `charcoal card` in `4 x 6 in charcoal card for`."""
    return tuple(takewhile(lambda word: word not in _RUN_ENDS, words[at + 1 :]))


def _reach(words: tuple[str, ...], at: int, names: PieceNames) -> Reach:
    """`3/4 in from each end`, `20 mm in from all four edges`, `1/2 in from the left`."""
    after = words[at + 1 : at + 12]
    if "from" not in after[:3]:
        return _all_round(after)
    rest = after[after.index("from") + 1 :]
    tail = tuple(takewhile(_EDGE_PHRASE.__contains__, rest))
    if not _INNER.isdisjoint(takewhile("and".__ne__, tail)):
        return Reach(Scope.INNER)
    if "of" in tail and len(rest) > len(tail) and singular(rest[len(tail)]) not in names.nouns:
        # `from each edge of the flap`: an edge of something smaller than the piece.
        return Reach(Scope.INNER)
    if _EDGES.isdisjoint(tail):
        return Reach()
    return Reach(_scope(tail), *_along(tail))


def _all_round(after: tuple[str, ...]) -> Reach:
    """`2 in in on all four sides`, `1 in on each side`: from the edges as well."""
    at = 1 if after[:1] == ("in",) else 0
    if after[at : at + 1] != ("on",):
        return Reach()
    tail = tuple(takewhile(_EDGE_PHRASE.__contains__, after[at + 1 :]))
    if _EDGES.isdisjoint(tail) or not _INNER.isdisjoint(tail) or not _ALL.intersection(tail):
        return Reach()
    return Reach(_scope(tail), *_along(tail))


def _scope(tail: tuple[str, ...]) -> Scope:
    said = frozenset(tail)
    if said & {"every", "all", "four"} or tail[:2] == ("each", "edge"):
        return Scope.EVERY
    if said & {"each", "both", "either", "opposite"} or said & _PLURAL or {"left", "right"} <= said:
        return Scope.BOTH
    return Scope.BOTH if {"top", "bottom"} <= said else Scope.ONE


def _along(tail: tuple[str, ...]) -> tuple[str, bool]:
    """The side a distance from these edges lies along, and whether it is taken from the far edge."""
    for words, along in ((("left", "right"), "across"), (("top", "bottom"), "down")):
        for word in words:
            if word in tail:
                return along, words[0] not in tail
    # What is measured in from a long edge lies along the short side.
    if "long" in tail:
        return ("", False) if "short" in tail else ("short", False)
    return ("long", False) if "short" in tail else ("", False)


# --- a stretch of words -----------------------------------------------------------------------------------------------


class WordArea(Struct, frozen=True):
    """A stretch of words: `name` and the `number` of its step or section tell which, `step` is the step it belongs to,
    `checked` whether slips in it are told.
    """

    name: str
    number: int
    blocks: tuple[Block, ...]
    step: Step | None = None
    checked: bool = False


class Heard(Struct, frozen=True):
    """A measure as its sentence has it. `meant` are the pieces it is most likely of, `possible` all it may be of.

    `other_thing` when it measures a supply that no piece is cut from. `tellings` of its sentence come before it.
    """

    measure: Measure
    context: Context
    meant: tuple[str, ...]
    possible: tuple[str, ...]
    other_thing: bool
    tellings: tuple[Telling, ...]


def hear(area: WordArea, names: PieceNames, known: Mapping[str, PieceSpans]) -> list[Heard]:
    """The measures of an area in order; what is told of the direction goes with the next measure after it."""
    heard: list[Heard] = []
    waiting: list[Telling] = []
    spoken: dict[str, None] = {}
    for sentence in sentences(area.blocks):
        words = sentence.words
        told = tellings(words) if area.step else []
        mentions = names.mentions(words)
        for mention in mentions:
            if not mention.by_supply:
                spoken.update(dict.fromkeys(mention.pieces))
        for at, measure in sentence.places():
            while told and told[0].at < at:
                waiting.append(told.pop(0))
            context = context_of(sentence, at, measure, names)
            in_step = _in_step(area.step, context.act)
            meant = _meant(pieces_meant(words, at, mentions), in_step)
            possible = tuple(piece for piece in {**dict.fromkeys((*meant, *in_step)), **spoken} if piece in known)
            other_thing = is_of_another_thing(names, words, at)
            meant = tuple(piece for piece in meant if piece in known)
            heard.append(Heard(measure, context, meant, possible, other_thing, tuple(waiting)))
            waiting = []
        waiting += told
    return heard


def _in_step(step: Step | None, act: str) -> tuple[str, ...]:
    """The pieces of the step's `do:`, those of the sentence's own act if it has any."""
    if step is None:
        return ()
    same = [doing for doing in step.doings if doing.act == act and doing.subjects]
    return tuple(piece for doing in same or step.doings for piece in doing.subjects)


def _meant(named: tuple[str, ...], in_step: tuple[str, ...]) -> tuple[str, ...]:
    """A supply names every piece cut from it: the step says which of them is at hand."""
    if len(named) > 1 and (both := tuple(piece for piece in named if piece in in_step)):
        return both
    return named or tuple(dict.fromkeys(in_step))
