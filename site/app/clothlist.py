"""The kit's cloths: the lists to choose one from beside its fields, and each with what is cut from it.

What is cut from a cloth is listed when the cloth is unfolded, so that a large kit opens as fast as a
small.
"""

import kitcloths
import kitvalues
from cloths import NAME, PARTS, field_of
from kitvalues import entry
from pyscript import document
from safe import esc
from telling import arrive, by_id, set_html, show

NEW = "new"  # chosen for a cloth more


class ClothList:
    def __init__(self, session):
        self._session = session
        self._open = []  # the cloths that are unfolded
        session.hear("kit", self._refresh)
        session.hear("drawn", lambda _: self._refresh())

    @property
    def kit(self):
        return self._session.kit

    def answers(self):
        return {
            "cloth:go": lambda cloth_id, _: self._go(cloth_id),
            "cloth:out": lambda cloth_id, _: self._take_out(cloth_id),
        }

    def on_change(self):
        return (
            ("[data-cut-from]", self._chosen), ("[data-cut]", self._ticked), ("[data-cloth-of]", self._set),
        )

    def on_toggle(self):
        return (("[data-cloth]", self._folded),)

    def _refresh(self):
        """Both the lists in the Cloth section and the cloths in the kit's."""
        kit, own = self.kit, self._session.own is None
        garment = entry(kit["garments"], kit["at"])
        for part in PARTS:
            chosen = garment["cloths"].get(part)
            box = by_id("cut-from-" + part)
            set_html("cut-from-" + part, choices(kit, chosen, more=True))
            box.value = chosen or ""
            show("field-cut-from-" + part, own and bool(kit["cloths"]))
        set_html("kit-cloths", "".join(self._cloth(cloth) for cloth in kit["cloths"]))
        show("kit-cloths-part", bool(kit["cloths"]))

    def _cloth(self, cloth):
        uses = kitcloths.uses(self.kit, cloth["id"])
        opened = cloth["id"] in self._open
        said = ["nothing cut from it yet" if not uses else
                "%d garment%s" % (len(uses), "" if len(uses) == 1 else "s")]
        if cloth.get("width", "").strip() and cloth.get("name", "").strip():
            said = [kitcloths.wide(self.kit, cloth)] + said
        return (
            '<details class="group" data-cloth="%s"%s><summary><span>%s</span> '
            '<span class="aside">%s</span></summary>%s</details>'
            % (esc(cloth["id"]), " open" if opened else "", esc(kitcloths.called(self.kit, cloth)),
               esc(", ".join(said)), self._inside(cloth, uses) if opened else "")
        )

    def _inside(self, cloth, uses):
        cid, kit = esc(cloth["id"]), self.kit
        rows = []
        for wearer in kitvalues.by_name(kit):
            for garment in kitvalues.garments_of(kit, wearer["id"]):
                for part in kitcloths.parts_of(garment):
                    of = kitcloths.cloth_of(kit, garment["cloths"].get(part))
                    here = of is not None and of["id"] == cloth["id"]
                    rows.append(
                        '<label class="row"><input type="checkbox" data-cut="%s" value="%s"%s>'
                        '<span>%s%s</span></label>'
                        % (cid, esc(garment["id"] + ":" + part), " checked" if here else "",
                           esc(self._named(wearer, garment, part)),
                           "" if of is None or here else
                           ' <span class="aside">now of %s</span>' % esc(kitcloths.called(kit, of)))
                    )
        change = (
            '<button type="button" data-do="cloth:go:%s">Change this cloth</button>' % cid if uses else ""
        )
        return (
            '<fieldset class="cut"><legend>Cut from it</legend>%s</fieldset><div class="buttons">%s'
            '<button type="button" data-do="cloth:out:%s">Take it out</button></div>'
            % ("".join(rows), change, cid)
        )

    def _named(self, wearer, garment, part):
        title = self._session.catalogue.title(garment["garment"]).lower()
        text = "%s: %s" % (kitvalues.called(self.kit, wearer), title)
        return text if part == "main" else "%s, %s" % (text, part)

    # --- What the user does ----------------------------------------------------------------------

    def _go(self, cloth_id):
        garment, part = kitcloths.uses(self.kit, cloth_id)[0]
        self._session.show_garment(garment["id"])
        arrive(by_id(field_of(part, NAME)), by_id("field-" + field_of(part, NAME)))

    def _take_out(self, cloth_id):
        cloth = kitcloths.cloth_of(self.kit, cloth_id)
        gone = kitcloths.take_out(self.kit, cloth_id)
        self._changed()
        self._session.undo.offer("%s is taken out." % _first_upper(kitcloths.called(self.kit, cloth)),
                                 lambda: self._put_back(gone))

    def _put_back(self, gone):
        kitcloths.put_back(self.kit, gone)
        self._changed()

    def _chosen(self, box):
        """In the list beside the cloth's fields."""
        part, value = box.getAttribute("data-cut-from"), box.value
        self._choose(self.kit["at"], part, value)
        name = field_of(part, NAME)
        if value == NEW:
            arrive(by_id(name), by_id("field-" + name))
        else:
            by_id("cut-from-" + part).focus()

    def _set(self, box):
        """In the list among a garment's buttons."""
        garment_id, _, part = box.getAttribute("data-cloth-of").partition(":")
        self._choose(garment_id, part, box.value)

    def _ticked(self, box):
        cloth_id, value = box.getAttribute("data-cut"), box.value
        garment_id, _, part = value.partition(":")
        kitcloths.cut_from(self.kit, garment_id, part, cloth_id if box.checked else None)
        self._changed()
        again = document.querySelector('[data-cut="%s"][value="%s"]' % (cloth_id, value))
        if again:
            again.focus()

    def _choose(self, garment_id, part, value):
        """Cut a part of a garment from another cloth, or from a new one."""
        garment = entry(self.kit["garments"], garment_id)
        before = dict(garment["cloths"])
        if value == NEW:
            kitcloths.another(self.kit, garment_id, part)
        else:
            kitcloths.cut_from(self.kit, garment_id, part, value or None)
        self._changed()
        said = "A cloth more: say what it is." if value == NEW else "Another cloth."
        self._session.undo.offer(said, lambda: self._cut_as(garment_id, before))

    def _cut_as(self, garment_id, cloths):
        garment = entry(self.kit["garments"], garment_id)
        if garment:
            for part in PARTS:
                cloth = kitcloths.cloth_of(self.kit, cloths.get(part))
                kitcloths.cut_from(self.kit, garment_id, part, cloth["id"] if cloth else None)
        self._changed()

    def _folded(self, fold):
        """A cloth was unfolded: now what is cut from it is listed."""
        cloth_id = fold.getAttribute("data-cloth")
        if (cloth_id in self._open) != fold.open:
            if fold.open:
                self._open.append(cloth_id)
            else:
                self._open.remove(cloth_id)
            self._refresh()
            document.querySelector('[data-cloth="%s"] summary' % cloth_id).focus()

    def _changed(self):
        self._session.change_kit(self.kit["at"])


def choices(kit, chosen, more=False):
    """The options of a list to choose a cloth of the kit from."""
    html = '<option value="">no cloth chosen</option>' + "".join(
        '<option value="%s"%s>%s</option>'
        % (esc(c["id"]), " selected" if c["id"] == chosen else "", esc(kitcloths.called(kit, c)))
        for c in kit["cloths"]
    )
    return html + ('<option value="%s">another cloth…</option>' % NEW if more else "")


def _first_upper(text):
    return text[:1].upper() + text[1:]
