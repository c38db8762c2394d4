"""Where the draft is kept between visits: in this browser's storage, else in the page's address.

Every copy of the page on one host keeps its own, so the key holds the page's path. A draft that came
by a link while the user has another of their own lives in the address alone, so that theirs is never
written over; and so does every draft where the browser forbids storage or has no room left.
The address carries no name; the name rides in the history entry, which is not part of any link.
"""

import json

from draft import from_plain, person_from
from pyscript import window
from pyscript.ffi import to_js

VERSION = 1
NOT_KEPT = (
    "This browser lets the page keep nothing (its storage is full or forbidden), so your draft is "
    "kept in this page's address: bookmark it, or copy the link below."
)
UNREADABLE = (
    "What this browser had kept of your draft cannot be read any more, so the page starts afresh. "
    "The unreadable rest was put aside, not thrown away."
)


def _key():
    return "ellwand " + window.location.pathname


class Keeping:
    def __init__(self, garments):
        self.garments = garments
        self.works = True  # until storing has failed once
        self.waiting = []  # the wearers other than the draft's own, as draft.person_from gives them

    def recall(self):
        """(the user's own draft or None, how the page was arranged, a sentence or "")."""
        text = window.ellwand.recall(_key())
        self.works = text is not False
        if not text:
            return None, {}, ""
        try:
            kept = json.loads(text)
            if kept["version"] != VERSION:
                raise ValueError("another version")
            view = kept.get("view")
            draft = from_plain(kept["draft"], self.garments)
            self.waiting = [person_from(plain) for plain in kept.get("wearers", [])]
            return draft, view if isinstance(view, dict) else {}, ""
        except Exception:
            window.ellwand.keep(_key() + " unreadable", text)
            return None, {}, UNREADABLE

    def keep(self, draft, view):
        """True when storage took it."""
        text = json.dumps({
            "version": VERSION, "draft": draft.to_plain(), "view": view, "wearers": self.waiting,
        })
        self.works = window.ellwand.keep(_key(), text) is not False
        return self.works

    def in_address(self, fragment, name):
        """Put a draft into the address, in place of what stood there."""
        _replace("#" + fragment, name)

    def clear_address(self):
        if window.location.hash:
            _replace(window.location.pathname + window.location.search, "")

    def came_back(self):
        """Whether the draft in the address was put there by this page, before a reload."""
        return self._history("ours") == "yes"

    def name_in_history(self):
        """The name that rode along with the draft in the address."""
        return self._history("name")

    def _history(self, key):
        state = window.history.state
        return str(getattr(state, key, "") or "") if state else ""


def _replace(url, name):
    window.ellwand.address(url, to_js({"ours": "yes", "name": name}))
