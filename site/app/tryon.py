"""Try it on: what is felt at each place by a tap and a number, what that changes on the pieces, what of it
the cloth as cut still holds, and what the next of the kind is to have. All is kept with the garment."""

import asyncio

import kitvalues
import telling
from clock import today
from kitlives import altered, note, same_kind_not_begun, unnote
from lasttime import written
from lengths import with_unit
from lives import has_it_now, story
from pyscript import document
from safe import esc
from takenup import listed
from telling import by_id, set_html, set_text, show
from wayfinding import go_to_part

PINCHED = ("loose", "gapes")  # where a fold is pinched and measured
WAITS = "This comes as soon as the drafting tools run: see above."


class TryOn:
    def __init__(self, session):
        self._session = session
        self._of = ""  # the garment, drafted as the questions on the page are for it
        self._felt = {}  # {place: {"word", "much", "pinched"}}
        self._asked, self._told = None, None  # what the worker said without answers, and with them
        self._busy = False
        session.hear("part", self._look)
        session.hear("drawn", lambda _: self._look())

    def answers(self):
        return {
            "try-on:go": lambda garment_id, _: self._go(garment_id),
            "try-on:see": lambda *_: self._see(),
            "try-on:fits": lambda *_: self._keep({}, self._asked["next"]),
            "try-on:keep": lambda *_: self._keep(self._texts(), self._told["next"]),
            "try-on:altered": lambda *_: self._altered(),
            "try-on:next": lambda *_: self._draft_next(),
        }

    def on_change(self):
        return (("[data-feel]", self._chosen), ("[data-pinched]", self._measured))

    def on_input(self):
        return (("[data-much]", self._measured),)

    def _go(self, garment_id):
        if garment_id:
            self._session.show_garment(garment_id)
        go_to_part("try-on")

    # --- The questions ---------------------------------------------------------------------------

    def _look(self):
        if document.documentElement.dataset.part == "try-on":
            asyncio.create_task(self._refresh())

    async def _refresh(self):
        session = self._session
        if session.own is not None or session.is_example():
            self._say("Keep the link's draft first, or type your own measurements: then it can be tried on.")
            show("try-asked", False)
            return
        of = session.kit["at"] + written(self._request())
        if of == self._of:
            return self._story()
        show("try-asked", False)
        self._say("Looking where it can be felt…")
        result = await self._run(self._request())
        if result and of != session.kit["at"] + written(self._request()):
            await self._refresh()  # it was changed meanwhile
        elif result:
            self._of, self._felt, self._asked, self._told = of, {}, result, None
            set_html("try-questions", "".join(_question(one) for one in result["questions"]))
            for shown in ("tried", "try-kept"):
                show(shown, False)
            show("try-asked")
            self._story()

    def _request(self, fits=()):
        request = self._session.ask()
        request["do"] = "try-on"
        request["altered"] = altered(self._session.kits.garment())
        request["fits"] = list(fits)
        return request

    async def _run(self, request):
        """The worker's answer; None where it is said why there is none."""
        if self._busy:
            return None
        self._busy = True
        try:
            if not await self._session.worker.ready():
                self._say(WAITS)
                return None
            result = await self._session.worker.steady.run(request)
        except Exception as error:
            self._say("That did not work (%s). Please try again." % telling.plain(error))
            return None
        finally:
            self._busy = False
        self._say("" if result["ok"] else " ".join(p["message"] for p in result["problems"]))
        return result if result["ok"] else None

    def _say(self, text):
        set_text("try-said", text)

    def _story(self):
        """Whose it is, and its life so far."""
        kit = self._session.kit
        garment = self._session.kits.garment()
        owner = kitvalues.wearer_of(kit, garment["id"])
        title = self._session.catalogue.title(garment["garment"]).lower()
        set_text("try-whose", "%s: %s" % (kitvalues.called(kit, owner), title))
        told = story(garment, owner["measured"], lambda wearer_id: called(kit, wearer_id))
        set_html("try-story", "".join("<li>%s</li>" % esc(one) for one in told))
        show("try-story-part", bool(told))

    # --- The answers -----------------------------------------------------------------------------

    def _chosen(self, box):
        place, word = box.getAttribute("data-feel"), box.value
        if word:
            self._felt.setdefault(place, {"much": "", "pinched": False})["word"] = word
            asks = next(one["asks"] for question in self._asked["questions"] if question["place"] == place
                        for one in question["feels"] if one["word"] == word)
            set_text("try-asks-" + place, asks.partition(": write")[0] + ("." if ": write" in asks else ""))
            show("try-pinched-" + place, word in PINCHED)
            by_id("try-pinch-" + place).checked = self._felt[place]["pinched"] = word in PINCHED
        else:
            self._felt.pop(place, None)
        show("try-much-" + place, bool(word) and word != "twists")
        show("try-plumb-" + place, word == "twists")
        self._changed(place)

    def _measured(self, box):
        place = box.getAttribute("data-much") or box.getAttribute("data-pinched")
        if box.hasAttribute("data-much"):
            self._felt[place]["much"] = box.value
        else:
            self._felt[place]["pinched"] = box.checked
        self._changed(place)

    def _changed(self, place):
        set_text("try-of-" + place, self._texts().get(place, "as it should be"))
        if self._told:
            by_id("tried").setAttribute("data-current", "no")
        self._told = None
        show("try-keep", False)

    def _texts(self):
        """{place: what is felt there, as `tight 3 cm`}, its unit said."""
        unit, found = self._session.draft.unit, {}
        for place in self._felt:
            one = self._felt[place]
            pinched = " pinch" if one["pinched"] and one["word"] in PINCHED else ""
            found[place] = (one["word"] + pinched + " " + with_unit(one["much"].strip(), unit)).strip()
        return found

    # --- What it changes -------------------------------------------------------------------------

    async def _see(self):
        texts = self._texts()
        fits = [[place, texts[place]] for place in sorted(texts) if texts[place] != "twists"]
        if not fits:
            self._say("Nothing is felt yet: open a place and tap what it is, or say that it fits.")
            return
        self._say("Moving the lines…")
        result = await self._run(self._request(fits))
        if result:
            self._told = result
            self._show(result["altered"], result["next"])
        await self._refresh()  # it may have been changed meanwhile

    def _show(self, made, following):
        set_html("try-changes", _list(made["changes"]))
        set_html("try-cloth", _list(made["as_cut"]))
        set_html("try-picture", made["picture"])
        show("try-picture", bool(made["picture"]))
        set_html("try-seams", "".join(
            '<tr><th scope="row">%s <span class="aside">%s</span></th><td>%s</td><td>%s</td></tr>'
            % (esc(seam["piece"]), esc(seam["seam"] or seam["edge"]), esc(seam["text"]),
               esc(seam["left_text"]))
            for seam in made["seams"]))
        show("try-seams-part", bool(made["seams"]))
        set_html("try-steps", "".join(_step(step) for step in made["steps"]))
        set_text("try-time", "about " + made["time"] if made["time"] else "")
        show("try-steps-part", bool(made["steps"]))
        set_text("try-next-has", listed(following) or "nothing but what it was drafted with")
        by_id("tried").setAttribute("data-current", "yes")
        for shown in ("tried", "try-keep"):
            show(shown)
        show("try-kept", False)
        telling.arrive(by_id("tried-title"))

    # --- Kept ------------------------------------------------------------------------------------

    def _keep(self, felt, following):
        """With the day, the wearer and the garment; what is not begun of the same kind takes it up."""
        session, kit = self._session, self._session.kit
        garment = session.kits.garment()
        now = has_it_now(garment)
        by_another = now if now != garment["wearer"] else ""
        fits = {} if by_another else dict(following)
        event = note(garment, "fitted", today(), wearer=by_another, felt=felt, fits=fits)
        later = [] if by_another else same_kind_not_begun(kit, garment)
        before = [(one, one["taken_up"]) for one in later]
        for one in later:
            one["taken_up"] = dict(fits)
        session.kits.touched()
        session.tell("kit")
        whose = called(kit, now or garment["wearer"])
        title = session.catalogue.title(garment["garment"]).lower()
        said = "Kept with %s and this %s. " % (whose, title)
        if by_another:
            said += "It was cut for another: what %s is drafted stays as it is." % whose
        elif fits:
            said += "The next %s for %s is drafted with: %s." % (title, whose, listed(fits))
        else:
            said += "The next one is drafted as this one was."
        set_text("try-kept-said", said)
        show("try-altered", bool(self._told and self._told["altered"].get("done")))
        show("try-next", not by_another)
        for shown in ("try-keep", "try-kept"):
            show(shown, shown == "try-kept")
        self._story()
        session.undo.offer("The try-on is kept.", lambda: self._unkeep(garment, event, before))
        telling.arrive(by_id("try-kept-said"))

    def _unkeep(self, garment, event, before):
        unnote(garment, event)
        for one, fits in before:
            one["taken_up"] = fits
        show("try-kept", False)
        show("try-keep", bool(self._told))
        self._kit_changed()

    def _kit_changed(self):
        self._session.kits.touched()
        self._session.tell("kit")
        self._of = ""
        self._look()

    def _altered(self):
        """It was done on the cloth: from now on the garment is that."""
        garment = self._session.kits.garment()
        event = note(garment, "altered", today(), fits=dict(self._told["altered"]["done"]))
        self._kit_changed()

        def undo():
            unnote(garment, event)
            self._kit_changed()

        self._session.undo.offer("Noted: it is altered.", undo)

    def _draft_next(self):
        session, kit = self._session, self._session.kit
        before = kit["at"]
        owner = kitvalues.wearer_of(kit, before)["id"]
        made = kitvalues.copy_garment(kit, before, owner, session.catalogue.lengths)
        session.change_kit(made)

        def undo():
            kitvalues.take_out(kit, [made])
            session.change_kit(before)

        session.undo.offer("One more, drafted with the try-on.", undo)
        go_to_part("garment")


