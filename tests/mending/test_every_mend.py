"""Every mend of every case applied: its finding is gone, and nothing is broken by it."""

from __future__ import annotations

from itertools import chain

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.document.findings import tell
from mending import broken

CASES = [
    pytest.param(text, id=name)
    for name, text in chain(
        broken.of_mends(), broken.of_values(), broken.of_slips(), broken.of_numbers(), broken.of_pieces()
    )
]


@pytest.mark.parametrize("text", CASES)
def test_what_is_mended_is_found_no_more_and_each_mend_has_a_label(text: str) -> None:
    for finding, mend in broken.ways_of(text):
        ends = [end for one in sorted(mend.changes) for end in (one.start, one.end)]
        assert ends == sorted(ends)
        assert 0 <= ends[0] <= ends[-1] <= len(text)
        broken.assert_mended(text, finding, mend)
    for finding in broken.found_in(text):
        labels = [one.label for one in tell(finding, {broken.FILE: text}, catalogue()).mends]
        assert len(labels) == len(finding.mends)
        assert all(0 < len(label) <= 80 and "\n" not in label for label in labels)
