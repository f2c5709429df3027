"""The desk: a page of this machine's own in which recipes are begun, written, seen and planned.

It is the rooms below, shown in a browser: `serving` opens it, `guarding` lets in whom it knows, `app` has the
addresses, and each of the other modules is one part of what is on the page. What is to be worked out, they ask for.
"""
