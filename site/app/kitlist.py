"""The kit's section: each wearer with their garments, to go to, add, take out, copy and mark as sewn; and
its cloths (clothlist.py).

A wearer's garments are made when the wearer is unfolded, so that a large kit opens as fast as a small.
"""

import kitcloths
import kitlives
import kitvalues
from chalking import KEPT
from clock import today
from clothlist import choices
from kitlives import handed_to
from kitvalues import called, entry
from lives import has_it_now, story
from pyscript import document
from safe import esc
from telling import by_id, set_html, set_text, show
from wayfinding import go_to_part

FEW = 3  # so many wearers are shown unfolded


class KitList:
    def __init__(self, session):
        self._session, self._catalogue = session, session.catalogue
        self._more = ""  # the garment whose buttons are unfolded
        self._folds = {}  # wearer: whether the user has unfolded them
        session.hear("kit", self._refresh)
        session.hear("drawn", lambda _: self._refresh())

    @property
    def kit(self):
        return self._session.kit

    def answers(self):
        return {
            "garment:go": lambda garment_id, _: self._go(garment_id),
            "garment:more": lambda garment_id, _: self._show_more(garment_id),
            "garment:copy": lambda garment_id, _: self._copy(garment_id),
            "garment:out": lambda garment_id, _: self._take_out([garment_id], "Taken out of the kit."),
            "garment:sewn": lambda garment_id, _: self._mark(entry(self.kit["garments"], garment_id)),
            "garment:back": lambda garment_id, _: self._take_back(entry(self.kit["garments"], garment_id)),
        }

    def on_input(self):
        return (("#kit-title-text", self._titled),)

    def on_change(self):
        return (("[data-add]", self._add), ("[data-give]", self._give), ("[data-hand-on]", self._hand_on))

    def on_toggle(self):
        return (("[data-wearer]", self._folded),)

    def _refresh(self):
        kit = self.kit
        box = by_id("kit-title-text")
        if box.value != kit["title"]:
            box.value = kit["title"]
        own = self._session.own is None
        show("kit-own", own)
        show("kit-away", not own)
        html = "".join(self._wearer(w) for w in kitvalues.by_name(kit))
        set_html("kit-wearers", html)
        sewn = len([g for g in kit["garments"] if _is_sewn(g)])
        set_text("kit-sum", "%s, %s, %d sewn" % (
            _count(len(kit["wearers"]), "wearer"), _count(len(kit["garments"]), "garment"), sewn))

    def _is_open(self, wearer_id):
        few = len(self.kit["wearers"]) <= FEW
        now = kitvalues.wearer_of(self.kit, self.kit["at"])["id"]
        return self._folds.get(wearer_id, few or wearer_id == now)

    def _wearer(self, wearer):
        garments = kitvalues.garments_of(self.kit, wearer["id"])
        opened = self._is_open(wearer["id"])
        inside = self._garments(wearer, garments) if opened else ""
        return (
            '<details class="group" data-wearer="%s"%s><summary><span>%s</span> '
            '<span class="aside">%s</span></summary>%s</details>'
            % (esc(wearer["id"]), " open" if opened else "", esc(called(self.kit, wearer)),
               _count(len(garments), "garment"), inside)
        )

    def _garments(self, wearer, garments):
        kinds = "".join(
            '<option value="%s">%s</option>' % (esc(kind), esc(self._catalogue.title(kind)))
            for kind in self._catalogue.garments
        )
        whose = esc(called(self.kit, wearer))
        return (
            '<ul class="kit-garments">%s</ul><div class="buttons"><div class="box list">'
            '<select data-add="%s" aria-label="Add a garment for %s" autocomplete="off">'
            '<option value="">Add a garment</option>%s</select></div>'
            '<button type="button" data-do="garment:leave:%s" aria-label="Delete wearer %s">'
            "Delete wearer</button>"
            "</div>"
            % ("".join(self._garment(g) for g in garments) + "".join(
                self._handed(g) for g in handed_to(self.kit, wearer["id"])), esc(wearer["id"]), whose, kinds,
               esc(wearer["id"]), whose)
        )

    def _garment(self, garment):
        known = garment["garment"] in self._catalogue.garments
        title = esc(self._catalogue.title(garment["garment"]))
        cloths = [entry(self.kit["cloths"], garment["cloths"].get(part))
                  for part in kitcloths.parts_of(garment)]
        said = [esc(kitcloths.called(self.kit, cloth)) for cloth in cloths if cloth]
        if garment["progress"] or garment["done"]:
            said.append("sewn" if _is_sewn(garment) else _how_far(garment))
        if not known:
            said.append("not known to this version")
        said += self._whose(garment)
        now, gid = garment["id"] == self.kit["at"], esc(garment["id"])
        return (
            '<li%s><div class="kit-row"><button type="button" class="kit-go" data-do="garment:go:%s"%s%s>'
            '<b>%s</b> <span class="aside">%s</span></button>'
            '<button type="button" data-do="garment:more:%s" aria-expanded="%s" '
            'aria-label="More for this %s">⋯</button></div>%s</li>'
            % (' class="now"' if now else "", gid, ' aria-current="true"' if now else "",
               "" if known else " disabled", title, ", ".join(said), gid,
               "true" if self._more == garment["id"] else "false", title.lower(),
               self._buttons(garment) if self._more == garment["id"] else "")
        )

    def _handed(self, garment):
        """What a wearer was handed by another, in whose list all else about it stands."""
        return (
            '<li><div class="kit-row"><button type="button" class="kit-go" data-do="garment:go:%s">'
            '<b>%s</b> <span class="aside">%s</span></button></div></li>'
            % (esc(garment["id"]), esc(self._catalogue.title(garment["garment"])),
               "from %s" % esc(self._name(garment["wearer"])))
        )

    def _whose(self, garment):
        """Who cut it and who has it, where that is not one."""
        now = has_it_now(garment)
        if now == garment["wearer"]:
            return []
        return ["%s's, handed on to %s" % (esc(self._name(garment["wearer"])), esc(self._name(now)))]

    def _name(self, wearer_id):
        wearer = entry(self.kit["wearers"], wearer_id)
        return called(self.kit, wearer) if wearer else "somebody else"

    def _story(self, garment):
        """What became of it so far, and the way to a try-on."""
        measured = entry(self.kit["wearers"], garment["wearer"])["measured"]
        told = story(garment, measured, self._name) if garment["life"] or garment["taken_up"] else []
        return (
            '%s<div class="buttons">'
            '<button type="button" class="main" data-do="try-on:go:%s">Try it on</button>%s</div>'
            % ("<ul>%s</ul>" % "".join("<li>%s</li>" % esc(one) for one in told) if told else "",
               esc(garment["id"]),
               "" if has_it_now(garment) == garment["wearer"] else
               '<button type="button" data-do="garment:back:%s">It came back</button>' % esc(garment["id"]))
        )

    def _buttons(self, garment):
        gid = esc(garment["id"])
        lists = "".join(
            '<div class="field"><label for="%s-%s">%s</label><div class="box list">'
            '<select id="%s-%s" data-cloth-of="%s:%s" autocomplete="off">%s</select></div></div>'
            % (gid, part, "Cut from" if part == "main" else "Lined with", gid, part, gid, part,
               choices(self.kit, garment["cloths"].get(part)))
            for part in kitcloths.parts_of(garment) if self.kit["cloths"]
        )
        others = [w for w in kitvalues.by_name(self.kit) if w["id"] != garment["wearer"]]
        if others:
            lists += (
                '<div class="box list give"><select data-give="%s" aria-label="Give one like it to" '
                'autocomplete="off"><option value="">Give one like it to…</option>%s%s</select></div>'
                % (gid, "".join('<option value="%s">%s</option>' % (esc(w["id"]), esc(called(self.kit, w)))
                                for w in others),
                   '<option value="all">everyone else</option>' if len(others) > 1 else "")
            )
        lists += (
            '<div class="box list give"><select data-hand-on="%s" aria-label="Hand it on to" '
            'autocomplete="off"><option value="">Hand it on to…</option>%s'
            '<option value="somebody">somebody else</option></select></div>'
            % (gid, "".join('<option value="%s">%s</option>' % (esc(w["id"]), esc(called(self.kit, w)))
                            for w in others))
        )
        return (
            '%s%s<div class="buttons"><button type="button" data-do="garment:sewn:%s">%s</button>'
            '<button type="button" data-do="garment:copy:%s">Duplicate</button>'
            '<button type="button" data-do="garment:out:%s">Take out</button></div>'
            % (self._story(garment), lists, gid,
               "Not sewn" if _is_sewn(garment) else "Mark as sewn", gid, gid)
        )

    # --- What the user does ----------------------------------------------------------------------

    def _go(self, garment_id):
        self._session.show_garment(garment_id)
        go_to_part("garment")

    def _show_more(self, garment_id):
        self._more = "" if self._more == garment_id else garment_id
        self._refresh()
        button = document.querySelector('[data-do="garment:more:%s"]' % garment_id)
        if button:
            button.focus()

    def _copy(self, garment_id):
        owner = entry(self.kit["garments"], garment_id)["wearer"]
        made = kitvalues.copy_garment(self.kit, garment_id, owner, self._catalogue.lengths)
        self._session.change_kit(made)
        self._offer("One more of the same.", lambda: self._take_out([made]))

    def _add(self, box):
        """A kind of garment was chosen for a wearer."""
        owner, kind = box.getAttribute("data-add"), box.value
        cloths = self._session.kits.garment()["cloths"]
        made = kitvalues.add_garment(self.kit, owner, kind, {}, cloths)
        self._session.change_kit(made)
        self._offer("In the kit now: %s." % self._catalogue.title(kind), lambda: self._take_out([made]))

    def _give(self, box):
        """The same garment for another wearer, or for all the others."""
        garment_id, wearer_id, kit = box.getAttribute("data-give"), box.value, self.kit
        owner = entry(kit["garments"], garment_id)["wearer"]
        to = [w["id"] for w in kit["wearers"] if w["id"] != owner] if wearer_id == "all" else [wearer_id]
        made = [kitvalues.copy_garment(kit, garment_id, one, self._catalogue.lengths) for one in to]
        self._session.change_kit(kit["at"])
        self._offer("%s more." % _count(len(made), "garment"), lambda: self._take_out(made))

    def _hand_on(self, box):
        """The garment itself goes to another wearer, or out of the kit."""
        garment = entry(self.kit["garments"], box.getAttribute("data-hand-on"))
        to = box.value if box.value != "somebody" else ""
        self._became(garment, "handed on", to, "Handed on.")

    def _take_back(self, garment):
        self._became(garment, "handed on", garment["wearer"], "It is back.")

    def _became(self, garment, what, wearer_id, said):
        event = kitlives.note(garment, what, today(), wearer=wearer_id)

        def undo():
            kitlives.unnote(garment, event)
            self._session.change_kit(self.kit["at"])

        self._session.change_kit(self.kit["at"])
        self._offer(said, undo)

    def _titled(self, box):
        self.kit["title"] = box.value
        self._session.kits.touched()

    def _folded(self, fold):
        """A wearer was unfolded: now their garments are made."""
        wearer_id = fold.getAttribute("data-wearer")
        if self._is_open(wearer_id) != fold.open:
            self._folds[wearer_id] = fold.open
            self._refresh()
            document.querySelector('[data-wearer="%s"] summary' % wearer_id).focus()

    def _take_out(self, garment_ids, said=""):
        kit, at = self.kit, self.kit["at"]
        gone = kitvalues.take_out(kit, garment_ids)
        kitvalues.stand_somewhere(kit, self._catalogue.garments[0], self._catalogue.lengths)
        self._session.change_kit(kit["at"])
        if said:
            self._offer(said, lambda: self._put_back(gone, at))

    def _put_back(self, gone, at):
        kitvalues.put_back(self.kit, gone)
        self._session.change_kit(at if entry(self.kit["garments"], at) else self.kit["at"])

    async def _mark(self, garment):
        """Every step of it is done, or none."""
        before = garment["done"], garment["progress"], list(garment["life"])
        if _is_sewn(garment):
            after = _chalked(garment), "", [one for one in before[2] if one["what"] != "sewn"]
        else:
            if not await self._session.worker.ready():
                return
            request = self._session.ask(kitvalues.draft_of(self.kit, garment["id"], self._catalogue.lengths))
            request["do"] = "sew"
            result = await self._session.worker.run(request)
            if not result or not result["ok"]:
                said = result["problems"][0]["message"] if result else ""
                set_text("kit-said", "Not yet: " + said)
                return
            steps = [step["id"] for step in result["steps"]]
            kitlives.come_to(garment, "sewn", True, today())
            after = _chalked(garment) + steps, "%d of %d" % (len(steps), len(steps)), garment["life"]
        self._set_done(garment, after)
        self._offer("Marked.", lambda: self._set_done(garment, before))

    def _set_done(self, garment, done):
        garment["done"], garment["progress"], garment["life"] = list(done[0]), done[1], list(done[2])
        self._session.change_kit(self.kit["at"])

    def _offer(self, text, undo):
        self._session.undo.offer(text, undo)


def _is_sewn(garment):
    done, _, of = garment["progress"].partition(" of ")
    return bool(of) and done == of


def _chalked(garment):
    return [name for name in garment["done"] if name.startswith(KEPT)]


def _how_far(garment):
    steps = len(garment["done"]) - len(_chalked(garment))
    if garment["progress"] and not garment["progress"].startswith("0 ") or steps:
        return "%s steps" % (garment["progress"] or steps)
    return "being chalked" if garment["done"] else "not begun"


def _count(number, what):
    return "%d %s%s" % (number, what, "" if number == 1 or what == "of the" else "s")
