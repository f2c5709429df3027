"""Each finding whose remedy is a text to type has a mend in some case, or a reason why nobody else knows the text."""

from __future__ import annotations

import re
from itertools import chain

from foldwright.document.catalogue import catalogue
from foldwright.mending.table import WAYS
from mending import broken

TO_TYPE = re.compile(r"  \S|“|\b(?:[Tt]ype|[Dd]elete|Did you mean|[Aa]dd|[Ww]rite|[Ll]eave out|Use one of)\b")
"""A remedy that tells what to type, add or take away."""
WITHOUT: dict[str, str] = {
    code: one["why"] for one in broken.MENDS["without"] for code in " ".join(one["codes"].split()).split()
}
TRIED_BY_THEMSELVES = {code for code in WAYS if code.startswith(("stock-", "guests-", "booklet-", "captions-"))} | {
    "does-not-go-in-as-printed",
    "printed-gap-less-than-the-card",
    "printed-room-less-than-the-card",
    "unprintable-more",
    "was-taken",
    "was-twice",
    "was-of-the-library",
    "tag-spelled-otherwise",
}
"""In test_of_events.py, test_spoken.py, test_handmade.py, library/test_findings.py and booklet/test_facts.py: their
findings need more than a recipe, or a recipe of great length."""


def remedies() -> dict[str, str]:
    """Every remedy of the catalogue in all its forms, by the code of its finding."""
    words = catalogue()
    names = (name.removesuffix(".remedy") for name in words.names() if name.endswith(".remedy"))
    forms = {code: {words.parts(f"{code}.remedy", count) for count in (1, 2)} for code in names}
    return {
        code: " ".join("".join(f"{{{part}}}" if at % 2 else part for at, part in enumerate(parts)) for parts in texts)
        for code, texts in forms.items()
    }


def test_a_text_to_type_can_be_typed_for_who_has_forgotten_it_or_there_is_a_reason() -> None:
    to_type = {code for code, remedy in remedies().items() if TO_TYPE.search(remedy)}
    assert to_type - WAYS.keys() - WITHOUT.keys() == set()
    assert WITHOUT.keys() - to_type == set()


def test_what_has_a_way_has_no_reason_for_having_none_and_is_a_finding() -> None:
    assert WAYS.keys() & WITHOUT.keys() == set()
    assert WAYS.keys() <= remedies().keys()
    assert all(len(why) > 20 for why in WITHOUT.values())


def test_every_way_mends_some_case() -> None:
    texts = chain(broken.of_mends(), broken.of_values(), broken.of_slips(), broken.of_pieces())
    mended = {finding.code for _, text in texts for finding, mend in broken.ways_of(text) if not mend.hides}
    assert WAYS.keys() - mended - TRIED_BY_THEMSELVES == set()
