"""Drawing again as the user types: one request at a time, and always for what was typed last."""

import asyncio

from clock import mark, now
from pyscript import document, window

SETTLE = 0.12  # seconds without typing before a request is sent
PATIENCE = 0.7  # seconds without typing before a half-typed number is called wrong


class Redraw:
    """`ask()` gives the request, `run` answers it, `show(result)` puts it on the page.

    At most one request is under way. What was typed meanwhile makes the next, so answers come in
    the order of asking and an older one never covers a newer. `<html data-settled>` says whether the
    page shows what is typed.
    """

    def __init__(self, ask, run, show):
        self._ask, self._run, self._show = ask, run, show
        self._wanted = 0
        self._drawn = 0
        self._changed_at = 0.0
        self._task = None
        self.able = False  # whether there is a worker to ask
        self.hopeless = False  # whether there will be none until the user tries again

    def soon(self):
        """Something was typed."""
        self._wanted += 1
        self._changed_at = now()
        self._go()

    def now(self):
        """Something was tapped, or the worker has just come up: no waiting."""
        self._wanted += 1
        self._changed_at = now() - PATIENCE
        self._go()

    def _go(self):
        document.documentElement.dataset.settled = "no"
        if self.able and (self._task is None or self._task.done()):
            self._task = asyncio.create_task(self._until_drawn())

    async def settled(self):
        """Wait until the page shows what is typed; False when there is no worker to draw it."""
        while not self.hopeless and not (self.able and self._drawn == self._wanted):
            await asyncio.sleep(0.02)
        return not self.hopeless

    async def _until_drawn(self):
        while self.able and self._drawn != self._wanted:
            await self._quiet_for(SETTLE)
            asked_for = self._wanted
            mark("asked")
            result = await self._run(self._ask())
            if result is None:
                return
            if not result["ok"]:
                await self._quiet_for(PATIENCE)
                if self._wanted != asked_for:
                    continue
            self._show(result)
            self._drawn = asked_for
            mark("drawn")
            if not window.performance.getEntriesByName("first-pattern").length:
                window.performance.mark("first-pattern")
        document.documentElement.dataset.settled = "yes"

    async def _quiet_for(self, seconds):
        while True:
            left = seconds - (now() - self._changed_at)
            if left <= 0.001:
                return
            await asyncio.sleep(left)
