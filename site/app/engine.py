"""The page's end of the worker: how it starts, how far it is, calls to it, and what went wrong.

    engine = Engine(on_progress=show, on_failure=complain, on_slow=warn)
    if await engine.start():                           # True once the worker has answered
        result = await engine.run({"do": "draft", …})  # a dict, from drafting.requests.workbench.run
        result, file = await engine.run_bytes({"do": "file", …})  # file: a Uint8Array, or None
        failed = await engine.load_rest(kept)          # {package: sentence}; empty when all is there

`on_progress(part, loaded, total)` counts bytes; part is "first" until the worker answers, then
"rest". `on_failure(reason)` gets a sentence; after it, `await engine.retry()` tries a new worker.
`on_slow(True)` when the worker is asked and nothing has been heard of it for a while, `on_slow(False)`
when that is over. The calls raise WorkerFailed. `<html data-engine>` says "starting", "running" or
"failed".

How a worker fails, and how that shows here:
- a file of the interpreter is missing or broken: PyScript rejects the worker's promise;
- the browser refuses the worker, or it stumbles over itself: an `error` event on it;
- worker.py is missing or broken: PyScript logs the error and fulfils the promise all the same, but
  nothing is exported and a call would wait for ever. So `start` asks for a first answer, and
  waits only so long for it;
- the network stalls: no bytes for SILENCE seconds;
- the worker is ended while it works: no browser tells. An answer, a step or a byte shows that it lives;
  with none of them for CALL seconds it counts as lost, and so do its answers once another is started.
"""

import asyncio
import json

from pyscript import document, window, workers
from pyscript.ffi import create_proxy, to_js
from telling import plain

NAME = "drafting"  # of the worker's script; a retry appends its number
ANSWER = 5  # seconds within which a worker that has started must answer
SILENCE = 30  # seconds without a byte after which loading has failed
CALL = 60  # seconds without a sign of life after which a call counts as lost
SLOW = 10  # and after which the user is told
LATE = "The drafting tools do not answer any more."
GONE = "The drafting tools have stopped."


class WorkerFailed(Exception):
    """A sentence that the page can show; `of` is the number of the worker that failed."""

    def __init__(self, sentence, of=0):
        super().__init__(sentence)
        self.of = of


class _Call:
    """An answer that is waited for; `lose(reason)` ends the waiting."""

    def __init__(self, seconds):
        self.since, self.seconds, self._reject = _now(), seconds, None

    async def answered(self, promise):
        lost = window.Promise.new(create_proxy(lambda resolve, reject: setattr(self, "_reject", reject)))
        return await window.Promise.race(to_js([promise, lost]))

    def lose(self, reason):
        self._reject(window.Error.new(reason))


