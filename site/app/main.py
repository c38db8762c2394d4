"""The page's own Python, in MicroPython on the main thread: makes its parts, and starts.

    what is typed → draft.FormDraft → redraw.Redraw → engine.Engine (the worker) → outcome.Outcome

Every section is handed the session, and those that it needs besides. What they answer is in the table. Here
are those that the page needs before it listens; all others are in later.py, and come once it does. They come
first where the page opens at a part that is theirs, or by a link, which is shown before what was typed early.
"""

import asyncio
import json

import offline
import telling
from arriving import Arriving
from fields import Fields
from filling import Filling
from opening import open_page
from outcome import Outcome
from pyscript import document, window
from pyscript.ffi import create_proxy
from ragbag import RagBag
from session import Session
from stage import Stage
from table import Answers
from wayfinding import Wayfinding

LISTENS_AT = ("wearer", "garment", "pieces")  # parts that lack nothing without later.py

with open("catalog.json") as file:
    session = Session(json.load(file))

fields = Fields(session)
stage = Stage(session, telling.by_id("cloth"))
outcome = Outcome(session, fields, stage)
arriving = Arriving(lambda: the_rest())
table = Answers((
    session.undo, session.kits, session.worker, stage, offline, Filling(session, fields),
    Wayfinding(session), RagBag(session), arriving,
))


def the_rest():
    """The sections that come later; they hear now what happened meanwhile."""
    from later import Later

    before = session.news.counted()
    later = Later(session, fields)
    table.take_in(later.sections, [(typed[0], typed[1]) for typed in window.ellwand.typedEarly()])
    session.news.repeat(before)
    return later


def listen(to, kind, react, capture=False):
    to.addEventListener(kind, create_proxy(react), capture)


def on_visibility(event):
    session.tell("seen")
    if document.hidden:
        session.kits.leaving()
        asyncio.create_task(session.kits.save_now())


def on_link(event):
    arriving.when_here(lambda later: later.visiting.arrive(window.location.hash))


async def begin():
    link = window.location.hash if window.ellwand.holdsDraft() else ""
    wait = link or document.documentElement.dataset.part not in LISTENS_AT
    later = await arriving.at_once() if wait else None
    await open_page(session, fields, outcome, later and later.visiting)
    if link and not later:
        arriving.when_here(lambda came: came.visiting.arrive(link))
    listen(document, "input", table.happened)
    listen(document, "change", table.happened)
    listen(document, "click", table.tapped)
    listen(document, "keydown", table.pressed)
    listen(document, "toggle", table.happened, True)
    listen(document, "visibilitychange", on_visibility)
    window.onpagehide = create_proxy(lambda event: session.kits.leaving())
    listen(document, "ellwand-link", on_link)
    listen(document, "ellwand-part", lambda event: session.tell("part"))
    session.tell("part")
    window.ellwand.backToPlace()
    listen(document, "ellwand-install", lambda event: offline.offer_install())
    offline.offer_install()
    telling.show("share-link", bool(window.ellwand.canShare("", "")))
    document.documentElement.dataset.usable = "yes"
    window.performance.mark("usable")
    asyncio.create_task(arriving.come())
    asyncio.create_task(session.worker.start(session.worker.engine.start))
