"""Whether `3 in` in a sentence is three inches: what stands before the number and what follows the little word."""

from __future__ import annotations

import re

from msgspec import Struct

from foldwright.measure.spelled import WORD_NUMBER

BOUNDARY = "\ue000"
"""Stands where emphasis or a link begins or ends: no measure reaches over it, but the sentence goes on."""
CLOSED = "\ue001"
"""Stands for a code span or an address: nothing is read in it."""

_WINDOW = 160
"""How many characters of the sentence before a number are looked at; keeps the work linear in the text."""
_NEAR = 40
"""How many of them hold the word before the number, and those such as `about` between the two."""

_SENTENCE_END = re.compile(r"[.!?…](?<!approx\.)(?<!\b[cC]a\.)(?<!\b[nN]o\.)[\"')\]]*\s+(?=[\"'(\\]?[A-Z0-9\ue000]|$)")
_WORD = re.compile(r"[^\W_]+(?:'[^\W_]+)?")
_NEXT = re.compile(r"[\s\ue000]*(?:(?P<word>[^\W_]+(?:['-][^\W_]+)*)|(?P<mark>[^\s\ue000])|$)")

# After a bare whole number these make "in" the little word: whatever else the sentence says.
_NEVER_INCHES = frozenset(
    """half halves two three four five six seven eight nine ten twelve thirds quarters pieces pairs place turn order
    all total line rows row columns column class front position sequence advance time between stacks layers sets
    bags boxes packs packets bundles batches groups colour colours color colors style size sizes spring summer autumn
    winter january february march april may june july august september october november december fact general case
    common use hand reserve store stock cash change favour favor public private school pencil ink pen red blue green
    navy black white cream pink yellow purple grey gray brown gold silver which whom whose what""".split()
)
# These make it so unless an act, a cross or a fraction speaks for inches.
_SOMETHING = frozenset(
    """the a an each every both one either neither any some this that these those my your our their its his her it
    them us you me there here another other same""".split()
)
_INCHES_ALONE = frozenset(
    """of from below above beyond past beneath apart away off clear thereof
    intervals increments""".split()
)
# "3 in wide" is a length when nothing is described by it: "2 in thick card" may be two, in thick card.
_INCHES_BEFORE_LITTLE_WORDS = frozenset(
    """wide long deep high tall thick broad square across down up in left right longer wider bigger smaller larger
    shorter narrower deeper higher taller around round diameter overall
    approx approximately sq max min maximum minimum""".split()
)
_LITTLE = frozenset(
    """and or then but so to at on for with by before after than as along if when where while until unless into onto
    over under inside outside against toward towards beside behind around round parallel again only also too twice
    across away here now not is are was first per like plus minus through via of from in because since x""".split()
)
# Behind a number written on to its "in" these are no room for the little word: `2in each, 2in strips`.
_SHARED_OUT = frozenset("every each both".split())
# `fold the top down 1 in.`: a way to go, and how far.
_WAYS = frozenset("up down out in over bottom top least than under extra further".split())
_LEAVING = frozenset("leave leaves leaving allow allows allowing".split())
_LEFT = frozenset("for at on over free spare hanging uncovered bare showing loose open unglued".split())
_DETERMINERS = frozenset("a an".split())
_THIS = frozenset("the this that its your each".split())
_MEASURED_THINGS = frozenset(
    """mark ruler strip circle border gap margin flap tab hole punch slot slit notch panel mat score cut fold overlap
    hem edge side ribbon sheet wing wall""".split()
)
_BEING = frozenset("is be are being".split())
_SIZE_NOUNS = frozenset(
    """width length height depth size wide long deep high tall diameter radius distance border margin gap overlap
    space seam hem tab measures measure measuring measured""".split()
)
_ABOUT = frozenset("about exactly only just roughly nearly approximately approx precisely around another full".split())
_AT_OR_TO = frozenset("at to by every plus minus".split())
_NUMBERED_THINGS = frozenset(
    """step steps page pages version versions v no nr number numbers figure fig chapter lesson day week year room
    exercise part question recipe edition release section""".split()
)
_PARTS_WITH_NUMBERS = frozenset("panel panels strip strips flap flaps piece pieces side sides layer layers".split())
# The nearest of these verbs before a number, nearer than an act that takes a length, says that things are moved.
_MOVERS = frozenset(
    """put puts place places drop pour pack packs add adds slip tuck tucks stick sticks glue glues press push pop lay
    lays take takes bring count counts roll hand give gives have has there use uses need needs keep make makes fill
    insert slide thread tie wrap pick choose share sew stamp hold holds leave leaves turn get set sets find work
    store hide bend fold folds folded folding ask buy bought sell sold put arrange arranges sort""".split()
)
_STAYING = frozenset(
    """leave leaves keep keeps hold holds have has need needs use uses make makes turn slide bend fold folds folded
    folding hide""".split()
)
"""Those of the movers that as often say how long something is."""
_WAITING = frozenset("wait waits waiting rest dry drying dries press hold leave soak minutes minute set within".split())
_PRICE_WORDS = frozenset(
    "cost costs costing pay pays paid price priced worth sell sells sold buy bought charge".split()
)
_ALL_ROUND = re.compile(r"[\s\ue000](?:the way )?(?:round|around|along|over|across|down|up)(?![^\W_])", re.IGNORECASE)
_SIDE_OF = re.compile(r"[\s\ue000]side of(?![^\W_])", re.IGNORECASE)
_FROM_AN_EDGE = re.compile(
    r"(?: in)? from (?:(?:the|each|every|either|both|all|its|that|this|two|four|other|first|same|short|long|outer) )*"
    r"(?:edge|end|side|top|bottom|left|right|corner|fold|score|crease|middle)s?(?![^\W_])",
    re.IGNORECASE,
)
_LEADING_TO = frozenset("at to every".split())
_PATTERNS = frozenset("grid grids array arrays pattern layout rows columns times checkerboard up of".split())
"""`a 3 x 4 grid` counts squares."""
_NUMBER_WORD = re.compile(f"(?:[0-9]+|{WORD_NUMBER})")
_MARKS = re.compile("[\"']")
_PRIMES = "\u2033\u2032\u02ba\u02b9"
_OPENING = "\u201c\u2018\u201f\u201b"