class Engine:
    def __init__(self, on_progress, on_failure, on_slow):
        self.info = {}  # what the worker said of itself: "start", "version"
        self._on_progress = on_progress
        self._on_failure = on_failure
        self._on_slow = on_slow
        self._is_slow = False
        self._name = NAME
        self.number = 1  # of the worker: those before it have failed
        self._worker = None
        self._calls = []
        self._on_step = {}  # by what is watched
        self._broken = ""
        self._heard = 0

    async def start(self):
        """Wait for the worker that index.html started; False after `on_failure` was told why."""
        self._say("starting")
        try:
            self._worker = await self._started()
            self.info = json.loads(await self._call("hello", (), ANSWER))
            if "version" not in self.info:
                self.info.update(json.loads(await self._call("version", (), CALL)))
        except Exception as error:
            self._say("failed")
            self._on_failure(_why(error))
            return False
        self._say("running")
        return True

    async def retry(self):
        """Drop the worker that failed and start another, as `start` does, of files that are whole."""
        self._say("starting")
        old = self._script()
        if not old:  # another try has taken it away, and is fetching what is broken
            return await self.start()
        if getattr(old, "xworker", None):
            old.xworker.terminate()
        self.number += 1
        self._name = f"{NAME}-{self.number}"
        self._lose("The drafting tools were started again.", self._calls)
        await window.ellwand.mend()
        window.ellwand.anotherWorker(old, self._name)
        return await self.start()

    async def run(self, request):
        return json.loads(await self._call("run", (json.dumps(request),), CALL))

    async def run_bytes(self, request):
        result, content = await self._call("run_bytes", (json.dumps(request),), CALL)
        return json.loads(result), content

    async def lay(self, request, on_step):
        """The lay of a request; `on_step` is told how far it is, as workbench.lay_in_steps does."""
        return await self._watched("lay", request, on_step)

    async def save(self, request, on_step):
        """What would save cloth; `on_step` is told, as workbench.save_in_steps does."""
        return await self._watched("save", request, on_step)

    async def shop(self, request, on_step):
        """The shopping list of a request; `on_step` is told, as workbench.shop_in_steps does."""
        return await self._watched("shop", request, on_step)

    async def wear(self, request, on_step):
        """The garment of a request on its wearer; `on_step` is told, as workbench.wear_in_steps does."""
        return await self._watched("wear", request, on_step)

    async def stop(self):
        """End what is watched with the best it has found."""
        await self._call("stop", (), CALL)

    async def _watched(self, name, request, on_step):
        self._on_step[name + "_in_steps"] = on_step
        return json.loads(await self._call(name, (json.dumps(request),), CALL))

    async def load_rest(self, kept):
        return json.loads(await self._call("load_rest", (kept,), 10 * CALL))["failed"]

    async def _started(self):
        self._broken = ""
        self._heard = _now()
        call = _Call(SILENCE)
        watching = asyncio.create_task(self._watch_the_start(call))
        try:
            return await call.answered(workers[self._name])
        except Exception:
            if self._broken:
                raise WorkerFailed(self._broken)  # noqa: B904 - MicroPython has no chaining
            raise
        finally:
            watching.cancel()

    async def _watch_the_start(self, call):
        script = self._script()
        listening = False
        while not self._broken:
            if not listening and getattr(script, "xworker", None):
                script.xworker.addEventListener("message", create_proxy(self._message))
                script.xworker.addEventListener("error", create_proxy(self._error))
                listening = True
            lost = window.ellwand.brokenOfWorker()
            if lost:
                self._broken = "%s could not be loaded: it is missing or damaged." % lost
            elif _now() - self._heard > SILENCE:
                self._broken = f"Loading stopped: nothing came for {SILENCE} seconds."
            await asyncio.sleep(0.02)
        call.lose(self._broken)

    def _script(self):
        return document.querySelector(f'script[name="{self._name}"]')

    def _message(self, event):
        kind = getattr(event.data, "ellwand", None)
        if kind:
            self._heard = _now()
        if kind == "step":
            self._on_step[event.data.of](json.loads(event.data.text))
        elif kind == "progress":
            self._on_progress(event.data.part, event.data.loaded, event.data.total)

    def _error(self, event):
        self._broken = getattr(event, "message", None) or "The browser stopped the worker."
        self._lose(GONE, self._calls)

    async def _call(self, name, arguments, seconds):
        if self._worker is None:
            raise WorkerFailed("The worker has not started.", self.number)
        if self._broken:
            raise WorkerFailed(GONE, self.number)
        of, call = self.number, _Call(seconds)
        self._calls.append(call)
        if len(self._calls) == 1:
            asyncio.create_task(self._watch())
        try:
            return await call.answered(getattr(self._worker, name)(*arguments))
        except Exception as error:
            raise WorkerFailed(str(error), of)  # noqa: B904 - MicroPython has no chaining
        finally:
            if of == self.number:
                self._heard = _now()
            if call in self._calls:
                self._calls.remove(call)

    async def _watch(self):
        """While an answer is waited for: whether the worker still gives a sign of life."""
        while self._calls:
            await asyncio.sleep(0.25)
            now = _now()
            quiet = [(now - max(self._heard, call.since), call) for call in self._calls]
            self._lose(LATE, [call for seconds, call in quiet if seconds > call.seconds])
            slow = any(seconds > SLOW for seconds, call in quiet if call.seconds <= CALL)
            self._tell(slow)
        self._tell(False)

    def _tell(self, slow):
        if slow != self._is_slow:
            self._is_slow = slow
            self._on_slow(slow)

    def _lose(self, reason, calls):
        for call in calls:
            call.lose(reason)
        self._calls = [call for call in self._calls if call not in calls]

    def _say(self, state):
        document.documentElement.dataset.engine = state


def _now():
    return window.performance.now() / 1000


def _why(error):
    """A sentence, whatever the browser says."""
    reason = plain(error)
    if isinstance(error, WorkerFailed) or "could not be loaded" in reason:
        return reason
    return "A part of them is missing or damaged (%s)." % reason.rstrip(".")
