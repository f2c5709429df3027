"""The words of notes that say how something was measured, and what each of them means."""

from __future__ import annotations

import re

from foldwright.measure.numbers import SET_FRACTION
from foldwright.measure.reading import UNIT_WORDS

UNIT = "|".join(sorted(map(re.escape, UNIT_WORDS), key=len, reverse=True))
"""Any spelling of a unit, the longest first."""
UNIT_IN_LETTERS = "|".join(
    sorted((word for word in UNIT_WORDS if word.isalpha() and word != "m"), key=len, reverse=True)
)
_NUMBER_AHEAD = rf"(?=\s*(?:[0-9]|\.[0-9]|{SET_FRACTION}))"
_EACH_AHEAD = r"(?=[^|,;\n]{1,20}\beach\b)"
_PART_ENDS = r"(?=\s*(?:$|[|,;+)(\n/=]|-+\s|and\b|then\b))"
"""What stands behind the last word about a number."""
_EDGE = "(?:far|right|left|bottom|top|outer|other|outside|free)"
_ENDS = "(?:ends?|edges?|sides?)"
_GOING = "all|measured|measuring|running|starting|going|counted|counting|reading"
_WHENCE = (
    "(?:the )?(?:(?P<edge>left|right|top|bottom)|(?P<other>other|opposite|far)|(?:one|same|an|first|outer))?"
    "(?:[ -]?hand)?(?: (?:edge|end|side))?"
)
_AND = "(?:and|&) (?:the )?"
_OPPOSITE = f"left {_AND}right|right {_AND}left|top {_AND}bottom|bottom {_AND}top"
_A_BIT = (
    "(?:(?:just|slightly|barely|only just)|(?:just )?an? (?:tiny |wee |little )?"
    "(?:bit|hair|hairs?breadth|touch|shade|little|tad|whisker|smidge|smidgen|fraction))"
)
_SMALL = "(?:bit|hair|touch|little|tad|whisker)"
_MORE = "(?:over|above|past|beyond|(?:more|longer|wider|bigger|larger|higher) than)"
_LESS = "(?:under|below|short of|shy of|(?:less|shorter|narrower|smaller|lower) than)"
_COUNT_WORD = "(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)"
_COUNT = f"(?:[0-9]{{1,3}}|{_COUNT_WORD})"
_EVEN = "(?:(?:equal|even|same|identical) )?"
_PANELS = "(?:panels?|strips?|sections?|segments?|walls?|parts?)"
_SCORE = "(?:score|fold|crease)"
_SCORING = "scor(?:e|es|ed|ing)|fold(?:s|ed)?|creas(?:e|es|ed)"
_LIE = "(?: (?:are|is|sit|lie|come))?"
_WHICH = "(?:first|second|third|fourth|fifth|next|last|1st|2nd|3rd|4th|5th)"

_ALL_OF_IT = (
    "whole|overall|over all|in all|in total|total|altogether|all together|entire|all told|edge[- ]to[- ]edge|"
    "end[- ]to[- ]end|full(?= (?:width|height|length|size))"
)

