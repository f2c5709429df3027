"""`foldwright desk`: opens the desk in a browser, and serves it until it is stopped."""

from __future__ import annotations

from pathlib import Path

from foldwright.cli.calls import DeskCall
from foldwright.cli.telling import Teller
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.outputs.new_folders import cannot_write


def desk(call: DeskCall) -> int:
    """Serve the desk; the exit status."""
    from foldwright.desk.desk import Desk
    from foldwright.desk.keeping.claims import TakenBy, claim
    from foldwright.desk.room import Room
    from foldwright.desk.serving import address_of, open_port, serve
    from foldwright.desk.tablets import open_room

    complaints = Teller("stderr")
    folder = Path(call.folder)
    if call.port and not (call.port.isascii() and call.port.isdecimal() and int(call.port) < 65536):
        return complaints.refuse((Wrong.of("desk-port-odd", port=call.port),))
    if folder.exists() and not folder.is_dir():
        return complaints.refuse((Wrong.of("desk-no-folder", path=call.folder),))
    listening = open_port(int(call.port or 0))
    if isinstance(listening, Wrong):
        complaints.wrong(listening)
        return 1
    room = Room() if call.share else None
    in_room = open_room(room) if room else None
    if isinstance(in_room, Wrong):
        complaints.wrong(in_room)
        return 1
    here = Desk(folder.absolute(), room=room)
    address = address_of(here, listening)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as trouble:
        complaints.wrong(cannot_write(folder, trouble))
        return 1
    held = claim(here.folder, address)
    if isinstance(held, TakenBy):
        complaints.wrong(Wrong.of("desk-taken", path=call.folder, address=held.address))
        return 1
    if isinstance(held, Wrong):
        complaints.text(catalogue().say(held.message, **dict(held.facts)))
        return 1

    def ready() -> None:
        Teller().words("desk.open", address=address)
        if room:
            Teller().words("desk.shared", addresses="\n".join(f"  {one}" for one in room.addresses), phrase=room.phrase)
        if not call.quiet:
            import webbrowser

            webbrowser.open(address)

    try:
        serve(here, listening, ready, in_room)
    finally:
        held.release()
    return 0