class NumbersBefore(Struct, frozen=True):
    """What is known of the number or numbers before "in"."""

    start: int
    end: int
    """The end of "in", where the next word is looked for."""
    whole: bool
    """Nothing but bare whole numbers."""
    cross: bool
    money_like: bool
    """A lone decimal with two places, as prices are written."""
    inches_since: int = -1
    """Where the last length in inches before these ended, or -1."""
    glued: bool = False
    """"in" is written on to the number, as the little word never should be."""
    solid: bool = False
    """Three of them, one by another: no arrangement of things has so many."""
    listed: bool = False
    """They go on from a measure, as the last does in `18 mm, 72 mm and 92`."""


class Belief(Struct, frozen=True):
    """Whether something is a measure, and the reason in one code."""

    believed: bool
    why: str


def sentence_before(text: str, start: int, most: int = _WINDOW) -> list[str]:
    """The words of the sentence before an offset, in small letters, nearest last; no more than `most` characters."""
    window = text[max(0, start - most) : start]
    begin = 0
    for end in _SENTENCE_END.finditer(window):
        begin = end.end()
    return _WORD.findall(window[begin:].lower())


def believe(text: str, numbers: NumbersBefore, length_acts: frozenset[str]) -> Belief:
    """Whether the "in" after some numbers means inches, and the reason in one code."""
    word, after_word = _next_word(text, numbers.end)
    if word == "all" and (round_it := _ALL_ROUND.match(text, after_word)):
        word, after_word = "around", round_it.end()
    if not numbers.whole or numbers.cross:
        return _believe_sure_number(text, word, after_word, numbers, length_acts)
    before = _without_about(sentence_before(text, numbers.start))
    room = word in _NEVER_INCHES or (word in _SOMETHING and word not in _SHARED_OUT)
    if numbers.glued and not room and not _numbered(before, length_acts):
        return Belief(True, "unit")
    if word == "either" and _SIDE_OF.match(text, after_word) and not _moved(before):
        return Belief(True, "measured-from")
    belief = _believe_bare_whole(text, before, word, after_word, length_acts)
    if belief.why == "no-act-takes-length" and _goes_or_is_left(before, word):
        return Belief(True, "says-which-way")
    unsure = belief.why == "no-act-takes-length" or (
        belief.why == "could-be-little-word" and word in _INCHES_BEFORE_LITTLE_WORDS
    )
    return Belief(True, "beside-another") if unsure and _beside_another(text, numbers) else belief


