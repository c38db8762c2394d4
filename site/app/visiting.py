"""A draft that came by a link: shown in the place of the user's own, until it is theirs or gone."""

import keeping
import kitvalues
import telling
from draft import from_link
from handed import is_handed
from link import read_link

PARTS = ("wearer", "garment", "pieces", "cutting", "chalking", "sewing", "kit", "take-away")


class Visiting:
    """`handed` takes what is more than one draft."""

    def __init__(self, session, handed):
        self._session, self._handed = session, handed
        session.hear("link", self.arrive)

    def answers(self):
        return {
            "mine": lambda *_: self._leave(),
            "theirs": lambda *_: self._take_home(),
            "close:link": lambda *_: self._close(),
        }

    def arrive(self, fragment):
        """A link was opened while the page was."""
        self.open(fragment)
        self._session.refill()

    def open(self, fragment):
        """Show the draft a link holds. One of the user's own that differs is kept, not replaced."""
        session = self._session
        fragment = fragment.lstrip("#")
        if not fragment or fragment in PARTS:
            return
        if is_handed(fragment):
            self._handed.open(fragment)
            return
        from migrations import drafted_before  # drafting/both/migrations.py

        catalogue = session.catalogue
        read, said = read_link(fragment, catalogue.measures, catalogue.garments, drafted_before)
        if read is None:
            telling.notice("link", said, [("close:link", "Close")])
            return
        theirs, more = from_link(read, session.catalogue.lengths)
        own = session.own or session.draft
        again = keeping.came_back()
        theirs.name = theirs.name or keeping.name_in_history()
        demo = session.kits.is_demo
        if not demo and own.is_empty() or session.fragment(own) == session.fragment(theirs):
            session.put(theirs if own.is_empty() else own)
            first = "This draft came by a link. It is yours to change now."
            shown = [first] if own.is_empty() and not again else []
            telling.notice("link", shown + said + more, [("close:link", "Close")])
            session.keep()
            return
        session.put(theirs, own)
        kept, back = "Your own is kept", "Go back to mine"
        if demo:
            kept, back = "Marram Farm's kit stays as it is", "Go back to Marram Farm's"
        telling.notice(
            "link",
            ["This draft came by a link. %s, untouched." % kept] + said + more,
            [("mine", back), ("theirs", "Add it to my kit")],
        )

    def _close(self):
        telling.notice("link", [])
        keeping.clear_address()

    def _leave(self):
        """Back from the draft that came by the link to the user's own."""
        session, theirs = self._session, self._session.draft
        if session.own is not None:
            telling.notice("link", [])
            session.show_garment(session.kit["at"])
            session.undo.offer("What was here before is back.", lambda: session.show(theirs, session.draft))

    async def _take_home(self):
        """What came by the link is one wearer more; in the user's own kit, while Marram Farm's is open."""
        session, theirs = self._session, self._session.draft
        if session.own is None:
            return
        telling.notice("link", [])
        await session.kits.to_own()
        own_at = session.kit["at"]
        garment_id = kitvalues.add_draft(session.kit, theirs)
        session.show_garment(garment_id)
        session.undo.offer("The link's draft is in your kit now, as one wearer more.",
                           lambda: self._take_out_again(garment_id, own_at))

    def _take_out_again(self, garment_id, back_to):
        session = self._session
        kit = session.kit
        kitvalues.take_out(kit, [garment_id], kitvalues.wearer_of(kit, garment_id)["id"])
        kit["at"] = back_to
        kitvalues.stand_somewhere(kit, session.catalogue.garments[0], session.catalogue.lengths)
        session.show_garment(kit["at"])
