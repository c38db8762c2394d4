"""A draft in the page's address: one that came by a link, or one that the browser cannot keep.

A draft that came by a link while the user has a kit of their own lives in the address alone, so that
theirs is never written over; and so does every draft where the browser forbids storage or has no
room left. The address carries no name; the name rides in the history entry, which is not part of
any link.
"""

from pyscript import window
from pyscript.ffi import to_js

NOT_KEPT = (
    "This browser lets the page keep nothing now (its storage is full or forbidden). The draft on the form "
    "is in this page's address: bookmark it, or copy the link below. Of the rest of the kit save a file "
    "before you leave; the page goes on trying to keep it."
)


def in_address(fragment, name):
    """Put a draft into the address, in place of what stood there."""
    _replace("#" + fragment, name)


def clear_address():
    """No draft: what stands there is the part of the page that is shown."""
    _replace("", "")


def came_back():
    """Whether the draft in the address was put there by this page, before a reload."""
    return _history("ours") == "yes"


def name_in_history():
    """The name that rode along with the draft in the address."""
    return _history("name")


def _history(key):
    state = window.history.state
    return str(getattr(state, key, "") or "") if state else ""


def _replace(fragment, name):
    window.ellwand.address(fragment, to_js({"ours": "yes", "name": name}))
