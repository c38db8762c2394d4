"""Kits as files, kits kept on this device, kits made one: nothing is replaced before a file is offered."""

import asyncio

import kitvalues
import telling
from kits import DEMO
from pyscript import window
from safe import esc
from takeaway import (
    address,
    copy_text,
    hand_over,
    offer_to_share,
    share_kit_link,
    with_text,
)
from telling import by_id, set_html, set_text, show

QR = "kit-qr"  # the button that shows the kit's codes
LARGEST = 4000000  # bytes; more is not even read
WAITS = "This comes as soon as the drafting tools run: see below."
COPIED = "Copied. Whoever opens it sees the kit first, and nothing of theirs changes before they say so."
TOO_LONG = (
    "As a link this kit is %d characters long, which many apps would cut short: save it as a file and "
    "send that, or show its QR codes."
)
SAFE = {
    True: "The browser has promised not to clear it to make room.",
    False: "The browser may clear it when the device runs short of room: keep a file of it as well.",
}


class KitFiles:
    """`run` answers requests, `ready()` waits until it can; `codes` shows a link's QR codes."""

    def __init__(self, page, run, ready, codes):
        self.page, self.kits, self._run, self._ready = page, page.kits, run, ready
        self._codes = codes
        self._sure = None  # what waits for the user's word
        self._asked_to_persist = False
        show("share-kit", bool(window.ellwand.canShare("", "")))

    def do(self, what):
        what, _, kit_id = what.partition(":")
        if what == "open":
            by_id("kit-file").click()
        elif what == "sure":
            sure, self._sure = self._sure, None
            telling.notice("sure", [])
            if sure:
                asyncio.create_task(sure())
        elif what == "merge":
            self._first("Adding another kit changes this one. It can be undone.", "Add it",
                        lambda: self._merge_kept(kit_id))
        elif what == "remove":
            self._first("A deleted kit is gone from this device.", "Delete it",
                        lambda: self._remove(kit_id))
        else:
            asyncio.create_task({
                "save": self.save, "demo": self.demo, "new": self.new, "copy": self.copy,
                "use": lambda: self._use(kit_id), "back": self.back, "persist": self._persist,
                "link": self.copy_link, "share": self.share_link, "qr": self.show_codes,
            }[what]())

    def _first(self, sentence, label, action):
        """Offer a file of the kit on the page before it, or another, is changed."""
        self._sure = action
        telling.notice("sure", [sentence], [
            ("kit:save", "Save this kit as a file first"), ("kit:sure", label), ("close:sure", "Leave it"),
        ])
        by_id("notice-sure").scrollIntoView()

    # --- Files -----------------------------------------------------------------------------------

    async def save(self):
        result = await self._answer({"do": "write-kit", "kit": kitvalues.to_file(self.kits.kit)})
        if result:
            hand_over(result["text"], result["type"], result["name"])
            set_text("kit-said", "%s is in your downloads." % result["name"])
            offer_to_share("kit-said", result["text"], result["type"], result["name"])
            await self._persist()

    async def open_file(self, box):
        await with_text(
            box, LARGEST, "This file is too large for a kit.", "kit-said", self.open_text
        )

    async def open_text(self, text):
        """A kit's file becomes another kit on this device; the one that was here is kept."""
        result = await self._answer({"do": "read-kit", "text": text})
        if result:
            await self.kits.begin(self._from_file(result["kit"]))
            set_text("kit-said", "The kit is open. Any other is kept below, under “Kits on this device”.")
            await self.list()

    async def merge_text(self, text):
        """Add a kit's file to the user's own kit."""
        result = await self._answer({"do": "read-kit", "text": text})
        if result:
            await self.to_own()
            await self._merge(result["kit"])

    async def _merge_kept(self, kit_id):
        record = await self.kits.store.get(kit_id)
        if record:
            kit = kitvalues.from_kept(str(record.text), self.page.garments, self.page.lengths)
            await self._merge(kitvalues.to_file(kit))

    async def _merge(self, theirs):
        kits, before = self.kits, kitvalues.to_keep(self.kits.kit)
        kit_id = kits.id
        mine = kitvalues.to_file(kits.kit)
        result = await self._answer({"do": "merge-kits", "mine": mine, "theirs": theirs})
        if not result or kits.id != kit_id:
            return
        merged = self._from_file(result["kit"])
        kitvalues.keep_own(merged, kits.kit)
        kits.kit = merged
        self.page.show_garment(merged["at"])
        telling.notice("merged", result["conflicts"], [("close:merged", "Close")])
        if result["conflicts"]:
            by_id("notice-merged").scrollIntoView()
        self.page.offer_undo("Both kits are one now.", lambda: self._unmerge(kit_id, before))

    def _unmerge(self, kit_id, before):
        if self.kits.id == kit_id:
            self.kits.kit = kitvalues.from_kept(before, self.page.garments, self.page.lengths)
            telling.notice("merged", [])
            self.page.show_garment(self.kits.kit["at"])

    def _from_file(self, values):
        return kitvalues.from_file(values, self.page.garments[0], self.page.lengths)

    # --- Handing the kit over --------------------------------------------------------------------

    async def _link(self):
        """(the address that holds the kit, whether many apps would cut it short), or None."""
        request = {"do": "share-kit", "kit": self.kits.as_text(), "names": by_id("kit-names").checked}
        result = await self._answer(request)
        return (address() + "#" + result["fragment"], result["too_long"]) if result else None

    async def copy_link(self):
        link = await self._short_link()
        if link:
            await copy_text(link, "kit-link", "took-kit-link", COPIED)

    async def share_link(self):
        link = await self._short_link()
        if link:
            await share_kit_link(link, self.kits.kit["title"].strip() or "A kit, drafted with Ellwand")

    async def _short_link(self):
        """The link, or None when it is said why there is none to send."""
        made = await self._link()
        if made and made[1]:
            show("kit-link-shown", False)
            set_text("took-kit-link", TOO_LONG % len(made[0]))
            return None
        return made and made[0]

    async def show_codes(self):
        made = await self._link()
        if made:
            await self._codes.open(lambda: made[0], QR)

    # --- Kits on this device ---------------------------------------------------------------------

    async def demo(self):
        """Marram Farm's kit, as it was left there. One's own waits, and comes back with one tap."""
        if await self.kits.store.get(DEMO):
            await self._use(DEMO)
            return
        result = await self._answer({"do": "demo-kit"})
        if result:
            await self.kits.begin(self._from_file(result["kit"]), DEMO)
            await self.list()

    async def new(self):
        await self.kits.begin(kitvalues.fresh(self.page.garments[0], self.page.draft.unit))
        set_text("kit-said", "A new kit. The one before is kept below.")
        await self.list()

    async def copy(self):
        kits = self.kits
        kit = kitvalues.from_kept(kitvalues.to_keep(kits.kit), self.page.garments, self.page.lengths)
        kit["title"] = (kit["title"].strip() or "My kit") + ", copy"
        await kits.begin(kit)
        set_text("kit-said", "This is the copy. The kit before is kept below.")
        await self.list()

    async def back(self):
        await self.to_own()
        set_text("kit-said", "")

    async def to_own(self):
        """From the demo, if that is open, to one's own."""
        if self.kits.is_demo:
            await self.kits.to_own()
            await self.list()

    async def _use(self, kit_id):
        if await self.kits.load(kit_id):
            set_text("kit-said", "")
        await self.list()

    async def _remove(self, kit_id):
        record = await self.kits.store.get(kit_id)
        if not record or kit_id == self.kits.id:
            return
        text = str(record.text)
        await self.kits.store.remove(kit_id)
        await self.list()
        self.page.offer_undo("The kit is deleted.", lambda: asyncio.create_task(self._restore(text)))

    async def _restore(self, text):
        await self.kits.keep_beside(
            kitvalues.from_kept(text, self.page.garments, self.page.lengths))
        await self.list()

    async def _kept(self):
        found = await self.kits.store.list()
        if not found:
            return []
        return [
            {"id": str(one.id), "title": str(one.title), "names": str(one.names),
             "garments": one.garments or 0}
            for one in (found[i] for i in range(found.length))
        ]

    async def list(self):
        """Show which other kits are kept here."""
        await self.kits.save_now()
        rows = []
        for one in await self._kept():
            if one["id"] != self.kits.id:
                title = one["title"] or one["names"] or "A kit without a name"
                mixed = DEMO in (one["id"], self.kits.id)  # the demo stays apart
                merge = "" if mixed else (
                    '<button type="button" data-do="kit:merge:%s">Add to this kit</button>' % esc(one["id"])
                )
                rows.append(
                    '<li><b>%s</b> <span class="aside">%s</span><div class="buttons">'
                    '<button type="button" data-do="kit:use:%s">Open</button>'
                    '%s<button type="button" data-do="kit:remove:%s">Delete</button></div></li>'
                    % (esc(title), esc(_about(one, title)),
                       esc(one["id"]), merge, esc(one["id"]))
                )
        set_html("kits-kept", "<ul>%s</ul>" % "".join(rows) if rows else "<p>No other kit.</p>")
        demo = self.kits.is_demo
        show("kit-demo", not demo)
        telling.notice("demo", [
            "This is Marram Farm's kit, an invented one to look around in. Yours is kept apart, untouched.",
        ] if demo else [], [("kit:back", "Back to mine")])

    # --- Being kept ------------------------------------------------------------------------------

    async def saved(self):
        """Ask once, when there is something worth keeping: some browsers ask the user in turn. A code of
        the kit that stands on the screen is of the kit as it is now."""
        if by_id(QR).getAttribute("aria-expanded") == "true":
            made = await self._link()
            if made:
                await self._codes.now_of(QR, lambda: made[0])
        kit = self.kits.kit
        if not self._asked_to_persist and not self.kits.is_demo and (
            len(kit["garments"]) > 1 or kit["title"].strip()
        ):
            await self._persist()

    async def _persist(self):
        if not self._asked_to_persist:
            self._asked_to_persist = True
            set_text("kit-safe", SAFE[bool(await self.kits.store.persist())])

    async def _answer(self, request):
        """The worker's result, or None when the reason has been said."""
        if not await self._ready():
            set_text("kit-said", WAITS)
            return None
        result = await self._run(request)
        if result is None or not result["ok"]:
            problems = result["problems"] if result else []
            set_text("kit-said", " ".join(p["message"] for p in problems) or "That did not work.")
            return None
        return result


def _about(one, title):
    """Who is in a kept kit, unless that is what it is called, and how much."""
    count = "%d garment%s" % (one["garments"], "" if one["garments"] == 1 else "s")
    return count if one["names"] in ("", title) else one["names"] + "; " + count
