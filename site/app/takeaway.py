"""Files and the link: what the user takes away."""

from pyscript import document, window
from pyscript.ffi import create_proxy, to_js
from telling import by_id, plain, set_text, show

WAITING = {
    "tiled.pdf": "Making the sheets…",
    "pieces.svg": "Making the drawing…",
    "pattern.json": "Writing the numbers…",
    "booklet.pdf": "Making the booklet…",
    "chalk-plan.pdf": "Making the chalk plan…",
    "lay.svg": "Drawing the lay…",
    "lay-lining.svg": "Drawing the lay…",
}


async def take(kind, request, run_bytes, ready):
    """Have a file made and hand it to the browser. `ready()` waits for the worker."""
    button, said = by_id("take-" + kind), "took-" + kind
    if button.getAttribute("aria-busy") == "true":
        return
    button.setAttribute("aria-busy", "true")
    set_text(said, WAITING[kind])
    try:
        if not await ready():
            set_text(said, "This file comes as soon as the drafting tools run: see above.")
            return
        result, content = await run_bytes(request)
        if result["ok"]:
            hand_over(content, result["type"], result["name"])
            set_text(said, "%s is in your downloads." % result["name"])
        else:
            set_text(said, "Not yet: " + result["problems"][0]["message"])
    except Exception as error:
        set_text(said, "This file could not be made. Please try again. (%s)" % plain(error))
    finally:
        button.removeAttribute("aria-busy")


def hand_over(content, media_type, name):
    """Give the browser a file, of bytes or text, to download."""
    blob = window.Blob.new(to_js([content]), to_js({"type": media_type}))
    url = window.URL.createObjectURL(blob)
    anchor = document.createElement("a")
    anchor.href = url
    anchor.download = name
    anchor.click()
    window.setTimeout(create_proxy(lambda: window.URL.revokeObjectURL(url)), 60000)


async def copy(url):
    """Copy the link, and show it in a field to copy by hand where the browser does not allow it."""
    box = by_id("link")
    box.value = url
    show("link-shown")
    clipboard = getattr(window.navigator, "clipboard", None)  # none over plain http
    try:
        if not clipboard:
            raise OSError
        await clipboard.writeText(url)
        set_text("took-link", "Copied. Whoever opens it gets this same pattern.")
    except Exception:
        box.focus()
        box.select()
        set_text("took-link", "This browser does not let the page copy: copy it from the field.")
