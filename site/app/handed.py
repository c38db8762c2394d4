"""What was handed over by a link that is more than one draft: a kit, or the parts of a long link.

A part is a link like any other: each that is opened is kept beside the draft, in every tab alike, until
all are there. Nothing of the user's own changes before they say so.
"""

import asyncio
import json

from exchange import hand_over
from keeping import clear_address
from pyscript import window
from telling import notice

KINDS = ("kit=", "draft=")
MOST = 60  # parts kept; older ones give way
LONGEST = 100000  # characters of one link; a kit of 500 garments takes a fifth of them
MOST_KEPT = 200000  # characters of all parts together
TOO_LONG = "This link is %d characters long, more than a kit ever needs: ask for it as a file."
READING = "Something longer came by a link. It is read as soon as the drafting tools run."


def is_handed(fragment):
    """Whether a fragment is a kit, or a part of one or of a long draft."""
    return fragment.lstrip("#").startswith(KINDS)


def bounded(parts):
    """The latest of the parts, as many as are kept."""
    kept, room = [], MOST_KEPT
    for part in reversed(parts[-MOST:]):
        room -= len(part)
        if room < 0 or len(part) > LONGEST:
            break
        kept.insert(0, part)
    return kept


class Handed:
    """`files` opens a kit's text, or merges it."""

    def __init__(self, session, files):
        self._session, self._files = session, files
        self._key = "ellwand " + window.ellwand.home + " parts"
        self._parts = self._kept()
        self._kit = None  # the kit that waits for the user's word: {"said", "kit"}

    def answers(self):
        return {
            "handed:save": lambda *_: hand_over(self._kit["kit"], "application/json", "kit.json"),
            "handed:own": lambda *_: self._files.open_text(self._let_go()),
            "handed:merge": lambda *_: self._files.merge_text(self._let_go()),
            "handed:forget": lambda *_: self._let_go(),
            "handed:close": lambda *_: self._close(),
        }

    def open(self, fragment):
        """A link was opened, or, with an empty fragment, the page was: parts may wait from before."""
        if len(fragment) > LONGEST:
            notice("handed", [TOO_LONG % len(fragment)], [("handed:close", "Close")])
            return
        if fragment:
            if fragment in self._parts:
                self._parts.remove(fragment)
            self._parts = bounded(self._parts + [fragment])
            self._keep()
        if self._parts:
            asyncio.create_task(self._read())

    async def _read(self):
        if not window.performance.getEntriesByName("first-pattern").length:
            notice("handed", [READING])
        asked = list(self._parts)
        if not await self._session.worker.ready():
            return
        result = await self._session.worker.run({"do": "open-link", "fragments": asked})
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
            self._session.tell("link", result["fragment"])
        else:
            self._kit = result
            self._offer()

    def _offer(self):
        said = self._kit["said"] + ". It came by a link. Nothing of yours has changed."
        notice("handed", [said] + self._kit["set_aside"], [
            ("handed:own", "Open it as a kit of its own"), ("handed:merge", "Add it to mine"),
            ("handed:save", "Save it as a file"), ("handed:forget", "Leave it"),
        ])

    def _let_go(self):
        """The text of the kit that waited; what it came by is gone from here."""
        text = self._kit and self._kit["kit"]
        self._forget()
        self._close()
        return text

    def _close(self):
        self._kit = None
        clear_address()
        notice("handed", [])

    # --- The parts that are there ----------------------------------------------------------------

    def _kept(self):
        try:
            text = window.ellwand.recall(self._key) or "[]"
            kept = json.loads(text) if len(text) < 2 * MOST_KEPT else []
            return bounded([part for part in kept if isinstance(part, str) and is_handed(part)])
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
