"""The sections that nobody needs before the page listens: made once it does (arriving.py)."""

import asyncio

from advice import AdvicePart
from awake import Awake
from bolts import BoltsPart
from chalking import Chalking
from changes import Changes
from clothlist import ClothList
from codes import Codes
from cutting import Cutting
from enlarging import Enlarging
from handed import Handed
from houserules import HouseRulesForm
from kitfiles import KitFiles
from kitlist import KitList
from kitshelf import KitShelf
from season import SeasonPart
from sewing import Sewing
from shopping import ShoppingPart
from takenup import TakenUp
from takeaway import TakeAway
from tryon import TryOn
from visiting import Visiting
from wearers import Wearers
from worn import WornPart

BUSY = "[data-part=chalking] .chalk-piece[open], [data-part=sewing] .step[open], #qr:not([hidden])"


class Later:
    """`visiting` shows what a link holds."""

    def __init__(self, session, fields):
        changes = Changes(session, fields)
        chalking = Chalking(session)
        enlarging = Enlarging()
        cutting = Cutting(session, chalking, changes, enlarging)
        codes = Codes(session)
        bolts = BoltsPart(session, enlarging)
        files = KitFiles(session, codes)
        shelf = KitShelf(session, files)
        handed = Handed(session, files)
        advice = AdvicePart(session, fields, changes)
        self.visiting = Visiting(session, handed)
        self.sections = (
            changes, chalking, cutting, enlarging, codes, files, shelf, handed, self.visiting,
            Awake(session, BUSY), advice, HouseRulesForm(session, advice), Wearers(session),
            KitList(session), ClothList(session), Sewing(session), bolts, ShoppingPart(session, bolts),
            WornPart(session), TakenUp(session), TryOn(session), SeasonPart(session),
            TakeAway(session, cutting, codes),
        )
        self._session, self._handed, self._shelf = session, handed, shelf

    def begin(self):
        """The page is open."""
        self._handed.open("")
        if self._session.kits.is_demo:
            asyncio.create_task(self._shelf.list())
