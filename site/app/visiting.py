"""A draft that came by a link: shown in the place of the user's own, until it is theirs or gone.

What it is and whose body it holds is said first. It can be looked at, made for the user's own body, or
kept as it is; only then does the sender become a wearer of the user's kit.
"""

import keeping
import kitvalues
import telling
from draft import from_link
from handed import is_handed
from lengths import under, with_unit
from link import read_link, read_rules
from wayfinding import go_to_part

PARTS = ("wearer", "garment", "pieces", "cutting", "chalking", "sewing", "try-on", "kit", "take-away")
FEW = 3  # measurements that are named


class Visiting:
    """`handed` takes what is more than one draft."""

    def __init__(self, session, handed):
        self._session, self._handed = session, handed
        session.hear("link", self.arrive)

    def answers(self):
        return {
            "look": lambda *_: self._look(),
            "for-me": lambda *_: self._make_for_me(),
            "mine": lambda *_: self._leave(),
            "theirs": lambda *_: self._take_home(),
            "close:link": lambda *_: self._close(),
        }

    def arrive(self, fragment):
        """A link was opened while the page was."""
        self.open(fragment)
        self._session.refill()

    def open(self, fragment):
        """Show the draft a link holds. The user's own is kept, not replaced."""
        session = self._session
        fragment = fragment.lstrip("#")
        if not fragment or fragment in PARTS:
            return
        if read_rules(fragment):
            self._offer_rules(read_rules(fragment))
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
        unkept = own.is_empty() and again and not session.kits.works
        if unkept or session.fragment(own) == session.fragment(theirs):
            session.put(theirs if unkept else own)
            telling.notice("link", said + more, [("close:link", "Close")])
            session.keep()
            return
        session.put(theirs, own)
        self._offer(said + more)

    def _offer(self, said):
        """The three ways, and the way back."""
        session = self._session
        asked = session.catalogue.wanted(session.draft.garment)[0]
        first = told(session.draft, asked, session.catalogue)
        back = "Leave it"
        if session.kits.is_demo:
            first += " Marram Farm's kit stays as it is."
            back = "Go back to Marram Farm's"
        elif not session.own.is_empty():
            first += " Your own is kept, untouched."
            back = "Go back to mine"
        telling.notice("link", [first] + said, [
            ("look", "Just look at it"), ("for-me", "Make it for my measurements"),
            ("theirs", "Keep it, body and all"), ("mine", back),
        ])

    def _look(self):
        """The notice makes room; it stays with the way back."""
        session = self._session
        telling.notice("link", ["A link's %s: not yours yet." % _title(session)], [
            ("for-me", "Make it for my measurements"), ("theirs", "Keep it"), ("mine", "Leave it"),
        ])
        go_to_part("pieces")

    def _offer_rules(self, rules):
        """A group's rules came by a link: what they say is told once the tools run."""
        self._session.tell("rules", rules)

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

    async def _make_for_me(self):
        """The garment with its options for the wearer who is on the user's form, and not for its own."""
        session, theirs = self._session, self._session.draft
        if session.own is None:
            return
        telling.notice("link", [])
        await session.kits.to_own()
        kit, own_at = session.kit, session.kit["at"]
        wearer = kitvalues.wearer_of(kit, own_at)
        lengths = session.catalogue.lengths[theirs.garment]
        options = under(theirs.options, theirs.unit, wearer["unit"], lengths)
        first = kitvalues.is_empty(kit)
        made = kitvalues.add_garment(kit, wearer["id"], theirs.garment, options,
                                     kitvalues.entry(kit["garments"], own_at)["cloths"])
        if first:
            kitvalues.take_out(kit, [own_at])
        session.change_kit(made)
        said = "The link's %s is in your kit, for your own measurements." % _title(session)
        typed = [session.catalogue.label(name, theirs.garment).lower() for name in lengths if name in options]
        if typed:
            said += " As it was sent: %s; look whether that suits." % ", ".join(typed)
        session.undo.offer(said, lambda: self._take_out_again(made, own_at, ""))
        go_to_part("pieces" if session.draft.measurements else "wearer")

    async def _take_home(self):
        """What came by the link is one wearer more; in the user's own kit, while Marram Farm's is open."""
        session, theirs = self._session, self._session.draft
        if session.own is None:
            return
        telling.notice("link", [])
        await session.kits.to_own()
        own_at = session.kit["at"]
        garment_id = kitvalues.add_draft(session.kit, theirs)
        wearer_id = kitvalues.wearer_of(session.kit, garment_id)["id"]
        session.show_garment(garment_id)
        session.undo.offer("The link's draft is in your kit now, as one wearer more.",
                           lambda: self._take_out_again(garment_id, own_at, wearer_id))

    def _take_out_again(self, garment_id, back_to, wearer_id):
        session = self._session
        kit = session.kit
        kitvalues.take_out(kit, [garment_id], wearer_id)
        kit["at"] = back_to
        kitvalues.stand_somewhere(kit, session.catalogue.garments[0], session.catalogue.lengths)
        session.show_garment(kit["at"])


def told(draft, asked, catalogue):
    """What a link's draft is, and whose body it holds."""
    whose = draft.name.strip() or "someone it does not name"
    typed = [name for name in asked if name in draft.measurements]
    named = ", ".join(
        "%s %s" % (catalogue.label(name, draft.garment).lower(),
                   with_unit(draft.measurements[name], draft.unit))
        for name in typed[:FEW])
    more = " and %d more" % (len(typed) - FEW) if len(typed) > FEW else ""
    return "This came by a link: %s, drawn for %s (%s%s)." % (
        catalogue.title(draft.garment).lower(), whose, named or "no measurement yet", more)


def _title(session):
    return session.catalogue.title(session.draft.garment).lower()
