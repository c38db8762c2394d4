"""What was handed over by a link that is more than one draft: a kit, or the parts of a long link.

A part is a link like any other: each that is opened is kept beside the draft, in every tab alike, until
all are there. Nothing of the user's own changes before they say so.
"""

import asyncio
import json

from pyscript import window
from takeaway import hand_over
from telling import notice

KINDS = ("kit=", "draft=")
MOST = 60  # parts kept; older ones give way
READING = "Something longer came by a link. It is read as soon as the drafting tools run."


def is_handed(fragment):
    """Whether a fragment is a kit, or a part of one or of a long draft."""
    return fragment.lstrip("#").startswith(KINDS)


class Handed:
    """`run` and `ready` as for Codes. `open_draft(fragment)` shows a draft."""

    def __init__(self, run, ready, open_draft, clear_address):
        self._run, self._ready = run, ready
        self._open_draft, self._clear_address = open_draft, clear_address
        self._key = "ellwand " + window.location.pathname + " parts"
        self._parts = self._kept()
        self.kits = lambda: None  # given by main.py: what opens a kit's text, or merges it
        self.kit = None  # the kit that waits for the user's word: {"said", "kit"}

    def open(self, fragment):
        """A link was opened, or, with an empty fragment, the page was: parts may wait from before."""
        if fragment:
            if fragment in self._parts:
                self._parts.remove(fragment)
            self._parts = (self._parts + [fragment])[-MOST:]
            self._keep()
        if self._parts:
            asyncio.create_task(self._read())

    async def _read(self):
        if not window.performance.getEntriesByName("first-pattern").length:
            notice("handed", [READING])
        asked = list(self._parts)
        if not await self._ready():
            return
        result = await self._run({"do": "open-link", "fragments": asked})
        if result is None or asked != self._parts:
            return
        if not result["ok"]:
            self._drop_last()
            notice("handed", [p["message"] for p in result["problems"]], [("handed:close", "Close")])
        elif result["kind"] == "parts":
            have, wanted = result["have"], result["wanted"]
            notice("handed", [
                "%d of %d codes are here: scan the others, in any order." % (have, wanted),
            ], [("handed:forget", "Leave it")])
        elif result["kind"] == "draft":
            self._forget()
            notice("handed", [])
            self._open_draft(result["fragment"])
        else:
            self.kit = result
            self._offer()

    def _offer(self):
        buttons = [("handed:save", "Save it as a file"), ("handed:forget", "Leave it")]
        if self.kits():
            buttons = [("handed:own", "Open it as a kit of its own"),
                       ("handed:merge", "Add it to mine")] + buttons
        said = self.kit["said"] + ". It came by a link. Nothing of yours has changed."
        notice("handed", [said], buttons)

    def do(self, what):
        if what == "save":
            hand_over(self.kit["kit"], "application/json", "kit.json")
            return
        kit, self.kit = self.kit, None
        if what != "close":
            self._forget()
        self._clear_address()
        notice("handed", [])
        if what == "own":
            asyncio.create_task(self.kits().open_text(kit["kit"]))
        elif what == "merge":
            asyncio.create_task(self.kits().merge_text(kit["kit"]))

    # --- The parts that are there ----------------------------------------------------------------

    def _kept(self):
        try:
            kept = json.loads(window.ellwand.recall(self._key) or "[]")
            return [part for part in kept if isinstance(part, str) and is_handed(part)]
        except Exception:
            return []

    def _keep(self):
        window.ellwand.keep(self._key, json.dumps(self._parts))

    def _drop_last(self):
        self._parts = self._parts[:-1]
        self._keep()

    def _forget(self):
        self._parts = []
        self._keep()
