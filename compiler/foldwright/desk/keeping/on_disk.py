"""One recipe on disk: its text, the draft of what is being typed, and the last texts it had.

Nothing that somebody wrote is lost. A draft lies beside the recipe as soon as it is asked for; what the recipe was is
put among its versions before another takes its place; and where somebody else has changed the recipe, nothing is
written over: both texts are handed out until a person chooses.
"""

from __future__ import annotations

import os
from datetime import UTC, datetime
from enum import Enum
from pathlib import Path
from threading import RLock

from msgspec import Struct

from foldwright.desk.keeping.disk import cannot_write, laid, put, remove, sweep, write_whole
from foldwright.desk.keeping.manner import Manner, manner_of, plain
from foldwright.desk.keeping.versions import KEPT, Now, Version, add_version, digest_of, read_version, versions_in
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.outputs.texts import DRAFT, RECIPE
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.recipe.facts.source import decode
from foldwright.surroundings import Folder, Refusal, lies_in

MINE = "recipe.mine.md"
_BEGAN_FROM = "began-from"
"""In the folder of versions: the digest of the recipe that the draft was begun from."""
_LARGEST_DRAFT = 64 * 1024 * 1024
_NONE = ""
"""The digest of a recipe that is not there."""
_UNSEEN = "?"
"""The digest of no recipe at all: whatever is there, somebody else wrote."""
_PLAIN = Manner()


class Choice(Enum):
    """What a person says of two texts."""

    MINE = "mine"
    THEIRS = "theirs"
    BOTH = "both"
    """Theirs is the recipe, and mine lies beside it under a name of its own."""


class Outside(Struct, frozen=True):
    """The recipe was changed or taken away by somebody else: both texts, side by side.

    `theirs` is None when the recipe is gone, or is no text that can be read (`unreadable` says why).
    """

    mine: str
    theirs: str | None
    unreadable: str
    digest: str

    @property
    def gone(self) -> bool:
        return self.digest == _NONE

    @property
    def choices(self) -> tuple[Choice, ...]:
        """What may be chosen: a text that cannot be read cannot be gone on with."""
        return (Choice.MINE, Choice.THEIRS, Choice.BOTH) if self.theirs is not None else (Choice.MINE, Choice.BOTH)


class Opened(Struct, frozen=True):
    """A recipe as it is opened: the `text` to go on with, and the recipe's own, where that is another.

    `drafted` says that the text is a draft that was never kept; `outside` that the recipe was changed since.
    """

    text: str
    recipe: str
    drafted: bool = False
    outside: Outside | None = None


class Settled(Struct, frozen=True):
    """The text to go on with, and the name of the file that holds the other one, if it lies beside the recipe."""

    text: str
    beside: str = ""


