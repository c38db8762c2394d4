"""What an earlier try-on left for the garment on the form: said where that is chosen, to take or leave."""

import kitvalues
from telling import set_text, show


class TakenUp:
    def __init__(self, session):
        self._session = session
        session.hear("kit", self._refresh)

    def answers(self):
        return {
            "taken-up:leave": lambda *_: self._put({}, "Drafted without the try-on."),
            "taken-up:take": lambda *_: self._put(self._left()[1], "Drafted with the try-on."),
        }

    def _left(self):
        """The day of the wearer's last try-on of such a garment, and the changes that it left; of one that is
        begun none, for its cloth is cut."""
        session = self._session
        garment = session.kits.garment()
        if session.own is not None or garment["done"] or garment["life"]:
            return "", {}
        return kitvalues.usual_fit(session.kit, garment["wearer"], garment["garment"])

    def _refresh(self):
        taken, (day, left) = self._session.draft.taken_up, self._left()
        said = ""
        if taken:
            since = " of %s" % day if day and left == taken else ""
            said = "Drafted with what a try-on%s left: %s." % (since, listed(taken))
        elif left:
            said = "The try-on of %s left: %s. This draft is without it." % (day, listed(left))
        set_text("taken_up-said", said)
        show("field-taken_up", bool(said))
        show("taken_up", bool(taken))
        show("take-up", bool(left) and not taken)

    def _put(self, fits, said):
        draft = self._session.draft
        garment, before = draft.garment, draft.taken_up

        def put(texts):
            draft.fitted[garment] = dict(texts)
            self._session.changed()

        put(fits)
        self._session.undo.offer(said, lambda: put(before))


def listed(fits):
    """“chest +3 cm, sleeve length −2 cm”."""
    return ", ".join(
        "%s %s" % (place.replace("-", " "), fits[place].replace("-", "−")) for place in sorted(fits))
