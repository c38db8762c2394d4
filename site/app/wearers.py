"""The wearer on the form: who it is, one more, one less, start values of a size, and wearers' files.

Nobody is ever written over: whoever leaves the form stays in the kit.
"""

import kitvalues
from draft import in_a_unit_of_the_page, months
from kitvalues import called, entry, nobody
from safe import esc
from exchange import hand_over, take_file, with_text
from telling import arrive, by_id, focus_here, plain, set_html, set_text, show
from texts import one_line

COLUMNS = 4  # of a blank measuring sheet
LARGEST = 1000000  # bytes; more is not even read
WAITS = "This comes as soon as the drafting tools run: see below."


class Wearers:
    def __init__(self, session):
        self._session, self._catalogue = session, session.catalogue
        session.hear("kit", self._refresh)

    @property
    def kit(self):
        return self._session.kit

    def answers(self):
        return {
            "wearer:another": lambda *_: self._another(),
            "wearer:delete": lambda *_: self._delete(kitvalues.wearer_of(self.kit, self.kit["at"])["id"]),
            "wearer:save": lambda *_: self._save_file(),
            "wearer:sheet": lambda _, button: self._take_sheet(button),
            "wearer:open": lambda *_: by_id("wearer-file").click(),
            "garment:leave": lambda wearer_id, _: self._delete(wearer_id),
        }

    def on_change(self):
        return (
            ("#wearer-list", lambda box: self._session.show_garment(box.value)),
            ("#wearer-file", self._open_file),
            ("#size", self._start_from),
        )

    # --- Who is drafted for ----------------------------------------------------------------------

    def _refresh(self):
        """The list to choose from, once the kit has more than one garment; a link's draft is nobody's
        yet."""
        own = self._session.own is None
        set_html("wearer-list", "".join(
            '<option value="%s"%s>%s</option>'
            % (esc(g["id"]), " selected" if g["id"] == self.kit["at"] else "", esc(text))
            for g, text in self._choices()
        ))
        by_id("wearer-list").value = self.kit["at"]
        show("wearer-switch", own and len(self.kit["garments"]) > 1)
        show("wearer-delete", len(self.kit["wearers"]) > 1)
        show("more-wearers", own)
        show("start-from", not self._session.draft.measurements)

    def _choices(self):
        """Each garment that the page knows, with its wearer's name, and its own where they have more."""
        found = []
        for wearer in kitvalues.by_name(self.kit):
            garments = [g for g in kitvalues.garments_of(self.kit, wearer["id"])
                        if g["garment"] in self._catalogue.lengths]
            for garment in garments:
                text = called(self.kit, wearer)
                if len(garments) > 1:
                    text += ", " + self._catalogue.title(garment["garment"]).lower()
                found.append((garment, text))
        return found

    def _another(self):
        """One wearer more, who gets the garment on the form as it is."""
        kit = self.kit
        before = kitvalues.wearer_of(kit, kit["at"])
        if kitvalues.is_nobody(before):
            arrive(by_id("name"))
            return
        self._let_in(nobody(before["unit"]), "A new wearer. %s is kept." % _called(before))
        arrive(by_id("name"))

    def _let_in(self, person, said):
        """A person with the garment on the form; in the place of nobody when nobody is on it."""
        kit = self.kit
        back_to = kit["at"]
        before = kitvalues.wearer_of(kit, back_to)
        wearer_id = kitvalues.add_wearer(kit, person)
        garment_id = kitvalues.copy_garment(kit, back_to, wearer_id, self._catalogue.lengths)
        if kitvalues.is_nobody(before):
            gone = [g["id"] for g in kitvalues.garments_of(kit, before["id"])]
            kitvalues.take_out(kit, gone, before["id"])
            self._session.show_garment(garment_id)
            set_text("wearer-said", "The file is read: %s is filled in." % _called(person))
            return
        self._session.show_garment(garment_id)
        self._session.undo.offer(said, lambda: self._let_out(garment_id, wearer_id, person, back_to))

    def _let_out(self, garment_id, wearer_id, person, back_to):
        """Undo letting in; the newcomer stays if something was typed since."""
        kit = self.kit
        wearer = entry(kit["wearers"], wearer_id)
        if wearer and all(wearer[key] == person[key] for key in kitvalues.PERSON):
            kitvalues.take_out(kit, [garment_id], wearer_id)
        self._session.show_garment(back_to)

    def _delete(self, wearer_id):
        """A wearer with all their garments; undo brings them back."""
        kit = self.kit
        wearer = entry(kit["wearers"], wearer_id)
        back_to = kit["at"]
        gone = kitvalues.take_out(
            kit, [g["id"] for g in kitvalues.garments_of(kit, wearer_id)], wearer_id)
        kitvalues.stand_somewhere(kit, self._catalogue.garments[0], self._catalogue.lengths)
        self._session.show_garment(kit["at"])
        self._session.undo.offer("%s is deleted." % _called(wearer), lambda: self._restore(gone, back_to))
        focus_here()

    def _restore(self, gone, at):
        kitvalues.put_back(self.kit, gone)
        self._session.show_garment(at if entry(self.kit["garments"], at) else self.kit["at"])

    # --- Start values ----------------------------------------------------------------------------

    def _start_from(self, box):
        """Fill the empty form with a size's start values, each marked until it is replaced."""
        size, draft = self._catalogue.size(box.value), self._session.draft
        box.value = ""
        if not size:
            return
        texts = size[draft.unit]
        for measure in texts:
            if not draft.get("measurements", measure):
                draft.put("measurements", measure, texts[measure])
                draft.start[measure] = texts[measure]
        self._session.refill()
        self._session.undo.offer("Start values of a size: replace each as you measure.", self._drop_starts)

    def _drop_starts(self):
        draft = self._session.draft
        for name in [name for name in draft.measurements if draft.is_start(name)]:
            del draft.measurements[name]
        draft.start = {}
        self._session.refill()

    # --- Files -----------------------------------------------------------------------------------

    async def _save_file(self):
        person = self._session.draft.to_plain()
        wearer = {key: person[key] for key in ("name", "unit", "measured", "sex", "born")}
        wearer["name"] = one_line(wearer["name"])
        wearer["measurements"] = {
            name: one_line(person["measurements"][name]) for name in person["measurements"]
        }
        if person["age_months"] and not person["born"]:
            wearer["age"] = months(person["age_months"])
        result = await self._answer({"do": "write-wearer", "wearer": wearer})
        if result:
            hand_over(result["text"], result["type"], result["name"])
            set_text("wearer-said", "%s is in your downloads." % result["name"])

    async def _take_sheet(self, button):
        """A blank sheet for what the kit's garments need, or the one on the form."""
        known = self._catalogue.lengths
        kinds = [g["garment"] for g in self.kit["garments"] if g["garment"] in known]
        draft = self._session.draft
        request = {"do": "measuring-sheet", "garments": [draft.garment] + kinds, "unit": draft.unit,
                   "paper": by_id("paper").value, "people": COLUMNS}
        await take_file(self._session.worker, request, "wearer-said", button, "Drawing the sheet")

    async def _open_file(self, box):
        """A wearer's file becomes a wearer more. Whoever is drafted for waits meanwhile."""
        await with_text(
            box, LARGEST, "This file is too large to be a wearer's.", "wearer-said", self._open_text
        )

    async def _open_text(self, text):
        result = await self._answer({"do": "read-wearer", "text": text})
        if result:
            wearer = result["wearer"]
            person = nobody(wearer["unit"])
            for key in ("name", "measured", "born", "sex", "measurements"):
                person[key] = wearer.get(key) or person[key]
            person["age_months"] = str(wearer["age"]) if "age" in wearer else ""
            in_a_unit_of_the_page(person)
            set_text("wearer-said", "")
            await self._session.kits.to_own()
            self._let_in(person, "%s is here, as one wearer more." % _called(person))

    async def _answer(self, request):
        """The worker's result, or None when the reason has been said."""
        try:
            if not await self._session.worker.ready():
                set_text("wearer-said", WAITS)
                return None
            result = await self._session.worker.steady.run(request)
        except Exception as error:
            set_text("wearer-said", "That did not work (%s). Please try again." % plain(error))
            return None
        if not result["ok"]:
            problems = " ".join(problem["message"] for problem in result["problems"])
            set_text("wearer-said", problems)
            return None
        return result


def _called(person):
    return person["name"].strip() or "The wearer"

