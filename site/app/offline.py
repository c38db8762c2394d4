"""The next visit, with no network: registers sw.js and says when a new version waits.

    kept = await keep_offline(on_another)   # True: the whole site is in the browser's cache
    await use_new_version()                 # once on_another(release) was called: reloads the page

Call keep_offline on every visit, after the first pattern, and unless `is_kept()` after load_rest too:
it then fetches little that was not just fetched, and competes with nothing. False: the browser has no
service workers here (plain http, some private windows), or the cache could not be filled (no space, a
lost connection).
`<html data-offline>` says "ready" or "no".
"""

import asyncio

from pyscript import document, window
from pyscript.ffi import create_proxy

_registration = None
NO_INSTALL = "ellwand no install"  # kept once the user has said no


def is_kept():
    """Whether this page came from the browser's cache, where the whole site is."""
    return bool(getattr(getattr(window.navigator, "serviceWorker", None), "controller", None))


async def keep_offline(on_another):
    kept = await _kept(on_another)
    document.documentElement.dataset.offline = "ready" if kept else "no"
    return kept


async def _kept(on_another):
    global _registration
    container = getattr(window.navigator, "serviceWorker", None)
    if not container:
        return False
    try:
        _registration = registration = await container.register("./sw.js")
    except Exception:
        return bool(container.controller)  # no network: what is cached goes on being used
    if registration.active:

        def found(event):
            asyncio.create_task(_announce(registration.installing, on_another))

        registration.addEventListener("updatefound", create_proxy(found))
        asyncio.create_task(_announce(registration.waiting, on_another))
        return True
    first = registration.installing or registration.waiting
    while first and first.state not in ("activated", "redundant"):
        await asyncio.sleep(0.1)
    return bool(first) and first.state == "activated"


async def _announce(worker, on_another):
    while worker and worker.state == "installing":
        await asyncio.sleep(0.5)
    if worker and worker.state == "installed":
        on_another(str(await window.ellwand.releaseOf(worker)))


async def use_new_version():
    """Switch to the version that waits and load the page again. Another tab may have switched before."""
    if not (_registration and _registration.waiting):
        window.location.reload()
        return
    reload = create_proxy(lambda event: window.location.reload())
    window.navigator.serviceWorker.addEventListener("controllerchange", reload)
    _registration.waiting.postMessage("use the new version")


def offer_install():
    """Show the quiet hint where the browser offers to install the page, unless it was refused before."""
    offered = bool(getattr(window.ellwand, "install", None))
    document.getElementById("install").hidden = not offered or bool(window.ellwand.recall(NO_INSTALL))


def answers():
    return {"install": lambda answer, _: _answer_install(answer == "yes")}


async def _answer_install(yes):
    document.getElementById("install").hidden = True
    if yes:
        await window.ellwand.promptInstall()
        window.ellwand.install = None
    else:
        window.ellwand.keep(NO_INSTALL, "yes")
