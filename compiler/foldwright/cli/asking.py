"""Questions on the terminal."""

from __future__ import annotations

import sys
from collections.abc import Callable

from foldwright.cli.telling import Teller
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.recipe.facts.unprintable import UNPRINTABLE, printable


class Asking:
    """Asks on the terminal, again when an answer will not do. At the end of the input what is suggested is taken."""

    def ask[Answer](
        self,
        given: str,
        question: str,
        suggested: str,
        understand: Callable[[str], Answer | Wrong],
        **facts: object,
    ) -> Answer | Wrong:
        """The answer as understood; `given` is one from the call and is not asked for again."""
        if given.strip():
            return understand(" ".join(given.split()))
        words = catalogue().say(f"command.{question}", **facts)
        while True:
            print(f"{words} [{suggested}] " if suggested else f"{words} ", end="", flush=True, file=sys.stderr)
            line = sys.stdin.readline()
            if not sys.stdin.isatty():
                print(file=sys.stderr)
            if UNPRINTABLE.search(line):
                Teller("stderr").words("wrong.unprintable", said=printable(line).strip())
                continue
            answer = understand(" ".join(line.split()) or suggested)
            if not isinstance(answer, Wrong) or not line:
                return answer
            Teller("stderr").words(answer.message, **dict(answer.facts))
