"""Who a project is for, as far as cautions must know: may children under three be among them?"""

from __future__ import annotations

import re
from functools import lru_cache

_YOUNG = re.compile(
    r"\bbab(?:y|ies)\b|\btoddlers?\b|\binfants?\b|\bnewborns?\b"
    r"|\bunder[- ](?:three|two|one|[1-3])s?\b|\byounger than (?:three|two|one|[1-3])\b"
    r"|\b(?:one|two|[12])[- ]years?[- ]olds?\b|\b(?:aged?|from) (?:nought|zero|one|two|[0-2])\b",
    re.IGNORECASE,
)
_NOT_FOR = re.compile(r"\b(?:not|never|keep away from|unsuitable for)\b[^.;]*$", re.IGNORECASE)


@lru_cache(maxsize=256)
def may_be_under_three(text: str) -> bool:
    """Whether the words name children under three as people who make it or get it ("not for toddlers" does not)."""
    return any(not _NOT_FOR.search(text[: match.start()]) for match in _YOUNG.finditer(text))
