"""The share link: a whole draft in a URL's fragment, readable, and never sent to a server.

    #apron-dress&v=3&bust_girth=92cm&waist_girth=78cm&…&end

The page reads a link before the worker is up, so this module runs under MicroPython as well: it
imports nothing and keeps to the plainest Python. It ends in `end`, so that a link cut short is
noticed; a link typed by hand may leave out `v` and `end`.
"""

VERSION = 4
EARLIER = ("1", "2")
UNFITTED = "3"
"""What a link without the changes of a try-on says still, so that earlier Ellwands read it."""
UNDER_THE_ARMS = ("bust_girth", "upper_chest_girth")
"""What version 1 called the girth under the arms, and what it is called now."""

LONGEST = 8000
_PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.,/~"
CLOTH = "cloth_"
FIT = "fit_"
_RULES = "rules="
_SETTINGS = ("unit", "name", "paper", "sex", "age_months", "year", "region", "rank", "rules")


def write_link(draft):
    """The fragment, without its #, for a draft.

    `draft` holds `garment`, `measurements`, `options` and `cloth` (name → text as typed; a cloth's
    names begin with CLOTH), perhaps `taken_up` (what a try-on changed, by place), and perhaps `unit` and
    further settings, among them the impression: `year`, `region`, `rank` and `rules`, which is a group's
    house rules as link text. Empty texts are left out; so is `name` unless it is given.
    """
    taken_up = draft.get("taken_up") or {}
    parts = [_encode(draft["garment"]), f"v={VERSION if taken_up else UNFITTED}"]
    for key in _SETTINGS:
        if draft.get(key):
            parts.append(f"{key}={_encode(draft[key])}")
    for field in ("measurements", "options", "cloth"):
        texts = draft.get(field) or {}
        for key in texts:
            if texts[key].strip():
                parts.append(f"{_encode(key)}={_encode(texts[key].strip())}")
    parts += [f"{FIT}{_encode(place)}={_encode(taken_up[place])}" for place in sorted(taken_up)]
    parts.append("end")
    return "&".join(parts)


def write_rules(rules):
    """The fragment of a link that holds a group's house rules, given as link text, and nothing else."""
    return f"{_RULES}{_encode(rules)}&end"


def read_rules(fragment):
    """The house rules that a fragment holds, as link text; "" for one that holds a draft."""
    fragment = fragment.lstrip("#")
    return _decode(fragment[len(_RULES) :].split("&")[0]) if fragment.startswith(_RULES) else ""


def read_link(fragment, measures, garments, before=None):
    """What a link holds, as (draft or None, sentences on what is wrong with it).

    `measures` are the names to be taken as measurements; everything else that is no setting is an
    option of the garment. Whatever could be read is returned even when something is wrong. `before` is
    migrations.drafted_before, for links of an earlier version.
    """
    fragment = fragment.lstrip("#")
    if not fragment:
        return None, []
    if len(fragment) > LONGEST:
        return None, [
            f"This link is {len(fragment)} characters long, more than a draft ever needs: "
            "ask for it again."
        ]
    parts = fragment.split("&")
    garment = _decode(parts[0])
    if garment not in garments:
        return None, [
            f"This link is for “{garment[:40]}”, which this version of Ellwand does not know: reload "
            "the page while online to update it, or ask for the link again."
        ]
    draft = {"garment": garment, "measurements": {}, "options": {}}
    sentences = []
    version = None
    ended = False
    for part in parts[1:]:
        key, equals, text = part.partition("=")
        key, text = _decode(key), _decode(text)
        if part == "end":
            ended = True
        elif key == "v":
            version = text
        elif not equals:
            if part:
                sentences.append(f"“{key[:40]}” in the link says nothing: it was left out.")
        elif key in _SETTINGS:
            draft[key] = text
        elif key in measures:
            draft["measurements"][key] = text
        elif key.startswith(CLOTH):
            draft.setdefault("cloth", {})[key] = text
        elif key.startswith(FIT):
            draft.setdefault("taken_up", {})[key[len(FIT):]] = text
        else:
            draft["options"][key] = text
    old, new = UNDER_THE_ARMS
    if version == "1" and old in draft["measurements"] and new in measures:
        draft["measurements"][new] = draft["measurements"].pop(old)
    if before and version in EARLIER:
        draft["options"], changed = before(garment, draft["options"])
        sentences += changed
    if version is not None and version not in EARLIER + (UNFITTED, str(VERSION)):
        sentences.append(
            f"This link was made by another version of Ellwand ({version[:8]}; this one reads "
            f"{VERSION}): reload the page while online to update it. What could be read is filled in."
        )
    elif version is not None and not ended:
        sentences.append(
            "This link was cut short on its way: what arrived is filled in, check the last fields or "
            "ask for the link again."
        )
    return draft, sentences


def _encode(text):
    out = []
    for char in text:
        if char in _PLAIN:
            out.append(char)
        elif char == " ":
            out.append("+")
        else:
            out.extend(f"%{byte:02X}" for byte in char.encode("utf-8"))
    return "".join(out)


def _decode(text):
    out = bytearray()
    i = 0
    while i < len(text):
        char = text[i]
        if char == "%" and _is_hex(text[i + 1 : i + 3]):
            out.append(int(text[i + 1 : i + 3], 16))
            i += 3
            continue
        out.extend((" " if char == "+" else char).encode("utf-8"))
        i += 1
    return _from_utf8(bytes(out))


def _is_hex(pair):
    return len(pair) == 2 and all(char in "0123456789abcdefABCDEF" for char in pair)


def _from_utf8(data):
    try:
        return data.decode("utf-8")
    except (UnicodeError, ValueError):
        # A link cut in the middle of a letter: keep every byte that stands for itself.
        return "".join(chr(byte) if byte < 128 else "\ufffd" for byte in data)
