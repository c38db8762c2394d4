"""The kit on the page and where it is kept: which one is open, saving it, and the other tabs.

The whole kit is saved by store.js, at most every SETTLE seconds. What stands on the form is written
to localStorage at every key as well, and the whole kit when the page is left before it was saved, since
that is done before the browser can close the page: the next visit takes it from there (`_catch_up`).

A save that fails is tried again until it is done, and the page says meanwhile that the kit is not kept.
What is noted tells how many changes it knows of, and so does what is saved: a note that could not be
renewed never takes the place of what was saved after it.

A save tells the revision it was made from. When another tab has saved meanwhile, what was changed
here becomes a kit of its own, and the page says so; neither is ever written over.
"""

import asyncio
import json

import kittexts
import kitvalues
import telling
from draft import from_plain, text_of, texts_of
from pyscript import window
from pyscript.ffi import create_proxy, to_js

DEMO = "demo"  # the id of Marram Farm's kit, which nothing of the user's own goes into
JOURNAL = 3  # the version of what stands in localStorage; 1 held the only draft, 2 the bust under the arms
SETTLE = 0.3  # seconds in which changes are saved together
RETRY = 3  # seconds after which a save that failed is tried again
UNREADABLE = (
    "What this browser had kept of your draft cannot be read any more, so the page starts afresh. "
    "The unreadable rest was put aside, not thrown away."
)
BEHIND = "This kit was changed in another tab. What stands here is from before that."
PARTED = (
    "This kit was changed in another tab as well. Nothing is lost: what you changed here is a kit of "
    "its own now, “%s”, and the other tab's is kept beside it."
)


def _key():
    return "ellwand " + window.ellwand.home


