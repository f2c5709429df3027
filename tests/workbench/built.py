"""Cards and handouts built through the real command line, and what came of them. Not a test."""

from __future__ import annotations

from pathlib import Path

from workbench.command_line import Done, foldwright

WORDS = "Cut the white card to 8 x 5 in and score it at 4 in."
"""The words of the first step of `GOOD`."""
# ISO 216:2007 (A4, A5, A6) and common practice without a source (inch papers), in points of 1/72 in.
SIZES = {
    "letter": (612, 792), "half-letter": (396, 612), "4x6": (288, 432),
    "a4": (595.28, 841.89), "a5": (419.53, 595.28), "a6": (297.64, 419.53),
}  # fmt: skip


def build(cwd: Path, *words: str | Path, status: int = 0, **variables: str) -> Done:
    """Build into `out`; it has to end with `status`."""
    done = foldwright("build", *words, "--out", "out", cwd=cwd, **variables)
    assert done.status == status, done.out + done.err
    return done


def built(cwd: Path, kind: str, *words: str | Path, status: int = 0) -> tuple[dict[str, Path], Done]:
    """The files of the recipe called `card` by their names, when one kind of output is made, and what was said."""
    done = build(cwd, "card", "--only", kind, *words, status=status)
    return {path.name: path for path in (cwd / "out/card").glob("[!.]*")}, done


def in_one_line(text: str) -> str:
    return " ".join(text.split())


def page_sizes(path: Path) -> list[tuple[float, float]]:
    """The pages of a PDF, in points."""
    import pdfplumber

    with pdfplumber.open(path) as pdf:
        return [(page.width, page.height) for page in pdf.pages]
