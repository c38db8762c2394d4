"""The page is opened: what was kept, or what a link holds, and what was typed before this program ran."""

import lasttime
import telling
from pyscript import document, window
from telling import by_id, show


async def open_page(session, fields, outcome, visiting):
    """Put on the page what was kept, or what the link holds, which `visiting` opens; keep what was typed
    before this."""
    session.view, said = await session.kits.open()
    early, early_name = fields.early(), by_id("name").value
    telling.notice("kept", [said] if said else [], [("close:kept", "Close")])
    session.put(session.kits.draft())
    outcome.stage.adopt()
    _arrange(session.view)
    if visiting:
        visiting.open(window.location.hash)
    draft = session.draft
    for holder, name, text in early:
        session.touched.add(name)
        draft.put(holder, name, text)
    draft.name = early_name or draft.name
    session.tell("fill")
    show("afresh", not draft.is_empty())
    if session.is_example() and not draft.options:
        document.documentElement.removeAttribute("data-returning")
    outcome.say_whose()
    fields.mark_starts()
    session.tell("kit")
    if lasttime.check(session.ask()):
        outcome.stage.adopt()
    if early or early_name:
        session.changed()
    if not session.kits.works:
        session.say_unkept()


def _arrange(view):
    doing = view.get("doing")
    doing = view["doing"] = doing if isinstance(doing, list) else []
    for box in document.getElementsByName("doing"):
        box.checked = box.value in doing
    opened = view.get("open")
    if isinstance(opened, list):
        for fold in document.querySelectorAll("details[id]"):
            fold.open = fold.id in opened
