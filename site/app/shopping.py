"""The shopping list: made while the user watches, shown as tables, copied, shared and printed."""

import telling
from pyscript import window
from safe import esc
from takeaway import copy_text, hand_over, offer_to_share, share_text
from telling import by_id, set_html, set_text, show
from watching import Watching

SECONDS = 3  # to search for a shorter lay on each cloth, unless the user has seen enough


class ShoppingPart:
    """`ask()` gives the request of a list, `engine` makes it, `ready()` waits for the worker."""

    def __init__(self, ask, engine, ready):
        self._ask, self._engine = ask, engine
        self._watching = Watching("shop", "The list", ready)
        self._of = None  # the request that the list on the page answers
        self._made = None

    async def do(self, what):
        if what == "make":
            await self.make()
        elif what == "stop":
            self._watching.so_far("Finishing")
            await self._engine.stop()
        elif what == "copy":
            await copy_text(self._made["text"], "shop-text", "took-shop", "Copied: paste it into a message.")
        elif what == "share":
            await share_text("took-shop", self._made["listing"]["title"], self._made["text"])
        elif what == "sheet":
            await self._print()

    async def make(self):
        async def listed():
            request = self._ask()
            self._show(request, await self._engine.shop(request, self._progress))

        await self._watching.through(listed)

    def check(self):
        """Say when what is listed is no longer what would be."""
        if self._of is not None and self._ask() != self._of:
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
        set_html("shopping-list", "".join(_part_html(part) for part in result["listing"]["parts"]))
        set_text("took-shop", "")
        show("shop-text-shown", False)
        show("share-shop", bool(window.ellwand.canShare("", "")))
        by_id("shopped").setAttribute("data-current", "yes")
        show("shopped")
        self.check()

    async def _print(self):
        button = by_id("print-shop")
        button.setAttribute("aria-busy", "true")
        set_text("took-shop", "Setting the sheet…")
        request = {"do": "shopping-sheet", "listing": self._made["listing"],
                   "paper": by_id("paper").value}
        try:
            result, content = await self._engine.run_bytes(request)
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


def _part_html(part):
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
