"""A draft that came by a link: shown in the place of the user's own, until it is theirs or gone."""

import asyncio

import keeping
import kitvalues
import telling
from draft import from_link
from handed import is_handed
from link import read_link

SECTIONS = ("wearer", "garment", "pieces", "cutting", "sewing", "kit", "take-away")


class Visiting:
    def __init__(self, page):
        self._page = page

    def open(self, fragment):
        """Show the draft a link holds. One of the user's own that differs is kept, not replaced."""
        page = self._page
        fragment = fragment.lstrip("#")
        if not fragment or fragment in SECTIONS:
            return
        if is_handed(fragment):
            page.handed.open(fragment)
            return
        read, said = read_link(fragment, page.measures, page.garments)
        if read is None:
            telling.notice("link", said, [("close:link", "Close")])
            return
        theirs, more = from_link(read, page.lengths)
        own = page.own or page.draft
        again = keeping.came_back()
        theirs.name = theirs.name or keeping.name_in_history()
        if not page.kits.is_demo and own.is_empty() or page.fragment(own) == page.fragment(theirs):
            page.draft, page.own = theirs if own.is_empty() else own, None
            first = "This draft came by a link. It is yours to change now."
            shown = [first] if own.is_empty() and not again else []
            telling.notice("link", shown + said + more, [("close:link", "Close")])
            page.keep()
            return
        page.draft, page.own = theirs, own
        kept, back = "Your own is kept", "Go back to mine"
        if page.kits.is_demo:
            kept, back = "Marram Farm's kit stays as it is", "Go back to Marram Farm's"
        telling.notice(
            "link",
            ["This draft came by a link. %s, untouched." % kept] + said + more,
            [("mine", back), ("theirs", "Add it to my kit")],
        )

    def choose(self, which):
        """The draft that came by the link, or the user's own? Added, it is one wearer more."""
        page = self._page
        if page.own is None:
            return
        telling.notice("link", [])
        theirs = page.draft
        if which == "mine":
            page.show_garment(page.kits.kit["at"])
            page.offer_undo("What was here before is back.", lambda: self._visit(theirs))
        elif page.kits.is_demo:
            asyncio.create_task(self._take_home(theirs))
        else:
            self._take_in(theirs)

    async def _take_home(self, theirs):
        """Marram Farm's kit is open: what came by the link goes into the user's own."""
        page = self._page
        await page.kits.files.to_own()
        self._take_in(theirs)

    def _take_in(self, theirs):
        page = self._page
        kit = page.kits.kit
        own_at = kit["at"]
        garment_id = kitvalues.add_draft(kit, theirs)
        page.show_garment(garment_id)
        page.offer_undo("The link's draft is in your kit now, as one wearer more.",
                        lambda: self._take_out_again(garment_id, own_at))

    def _visit(self, theirs):
        page = self._page
        page.draft, page.own = theirs, page.draft
        page.fields.fill(theirs)
        page.changed()

    def _take_out_again(self, garment_id, back_to):
        page = self._page
        kit = page.kits.kit
        kitvalues.take_out(kit, [garment_id], kitvalues.wearer_of(kit, garment_id)["id"])
        kit["at"] = back_to
        kitvalues.stand_somewhere(kit, page.garments[0], page.lengths)
        page.show_garment(kit["at"])
