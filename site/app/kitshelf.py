"""The kits that are kept on this device: opened, begun, copied, deleted, and Marram Farm's beside them."""

import asyncio

import kittexts
import kitvalues
import telling
from exchange import hand_over
from kits import DEMO
from pyscript.ffi import to_js
from safe import esc
from telling import set_html, set_text, show

SAFE = {
    True: "The browser has promised not to clear it to make room.",
    False: "The browser may clear it when the device runs short of room: keep a file of it as well.",
}


class KitShelf:
    """`files` makes kits of the worker's answers, and asks before one is deleted."""

    def __init__(self, session, files):
        self._session, self._kits, self._files = session, session.kits, files
        self._asked_to_persist = False
        session.hear("saved", lambda: asyncio.create_task(self._saved()))
        session.hear("saved as a file", lambda: asyncio.create_task(self._persist()))
        session.hear("another kit", self._another)

    def answers(self):
        return {
            "kit:demo": lambda *_: self._demo(),
            "kit:new": lambda *_: self._new(),
            "kit:copy": lambda *_: self._copy(),
            "kit:back": lambda *_: self._back(),
            "kit:use": lambda kit_id, _: self._use(kit_id),
            "kit:file": lambda kit_id, _: self._save(kit_id),
            "kit:remove": lambda kit_id, _: self._files.first(
                "A deleted kit is gone from this device.", "Delete it", lambda: self._remove(kit_id)),
        }

    def on_toggle(self):
        return (("#kits-here[open]", lambda _: self.list()),)

    async def _demo(self):
        """Marram Farm's kit, as it was left there. One's own waits, and comes back with one tap."""
        if await self._kits.store.get(DEMO):
            await self._use(DEMO)
            return
        result = await self._files.answer({"do": "demo-kit"})
        if result:
            await self._kits.begin(self._files.from_values(result["kit"]), DEMO)

    async def _new(self):
        await self._kits.begin(kitvalues.fresh(self._kits.garments[0], self._session.draft.unit))
        set_text("kit-said", "A new kit. The one before is kept below.")

    async def _copy(self):
        kits = self._kits
        kit = self._kits.read(kittexts.to_keep(kits.kit))
        kit["title"] = (kit["title"].strip() or "My kit") + ", copy"
        await kits.begin(kit)
        set_text("kit-said", "This is the copy. The kit before is kept below.")

    async def _back(self):
        await self._kits.to_own()
        set_text("kit-said", "")

    async def _use(self, kit_id):
        if await self._kits.load(kit_id):
            set_text("kit-said", "")
        else:
            await self.list()

    async def _remove(self, kit_id):
        record = await self._kits.store.get(kit_id)
        if not record or kit_id == self._kits.id:
            return
        text = str(record.text)
        about = {key: getattr(record, key, None) or "" for key in ("title", "names", "wearers", "garments")}
        await self._kits.store.remove(kit_id)
        await self.list()
        self._session.undo.offer(
            "The kit is deleted.", lambda: asyncio.create_task(self._restore(kit_id, text, about)))

    async def _restore(self, kit_id, text, about):
        """As it was kept, whether or not this version of the page can read it."""
        await self._kits.store.save(kit_id, 0, text, to_js(about))
        await self.list()

    async def _save(self, kit_id):
        """A kit that is kept as a file; one that does not read as it is kept, for a version that reads it."""
        record = await self._kits.store.get(kit_id)
        if not record:
            return
        text = str(record.text)
        try:
            kit = self._kits.read(text)
        except Exception:
            hand_over(text, "application/json", "unread.kit.json")
            set_text("kit-said", "unread.kit.json is in your downloads, as it was kept: this version cannot "
                     "read it.")
            return
        await self._files.save(kit)

    async def _kept(self):
        found = await self._kits.store.list()
        if not found:
            return []
        return [
            {"id": str(one.id), "title": str(getattr(one, "title", None) or ""),
             "names": str(getattr(one, "names", None) or ""), "garments": getattr(one, "garments", None) or 0}
            for one in (found[i] for i in range(found.length))
        ]

    async def list(self):
        """Show which other kits are kept here, and whether this is Marram Farm's."""
        self._say_whose()
        await self._kits.save_now()
        rows = []
        for one in await self._kept():
            if one["id"] != self._kits.id:
                title = one["title"] or one["names"] or "A kit without a name"
                mixed = DEMO in (one["id"], self._kits.id)  # the demo stays apart
                merge = "" if mixed else (
                    '<button type="button" data-do="kit:merge:%s">Add to this kit</button>' % esc(one["id"])
                )
                rows.append(
                    '<li><b>%s</b> <span class="aside">%s</span><div class="buttons">'
                    '<button type="button" data-do="kit:use:%s">Open</button>'
                    '%s<button type="button" data-do="kit:file:%s">Save as a file</button>'
                    '<button type="button" data-do="kit:remove:%s">Delete</button></div></li>'
                    % (esc(title), esc(_about(one, title)),
                       esc(one["id"]), merge, esc(one["id"]), esc(one["id"]))
                )
        set_html("kits-kept", "<ul>%s</ul>" % "".join(rows) if rows else "<p>No other kit.</p>")

    def _another(self):
        self._say_whose()
        asyncio.create_task(self.list())

    def _say_whose(self):
        demo = self._kits.is_demo
        show("kit-demo", not demo)
        telling.notice("demo", [
            "This is Marram Farm's kit, an invented one to look around in. Yours is kept apart, untouched.",
        ] if demo else [], [("kit:back", "Back to mine")])

    # --- Being kept ------------------------------------------------------------------------------

    async def _saved(self):
        """Ask once, when there is something worth keeping: some browsers ask the user in turn."""
        await self._files.now_of()
        kit = self._kits.kit
        if not self._asked_to_persist and not self._kits.is_demo and (
            len(kit["garments"]) > 1 or kit["title"].strip()
        ):
            await self._persist()

    async def _persist(self):
        if not self._asked_to_persist:
            self._asked_to_persist = True
            set_text("kit-safe", SAFE[bool(await self._kits.store.persist())])


def _about(one, title):
    """Who is in a kept kit, unless that is what it is called, and how much."""
    count = "%d garment%s" % (one["garments"], "" if one["garments"] == 1 else "s")
    return count if one["names"] in ("", title) else one["names"] + "; " + count