def _beside_another(text: str, numbers: NumbersBefore) -> bool:
    """`2 in high at the front and 1 in at the ends`: inches in the same sentence, and nothing moved since."""
    between = text[numbers.inches_since : numbers.start]
    if numbers.inches_since < 0 or len(between) > _WINDOW or _SENTENCE_END.search(between):
        return False
    return not any(word in _MOVERS for word in _WORD.findall(between.lower()))


def _believe_sure_number(
    text: str, word: str, after_word: int, numbers: NumbersBefore, length_acts: frozenset[str]
) -> Belief:
    """A fraction or `A x B` speaks for itself, unless the words beside it make another sense of it."""
    if not numbers.cross and _last(_without_about(sentence_before(text, numbers.start, _NEAR))) in _NUMBERED_THINGS:
        return Belief(False, "a-number-of-something")
    if numbers.money_like and any(each in _PRICE_WORDS for each in sentence_before(text, numbers.start)):
        return Belief(False, "a-price")
    if word in _NEVER_INCHES or word.isdigit():
        return Belief(False, "little-word-in")
    if (
        numbers.cross
        and word == "each"
        and (not numbers.whole or numbers.solid)
        and not _next_word(text, after_word)[0]
    ):
        # `(1 x 1 x 3/4 in each)`: how large each one is.
        return Belief(True, "cross")
    if word in _SOMETHING:
        acts = _has_length_act(sentence_before(text, numbers.start), length_acts)
        if numbers.cross or not acts:
            # `cut a window 2 x 3 in the lid`: a size, but its "in" belongs to the lid.
            return Belief(False, "in-or-inches" if numbers.cross and acts else "little-word-in")
    return Belief(True, "cross" if numbers.cross else "fraction")


def _believe_bare_whole(
    text: str, before: list[str], word: str, after_word: int, length_acts: frozenset[str]
) -> Belief:
    if _numbered(before, length_acts):
        return Belief(False, "a-number-of-something")
    if word in _NEVER_INCHES or word in _SOMETHING or word[:1].isdigit():
        return Belief(False, "little-word-in")
    if word in _INCHES_ALONE:
        return Belief(True, "measured-from")
    last = _last(before)
    adjective = last in _DETERMINERS or _NUMBER_WORD.fullmatch(last) is not None
    if word in _INCHES_BEFORE_LITTLE_WORDS and (adjective or _ends_or_goes_on(text, after_word)):
        return Belief(True, "says-which-way")
    if word in _MEASURED_THINGS and last in _THIS:
        return Belief(True, "describes-something")
    if adjective and word and word not in _LITTLE:
        return Belief(True, "describes-something")
    if word and word not in _LITTLE:
        return Belief(False, "could-be-little-word")
    if _takes_length(before, length_acts):
        return Belief(True, "act-takes-length")
    if last in _SIZE_NOUNS or (len(before) > 1 and last == "of" and before[-2] in _SIZE_NOUNS):
        return Belief(True, "names-a-size")
    if last in _BEING and not word and "there" not in before:
        return Belief(True, "names-a-size")
    return Belief(False, "no-act-takes-length")


def takes_length(text: str, start: int, length_acts: frozenset[str]) -> bool:
    """Whether the sentence before an offset ends in `at` or `to`, or its nearest verb is an act that takes a length."""
    return _takes_length(_without_about(sentence_before(text, start)), length_acts)


def acts_before(text: str, start: int, length_acts: frozenset[str]) -> bool:
    """Whether the nearest verb of the sentence before an offset is an act that takes a length."""
    return _has_length_act(sentence_before(text, start), length_acts)


def may_lack_its_unit(text: str, numbers: NumbersBefore, length_acts: frozenset[str]) -> bool:
    """Whether numbers without any unit stand where a length would: `score 7/8`, `cut to 5 x 5`, `fold at 2 and 4`.

    Whether they are lengths only a piece can tell that has them. What describes something (`2 layers`) never is.
    """
    before = _without_about(sentence_before(text, numbers.start))
    if _last(before) in _NUMBERED_THINGS or not _acts_or_is(before, length_acts, numbers.cross):
        return False
    word, after_word = _next_word(text, numbers.end)
    if word == "all" and _ALL_ROUND.match(text, after_word):
        return not numbers.cross
    if numbers.cross:
        return word not in _PATTERNS
    if _FROM_AN_EDGE.match(text, numbers.end):
        return True
    if word in ("of", "from") or not nothing_described(text, numbers.end):
        return False
    led = numbers.listed or _last(before) in _LEADING_TO
    return led or (not numbers.whole and (_last(before) in length_acts or word in _INCHES_BEFORE_LITTLE_WORDS))


