"""How each finding is put right, by its code: one or several ways, the likeliest first.

What is not here has no text to type: its author must decide something that nobody else can know.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from foldwright.mending import lines, pieces, words
from foldwright.mending.numbers import (
    fewer_times,
    rest_for_one,
    right_number,
    right_size,
    swapped_numbers,
    trimmed_flaps,
    with_unit,
)
from foldwright.mending.ways import (
    Way,
    behind,
    cell,
    delete_fact,
    delete_from_row,
    delete_match,
    delete_part,
    either,
    fact,
    instead,
    named,
    top,
)

_NEAREST = instead("{nearest}")
_FOLD = fact("fold: {forms*}")
_EXACT = top("numbers: exact")
_SIGN_BEFORE_DEGREES = re.compile(r"[-−–](?=\s?[0-9])")
_MIRRORED = re.compile(r"\s*,?\s*(?:and\s+)?\bmirrored\b", re.IGNORECASE)
_REVERSE = re.compile(r"\s*,\s*reverse(?: tuck)?\b", re.IGNORECASE)

_OF_FACTS: dict[str, Way] = {
    # the file as a whole
    "unprintable": lines.printable_here,
    "unprintable-more": lines.printable_from_here,
    "writing-turned": lines.turned_back,
    "facts-not-opened": lines.opened,
    "facts-not-closed": lines.closed,
    # lines
    "one-space-remark": lines.second_space,
    "unclear-indent": lines.indents,
    "unclear-tab": lines.spaces_for_tab,
    "yaml-anchor": lines.sign_gone,
    "yaml-tag": lines.sign_gone,
    "colon-forgotten": lines.colon,
    "name-without-colon": behind(":"),
    "section-not-pushed-in": lines.pushed_in,
    "bracket-not-closed": either(behind("{closing}"), delete_match(re.compile(r"^[{\[]"))),
    "remark-not-closed": behind(")"),
    "said-twice": delete_fact,
    "nothing-said": delete_fact,
    "fact-without-word": instead("{typed*}"),
    "unknown-word": instead("{nearest}", of="word", first=True),
    "quotes-kept": instead("{bare}"),
    # single values
    "panels-without-bars": instead("{row}"),
    "units-missing": top("measured in: inches", "measured in: millimetres"),
    "no-unit": with_unit("said"),
    "unknown-unit": instead("{nearest}", of="word"),
    "negative-number": instead("{above}", of="text"),
    "run-together-fraction": instead("{spaced}", "{top_heavy}", of="text"),
    "comma-of-thousands": instead("{whole}", "{decimal}", of="text"),
    "parted-thousands": instead("{whole}", of="text"),
    "yes-or-no": instead("yes", "no"),
    "new-word-near": _NEAREST,
    "new-word": instead("{known*}"),
    "weight-without-grade": behind(" cover", " {known*}"),
    "new-grade": instead("cover", "{known*}", of="grade"),
    "keep-what-near": _NEAREST,
    "keep-what": instead("{known*}"),
    "measured-in-what": instead("inches", "millimetres"),
    "numbers-how": instead("{known*}"),
    "unknown-paper": _NEAREST,
    "ounces-apart": words.fluid_ounces,
    "address-without-scheme": instead("{meant}"),
    # the library
    "published-meant": instead("{meant}"),
    "tag-without-letters": delete_from_row,
    "was-no-name": delete_from_row,
    "was-itself": delete_from_row,
    "was-taken": delete_from_row,
    "was-twice": delete_from_row,
    "was-of-the-library": delete_from_row,
    "tag-spelled-otherwise": instead("{kept}"),
    # pieces
    "one-length-size": instead("{length} x {length}"),
    "panel-empty": pieces.empty_panel,
    "outer-bars": pieces.outer_bars,
    "all-round": pieces.how_far,
    "every-side-or-in-all": pieces.how_far,
    "remark-misspelt": _NEAREST,
    "remarks-differ": delete_part,
    "new-form-near": _NEAREST,
    "hole-without-place": behind(", centred"),
    "notch-in-which-edge": behind(*(f", middle of the {edge} edge" for edge in ("top", "bottom", "left", "right"))),
    "middle-or-edge": pieces.middle_or_edge,
    "line-kind": pieces.line_kind,
    # sizes of the project
    "as-written-twice": pieces.fact_of_value,
    "as-written-and-more": lines.trimmed_away,
    "size-of-what-near": _NEAREST,
}

_OF_WORDS: dict[str, Way] = {
    "words-hole-differs": right_number,
    "words-size-differs": right_number,
    "words-score-differs": right_number,
    "words-name-another-envelope": words.just_envelope,
    "from-names-nothing": _NEAREST,
    "place-names-nothing": instead("{nearest}", of="word"),
    "holds-names-nothing": instead("{nearest}", of="word"),
    "place-names-nothing-at-all": instead("{known*}", of="name"),
    "meanwhile-before": words.no_meanwhile,
    "supply-unused": either(fact("use: a little"), delete_fact),
    "tool-missing": named("tools", "{tools*}"),
    "no-tools": named("tools", "{tools*}"),
    "tool-not-listed": named("tools", "{name}"),
    "level-unknown": instead("beginner", "easy", "moderate", "advanced"),
    "kind-unknown-near": _NEAREST,
    "tool-unknown-near": _NEAREST,
    "duration-unreadable-near": instead("{nearest}", of="text"),
    "hush-unknown": _NEAREST,
    "video-moment-unread-near": _NEAREST,
    "captions-step-sure": words.moment,
    "captions-step-likely": words.moment,
    "captions-step-elsewhere": instead("{moment}"),
    "video-moment-twice": lines.line_gone,
    "single-number-sign": words.second_sign,
    "step-block-not-closed": words.closing_fence,
    "step-block-in-section": words.block_gone,
    "meanwhile-unclear": instead("{headings*}"),
    "meanwhile-unknown-near": _NEAREST,
    "unknown-piece-in-do-near": _NEAREST,
    "duration-without-unit": instead("{text} min", "{text} h", "{text} sec", of="text"),
    "hours-or-minutes": instead("{hours}", "{minutes}", of="text"),
    "unit-said-once": words.unit_of_its_own,
    "unit-forgotten": with_unit(),
    "in-or-inches": words.inches,
}

_OF_PIECES: dict[str, Way] = {
    "panels-fall-short": either(right_size, rest_for_one),
    "panels-run-over": either(right_size, rest_for_one),
    "size-the-other-way-round": instead("{swapped}"),
    "measured-from-what": instead("{nearest}", of="word"),
    "no-such-panel": instead("{nearest}", of="panel"),
    "every-panel-unclear": instead("on {known*}", of="said"),
    "no-such-panel-at-all": instead("{known*}", of="panel"),
    "layer-across-fold": behind(" {one}", " {other}", of="under"),
    "loose-in-envelope": instead("{name} envelope"),
    "lying-unclear": pieces.how_it_lies,
    "flaps-missing": either(pieces.flaps_added, fact("corners: cut away")),
    "flaps-joined-to-what": pieces.flaps_joined,
    "flaps-joined-to-floor": pieces.flaps_joined,
    "flaps-joined-both-ways": pieces.flaps_joined,
    "flap-as-long-as-end": trimmed_flaps,
    "hole-off-the-piece-unless-turned": swapped_numbers,
    "hole-mirrors-itself": delete_match(_MIRRORED),
    "lines-repeated-off-the-piece": fewer_times,
    "holes-repeated-off-the-piece": fewer_times,
    "flaps-of-what-form": _FOLD,
    "folded-to-what-form": _FOLD,
    "named-after-a-form": _FOLD,
    "inside-of-what-form": fact("fold: tray", "fold: lid", "fold: sleeve"),
    "does-not-go-in-as-printed": _EXACT,
    "printed-gap-less-than-the-card": _EXACT,
    "printed-room-less-than-the-card": _EXACT,
    "slots-for-another": pieces.slots_for_it,
    "fold-the-other-way": instead("{right}", of="kind", first=True),
    "angle-against-its-line": delete_match(_SIGN_BEFORE_DEGREES),
    "reverse-of-one-tuck": delete_match(_REVERSE),
    "size-is-worked-out": pieces.fact_of_value,
    "inside-and-finished": pieces.fact_of_value,
    "fold-across-the-grain": fact("grain: along the fold"),
}

_OF_EVENTS: dict[str, Way] = {
    "stock-nothing": lines.line_gone,
    "stock-size-alone": lines.size_of_these,
    "stock-price": lines.trimmed_away,
    "stock-name-near": _NEAREST,
    "stock-which": instead("{names*}"),
    "booklet-recipe-unknown": _NEAREST,
    "booklet-as": _NEAREST,
    "booklet-paper": _NEAREST,
    "booklet-sheet": _NEAREST,
    "booklet-units": _NEAREST,
    "booklet-theme": _NEAREST,
    "guests-column-taken": instead("{word}", of="heading", first=True),
    "guests-name-column": instead("name", of="heading", first=True),
    "guests-no-name": lines.line_gone,
    "guests-name-twice": lines.line_gone,
    "guests-project-unknown-near": cell("{nearest}"),
    "guests-project-several": cell("{known*}"),
    "guests-project-unknown": cell("{known*}"),
    "guests-size-unknown-near": cell("{nearest}"),
    "guests-size-unknown": cell("{known*}"),
}

WAYS: Mapping[str, Way] = MappingProxyType({**_OF_FACTS, **_OF_WORDS, **_OF_PIECES, **_OF_EVENTS})
"""The way of each code."""
