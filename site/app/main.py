"""The page's own Python, in MicroPython on the main thread: it starts things and passes events on.

    form → draft.FormDraft → redraw.Redraw → engine.Engine (the worker) → page.Page.show
"""

import asyncio
import json

import telling
from advice import AdvicePart
from awake import Awake
from codes import Codes
from cutting import Cutting, next_piece
from draft import with_names
from handed import Handed
from keeping import clear_address
from kitfiles import KitFiles
from kitlist import KitList
from offline import answer_install, offer_install, use_new_version
from page import Page
from pyscript import document, window
from pyscript.ffi import create_proxy
from redraw import Redraw
from running import Running
from sewing import Sewing
from shopping import SECONDS, ShoppingPart
from takeaway import copy, share_file, share_link
from wearers import Wearers
from words import explained

with open("catalog.json") as file:
    page = Page(json.load(file))


running = Running()
page.redraw = running.redraw = Redraw(page.ask_to_draw, running.draw, page.show)
page.run_bytes = running.steady.run_bytes
cutting = Cutting(page.ask, running.steady, page.redraw.settled)
sewing = Sewing(
    page.ask_to_sew, running.run, page.redraw.settled, page.sewn, page.view_part, page.keep
)
awake = Awake("details.chalk-piece[open], #sewing-made:not([hidden]), #qr:not([hidden])")
codes = Codes(running.run, page.redraw.settled, awake.look)
page.laid = lambda: cutting.laid
page.advice = advice = AdvicePart(page, running.run, page.redraw.settled)
page.kit_list = kit_list = KitList(page, running.run, page.redraw.settled)
page.kits.offer_undo = page.offer_undo
page.kits.files = kit_files = KitFiles(page, running.run, page.redraw.settled, codes)
page.kits.saved = lambda: asyncio.create_task(kit_files.saved())
page.wearers = wearers = Wearers(page, running.steady, page.redraw.settled)
shopping = ShoppingPart(lambda: ask_to_shop(), running.steady, page.redraw.settled)
page.handed = handed = Handed(
    running.run, page.redraw.settled, lambda fragment: open_fragment(fragment), clear_address
)
handed.kits = lambda: kit_files


def ask_to_shop():
    """For the list of the kit, or of one garment while there is no more."""
    if page.own is None and len(page.kits.kit["garments"]) > 1:
        return {"do": "shop", "seconds": SECONDS, "kit": page.kits.as_text(), "unit": page.draft.unit}
    request = with_names(page.ask(), page.draft)
    request.update({"do": "shop", "seconds": SECONDS, "name": page.draft.name.strip()})
    return request


def drawn():
    cutting.check()
    shopping.check()
    asyncio.create_task(sewing.refresh())
    asyncio.create_task(codes.check())


page.drawn = drawn


def on_input(event):
    box = event.target
    if box.getAttribute("data-in") == "impression":
        page.impressed(box)
    elif box.id == "kit-title-text":
        kit_list.titled(box)
    elif box.type == "text" and box.getAttribute("data-in") or box.id == "name":
        page.typed(box)
    elif box.getAttribute("data-pace"):
        sewing.typed(box)


def on_change(event):
    step = event.target.getAttribute("data-step")
    if step:
        sewing.tick(step, event.target.checked)
        kit_list.refresh()
    elif kit_list.chosen(event.target):
        pass
    elif event.target.id == "kit-file":
        asyncio.create_task(kit_files.open_file(event.target))
    elif event.target.id == "wearer-list":
        page.show_garment(event.target.value)
    elif event.target.id == "wearer-file":
        asyncio.create_task(wearers.open_file(event.target))
    elif event.target.id == "house-file":
        asyncio.create_task(advice.open_rules(event.target))
    elif event.target.id == "size":
        wearers.start_from(event.target.value)
    elif event.target.getAttribute("data-pace"):
        asyncio.create_task(sewing.refresh())
    elif event.target.id == "with-name":
        asyncio.create_task(codes.check())
    elif event.target.type != "text":
        page.picked(event.target)


