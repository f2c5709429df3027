"""`foldwright desk`: opens the desk in a browser, and serves it until it is stopped."""

from __future__ import annotations

from pathlib import Path

from foldwright.cli.calls import DeskCall
from foldwright.cli.telling import Teller
from foldwright.finding import Wrong


def desk(call: DeskCall) -> int:
    """Serve the desk; the exit status."""
    from foldwright.desk.desk import Desk
    from foldwright.desk.serving import address_of, open_port, serve

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
    here = Desk(folder.absolute())
    address = address_of(here, listening)

    def ready() -> None:
        Teller().words("desk.open", address=address)
        if not call.quiet:
            import webbrowser

            webbrowser.open(address)

    serve(here, listening, ready)
    return 0
