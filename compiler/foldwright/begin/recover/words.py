"""The words of notes that say how something was measured, and what each of them means."""

from __future__ import annotations

import re

from foldwright.measure.numbers import SET_FRACTION, WORD_NUMBER
from foldwright.measure.reading import UNIT_WORDS

UNIT = "|".join(sorted(map(re.escape, UNIT_WORDS), key=len, reverse=True))
"""Any spelling of a unit, the longest first."""
UNIT_IN_LETTERS = "|".join(sorted((word for word in UNIT_WORDS if word.isalpha() and word != "m"), key=len, reverse=True))
NUMBER_AHEAD = rf"(?=\s*(?:[0-9]|\.[0-9]|{SET_FRACTION}))"
PART_ENDS = r"(?=\s*(?:$|[|,;+)(\n/=]|-+\s|and\b|then\b))"
"""What stands behind the last word about a number."""

_HAND = r"(?:[ -]?hand)?(?: (?:edge|end|side))?"
_ENDS = "(?:ends?|edges?|sides?)"
_A_BIT = (
    r"(?:(?:just|slightly|barely|only just)|an? (?:tiny |wee |little )?"
    r"(?:bit|hair|hairs?breadth|touch|shade|little|tad|whisker|smidge|smidgen|fraction))"
)
_MORE = "(?:over|above|past|beyond|(?:more|longer|wider|bigger|larger|higher) than)"
_LESS = "(?:under|below|short of|shy of|(?:less|shorter|narrower|smaller|lower) than)"
_COUNT = rf"(?:[0-9]{{1,3}}|{WORD_NUMBER})"
_PANELS = "(?:panels?|strips?|sections?|segments?|walls?|parts?)"

