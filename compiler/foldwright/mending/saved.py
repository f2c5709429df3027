"""Changes of a text made in the bytes of its file: its line ends, its mark at the beginning and all else stay."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence

from foldwright.finding.changes import Change, changed

_MARK = "\ufeff"
_LINE_END = re.compile(r"\r\n|\r|\n")


def as_saved(data: bytes, changes: Sequence[Change]) -> bytes:
    """The bytes of a file with its text changed; offsets count as when the file was read, a line end as one."""
    text = data.decode("utf-8")
    lead = len(_MARK) if text.startswith(_MARK) else 0
    ends = list(_LINE_END.finditer(text, lead))
    # Where the second character of each line end that is two stands in the text as it was read.
    double = [one.start() - lead - before for before, one in enumerate(e for e in ends if len(e[0]) > 1)]
    line_end = ends[0][0] if ends else "\n"

    def raw(offset: int) -> int:
        return offset + lead + bisect_right(double, offset - 1)

    written = [Change(raw(one.start), raw(one.end), one.new.replace("\n", line_end)) for one in changes]
    return changed(text, written).encode("utf-8")
