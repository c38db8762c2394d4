"""The page's own Python, in MicroPython on the main thread: makes its parts, and starts.

    what is typed → draft.FormDraft → redraw.Redraw → engine.Engine (the worker) → outcome.Outcome

Every section is handed the session, and those that it needs besides. What they answer is in the table.
"""

import asyncio
import json

import offline
import telling
from advice import AdvicePart
from awake import Awake
from bolts import BoltsPart
from chalking import Chalking
from changes import Changes
from clothlist import ClothList
from codes import Codes
from cutting import Cutting
from enlarging import Enlarging
from fields import Fields
from filling import Filling
from handed import Handed
from houserules import HouseRulesForm
from kitfiles import KitFiles
from kitlist import KitList
from kitshelf import KitShelf
from opening import open_page
from outcome import Outcome
from pyscript import document, window
from pyscript.ffi import create_proxy
from ragbag import RagBag
from season import SeasonPart
from session import Session
from sewing import Sewing
from shopping import ShoppingPart
from stage import Stage
from table import Answers
from takenup import TakenUp
from takeaway import TakeAway
from tryon import TryOn
from visiting import Visiting
from wayfinding import Wayfinding
from wearers import Wearers
from worn import WornPart

BUSY = "[data-part=chalking] .chalk-piece[open], [data-part=sewing] .step[open], #qr:not([hidden])"

with open("catalog.json") as file:
    session = Session(json.load(file))

fields = Fields(session)
stage = Stage(session, telling.by_id("cloth"))
outcome = Outcome(session, fields, stage)
changes = Changes(session, fields)
chalking = Chalking(session)
enlarging = Enlarging()
cutting = Cutting(session, chalking, changes, enlarging)
codes = Codes(session)
bolts = BoltsPart(session, enlarging)
files = KitFiles(session, codes)
shelf = KitShelf(session, files)
handed = Handed(session, files)
visiting = Visiting(session, handed)
advice = AdvicePart(session, fields, changes)
awake = Awake(session, BUSY)
table = Answers((
    session.undo, session.kits, session.worker, stage, changes, chalking, cutting, enlarging, codes, files,
    shelf, handed, visiting, awake, offline, Filling(session, fields), advice,
    HouseRulesForm(session, advice), Wearers(session), KitList(session), ClothList(session),
    Sewing(session), bolts, ShoppingPart(session, bolts), WornPart(session),
    TakenUp(session), TryOn(session), SeasonPart(session),
    TakeAway(session, cutting, codes), Wayfinding(session), RagBag(session),
))


def listen(to, kind, react, capture=False):
    to.addEventListener(kind, create_proxy(react), capture)


def on_visibility(event):
    awake.look()
    if document.hidden:
        session.kits.leaving()
        asyncio.create_task(session.kits.save_now())


async def begin():
    await open_page(session, fields, outcome, handed, visiting)
    if session.kits.is_demo:
        asyncio.create_task(shelf.list())
    listen(document, "input", table.happened)
    listen(document, "change", table.happened)
    listen(document, "click", table.tapped)
    listen(document, "keydown", table.pressed)
    listen(document, "toggle", table.happened, True)
    listen(document, "visibilitychange", on_visibility)
    window.onpagehide = create_proxy(lambda event: session.kits.leaving())
    listen(document, "ellwand-link", lambda event: visiting.arrive(window.location.hash))
    listen(document, "ellwand-part", lambda event: session.tell("part"))
    session.tell("part")
    window.ellwand.backToPlace()
    listen(document, "ellwand-install", lambda event: offline.offer_install())
    offline.offer_install()
    telling.show("share-link", bool(window.ellwand.canShare("", "")))
    document.documentElement.dataset.usable = "yes"
    window.performance.mark("usable")
    asyncio.create_task(session.worker.start(session.worker.engine.start))