KEYWORDS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "times",
        (
            rf"(?P<times>{_COUNT}) {_EVEN}(?:{_PANELS} )?of(?: each)?(?! an?\b)",
            rf"(?P<times_at>{_COUNT}) ?@",
            rf"(?P<times_each>{_COUNT}) {_EVEN}{_PANELS}(?:,? at|,? each|,?{_EACH_AHEAD})+{_NUMBER_AHEAD}",
            rf"(?P<times_before>{_COUNT_WORD})(?= [0-9][^|,;\n]{{0,20}}\b{_PANELS})",
        ),
    ),
    ("count", (rf"(?:the )?(?P<count>{_COUNT}) {_EVEN}(?:panels?|strips|sections|segments)(?! ?[0-9])",)),
    ("scores", (rf"(?:the )?(?P<scores>{_COUNT}) {_SCORE}s(?: lines)?{_LIE}(?: at)?",)),
    ("backwards", ("right[- ]to[- ]left", "bottom[- ]to[- ]top")),
    ("across", ("(?:from )?left[- ]to[- ]right", "l to r", "side to side", "across", "horizontal(?:ly)?", "wide",
                "width", "breadth", "w")),
    ("down", ("(?:from )?top[- ]to[- ]bottom", "t to b", "down", "vertical(?:ly)?", "high", "height", "tall", "h")),
    ("length", ("length", "long")),
    ("all-round", (rf"(?:in )?(?:from |on |at )?(?:all|every)(?: (?:four|4))?(?: of the)? {_ENDS}",
                   "(?:in )?all (?:the way )?a?round")),
    (
        "each",
        (
            rf"(?:in )?(?:(?:from|at|on|off) )?(?:each|both|either)(?: of the)? {_ENDS}",
            rf"(?:in )?(?:(?:from|off|at) )?(?:the )?(?:{_OPPOSITE})(?: {_ENDS})?",
        ),
    ),
    (
        "from",
        (
            rf"(?:(?:{_GOING}) ){{0,4}}(?:in )?(?:from|off) {_WHENCE}",
        ),
    ),
    ("running", ("(?:in a )?running(?: totals?| measurements?| row)?", "cumulative(?:ly)?", "adding up",
                 "from (?:zero|nought|0)")),
    (
        "scores",
        (
            rf"{_SCORE} ?#?[0-9]{{1,2}}(?= ?[:=])",
            rf"(?:the )?(?:{_WHICH} )?(?:{_SCORING})(?: lines?| marks?)?{_LIE}(?: at)?",
            "(?:lines|marks) at",
            rf"to (?:the )?(?:{_WHICH} )?{_SCORE}(?: line)?",
        ),
    ),
    (
        "edge",
        (
            rf"(?:the )?(?:{_EDGE} )?(?:edge|end)(?: (?:is|comes|lies))? at",
            rf"(?:to )?(?:the )?(?:{_EDGE}[ -])?edge",
            "ends at",
            "to (?:the )?end",
        ),
    ),
    (
        "whole",
        (
            rf"(?:the )?(?:{_ALL_OF_IT})(?: (?:piece|thing|blank|sheet|way|side))?",
        ),
    ),
    (
        "singly",
        (
            "panel[ -]by[ -]panel", "one by one", "one at a time", "singly", "individually", "separately",
            "(?:(?:the|all|each) )?panels(?: are)?", "each(?: panel)?", "in order", "in a row",
            rf"between (?:the )?{_SCORE}s",
        ),
    ),
    ("size", ("size", "dimensions", "measurements")),
    ("square", ("square",)),
    (
        "again",
        (
            "(?:and )?(?:measured )?(?:again|once more|(?:(?:the|a) )?second time|2nd time)", "re-?measured",
            "(?:double-?)?checked(?: twice)?", "measured twice", f"no {_SCORE}s", r"twice(?=\s*:)",
        ),
    ),
    ("unit", (rf"(?:(?:all|both|everything) )?in (?P<unit>{UNIT_IN_LETTERS})(?: throughout)?",)),
    (
        "marks",
        (
            "(?:all )?read (?:off )?to(?: the nearest)?", "(?:(?:all|read|measured|taken) ){0,4}to the nearest",
            "nearest",
            "(?:my |the )?ruler (?:is )?(?:marked|reads|read|goes|shows)(?: (?:in|to))?", "marked (?:in|to)",
        ),
    ),
    (
        "within",
        (
            "(?:(?:all|read) ){0,2}within", "give or take", "plus or minus", "plus/minus", "±", r"\+ ?/ ?-", r"\+-",
            "(?:(?:may|might|could|can) be )?(?:off|out) by(?: up to| at most)?", "tolerance(?: of)?", "accurate to",
            "error(?: of)?",
        ),
    ),
    (
        "over",
        (
            rf"{_A_BIT} {_MORE}",
            rf"(?:a )?(?:good|generous|strong|fat|full|heavy|over){_NUMBER_AHEAD}",
            rf"(?:good|generous|strong|fat|full|heavy|plus){_PART_ENDS}",
            rf"(?:and|plus) an? {_SMALL}(?: more)?",
            rf"{_A_BIT} (?:more|over|longer|wider)",
        ),
    ),
    (
        "under",
        (
            rf"{_A_BIT} {_LESS}",
            rf"(?:a )?(?:scant|bare|barely|nearly|almost|not quite|light|under){_NUMBER_AHEAD}",
            rf"(?:scant|shy|bare|barely|light|nearly|almost|minus){_PART_ENDS}",
            rf"(?:less|minus) an? {_SMALL}",
            rf"{_A_BIT} (?:less|shy|short|under|shorter|narrower)",
        ),
    ),
    (
        "about",
        (
            "about", r"approx(?:imately|\.)?", "around", "roughly", "circa", r"ca\.?", r"c\.", "more or less", "or so",
            "ish", "maybe", "perhaps", "probably", "i (?:think|guess)", "(?:i am |i'm )?not sure",
            "hard to (?:read|see|tell|say)",
        ),
    ),
    ("or", ("or(?: (?:maybe|perhaps|possibly))?",)),
    ("between", ("(?:somewhere )?between", "anything from")),
    (
        "unread",
        (
            "n/?a", "unread(?:able)?", "illegible", "unknown", "torn(?: off)?", "smudged",
            "not (?:read|measured|known)",
            "(?:the )?(?:rest|remainder)",
            "(?:can'?t|cannot|could(?:n't| not)) (?:read|see|measure)(?: it)?",
        ),
    ),
    ("comma", ("(?:and )?then", "followed by")),
    ("and", ("and", "&")),
    ("cross", ("x", "by", "times")),
    ("to", ("to",)),
    ("of", ("of",)),
    (
        "filler",
        tuple(
            "the is are was were it's its it that this these those they there has have having with an a at measures "
            "measuring measured so also i get got says my on each for somewhere goes runs".split()
        )
        + ("comes? to", "made(?: up)?(?= +of)"),
    ),
)  # fmt: skip
"""A kind of word, and how it is said: tried in this order, in small or capital letters. Where one blank stands, any
number of them may."""

_BLANK = re.compile(r" (?![]?-])")
"""A blank in a pattern, but not one that is a choice of its own."""
_ROWS = "|".join(f"(?P<k{row}>{_BLANK.sub(' +', '|'.join(said))})" for row, (_, said) in enumerate(KEYWORDS))
KEYWORD = re.compile(rf"(?:{_ROWS})(?!(?<=\w)\w|-[a-z])", re.IGNORECASE)
"""All of them. The group `k3` says which row it is."""
