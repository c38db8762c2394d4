"""What the page says outside the form: notices at its top, a line above the bar, progress, trouble."""

from pyscript import document, window
from pyscript.ffi import to_js
from safe import esc


def by_id(name):
    return document.getElementById(name)


def set_text(name, text):
    """Change a text on the page only when it differs, so that nothing is read out twice."""
    place = by_id(name)
    if place.textContent != text:
        place.textContent = text


_shown = {}


def set_html(name, html):
    if _shown.get(name) != html:
        _shown[name] = html
        by_id(name).innerHTML = html


def show(name, visible=True):
    by_id(name).hidden = not visible


def focus_here():
    """Put the focus at the head of the part that is shown, where what had it is gone."""
    by_id(document.documentElement.dataset.part + "-title").focus(to_js({"preventScroll": True}))


def arrive(focused, seen=None):
    """Show the part of the page that something stands in, unfold what is round it, focus it, and scroll to
    it, or to what is to be `seen` about it."""
    part, fold = focused.closest("main > section"), focused.closest("details")
    if part:
        window.ellwand.goTo(part.id)
    if fold:
        fold.open = True
    focused.focus(to_js({"preventScroll": True}))
    place = {"block": "center" if seen else "start", "behavior": "instant"}
    (seen or focused).scrollIntoView(to_js(place))


def plain(error):
    """What an error says: no traceback, and none of what wraps an error of the browser's.

    Such an error reads `(<JsProxy 7>, 'Error', 'what it says\\n    at …')`.
    """
    text = str(error).replace("\\n", "\n")
    if text.startswith("(<JsProxy") and text.count(", ") > 1:
        text = text.split(", ", 2)[2].rstrip(")")
        text = text[1:].rstrip(text[:1])  # double quotes where what it says has single ones
    lines = [line.strip() for line in text.split("\n")]
    lines = [line for line in lines if line]
    if not lines:
        return "No reason was given."
    return (lines[-1] if "Traceback" in text else lines[0])[:200]


def notice(key, sentences, buttons=()):
    """Put a notice at the top of the page, or take it away when there is nothing to say.

    `buttons` are (what it does, label).
    """
    old = by_id("notice-" + key)
    if old:
        old.remove()
    if not sentences:
        return
    box = document.createElement("div")
    box.id = "notice-" + key
    box.className = "notice"
    box.innerHTML = "".join("<p>%s</p>" % esc(s) for s in sentences) + "".join(
        '<button type="button" data-do="%s">%s</button>' % (esc(do), esc(label))
        for do, label in buttons
    )
    by_id("notices").appendChild(box)


def done(text):
    """Say what was just done, with a way to undo it."""
    set_text("done-text", text)
    show("done", bool(text))


def progress(part, loaded, total):
    """What is being fetched and how much of it is left."""
    if not by_id("trouble").hidden:
        return  # the last bytes of a start that has failed
    bar = by_id("progress")
    what = "the drafting tools" if part == "first" else "what printing needs"
    if total and loaded < total:
        bar.max, bar.value = total, loaded
        left = max(0.1, (total - loaded) / 1e6)
        text = "%.1f of %.1f MB left of %s" % (left, total / 1e6, what)
    else:
        bar.removeAttribute("value")
        text = "Setting up %s" % what
    set_text("loading-text", text)
    show("loading")


def loaded():
    show("loading", False)


def trouble(reason):
    """The worker does not run: say why, what would do, and offer another try."""
    loaded()
    set_text("trouble-text", plain(reason) if reason else "")
    show("trouble", bool(reason))
    if reason:  # on a phone that notice may be far below
        set_text("status", "The drafting tools do not run.")
        by_id("show-me").setAttribute("data-field", "trouble")
    show("show-me", bool(reason))
