"""A PNG without its time and place: only the chunks that make the picture are kept, each with its own sum.

Source: W3C, Portable Network Graphics (PNG) Specification, third edition, 5 (chunks) and 11 (from memory).
"""

from collections.abc import Iterator
from zlib import crc32

from sitelog.job.photos.picture.broken import BREAKS_OFF, Broken, parts
from sitelog.job.photos.picture.orientation import UPRIGHT, orientation, tiff_of

SIGNATURE = b"\x89PNG\r\n\x1a\n"
_CRITICAL = frozenset((b"IHDR", b"PLTE", b"IDAT", b"IEND"))
# Those that change what is seen: transparency, colours, size of a dot, ground, and the frames of a moving picture.
_SEEN = frozenset(
    (b"tRNS", b"cHRM", b"gAMA", b"iCCP", b"sBIT", b"sRGB", b"cICP", b"mDCV", b"cLLI", b"bKGD", b"hIST", b"pHYs",
     b"sPLT", b"acTL", b"fcTL", b"fdAT")
)  # fmt: skip
_EXIF = b"eXIf"

Chunk = tuple[bytes, bytes]  # type, data


def bare_png(raw: bytes) -> bytes:
    """The picture, with a chunk of Exif that tells its orientation if that is not upright.

    Raises Broken if it breaks off, a sum does not fit, or a part without which it can't be shown is not known.
    """
    chunks = parts(_chunks(raw))
    names = [name for name, _ in chunks]
    if names[0] != b"IHDR" or b"IDAT" not in names:
        raise Broken("doesn't have a picture in it")
    turned = next((orientation(data) for name, data in chunks if name == _EXIF), UPRIGHT)
    kept = [(name, data) for name, data in chunks if name in _CRITICAL or name in _SEEN]
    if turned != UPRIGHT:
        kept.insert(1, (_EXIF, tiff_of(turned)))
    return SIGNATURE + b"".join(_chunk(name, data) for name, data in kept)


def _chunk(name: bytes, data: bytes) -> bytes:
    return len(data).to_bytes(4, "big") + name + data + crc32(name + data).to_bytes(4, "big")


def _chunks(raw: bytes) -> Iterator[Chunk]:
    """Every chunk up to the last, IEND; what follows is left out."""
    at, name = len(SIGNATURE), b""
    while name != b"IEND":
        size = int.from_bytes(raw[at : at + 4], "big")
        end = at + 12 + size
        if end > len(raw):
            raise Broken(BREAKS_OFF)
        name, data = raw[at + 4 : at + 8], raw[at + 8 : end - 4]
        if not (name.isalpha() and name.isascii()):
            raise Broken("is damaged: a part of it doesn't have a name")
        if name[:1].isupper() and name not in _CRITICAL:
            raise Broken("has a part that no PNG has: save it again as a new file")
        if crc32(name + data) != int.from_bytes(raw[end - 4 : end], "big"):
            raise Broken("is damaged: a part of it has been changed")
        yield name, data
        at = end