class Kits:
    """`kit` is what kitvalues.py speaks of. Tells of "another kit" on the page, of one that was "saved",
    and that nothing can be kept ("unkept")."""

    def __init__(self, catalogue, undo, news):
        self.garments, self.lengths = catalogue.garments, catalogue.lengths
        self._undo, self._news = undo, news
        self.kit = kitvalues.fresh(self.garments[0])
        self.id = ""
        self.revision = 0
        self.works = True  # while keeping does not fail
        self._possible = True  # until it is known that this browser keeps nothing
        self._changes = 0  # made since the page was opened
        self.parted_from = ""  # the kit that another tab changed as well
        self._dirty = self._saving = False
        self._task = None
        self._behind = False
        self._view = {}

    def answers(self):
        return {"tabs": lambda which, _: self._choose_tab(which)}

    @property
    def is_demo(self):
        return self.id == DEMO

    @property
    def store(self):
        return window.ellwand.kits

    # --- Coming in -------------------------------------------------------------------------------

    async def open(self):
        """(how the page was arranged, a sentence or "")."""
        self.works = self._possible = bool(await self.store.where())
        self.store.hear(create_proxy(self._heard))
        text = window.ellwand.recall(_key())
        record = await self.store.first
        said = self._take(record)
        journal = {}
        if text:
            try:
                journal = json.loads(text)
                if journal["version"] == 1:
                    from kitbefore import from_version_1

                    self.kit, self._view = from_version_1(journal, self.garments, self.lengths)
                    self._begin_as(_new_kit())
                    await self._save()
                elif journal["version"] in (2, JOURNAL):
                    if journal["version"] == 2:
                        from migrations import under_the_arms

                        journal["draft"] = under_the_arms(journal["draft"])
                    self._catch_up(journal, record)
                else:
                    raise ValueError("another version")
            except Exception:
                window.ellwand.putAside(_key())
                self._take(record)
                said = UNREADABLE
        return self._view, said

    def _take(self, record):
        """Make a kept record the kit of the page. A sentence when it cannot be read."""
        said = ""
        if record:
            try:
                self.kit = self.read(str(record.text))
                self.revision = record.revision if isinstance(record.revision, int) else 0
                self._begin_as(str(record.id))
                return ""
            except Exception:
                said = UNREADABLE  # it stays in the store as it is
        self.kit, self.revision = kitvalues.fresh(self.garments[0]), 0
        self._begin_as(_new_kit())
        return said

    def _begin_as(self, kit_id):
        if kit_id != self.id:
            for of_another in ("merged", "sure"):
                telling.notice(of_another, [])
        self.id, self._behind, self.parted_from = kit_id, False, ""
        self.store.use(kit_id)

    def _catch_up(self, journal, record):
        """What was done after the last save, when the page was left before the next."""
        view = journal.get("view")
        self._view = view if isinstance(view, dict) else {}
        if not journal.get("dirty") or _is_older(journal, record):
            return
        noted = text_of(journal["kit"])
        if record and noted != self.id:
            if noted != str(self.store.wanted):
                return  # that is another tab's to save
            record, self.revision = None, 0  # it was left before it was first saved
            self.kit = kitvalues.fresh(self.garments[0])
            self._begin_as(noted)
        if journal.get("whole"):
            self.kit = self.read(journal["whole"])
        if not record:
            self.id = noted
        elif journal["base"] != self.revision and journal["by"] != str(record.by):
            self._part()  # another tab has saved since
        if not journal.get("whole"):
            self._catch_up_with(journal, record)
        self._later()

    def _catch_up_with(self, journal, record):
        """The draft on the form and the kit's title are all that is known of it."""
        draft = from_plain(journal["draft"], self.garments)
        garment = kitvalues.entry(self.kit["garments"], journal["at"])
        if garment:
            self.kit["at"] = journal["at"]
            draft.cloth_ids = texts_of(journal.get("cloths") or garment["cloths"])
            kitvalues.put_draft(self.kit, draft, self.lengths)
        elif record:
            self.kit["at"] = kitvalues.add_draft(self.kit, draft)
        else:
            kitvalues.put_draft(self.kit, draft, self.lengths)
        if "title" in journal and not self.parted_from:
            self.kit["title"] = text_of(journal["title"])

    # --- The draft on the form -------------------------------------------------------------------

    def draft(self):
        return kitvalues.draft_of(self.kit, self.kit["at"], self.lengths)

    def garment(self):
        """The garment on the form."""
        return kitvalues.entry(self.kit["garments"], self.kit["at"])

    def keep(self, draft, view):
        """Write the draft into the kit and have it saved. False when nothing can be kept."""
        kitvalues.put_draft(self.kit, draft, self.lengths)
        self._view = view
        self._changed(draft)
        return self.works

    def touched(self):
        """The kit itself was changed: have it saved."""
        self._changed(self.draft())

    def _changed(self, draft):
        self._dirty = True
        self._changes += 1
        self._note(draft)
        if self._possible:
            self._later()

    def leaving(self):
        """The page may be closed now, and no time left to save: note all that is not saved yet."""
        if self._dirty or self._saving:
            self._note(self.draft(), kittexts.to_keep(self.kit))

    def read(self, text):
        """The kit in a text that was kept. Raises ValueError when it is none of ours."""
        return kittexts.from_kept(text, self.garments, self.lengths)

    def as_text(self):
        """The kit file's text."""
        return json.dumps(kittexts.to_file(self.kit))

    def _note(self, draft, whole=""):
        kept = window.ellwand.keep(_key(), json.dumps({
            "version": JOURNAL, "kit": self.id, "base": self.revision, "by": str(self.store.tab),
            "dirty": self._dirty or self._saving, "changes": self._changes, "at": self.kit["at"],
            "cloths": draft.cloth_ids, "title": self.kit["title"], "draft": draft.to_plain(),
            "view": self._view, "whole": whole,
        }))
        if not kept and not self._dirty:
            window.ellwand.forget(_key())  # what stands there is older than what is saved

    # --- Saving ----------------------------------------------------------------------------------

    def _later(self):
        self._dirty = True
        if self._task is None or self._task.done():
            self._task = asyncio.create_task(self._save_until_saved())

    async def _save_until_saved(self):
        while self._dirty and self._possible:
            await asyncio.sleep(SETTLE if self.works else RETRY)
            await self._save()

    async def save_now(self):
        """Without waiting for more changes: the page may be closed next."""
        if self._dirty and self._possible:
            await self._save()

    async def _save(self):
        if self.revision == 0 and kitvalues.is_empty(self.kit):
            self._dirty = False  # nothing worth a place in the list
            self._note(self.draft())
            return
        self._dirty = False
        kit_id, base = self.id, self.revision
        about = _about(self.kit)
        about["changes"] = self._changes
        self._saving = True
        try:
            result = await self.store.save(kit_id, base, kittexts.to_keep(self.kit), to_js(about))
        finally:
            self._saving = False
        if self.id != kit_id:
            return  # another kit was opened meanwhile; this one was saved before that
        if not result:
            self._dirty, self.works = True, False
            self._news.tell("unkept")
        elif getattr(result, "saved", None):
            self.revision = result.saved
            self._note(self.draft())
            if not self.works:
                self.works = True
                self._news.tell("kept again")
            self._news.tell("saved")
        elif self.revision == base:  # a save that was made meanwhile may have got there first
            self._part()
            await self._save()
            self._say_parted()

    # --- Other tabs ------------------------------------------------------------------------------

    def _heard(self, kit_id, revision, by):
        if kit_id == self.id and not self._behind and revision != self.revision:
            self._behind = True
            if not self._dirty:  # else the next save finds out
                telling.notice("tabs", [BEHIND], [
                    ("tabs:theirs", "Take the other tab's"), ("tabs:both", "Keep both"),
                ])

    def _part(self):
        """Go on with this tab's kit as one of its own."""
        other, self.revision = self.id, 0
        self._begin_as(_new_kit())
        self.parted_from = other
        self.kit["title"] = (self.kit["title"].strip() or "My kit") + ", from another tab"

    def _say_parted(self):
        telling.notice("tabs", [PARTED % self.kit["title"]], [
            ("tabs:theirs", "Take the other tab's"), ("tabs:both", "Keep both"),
        ])

    async def _choose_tab(self, which):
        telling.notice("tabs", [])
        if which == "both":
            if not self.parted_from:
                self._part()
            self.parted_from = ""
            await self._save()
            return
        mine, before = self.id if self.parted_from else "", kittexts.to_keep(self.kit)
        if await self.load(self.parted_from or self.id):
            self._undo.offer("The other tab's kit is here.",
                             lambda: asyncio.create_task(self._take_mine(mine, before)))

    async def _take_mine(self, kit_id, before):
        """Back to what stood here before the other tab's was taken: a kit of its own beside that."""
        if kit_id:
            await self.load(kit_id)
            return
        await self.save_now()
        self.kit = self.read(before)
        self._part()
        self.parted_from = ""
        await self._save()
        self._news.tell("another kit")

    async def to_own(self):
        """From the demo, if that is open, to the user's own kit: the one used last, or a new one."""
        if not self.is_demo:
            return
        found = await self.store.list()
        own = [str(found[i].id) for i in range(found.length)] if found else []
        own = [kit_id for kit_id in own if kit_id != DEMO]
        if not own or not await self.load(own[0]):
            await self.begin(kitvalues.fresh(self.garments[0], self.kit["unit"]))

    async def load(self, kit_id):
        """Put another kept kit on the page; the one that was here is saved first."""
        if kit_id != self.id:
            await self.save_now()
        record = await self.store.get(kit_id)
        if not record:
            telling.notice("kept", ["That kit is no longer on this device."], [("close:kept", "Close")])
            return False
        said = self._take(record)
        telling.notice("kept", [said] if said else [], [("close:kept", "Close")])
        self._news.tell("another kit")
        return True

    async def keep_beside(self, kit):
        """Have a kit kept on this device that does not stand on the page."""
        about = to_js(_about(kit))
        return await self.store.save(_new_kit(), 0, kittexts.to_keep(kit), about)

    async def begin(self, kit, kit_id=""):
        """Put a kit on the page that is not kept yet; the one that was here is saved first."""
        await self.save_now()
        self.kit, self.revision = kit, 0
        self._begin_as(kit_id or _new_kit())
        await self._save()
        self._news.tell("another kit")


def _is_older(journal, record):
    """Whether the tab that made a note has saved all that it tells of, and perhaps more."""
    saved, noted = getattr(record, "changes", None) if record else None, journal.get("changes")
    if saved is None or not isinstance(noted, int) or str(record.id) != journal.get("kit"):
        return False
    return str(record.by) == journal.get("by") and noted <= saved


def _about(kit):
    """What the list of kits says of one."""
    return {
        "title": kit["title"].strip(),
        "names": ", ".join(kitvalues.called(kit, w) for w in kitvalues.by_name(kit)[:4]),
        "wearers": len(kit["wearers"]), "garments": len(kit["garments"]),
    }


def _new_kit():
    """An id for another kit."""
    return "k" + str(window.Math.random())[2:] + str(int(window.Date.now()) % 1000)
