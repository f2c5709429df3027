"""Questions on the terminal."""

from __future__ import annotations

import sys
from collections.abc import Callable

from foldwright.cli.telling import Teller
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.recipe.facts.unprintable import UNPRINTABLE, printable


class AnswerError(Exception):
    """An answer of the call will not do, or the input ended before there was one that does."""

    def __init__(self, wrong: Wrong) -> None:
        super().__init__(wrong.message)
        self.wrong = wrong


def tell_wrong(wrong: Wrong) -> int:
    """Say what is wrong with a call or an answer; the exit status."""
    Teller("stderr").words(wrong.message, **dict(wrong.facts))
    return 2


def ask[Answer](
    given: str, question: str, suggested: str, read: Callable[[str], Answer | Wrong], **facts: object
) -> Answer:
    """The answer as `read`; asked for again when it will not do. At the end of the input what is suggested is taken.

    `given` is an answer of the call, which is not asked for again. Raises `AnswerError`.
    """
    words = catalogue().say(f"command.{question}", **facts)
    while not given.strip():
        print(f"{words} [{suggested}] " if suggested else f"{words} ", end="", flush=True, file=sys.stderr)
        line = sys.stdin.readline()
        if not sys.stdin.isatty():
            print(file=sys.stderr)
        if UNPRINTABLE.search(line):
            Teller("stderr").words("wrong.unprintable", said=printable(line).strip())
            continue
        answer = read(" ".join(line.split()) or suggested)
        if not isinstance(answer, Wrong):
            return answer
        if not line:
            raise AnswerError(answer)
        tell_wrong(answer)
    answer = read(" ".join(given.split()))
    if isinstance(answer, Wrong):
        raise AnswerError(answer)
    return answer
