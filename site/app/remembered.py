"""What the worker found, kept on this device: no lay on screen is searched for again, no step made again.

What is kept answers one request, and is never shown for another. The last few are kept: whoever makes
several garments comes back to each.
"""

import json

from lasttime import written
from pyscript import window


class Remembered:
    """`what` was found is kept under that name, `most` of it at a time. `needed` is a name in each result."""

    def __init__(self, what, most, needed):
        self._what, self._most, self._needed = what, most, needed
        self._held = []

    def keep(self, asked, request, result):
        """What was found for a request, and how it was asked for in full."""
        of = written(asked)
        kept = [one for one in self._all() if one["of"] != of]
        kept.append({"of": of, "request": request, "result": result})
        self._held = kept[-self._most:]
        for least in range(len(self._held)):  # fewer where there is no room
            if window.ellwand.keep(self._key(), json.dumps(self._held[least:])):
                return
        window.ellwand.forget(self._key())

    def drop(self):
        """What is kept cannot be shown."""
        self._held = []
        window.ellwand.forget(self._key())

    def found(self, asked):
        """(how it was asked for in full, what was found) for a request; None when nothing is kept."""
        of = written(asked)
        for one in self._all():
            if one["of"] == of:
                return one["request"], one["result"]
        return None

    def _key(self):
        return "ellwand %s %s" % (window.ellwand.home, self._what)

    def _all(self):
        if not self._held:
            try:
                kept = json.loads(window.ellwand.recall(self._key()) or "[]")
                self._held = [
                    one for one in kept if isinstance(one["of"], str) and isinstance(one["request"], dict)
                    and isinstance(one["result"], dict) and one["result"][self._needed]
                ]
            except (ValueError, TypeError, KeyError):
                self._held = []
        return self._held