def called(kit, wearer_id):
    wearer = kitvalues.entry(kit["wearers"], wearer_id)
    return kitvalues.called(kit, wearer) if wearer else "somebody"


def _list(sentences):
    return "".join("<li>%s</li>" % esc(one) for one in sentences)


def _step(step):
    beside = ", ".join(text for text in (step["text"], step["time"]) if text)
    return '<li><b>%s</b> <span class="aside">%s</span>%s</li>' % (
        esc(step["title"]), esc(beside), "".join("<p>%s</p>" % esc(one) for one in step["sentences"]))


def _question(one):
    place = esc(one["place"])
    words = "".join(
        '<label class="pick"><input type="radio" name="feel-%s" data-feel="%s" value="%s"%s>'
        "<span>%s</span></label>" % (place, place, esc(word), "" if word else " checked", esc(label))
        for word, label in [("", "fits")] + [(feel["word"], feel["word"]) for feel in one["feels"]])
    figure = '<div class="figure" aria-hidden="true">%s</div>' % one["drawing"] if one["drawing"] else ""
    return (
        '<details class="group" name="try-on"><summary><span>%s</span> '
        '<span class="aside" id="try-of-%s">as it should be</span></summary>'
        '<div class="measure try">%s<fieldset class="picks"><legend class="unseen">%s</legend>%s</fieldset>'
        '<div id="try-much-%s" class="much" hidden><label for="try-mm-%s" id="try-asks-%s"></label>'
        '<div class="box length"><input id="try-mm-%s" data-much="%s" type="text" inputmode="decimal" '
        'autocomplete="off" enterkeyhint="done"></div>'
        '<label class="row" id="try-pinched-%s" hidden>'
        '<input type="checkbox" id="try-pinch-%s" data-pinched="%s">'
        "<span>this is the depth of a pinched fold</span></label></div>"
        '<p id="try-plumb-%s" hidden>No fit mends a twist: unpick that seam, let it hang, and baste it again '
        "from the top down with both sides equally long.</p></div></details>"
        % (esc(one["title"]), place, figure, esc(one["title"]), words,
           place, place, place, place, place, place, place, place, place)
    )
