"""The page's end of the worker: how it starts, how far it is, calls to it, and what went wrong.

    engine = Engine(on_progress=show, on_failure=complain)
    await engine.start()                      # True once the worker answers
    result = await engine.run({...})          # a dict, from drafting.workbench.run
    result, file = await engine.run_bytes({...})   # file: a JavaScript Uint8Array, or None
    await engine.load_rest()
    engine.keep_offline()

`on_progress(part, loaded, total)`: bytes; part is "first" (before the first pattern) or "rest".
`on_failure(reason)`: a sentence. After it, `await engine.retry()` starts a new worker.

How a worker fails, and how that shows here:
- a file of the interpreter is missing or broken: PyScript rejects the worker's promise;
- the browser refuses the worker, or kills it: an `error` event on it, or silence;
- worker.py is missing or broken: PyScript prints the error, and the promise is fulfilled all the same,
  but nothing is exported and a call would wait for ever. So `start` asks for a first answer and
  waits only so long for it;
- the network stalls: no bytes for STALLED seconds.
"""

import asyncio
import json

from pyscript import document, window, workers
from pyscript.ffi import create_proxy, to_js

ANSWER = 20  # seconds within which a worker that has started must answer
STALLED = 30  # seconds without a byte, or a sign of life, after which loading has failed
CALL = 60  # seconds after which a call counts as lost


class WorkerFailed(Exception):
    """A sentence the page can show."""


class Engine:
    def __init__(self, on_progress, on_failure):
        self.on_progress = on_progress
        self.on_failure = on_failure
        self.info = None  # what the worker said of itself
        self._worker = None
        self._tries = 0
        self._heard = 0
        self._broken = ""

    async def start(self):
        name = "drafting" if self._tries == 0 else "drafting-%d" % (self._tries + 1)
        try:
            return await self._start(name)
        except Exception as error:
            return self._fail(str(error))

    async def _start(self, name):
        script = document.querySelector('script[name="%s"]' % name)
        self._broken = ""
        self._heard = _now()
        ready = asyncio.create_task(_fulfilled(workers[name]))
        listening = False
        while not ready.done():
            if not listening and getattr(script, "xworker", None):
                self._listen(script.xworker)
                listening = True
            if self._broken:
                raise WorkerFailed(self._broken)
            if _now() - self._heard > STALLED:
                raise WorkerFailed("Loading has stopped: no data came for %d seconds." % STALLED)
            await asyncio.sleep(0.02)
        self._worker = await ready
        self.info = json.loads(await self._call("hello", None, ANSWER))
        return True

    def _listen(self, xworker):
        xworker.addEventListener("message", create_proxy(self._message))
        xworker.addEventListener("error", create_proxy(self._error))

    def _message(self, event):
        data = event.data
        if getattr(data, "ellwand", None) == "progress":
            self._heard = _now()
            self.on_progress(data.part, data.loaded, data.total)

    def _error(self, event):
        self._broken = str(getattr(event, "message", "")) or "The browser stopped the worker."

    async def retry(self):
        """Drop the worker that failed and start another."""
        name = "drafting" if self._tries == 0 else "drafting-%d" % (self._tries + 1)
        old = document.querySelector('script[name="%s"]' % name)
        if getattr(old, "xworker", None):
            old.xworker.terminate()
        self._tries += 1
        self._worker = None
        script = document.createElement("script")
        for key in ("type", "worker", "src"):
            script.setAttribute(key, old.getAttribute(key))
        script.setAttribute("name", "drafting-%d" % (self._tries + 1))
        old.replaceWith(script)
        return await self.start()

    async def run(self, request):
        """What drafting.workbench.run answers to the request. Raises WorkerFailed."""
        return json.loads(await self._call("run", json.dumps(request), CALL))

    async def run_bytes(self, request):
        """The answer and, if it made a file, that file's bytes. Raises WorkerFailed."""
        pair = await self._call("run_bytes", json.dumps(request), CALL)
        return json.loads(pair[0]), pair[1]

    async def load_rest(self):
        """Load what files and the lay need: {"ready": [...], "failed": {package: sentence}}."""
        return json.loads(await self._call("load_rest", None, 10 * CALL))

    async def keep_offline(self):
        """Register the service worker; True once the whole page is kept for use with no network."""
        if not getattr(window.navigator, "serviceWorker", None):
            return False
        await window.navigator.serviceWorker.register("./sw.js")
        await window.navigator.serviceWorker.ready
        return True

    async def _call(self, name, text, seconds):
        call = getattr(self._worker, name)
        answer = call(text) if text is not None else call()
        late = "The worker gave no answer within %d seconds." % seconds
        return await window.Promise.race(to_js([answer, _rejected_after(seconds, late)]))

    def _fail(self, reason):
        self.on_failure(reason)
        return False


async def _fulfilled(promise):
    return await promise


def _now():
    return window.performance.now() / 1000


def _rejected_after(seconds, reason):
    def settle(resolve, reject):
        window.setTimeout(create_proxy(lambda: reject(window.Error.new(reason))), seconds * 1000)

    return window.Promise.new(create_proxy(settle))