def _acts_or_is(before: list[str], length_acts: frozenset[str], cross: bool) -> bool:
    for at, word in reversed(list(enumerate(before))):
        the_stop = word == "stop" and at and before[at - 1] in _THIS
        if word in length_acts or (cross and word in _BEING) or the_stop:
            return True
        if word in _MOVERS:
            return False
    return False


def speaks_of_time(text: str, start: int) -> bool:
    """Whether `10 m` here may be ten minutes."""
    return any(word in _WAITING for word in sentence_before(text, start)[-6:])


def nothing_described(text: str, at: int, only_sizes: bool = False) -> bool:
    """Whether no noun follows: `of`, `from`, `wide`, or (unless `only_sizes`) a mark, the end, a little word."""
    word, _ = _next_word(text, at)
    if word in _INCHES_ALONE or word in _INCHES_BEFORE_LITTLE_WORDS:
        return True
    return not only_sizes and (not word or word in _LITTLE)


def _without_about(before: list[str]) -> list[str]:
    while before and before[-1] in _ABOUT:
        before.pop()
    return before


def _last(before: list[str]) -> str:
    return before[-1] if before else ""


def _numbered(before: list[str], length_acts: frozenset[str]) -> bool:
    """`step 3`, and `score panel 3`, but not `a panel 3 in wide`."""
    last = _last(before)
    if last in _NUMBERED_THINGS:
        return True
    return last in _PARTS_WITH_NUMBERS and len(before) > 1 and (before[-2] in length_acts or before[-2] in _MOVERS)


def _takes_length(before: list[str], length_acts: frozenset[str]) -> bool:
    """`at 3 in`, or the nearest verb is an act that takes a length; `fold 3 in` alone may fold three of them."""
    return _last(before) in _AT_OR_TO or _has_length_act(before, length_acts)


def _has_length_act(before: list[str], length_acts: frozenset[str]) -> bool:
    for word in reversed(before):
        if word in _MOVERS:
            return False
        if word in length_acts:
            return True
    return False


def _goes_or_is_left(before: list[str], word: str) -> bool:
    """`slide it down 1 in.`, `leave 2 in for the knot`; no noun follows, that is known."""
    last = _last(before)
    return (last in _WAYS and not _moved(before)) or (last in _LEAVING and word in _LEFT)


def _moved(before: list[str]) -> bool:
    """`put down 2 in, then` may move two things; `fold the top down 2 in` does not."""
    return any(word in _MOVERS and word not in _STAYING for word in before)


def _next_word(text: str, at: int) -> tuple[str, int]:
    """The word that comes next, in small letters (empty where a mark or the end does), and where it ends."""
    follower = _NEXT.match(text, at)
    return ((follower["word"] or "").lower(), follower.end()) if follower else ("", at)


def _ends_or_goes_on(text: str, at: int) -> bool:
    """Whether what comes next is a mark, the end, or a little word: nothing that an adjective could describe."""
    word, _ = _next_word(text, at)
    return not word or word in _LITTLE or word in _SOMETHING


def closing_quotes(tidied: str, text: str) -> frozenset[int]:
    """Offsets of the quotes that end a quotation and are no inch or foot marks: `the "Box 2" folder`.

    `tidied` is the text with plain quotes, the same length.
    """
    closing: set[int] = set()
    is_open = {'"': False, "'": False}
    for found in _MARKS.finditer(tidied):
        at, mark = found.start(), found[0]
        if text[at] in _PRIMES:
            continue
        before = tidied[at - 1] if at else " "
        after = tidied[at + 1] if at + 1 < len(tidied) else " "
        if before.isalpha() and after.isalpha():
            continue
        if not before.isdigit() and (text[at] in _OPENING or (not before.isalnum() and not after.isspace())):
            is_open[mark] = True
        elif is_open[mark]:
            closing.add(at)
            is_open[mark] = False
    return frozenset(closing)