def on_click(event):
    target = event.target.closest("[data-do]")
    if event.target.id == "word":
        return explain("")  # beside the explanation
    if not target:
        return
    event.preventDefault()
    what, _, which = target.getAttribute("data-do").partition(":")
    if what == "remedy":
        page.changes.take({target.getAttribute("data-option"): target.getAttribute("data-value")})
    elif what == "way":
        page.changes.take(cutting.way(int(which)), "lay")
    elif what == "instead":
        page.changes.take_instead(target.getAttribute("data-field"), target.getAttribute("data-value"))
    elif what == "house-open":
        document.getElementById("house-file").click()
    elif what == "house-close":
        advice.close_rules()
    elif what == "leave-out":
        page.changes.leave_out(target.getAttribute("data-field"))
    elif what == "go-to":
        page.go_to(target.getAttribute("data-field"))
    elif what == "section":
        document.getElementById(which).scrollIntoView()
        document.getElementById(which + "-title").focus()
    elif what == "zoom":
        page.zoom(which)
    elif what == "take":
        asyncio.create_task(page.take(which))
    elif what == "lay":
        asyncio.create_task(cutting.lay(which == "torn"))
    elif what == "stop-lay":
        asyncio.create_task(cutting.stop())
    elif what == "ways":
        asyncio.create_task(cutting.ways())
    elif what == "sew":
        asyncio.create_task(open_sewing())
    elif what == "wearer":
        wearers.do(which)
    elif what == "next-piece":
        next_piece(target)
    elif what == "copy-link":
        asyncio.create_task(copy(page.link()))
    elif what == "share":
        link = which == "link"
        asyncio.create_task(share_link(page.link(), page.title()) if link else share_file(which))
    elif what == "qr":
        on_code(which)
    elif what == "install":
        asyncio.create_task(answer_install(which == "yes"))
    elif what == "word":
        explain(which)
    elif what == "shop":
        asyncio.create_task(shopping.do(which))
    elif what == "handed":
        handed.do(which)
    elif what == "undo":
        page.undo_last()
    elif what == "done":
        telling.done("")
    elif what == "afresh":
        page.changes.start_afresh()
    elif what in ("mine", "theirs"):
        page.visiting.choose(what)
    elif what == "kit":
        kit_files.do(which)
    elif what == "garment":
        kit_list.do(which)
    elif what == "cloth":
        kit_list.cloths.do(which)
    elif what == "tabs":
        page.kits.choose_tab(which)
    elif what == "close":
        telling.notice(which, [])
        if which == "link":
            clear_address()
    elif what == "retry":
        asyncio.create_task(running.start(running.engine.retry))
    elif what == "rest":
        asyncio.create_task(running.rest())
    elif what == "newer":
        asyncio.create_task(use_new_version())


async def open_sewing():
    await sewing.open()
    awake.look()


def on_toggle(event):
    if not kit_list.folded(event.target):
        page.folded()
    if event.target.id == "kits-here" and event.target.open:
        asyncio.create_task(kit_files.list())
    awake.look()


def on_code(what):
    if what == "next":
        codes.next()
    elif what == "close":
        codes.close()
    else:
        asyncio.create_task(codes.open(page.link, "show-qr"))


def explain(name):
    """Open a word's explanation, or close it; the browser brings the focus back to the word."""
    dialog = document.getElementById("word")
    if dialog.open:
        dialog.close()
    if name:
        telling.set_text("word-title", name[0].upper() + name[1:])
        telling.set_text("word-text", explained(name))
        dialog.showModal()


def open_fragment(fragment):
    page.visiting.open(fragment)
    page.fields.fill(page.draft)
    page.changed()


def listen(to, kind, react, capture=False):
    to.addEventListener(kind, create_proxy(react), capture)


def on_visibility(event):
    awake.look()
    if document.hidden:
        page.kits.leaving()
        asyncio.create_task(page.kits.save_now())


async def begin():
    await page.open()
    if page.kits.is_demo:
        asyncio.create_task(kit_files.list())
    listen(document, "input", on_input)
    listen(document, "change", on_change)
    listen(document, "click", on_click)
    listen(document, "toggle", on_toggle, True)
    listen(document, "visibilitychange", on_visibility)
    window.onpagehide = create_proxy(lambda event: page.kits.leaving())
    window.onhashchange = create_proxy(lambda event: open_fragment(window.location.hash))
    listen(document, "ellwand-install", lambda event: offer_install())
    offer_install()
    telling.show("share-link", bool(window.ellwand.canShare("", "")))
    document.documentElement.dataset.usable = "yes"
    window.performance.mark("usable")
    asyncio.create_task(running.start(running.engine.start))
