"""Chapters of a video as a WebVTT file (W3C, WebVTT: The Web Video Text Tracks Format, 4.1 and 4.5)."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.document.film import Chapter

_ENDLESS = "99:59:59.999"
"""Later than any video ends: where nobody knows how long one is, its last chapter goes on to the end of it."""
_SIGNS = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", "\n": " ", "\r": " "})


def chapters_file(chapters: Sequence[Chapter]) -> str:
    """The file; each chapter is a cue whose text is its title."""
    return "".join(["WEBVTT\n", *map(_cue, chapters)])


def _cue(chapter: Chapter) -> str:
    mark = f"step-{chapter.step}" if chapter.step else "beginning"
    end = _ENDLESS if chapter.end is None else _time(chapter.end)
    return f"\n{mark}\n{_time(chapter.start)} --> {end}\n{chapter.title.translate(_SIGNS)}\n"


def _time(seconds: int) -> str:
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}.000"
