"""Writing a recipe: its text, what is found in it, and its sheets beside it."""

from __future__ import annotations

from starlette.routing import BaseRoute

from foldwright.desk.desk import Desk


def routes(_desk: Desk) -> list[BaseRoute]:
    """The addresses of writing."""
    return []
