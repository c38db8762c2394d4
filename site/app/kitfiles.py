"""The kit as a file, a link and codes, and kits made one: nothing is replaced before a file is offered."""

import kittexts
import kitvalues
import remeasured
import telling
from entries import entry
from exchange import address, copy_text, hand_over, offer_to_share, share_link, with_text
from pyscript import document, window
from telling import by_id, set_text, show

QR = "kit-qr"  # the button that shows the kit's codes
LARGEST = 4000000  # bytes; more is not even read
WAITS = "This comes as soon as the drafting tools run: see below."
COPIED = "Copied. Whoever opens it sees the kit first, and nothing of theirs changes before they say so."
TOO_LONG = (
    "As a link this kit is %d characters long, which many apps would cut short: save it as a file and "
    "send that, or show its QR codes."
)


def say_set_aside(result, first):
    """What of a kit did not read, at the top of the page, after a sentence on what that means."""
    aside = result["set_aside"]
    telling.notice("aside", [first] + aside if aside else [], [("close:aside", "Close")])


class KitFiles:
    """`codes` shows a link's QR codes."""

    def __init__(self, session, codes):
        self._session, self._kits, self._codes = session, session.kits, codes
        self._sure = None  # what waits for the user's word
        self._twice = {}  # {a notice that asks: the two wearers it is about}
        session.hear("another kit", self._forget_which)
        show("share-kit", bool(window.ellwand.canShare("", "")))

    def answers(self):
        return {
            "kit:open": lambda *_: by_id("kit-file").click(),
            "kit:save": lambda *_: self.save(self._kits.kit),
            "kit:sure": lambda *_: self._go_on(),
            "kit:merge": lambda kit_id, _: self.first(
                "Adding another kit changes this one. It can be undone.", "Add it",
                lambda: self._merge_kept(kit_id)),
            "remeasured": lambda which, button: self._settle(which, button.closest(".notice").id),
            "kit:link": lambda *_: self._copy_link(),
            "kit:share": lambda *_: self._share_link(),
            "kit:qr": lambda *_: self._show_codes(),
        }

    def on_change(self):
        return (("#kit-file", self._open_file),)

    def first(self, sentence, label, action):
        """Offer a file of the kit on the page before it, or another, is changed."""
        self._sure = action
        telling.notice("sure", [sentence], [
            ("kit:save", "Save this kit as a file first"), ("kit:sure", label), ("close:sure", "Leave it"),
        ])
        by_id("notice-sure").scrollIntoView()

    def _go_on(self):
        sure, self._sure = self._sure, None
        telling.notice("sure", [])
        return sure and sure()

    # --- Files -----------------------------------------------------------------------------------

    async def save(self, kit):
        result = await self.answer({"do": "write-kit", "kit": kittexts.to_file(kit)})
        if result:
            hand_over(result["text"], result["type"], result["name"])
            set_text("kit-said", "%s is in your downloads." % result["name"])
            say_set_aside(result, "This is not in the file:")
            offer_to_share("kit-said", result["text"], result["type"], result["name"])
            self._session.tell("saved as a file")

    async def _open_file(self, box):
        await with_text(
            box, LARGEST, "This file is too large for a kit.", "kit-said", self.open_text
        )

    async def open_text(self, text):
        """A kit's file becomes another kit on this device; the one that was here is kept."""
        result = await self.answer({"do": "read-kit", "text": text})
        if result:
            await self._kits.begin(self.from_values(result["kit"]))
            say_set_aside(result, "This kit is open but for what did not read. Keep its file.")
            set_text("kit-said", "The kit is open. Any other is kept below, under “Kits on this device”.")

    async def merge_text(self, text):
        """Add a kit's file to the user's own kit."""
        result = await self.answer({"do": "read-kit", "text": text})
        if result:
            await self._kits.to_own()
            await self._merge(result["kit"])
            say_set_aside(result, "It is in your kit but for what did not read. Keep its file.")

    async def _merge_kept(self, kit_id):
        record = await self._kits.store.get(kit_id)
        if record:
            kit = self._kits.read(str(record.text))
            await self._merge(kittexts.to_file(kit))

    async def _merge(self, theirs):
        kits, before = self._kits, kittexts.to_keep(self._kits.kit)
        kit_id = kits.id
        mine = kittexts.to_file(kits.kit)
        result = await self.answer({"do": "merge-kits", "mine": mine, "theirs": theirs})
        if not result or kits.id != kit_id:
            return
        merged = self.from_values(result["kit"])
        kitvalues.keep_own(merged, kits.kit)
        kits.kit = merged
        after = kittexts.to_keep(merged)
        self._session.show_garment(merged["at"])
        twice = result["remeasured"]
        asked = [one["said"] for one in twice]
        conflicts = [said for said in result["conflicts"] if said not in asked]
        telling.notice("merged", conflicts, [("close:merged", "Close")])
        for one in twice:
            self._ask_which(one)
        if result["conflicts"]:
            by_id("notices").scrollIntoView()
        self._session.undo.offer("Both kits are one now.", lambda: self._unmerge(kit_id, before, after))

    def _ask_which(self, one):
        """One person was measured twice: which counts?"""
        asked = "remeasured-" + one["theirs"]
        self._twice["notice-" + asked] = (one["mine"], one["theirs"])
        mine, theirs = (" (%s)" % date if date else "" for date in one["dates"])
        telling.notice(asked, [one["said"]], [
            ("remeasured:theirs", "Take theirs%s" % theirs),
            ("remeasured:mine", "Keep mine%s" % mine), ("remeasured:both", "Keep both"),
        ])

    def _settle(self, which, asked):
        by_id(asked).remove()
        kit, (mine, theirs) = self._kits.kit, self._twice[asked]
        if which == "both" or not (entry(kit["wearers"], mine) and entry(kit["wearers"], theirs)):
            return
        name = kitvalues.called(kit, entry(kit["wearers"], mine))
        gone = remeasured.settle(kit, mine, theirs, which == "theirs", self._kits.lengths)
        self._session.change_kit(kit["at"])
        whose = "their" if which == "theirs" else "your"
        self._session.undo.offer("%s is one wearer again, measured as in %s kit." % (name, whose),
                                 lambda: self._part_again(gone))

    def _part_again(self, gone):
        remeasured.undo(self._kits.kit, gone)
        self._session.change_kit(self._kits.kit["at"])

    def _forget_which(self):
        for asked in document.querySelectorAll("[id^=notice-remeasured]"):
            asked.remove()

    def _unmerge(self, kit_id, before, after):
        kits = self._kits
        self._forget_which()
        if kits.id == kit_id:
            kitvalues.unmerge(kits.kit, kits.read(before), kits.read(after))
            kitvalues.stand_somewhere(kits.kit, kits.garments[0], kits.lengths)
            telling.notice("merged", [])
            self._session.change_kit(kits.kit["at"])

    def from_values(self, values):
        return kittexts.from_file(values, self._kits.garments[0], self._kits.lengths)

    # --- Handing the kit over --------------------------------------------------------------------

    async def _link(self):
        """(the address that holds the kit, whether many apps would cut it short), or None."""
        request = {"do": "share-kit", "kit": self._kits.as_text(), "names": by_id("kit-names").checked}
        result = await self.answer(request)
        if result:
            say_set_aside(result, "This is not in the link:")
        return (address() + "#" + result["fragment"], result["too_long"]) if result else None

    async def _copy_link(self):
        link = await self._short_link()
        if link:
            await copy_text(link, "kit-link", "took-kit-link", COPIED)

    async def _share_link(self):
        link = await self._short_link()
        if link:
            title = self._kits.kit["title"].strip() or "A kit, drafted with Ellwand"
            await share_link("took-kit-link", title, link)

    async def _short_link(self):
        """The link, or None when it is said why there is none to send."""
        made = await self._link()
        if made and made[1]:
            show("kit-link-shown", False)
            set_text("took-kit-link", TOO_LONG % len(made[0]))
            return None
        return made and made[0]

    async def _show_codes(self):
        made = await self._link()
        if made:
            await self._codes.open(lambda: made[0], QR)

    async def now_of(self):
        """A code of the kit that stands on the screen is of the kit as it is now."""
        if by_id(QR).getAttribute("aria-expanded") == "true":
            made = await self._link()
            if made:
                await self._codes.now_of(QR, lambda: made[0])

    async def answer(self, request):
        """The worker's result, or None when the reason has been said."""
        if not await self._session.worker.ready():
            set_text("kit-said", WAITS)
            return None
        result = await self._session.worker.run(request)
        if result is None or not result["ok"]:
            problems = result["problems"] if result else []
            set_text("kit-said", " ".join(p["message"] for p in problems) or "That did not work.")
            return None
        return result
