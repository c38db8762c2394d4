"""The shopping list: made while the user watches, shown as tables, copied, shared and printed."""

import telling
from draft import with_names
from exchange import copy_text, hand_over, offer_to_share, share_text
from kittexts import to_shop
from kitvalues import draft_of
from pyscript import window
from safe import esc
from telling import by_id, set_html, set_text, show
from watching import Watching

SECONDS = 3  # to search for a shorter lay on each cloth, unless the user has seen enough


class ShoppingPart:
    """`bolts` shows what a kit's list was laid on."""

    def __init__(self, session, bolts):
        self._session, self._bolts = session, bolts
        self._watching = Watching("shop", "The list", session.worker.ready)
        self._of = None  # the request that the list on the page answers
        self._made = None
        session.hear("drawn", lambda _: self._check())

    def answers(self):
        return {
            "shop:make": lambda *_: self._make(),
            "shop:stop": lambda *_: self._stop(),
            "shop:copy": lambda *_: copy_text(
                self._made["text"], "shop-text", "took-shop", "Copied: paste it into a message."),
            "shop:share": lambda *_: share_text(
                "took-shop", self._made["listing"]["title"], self._made["text"]),
            "shop:sheet": lambda *_: self._print(),
        }

    def _ask(self, but=""):
        """For the list of the kit, or of one garment while there is no more; without one of the garments."""
        session, draft = self._session, self._session.draft
        if session.own is None:
            left = [one["id"] for one in session.kit["garments"] if one["id"] != but]
            if len(left) > 1:
                kit = to_shop(session.kit, but)
                return {"do": "shop", "seconds": SECONDS, "kit": kit, "unit": draft.unit}
            if but and left:
                draft = draft_of(session.kit, left[0], session.kits.lengths)
        request = with_names(session.ask(draft), draft)
        request.update({"do": "shop", "seconds": SECONDS, "name": draft.name.strip()})
        return request

    async def _stop(self):
        self._watching.so_far("Finishing")
        await self._session.worker.steady.stop()

    async def _make(self):
        async def listed():
            request = self._ask()
            self._show(request, await self._session.worker.steady.shop(request, self._progress))

        await self._watching.through(listed)

    def _check(self):
        """Say when what is listed is no longer what would be; what is only looked at does not count."""
        if self._of is not None and self._of not in (self._ask(), self._ask(self._session.kit["looking"])):
            self._of = None
            self._watching.say("Something has changed since: make the list again.")
            by_id("shopped").setAttribute("data-current", "no")

    def _progress(self, step):
        self._watching.so_far(step["doing"], step["done"])

    def _show(self, request, result):
        if not result["ok"]:
            self._watching.refused(result)
            return
        self._of, self._made = request, result
        set_html("shopping-list", "".join(part_html(part) for part in result["listing"]["parts"]))
        self._bolts.show(request, result["bolts"])
        set_text("took-shop", "")
        show("shop-text-shown", False)
        show("share-shop", bool(window.ellwand.canShare("", "")))
        by_id("shopped").setAttribute("data-current", "yes")
        show("shopped")
        self._check()

    async def _print(self):
        button = by_id("print-shop")
        button.setAttribute("aria-busy", "true")
        set_text("took-shop", "Setting the sheet…")
        request = {"do": "shopping-sheet", "listing": self._made["listing"],
                   "paper": by_id("paper").value}
        try:
            result, content = await self._session.worker.steady.run_bytes(request)
            if result["ok"]:
                hand_over(content, result["type"], result["name"])
                set_text("took-shop", "%s is in your downloads." % result["name"])
                offer_to_share("took-shop", content, result["type"], result["name"])
            else:
                set_text("took-shop", "Not yet: " + result["problems"][0]["message"])
        except Exception as error:
            set_text("took-shop", "The sheet could not be made (%s). Please try again."
                     % telling.plain(error))
        finally:
            button.removeAttribute("aria-busy")


def part_html(part):
    """A part of a list: its rows and its notes."""
    rows = "".join(
        '<tr><th scope="row">%s%s</th><td>%s</td></tr>'
        % (esc(what), '<span class="aside">%s</span>' % esc(remark) if remark else "", esc(amount))
        for what, amount, remark in part["rows"]
    )
    table = (
        '<table><thead class="unseen"><tr><th scope="col">What</th><th scope="col">How much</th></tr>'
        "</thead><tbody>%s</tbody></table>" % rows if rows else ""
    )
    notes = "".join("<li>%s</li>" % esc(note) for note in part["notes"])
    return "<h4>%s</h4>%s%s" % (esc(part["title"]), table, "<ul>%s</ul>" % notes if notes else "")