KEYWORDS: tuple[tuple[str, str], ...] = (
    ("times", rf"(?P<times>{_COUNT}) (?:(?:equal|even|same|identical) )?(?:{_PANELS} )?(?:of|@)(?: each)?(?! an?\b)"),
    ("times", rf"(?P<times_at>{_COUNT}) (?:(?:equal|even|same|identical) )?{_PANELS}(?:,| at| each)+{NUMBER_AHEAD}"),
    ("count", rf"(?:the )?(?P<count>{_COUNT}) (?:(?:equal|even|same|identical) )?(?:panels|strips|sections|segments)"),
    ("scores", rf"(?:the )?(?P<scores>{_COUNT}) (?:scores|folds|creases)(?: lines)?(?: (?:are|is|sit|lie|come))?(?: at)?"),
    ("across", r"(?:from )?left[- ]to[- ]right|l to r|side to side|across|horizontal(?:ly)?|wide|width|breadth|w"),
    ("down", r"(?:from )?top[- ]to[- ]bottom|t to b|down|vertical(?:ly)?|high|height|tall|h"),
    ("length", r"length|long"),
    (
        "each",
        rf"(?:in )?(?:(?:from|at|on|off) )?(?:each|both|either)(?: of the)? {_ENDS}|(?:in )?(?:from|off|at) (?:the )?"
        r"(?:(?P<leftright>left and (?:the )?right|right and (?:the )?left)|(?P<topbottom>top and (?:the )?bottom|"
        rf"bottom and (?:the )?top))(?: {_ENDS})?",
    ),
    (
        "from",
        r"(?:(?:all|measured|measuring|running|starting|going|counted|counting|reading) )*(?:in )?(?:from|off) (?:the )?"
        rf"(?:(?P<edge>left|right|top|bottom)|(?P<other>other|opposite|far)|(?:one|same|an|first|outer))?{_HAND}",
    ),
    ("running", r"(?:in a )?running(?: totals?| measurements?| row)?|cumulative(?:ly)?|adding up|from (?:zero|nought|0)"),
    (
        "scores",
        r"(?:the )?(?:scor(?:e|es|ed|ing)|fold(?:s|ed)?|creas(?:e|es|ed))(?: lines?| marks?)?"
        r"(?: (?:are|is|sit|lie|come))?(?: at)?|(?:lines|marks) at",
    ),
    (
        "edge",
        r"(?:the )?(?:(?:far|right|left|bottom|top|outer|other|outside|free) )?(?:edge|end)(?: (?:is|comes|lies))? at|"
        r"(?:the )?(?:(?:far|right|left|bottom|top|outer|other|outside|free)[ -])?edge|ends(?: at)?",
    ),
    (
        "whole",
        r"(?:the )?(?:whole|overall|over all|in all|in total|total|altogether|all together|entire|edge[- ]to[- ]edge|"
        r"end[- ]to[- ]end|all told|full(?= (?:width|height|length|size)))(?: (?:piece|thing|blank|sheet|way|side))?",
    ),
    (
        "singly",
        r"panel[ -]by[ -]panel|one by one|one at a time|singly|individually|separately|(?:(?:the|all|each) )?panels"
        r"(?: are)?|each(?: panel)?|in order|in a row|between (?:the )?(?:folds|scores|creases)",
    ),
    ("size", r"size|dimensions|measurements"),
    ("square", r"square"),
    (
        "again",
        r"(?:and )?(?:measured )?(?:again|once more|(?:(?:the|a) )?second time|2nd time)|re-?measured|"
        r"(?:double-?)?checked(?: twice)?|measured twice|twice",
    ),
    ("unit", rf"(?:(?:all|both|everything) )?in (?P<unit>{UNIT_IN_LETTERS})(?: throughout)?"),
    (
        "marks",
        r"(?:all )?read (?:off )?to(?: the nearest)?|(?:(?:all|read|measured|taken) )*to the nearest|nearest|"
        r"(?:my |the )?ruler (?:is )?(?:marked|reads|read|goes|shows)(?: (?:in|to))?|marked (?:in|to)",
    ),
    (
        "within",
        r"(?:(?:all|read) )*within|give or take|plus or minus|plus/minus|±|\+ ?/ ?-|\+-|"
        r"(?:(?:may|might|could|can) be )?(?:off|out) by(?: up to| at most)?|tolerance(?: of)?|accurate to|error(?: of)?",
    ),
    (
        "over",
        rf"{_A_BIT} {_MORE}|(?:a )?(?:good|generous|strong|fat|full|heavy){NUMBER_AHEAD}|over{NUMBER_AHEAD}|"
        rf"(?:good|generous|strong|fat|full|heavy|plus){PART_ENDS}|(?:and|plus) an? (?:bit|hair|touch|little|tad|whisker)"
        rf"(?: more)?|{_A_BIT} more",
    ),
    (
        "under",
        rf"{_A_BIT} {_LESS}|(?:a )?(?:scant|bare|barely|nearly|almost|not quite|light){NUMBER_AHEAD}|under{NUMBER_AHEAD}|"
        rf"(?:scant|shy|bare|barely|light|nearly|almost|minus){PART_ENDS}|(?:less|minus) an? "
        rf"(?:bit|hair|touch|little|tad|whisker)|{_A_BIT} (?:less|shy|short)",
    ),
    (
        "about",
        r"about|approx(?:imately|\.)?|around|roughly|circa|ca\.?|c\.|more or less|or so|ish|maybe|perhaps|probably|"
        r"i (?:think|guess)|(?:i am |i'm )?not sure|hard to (?:read|see|tell|say)",
    ),
    ("or", r"or(?: (?:maybe|perhaps|possibly))?"),
    ("between", r"(?:somewhere )?between|anything from"),
    (
        "unread",
        r"n/?a|unread(?:able)?|illegible|unknown|torn(?: off)?|smudged|not (?:read|measured|known)|"
        r"(?:can'?t|cannot|could(?:n't| not)) (?:read|see|measure)(?: it)?",
    ),
    ("comma", r"(?:and )?then|followed by"),
    ("and", r"and|&"),
    ("cross", r"x|by|times"),
    ("to", r"to"),
    ("of", r"of"),
    (
        "filler",
        r"the|is|are|was|were|it's|its|it|that|this|there|has|have|having|with|an|a|at|measures|measuring|measured|comes|"
        r"come|so|also|i|get|got|says|made|made up|up|my|on|each",
    ),
)
"""A kind of word, and how it is said: tried in this order, in small or capital letters. Where one blank stands, any
number of them may."""


_BLANK = re.compile(r" (?![]?-])")
"""A blank in a pattern, but not one that is a choice of its own."""
_ROWS = "|".join(f"(?P<k{row}>{_BLANK.sub(' +', said)})" for row, (_, said) in enumerate(KEYWORDS))
KEYWORD = re.compile(rf"(?:{_ROWS})(?!\w)", re.IGNORECASE)
"""All of them. The group `k3` says which row it is."""
