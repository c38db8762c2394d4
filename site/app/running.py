"""Keeps the worker going: starts it, starts it again when it stops, and says so.

    running.run(request)        for everything else: asked once more when the worker stopped meanwhile,
                                None when it does not come back
    running.steady              the same of all that engine.py can be asked for, but raises WorkerFailed
    running.redraw              draws what is on the form, again whenever that changes
    await running.ready()       until the page shows what is typed; False when no worker will run
"""

import asyncio

import telling
from engine import CALL, Engine, WorkerFailed
from clock import now
from offline import is_kept, keep_offline, use_new_version
from pyscript import window
from redraw import Redraw
from releases import told_of

# Seconds within which a second stop is the user's to decide on: longer than it takes to notice one.
RESTART = 3 * CALL
OFFLINE = "Everything is on this device now: the page works with no network."
ONLINE_ONLY = "The page could not be kept on this device: the next visit needs the network again."
REST_FAILED = (
    "What printing needs could not be fetched. Drawing goes on; for the files, check the connection."
)
STOPPED = "The drafting tools stopped. They are being started again."
SLOW = (
    "The drafting tools have not answered for a while. They may be at something large; if they do not "
    "come back, they are started again, and nothing you typed is lost."
)


class Running:
    """`ask()` gives the request for what is on the form, `show(result)` puts its answer on the page."""

    def __init__(self, ask, show):
        self.engine = Engine(self._progress, self.failed, self.slow)
        self._is_complete = False  # nothing that comes from now on comes over the network
        self.steady = Steady(self)
        self.redraw = Redraw(ask, self._draw, show)
        self.ready = self.redraw.settled
        self._restarted = -RESTART

    def answers(self):
        return {
            "retry": lambda *_: self.start(self.engine.retry),
            "rest": lambda *_: self.rest(),
            "newer": lambda *_: use_new_version(),
        }

    def failed(self, reason):
        self.redraw.able, self.redraw.hopeless = False, True
        telling.trouble(reason)

    def slow(self, is_slow):
        telling.notice("slow", [SLOW] if is_slow else [], [("retry", "Start them again now")])

    def _progress(self, part, loaded, total):
        if not self._is_complete:
            telling.progress(part, loaded, total)

    async def start(self, starting):
        telling.trouble("")
        self._is_complete = False
        self.redraw.able = self.redraw.hopeless = False
        if not await starting():
            return
        self.redraw.able = True
        self.redraw.now()
        await self.ready()
        await self.rest()

    async def rest(self):
        """Fetch what printing needs, and keep all of it for the next visit, unless it is kept already."""
        telling.notice("rest", [])
        kept = is_kept()
        if kept:
            self._is_complete = True
            telling.loaded()
            await self._keep()
        try:
            failed = await self.engine.load_rest(kept)
        except WorkerFailed as error:
            return self.stopped(error)
        telling.loaded()
        window.performance.mark("rest")
        if failed:
            telling.notice("rest", [REST_FAILED], [("rest", "Try again")])
        elif not kept:
            await self._keep()

    async def _keep(self):
        kept = await keep_offline(self._say_another)
        telling.set_text("offline", OFFLINE if kept else ONLINE_ONLY)

    def _say_another(self, release):
        said = told_of(release, self.engine.info.get("version", ""))
        telling.notice("newer", [said], [("newer", "Use it now"), ("close:newer", "Later")])

    async def _draw(self, request):
        """None when the worker has stopped; it draws again once another runs."""
        try:
            return await self.engine.run(request)
        except WorkerFailed as error:
            self.stopped(error)
            return None

    async def run(self, request):
        try:
            return await self.steady.run(request)
        except WorkerFailed:
            return None

    def stopped(self, error):
        """Once it is mended silently; a worker that stops again soon is the user's to decide on."""
        if error.of != self.engine.number:
            return  # another runs by now, or is being started
        self.redraw.able = False
        if now() - self._restarted < RESTART:
            self.failed(error)
            return
        self._restarted = now()
        telling.set_text("status", STOPPED)
        asyncio.create_task(self.start(self.engine.retry))


class Steady:
    """The engine, for whoever wants an answer even if another worker has to be started for it."""

    def __init__(self, running):
        self._running = running

    async def run(self, request):
        return await self._sure(lambda engine: engine.run(request))

    async def run_bytes(self, request):
        return await self._sure(lambda engine: engine.run_bytes(request))

    async def lay(self, request, on_step):
        return await self._sure(lambda engine: engine.lay(request, on_step))

    async def save(self, request, on_step):
        return await self._sure(lambda engine: engine.save(request, on_step))

    async def shop(self, request, on_step):
        return await self._sure(lambda engine: engine.shop(request, on_step))

    async def wear(self, request, on_step):
        return await self._sure(lambda engine: engine.wear(request, on_step))

    async def stop(self):
        await self._running.engine.stop()

    async def _sure(self, call):
        try:
            return await call(self._running.engine)
        except WorkerFailed as error:
            self._running.stopped(error)
            if not await self._running.ready():
                raise
        return await call(self._running.engine)
