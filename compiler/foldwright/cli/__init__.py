"""The command line: thin. It finds the recipes, calls the pipeline, tells what was found, writes what was made."""

from __future__ import annotations


def main(words: list[str] | None = None) -> None:
    """Run a command, then leave with its status: 0 well, 1 the recipe is wrong, 2 the call is wrong."""
    from foldwright.cli.app import app

    app(words, prog_name="foldwright")
