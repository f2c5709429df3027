"""What the pages of a library share: the stylesheet of each look, with its faces inside, and the one script.

A page and the library agree on these files by asking here; a name holds the hash of its file, so that no browser shows
a new page in an old dress. Faces stand inside the stylesheet: a page that is opened from a file may load a stylesheet,
but in some browsers no font, from another file.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping

from msgspec import Struct

from foldwright.render.themes import Theme, load_theme, policy_hash
from foldwright.render.web.tight import STYLE

FOLDER = "assets"
_ODD = re.compile(r"[^a-z0-9]+")


class SharedLook(Struct, frozen=True):
    """The files of a look by path under the library's folder, and which of them is the style and which the script."""

    style: str
    script: str
    files: Mapping[str, bytes]


def shared_look(theme: str) -> SharedLook:
    """The files of one look. Raises ThemeError."""
    ready = load_theme(theme)
    look = _ODD.sub("-", ready.name.lower()).strip("-") or "look"
    style, script = (STYLE + ready.shared_style).encode("utf-8"), ready.script.encode("utf-8")
    style_at, script_at = asset_named(look, style, "css"), asset_named("page", script, "js")
    return SharedLook(style_at, script_at, {style_at: style, script_at: script})


def shared_files(themes: Iterable[str]) -> dict[str, bytes]:
    """All that pages in these looks share. Raises ThemeError."""
    return {path: data for theme in themes for path, data in shared_look(theme).files.items()}


def asset_named(name: str, data: bytes, kind: str) -> str:
    """Where a file that pages share lies: its name holds the hash of what is in it."""
    return f"{FOLDER}/{name}-{hashlib.sha256(data).hexdigest()[:10]}.{kind}"


def shared_policy(theme: Theme, style: str, data: str) -> str:
    """A Content-Security-Policy for a page of a library, in which this `style` and these `data` for machines stand.

    It may show and run what lies in the library, and nothing from elsewhere. `file:` says the same as `'self'` where
    pages are opened from files: some browsers take such an address for nobody's own. What a whole template of the
    user's own may put into the page is named by its hash, as for a page that stands alone.
    """
    own = "'self' file:"
    return (
        f"default-src 'none'; img-src {own} data:; font-src data:; "
        f"style-src {own} {theme.style_hash} {policy_hash(style)}; "
        f"script-src {own} {theme.script_hash} {policy_hash(data)}; base-uri 'none'; form-action 'none'"
    )
