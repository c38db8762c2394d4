"""A whole kit in a link's fragment, and in QR codes when that is too long for one.

    #kit=1.<base64url of deflated JSON>          the whole kit
    #kit=1.<number>of<count>.<checksum>.<part>   one of several QR codes, in any order
"""

import base64
import binascii
import json
import zlib
from collections.abc import Iterable

from ..problems import BadInput, Problem
from .model import LARGEST_FILE, Kit, as_values, from_values

PREFIX = "kit="
VERSION = 1
LONGEST_LINK = 7000
"""Characters of a link that messengers carry without cutting it. common practice, no source."""

QR_PART = 900
"""Characters in one QR code: read from a phone's screen by another phone's camera, held by hand.
common practice, no source."""


def pack(kit: Kit, *, names: bool = False) -> str:
    """The fragment, without its #. Names are left out unless asked for: “wearer 1” stands for each."""
    values = as_values(kit)
    if not names:
        for number, wearer in enumerate(values["wearers"], 1):
            wearer["name"] = f"wearer {number}"
    text = json.dumps(values, ensure_ascii=False, separators=(",", ":"))
    return f"{PREFIX}{VERSION}.{_encode(zlib.compress(text.encode(), 9))}"


def unpack(fragment: str) -> Kit:
    """The kit in a fragment. Raises BadInput for one that is cut short, not a kit, or a later one's."""
    return _read(_body(fragment))


def is_kit(fragment: str) -> bool:
    """Whether the fragment claims to hold a kit, or a part of one."""
    return fragment.lstrip("#").startswith(PREFIX)


def too_long(fragment: str) -> bool:
    """Whether a link this long is better sent as a file."""
    return len(fragment) > LONGEST_LINK


def parts(fragment: str) -> list[str]:
    """The fragment as it is, or cut into numbered ones, each short enough for one QR code."""
    if len(fragment) <= QR_PART:
        return [fragment]
    body = _body(fragment)
    count = -(-len(body) // QR_PART)
    size = -(-len(body) // count)
    check = _checksum(body)
    return [
        f"{PREFIX}{VERSION}.{i + 1}of{count}.{check}.{body[i * size:(i + 1) * size]}"
        for i in range(count)
    ]


def together(fragments: Iterable[str]) -> Kit | tuple[int, int]:
    """The kit that numbered fragments make, in any order and however often; else (have, wanted).

    Raises BadInput when they are parts of different kits, or do not read.
    """
    found: dict[int, str] = {}
    wanted: tuple[int, str] | None = None
    for fragment in fragments:
        body = _body(fragment)
        if "." not in body:
            return _read(body)
        number, count, check, text = _part(body)
        if wanted not in (None, (count, check)):
            raise _bad("These codes are parts of different kits: begin again with one of them.")
        wanted = (count, check)
        found[number] = text
    if wanted is None:
        return 0, 1
    if len(found) < wanted[0]:
        return len(found), wanted[0]
    body = "".join(found[number] for number in range(1, wanted[0] + 1))
    if _checksum(body) != wanted[1]:
        raise _bad("The parts of this kit do not fit together: scan them again.")
    return _read(body)


def _body(fragment: str) -> str:
    text = fragment.lstrip("#")
    if not text.startswith(PREFIX):
        raise _bad("This link holds no kit.")
    version, dot, body = text.removeprefix(PREFIX).partition(".")
    if not dot or not (version.isascii() and version.isdigit() and len(version) < 6):
        raise _bad("This link to a kit was cut short: ask for it again.")
    if int(version) > VERSION:
        raise _bad(f"This link was made by a later Ellwand ({version}; this one reads {VERSION}): reload "
                   "the page while online to update it.")
    return body


def _part(body: str) -> tuple[int, int, str, str]:
    place, _, rest = body.partition(".")
    number, of, count = place.partition("of")
    check, _, text = rest.partition(".")
    if not of or not (number.isdigit() and count.isdigit() and len(place) < 12) or not text:
        raise _bad("This code is no part of a kit, or was cut short: scan it again.")
    if not 1 <= int(number) <= int(count) <= 500:
        raise _bad("This code does not say which part of the kit it is: scan it again.")
    return int(number), int(count), check, text


def _read(body: str) -> Kit:
    try:
        packed = base64.urlsafe_b64decode(body + "=" * (-len(body) % 4))
        unpacked = zlib.decompressobj()
        data = unpacked.decompress(packed, LARGEST_FILE)
        if not unpacked.eof:
            raise ValueError("more than a kit can hold, or less than it began")
        values = json.loads(data.decode("utf-8"))
    except (ValueError, binascii.Error, zlib.error, RecursionError):
        raise _bad("This link to a kit was cut short or changed on its way: ask for it again.") from None
    return from_values(values)


def _encode(data: bytes) -> str:
    return base64.urlsafe_b64encode(data).decode().rstrip("=")


def _checksum(text: str) -> str:
    return f"{zlib.crc32(text.encode()):08x}"


def _bad(sentence: str) -> BadInput:
    return BadInput([Problem("link", sentence)])
