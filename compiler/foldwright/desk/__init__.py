"""The desk: a page of this machine's own in which recipes are begun, written, seen and planned.

It is the rooms below, shown in a browser. `serving` opens it, `guarding` lets in whom it knows, `app` has the
addresses; `beginning`, `writing` and `planning` are its pages, `tablets` is what a room sees, `keeping` has what is on
disk. What is to be worked out, they ask for.
"""
