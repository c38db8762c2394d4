"""The page's own Python: runs in MicroPython as soon as the page is there.

This is the bare pipeline: start the worker, show how far it is, draft once, fetch the rest, keep it
for the next visit. See app/engine.py for how calls and failures work.
"""

import asyncio

from engine import Engine
from offline import keep_offline
from pyscript import document, window
from pyscript.ffi import create_proxy

state = document.querySelector("#state")
bar = document.querySelector("#progress")
retry = document.querySelector("#retry")
result = document.querySelector("#result")


def show_progress(part, loaded, total):
    bar.max = total or 1
    bar.value = loaded
    state.textContent = "%s: %.1f of %.1f MB" % (part, loaded / 1e6, total / 1e6)


def show_failure(reason):
    state.textContent = reason
    retry.hidden = False


engine = Engine(show_progress, show_failure)


async def go(starting):
    retry.hidden = True
    if not await starting():
        return
    answer = await engine.run({"do":"draft","garment":"apron-dress","measurements":{"bust_girth":"92","waist_girth":"78","torso_length":"38"},"options":{"length":"115","hem_girth":"240"},"unit":"cm"})
    result.textContent = str(len(answer))
    window.performance.mark("first-pattern")
    state.textContent = "Ready (%s start)" % engine.info["start"]
    failed = await engine.load_rest()
    window.performance.mark("rest")
    state.textContent = " ".join(failed.values()) or "Everything is loaded"
    await keep_offline(lambda: print("A new version of the page waits for the next visit."))


retry.addEventListener("click", create_proxy(lambda event: asyncio.create_task(go(engine.retry))))
document.documentElement.dataset.usable = "yes"
window.performance.mark("usable")
asyncio.create_task(go(engine.start))
