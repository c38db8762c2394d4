"""What goes between the page and the browser: files given and read, what is shared, what is copied."""

from pyscript import document, window
from pyscript.ffi import create_proxy, to_js
from telling import by_id, plain, set_text, show


async def with_text(box, largest, too_large, said, use):
    """Read the file chosen in `box` and `use` its text; in the place `said`, why that cannot be."""
    file = box.files.item(0)
    if not file:
        return
    try:
        if file.size > largest:
            set_text(said, too_large)
            return
        text = str(await file.text())
    except Exception as error:
        set_text(said, "This file cannot be read (%s)." % plain(error))
        return
    finally:
        box.value = ""
    await use(text)


def hand_over(content, media_type, name):
    """Give the browser a file, of bytes or text, to download."""
    blob = window.Blob.new(to_js([content]), to_js({"type": media_type}))
    url = window.URL.createObjectURL(blob)
    anchor = document.createElement("a")
    anchor.href = url
    anchor.download = name
    anchor.click()
    window.setTimeout(create_proxy(lambda: window.URL.revokeObjectURL(url)), 60000)


_shared = {}  # the files that can be shared, by the line they were announced in


def offer_to_share(said, content, media_type, name):
    """A button after the line `said`, where the browser can share such a file.

    It is a tap of its own: making the file may have taken longer than a browser lets a tap count.
    """
    if not window.ellwand.canShare(media_type, name):
        return
    _shared[said] = (content, media_type, name)
    if not by_id("share-" + said):
        by_id(said).insertAdjacentHTML(
            "afterend",
            '<button type="button" class="share" id="share-%s" data-do="share:%s">Share it</button>'
            % (said, said),
        )


async def share_file(said):
    content, media_type, name = _shared[said]
    await _share(said, name, "file", to_js([content, media_type, name]))


async def take_file(worker, request, said, button, waiting):
    """Have the worker make a file and hand it to the browser, telling of it at `said`. One at a time."""
    if button.getAttribute("aria-busy") == "true":
        return
    button.setAttribute("aria-busy", "true")
    set_text(said, waiting)
    try:
        if not await worker.ready():
            set_text(said, "This file comes as soon as the drafting tools run: see above.")
            return
        result, content = await worker.steady.run_bytes(request)
        if result["ok"]:
            hand_over(content, result["type"], result["name"])
            set_text(said, "%s is in your downloads." % result["name"])
            offer_to_share(said, content, result["type"], result["name"])
        else:
            set_text(said, "Not yet: " + result["problems"][0]["message"])
    except Exception as error:
        set_text(said, "This file could not be made. Please try again. (%s)" % plain(error))
    finally:
        button.removeAttribute("aria-busy")


async def share_link(said, title, url):
    await _share(said, title, "url", url)


async def share_text(said, title, text):
    await _share(said, title, "text", text)


async def _share(said, title, what, content):
    answer = await window.ellwand.share(title, what, content)
    if answer == "shared":
        set_text(said, "Handed to the app you chose.")
    elif answer:
        set_text(said, "It could not be shared (%s)." % plain(answer))


def address():
    """The page's own, without a fragment."""
    where = window.location
    return where.origin + where.pathname + where.search


async def copy_text(text, name, said, copied):
    """Copy a text, and show it in the field `name` to copy by hand where the browser allows nothing else."""
    box = by_id(name)
    box.value = text
    show(name + "-shown")
    clipboard = getattr(window.navigator, "clipboard", None)  # none over plain http
    try:
        if not clipboard:
            raise OSError
        await clipboard.writeText(text)
        set_text(said, copied)
    except Exception:
        box.focus()
        box.select()
        set_text(said, "This browser does not let the page copy: copy it from the field.")