class RecipeOnDisk:
    """The recipe in one folder of the desk's, which is `within`. Every answer of a failure is a value: nothing raises.

    It remembers the recipe as it was last read or written here; whatever differs from that, somebody else did.
    """

    def __init__(self, folder: Path, within: Path, now: Now = lambda: datetime.now(UTC)) -> None:
        self.folder = folder
        self._within = within
        self._now = now
        self._seen = _NONE
        self._began_from: str | None = None
        self._manner = _PLAIN
        self._lock = RLock()

    def open(self) -> Opened | Wrong:
        """The recipe, or the draft that was never kept; what a killed desk left half-made is swept up."""
        with self._lock:
            if wrong := self._misplaced():
                return wrong
            for folder in {self.folder, self.folder / KEPT, self._path.parent}:
                sweep(folder)
            data, draft = self._read(RECIPE, MOST_BYTES), self._read(DRAFT, _LARGEST_DRAFT)
            self._seen = _digest(data)
            if isinstance(data, bytes):
                self._manner = manner_of(data)
            text, why = _text_of(data)
            if not isinstance(draft, bytes):
                return _unreadable(why) if text is None else Opened(text, text)
            mine = plain(draft.decode("utf-8", "replace"))
            return (self._drop_draft() or Opened(mine, mine)) if mine == text else self._with_draft(mine)

    def _with_draft(self, mine: str) -> Opened:
        """A draft and the recipe: a newer text of the same, or, where the recipe is not what it was begun from, two."""
        began_from = self._read(f"{KEPT}/{_BEGAN_FROM}", 100)
        began = began_from.decode("ascii", "replace") if isinstance(began_from, bytes) else self._seen
        now = self._now_outside(mine)
        if began == self._seen and now.theirs is not None:
            return Opened(mine, now.theirs, drafted=True)
        self._seen = began if began != self._seen else _UNSEEN
        return Opened(mine, now.theirs or "", drafted=True, outside=now)

    def save_draft(self, text: str) -> Wrong | None:
        """Have what is typed on disk, beside the recipe."""
        with self._lock:
            try:
                if wrong := self._misplaced():
                    return wrong
                self._write_draft(text)
            except OSError as trouble:
                return cannot_write(self.folder / DRAFT, trouble)
            return None

    def keep(self, text: str) -> Outside | Wrong | None:
        """Make the text the recipe; what it was is a version. Nothing is written where somebody else changed it."""
        with self._lock:
            return self._keep(text)

    def look(self, mine: str) -> Outside | None:
        """What somebody else made of the recipe since it was last read or written here, if anything."""
        with self._lock:
            now = self._now_outside(mine)
            return None if now.digest == self._seen else now

    def settle(self, outside: Outside, choice: Choice, mine: str) -> Settled | Outside | Wrong:
        """Do as a person chose between two texts. The other one is kept too: among the versions, or beside.

        Where the recipe has been changed once more, there is something else to choose from.
        """
        with self._lock:
            now = self._now_outside(mine)
            if now.digest != outside.digest:
                return now
            before, self._seen = self._seen, now.digest
            try:
                settled = self._settle(now, choice)
            except OSError as trouble:
                settled = cannot_write(self.folder / RECIPE, trouble)
            if not isinstance(settled, Settled):
                self._seen = before
            return settled

    def versions(self) -> tuple[Version, ...]:
        """What the recipe was, the newest first."""
        return versions_in(self.folder)

    def version(self, name: str) -> str | Wrong:
        """The text of a version: to be looked at, or gone on with like any other text."""
        data = read_version(self.folder, name)
        if isinstance(data, Wrong):
            return data
        text, why = _text_of(data)
        return _unreadable(why) if text is None else text

    def free_name(self, stem: str, ending: str) -> str:
        """A name that no file of the folder has: `fold-the-lid.jpg`, or `fold-the-lid-2.jpg`."""
        number = 1
        while os.path.lexists(self.folder / (name := f"{stem}-{number}{ending}" if number > 1 else stem + ending)):
            number += 1
        return name

    def add_file(self, stem: str, ending: str, data: bytes) -> str | Wrong:
        """Lay a file beside the recipe under a name of its own; the name."""
        with self._lock:
            if wrong := self._misplaced():
                return wrong
            path = self.folder / self.free_name(stem, ending)
            try:
                write_whole(path, data)
            except OSError as trouble:
                return cannot_write(path, trouble)
            return path.name

    def _keep(self, text: str) -> Outside | Wrong | None:
        data = self._manner.bytes_of(text)
        if len(data) > MOST_BYTES:
            return Wrong.of("desk-keeping.too-long", limit=MOST_BYTES // 1024**2)
        try:
            if wrong := self._misplaced():
                return wrong
            # Killed further on, the draft is never an older text than the recipe.
            self._write_draft(text)
            with laid(self._path, data) as fresh:
                former = self._read(RECIPE, MOST_BYTES)
                if isinstance(former, bytes) and former != data and _digest(former) == self._seen:
                    add_version(self.folder, former, self._now)
                # The last look before the name changes hands.
                if outside := self.look(text):
                    return outside
                put(fresh, self._path)
            self._seen = digest_of(data)
        except OSError as trouble:
            return cannot_write(self.folder / RECIPE, trouble)
        return self._drop_draft()

    def _settle(self, outside: Outside, choice: Choice) -> Settled | Outside | Wrong:
        mine, theirs = outside.mine, outside.theirs
        if choice is Choice.MINE:
            return self._keep(mine) or Settled(mine)
        if choice is Choice.BOTH:
            name = self.add_file(*os.path.splitext(MINE), self._manner.bytes_of(mine))
            if isinstance(name, Wrong):
                return name
            return self._drop_draft() or Settled(mine if theirs is None else theirs, name)
        if theirs is None:
            return Wrong.of("desk-keeping.nothing-to-take")
        add_version(self.folder, _PLAIN.bytes_of(mine), self._now)
        return self._drop_draft() or Settled(theirs)

    def _now_outside(self, mine: str) -> Outside:
        """The recipe as it is now, beside mine."""
        data = self._read(RECIPE, MOST_BYTES)
        return Outside(mine, *_text_of(data), digest=_digest(data))

    def _write_draft(self, text: str) -> None:
        if self._began_from != self._seen:
            (self.folder / KEPT).mkdir(exist_ok=True)
            write_whole(self.folder / KEPT / _BEGAN_FROM, self._seen.encode("ascii"))
            self._began_from = self._seen
        write_whole(self.folder / DRAFT, _PLAIN.bytes_of(text))

    def _drop_draft(self) -> Wrong | None:
        try:
            remove(self.folder / DRAFT)
        except OSError as trouble:
            return cannot_write(self.folder / DRAFT, trouble)
        return None

    @property
    def _path(self) -> Path:
        """Where the recipe's text lies, once all links are followed."""
        return Path(os.path.realpath(self.folder / RECIPE))

    def _read(self, name: str, at_most: int) -> bytes | Refusal:
        return Folder(self.folder).read(name, at_most)

    def _misplaced(self) -> Wrong | None:
        """Whether a link leads out of the desk's folder, or the recipe's is there no more."""
        if not self.folder.is_dir():
            return Wrong.of("desk-keeping.folder-gone", name=RECIPE, folder=str(self.folder))
        inside = (self.folder, self.folder / RECIPE, self.folder / KEPT)
        if all(lies_in(path, self._within) for path in inside) and lies_in(self.folder / KEPT, self.folder):
            return None
        return Wrong.of("desk-keeping.outside", folder=str(self.folder))


def _digest(data: bytes | Refusal) -> str:
    """What tells states of the recipe from one another; one that cannot be read is none of those that can."""
    if isinstance(data, bytes):
        return digest_of(data)
    return _NONE if data is Refusal.MISSING else data.value


def _text_of(data: bytes | Refusal) -> tuple[str | None, str]:
    """The text, or None and why there is none."""
    if isinstance(data, Refusal):
        return None, _refused(data)
    text, findings = decode(data, RECIPE)
    return text, "".join(_in_words(one.code, **dict(one.facts)) for one in findings)


def _refused(refusal: Refusal) -> str:
    code = "file-" + refusal.name.lower().replace("_", "-")
    return _in_words(code, file=RECIPE, limit=MOST_BYTES // 1024**2)


def _in_words(code: str, **facts: object) -> str:
    words = catalogue()
    keys = (f"{code}.says", f"{code}.remedy")
    return " ".join(words.say(key, **facts) for key in keys if words.has(key))


def _unreadable(why: str) -> Wrong:
    return Wrong.of("desk-keeping.unreadable", why=why)
