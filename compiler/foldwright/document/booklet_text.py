"""What a booklet says of itself: its contents, its index, its pages."""

from __future__ import annotations

from foldwright.document.catalogue import catalogue


class BookletText:
    """The words of a booklet in one language."""

    def __init__(self, language: str) -> None:
        self.language = language
        self._words = catalogue(language)

    def say(self, name: str, **facts: object) -> str:
        """A sentence of a booklet, its slots filled with the facts (`foldwright.document.catalogue`)."""
        return self._words.say(f"booklet.{name}", **facts)

    def page(self, number: int) -> str:
        """A page by its number, where only one line tells it."""
        return self.say("page", number=number)
