"""A long work of the worker while the user watches: how far it is, that it is over, or why it failed."""

import telling
from telling import by_id, set_text, show


class Watching:
    """`what` is made in a place of the page whose parts are called after it: PLACE-working is shown
    meanwhile and PLACE-buttons is not; PLACE-progress, PLACE-so-far and PLACE-said tell."""

    def __init__(self, place, what, ready):
        self._place, self._what, self._ready = place, what, ready
        self.busy = False

    async def through(self, work):
        """Do the work once the worker runs, unless something is being made in this place already."""
        if self.busy:
            return
        self._set_busy(True)
        by_id(self._place + "-progress").removeAttribute("value")
        self.so_far("Getting the cloth out")
        self.say("")
        try:
            if await self._ready():
                await work()
            else:
                self.say("%s comes as soon as the drafting tools run: see above." % self._what)
        except Exception as error:
            self.say("%s could not be made (%s). Please try again." % (self._what, telling.plain(error)))
        finally:
            self._set_busy(False)

    def say(self, text):
        set_text(self._place + "-said", text)

    def refused(self, result):
        """Say why there is none."""
        self.say("Not yet: " + " ".join(p["message"] for p in result["problems"]))

    def so_far(self, text, done=None):
        set_text(self._place + "-so-far", text)
        if done is not None:
            by_id(self._place + "-progress").value = done

    def _set_busy(self, busy):
        self.busy = busy
        show(self._place + "-working", busy)
        show(self._place + "-buttons", not busy)
